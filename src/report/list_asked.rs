//! A listing by the words that a person asks for it with, or what to say where there is none.

use serde_json::{Value as Json, json};

use crate::catalogue;
use crate::source::printable;
use crate::suggest::{listed, nearest};

use super::list::{Listing, among, listing, of_band, table};
use super::list_size::one_size;
use super::page::lines_fitted;
use super::table::listed as table_listed;

/// The listing of some words: what, and perhaps one row of it.
///
/// # Errors
/// What to say where there is no such list, or no such row.
///
/// # Example
/// ```
/// use annulet::report::list;
/// assert!(list("alloys", Some("sterling"), 80).unwrap().contains("925"));
/// assert_eq!(list("alloy", None, 80).unwrap_err(), "there is no list of `alloy`; did you mean `alloys`?");
/// ```
pub fn list(what: &str, name: Option<&str>, width: usize) -> Result<String, String> {
    if what.is_empty() {
        return Ok(all(width));
    }
    let words = || Listing::ALL.iter().map(|(word, _)| *word);
    let Some((_, found)) = Listing::ALL.iter().find(|(word, _)| *word == what) else {
        let asked = printable(what);
        return Err(match nearest(&asked, words()) {
            Some(near) => format!("there is no list of `{asked}`; did you mean `{near}`?"),
            None => format!(
                "there is no list of `{asked}`; lists are {}",
                listed(words())
            ),
        });
    };
    if let Some(text) = listing(*found, name, width) {
        return Ok(text);
    }
    let size = name.filter(|_| *found == Listing::Sizes);
    if let Some(found) = size.and_then(|name| one_size(name, width)) {
        return found;
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
    let mut begin: Vec<&str> = meant(*found, &known, &name);
    begin.sort_unstable();
    begin.dedup();
    if let Some(text) = some(*found, &begin, width) {
        return Ok(text);
    }
    Err(match nearest(&name, known.iter().map(String::as_str)) {
        Some(near) => format!("`{what}` has no `{name}`; did you mean `{near}`?"),
        None => format!("`{what}` has no `{name}`; `annulet list {what}` shows all"),
    })
}

/// The name that a row begins with, by another of its names.
fn own_name(what: Listing, name: &str) -> &str {
    let alloy = (what == Listing::Alloys).then(|| catalogue::alloy(name));
    alloy.flatten().map_or(name, |alloy| &alloy.name)
}

/// The rows that a name means: those that begin so or, where none does, those with a word in their path that does.
fn meant<'a>(what: Listing, known: &'a [String], name: &str) -> Vec<&'a str> {
    let begins: Vec<&str> = known
        .iter()
        .filter(|known| known.starts_with(name))
        .map(|known| own_name(what, known))
        .collect();
    if !begins.is_empty() {
        return begins;
    }
    let within = |known: &&String| known.split('.').any(|word| word.starts_with(name));
    known.iter().filter(within).map(String::as_str).collect()
}

/// What can be listed.
fn all(width: usize) -> String {
    let rows: Vec<Vec<String>> = Listing::ALL
        .iter()
        .map(|(word, what)| vec![(*word).to_owned(), what.about().to_owned()])
        .collect();
    let end = "a name behind it shows what begins so: `list fields shell`, `list alloys yellow`\n";
    lines_fitted(&format!("{}\n{end}", table_listed(&rows, width)), width)
}

/// The rows of some names, the only one shown whole.
fn some(what: Listing, names: &[&str], width: usize) -> Option<String> {
    match names {
        [] => None,
        [only] => listing(what, Some(only), width),
        several => among(what, &|name| several.contains(&name), width)
            .map(|text| lines_fitted(&text, width)),
    }
}

/// A listing for machines: what it is of, and its rows by column, or its text where it has no columns.
#[must_use]
pub fn list_json(what: &str, name: Option<&str>, text: &str) -> Json {
    let found = Listing::ALL.iter().find(|(word, _)| *word == what);
    if let Some((_, Listing::Schema)) = found {
        return json!({ "list": what, "of": name, "rows": [], "text": text });
    }
    let known = found.map_or_else(Vec::new, |(_, what)| rows(*what));
    let wanted = found.zip(name);
    let wanted = wanted.map(|((_, what), name)| meant(*what, &known, name));
    let meant = |row: &str| {
        wanted
            .as_ref()
            .is_none_or(|all| all.contains(&of_band(row)))
    };
    let table = found.and_then(|(_, what)| table(*what));
    let Some((head, all)) = table.as_ref().and_then(|all| all.split_first()) else {
        return json!({ "list": what, "of": name, "rows": [], "text": text });
    };
    let rows: Vec<Json> = all
        .iter()
        .filter(|row| row.first().is_some_and(|first| meant(first)))
        .map(|row| {
            let cells = head.iter().zip(row);
            let cells = cells.map(|(head, cell)| (head.clone(), json!(cell)));
            Json::Object(cells.collect())
        })
        .collect();
    // One row alone is shown with all its figures, which are no columns.
    let text = name.filter(|_| rows.len() < 2).map(|_| text);
    json!({ "list": what, "of": name, "rows": rows, "text": text })
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
        Listing::Units | Listing::Results | Listing::Fields | Listing::Moved => first_cells(what),
        Listing::Schema => Vec::new(),
    }
}

fn first_cells(what: Listing) -> Vec<String> {
    let rows = table(what).unwrap_or_default();
    let cells = rows.iter().skip(1).filter_map(|row| row.first());
    cells.map(|cell| of_band(cell).to_owned()).collect()
}
