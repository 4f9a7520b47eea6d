//! Which known word was meant: the one threshold that all findings share.
//!
//! Input: the word written and the words that would be right *in that place*. Output: the nearest
//! one, or none. Distance is counted in single edits and swaps (Damerau and Levenshtein's, by the
//! `strsim` crate). What words are right in a place is the caller's business, so a unit is only
//! ever replaced by a unit of the dimension due.

/// The nearest of `known` to `word`, when near enough to be what was meant.
///
/// Near enough is one edit for up to three characters and a third of the length beyond that, and
/// something left in common; letter case alone never counts as a difference.
///
/// # Example
/// ```
/// use annulet::suggest::nearest;
/// assert_eq!(nearest("widht", ["width", "size"]), Some("width"));
/// assert_eq!(nearest("colour", ["width", "size"]), None);
/// assert_eq!(nearest("d", ["m"]), None);
/// ```
#[must_use]
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let written = word.to_lowercase();
    let length = written.chars().count();
    if length > LONGEST {
        return None;
    }
    let allowed = if length <= 3 { 1 } else { length.div_ceil(3) };
    known
        .into_iter()
        .map(|candidate| {
            (
                strsim::damerau_levenshtein(&written, &candidate.to_lowercase()),
                candidate,
            )
        })
        .filter(|(distance, candidate)| {
            *distance <= allowed && *distance < candidate.chars().count().max(length)
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

/// Words longer than this are not compared: the work grows with the square of the length.
const LONGEST: usize = 64;

/// Words as a person lists them: `a, b or c`.
///
/// # Example
/// ```
/// assert_eq!(annulet::suggest::listed(["mm", "cm", "in"]), "mm, cm or in");
/// ```
#[must_use]
pub fn listed<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let words: Vec<&str> = words.into_iter().collect();
    match words.split_last() {
        None => String::new(),
        Some((last, [])) => (*last).to_owned(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}
