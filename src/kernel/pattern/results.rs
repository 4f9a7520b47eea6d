//! What figures does a drawn pattern give: volume, cover, depths, lengths, plunges, sections, and how sure are they?
//!
//! The grid starts fine enough for the narrowest cutter and is halved until volume agrees with that of the half as fine
//! grid, or until it would have too many radial lines; the difference is told either way.

use super::cuts::{CutShape, ToolCut};
use super::laid::Layout;
use super::layout::lay;
use super::outside::StripOutside;
use super::relief::Relief;
use super::sums::{CutSection, Sums, section};
use super::under;

/// How exact the figures shall be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accuracy {
    /// Numerical share of the volume at most.
    pub error: f64,
    /// Radial lines of a grid at most.
    pub lines: usize,
}

impl Default for Accuracy {
    fn default() -> Self {
        Self {
            error: 0.002,
            lines: 4_000_000,
        }
    }
}

/// The way of the tool for one cut, right round the band.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Way {
    /// Length of its grooves in the `(u, v)` plane, clipped at the faces, one pass, mm.
    pub length: f64,
    /// How often the tool goes in.
    pub plunges: u64,
    /// Clearing of its pockets, mm; none where it has pockets and no step-over.
    pub clearing: Option<f64>,
    /// The greater of its depths, mm.
    pub depth: f64,
}

/// PatternFigures of a drawn pattern.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PatternFigures {
    /// Volume taken off the band, mm3.
    pub volume: f64,
    /// Share of the strip that is cut.
    pub cover: f64,
    /// The even depth that takes the same metal off the same cover, mm.
    pub mean_depth: f64,
    /// Greatest radial depth under the outside, mm.
    pub deepest: f64,
    /// Length of all grooves in the `(u, v)` plane, clipped, one pass, mm.
    pub groove_length: f64,
    /// How often a tool goes in.
    pub plunges: u64,
    /// Estimated numerical share of the volume.
    pub error: f64,
    /// The way of the tool, cut by cut.
    pub ways: Vec<Way>,
    /// Distance of the radial lines of the last grid, mm.
    pub step: f64,
}

/// A pattern worked out: its figures, where its cuts lie, and the finest grid, for pictures.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Worked {
    /// Its figures.
    pub figures: PatternFigures,
    /// Where its cuts lie, and what is to be told of them.
    pub layout: Layout,
    /// Area that is taken of the section at each radial line round a span, mm2; empty without cuts.
    pub taken: Vec<f64>,
}

impl Worked {
    /// Least and harmonic section round the ring, where so much of it is there before the cut, mm2.
    #[must_use]
    pub fn section(&self, uncut: f64) -> CutSection {
        section(&self.taken, uncut)
    }
}

/// Works out a pattern; `scratch` is used again.
///
/// # Example
/// ```
/// use annulet::kernel::pattern::{ToolCut, CutterForm, StripOutside, Relief, RingPlace, CutShape, Accuracy, work};
/// let outside = StripOutside::flat(10.0, 6.0).unwrap();
/// let ring = CutShape::Ring { place: RingPlace::At(0.0), both: false };
/// let cut = ToolCut::new(ring, CutterForm::vee(std::f64::consts::FRAC_PI_2, 0.0), 0.3);
/// let worked = work(&outside, &[cut], 18, Accuracy::default(), &mut Relief::default());
/// let pappus = std::f64::consts::TAU * (10.0 - 0.1) * 0.3 * 0.3;
/// assert!((worked.figures.volume / pappus - 1.0).abs() < 0.002);
/// ```
#[must_use]
pub fn work(
    outside: &StripOutside,
    cuts: &[ToolCut],
    repeats: u32,
    wanted: Accuracy,
    scratch: &mut Relief,
) -> Worked {
    let layout = lay(outside, cuts, repeats);
    let sides = sides(outside, cuts, &layout);
    let area = layout.length * outside.width();
    let coarsest = (area / wanted.lines.max(1000) as f64).sqrt();
    let mut step = start(outside, cuts).max(coarsest);
    let mut sums = Sums::default();
    let mut error = 0.0;
    if !cuts.is_empty() {
        cut(scratch, outside, cuts, &layout, step * 2.0, &sides);
        let mut before = Sums::of(scratch).volume;
        loop {
            cut(scratch, outside, cuts, &layout, step, &sides);
            sums = Sums::of(scratch);
            error = if sums.volume > 0.0 {
                (before / sums.volume - 1.0).abs()
            } else {
                0.0
            };
            if error <= wanted.error || step / 2.0 < coarsest {
                break;
            }
            before = sums.volume;
            step /= 2.0;
        }
    }
    let spans = f64::from(layout.spans);
    let ways = ways(outside, cuts, &layout);
    let figures = PatternFigures {
        volume: sums.volume * spans,
        cover: sums.cover,
        mean_depth: sums.mean_depth(),
        deepest: under::deepest(outside, cuts, &layout),
        groove_length: ways.iter().map(|way| way.length).sum(),
        plunges: ways.iter().map(|way| way.plunges).sum(),
        error,
        ways,
        step,
    };
    Worked {
        figures,
        layout,
        taken: sums.sections,
    }
}

/// Cuts one span on the grid that a worked-out pattern ended with, for pictures.
pub fn grid(relief: &mut Relief, outside: &StripOutside, cuts: &[ToolCut], worked: &Worked) {
    let sides = sides(outside, cuts, &worked.layout);
    // A picture needs no more than some hundred lines across.
    let step = worked.figures.step.max(outside.width() / 400.0);
    cut(relief, outside, cuts, &worked.layout, step, &sides);
}

/// Cuts one span on a grid of a step.
pub fn cut(
    relief: &mut Relief,
    outside: &StripOutside,
    cuts: &[ToolCut],
    layout: &Layout,
    step: f64,
    sides: &[f64],
) {
    relief.begin(outside, layout.spans, step, sides);
    // A chord may depart as little as the grid can hardly see.
    let sag = (step / 20.0).clamp(2e-4, 2e-3);
    for stroke in &layout.strokes {
        let Some(cut) = cuts.get(stroke.cut) else {
            continue;
        };
        relief.groove(outside, &cut.cutter, &stroke.stops(sag));
    }
    for pocket in &layout.pockets {
        let Some(cut) = cuts.get(pocket.cut) else {
            continue;
        };
        relief.pocket(outside, &cut.cutter, pocket);
    }
    for facet in &layout.facets {
        relief.facet(outside, facet);
    }
}

/// A first step: some lines across the narrowest cut.
fn start(outside: &StripOutside, cuts: &[ToolCut]) -> f64 {
    let width = |cut: &ToolCut| match cut.shape {
        CutShape::Facets { .. } => 2.0 * (2.0 * outside.largest() * cut.depth.max(1e-4)).sqrt(),
        _ => 2.0 * cut.half_width(),
    };
    let narrowest = cuts.iter().map(width).fold(f64::INFINITY, f64::min);
    (narrowest / 24.0).clamp(0.002, 0.025)
}

/// Axial places of sides and tips that go along the band: no row shall lie across one, or the row's middle would stand for
/// metal on either side of it.
fn sides(outside: &StripOutside, cuts: &[ToolCut], layout: &Layout) -> Vec<f64> {
    let mut places: Vec<f64> = Vec::new();
    let mut both = |v: f64, half: f64| {
        for place in [v - half, v, v + half] {
            if places.len() < 64 && place > outside.left() && place < outside.right() {
                places.push(place);
            }
        }
    };
    let upright = |cut: usize| cuts.get(cut).filter(|cut| cut.cutter.is_upright());
    for stroke in &layout.strokes {
        let level = stroke
            .runs
            .iter()
            .all(|(_, to)| to.at.v == stroke.from.at.v);
        let along = level
            && stroke
                .runs
                .iter()
                .all(|(run, _)| *run == super::stroke::StrokeRun::Line);
        if let Some(cut) = cuts
            .get(stroke.cut)
            .filter(|_| along && !stroke.runs.is_empty())
        {
            both(stroke.from.at.v, cut.half_width());
        }
    }
    for pocket in &layout.pockets {
        let half = upright(pocket.cut).map_or(0.0, ToolCut::half_width);
        for corners in pocket.outline.windows(2).take(16) {
            if let [from, to] = corners
                && (from.v - to.v).abs() < 1e-9
                && half > 0.0
            {
                both(from.v, 0.0);
            }
        }
    }
    places.sort_by(f64::total_cmp);
    places.dedup_by(|next, before| *next - *before < 1e-6);
    places
}

/// The way of the tool, cut by cut, right round the band.
fn ways(outside: &StripOutside, cuts: &[ToolCut], layout: &Layout) -> Vec<Way> {
    let spans = f64::from(layout.spans);
    let way = |cut: &ToolCut| Way {
        depth: cut.deepest(),
        clearing: Some(0.0),
        ..Way::default()
    };
    let mut ways: Vec<Way> = cuts.iter().map(way).collect();
    for stroke in &layout.strokes {
        let Some(way) = ways.get_mut(stroke.cut) else {
            continue;
        };
        way.length += stroke.length(outside.left(), outside.right()) * spans;
        way.plunges += if stroke.round {
            1
        } else {
            u64::from(layout.spans)
        };
    }
    for facet in &layout.facets {
        let Some(way) = ways.get_mut(facet.cut) else {
            continue;
        };
        way.plunges += u64::from(layout.spans);
    }
    for pocket in &layout.pockets {
        let Some(way) = ways.get_mut(pocket.cut) else {
            continue;
        };
        way.plunges += pocket.loops.len() as u64 * u64::from(layout.spans);
        way.clearing = way
            .clearing
            .zip(pocket.clearing)
            .map(|(so_far, more)| so_far + more * spans);
    }
    ways
}
