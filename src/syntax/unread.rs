//! What a line with a slip in it still says.

use crate::source::{Source, Spanned};

use super::ast::{Entry, Expr, ExprKind, Operator, Path};
use super::names;

/// Before a field that stands here, the path of the same one in the band that this variant is made of, such as
/// `quay.hollow.`; empty outside variants. `open` are the headers of the blocks around it, outermost first.
pub(super) fn heads<'t>(open: impl Iterator<Item = &'t Entry> + Clone) -> String {
    let headers = || open.clone();
    let variant = headers().position(|header| header.head_name() == Some("variant"));
    let Some(variant) = variant else {
        return String::new();
    };
    let parent = headers()
        .nth(variant)
        .and_then(|header| header.values.get(2));
    let Some(ExprKind::Path(parent)) = parent.map(|parent| &parent.kind) else {
        return String::new();
    };
    let inner = headers().skip(variant + 1).filter_map(Entry::head_name);
    inner.fold(format!("{}.", parent.0), |path, head| path + head + ".")
}

/// What a line with a slip in its value still says: of which field, or of which `let`, it is the value.
///
/// So the field counts as written, and later layers look for no other mistake because of this one.
pub(super) fn unread(source: &Source, junk: &str, start: usize, at_top: bool) -> Option<Entry> {
    let word = |text: &str| {
        let end = text.find(|c: char| !c.is_alphanumeric() && c != '-');
        let length = end.unwrap_or(text.len());
        text.starts_with(char::is_alphabetic).then_some(length)
    };
    let trimmed = |from: usize| {
        let rest = junk.get(from..)?;
        let blank = rest.len() - rest.trim_start().len();
        (blank > 0 && blank < rest.len()).then_some(from + blank)
    };
    let expr = |from: usize, to: usize, kind: ExprKind| Expr {
        kind,
        span: source.span(start + from..start + to),
    };
    let unread = |from: usize| {
        let text = junk.get(from..).unwrap_or("").to_owned();
        expr(from, junk.len(), ExprKind::Unread(text))
    };
    let mut head_end = word(junk)?;
    while let Some(rest) = junk.get(head_end..).and_then(|rest| rest.strip_prefix('.')) {
        head_end += 1 + word(rest)?;
    }
    let from = trimmed(head_end)?;
    let head = junk.get(..head_end)?;
    let value = if at_top && !head.contains('.') {
        // At the top level only a `let` and a path have a value of their own.
        let rest = junk.get(from..).filter(|_| head == "let")?;
        let name_end = from + word(rest)?;
        let sign = trimmed(name_end)?;
        junk.get(sign..).filter(|rest| rest.starts_with('='))?;
        let name = Path(names::normal(junk.get(from..name_end)?));
        let equal = source.span(start + sign..start + sign + 1);
        let kind = ExprKind::Binary {
            operator: Spanned::new(Operator::Equal, equal),
            left: Box::new(expr(from, name_end, ExprKind::Path(name))),
            right: Box::new(unread(trimmed(sign + 1)?)),
        };
        expr(from, junk.len(), kind)
    } else {
        unread(from)
    };
    let span = |to: usize| source.span(start..start + to);
    Some(Entry {
        head: Some(Spanned::new(Path(names::normal(head)), span(head_end))),
        values: vec![value],
        block: None,
        comment: None,
        joined: false,
        spaced: false,
        span: span(junk.len()),
    })
}
