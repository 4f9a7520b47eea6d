//! A `stock` block: what metal is issued as.

use crate::schema::{FORMS, FieldId};

use crate::finding::Finding;
use crate::model::error::ModelError;
use crate::model::laid::{self, Holder};
use crate::model::merge;
use crate::suggest::listed;
use crate::syntax::ast::{Entry, ExprKind};

use super::around::Around;
use super::read;
use super::said::{Form, Row, RowOf};

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

/// The row of one stock.
pub(super) fn row(
    name: &str,
    entry: &Entry,
    place: usize,
    around: &mut dyn Around<'_>,
    findings: &mut Vec<Finding>,
) -> Row {
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
    for items in laid::over(around.overrides(), &holder) {
        laid::lay_over(&mut nodes, items, &|_| false, findings);
    }
    around.money().row = Some(place);
    let values = read::block(&nodes, "stock", Some(word), around, findings);
    around.money().row = None;
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
    Row {
        of: RowOf::Stock(form),
        name: name.into(),
        word: name.into(),
        at,
        values,
    }
}
