//! The recipe that is being resolved, as the readers of money see it.

use std::sync::Arc;

use crate::finding::Finding;
use crate::source::Span;
use crate::syntax::ast::Expr;

use super::alloy::Alloy;
use super::band::Band;
use super::expression::Scope;
use super::laid::Override;
use super::merge::Node;
use super::money::{Around, MoneyState};
use super::program;
use super::resolve::{Progress, Resolver, Sought};
use super::value::Value;

impl<'t> Around<'t> for Resolver<'t> {
    fn money(&mut self) -> &mut MoneyState<'t> {
        &mut self.money
    }

    fn overrides(&self) -> &'t [Override] {
        self.overrides
    }

    fn band_names(&self) -> Vec<&str> {
        self.bands.iter().map(|band| band.name.as_str()).collect()
    }

    fn band_place(&self, name: &str) -> Option<usize> {
        self.band_named(name)
    }

    fn band_at(&self, place: usize) -> Span {
        self.bands
            .get(place)
            .map_or_else(Span::default, |band| band.at)
    }

    fn band_nodes(&self, place: usize) -> &[Node<'t>] {
        self.bands.get(place).map_or(&[], |band| &band.nodes)
    }

    fn band(&mut self, place: usize, at: Span, findings: &mut Vec<Finding>) -> Option<Arc<Band>> {
        let key = Sought::Band(place);
        if matches!(self.states.get(&key), Some(Progress::Working)) {
            return self.circle(key, at, findings);
        }
        Resolver::band(self, place, findings)
    }

    fn alloy_name(&self, word: &str) -> Option<String> {
        Resolver::alloy_name(self, word)
    }

    fn alloy(&mut self, name: &str, at: Span, findings: &mut Vec<Finding>) -> Option<Arc<Alloy>> {
        Resolver::alloy(self, name, at, findings)
    }

    fn evaluated(
        &mut self,
        reader: Option<program::Key>,
        work: &mut dyn FnMut(&mut dyn Scope) -> Option<Value>,
    ) -> Option<Value> {
        self.reader = reader;
        let value = work(&mut self.top_scope());
        self.reader = None;
        value
    }

    fn worked_out(&mut self, key: program::Key, value: &Expr) {
        self.notes.worked_out(key, value);
    }
}
