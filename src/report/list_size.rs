//! One ring size of a system beside the nearest of every other.

use crate::catalogue;
use crate::quantity::{Number, RingSize, SizeError, from_f64};

use super::number::{Digits, shown, signed};
use super::table::{fitted, row};

/// The size that a text such as `US 7 1/2` means, beside the nearest of the other systems; none where its first word
/// is no system.
///
/// # Errors
/// What to say where the system has no such size.
pub(super) fn one_size(text: &str, width: usize) -> Option<Result<String, String>> {
    let (word, designation) = text.trim().split_once(char::is_whitespace)?;
    let system = catalogue::system(word)?;
    let designation = designation.trim();
    let size = match RingSize::read(system, designation) {
        Ok(size) => size,
        Err(error) => {
            let why = match error {
                SizeError::Form => "is not how it writes sizes",
                SizeError::Between(..) => "lies between its steps",
                SizeError::Range => "lies outside its range",
            };
            return Some(Err(format!(
                "`{}` of {word} {why}; `annulet list sizes {word}` shows them all",
                crate::source::printable(designation)
            )));
        }
    };
    let inside = size.circumference().to_f64();
    let mm = |value| shown(Number::computed(value), 2, Digits::Useful).marked();
    let mut rows = vec![row(["nearest", "this one's circumference less its, mm"])];
    for other in catalogue::systems()
        .iter()
        .filter(|one| one.word != system.word)
    {
        let Some(near) = RingSize::nearest(other, inside) else {
            continue;
        };
        let off = from_f64(inside - near.circumference().to_f64()).unwrap_or_default();
        rows.push(vec![near.to_string(), signed(off, 2)]);
    }
    Some(Ok(format!(
        "{size}\ninside \u{D8} {} mm, circumference {} mm\n\n{}",
        mm(size.diameter()),
        mm(inside),
        fitted(&rows, 0, width)
    )))
}
