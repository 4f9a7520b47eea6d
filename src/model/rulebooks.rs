//! Rulebooks of the recipe: `rules house { like UK, standards gold [585, 750], shortfall gold 0 }`.
//!
//! One that is `like` another starts from it; what it states stands in place of what the other says. Every
//! value that it states is known as `stated in the recipe`.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::catalogue::{self, Exempt, Own, Parts, Rulebook, Say, Standards, Text, Word};
use crate::finding::Finding;
use crate::quantity::Dimension;
use crate::schema::{self, BlockId, Field, FieldId, Takes};
use crate::source::Span;
use crate::suggest::{listed, nearest};
use crate::syntax::ast::{self, Entry, Expr, ExprKind, ListItem};

use super::alloy_values::STATED;
use super::error::ModelError;
use super::expression::{Evaluator, NoNames};
use super::fineness;
use super::laid::{self, Holder, Override};
use super::review::no_block;
use super::value::Value;

/// Id of the text that stands for the recipe.
const RECIPE: &str = "recipe";

/// All rulebooks that the recipe and its used files define, with what is laid over them.
pub(super) fn read(
    written: &[(String, &Entry)],
    overrides: &[Override],
    findings: &mut Vec<Finding>,
) -> Arc<[Arc<Rulebook>]> {
    let mut all = Vec::new();
    for (name, entry) in written {
        let own = entry.block.iter().flat_map(ast::Block::entries);
        let mut items = once(own.collect(), findings);
        let holder = Holder::Block("rules", Some(name.clone()));
        for layer in laid::over(overrides, &holder) {
            // Each stands in place of what says the same below it.
            for item in once(ast::entries(layer).collect(), findings) {
                items.retain(|known| key(known).is_none_or(|known| key(item) != Some(known)));
                items.push(item);
            }
        }
        all.push(Arc::new(rulebook(name, &items, findings)));
    }
    all.into()
}

/// What an entry says: its word, with the metal where one tells entries apart; none where there may be several.
fn key(item: &Entry) -> Option<String> {
    let head = item.head_name()?;
    let row = BlockId::Rules
        .find(head)
        .map(|row| (row.id, row.takes.is_of_metal()));
    match (row, item.values.first().map(|value| &value.kind)) {
        (Some((_, true)), Some(ExprKind::Path(metal))) => Some(format!("{head} {}", metal.0)),
        (Some((FieldId::RulesSay, _)), _) => None,
        _ => Some(head.to_owned()),
    }
}

/// Entries of one layer; what one says twice is told, and the first counts.
fn once<'e>(items: Vec<&'e Entry>, findings: &mut Vec<Finding>) -> Vec<&'e Entry> {
    let mut seen: Vec<(String, Span)> = Vec::new();
    let mut kept = Vec::new();
    for item in items {
        // One that holds a block is refused where it is read.
        if let Some(key) = key(item).filter(|_| item.block.is_none()) {
            if let Some((_, first)) = seen.iter().find(|(known, _)| *known == key) {
                let problem = ModelError::GivenTwice {
                    again: item.header_span(),
                    first: *first,
                    name: key,
                };
                findings.push(problem.into());
                continue;
            }
            seen.push((key, item.header_span()));
        }
        kept.push(item);
    }
    kept
}

fn rulebook(name: &str, items: &[&Entry], findings: &mut Vec<Finding>) -> Rulebook {
    let mut all = items.iter();
    let like = all.find(|item| item.head_name() == Some("like"));
    let mut book = like
        .and_then(|like| liked(like, findings))
        .unwrap_or_default();
    let shadows = catalogue::rulebook_words().any(|word| word == name);
    book.own = Some(if shadows { Own::Shadows } else { Own::New });
    book.word = name.to_owned();
    if book.title.is_empty() {
        book.title = "of the recipe".to_owned();
    }
    book.silent = None;
    book.texts.push(Text {
        id: RECIPE.to_owned(),
        short: format!("`rules {name}`"),
        title: "the recipe".to_owned(),
        date: "as it stands".to_owned(),
        read_at: String::new(),
    });
    for item in items {
        let Some(head) = item.head.as_ref() else {
            // A header that could not be read was reported; it has no values either.
            if !item.values.is_empty() {
                let at = item.header_span();
                findings.push(ModelError::NoWord { at }.into());
            }
            continue;
        };
        let head = head.value.0.as_str();
        let row = BlockId::Rules.find(head);
        if let Some(block) = &item.block {
            let example = schema::example(row.unwrap_or(FieldId::RulesLike.row()));
            findings.push(no_block(block.open, head, &example).into());
            continue;
        }
        match row {
            Some(row) => field(&mut book, row, item, findings),
            None => findings.push(unknown(item.head_span(), head).into()),
        }
    }
    book
}

/// The rulebook that another is like.
fn liked(item: &Entry, findings: &mut Vec<Finding>) -> Option<Rulebook> {
    let [
        Expr {
            kind: ExprKind::Path(word),
            span,
        },
    ] = item.values.as_slice()
    else {
        findings.push(count(item, FieldId::RulesLike.row()).into());
        return None;
    };
    if let Some(book) = catalogue::rulebook(&word.0) {
        return Some(Rulebook::clone(book));
    }
    let help = format!(
        "built-in rulebooks are {}",
        listed(catalogue::rulebook_words())
    );
    findings.push(
        ModelError::UnknownName {
            at: *span,
            name: word.0.clone(),
            kind: "the rulebook",
            help,
            nearest: None,
        }
        .into(),
    );
    None
}

fn field(book: &mut Rulebook, row: &Field, item: &Entry, findings: &mut Vec<Finding>) {
    let clause = row.word().to_owned();
    let (text, status) = (RECIPE.to_owned(), STATED.to_owned());
    match row.id {
        FieldId::RulesTitle => match item.values.as_slice() {
            [
                Expr {
                    kind: ExprKind::Text(title),
                    ..
                },
            ] => book.title.clone_from(title),
            _ => findings.push(count(item, row).into()),
        },
        FieldId::RulesSay => match item.values.as_slice() {
            [
                Expr {
                    kind: ExprKind::Text(says),
                    ..
                },
            ] => book.say.push(Say {
                when: Vec::new(),
                from: None,
                below: None,
                kind: "say".to_owned(),
                says: says.clone(),
                text,
                clause,
                status,
            }),
            _ => findings.push(count(item, row).into()),
        },
        FieldId::RulesSystem
        | FieldId::RulesFinenesses
        | FieldId::RulesMetals
        | FieldId::RulesBase => {
            let Some(value) = chosen(item, row, findings) else {
                return;
            };
            let word = Some(Word {
                value,
                says: None,
                over: None,
                text,
                clause,
                status,
            });
            match row.id {
                FieldId::RulesSystem => book.system = word,
                FieldId::RulesFinenesses => book.finenesses = word,
                FieldId::RulesMetals => book.metals = word,
                _ => book.base = word,
            }
        }
        FieldId::RulesStandards => {
            let Some((metal, value)) = of_metal(item, row, None, findings) else {
                return;
            };
            let values = match value {
                Value::List(values) => values,
                one => vec![one],
            };
            let places = item.values.last().map(standards_at).unwrap_or_default();
            let at = |place: usize| places.get(place).copied().unwrap_or(item.span);
            let before = findings.len();
            let small = values.iter().enumerate();
            let small = small.filter_map(|(place, value)| fineness::small(value, at(place)));
            findings.extend(small.map(crate::finding::Finding::from));
            if findings.len() > before {
                return;
            }
            let figures: Option<Vec<Decimal>> = values.iter().map(figure).collect();
            match figures.filter(|figures| !figures.is_empty()) {
                Some(mut value) => {
                    value.sort_unstable();
                    value.dedup();
                    book.any.remove(&metal);
                    // A standard that nothing is tested by would be reached by any metal.
                    if !book.part.contains_key(&metal) && !book.whole.contains_key(&metal) {
                        let row = Parts {
                            value: Decimal::ZERO,
                            soldered: None,
                            white: None,
                            white_from: None,
                            text: text.clone(),
                            clause: "no shortfall where none is stated".to_owned(),
                            status: status.clone(),
                        };
                        book.part.insert(metal.clone(), row);
                    }
                    let row = Standards {
                        value,
                        above: false,
                        with: Vec::new(),
                        with_most: None,
                        text,
                        clause,
                        status,
                    };
                    book.standards.insert(metal, row);
                }
                None => findings.push(count(item, row).into()),
            }
        }
        FieldId::RulesShortfall | FieldId::RulesWhole => {
            let Some((metal, value)) = of_metal(item, row, None, findings) else {
                return;
            };
            let Some(value) = figure(&value) else {
                findings.push(count(item, row).into());
                return;
            };
            let parts = Parts {
                value,
                soldered: None,
                white: None,
                white_from: None,
                text,
                clause,
                status,
            };
            let rows = if row.id == FieldId::RulesWhole {
                &mut book.whole
            } else {
                &mut book.part
            };
            rows.insert(metal, parts);
        }
        FieldId::RulesExempt => {
            let due = Some(Dimension::MASS);
            let Some((metal, value)) = of_metal(item, row, due, findings) else {
                return;
            };
            let quantity = value
                .quantity()
                .filter(|quantity| quantity.dimension == Dimension::MASS);
            match quantity.and_then(super::values::decimal) {
                Some(below) => {
                    let row = Exempt {
                        below,
                        lost_beside: Vec::new(),
                        through: false,
                        of: None,
                        mark: None,
                        text,
                        clause,
                        status,
                    };
                    book.exempt.insert(metal, row);
                }
                None => findings.push(count(item, row).into()),
            }
        }
        // What it starts from was read first.
        _ => {}
    }
}

/// Where each standard of a list is written.
fn standards_at(value: &Expr) -> Vec<Span> {
    match &value.kind {
        ExprKind::List { items, .. } => items
            .iter()
            .filter_map(|item| match item {
                ListItem::Value(value) => Some(value.span),
                ListItem::Comment(_) => None,
            })
            .collect(),
        _ => vec![value.span],
    }
}

fn unknown(at: Span, word: &str) -> ModelError {
    let words = || schema::held_in_blocks(BlockId::Rules.word()).map(Field::word);
    let near = nearest(word, words()).map(str::to_owned);
    let help = near.as_ref().map_or_else(
        || format!("a rulebook holds {}", listed(words())),
        |near| format!("did you mean `{near}`?"),
    );
    ModelError::UnknownField {
        at,
        word: word.to_owned(),
        holder: BlockId::Rules.word().to_owned(),
        help,
        nearest: near,
    }
}

/// Parts per thousand within their range.
fn figure(value: &Value) -> Option<Decimal> {
    let found = fineness::per_thousand(value)?;
    (!found.is_sign_negative() && found <= Decimal::ONE_THOUSAND).then_some(found)
}

/// `gold 750`: a precious metal, and a value.
fn of_metal(
    item: &Entry,
    row: &Field,
    due: Option<Dimension>,
    findings: &mut Vec<Finding>,
) -> Option<(String, Value)> {
    let [metal, value] = item.values.as_slice() else {
        findings.push(count(item, row).into());
        return None;
    };
    let ExprKind::Path(path) = &metal.kind else {
        findings.push(count(item, row).into());
        return None;
    };
    const METALS: [&str; 4] = ["platinum", "gold", "palladium", "silver"];
    if !METALS.contains(&path.0.as_str()) {
        let near = crate::suggest::metal(&path.0, METALS).map(str::to_owned);
        let help = format!("precious metals are {}", listed(METALS));
        findings.push(
            ModelError::UnknownName {
                at: metal.span,
                name: path.0.clone(),
                kind: "the precious metal",
                help,
                nearest: near,
            }
            .into(),
        );
        return None;
    }
    let mut evaluator = Evaluator {
        scope: &mut NoNames,
        findings,
    };
    Some((path.0.clone(), evaluator.value(value, due)?))
}

fn chosen(item: &Entry, row: &Field, findings: &mut Vec<Finding>) -> Option<String> {
    let Takes::Word(choices) = row.takes else {
        return None;
    };
    let [
        Expr {
            kind: ExprKind::Path(word),
            span,
        },
    ] = item.values.as_slice()
    else {
        findings.push(count(item, row).into());
        return None;
    };
    if choices.contains(&word.0.as_str()) {
        return Some(word.0.clone());
    }
    let near = nearest(&word.0, choices.iter().copied()).map(str::to_owned);
    findings.push(
        ModelError::UnknownName {
            at: *span,
            name: word.0.clone(),
            kind: "the word",
            help: format!("write {}", listed(choices.iter().copied())),
            nearest: near,
        }
        .into(),
    );
    None
}

fn count(item: &Entry, row: &Field) -> ModelError {
    let unread = |value: &&Expr| matches!(value.kind, ExprKind::Unread(_));
    if let Some(value) = item.values.iter().find(unread) {
        return ModelError::Unread { at: value.span };
    }
    ModelError::ValueCount {
        at: item.header_span(),
        field: row.word().to_owned(),
        wanted: "what its example shows".to_owned(),
        label: "here",
        help: format!("as in `{}`", schema::example(row)),
    }
}
