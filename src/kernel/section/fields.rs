//! The lengths of a shape by field: what each is, and the shape with one of them changed.

use crate::schema::FieldId;

use super::shape::{Catch, Outside, Shape};

impl Shape {
    /// The shape with one field changed; the same shape where it has no such field.
    #[must_use]
    pub fn with(&self, field: FieldId, value: f64) -> Self {
        let mut shape = self.clone();
        match (field, &mut shape.outside) {
            (FieldId::ProfileEdge, Outside::Domed { edge } | Outside::KnifeEdge { edge, .. }) => {
                *edge = value
            }
            (FieldId::ProfileAcross, Outside::Bevelled { across, .. }) => *across = value,
            (FieldId::ProfileDown, Outside::Bevelled { down, .. }) => *down = value,
            (FieldId::ProfileCrown, Outside::KnifeEdge { crown, .. }) => *crown = value,
            (FieldId::ProfileDip, Outside::Concave { dip }) => *dip = value,
            _ => {}
        }
        match (field, &mut shape.cut) {
            (FieldId::PatternDepth, Some(cut)) => {
                if cut.even {
                    cut.mean_depth = value;
                }
                cut.depth = value;
            }
            (FieldId::PatternMeanDepth, Some(cut)) => cut.mean_depth = value,
            _ => {}
        }
        match field {
            FieldId::Thickness => shape.thickness = value,
            FieldId::Comfort => shape.comfort = value,
            FieldId::EaseOuter => shape.ease_outer = value,
            FieldId::EaseBore => shape.ease_bore = value,
            _ => {}
        }
        if let Some(hollow) = &mut shape.hollow {
            match (field, &mut hollow.catch) {
                (FieldId::HollowShell, _) => hollow.wall = value,
                (FieldId::HollowShellNose, _) => hollow.nose = value,
                (FieldId::HollowSleeve, _) => hollow.sleeve = value,
                (FieldId::HollowSleeveRelief, _) => hollow.relief = Some(value),
                (
                    FieldId::HollowRidge | FieldId::HollowLip,
                    Catch::Ridge { height, .. } | Catch::Lip { height, .. },
                ) => *height = value,
                (
                    FieldId::HollowRidgeWide | FieldId::HollowLipWide,
                    Catch::Ridge { wide, .. } | Catch::Lip { wide, .. },
                ) => *wide = value,
                _ => {}
            }
        }
        shape
    }

    /// The present value of a field that [`Shape::with`] can change.
    #[must_use]
    pub fn field(&self, field: FieldId) -> Option<f64> {
        Some(self.value(field)).filter(|value| *value > 0.0)
    }

    /// The least that a field can be beside the others as they are stated.
    #[must_use]
    pub fn least(&self, field: FieldId) -> f64 {
        match (field, &self.cut) {
            (FieldId::PatternDepth, Some(cut)) if !cut.even => cut.mean_depth,
            _ => 0.0,
        }
    }

    /// The present value of a field; 0 where it has none.
    fn value(&self, field: FieldId) -> f64 {
        match (field, &self.outside, &self.cut, &self.hollow) {
            (
                FieldId::ProfileEdge,
                Outside::Domed { edge } | Outside::KnifeEdge { edge, .. },
                ..,
            ) => *edge,
            (FieldId::ProfileAcross, Outside::Bevelled { across, .. }, ..) => *across,
            (FieldId::ProfileDown, Outside::Bevelled { down, .. }, ..) => *down,
            (FieldId::ProfileCrown, Outside::KnifeEdge { crown, .. }, ..) => *crown,
            (FieldId::ProfileDip, Outside::Concave { dip }, ..) => *dip,
            (FieldId::PatternDepth, _, Some(cut), _) => cut.depth,
            (FieldId::PatternMeanDepth, _, Some(cut), _) => cut.mean_depth,
            // It follows from a custom outline, and cannot be changed alone.
            (FieldId::Thickness, Outside::Custom(_), ..) => 0.0,
            (FieldId::Thickness, ..) => self.thickness,
            (FieldId::Comfort, ..) => self.comfort,
            (FieldId::EaseOuter, ..) => self.ease_outer,
            (FieldId::EaseBore, ..) => self.ease_bore,
            (FieldId::HollowShell, .., Some(hollow)) => hollow.wall,
            (FieldId::HollowShellNose, .., Some(hollow)) => hollow.nose,
            (FieldId::HollowSleeve, .., Some(hollow)) => hollow.sleeve,
            (FieldId::HollowSleeveRelief, .., Some(hollow)) => hollow.relief.unwrap_or(0.0),
            (field, .., Some(hollow)) => match (field, hollow.catch) {
                (
                    FieldId::HollowRidge | FieldId::HollowLip,
                    Catch::Ridge { height, .. } | Catch::Lip { height, .. },
                ) => height,
                (
                    FieldId::HollowRidgeWide | FieldId::HollowLipWide,
                    Catch::Ridge { wide, .. } | Catch::Lip { wide, .. },
                ) => wide,
                _ => 0.0,
            },
            _ => 0.0,
        }
    }
}
