//! What fits at the cursor: commands, fields of the place, units of the dimension due, names.
//!
//! Input: a bench, the text typed so far and the cursor. Output: where the word begins that is completed, and
//! what it can become. Nothing is evaluated.

use crate::catalogue;
use crate::model::Value;
use crate::quantity::{Dimension, unit};
use crate::report::{Listing, rows};
use crate::schema::{self, BlockId, FieldId, PROFILES, Takes};
use crate::syntax::TOP_WORDS;

use super::due::{Candidate, dimension};
use super::offered::{alloys, bands, claim, forms, metals, own_names, sizes, tempers, units};
use super::words::{Then, WORDS, command};
use super::{Bench, block_paths, help};

/// The place of the cursor: the blocks around it, and the entry that it stands in.
#[derive(Debug, Default)]
struct Place<'t> {
    /// The headers of the open blocks, outermost first.
    holders: Vec<&'t str>,
    /// The entry up to the word that is completed.
    before: &'t str,
    /// The word itself.
    word: &'t str,
}

/// What the word before the cursor can become.
///
/// # Example
/// ```
/// use annulet::bench::{Bench, NoFiles, complete};
/// let mut bench = Bench::new(Box::new(NoFiles), None);
/// let line = "band b { width 4.5 m";
/// let (start, words) = complete(&mut bench, line, line.len());
/// assert_eq!((start, words.join(" ")), (19, "mm m".to_owned()));
/// ```
pub fn complete(bench: &mut Bench, text: &str, cursor: usize) -> (usize, Vec<Candidate>) {
    let text = text.get(..cursor).unwrap_or(text);
    let Some(place) = place(text) else {
        return (cursor, Vec::new());
    };
    let start = cursor - place.word.len();
    let mut found = candidates(bench, &place);
    found.retain(|one| one.starts_with(place.word));
    let mut seen = std::collections::BTreeSet::new();
    found.retain(|one| seen.insert(one.clone()));
    (start, in_steps(found, place.word))
}

/// More paths than this are shown by their beginnings.
const MOST: usize = 24;

/// Candidates or, where they are too many to read, what each begins with up to its next point; in their order.
fn in_steps(found: Vec<Candidate>, word: &str) -> Vec<Candidate> {
    if found.len() <= MOST {
        return found;
    }
    let mut seen = std::collections::BTreeSet::new();
    let step = |one: Candidate| {
        let behind = one.get(word.len()..).unwrap_or("");
        match behind.find('.') {
            Some(point) => one.get(..=word.len() + point).unwrap_or(&one).to_owned(),
            None => one,
        }
    };
    let steps = found.into_iter().map(step);
    steps.filter(|one| seen.insert(one.clone())).collect()
}

/// Where the end of a text stands; none inside a comment or between quotes.
fn place(text: &str) -> Option<Place<'_>> {
    let mut holders: Vec<&str> = Vec::new();
    let (mut start, mut round, mut quoted, mut comment) = (0, 0_usize, false, false);
    for (at, c) in text.char_indices() {
        if comment {
            if c == '\n' {
                comment = false;
                start = at + 1;
            }
            continue;
        }
        match c {
            '"' => quoted = !quoted,
            _ if quoted => {}
            '#' => comment = true,
            '(' | '[' => round += 1,
            ')' | ']' => round = round.saturating_sub(1),
            '{' => {
                holders.push(text.get(start..at).unwrap_or("").trim());
                start = at + 1;
            }
            '}' => {
                holders.pop();
                start = at + 1;
            }
            '\n' => start = at + 1,
            ',' if round == 0 => start = at + 1,
            _ => {}
        }
    }
    if quoted || comment {
        return None;
    }
    let entry = text.get(start..).unwrap_or("");
    let begins = entry
        .char_indices()
        .rev()
        .take_while(|(_, c)| !c.is_whitespace() && !matches!(c, '(' | '[' | ',' | '='))
        .last()
        .map_or(entry.len(), |(at, _)| at);
    Some(Place {
        holders,
        before: entry.get(..begins).unwrap_or(""),
        word: entry.get(begins..).unwrap_or(""),
    })
}

fn candidates(bench: &mut Bench, place: &Place<'_>) -> Vec<Candidate> {
    let before = place.before.trim();
    let (Some(outer), inner) = (place.holders.first(), place.holders.get(1..)) else {
        return at_the_top(bench, place, before);
    };
    // A command can stand before what is typed in a block: `try hollow { shell 0.5 mm }`.
    let outer = command(outer).map_or(*outer, |(_, rest)| rest);
    let mut words = outer.split_whitespace();
    let head = words.next().unwrap_or("");
    let block = BlockId::of_word(head).filter(|block| !block.is_of_band());
    let is_named = words.clone().next().is_some();
    let mut path = match head {
        "band" | "variant" => String::new(),
        "profile" if words.count() > 1 => head.to_owned(),
        // Without a name it is the field of a band.
        word if block.is_some_and(|block| is_named || block != BlockId::Alloy) => word.to_owned(),
        word if TOP_WORDS.contains(&word) && word != "profile" => return Vec::new(),
        word => full(word),
    };
    for holder in inner.unwrap_or(&[]) {
        let word = holder.split_whitespace().next().unwrap_or("");
        path = if path.is_empty() {
            word.to_owned()
        } else {
            format!("{path}.{word}")
        };
    }
    if before.is_empty() {
        let in_block = schema::held_in_blocks(&path).flat_map(|field| {
            // Words in capitals stand for names of the recipe's own.
            match field.id {
                FieldId::PricesMetal => metals(bench),
                FieldId::AlloyMetal => catalogue::element_names().map(str::to_owned).collect(),
                FieldId::OrderBand => bands(bench),
                _ => vec![field.word().to_owned()],
            }
        });
        let mut words: Vec<Candidate> = schema::held_by(&path)
            .filter(|_| block.is_none())
            .map(|field| field.word().to_owned())
            .chain(in_block)
            .collect();
        if path.is_empty() {
            words.push("without".to_owned());
        }
        return words;
    }
    behind_a_field(bench, &path, place, before)
}

/// On a line of its own.
fn at_the_top(bench: &mut Bench, place: &Place<'_>, before: &str) -> Vec<Candidate> {
    if let Some((word, rest)) = command(before).filter(|_| !before.is_empty()) {
        return match word.then {
            Then::Nothing => Vec::new(),
            Then::Sizes => sizes(rest),
            Then::Field if rest.is_empty() => field_paths(bench, place.word),
            Then::Field => behind_a_field(bench, "", place, rest),
            Then::Varied(clauses) => varied(bench, place, rest, clauses),
            Then::Band => {
                let mut names = bands(bench);
                let more: &[&str] = match word.word {
                    "compare" | "section" => &[crate::session::SOLID],
                    "contour" => &["shell", "sleeve", "finished", "nose", "step", "csv"],
                    "strip" => &["finished"],
                    _ => &[],
                };
                names.extend(more.iter().map(|word| (*word).to_owned()));
                names
            }
            Then::Path => in_an_expression(bench, place, rest, None),
            Then::File => bench.files.beginning(place.word),
            Then::Listing if rest.is_empty() => Listing::ALL
                .iter()
                .map(|(word, _)| (*word).to_owned())
                .collect(),
            Then::Listing => {
                let what = Listing::ALL.iter().find(|(word, _)| *word == rest);
                what.map_or_else(Vec::new, |(_, what)| rows(*what))
            }
            Then::Order => {
                let orders = bench.outcome.recipe.orders.iter();
                orders.filter_map(|order| order.name.clone()).collect()
            }
            Then::Topic => help::topics().map(str::to_owned).collect(),
            Then::Words(words) => {
                let words = words.iter().map(|word| (*word).to_owned());
                let bands = bands(bench).into_iter();
                words.chain(bands.filter(|_| word.word == "eval")).collect()
            }
        };
    }
    if before.is_empty() {
        let words = WORDS.iter().map(|word| word.word.to_owned());
        let blocks = TOP_WORDS.iter().map(|word| (*word).to_owned());
        let mut all = own_names(bench);
        all.extend(words.chain(blocks));
        // An empty line could begin with anything; paths wait for a letter.
        if !place.word.is_empty() {
            all.extend(paths(bench, place.word));
        }
        return all;
    }
    let head = before.split_whitespace().next().unwrap_or("");
    match head {
        "variant" => match before.split_whitespace().nth(1) {
            None => Vec::new(),
            Some(_) if before.ends_with(" of") => bands(bench),
            Some(_) => vec!["of".to_owned()],
        },
        "use" => bench.files.beginning(place.word),
        "require" => {
            let rest = before.strip_prefix("require").unwrap_or(before).trim();
            in_an_expression(bench, place, rest, None)
        }
        "stock" if before.split_whitespace().count() == 2 => forms(),
        _ if !schema::matching(head).is_empty() => behind_a_field(bench, "", place, before),
        "let" => {
            let name = before.split_whitespace().nth(1).unwrap_or("");
            let due = dimension_of_let(bench, name);
            in_an_expression(bench, place, before, due)
        }
        _ => {
            let due = dimension_of_let(bench, head).or_else(|| block_paths::due(bench, head));
            in_an_expression(bench, place, before, due)
        }
    }
}

/// Behind the word of a field: what its value can be.
fn behind_a_field(
    bench: &mut Bench,
    holder: &str,
    place: &Place<'_>,
    before: &str,
) -> Vec<Candidate> {
    let (head, rest) = before
        .split_once(char::is_whitespace)
        .map_or((before, ""), |(head, rest)| (head, rest.trim()));
    if head == "without" {
        return vec!["hollow".to_owned(), "pattern".to_owned()];
    }
    // A `let` of that name is meant before a field's short word.
    if holder.is_empty() && schema::find(head).is_none() {
        let due = dimension_of_let(bench, head);
        if due.is_some() {
            return in_an_expression(bench, place, rest, due);
        }
    }
    let path = if holder.is_empty() {
        full(unqualified(bench, head))
    } else {
        format!("{holder}.{head}")
    };
    let Some(field) = schema::find(&path).or_else(|| schema::find_in_blocks(&path)) else {
        let is_price = holder == "prices" && metals(bench).iter().any(|metal| metal == head);
        let due = match is_price {
            true => Some(Dimension::MONEY_BY_MASS),
            false => block_paths::due(bench, head),
        };
        return in_an_expression(bench, place, rest, due);
    };
    match field.takes {
        Takes::Alloy => alloys(bench),
        Takes::Temper => tempers(bench),
        _ if field.id == FieldId::AlloyTemper => tempers(bench),
        Takes::Profile => {
            let named = bench.prepared.named("profile").into_iter();
            PROFILES
                .iter()
                .map(|word| (*word).to_owned())
                .chain(named)
                .collect()
        }
        Takes::Word(words) if rest.is_empty() => {
            words.iter().map(|word| (*word).to_owned()).collect()
        }
        Takes::Stock => bench.prepared.named("stock"),
        Takes::Size if ends_in_number(rest) && catalogue::system(first_word(rest)).is_none() => {
            units(Dimension::LENGTH)
        }
        Takes::Size => sizes(rest),
        Takes::Count | Takes::Steps | Takes::Number if ends_in_number(rest) => Vec::new(),
        Takes::Text | Takes::Block | Takes::Word(_) => Vec::new(),
        _ => {
            let mut all = in_an_expression(bench, place, rest, dimension(field));
            if let Takes::LengthOr(word) = field.takes
                && rest.is_empty()
            {
                all.insert(0, word.to_owned());
            }
            all
        }
    }
}

/// Behind `sweep`, `solve` and `choose`: fields with their values, then what is said behind each clause.
fn varied(bench: &mut Bench, place: &Place<'_>, rest: &str, clauses: &[&str]) -> Vec<Candidate> {
    let last = |clause: &&str| {
        let places = rest.match_indices(*clause).map(|(at, _)| at);
        let whole = places.filter(|at| {
            let (before, behind) = rest.split_at(*at);
            let behind = behind.strip_prefix(*clause).unwrap_or(behind);
            (before.is_empty() || before.ends_with(' '))
                && (behind.is_empty() || behind.starts_with(' '))
        });
        whole.last().map(|at| (at, (*clause).to_owned()))
    };
    let clause = clauses.iter().filter_map(last).max();
    let (piece, behind) = match &clause {
        Some((at, clause)) => (rest.get(at + clause.len()..).unwrap_or("").trim(), true),
        None => (outside_lists(rest), false),
    };
    let mut found = match (behind, piece.is_empty() || piece.ends_with(',')) {
        (false, true) => return field_paths(bench, place.word),
        (false, false) => behind_a_field(bench, "", place, piece),
        (true, true) => return in_an_expression(bench, place, "", None),
        (true, false) => in_an_expression(bench, place, piece, None),
    };
    // A value that is whole may be followed by a clause.
    let open = ["..", "by", "+", "-", "*", "/", "=", "<=", ">=", "<", ">"];
    let is_open = piece
        .split_whitespace()
        .last()
        .is_some_and(|last| open.contains(&last));
    if !is_open && !ends_in_number(piece) && (behind || piece.contains(' ')) {
        found.splice(0..0, clauses.iter().map(|clause| (*clause).to_owned()));
    }
    found
}

/// What stands behind the last comma that is in no list.
fn outside_lists(text: &str) -> &str {
    let mut depth = 0_i32;
    let mut start = 0;
    for (at, c) in text.char_indices() {
        match c {
            '[' => depth += 1,
            ']' => depth -= 1,
            ',' if depth == 0 => start = at + 1,
            _ => {}
        }
    }
    text.get(start..).unwrap_or("").trim()
}

/// In an expression: units behind a number or `in`, else names.
fn in_an_expression(
    bench: &mut Bench,
    place: &Place<'_>,
    before: &str,
    due: Option<Dimension>,
) -> Vec<Candidate> {
    let of = |dimension: Option<Dimension>| match dimension {
        Some(dimension) => units(dimension),
        None => unit::all()
            .iter()
            .map(|unit| unit.word.to_owned())
            .collect(),
    };
    if let Some(claimed) = claim(bench, before) {
        return claimed;
    }
    if ends_in_number(before) {
        return of(due.or_else(|| compared_with(bench, before)));
    }
    if let Some(asked) = before.strip_suffix(" in") {
        return of(due.or_else(|| dimension_of(asked)));
    }
    paths(bench, place.word)
}

/// The dimension of what stands before a comparison.
fn compared_with(bench: &Bench, before: &str) -> Option<Dimension> {
    let sides = ["<=", ">=", "!=", "<", ">", "="];
    let at = sides
        .iter()
        .filter_map(|sign| before.rfind(&format!(" {sign} ")));
    let left = before.get(..at.max()?)?;
    let path = left.split_whitespace().last()?;
    dimension_of_let(bench, path)
        .or_else(|| dimension_of(path))
        .or_else(|| block_paths::due(bench, path))
}

fn first_word(text: &str) -> &str {
    text.split_whitespace().next().unwrap_or("")
}

/// The dimension of the result or field that a path ends in.
fn dimension_of(path: &str) -> Option<Dimension> {
    let last = path.split_whitespace().last()?;
    let whole = schema::find_subject(last);
    let behind = || {
        last.split_once('.')
            .map(|(_, rest)| schema::find_subject(rest))
    };
    let found = if whole.is_empty() { behind()? } else { whole };
    match found.first()? {
        schema::Subject::Result(id) => Some(id.row().dimension),
        schema::Subject::Field(id) => dimension(id.row()),
    }
}

/// The dimension of a `let`'s present value.
fn dimension_of_let(bench: &Bench, name: &str) -> Option<Dimension> {
    let mut lets = bench.outcome.recipe.lets.iter();
    match &lets.find(|one| one.name == name)?.value {
        Value::Quantity { quantity, .. } => Some(quantity.dimension),
        Value::Size { .. } => Some(Dimension::LENGTH),
        _ => None,
    }
}

fn ends_in_number(text: &str) -> bool {
    let last = text.split_whitespace().last().unwrap_or("");
    last.starts_with(|c: char| c.is_ascii_digit()) && last.ends_with(|c: char| c.is_ascii_digit())
}

/// The full path of a short one that means one field, or the path as it is.
fn full(path: &str) -> String {
    match schema::matching(path).as_slice() {
        [field] => field.path.to_owned(),
        _ => path.to_owned(),
    }
}

/// A path without the band's name before it.
fn unqualified<'p>(bench: &Bench, path: &'p str) -> &'p str {
    match path.split_once('.') {
        Some((band, rest)) if bench.outcome.recipe.is_band(band) => rest,
        _ => path,
    }
}

/// Fields as they can be typed at the bench: by their short word where it is enough, or behind a band's name.
fn field_paths(bench: &Bench, word: &str) -> Vec<Candidate> {
    let short = schema::of_band().iter().map(|field| {
        let unique = schema::matching(field.word()).len() == 1;
        if unique { field.word() } else { field.path }.to_owned()
    });
    let mut all = own_names(bench);
    // Without a letter only whole paths are offered, by their beginnings.
    all.extend(short.filter(|_| !word.is_empty()));
    if let Some((band, _)) = word.split_once('.')
        && bench.outcome.recipe.is_band(band)
    {
        all.extend(
            schema::of_band()
                .iter()
                .map(|field| format!("{band}.{}", field.path)),
        );
    }
    all.extend(schema::of_band().iter().map(|field| field.path.to_owned()));
    all.extend(block_paths::block_paths(bench, word));
    all
}

/// Everything that a question can name.
fn paths(bench: &Bench, word: &str) -> Vec<Candidate> {
    let results = || schema::RESULTS.iter().map(|entry| entry.path);
    let mut all = field_paths(bench, word);
    all.extend(results().map(str::to_owned));
    if let Some((band, _)) = word.split_once('.')
        && bench.outcome.recipe.is_band(band)
    {
        all.extend(results().map(|path| format!("{band}.{path}")));
    }
    all
}
