//! The `±` of a value, each with the variable that it is.

use crate::model::{AlloyDensity, Value};
use crate::quantity::Deviation;

/// Deviations of a field, by the place of their `±`, in the field's base unit.
pub(super) fn deviations(value: &Value) -> &[Deviation] {
    match value {
        Value::Quantity { quantity, .. } => &quantity.deviations,
        Value::Size { deviations, .. } => deviations,
        _ => &[],
    }
}

/// Deviations of a stated density, in g/mm3.
pub(super) fn density_deviations(density: &AlloyDensity) -> &[Deviation] {
    match density {
        AlloyDensity::Stated { quantity, .. } => &quantity.deviations,
        AlloyDensity::Derived(_) => &[],
    }
}
