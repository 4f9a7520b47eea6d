//! What is the outside before it is cut, and how steep is it at a place?
//!
//! In: pieces from left to right (lines and arcs, left and right may differ). Out: radius, slope and the places where
//! either changes its law. Beyond a side face the outside goes on level.

use smallvec::SmallVec;

/// A line or a circular arc of the outside, from left to right; heights are radii from the finger axis, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripPiece {
    /// Left end: axial place and radius, mm.
    pub from: (f64, f64),
    /// Right end: axial place and radius, mm.
    pub to: (f64, f64),
    /// Radius of the arc, mm: positive where it bulges away from the finger, negative towards it, 0 for a line.
    pub radius: f64,
}

/// A piece with what its evaluation needs, worked out once.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Law {
    from: f64,
    to: f64,
    /// A line: height at `from`. An arc: height of its centre.
    height: f64,
    /// A line: its slope. An arc: axial place of its centre.
    second: f64,
    /// Radius with its sign; 0 for a line.
    radius: f64,
}

impl Law {
    fn of(piece: &StripPiece) -> Self {
        let ((x, y), (end, high)) = (piece.from, piece.to);
        let (dx, dy) = (end - x, high - y);
        if piece.radius == 0.0 {
            let slope = if dx > 0.0 { dy / dx } else { 0.0 };
            return Self {
                from: x,
                to: end,
                height: y,
                second: slope,
                radius: 0.0,
            };
        }
        let half = (dx * dx + dy * dy).sqrt() / 2.0;
        let away =
            (piece.radius * piece.radius - half * half).max(0.0).sqrt() * piece.radius.signum();
        let (mx, my) = ((x + end) / 2.0, (y + high) / 2.0);
        // The centre lies square to the chord: below it where the arc bulges out.
        let (cx, cy) = (mx + away * dy / (2.0 * half), my - away * dx / (2.0 * half));
        Self {
            from: x,
            to: end,
            height: cy,
            second: cx,
            radius: piece.radius,
        }
    }

    /// A level stretch.
    fn level(radius: f64) -> Self {
        Self {
            from: 0.0,
            to: 0.0,
            height: radius,
            second: 0.0,
            radius: 0.0,
        }
    }

    /// Radius at an axial place, mm.
    pub(super) fn at(&self, x: f64) -> f64 {
        if self.radius == 0.0 {
            return self.height + self.second * (x - self.from);
        }
        let beside = x - self.second;
        self.height
            + (self.radius * self.radius - beside * beside)
                .max(0.0)
                .sqrt()
                .copysign(self.radius)
    }

    /// Radius and slope along the axis at an axial place.
    pub(super) fn with_slope(&self, x: f64) -> (f64, f64) {
        let at = self.at(x);
        if self.radius == 0.0 {
            return (at, self.second);
        }
        let high = at - self.height;
        // A half-round edge ends upright: a slope of 50 stands for it.
        let slope = (self.second - x)
            / if high.abs() < 1e-9 {
                1e-9_f64.copysign(self.radius)
            } else {
                high
            };
        (at, slope.clamp(-50.0, 50.0))
    }

    /// Whether it is level.
    pub(super) fn is_level(&self) -> bool {
        self.radius == 0.0 && self.second == 0.0
    }
}

/// The outside of a band in the state of the cut.
#[derive(Clone, Debug, PartialEq)]
pub struct StripOutside {
    laws: SmallVec<[Law; 6]>,
    left: f64,
    right: f64,
    edges: (f64, f64),
    largest: f64,
    breaks: SmallVec<[f64; 16]>,
}

impl StripOutside {
    /// The outside made of pieces from left to right; none without a piece or without width.
    #[must_use]
    pub fn of(pieces: &[StripPiece]) -> Option<Self> {
        let (first, last) = (pieces.first()?, pieces.last()?);
        let laws: SmallVec<[Law; 6]> = pieces
            .iter()
            .filter(|piece| piece.to.0 > piece.from.0)
            .map(Law::of)
            .collect();
        let (left, right) = (first.from.0, last.to.0);
        if laws.is_empty() || right <= left {
            return None;
        }
        let mut breaks: SmallVec<[f64; 16]> = SmallVec::new();
        let mut largest = f64::MIN;
        for law in &laws {
            breaks.push(law.from);
            if law.radius != 0.0 && law.second > law.from + 1e-9 && law.second < law.to - 1e-9 {
                breaks.push(law.second);
                largest = largest.max(law.at(law.second));
            }
            largest = largest.max(law.at(law.from)).max(law.at(law.to));
        }
        breaks.push(right);
        let edges = (laws.first()?.at(left), laws.last()?.at(right));
        Some(Self {
            laws,
            left,
            right,
            edges,
            largest,
            breaks,
        })
    }

    /// A plain cylinder.
    ///
    /// # Example
    /// ```
    /// let outside = annulet::kernel::pattern::StripOutside::flat(10.0, 6.0).unwrap();
    /// assert_eq!(outside.radius(2.0), 10.0);
    /// ```
    #[must_use]
    pub fn flat(radius: f64, width: f64) -> Option<Self> {
        let half = width / 2.0;
        Self::of(&[StripPiece {
            from: (-half, radius),
            to: (half, radius),
            radius: 0.0,
        }])
    }

    /// A dome: its radius at mid width, the width, and the radius of its arc, mm.
    #[must_use]
    pub fn dome(radius: f64, width: f64, arc: f64) -> Option<Self> {
        let half = width / 2.0;
        let edge = radius - arc + (arc * arc - half * half).max(0.0).sqrt();
        Self::of(&[StripPiece {
            from: (-half, edge),
            to: (half, edge),
            radius: arc,
        }])
    }

    /// Radius at an axial place; beyond a side face that of the face, mm.
    #[must_use]
    pub fn radius(&self, x: f64) -> f64 {
        if x <= self.left {
            return self.edges.0;
        }
        self.laws
            .iter()
            .find(|law| x <= law.to)
            .map_or(self.edges.1, |law| law.at(x))
    }

    /// The law of the outside about an axial place: level beyond a side face.
    pub(super) fn law(&self, x: f64) -> Law {
        if x <= self.left {
            return Law::level(self.edges.0);
        }
        self.laws
            .iter()
            .find(|law| x <= law.to)
            .copied()
            .unwrap_or(Law::level(self.edges.1))
    }

    /// Axial place of the left side face, mm.
    #[must_use]
    pub fn left(&self) -> f64 {
        self.left
    }

    /// Axial place of the right side face, mm.
    #[must_use]
    pub fn right(&self) -> f64 {
        self.right
    }

    /// Axial width, mm.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Largest radius, mm.
    #[must_use]
    pub fn largest(&self) -> f64 {
        self.largest
    }

    /// Length of the strip: the largest outside unrolled, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        std::f64::consts::TAU * self.largest
    }

    /// Places between which the outside follows one law and only rises or only falls, faces included.
    #[must_use]
    pub fn breaks(&self) -> &[f64] {
        &self.breaks
    }
}
