//! The one canonical form: two spaces a level, one space between words, nothing aligned.
//!
//! Kept from the layout: which entries share a line, which blocks stand on one line, single empty
//! lines, every comment. Numbers, units and names are printed as written. Reading the output again
//! gives an equal tree.

use std::fmt::Write;

use super::ast::{Block, Comment, Entry, Expr, ExprKind, Item, ListItem, Numeral, Tree};

/// The canonical text of a tree.
///
/// # Example
/// ```
/// use annulet::{source::Sources, syntax};
/// let mut sources = Sources::default();
/// let id = sources.add("r", "band   b{\nwidth 4.5mm , size   ISO 54 # fits\n}");
/// let tree = syntax::parse(sources.get(id).unwrap()).value;
/// assert_eq!(syntax::print(&tree), "band b {\n  width 4.5 mm, size ISO 54 # fits\n}\n");
/// ```
#[must_use]
pub fn print(tree: &Tree) -> String {
    let mut text = String::new();
    items(&mut text, &tree.items, 0);
    text
}

/// The canonical text of one value.
#[must_use]
pub fn print_expression(expr: &Expr) -> String {
    let mut text = String::new();
    expression(&mut text, expr);
    text
}

fn items(text: &mut String, list: &[Item], depth: usize) {
    for (place, item) in list.iter().enumerate() {
        match item {
            Item::Entry(entry) => {
                if entry.joined && joins(list, place) {
                    trim_line_end(text);
                    text.push_str(", ");
                } else {
                    new_line(text, entry.spaced && place > 0, depth);
                }
                self::entry(text, entry, depth);
                trailing(text, entry.comment.as_ref());
            }
            Item::Comment(comment) => {
                new_line(text, comment.spaced && place > 0, depth);
                text.push_str(&comment.text);
            }
            Item::Broken(broken) => {
                new_line(text, false, depth);
                text.push_str(broken.value.trim());
            }
        }
        text.push('\n');
    }
}

/// Whether an entry can share the line of what stands before it.
fn joins(list: &[Item], place: usize) -> bool {
    match place.checked_sub(1).and_then(|before| list.get(before)) {
        Some(Item::Entry(before)) => before.comment.is_none(),
        _ => false,
    }
}

fn trim_line_end(text: &mut String) {
    if text.ends_with('\n') {
        text.pop();
    }
}

fn new_line(text: &mut String, spaced: bool, depth: usize) {
    if spaced {
        text.push('\n');
    }
    for _ in 0..depth {
        text.push_str("  ");
    }
}

fn trailing(text: &mut String, comment: Option<&Comment>) {
    if let Some(comment) = comment {
        text.push(' ');
        text.push_str(&comment.text);
    }
}

fn entry(text: &mut String, entry: &Entry, depth: usize) {
    let start = text.len();
    if let Some(head) = &entry.head {
        text.push_str(&head.value.0);
    }
    let mut before = None;
    for value in &entry.values {
        if text.len() > start {
            text.push(' ');
        }
        text.push_str(&beside(before, value));
        before = Some(value);
    }
    if let Some(block) = &entry.block {
        if text.len() > start {
            text.push(' ');
        }
        self::block(text, block, depth);
    }
}

/// A value behind another, such that what ends the one and begins the other is not read as one thing:
/// `ISO 54mm` would be the size `ISO 54` if a space stood before its unit, as `UK N 1/2mm` would be `UK N 1/2`; and a
/// fraction would join the whole number or letter before it.
fn beside(before: Option<&Expr>, value: &Expr) -> String {
    let mut text = print_expression(value);
    let (Some(last), ExprKind::Quantity { number, unit }) = (before.map(last), &first(value).kind)
    else {
        return text;
    };
    let is_fraction = matches!(number, Numeral::Fraction { whole: 0, .. });
    match &last.kind {
        ExprKind::Path(path)
            if unit.is_some() && (like_system(&path.0) || is_fraction && is_letter(&path.0)) =>
        {
            let mut digits = String::new();
            self::number(&mut digits, *number);
            if let Some(rest) = text.strip_prefix(&digits) {
                text = digits + rest.trim_start();
            }
        }
        ExprKind::Size { .. } | ExprKind::Quantity { .. } if is_fraction => {
            text.insert_str(0, "0 ")
        }
        _ => {}
    }
    text
}

/// Whether the grammar would take a word for a size system.
fn like_system(word: &str) -> bool {
    word.len() > 1 && word.chars().take(2).all(|c| c.is_ascii_uppercase())
}

/// Whether the grammar would take a word for the letter of a size.
fn is_letter(word: &str) -> bool {
    word.len() == 1 && word.starts_with(|c: char| c.is_ascii_uppercase())
}

/// The operand that an expression's text begins with.
fn first(expr: &Expr) -> &Expr {
    match &expr.kind {
        ExprKind::Binary { left: inner, .. }
        | ExprKind::Convert { value: inner, .. }
        | ExprKind::Tolerance { value: inner, .. }
        | ExprKind::Range { from: inner, .. } => first(inner),
        _ => expr,
    }
}

/// The operand that an expression's text ends with.
fn last(expr: &Expr) -> &Expr {
    match &expr.kind {
        ExprKind::Binary { right: inner, .. }
        | ExprKind::Negate(inner)
        | ExprKind::Tolerance {
            deviation: inner, ..
        } => last(inner),
        ExprKind::Range { to, by, .. } => last(by.as_deref().unwrap_or(to)),
        _ => expr,
    }
}

fn block(text: &mut String, block: &Block, depth: usize) {
    text.push('{');
    if block.items.is_empty() && block.comment.is_none() {
        text.push_str(if block.inline { "}" } else { "\n" });
        if !block.inline {
            new_line(text, false, depth);
            text.push('}');
        }
        return;
    }
    if block.inline && fits_one_line(block) {
        text.push(' ');
        for (place, inner) in block.entries().enumerate() {
            if place > 0 {
                text.push_str(", ");
            }
            entry(text, inner, depth);
        }
        text.push_str(" }");
        return;
    }
    trailing(text, block.comment.as_ref());
    text.push('\n');
    items(text, &block.items, depth + 1);
    new_line(text, false, depth);
    text.push('}');
}

/// A block can stand on one line when nothing in it needs a line of its own.
fn fits_one_line(block: &Block) -> bool {
    block.comment.is_none()
        && block.items.iter().all(|item| match item {
            Item::Entry(entry) => {
                entry.comment.is_none()
                    && entry
                        .block
                        .as_ref()
                        .is_none_or(|inner| inner.inline && fits_one_line(inner))
            }
            Item::Comment(_) | Item::Broken(_) => false,
        })
}

fn expression(text: &mut String, expr: &Expr) {
    match &expr.kind {
        ExprKind::Quantity { number, unit } => {
            self::number(text, *number);
            if let Some(unit) = unit {
                text.push(' ');
                text.push_str(&unit.value);
            }
        }
        ExprKind::Size {
            system,
            designation,
        } => {
            text.push_str(&system.value);
            text.push(' ');
            text.push_str(&designation.value);
        }
        ExprKind::Path(path) => text.push_str(&path.0),
        ExprKind::Text(inner) => {
            text.push('"');
            for c in inner.chars() {
                if matches!(c, '"' | '\\') {
                    text.push('\\');
                }
                text.push(c);
            }
            text.push('"');
        }
        ExprKind::Date(year, month, day) => {
            push(text, format_args!("{year:04}-{month:02}-{day:02}"))
        }
        ExprKind::List { items, lines } => list(text, items, *lines),
        ExprKind::Negate(inner) => {
            text.push('-');
            expression(text, inner);
        }
        ExprKind::Binary {
            operator,
            left,
            right,
        } => {
            expression(text, left);
            text.push(' ');
            text.push_str(operator.value.sign());
            text.push(' ');
            expression(text, right);
        }
        ExprKind::Convert { value, unit } => {
            expression(text, value);
            text.push_str(" in ");
            text.push_str(&unit.value);
        }
        ExprKind::Tolerance { value, deviation } => {
            expression(text, value);
            text.push_str(" \u{B1} ");
            expression(text, deviation);
        }
        ExprKind::Range { from, to, by } => {
            expression(text, from);
            text.push_str(" .. ");
            expression(text, to);
            if let Some(by) = by {
                text.push_str(" by ");
                expression(text, by);
            }
        }
        ExprKind::Call { name, arguments } => {
            text.push_str(&name.value);
            text.push('(');
            for (place, argument) in arguments.iter().enumerate() {
                if place > 0 {
                    text.push_str(", ");
                }
                expression(text, argument);
            }
            text.push(')');
        }
        ExprKind::Group(inner) => {
            text.push('(');
            expression(text, inner);
            text.push(')');
        }
        ExprKind::Unread(written) => text.push_str(written),
    }
}

fn list(text: &mut String, items: &[ListItem], lines: bool) {
    text.push('[');
    let mut fresh = true;
    for item in items {
        match item {
            ListItem::Value(value) => {
                text.push_str(match (lines, fresh) {
                    (true, _) => "\n",
                    (false, true) => "",
                    (false, false) => ", ",
                });
                expression(text, value);
            }
            ListItem::Comment(comment) => {
                text.push_str(if fresh { " " } else { "\n" });
                text.push_str(&comment.text);
            }
        }
        fresh = false;
    }
    if lines {
        text.push('\n');
    }
    text.push(']');
}

fn number(text: &mut String, number: Numeral) {
    match number {
        Numeral::Decimal(value) => push(text, format_args!("{value}")),
        Numeral::Fraction {
            whole: 0,
            numerator,
            denominator,
        } => push(text, format_args!("{numerator}/{denominator}")),
        Numeral::Fraction {
            whole,
            numerator,
            denominator,
        } => push(text, format_args!("{whole} {numerator}/{denominator}")),
    }
}

/// Writes into a string, which cannot fail.
fn push(text: &mut String, arguments: std::fmt::Arguments<'_>) {
    let _ = text.write_fmt(arguments);
}
