//! What of a pattern stays the same in another size, and what it comes to there.

use crate::evaluate::Evaluation;
use crate::model::Band;
use crate::schema::{FieldId, ResultId};

/// What stays the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keep {
    /// As many repeats: each gets longer or shorter.
    Repeats,
    /// The length of a repeat: whole ones are counted anew.
    Motif,
    /// The outside: the sleeve or the thickness takes the size up.
    Outside,
}

impl Keep {
    /// Every one, in the order in which they are shown.
    pub const ALL: [Self; 3] = [Self::Repeats, Self::Motif, Self::Outside];

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Repeats => "repeats",
            Self::Motif => "motif",
            Self::Outside => "outside",
        }
    }

    /// The one of a word.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.word() == word)
    }

    /// What the pattern of a band says.
    #[must_use]
    pub fn of_band(band: &Band) -> Option<Self> {
        Self::of_word(band.fields.word(FieldId::PatternKeep)?)
    }
}

/// What a pattern comes to in a size in which something of it stays the same.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kept {
    /// What stays.
    pub keep: Keep,
    /// Repeats round the band.
    pub repeats: Option<u32>,
    /// Length of a repeat over that in the band's own size, less one.
    pub stretch: Option<f64>,
    /// Thickness of the band, mm.
    pub thickness: Option<f64>,
    /// Thickness of the sleeve, mm; none without one.
    pub sleeve: Option<f64>,
}

impl Kept {
    /// Of a band in its own size and in another.
    #[must_use]
    pub fn of(keep: Keep, own: Option<&Evaluation>, sized: Option<&Evaluation>) -> Self {
        let pitch = |one: &Evaluation| Some(one.number(ResultId::StripPitch)?.to_f64());
        let field = |id: FieldId| {
            let quantity = sized?.band.fields.quantity(id)?;
            Some(quantity.number.to_f64())
        };
        let both = own.and_then(pitch).zip(sized.and_then(pitch));
        let thickness = sized.and_then(|one| {
            let outside = one.number(ResultId::Outside)?.to_f64();
            Some((outside - one.band.inside().diameter.to_f64()) / 2.0)
        });
        Self {
            keep,
            repeats: sized.and_then(Evaluation::repeats),
            stretch: both.map(|(own, sized)| sized / own - 1.0),
            thickness,
            sleeve: field(FieldId::HollowSleeve)
                .filter(|_| sized.is_some_and(|one| one.band.hollow.is_some())),
        }
    }
}
