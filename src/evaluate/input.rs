//! What the kernel needs of a band, as floats.

use crate::geometry::{Cut, Outside};
use crate::model::{AlloyDensity, Band, FieldValue, Profile, Value};
use crate::quantity::to_f64;

/// A band's figures in mm and g/mm3.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Input {
    /// Inside diameter.
    pub bore: f64,
    /// Axial width.
    pub width: f64,
    /// Thickness at the largest outside.
    pub thickness: f64,
    /// Radial opening of the bore at its edges.
    pub comfort: f64,
    /// Outside curve.
    pub outside: Outside,
    /// Density, g/mm3.
    pub density: f64,
    /// The pattern.
    pub cut: Option<Cut>,
    /// Repeats round the band.
    pub repeats: Option<u32>,
}

impl Input {
    /// The nominal figures of a band.
    #[must_use]
    pub fn of(band: &Band) -> Self {
        Self::read(
            band,
            &|_, nominal| nominal,
            band.alloy.density.grams_per_cm3() / 1000.0,
        )
    }

    /// The figures of a band, each length and ratio as `read` gives it from its field and nominal value.
    #[must_use]
    pub fn read(band: &Band, read: &dyn Fn(&FieldValue, f64) -> f64, density: f64) -> Self {
        let length = |path: &str, nominal: f64| {
            band.field(path)
                .map_or(nominal, |field| read(field, nominal))
        };
        let outside = match band.profile {
            Profile::Flat => Outside::Flat,
            Profile::Domed { edge } => Outside::Domed {
                edge: length("profile.edge", edge.to_mm()),
            },
        };
        let cut = band.pattern.map(|pattern| {
            let depth = length("pattern.depth", pattern.depth.to_mm());
            let mean = match band.field("pattern.mean-depth") {
                Some(field) => read(field, pattern.mean_depth.to_mm()),
                None => depth,
            };
            Cut {
                depth,
                mean_depth: mean,
                cover: length("pattern.cover", pattern.cover.to_one()),
            }
        });
        Self {
            bore: length("size", band.inside.diameter.to_f64()),
            width: length("width", band.width.to_mm()),
            thickness: length("thickness", band.thickness.to_mm()),
            comfort: length("comfort", band.comfort.to_mm()),
            outside,
            density,
            cut,
            repeats: band.pattern.and_then(|pattern| pattern.repeats),
        }
    }
}

/// Deviations of a field, by the place of their `±`, in the field's base unit.
pub(super) fn deviations(value: &Value) -> &[crate::quantity::Deviation] {
    match value {
        Value::Quantity { quantity, .. } => &quantity.deviations,
        Value::Size { deviations, .. } => deviations,
        _ => &[],
    }
}

/// Deviations of the stated density, in g/mm3.
pub(super) fn density_deviations(band: &Band) -> &[crate::quantity::Deviation] {
    match &band.alloy.density {
        AlloyDensity::Stated { quantity, .. } => &quantity.deviations,
        AlloyDensity::Derived(_) => &[],
    }
}

/// The least wall that the band is judged by, in mm.
pub(super) fn least_wall(band: &Band) -> f64 {
    to_f64(band.least_wall.value())
}
