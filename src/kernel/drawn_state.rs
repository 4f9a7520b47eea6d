//! Drawn cuts on the band that carries them: its outside in the state of the cut, and the metal left under them.
//!
//! Walls are taken in the finished state: a stretch brings any two places of a section closer, so that the wall as cut
//! is never the lesser of the two.

use super::input::Input;
use super::join::{Carried, Pair, as_cut, carried};
use super::pattern::{self, Least, ToolCut};
use super::section::curve::{Pieces, Point};
use super::section::{Body, Curves, Underside, over_bore, slices};

/// The state that a band is cut in: finished, or before a stretch.
struct State {
    radius: f64,
    stretch: Option<(Pair, Carried)>,
}

impl State {
    fn of(input: &Input) -> Self {
        Self {
            radius: input.shape.radius,
            stretch: as_cut(input),
        }
    }

    /// The radius as cut of a finished height over the smallest bore.
    fn radius(&self, height: f64) -> f64 {
        match &self.stretch {
            Some((done, state)) => state.carried(done, self.radius + height),
            None => self.radius + height,
        }
    }

    /// What finished widths are multiplied by.
    fn across(&self) -> f64 {
        self.stretch.map_or(1.0, |(_, state)| state.across)
    }

    /// The finished place, over the smallest bore, of a place as cut.
    fn finished(&self, x: f64, radius: f64) -> Point {
        let Some((done, state)) = &self.stretch else {
            return Point {
                x,
                y: radius - self.radius,
            };
        };
        let forward = Carried {
            pair: *done,
            lambda: 1.0 / state.lambda,
            across: 1.0 / state.across,
        };
        Point {
            x: x / state.across,
            y: forward.carried(&state.pair, radius) - self.radius,
        }
    }
}

/// The outside as it is when cut; `None` where it has no width.
#[must_use]
pub fn outside_as_cut(input: &Input) -> Option<pattern::StripOutside> {
    let state = State::of(input);
    outside(input, &state)
}

/// The finished outside; `None` where it has no width.
#[must_use]
pub fn outside_finished(input: &Input) -> Option<pattern::StripOutside> {
    let state = State {
        radius: input.shape.radius,
        stretch: None,
    };
    outside(input, &state)
}

fn outside(input: &Input, state: &State) -> Option<pattern::StripOutside> {
    let shape = &input.shape;
    let curve = shape.eased(&shape.outside_curve(), shape.ease_outer, -1.0);
    let place = |point: Point| Point {
        x: point.x * state.across(),
        y: state.radius(point.y),
    };
    let moved: Pieces = match state.stretch {
        Some(_) => carried(&curve, place),
        None => curve
            .iter()
            .map(|piece| piece.lifted(shape.radius))
            .collect(),
    };
    let pieces: Vec<pattern::StripPiece> = moved
        .iter()
        .map(|piece| pattern::StripPiece {
            from: (piece.from.x, piece.from.y),
            to: (piece.to.x, piece.to.y),
            radius: piece.radius,
        })
        .collect();
    pattern::StripOutside::of(&pieces)
}

/// The section of the part that is cut, as it is then, uncut; mm2.
#[must_use]
pub fn section_as_cut(input: &Input) -> f64 {
    let state = State::of(input);
    let body = match input.shape.hollow {
        Some(_) => Body::Shell,
        None => Body::Solid,
    };
    let slices = slices(&Curves::of(&input.shape), body, 0.0);
    let parts = slices.iter().map(|slice| {
        slice.width * state.across() * (state.radius(slice.to) - state.radius(slice.from))
    });
    parts.sum()
}

/// The least metal under the cuts, in the finished state; its place as cut. None where nothing is cut.
#[must_use]
pub fn under_cuts(input: &Input) -> Option<Least> {
    let drawn = input.drawn.as_ref()?;
    let state = State::of(input);
    let outside = outside(input, &state)?;
    let cuts: &[ToolCut] = &drawn.cuts;
    let layout = pattern::lay(&outside, cuts, drawn.repeats.on(outside.length()));
    let underside = Underside::of(&input.shape);
    let inside = input.shape.inside_curve();
    pattern::least_wall(&outside, cuts, &layout, |x, radius| {
        let place = state.finished(x, radius);
        match &underside {
            Some(underside) => underside.under_place(place),
            None => over_bore(&inside, place),
        }
    })
}
