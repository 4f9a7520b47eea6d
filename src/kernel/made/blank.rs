//! A solid blank as it came off the machine, stretched to the ordered size: what band it comes to.
//!
//! What is not measured is as worked back; a thickness stands for the diameter that is not measured.

use std::f64::consts::PI;

use crate::kernel::join::{Carried, Pair, ROUNDING, before, carried, root, stretch};
use crate::kernel::section::curve::{Pieces, Point};
use crate::kernel::section::{Wall, thinnest};
use crate::kernel::{Figures, Input};

use super::clash::Clash;
use super::cut::{Under, stretched};
use super::measured::Measured;
use super::turned::Turned;

/// What diameters and a thickness may be apart by, mm (common practice, no source).
const AGREE: f64 = 0.02;

/// What a blank comes to; diameters in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blank {
    /// Bore of the band when it is done: the ordered one.
    pub bore: f64,
    /// Largest outside of the band.
    pub outside: f64,
    /// Width of the band.
    pub width: f64,
    /// Stretch of the bore until then, of one.
    pub strain: f64,
    /// Opening of the mandrel under load.
    pub mandrel: Option<f64>,
    /// Weight of the finished band, g.
    pub weight: f64,
    /// What is left under the cut as ordered, and the deepest cut that leaves the least wall.
    pub under: Under,
}

/// A blank when it is stretched, with metal that is taken off last, as measured or as worked back; diameters and width, mm.
#[derive(Clone, Copy)]
struct Sizes {
    bore: f64,
    outside: f64,
    width: f64,
}

/// A blank and the one worked back.
struct Blanks<'a> {
    input: &'a Input,
    /// The finished band's surfaces, and it before the stretch, told from there.
    back: (Pair, Carried),
    planned: Sizes,
    is: Sizes,
    /// The blank's surfaces, and it when done.
    done: (Pair, Carried),
}

impl<'a> Blanks<'a> {
    fn of(input: &'a Input, measured: &Measured) -> Option<Self> {
        let kinematics = input.stretch.kinematics;
        let back = before(input, kinematics)?;
        let planned = Sizes {
            bore: 2.0 * back.1.pair.inner,
            outside: 2.0 * back.1.pair.outer,
            width: (input.shape.width + 2.0 * input.stretch.layers.on()[2]) * back.1.across,
        };
        let is = sizes(input, &planned, measured);
        let pair = Pair {
            inner: is.bore / 2.0,
            outer: is.outside / 2.0,
        };
        let state = pair.until(pair.inner, back.0.inner, kinematics)?;
        Some(Self {
            input,
            back,
            planned,
            is,
            done: (pair, state),
        })
    }

    fn higher(&self) -> f64 {
        (self.is.outside - self.planned.outside) / 2.0
    }

    /// A curve of the band worked back in that of this blank, raised on the blank by `higher` and cut by `depth`.
    fn drawn(&self, curve: &Pieces, higher: f64, depth: f64) -> Pieces {
        let radius = self.input.shape.radius;
        let ((done, back), (pair, state)) = (&self.back, &self.done);
        let early = self.input.stretch.cut_before;
        let moved = carried(curve, |point| {
            let on_blank = back.carried(done, radius + point.y) + higher;
            let y = if early {
                state.carried(pair, on_blank - depth)
            } else {
                state.carried(pair, on_blank) - depth
            };
            Point {
                x: point.x * back.across * state.across,
                y: y - radius,
            }
        });
        let wider = (self.is.width - self.planned.width) / 2.0;
        stretched(moved, wider * state.across)
    }

    /// Thinnest metal under a cut of a depth.
    fn under(&self, depth: f64) -> Wall {
        let shape = &self.input.shape;
        let outside = self.drawn(&shape.outside_curve(), self.higher(), depth);
        let deeper = (self.is.bore - self.planned.bore) / 2.0;
        let inside = self.drawn(&shape.inside_curve(), deeper, 0.0);
        thinnest(&outside, &inside)
    }

    /// Volume of a blank, and what the pattern takes off it in the state of the cut.
    fn volume(&self, is: &Sizes, done: &(Pair, Carried)) -> f64 {
        let shape = &self.input.shape;
        let half = self.planned.width / 2.0;
        let wide = is.width / 2.0;
        let higher = (is.outside - self.planned.outside) / 2.0;
        let deeper = (is.bore - self.planned.bore) / 2.0;
        let (outside, inside) = (shape.outside_curve(), shape.inside_curve());
        let eased = (
            shape.eased(&outside, shape.ease_outer, -1.0),
            shape.eased(&inside, shape.ease_bore, 1.0),
        );
        let square = |plain: &Pieces, eased: &Pieces, of: &dyn Fn(f64) -> f64| {
            let plain = Turned::new(self.input, plain, &self.back);
            let of = |_: f64, radius: f64| of(radius);
            Turned::new(self.input, eased, &self.back).square(-half, half, of)
                + plain.square(-wide, wide, of)
                - plain.square(-half, half, of)
        };
        let metal = square(&outside, &eased.0, &|radius| radius + higher)
            - square(&inside, &eased.1, &|radius| radius + deeper);
        let Some(cut) = shape.cut else {
            return PI * metal;
        };
        let (pair, state) = done;
        let early = self.input.stretch.cut_before;
        let taken = square(&outside, &eased.0, &|radius| {
            let on_blank = radius + higher;
            let top = if early {
                on_blank
            } else {
                state.carried(pair, on_blank)
            };
            (top * top - (top - cut.mean_depth) * (top - cut.mean_depth)).sqrt()
        });
        let across = if early { 1.0 } else { state.across };
        PI * (metal - cut.cover * taken * across)
    }
}

/// A blank as measured, without what comes off before the stretch.
fn sizes(input: &Input, planned: &Sizes, measured: &Measured) -> Sizes {
    let [inner, outer, faces] = input.stretch.layers.before();
    let bore = measured.blank_bore.map(|bore| bore + 2.0 * inner);
    let outside = measured.blank_outside.map(|outside| outside - 2.0 * outer);
    let thick = measured
        .blank_thickness
        .map(|thickness| 2.0 * (thickness - inner - outer));
    let (bore, outside) = match (bore, outside, thick) {
        (None, Some(outside), Some(thick)) => (outside - thick, outside),
        (bore, outside, thick) => {
            let bore = bore.unwrap_or(planned.bore);
            let outside = outside.or(thick.map(|thick| bore + thick));
            (bore, outside.unwrap_or(planned.outside))
        }
    };
    Sizes {
        bore,
        outside,
        width: measured
            .blank_width
            .map_or(planned.width, |width| width - 2.0 * faces),
    }
}

/// What a measured blank comes to; `None` where nothing of one is measured, or it cannot be stretched.
#[must_use]
pub fn blank(input: &Input, figures: &Figures) -> Option<Blank> {
    if input.shape.hollow.is_some() {
        return None;
    }
    blank_of(input, figures, &input.stretch.made)
}

pub(super) fn blank_of(input: &Input, figures: &Figures, measured: &Measured) -> Option<Blank> {
    if !measured.has_blank() {
        return None;
    }
    let blanks = Blanks::of(input, measured)?;
    let ordered = Blanks::of(input, &Measured::default())?;
    let (pair, state) = &blanks.done;
    let more = blanks.volume(&blanks.is, &blanks.done) - ordered.volume(&ordered.is, &ordered.done);
    let bore = 2.0 * input.shape.radius;
    let [_, outer, faces] = input.stretch.layers.on();
    let least = input.stretch.walls.anywhere;
    let over = |depth: f64| blanks.under(depth).thickness - least;
    let spring = input.stretch.whole.spring(libm::log(state.lambda));
    let most = blanks.under(0.0).thickness;
    Some(Blank {
        bore,
        outside: 2.0 * (state.pair.outer - outer),
        width: blanks.is.width * state.across - 2.0 * faces,
        strain: stretch(state.pair.inner, pair.inner),
        mandrel: spring
            .filter(|_| state.lambda > 1.0 + 1e-12)
            .map(|spring| 2.0 * state.pair.inner * (1.0 + spring)),
        weight: figures.weight + more * input.density,
        under: Under {
            wall: over(input.shape.cut.map_or(0.0, |cut| cut.depth)) + least,
            deepest: if over(0.0) <= 0.0 {
                0.0
            } else {
                root(over, 0.0, most).unwrap_or(most)
            },
        },
    })
}

/// What contradicts itself in a blank.
pub(super) fn clash(input: &Input, measured: &Measured) -> Option<Clash> {
    let measured_all = (
        measured.blank_bore,
        measured.blank_outside,
        measured.blank_thickness,
    );
    if let (Some(bore), Some(outside), Some(thickness)) = measured_all
        && (outside - bore - 2.0 * thickness).abs() > 2.0 * AGREE + ROUNDING
    {
        return Some(Clash::BlankThickness {
            bore,
            outside,
            thickness,
        });
    }
    let Some(blanks) = Blanks::of(input, measured) else {
        return Some(Clash::BlankNoStretch);
    };
    let Sizes { bore, outside, .. } = blanks.is;
    if bore >= outside - ROUNDING || blanks.under(0.0).thickness <= ROUNDING {
        return Some(Clash::BlankGone { bore, outside });
    }
    let size = 2.0 * blanks.back.0.inner;
    (bore > size + ROUNDING).then_some(Clash::BlankLarger { bore, size })
}
