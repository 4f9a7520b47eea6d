//! Metal to buy for an order: of each stock lengths or blanks, grams and money; and metal that no stock is stated for.

use std::f64::consts::PI;
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::model::Alloy;
use crate::model::money::Stock;
use crate::quantity::Currency;

use super::balance::PartBalance;
use super::cost::gram;
use super::exact::{Exact, grams, round};
use super::made::Line;
use super::shortfall::tidy;

/// What an order takes of one stock in one metal, or of one metal that no stock is stated for.
#[derive(Clone, Debug, PartialEq)]
pub struct ToBuy {
    /// The stock; none where none is stated.
    pub stock: Option<String>,
    /// Its metal.
    pub alloy: String,
    /// Length in all, in mm; 0 where no stock is stated.
    pub length: f64,
    /// Lengths or blanks to buy; none where no length is stated.
    pub lengths: Option<u32>,
    /// Its weight: whole lengths where there are some.
    pub grams: Decimal,
    /// What it is bought for, premium and fabrication included; none where its metal has no price.
    pub money: Option<Decimal>,
}

/// A metal that is bought in one form.
struct Begun {
    stock: Option<Arc<Stock>>,
    alloy: Arc<Alloy>,
    by_gram: Exact,
    length: f64,
    lengths: Option<u32>,
    /// Left of the length that is begun; mm.
    left: f64,
    /// What is not measured by length: sprues, and metal without a stock.
    grams: Decimal,
}

/// Metal to buy: of each length as many pieces as go into it, one line after the other, for the rings begun.
pub(super) fn to_buy(made: &[Line<'_>], currency: Option<Currency>) -> Vec<ToBuy> {
    let mut begun: Vec<Begun> = Vec::new();
    for one in made {
        for part in &one.job.balance.parts {
            let name = part.stock.as_ref().map(|stock| &stock.name);
            let place = begun.iter().position(|known| {
                known.stock.as_ref().map(|stock| &stock.name) == name
                    && known.alloy.name == part.alloy.name
            });
            let place = place.unwrap_or_else(|| {
                let by_gram = gram(part, &one.job.book(), one.job.terms);
                begun.push(Begun::of(part, by_gram));
                begun.len() - 1
            });
            if let Some(known) = begun.get_mut(place) {
                known.take(part, one.begun);
            }
        }
    }
    begun.into_iter().map(|one| one.bought(currency)).collect()
}

impl Begun {
    fn of(part: &PartBalance, by_gram: Exact) -> Self {
        let stock = part.stock.as_ref();
        // Without a length nobody knows how many are begun: one, at least.
        let rest = stock.filter(|stock| stock.length.is_none());
        let length = stock.and_then(|stock| stock.length);
        Self {
            stock: stock.cloned(),
            alloy: Arc::clone(&part.alloy),
            by_gram,
            length: rest.map_or(0.0, |stock| stock.rest.to_mm()),
            lengths: length.map(|_| 0),
            left: 0.0,
            grams: Decimal::ZERO,
        }
    }

    fn take(&mut self, part: &PartBalance, count: u32) {
        let rings = Decimal::from(count);
        let (Some(stock), Some(need)) = (&self.stock, &part.need) else {
            self.grams += part.issued() * rings;
            return;
        };
        self.grams += stock.sprue * rings;
        let Some(length) = stock.length.map(|length| length.to_mm()) else {
            self.length += need.piece * f64::from(count);
            return;
        };
        let usable = length - stock.rest.to_mm();
        let into = |left: f64| (left / need.piece + 1e-9).floor().max(0.0);
        let mut pieces = f64::from(count);
        let now = into(self.left).min(pieces);
        pieces -= now;
        self.left -= now * need.piece;
        if pieces > 0.0 {
            let each = into(usable).max(1.0);
            let more = (pieces / each).ceil();
            self.left = usable - (pieces - (more - 1.0) * each) * need.piece;
            self.length += more * length;
            self.lengths = self
                .lengths
                .map(|lengths| lengths.saturating_add(more as u32));
        }
    }

    fn bought(self, currency: Option<Currency>) -> ToBuy {
        let by_mm = self.stock.as_ref().map_or(0.0, |stock| {
            let (outside, bore) = (stock.outside.to_mm(), stock.bore.to_mm());
            PI / 4.0 * (outside * outside - bore * bore) * self.alloy.density.grams_per_cm3()
                / 1000.0
        });
        let all = self.grams + grams(by_mm * self.length);
        let money = currency.and_then(|currency| {
            let money = (self.by_gram * all.into()).0?;
            Some(round(money, currency.places()))
        });
        ToBuy {
            stock: self.stock.map(|stock| stock.name.clone()),
            alloy: self.alloy.name.clone(),
            length: tidy(self.length),
            lengths: self.lengths,
            grams: all,
            money,
        }
    }
}
