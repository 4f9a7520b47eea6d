//! `let`s of a recipe that nothing mentions: as a rule a slip of the one that was meant.

use std::collections::BTreeSet;

use crate::finding::{Finding, Weight};
use crate::model::{ModelNote, mentioned_in};
use crate::syntax::ast;

use super::prepared::Prepared;
use super::{Outcome, Request};

impl Prepared {
    /// Tells the `let`s that neither the recipe nor what is laid over it mentions. Where something is wrong nothing is
    /// said: the line that would mention one may be the faulty one.
    pub fn tell_unused(&self, request: &Request, outcome: &mut Outcome) {
        let Some(own) = self.trees().first() else {
            return;
        };
        let wrong = |one: &Finding| one.weight() == Weight::Wrong;
        let lets = || ast::entries(&own.items).filter(|entry| entry.head_name() == Some("let"));
        if lets().next().is_none() || outcome.findings.iter().any(wrong) {
            return;
        }
        let entries = self.trees().iter();
        let entries = entries.flat_map(|tree| ast::entries(&tree.items));
        let mut known: BTreeSet<String> = BTreeSet::new();
        for entry in entries {
            let mut words = mentioned_in(entry);
            // The name of a `let` is no mention of it.
            if let Some(name) = crate::model::given_name(entry)
                && entry.head_name() == Some("let")
            {
                words.remove(name);
            }
            known.append(&mut words);
        }
        let tries = request.tries.iter().map(|tried| tried.line.as_str());
        let laid: Vec<&str> = request
            .sets
            .iter()
            .map(String::as_str)
            .chain(tries)
            .collect();
        let end = |c: char| !(c.is_alphanumeric() || c == '-');
        for entry in lets() {
            let Some(name) = crate::model::given_name(entry) else {
                continue;
            };
            let in_laid = laid
                .iter()
                .any(|text| text.split(end).any(|word| word == name));
            if !known.contains(name) && !in_laid {
                let at = entry
                    .values
                    .first()
                    .map_or(entry.span, |value| match &value.kind {
                        ast::ExprKind::Binary { left, .. } => left.span,
                        _ => value.span,
                    });
                let name = name.to_owned();
                outcome.findings.push(ModelNote::Unused { at, name }.into());
            }
        }
        crate::finding::settle(&mut outcome.findings);
    }
}
