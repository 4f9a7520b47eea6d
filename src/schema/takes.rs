//! What a field takes: its kind of value, from which readers, checks, completion and lists follow.

/// What a field takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// Text between quotes.
    Text,
    /// A ring size or an inside diameter.
    Size,
    /// A ring size, an inside diameter, or `stretch` and a part of the bore.
    Start,
    /// A length greater than zero.
    Length,
    /// A length of zero or more.
    LengthOrZero,
    /// A length greater than zero, or one word instead.
    LengthOr(&'static str),
    /// A part of the whole, from 0 to 1; per cent is usual.
    Share,
    /// A whole number from 1.
    Count,
    /// A part of the whole, from 0 to below 1.
    ShareBelow,
    /// A share of something, from 0; more than the whole may be meant.
    ShareOrMore,
    /// A plain number greater than zero.
    Number,
    /// Steps of the size system, from 0.
    Steps,
    /// One of some words.
    Word(&'static [&'static str]),
    /// A length of either sign, from mid width.
    Place,
    /// An angle.
    Angle,
    /// A speed greater than zero.
    Speed,
    /// The name of a cutter.
    Cutter,
    /// The name of an alloy.
    Alloy,
    /// The name of a temper.
    Temper,
    /// Parts per thousand, per cent or karats.
    Fineness,
    /// A day.
    Day,
    /// The outside's kind, with a block of its own fields.
    Profile,
    /// A time of zero or more.
    Time,
    /// A mass of zero or more.
    Mass,
    /// A mass greater than zero.
    MassAboveZero,
    /// Money, zero or more.
    Money,
    /// Money by weight, zero or more.
    MoneyByWeight,
    /// Money by weight, or a share of the metal's worth.
    MoneyByWeightOrShare,
    /// Money by time, zero or more.
    MoneyByTime,
    /// A day.
    Date,
    /// A currency by its ISO 4217 code.
    Currency,
    /// The name of a stock.
    Stock,
    /// The name of another band.
    Band,
    /// A density of a metal.
    Density,
    /// A stress of zero or more.
    Stress,
    /// Poisson's ratio, from 0 to 1/2.
    Poisson,
    /// One word, whichever.
    AnyWord,
    /// The word of a built-in rulebook.
    Rulebook,
    /// A precious metal and the finenesses of its standards.
    MetalStandards,
    /// A precious metal and parts per thousand.
    MetalParts,
    /// A precious metal and a mass.
    MetalMass,
    /// Nothing: it only holds a block.
    Block,
    /// Anything: what it holds is read by itself.
    Anything,
}

impl Takes {
    /// Whether a metal stands before the value, which tells entries of one word apart.
    #[must_use]
    pub fn is_of_metal(self) -> bool {
        matches!(
            self,
            Self::MetalStandards | Self::MetalParts | Self::MetalMass
        )
    }

    /// Whether its value is a quantity or a size, so that expressions can refer to it.
    #[must_use]
    pub fn is_measured(self) -> bool {
        match self {
            Self::Size | Self::Start | Self::Length => true,
            Self::LengthOrZero | Self::LengthOr(_) => true,
            Self::Share | Self::ShareBelow | Self::ShareOrMore => true,
            Self::Count | Self::Number | Self::Steps => true,
            Self::Place | Self::Angle | Self::Speed => true,
            Self::Time | Self::Mass | Self::MassAboveZero | Self::Money => true,
            Self::MoneyByWeight | Self::MoneyByWeightOrShare | Self::MoneyByTime => true,
            Self::Fineness | Self::Density | Self::Stress | Self::Poisson => true,
            Self::Text
            | Self::AnyWord
            | Self::Rulebook
            | Self::MetalStandards
            | Self::MetalParts
            | Self::MetalMass
            | Self::Day
            | Self::Word(_)
            | Self::Alloy
            | Self::Cutter
            | Self::Temper
            | Self::Profile
            | Self::Date
            | Self::Currency
            | Self::Stock
            | Self::Band
            | Self::Block
            | Self::Anything => false,
        }
    }
}
