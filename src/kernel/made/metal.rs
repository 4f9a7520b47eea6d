//! The weight of the ring that parts come to: that of the ring worked back, and what the parts differ by.
//!
//! A stretch keeps the metal, so that all is reckoned on the parts as machined: rings of revolution, an outside that
//! is higher all over by what it was measured to be, a part that is wider by what its face is high.

use std::f64::consts::PI;

use crate::kernel::join::Joined;
use crate::kernel::section::curve::{Piece, Point, clipped, height};
use crate::kernel::section::{Catch, Underside};
use crate::kernel::{Figures, Input};

use super::opened::OpenedParts;
use super::parts::TwoParts;
use super::turned::Turned;

/// Weight of the finished ring, g.
pub(super) fn weight(
    input: &Input,
    figures: &Figures,
    joined: &Joined,
    opened: &OpenedParts,
) -> f64 {
    let planned = TwoParts::planned(input, joined);
    let parts = &opened.parts;
    let shell = shell(input, joined, parts) - shell(input, joined, &planned);
    let sleeve = sleeve(input, figures, joined, parts) - sleeve(input, figures, joined, &planned);
    let cut = OpenedParts::of(input, joined, planned).map_or(0.0, |planned| {
        cut(input, joined, opened) - cut(input, joined, &planned)
    });
    figures.weight + (shell - cut) * input.shell_density + sleeve * input.sleeve_density
}

/// Volume of a shell as made.
fn shell(input: &Input, joined: &Joined, parts: &TwoParts) -> f64 {
    let shape = &input.shape;
    let back = &joined.shell_back;
    let across = back.1.across;
    let planned = TwoParts::planned(input, joined).shell;
    let is = &parts.shell;
    let half = planned.width / 2.0;
    let wider = (is.width - planned.width) / 2.0;
    let higher = (is.outside - planned.outside) / 2.0;
    let plain = shape.outside_curve();
    let eased = shape.eased(&plain, shape.ease_outer, -1.0);
    let outside = Turned::new(input, &plain, back);
    let raised = |_: f64, radius: f64| radius + higher;
    let square = Turned::new(input, &eased, back).square(-half, half, raised)
        + outside.square(-half - wider, half + wider, raised)
        - outside.square(-half, half, raised);
    let foot = is.bore / 2.0;
    let mut section = square - is.width * foot * foot;
    if let Some((low, high, roof)) = channel(input, joined, parts) {
        section -= roof - (high - low) * foot * foot;
    }
    if let (Some(lip), Some(Catch::Lip { wide, .. })) =
        (is.lip, shape.hollow.map(|hollow| hollow.catch))
    {
        section += 2.0 * wide * across * (foot * foot - lip * lip / 4.0);
    }
    PI * section
}

/// Where the channel of a shell as made begins and ends, and the integral of its roof's square between.
fn channel(input: &Input, joined: &Joined, parts: &TwoParts) -> Option<(f64, f64, f64)> {
    let underside = Underside::of(&input.shape)?;
    let curve = underside.roof.as_ref()?;
    let back = &joined.shell_back;
    let across = back.1.across;
    let planned = TwoParts::planned(input, joined).shell;
    let foot = parts.shell.bore / 2.0;
    let deeper = (parts.shell.channel? - planned.channel?) / 2.0;
    let wider = (parts.shell.channel_width? - planned.channel_width?) / 2.0;
    let (left, right) = underside.between;
    // Corners that a nose rounds move with the walls: what is between them is as high as where they begin.
    let nose = input.shape.hollow.map_or(0.0, |hollow| hollow.nose);
    let level = clipped(curve, left + nose, right - nose);
    let (left, right) = (left * across, right * across);
    let (low, high) = (left - wider, right + wider);
    let moved = |_: f64, radius: f64| (radius + deeper).max(foot);
    let roof = Turned::new(input, curve, back);
    let level = Turned::new(input, if level.is_empty() { curve } else { &level }, back);
    let square = roof.square(left, right, moved) + level.square(low, high, moved)
        - level.square(left, right, moved);
    Some((low, high, square))
}

/// Volume of a sleeve as made; turned down under its ridges too, which is the same before and after.
fn sleeve(input: &Input, figures: &Figures, joined: &Joined, parts: &TwoParts) -> f64 {
    let shape = &input.shape;
    let back = &joined.sleeve_back;
    let across = back.1.across;
    let planned = TwoParts::planned(input, joined).sleeve;
    let is = &parts.sleeve;
    let (half, wide) = (planned.width / 2.0, is.width / 2.0);
    let (bore, edge) = (planned.bore / 2.0, planned.edge_bore / 2.0);
    let opening = (is.edge_bore - is.bore) / 2.0;
    // The bore's curve keeps its form, as deep as measured; where none is ordered it is an arc.
    let end = |x: f64| Point { x, y: opening };
    let arc = Piece::arch(end(-half), end(half), -opening);
    let opened = |x: f64, radius: f64| {
        let open = if edge > bore {
            opening * (radius - bore) / (edge - bore)
        } else {
            arc.height(x.clamp(-half, half))
        };
        is.bore / 2.0 + open
    };
    let plain = shape.inside_curve();
    let eased = shape.eased(&plain, shape.ease_bore, 1.0);
    let inside = Turned::new(input, &plain, back);
    let chamfered = Turned::new(input, &eased, back);
    let inner = chamfered.square(-half, half, |x, radius| {
        opened(x, inside.at(x)) + radius - inside.at(x)
    }) + inside.square(-wide, wide, opened)
        - inside.square(-half, half, opened);
    let floor = is.floor / 2.0;
    let mut section = is.width * floor * floor - inner;
    if let Some(parts) = figures.hollow.map(|hollow| hollow.parts) {
        let square = |top: f64, floor: f64| top * top - floor * floor;
        if let (Some(is_top), Some(top)) = (is.ridge_top, planned.ridge_top) {
            let whole = square(top, planned.floor);
            let ridges = if whole > 0.0 {
                parts.ridge / PI / whole
            } else {
                0.0
            };
            section += ridges * square(is_top, is.floor);
        }
        // What is turned down moves with the outside: a ring of the one height less, over its whole width.
        if let Some(wall) = shape.hollow.and_then(|hollow| hollow.relief) {
            let (left, right) = underside_between(input);
            let lower = Turned::new(input, &plain, back);
            let moved = (is.floor - planned.floor) / 2.0;
            let turned = lower.square(left * across, right * across, |x, _| {
                let (done, state) = back;
                let down = shape.radius + height(&plain, x / state.across) + wall;
                state.carried(done, down).min(planned.floor / 2.0) + moved
            });
            section -= (right - left) * across * floor * floor - turned;
        }
    }
    PI * section
}

fn underside_between(input: &Input) -> (f64, f64) {
    Underside::of(&input.shape).map_or((0.0, 0.0), |underside| underside.between)
}

/// Volume that the pattern takes off a shell as made, in the state of the cut.
fn cut(input: &Input, joined: &Joined, opened: &OpenedParts) -> f64 {
    let Some(cut) = input.shape.cut else {
        return 0.0;
    };
    let planned = TwoParts::planned(input, joined).shell;
    let is = &opened.parts.shell;
    let higher = (is.outside - planned.outside) / 2.0;
    let half = planned.width / 2.0;
    let wider = (is.width - planned.width) / 2.0;
    let plain = input.shape.outside_curve();
    let eased = input.shape.eased(&plain, input.shape.ease_outer, -1.0);
    let (pair, state) = &opened.shell;
    let mean = cut.mean_depth;
    let depth = |radius: f64| {
        let top = radius + higher;
        let top = if input.stretch.cut_before {
            top
        } else {
            state.carried(pair, top)
        };
        // The root of what it takes off, since squares are summed.
        (top * top - (top - mean) * (top - mean)).sqrt()
    };
    let of = |_: f64, radius: f64| depth(radius);
    let outside = Turned::new(input, &plain, &joined.shell_back);
    let whole = Turned::new(input, &eased, &joined.shell_back).square(-half, half, of)
        + outside.square(-half - wider, half + wider, of)
        - outside.square(-half, half, of);
    let across = if input.stretch.cut_before {
        1.0
    } else {
        state.across
    };
    cut.cover * PI * whole * across
}
