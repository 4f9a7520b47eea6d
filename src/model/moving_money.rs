//! Numbers of prices, workshop, stock and orders moved, and what follows from them.

use std::sync::Arc;

use crate::finding::Finding;
use crate::schema::{BlockId, FieldId};

use super::alloy::Alloy;
use super::money::{self, Money, Order, Said};
use super::values::FieldValue;

/// What a recipe says of money, with some of its numbers moved.
pub(super) struct MovingMoney<'r> {
    known: Option<&'r Arc<Money>>,
    known_orders: &'r [Order],
    /// What is said, where it moved and nothing followed yet.
    said: Option<Said>,
    /// Prices, workshop and stock, where they moved.
    pub money: Option<Arc<Money>>,
    /// All orders, where something of one moved.
    pub orders: Option<Vec<Order>>,
}

impl<'r> MovingMoney<'r> {
    pub fn new(known: Option<&'r Arc<Money>>, known_orders: &'r [Order]) -> Self {
        Self {
            known,
            known_orders,
            said: None,
            money: None,
            orders: None,
        }
    }

    /// Whether a number of prices, workshop or stock moved.
    pub fn is_moved(&self) -> bool {
        self.said.is_some() || self.money.is_some()
    }

    /// What is said of prices, workshop, stock or an order.
    pub fn setting(&self, id: FieldId, row: Option<usize>) -> Option<&FieldValue> {
        if id.row().block == BlockId::Order {
            let orders = self.orders.as_deref().unwrap_or(self.known_orders);
            let order = orders.iter().find(|order| Some(order.place) == row)?;
            return order.values.get(id);
        }
        let said = self.said.as_ref().or_else(|| Some(&self.now()?.said));
        said?.get(id, row)
    }

    /// Puts a value in its place.
    pub fn put(&mut self, value: FieldValue, row: Option<usize>) -> Option<()> {
        if value.field.block == BlockId::Order {
            let known = self.known_orders;
            let orders = self.orders.get_or_insert_with(|| known.to_vec());
            let order = orders.iter_mut().find(|order| Some(order.place) == row)?;
            order.put(value);
            return Some(());
        }
        let said = self.said.take().or_else(|| Some(self.now()?.said.clone()));
        let mut said = said?;
        said.put(value, row);
        self.said = Some(said);
        Some(())
    }

    /// Puts an alloy in the place of itself where an order takes it in as old metal.
    pub fn put_alloy(&mut self, alloy: &Arc<Alloy>) {
        let is_it = |order: &Order| {
            let credit = order.credit.as_ref();
            credit.is_some_and(|credit| credit.alloy.name == alloy.name)
        };
        let known = self.orders.as_deref().unwrap_or(self.known_orders);
        if !known.iter().any(is_it) {
            return;
        }
        let known = self.known_orders;
        let orders = self.orders.get_or_insert_with(|| known.to_vec());
        for order in orders.iter_mut().filter(|order| is_it(order)) {
            if let Some(credit) = &mut order.credit {
                credit.alloy = Arc::clone(alloy);
            }
        }
    }

    /// Works out prices, workshop and stock from what is said of them.
    ///
    /// # Errors
    /// Findings, where an amount or what follows from it is out of range.
    pub fn settle(&mut self) -> Result<(), Vec<Finding>> {
        if let Some((said, money)) = self.said.take().zip(self.now()) {
            self.money = Some(Arc::new(money::moved(money, said)?));
        }
        Ok(())
    }

    fn now(&self) -> Option<&Arc<Money>> {
        self.money.as_ref().or(self.known)
    }
}
