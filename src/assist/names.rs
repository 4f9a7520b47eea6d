//! Names of the top level: where one is given, through used files too, and everywhere that it stands.

use std::path::{Component, Path, PathBuf};

use crate::session::{NoLibrary, Outcome, Request, Session};
use crate::source::{Sources, Span};
use crate::syntax::ast::{self, Entry, Expr, ExprKind, Item};
use crate::syntax::{TOP_WORDS, parse};

use super::open::Opening;
use super::place::parts;

/// The words whose entries give a name.
const NAMING: &[&str] = &[
    "let", "alloy", "band", "variant", "profile", "stock", "rules", "order", "cutter",
];

/// Where the name at a place, counted in bytes of the recipe's own text, is given.
#[must_use]
pub fn given(open: &Opening, byte: usize) -> Option<Span> {
    let (_, name) = name(open, byte)?;
    let trees = open.prepared.every_tree();
    let mut all = trees.flat_map(|tree| ast::entries(&tree.items));
    all.find_map(|entry| gives(entry, &name))
}

/// The file that the `use` at a place takes in, as findings name it.
#[must_use]
pub fn used_at(open: &Opening, byte: usize) -> Option<String> {
    let source = open.source()?;
    let at = source.span(byte..byte).start;
    let tree = open.prepared.tree()?;
    let mut uses = ast::entries(&tree.items).filter(|entry| entry.head_name() == Some("use"));
    let entry = uses.find(|entry| entry.span.start <= at && at <= entry.span.end)?;
    let ExprKind::Text(path) = &entry.values.first()?.kind else {
        return None;
    };
    let wanted = Path::new(path)
        .components()
        .filter(|part| matches!(part, Component::Normal(_)));
    let wanted: PathBuf = wanted.collect();
    let mut files = open.prepared.files().iter().skip(1);
    files
        .find(|file| Path::new(file).ends_with(&wanted))
        .cloned()
}

/// Where an entry gives a name.
fn gives(entry: &Entry, name: &str) -> Option<Span> {
    let is_naming = entry.head_name().is_some_and(|word| NAMING.contains(&word));
    let first = entry.values.first().filter(|_| is_naming)?;
    own_name(first)
        .filter(|(known, _)| known == name)
        .map(|(_, at)| at)
}

/// The name that the first value of an entry gives: alone, or in front of the `=` of a `let`.
fn own_name(value: &Expr) -> Option<(String, Span)> {
    match &value.kind {
        ExprKind::Path(path) => Some((path.single()?.to_owned(), value.span)),
        ExprKind::Binary { left, .. } => own_name(left),
        _ => None,
    }
}

/// The name at a place, and its span: the beginning of a path.
fn name(open: &Opening, byte: usize) -> Option<(Span, String)> {
    let source = open.source()?;
    let at = source.span(byte..byte).start;
    let tree = open.prepared.tree()?;
    let mut found = None;
    each_path(&tree.items, &mut |span, text| {
        if span.start <= at && at <= span.end && found.is_none() {
            found = Some((span, text.to_owned()));
        }
    });
    let (span, text) = found?;
    let first = text.split('.').next()?.to_owned();
    let end = span.start + u32::try_from(first.len()).ok()?;
    let span = Span {
        start: span.start,
        end,
    };
    (at <= end).then_some((span, first))
}

/// Every path of a text, with its place: of values, and of heads with dots.
fn each_path(items: &[Item], see: &mut dyn FnMut(Span, &str)) {
    fn of_expr(expr: &Expr, see: &mut dyn FnMut(Span, &str)) {
        if let ExprKind::Path(path) = &expr.kind {
            see(expr.span, &path.0);
        }
        parts(expr).into_iter().for_each(|part| of_expr(part, see));
    }
    for entry in ast::entries(items) {
        if let Some(head) = entry
            .head
            .as_ref()
            .filter(|head| head.value.single().is_none())
        {
            see(head.span, &head.value.0);
        }
        entry.values.iter().for_each(|value| of_expr(value, see));
        if let Some(block) = &entry.block {
            each_path(&block.items, see);
        }
    }
}

/// A name changed everywhere in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Renamed {
    /// Where it stands, in bytes of the text, in their order.
    pub places: Vec<std::ops::Range<usize>>,
}

/// Every place of the name at one of them, where it can become another name.
///
/// # Errors
/// Why it cannot: it is none of this file's own, the new one is no name, or is taken, or the recipe would mean something
/// else.
pub fn renamed(open: &Opening, byte: usize, new: &str) -> Result<Renamed, String> {
    let (_, old) = name(open, byte).ok_or("there is no name here")?;
    let source = open.source().ok_or("there is no name here")?;
    let mut sources = Sources::default();
    let id = sources.add(&source.name, &source.text);
    let written = sources.get(id).map(parse).ok_or("there is no name here")?;
    if !written.findings.is_empty() {
        return Err("the recipe has a line that cannot be read; mend that first".to_owned());
    }
    let tree = &written.value;
    if !ast::entries(&tree.items).any(|entry| gives(entry, &old).is_some()) {
        return Err(format!("`{old}` is not given in this file"));
    }
    if TOP_WORDS.contains(&new) {
        return Err(format!(
            "`{new}` is a word that a recipe's blocks begin with"
        ));
    }
    if !is_name(new) {
        return Err(format!(
            "`{new}` is not a name: letters, digits and hyphens inside, a letter first"
        ));
    }
    let mut trees = open
        .prepared
        .every_tree()
        .flat_map(|tree| ast::entries(&tree.items));
    if trees.any(|entry| gives(entry, new).is_some()) {
        return Err(format!("`{new}` is a name already"));
    }
    let mut places = Vec::new();
    each_path(&tree.items, &mut |span, text| {
        let first = text.split('.').next().unwrap_or("");
        let second = text.strip_prefix("let.").filter(|rest| *rest == old);
        let start = span.start as usize;
        if first == old {
            places.push(start..start + old.len());
        } else if second.is_some() {
            places.push(start + "let.".len()..start + "let.".len() + old.len());
        }
    });
    places.sort_by_key(|range| range.start);
    places.dedup();
    let renamed = Renamed { places };
    let text = renamed.written(&source.text, new);
    if !same(open, &text) {
        return Err(format!(
            "with `{new}` in place of `{old}` the recipe would mean something else"
        ));
    }
    Ok(renamed)
}

impl Renamed {
    /// The text with the new name.
    #[must_use]
    pub fn written(&self, text: &str, new: &str) -> String {
        let mut written = String::with_capacity(text.len());
        let mut done = 0;
        for place in &self.places {
            written.push_str(text.get(done..place.start).unwrap_or(""));
            written.push_str(new);
            done = place.end;
        }
        written + text.get(done..).unwrap_or("")
    }
}

fn is_name(text: &str) -> bool {
    let mut sources = Sources::default();
    let id = sources.add("name", text);
    let parsed = sources.get(id).map(crate::syntax::parse_query);
    let value = parsed
        .filter(|parsed| parsed.findings.is_empty())
        .and_then(|parsed| parsed.value);
    value.is_some_and(
        |expr| matches!(&expr.kind, ExprKind::Path(path) if path.single() == Some(text)),
    )
}

/// Whether a text brings no finding that was not there; a recipe that uses files is taken to.
fn same(open: &Opening, text: &str) -> bool {
    if open.prepared.files().len() > 1 {
        return true;
    }
    let mut session = Session::default();
    let outcome = session.run_with("renamed", text, &Request::default(), &mut NoLibrary);
    let codes = |of: &Outcome| {
        of.findings
            .iter()
            .map(crate::finding::Finding::code)
            .collect::<Vec<_>>()
    };
    let weights = |of: &Outcome| {
        let all = of.evaluations.iter();
        all.map(|one| one.figures.weight.to_bits())
            .collect::<Vec<_>>()
    };
    codes(&outcome) == codes(&open.outcome) && weights(&outcome) == weights(&open.outcome)
}
