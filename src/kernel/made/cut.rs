//! How deep the pattern may go on a shell as made: over its channel, and down to its feet.

use crate::kernel::Input;
use crate::kernel::join::{Joined, carried, root};
use crate::kernel::section::Underside;
use crate::kernel::section::curve::{Piece, Pieces, Point, clipped, height};

use super::opened::OpenedParts;
use super::parts::TwoParts;

/// What is left under the cut, and the deepest cut; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Under {
    /// Thinnest metal under the cut as ordered; negative where it comes through.
    pub wall: f64,
    /// Deepest cut that leaves the least wall; 0 where none does.
    pub deepest: f64,
}

impl Under {
    /// The deepest cut in whole micrometres; none where no cut leaves the least wall.
    pub(super) fn in_micrometres(&self) -> Option<f64> {
        (self.deepest > 0.0).then(|| (self.deepest * 1e3).floor() / 1e3)
    }
}

/// Judged in the finished ring, where walls are thinnest: see [`crate::kernel::join::Early`].
pub(super) fn under(input: &Input, joined: &Joined, opened: &OpenedParts) -> Under {
    let Some(drawn) = CutShell::of(input, joined, opened) else {
        return Under {
            wall: 0.0,
            deepest: 0.0,
        };
    };
    let least = input.stretch.walls.under_cut;
    let over = |depth: f64| drawn.under(depth) - least;
    let most = drawn.most();
    let depth = input.shape.cut.map_or(0.0, |cut| cut.depth);
    Under {
        wall: drawn.under(depth),
        deepest: if over(0.0) <= 0.0 {
            0.0
        } else {
            root(over, 0.0, most).unwrap_or(most)
        },
    }
}

/// The shell as made, in the finished ring.
struct CutShell<'a> {
    input: &'a Input,
    joined: &'a Joined,
    opened: &'a OpenedParts,
    underside: Underside,
}

impl<'a> CutShell<'a> {
    fn of(input: &'a Input, joined: &'a Joined, opened: &'a OpenedParts) -> Option<Self> {
        let mut underside = Underside::of(&input.shape)?;
        let planned = TwoParts::planned(input, joined).shell;
        let is = &opened.parts.shell;
        let (pair, state) = &opened.shell;
        let drawn = |curve: &Pieces, higher: f64, wider: f64| {
            let place = |point: Point| place(input, joined, opened, point, higher, 0.0);
            stretched(carried(curve, place), wider * state.across)
        };
        if let (Some(roof), Some(channel), Some(width)) =
            (&underside.roof, is.channel, is.channel_width)
        {
            let deeper = (channel - planned.channel?) / 2.0;
            let wider = (width - planned.channel_width?) / 2.0;
            let roof = drawn(roof, deeper, wider);
            underside.between = (roof.first()?.from.x, roof.last()?.to.x);
            underside.roof = Some(roof);
        }
        underside.half = is.width / 2.0 * state.across - input.stretch.layers.on()[2];
        underside.foot = state.carried(pair, is.bore / 2.0) - input.shape.radius;
        // A wall as measured is no longer the one ordered.
        underside.reach = (is.outside - is.bore).max(0.0);
        underside.near = underside.reach;
        Some(Self {
            input,
            joined,
            opened,
            underside,
        })
    }

    /// The cut surface in the finished ring.
    fn surface(&self, depth: f64) -> Pieces {
        let Self { input, joined, .. } = self;
        let planned = TwoParts::planned(input, joined).shell;
        let is = &self.opened.parts.shell;
        let higher = (is.outside - planned.outside) / 2.0;
        let wider = (is.width - planned.width) / 2.0 * self.opened.shell.1.across;
        let place = |point: Point| place(input, joined, self.opened, point, higher, depth);
        stretched(carried(&input.shape.outside_curve(), place), wider)
    }

    fn under(&self, depth: f64) -> f64 {
        let surface = self.surface(depth);
        let under = self.underside.under(&surface).thickness;
        let over = self.over_roof(&surface);
        if over < 0.0 { over.min(under) } else { under }
    }

    /// Least height of a surface over the roof, at its ends and corners and between; negative where the cut comes
    /// through, of which a distance says nothing.
    fn over_roof(&self, surface: &Pieces) -> f64 {
        const PLACES: u32 = 64;
        let Some(roof) = &self.underside.roof else {
            return f64::INFINITY;
        };
        let (left, right) = self.underside.between;
        let corners = surface.iter().chain(roof);
        let corners = corners.flat_map(|piece| [piece.from.x, piece.to.x]);
        let even =
            (0..=PLACES).map(|part| left + (right - left) * f64::from(part) / f64::from(PLACES));
        corners
            .chain(even)
            .filter(|x| *x >= left && *x <= right)
            .map(|x| height(surface, x) - height(roof, x))
            .fold(f64::INFINITY, f64::min)
    }

    /// A depth at which the cut comes through somewhere.
    fn most(&self) -> f64 {
        const PLACES: u32 = 64;
        let surface = self.surface(0.0);
        let (left, right) = self.underside.between;
        let gap = |part: u32| {
            let x = self.underside.half * (2.0 * f64::from(part) / f64::from(PLACES) - 1.0);
            let below = match &self.underside.roof {
                Some(roof) if x > left && x < right => height(roof, x).max(self.underside.foot),
                _ => self.underside.foot,
            };
            height(&surface, x) - below
        };
        (0..=PLACES).map(gap).fold(f64::INFINITY, f64::min).max(0.0)
    }
}

/// Where a place of the ring worked back lies in the ring made, raised on the part by `higher` and cut by `depth`.
fn place(
    input: &Input,
    joined: &Joined,
    opened: &OpenedParts,
    point: Point,
    higher: f64,
    depth: f64,
) -> Point {
    let ((done, back), (pair, state)) = (&joined.shell_back, &opened.shell);
    let radius = input.shape.radius;
    let on_part = back.carried(done, radius + point.y) + higher;
    let y = if input.stretch.cut_before {
        state.carried(pair, on_part - depth)
    } else {
        state.carried(pair, on_part) - depth
    };
    Point {
        x: point.x * back.across * state.across,
        y: y - radius,
    }
}

/// A curve made wider by `wider` on each side, level there, or cut off.
pub(super) fn stretched(curve: Pieces, wider: f64) -> Pieces {
    let (Some(first), Some(last)) = (curve.first(), curve.last()) else {
        return curve;
    };
    let (from, to) = (first.from, last.to);
    if wider < 0.0 {
        return clipped(&curve, from.x - wider, to.x + wider);
    }
    if wider == 0.0 {
        return curve;
    }
    let level = |from: Point, by: f64| Point {
        x: from.x + by,
        y: from.y,
    };
    let mut whole = Pieces::new();
    whole.push(Piece::line(level(from, -wider), from));
    whole.extend(curve.iter().copied());
    whole.push(Piece::line(to, level(to, wider)));
    whole
}
