//! A rulebook of the catalogue or of a recipe to its thresholds, each once.

use std::cell::RefCell;
use std::collections::{BTreeMap, VecDeque};
use std::sync::{Arc, OnceLock};

use rust_decimal::{Decimal, dec};

use crate::catalogue::{self, Cite, Parts, Rulebook};

use super::precious::Precious;
use super::reason::{Clause, Differing, Mixed, ReasonKind};
use super::thresholds::{
    AllowedShort, BaseRule, ExemptWeight, Exemption, Facts, MarkSystem, OfMetal, PlatedLeast,
    SayRule, SolderLeast, TagRule, Thresholds,
};

/// Least fineness that a metal is taken for, where a rulebook has no standards of it. Source: Hallmarking Act
/// 1973, s.22(1).
const fn usual_least(metal: Precious) -> Decimal {
    match metal {
        Precious::Platinum => dec!(850),
        Precious::Gold => dec!(375),
        Precious::Palladium => dec!(500),
        Precious::Silver => dec!(800),
    }
}

/// How many rulebooks of recipes are kept compiled.
const KEPT: usize = 8;

thread_local! {
    /// The recipes' own rulebooks that were compiled last; each is known by where it lies, and lies there while it is
    /// kept.
    static OWN: RefCell<VecDeque<(Arc<Rulebook>, Arc<Thresholds>)>> = const { RefCell::new(VecDeque::new()) };
}

/// The thresholds of a rulebook: compiled when it is first wanted, and kept. Of recipes' own the last few are kept, for
/// the rows of a sweep ask the same ones over and over.
#[must_use]
pub fn compiled(book: &Arc<Rulebook>) -> Arc<Thresholds> {
    static BUILT_IN: [OnceLock<Arc<Thresholds>>; catalogue::RULEBOOKS] =
        [const { OnceLock::new() }; catalogue::RULEBOOKS];
    let place = catalogue::rulebook_words().position(|word| word == book.word);
    let kept = place.filter(|_| book.own.is_none());
    if let Some(kept) = kept.and_then(|place| BUILT_IN.get(place)) {
        return Arc::clone(kept.get_or_init(|| Arc::new(compile(book))));
    }
    OWN.with_borrow_mut(|own| {
        if let Some((_, known)) = own.iter().find(|(known, _)| Arc::ptr_eq(known, book)) {
            return Arc::clone(known);
        }
        let compiled = Arc::new(compile(book));
        own.truncate(KEPT - 1);
        own.push_front((Arc::clone(book), Arc::clone(&compiled)));
        compiled
    })
}

fn compile(book: &Rulebook) -> Thresholds {
    Thresholds {
        silent: book.silent.is_some(),
        metals: Precious::ALL.map(|metal| of_metal(metal, book)),
        whole_soldered: book
            .whole_soldered
            .as_ref()
            .map(|row| allowed(row, Clause::WholeSoldered)),
        system: book.system.as_ref().map(|row| match row.value.as_str() {
            "compulsory" => MarkSystem::Compulsory,
            "own-mark" => MarkSystem::OwnMark,
            "voluntary" => MarkSystem::Voluntary,
            _ => MarkSystem::Recommended,
        }),
        voluntary: Precious::ALL.map(|metal| {
            let row = book.voluntary.as_ref();
            row.is_some_and(|row| row.value.iter().any(|word| word == metal.word()))
        }),
        exempt_solder: book.exempt_solder.is_some(),
        finenesses: book
            .finenesses
            .as_ref()
            .and_then(|row| match row.value.as_str() {
                "lowest" => Some(Differing::Lowest),
                "each-own" => Some(Differing::EachOwn),
                "whole" => Some(Differing::Whole),
                "refused-inside" => Some(Differing::Refused),
                _ => None,
            }),
        mixed: book.metals.as_ref().map(|row| match row.value.as_str() {
            "full-on-least" => Mixed::FullOnLeast,
            "each-if-apart" => Mixed::EachIfApart,
            "apart-by-colour" => Mixed::ApartByColour,
            "platinum-gold" => Mixed::PlatinumGold,
            _ => Mixed::EachOwn,
        }),
        mixed_over: book.metals.as_ref().and_then(|row| row.over),
        least_thickness: book.least_thickness.as_ref().map(|row| row.value),
        white_alike: book.white_alike.as_ref().is_some_and(|row| row.value),
        harmful: book
            .harmful
            .iter()
            .map(|row| (row.element.clone(), row.most))
            .collect(),
        base: book.base.as_ref().map(|row| match row.value.as_str() {
            "apart-or-named" => BaseRule::ApartOrNamed,
            "left-out-if-cold" => BaseRule::LeftOutIfCold,
            "refused" => BaseRule::Refused,
            "multi-metal" => BaseRule::MultiMetal,
            _ => BaseRule::Ask,
        }),
        solder: book.solder.iter().map(solder).collect(),
        tags: book.tag.iter().map(tag).collect(),
        says: book.say.iter().map(say).collect(),
        assayed_only: book.assayed.as_ref().is_some_and(|row| row.value),
        karats: book.karats.iter().flat_map(karats).collect(),
        plating: book.plating.as_ref().map(|row| row.value.clone()),
        plated: book.plated.iter().map(plated).collect(),
    }
}

fn karats(row: &catalogue::Karats) -> impl Iterator<Item = (Decimal, Decimal)> {
    let rows = row.value.iter();
    rows.filter_map(|(karats, parts)| Some((karats.parse().ok()?, *parts)))
}

/// Figures that the trade goes by where a rulebook lets any be stated: its own words, and the finenesses that ISO
/// 9202 recommends.
fn usual(metal: Precious, book: &Rulebook) -> Vec<Decimal> {
    let recommended = catalogue::rulebook("ISO").and_then(|iso| iso.standards.get(metal.word()));
    let recommended = recommended.map(|row| row.value.clone()).unwrap_or_default();
    let named = book.words.iter().filter(|row| row.metal == metal.word());
    let named = named.map(|row| row.figure);
    recommended.into_iter().chain(named).collect()
}

fn of_metal(metal: Precious, book: &Rulebook) -> OfMetal {
    let word = metal.word();
    let standards = book.standards.get(word);
    let listed = standards.map_or(&[][..], |row| &row.value);
    let least = listed.first().copied().unwrap_or(usual_least(metal));
    let whole = book.whole.get(word);
    let rows = [
        standards.map(|row| (Clause::Standards(metal), row.cite())),
        book.any
            .get(word)
            .map(|row| (Clause::Any(metal), row.cite())),
        book.part
            .get(word)
            .map(|row| (Clause::Part(metal), row.cite())),
        whole.map(|row| (Clause::Whole(metal), row.cite())),
    ];
    let rows = rows.into_iter().flatten();
    let memory = rows.filter(|(_, cite)| cite.status == "from memory");
    OfMetal {
        // Nine tenths are this program's reading, so that metal a little short of a standard is still judged
        // as what it was meant to be.
        near: book
            .among
            .get(word)
            .map_or(least, |row| row.value.min(least))
            * dec!(0.9),
        standards: listed.to_vec(),
        above: standards
            .filter(|row| row.above)
            .and_then(|_| listed.last().copied()),
        free: book.any.get(word).map(|row| row.value),
        among: book
            .among
            .get(word)
            .map(|row| (row.value, row.sum, row.group.clone())),
        usual: if book.any.contains_key(word) {
            usual(metal, book)
        } else {
            Vec::new()
        },
        with: standards.map(|row| row.with.clone()).unwrap_or_default(),
        with_most: standards.and_then(|row| row.with_most),
        part: book
            .part
            .get(word)
            .map(|row| allowed(row, Clause::Part(metal))),
        whole: whole.map(|row| {
            let first = first_alike(row.cite(), &book.whole).unwrap_or(metal);
            allowed(row, Clause::Whole(first))
        }),
        exempt: book.exempt.get(word).map(|row| Exemption {
            below: row.below,
            through: row.through,
            of: match row.of.as_deref() {
                Some("fine") => ExemptWeight::Fine,
                Some("parts") => ExemptWeight::Parts,
                _ => ExemptWeight::All,
            },
            lost_beside: Precious::ALL
                .map(|other| row.lost_beside.iter().any(|word| word == other.word())),
        }),
        memory: memory.map(|(clause, _)| clause).collect(),
    }
}

/// The first metal whose row is read in the same place: what one text says of several metals is said once.
fn first_alike(cite: Cite<'_>, rows: &BTreeMap<String, Parts>) -> Option<Precious> {
    let alike = |metal: &Precious| rows.get(metal.word()).is_some_and(|row| row.cite() == cite);
    Precious::ALL.into_iter().find(alike)
}

fn allowed(row: &Parts, clause: Clause) -> AllowedShort {
    AllowedShort {
        plain: row.value,
        soldered: row.soldered.unwrap_or(row.value),
        white: row
            .white
            .map(|white| (row.white_from.unwrap_or_default(), white)),
        clause,
    }
}

fn solder(row: &catalogue::SolderRule) -> SolderLeast {
    SolderLeast {
        metal: row.metal.as_deref().map(Precious::of),
        from: row.from,
        to: row.to,
        white: row.white,
        least: row.least,
        sum: row.sum,
        authorised: row.authorised,
    }
}

fn plated(row: &catalogue::Plated) -> PlatedLeast {
    PlatedLeast {
        with: row.with.clone(),
        has: row.has.clone(),
        least: row.least,
    }
}

fn facts(words: &[String]) -> Facts {
    let mut facts = Facts::default();
    for word in words {
        facts.add(Facts::of(word), true);
    }
    facts
}

fn tag(row: &catalogue::Tag) -> TagRule {
    TagRule {
        when: facts(&row.when),
        has: row.has.clone(),
        needs: row.needs.clone(),
        never: row.never.clone(),
        below: row.below,
    }
}

fn say(row: &catalogue::Say) -> SayRule {
    SayRule {
        when: facts(&row.when),
        from: row.from,
        below: row.below,
        kind: match row.kind.as_str() {
            "say" => ReasonKind::Say,
            "condition" => ReasonKind::Condition,
            "ask" => ReasonKind::Ask,
            _ => ReasonKind::Note,
        },
    }
}
