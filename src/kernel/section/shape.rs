//! What a band's geometry is drawn from, as plain lengths in mm, and its outside and inside curves.

use std::sync::Arc;

use super::curve::{Piece, Pieces, Point, clipped, height};

/// A band, solid or hollow; lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// Half the smallest inside diameter.
    pub radius: f64,
    /// Axial width.
    pub width: f64,
    /// Greatest height of the outside over the smallest bore.
    pub thickness: f64,
    /// Radial opening of the bore at its edges.
    pub comfort: f64,
    /// Outside curve.
    pub outside: Outside,
    /// Legs of the chamfers on the outer edges.
    pub ease_outer: f64,
    /// Legs of the chamfers on the bore's edges.
    pub ease_bore: f64,
    /// The pattern.
    pub cut: Option<Cut>,
    /// The two-part build.
    pub hollow: Option<Hollow>,
}

/// The kind of outside curve; lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Outside {
    /// A cylinder.
    Flat,
    /// A circular arc through the edges and the crown.
    Domed {
        /// Radial thickness at the side faces.
        edge: f64,
    },
    /// A flat with straight chamfers.
    Bevelled {
        /// Axial leg.
        across: f64,
        /// Radial leg.
        down: f64,
    },
    /// Two straight flanks, tangent to a rounded crown.
    KnifeEdge {
        /// Radial thickness at the side faces.
        edge: f64,
        /// Radius of the crown; 0 is sharp.
        crown: f64,
    },
    /// An arc that dips at mid width.
    Concave {
        /// How far.
        dip: f64,
    },
    /// Points and arcs, heights from the smallest bore.
    Custom(Arc<[Piece]>),
}

/// What a pattern takes off, evenly over its cover; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Greatest radial depth.
    pub depth: f64,
    /// Mean radial depth over the covered part.
    pub mean_depth: f64,
    /// No mean depth is stated: it follows the depth.
    pub even: bool,
    /// Part of the outside that is cut, 0 to 1.
    pub cover: f64,
    /// It is what drawn cuts come to: its depth is found where they are, not anywhere.
    pub drawn: bool,
}

/// A shell over a sleeve; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hollow {
    /// Wall of the shell, normal to its surface.
    pub wall: f64,
    /// Roof of the cavity.
    pub roof: Roof,
    /// Radius of the cavity's inner corners.
    pub nose: f64,
    /// Thickness of the sleeve at mid width.
    pub sleeve: f64,
    /// Wall that the sleeve is turned down to between the feet.
    pub relief: Option<f64>,
    /// What catches the shell.
    pub catch: Catch,
    /// Running clearance on the diameter; 0 where the shell is seated.
    pub play: f64,
}

/// The roof of the cavity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Roof {
    /// Parallel to the outside.
    Uniform,
    /// The highest cylinder that keeps the wall.
    Straight,
    /// No cavity.
    Full,
}

/// What keeps shell and sleeve together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Catch {
    /// Nothing but grip.
    None,
    /// Raised rings on the sleeve.
    Ridge {
        /// Radial height.
        height: f64,
        /// Axial width.
        wide: f64,
        /// One at mid width, or two as far out as the roof allows.
        two: bool,
        /// Axial clearance of each of two.
        play: f64,
    },
    /// The shell's inward lips.
    Lip {
        /// Radial height.
        height: f64,
        /// Axial width of each.
        wide: f64,
        /// Axial clearance of the sleeve, in all.
        play: f64,
    },
}

impl Hollow {
    /// Height of the shell's feet over the smallest bore: on the sleeve, or the running gap over it.
    #[must_use]
    pub fn foot(&self) -> f64 {
        self.sleeve + self.play / 2.0
    }
}

impl Shape {
    /// Half the width.
    #[must_use]
    pub fn half(&self) -> f64 {
        self.width / 2.0
    }

    /// The outside curve, before easing.
    ///
    /// # Range
    /// Shapes without anything impossible; others give curves that mean nothing.
    #[must_use]
    pub fn outside_curve(&self) -> Pieces {
        let half = self.half();
        let at = |x: f64, y: f64| Point { x, y };
        let crown = self.thickness;
        let mut curve = Pieces::new();
        match &self.outside {
            Outside::Flat => curve.push(Piece::line(at(-half, crown), at(half, crown))),
            Outside::Domed { edge } => {
                let edge = edge + self.comfort;
                curve.push(Piece::arch(at(-half, edge), at(half, edge), crown - edge));
            }
            Outside::Concave { dip } => {
                curve.push(Piece::arch(at(-half, crown), at(half, crown), -dip))
            }
            Outside::Bevelled { across, down } => {
                let (edge, flat) = (crown - down, half - across);
                curve.push(Piece::line(at(-half, edge), at(-flat, crown)));
                if flat > 0.0 {
                    curve.push(Piece::line(at(-flat, crown), at(flat, crown)));
                }
                curve.push(Piece::line(at(flat, crown), at(half, edge)));
            }
            Outside::KnifeEdge {
                edge,
                crown: radius,
            } => {
                let foot = at(half, edge + self.comfort);
                let touch = tangent(foot, crown, *radius);
                curve.push(Piece::line(at(-half, foot.y), at(-touch.x, touch.y)));
                if touch.x > 0.0 {
                    curve.push(Piece {
                        from: at(-touch.x, touch.y),
                        to: touch,
                        radius: *radius,
                    });
                }
                curve.push(Piece::line(touch, foot));
            }
            Outside::Custom(pieces) => curve.extend(pieces.iter().copied()),
        }
        curve
    }

    /// The inside curve, before easing.
    #[must_use]
    pub fn inside_curve(&self) -> Pieces {
        let half = self.half();
        let at = |x: f64| Point { x, y: self.comfort };
        Pieces::from_slice(&[Piece::arch(at(-half), at(half), -self.comfort)])
    }

    /// A curve with chamfers of legs `leg` at both ends: down into the metal for the outside (`sign` -1), up
    /// for the bore (`sign` 1).
    #[must_use]
    pub fn eased(&self, curve: &Pieces, leg: f64, sign: f64) -> Pieces {
        let (Some(first), Some(last)) = (curve.first(), curve.last()) else {
            return Pieces::new();
        };
        if leg <= 0.0 {
            return curve.clone();
        }
        let inner = self.half() - leg;
        let at = |x: f64| Point {
            x,
            y: height(curve, x),
        };
        let moved = |end: Point| Point {
            x: end.x,
            y: end.y + sign * leg,
        };
        let mut eased = Pieces::new();
        eased.push(Piece::line(moved(first.from), at(-inner)));
        eased.extend(clipped(curve, -inner, inner));
        eased.push(Piece::line(at(inner), moved(last.to)));
        eased
    }
}

/// Where the upper tangent from `foot` touches the crown's circle, whose top stands at `crown`.
fn tangent(foot: Point, crown: f64, radius: f64) -> Point {
    let centre = crown - radius;
    let (x, y) = (foot.x, foot.y - centre);
    let square = x * x + y * y;
    let length = (square - radius * radius).max(0.0).sqrt();
    let (along, across) = (radius * radius / square, radius * length / square);
    Point {
        x: along * x - across * y,
        y: centre + along * y + across * x,
    }
}
