//! What a batch takes of a stock, and whether the stock can make the part at all.

use std::sync::Arc;

use crate::model::money::Stock;
use crate::schema::FieldId;

use super::shortfall::MoneyShortfall;
use super::workpiece::{Extent, PartOf, Workpiece};

/// What a batch takes of one stock; mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Need {
    /// Length of the stock that one part takes, its share of facing and parting included.
    pub piece: f64,
    /// Length that goes as offcut, in all.
    pub offcut: f64,
    /// Length to buy, in all.
    pub length: f64,
    /// Lengths or blanks to buy; none where the stock states no length.
    pub lengths: Option<u32>,
}

/// What a batch of parts of one width takes of a stock.
///
/// # Formula
/// Tube and rod: piece = width + 2 * facing + kerf; of a length, floor((length - rest) / piece) pieces; offcut is
/// what is left of each length that is used up, and the rest of the last. Blanks: one each.
///
/// # Units
/// Millimetres.
#[must_use]
pub fn need(stock: &Stock, width: f64, batch: u32) -> Need {
    let count = f64::from(batch.max(1));
    let length = stock.length.map(crate::quantity::Length::to_mm);
    if !stock.form.is_parted() {
        let piece = length.unwrap_or(width);
        return Need {
            piece,
            offcut: 0.0,
            length: piece * count,
            lengths: Some(batch.max(1)),
        };
    }
    let piece = width + 2.0 * stock.facing.to_mm() + stock.kerf.to_mm();
    let rest = stock.rest.to_mm();
    let Some(length) = length else {
        return Need {
            piece,
            offcut: rest,
            length: piece * count + rest,
            lengths: None,
        };
    };
    // A piece that ends with the length to within rounding still comes out of it.
    let pieces = ((length - rest) / piece + 1e-9).floor().max(1.0);
    let lengths = (count / pieces).ceil();
    Need {
        piece,
        offcut: (lengths - 1.0) * (length - pieces * piece) + rest,
        length: lengths * length,
        lengths: Some(lengths as u32),
    }
}

/// Every dimension of a stock that cannot make its part.
pub fn unfit(work: &Workpiece) -> impl Iterator<Item = MoneyShortfall> {
    let parts = work.parts.iter();
    let with_stock = parts.filter_map(|part| {
        let (stock, due) = (part.stock.as_ref()?, part.extent?);
        let short = judged(part.of, &due, stock);
        let is_short = short.iter().any(Option::is_some);
        let serving = is_short.then(|| serving(work, part.of, &due));
        Some(short.into_iter().flatten().map(move |mut short| {
            if let MoneyShortfall::Stock { others, .. } = &mut short {
                *others = serving.unwrap_or_default();
            }
            short
        }))
    });
    with_stock.flatten()
}

/// Whether a part comes out of a stock, each turned diameter cleaned up.
#[must_use]
pub fn serves(stock: &Stock, part: PartOf, due: &Extent) -> bool {
    judged(part, due, stock).iter().all(Option::is_none)
}

/// The first of some stocks that a part comes out of; where there is none, the first.
#[must_use]
pub fn chosen<'a>(stocks: &'a [Arc<Stock>], part: PartOf, due: &Extent) -> Option<&'a Arc<Stock>> {
    let fitting = stocks.iter().find(|stock| serves(stock, part, due));
    fitting.or(stocks.first())
}

/// The stocks of the recipe that could make a part, a bit each in the order written; of the first 64.
fn serving(work: &Workpiece, part: PartOf, due: &Extent) -> u64 {
    let stocks = work.terms.money.stocks.iter().take(64).enumerate();
    let fit = stocks.filter(|(_, stock)| serves(stock, part, due));
    fit.fold(0, |bits, (place, _)| bits | 1 << place)
}

/// Each turned diameter needs its clean-up.
fn judged(part: PartOf, due: &Extent, stock: &Stock) -> [Option<MoneyShortfall>; 3] {
    let short = |field: FieldId, found: f64, wanted: f64| {
        let missing = match field {
            FieldId::StockBore => found - wanted,
            _ => wanted - found,
        };
        (missing > ROUNDING).then_some(MoneyShortfall::Stock {
            part,
            field,
            found,
            wanted,
            others: 0,
        })
    };
    let length = stock.length.and_then(|length| {
        let parted = stock.kerf.to_mm() + stock.rest.to_mm();
        let facing = 2.0 * stock.facing.to_mm();
        let wanted = due.width + facing + if stock.form.is_parted() { parted } else { 0.0 };
        short(FieldId::StockLength, length.to_mm(), wanted)
    });
    let clean_up = stock.clean_up.to_mm();
    let (outside, bore) = (stock.outside.to_mm(), stock.bore.to_mm());
    [
        short(FieldId::StockOutside, outside, due.outside + clean_up),
        // What has no bore is drilled.
        short(FieldId::StockBore, bore, due.bore - clean_up).filter(|_| bore > 0.0),
        length,
    ]
}

/// Computed lengths are compared within this, in mm.
const ROUNDING: f64 = 1e-9;
