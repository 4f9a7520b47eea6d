//! How sure the figures of a band are: ranges, and what drawn rings come to.
//!
//! A ring is drawn by putting every variable somewhere in its range, each place as likely as another (the rectangular
//! distribution of JCGM 100:2008, 4.3.7); what many drawn rings come to is propagated as it is, however it bends (the
//! Monte Carlo way of JCGM 101:2008, clause 7). The draws are the same in every run and on every machine.

use crate::kernel::{WallId, walls};
use crate::model::{AlloyDensity, Ranged};
use crate::schema::{FieldId, RESULTS, ResultId};

use super::evaluation::Evaluation;
use super::range::Range;
use super::results::number;
use super::spread::{range, range_of};
use super::standing::Standing;

/// How many rings are drawn.
pub const DRAWS: usize = 2000;

/// How sure a recipe's figures are.
#[derive(Clone, Debug)]
pub struct Sure {
    /// Its bands; those that nothing can be off of are left out.
    pub bands: Vec<SureBand>,
    /// What it requires.
    pub requirements: Vec<SureRequirement>,
    /// How many rings were drawn.
    pub draws: usize,
}

/// A requirement over the ranges of what may be off.
#[derive(Clone, Debug)]
pub struct SureRequirement {
    /// Its title, or its text.
    pub what: String,
    /// What there is to spare (less than nothing: missing), in base units; none where it is no comparison by size.
    pub spare: Option<Range>,
    /// Whether it holds at its worst.
    pub holds: Option<bool>,
    /// Drawn rings that keep it.
    pub kept: Keeping,
    /// Where the worst lies, in words.
    pub at_worst: Vec<String>,
}

/// What is reckoned of how sure a band is.
#[derive(Clone, Debug)]
pub struct SureBand {
    /// Its name.
    pub band: String,
    /// What may be off, each variable once.
    pub inputs: Vec<Ranged>,
    /// Its alloys whose density is derived by ideal mixing, which may be off by more than any `±` says.
    pub derived: Vec<String>,
    /// Results that may be off.
    pub figures: Vec<SureFigure>,
    /// Walls, each beside its limit.
    pub walls: Vec<SureWall>,
    /// Other limits of which some drawn ring falls short: code, field, part of the rings that keep it.
    pub limits: Vec<(&'static str, FieldId, Keeping)>,
}

/// A result that may be off.
#[derive(Clone, Debug)]
pub struct SureFigure {
    /// The result.
    pub id: ResultId,
    /// Its range, in the unit of its row.
    pub range: Range,
    /// Mean and standard deviation of the drawn rings.
    pub drawn: (f64, f64),
}

/// A wall that may be off.
#[derive(Clone, Debug)]
pub struct SureWall {
    /// Which.
    pub id: WallId,
    /// Its range, mm.
    pub range: Range,
    /// What it must be, mm.
    pub limit: f64,
    /// Drawn rings that keep it.
    pub kept: Keeping,
}

/// How many of the drawn rings keep a limit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Keeping {
    /// Rings that keep it.
    pub kept: usize,
    /// Rings of which it can be said.
    pub of: usize,
}

impl Keeping {
    /// Counts a ring.
    pub fn count(&mut self, keeps: bool) {
        self.of += 1;
        self.kept += usize::from(keeps);
    }

    /// The part of them that keep it; none where it could be said of none.
    #[must_use]
    pub fn part(self) -> Option<f64> {
        (self.of > 0).then(|| self.kept as f64 / self.of as f64)
    }
}

/// Sums of what drawn rings come to.
#[derive(Clone, Debug, Default)]
struct Sums {
    count: f64,
    sum: f64,
    squares: f64,
}

/// Drawn rings of a band, counted one after the other.
#[derive(Clone, Debug)]
pub struct Reckoning {
    band: String,
    inputs: Vec<Ranged>,
    derived: Vec<String>,
    figures: Vec<(ResultId, Range, Sums)>,
    walls: Vec<SureWall>,
    limits: Vec<(&'static str, FieldId, usize)>,
    rings: usize,
}

impl Reckoning {
    /// Counts one more ring.
    pub fn count(&mut self, ring: &Evaluation) {
        self.rings += 1;
        for (id, range, sums) in &mut self.figures {
            if let Some(found) = number(*id, ring) {
                let by = found.to_f64() - range.nominal;
                sums.count += 1.0;
                sums.sum += by;
                sums.squares += by * by;
            }
        }
        for side in &mut self.walls {
            if let Some(found) = thickness(ring, side.id) {
                side.kept.count(found >= side.limit - ROUNDING);
            }
        }
        for (shortfall, _) in ring.falls() {
            let (code, field) = (shortfall.code(), shortfall.field());
            let mut known = self.limits.iter_mut();
            match known.find(|(known, of, _)| (*known, *of) == (code, field)) {
                Some((.., count)) => *count += 1,
                None => self.limits.push((code, field, 1)),
            }
        }
    }

    /// What they come to.
    #[must_use]
    pub fn done(self) -> SureBand {
        let figures = self.figures.into_iter().map(|(id, range, sums)| {
            let mean = sums.sum / sums.count;
            let square = (sums.squares / sums.count - mean * mean).max(0.0);
            let drawn = (range.nominal + mean, square.sqrt());
            SureFigure { id, range, drawn }
        });
        let of = self.rings;
        let kept = |count: usize| Keeping {
            kept: of - count.min(of),
            of,
        };
        let limits = self.limits.into_iter();
        SureBand {
            figures: figures.collect(),
            limits: limits
                .map(|(code, field, count)| (code, field, kept(count)))
                .collect(),
            band: self.band,
            inputs: self.inputs,
            derived: self.derived,
            walls: self.walls,
        }
    }
}

impl Evaluation {
    /// What may be off of it, each variable once.
    #[must_use]
    pub fn inputs(&self) -> Vec<Ranged> {
        let mut all = self.band.ranged();
        all.dedup_by_key(|one| one.variable);
        all
    }

    /// What is to be reckoned of it with drawn rings; none where nothing may be off.
    #[must_use]
    pub fn reckoning(&self) -> Option<Reckoning> {
        let inputs = self.inputs();
        if inputs.is_empty() {
            return None;
        }
        let mut derived: Vec<String> = Vec::new();
        for alloy in self.band.metals() {
            if matches!(alloy.density, AlloyDensity::Derived(_)) && !derived.contains(&alloy.name) {
                derived.push(alloy.name.clone());
            }
        }
        let mut figures: Vec<(ResultId, Range, Sums)> = Vec::new();
        for row in RESULTS.iter() {
            let range = range_of(self, row);
            let moving = range.filter(|range| range.low < range.high);
            figures.extend(moving.map(|range| (row.id, range, Sums::default())));
        }
        let mut sides: Vec<SureWall> = Vec::new();
        for wall in walls(&self.input, &self.figures) {
            let read = |of: &Self| thickness(of, wall.id);
            sides.extend(range(self, &read).map(|range| SureWall {
                id: wall.id,
                range,
                limit: self.input.stretch.walls.of(wall.id),
                kept: Keeping::default(),
            }));
        }
        Some(Reckoning {
            band: self.band.name.clone(),
            inputs,
            derived,
            figures,
            walls: sides,
            limits: Vec::new(),
            rings: 0,
        })
    }

    /// The same at a point of the ranges; what is no variable of it counts for nothing.
    #[must_use]
    pub fn drawn(&self, point: &[(crate::source::Span, f64)]) -> Option<Self> {
        let own = &self.points().variables;
        let point: Standing = point
            .iter()
            .filter(|(variable, _)| own.contains(variable))
            .copied()
            .collect();
        self.at_point(&point)
    }
}

/// Walls are compared within this, in mm.
const ROUNDING: f64 = 1e-9;

fn thickness(of: &Evaluation, id: WallId) -> Option<f64> {
    let walls = walls(&of.input, &of.figures);
    let wall = walls.iter().find(|wall| wall.id == id)?;
    Some(wall.thickness)
}
