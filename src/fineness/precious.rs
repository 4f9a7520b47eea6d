//! The precious metals by their rank, and the parts of an article, as small values.

/// A precious metal, the dearest first. Source of the order: Hallmarking Act 1973, Sch.2 para 15.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Precious {
    /// Platinum.
    Platinum,
    /// Gold.
    Gold,
    /// Palladium.
    Palladium,
    /// Silver.
    Silver,
}

impl Precious {
    /// All of them, the dearest first.
    pub const ALL: [Self; 4] = [Self::Platinum, Self::Gold, Self::Palladium, Self::Silver];

    /// Its word in recipes.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Platinum => "platinum",
            Self::Gold => "gold",
            Self::Palladium => "palladium",
            Self::Silver => "silver",
        }
    }

    /// The metal of a word; none for base metal.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|metal| metal.word() == word)
    }
}

/// What of an article is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Portion {
    /// A solid band.
    #[default]
    Band,
    /// The outer part of a hollow band.
    Shell,
    /// The inner part of a hollow band.
    Sleeve,
    /// Solder that joins the parts.
    Solder,
    /// All of it, melted together.
    Whole,
}

impl Portion {
    const ALL: [Self; 5] = [
        Self::Band,
        Self::Shell,
        Self::Sleeve,
        Self::Solder,
        Self::Whole,
    ];

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Band => "band",
            Self::Shell => "shell",
            Self::Sleeve => "sleeve",
            Self::Solder => "solder",
            Self::Whole => "whole",
        }
    }

    /// The portion of a word.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|portion| portion.word() == word)
    }
}

/// Some portions of an article, from the outside in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Portions(u8);

impl Portions {
    /// Whether it is none at all.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// Whether a portion is among them.
    #[must_use]
    pub fn contains(self, portion: Portion) -> bool {
        self.0 & (1 << portion as u8) != 0
    }

    /// Each of them.
    pub fn iter(self) -> impl Iterator<Item = Portion> {
        let all = Portion::ALL.into_iter();
        all.filter(move |portion| self.contains(*portion))
    }
}

impl FromIterator<Portion> for Portions {
    fn from_iter<I: IntoIterator<Item = Portion>>(portions: I) -> Self {
        let bits = portions.into_iter().map(|portion| 1 << portion as u8);
        Self(bits.fold(0, |all, bit: u8| all | bit))
    }
}
