//! A text that differs from a recipe as read in its last bands alone, as when bands are typed one by one: only these are
//! read, resolved and evaluated, and put behind what stays.
//!
//! Whatever else may follow from the change (another block, a name that is mentioned before, a requirement, an order, a
//! used file, a mistake) has the whole recipe read, so that both ways come to the same.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::evaluate;
use crate::finding::{Finding, MOST};
use crate::model::{Nested, Wanted, given_name, is_band};
use crate::schema::FieldId;
use crate::source::Source;
use crate::syntax::ast::{self, Entry, Item};
use crate::syntax::{self, LARGEST};

use super::{Outcome, Prepared, Request, Session};

/// The last bands of a recipe, read and evaluated.
pub(crate) struct Grown {
    source: Source,
    /// How many items of the top level stay.
    kept: usize,
    last: Nested,
    /// The bands that stood there before, and those that stand there now.
    gone: BTreeSet<String>,
    names: BTreeSet<String>,
    /// What the bands come to.
    part: Outcome,
    /// Where they begin.
    from: u32,
}

impl Grown {
    /// What is found in them.
    pub fn findings(&self) -> &[Finding] {
        &self.part.findings
    }

    /// Whether the recipe has a band of that name with them.
    pub fn has(&self, outcome: &Outcome, band: &str) -> bool {
        let stays = || outcome.recipe.is_band(band) && !self.gone.contains(band);
        self.names.contains(band) || stays()
    }

    /// The first band of the recipe with them.
    pub fn first<'o>(&'o self, outcome: &'o Outcome) -> Option<&'o String> {
        let stay = outcome.recipe.names.iter().map(|named| &named.name);
        let mut stay = stay.filter(|name| !self.gone.contains(*name));
        stay.next()
            .or(self.part.recipe.names.first().map(|named| &named.name))
    }

    /// The bands that differ, or may.
    pub fn reach(&self) -> BTreeSet<String> {
        self.gone.union(&self.names).cloned().collect()
    }
}

impl Session {
    /// What another text comes to; none where it may differ in more than its last bands.
    pub(crate) fn grown(
        &self,
        prepared: &Prepared,
        outcome: &Outcome,
        text: &Arc<str>,
        request: &Request,
    ) -> Option<Grown> {
        let tree = prepared.alone()?;
        let recipe = &outcome.recipe;
        let is_plain = request.sets.is_empty() && request.tries.is_empty() && !outcome.refused;
        if !is_plain || !recipe.requirements.is_empty() || !recipe.orders.is_empty() {
            return None;
        }
        let own = self.sources.get(prepared.id)?;
        let (kept, from) = kept(own, tree, text)?;
        let source = self.sources.changed_behind(prepared.id, text, from)?;
        let part = source.behind(from);
        let parsed = syntax::parse(&part);
        let before = tree.items.get(kept..)?;
        if text.len() > LARGEST || !parsed.findings.is_empty() {
            return None;
        }
        let (gone, names) = (bands(before)?, bands(&parsed.value.items)?);
        let last = Nested::of(parsed.value);
        let mentions = prepared.mentions();
        let new = || names.iter().filter(|name| !gone.contains(*name));
        let stays = tree.items.get(..kept)?;
        let is_twice = |entry: &Entry| {
            given_name(entry).is_some_and(|name| names.contains(name) || gone.contains(name))
        };
        let alike = |name: &String| !name.is_ascii();
        if !last.is_in_order()
            || new().any(|name| mentions.knows(name))
            || ast::entries(stays).any(is_twice)
            || names.iter().any(alike)
            || recipe.names.iter().any(|named| alike(&named.name))
            || !ast::entries(stays).any(is_band) && names.is_empty()
            || mentions.dependents(gone.iter().cloned()) != gone
        {
            return None;
        }
        let mut needed = mentions.under(&last);
        let from = part.base;
        // What a band that is gone said of those before it stands among them.
        let before = |one: &Finding| one.span().is_none_or(|at| at.start < from);
        let leads = |name: &String| {
            mentions
                .needs([name.clone()])
                .iter()
                .any(|other| recipe.is_band(other) && !gone.contains(other))
        };
        if gone.iter().any(leads) && outcome.findings.iter().any(before) {
            return None;
        }
        let rests = |item: &Item| match item {
            Item::Entry(entry) if is_band(entry) => {
                entry.span.start < from
                    && given_name(entry).is_some_and(|name| needed.contains(name))
            }
            Item::Entry(entry) => entry.span.start < from,
            Item::Comment(_) | Item::Broken(_) => false,
        };
        let of_these = tree.with_last(&rests, &last);
        needed.extend(names.iter().cloned());
        let wanted = Wanted::Only {
            names: &names,
            needed: &needed,
        };
        let (resolved, mut problems) = crate::model::resolve(
            &of_these,
            &[],
            &[],
            &evaluate::Results,
            prepared.drawings(),
            wanted,
        );
        let is_said = |one: &Finding| outcome.findings.iter().any(|known| known.says_as(one));
        if problems.iter().any(|one| before(one) && !is_said(one)) {
            return None;
        }
        problems.retain(|one| !before(one));
        let mut part = Outcome {
            noted: !problems.is_empty(),
            findings: problems,
            ..Outcome::of_bands(prepared, resolved)
        };
        part.findings
            .extend(part.of_bands.iter().map(|(_, one)| one.clone()));
        part.recipe
            .names
            .retain(|named| names.contains(&named.name));
        part.identify(std::slice::from_ref(&of_these));
        let few = outcome.findings.len() + part.findings.len() < MOST;
        few.then_some(Grown {
            source,
            kept,
            last,
            gone,
            names,
            part,
            from,
        })
    }

    /// Takes over what was read; gives what there was of it before, with all that was found.
    pub(crate) fn grow(
        &mut self,
        prepared: &mut Prepared,
        outcome: &mut Outcome,
        grown: Grown,
    ) -> Outcome {
        self.sources.put(prepared.id, grown.source);
        prepared.put_last(grown.kept, &grown.gone, grown.last);
        outcome.put_last(grown.part, &grown.gone, grown.from)
    }
}

impl Outcome {
    /// Puts the last bands in the place of others; gives these, with all that was found.
    fn put_last(&mut self, part: Outcome, gone: &BTreeSet<String>, from: u32) -> Outcome {
        let is_gone = |name: &String| gone.contains(name);
        let mut before = Outcome {
            findings: self.findings.clone(),
            ..Outcome::default()
        };
        let (of_them, others) = std::mem::take(&mut self.of_bands)
            .into_iter()
            .partition(|(band, _)| is_gone(band));
        let of_them: Vec<(String, Finding)> = of_them;
        self.of_bands = others;
        self.findings.retain(|one| {
            let stands = one.span().is_some_and(|at| at.start < from);
            stands && !of_them.iter().any(|(_, known)| known.says_as(one))
        });
        before.recipe.names = taken(&mut self.recipe.names, &|named| is_gone(&named.name));
        before.recipe.bands = taken(&mut self.recipe.bands, &|band| is_gone(&band.name));
        before.evaluations = taken(&mut self.evaluations, &|one| is_gone(&one.band.name));
        let first = self.evaluations.len();
        if let Some(places) = self.places.get_mut() {
            let places = Arc::make_mut(places);
            for name in gone {
                places.remove(name);
            }
            let new = part.evaluations.iter().zip(first..);
            places.extend(new.map(|(one, place)| (one.band.name.clone(), place)));
        }
        self.recipe.rename(gone, &part.recipe.names);
        self.recipe.names.extend(part.recipe.names);
        self.recipe.bands.extend(part.recipe.bands);
        self.evaluations.extend(part.evaluations);
        self.findings.extend(part.findings);
        self.aside.extend(part.aside);
        self.of_bands.extend(part.of_bands);
        self.noted |= part.noted;
        self.patched = true;
        crate::finding::settle(&mut self.findings);
        before
    }
}

/// What is taken out of a list.
fn taken<T>(all: &mut Vec<T>, is_taken: &dyn Fn(&T) -> bool) -> Vec<T> {
    all.extract_if(.., |one| is_taken(one)).collect()
}

/// How many items of a recipe stand in another text as they are, each in lines of its own, and where what is behind
/// them begins, in bytes.
fn kept(own: &Source, tree: &Nested, text: &str) -> Option<(usize, usize)> {
    let ahead = crate::source::alike_ahead(&own.text, text);
    let end = |item: &Item| {
        let span = match item {
            Item::Entry(entry) => match &entry.comment {
                Some(comment) => entry.span.to(comment.span),
                None => entry.span,
            },
            Item::Comment(comment) => comment.span,
            Item::Broken(text) => text.span,
        };
        own.range(span)
    };
    let mut kept = tree.items.len();
    while let Some(last) = kept.checked_sub(1) {
        let range = end(tree.items.get(last)?);
        let line_end = own.text.get(range.end..)?.find('\n');
        let from = line_end.map(|line_end| range.end + line_end + 1);
        let next = tree.items.get(kept).map(|next| end(next).start);
        if let Some(from) =
            from.filter(|from| *from <= ahead && next.is_none_or(|next| next >= *from))
        {
            let parts = own.text.get(range.end..from)?.trim();
            return (parts.is_empty() && text.is_char_boundary(from)).then_some((kept, from));
        }
        kept = last;
    }
    None
}

/// The names of some items, which are bands and comments; none where something else is among them, or a drawing.
fn bands(items: &[Item]) -> Option<BTreeSet<String>> {
    let mut names = BTreeSet::new();
    for item in items {
        match item {
            Item::Comment(_) => {}
            Item::Entry(entry) if is_band(entry) && !draws(entry) => {
                names.insert(given_name(entry)?.to_owned()).then_some(())?;
            }
            Item::Entry(_) | Item::Broken(_) => return None,
        }
    }
    Some(names)
}

/// Whether a drawing is named somewhere in an entry.
fn draws(entry: &Entry) -> bool {
    let mut inner = entry.block.iter().flat_map(ast::Block::entries);
    let is_one = entry.head.as_ref().is_some_and(|head| {
        head.value
            .names()
            .any(|word| word == FieldId::PatternDrawing.word())
    });
    is_one || inner.any(draws)
}
