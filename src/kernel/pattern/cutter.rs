//! What does a cutter leave: its profile, how far it reaches, and where a radial line through the metal meets it?

/// A rigid cutter: a solid of revolution about its own axis, which stands on the finger axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CutterForm {
    /// A cone with a flat tip.
    Vee {
        /// Tangent of half the included angle: how much wider it gets with height, to either side.
        widens: f64,
        /// Half the width of the flat tip, mm.
        tip: f64,
    },
    /// A ball, parallel to the axis above its middle.
    Ball {
        /// Its radius, mm.
        radius: f64,
    },
    /// A flat end, parallel to the axis above it.
    Flat {
        /// Half its width, mm.
        half: f64,
    },
    /// A tool that leaves a plane: of no use along a line.
    Plane,
}

/// A cutter at one place: its axis and the radius of its tip.
#[derive(Clone, Copy, Debug)]
pub struct Tool {
    /// Angle of its axis round the finger axis, radians.
    pub angle: f64,
    /// Axial place of its axis, mm.
    pub x: f64,
    /// Radius of its tip from the finger axis, mm.
    pub tip: f64,
}

/// What is taken of one radial line: from one radius to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taken {
    /// Where the cutter begins, mm.
    pub from: f64,
    /// Where its side is left again; infinite for one that widens.
    pub to: f64,
}

impl CutterForm {
    /// A vee of an included angle (radians) and a width of its flat tip (mm).
    ///
    /// # Example
    /// ```
    /// let vee = annulet::kernel::pattern::CutterForm::vee(std::f64::consts::FRAC_PI_2, 0.05);
    /// assert!((vee.reach(0.3) - 0.325).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn vee(angle: f64, tip: f64) -> Self {
        Self::Vee {
            widens: libm::tan(angle / 2.0),
            tip: tip / 2.0,
        }
    }

    /// Half the width of what is level at its tip, mm: on a slope the rim of it cuts deepest, so that the best place of the
    /// tool jumps by this where a line turns from falling to rising.
    #[must_use]
    pub fn level(&self) -> f64 {
        match *self {
            Self::Vee { tip, .. } => tip,
            Self::Flat { half } => half,
            Self::Ball { .. } | Self::Plane => 0.0,
        }
    }

    /// Whether its sides stand upright: their place on a grid decides what they take.
    #[must_use]
    pub fn is_upright(&self) -> bool {
        matches!(self, Self::Flat { .. } | Self::Ball { .. })
    }

    /// Height of its profile above the tip at a distance from its axis; none where it does not reach.
    #[must_use]
    pub fn profile(&self, distance: f64) -> Option<f64> {
        match *self {
            Self::Vee { widens, tip } => Some(((distance - tip) / widens).max(0.0)),
            Self::Ball { radius } => {
                let square = radius * radius - distance * distance;
                (square >= 0.0).then(|| radius - square.sqrt())
            }
            Self::Flat { half } => (distance <= half).then_some(0.0),
            Self::Plane => None,
        }
    }

    /// Half its width at a height above its tip.
    #[must_use]
    pub fn reach(&self, height: f64) -> f64 {
        match *self {
            Self::Vee { widens, tip } => tip + height.max(0.0) * widens,
            Self::Ball { radius } if height < radius => {
                (height.max(0.0) * (2.0 * radius - height)).sqrt()
            }
            Self::Ball { radius } => radius,
            Self::Flat { half } => half,
            Self::Plane => 0.0,
        }
    }

    /// How far along its line, from the foot of a point, the cutter is that leaves that point lowest.
    ///
    /// # Formula
    /// The least of `profile(sqrt(d^2 + s^2)) + m s` over `s`, with `d` the distance of the point from the line and
    /// `m` the slope of the tip along it.
    #[must_use]
    pub fn lowest_along(&self, distance: f64, slope: f64) -> f64 {
        let uphill =
            |most: f64| -slope.signum() * (most * most - distance * distance).max(0.0).sqrt();
        if slope == 0.0 {
            return 0.0;
        }
        match *self {
            Self::Vee { widens, tip } => {
                let flank = 1.0 / widens;
                if slope.abs() >= flank {
                    return uphill(tip.max(distance));
                }
                let along = slope * distance / (flank * flank - slope * slope).sqrt();
                let meets = (along * along + distance * distance).sqrt();
                if meets >= tip { -along } else { uphill(tip) }
            }
            Self::Ball { radius } => {
                let across = (radius * radius - distance * distance).max(0.0).sqrt();
                -slope / (1.0 + slope * slope).sqrt() * across
            }
            // A little inside its rim, so that the point stays under it all the way out.
            Self::Flat { half } => uphill(half * 0.997),
            Self::Plane => 0.0,
        }
    }

    /// What a tool takes of the radial line at an angle and an axial place; none where it does not meet it.
    #[must_use]
    pub fn takes(&self, tool: &Tool, angle: f64, x: f64) -> Option<Taken> {
        let (sin, cos) = small(angle - tool.angle);
        let across = x - tool.x;
        let tip = tool.tip;
        match *self {
            Self::Vee { widens, tip: flat } => {
                let level = tip / cos;
                let beside = level * sin;
                if beside * beside + across * across <= flat * flat {
                    return Some(Taken {
                        from: level,
                        to: f64::INFINITY,
                    });
                }
                // (a r + b)^2 = (r sin)^2 + across^2
                let (a, b) = (widens * cos, flat - widens * tip);
                let square = a * a - sin * sin;
                if square <= 0.0 {
                    return None;
                }
                let root = (a * b) * (a * b) - square * (b * b - across * across);
                let from = (-a * b + root.max(0.0).sqrt()) / square;
                Some(Taken {
                    from,
                    to: f64::INFINITY,
                })
            }
            Self::Ball { radius } => {
                let middle = tip + radius;
                let root = radius * radius - across * across - middle * middle * sin * sin;
                if root < 0.0 {
                    return None;
                }
                let side = (radius * radius - across * across).max(0.0).sqrt();
                Some(Taken {
                    from: middle * cos - root.sqrt(),
                    to: side / sin.abs(),
                })
            }
            Self::Flat { half } => {
                let from = tip / cos;
                let side = half * half - across * across;
                let beside = from * sin;
                (side >= beside * beside).then(|| Taken {
                    from,
                    to: side.max(0.0).sqrt() / sin.abs(),
                })
            }
            Self::Plane => None,
        }
    }
}

/// Sine and cosine of an angle well under a quarter turn, as a tool reaches, to 1e-13.
fn small(angle: f64) -> (f64, f64) {
    if angle.abs() > 0.25 {
        return (libm::sin(angle), libm::cos(angle));
    }
    let square = angle * angle;
    let sin = angle
        * (1.0
            - square / 6.0 * (1.0 - square / 20.0 * (1.0 - square / 42.0 * (1.0 - square / 72.0))));
    let cos = 1.0
        - square / 2.0
            * (1.0
                - square / 12.0
                    * (1.0 - square / 30.0 * (1.0 - square / 56.0 * (1.0 - square / 90.0))));
    (sin, cos)
}
