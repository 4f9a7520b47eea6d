//! Solid bands whose outside and bore are level: their volumes without drawing a curve.

use crate::schema::FieldId;

use super::bodies::SolidVolumes;
use super::curve::Integrals;
use super::misfit::{COMPUTED, WRITTEN};
use super::shape::{Cut, Outside, Shape};

/// A solid band of level outside and bore; lengths in mm.
#[derive(Clone, Copy, Debug)]
pub struct Level {
    radius: f64,
    width: f64,
    thickness: f64,
    cut: Option<Cut>,
}

impl Level {
    /// That of a shape; none where it is of another kind.
    #[must_use]
    pub fn of(shape: &Shape) -> Option<Self> {
        let level = matches!(shape.outside, Outside::Flat)
            && shape.hollow.is_none()
            && shape.comfort == 0.0
            && shape.ease_outer == 0.0
            && shape.ease_bore == 0.0;
        level.then_some(Self {
            radius: shape.radius,
            width: shape.width,
            thickness: shape.thickness,
            cut: shape.cut,
        })
    }

    /// Changes one length, as [`Shape::put`] does; false where it leads to another kind, or to none.
    #[inline]
    pub fn put(&mut self, field: FieldId, value: f64) -> bool {
        match field {
            FieldId::Size => self.radius = value / 2.0,
            FieldId::Width => self.width = value,
            FieldId::Thickness => self.thickness = value,
            _ => return false,
        }
        true
    }

    /// Its volumes; none where it cannot be ([`super::impossible`]).
    #[inline]
    #[must_use]
    pub fn volumes(&self) -> Option<SolidVolumes> {
        if self.thickness <= WRITTEN || self.width / 2.0 <= WRITTEN {
            return None;
        }
        if let Some(cut) = &self.cut {
            let even = cut.drawn || self.thickness - cut.depth > COMPUTED;
            if !even || cut.mean_depth > cut.depth + WRITTEN {
                return None;
            }
        }
        let outer = Integrals::level(self.width, self.thickness);
        let inner = Integrals::level(self.width, 0.0);
        Some(SolidVolumes::of(
            self.radius,
            self.cut.as_ref(),
            (outer, inner),
        ))
    }
}
