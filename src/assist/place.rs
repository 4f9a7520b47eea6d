//! What stands at a place: a field, a result, a `let`, with its value, its unit, where it was set and why.

use crate::report::{self, Digits};
use crate::source::Span;
use crate::syntax::ast::{self, Entry, Expr, ExprKind, ListItem};

use super::open::Opening;

/// What stands at a place.
#[derive(Clone, Debug)]
pub struct Hovered {
    /// The words that it is said of.
    pub at: Span,
    /// Value, meaning, formula and places.
    pub text: String,
}

/// How many levels of inputs are told.
const DEPTH: usize = 2;

/// What is known of what stands at a place, counted in bytes of the recipe's own text.
#[must_use]
pub fn hovered(open: &mut Opening, byte: usize) -> Option<Hovered> {
    let (at, questions) = asked(open, byte)?;
    let stale = open.is_stale();
    let good = open.good();
    let texts = good.session.sources.count();
    let found = questions.iter().find_map(|question| {
        let (why, _) = good.session.why(question, &good.outcome, DEPTH);
        why
    });
    good.session.sources.forget_behind(texts);
    let mut text = report::why(&found?, Digits::Useful);
    if stale {
        text.push_str("(before the last change, which cannot be evaluated)\n");
    }
    Some(Hovered { at, text })
}

/// The words at a place, and what to ask of them, the likeliest first.
fn asked(open: &Opening, byte: usize) -> Option<(Span, Vec<String>)> {
    let source = open.source()?;
    let at = source.span(byte..byte).start;
    let mut items = &open.prepared.tree()?.items;
    let mut band: Option<String> = None;
    let mut path: Vec<String> = Vec::new();
    loop {
        let entry = ast::entries(items).find(|entry| holds(entry.span, at))?;
        if let Some(expr) = entry.values.iter().find_map(|value| name_at(value, at)) {
            let name = open.session.sources.slice(expr.span);
            let inside = band.as_ref().map(|band| format!("{band}.{name}"));
            let questions = inside
                .into_iter()
                .chain([name.to_owned(), format!("let.{name}")]);
            return Some((expr.span, questions.collect()));
        }
        let head = entry.head.as_ref()?;
        let is_top = path.is_empty() && band.is_none();
        match (is_top, head.value.0.as_str()) {
            (true, "band" | "variant") => band = given_name(entry),
            (true, word @ ("prices" | "shop")) => path.push(word.to_owned()),
            (true, _) => path.extend(given_name(entry)),
            (false, word) => path.push(word.to_owned()),
        }
        if holds(head.span, at) {
            let path = band
                .iter()
                .chain(&path)
                .cloned()
                .collect::<Vec<_>>()
                .join(".");
            return Some((head.span, vec![path]));
        }
        items = &entry.block.as_ref()?.items;
    }
}

fn holds(span: Span, at: u32) -> bool {
    span.start <= at && at <= span.end
}

fn given_name(entry: &Entry) -> Option<String> {
    crate::model::given_name(entry).map(str::to_owned)
}

/// The name in an expression at a place.
fn name_at(expr: &Expr, at: u32) -> Option<&Expr> {
    if !holds(expr.span, at) {
        return None;
    }
    if matches!(expr.kind, ExprKind::Path(_)) {
        return Some(expr);
    }
    parts(expr).into_iter().find_map(|part| name_at(part, at))
}

/// What an expression is made of.
pub(super) fn parts(expr: &Expr) -> Vec<&Expr> {
    match &expr.kind {
        ExprKind::Negate(one) | ExprKind::Group(one) => vec![one],
        ExprKind::Convert { value, .. } => vec![value],
        ExprKind::Binary { left, right, .. } => vec![left, right],
        ExprKind::Tolerance { value, deviation } => vec![value, deviation],
        ExprKind::Range { from, to, by } => {
            let by = by.as_deref();
            [&**from, &**to].into_iter().chain(by).collect()
        }
        ExprKind::Call { arguments, .. } => arguments.iter().collect(),
        ExprKind::List { items, .. } => items
            .iter()
            .filter_map(|item| match item {
                ListItem::Value(value) => Some(value),
                ListItem::Comment(_) => None,
            })
            .collect(),
        ExprKind::Quantity { .. }
        | ExprKind::Size { .. }
        | ExprKind::Path(_)
        | ExprKind::Text(_)
        | ExprKind::Date(..)
        | ExprKind::Unread(_) => Vec::new(),
    }
}
