//! An alloy block to an [`Alloy`]: elements that add up, a density, tempers.

use rust_decimal::Decimal;

use crate::catalogue;
use crate::finding::Finding;
use crate::quantity::{Density, Dimension, Number};
use crate::source::Span;
use crate::suggest::nearest;
use crate::syntax::ast::ExprKind;

use super::alloy::{Alloy, AlloyDensity, Temper, mixed_density};
use super::error::ModelError;
use super::expression::{Evaluator, Scope};
use super::fineness;
use super::merge::Node;
use super::review::{Held, named_block, refused_block};
use super::value::Value;
use super::written::Written;

/// Fields of an alloy block, beside its elements.
pub const ALLOY_FIELDS: &[&str] = &["title", "density", "temper", "assay", "colour"];

/// Fields of a temper block, and the dimension of each.
pub const TEMPER_FIELDS: &[(&str, Dimension)] = &[
    ("yield", Dimension::STRESS),
    ("tensile", Dimension::STRESS),
    ("elongation", Dimension::NONE),
    ("modulus", Dimension::STRESS),
    ("hardening", Dimension::STRESS),
    ("poisson", Dimension::NONE),
];

/// Fields of a temper that are shares, and so want `%`.
const TEMPER_SHARES: &[&str] = &["elongation"];

/// The most that Poisson's ratio can be: a body that keeps its volume.
const MOST_POISSON: Decimal = Decimal::from_parts(5, 0, 0, false, 1);

/// How the value of an alloy by its path is written.
#[must_use]
pub fn of_temper(path: &str) -> Written {
    match path.rsplit_once('.') {
        Some((_, word)) if TEMPER_SHARES.contains(&word) => Written::Share,
        _ => Written::Other,
    }
}

/// An alloy of the recipe; its name stands at a place, and what is laid over it last at another.
pub(super) fn written(
    name: &str,
    (at, laid_at): (Span, Option<Span>),
    nodes: &[Node<'_>],
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<Alloy> {
    let before = findings.len();
    let mut alloy = Alloy {
        name: name.to_owned(),
        title: None,
        parts: Vec::new(),
        density: AlloyDensity::Derived(f64::NAN),
        tempers: Vec::new(),
        at: Some(at),
        shadows: catalogue::is_alloy(name),
        assay: None,
        colour: None,
        places: places(nodes),
    };
    let mut total = Decimal::ZERO;
    let mut stated = None;
    // A metal has a name and a symbol.
    let mut seen: Vec<(Span, &str)> = Vec::new();
    for node in nodes {
        let holds = matches!(node.head, "temper" | "assay");
        if !holds && refused_block(node, &example(node.head), findings) {
            continue;
        }
        match node.head {
            "title" => alloy.title = text(node, findings),
            "temper" => alloy.tempers.extend(temper(node, scope, findings)),
            "density" => stated = density(node, scope, findings),
            "assay" => alloy.assay = assay(node, scope, findings),
            "colour" => alloy.colour = colour(node, findings),
            element => match catalogue::element(element) {
                Some(row) => {
                    if let Some((first, _)) = seen.iter().find(|(_, name)| *name == row.name) {
                        findings.push(twice(node.at, *first, &row.name).into());
                        continue;
                    }
                    seen.push((node.at, row.name.as_str()));
                    if let Some(part) = parts(node, false, scope, findings) {
                        total += part;
                        alloy.parts.push((row.name.clone(), part));
                    }
                }
                None => findings.push(unknown_element(node).into()),
            },
        }
    }
    if findings.len() > before {
        return None;
    }
    let thousand = Decimal::from(1000);
    if total != thousand {
        findings.push(composition(name, laid_at.unwrap_or(at), total, thousand).into());
        return None;
    }
    alloy
        .parts
        .sort_by_key(|(_, part)| std::cmp::Reverse(*part));
    alloy.density = match stated {
        Some(density) => density,
        None => AlloyDensity::Derived(mixed_density(&alloy.parts)?),
    };
    Some(alloy)
}

/// Where each value is written, by its path.
fn places(nodes: &[Node<'_>]) -> Vec<(String, Vec<Span>)> {
    let of = |node: &Node<'_>| -> Vec<Span> { node.places.iter().map(|one| one.at).collect() };
    let mut found = Vec::new();
    for node in nodes {
        match node.word().filter(|_| node.head == "temper") {
            Some(name) => found.extend(node.children.iter().map(|child| {
                let path = format!("temper.{name}.{}", child.head);
                (path, of(child))
            })),
            None => found.push((node.head.to_owned(), of(node))),
        }
    }
    found
}

fn composition(name: &str, at: Span, total: Decimal, thousand: Decimal) -> ModelError {
    let (label, help) = if total < thousand {
        (
            format!("{} missing", thousand - total),
            format!("state the other {} parts, or correct one", thousand - total),
        )
    } else {
        (
            format!("{} too many", total - thousand),
            format!("take {} parts off", total - thousand),
        )
    };
    ModelError::Composition {
        at,
        alloy: name.to_owned(),
        total: total.normalize().to_string(),
        label,
        help,
    }
}

fn unknown_element(node: &Node<'_>) -> ModelError {
    let near = crate::suggest::metal(node.head, catalogue::element_names())
        .or_else(|| nearest(node.head, ALLOY_FIELDS.iter().copied()))
        .map(str::to_owned);
    let help = near.as_ref().map_or_else(
        || "an alloy block holds elements with their parts per thousand, `density`, and `temper` blocks".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    ModelError::UnknownField {
        at: node.at,
        word: node.head.to_owned(),
        holder: "alloy".to_owned(),
        help,
        nearest: near,
    }
}

/// The finding for a metal that is said by its name and by its symbol.
pub(super) fn twice(again: Span, first: Span, name: &str) -> ModelError {
    ModelError::GivenTwice {
        again,
        first,
        name: name.to_owned(),
    }
}

fn text(node: &Node<'_>, findings: &mut Vec<Finding>) -> Option<String> {
    if let [value] = node.winner()?.values
        && let ExprKind::Text(text) = &value.kind
    {
        return Some(text.clone());
    }
    findings.push(count(node, "a text in quotes", "title \"18 ct rose\"").into());
    None
}

/// How an entry of an alloy, or of its assay, is written.
fn example(head: &str) -> String {
    match head {
        "title" => "title \"18 ct rose\"".to_owned(),
        "density" => "density 13.30 g/cm3".to_owned(),
        "colour" => "colour rose".to_owned(),
        "dated" => "dated 2026-11-25".to_owned(),
        "lot" => "lot \"A17\"".to_owned(),
        metal => format!("{metal} 585"),
    }
}

fn colour(node: &Node<'_>, findings: &mut Vec<Finding>) -> Option<String> {
    match (node.winner().map(|place| place.values), node.word()) {
        (Some([_]), Some(word)) => Some(word.to_owned()),
        _ => {
            findings.push(count(node, "one word", "colour rose").into());
            None
        }
    }
}

fn count(node: &Node<'_>, wanted: &str, example: &str) -> ModelError {
    if let Some([value]) = node.winner().map(|place| place.values)
        && matches!(value.kind, ExprKind::Unread(_))
    {
        return ModelError::Unread { at: value.span };
    }
    ModelError::ValueCount {
        at: node.winner().map_or(node.at, |place| place.at),
        field: node.head.to_owned(),
        wanted: wanted.to_owned(),
        label: "here",
        help: format!("as in `{example}`"),
    }
}

/// The one value of a node.
fn single(
    node: &Node<'_>,
    due: Option<Dimension>,
    wanted: &str,
    example: &str,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<(Value, Span)> {
    let Some(place) = node.winner() else {
        findings.push(count(node, wanted, example).into());
        return None;
    };
    let [value] = place.values else {
        findings.push(count(node, wanted, example).into());
        return None;
    };
    let span = value.span;
    Evaluator { scope, findings }
        .value(value, due)
        .map(|value| (value, span))
}

/// `assay 749.8 { dated 2026-11-20, lot "A17" }`: what was found of a lot.
fn assay(
    node: &Node<'_>,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<(Decimal, String)> {
    let figure = parts(node, true, scope, findings)?;
    let mut notes = Vec::new();
    for field in &node.children {
        if refused_block(field, &example(field.head), findings) {
            continue;
        }
        let example = match field.head {
            "dated" => "dated 2026-11-25",
            "lot" => "lot \"A17\"",
            _ => {
                let near = nearest(field.head, ["dated", "lot"]).map(str::to_owned);
                findings.push(
                    ModelError::UnknownField {
                        at: field.at,
                        word: field.head.to_owned(),
                        holder: "assay".to_owned(),
                        help: "an assay holds `dated` and `lot`".to_owned(),
                        nearest: near,
                    }
                    .into(),
                );
                continue;
            }
        };
        let found = single(field, None, "one value", example, scope, findings);
        match (field.head, found) {
            ("dated", Some((value @ Value::Date(..), _))) => {
                notes.push(super::check::shown(&value))
            }
            ("lot", Some((Value::Text(lot), _))) => notes.push(format!("lot {lot}")),
            (_, Some((value, at))) => {
                findings.push(
                    wrong(
                        field.head,
                        "a day, or a text in quotes",
                        &value,
                        at,
                        example,
                    )
                    .into(),
                );
            }
            (_, None) => {}
        }
    }
    Some((figure, notes.join(", ")))
}

/// Parts per thousand: a bare number, per cent, or karat. Of a mix they may be few, of a whole not.
fn parts(
    node: &Node<'_>,
    whole: bool,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<Decimal> {
    let example = format!("{} 585", node.head);
    let (value, at) = single(
        node,
        Some(Dimension::FINENESS),
        "parts per thousand",
        &example,
        scope,
        findings,
    )?;
    if let Some(problem) = fineness::small(&value, at).filter(|_| whole) {
        findings.push(problem.into());
        return None;
    }
    let Some(part) = fineness::per_thousand(&value) else {
        let found = match fineness::read(&value) {
            Some(_) => "a quotient that does not come out".to_owned(),
            None => value.named(),
        };
        findings.push(
            ModelError::WrongKind {
                at,
                field: node.head.to_owned(),
                due: "parts per thousand".to_owned(),
                found,
                help: format!("as in `{example}` or `{} 58.5 %`", node.head),
            }
            .into(),
        );
        return None;
    };
    if part.is_sign_negative() || part > Decimal::from(1000) {
        findings.push(
            ModelError::OutOfRange {
                at,
                field: node.head.to_owned(),
                found: part.to_string(),
                range: "from 0 to 1000 per thousand".to_owned(),
                help: format!("as in `{example}`"),
            }
            .into(),
        );
        return None;
    }
    Some(part.normalize())
}

fn density(
    node: &Node<'_>,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<AlloyDensity> {
    let (value, at) = single(
        node,
        Some(Dimension::DENSITY),
        "a density",
        "density 13.30 g/cm3",
        scope,
        findings,
    )?;
    let quantity = match value.quantity() {
        Some(quantity) if quantity.dimension == Dimension::DENSITY => quantity.clone(),
        Some(quantity) if quantity.dimension == Dimension::NONE => {
            let units =
                crate::suggest::listed(crate::quantity::unit::of_dimension(Dimension::DENSITY));
            findings.push(
                ModelError::UnitMissing {
                    at,
                    field: "density".to_owned(),
                    due: "a density".to_owned(),
                    units,
                }
                .into(),
            );
            return None;
        }
        _ => {
            findings.push(wrong("density", "a density", &value, at, "density 13.30 g/cm3").into());
            return None;
        }
    };
    let stated = Density::from_quantity(&quantity);
    let range = Decimal::ONE..=Decimal::from(25);
    match stated.filter(|density| range.contains(&density.value())) {
        Some(value) => Some(AlloyDensity::Stated {
            value,
            basis: "stated in the recipe".to_owned(),
            quantity,
        }),
        None => {
            findings.push(
                ModelError::OutOfRange {
                    at,
                    field: "density".to_owned(),
                    found: super::check::shown(&value),
                    range: "from 1 to 25 g/cm3".to_owned(),
                    help: "metals lie between 1.7 (magnesium) and 22.6 g/cm3 (iridium)".to_owned(),
                }
                .into(),
            );
            None
        }
    }
}

fn wrong(field: &str, due: &str, value: &Value, at: Span, example: &str) -> ModelError {
    ModelError::WrongKind {
        at,
        field: field.to_owned(),
        due: due.to_owned(),
        found: value.named(),
        help: format!("as in `{example}`"),
    }
}

fn temper_example(word: &str, dimension: Dimension) -> String {
    match dimension {
        Dimension::STRESS => format!("{word} 300 MPa"),
        _ if TEMPER_SHARES.contains(&word) => format!("{word} 40 %"),
        _ => format!("{word} 0.38"),
    }
}

fn temper(node: &Node<'_>, scope: &mut dyn Scope, findings: &mut Vec<Finding>) -> Option<Temper> {
    let held: Vec<Held<'_>> = TEMPER_FIELDS
        .iter()
        .map(|(word, dimension)| Held {
            word,
            dimension: Some(*dimension),
            example: temper_example(word, *dimension),
        })
        .collect();
    let name = named_block(node, "temper hard { yield 520 MPa }", &held, findings)?;
    let mut figures = Vec::new();
    for field in &node.children {
        let Some((word, dimension)) = TEMPER_FIELDS.iter().find(|(word, _)| *word == field.head)
        else {
            let near =
                nearest(field.head, TEMPER_FIELDS.iter().map(|(word, _)| *word)).map(str::to_owned);
            let known = crate::suggest::listed(TEMPER_FIELDS.iter().map(|(word, _)| *word));
            let help = near.as_ref().map_or_else(
                || format!("a temper holds {known}"),
                |near| format!("did you mean `{near}`?"),
            );
            findings.push(
                ModelError::UnknownField {
                    at: field.at,
                    word: field.head.to_owned(),
                    holder: "temper".to_owned(),
                    help,
                    nearest: near,
                }
                .into(),
            );
            continue;
        };
        let example = temper_example(word, *dimension);
        if refused_block(field, &example, findings) {
            continue;
        }
        let found = single(
            field,
            Some(*dimension),
            "one value",
            &example,
            scope,
            findings,
        );
        let Some((value, at)) = found else { continue };
        let expr = field.winner().and_then(|place| place.values.first());
        let value = match expr.filter(|_| TEMPER_SHARES.contains(word)) {
            Some(expr) => Evaluator { scope, findings }.share(word, expr, value),
            None => Some(value),
        };
        let Some(value) = value else { continue };
        let most = (*word == "poisson").then_some(Number::Exact(MOST_POISSON));
        match value.quantity() {
            Some(quantity)
                if quantity.dimension == *dimension
                    && most.is_some_and(|most| quantity.number.compared(most).is_gt()) =>
            {
                findings.push(
                    ModelError::OutOfRange {
                        at,
                        field: (*word).to_owned(),
                        found: super::check::shown(&value),
                        range: format!("from 0 to {MOST_POISSON}"),
                        help: format!("as in `{example}`"),
                    }
                    .into(),
                );
            }
            Some(quantity)
                if quantity.dimension == *dimension && !quantity.number.is_negative() =>
            {
                figures.push(((*word).to_owned(), value, "stated in the recipe".to_owned()));
            }
            _ => findings.push(wrong(word, &dimension.named(), &value, at, &example).into()),
        }
    }
    Some(Temper {
        name: name.to_owned(),
        figures,
    })
}
