//! The least set of measured figures without which the others agree: what to measure again.

use crate::schema::FieldId;

use super::measured::Measured;

/// Some figures to measure again; none where no three of them do.
pub type Again = [Option<FieldId>; 3];

/// The first least set of figures, in their order, without which what is left is sound.
pub(super) fn again(measured: &Measured, sound: &dyn Fn(&Measured) -> bool) -> Again {
    let stated: Vec<FieldId> = measured.stated().collect();
    let most = stated.len().min(3);
    (1..=most)
        .find_map(|count| without(*measured, &stated, count, sound))
        .unwrap_or_default()
}

/// Some of the fields, as many as are asked for, without which the figures are sound.
fn without(
    measured: Measured,
    fields: &[FieldId],
    count: usize,
    sound: &dyn Fn(&Measured) -> bool,
) -> Option<Again> {
    if count == 0 {
        return sound(&measured).then_some(Again::default());
    }
    fields.iter().enumerate().find_map(|(place, field)| {
        let rest = fields.get(place + 1..)?;
        let mut found = without(measured.without(*field), rest, count - 1, sound)?;
        // The later ones were put first.
        found.rotate_right(1);
        found[0] = Some(*field);
        Some(found)
    })
}
