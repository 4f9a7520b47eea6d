//! The nearest thing that saves parts as made that fall short: another sleeve, another size, a thinner cut.

use crate::kernel::join::{Joined, MachinedSleeve};
use crate::kernel::{Figures, Input};
use crate::schema::FieldId;

use super::judge::{judge, made_if_sound};
use super::measured::Measured;
use super::ring::MadeRing;
use super::shortfall::{MadeShortfall, OffSize, Thin};

/// What would save the parts, each by itself but for the cut, which may be wanted beside it; lengths in mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Saves {
    /// The sleeve to turn for this shell, and the deepest cut where that is wanted too.
    pub sleeve: Option<(MachinedSleeve, Option<f64>)>,
    /// The bore under which the ring is right, and the deepest cut where that is wanted too.
    pub size: Option<(f64, Option<f64>)>,
    /// The deepest cut, which alone saves them.
    pub cut: Option<f64>,
}

impl Saves {
    /// Whether nothing of it does.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// What saves parts as made; `None` where nothing falls short.
#[must_use]
pub fn saves(input: &Input, figures: &Figures, joined: &Joined, made: &MadeRing) -> Option<Saves> {
    let short = |made: &MadeRing| {
        let mut found: Vec<MadeShortfall> = Vec::new();
        judge(input, figures, joined, made, &mut found);
        found
    };
    let found = short(made);
    if found.is_empty() {
        return None;
    }
    let measured = with_sleeve(&input.stretch.made, &made.turn);
    let other = made_if_sound(input, figures, joined, &measured);
    let sleeve = other.and_then(|other| Some((made.turn, cut_alone(&short(&other))?)));
    let of_size = |short: &MadeShortfall| {
        let MadeShortfall::Off { what, .. } = short else {
            return false;
        };
        matches!(what, OffSize::Bore | OffSize::Outside)
    };
    let bore_off = |short: &MadeShortfall| {
        matches!(
            short,
            MadeShortfall::Off {
                what: OffSize::Bore,
                ..
            }
        )
    };
    let rest: Vec<MadeShortfall> = found
        .iter()
        .copied()
        .filter(|short| !of_size(short))
        .collect();
    let size = found
        .iter()
        .any(bore_off)
        .then(|| cut_alone(&rest))
        .flatten();
    Some(Saves {
        sleeve,
        size: size.map(|cut| (made.bore, cut)),
        cut: cut_alone(&found).flatten(),
    })
}

/// Whether nothing falls short but what a thinner cut mends: that cut, where one is wanted.
fn cut_alone(found: &[MadeShortfall]) -> Option<Option<f64>> {
    let mut deepest: Option<f64> = None;
    for short in found {
        let MadeShortfall::Thin {
            place: Thin::UnderCut,
            deepest: Some(cut),
            ..
        } = short
        else {
            return None;
        };
        deepest = Some(deepest.map_or(*cut, |known| known.min(*cut)));
    }
    Some(deepest)
}

/// The shell as measured with a sleeve that is still to turn.
fn with_sleeve(measured: &Measured, turn: &MachinedSleeve) -> Measured {
    let figures = [
        (FieldId::MadeSleeveBore, Some(turn.bore)),
        (FieldId::MadeSleeveFloor, Some(turn.floor)),
        (FieldId::MadeSleeveRidgeTop, turn.ridge_top),
        (FieldId::MadeSleeveRidgeFromFace, turn.ridge_from_face),
        (FieldId::MadeSleeveWidth, Some(turn.width)),
        (FieldId::MadeSleeveEdgeBore, Some(turn.edge_bore)),
    ];
    figures
        .into_iter()
        .filter_map(|(field, value)| Some((field, value?)))
        .fold(*measured, |all, (field, value)| all.with(field, value))
}
