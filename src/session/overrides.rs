//! Overrides from outside (`--set PATH=VALUE`) to entries laid over a band, or over a `let`.
//!
//! An override is an edit not yet written: its text is read as the recipe's own line would be, and its
//! result is that of the edited text.

use std::borrow::Cow;
use std::collections::BTreeSet;

use crate::finding::Finding;
use crate::model::{Holder, ModelError, Override, block_of, mentioned_in, nest};
use crate::source::{SourceId, Span, Spanned, printable};
use crate::syntax::{self, ast};

use super::names::Names;
use super::placed::Target;
use super::relative::is_relative;
use super::{Elsewhere, Prepared, Request, Session, Tried, Typed};

/// What a line says something of.
#[derive(Debug, Default)]
pub struct Targets {
    /// The bands, `let`s and other blocks, as [`crate::model::Mentions`] knows them.
    pub names: BTreeSet<String>,
    /// It changes an order, which only the whole recipe evaluates.
    pub orders: bool,
    /// What of it lies in a file that the recipe uses, and how that file is called.
    pub elsewhere: Vec<Elsewhere>,
}

impl Session {
    /// Overrides as entries laid over the tree: of the options one layer for each band, however many and in
    /// whatever order, as if all of them had been written into its block, and one more for their steps; then one
    /// layer for each try.
    pub(super) fn overrides(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        findings: &mut Vec<Finding>,
    ) -> Vec<Override> {
        let mut overrides: Vec<Override> = Vec::new();
        let mut seen: Vec<(Target, Span)> = Vec::new();
        if request.sets.is_empty() && request.tries.is_empty() {
            return overrides;
        }
        let names = prepared.names();
        let chosen = request.band.as_deref();
        let (absolute, stepped) = self.sets(prepared, request, findings);
        // Steps lie over what the absolute ones say, whatever their order.
        for sets in [absolute, stepped] {
            let mut layers = Vec::new();
            seen.clear();
            for (place, set) in sets.iter().enumerate() {
                let before = sets.iter().take(place).filter(|other| *other == set);
                let Some(entry) = self.entry(set, before.count(), findings) else {
                    continue;
                };
                let at = entry.head_span();
                let Some(target) = names.place(&entry, chosen, findings) else {
                    continue;
                };
                // The order of options must not decide, so one field is laid over once.
                if let Some((_, first)) = seen.iter().find(|(known, _)| *known == target) {
                    findings.push(
                        ModelError::GivenTwice {
                            again: at,
                            first: *first,
                            name: target.1.clone(),
                        }
                        .into(),
                    );
                    continue;
                }
                let (holder, path) = target.clone();
                seen.push((target, at));
                lay_in(&mut layers, holder, &path, entry);
            }
            overrides.append(&mut layers);
        }
        for tried in &request.tries {
            overrides.extend(self.tried(tried, names, findings));
        }
        // What is laid over may have dotted lines inside its blocks, as the recipe's own.
        for Override { holder, items } in &mut overrides {
            nest(items, &|word| holder.tells_apart(word));
        }
        overrides
    }

    /// What a line says something of.
    ///
    /// # Errors
    /// What is wrong with the line.
    pub fn targets(&mut self, prepared: &Prepared, tried: &Tried) -> Result<Targets, Vec<Finding>> {
        let mut findings = Vec::new();
        let names = prepared.names();
        let layers = self.tried(tried, names, &mut findings);
        if !findings.is_empty() {
            return Err(findings);
        }
        let mut targets = Targets::default();
        for Override { holder, items } in layers {
            match holder.mentioned() {
                Some(name) => drop(targets.names.insert(name.to_owned())),
                None => targets.names.extend(
                    ast::entries(&items).filter_map(|entry| entry.head_name().map(str::to_owned)),
                ),
            }
            targets.orders |= matches!(holder, Holder::Block("order", _));
            targets
                .elsewhere
                .extend(prepared.elsewhere(&holder, &self.sources));
        }
        Ok(targets)
    }

    /// Whether some tries mention a name of the top level, so that what follows from what is not as it is written.
    pub fn tie(&mut self, prepared: &Prepared, tries: &[Tried]) -> bool {
        let names = prepared.names();
        let mut layers = Vec::new();
        for tried in tries {
            layers.extend(self.tried(tried, names, &mut Vec::new()));
        }
        let mut entries = layers.iter().flat_map(|layer| ast::entries(&layer.items));
        entries.any(|entry| names.any(&mentioned_in(entry)))
    }

    /// The layers of one try: what it says of each band, and of `let`s.
    fn tried(
        &mut self,
        tried: &Tried,
        names: &Names,
        findings: &mut Vec<Finding>,
    ) -> Vec<Override> {
        let id = self.add_tried(tried);
        let Some(source) = self.sources.get(id) else {
            return Vec::new();
        };
        let parsed = syntax::parse(&source.behind(tried.before()));
        findings.extend(parsed.findings);
        let mut layers: Vec<Override> = Vec::new();
        for entry in ast::entries(&parsed.value.items) {
            let Some((holder, path)) = names.place(entry, tried.band.as_deref(), findings) else {
                continue;
            };
            lay_in(&mut layers, holder, &path, entry.clone());
        }
        layers
    }

    /// Takes in the text of a try; a new one stands where it was typed.
    pub(super) fn add_tried(&mut self, tried: &Tried) -> SourceId {
        match &tried.typed {
            Some(typed) => self
                .sources
                .again(&typed.name, &typed.placed(&tried.line), 0),
            None => self.sources.again("try", &tried.line, 0),
        }
    }

    /// The options as the lines that would be tried instead, steps behind what they count from.
    ///
    /// # Errors
    /// What is wrong with them.
    pub fn set_lines(
        &mut self,
        prepared: &Prepared,
        request: &Request,
    ) -> Result<Vec<String>, Vec<Finding>> {
        let mut findings = Vec::new();
        let (absolute, stepped) = self.sets(prepared, request, &mut findings);
        if !findings.is_empty() {
            return Err(findings);
        }
        let sets = absolute.iter().chain(&stepped);
        Ok(sets.map(|set| spaced(set)).collect())
    }

    /// The options: the absolute ones, and the steps as what they come to over the recipe with those.
    fn sets(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        findings: &mut Vec<Finding>,
    ) -> (Vec<String>, Vec<String>) {
        let (relative, sets): (Vec<String>, Vec<String>) =
            request.sets.iter().cloned().partition(|set| is_step(set));
        if relative.is_empty() {
            return (sets, Vec::new());
        }
        let before = Request {
            sets: sets.clone(),
            tries: Vec::new(),
            band: request.band.clone(),
            on: request.on,
        };
        let outcome = self.outcome(prepared, &before);
        let typed = Typed {
            name: "--set".to_owned(),
            line: 1,
        };
        let mut stepped = Vec::new();
        for set in &relative {
            match self.absolute(&spaced(set), &typed, prepared, &before, &outcome) {
                Ok(line) => stepped.push(line.replacen(' ', "=", 1)),
                Err(problems) => findings.extend(problems),
            }
        }
        (sets, stepped)
    }

    /// The one entry that an override stands for; `nth` of those that read the same.
    pub(super) fn entry(
        &mut self,
        set: &str,
        nth: usize,
        findings: &mut Vec<Finding>,
    ) -> Option<ast::Entry> {
        let id = self.sources.again("--set", &spaced(set), nth);
        let source = self.sources.get(id)?;
        let parsed = syntax::parse(source);
        let broken = !parsed.findings.is_empty();
        findings.extend(parsed.findings);
        match parsed.value.items.as_slice() {
            [ast::Item::Entry(entry)] if entry.head.is_some() && set.contains('=') => {
                return Some(entry.clone());
            }
            _ if broken => {}
            items => {
                let at = source.span(0..source.text.len());
                // `--set "width -1 mm"` looks like a step.
                let negative = match items {
                    [ast::Item::Entry(entry)] => entry.values.first().and_then(|value| {
                        let is_negative = matches!(value.kind, ast::ExprKind::Negate(_));
                        is_negative.then(|| self.sources.slice(value.span))
                    }),
                    _ => None,
                };
                let amount = negative.and_then(|text| text.strip_prefix('-'));
                let left_out = set.strip_prefix("without ").map(str::trim);
                let help = match (amount, set.split_whitespace().next()) {
                    _ if left_out.is_some_and(|word| !word.is_empty()) => format!(
                        "as in `--set without={}`",
                        printable(left_out.unwrap_or_default())
                    ),
                    (Some(amount), Some(path)) => format!(
                        "a step has a space after its sign, as in `--set \"{path} - {amount}\"`"
                    ),
                    _ => "as in `--set \"width=4.5 mm\"`".to_owned(),
                };
                findings.push(
                    ModelError::ValueCount {
                        at,
                        field: "--set".to_owned(),
                        wanted: "one field and its value, joined by `=`".to_owned(),
                        label: "not `PATH=VALUE`",
                        help,
                    }
                    .into(),
                );
            }
        }
        None
    }
}

/// An option as a line of the recipe.
fn spaced(set: &str) -> String {
    set.replacen('=', " ", 1)
}

/// Whether an option says how far a field moves, as in `shell + 0.05 mm` or `shell=+ 0.05 mm`.
pub(super) fn is_step(set: &str) -> bool {
    is_relative(&spaced(set))
}

/// Puts an entry into the layer of its holder.
fn lay_in(layers: &mut Vec<Override>, holder: Holder, path: &str, entry: ast::Entry) {
    let known = layers.iter().position(|layer| layer.holder == holder);
    let place = known.unwrap_or_else(|| {
        let items = Vec::new();
        layers.push(Override {
            holder: holder.clone(),
            items,
        });
        layers.len() - 1
    });
    if let Some(layer) = layers.get_mut(place) {
        lay(&mut layer.items, path, entry, &|word| {
            holder.tells_apart(word)
        });
    }
}

/// Puts an entry where its path leads, beside what other overrides put there; an empty path is the block itself.
fn lay(
    items: &mut Vec<ast::Item>,
    path: &str,
    mut entry: ast::Entry,
    tells_apart: &dyn Fn(&str) -> bool,
) {
    let Some(head) = entry.head.as_ref() else {
        return;
    };
    if path.is_empty() {
        items.extend(entry.block.into_iter().flat_map(|block| block.items));
        return;
    }
    let (first, mut rest) = split(path);
    let span = head.span;
    let head = Spanned::new(ast::Path(first.to_owned()), span);
    let mut name = None;
    if let Some(named) = rest.filter(|_| tells_apart(path)) {
        let (own, behind) = split(named);
        (name, rest) = (Some(own), behind);
        if behind.is_none() {
            let name = ast::ExprKind::Path(ast::Path(own.to_owned()));
            entry.values.insert(0, ast::Expr { kind: name, span });
        }
    }
    let own_name = ast::entry_name(&entry.values).filter(|_| rest.is_none());
    let named = name.map(str::to_owned).or(own_name.map(Cow::into_owned));
    // What says a value itself is not joined: the same field twice in one block is found when it is laid.
    let joins = |known: &ast::Entry| {
        let same = known.head_name() == Some(first);
        let of_name = || ast::entry_name(&known.values).as_deref() == named.as_deref();
        match tells_apart(first) {
            true => same && of_name() && rest.is_some(),
            false => same && (rest.is_some() || known.values.is_empty()),
        }
    };
    let known = items.iter_mut().find_map(|item| match item {
        ast::Item::Entry(known) if joins(known) => Some(known),
        _ => None,
    });
    match (known, rest) {
        (Some(known), Some(rest)) => {
            let open = known.span;
            lay(&mut block_of(known, open).items, rest, entry, tells_apart);
        }
        (Some(known), None) => {
            known.head = Some(head);
            known.values = entry.values;
            known.span = entry.span;
            if let Some(block) = entry.block {
                block_of(known, entry.span).items.extend(block.items);
            }
        }
        (None, Some(rest)) => {
            let name = name.map(|name| ast::Expr {
                kind: ast::ExprKind::Path(ast::Path(name.to_owned())),
                span,
            });
            let mut holder = ast::Entry::opening(head, name, entry.span);
            let open = holder.span;
            lay(
                &mut block_of(&mut holder, open).items,
                rest,
                entry,
                tells_apart,
            );
            items.push(ast::Item::Entry(holder));
        }
        (None, None) => {
            entry.head = Some(head);
            items.push(ast::Item::Entry(entry));
        }
    }
}

/// The first word of a path, and the rest.
fn split(path: &str) -> (&str, Option<&str>) {
    path.split_once('.')
        .map_or((path, None), |(first, rest)| (first, Some(rest)))
}
