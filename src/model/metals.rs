//! Alloys by name: the recipe's own before the built-in ones, each built once.

use std::collections::HashMap;
use std::sync::Arc;

use crate::catalogue;
use crate::finding::Finding;
use crate::source::Span;
use crate::suggest::{listed, nearest};
use crate::syntax::ast::Entry;

use super::alloy::{self, Alloy, NoNames};
use super::band::Metal;
use super::error::ModelError;
use super::merge::{self, Node};
use super::recipe::Recipe;
use super::resolve::Resolver;
use super::value::Value;

/// Alloys by name, each built once.
pub(super) struct Metals {
    pub written: HashMap<String, Option<Arc<Alloy>>>,
}

impl Metals {
    pub fn add(
        &mut self,
        name: &str,
        entry: &Entry,
        resolver: &mut Resolver<'_>,
        recipe: &mut Recipe,
        findings: &mut Vec<Finding>,
    ) {
        let mut nodes: Vec<Node<'_>> = Vec::new();
        if let Some(block) = &entry.block {
            merge::lay(&mut nodes, &block.items, &|head| head == "temper", findings);
        }
        let at = entry
            .values
            .first()
            .map_or(entry.head_span(), |value| value.span);
        let mut scope = LetNames { resolver };
        let alloy = alloy::written(name, at, &nodes, &mut scope, findings).map(Arc::new);
        recipe.alloys.extend(alloy.clone());
        self.written.insert(name.to_owned(), alloy);
    }

    /// The alloy of a name: the recipe's own before a built-in one.
    pub fn find(
        &mut self,
        name: &str,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Arc<Alloy>> {
        if let Some(known) = self.written.get(name) {
            return known.clone();
        }
        if let Some(alloy) = alloy::built_in(name) {
            let alloy = Some(Arc::new(alloy));
            self.written.insert(name.to_owned(), alloy.clone());
            return alloy;
        }
        let names = catalogue::alloy_names();
        let known = self
            .written
            .keys()
            .map(String::as_str)
            .chain(names.iter().map(String::as_str));
        let near = nearest(name, known).map(str::to_owned);
        let help = match &near {
            Some(near) => {
                format!("did you mean `{near}`? `annulet list alloys` shows the built-in ones")
            }
            None => format!(
                "define it with `alloy {name} {{ … }}`; `annulet list alloys` shows the built-in ones"
            ),
        };
        findings.push(
            ModelError::UnknownName {
                at,
                name: name.to_owned(),
                kind: "the alloy",
                help,
                nearest: near,
            }
            .into(),
        );
        None
    }
}

/// Names that an alloy's values may use: `let`s.
struct LetNames<'r, 't> {
    resolver: &'r mut Resolver<'t>,
}

impl super::expression::Scope for LetNames<'_, '_> {
    fn name(
        &mut self,
        path: &crate::syntax::ast::Path,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Value> {
        match self
            .resolver
            .lets
            .iter()
            .position(|one| Some(one.name) == path.single())
        {
            Some(place) => self.resolver.let_value(place, at, findings),
            None => super::expression::Scope::name(&mut NoNames, path, at, findings),
        }
    }
}

/// An alloy in a state that it knows; a temper that is only the default is not looked up.
pub(super) fn metal(
    alloy: Arc<Alloy>,
    temper: &str,
    at: Option<Span>,
    findings: &mut Vec<Finding>,
) -> Metal {
    let known: Vec<&str> = alloy
        .tempers
        .iter()
        .map(|temper| temper.name.as_str())
        .collect();
    if let Some(at) = at
        && !known.contains(&temper)
    {
        let near = nearest(temper, known.iter().copied()).map(str::to_owned);
        let help = match &near {
            Some(near) => format!("did you mean `{near}`?"),
            None if known.is_empty() => format!(
                "`{}` states no tempers; add a `temper` block to it",
                alloy.name
            ),
            None => format!("`{}` has {}", alloy.name, listed(known)),
        };
        findings.push(
            ModelError::UnknownName {
                at,
                name: temper.to_owned(),
                kind: "the temper",
                help,
                nearest: near,
            }
            .into(),
        );
    }
    Metal {
        alloy,
        temper: temper.to_owned(),
    }
}
