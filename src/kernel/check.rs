//! Whether a band can be made at all, and what would just fit where it cannot.

use smallvec::SmallVec;

use crate::schema::FieldId;

use super::section::{Misfit, Outside, Shape, bodies, fitting_from, impossible};
use super::shortfall::Shortfall;

/// What makes a band impossible; more than two allocate.
pub type Impossibles = SmallVec<[Shortfall; 2]>;

/// What makes a band impossible, each with the value that would just fit; nothing may be computed where there is any.
///
/// `stated` gives the length of a field in mm, as far as the band has it; `least_wall` is what every wall should keep.
#[must_use]
pub fn check(
    shape: &Shape,
    stated: &dyn Fn(FieldId) -> Option<f64>,
    least_wall: f64,
) -> Impossibles {
    let twice = over_stated(shape, stated);
    if !twice.is_empty() {
        return twice;
    }
    let misfits = impossible(shape).into_iter();
    misfits
        .map(|misfit| Shortfall::DoesNotFit {
            fits: fits(shape, &misfit, least_wall),
            misfit,
        })
        .collect()
}

/// Whether [`check`] finds nothing, without looking for what would fit.
#[must_use]
pub fn possible(shape: &Shape, stated: &dyn Fn(FieldId) -> Option<f64>) -> bool {
    over_stated(shape, stated).is_empty() && impossible(shape).is_empty()
}

/// The value of a misfit's field that would fit: best one that leaves every wall as thick as wanted, else any that
/// makes the band possible.
fn fits(shape: &Shape, misfit: &Misfit, least_wall: f64) -> Option<f64> {
    let field = misfit.field;
    let possible = |value: f64| impossible(&shape.with(field, value)).is_empty();
    let sound = |value: f64| {
        let changed = shape.with(field, value);
        impossible(&changed).is_empty() && bodies(&changed).least_wall() >= least_wall - 1e-9
    };
    let (least, less) = (shape.least(field), misfit.less());
    let fits = shape.field(field).and_then(|current| {
        fitting_from(least, less, current, sound)
            .or_else(|| fitting_from(least, less, current, possible))
    });
    // A bore need not open at all.
    fits.or_else(|| (field == FieldId::Comfort && possible(0.0)).then_some(0.0))
}

/// Lengths that follow from others, and are stated all the same.
fn over_stated(shape: &Shape, stated: &dyn Fn(FieldId) -> Option<f64>) -> Impossibles {
    let mut found = Impossibles::new();
    let mut compare = |field, from, stated: f64, follows: f64| {
        if (stated - follows).abs() > 1e-9 {
            found.push(Shortfall::OverStated {
                field,
                from,
                stated,
                follows,
            });
        }
    };
    let over = |height: f64| 2.0 * (shape.radius + height);
    let (thickness, outside) = (stated(FieldId::Thickness), stated(FieldId::Outside));
    if let (Some(outside), Some(_)) = (outside, thickness) {
        let follows = over(shape.thickness);
        compare(FieldId::Outside, FieldId::Thickness, outside, follows);
    }
    let edge = match &shape.outside {
        Outside::Flat | Outside::Concave { .. } => Some(shape.thickness - shape.comfort),
        Outside::Bevelled { down, .. } => Some(shape.thickness - down - shape.comfort),
        Outside::Domed { .. } | Outside::KnifeEdge { .. } | Outside::Custom(_) => None,
    };
    if let (Some(stated), Some(follows)) = (stated(FieldId::ProfileEdge), edge) {
        compare(FieldId::ProfileEdge, FieldId::Thickness, stated, follows);
    }
    if let Outside::Custom(pieces) = &shape.outside {
        let crown = pieces
            .iter()
            .map(|piece| piece.extreme(true).y)
            .fold(f64::NEG_INFINITY, f64::max);
        if let Some(stated) = thickness {
            compare(FieldId::Thickness, FieldId::Profile, stated, crown);
        }
        if let Some(stated) = outside {
            compare(FieldId::Outside, FieldId::Profile, stated, over(crown));
        }
    }
    found
}
