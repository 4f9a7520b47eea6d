//! Alloys as bands name them: the recipe's own before the built-in ones, each built once, on demand.

use std::sync::Arc;

use crate::catalogue;
use crate::finding::{Finding, is_full};
use crate::schema::FieldId;
use crate::source::Span;
use crate::suggest::{listed, nearest};
use crate::syntax::ast::{Entry, entries};

use super::alloy::{self, Alloy};
use super::assayed;
use super::band::Metal;
use super::error::ModelError;
use super::laid::{self, Holder};
use super::merge::{self, Node};
use super::resolve::{Resolver, Sought};
use super::trade;
use super::written_alloy::AlloyReader;

impl Resolver<'_> {
    /// The name that an alloy goes by, where a word is one of its names; the recipe's own before those built in.
    pub fn alloy_name(&self, word: &str) -> Option<String> {
        if self.metals.places.contains_key(word) {
            return Some(word.to_owned());
        }
        catalogue::alloy(word).map(|row| row.name.clone())
    }

    /// Every alloy that the recipe and its used files define, as written; none for one whose name is not wanted, or
    /// that has a mistake.
    pub fn alloys(
        &mut self,
        wanted: &dyn Fn(&str) -> bool,
        findings: &mut Vec<Finding>,
    ) -> Vec<Option<Arc<Alloy>>> {
        let written = self.metals.written.iter();
        let names: Vec<(String, Span)> = written
            .map(|(name, entry)| (name.clone(), entry.header_span()))
            .collect();
        let mut alloy = |(name, at): (String, Span)| {
            let is_wanted = wanted(&name);
            is_wanted.then(|| self.alloy(&name, at, findings)).flatten()
        };
        names.into_iter().map(&mut alloy).collect()
    }

    /// The alloy of a name; `None` after saying what is wrong, here or where it is defined.
    pub fn alloy(
        &mut self,
        name: &str,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Arc<Alloy>> {
        if let Some(known) = self.metals.built.get(name) {
            return known.clone();
        }
        let place = self.metals.places.get(name).copied();
        let written = place.and_then(|place| self.metals.written.get(place));
        let alloy = match place.zip(written) {
            Some((place, (_, entry))) => {
                let entry = *entry;
                let key = Sought::Alloy(place);
                if self.chain.contains(&key) {
                    return self.circle(key, at, findings);
                }
                let mut nodes: Vec<Node<'_>> = Vec::new();
                let mut laid_at = None;
                let apart = |word: &str| laid::tells_apart("alloy", word);
                if let Some(block) = &entry.block {
                    merge::lay(&mut nodes, &block.items, &apart, findings);
                }
                let holder = Holder::Block("alloy", Some(name.to_owned()));
                for items in laid::over(self.overrides, &holder) {
                    assayed::kept_of_alloy(&mut nodes, findings, |nodes, findings| {
                        laid::lay_over(nodes, items, &apart, findings);
                    });
                    laid_at = entries(items).last().map(Entry::header_span).or(laid_at);
                }
                let name_at = entry
                    .values
                    .first()
                    .map_or(entry.head_span(), |value| value.span);
                self.chain.push(key);
                let mut reader = AlloyReader {
                    resolver: self,
                    place,
                    findings,
                };
                let alloy = reader.read(name, (name_at, laid_at), &nodes);
                self.chain.pop();
                alloy.map(Arc::new)
            }
            None => match alloy::built_in(name) {
                Some(alloy) => Some(alloy),
                None => {
                    let sought = !is_full(findings);
                    findings.push(self.unknown_alloy(name, at, sought).into());
                    return None;
                }
            },
        };
        self.metals.built.insert(name.to_owned(), alloy.clone());
        alloy
    }

    /// The finding for an alloy that is not there; the one that was meant is looked for where it is `sought`.
    pub(super) fn unknown_alloy(&self, name: &str, at: Span, sought: bool) -> ModelError {
        let own = self.metals.written.iter().map(|(name, _)| name.as_str());
        // In one order, so that of two that are as near the same is offered every time.
        let own = own.filter(|_| sought);
        let mut known: Vec<&str> = own
            .chain(catalogue::alloy_names().map(|name| -> &str { name }))
            .collect();
        known.sort_unstable();
        let near = sought.then(|| crate::suggest::metal(name, known)).flatten();
        let near = near.map(str::to_owned);
        let alike = trade::alike(name);
        let near = near.filter(|near| alike.is_empty() || near.eq_ignore_ascii_case(name));
        let help = match (&near, alike.as_slice()) {
            (Some(near), _) => {
                format!("did you mean `{near}`? `annulet list alloys` shows the built-in ones")
            }
            (None, []) => format!(
                "define it with `alloy {name} {{ \u{2026} }}`; `annulet list alloys` shows the built-in ones"
            ),
            (None, alike) => format!(
                "built-in ones that fit are {}; write the one that is meant, or define it with `alloy {name} {{ \u{2026} }}`",
                listed(alike.iter().copied())
            ),
        };
        ModelError::UnknownName {
            at,
            name: name.to_owned(),
            kind: "the alloy",
            help,
            nearest: near,
        }
    }
}

/// An alloy in a state that it knows; a temper that is only the default is not looked up, nor is it in an alloy that states
/// none, so that the default means the same when it is written out.
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
    let usual = FieldId::Temper.row().default;
    let is_usual = usual.is_some_and(|(word, _)| word == temper);
    if let Some(at) = at
        && !known.contains(&temper)
        && !(known.is_empty() && is_usual)
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
