//! What is known of money while a recipe is resolved: its blocks as written, and what was read of them.

use std::collections::HashMap;
use std::sync::Arc;

use crate::finding::Finding;
use crate::model::laid::{self, Holder, Override};
use crate::model::merge::{self, Node};
use crate::syntax::ast::Entry;

use super::exchange::Exchange;
use super::view::{Money, Stock};

/// Blocks of the top level as written.
#[derive(Default)]
pub(crate) struct MoneyBlocks<'t> {
    /// `prices`, weakest first: those of used files, then the recipe's own.
    pub prices: Vec<&'t Entry>,
    /// `shop`, in the same order.
    pub shop: Vec<&'t Entry>,
    /// `stock`, with their names.
    pub stocks: Vec<(String, &'t Entry)>,
    /// `order`, with their names, where they have one.
    pub orders: Vec<(Option<String>, &'t Entry)>,
}

impl<'t> MoneyBlocks<'t> {
    /// The entries of `prices` or `shop`, merged, with what is laid over them.
    pub(super) fn merged(
        &self,
        word: &'static str,
        overrides: &'t [Override],
        findings: &mut Vec<Finding>,
    ) -> Vec<Node<'t>> {
        let entries = match word {
            "shop" => &self.shop,
            _ => &self.prices,
        };
        let apart = |head: &str| laid::tells_apart(word, head);
        let mut nodes = Vec::new();
        for block in entries.iter().filter_map(|entry| entry.block.as_ref()) {
            merge::lay(&mut nodes, &block.items, &apart, findings);
        }
        for items in laid::over(overrides, &Holder::Block(word, None)) {
            laid::lay_over(&mut nodes, items, &apart, findings);
        }
        nodes
    }
}

/// What is known of money while a recipe is resolved.
#[derive(Default)]
pub(crate) struct MoneyState<'t> {
    /// What is written.
    pub written: MoneyBlocks<'t>,
    /// Read already: none where nothing is written, or while it is being read.
    pub read: Option<Option<Arc<Money>>>,
    /// Something of it is wrong, so that nothing of it is known.
    pub is_faulty: bool,
    /// It is being read.
    pub is_working: bool,
    /// The place of the row that is being read, where it has one.
    pub row: Option<usize>,
    /// Rates.
    pub exchange: Exchange,
    /// Stocks by name; none for faulty ones.
    pub stocks: HashMap<String, Option<Arc<Stock>>>,
}

impl MoneyState<'_> {
    /// Whether anything is said of money, or laid over.
    pub fn says_something(&self, overrides: &[Override]) -> bool {
        let written = &self.written;
        let blocks = !written.prices.is_empty() || !written.shop.is_empty();
        let laid = |one: &Override| matches!(one.holder, Holder::Block("prices" | "shop", _));
        let laid = overrides.iter().any(laid);
        blocks || laid || !written.stocks.is_empty() || !written.orders.is_empty()
    }
}
