//! A listing by the words that a person asks for it with, or what to say where there is none.

use crate::catalogue;
use crate::source::printable;
use crate::suggest::{listed, nearest};

use super::list::{Listing, listing};

/// The listing of some words: what, and perhaps one row of it.
///
/// # Errors
/// What to say where there is no such list, or no such row.
///
/// # Example
/// ```
/// use annulet::report::list;
/// assert!(list("alloys", Some("sterling")).unwrap().contains("925"));
/// assert_eq!(list("alloy", None).unwrap_err(), "there is no list of `alloy`; did you mean `alloys`?");
/// ```
pub fn list(what: &str, name: Option<&str>) -> Result<String, String> {
    let words = || Listing::ALL.iter().map(|(word, _)| *word);
    let Some((_, found)) = Listing::ALL.iter().find(|(word, _)| *word == what) else {
        let asked = printable(what);
        if asked.is_empty() {
            return Err(format!("list what? there are {}", listed(words())));
        }
        return Err(match nearest(&asked, words()) {
            Some(near) => format!("there is no list of `{asked}`; did you mean `{near}`?"),
            None => format!(
                "there is no list of `{asked}`; lists are {}",
                listed(words())
            ),
        });
    };
    if let Some(text) = listing(*found, name) {
        return Ok(text);
    }
    let name = printable(name.unwrap_or(""));
    let undefined = catalogue::undefined().iter();
    let undefined = undefined
        .filter(|_| *found == Listing::Sizes)
        .find(|one| one.word == name);
    if let Some(undefined) = undefined {
        return Err(format!(
            "`{name}` is not a defined size system: {}",
            undefined.reason
        ));
    }
    let known = rows(*found);
    Err(match nearest(&name, known.iter().map(String::as_str)) {
        Some(near) => format!("`{what}` has no `{name}`; did you mean `{near}`?"),
        None => format!("`{what}` has no `{name}`; `annulet list {what}` shows all"),
    })
}

/// The names of the rows of a listing.
#[must_use]
pub fn rows(what: Listing) -> Vec<String> {
    match what {
        Listing::Alloys => catalogue::alloy_names().map(str::to_owned).collect(),
        Listing::Rules => catalogue::rulebook_words().map(str::to_owned).collect(),
        Listing::Sizes => catalogue::system_words().map(str::to_owned).collect(),
        Listing::Profiles => crate::schema::PROFILES
            .iter()
            .map(|kind| (*kind).to_owned())
            .collect(),
        Listing::Units | Listing::Results | Listing::Fields | Listing::Schema => Vec::new(),
    }
}
