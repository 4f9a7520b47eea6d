//! Figures that are hardly meant, asked about: they can be, so they are taken all the same.

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::quantity::Number;
use crate::schema::FieldId;

use super::error::ModelError;
use super::values::Values;

/// Asks about the figures of a band.
pub(super) fn unlikely(values: &Values, findings: &mut Vec<Finding>) {
    let friction = values.get(FieldId::HollowFriction);
    let written = friction.and_then(|value| value.at.zip(value.value.quantity()));
    if let Some((at, friction)) = written
        && friction
            .number
            .compared(Number::Exact(Decimal::ONE))
            .is_gt()
    {
        let hundredth = friction.number.over(Number::Exact(Decimal::ONE_HUNDRED));
        findings.push(
            ModelError::Unlikely {
                at,
                field: "friction".to_owned(),
                found: friction.number.to_string(),
                usual: "metal on metal lies under 1",
                help: hundredth.map_or_else(String::new, |less| {
                    format!("write `friction {less}` if that is meant")
                }),
            }
            .into(),
        );
    }
}
