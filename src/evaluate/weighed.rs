//! A ring on the scale, stage by stage, beside what the recipe gives: which reading agrees, and what metal is missing.

use crate::model::Day;
use crate::quantity::to_f64;
use crate::schema::{FieldId, ResultId};

use super::evaluation::Evaluation;
use super::range::RangeBy;
use super::results::number;
use super::spread::range;
use super::weighed_short::WeighedShort;

/// What a scale at the bench tells apart where nothing is said of it, in g: from memory.
const SCALE: f64 = 0.01;

/// One reading.
#[derive(Clone, Debug, PartialEq)]
pub struct OnScale {
    /// The field that states it.
    pub field: FieldId,
    /// What the scale shows, g.
    pub grams: f64,
    /// By how much it may be off to either side, g.
    pub off: f64,
    /// Its day.
    pub dated: Option<Day>,
    /// What the recipe gives.
    pub expected: Expected,
}

/// What a recipe gives for a reading, in g.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Expected {
    /// So much: as written, and the range over all that may be off.
    Known {
        /// As written.
        nominal: f64,
        /// At least.
        low: f64,
        /// At most.
        high: f64,
        /// How the range is known.
        way: RangeBy,
    },
    /// The band has no such part.
    NoPart,
    /// Metal is left on for finishing, of which no weight is reckoned.
    LeftOn,
    /// No stock is stated, so that nothing is known of what is issued and what comes back.
    NoStock,
}

impl OnScale {
    /// Whether reading and recipe can both be true; none where the recipe gives nothing.
    #[must_use]
    pub fn agrees(&self) -> Option<bool> {
        match self.expected {
            Expected::Known { low, high, .. } => Some(
                self.grams + self.off >= low - ROUNDING && self.grams - self.off <= high + ROUNDING,
            ),
            _ => None,
        }
    }

    /// How much more it is than the recipe gives as written, g.
    #[must_use]
    pub fn over(&self) -> Option<f64> {
        match self.expected {
            Expected::Known { nominal, .. } => Some(self.grams - nominal),
            _ => None,
        }
    }
}

/// Masses are compared within this, g.
const ROUNDING: f64 = 1e-9;

/// What came off between two readings.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The fields of what was weighed before, added up.
    pub before: Vec<FieldId>,
    /// The field of what was weighed after.
    pub after: FieldId,
    /// What came off, g.
    pub grams: f64,
    /// By how much that may be off by the scale, g.
    pub off: f64,
    /// What should have, g, as written.
    pub expected: Option<f64>,
}

/// What readings before one were off by.
#[derive(Clone, Debug, PartialEq)]
pub struct OffBefore {
    /// More than the recipe gives, all of them together, g.
    pub over: f64,
    /// By how much what came between may be off by the scale, g.
    pub off: f64,
    /// The readings.
    pub fields: Vec<FieldId>,
}

/// All readings of a ring.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Weighings {
    /// In the order of the work.
    pub readings: Vec<OnScale>,
    /// From stage to stage.
    pub steps: Vec<Step>,
    /// Metal that is neither in the ring nor came back, and by how much that may be off by the scale, g; none where
    /// what was issued, what was finished or what came back was not weighed.
    pub unaccounted: Option<(f64, f64)>,
}

/// Readings in the order of the work.
const READINGS: [FieldId; 11] = [
    FieldId::WeighedIssued,
    FieldId::WeighedShellIssued,
    FieldId::WeighedSleeveIssued,
    FieldId::WeighedTurned,
    FieldId::WeighedShellTurned,
    FieldId::WeighedSleeveTurned,
    FieldId::WeighedCut,
    FieldId::WeighedShellCut,
    FieldId::WeighedJoined,
    FieldId::WeighedFinished,
    FieldId::WeighedReturned,
];

/// From what to what metal comes off or is put together: the readings before, each a choice of which the first that
/// is there counts, and the reading after.
const STEPS: [(&[&[FieldId]], FieldId); 8] = [
    (&[&[FieldId::WeighedIssued]], FieldId::WeighedTurned),
    (&[&[FieldId::WeighedTurned]], FieldId::WeighedCut),
    (
        &[&[FieldId::WeighedShellIssued]],
        FieldId::WeighedShellTurned,
    ),
    (&[&[FieldId::WeighedShellTurned]], FieldId::WeighedShellCut),
    (
        &[&[FieldId::WeighedSleeveIssued]],
        FieldId::WeighedSleeveTurned,
    ),
    (
        &[
            &[FieldId::WeighedShellCut, FieldId::WeighedShellTurned],
            &[FieldId::WeighedSleeveTurned],
        ],
        FieldId::WeighedJoined,
    ),
    (
        &[&[
            FieldId::WeighedJoined,
            FieldId::WeighedCut,
            FieldId::WeighedTurned,
        ]],
        FieldId::WeighedFinished,
    ),
    (
        &[
            &[FieldId::WeighedShellCut, FieldId::WeighedShellTurned],
            &[FieldId::WeighedSleeveTurned],
        ],
        FieldId::WeighedFinished,
    ),
];

impl Evaluation {
    /// The readings of this ring; none where nothing was weighed.
    #[must_use]
    pub fn weighings(&self) -> Option<Weighings> {
        let readings: Vec<OnScale> = READINGS.iter().filter_map(|id| self.reading(*id)).collect();
        if readings.is_empty() {
            return None;
        }
        let find = |id: FieldId| readings.iter().find(|one| one.field == id);
        let mut steps: Vec<Step> = Vec::new();
        for (before, after) in STEPS {
            let chosen = before
                .iter()
                .map(|choice| choice.iter().find_map(|id| find(*id)));
            let chosen: Option<Vec<&OnScale>> = chosen.collect();
            let Some((chosen, last)) = chosen.zip(find(after)) else {
                continue;
            };
            if steps.iter().any(|step| step.after == after) {
                continue;
            }
            let sum = |read: fn(&OnScale) -> f64| chosen.iter().map(|one| read(one)).sum::<f64>();
            let expected: Option<f64> = chosen.iter().map(|one| nominal(one)).sum();
            steps.push(Step {
                before: chosen.iter().map(|one| one.field).collect(),
                after,
                grams: sum(|one| one.grams) - last.grams,
                off: sum(|one| one.off) + last.off,
                expected: expected
                    .zip(nominal(last))
                    .map(|(before, after)| before - after),
            });
        }
        let parts = [FieldId::WeighedShellIssued, FieldId::WeighedSleeveIssued];
        let parts = parts.map(find);
        let issued = match (find(FieldId::WeighedIssued), parts) {
            (Some(one), _) => Some((one.grams, one.off)),
            (None, [Some(shell), Some(sleeve)]) => {
                Some((shell.grams + sleeve.grams, shell.off + sleeve.off))
            }
            _ => None,
        };
        let back = find(FieldId::WeighedReturned).zip(find(FieldId::WeighedFinished));
        let unaccounted = issued.zip(back).map(|((grams, off), (back, ring))| {
            (grams - back.grams - ring.grams, off + back.off + ring.off)
        });
        Some(Weighings {
            readings,
            steps,
            unaccounted,
        })
    }

    fn reading(&self, id: FieldId) -> Option<OnScale> {
        let fields = &self.band.fields;
        let quantity = fields.quantity(id)?;
        let shop = self.band.terms.as_ref().map(|terms| &terms.money.said.shop);
        let scale = fields
            .number(FieldId::WeighedScale)
            .or_else(|| shop?.number(FieldId::ShopToleranceScale));
        let off = match quantity.worst() {
            written if written > 0.0 => written,
            _ => scale.unwrap_or(SCALE) / 2.0,
        };
        let own = dated(id).and_then(|id| fields.day(id));
        Some(OnScale {
            field: id,
            grams: quantity.number.to_f64(),
            off,
            dated: own.or_else(|| fields.day(FieldId::WeighedDated)),
            expected: self.expected(id),
        })
    }

    /// What the recipe gives for a reading.
    fn expected(&self, id: FieldId) -> Expected {
        let hollow = self.band.hollow.is_some();
        let of_solid = [FieldId::WeighedTurned, FieldId::WeighedCut];
        let of_any = [
            FieldId::WeighedIssued,
            FieldId::WeighedFinished,
            FieldId::WeighedReturned,
        ];
        if !of_any.contains(&id) && of_solid.contains(&id) == hollow {
            return Expected::NoPart;
        }
        let left = self
            .input
            .stretch
            .layers
            .left
            .iter()
            .any(|left| *left > 0.0);
        if left && id != FieldId::WeighedFinished && !is_of_stock(id) {
            return Expected::LeftOn;
        }
        let stocked = |id: FieldId| self.band.field(id).is_some();
        let stocks = match (hollow, id) {
            (_, id) if !is_of_stock(id) => true,
            (false, _) => stocked(FieldId::Stock),
            (true, FieldId::WeighedShellIssued) => stocked(FieldId::HollowShellStock),
            (true, FieldId::WeighedSleeveIssued) => stocked(FieldId::HollowSleeveStock),
            (true, _) => stocked(FieldId::HollowShellStock) && stocked(FieldId::HollowSleeveStock),
        };
        let read = |of: &Self| of.mass_of(id);
        let Some(nominal) = read(self).filter(|_| stocks) else {
            return Expected::NoStock;
        };
        let (low, high, way) = match range(self, &read) {
            Some(range) => (range.low, range.high, range.way),
            None => (nominal, nominal, RangeBy::Sum),
        };
        Expected::Known {
            nominal,
            low,
            high,
            way,
        }
    }

    /// What a reading is off its recipe by because readings before it were, as what was off then is off still; none where
    /// nothing before it is apart.
    #[must_use]
    pub fn off_before(&self, all: &Weighings, reading: &OnScale) -> Option<OffBefore> {
        let is_it = |step: &&Step| {
            step.after == reading.field && !step.before.iter().any(|id| is_of_stock(*id))
        };
        let step = all.steps.iter().find(is_it)?;
        let before = all.readings.iter();
        let before = before.filter(|one| step.before.contains(&one.field));
        let apart: Vec<&OnScale> = before.filter(|one| one.agrees() == Some(false)).collect();
        (!apart.is_empty()).then(|| OffBefore {
            over: apart.iter().filter_map(|one| one.over()).sum(),
            off: step.off,
            fields: apart.iter().map(|one| one.field).collect(),
        })
    }

    /// The mass that a reading is of, g; that of one part's stock is not reckoned apart.
    #[must_use]
    pub fn mass_of(&self, id: FieldId) -> Option<f64> {
        let result = |id: ResultId| number(id, self).map(|one| one.to_f64());
        let figures = &self.figures;
        let polished = || result(ResultId::WeightPolishings).unwrap_or(0.0);
        let uncut = figures.weight_uncut - self.input.solder;
        let parts = figures.hollow.as_ref();
        match id {
            FieldId::WeighedIssued => result(ResultId::WeightIssued),
            FieldId::WeighedTurned => Some(uncut + polished()),
            FieldId::WeighedCut => Some(uncut - figures.weight_cut + polished()),
            FieldId::WeighedShellTurned => Some(parts?.shell_weight + polished()),
            FieldId::WeighedShellCut => Some(parts?.shell_weight - figures.weight_cut + polished()),
            FieldId::WeighedSleeveTurned => Some(parts?.sleeve_weight),
            FieldId::WeighedJoined => Some(figures.weight + polished()),
            FieldId::WeighedFinished => Some(figures.weight),
            FieldId::WeighedReturned => {
                let scrap = &self.band.terms.as_ref()?.money.shop.scrap;
                let collected = |id: ResultId, share| Some(result(id)? * to_f64(share));
                let turnings = collected(ResultId::WeightTurnings, scrap.turnings.collected)?;
                let offcuts = collected(ResultId::WeightOffcuts, scrap.offcuts.collected)?;
                let rest = collected(ResultId::WeightPolishings, scrap.polishings.collected);
                Some(turnings + offcuts + rest.unwrap_or(0.0))
            }
            _ => None,
        }
    }
}

fn nominal(reading: &OnScale) -> Option<f64> {
    match reading.expected {
        Expected::Known { nominal, .. } => Some(nominal),
        _ => None,
    }
}

fn is_of_stock(id: FieldId) -> bool {
    matches!(
        id,
        FieldId::WeighedIssued
            | FieldId::WeighedShellIssued
            | FieldId::WeighedSleeveIssued
            | FieldId::WeighedReturned
    )
}

/// The field of a reading's own day.
fn dated(id: FieldId) -> Option<FieldId> {
    Some(match id {
        FieldId::WeighedIssued => FieldId::WeighedIssuedDated,
        FieldId::WeighedTurned => FieldId::WeighedTurnedDated,
        FieldId::WeighedCut => FieldId::WeighedCutDated,
        FieldId::WeighedShellIssued => FieldId::WeighedShellIssuedDated,
        FieldId::WeighedShellTurned => FieldId::WeighedShellTurnedDated,
        FieldId::WeighedShellCut => FieldId::WeighedShellCutDated,
        FieldId::WeighedSleeveIssued => FieldId::WeighedSleeveIssuedDated,
        FieldId::WeighedSleeveTurned => FieldId::WeighedSleeveTurnedDated,
        FieldId::WeighedJoined => FieldId::WeighedJoinedDated,
        FieldId::WeighedFinished => FieldId::WeighedFinishedDated,
        FieldId::WeighedReturned => FieldId::WeighedReturnedDated,
        _ => return None,
    })
}

impl Evaluation {
    /// What its readings contradict.
    pub(super) fn contradicted(&self) -> Vec<WeighedShort> {
        let Some(all) = self.weighings() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for reading in &all.readings {
            let field = reading.field;
            match (reading.expected, reading.agrees()) {
                (Expected::NoPart, _) => found.push(WeighedShort::NoPart { field }),
                (Expected::Known { nominal, .. }, Some(false)) => found.push(WeighedShort::Apart {
                    field,
                    found: reading.grams,
                    nominal,
                }),
                _ => {}
            }
        }
        for step in &all.steps {
            let heavier = -step.grams - step.off;
            // Solder comes on when parts are joined.
            if heavier > self.input.solder + ROUNDING {
                let (field, by) = (step.after, -step.grams);
                // That no number of the recipe can mend says more than how far the reading is from it.
                found.retain(|one| {
                    one.field() != field || matches!(one, WeighedShort::NoPart { .. })
                });
                found.push(WeighedShort::Heavier { field, by });
            }
        }
        let more = all
            .unaccounted
            .filter(|(grams, off)| grams + off < -ROUNDING);
        if let Some((grams, _)) = more {
            found.push(WeighedShort::More {
                field: FieldId::WeighedReturned,
                by: -grams,
            });
        }
        found
    }
}
