//! The block `prices`: what metal costs, when and by whom it is said, and rates between currencies.

use crate::schema::{self, FieldId};
use rust_decimal::Decimal;

use crate::catalogue;
use crate::finding::Finding;
use crate::model::calendar::Day;
use crate::model::error::ModelError;
use crate::model::merge::Node;
use crate::model::written_alloy::twice;
use crate::quantity::Currency;
use crate::source::Span;
use crate::syntax::ast::{self, ExprKind, Operator};

use super::around::Around;
use super::exchange::{Rate, consistent, rounding};
use super::read;
use super::said::{Row, RowOf};
use crate::model::values::Values;

/// The block's own values, its rates, and the entries of its metals.
pub(super) struct Block<'a, 't> {
    pub values: Values,
    pub rates: Vec<Rate>,
    /// A rate was refused.
    pub faulty_rate: bool,
    /// It states its day, right or wrong.
    is_dated: bool,
    metals: Vec<(String, &'a Node<'t>)>,
}

/// Reads everything but the prices themselves, which need the rates.
pub(super) fn block<'a, 't>(
    nodes: &'a [Node<'t>],
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Block<'a, 't> {
    let mut own = Vec::new();
    let (mut metals, mut rates) = (Vec::new(), Vec::new());
    for node in nodes {
        match node.head {
            "rate" => rates.push(node),
            head if schema::find_in_blocks(&format!("prices.{head}")).is_some() => {
                own.push(node.clone())
            }
            head => match metal(head, around) {
                Some(metal) => {
                    let mut known = metals.iter();
                    let known = known.find(|(name, _): &&(String, &Node<'_>)| *name == metal);
                    if let Some((_, first)) = known {
                        findings.push(twice(node.at, first.at, &metal).into());
                        continue;
                    }
                    metals.push((metal, node));
                }
                None => {
                    let known: Vec<&str> = catalogue::element_names()
                        .chain(catalogue::alloy_names())
                        .collect();
                    findings.push(read::unknown(node, "prices", None, &known).into());
                }
            },
        }
    }
    let values = read::block(&own, "prices", None, around, findings);
    let is_dated = own.iter().any(|node| node.head == "dated");
    let written = rates.len();
    let rates: Vec<Rate> = rates
        .into_iter()
        .filter_map(|node| rate(node, &values, is_dated, around, findings))
        .collect();
    let rates = consistent(rates, findings);
    Block {
        values,
        faulty_rate: rates.len() < written,
        is_dated,
        rates,
        metals,
    }
}

/// The name of the element of a word, or of the alloy.
fn metal(word: &str, around: &mut dyn Around<'_>) -> Option<String> {
    if let Some(element) = catalogue::element(word) {
        return Some(element.name.clone());
    }
    around.alloy_name(word)
}

/// The rows of the metals.
pub(super) fn rows(
    block: &Block<'_, '_>,
    rows: &mut Vec<Row>,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) {
    for (metal, node) in &block.metals {
        around.money().row = Some(rows.len());
        let mut values = Values::default();
        let field = FieldId::PricesMetal.row();
        read::entry(&mut values, node, field, around, findings);
        let Some(price) = values.get(FieldId::PricesMetal) else {
            continue;
        };
        let at = price.at.unwrap_or(node.at);
        let what = format!("price of {metal}");
        let is_dated = block.is_dated || node.children.iter().any(|child| child.head == "dated");
        let own_day = values.day(FieldId::PricesMetalDated);
        dated(own_day, &block.values, is_dated, &what, at, findings);
        rows.push(Row {
            of: RowOf::Metal,
            name: metal.as_str().into(),
            word: node.head.into(),
            at,
            values,
        });
    }
    around.money().row = None;
}

/// The day of a price or a rate: its own, or that of the block; without one it is refused. A day that was refused
/// itself is not missing.
fn dated(
    own: Option<Day>,
    block: &Values,
    is_dated: bool,
    what: &str,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<Day> {
    let found = own.or_else(|| block.day(FieldId::PricesDated));
    if found.is_none() && !is_dated {
        findings.push(
            ModelError::Undated {
                at,
                what: what.to_owned(),
            }
            .into(),
        );
    }
    found
}

/// `rate 1 USD = 0.92 EUR`.
fn rate(
    node: &Node<'_>,
    block: &Values,
    is_dated: bool,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Rate> {
    let place = node.winner()?;
    let found = match place.values {
        [value] => match &value.kind {
            ExprKind::Binary {
                operator,
                left,
                right,
            } if operator.value == Operator::Equal => amount(&left.kind).zip(amount(&right.kind)),
            _ => None,
        },
        _ => None,
    };
    let wrong = |findings: &mut Vec<Finding>| {
        findings.push(
            ModelError::ValueCount {
                at: place.at,
                field: "rate".to_owned(),
                wanted: "an amount, `=` and an amount of another currency".to_owned(),
                label: "not a rate",
                help: "as in `rate 1 USD = 0.92 EUR`".to_owned(),
            }
            .into(),
        );
    };
    let Some(((one, of), (other, in_))) = found.filter(|((_, of), (_, in_))| of != in_) else {
        wrong(findings);
        return None;
    };
    let mut own = Values::default();
    for child in &node.children {
        match schema::find_in_blocks(&format!("prices.rate.{}", child.head)) {
            Some(field) => {
                if let Some(value) = read::value(child, field, around, findings) {
                    own.put(value);
                }
            }
            None => {
                findings.push(read::unknown(child, FieldId::PricesRate.path(), None, &[]).into())
            }
        }
    }
    let what = format!("rate of {} in {}", of.code(), in_.code());
    let is_dated = is_dated || node.children.iter().any(|child| child.head == "dated");
    let own_day = own.day(FieldId::PricesRateDated);
    let dated = dated(own_day, block, is_dated, &what, place.at, findings)?;
    let is = other.checked_div(one).filter(|is| *is > Decimal::ZERO);
    let Some(is) = is else {
        wrong(findings);
        return None;
    };
    Some(Rate {
        of,
        is,
        in_,
        dated,
        source: own
            .text(FieldId::PricesRateSource)
            .or_else(|| block.text(FieldId::PricesSource))
            .map(str::to_owned),
        at: place.at,
        off: rounding(one) + rounding(other),
    })
}

/// `0.92 EUR` as a number and its currency.
fn amount(kind: &ExprKind) -> Option<(Decimal, Currency)> {
    match kind {
        ExprKind::Quantity {
            number: ast::Numeral::Decimal(number),
            unit: Some(unit),
        } => Currency::new(&unit.value).map(|currency| (*number, currency)),
        _ => None,
    }
}
