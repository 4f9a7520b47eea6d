//! What is said of a ring in the hand: what was measured, what is known, and lines of the band as they were written.

use std::fmt;

use crate::quantity::{Dimension, unit};
use crate::schema::FieldId;
use crate::source::{Source, Span};
use crate::suggest::listed;
use crate::syntax::ast::{self, Entry, Expr, ExprKind};

/// Words of what is measured and known; all else is a line of the band.
pub(super) const WORDS: [&str; 13] = [
    "weight",
    "width",
    "thickness",
    "inside",
    "size",
    "outside",
    "alloy",
    "mark",
    "profile",
    "hollow",
    "pattern",
    "scale",
    "caliper",
];

/// Blocks that stand beside the ring: metals and other things that it is made of or with.
const BESIDE: [&str; 5] = ["use", "let", "cutter", "rules", "annulet"];

/// Lengths of the band that a caliper measures, by their last word.
const MEASURED: [&str; 14] = [
    "edge",
    "crown",
    "across",
    "down",
    "dip",
    "comfort",
    "shell",
    "sleeve",
    "relief",
    "ridge",
    "lip",
    "wide",
    "depth",
    "mean-depth",
];

/// By what it is known how far a reading may be off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OffBy {
    /// A `±` is written behind it.
    Written,
    /// Half of what the scale or caliper tells apart, as stated.
    Stated,
    /// Half a step of the ring size.
    Step,
    /// What is usual, where nothing is said.
    Usual,
}

impl OffBy {
    /// In words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Written => "as written",
            Self::Stated => "half of what it tells apart",
            Self::Step => "half a step of the size",
            Self::Usual => "assumed",
        }
    }
}

/// What was measured, in g or mm.
#[derive(Clone, Debug)]
pub struct InHand {
    /// Its word.
    pub word: &'static str,
    /// What was read.
    pub value: f64,
    /// By how much it may be off to either side.
    pub off: f64,
    /// By what that is known.
    pub by: OffBy,
    /// As it was written.
    pub text: String,
    /// Where it stands.
    pub at: Span,
}

impl InHand {
    /// The least that it may be.
    #[must_use]
    pub fn low(&self) -> f64 {
        self.value - self.off
    }

    /// The most.
    #[must_use]
    pub fn high(&self) -> f64 {
        self.value + self.off
    }
}

/// How far below its part of 24 gold may be and still be called by a karat, in parts per thousand: standards write 583
/// and 585 for 14 karat, 916 and 917 for 22, 999 for 24 (ISO 9202 and common practice).
const KARAT_SLACK: f64 = 2.0;

/// What of a written fineness is no difference, in parts per thousand: marks are whole numbers.
const WHOLE: f64 = 0.5;

/// A mark that was read.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mark {
    /// Parts per thousand, as they are written or as the karat says.
    pub parts: f64,
    /// It is said in karat, which speaks of gold alone.
    pub karat: bool,
    pub at: Span,
}

impl Mark {
    /// The least fineness that goes by it, in parts per thousand.
    pub fn least(self) -> f64 {
        self.parts - if self.karat { KARAT_SLACK } else { WHOLE }
    }

    /// A fineness as the mark says such.
    pub fn like(self, parts: f64) -> String {
        match self.karat {
            true => format!("{} karat", trimmed(parts * 24.0 / 1000.0, 2)),
            false => trimmed(parts, 1),
        }
    }
}

impl fmt::Display for Mark {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.write_str(&self.like(self.parts))
    }
}

/// A line of the band, as it was written.
#[derive(Clone, Debug)]
pub(super) struct Line {
    /// The text, with what a caliper may be off by where a length says none.
    pub text: String,
    pub at: Span,
}

/// Whether a ring is said to have something.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Has {
    /// Nothing is said of it.
    #[default]
    Unsaid,
    No,
    Yes,
}

/// Everything that is said of a ring in the hand.
#[derive(Clone, Debug, Default)]
pub(super) struct Hand {
    pub measured: Vec<InHand>,
    pub alloy: Option<(String, Span)>,
    pub mark: Option<Mark>,
    pub profile: Option<String>,
    pub hollow: Has,
    pub pattern: Has,
    pub lines: Vec<Line>,
    /// What stands beside the ring: `use`, alloys, `let`s.
    pub beside: Vec<Line>,
    /// Paths of fields that its lines state.
    pub stated: Vec<String>,
}

impl Hand {
    pub fn get(&self, word: &str) -> Option<&InHand> {
        self.measured.iter().find(|one| one.word == word)
    }

    pub fn states(&self, id: FieldId) -> bool {
        self.stated.iter().any(|one| one == id.path())
    }
}

/// What stands beside the ring: metals and whatever else a text defines, as they were written.
pub(super) fn beside(source: &Source, items: &[ast::Item]) -> Vec<Line> {
    let found = ast::entries(items).filter(|entry| is_beside(entry));
    let found = found.filter(|entry| entry.head_name() != Some("annulet"));
    found
        .map(|entry| Line {
            text: source.slice(entry.span).to_owned(),
            at: entry.span,
        })
        .collect()
}

pub(super) fn is_beside(entry: &Entry) -> bool {
    let head = entry.head_name().unwrap_or_default();
    // `profile domed { edge 1 mm }` is the ring's own, and an alloy with a block is one that is defined.
    BESIDE.contains(&head) || head == "alloy" && entry.block.is_some()
}

/// The paths that an entry states, and the ends of lengths that a caliper measures and that say no `±`.
pub(super) fn walk(entry: &Entry, before: &str, stated: &mut Vec<String>, ends: &mut Vec<u32>) {
    let Some(head) = &entry.head else { return };
    let path = match before {
        "" => head.value.0.clone(),
        before => format!("{before}.{}", head.value.0),
    };
    let last = path.rsplit('.').next().unwrap_or(&path);
    if let ([expr], true) = (entry.values.as_slice(), MEASURED.contains(&last)) {
        ends.extend(is_length(expr).then_some(expr.span.end));
    }
    for inner in entry.block.iter().flat_map(ast::Block::entries) {
        walk(inner, &path, stated, ends);
    }
    stated.push(path);
}

fn is_length(expr: &Expr) -> bool {
    let ExprKind::Quantity {
        unit: Some(word), ..
    } = &expr.kind
    else {
        return false;
    };
    unit::scale(&word.value).is_ok_and(|scale| scale.dimension == Dimension::LENGTH)
}

/// A number to so many places, without zeros at its end.
pub(super) fn trimmed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// Words, for messages.
pub(super) fn words_of(all: &[&str]) -> String {
    let quoted: Vec<String> = all.iter().map(|word| format!("`{word}`")).collect();
    listed(quoted.iter().map(String::as_str))
}
