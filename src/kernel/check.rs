//! Whether a band can be made at all, and what would just fit where it cannot.

use smallvec::SmallVec;

use crate::schema::FieldId;

use super::section::{
    Curves, Misfit, Outside, Shape, bodies, fitting_from, impossible, impossible_in,
};
use super::shortfall::KernelShortfall;

/// Lengths that follow from others, as far as a band states them all the same; mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SaidTwice {
    thickness: Option<f64>,
    outside: Option<f64>,
    edge: Option<f64>,
}

impl SaidTwice {
    /// Those of a band, by what the length of a field is, in mm.
    #[must_use]
    pub fn of(length: impl Fn(FieldId) -> Option<f64>) -> Self {
        Self {
            thickness: length(FieldId::Thickness),
            outside: length(FieldId::Outside),
            edge: length(FieldId::ProfileEdge),
        }
    }

    /// Changes one length, in mm; nothing where it is none of them.
    #[inline]
    pub fn put(&mut self, field: FieldId, value: f64) {
        match field {
            FieldId::Thickness => self.thickness = Some(value),
            FieldId::Outside => self.outside = Some(value),
            FieldId::ProfileEdge => self.edge = Some(value),
            _ => {}
        }
    }
}

/// What makes a band impossible; more than two allocate.
pub type Impossibles = SmallVec<[KernelShortfall; 2]>;

/// What makes a band impossible, each with the value that would just fit; nothing may be computed where there is any.
///
/// `least_wall` is what every wall should keep.
#[must_use]
pub fn check(shape: &Shape, stated: &SaidTwice, least_wall: f64) -> Impossibles {
    let twice = over_stated(shape, stated);
    if !twice.is_empty() {
        return twice;
    }
    let misfits = impossible(shape).into_iter();
    misfits
        .map(|misfit| KernelShortfall::DoesNotFit {
            fits: fits(shape, &misfit, least_wall),
            misfit,
        })
        .collect()
}

/// Whether no length is stated that follows from others.
#[must_use]
pub fn is_said_once(shape: &Shape, stated: &SaidTwice) -> bool {
    let outline = matches!(shape.outside, Outside::Custom(_));
    let twice = stated.outside.is_some() && stated.thickness.is_some();
    !outline && !twice && stated.edge.is_none()
}

/// Whether no length is stated that does not follow from the others.
#[must_use]
pub fn is_consistent(shape: &Shape, stated: &SaidTwice) -> bool {
    // Mostly nothing is said twice.
    is_said_once(shape, stated) || over_stated(shape, stated).is_empty()
}

/// Whether [`check`] finds nothing, without looking for what would fit.
#[must_use]
pub fn possible(curves: &Curves<'_>, stated: &SaidTwice) -> bool {
    over_stated(curves.shape, stated).is_empty() && impossible_in(curves).is_empty()
}

/// The value of a misfit's field that would fit: best one that leaves every wall as thick as wanted, else any that
/// makes the band possible.
fn fits(shape: &Shape, misfit: &Misfit, least_wall: f64) -> Option<f64> {
    let field = misfit.field;
    let possible = |value: f64| impossible(&shape.with(field, value)).is_empty();
    let sound = |value: f64| {
        let changed = shape.with(field, value);
        impossible(&changed).is_empty()
            && bodies(&Curves::of(&changed), true).least_wall() >= least_wall - 1e-9
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
fn over_stated(shape: &Shape, stated: &SaidTwice) -> Impossibles {
    let mut found = Impossibles::new();
    let &SaidTwice {
        thickness,
        outside,
        edge,
    } = stated;
    let mut compare = |field, from, stated: f64, follows: f64| {
        if (stated - follows).abs() > 1e-9 {
            found.push(KernelShortfall::OverStated {
                field,
                from,
                stated,
                follows,
            });
        }
    };
    let over = |height: f64| 2.0 * (shape.radius + height);
    if let (Some(outside), Some(_)) = (outside, thickness) {
        let follows = over(shape.thickness);
        compare(FieldId::Outside, FieldId::Thickness, outside, follows);
    }
    let follows = match &shape.outside {
        Outside::Flat | Outside::Concave { .. } => Some(shape.thickness - shape.comfort),
        Outside::Bevelled { down, .. } => Some(shape.thickness - down - shape.comfort),
        Outside::Domed { .. } | Outside::KnifeEdge { .. } | Outside::Custom(_) => None,
    };
    if let (Some(stated), Some(follows)) = (edge, follows) {
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
