//! What a rulebook says of an article, as a value: marks, tests with their margins, reasons.

use rust_decimal::Decimal;
use smallvec::SmallVec;

use super::precious::{Portion, Portions, Precious};
use super::reason::{Clause, Reason, ReasonKind};

/// One comparison: it holds where `found + allowed` reaches the figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Test {
    /// A part, or the whole.
    pub what: Portion,
    /// Parts per thousand found.
    pub found: Decimal,
    /// How far it may fall short.
    pub allowed: Decimal,
    /// What is to spare with what may be short; negative where it is missing.
    pub spare: Decimal,
    /// Where the text says so.
    pub clause: Clause,
}

impl Test {
    /// What is found above the figure, whatever may be found short.
    #[must_use]
    pub fn margin(&self) -> Decimal {
        (self.spare - self.allowed).normalize()
    }

    /// Whether it holds.
    #[must_use]
    pub fn holds(&self) -> bool {
        !self.spare.is_sign_negative() || self.spare.is_zero()
    }
}

/// Tests of one figure.
pub type Tests = SmallVec<[Test; 3]>;

/// A mark that the article may carry.
#[derive(Clone, Debug, PartialEq)]
pub struct FineMark {
    /// The metal.
    pub metal: Precious,
    /// The parts that it stands for.
    pub parts: Portions,
    /// Parts per thousand; none where the metal reaches no standard.
    pub figure: Option<Decimal>,
    /// It is the true figure, rounded down, not a standard.
    pub free: bool,
    /// The tests at that figure; at the least standard where it reaches none.
    pub tests: Tests,
}

/// The verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ruling {
    /// It may carry what is claimed; where nothing is claimed, some mark.
    Passes,
    /// It may not.
    Fails,
    /// The texts read do not tell.
    Open,
}

/// Whether an official mark is needed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OfficialMark {
    /// An office must mark it.
    Office,
    /// It would have to be marked, but weighs less than the text says.
    Exempt,
    /// The maker must mark it.
    Own,
    /// Marking is free.
    Voluntary,
    /// No law, or nothing found.
    Unsaid,
}

/// An exemption by weight that an article was held against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighed {
    /// The metal that it is of.
    pub metal: Precious,
    /// It falls away beside a dearer metal.
    pub lost: bool,
}

/// What a rulebook says of an article.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// The verdict.
    pub ruling: Ruling,
    /// The highest marks that it may carry, that of the whole article first.
    pub marks: SmallVec<[FineMark; 2]>,
    /// Each part on its own, where each carries its own mark.
    pub each: Vec<FineMark>,
    /// Tests of the claim; of the first mark where there is no claim.
    pub tests: Tests,
    /// Whether an official mark is needed.
    pub official: OfficialMark,
    /// Exemptions by weight, of every metal in it.
    pub weighed: SmallVec<[Weighed; 2]>,
    /// Why, and what goes with it; [`Judgement::said`] gives what weighs most first.
    pub reasons: SmallVec<[Reason; 8]>,
    /// Rows used that are known from memory.
    pub memory: SmallVec<[Clause; 4]>,
    /// Parts judged by their composition alone.
    pub nominal: Portions,
}

impl Judgement {
    /// Whether it passes; none where there is no verdict.
    #[must_use]
    pub fn passes(&self) -> Option<bool> {
        match self.ruling {
            Ruling::Passes => Some(true),
            Ruling::Fails => Some(false),
            Ruling::Open => None,
        }
    }

    /// The highest figure that the whole article may carry; in two metals that on the less precious.
    #[must_use]
    pub fn best(&self) -> Option<Decimal> {
        self.marks.first().and_then(|mark| mark.figure)
    }

    /// The same as results give it: 0 where it may carry none; none where there is no verdict.
    #[must_use]
    pub fn mark(&self) -> Option<Decimal> {
        match self.ruling {
            Ruling::Passes => self.best(),
            Ruling::Fails if self.refused().next().is_some() => Some(Decimal::ZERO),
            Ruling::Fails => Some(self.best().unwrap_or_default()),
            Ruling::Open => None,
        }
    }

    /// What is found above the figure by the test that decides, whatever may be found short; negative where it is
    /// missing.
    #[must_use]
    pub fn margin(&self) -> Option<Decimal> {
        self.deciding().map(Test::margin)
    }

    /// The test that decides: the one with the least to spare.
    #[must_use]
    pub fn deciding(&self) -> Option<&Test> {
        self.tests.iter().min_by_key(|test| test.spare)
    }

    /// The reasons of one kind.
    pub fn of_kind(&self, kind: ReasonKind) -> impl Iterator<Item = &Reason> {
        let reasons = self.reasons.iter();
        reasons.filter(move |reason| reason.kind() == kind)
    }

    /// Why it is refused whatever its fineness.
    pub fn refused(&self) -> impl Iterator<Item = &Reason> {
        self.of_kind(ReasonKind::Refused)
    }

    /// Why there is no verdict.
    pub fn undecided(&self) -> impl Iterator<Item = &Reason> {
        self.of_kind(ReasonKind::Undecided)
    }

    /// What must be said, done or asked.
    pub fn says(&self) -> impl Iterator<Item = &Reason> {
        let weighs_more = [ReasonKind::Refused, ReasonKind::Undecided];
        let reasons = self.reasons.iter();
        reasons.filter(move |reason| !weighs_more.contains(&reason.kind()))
    }

    /// All reasons, what weighs most first.
    pub fn said(&self) -> impl Iterator<Item = &Reason> {
        self.refused().chain(self.undecided()).chain(self.says())
    }
}
