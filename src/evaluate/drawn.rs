//! Drawn cuts as the kernel takes them, and what they come to on a band: worked out once for each outside, cuts and
//! repeats, and kept for the bands that come next.

use std::cell::RefCell;
use std::f64::consts::PI;
use std::sync::Arc;

use crate::kernel::pattern::{
    Accuracy, CutShape, CutterForm, PathPoint, Relief, RingPlace, StripOutside, StripPlace,
    StrokeRun, ToolCut, Worked, work,
};
use crate::kernel::section::{Cut, impossible};
use crate::kernel::{Drawn, Input, OnBand, Repeats, outside_as_cut, section_as_cut};
use crate::model::{self, Band, BandCut, CutterKind, FieldValue, PathNode};
use crate::schema::FieldId;

/// The drawn cuts of a band; none where it has none.
pub(super) fn drawn(band: &Band) -> Option<Drawn> {
    if !band.is_drawn() {
        return None;
    }
    let stated = band.fields.count(FieldId::PatternRepeats);
    let motif = band.field(FieldId::PatternMotif).and_then(number);
    let multiple = band.fields.count(FieldId::PatternMultiple).unwrap_or(1);
    Some(Drawn {
        cuts: band.cuts.iter().map(|one| cut(band, one)).collect(),
        depths: band.cuts.iter().map(|one| depth_field(band, one)).collect(),
        repeats: match (stated, motif) {
            (Some(count), _) => Repeats::Stated(count),
            (None, Some(motif)) => Repeats::Motif(motif, multiple),
            // Rings alone stand outside any repeat.
            (None, None) => Repeats::Stated(1),
        },
        worked: None,
    })
}

fn number(field: &FieldValue) -> Option<f64> {
    Some(field.value.quantity()?.number.to_f64())
}

/// The field that states the depth of a cut.
fn depth_field(band: &Band, cut: &BandCut) -> Option<FieldId> {
    let field = cut.depth(&band.fields)?.field.id;
    (field == FieldId::PatternDepth || cut.own.is_none()).then_some(field)
}

fn cut(band: &Band, cut: &BandCut) -> ToolCut {
    let of = |id: FieldId| number(cut.value(&band.fields, id)?);
    let mm = |id: FieldId| of(id).unwrap_or(0.0);
    let angle = |id: FieldId| mm(id) * PI / 180.0;
    let count = |id: FieldId| of(id).map_or(1, |count| count as u32);
    let is_yes = |id: FieldId| {
        let value = cut.value(&band.fields, id).map(|field| &field.value);
        matches!(value, Some(model::Value::Word(word)) if word == "yes")
    };
    let shape = match cut.kind.block {
        FieldId::PatternFlutes => CutShape::Flutes {
            count: count(FieldId::PatternFlutesCount),
        },
        FieldId::PatternLines => CutShape::Lines {
            count: count(FieldId::PatternLinesCount),
            slant: angle(FieldId::PatternLinesSlant),
            both: is_yes(FieldId::PatternLinesBothWays),
        },
        FieldId::PatternWave => CutShape::Wave {
            rise: mm(FieldId::PatternWaveRise),
            at: mm(FieldId::PatternWaveAt),
            periods: of(FieldId::PatternWavePeriods).unwrap_or(1.0),
        },
        FieldId::PatternRing => CutShape::Ring {
            place: match of(FieldId::PatternRingFromEdge) {
                Some(edge) => RingPlace::FromEdge(edge),
                None => RingPlace::At(mm(FieldId::PatternRingAt)),
            },
            both: is_yes(FieldId::PatternRingBoth),
        },
        FieldId::PatternDots => CutShape::Dots {
            row: mm(FieldId::PatternDotsRow),
            count: count(FieldId::PatternDotsCount),
        },
        FieldId::PatternFacets => CutShape::Facets {
            row: mm(FieldId::PatternFacetsRow),
            tilt: angle(FieldId::PatternFacetsTilt),
            count: count(FieldId::PatternFacetsCount),
        },
        FieldId::PatternDrawing => drawing(band, cut, of(FieldId::PatternDrawingStepOver)),
        FieldId::PatternPath => CutShape::Path(cut.nodes.iter().map(node).collect()),
        _ => CutShape::Pocket {
            outline: cut.nodes.iter().map(node).collect(),
            step_over: of(FieldId::PatternPocketStepOver),
        },
    };
    let depth = cut.depth(&band.fields).and_then(number);
    let made = cut.cutter.as_ref().map(|made| cutter(made));
    ToolCut {
        whole: cut.kind.block == FieldId::PatternDrawing && fit(band, cut) == "strip",
        ramp_to: cut.ramp(&band.fields).and_then(number),
        ..ToolCut::new(
            shape,
            made.unwrap_or(CutterForm::Plane),
            depth.unwrap_or(0.0),
        )
    }
}

/// What the width of a drawing is stretched to.
fn fit<'a>(band: &'a Band, cut: &'a BandCut) -> &'a str {
    match cut
        .value(&band.fields, FieldId::PatternDrawingFit)
        .map(|field| &field.value)
    {
        Some(model::Value::Word(word)) => word,
        _ => "repeat",
    }
}

fn drawing(band: &Band, cut: &BandCut, step_over: Option<f64>) -> CutShape {
    let nodes = |lines: &[Vec<(f64, f64)>]| -> Vec<Vec<PathPoint>> {
        let point = |(u, v): &(f64, f64)| PathPoint {
            at: StripPlace { u: *u, v: *v },
            run: StrokeRun::Line,
        };
        lines
            .iter()
            .map(|line| line.iter().map(point).collect())
            .collect()
    };
    let part = cut.drawing.as_deref();
    CutShape::Drawing {
        lines: part.map_or_else(Vec::new, |part| nodes(&part.lines)),
        outlines: part.map_or_else(Vec::new, |part| nodes(&part.outlines)),
        wide: part
            .map(|part| part.wide)
            .filter(|_| fit(band, cut) != "none"),
        step_over,
    }
}

fn node(node: &PathNode) -> PathPoint {
    let place = |(u, v): (f64, f64)| StripPlace { u, v };
    PathPoint {
        at: place(node.at),
        run: node
            .by
            .map_or(StrokeRun::Line, |by| StrokeRun::Arc(place(by))),
    }
}

fn cutter(cutter: &model::Cutter) -> CutterForm {
    let of = |id: FieldId| cutter.values.number(id).unwrap_or(0.0);
    match cutter.kind {
        CutterKind::Vee => CutterForm::vee(
            of(FieldId::CutterAngle) * PI / 180.0,
            of(FieldId::CutterTip),
        ),
        CutterKind::Ball => CutterForm::Ball {
            radius: of(FieldId::CutterRadius),
        },
        CutterKind::Flat => CutterForm::Flat {
            half: of(FieldId::CutterWidth) / 2.0,
        },
        CutterKind::Facet => CutterForm::Plane,
    }
}

/// The input with what its drawn cuts come to; as it is where it has none, or where the band cannot be.
pub(super) fn worked_out(mut input: Input) -> Input {
    if input.drawn.is_none() || !impossible(&input.shape).is_empty() {
        return input;
    }
    // A shell that is opened with its sleeve grows by how much metal it holds, and so by what is cut of it: the state
    // that it is cut in is known to the last nanometre after the second time.
    let times = match (&input.shape.hollow, input.stretch.cut_before) {
        (Some(_), true) if input.stretch.past.is_some() => 2,
        _ => 1,
    };
    for _ in 0..times {
        let Some(on_band) = on_band(&input) else {
            return input;
        };
        let figures = &on_band.worked.figures;
        input.shape.cut = Some(Cut {
            depth: figures.deepest,
            mean_depth: figures.mean_depth,
            even: false,
            cover: figures.cover,
            drawn: true,
        });
        if let Some(drawn) = &mut input.drawn {
            drawn.worked = Some(on_band);
        }
    }
    input
}

fn on_band(input: &Input) -> Option<Arc<OnBand>> {
    let drawn = input.drawn.as_ref()?;
    let outside = outside_as_cut(input)?;
    let repeats = drawn.repeats.on(outside.length());
    let worked = kept(&outside, &drawn.cuts, repeats);
    let uncut = section_as_cut(input);
    Some(Arc::new(OnBand {
        section: worked.section(uncut),
        outside,
        repeats,
        uncut,
        worked,
    }))
}

/// What figures of drawn cuts follow from: nothing under the outside is among it.
struct Key {
    outside: StripOutside,
    cuts: Arc<[ToolCut]>,
    repeats: u32,
}

/// How many patterns are kept: those of a recipe's bands, of a try over one, and of its `±`.
const KEPT: usize = 32;

/// How many radial lines of a grid are kept room for.
const GRID: usize = 1_000_000;

/// Patterns that a thread has worked out, and their scratch.
#[derive(Default)]
struct Kept {
    /// The last used behind the others. A figure that is kept is the one that would be computed.
    all: Vec<(Key, Arc<Worked>)>,
    /// The grid, used again.
    grid: Relief,
    /// How often a pattern was worked out.
    times: u64,
}

thread_local! {
    static KEPT_HERE: RefCell<Kept> = RefCell::default();
}

/// How many patterns this thread has worked out since it began: what tells whether a what-if computed one again.
///
/// # Example
/// ```
/// use annulet::evaluate::patterns_worked;
/// assert_eq!(patterns_worked(), 0);
/// ```
#[must_use]
pub fn patterns_worked() -> u64 {
    KEPT_HERE.with_borrow(|kept| kept.times)
}

fn kept(outside: &StripOutside, cuts: &Arc<[ToolCut]>, repeats: u32) -> Arc<Worked> {
    KEPT_HERE.with_borrow_mut(|kept| {
        let is_it = |known: &Key| {
            known.repeats == repeats
                && known.outside == *outside
                && (Arc::ptr_eq(&known.cuts, cuts) || known.cuts == *cuts)
        };
        if let Some(place) = kept.all.iter().rposition(|(known, _)| is_it(known)) {
            let found = kept.all.remove(place);
            let worked = Arc::clone(&found.1);
            kept.all.push(found);
            return worked;
        }
        kept.times += 1;
        let worked = work(outside, cuts, repeats, Accuracy::default(), &mut kept.grid);
        let worked = Arc::new(worked);
        if kept.grid.cells() > GRID {
            kept.grid = Relief::default();
        }
        if kept.all.len() == KEPT {
            kept.all.remove(0);
        }
        let key = Key {
            outside: outside.clone(),
            cuts: Arc::clone(cuts),
            repeats,
        };
        kept.all.push((key, Arc::clone(&worked)));
        worked
    })
}
