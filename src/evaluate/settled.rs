//! What a reading of the scale says of one number: what that would have to be, all else as written.

use std::sync::Arc;

use crate::kernel::FiguresWanted;
use crate::model::{Alloy, Band, Ranged, Value, times_as_large};
use crate::quantity::{Dimension, Number};
use crate::schema::FieldId;

use super::evaluation::{Evaluation, sound, sound_of, stated_of};
use super::of_band::input_of;
use super::weighed::OnScale;

/// What one number would have to be for the recipe to give what was weighed, all else as written.
#[derive(Clone, Debug)]
pub struct Explained {
    /// Its path within the band, or of an alloy's density behind the alloy's name.
    pub path: String,
    /// As written, in base units; of a size the inside diameter.
    pub written: f64,
    /// What it would have to be.
    pub wanted: f64,
    /// What kind of quantity it is.
    pub dimension: Dimension,
    /// The unit that it is written in.
    pub unit: Option<String>,
}

/// The same, and how far it may be off.
#[derive(Clone, Debug)]
pub struct Settled {
    /// The number.
    pub number: Explained,
    /// By how much it may be off, by the scale alone.
    pub by_scale: f64,
    /// By how much at worst, by everything else that may be off too.
    pub at_worst: f64,
}

/// Numbers that a weight off its recipe is looked for in, in the order told.
const LOOKED_AT: [FieldId; 9] = [
    FieldId::Width,
    FieldId::Thickness,
    FieldId::Outside,
    FieldId::ProfileEdge,
    FieldId::PatternMeanDepth,
    FieldId::PatternDepth,
    FieldId::PatternCover,
    FieldId::HollowShell,
    FieldId::HollowSleeve,
];

/// A number that can be settled.
#[derive(Clone)]
enum Unknown {
    Field(FieldId),
    Density(Arc<Alloy>),
}

impl Unknown {
    /// The band with it so many times as large.
    fn moved(&self, band: &Band, times: f64) -> Option<Band> {
        match self {
            Self::Field(id) => {
                let value = times_as_large(&band.field(*id)?.value, times, times, false)?;
                band.nudged(*id, value)
            }
            Self::Density(alloy) => {
                let mut metals = band.metals();
                let own = metals.find(|known| known.name == alloy.name)?;
                let moved = own.nudged(FieldId::AlloyDensity.word(), times)?;
                Some(band.nudged_alloy(&Arc::new(moved)))
            }
        }
    }
}

impl Evaluation {
    /// What each number would have to be, by itself, for a reading to come out: so many of them at most, those left out
    /// of which no value would do; those too that a reading `behind` it would have shown already.
    #[must_use]
    pub fn explained(&self, reading: &OnScale, most: usize, behind: &[FieldId]) -> Vec<Explained> {
        let fields = LOOKED_AT.into_iter().filter(|id| {
            let deep = *id == FieldId::PatternDepth;
            let field = self.band.field(*id);
            field.is_some_and(|field| field.at.is_some())
                && !(deep && self.band.field(FieldId::PatternMeanDepth).is_some())
        });
        let mut alloys: Vec<Arc<Alloy>> = Vec::new();
        for alloy in self.band.metals() {
            if !alloys.iter().any(|known| known.name == alloy.name) {
                alloys.push(Arc::clone(alloy));
            }
        }
        let all = fields
            .map(Unknown::Field)
            .chain(alloys.into_iter().map(Unknown::Density));
        let plain = self.plain();
        let shown_before = |one: &Unknown| {
            let moved = one.moved(&plain, 1.001);
            let moved = moved.and_then(|band| volumes(&Arc::new(band)));
            behind.iter().any(|id| {
                let both = self
                    .mass_of(*id)
                    .zip(moved.as_ref().and_then(|of| of.mass_of(*id)));
                both.is_some_and(|(was, is)| (was - is).abs() > 1e-9)
            })
        };
        let found = all.filter_map(|one| {
            if shown_before(&one) {
                return None;
            }
            let times = root(&|times| Some(mass(&plain, &one, reading, times)? - reading.grams))?;
            sound(&Arc::new(one.moved(&plain, times)?))?;
            self.as_large(&one, times)
        });
        found.take(most).collect()
    }

    /// What a field of the band, or the density of an alloy of it, would have to be for a reading to come out; none
    /// where no value would do.
    #[must_use]
    pub fn settle(&self, path: &str, reading: &OnScale) -> Option<Settled> {
        let density = path.strip_suffix(".density").or(match path {
            "density" => Some(self.band.alloy.name.as_str()),
            _ => None,
        });
        let unknown = match density {
            Some(name) => {
                let mut metals = self.band.metals();
                Unknown::Density(Arc::clone(metals.find(|alloy| alloy.name == name)?))
            }
            None => {
                let mut fields = self.band.fields.iter();
                let field = fields.find(|field| field.field.path == path)?;
                Unknown::Field(field.field.id)
            }
        };
        self.settled(&unknown, reading)
    }

    fn settled(&self, unknown: &Unknown, reading: &OnScale) -> Option<Settled> {
        let over = |band: &Band, times| Some(mass(band, unknown, reading, times)? - reading.grams);
        let plain = self.plain();
        let times = root(&|times| over(&plain, times))?;
        sound(&Arc::new(unknown.moved(&plain, times)?))?;
        // What the scale leaves open, by the slope there.
        let step = 1e-4;
        let slope = (over(&plain, times + step)? - over(&plain, times - step)?) / (2.0 * step);
        let number = self.as_large(unknown, times)?;
        let own = |one: &Ranged| match unknown {
            Unknown::Field(field) => one.field == Some(*field),
            Unknown::Density(_) => one.path == number.path,
        };
        let mut others = 0.0;
        for input in self.inputs().iter().filter(|one| !own(one)) {
            let ends = [-1.0, 1.0].map(|t| {
                let stands = |variable| if variable == input.variable { t } else { 0.0 };
                let band = self.band.at(&stands)?;
                Some((root(&|times| over(&band, times))? - times).abs())
            });
            others += ends.into_iter().flatten().fold(0.0, f64::max) * number.written;
        }
        let by_scale = (reading.off / slope).abs() * number.written;
        Some(Settled {
            number,
            by_scale,
            at_worst: by_scale + others,
        })
    }

    /// A number so many times as large as written.
    fn as_large(&self, unknown: &Unknown, times: f64) -> Option<Explained> {
        let (written, dimension, unit, path) = match unknown {
            Unknown::Field(field) => {
                let value = &self.band.field(*field)?.value;
                let (number, dimension, unit) = measured(value)?;
                (number.to_f64(), dimension, unit, field.path().to_owned())
            }
            Unknown::Density(alloy) => (
                alloy.density.grams_per_cm3() / 1000.0,
                Dimension::DENSITY,
                Some("g/cm3".to_owned()),
                format!("{}.{}", alloy.name, FieldId::AlloyDensity.word()),
            ),
        };
        Some(Explained {
            path,
            written,
            wanted: written * times,
            dimension,
            unit,
        })
    }

    /// The band as written, of which nothing may be off.
    fn plain(&self) -> Band {
        Band {
            settled: true,
            ..(*self.band).clone()
        }
    }
}

/// A band evaluated for its volumes.
fn volumes(band: &Arc<Band>) -> Option<Evaluation> {
    sound_of(
        band,
        input_of(band),
        &stated_of(band),
        FiguresWanted::Volumes,
    )
}

/// What a reading would be of, g, with a number so many times as large.
fn mass(band: &Band, unknown: &Unknown, reading: &OnScale, times: f64) -> Option<f64> {
    let moved = Arc::new(unknown.moved(band, times)?);
    volumes(&moved)?.mass_of(reading.field)
}

fn measured(value: &Value) -> Option<(Number, Dimension, Option<String>)> {
    match value {
        Value::Quantity { quantity, unit } => {
            Some((quantity.number, quantity.dimension, unit.clone()))
        }
        Value::Size { size, .. } => {
            let number = Number::Computed(size.diameter());
            Some((number, Dimension::LENGTH, Some("mm".to_owned())))
        }
        _ => None,
    }
}

/// How many times as large a number would have to be, from a quarter to four times, by secants that stay between a low
/// and a high side once both are known; none where no value would do.
fn root(by: &dyn Fn(f64) -> Option<f64>) -> Option<f64> {
    let mut one = (1.0, by(1.0)?);
    if one.1 == 0.0 {
        return Some(1.0);
    }
    let mut other = [1.001, 0.999].into_iter().find_map(|x| Some((x, by(x)?)))?;
    for _ in 0..60 {
        let (rise, run) = (other.1 - one.1, other.0 - one.0);
        if rise == 0.0 || !rise.is_finite() {
            return None;
        }
        let mut next = other.0 - other.1 * run / rise;
        next = next.clamp(other.0 * 0.8, other.0 * 1.25);
        if !(0.25..=4.0).contains(&next) {
            return None;
        }
        // What is beyond what can be made is come nearer to by halves.
        let mut found = by(next);
        for _ in 0..8 {
            if found.is_some() {
                break;
            }
            next = (next + other.0) / 2.0;
            found = by(next);
        }
        (one, other) = (other, (next, found?));
        if other.1.abs() < 1e-10 {
            return Some(other.0);
        }
        if (other.0 - one.0).abs() < 1e-15 {
            break;
        }
    }
    (other.1.abs() < 1e-7).then_some(other.0)
}
