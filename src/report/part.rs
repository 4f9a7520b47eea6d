//! The parts of a report, by the words that ask for one alone; and how much of a report is wanted.

/// A part of a band's report.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReportPart {
    /// Parts or a blank as made, and what they come to.
    Made,
    /// The ring size in all systems.
    Size,
    /// Outside, width, thickness, pattern.
    Dimensions,
    /// Shell, sleeve, ridge or lip, cavity of a hollow band.
    Parts,
    /// Weights and density.
    Weights,
    /// Metal balance, cost, price, another build.
    Money,
    /// Walls against the least wall.
    Limits,
    /// Fineness, marks, skin contact.
    Fineness,
    /// Diameters and widths to turn.
    Machining,
    /// Radii and centres of curves.
    Curves,
    /// Stages, pulls and pins.
    Enlarger,
    /// Whether a closed ring grips.
    Grip,
    /// Stretch in one pull.
    Stretch,
    /// What each allowance is.
    Allowances,
    /// Between two opposed forces.
    Strength,
    /// What to take care of.
    Care,
    /// Orders.
    Orders,
    /// Requirements.
    Requirements,
}

impl ReportPart {
    /// All parts with their words, in the order of the report.
    pub const ALL: &[(&str, Self)] = &[
        ("made", Self::Made),
        ("size", Self::Size),
        ("dimensions", Self::Dimensions),
        ("parts", Self::Parts),
        ("weights", Self::Weights),
        ("money", Self::Money),
        ("limits", Self::Limits),
        ("fineness", Self::Fineness),
        ("machining", Self::Machining),
        ("curves", Self::Curves),
        ("enlarger", Self::Enlarger),
        ("grip", Self::Grip),
        ("stretch", Self::Stretch),
        ("allowances", Self::Allowances),
        ("strength", Self::Strength),
        ("care", Self::Care),
        ("orders", Self::Orders),
        ("requirements", Self::Requirements),
    ];

    /// The part of a word.
    ///
    /// # Example
    /// ```
    /// use annulet::report::ReportPart;
    /// assert_eq!(ReportPart::of("enlarger"), Some(ReportPart::Enlarger));
    /// assert_eq!(ReportPart::of("engine"), None);
    /// ```
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        let found = Self::ALL.iter().find(|(known, _)| *known == word);
        found.map(|(_, part)| *part)
    }

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        let found = Self::ALL.iter().find(|(_, part)| *part == self);
        found.map_or("", |(word, _)| word)
    }
}

/// How much of a report is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum ReportExtent {
    /// What a maker needs first, on one screen.
    #[default]
    Card,
    /// Everything.
    Full,
    /// One part.
    Part(ReportPart),
}

impl ReportExtent {
    /// Whether a part is shown.
    #[must_use]
    pub(super) fn shows(self, part: ReportPart) -> bool {
        self == Self::Full || self == Self::Part(part)
    }
}
