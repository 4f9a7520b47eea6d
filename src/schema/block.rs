//! The blocks of the top level that hold fields: their words, and how they are named.

/// The block of the top level that a field stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BlockId {
    /// A band, or a variant of one.
    Band,
    /// What metal costs.
    Prices,
    /// How the workshop counts.
    Shop,
    /// What metal is issued as.
    Stock,
    /// What a customer wants.
    Order,
    /// A metal of the recipe's own.
    Alloy,
    /// A cutter of patterns.
    Cutter,
    /// A rulebook of the recipe's own.
    Rules,
    /// An outside with a name; its fields are those of a band's `profile`.
    Profile,
    /// Parts as they came off the machine; its fields are those of a band's `made`.
    Made,
    /// A ring on the scale; its fields are those of a band's `weighed`.
    Weighed,
}

/// Whether a block has a name behind its word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Naming {
    /// It has none.
    Never,
    /// It may have one.
    Maybe,
    /// It has one, which begins no path by itself.
    Always,
    /// It has one, and a path can begin with the name alone.
    Alone,
    /// It has that of a band.
    OfBand,
}

impl BlockId {
    /// Every block.
    pub const ALL: [Self; 11] = [
        Self::Band,
        Self::Prices,
        Self::Shop,
        Self::Stock,
        Self::Order,
        Self::Alloy,
        Self::Cutter,
        Self::Rules,
        Self::Profile,
        Self::Made,
        Self::Weighed,
    ];

    /// The word that a recipe writes.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Band => "band",
            Self::Prices => "prices",
            Self::Shop => "shop",
            Self::Stock => "stock",
            Self::Order => "order",
            Self::Alloy => "alloy",
            Self::Cutter => "cutter",
            Self::Rules => "rules",
            Self::Profile => "profile",
            Self::Made => "made",
            Self::Weighed => "weighed",
        }
    }

    /// The block of a word; a variant is a band.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        match word {
            "variant" => Some(Self::Band),
            word => Self::ALL.into_iter().find(|block| block.word() == word),
        }
    }

    /// How it is named.
    #[must_use]
    pub fn naming(self) -> Naming {
        match self {
            Self::Prices | Self::Shop => Naming::Never,
            Self::Order => Naming::Maybe,
            Self::Rules => Naming::Always,
            Self::Band | Self::Alloy | Self::Cutter | Self::Profile | Self::Stock => Naming::Alone,
            Self::Made | Self::Weighed => Naming::OfBand,
        }
    }

    /// The word of a block that is named by its band, and is laid into that.
    #[must_use]
    pub fn of_ring(word: &str) -> Option<&'static str> {
        let mut all = Self::ALL.into_iter();
        let found = all.find(|block| block.naming() == Naming::OfBand && block.word() == word);
        found.map(Self::word)
    }

    /// Whether its fields are some of a band's, written in a block of their own.
    #[must_use]
    pub fn is_of_band(self) -> bool {
        matches!(
            self,
            Self::Band | Self::Profile | Self::Made | Self::Weighed
        )
    }
}
