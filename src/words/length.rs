//! Lengths for people: to the micrometre that a maker reads, marked where digits are left out; and as a recipe states them.

use crate::schema::FieldId;

/// Places behind the point that a maker reads, in mm.
const READ: i32 = 3;

/// Places that a nanometre needs, in mm.
const MOST: i32 = 6;

/// A length in mm for reading, with its unit.
pub(super) fn mm(value: f64) -> String {
    format!("{} mm", places(value))
}

/// A length in mm for reading, as a bare number.
pub(super) fn places(value: f64) -> String {
    let [shown] = apart([value]);
    shown
}

/// Lengths in mm that stand beside each other, as bare numbers: with as many places as tell them apart.
pub(super) fn apart<const N: usize>(values: [f64; N]) -> [String; N] {
    let kept = values.map(|value| rounded(value, MOST));
    let told = |places: &i32| {
        let shown = kept.map(|value| rounded(value, *places));
        let mut pairs = (0..).zip(kept.iter().zip(&shown));
        // What is something is not shown as nothing.
        pairs.all(|(place, (value, one))| {
            (*one != 0.0 || *value == 0.0)
                && kept
                    .iter()
                    .zip(&shown)
                    .skip(place + 1)
                    .all(|(other, two)| value == other || one != two)
        })
    };
    let places = (READ..MOST).find(told).unwrap_or(MOST);
    kept.map(|value| {
        let shown = rounded(value, places);
        match shown == value {
            true => format!("{shown}"),
            false => format!("\u{2248} {shown:.0$}", places.unsigned_abs() as usize),
        }
    })
}

/// A length in mm as a recipe states it, as a bare number: put back, it is the same to a nanometre.
pub(super) fn exactly(value: f64) -> String {
    format!("{}", rounded(value, MOST))
}

/// A field with a length in mm, as a recipe states it: `` `ridge 0.1 mm` ``.
pub(super) fn set(field: FieldId, value: f64) -> String {
    format!("`{} {} mm`", field.word(), exactly(value))
}

fn rounded(value: f64, places: i32) -> f64 {
    let times = (0..places).fold(1.0, |times, _| times * 10.0);
    // The sum keeps a zero from having a sign.
    (value * times).round() / times + 0.0
}
