//! What a recipe defines under a name and nothing mentions: as a rule a slip of the name that was meant.

use std::collections::BTreeSet;

use crate::catalogue;
use crate::finding::{Finding, Weight};
use crate::model::{ModelNote, is_band, paths};
use crate::source::Span;
use crate::suggest::nearest;
use crate::syntax::ast::{self, Entry, Expr, ExprKind};

use super::prepared::Prepared;
use super::{Outcome, Request};

/// The blocks that give a name to what others use. A rulebook judges every band by standing there.
const DEFINE: [&str; 5] = ["let", "alloy", "profile", "cutter", "stock"];

impl Prepared {
    /// Tells what neither the recipe nor what is laid over it mentions. Where something is wrong nothing is said: the line
    /// that would mention it may be the faulty one. A file without bands defines for others.
    pub fn tell_unused(&self, request: &Request, outcome: &mut Outcome) {
        let Some(own) = self.trees().first() else {
            return;
        };
        let own = || ast::entries(&own.items);
        let wrong = |one: &Finding| one.weight() == Weight::Wrong;
        let defined: Vec<Defined<'_>> = own().filter_map(Defined::of).collect();
        if defined.is_empty() || !own().any(is_band) || outcome.findings.iter().any(wrong) {
            return;
        }
        let mut known = BTreeSet::new();
        for entry in self
            .trees()
            .iter()
            .flat_map(|tree| ast::entries(&tree.items))
        {
            mentioned(entry, &mut known);
        }
        let tries = request.tries.iter().map(|tried| tried.line.as_str());
        let laid = request.sets.iter().map(String::as_str).chain(tries);
        known.extend(laid.flat_map(words).map(str::to_owned));
        for one in defined.iter().filter(|one| !known.contains(one.name)) {
            let alike = defined.iter().filter(|other| other.kind == one.kind);
            let built_in: Vec<&str> = match one.kind {
                "alloy" => catalogue::alloy_names().collect(),
                _ => Vec::new(),
            };
            let used = alike.map(|other| other.name).chain(built_in);
            let used = used.filter(|name| *name != one.name && known.contains(*name));
            let name = one.name.to_owned();
            let help = match nearest(&name, used) {
                Some(near) => format!(
                    "`{near}` is used, which is another: write `{name}` where it is meant, or leave the line out"
                ),
                None => format!("write `{name}` where it is meant, or leave the line out"),
            };
            let at = one.at;
            outcome
                .findings
                .push(ModelNote::Unused { at, name, help }.into());
        }
        crate::finding::settle(&mut outcome.findings);
    }
}

/// Something with a name of its own.
struct Defined<'a> {
    kind: &'a str,
    name: &'a str,
    at: Span,
}

impl<'a> Defined<'a> {
    fn of(entry: &'a Entry) -> Option<Self> {
        let kind = entry.head_name().filter(|word| DEFINE.contains(word))?;
        let first = given(entry)?;
        let ExprKind::Path(path) = &first.kind else {
            return None;
        };
        Some(Self {
            kind,
            name: path.single()?,
            at: first.span,
        })
    }
}

/// Where an entry gives a name to what it defines.
fn given(entry: &Entry) -> Option<&Expr> {
    let first = entry.values.first()?;
    match (entry.head_name()?, &first.kind) {
        ("let", ExprKind::Binary { left, .. }) => Some(left),
        ("let", _) => None,
        _ => Some(first),
    }
}

/// Every name that an entry of the top level mentions, but the one that it gives itself.
fn mentioned(entry: &Entry, known: &mut BTreeSet<String>) {
    match (entry.head_name(), entry.values.as_slice()) {
        (Some("let"), [value]) => match &value.kind {
            ExprKind::Binary { right, .. } => in_value(right, known),
            _ => in_value(value, known),
        },
        (Some(word), [_, rest @ ..]) if DEFINE.contains(&word) => {
            rest.iter().for_each(|value| in_value(value, known));
        }
        (_, values) => values.iter().for_each(|value| in_value(value, known)),
    }
    // A metal may have a price of its own.
    let priced = entry.head_name() == Some("prices");
    for inner in entry.block.iter().flat_map(ast::Block::entries) {
        in_entry(inner, priced, known);
    }
}

fn in_entry(entry: &Entry, priced: bool, known: &mut BTreeSet<String>) {
    let head = entry.head.iter().filter(|_| priced);
    known.extend(head.flat_map(|head| head.value.names()).map(str::to_owned));
    entry.values.iter().for_each(|value| in_value(value, known));
    for inner in entry.block.iter().flat_map(ast::Block::entries) {
        in_entry(inner, priced, known);
    }
}

fn in_value(value: &Expr, known: &mut BTreeSet<String>) {
    paths(value, &mut |path, _| {
        let mut names = path.names();
        let first = names.next();
        // `let.cut` is `cut`.
        let behind = names
            .next()
            .filter(|_| first.is_some_and(|word| DEFINE.contains(&word)));
        known.extend(first.into_iter().chain(behind).map(str::to_owned));
    });
}

/// The words of a line that is laid over the recipe.
fn words(line: &str) -> impl Iterator<Item = &str> {
    line.split(|c: char| !(c.is_alphanumeric() || c == '-'))
}
