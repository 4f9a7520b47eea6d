//! What must be said, done, asked or refused beside the figure itself.

use rust_decimal::Decimal;

use crate::catalogue::{Rulebook, Say, Tag, Word};

use super::article::{Article, Part};
use super::claim::metals;
use super::judge::Judgement;

/// What a statement asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Refused, whatever the fineness.
    Refused,
    /// No verdict, and why.
    Undecided,
    /// To be disclosed where the article is described.
    Say,
    /// A condition of the mark.
    Condition,
    /// To be asked of the office.
    Ask,
    /// To be borne in mind.
    Note,
}

/// One statement with its clause.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// What it asks for.
    pub kind: Kind,
    /// The statement.
    pub text: String,
    /// Where the text says so; empty where it is no text's.
    pub cite: String,
}

impl Said {
    /// A statement that no text makes.
    #[must_use]
    pub fn plain(kind: Kind, text: String) -> Self {
        let cite = String::new();
        Self { kind, text, cite }
    }
}

/// What is so of an article, in the words that a rulebook uses.
struct Facts<'a> {
    words: Vec<&'a str>,
    least: Option<Decimal>,
}

impl Facts<'_> {
    fn all(&self, when: &[String]) -> bool {
        when.iter().all(|word| self.words.contains(&word.as_str()))
    }
}

/// Adds all statements that an article calls for.
pub(super) fn judge(article: &Article, book: &Rulebook, judged: &mut Judgement) {
    let facts = facts(article, book);
    if facts.words.contains(&"finenesses-differ") {
        finenesses(book, judged);
    }
    if facts.words.contains(&"metals-differ") {
        two_metals(article, book, judged);
    }
    if facts.words.contains(&"base") {
        base(article, book, judged);
    }
    for row in book.tag.iter().filter(|row| facts.all(&row.when)) {
        tag(article, row, book, judged);
    }
    for row in &book.say {
        say(row, &facts, book, judged);
    }
}

fn facts<'a>(article: &'a Article, book: &Rulebook) -> Facts<'a> {
    let metals = metals(article, book);
    let mut words = metals.clone();
    let mut add = |word: &'a str, so: bool| {
        if so {
            words.push(word);
        }
    };
    let of = |metal: &str| -> Vec<Decimal> {
        let own = article
            .parts
            .iter()
            .filter(|part| part.metal(book) == Some(metal));
        own.map(|part| part.fineness(metal, book)).collect()
    };
    let differs = |metal: &&str| {
        let all = of(metal);
        all.iter().any(|other| Some(other) != all.first())
    };
    add("cavity", article.cavity);
    add("two-part", article.parts.len() > 1);
    add("cold", article.solder.is_none());
    add("soldered", article.solder.is_some());
    add("finenesses-differ", metals.iter().any(differs));
    add("metals-differ", metals.len() > 1);
    add(
        "base",
        article.parts.iter().any(|part| part.metal(book).is_none()),
    );
    let least = match metals.as_slice() {
        [only] => of(only).into_iter().min(),
        _ => None,
    };
    Facts { words, least }
}

fn said(kind: Kind, text: &str, row: &Word, book: &Rulebook) -> Said {
    let more = row
        .says
        .as_ref()
        .map(|says| format!(": {says}"))
        .unwrap_or_default();
    Said {
        kind,
        text: format!("{text}{more}"),
        cite: book.cited(row.cite()),
    }
}

/// Parts of one metal in two finenesses.
fn finenesses(book: &Rulebook, judged: &mut Judgement) {
    let Some(row) = &book.finenesses else { return };
    match row.value.as_str() {
        "lowest" => judged.says.push(said(
            Kind::Condition,
            "two finenesses of one metal: the lower figure stands for the whole",
            row,
            book,
        )),
        "each-own" => judged.says.push(said(
            Kind::Condition,
            "two finenesses: each part carries its own mark, in the same pattern and size",
            row,
            book,
        )),
        "whole" => judged.says.push(said(
            Kind::Condition,
            "two finenesses: one figure, judged on the whole melted together",
            row,
            book,
        )),
        "refused-inside" => judged.refused.push(said(
            Kind::Refused,
            "two finenesses of one metal",
            row,
            book,
        )),
        _ => {}
    }
}

/// Parts of two precious metals.
fn two_metals(article: &Article, book: &Rulebook, judged: &mut Judgement) {
    let Some(row) = &book.metals else {
        judged.says.push(Said::plain(
            Kind::Ask,
            "how two precious metals are marked was not found in the texts read".to_owned(),
        ));
        return;
    };
    let names = |mark: Option<&super::Mark>| {
        mark.map_or_else(String::new, |mark| {
            let figure = mark
                .figure
                .map_or_else(|| "no mark".to_owned(), |figure| figure.to_string());
            format!(
                "{figure} on the {} ({})",
                mark.parts.join(" and "),
                mark.metal
            )
        })
    };
    let least = names(judged.marks.first());
    let dearer: Vec<String> = judged
        .marks
        .iter()
        .skip(1)
        .map(|mark| names(Some(mark)))
        .collect();
    let dearer = dearer.join(", ");
    let told = "the eye must tell which part is which metal; state `apart yes` or `apart no` in the hollow block";
    match (row.value.as_str(), article.apart) {
        ("full-on-least", Some(false)) => judged.refused.push(said(
            Kind::Refused,
            "two precious metals that the eye cannot tell apart",
            row,
            book,
        )),
        ("full-on-least", apart) => {
            judged.says.push(said(
                Kind::Condition,
                &format!("two precious metals: full marks with {least}, and {dearer}"),
                row,
                book,
            ));
            if apart.is_none() {
                judged.says.push(said(Kind::Condition, told, row, book));
            }
        }
        ("each-if-apart", Some(true)) => judged.says.push(said(
            Kind::Condition,
            &format!("two precious metals, told apart: {least}, and {dearer}"),
            row,
            book,
        )),
        ("each-if-apart", Some(false)) => judged.says.push(said(
            Kind::Condition,
            &format!(
                "two precious metals, not told apart: {least} alone, and no mark for the dearer"
            ),
            row,
            book,
        )),
        ("each-if-apart", None) => judged.says.push(said(
            Kind::Condition,
            &format!("two precious metals: {least}; and {dearer} only where {told}"),
            row,
            book,
        )),
        ("apart-by-colour", Some(false)) => judged.refused.push(said(
            Kind::Refused,
            "two precious metals whose colours do not separate",
            row,
            book,
        )),
        ("apart-by-colour", apart) => {
            judged.says.push(said(
                Kind::Condition,
                &format!("two precious metals: {least}, and {dearer}"),
                row,
                book,
            ));
            if apart.is_none() {
                judged.says.push(said(Kind::Condition, told, row, book));
            }
        }
        _ => judged.says.push(said(
            Kind::Condition,
            "two precious metals: each part carries its own mark",
            row,
            book,
        )),
    }
}

/// A part of base metal.
fn base(article: &Article, book: &Rulebook, judged: &mut Judgement) {
    let parts = article
        .parts
        .iter()
        .filter(|part: &&Part| part.metal(book).is_none());
    let named: Vec<String> = parts.map(|part| part.name.clone()).collect();
    let named = format!("{} of base metal", named.join(" and "));
    let Some(row) = &book.base else {
        judged.undecided.push(Said::plain(
            Kind::Undecided,
            format!("{named}: nothing was found on it in the texts read"),
        ));
        return;
    };
    let unseen = article.apart == Some(false);
    match row.value.as_str() {
        "refused" => judged.refused.push(said(Kind::Refused, &named, row, book)),
        "left-out-if-cold" if article.solder.is_some() => judged.refused.push(said(
            Kind::Refused,
            &format!("{named}, metallically joined: no fineness mark at all"),
            row,
            book,
        )),
        "left-out-if-cold" if unseen => judged.refused.push(said(
            Kind::Refused,
            &format!("{named} that is not seen as such: no fineness mark at all"),
            row,
            book,
        )),
        "left-out-if-cold" => judged.says.push(said(
            Kind::Condition,
            &format!("{named}, joined cold: left out of account, as long as it is seen as such"),
            row,
            book,
        )),
        "apart-or-named" if unseen => judged.says.push(said(
            Kind::Condition,
            &format!(
                "{named}: struck with its name or METAL, since its colour does not tell it apart"
            ),
            row,
            book,
        )),
        "apart-or-named" => judged.says.push(said(
            Kind::Condition,
            &format!("{named}: told apart by its colour, or struck with its name or METAL"),
            row,
            book,
        )),
        _ => judged.undecided.push(said(
            Kind::Undecided,
            &format!("{named}: ask the office"),
            row,
            book,
        )),
    }
}

/// The words that it is sold under.
fn tag(article: &Article, row: &Tag, book: &Rulebook, judged: &mut Judgement) {
    let Some(text) = &article.tag else { return };
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
    let there = |word: &String| words.contains(&word.as_str());
    let mut refuse = |what: String| {
        judged.refused.push(Said {
            kind: Kind::Refused,
            text: format!("\u{201C}{text}\u{201D} {what}"),
            cite: book.cited(row.cite()),
        });
    };
    if let Some(word) = row.never.iter().find(|word| there(word)) {
        refuse(format!("says `{word}` of a hollow article"));
    }
    if row.has.iter().any(there)
        && let Some(word) = row.needs.iter().find(|word| !there(word))
    {
        refuse(format!(
            "does not say `{word}`: the hollow centre stands right beside the metal's name"
        ));
    }
}

fn say(row: &Say, facts: &Facts<'_>, book: &Rulebook, judged: &mut Judgement) {
    let within = row
        .from
        .is_none_or(|from| facts.least.is_some_and(|least| least >= from))
        && row
            .below
            .is_none_or(|below| facts.least.is_some_and(|least| least < below));
    if !within || !facts.all(&row.when) {
        return;
    }
    let kind = match row.kind.as_str() {
        "say" => Kind::Say,
        "condition" => Kind::Condition,
        "ask" => Kind::Ask,
        _ => Kind::Note,
    };
    judged.says.push(Said {
        kind,
        text: row.says.clone(),
        cite: book.cited(row.cite()),
    });
}
