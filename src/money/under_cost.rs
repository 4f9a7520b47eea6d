//! Whether what is sold brings more than it costs.

use rust_decimal::{Decimal, RoundingStrategy};

use crate::model::money::{Making, Sale};
use crate::schema::FieldId;

use super::cost::Job;
use super::exact::{Exact, round};
use super::order::OrderTotals;
use super::price::{charged, charged_worth, sold};
use super::shortfall::MoneyShortfall;
use super::workpiece::Workpiece;

/// That a ring is sold for no more than it costs, both as they are shown; none where either is not known.
#[must_use]
pub fn under_cost(work: &Workpiece) -> Option<MoneyShortfall> {
    let (money, sale) = (&work.terms.money, work.terms.sale.as_ref()?);
    let places = money.currency?.places();
    let job = Job::of(work, money.shop.batch);
    let total = job.lines().total();
    let price = round(sold(&job, total)?.net.0?, places);
    let cost = round(total.0?, places);
    if price > cost {
        return None;
    }
    let unit = Decimal::new(1, places);
    // Half of the last place would be enough; a whole one certainly is.
    let wanted = Exact::from(cost) + unit.into();
    let (field, fits) = match sale {
        Sale::At(_) => (FieldId::SaleAt, wanted.0),
        Sale::Markup(_) => (FieldId::SaleMarkup, None),
        Sale::Margin(_) => (FieldId::SaleMargin, None),
        Sale::Weight { making, add } => {
            let worth = charged_worth(*add, &job.balance, &job.book());
            let (of, digits) = match making {
                Making::ByGram(_) => (charged(*add, &job.balance), places),
                Making::Share(_) => (worth, 4),
            };
            let up = RoundingStrategy::ToPositiveInfinity;
            let charge = ((wanted - worth) / of).0;
            let charge = charge.map(|charge| charge.round_dp_with_strategy(digits, up));
            (FieldId::SaleMaking, charge)
        }
    };
    Some(MoneyShortfall::UnderCost {
        field,
        price,
        cost,
        fits: fits.map(|fits| fits.normalize()),
    })
}

/// That an order brings no more than it costs.
#[must_use]
pub fn order_under_cost(order: usize, totals: &OrderTotals) -> Option<MoneyShortfall> {
    let (price, cost) = (totals.net?, totals.cost?.total);
    (price <= cost).then_some(MoneyShortfall::OrderUnderCost {
        order,
        price,
        cost,
        worst: None,
    })
}

/// That an order may bring less than it costs: it earns no more than `worst` where every `±` stands at its worse end.
#[must_use]
pub fn order_may_lose(
    order: usize,
    totals: &OrderTotals,
    worst: Decimal,
) -> Option<MoneyShortfall> {
    let (price, cost) = (totals.net?, totals.cost?.total);
    (worst <= Decimal::ZERO).then_some(MoneyShortfall::OrderUnderCost {
        order,
        price,
        cost,
        worst: Some(worst),
    })
}
