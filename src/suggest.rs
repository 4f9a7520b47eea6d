//! Which known word was meant: the one threshold that all findings share.
//!
//! Input: the word written and the words that would be right *in that place*. Output: the nearest
//! one, or none. Distance is counted in single edits and swaps (Damerau and Levenshtein's, by the
//! `strsim` crate). What words are right in a place is the caller's business. Digits in a name are
//! figures (a fineness, a diameter), so no other figures are ever offered for them.

/// The nearest of `known` to `word`, when near enough to be what was meant.
///
/// Near enough is one edit for up to three characters and a third of the length beyond that, and
/// something left in common; letter case alone never counts as a difference, and digits must be the same.
///
/// # Example
/// ```
/// use annulet::suggest::nearest;
/// assert_eq!(nearest("widht", ["width", "size"]), Some("width"));
/// assert_eq!(nearest("colour", ["width", "size"]), None);
/// assert_eq!(nearest("d", ["m"]), None);
/// assert_eq!(nearest("tube-22", ["tube-20"]), None);
/// ```
#[must_use]
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let written = word.to_lowercase();
    let length = written.chars().count();
    if length > LONGEST {
        return None;
    }
    let allowed = if length <= 3 { 1 } else { length.div_ceil(3) };
    // What differs in length by more than is allowed need not be compared.
    let as_long = |candidate: &&str| candidate.chars().count().abs_diff(length) <= allowed;
    known
        .into_iter()
        .filter(|candidate| as_long(candidate) && figures(word).eq(figures(candidate)))
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

/// What to say of a band that is not there: the one that was meant, or those that are.
///
/// # Example
/// ```
/// use annulet::suggest::of_bands;
/// assert_eq!(of_bands(Some("barley"), ["barley"]), "did you mean `barley`?");
/// assert_eq!(of_bands(None, ["barley"]), "the band is `barley`");
/// assert_eq!(of_bands(None, ["barley", "rye"]), "bands are barley or rye");
/// assert_eq!(of_bands(None, []), "there is no other band");
/// ```
#[must_use]
pub fn of_bands<'a>(near: Option<&str>, bands: impl IntoIterator<Item = &'a str>) -> String {
    if let Some(near) = near {
        return format!("did you mean `{near}`?");
    }
    let bands: Vec<&str> = bands.into_iter().collect();
    match bands.as_slice() {
        [] => "there is no other band".to_owned(),
        [only] => format!("the band is `{only}`"),
        all => format!("bands are {}", listed(all.iter().copied())),
    }
}

/// The name of a metal that was meant: other hyphens or capitals, or one slip in each of its words. A word that
/// itself stands in one of the known names is no slip, since it names another metal.
///
/// # Example
/// ```
/// use annulet::suggest::metal;
/// let known = ["yellow-585", "yellow-750", "rose-750", "silver-925", "gold-999"];
/// assert_eq!(metal("yelow-750", known), Some("yellow-750"));
/// assert_eq!(metal("silver925", known), Some("silver-925"));
/// assert_eq!(metal("gold-750", known), None);
/// assert_eq!(metal("yellow-785", known), None);
/// ```
#[must_use]
pub fn metal<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let known: Vec<&str> = known.into_iter().collect();
    let written = word.to_lowercase();
    if written.chars().count() > LONGEST {
        return None;
    }
    if let Some(same) = known.iter().find(|name| joined(name) == joined(word)) {
        return Some(same);
    }
    let is_known = |word: &str| {
        known
            .iter()
            .any(|name| name.split('-').any(|one| one == word))
    };
    let slip = |word: &str, meant: &str| {
        word == meant
            || !is_known(word)
                && figures(word).eq(figures(meant))
                && word.chars().count() > 2
                && strsim::damerau_levenshtein(word, meant) <= 1
    };
    let mut meant = known.iter().copied().filter(|name| {
        let (words, names) = (written.split('-'), name.split('-'));
        words.clone().count() == names.clone().count()
            && words.zip(names).all(|(word, name)| slip(word, name))
    });
    let first = meant.next()?;
    meant.next().is_none().then_some(first)
}

/// Whether a word can be put in place of another without asking: they differ in capitals alone, or in one
/// letter too many, one too few or two that changed places, in a word long enough to be no other.
///
/// # Example
/// ```
/// use annulet::suggest::certain;
/// assert!(certain("widht", "width") && certain("uk", "UK"));
/// assert!(!certain("edge", "ease") && !certain("shell-a", "shell-b"));
/// ```
#[must_use]
pub fn certain(word: &str, meant: &str) -> bool {
    let (written, meant) = (word.to_lowercase(), meant.to_lowercase());
    if written == meant {
        return true;
    }
    let (length, other) = (written.chars().count(), meant.chars().count());
    let changed = length == other && strsim::levenshtein(&written, &meant) < 2;
    length.min(other) >= 5
        && length <= LONGEST
        && !changed
        && figures(&written).chain(figures(&meant)).next().is_none()
        && strsim::damerau_levenshtein(&written, &meant) == 1
}

/// The digits of a word.
fn figures(word: &str) -> impl Iterator<Item = char> {
    word.chars().filter(char::is_ascii_digit)
}

/// A name without what only joins its words, in small letters.
fn joined(name: &str) -> String {
    let letters = name.chars().filter(|c| !matches!(c, '-' | '_'));
    letters.flat_map(char::to_lowercase).collect()
}

/// Words longer than this are not compared: the work grows with the square of the length.
const LONGEST: usize = 64;

/// How many words are listed; more are counted.
const MOST_LISTED: usize = 60;

/// Words as a person lists them: `a, b or c`. Of very many only the first are named.
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
        Some(_) if words.len() > MOST_LISTED => {
            let named: Vec<&str> = words.iter().copied().take(MOST_LISTED).collect();
            format!(
                "{} and {} more",
                named.join(", "),
                words.len() - MOST_LISTED
            )
        }
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}
