//! What stretch, join and strength read of a band: its fields and the tempers of its metals, as floats.

use crate::kernel::LeastWalls;
use crate::kernel::join::{
    Kinematics, Layers, Lock, ONE_PULL, Pull, Start, Stated, Strength, StretchInput, WORKING,
};
use crate::kernel::made::Measured;
use crate::model::{Alloy, Band, Caught, Value};
use crate::quantity::Dimension;
use crate::schema::FieldId;

/// How far a ring as made may miss its size where no limit is stated, mm (common practice, no source).
const OFF_SIZE: f64 = 0.05;

/// How far a turning ring may wander along the finger, mm (common practice, from memory).
const MOST_FLOAT: f64 = 0.15;

/// Wall that a punch is struck against, mm (from memory).
const STRUCK: f64 = 0.8;

/// The figures of a band.
#[must_use]
pub(super) fn join_input(band: &Band) -> StretchInput {
    let length = |id: FieldId| band.fields.number(id);
    let word = |id: FieldId| match &band.field(id)?.value {
        Value::Word(word) => Some(word.as_str()),
        _ => None,
    };
    let part = |metal: Option<&crate::model::Metal>| match metal {
        Some(metal) => strength(&metal.alloy, &metal.temper),
        None => strength(&band.alloy, &band.temper),
    };
    let hollow = band.hollow.as_ref();
    let stated = |id: FieldId| band.field(id).is_some_and(|field| field.at.is_some());
    let cut_before = match word(FieldId::PatternCut) {
        Some(cut) => cut == "before",
        None => hollow.is_some(),
    };
    StretchInput {
        start: start(band),
        cut_before,
        kinematics: match word(FieldId::HollowKinematics).or(word(FieldId::Kinematics)) {
            Some("held") => Kinematics::Held,
            _ => Kinematics::Free,
        },
        entry: length(FieldId::HollowEntry).unwrap_or(0.0),
        hold: length(FieldId::HollowHold),
        turning: word(FieldId::HollowStage) == Some("turning"),
        past: length(FieldId::HollowStagePast),
        lock: match word(FieldId::HollowLock) {
            Some("tack") => Some(Lock::Tack),
            Some("stake") => Some(Lock::Stake),
            Some(_) => Some(Lock::Key(length(FieldId::HollowLockDeep).unwrap_or(0.0))),
            None => length(FieldId::HollowStageKey).map(Lock::Key),
        },
        friction: length(FieldId::HollowFriction).unwrap_or_default(),
        enlarger: length(FieldId::HollowEnlarger).unwrap_or_default(),
        layers: layers(band, cut_before, &length),
        pull: Pull {
            strain: length(FieldId::LimitStrain).unwrap_or(ONE_PULL),
            working: length(FieldId::LimitWorking).unwrap_or(WORKING),
        },
        most_float: length(FieldId::LimitFloat).unwrap_or(MOST_FLOAT),
        made: Measured::read(length),
        stated: Stated {
            entry: stated(FieldId::HollowEntry),
            catch: stated(match hollow.map(|hollow| hollow.caught) {
                Some(Caught::ByLips) => FieldId::HollowLip,
                _ => FieldId::HollowRidge,
            }),
            ridge_play: stated(FieldId::HollowRidgePlay),
            lock: stated(FieldId::HollowLock),
            key: stated(FieldId::HollowStageKey),
        },
        walls: walls(band),
        run_out: 0.0,
        unadvised: false,
        off_size: length(FieldId::LimitSize).unwrap_or(OFF_SIZE),
        whole: part(None),
        shell: part(hollow.map(|hollow| &hollow.shell)),
        sleeve: part(hollow.map(|hollow| &hollow.sleeve)),
    }
}

/// The least walls, each by default that of all.
fn walls(band: &Band) -> LeastWalls {
    let anywhere = band.length(FieldId::LimitWall).unwrap_or(0.0);
    let own = |id: FieldId| band.length(id).unwrap_or(anywhere);
    LeastWalls {
        anywhere,
        under_cut: own(FieldId::LimitUnderCut),
        roof: own(FieldId::LimitRoof),
        side: own(FieldId::LimitSide),
        sleeve: own(FieldId::LimitSleeve),
        mark: own(FieldId::LimitMark),
        struck: band.length(FieldId::LimitStruck).unwrap_or(STRUCK),
    }
}

/// Metal left on for finishing, and when it comes off: bore and faces last, the outside first where a pattern is cut
/// into it before the stretch.
fn layers(band: &Band, cut_before: bool, length: &dyn Fn(FieldId) -> Option<f64>) -> Layers {
    let early = |id: FieldId, usual: bool| match band.field(id).map(|field| &field.value) {
        Some(Value::Word(word)) => word == "before",
        _ => usual,
    };
    Layers {
        left: [
            FieldId::FinishBore,
            FieldId::FinishOutside,
            FieldId::FinishFaces,
        ]
        .map(|id| length(id).unwrap_or(0.0)),
        early: [
            early(FieldId::FinishBoreWhen, false),
            early(FieldId::FinishOutsideWhen, band.is_cut() && cut_before),
            early(FieldId::FinishFacesWhen, false),
        ],
    }
}

/// Where a solid band starts.
fn start(band: &Band) -> Option<Start> {
    let field = band.field(FieldId::Start)?;
    match &field.value {
        Value::Size { size, .. } => Some(Start::Bore(size.diameter())),
        Value::Quantity { quantity, .. } => {
            let value = quantity.number.to_f64();
            Some(match quantity.dimension {
                Dimension::NONE => Start::Strain(value),
                _ => Start::Bore(value),
            })
        }
        _ => None,
    }
}

/// What is known of an alloy in a state.
pub(super) fn strength(alloy: &Alloy, temper: &str) -> Strength {
    let state = alloy.tempers.iter().find(|known| known.name == temper);
    let figure = |field: FieldId| {
        let quantity = state?.figure(field)?.quantity()?;
        Some(quantity.number.to_f64())
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
        hardness: figure(FieldId::AlloyTemperHardness),
    }
}
