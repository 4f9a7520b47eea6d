//! Alloys by the words of the trade: `14k`, `white gold`, `white-750`. None is put in; those that fit are listed.

use rust_decimal::Decimal;

use crate::catalogue;

/// The most that are listed in one line.
const MOST: usize = 6;

/// Standards that a number of karats stands for in the trade, in parts per thousand: ISO 9202 and common practice.
const KARATS: &[(&str, u32)] = &[
    ("8", 333),
    ("9", 375),
    ("10", 417),
    ("14", 585),
    ("18", 750),
    ("20", 833),
    ("21", 875),
    ("22", 916),
    ("24", 999),
];

/// The built-in alloys that a name of the trade could mean: each of its words is a part of their names, the metal
/// they are mostly made of, or its fineness.
pub(super) fn alike(name: &str) -> Vec<&'static str> {
    let written = name.to_lowercase();
    let words: Vec<&str> = written
        .split(['-', ' '])
        .filter(|word| !word.is_empty())
        .collect();
    if words.is_empty() {
        return Vec::new();
    }
    let rows = catalogue::alloys().filter(|row| {
        let main = row.parts.iter().max_by_key(|(_, part)| **part);
        let Some((metal, part)) = main else {
            return false;
        };
        words.iter().all(|word| {
            let mut parts = row.name.split('-');
            parts.any(|part| part == *word)
                || metal == word
                || figure(word).is_some_and(|figure| figure == *part)
                || karats(word).is_some_and(|of| metal == "gold" && of == *part)
        })
    });
    let mut names: Vec<&str> = rows.map(|row| row.name.as_str()).collect();
    names.sort_by_key(|name| name.matches('-').count());
    names.truncate(MOST);
    names
}

fn figure(word: &str) -> Option<Decimal> {
    word.parse().ok()
}

/// Parts per thousand of `14k`, `18ct`, `18kt` or `18karat`.
fn karats(word: &str) -> Option<Decimal> {
    let split = word.find(|c: char| !c.is_ascii_digit())?;
    let (number, unit) = word.split_at_checked(split)?;
    let of_gold = matches!(unit, "k" | "kt" | "ct" | "karat" | "carat" | "kar");
    let known = KARATS.iter().find(|(known, _)| *known == number)?;
    of_gold.then(|| Decimal::from(known.1))
}
