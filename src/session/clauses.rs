//! The clauses of what is asked of many what-ifs: `AXES show PATHS where CONDITIONS least PATH`.

/// A text in its clauses: what stands first, and each word of some with what stands behind it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clauses<'t> {
    /// What stands before the first of the words.
    pub first: &'t str,
    /// The words in their order, each with what stands behind it.
    pub rest: Vec<(&'t str, &'t str)>,
}

/// Splits a text at some words that stand outside brackets and quotes.
///
/// # Example
/// ```
/// use annulet::session::clauses;
/// let said = clauses("shell [0.4 mm, 0.5 mm] show weight", &["show", "where"]);
/// assert_eq!(said.first, "shell [0.4 mm, 0.5 mm]");
/// assert_eq!(said.rest, [("show", "weight")]);
/// ```
#[must_use]
pub fn clauses<'t>(text: &'t str, words: &[&str]) -> Clauses<'t> {
    let mut cuts = Vec::new();
    for (start, end) in outside(text, &|c| c.is_whitespace()) {
        let word = text.get(start..end).unwrap_or("");
        if words.contains(&word) {
            cuts.push((start, end));
        }
    }
    let until = |place: usize| cuts.get(place).map_or(text.len(), |(start, _)| *start);
    let part = |from: usize, to: usize| text.get(from..to).unwrap_or("").trim();
    let rest = cuts.iter().enumerate();
    Clauses {
        first: part(0, until(0)).trim_end_matches(',').trim_end(),
        rest: rest
            .map(|(place, (start, end))| {
                let behind = part(*end, until(place + 1));
                (part(*start, *end), behind.trim_end_matches(',').trim_end())
            })
            .collect(),
    }
}

/// The parts of a text between commas outside brackets and quotes; empty ones left out. A comma tight between digits
/// parts nothing: whoever reads the part says that it may be a decimal mark.
///
/// # Example
/// ```
/// use annulet::session::listed_parts;
/// assert_eq!(listed_parts("a [1, 2], min(b, c)"), ["a [1, 2]", "min(b, c)"]);
/// ```
#[must_use]
pub fn listed_parts(text: &str) -> Vec<&str> {
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let mut parts: Vec<(usize, usize)> = Vec::new();
    for (start, end) in outside(text, &|c| c == ',') {
        let before = text.get(..start).and_then(|text| text.strip_suffix(','));
        let last = before.and_then(|before| before.chars().next_back());
        let next = text.get(start..).and_then(|behind| behind.chars().next());
        match parts.last_mut().filter(|_| digit(last) && digit(next)) {
            Some(part) => part.1 = end,
            None => parts.push((start, end)),
        }
    }
    let parts = parts.into_iter();
    let parts = parts.map(|(start, end)| text.get(start..end).unwrap_or("").trim());
    parts.filter(|part| !part.is_empty()).collect()
}

/// The stretches of a text between separators outside brackets and quotes.
fn outside(text: &str, separates: &dyn Fn(char) -> bool) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let (mut depth, mut quoted, mut start) = (0_usize, false, 0);
    for (place, c) in text.char_indices() {
        match c {
            '"' => quoted = !quoted,
            _ if quoted => {}
            '[' | '(' => depth += 1,
            ']' | ')' => depth = depth.saturating_sub(1),
            _ if depth == 0 && separates(c) => {
                found.push((start, place));
                start = place + c.len_utf8();
            }
            _ => {}
        }
    }
    found.push((start, text.len()));
    found.retain(|(start, end)| start < end);
    found
}
