//! Why a judgement is as it is, and what goes with it: small values with their figures and clauses, no text.

use rust_decimal::Decimal;

use super::precious::{Portion, Portions, Precious};

/// What a reason asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReasonKind {
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

/// The row of a rulebook that decides; lists count from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clause {
    /// Its standards of a metal.
    Standards(Precious),
    /// Any figure of a metal may be stated.
    Any(Precious),
    /// The shortfall of a part.
    Part(Precious),
    /// The shortfall of the whole.
    Whole(Precious),
    /// The shortfall of the whole with lower solder.
    WholeSoldered,
    /// A row on solder.
    Solder(u32),
    /// Parts of one metal that differ.
    Finenesses,
    /// Parts of two precious metals.
    Metals,
    /// A part of base metal.
    Base,
    /// A row on the words that it is sold under.
    Tag(u32),
    /// Another row of what must be said.
    Say(u32),
    /// Exemptions fall away with unlawful solder.
    ExemptSolder,
    /// What may be plated on.
    Plating,
    /// A row on how thick a plating must be.
    Plated(u32),
    /// A metal named under its least standard.
    Among(Precious),
    /// How thick each of two metals must be.
    Thickness,
    /// Platinum and white gold.
    WhiteAlike,
    /// A row on an element of which no part may hold more.
    Harmful(u32),
    /// No text says so.
    None,
}

/// What a rulebook makes of parts of one metal that differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Differing {
    /// The lower figure stands for the whole.
    Lowest,
    /// Each part carries its own mark.
    EachOwn,
    /// One figure, of the whole melted together.
    Whole,
    /// The article is refused.
    Refused,
}

/// What a rulebook makes of parts of two precious metals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mixed {
    /// Full marks on the least precious, refused where the eye cannot tell the parts apart.
    FullOnLeast,
    /// A mark for the dearer only where the eye tells it apart.
    EachIfApart,
    /// Refused where colours do not separate.
    ApartByColour,
    /// Platinum with gold whose colours separate; other pairs are refused.
    PlatinumGold,
    /// Each part carries its own mark.
    EachOwn,
}

/// How a part of base metal stands under a rulebook.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BaseCase {
    /// The texts read say nothing of it.
    NotFound,
    /// It is refused.
    Refused,
    /// Metallically joined, it is refused.
    Joined,
    /// Not seen as such, it is refused.
    Unseen,
    /// Joined cold and seen, it is left out of account.
    LeftOut,
    /// It is struck with its name, since its colour does not tell.
    StruckName,
    /// Its colour tells, or it is struck with its name.
    ToldOrStruck,
    /// The office is to be asked.
    AskOffice,
    /// Whether it is seen as such is to be stated.
    SeenUnsaid,
    /// Of another colour, it is named or struck with its kind.
    MultiMetal,
}

/// Whether solder of a lower fineness may be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leave {
    /// The office has given leave.
    Given,
    /// The office may give leave; the recipe says nothing.
    Unsaid,
    /// It may not.
    No,
}

/// Why a judgement is as it is, or what goes with it.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Reason {
    /// The rulebook gives no verdict at all.
    Silent,
    /// A metal is not in the texts read.
    NotInTexts(Precious),
    /// The whole melted with its solder cannot be computed: the solder's weight is not stated.
    WholeUnknown(Clause),
    /// Solder under what is wanted.
    Solder {
        /// The row that wants it.
        row: u32,
        /// The metal that counts; none where all precious metals count together.
        metal: Option<Precious>,
        /// Parts per thousand found.
        found: Decimal,
        /// Parts per thousand wanted.
        wanted: Decimal,
        /// Whether it may be used none the less.
        leave: Leave,
    },
    /// A part that does not carry the mark that it must.
    Unmarked {
        /// The part.
        part: Portion,
        /// Its metal; none for base metal.
        metal: Option<Precious>,
        /// Its parts per thousand.
        found: Decimal,
        /// The rule.
        clause: Clause,
    },
    /// Parts of one metal differ.
    Finenesses(Differing),
    /// Two precious metals; how they are marked was not found.
    MetalsNotFound,
    /// Two precious metals.
    Metals {
        /// The rule.
        rule: Mixed,
        /// Whether the eye tells them apart.
        apart: Option<bool>,
    },
    /// Whether the eye tells the metals apart is to be stated.
    TellApart,
    /// Parts of base metal.
    Base {
        /// The parts.
        parts: Portions,
        /// How they stand.
        case: BaseCase,
    },
    /// The tag says a word that it must not.
    TagNever {
        /// The row.
        row: u32,
        /// Which of its words.
        word: u32,
    },
    /// The tag lacks a word that it needs.
    TagNeeds {
        /// The row.
        row: u32,
        /// Which of its words.
        word: u32,
    },
    /// What else the rulebook says.
    Say {
        /// The row.
        row: u32,
        /// What it asks for.
        kind: ReasonKind,
    },
    /// Light enough to be exempt, but for its solder.
    SolderLosesExemption,
    /// Its solder lets it carry a lower standard than its metal would.
    SolderCaps {
        /// Parts per thousand of the solder.
        found: Decimal,
        /// Parts per thousand that the metal alone would carry.
        wanted: Decimal,
        /// The row that wants more of the solder.
        row: u32,
    },
    /// A claim above what is there, though within what may be found short: a tolerance is no licence.
    AboveTrue {
        /// The part, or the whole.
        what: Portion,
        /// Parts per thousand claimed.
        figure: Decimal,
        /// Parts per thousand found.
        found: Decimal,
        /// What may be found short on control.
        allowed: Decimal,
        /// Where the text says so.
        clause: Clause,
    },
    /// A claim that is met within what may be found short on control.
    WithinShortfall {
        /// The part, or the whole.
        what: Portion,
        /// Parts per thousand missing.
        missing: Decimal,
        /// What may be missing.
        allowed: Decimal,
        /// Where the text says so.
        clause: Clause,
    },
    /// A claim that is no standard, and less than what is there.
    NotTrue {
        /// Parts per thousand claimed.
        figure: Decimal,
        /// Parts per thousand found.
        found: Decimal,
        /// Where the text says so.
        clause: Clause,
    },
    /// A mark claimed for the dearer of two metals that the eye does not tell apart.
    DearerUnmarked(Precious),
    /// Two precious metals that are not accepted together.
    MetalsRefused,
    /// The tag claims more of a metal than is there.
    TagOver {
        /// The metal.
        metal: Precious,
        /// Parts per thousand that it claims.
        figure: Decimal,
        /// Parts per thousand found.
        found: Decimal,
    },
    /// The tag names a metal that no part holds.
    TagMetal(Precious),
    /// The tag says `solid` of a hollow article.
    TagSolid,
    /// A metal under its least standard that the others of its group do not make up for.
    NotAmong(Precious),
    /// A part of two metals that is thinner than each must be.
    Thin {
        /// The part.
        part: Portion,
        /// How thick it is, in mm.
        thickness: Decimal,
    },
    /// Platinum and white gold, which are not told apart whatever is said of them.
    WhiteAlike,
    /// A part that holds more of an element than any may.
    Harmful {
        /// The row.
        row: u32,
        /// The part.
        part: Portion,
        /// Parts per thousand that it holds.
        held: Decimal,
    },
    /// It is plated; whether the rulebook admits what it is plated with.
    Plated {
        /// It does.
        admitted: bool,
    },
    /// A plating that is thinner than it must be, or of which nobody said how thick it is.
    PlatedThin {
        /// The row.
        row: u32,
        /// How thick it is, in mm.
        thick: Option<Decimal>,
    },
}

impl Reason {
    /// What it asks for.
    #[must_use]
    pub fn kind(&self) -> ReasonKind {
        match self {
            Self::Silent | Self::NotInTexts(_) | Self::WholeUnknown(_) => ReasonKind::Undecided,
            Self::Solder { leave, .. } if *leave == Leave::Given => ReasonKind::Condition,
            Self::Finenesses(Differing::Refused)
            | Self::Solder { .. }
            | Self::Unmarked { .. }
            | Self::TagNever { .. }
            | Self::TagNeeds { .. }
            | Self::AboveTrue { .. }
            | Self::NotTrue { .. }
            | Self::DearerUnmarked(_)
            | Self::MetalsRefused
            | Self::TagOver { .. }
            | Self::TagMetal(_)
            | Self::TagSolid
            | Self::NotAmong(_)
            | Self::Thin { .. }
            | Self::WhiteAlike
            | Self::Harmful { .. }
            | Self::PlatedThin { thick: Some(_), .. }
            | Self::Plated { admitted: false } => ReasonKind::Refused,
            Self::PlatedThin { thick: None, .. } => ReasonKind::Undecided,
            Self::Plated { admitted: true } => ReasonKind::Say,
            Self::WithinShortfall { .. } | Self::SolderCaps { .. } => ReasonKind::Note,
            Self::Metals { rule, apart } => match (rule, apart) {
                (Mixed::FullOnLeast | Mixed::ApartByColour | Mixed::PlatinumGold, Some(false)) => {
                    ReasonKind::Refused
                }
                _ => ReasonKind::Condition,
            },
            Self::Base { case, .. } => match case {
                BaseCase::NotFound | BaseCase::AskOffice | BaseCase::SeenUnsaid => {
                    ReasonKind::Undecided
                }
                BaseCase::Refused | BaseCase::Joined | BaseCase::Unseen => ReasonKind::Refused,
                BaseCase::LeftOut
                | BaseCase::StruckName
                | BaseCase::ToldOrStruck
                | BaseCase::MultiMetal => ReasonKind::Condition,
            },
            Self::MetalsNotFound | Self::TellApart => ReasonKind::Undecided,
            Self::Finenesses(_) | Self::SolderLosesExemption => ReasonKind::Condition,
            Self::Say { kind, .. } => *kind,
        }
    }

    /// The row that says so.
    #[must_use]
    pub fn clause(&self) -> Clause {
        match *self {
            Self::Silent | Self::NotInTexts(_) | Self::MetalsNotFound => Clause::None,
            Self::Base {
                case: BaseCase::NotFound,
                ..
            } => Clause::None,
            Self::WholeUnknown(clause) | Self::Unmarked { clause, .. } => clause,
            Self::Solder { row, .. } => Clause::Solder(row),
            Self::Finenesses(_) => Clause::Finenesses,
            Self::Metals { .. } | Self::TellApart => Clause::Metals,
            Self::Base { .. } => Clause::Base,
            Self::TagNever { row, .. } | Self::TagNeeds { row, .. } => Clause::Tag(row),
            Self::Say { row, .. } => Clause::Say(row),
            Self::SolderLosesExemption => Clause::ExemptSolder,
            Self::SolderCaps { row, .. } => Clause::Solder(row),
            Self::AboveTrue { clause, .. }
            | Self::WithinShortfall { clause, .. }
            | Self::NotTrue { clause, .. } => clause,
            Self::DearerUnmarked(_) | Self::MetalsRefused => Clause::Metals,
            Self::TagOver { .. } | Self::TagMetal(_) | Self::TagSolid => Clause::None,
            Self::Plated { .. } => Clause::Plating,
            Self::PlatedThin { row, .. } => Clause::Plated(row),
            Self::NotAmong(metal) => Clause::Among(metal),
            Self::Thin { .. } => Clause::Thickness,
            Self::WhiteAlike => Clause::WhiteAlike,
            Self::Harmful { row, .. } => Clause::Harmful(row),
        }
    }

    /// Parts per thousand found, where a figure decides.
    #[must_use]
    pub fn found(&self) -> Option<Decimal> {
        match self {
            Self::Solder { found, .. }
            | Self::SolderCaps { found, .. }
            | Self::Unmarked { found, .. }
            | Self::AboveTrue { found, .. }
            | Self::NotTrue { found, .. }
            | Self::TagOver { found, .. } => Some(*found),
            Self::Harmful { held, .. } => Some(*held),
            _ => None,
        }
    }

    /// Parts per thousand wanted, where a figure decides.
    #[must_use]
    pub fn wanted(&self) -> Option<Decimal> {
        match self {
            Self::Solder { wanted, .. } | Self::SolderCaps { wanted, .. } => Some(*wanted),
            Self::AboveTrue { figure, .. } | Self::TagOver { figure, .. } => Some(*figure),
            _ => None,
        }
    }
}
