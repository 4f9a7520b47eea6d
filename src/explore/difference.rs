//! What two states of a recipe differ in by meaning; layout, order, comments and the spelling of units are none of it.

use crate::evaluate::Verdict;
use crate::finding::Finding;
use crate::schema::OrderResult;

use super::change::{Change, MovedFigure};

/// What a recipe differs in from what it was.
#[derive(Clone, Debug, Default)]
pub struct Difference {
    /// What stands outside of bands, as a recipe writes it: `let`s and blocks.
    pub stated: Vec<MovedText>,
    /// Bands that differ, in the order of the new text; those that are gone behind them.
    pub bands: Vec<BandDifference>,
    /// Figures of orders, as machine output names them.
    pub orders: Vec<MovedText>,
    /// The same as a person reads it.
    pub ordered: Vec<OrderDifference>,
    /// Requirements that are judged otherwise, came or went.
    pub requirements: Vec<MovedVerdict>,
    /// Findings that there were not before.
    pub came: Vec<Finding>,
    /// Findings that there are no longer.
    pub went: Vec<Finding>,
}

impl Difference {
    /// Whether both mean the same.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.stated.is_empty()
            && self.bands.is_empty()
            && self.orders.is_empty()
            && self.requirements.is_empty()
            && self.came.is_empty()
            && self.went.is_empty()
    }
}

/// What a path says before and after, as text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MovedText {
    /// The path.
    pub path: String,
    /// What it said, where it said anything.
    pub before: Option<String>,
    /// What it says, where it says anything.
    pub after: Option<String>,
}

/// A requirement before and after; it is there on one side at least.
#[derive(Clone, Debug)]
pub struct MovedVerdict {
    /// Its title, or its text.
    pub what: String,
    /// How it was judged.
    pub before: Option<Verdict>,
    /// How it is judged.
    pub after: Option<Verdict>,
}

/// How a band differs from what it was.
#[derive(Clone, Debug)]
pub struct BandDifference {
    /// Its name.
    pub band: String,
    /// What became of it.
    pub became: Became,
    /// What it states beside its fields, such as points of an outline.
    pub stated: Vec<MovedText>,
    /// Its fields and results; of a band that came or went they have one side only.
    pub moved: Vec<MovedFigure>,
    /// Verdicts of rulebooks.
    pub verdicts: Vec<MovedText>,
    /// Words of the cautions that are due now and were not.
    pub cautions: Vec<&'static str>,
}

/// How an order differs from what it was.
#[derive(Clone, Debug)]
pub struct OrderDifference {
    /// Its name, where it has one.
    pub order: Option<String>,
    /// What became of it.
    pub became: Became,
    /// What is said of it beside its totals, such as its lines.
    pub stated: Vec<MovedText>,
    /// Its totals; of an order that came or went they have one side only.
    pub moved: Vec<MovedFigure<OrderResult>>,
}

/// What became of a band or an order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Became {
    /// It is there on both sides.
    Other,
    /// It was not there.
    New,
    /// It is no longer there.
    Gone,
    /// It is there, and can no longer be worked out.
    Impossible,
    /// It could not be evaluated, and can now.
    Possible,
}

impl Became {
    /// The word of machine output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Other => "changed",
            Self::New => "added",
            Self::Gone => "gone",
            Self::Impossible => "impossible",
            Self::Possible => "possible",
        }
    }
}

/// What moved in a band, in whatever units its fields are written.
#[must_use]
pub fn by_meaning(mut change: Change) -> Vec<MovedFigure> {
    change.moved.retain(|one| {
        let (before, after) = (one.before.as_ref(), one.after.as_ref());
        let same = before
            .zip(after)
            .is_some_and(|(before, after)| before.means_as(after));
        !same || one.of.is_result()
    });
    change.moved
}
