//! What moves a result: every number that a band rests on is moved by itself, and what then differs is seen.
//!
//! So no list of causes is kept by hand. A number is moved by a thousandth, then by more, since a price shows whole cents
//! and a least wall is that of one place: what no step moves is no cause here. Points of an outline or a path are no
//! numbers by themselves, and are left out: their block is what is chosen.

use std::sync::Arc;

use crate::model::money::Setting;
use crate::model::{Alloy, Band, Value, Values, times_as_large};
use crate::quantity::{Dimension, Number};
use crate::schema::{FieldId, ResultId, Room, Takes};

use super::evaluation::{Evaluation, possible};

/// A number that a band rests on.
#[derive(Clone, Debug)]
pub enum Cause {
    /// A field of the band.
    Field(FieldId),
    /// A field of the band that it is compared with.
    Other(FieldId),
    /// What prices, workshop or stock say.
    Setting(FieldId, Option<usize>),
    /// A rate of exchange, by its place among them.
    Rate(usize),
    /// A figure of an alloy, by its path.
    Alloy(Arc<Alloy>, String),
    /// A value of a drawn cut with a name, by its place among them.
    Cut(usize, FieldId),
    /// A value of a drawn cut with a name of the band that it is compared with.
    OtherCut(usize, FieldId),
    /// A size or speed of a cutter, by its name.
    Cutter(String, FieldId),
}

impl Cause {
    /// Its path as a recipe says it: behind a band's name, or from the word of its block.
    #[must_use]
    pub fn path(&self, band: &Band) -> Option<String> {
        match self {
            Self::Field(id) => Some(format!("{}.{}", band.name, id.path())),
            Self::Other(id) => Some(format!("{}.{}", band.against.as_ref()?.name, id.path())),
            Self::Setting(id, row) => {
                let said = &band.terms.as_ref()?.money.said;
                let value = said.get(*id, *row)?;
                let row = row.and_then(|row| said.rows.get(row));
                Some(Setting { row, value }.path())
            }
            Self::Rate(_) => Some(FieldId::PricesRate.path().to_owned()),
            Self::Alloy(alloy, path) => Some(format!("{}.{path}", alloy.name)),
            Self::Cut(cut, id) => {
                let cut = band.cuts.get(*cut)?;
                Some(format!("{}.{}", band.name, cut.path(*id)))
            }
            Self::OtherCut(cut, id) => {
                let other = band.against.as_ref()?;
                Self::Cut(*cut, *id).path(other)
            }
            Self::Cutter(name, id) => Some(format!("cutter.{name}.{}", id.word())),
        }
    }
}

/// How a number is moved: so many times as large, or that much in place of nothing.
const STEPS: [(f64, f64); 5] = [
    (1.001, 0.001),
    (0.97, 0.02),
    (1.03, 0.1),
    (1.5, 1.0),
    (0.5, 100.0),
];

/// What is moved by each number, as places among some results; numbers that move none of them are left out.
///
/// # Range
/// A number is moved up and down by up to a half of itself; further off it may move more.
///
/// # Example
/// ```
/// use annulet::evaluate::causes;
/// use annulet::schema::ResultId;
/// use annulet::session::{Request, Session};
/// let recipe = "band b { size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy silver-925 }";
/// let outcome = Session::default().run("r", recipe, &Request::default());
/// let band = &outcome.evaluations[0];
/// let found = causes(band, &[ResultId::Weight]);
/// let paths: Vec<String> = found.iter().filter_map(|(cause, _)| cause.path(&band.band)).collect();
/// assert!(paths.contains(&"b.width".to_owned()) && paths.contains(&"silver-925.density".to_owned()));
/// assert!(!paths.contains(&"b.hollow.friction".to_owned()));
/// ```
#[must_use]
pub fn causes(evaluation: &Evaluation, results: &[ResultId]) -> Vec<(Cause, Vec<usize>)> {
    let Ok(nominal) = possible(&evaluation.band) else {
        return Vec::new();
    };
    let band = &evaluation.band;
    let before = figures(&nominal, results);
    let found = numbers(band).into_iter().filter_map(|cause| {
        let mut moved: Vec<usize> = Vec::new();
        for (times, instead) in STEPS {
            let Some(band) = nudged(band, &cause, times, instead) else {
                continue;
            };
            let Ok(nudged) = possible(&Arc::new(band)) else {
                continue;
            };
            let after = figures(&nudged, results);
            let both = before.iter().zip(&after).enumerate();
            moved.extend(
                both.filter(|(place, (a, b))| {
                    results.get(*place).is_some_and(|id| differ(*id, **a, **b))
                })
                .map(|(place, _)| place),
            );
        }
        moved.sort_unstable();
        moved.dedup();
        (!moved.is_empty()).then_some((cause, moved))
    });
    found.collect()
}

fn figures(evaluation: &Evaluation, results: &[ResultId]) -> Vec<Option<f64>> {
    let numbers = results.iter().map(|id| evaluation.number(*id));
    numbers.map(|number| number.map(Number::to_f64)).collect()
}

/// Whether two figures differ by more than a solver leaves in the last digits, or masses of whole micrograms in what money
/// makes of them.
fn differ(id: ResultId, a: Option<f64>, b: Option<f64>) -> bool {
    let row = id.row();
    let rounded = |size: f64| match (row.room, row.dimension) {
        (Room::Money, Dimension::MONEY) => 0.0,
        (Room::Money, dimension) if dimension.money != 0 => 1e-5 * size.max(1.0),
        (Room::Money, _) => 2e-6,
        _ => 0.0,
    };
    match (a, b) {
        (Some(a), Some(b)) => {
            let size = a.abs().max(b.abs());
            (a - b).abs() > (1e-10 * size.max(1e-3)).max(rounded(size))
        }
        (a, b) => a.is_some() != b.is_some(),
    }
}

/// Every number that a band rests on.
fn numbers(band: &Band) -> Vec<Cause> {
    let measured = |band: &Band| -> Vec<FieldId> {
        let fields = band.fields.iter().map(|field| field.field);
        let fields = fields.filter(|field| field.takes.is_measured());
        fields.map(|field| field.id).collect()
    };
    let mut all: Vec<Cause> = measured(band).into_iter().map(Cause::Field).collect();
    let other = band.against.as_deref();
    let mut alloys: Vec<&Arc<Alloy>> = Vec::new();
    for alloy in band
        .metals()
        .chain(other.into_iter().flat_map(Band::metals))
    {
        if !alloys.iter().any(|known| known.name == alloy.name) {
            alloys.push(alloy);
        }
    }
    for alloy in alloys {
        all.extend(paths(alloy).map(|path| Cause::Alloy(Arc::clone(alloy), path)));
    }
    let measured_of = |values: &Values| -> Vec<FieldId> {
        let fields = values.iter().map(|value| value.field);
        let fields = fields.filter(|field| field.takes.is_measured());
        fields.map(|field| field.id).collect()
    };
    let cuts = |band: &Band| -> Vec<(usize, FieldId)> {
        let cuts = band.cuts.iter().enumerate();
        let own = cuts.flat_map(|(place, cut)| {
            let own = cut.own.iter().flat_map(measured_of);
            own.map(move |id| (place, id)).collect::<Vec<_>>()
        });
        own.collect()
    };
    let own = cuts(band).into_iter();
    all.extend(own.map(|(place, id)| Cause::Cut(place, id)));
    let others = other.map(cuts).into_iter().flatten();
    all.extend(others.map(|(place, id)| Cause::OtherCut(place, id)));
    for cutter in band.cutters_beside() {
        let fields = measured_of(&cutter.values).into_iter();
        all.extend(fields.map(|id| Cause::Cutter(cutter.name.clone(), id)));
    }
    if let Some(terms) = &band.terms {
        let said = &terms.money.said;
        let numbers = said
            .settings()
            .filter(|one| one.value.field.takes.is_measured());
        all.extend(numbers.filter_map(|one| {
            let (field, row) = said.find(&one.path())?;
            Some(Cause::Setting(field, row))
        }));
        all.extend((0..terms.money.rates.len()).map(Cause::Rate));
    }
    if let Some(other) = other {
        all.extend(measured(other).into_iter().map(Cause::Other));
    }
    all
}

/// The paths of an alloy's numbers.
fn paths(alloy: &Alloy) -> impl Iterator<Item = String> {
    let parts = alloy.parts.iter().map(|(element, _)| element.clone());
    let figures = alloy.tempers.iter().flat_map(|temper| {
        let figures = temper.figures.iter();
        figures.map(|(field, ..)| {
            let holder = field.row().holder();
            let holder = holder.rsplit('.').next().unwrap_or(holder);
            format!("{holder}.{}.{}", temper.name, field.word())
        })
    });
    let parts = parts.collect::<Vec<_>>();
    let figures = figures.collect::<Vec<_>>();
    let density = FieldId::AlloyDensity.word().to_owned();
    std::iter::once(density).chain(parts).chain(figures)
}

/// The band with one of its numbers moved.
fn nudged(band: &Band, cause: &Cause, times: f64, instead: f64) -> Option<Band> {
    let moved = |value: &Value, id: FieldId| {
        let whole = matches!(id.row().takes, Takes::Count);
        times_as_large(value, times, instead, whole)
    };
    match cause {
        Cause::Field(id) => band.nudged(*id, moved(&band.field(*id)?.value, *id)?),
        Cause::Other(id) => {
            let other = band.against.as_ref()?;
            let other = other.nudged(*id, moved(&other.field(*id)?.value, *id)?)?;
            let against = Some(Arc::new(other));
            Some(Band {
                against,
                ..band.clone()
            })
        }
        Cause::Setting(id, row) => {
            let said = &band.terms.as_ref()?.money.said;
            let value = moved(&said.get(*id, *row)?.value, *id)?;
            band.nudged_setting(*id, *row, value)
        }
        Cause::Rate(place) => band.nudged_rate(*place, times),
        Cause::Cut(cut, id) => {
            let value = band.cuts.get(*cut)?.own.as_ref()?.get(*id)?;
            band.nudged_cut(*cut, *id, moved(&value.value, *id)?)
        }
        Cause::OtherCut(cut, id) => {
            let other = band.against.as_ref()?;
            let against = nudged(other, &Cause::Cut(*cut, *id), times, instead)?;
            Some(Band {
                against: Some(Arc::new(against)),
                ..band.clone()
            })
        }
        Cause::Cutter(name, id) => {
            let cutters = band.cutters_beside();
            let cutter = cutters.iter().find(|cutter| cutter.name == *name)?;
            let value = moved(&cutter.values.get(*id)?.value, *id)?;
            band.nudged_cutter(name, *id, &value)
        }
        Cause::Alloy(alloy, path) => {
            let alloy = alloy.nudged(path, times)?;
            let mut nudged = band.nudged_alloy(&Arc::new(alloy.clone()));
            if let Some(other) = &band.against {
                nudged.against = Some(Arc::new(other.nudged_alloy(&Arc::new(alloy))));
            }
            Some(nudged)
        }
    }
}
