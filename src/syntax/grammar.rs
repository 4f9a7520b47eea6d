//! The generated reader of `grammar/annulet.pest`, and what its rules are called when people hear of them.

// The generated code carries no comments of its own.
#![allow(missing_docs)]

use pest_derive::Parser;

/// The reader that pest makes of the grammar file.
#[derive(Parser)]
#[grammar = "grammar/annulet.pest"]
pub struct Grammar;

/// Rules as words, each word once, for "expected …".
pub(super) fn spoken(rules: &[Rule]) -> String {
    let mut words: Vec<&'static str> = Vec::new();
    for rule in rules {
        let word = match rule {
            Rule::open => "a block",
            Rule::convert | Rule::operator => "an operator",
            Rule::unit => "a unit",
            Rule::tolerance => "`\u{B1}`",
            Rule::value
            | Rule::expression
            | Rule::term
            | Rule::quantity
            | Rule::size
            | Rule::call => "a value",
            Rule::number => "a number",
            Rule::head | Rule::path | Rule::name | Rule::entry => "a word",
            Rule::designation => "a size",
            Rule::by => "`by`",
            Rule::EOI => "the end",
            _ => continue,
        };
        if !words.contains(&word) {
            words.push(word);
        }
    }
    crate::suggest::listed(words)
}
