//! Which findings concern what is asked: the answer about one band does not carry the mistakes of another.
//!
//! Input: the findings of a whole recipe, and the names that are asked for. Output: those that lie in what these
//! names rest on, or in nothing that has a name. In doubt a finding is kept.

use std::collections::BTreeSet;

use crate::finding::{Finding, Weight};
use crate::model::{given_name, mentioned, mentioned_in};
use crate::schema::BlockId;
use crate::source::Sources;
use crate::syntax::{self, ast};

use super::names::single_name;
use super::ordered::ORDERS;
use super::{Outcome, Prepared};

/// What is asked for.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Names of the top level.
    pub names: BTreeSet<String>,
    /// The order, where one is asked for.
    pub order: Option<String>,
}

impl Outcome {
    /// What some questions ask for. A path that begins with no band's name means the chosen band, or the only one.
    #[must_use]
    pub fn asked<'a>(&self, questions: impl Iterator<Item = &'a str>) -> Asked {
        let mut names = BTreeSet::new();
        let mut order = None;
        let own = &self.recipe.names;
        let only = own.first().filter(|_| own.len() == 1);
        let meant = self.chosen.as_ref().or(only.map(|named| &named.name));
        for question in questions {
            let asked = self.orders_in(question);
            names.extend(asked.names);
            order = order.or(asked.order);
            let mut sources = Sources::default();
            let id = sources.add("question", question);
            let parsed = sources.get(id).map(syntax::parse_query);
            let words = parsed
                .and_then(|parsed| parsed.value)
                .map(|expr| mentioned(&expr))
                .unwrap_or_default();
            if !words.iter().all(|word| self.recipe.is_band(word)) {
                names.extend(meant.cloned());
            }
            names.extend(words);
        }
        Asked { names, order }
    }

    /// The order that a question asks a total of, and the bands in it.
    fn orders_in(&self, question: &str) -> Asked {
        let mut names = self
            .recipe
            .orders
            .iter()
            .filter_map(|order| order.name.as_deref());
        let named = names.find(|name| question.contains(&format!("order.{name}.")));
        named.map_or_else(Asked::default, |name| self.asked_of_order(name))
    }

    /// What an order asks for: itself, and the bands in it.
    #[must_use]
    pub fn asked_of_order(&self, name: &str) -> Asked {
        let orders = self.recipe.orders.iter();
        let orders = orders.filter(|order| order.name.as_deref() == Some(name));
        let items = orders.flat_map(|order| &order.items);
        Asked {
            names: items.map(|item| item.band.clone()).collect(),
            order: Some(name.to_owned()),
        }
    }

    /// The findings that concern what is asked for.
    #[must_use]
    pub fn about(&self, prepared: &Prepared, asked: &Asked) -> Vec<Finding> {
        let needed = prepared.mentions().rests_on(asked.names.iter().cloned());
        let concerns = |one: &&Finding| self.concerns_asked(one, prepared, asked, &needed);
        self.findings.iter().filter(concerns).cloned().collect()
    }

    fn concerns_asked(
        &self,
        finding: &Finding,
        prepared: &Prepared,
        asked: &Asked,
        needed: &BTreeSet<String>,
    ) -> bool {
        // What was found of a band lies in its own text or in its parent's; a limit of another band is its own.
        let wanted = match finding.weight() {
            Weight::Wrong => needed,
            Weight::Short | Weight::Note => &asked.names,
        };
        let same = self.of_bands.iter();
        let same = same.filter(|(band, one)| band != ORDERS && one.says_as(finding));
        let mut bands = same.map(|(band, _)| band).peekable();
        if bands.peek().is_some() {
            return bands.any(|band| wanted.contains(band));
        }
        let Some(entry) = finding.span().and_then(|span| {
            let trees = prepared.trees().iter();
            let mut all = trees.flat_map(|tree| ast::entries(&tree.items));
            all.find(|entry| entry.span.start <= span.start && span.start < entry.span.end)
        }) else {
            return true;
        };
        match entry.head_name() {
            Some("band" | "variant" | "alloy" | "profile" | "cutter" | "let") => {
                given_name(entry).is_none_or(|name| needed.contains(name))
            }
            Some(word) if BlockId::of_ring(word).is_some() => {
                let of = entry.values.first().and_then(single_name);
                of.is_none_or(|name| needed.contains(&name))
            }
            Some("order") => {
                let name = entry.values.first().and_then(single_name);
                asked.order.is_some() && name == asked.order
            }
            Some("require") => {
                let words = mentioned_in(entry);
                let mut bands = words.iter().filter(|word| self.recipe.is_band(word));
                bands.clone().next().is_none() || bands.any(|band| asked.names.contains(band))
            }
            _ => true,
        }
    }
}
