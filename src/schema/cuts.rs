//! The kinds of drawn cuts: the row of each, of its cutter and of its depth.

use super::fields::FieldId;

/// Words that draw a path or a pocket, beside its fields.
pub const DRAWS: &[&str] = &["from", "to", "arc"];

/// A kind of cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutKind {
    /// The row of its block.
    pub block: FieldId,
    /// The row of its cutter.
    pub cutter: FieldId,
    /// The row of its depth.
    pub depth: FieldId,
}

impl CutKind {
    /// Every kind.
    pub const ALL: [Self; 9] = [
        Self {
            block: FieldId::PatternFlutes,
            cutter: FieldId::PatternFlutesCutter,
            depth: FieldId::PatternFlutesDepth,
        },
        Self {
            block: FieldId::PatternLines,
            cutter: FieldId::PatternLinesCutter,
            depth: FieldId::PatternLinesDepth,
        },
        Self {
            block: FieldId::PatternWave,
            cutter: FieldId::PatternWaveCutter,
            depth: FieldId::PatternWaveDepth,
        },
        Self {
            block: FieldId::PatternRing,
            cutter: FieldId::PatternRingCutter,
            depth: FieldId::PatternRingDepth,
        },
        Self {
            block: FieldId::PatternDots,
            cutter: FieldId::PatternDotsCutter,
            depth: FieldId::PatternDotsDepth,
        },
        Self {
            block: FieldId::PatternFacets,
            cutter: FieldId::PatternFacetsCutter,
            depth: FieldId::PatternFacetsDepth,
        },
        Self {
            block: FieldId::PatternPath,
            cutter: FieldId::PatternPathCutter,
            depth: FieldId::PatternPathDepth,
        },
        Self {
            block: FieldId::PatternPocket,
            cutter: FieldId::PatternPocketCutter,
            depth: FieldId::PatternPocketDepth,
        },
        Self {
            block: FieldId::PatternDrawing,
            cutter: FieldId::PatternDrawingCutter,
            depth: FieldId::PatternDrawingDepth,
        },
    ];

    /// The kind of a word of a pattern.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        let is_it = |kind: &Self| {
            let holder = kind.block.path().strip_suffix(word);
            holder.is_some_and(|holder| holder.ends_with('.'))
        };
        Self::ALL.into_iter().find(is_it)
    }

    /// Whether it holds points and arcs.
    #[must_use]
    pub fn is_drawn(self) -> bool {
        matches!(self.block, FieldId::PatternPath | FieldId::PatternPocket)
    }
}
