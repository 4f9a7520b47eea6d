//! How a band is sold, from its own fields.

use crate::finding::Finding;
use crate::model::error::ModelError;
use crate::model::values::Values;
use crate::quantity::Dimension;
use crate::schema::FieldId;

use super::exchange::Exchange;
use super::view::{Making, Sale};

/// A price is made in one way.
pub(super) fn exclusive(values: &Values, findings: &mut Vec<Finding>) {
    let ways = [FieldId::SaleMarkup, FieldId::SaleMargin, FieldId::SaleAt];
    let mut given = ways.iter().filter_map(|id| values.at(*id));
    if let (Some(first), Some(second)) = (given.next(), given.next()) {
        findings.push(
            ModelError::Conflict {
                second,
                first,
                message: "a price is made by a markup on cost, a margin on price, or stated: not by two of them",
                help: "keep one of the two",
            }
            .into(),
        );
    }
}

/// How a band is sold, from its fields.
pub(super) fn sale(
    values: &Values,
    exchange: &mut Exchange,
    findings: &mut Vec<Finding>,
) -> Option<Sale> {
    match values.word(FieldId::Sale)? {
        "piece" => {
            if let Some(value) = values.get(FieldId::SaleAt) {
                return exchange.amount(value, findings).map(Sale::At);
            }
            let share = |id: FieldId| values.decimal(id);
            let markup = share(FieldId::SaleMarkup).map(Sale::Markup);
            let found = markup.or_else(|| share(FieldId::SaleMargin).map(Sale::Margin));
            if found.is_none() {
                findings.push(
                    ModelError::Lacks {
                        at: values.at(FieldId::Sale).unwrap_or_default(),
                        what: "sale".to_owned(),
                        fields: "`markup`, `margin` or `at`".to_owned(),
                        help: "as in `sale piece { markup 120 % }`".to_owned(),
                    }
                    .into(),
                );
            }
            found
        }
        _ => {
            let Some(value) = values.get(FieldId::SaleMaking) else {
                findings.push(
                    ModelError::Lacks {
                        at: values.at(FieldId::Sale).unwrap_or_default(),
                        what: "sale".to_owned(),
                        fields: "`making`".to_owned(),
                        help: "as in `sale weight { making 20 EUR/g }`".to_owned(),
                    }
                    .into(),
                );
                return None;
            };
            let is_share = value.value.quantity()?.dimension == Dimension::NONE;
            let making = if is_share {
                Making::Share(values.decimal(FieldId::SaleMaking)?)
            } else {
                Making::ByGram(exchange.amount(value, findings)?)
            };
            Some(Sale::Weight {
                making,
                add: values.decimal(FieldId::SaleAdd).unwrap_or_default(),
            })
        }
    }
}
