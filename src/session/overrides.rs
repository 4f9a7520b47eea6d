//! Overrides from outside (`--set PATH=VALUE`) to entries laid over a band, or over a `let`.
//!
//! An override is an edit not yet written: its text is read as the recipe's own line would be, and its
//! result is that of the edited text.

use std::collections::BTreeSet;

use crate::finding::Finding;
use crate::model::fields::{self, Field};
use crate::model::{ModelError, Override};
use crate::source::{SourceId, Span, Spanned};
use crate::suggest::nearest;
use crate::syntax::{self, ast};

use super::question::{ambiguous, choose};
use super::relative::is_relative;
use super::{Prepared, Request, Session, Tried};

/// What an override lays over: a band's field, or a `let`.
pub(super) type Target = (Option<String>, String);

impl Session {
    /// Overrides as entries laid over the tree: of the options one layer for each band, however many and in
    /// whatever order, as if all of them had been written into its block; then one layer for each try.
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
        for set in self.absolute_sets(prepared, request, findings) {
            let Some(entry) = self.entry(&set, findings) else {
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
                        name: target.1,
                    }
                    .into(),
                );
                continue;
            }
            let (band, path) = target.clone();
            seen.push((target, at));
            match overrides.iter_mut().find(|over| over.band == band) {
                Some(over) => lay(&mut over.items, &path, entry),
                None => {
                    let mut items = Vec::new();
                    lay(&mut items, &path, entry);
                    overrides.push(Override { band, items });
                }
            }
        }
        for tried in &request.tries {
            overrides.extend(self.tried(tried, names, findings));
        }
        overrides
    }

    /// The bands and `let`s that a line says something of.
    ///
    /// # Errors
    /// What is wrong with the line.
    pub fn targets(
        &mut self,
        prepared: &Prepared,
        tried: &Tried,
    ) -> Result<BTreeSet<String>, Vec<Finding>> {
        let mut findings = Vec::new();
        let names = prepared.names();
        let layers = self.tried(tried, names, &mut findings);
        if !findings.is_empty() {
            return Err(findings);
        }
        let name = |layer: Override| match layer.band {
            Some(band) => vec![band],
            None => ast::entries(&layer.items)
                .filter_map(|entry| entry.head_name().map(str::to_owned))
                .collect(),
        };
        Ok(layers.into_iter().flat_map(name).collect())
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
        let parsed = syntax::parse(source);
        findings.extend(parsed.findings);
        let mut layers: Vec<Override> = Vec::new();
        for entry in ast::entries(&parsed.value.items) {
            let Some((band, path)) = names.place(entry, tried.band.as_deref(), findings) else {
                continue;
            };
            let layer = match layers.iter_mut().position(|layer| layer.band == band) {
                Some(place) => layers.get_mut(place),
                None => {
                    let items = Vec::new();
                    layers.push(Override { band, items });
                    layers.last_mut()
                }
            };
            if let Some(layer) = layer {
                lay(&mut layer.items, &path, entry.clone());
            }
        }
        layers
    }

    /// Takes in the text of a try; a new one stands where it was typed.
    pub(super) fn add_tried(&mut self, tried: &Tried) -> SourceId {
        match &tried.typed {
            Some(typed) => self.sources.add(&typed.name, &typed.placed(&tried.line)),
            None => self.sources.add("try", &tried.line),
        }
    }

    /// The options, relative ones as what they come to over the recipe with the absolute ones.
    fn absolute_sets(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        findings: &mut Vec<Finding>,
    ) -> Vec<String> {
        // `shell + 0.05 mm`, or `shell=+ 0.05 mm`.
        let spaced = |set: &String| {
            let line = set.replacen('=', " ", 1);
            is_relative(&line).then_some(line)
        };
        if !request.sets.iter().any(|set| spaced(set).is_some()) {
            return request.sets.clone();
        }
        let (relative, mut sets): (Vec<String>, Vec<String>) = request
            .sets
            .iter()
            .cloned()
            .partition(|set| spaced(set).is_some());
        let before = Request {
            sets: sets.clone(),
            tries: Vec::new(),
            band: request.band.clone(),
            on: request.on,
        };
        let outcome = self.outcome(prepared, &before);
        for set in relative.iter().filter_map(spaced) {
            match self.absolute(&set, request.band.as_deref(), prepared, &outcome) {
                Ok(line) => sets.push(line.replacen(' ', "=", 1)),
                Err(problems) => findings.extend(problems),
            }
        }
        sets
    }

    /// The one entry that an override stands for.
    fn entry(&mut self, set: &str, findings: &mut Vec<Finding>) -> Option<ast::Entry> {
        let id = self.sources.add("--set", &set.replacen('=', " ", 1));
        let source = self.sources.get(id)?;
        let parsed = syntax::parse(source);
        let broken = !parsed.findings.is_empty();
        findings.extend(parsed.findings);
        match parsed.value.items.as_slice() {
            [ast::Item::Entry(entry)] if entry.head.is_some() && set.contains('=') => {
                return Some(entry.clone());
            }
            _ if broken => {}
            _ => {
                let at = source.span(0..source.text.len());
                findings.push(
                    ModelError::ValueCount {
                        at,
                        field: "--set".to_owned(),
                        wanted: "one field and its value, joined by `=`".to_owned(),
                        label: "not `PATH=VALUE`",
                        help: "as in `--set \"width=4.5 mm\"`".to_owned(),
                    }
                    .into(),
                );
            }
        }
        None
    }
}

/// Puts an entry where its path leads, beside what other overrides put there.
fn lay(items: &mut Vec<ast::Item>, path: &str, mut entry: ast::Entry) {
    let Some(head) = entry.head.as_ref() else {
        return;
    };
    let (first, rest) = path
        .split_once('.')
        .map_or((path, None), |(first, rest)| (first, Some(rest)));
    let head = Spanned::new(ast::Path(first.to_owned()), head.span);
    // What says a value itself is not joined: the same field twice in one block is found when it is laid.
    let joins = |known: &ast::Entry| {
        known.head_name() == Some(first) && (rest.is_some() || known.values.is_empty())
    };
    let known = items.iter_mut().find_map(|item| match item {
        ast::Item::Entry(known) if joins(known) => Some(known),
        _ => None,
    });
    match (known, rest) {
        (Some(known), Some(rest)) => lay(&mut block_of(known).items, rest, entry),
        (Some(known), None) => {
            known.head = Some(head);
            known.values = entry.values;
            known.span = entry.span;
            if let Some(block) = entry.block {
                block_of(known).items.extend(block.items);
            }
        }
        (None, Some(rest)) => {
            let mut holder = ast::Entry {
                head: Some(head),
                values: Vec::new(),
                block: None,
                comment: None,
                joined: false,
                spaced: false,
                span: entry.span,
            };
            lay(&mut block_of(&mut holder).items, rest, entry);
            items.push(ast::Item::Entry(holder));
        }
        (None, None) => {
            entry.head = Some(head);
            items.push(ast::Item::Entry(entry));
        }
    }
}

/// The block of an entry, made if there is none.
fn block_of(entry: &mut ast::Entry) -> &mut ast::Block {
    let open = entry.span;
    entry.block.get_or_insert_with(|| ast::Block {
        items: Vec::new(),
        comment: None,
        inline: true,
        open,
        damaged: false,
    })
}

/// Names at the top level of all trees.
#[derive(Debug)]
pub(super) struct Names {
    bands: Vec<String>,
    /// The bands of the recipe itself, which are all that a path without a band can mean.
    own: Vec<String>,
    lets: Vec<String>,
}

impl Names {
    pub fn of(trees: &[ast::Tree]) -> Self {
        let (mut bands, mut own, mut lets) = (Vec::new(), Vec::new(), Vec::new());
        for (place, tree) in trees.iter().enumerate() {
            for entry in ast::entries(&tree.items) {
                match (entry.head_name(), entry.values.as_slice()) {
                    (Some("band" | "variant"), [first, ..]) => bands.extend(single_name(first)),
                    (Some("let"), [first]) => {
                        if let ast::ExprKind::Binary { left, .. } = &first.kind {
                            lets.extend(single_name(left));
                        }
                    }
                    _ => {}
                }
            }
            if place == 0 {
                own.clone_from(&bands);
            }
        }
        Self { bands, own, lets }
    }

    /// Where an override belongs.
    pub fn place(
        &self,
        entry: &ast::Entry,
        chosen: Option<&str>,
        findings: &mut Vec<Finding>,
    ) -> Option<Target> {
        let Some(head) = entry.head.as_ref() else {
            let at = entry.header_span();
            findings.push(ModelError::NoWord { at }.into());
            return None;
        };
        let path = head.value.0.as_str();
        if path == "without" {
            let band = choose(&self.own, chosen, path, head.span, findings)?;
            return Some((Some(band), path.to_owned()));
        }
        let qualified = path
            .split_once('.')
            .filter(|(band, _)| self.bands.iter().any(|name| name == band));
        // Blocks of the top level that have no name of their own; whoever reads them knows their fields.
        if let (None, Some((block @ ("prices" | "shop"), rest))) = (qualified, path.split_once('.'))
        {
            return Some((Some(block.to_owned()), rest.to_owned()));
        }
        let (band, path) = match qualified {
            Some((band, rest)) => (Some(band.to_owned()), rest),
            None => (None, path),
        };
        if band.is_none()
            && fields::find(path).is_none()
            && self.lets.iter().any(|name| name == path)
        {
            one_value(entry, findings)?;
            return Some((None, path.to_owned()));
        }
        let field = field_named(path, head.span, &self.lets, findings)?;
        let band = match band {
            Some(band) => band,
            None => choose(&self.own, chosen, path, head.span, findings)?,
        };
        Some((Some(band), field.path.to_owned()))
    }
}

/// The names of the bands among some items.
#[must_use]
pub fn band_names(items: &[ast::Item]) -> Vec<String> {
    ast::entries(items)
        .filter(|entry| matches!(entry.head_name(), Some("band" | "variant")))
        .filter_map(|entry| entry.values.first().and_then(single_name))
        .collect()
}

/// A `let` takes one value, and nothing else.
fn one_value(entry: &ast::Entry, findings: &mut Vec<Finding>) -> Option<()> {
    let (at, label) = match (entry.values.as_slice(), &entry.block) {
        ([_], None) => return Some(()),
        ([], None) => (entry.head_span().after(), "a value is missing"),
        ([_, second, ..], _) => (second.span, "one too many"),
        (_, Some(block)) => (block.open, "no block stands here"),
    };
    findings.push(
        ModelError::ValueCount {
            at,
            field: entry.head_name().unwrap_or_default().to_owned(),
            wanted: "one value".to_owned(),
            label,
            help: "as in `--set \"cut=0.30 mm\"`".to_owned(),
        }
        .into(),
    );
    None
}

pub(super) fn single_name(expr: &ast::Expr) -> Option<String> {
    match &expr.kind {
        ast::ExprKind::Path(path) => path.single().map(str::to_owned),
        _ => None,
    }
}

/// The field of a full or short path.
fn field_named(
    path: &str,
    at: Span,
    lets: &[String],
    findings: &mut Vec<Finding>,
) -> Option<&'static Field> {
    let found = fields::matching(path);
    match found.as_slice() {
        [field] => Some(field),
        [] => {
            let known: Vec<&str> = fields::FIELDS
                .iter()
                .flat_map(|field| [field.path, field.word()])
                .collect();
            let lets = lets.iter().map(String::as_str);
            let near = nearest(path, known.into_iter().chain(lets)).map(str::to_owned);
            let help = near.as_ref().map_or_else(
                || "`annulet list fields` shows all of them".to_owned(),
                |near| format!("did you mean `{near}`?"),
            );
            findings.push(
                ModelError::UnknownName {
                    at,
                    name: path.to_owned(),
                    kind: "the field",
                    help,
                    nearest: near,
                }
                .into(),
            );
            None
        }
        several => {
            findings.push(ambiguous(path, at, several.iter().map(|field| field.path)).into());
            None
        }
    }
}
