//! What reading of money needs to know of the recipe around it.

use std::sync::Arc;

use crate::finding::Finding;
use crate::model::alloy::Alloy;
use crate::model::band::Band;
use crate::model::expression::Scope;
use crate::model::laid::Override;
use crate::model::merge::Node;
use crate::model::program::Key;
use crate::model::value::Value;
use crate::source::Span;
use crate::syntax::ast::Expr;

use super::state::MoneyState;

/// A recipe while it is resolved.
pub(crate) trait Around<'t> {
    /// What is known of money.
    fn money(&mut self) -> &mut MoneyState<'t>;

    /// What is laid over the recipe from outside.
    fn overrides(&self) -> &'t [Override];

    /// The names of all bands, in the order of their places.
    fn band_names(&self) -> Vec<&str>;

    /// The place of a band.
    fn band_place(&self, name: &str) -> Option<usize>;

    /// Where a band is written.
    fn band_at(&self, place: usize) -> Span;

    /// What a band says, merged.
    fn band_nodes(&self, place: usize) -> &[Node<'t>];

    /// A band, resolved; `None` after saying what is wrong, as that it needs itself, `at` being where it is named.
    fn band(&mut self, place: usize, at: Span, findings: &mut Vec<Finding>) -> Option<Arc<Band>>;

    /// The name that an alloy goes by, where a word is one of its names.
    fn alloy_name(&self, word: &str) -> Option<String>;

    /// An alloy by its name.
    fn alloy(&mut self, name: &str, at: Span, findings: &mut Vec<Finding>) -> Option<Arc<Alloy>>;

    /// A value worked out with names as seen from the top level; what it mentions is noted for `reader`.
    fn evaluated(
        &mut self,
        reader: Option<Key>,
        work: &mut dyn FnMut(&mut dyn Scope) -> Option<Value>,
    ) -> Option<Value>;

    /// Notes that a value was worked out.
    fn worked_out(&mut self, key: Key, value: &Expr);
}
