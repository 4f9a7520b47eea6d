//! What stretch, join and strength need of a band beside its shape, as floats: mm, MPa, fractions of one.

use super::kinematics::Kinematics;
use super::layers::Layers;
use super::limits::Pull;
use super::metal::Strength;
use crate::kernel::LeastWalls;
use crate::kernel::made::Measured;

/// Computed lengths are compared within this, in mm.
pub const ROUNDING: f64 = 1e-9;

/// Which fields that could mend a joint the recipe states itself, rather than by a default.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stated {
    /// The entry clearance.
    pub entry: bool,
    /// The height of the ridge or the lips.
    pub catch: bool,
    /// The axial play of a ridge.
    pub ridge_play: bool,
    /// The lock.
    pub lock: bool,
    /// A key of the stage.
    pub key: bool,
}

/// What holds a finished ring by shape or by metal, as the maker states it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lock {
    /// A knurl or notches in the foot, so deep, radial; mm; 0 where that is not stated.
    Key(f64),
    /// Spots welded in the seam with the ring's own metal.
    Tack,
    /// The sleeve pricked up beside the foot.
    Stake,
}

/// Where a solid band is stretched from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Start {
    /// From an inside diameter, mm.
    Bore(f64),
    /// By a part of its bore.
    Strain(f64),
}

/// What the recipe says of stretch and join.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct StretchInput {
    /// Where a solid band is stretched from.
    pub start: Option<Start>,
    /// The pattern is cut before the stretch.
    pub cut_before: bool,
    /// How the width behaves.
    pub kinematics: Kinematics,
    /// Clearance on the diameter at which the parts go together.
    pub entry: f64,
    /// Overlap on the diameter that keeps the ring together, where stated.
    pub hold: Option<f64>,
    /// The ring is built to turn.
    pub turning: bool,
    /// Opening past touch, on the diameter, where stated.
    pub past: Option<f64>,
    /// What holds the finished ring beside friction.
    pub lock: Option<Lock>,
    /// Coefficient of friction.
    pub friction: f64,
    /// Repeatability of the enlarger: plus and minus so much on the diameter.
    pub enlarger: f64,
    /// Metal left on for finishing.
    pub layers: Layers,
    /// What may be pulled at once.
    pub pull: Pull,
    /// Axial float of a turning ring in all, at most, mm.
    pub most_float: f64,
    /// Parts as they came off the machine.
    pub made: Measured,
    /// What the recipe states itself of what could mend a joint.
    pub stated: Stated,
    /// The least walls that the band is judged by.
    pub walls: LeastWalls,
    /// How far the axes of outside and bore lie apart, mm: every wall is so much thinner on one side.
    pub run_out: f64,
    /// How far a ring as made may miss its bore, on the diameter, and its width, mm.
    pub off_size: f64,
    /// What would just fit parts as made is not sought: that takes many rings, and where only what falls short is asked
    /// nobody reads it.
    pub unadvised: bool,
    /// The band's metal.
    pub whole: Strength,
    /// The shell's metal.
    pub shell: Strength,
    /// The sleeve's metal.
    pub sleeve: Strength,
}
