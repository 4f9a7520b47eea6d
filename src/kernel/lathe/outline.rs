//! Closed outlines of a part's section, finished, as machined and at the stages of the enlarger: what is drawn of it.

use std::f64::consts::PI;

use crate::kernel::Input;
use crate::kernel::section::curve::{NODES, Piece, Point};
use crate::kernel::stretch::StretchFigures;

use super::image::{Image, LatheState, Part};
use super::surfaces::{SurfaceId, drawn};

/// One side of an outline: a line or an arc to a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutlineSide {
    /// Where it ends: along the axis from mid width, and the radius; mm.
    pub to: Point,
    /// Tangent of a quarter of the arc's angle, positive where it turns left; 0 for a line.
    pub bulge: f64,
}

/// The section of a part, once round: along its outside from the left face to the right one, and back inside.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionOutline {
    /// The part.
    pub part: Part,
    /// Where it begins.
    pub from: Point,
    /// Its sides; the last ends where it begins.
    pub sides: Vec<OutlineSide>,
}

impl SectionOutline {
    /// The volume of the ring that it sweeps, mm3.
    ///
    /// # Formula
    /// `pi * integral of r^2 dx` once round; of an arc with its half angle `a`, radius `p` and centre height `c` along
    /// its angle, by Gauss and Legendre's rule of eight points on each of four parts.
    #[must_use]
    pub fn swept(&self) -> f64 {
        let froms = std::iter::once(self.from).chain(self.sides.iter().map(|side| side.to));
        let sides = froms.zip(&self.sides);
        sides
            .map(|(from, side)| beneath(from, side))
            .sum::<f64>()
            .abs()
    }
}

/// Twice the axis' share of a side: `pi * integral of r^2 dx` along it.
fn beneath(from: Point, side: &OutlineSide) -> f64 {
    const PARTS: u32 = 4;
    let (to, bulge) = (side.to, side.bulge);
    let straight = PI * (to.x - from.x) * (from.y * from.y + from.y * to.y + to.y * to.y) / 3.0;
    if bulge == 0.0 {
        return straight;
    }
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let off = (1.0 - bulge * bulge) / (4.0 * bulge);
    let centre = Point {
        x: (from.x + to.x) / 2.0 - off * dy,
        y: (from.y + to.y) / 2.0 + off * dx,
    };
    let (x, y) = (from.x - centre.x, from.y - centre.y);
    let radius = libm::hypot(x, y);
    let (first, sweep) = (libm::atan2(y, x), 4.0 * libm::atan(bulge));
    let mut sum = 0.0;
    for part in 0..PARTS {
        for (node, weight) in NODES {
            for node in [node, -node] {
                let share = (f64::from(part) + (1.0 + node) / 2.0) / f64::from(PARTS);
                let angle = first + sweep * share;
                let height = centre.y + radius * libm::sin(angle);
                let along = -radius * libm::sin(angle) * sweep / f64::from(PARTS);
                sum += PI * height * height * along * weight / 2.0;
            }
        }
    }
    sum
}

/// When a section is looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Moment {
    /// Off the machine, or in the finished ring.
    On(LatheState),
    /// Put together, before anything is opened.
    Together,
    /// Opened until the sleeve's bore is this wide after release, mm; the shell is as machined.
    Opened(f64),
    /// Opened to the end, metal that is taken off last still on.
    Done,
}

/// The outline of a part's section; `None` where the band has no such part.
///
/// # Formula
/// The finished part is drawn by its own lines and arcs, any other state by arcs through points of the true curve, whose
/// departure is far below a nanometre.
#[must_use]
pub fn outline(
    input: &Input,
    stretch: &StretchFigures,
    part: Part,
    moment: Moment,
) -> Option<SectionOutline> {
    let image = image(input, stretch, part, moment)?;
    let surfaces = drawn(&input.shape, part, &image)?;
    let (outer, inner) = (surfaces.first()?, surfaces.get(1)?);
    let mut walk = Walk::default();
    for piece in outer.runs.iter().flatten() {
        walk.to(piece.from, 0.0);
        walk.to(piece.to, -piece.bulged());
    }
    for piece in inner.runs.iter().rev().flat_map(|run| run.iter().rev()) {
        walk.to(piece.to, 0.0);
        walk.to(piece.from, piece.bulged());
    }
    let (from, sides) = walk.closed()?;
    Some(SectionOutline { part, from, sides })
}

/// The outside of a part lowered by a depth of cut, from face to face; `None` where the band has no such part.
#[must_use]
pub fn lowered(
    input: &Input,
    stretch: &StretchFigures,
    part: Part,
    moment: Moment,
    depth: f64,
) -> Option<(Point, Vec<OutlineSide>)> {
    let image = image(input, stretch, part, moment)?;
    let surfaces = drawn(&input.shape, part, &image)?;
    let outer = surfaces.iter().find(|one| one.id == SurfaceId::Outside)?;
    let mut walk = Walk::default();
    let pieces = outer.runs.iter().flatten();
    for piece in pieces.map(|piece: &Piece| piece.lifted(-depth)) {
        walk.to(piece.from, 0.0);
        walk.to(piece.to, -piece.bulged());
    }
    Some((walk.from?, walk.sides))
}

fn image(input: &Input, stretch: &StretchFigures, part: Part, moment: Moment) -> Option<Image> {
    match moment {
        Moment::On(state) => Image::of(input, stretch, part, state),
        Moment::Together => Image::at_enlarger(input, stretch, part, None, false),
        Moment::Opened(bore) => Image::at_enlarger(input, stretch, part, Some(bore), false),
        Moment::Done => Image::at_enlarger(input, stretch, part, None, true),
    }
}

/// Shorter than this is no side, mm.
const HAIR: f64 = 1e-9;

#[derive(Default)]
struct Walk {
    from: Option<Point>,
    sides: Vec<OutlineSide>,
}

impl Walk {
    fn here(&self) -> Option<Point> {
        self.sides.last().map(|side| side.to).or(self.from)
    }

    fn to(&mut self, to: Point, bulge: f64) {
        match self.here() {
            None => self.from = Some(to),
            Some(here) if (here.x - to.x).abs() < HAIR && (here.y - to.y).abs() < HAIR => {}
            Some(_) => self.sides.push(OutlineSide { to, bulge }),
        }
    }

    /// Back to where it began.
    fn closed(mut self) -> Option<(Point, Vec<OutlineSide>)> {
        let from = self.from?;
        self.to(from, 0.0);
        if let Some(last) = self.sides.last_mut() {
            last.to = from;
        }
        Some((from, self.sides))
    }
}
