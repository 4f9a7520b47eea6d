//! The ends of a text whose characters fit.

/// The longest start of a text whose characters all fit.
pub(super) fn leading(text: &str, fits: impl Fn(char) -> bool) -> &str {
    let end = text.find(|c| !fits(c)).unwrap_or(text.len());
    text.get(..end).unwrap_or("")
}

/// The longest end of a text whose characters all fit.
pub(super) fn trailing(text: &str, fits: impl Fn(char) -> bool) -> &str {
    let start = text.rfind(|c: char| !fits(c)).map_or(0, |place| {
        place
            + text
                .get(place..)
                .and_then(|t| t.chars().next())
                .map_or(1, char::len_utf8)
    });
    text.get(start..).unwrap_or("")
}
