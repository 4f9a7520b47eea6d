//! From a ring in the hand to a recipe: few readings in, every band that fits them out, or what cannot hold together.
//!
//! Whatever of a band the readings leave open is an unknown. None: the weight says which metal, or what contradicts. One:
//! the weight says how much it is, over all that the readings may be off by. More than one: no band comes out, but what
//! one would be for some values of the other, and what to measure. Nothing is fitted that was not asked of one reading.

mod clash;
mod fit;
mod found;
mod hand;
mod known;
mod metals;
mod open;
mod read;
mod says;
mod taken;
mod text;
mod unknown;
mod worked;

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::finding::{Finding, Weight};
use crate::model::{given_name, mentioned_in};
use crate::source::{Source, Sources, Span};
use crate::syntax::{self, ast};
use crate::words::Spoken;

use super::placed::band_names;
use super::{Library, Outcome, Prepared, Request, Session};

pub use found::{Gauged, GaugedClash, GaugedFit, GaugedOpen, SoughtNumber};
pub use hand::{InHand, OffBy};

use fit::Gauging;
use hand::Line;
use read::Reader;
use text::Composed;

/// Where readings come from.
#[derive(Clone, Copy, Debug)]
pub struct Readings<'a> {
    /// How findings call it.
    pub name: &'a str,
    /// The text.
    pub text: &'a str,
}

impl Prepared {
    /// What of a recipe stands beside a ring that is not of it: alloys, `let`s, cutters, profiles, used files. What
    /// rests on its bands, prices, shop or orders is left out, since these are.
    #[must_use]
    pub fn beside(&self, sources: &Sources) -> String {
        let items = self.tree().map_or(&[][..], |tree| &tree.items);
        let of_ring =
            |entry: &&ast::Entry| hand::is_beside(entry) || entry.head_name() == Some("profile");
        let found = ast::entries(items).filter(of_ring);
        let found = found.filter(|entry| entry.head_name() != Some("annulet"));
        let mut found: Vec<(&ast::Entry, BTreeSet<String>)> =
            found.map(|entry| (entry, mentioned_in(entry))).collect();
        // What is left out takes with it what mentions it, until nothing more does.
        let mut gone: BTreeSet<String> = read::NOT_HERE.map(str::to_owned).into();
        gone.extend(band_names(items));
        while !gone.is_empty() {
            let mut next = BTreeSet::new();
            found.retain(|(entry, words)| {
                let own = given_name(entry).unwrap_or_default();
                let stays = words.iter().all(|word| word == own || !gone.contains(word));
                if !stays {
                    next.insert(own.to_owned());
                }
                stays
            });
            gone = next;
        }
        found
            .iter()
            .map(|(entry, _)| format!("{}\n", sources.slice(entry.span)))
            .collect()
    }
}

/// A text of readings, read.
struct Text {
    source: Arc<Source>,
    items: Vec<ast::Item>,
}

impl Session {
    /// What fits readings of a ring: `weight 3.52 g, width 5 mm, …`, each text holding some of them. `context` is a recipe's
    /// text of alloys and other things that stand beside the ring and are not written again; `name` is what the band is
    /// called.
    ///
    /// # Errors
    /// Nothing, after findings that say which reading is none; what contradicts is among the findings too.
    ///
    /// # Example
    /// ```
    /// use annulet::session::{NoLibrary, Readings, Session};
    /// let text = "weight 5.86 g, width 5 mm, inside 16 mm, outside 20 mm, alloy silver-925";
    /// let read = [Readings { name: "readings", text }];
    /// let (found, findings) = Session::default().gauge(&read, "", None, &mut NoLibrary);
    /// assert!(findings.is_empty());
    /// // A pipe: pi * 5 * (10^2 - 8^2) mm3 of 10.36 g/cm3 are 5.858 g.
    /// let fits = found.unwrap().fits;
    /// assert!((fits[0].grams - 5.86).abs() <= 0.005);
    /// ```
    pub fn gauge(
        &mut self,
        texts: &[Readings<'_>],
        context: &str,
        name: Option<&str>,
        library: &mut dyn Library,
    ) -> (Option<Gauged>, Vec<Finding>) {
        let mut findings = Vec::new();
        let mut read: Vec<Text> = Vec::new();
        for one in texts {
            let id = self.sources.add(one.name, one.text);
            let Some(source) = self.sources.get(id).cloned() else {
                continue;
            };
            let parsed = syntax::parse(&source);
            findings.extend(parsed.findings);
            let items = parsed.value.items;
            let source = Arc::new(source);
            read.push(Text { source, items });
        }
        if !findings.is_empty() {
            return (None, findings);
        }
        let own: Vec<Line> = read
            .iter()
            .flat_map(|one| hand::beside(&one.source, &one.items))
            .collect();
        let Some(scope) = self.beside(context, &own, library, &mut findings) else {
            return (None, findings);
        };
        let mut reader = Reader::new(&scope);
        for one in &read {
            reader.tools(&one.items);
        }
        for one in &read {
            reader.read(&one.source, &one.items);
        }
        let (mut hand, found) = (reader.hand, reader.findings);
        findings.extend(found);
        if !findings.is_empty() {
            crate::finding::settle(&mut findings);
            return (None, findings);
        }
        let at = read
            .first()
            .map(|one| one.source.span(0..one.source.text.len()));
        if hand.measured.is_empty() {
            let words: Vec<&str> = hand::WORDS.iter().take(6).copied().collect();
            let spoken = Spoken {
                code: "gauge::nothing",
                weight: Weight::Wrong,
                message: "nothing was measured".to_owned(),
                labels: at
                    .map(|at| (at, "no reading".to_owned()))
                    .into_iter()
                    .collect(),
                help: format!(
                    "write what was read of the ring: {}, as in `weight 3.52 g, width 5 mm`",
                    hand::words_of(&words)
                ),
            };
            return (None, vec![spoken.into()]);
        }
        hand.beside = own;
        let Some(metals) = metals::metals(&hand, &scope, &mut findings) else {
            return (None, findings);
        };
        let mut gauging = Gauging {
            session: self,
            library,
            context: context.to_owned(),
            name: name.unwrap_or("hand").to_owned(),
            whole: at.unwrap_or_default(),
            hand,
            metals,
            found: Gauged::default(),
            findings,
        };
        gauging.run();
        let Gauging {
            found, findings, ..
        } = gauging;
        let wrong = findings.iter().any(|one| one.weight() == Weight::Wrong);
        ((!wrong).then_some(found), findings)
    }

    /// What stands beside the ring, worked out; none after a finding.
    fn beside(
        &mut self,
        context: &str,
        own: &[Line],
        library: &mut dyn Library,
        findings: &mut Vec<Finding>,
    ) -> Option<Outcome> {
        let mut all = Composed::of(context);
        for line in own {
            all.copied(line);
        }
        if all.text.trim().is_empty() {
            return Some(Outcome::default());
        }
        let prepared = self.prepare("beside the readings", &all.text, library);
        let outcome = self.outcome(&prepared, &Request::default());
        let source = self.sources.get(prepared.id)?.clone();
        let wrong = outcome
            .findings
            .iter()
            .filter(|one| one.weight() == Weight::Wrong);
        findings.extend(wrong.map(|one| all.repointed(one, &source, Span::default())));
        findings.is_empty().then_some(outcome)
    }
}
