//! What the kernel needs of a band, as floats.

use crate::geometry::{Shape, shape_of};
use crate::kernel::join::StretchInput;
use crate::model::{AlloyDensity, Band, FieldValue};
use crate::quantity::Deviation;
use crate::schema::FieldId;

use super::deviations::density_deviations;
use super::join_input::join_input;
use super::marks::Marks;

/// A band's geometry in mm and its densities in g/mm3.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// The geometry.
    pub shape: Shape,
    /// Density of the band's alloy.
    pub density: f64,
    /// Density of the shell.
    pub shell_density: f64,
    /// Density of the sleeve.
    pub sleeve_density: f64,
    /// Repeats of the pattern round the band.
    pub repeats: Option<u32>,
    /// What stretch and join need beside the shape.
    pub stretch: StretchInput,
    /// Depths of struck marks.
    pub marks: Marks,
}

impl Input {
    /// The nominal figures of a band.
    #[must_use]
    pub fn of(band: &Band) -> Self {
        Self::read(band, &|_, nominal| nominal, &|density, _| density)
    }

    /// The figures of a band, each as `read` gives it from its field, each figure of an alloy (density in g/mm3,
    /// strength in Pa) as `dense` gives it from its deviations.
    #[must_use]
    pub fn read(
        band: &Band,
        read: &dyn Fn(&FieldValue, f64) -> f64,
        dense: &dyn Fn(f64, &[Deviation]) -> f64,
    ) -> Self {
        let density =
            |of: &AlloyDensity| dense(of.grams_per_cm3() / 1000.0, density_deviations(of));
        let part = |metal: Option<&crate::model::Metal>| {
            density(&metal.map_or(&band.alloy, |metal| &metal.alloy).density)
        };
        Self {
            shape: shape_of(band, read),
            density: density(&band.alloy.density),
            shell_density: part(band.hollow.as_ref().map(|hollow| &hollow.shell)),
            sleeve_density: part(band.hollow.as_ref().map(|hollow| &hollow.sleeve)),
            repeats: band
                .fields
                .count(FieldId::PatternRepeats)
                .filter(|_| band.is_cut()),
            stretch: join_input(band, read, dense),
            marks: marks(band, read),
        }
    }
}

/// Depths of the marks; where the part is not stated, either may carry it.
fn marks(band: &Band, read: &dyn Fn(&FieldValue, f64) -> f64) -> Marks {
    let deep = band
        .field(FieldId::MarkDeep)
        .zip(band.length(FieldId::MarkDeep));
    let deep = deep.map_or(0.0, |(field, nominal)| read(field, nominal));
    let mark = band.marking.mark.as_ref();
    let on = mark.and_then(|mark| mark.on.as_deref());
    let struck = |part: &str| match on {
        Some(on) if on != part && on != "both" => 0.0,
        _ => deep,
    };
    Marks {
        shell: struck("shell"),
        sleeve: struck("sleeve"),
    }
}

/// The least wall that the band is judged by, in mm.
pub(super) fn least_wall(band: &Band) -> f64 {
    band.length(FieldId::LimitWall).unwrap_or(0.0)
}
