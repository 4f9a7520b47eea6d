//! The lengths of a shape by field: what each is, and the shape with one of them changed.

use crate::schema::FieldId;

use super::shape::{Catch, Outside, Shape};

impl Shape {
    /// The shape with one field changed; the same shape where it has no such field.
    #[must_use]
    pub fn with(&self, field: FieldId, value: f64) -> Self {
        let mut shape = self.clone();
        shape.put(field, value);
        shape
    }

    /// Changes one field; false where it has no such field.
    pub fn put(&mut self, field: FieldId, value: f64) -> bool {
        let place = match (field, &mut self.outside, &mut self.cut, &mut self.hollow) {
            (FieldId::Size, ..) => {
                self.radius = value / 2.0;
                return true;
            }
            (FieldId::Width, ..) => &mut self.width,
            (FieldId::Thickness, ..) => &mut self.thickness,
            (FieldId::Comfort, ..) => &mut self.comfort,
            (FieldId::EaseOuter, ..) => &mut self.ease_outer,
            (FieldId::EaseBore, ..) => &mut self.ease_bore,
            (
                FieldId::ProfileEdge,
                Outside::Domed { edge } | Outside::KnifeEdge { edge, .. },
                ..,
            ) => edge,
            (FieldId::ProfileAcross, Outside::Bevelled { across, .. }, ..) => across,
            (FieldId::ProfileDown, Outside::Bevelled { down, .. }, ..) => down,
            (FieldId::ProfileCrown, Outside::KnifeEdge { crown, .. }, ..) => crown,
            (FieldId::ProfileDip, Outside::Concave { dip }, ..) => dip,
            (FieldId::PatternDepth, _, Some(cut), _) => {
                if cut.even {
                    cut.mean_depth = value;
                }
                &mut cut.depth
            }
            (FieldId::PatternMeanDepth, _, Some(cut), _) => &mut cut.mean_depth,
            (FieldId::PatternCover, _, Some(cut), _) => &mut cut.cover,
            (FieldId::HollowShell, .., Some(hollow)) => &mut hollow.wall,
            (FieldId::HollowShellNose, .., Some(hollow)) => &mut hollow.nose,
            (FieldId::HollowSleeve, .., Some(hollow)) => &mut hollow.sleeve,
            (FieldId::HollowSleeveRelief, .., Some(hollow)) => {
                hollow.relief = Some(value);
                return true;
            }
            (field, .., Some(hollow)) => match (field, &mut hollow.catch) {
                (
                    FieldId::HollowRidge | FieldId::HollowLip,
                    Catch::Ridge { height, .. } | Catch::Lip { height, .. },
                ) => height,
                (
                    FieldId::HollowRidgeWide | FieldId::HollowLipWide,
                    Catch::Ridge { wide, .. } | Catch::Lip { wide, .. },
                ) => wide,
                _ => return false,
            },
            _ => return false,
        };
        *place = value;
        true
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
