//! A `stock` block: what metal is issued as.

use crate::schema::{FORMS, FieldId};
use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::model::check;
use crate::model::error::ModelError;
use crate::model::laid::{self, Holder};
use crate::model::merge;
use crate::model::resolve::Resolver;
use crate::quantity::Length;
use crate::suggest::listed;
use crate::syntax::ast::{Entry, ExprKind};

use super::exchange::Exchange;
use super::{Form, Stock, read};

/// `stock tube-22 tube { … }`: its name; `None` after saying what is wrong.
pub(crate) fn name(entry: &Entry, findings: &mut Vec<Finding>) -> Option<String> {
    if let [name, form] = entry.values.as_slice()
        && let (ExprKind::Path(name), ExprKind::Path(form)) = (&name.kind, &form.kind)
        && FORMS.contains(&form.0.as_str())
        && let Some(name) = name.single()
        && entry.block.is_some()
    {
        return Some(name.to_owned());
    }
    findings.push(
        ModelError::ValueCount {
            at: entry
                .values
                .last()
                .map_or(entry.head_span().after(), |value| value.span),
            field: "stock".to_owned(),
            wanted: "a name, a form and a block".to_owned(),
            label: "here",
            help: format!(
                "as in `stock tube-22 tube {{ outside 22 mm, bore 16 mm }}`; forms are {}",
                listed(FORMS.iter().copied())
            ),
        }
        .into(),
    );
    None
}

/// Reads one stock.
pub(super) fn stock(
    name: &str,
    entry: &Entry,
    exchange: &mut Exchange,
    resolver: &mut Resolver<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Stock> {
    let before = findings.len();
    let word = match entry.values.get(1).map(|form| &form.kind) {
        Some(ExprKind::Path(path)) => path.0.as_str(),
        _ => "",
    };
    let form = match word {
        "tube" => Form::Tube,
        "rod" => Form::Rod,
        "ring" => Form::Ring,
        _ => Form::Cast,
    };
    let mut nodes = Vec::new();
    if let Some(block) = &entry.block {
        merge::lay(&mut nodes, &block.items, &|_| false, findings);
    }
    let holder = Holder::Block("stock", Some(name.to_owned()));
    for items in laid::over(resolver.overrides, &holder) {
        laid::lay_over(&mut nodes, items, &|_| false, findings);
    }
    let values = read::block(&nodes, "stock", Some(word), resolver, findings);
    let wanted: &[FieldId] = match form {
        Form::Tube => &[FieldId::StockOutside, FieldId::StockBore],
        Form::Rod => &[FieldId::StockOutside],
        Form::Ring | Form::Cast => &[
            FieldId::StockOutside,
            FieldId::StockBore,
            FieldId::StockLength,
        ],
    };
    let at = entry
        .values
        .first()
        .map_or(entry.head_span(), |value| value.span);
    if findings.len() == before {
        read::lacking(&format!("{word} `{name}`"), at, wanted, &values, findings);
    }
    let zero = Length::mm(Decimal::ZERO);
    let outside = values.length(FieldId::StockOutside)?;
    let bore = values.length(FieldId::StockBore).unwrap_or(zero);
    if bore >= outside {
        findings.push(
            ModelError::OutOfRange {
                at: values.at(FieldId::StockBore).unwrap_or(at),
                field: "bore".to_owned(),
                found: values
                    .get(FieldId::StockBore)
                    .map_or(String::new(), |bore| check::shown(&bore.value)),
                range: format!(
                    "smaller than the outside of {} mm",
                    outside.value().normalize()
                ),
                help: "check both diameters".to_owned(),
            }
            .into(),
        );
    }
    if let (Some(length), Some(rest)) = (
        values.length(FieldId::StockLength),
        values.length(FieldId::StockRest),
    ) && rest >= length
    {
        findings.push(
            ModelError::OutOfRange {
                at: values.at(FieldId::StockRest).unwrap_or(at),
                field: "rest".to_owned(),
                found: values
                    .get(FieldId::StockRest)
                    .map_or(String::new(), |rest| check::shown(&rest.value)),
                range: format!(
                    "shorter than the length of {} mm",
                    length.value().normalize()
                ),
                help: "the rest is what stays in the chuck of each length".to_owned(),
            }
            .into(),
        );
    }
    let fabrication = match values.get(FieldId::StockFabrication) {
        Some(value) => Some(exchange.amount(value, findings)?),
        None => None,
    };
    if findings.len() > before {
        return None;
    }
    Some(Stock {
        name: name.to_owned(),
        form,
        outside,
        bore,
        length: values.length(FieldId::StockLength),
        kerf: values.length(FieldId::StockKerf).unwrap_or(zero),
        facing: values.length(FieldId::StockFacing).unwrap_or(zero),
        rest: values.length(FieldId::StockRest).unwrap_or(zero),
        sprue: values.decimal(FieldId::StockSprue).unwrap_or_default(),
        fabrication,
        at,
        fields: values,
    })
}
