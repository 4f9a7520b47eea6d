//! The words that an article is sold under, held against its metal: what they claim is part of the claim.

use rust_decimal::{Decimal, dec};

use super::article::{Article, content};
use super::groups::Groups;
use super::judgement::Judgement;
use super::precious::Precious;
use super::reason::Reason;
use super::thresholds::{TagRule, Thresholds};

/// Words for a body that is not hollow, in the languages of the rulebooks.
const SOLID: [&str; 8] = [
    "solid",
    "massiv",
    "massif",
    "massive",
    "massiccio",
    "massief",
    "macizo",
    "pieno",
];
/// Words beside which a metal's name speaks of a layer or of a colour.
const LAYER: [&str; 12] = [
    "plated", "plating", "plate", "filled", "vermeil", "gilt", "rolled", "tone", "toned", "coated",
    "coloured", "colored",
];
/// Figures that the rulebooks know, so that one of them is a claim wherever it stands.
const FIGURES: [Decimal; 23] = [
    dec!(333),
    dec!(375),
    dec!(416),
    dec!(417),
    dec!(500),
    dec!(583),
    dec!(585),
    dec!(750),
    dec!(800),
    dec!(830),
    dec!(833),
    dec!(835),
    dec!(850),
    dec!(875),
    dec!(900),
    dec!(916),
    dec!(925),
    dec!(950),
    dec!(958),
    dec!(960),
    dec!(986),
    dec!(990),
    dec!(999),
];

/// Judges the tag of an article; its marks are known by then.
pub(super) fn judge(
    article: &Article,
    rules: &Thresholds,
    groups: &Groups<'_>,
    judged: &mut Judgement,
) {
    let Some(text) = &article.tag else { return };
    let words = words(text);
    let facts = groups.facts(article);
    for (row, rule) in (0..).zip(&rules.tags) {
        if facts.all(rule.when) && is_under(rule, groups) {
            of_row(&words, row, rule, judged);
        }
    }
    let said = |reason: &Reason| matches!(reason, Reason::TagNever { .. });
    let solid = words.iter().any(|word| SOLID.contains(&word.as_str()));
    if article.cavity && solid && !judged.reasons.iter().any(said) {
        judged.reasons.push(Reason::TagSolid);
    }
    if !words.iter().any(|word| LAYER.contains(&word.as_str())) {
        metals(&words, article, rules, groups, judged);
    }
}

/// Words and figures, in small letters.
fn words(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    let cut = lower.split(|c: char| !(c.is_alphanumeric() || c == '.'));
    let words = cut.map(|word| word.trim_matches('.').to_owned());
    words.filter(|word| !word.is_empty()).collect()
}

fn is_under(rule: &TagRule, groups: &Groups<'_>) -> bool {
    let least = groups.of.iter().filter_map(|group| group.least()).min();
    rule.below
        .is_none_or(|below| least.is_some_and(|least| least < below))
}

fn of_row(words: &[String], row: u32, rule: &TagRule, judged: &mut Judgement) {
    let there = |word: &String| words.contains(word);
    if !rule.has.iter().any(there) && !rule.has.is_empty() && rule.below.is_some() {
        return;
    }
    let never = (0..).zip(&rule.never).find(|(_, word)| there(word));
    if let Some((word, _)) = never {
        judged.reasons.push(Reason::TagNever { row, word });
    }
    let missing = (0..).zip(&rule.needs).find(|(_, word)| !there(word));
    if let Some((word, _)) = missing
        && rule.has.iter().any(there)
    {
        judged.reasons.push(Reason::TagNeeds { row, word });
    }
}

/// The metals and finenesses that a tag names.
fn metals(
    words: &[String],
    article: &Article,
    rules: &Thresholds,
    groups: &Groups<'_>,
    judged: &mut Judgement,
) {
    for word in words {
        let Some(metal) = Precious::of(word) else {
            continue;
        };
        let mut parts = article.parts.iter();
        let reason = Reason::TagMetal(metal);
        if !parts.any(|part| !content(&part.contents, word).is_zero())
            && !judged.reasons.contains(&reason)
        {
            judged.reasons.push(reason);
        }
    }
    for claim in claims(words, rules, groups) {
        let (metal, figure) = claim;
        let Some(found) = reached(metal, rules, groups, judged) else {
            continue;
        };
        if found < figure {
            let known = |reason: &Reason| matches!(reason, Reason::TagOver { .. });
            if !judged.reasons.iter().any(known) {
                judged.reasons.push(Reason::TagOver {
                    metal,
                    figure,
                    found,
                });
            }
        }
    }
}

/// What of a metal the tag may claim: the least that is found and allowed.
fn reached(
    metal: Precious,
    rules: &Thresholds,
    groups: &Groups<'_>,
    judged: &Judgement,
) -> Option<Decimal> {
    let mark = judged.marks.iter().find(|mark| mark.metal == metal);
    // What may be found short helps no metal that is mixed short.
    let tests = mark.map(|mark| mark.tests.iter().map(|test| test.found).min());
    let group = groups.of.iter().find(|group| group.metal == metal);
    let mixed = group.and_then(|group| {
        let mixed = group
            .parts
            .iter()
            .map(|(fine, _)| fine.composed(metal, rules));
        mixed.min()
    });
    let tested = tests
        .flatten()
        .or_else(|| group.and_then(|group| group.least()));
    let allowed = mark.and_then(|mark| mark.tests.iter().map(|test| test.allowed).min());
    let allowed = allowed.unwrap_or_default();
    match (tested, mixed) {
        (Some(found), Some(mixed)) => Some(found.max(mixed.min(found + allowed))),
        (found, _) => found,
    }
}

/// Metals and parts per thousand that the words claim.
fn claims(words: &[String], rules: &Thresholds, groups: &Groups<'_>) -> Vec<(Precious, Decimal)> {
    let mut all = Vec::new();
    let word_at = |place: usize| words.get(place).map_or("", String::as_str);
    let only = || match groups.of.as_slice() {
        [only] => Some(only.metal),
        _ => None,
    };
    let near = |place: usize| {
        let after = (1..=3).map(|step| place + step);
        let before = (1..=2).filter_map(|step| place.checked_sub(step));
        after
            .chain(before)
            .find_map(|place| Precious::of(word_at(place)))
    };
    for (place, word) in words.iter().enumerate() {
        match word.as_str() {
            "sterling" => all.push((Precious::Silver, dec!(925))),
            "britannia" => all.push((Precious::Silver, dec!(958))),
            _ => {}
        }
        let unit = word.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
        let digits = word.get(..word.len() - unit.len()).unwrap_or_default();
        let Ok(number) = digits.parse::<Decimal>() else {
            continue;
        };
        let unit = if unit.is_empty() {
            word_at(place + 1)
        } else {
            unit
        };
        let karats = ["karat", "karats", "carat", "carats", "k", "kt", "ct", "kr"];
        if karats.contains(&unit) && number <= dec!(24) {
            let known = rules.karats.iter().find(|(karats, _)| *karats == number);
            let parts = match known {
                Some((_, parts)) => Some(*parts),
                None => (number * Decimal::ONE_THOUSAND).checked_div(dec!(24)),
            };
            // Thirds of a karat have no end: rounded down, so that 583.33 is 14 karat.
            all.extend(parts.map(|parts| (Precious::Gold, parts.trunc_with_scale(6))));
            continue;
        }
        let stated = FIGURES.contains(&number) && unit_is_none(word);
        let beside = number >= dec!(300) && number <= Decimal::ONE_THOUSAND;
        let metal = near(place)
            .filter(|_| beside)
            .or_else(|| only().filter(|_| stated));
        if let Some(metal) = metal.filter(|_| unit_is_none(word)) {
            all.push((metal, number));
        }
    }
    all
}

fn unit_is_none(word: &str) -> bool {
    word.chars().all(|c| c.is_ascii_digit() || c == '.')
}
