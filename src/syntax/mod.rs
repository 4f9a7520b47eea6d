//! Text to tree, with spans and comments kept, and tree to canonical text.
//!
//! Input: a [`Source`]. Output: a [`Tree`] and the findings about its shape; a tree always comes back,
//! so that later layers can report their own findings of the sound part. This is the only layer that
//! names pest. What words mean is left to `model`.

pub mod ast;
mod build;
mod characters;
pub mod edit;
mod ends;
mod error;
mod expression;
mod grammar;
mod guard;
mod mistakes;
mod names;
mod print;
mod slips;
mod stop;
mod tight;
mod unread;

pub use error::SyntaxError;
pub use guard::{DEEPEST, LARGEST, LONGEST, TOP_WORDS};
pub use names::{looks, normal};
pub use print::{print, print_expression};

use pest::Parser;

use crate::finding::Finding;
use crate::source::Source;
use ast::{Expr, Tree};
use grammar::{Grammar, Rule};

/// A tree or an expression, and what was found while reading it.
#[derive(Debug)]
pub struct Parsed<T> {
    /// What was read.
    pub value: T,
    /// Problems of shape, in the order found.
    pub findings: Vec<Finding>,
}

/// Reads a recipe.
///
/// # Errors
/// None: whatever cannot be read becomes a broken item of the tree and a finding; all else is read.
///
/// # Example
/// ```
/// use annulet::{source::Sources, syntax};
/// let mut sources = Sources::default();
/// let id = sources.add("r.annulet", "band b {\n  width 4.5 mm\n  size ISO 54\n}\n");
/// let parsed = syntax::parse(sources.get(id).unwrap());
/// assert!(parsed.findings.is_empty());
/// assert_eq!(parsed.value.items.len(), 1);
/// ```
#[must_use]
pub fn parse(source: &Source) -> Parsed<Tree> {
    let mut findings = Vec::new();
    let look = guard::look(source, &mut findings);
    if !look.readable {
        return Parsed {
            value: Tree { items: Vec::new() },
            findings,
        };
    }
    let value = build::tree(source, look, &mut findings);
    Parsed { value, findings }
}

/// How many braces a text leaves open, as lines are typed: below zero where it closes more than it opened.
///
/// # Example
/// ```
/// use annulet::syntax::open_braces;
/// assert_eq!(open_braces("band b { # {\n  title \"{\""), 1);
/// ```
#[must_use]
pub fn open_braces(text: &str) -> isize {
    guard::braces(text)
}

/// Reads one expression, as a command takes it.
#[must_use]
pub fn parse_query(source: &Source) -> Parsed<Option<Expr>> {
    let mut values = parse_values(source, Rule::query);
    let value = values.value.pop();
    Parsed {
        value,
        findings: values.findings,
    }
}

/// Reads the values behind a field's name, as `--set` takes them.
#[must_use]
pub fn parse_setting(source: &Source) -> Parsed<Vec<Expr>> {
    parse_values(source, Rule::setting)
}

fn parse_values(source: &Source, rule: Rule) -> Parsed<Vec<Expr>> {
    let mut findings = Vec::new();
    let mut value = Vec::new();
    if guard::look(source, &mut findings).readable {
        match Grammar::parse(rule, &source.text) {
            Ok(pairs) => {
                let mut reader = expression::Reader::new(source, 0, &mut findings);
                value = pairs
                    .flat_map(pest::iterators::Pair::into_inner)
                    .filter(|pair| pair.as_rule() == Rule::value)
                    .filter_map(|pair| reader.value(pair))
                    .collect();
            }
            Err(_) => {
                mistakes::explain(source, 0, &source.text, rule, None, &mut findings);
            }
        }
    }
    Parsed { value, findings }
}
