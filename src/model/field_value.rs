//! The one value that a field takes, or the bare word that stands for it.

use std::sync::OnceLock;

use crate::finding::Finding;
use crate::quantity::RingSize;
use crate::schema::{self, Field, PROFILES, Takes};
use crate::source::Span;
use crate::suggest::{listed, nearest};
use crate::syntax;
use crate::syntax::ast::{Expr, ExprKind, ListItem};

use super::check;
use super::error::ModelError;
use super::expression::{Evaluator, NoNames};
use super::sizes;
use super::value::Value;
use super::values::FieldValue;

/// The one value that a field takes.
pub(super) fn single<'e>(
    field: &'static Field,
    values: &'e [Expr],
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<&'e Expr> {
    let problem = match values {
        [value] => return Some(value),
        [] => ModelError::ValueCount {
            at: at.after(),
            field: field.word().to_owned(),
            wanted: check::due(field.takes).0.to_owned(),
            label: "a value is missing",
            help: format!("as in `{}`", schema::example(field)),
        },
        [first, second, ..] => match misspelt_size(field, first, second) {
            Some(problem) => problem,
            None if is_exponent(first) => return Some(first),
            None => ModelError::ValueCount {
                at: second.span,
                field: field.word().to_owned(),
                wanted: "one value".to_owned(),
                label: "one too many",
                help: match run_in(field, values) {
                    Some((word, true)) => {
                        format!("write a comma or a new line before `{word}`")
                    }
                    Some((word, false)) => format!(
                        "`{word}` stands in its block, as in `{} {} {{ {word} \u{2026} }}`",
                        field.word(),
                        syntax::print_expression(first)
                    ),
                    None => "a comma or a new line starts the next field; an operator has spaces on both sides".to_owned(),
                },
            },
        },
    };
    findings.push(problem.into());
    None
}

/// The field that begins among the values of this one, and whether it stands beside it, where no comma stands before it,
/// or in its block.
fn run_in<'e>(field: &Field, values: &'e [Expr]) -> Option<(&'e str, bool)> {
    let rows = || field.block.rows().iter();
    surplus(values).into_iter().find_map(|word| {
        let mut inside = rows().filter(|row| row.holder() == field.path);
        let mut beside = rows().filter(|row| row.holder() == field.holder());
        match inside.any(|row| row.word() == word) {
            true => Some((word, false)),
            false => beside.any(|row| row.word() == word).then_some((word, true)),
        }
    })
}

/// The bare words behind the first value, and those of what could not be read.
pub(super) fn surplus(values: &[Expr]) -> Vec<&str> {
    let mut words = Vec::new();
    for (place, value) in values.iter().enumerate() {
        match &value.kind {
            ExprKind::Unread(text) => words.extend(text.split_whitespace()),
            ExprKind::Path(path) if place > 0 => words.extend(path.single()),
            _ => {}
        }
    }
    words
}

/// `1e3 mm`: the exponent was read as a unit, and the unit as one value too many. The first says more.
pub(super) fn is_exponent(first: &Expr) -> bool {
    let ExprKind::Quantity {
        unit: Some(unit), ..
    } = &first.kind
    else {
        return false;
    };
    let refused = crate::quantity::unit::scale(&unit.value);
    matches!(refused, Err((crate::quantity::unit::Refused::Exponent, ..)))
}

/// `size iso 54`: a system word is written in capitals; `size ISO 54mm`: and a size has no unit.
fn misspelt_size(field: &Field, first: &Expr, second: &Expr) -> Option<ModelError> {
    let ExprKind::Path(path) = &first.kind else {
        return None;
    };
    let capitals = path.0.to_uppercase();
    let system = crate::catalogue::system_words().find(|word| word.to_uppercase() == capitals);
    let system = system.filter(|_| field.takes == Takes::Size)?;
    let written = syntax::print_expression(second);
    let (rest, unit) = match &second.kind {
        ExprKind::Path(letter) => (letter.0.to_uppercase(), None),
        ExprKind::Quantity {
            unit: Some(unit), ..
        } => {
            let bare = written.strip_suffix(&unit.value).map(str::trim_end);
            (bare.unwrap_or(&written).to_owned(), Some(unit))
        }
        _ => (written.clone(), None),
    };
    // `US -1`, `ISO sleeve`: in capitals too it is no size that there is.
    if unit.is_none()
        && let Some(known) = crate::catalogue::system(system)
        && let Err(problem) = RingSize::read(known, &rest)
    {
        let at = first.span.to(second.span);
        return Some(sizes::refused(known, &written, at, problem));
    }
    // A size already, and something behind it that keeps it from being read as one.
    if unit.is_none() && path.0 == system && rest == written {
        return None;
    }
    let (message, label) = match unit {
        Some(_) if path.0 == system => ("a ring size has no unit", "a unit is too much"),
        _ => ("a ring size is written in capitals", "not capitals"),
    };
    let whole = format!("{system} {rest}");
    Some(ModelError::Size {
        at: first.span.to(second.span),
        message: message.to_owned(),
        label,
        help: format!("write `{whole}`"),
        // With a unit behind it a diameter may be meant.
        certain: unit.is_none().then_some(whole),
    })
}

/// The bare word that a field takes instead of a value, when one stands there.
pub(super) fn word<'e>(field: &Field, value: &'e Expr) -> Option<&'e str> {
    let ExprKind::Path(path) = &value.kind else {
        return None;
    };
    let word = path.single()?;
    match field.takes {
        Takes::Word(_) | Takes::Profile | Takes::Alloy | Takes::Temper => Some(word),
        Takes::Currency | Takes::Stock | Takes::Band | Takes::Cutter | Takes::AnyWord => Some(word),
        Takes::LengthOr(only) => Some(word).filter(|word| *word == only),
        Takes::Anything => Some(word),
        _ => None,
    }
}

/// The names of a list, of a field that takes the names of stocks: the first that serves is taken. One that stands there
/// twice is told.
pub(super) fn words(field: &Field, value: &Expr, findings: &mut Vec<Finding>) -> Option<Value> {
    let ExprKind::List { items, .. } = &value.kind else {
        return None;
    };
    if field.takes != Takes::Stock {
        return None;
    }
    let values = items.iter().filter_map(|item| match item {
        ListItem::Value(value) => Some(value),
        ListItem::Comment(_) => None,
    });
    let names: Option<Vec<(&str, Span)>> = values
        .map(|value| Some((word(field, value)?, value.span)))
        .collect();
    let names = names.filter(|names| !names.is_empty())?;
    for (place, (name, again)) in names.iter().enumerate() {
        let mut before = names.iter().take(place);
        if let Some((_, first)) = before.find(|(known, _)| known == name) {
            findings.push(
                ModelError::GivenTwice {
                    again: *again,
                    first: *first,
                    name: (*name).to_owned(),
                }
                .into(),
            );
        }
    }
    let words = names
        .iter()
        .map(|(name, _)| Value::Word((*name).to_owned()));
    Some(Value::List(words.collect()))
}

/// Checks a word against the choices of its field.
pub(super) fn choose(
    field: &Field,
    word: &str,
    profiles: &[String],
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<Value> {
    let choices: &[&str] = match field.takes {
        Takes::Word(choices) => choices,
        Takes::Profile => PROFILES,
        _ => return Some(Value::Word(word.to_owned())),
    };
    if choices.contains(&word) {
        return Some(Value::Word(word.to_owned()));
    }
    let named = if field.takes == Takes::Profile {
        profiles
    } else {
        &[]
    };
    let known = choices
        .iter()
        .copied()
        .chain(named.iter().map(String::as_str));
    let near = nearest(word, known.clone()).map(str::to_owned);
    let help = match &near {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("write {}", listed(known)),
    };
    let kind = if field.takes == Takes::Profile {
        "the profile"
    } else {
        "the word"
    };
    findings.push(
        ModelError::UnknownName {
            at,
            name: word.to_owned(),
            kind,
            help,
            nearest: near,
        }
        .into(),
    );
    None
}

/// The default of a field, read once by the same reader as a recipe.
pub(super) fn default(field: &'static Field) -> Option<FieldValue> {
    static READ: OnceLock<Vec<OnceLock<Option<FieldValue>>>> = OnceLock::new();
    field.default?;
    let fields = || schema::of_band().iter().chain(schema::of_blocks());
    let read = READ.get_or_init(|| fields().map(|_| OnceLock::new()).collect());
    let read = read.get(field.id as usize)?;
    read.get_or_init(|| read_default(field)).clone()
}

fn read_default(field: &'static Field) -> Option<FieldValue> {
    let (text, _) = field.default?;
    let mut sources = crate::source::Sources::default();
    let id = sources.add("default", text);
    let values = syntax::parse_setting(sources.get(id)?).value;
    let value = values.first()?;
    let value = match word(field, value) {
        Some(word) => Value::Word(word.to_owned()),
        None => Evaluator {
            scope: &mut NoNames,
            findings: &mut Vec::new(),
        }
        .value(value, None)?,
    };
    Some(FieldValue {
        field,
        value,
        at: None,
        places: Vec::new(),
    })
}
