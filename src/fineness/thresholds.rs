//! A rulebook compiled: its figures by metal, its rules as small enums, without a text.

use rust_decimal::Decimal;
use smallvec::SmallVec;

use super::precious::Precious;
use super::reason::{Clause, Differing, Mixed, ReasonKind};

/// What a rulebook asks of an article.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Thresholds {
    /// It gives no verdict at all.
    pub silent: bool,
    /// Its figures, by metal.
    pub metals: [OfMetal; 4],
    /// How far the whole may fall short where lower solder is authorised.
    pub whole_soldered: Option<AllowedShort>,
    /// Who marks; none where the rulebook does not say.
    pub system: Option<MarkSystem>,
    /// By metal: whether it needs no mark, where the system asks for one of others.
    pub voluntary: [bool; 4],
    /// Exemptions fall away with unlawful solder.
    pub exempt_solder: bool,
    /// Parts of one metal that differ.
    pub finenesses: Option<Differing>,
    /// Parts of two precious metals.
    pub mixed: Option<Mixed>,
    /// Grams that a part of them must weigh more than to want a mark of its own.
    pub mixed_over: Option<Decimal>,
    /// How thick each of them must be, in mm.
    pub least_thickness: Option<Decimal>,
    /// Platinum and white gold are not told apart.
    pub white_alike: bool,
    /// Elements of which no part may hold more, in parts per thousand.
    pub harmful: Vec<(String, Decimal)>,
    /// A part of base metal.
    pub base: Option<BaseRule>,
    /// What solder must hold; the first that fits counts.
    pub solder: Vec<SolderLeast>,
    /// What the words that it is sold under must hold.
    pub tags: Vec<TagRule>,
    /// What else must be said.
    pub says: Vec<SayRule>,
    /// A shortfall helps only what an assay finds, of metal that is mixed to the figure.
    pub assayed_only: bool,
    /// What karats of gold mean, where it is not 1000/24.
    pub karats: Vec<(Decimal, Decimal)>,
    /// What alone may be plated on, where the rulebook says so.
    pub plating: Option<Vec<String>>,
    /// How thick a plating must be; the first that fits counts.
    pub plated: Vec<PlatedLeast>,
}

/// The figures of a metal, in parts per thousand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OfMetal {
    /// From how much on a part is taken for the metal.
    pub near: Decimal,
    /// Standards, rising.
    pub standards: Vec<Decimal>,
    /// The highest standard, where any figure above it is admitted.
    pub above: Option<Decimal>,
    /// The figure from which on any may be stated.
    pub free: Option<Decimal>,
    /// Figures that go by a name of their own where any may be stated: recommended finenesses, and words.
    pub usual: Vec<Decimal>,
    /// From how much on, and among how much of which group, it is named under its least standard.
    pub among: Option<(Decimal, Decimal, Vec<String>)>,
    /// Elements that count as the metal.
    pub with: Vec<String>,
    /// How many parts per thousand of them count at most.
    pub with_most: Option<Decimal>,
    /// How far a part may fall short.
    pub part: Option<AllowedShort>,
    /// How far the whole, melted with its solder, may fall short.
    pub whole: Option<AllowedShort>,
    /// Exemption by weight.
    pub exempt: Option<Exemption>,
    /// Rows of it that are known from memory alone.
    pub memory: SmallVec<[Clause; 4]>,
}

/// A shortfall that is allowed, and where it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AllowedShort {
    /// Parts per thousand.
    pub plain: Decimal,
    /// The same for a soldered article.
    pub soldered: Decimal,
    /// The same for a soldered article of white metal, and from which fineness of its metal on.
    pub white: Option<(Decimal, Decimal)>,
    /// The row.
    pub clause: Clause,
}

/// An exemption from the official mark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exemption {
    /// Grams of metal, strictly under which it holds.
    pub below: Decimal,
    /// That weight itself is exempt too.
    pub through: bool,
    /// What is weighed.
    pub of: ExemptWeight,
    /// By metal: whether it falls away beside it.
    pub lost_beside: [bool; 4],
}

/// What an exemption weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExemptWeight {
    /// All metal of the article.
    All,
    /// The parts of the metal.
    Parts,
    /// The fine metal that they hold.
    Fine,
}

/// Who marks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkSystem {
    /// An office must.
    Compulsory,
    /// The maker must.
    OwnMark,
    /// Whoever wants to.
    Voluntary,
    /// No law says.
    Recommended,
}

/// What a rulebook makes of a part of base metal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BaseRule {
    /// It is told apart by its colour, or named.
    ApartOrNamed,
    /// It is left out of account where it is joined cold.
    LeftOutIfCold,
    /// It is refused.
    Refused,
    /// The office is to be asked.
    Ask,
    /// It is admitted where it is seen, of another colour, and named.
    MultiMetal,
}

/// What solder must hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolderLeast {
    /// The article's metal; any. A metal that is not precious fits none.
    pub metal: Option<Option<Precious>>,
    /// From this fineness of the article on.
    pub from: Option<Decimal>,
    /// Up to this fineness.
    pub to: Option<Decimal>,
    /// For white metal only.
    pub white: bool,
    /// Least parts per thousand; that of the article.
    pub least: Option<Decimal>,
    /// All precious metals are counted together.
    pub sum: bool,
    /// Lower solder may be authorised.
    pub authorised: bool,
}

/// How thick a plating must be.
#[derive(Clone, Debug, PartialEq)]
pub struct PlatedLeast {
    /// What is plated on.
    pub with: String,
    /// Where one of these words is on the tag; everywhere.
    pub has: Vec<String>,
    /// Least thickness, mm.
    pub least: Decimal,
}

/// What the words that an article is sold under must hold.
#[derive(Clone, Debug, PartialEq)]
pub struct TagRule {
    /// Where it holds.
    pub when: Facts,
    /// It matters where one of these words is there.
    pub has: Vec<String>,
    /// Then each of these must be there.
    pub needs: Vec<String>,
    /// None of these may be there at all.
    pub never: Vec<String>,
    /// It holds only where the least part is under this.
    pub below: Option<Decimal>,
}

/// What must be said, asked or borne in mind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SayRule {
    /// Where it holds.
    pub when: Facts,
    /// The least part holds this or more.
    pub from: Option<Decimal>,
    /// The least part holds less than this.
    pub below: Option<Decimal>,
    /// What it asks for.
    pub kind: ReasonKind,
}

/// What is so of an article, as bits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Facts(u16);

impl Facts {
    const WORDS: [&str; 7] = [
        "cavity",
        "two-part",
        "cold",
        "soldered",
        "finenesses-differ",
        "metals-differ",
        "base",
    ];
    /// There is an empty space inside.
    pub const CAVITY: Self = Self(1);
    /// It has two parts.
    pub const TWO_PART: Self = Self(1 << 1);
    /// It is joined without solder.
    pub const COLD: Self = Self(1 << 2);
    /// It is joined with solder.
    pub const SOLDERED: Self = Self(1 << 3);
    /// Parts of one metal differ.
    pub const FINENESSES_DIFFER: Self = Self(1 << 4);
    /// There are two precious metals.
    pub const METALS_DIFFER: Self = Self(1 << 5);
    /// A part is of base metal.
    pub const BASE: Self = Self(1 << 6);
    /// What is so of no article.
    const NEVER: Self = Self(1 << 15);

    /// That a part is sold as a metal.
    #[must_use]
    pub fn metal(metal: Precious) -> Self {
        Self(1 << (8 + metal as u16))
    }

    /// The fact that a rulebook's word means.
    #[must_use]
    pub fn of(word: &str) -> Self {
        let place = Self::WORDS.iter().position(|known| *known == word);
        let metal = || Precious::of(word).map(Self::metal);
        let known = place.map(|place| Self(1 << place));
        known.or_else(metal).unwrap_or(Self::NEVER)
    }

    /// Adds some where they are so.
    pub fn add(&mut self, fact: Self, so: bool) {
        if so {
            self.0 |= fact.0;
        }
    }

    /// Whether all of some are so.
    #[must_use]
    pub fn all(self, when: Self) -> bool {
        self.0 & when.0 == when.0
    }
}

impl Thresholds {
    /// The figures of a metal.
    #[must_use]
    pub fn of(&self, metal: Precious) -> &OfMetal {
        let [platinum, gold, palladium, silver] = &self.metals;
        match metal {
            Precious::Platinum => platinum,
            Precious::Gold => gold,
            Precious::Palladium => palladium,
            Precious::Silver => silver,
        }
    }
}

impl OfMetal {
    /// Whether the texts read say anything of it.
    #[must_use]
    pub fn is_known(&self) -> bool {
        !self.standards.is_empty() || self.free.is_some()
    }

    /// The highest standard that a figure reaches.
    #[must_use]
    pub fn standard_under(&self, figure: Decimal) -> Option<Decimal> {
        let standards = self.standards.iter().rev();
        standards.copied().find(|standard| *standard <= figure)
    }

    /// Whether a figure may be stated of it at all.
    #[must_use]
    pub fn admits(&self, figure: Decimal) -> bool {
        // A karat of gold is no figure in parts per thousand.
        let free = self.free.is_some_and(|least| figure >= least) && figure > Decimal::from(24);
        let above = self.above.is_some_and(|last| figure > last);
        let among = self.among.as_ref();
        let among = among.is_some_and(|(least, ..)| {
            figure >= *least && self.standards.first().is_some_and(|first| figure < *first)
        });
        figure <= Decimal::ONE_THOUSAND
            && (free || above || among || self.standards.contains(&figure))
    }
}
