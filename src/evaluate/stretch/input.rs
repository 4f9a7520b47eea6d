//! What stretch, join and strength need of a band beside its shape, as floats: mm, MPa, fractions of one.

use crate::schema::FieldId;
use std::sync::OnceLock;

use crate::model::{Alloy, Band, FieldValue, Inside, Value};
use crate::quantity::{Deviation, Dimension};

use super::kinematics::Kinematics;
use super::made::Measured;

/// A metal's strength in its state; what is not known is `None`. MPa.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Strength {
    /// 0.2 % proof stress.
    pub yield_stress: Option<f64>,
    /// Tensile strength.
    pub tensile: Option<f64>,
    /// Young's modulus.
    pub modulus: Option<f64>,
    /// Rise of the flow stress with true strain, a straight line.
    pub hardening: Option<f64>,
    /// Elongation at fracture, of one.
    pub elongation: Option<f64>,
    /// Poisson's ratio, where stated.
    pub poisson: Option<f64>,
}

/// Poisson's ratio where none is stated (common practice, no source).
pub const POISSON: f64 = 0.38;

impl Strength {
    /// Flow stress at a true strain: yield, and hardening where it is known.
    #[must_use]
    pub fn flow(&self, strain: f64) -> Option<f64> {
        Some(self.yield_stress? + self.hardening.unwrap_or(0.0) * strain.max(0.0))
    }

    /// Poisson's ratio, stated or usual.
    #[must_use]
    pub fn contraction(&self) -> f64 {
        self.poisson.unwrap_or(POISSON)
    }

    /// How far a free ring opens elastically at a strain, as a part of its bore: `flow stress / modulus`.
    #[must_use]
    pub fn spring(&self, strain: f64) -> Option<f64> {
        Some(self.flow(strain)? / self.modulus?)
    }

    /// The words for what an estimate of grip would need and the temper does not state.
    #[must_use]
    pub fn missing(&self) -> Vec<&'static str> {
        let mut missing = Vec::new();
        if self.yield_stress.is_none() {
            missing.push("yield");
        }
        if self.modulus.is_none() {
            missing.push("modulus");
        }
        missing
    }
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
    /// Opening past seated, on the diameter, where stated.
    pub past: Option<f64>,
    /// Depth of a knurl or of notches in the foot, radial.
    pub key: Option<f64>,
    /// Coefficient of friction.
    pub friction: f64,
    /// Repeatability of the enlarger: plus and minus so much on the diameter.
    pub enlarger: f64,
    /// Metal left on for finishing, per side: bore, outside, faces.
    pub finish: [f64; 3],
    /// Parts as they came off the machine.
    pub made: Measured,
    /// The least wall that the band is judged by, mm.
    pub least_wall: f64,
    /// How far a ring as made may miss its bore, on the diameter, and its width, mm.
    pub off_size: f64,
    /// One step of the band's size system, as a circumference.
    pub step: f64,
    /// The band's metal.
    pub whole: Strength,
    /// The shell's metal.
    pub shell: Strength,
    /// The sleeve's metal.
    pub sleeve: Strength,
}

/// How far a ring as made may miss its size where no limit is stated, mm (common practice, no source).
const OFF_SIZE: f64 = 0.05;

impl StretchInput {
    /// The figures of a band, each as `read` gives it from its field, those of its tempers as `moved` gives them
    /// from their deviations.
    #[must_use]
    pub fn read(
        band: &Band,
        read: &dyn Fn(&FieldValue, f64) -> f64,
        moved: &dyn Fn(f64, &[Deviation]) -> f64,
    ) -> Self {
        let length = |id: FieldId| {
            let field = band.field(id)?;
            let quantity = field.value.quantity()?;
            Some(read(field, quantity.number.to_f64()))
        };
        let word = |id: FieldId| match &band.field(id)?.value {
            Value::Word(word) => Some(word.as_str()),
            _ => None,
        };
        let strength = |alloy: &Alloy, temper: &str| strength(alloy, temper, moved);
        let part = |metal: Option<&crate::model::Metal>| match metal {
            Some(metal) => strength(&metal.alloy, &metal.temper),
            None => strength(&band.alloy, &band.temper),
        };
        let hollow = band.hollow.as_ref();
        let cut = word(FieldId::PatternCut);
        Self {
            start: start(band, read),
            cut_before: match cut {
                Some(cut) => cut == "before",
                None => hollow.is_some(),
            },
            kinematics: match word(FieldId::HollowKinematics).or(word(FieldId::Kinematics)) {
                Some("held") => Kinematics::Held,
                _ => Kinematics::Free,
            },
            entry: length(FieldId::HollowEntry).unwrap_or(0.0),
            hold: length(FieldId::HollowHold),
            turning: word(FieldId::HollowStage) == Some("turning"),
            past: length(FieldId::HollowStagePast),
            key: length(FieldId::HollowStageKey),
            friction: length(FieldId::HollowFriction).unwrap_or_default(),
            enlarger: length(FieldId::HollowEnlarger).unwrap_or_default(),
            finish: [
                FieldId::FinishBore,
                FieldId::FinishOutside,
                FieldId::FinishFaces,
            ]
            .map(|id| length(id).unwrap_or(0.0)),
            made: Measured::read(length),
            least_wall: band.length(FieldId::LimitWall).unwrap_or(0.0),
            off_size: length(FieldId::LimitSize).unwrap_or(OFF_SIZE),
            step: step(&band.inside()),
            whole: part(None),
            shell: part(hollow.map(|hollow| &hollow.shell)),
            sleeve: part(hollow.map(|hollow| &hollow.sleeve)),
        }
    }
}

/// Where a solid band starts.
fn start(band: &Band, read: &dyn Fn(&FieldValue, f64) -> f64) -> Option<Start> {
    let field = band.field(FieldId::Start)?;
    match &field.value {
        Value::Size { size, .. } => Some(Start::Bore(read(field, size.diameter()))),
        Value::Quantity { quantity, .. } => {
            let value = read(field, quantity.number.to_f64());
            Some(match quantity.dimension {
                Dimension::NONE => Start::Strain(value),
                _ => Start::Bore(value),
            })
        }
        _ => None,
    }
}

/// One step of the band's size system as a circumference, mm; of a plain diameter 1 mm, the step of ISO 8653.
fn step(inside: &Inside) -> f64 {
    let Some(size) = inside.size else {
        return 1.0;
    };
    let here = size.circumference().to_f64();
    let up = size
        .stepped(1.into())
        .map(|size| size.circumference().to_f64());
    let down = size
        .stepped((-1).into())
        .map(|size| size.circumference().to_f64());
    match (up, down) {
        (Ok(up), _) => up - here,
        (_, Ok(down)) => here - down,
        _ => 1.0,
    }
}

/// What is known of an alloy in a state, each figure as `moved` gives it from its deviations.
fn strength(alloy: &Alloy, temper: &str, moved: &dyn Fn(f64, &[Deviation]) -> f64) -> Strength {
    let figure = |field: FieldId| {
        let (_, value, _) = temper_figures(alloy, temper)
            .iter()
            .find(|(known, ..)| *known == field)?;
        let quantity = value.quantity()?;
        Some(moved(quantity.number.to_f64(), &quantity.deviations))
    };
    // The base unit of a stress is g/(mm s2), which is a pascal.
    let stress = |field: FieldId| figure(field).map(|pascal| pascal / 1e6);
    Strength {
        yield_stress: stress(FieldId::AlloyTemperYield),
        tensile: stress(FieldId::AlloyTemperTensile),
        modulus: stress(FieldId::AlloyTemperModulus),
        hardening: stress(FieldId::AlloyTemperHardening),
        elongation: figure(FieldId::AlloyTemperElongation),
        poisson: figure(FieldId::AlloyTemperPoisson),
    }
}

fn temper_figures<'a>(alloy: &'a Alloy, temper: &str) -> &'a [(FieldId, Value, String)] {
    let state = alloy.tempers.iter().find(|known| known.name == temper);
    state.map_or(&[], |known| &known.figures)
}

/// Deviations of all that is known of an alloy in a state.
pub(in super::super) fn temper_deviations<'a>(
    alloy: &'a Alloy,
    temper: &str,
) -> impl Iterator<Item = &'a Deviation> {
    temper_figures(alloy, temper)
        .iter()
        .flat_map(|(_, value, _)| super::super::input::deviations(value))
}

/// A value that is computed when it is first read. A copy begins empty, so that it never outlives what it was
/// computed from.
#[derive(Debug)]
pub struct Lazily<T>(OnceLock<T>);

impl<T> Default for Lazily<T> {
    fn default() -> Self {
        Self(OnceLock::new())
    }
}

impl<T> Clone for Lazily<T> {
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl<T> PartialEq for Lazily<T> {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl<T> Lazily<T> {
    /// The value.
    pub fn get(&self, compute: impl FnOnce() -> T) -> &T {
        self.0.get_or_init(compute)
    }
}
