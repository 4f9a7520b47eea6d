//! The section of a solid band: outside curve over inside curve, and what the pattern takes off.

use std::f64::consts::PI;

use super::curve::{Curve, Integrals, Piece, Point};

/// The kind of outside curve; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outside {
    /// A cylinder.
    Flat,
    /// A circular arc through the edges and the crown.
    Domed {
        /// Radial thickness at the side faces.
        edge: f64,
    },
}

/// What a pattern takes off, evenly over its cover; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Greatest radial depth.
    pub depth: f64,
    /// Mean radial depth over the covered part.
    pub mean_depth: f64,
    /// Part of the outside that is cut, 0 to 1.
    pub cover: f64,
}

/// A solid section; lengths in mm.
#[derive(Clone, Debug)]
pub struct Section {
    /// Half the smallest inside diameter.
    pub radius: f64,
    /// Axial width.
    pub width: f64,
    /// Greatest height of the outside over the smallest bore.
    pub thickness: f64,
    /// Outside curve.
    pub outside: Curve,
    /// Inside curve.
    pub inside: Curve,
    outside_sum: Integrals,
    inside_sum: Integrals,
}

impl Section {
    /// Draws a section.
    ///
    /// # Range
    /// Sections that passed [`super::check`].
    #[must_use]
    pub fn new(radius: f64, width: f64, thickness: f64, comfort: f64, outside: Outside) -> Self {
        let half = width / 2.0;
        let inside = Curve::of(arch(half, comfort, -comfort));
        let outside = match outside {
            Outside::Flat => Curve::of(arch(half, thickness, 0.0)),
            Outside::Domed { edge } => {
                Curve::of(arch(half, edge + comfort, thickness - edge - comfort))
            }
        };
        let (outside_sum, inside_sum) = (outside.integrals(), inside.integrals());
        Self {
            radius,
            width,
            thickness,
            outside,
            inside,
            outside_sum,
            inside_sum,
        }
    }

    /// Area of the section, mm2.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.outside_sum.area - self.inside_sum.area
    }

    /// Volume of the whole band, mm3.
    ///
    /// # Formula
    /// `2 pi * integral of r dA` over the section (Pappus and Guldinus).
    ///
    /// # Example
    /// ```
    /// use annulet::geometry::{Outside, Section};
    /// let pipe = Section::new(8.0, 5.0, 2.0, 0.0, Outside::Flat);
    /// let closed = std::f64::consts::PI * 5.0 * (10.0 * 10.0 - 8.0 * 8.0);
    /// assert!((pipe.volume() / closed - 1.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.outside_sum.revolved(self.radius) - self.inside_sum.revolved(self.radius)
    }

    /// Volume that a pattern takes off, mm3.
    ///
    /// # Formula
    /// `cover * 2 pi * integral of (r^2 - (r - m)^2) / 2 dx` along the true outside, `m` the mean depth.
    #[must_use]
    pub fn cut_volume(&self, cut: &Cut) -> f64 {
        let depth = cut.mean_depth;
        let radii = self.radius * self.outside_sum.width + self.outside_sum.area;
        cut.cover * PI * depth * (2.0 * radii - depth * self.outside_sum.width)
    }

    /// Shortest distance from a surface `depth` below the outside to the bore, mm.
    ///
    /// Both curves are arcs about the middle plane, so the distance is least at the faces or at mid width.
    #[must_use]
    pub fn least_wall(&self, depth: f64) -> f64 {
        let ends = |curve: &Curve| curve.pieces.first().map_or(0.0, |piece| piece.from.y);
        let edge = ends(&self.outside) - ends(&self.inside);
        edge.min(self.thickness) - depth
    }

    /// Circumference of the largest outside, which is the length of the pattern strip, mm.
    #[must_use]
    pub fn strip_length(&self) -> f64 {
        2.0 * PI * (self.radius + self.thickness)
    }
}

/// One arc over the whole width, `edge` high at the faces and `rise` more at mid width.
fn arch(half: f64, edge: f64, rise: f64) -> Piece {
    Piece {
        from: Point { x: -half, y: edge },
        to: Point { x: half, y: edge },
        bulge: rise / half,
    }
}
