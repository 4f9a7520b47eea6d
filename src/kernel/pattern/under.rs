//! How thin is the wall under a cut, and how deep is the deepest cut, found without a grid?
//!
//! The metal inside is round, so that the point of a tool nearest to it, or deepest, lies in the tool's own plane through
//! the finger axis: a search along the tool's axial place and along its profile, no more. Whatever `value` of a place
//! `(x, r)` is asked for must not fall as `r` grows: a distance to a bore or cavity below, or minus the depth.

use super::cuts::ToolCut;
use super::cutter::CutterForm;
use super::laid::Layout;
use super::outside::StripOutside;
use super::search::lowest;

/// The least value under a cut, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Least {
    /// The value: a wall, mm.
    pub value: f64,
    /// Where along the strip, on the largest outside, in the first repeat that has it, mm.
    pub u: f64,
    /// Where on the axis, mm.
    pub v: f64,
    /// The cut it lies under, by its place among them.
    pub cut: usize,
}

/// Steps of the first search along a tool's way, mm.
const ALONG: f64 = 0.05;
/// Places of the first search across a tool.
const ACROSS: u32 = 16;

/// The least wall under any cut: `distance` gives the shortest distance from a place `(x, r)` in the metal to bore or
/// cavity, mm. None where nothing is cut.
///
/// # Example
/// ```
/// use annulet::kernel::pattern::{ToolCut, CutterForm, StripOutside, RingPlace, CutShape, lay, least_wall};
/// let outside = StripOutside::flat(10.0, 6.0).unwrap();
/// let ring = CutShape::Ring { place: RingPlace::At(1.0), both: false };
/// let cuts = [ToolCut::new(ring, CutterForm::Ball { radius: 0.3 }, 0.2)];
/// let least = least_wall(&outside, &cuts, &lay(&outside, &cuts, 6), |_, r| r - 9.0).unwrap();
/// assert!((least.value - 0.8).abs() < 1e-6 && (least.v - 1.0).abs() < 1e-3);
/// ```
#[must_use]
pub fn least_wall(
    outside: &StripOutside,
    cuts: &[ToolCut],
    layout: &Layout,
    distance: impl Fn(f64, f64) -> f64,
) -> Option<Least> {
    least(outside, cuts, layout, &distance)
}

/// The greatest radial depth under the outside, mm.
#[must_use]
pub fn deepest(outside: &StripOutside, cuts: &[ToolCut], layout: &Layout) -> f64 {
    least(outside, cuts, layout, &|x, r| r - outside.radius(x))
        .map_or(0.0, |least| (-least.value).max(0.0))
}

/// A straight stretch of a tool's way: axial place, place along and depth at both ends.
#[derive(Clone, Copy)]
struct Stretch {
    cut: usize,
    cutter: CutterForm,
    v: (f64, f64),
    depth: (f64, f64),
}

fn least(
    outside: &StripOutside,
    cuts: &[ToolCut],
    layout: &Layout,
    value: &dyn Fn(f64, f64) -> f64,
) -> Option<Least> {
    let mut best: Option<Least> = None;
    let mut tool = 0.0;
    let mut consider = |found: Option<(Least, f64)>| {
        if let Some((found, at)) = found
            && best.is_none_or(|best| found.value < best.value)
        {
            (best, tool) = (Some(found), at);
        }
    };
    for stretch in stretches(cuts, layout) {
        consider(stretch.least(outside, value));
    }
    let mut seen = usize::MAX;
    for facet in &layout.facets {
        // Those of one cut differ only in their place along the strip.
        if seen == facet.cut {
            continue;
        }
        seen = facet.cut;
        let height = |x: f64| facet.radius - (x - facet.row) * facet.falls;
        let at = |x: f64| {
            Some(height(x))
                .filter(|r| *r < outside.radius(x))
                .map_or(f64::INFINITY, |r| value(x, r))
        };
        let count = (outside.width() / ALONG).ceil().clamp(8.0, 2000.0) as u32;
        let (x, value) = lowest(
            outside.left(),
            outside.right(),
            count,
            outside.breaks(),
            &at,
        );
        consider(value.is_finite().then_some((
            Least {
                value,
                u: facet.u,
                v: x,
                cut: facet.cut,
            },
            x,
        )));
    }
    let mut best = best?;
    if let Some(u) = along(layout, best.cut, tool) {
        best.u = u;
    }
    best.u -= (best.u / layout.length).floor() * layout.length;
    Some(best)
}

/// Where along the strip the tool of a cut is at an axial place, the first time.
fn along(layout: &Layout, cut: usize, v: f64) -> Option<f64> {
    for stroke in layout.strokes.iter().filter(|stroke| stroke.cut == cut) {
        let mut last = stroke.from.at;
        for stop in stroke.stops(5e-4) {
            let (low, high) = (last.v.min(stop.at.v) - 1e-6, last.v.max(stop.at.v) + 1e-6);
            if v >= low && v <= high {
                let part = if high - low > 1e-5 {
                    (v - last.v) / (stop.at.v - last.v)
                } else {
                    0.0
                };
                return Some(last.u + (stop.at.u - last.u) * part);
            }
            last = stop.at;
        }
    }
    let pocket = layout.pockets.iter().find(|pocket| pocket.cut == cut)?;
    let (low, high) = pocket.span()?;
    // A tool that just fits in has a loop of no height.
    let row = pocket.row(v.min(high - 1e-6).max(low + 1e-6));
    row.first().map(|row| (row.0 + row.1) / 2.0)
}

/// The stretches of all tools' ways, those that differ only in their place along the strip once.
fn stretches(cuts: &[ToolCut], layout: &Layout) -> Vec<Stretch> {
    let mut all: Vec<Stretch> = Vec::new();
    for stroke in &layout.strokes {
        let Some(cut) = cuts.get(stroke.cut) else {
            continue;
        };
        let stops = stroke.stops(5e-4);
        let mut last = stroke.from;
        for to in stops.iter().skip(stops.len().min(2) - 1) {
            let (from, to, next) = if last.at.v <= to.at.v {
                (last, *to, *to)
            } else {
                (*to, last, *to)
            };
            all.push(Stretch {
                cut: stroke.cut,
                cutter: cut.cutter,
                v: (from.at.v, to.at.v),
                depth: (from.depth, to.depth),
            });
            last = next;
        }
    }
    for pocket in &layout.pockets {
        let (Some(cut), Some(span)) = (cuts.get(pocket.cut), pocket.span()) else {
            continue;
        };
        let depth = (pocket.depth, pocket.depth);
        all.push(Stretch {
            cut: pocket.cut,
            cutter: cut.cutter,
            v: span,
            depth,
        });
    }
    // Of an even depth, stretches of one cut that touch make one; those that lie within one are left out.
    let even = |stretch: &Stretch| stretch.depth.0 == stretch.depth.1;
    all.sort_by(|a, b| {
        (a.cut, !even(a))
            .cmp(&(b.cut, !even(b)))
            .then(a.depth.0.total_cmp(&b.depth.0))
            .then(a.v.0.total_cmp(&b.v.0))
    });
    let mut kept: Vec<Stretch> = Vec::new();
    for stretch in all {
        let same = |other: &&mut Stretch| {
            other.cut == stretch.cut
                && even(other)
                && even(&stretch)
                && other.depth == stretch.depth
        };
        match kept.last_mut().filter(same) {
            Some(before) if stretch.v.1 <= before.v.1 => {}
            Some(before) if stretch.v.0 < before.v.1 + 1e-9 => before.v.1 = stretch.v.1,
            _ => kept.push(stretch),
        }
    }
    kept
}

impl Stretch {
    fn least(
        &self,
        outside: &StripOutside,
        value: &dyn Fn(f64, f64) -> f64,
    ) -> Option<(Least, f64)> {
        let mix = |ends: (f64, f64), part: f64| ends.0 + (ends.1 - ends.0) * part;
        let tip = |part: f64| {
            let v = mix(self.v, part);
            (v, outside.radius(v) - mix(self.depth, part))
        };
        let at = |part: f64| {
            let (v, tip) = tip(part);
            self.below(outside, v, tip, value)
        };
        let count = ((self.v.1 - self.v.0) / ALONG).ceil().clamp(1.0, 2000.0) as u32;
        let wide = self.v.1 - self.v.0;
        let (mut part, mut found) = (0.0, at(0.0));
        if wide > 0.0 || self.depth.0 != self.depth.1 {
            let inner = outside
                .breaks()
                .iter()
                .map(|x| (x - self.v.0) / wide.max(1e-12));
            let kinks: Vec<f64> = inner.filter(|part| (0.0..=1.0).contains(part)).collect();
            let (best, _) = lowest(0.0, 1.0, count.max(2), &kinks, &|part| at(part).1);
            let better = at(best);
            if better.1 < found.1 {
                (part, found) = (best, better);
            }
        }
        let (v, value) = found;
        value.is_finite().then(|| {
            (
                Least {
                    value,
                    u: 0.0,
                    v,
                    cut: self.cut,
                },
                tip(part).0,
            )
        })
    }

    /// The least value on the tool at an axial place, of what of it is in the metal: where, and how much.
    fn below(
        &self,
        outside: &StripOutside,
        x: f64,
        tip: f64,
        value: &dyn Fn(f64, f64) -> f64,
    ) -> (f64, f64) {
        let reach = self.cutter.reach(outside.largest() - tip);
        let (left, right) = (
            (x - reach).max(outside.left()),
            (x + reach).min(outside.right()),
        );
        if left > right {
            return (x, f64::INFINITY);
        }
        let at = |place: f64| {
            let height = self
                .cutter
                .profile((place - x).abs().min(reach))
                .map_or(f64::INFINITY, |high| tip + high);
            if height < outside.radius(place) {
                value(place, height)
            } else {
                f64::INFINITY
            }
        };
        lowest(left, right, ACROSS, &[x], &at)
    }
}
