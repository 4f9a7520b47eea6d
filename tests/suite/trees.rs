//! Random trees of the language, and random recipes, for the property tests.
//!
//! A tree here is one that reading can give back: no unitless number stands before a word (which would be
//! read as its unit), operands bind as the text will, blocks on one line hold nothing that needs a line.

use annulet::source::{Span, Spanned};
use annulet::syntax::ast::{
    Block, Comment, Entry, Expr, ExprKind, Item, ListItem, Numeral, Operator, Path, Tree,
};
use annulet::syntax::print_expression;
use proptest::prelude::*;
use rust_decimal::Decimal;

const NOWHERE: Span = Span { start: 0, end: 0 };

fn spanned<T>(value: T) -> Spanned<T> {
    Spanned::new(value, NOWHERE)
}

fn expr(kind: ExprKind) -> Expr {
    Expr {
        kind,
        span: NOWHERE,
    }
}

/// Names; the words that join values are left out, since they are read as such.
fn name() -> impl Strategy<Value = String> {
    "[a-z\u{E9}\u{3B2}\u{6307}][a-z0-9\u{E9}]{0,5}(-[a-z0-9]{1,4}){0,2}"
        .prop_filter("a joining word", |name| {
            !["of", "by", "in", "x", "meets", "where"].contains(&name.as_str())
        })
}

fn path() -> impl Strategy<Value = Path> {
    prop::collection::vec(name(), 1..3).prop_map(|names| Path(names.join(".")))
}

fn unit() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("mm".to_owned()),
        Just("g/cm3".to_owned()),
        Just("%".to_owned()),
        Just("mm\u{B2}".to_owned()),
        Just("EUR/h".to_owned()),
        "[a-w\u{B5}][a-z]{0,4}".prop_filter("a joining word", |word| {
            !["of", "by", "meets", "where"].contains(&word.as_str())
        }),
    ]
}

fn decimal() -> impl Strategy<Value = Numeral> {
    (0..10_000_000_000_u64, 0..12_u32)
        .prop_map(|(digits, scale)| Numeral::Decimal(Decimal::new(digits as i64, scale)))
}

fn fraction() -> impl Strategy<Value = Numeral> {
    (0..20_u32, 1..9_u32, 1..9_u32).prop_map(|(whole, numerator, denominator)| Numeral::Fraction {
        whole,
        numerator,
        denominator,
    })
}

fn text() -> impl Strategy<Value = String> {
    "[ -~\u{E9}\u{6307}\u{1F48D}]{0,12}"
}

/// A value that any word may follow.
fn closed() -> impl Strategy<Value = Expr> {
    prop_oneof![
        (decimal(), unit()).prop_map(|(number, unit)| expr(ExprKind::Quantity {
            number,
            unit: Some(spanned(unit))
        })),
        path().prop_map(|path| expr(ExprKind::Path(path))),
        text().prop_map(|text| expr(ExprKind::Text(text))),
        (1000..3000_i32, 1..13_u8, 1..29_u8)
            .prop_map(|(year, month, day)| expr(ExprKind::Date(year, month, day))),
    ]
}

/// A value that takes what follows it for a part of itself.
fn open() -> impl Strategy<Value = Expr> {
    let sizes = [
        "54", "7", "7 1/2", "7.5", "N", "N 1/2", "Z+3", "Z+3 1/2", "0",
    ];
    prop_oneof![
        prop_oneof![decimal(), fraction()]
            .prop_map(|number| expr(ExprKind::Quantity { number, unit: None })),
        (
            prop::sample::select(vec!["ISO", "US", "UK", "UK-old", "XY"]),
            prop::sample::select(sizes.to_vec())
        )
            .prop_map(|(system, designation)| expr(ExprKind::Size {
                system: spanned(system.to_owned()),
                designation: spanned(designation.to_owned()),
            })),
    ]
}

fn grouped(inner: Expr) -> Expr {
    expr(ExprKind::Group(Box::new(inner)))
}

/// How strongly an expression holds together; operands stronger than their operator need no brackets.
fn strength(expr: &Expr) -> u8 {
    match &expr.kind {
        ExprKind::Range { .. } => 0,
        ExprKind::Binary { operator, .. } => binding(operator.value),
        ExprKind::Convert { .. } => 2,
        _ => 9,
    }
}

fn binding(operator: Operator) -> u8 {
    match operator {
        Operator::Multiply | Operator::Divide => 4,
        Operator::Add | Operator::Subtract => 3,
        _ => 1,
    }
}

fn at_least(inner: Expr, least: u8) -> Expr {
    if strength(&inner) >= least {
        inner
    } else {
        grouped(inner)
    }
}

/// Whether an expression's last word is a bare number, which would take `in` for its unit.
fn ends_bare(expr: &Expr) -> bool {
    match &expr.kind {
        ExprKind::Quantity { unit, .. } => unit.is_none(),
        ExprKind::Negate(inner) => ends_bare(inner),
        ExprKind::Binary { right, .. } => ends_bare(right),
        ExprKind::Tolerance { deviation, .. } => ends_bare(deviation),
        _ => false,
    }
}

/// A number with a unit, or without one.
fn is_measure(expr: &Expr, with_unit: bool) -> bool {
    matches!(&expr.kind, ExprKind::Quantity { unit, .. } if unit.is_some() == with_unit)
}

fn is_atom(expr: &Expr) -> bool {
    strength(expr) == 9 && !matches!(expr.kind, ExprKind::Negate(_) | ExprKind::Tolerance { .. })
}

fn atom(inner: Expr) -> Expr {
    if is_atom(&inner) {
        inner
    } else {
        grouped(inner)
    }
}

/// Expressions, ranges left out.
fn expression() -> impl Strategy<Value = Expr> {
    let operators = vec![
        Operator::Add,
        Operator::Subtract,
        Operator::Multiply,
        Operator::Divide,
        Operator::Less,
        Operator::AtMost,
        Operator::Equal,
        Operator::Unequal,
    ];
    prop_oneof![4 => closed(), 1 => open()].prop_recursive(4, 24, 3, move |inner| {
        let two = (inner.clone(), inner.clone());
        prop_oneof![
            inner.clone().prop_map(grouped),
            inner
                .clone()
                .prop_map(|inner| expr(ExprKind::Negate(Box::new(atom(inner))))),
            (two.clone(), prop::sample::select(operators.clone())).prop_map(
                |((left, right), operator)| {
                    let own = binding(operator);
                    // A bare number over a quantity has two readings, and is refused.
                    let refused = operator == Operator::Divide && is_measure(&left, false);
                    let right = if refused && is_measure(&right, true) {
                        grouped(right)
                    } else {
                        right
                    };
                    expr(ExprKind::Binary {
                        operator: spanned(operator),
                        left: Box::new(at_least(left, own)),
                        right: Box::new(at_least(right, own + 1)),
                    })
                }
            ),
            (inner.clone(), unit()).prop_map(|(value, unit)| {
                let value = at_least(value, 2);
                let value = if ends_bare(&value) {
                    grouped(value)
                } else {
                    value
                };
                expr(ExprKind::Convert {
                    value: Box::new(value),
                    unit: spanned(unit),
                })
            }),
            two.prop_map(|(value, deviation)| {
                let deviation = match &deviation.kind {
                    ExprKind::Quantity { .. } | ExprKind::Group(_) => deviation,
                    _ => grouped(deviation),
                };
                let value = match &value.kind {
                    ExprKind::Negate(_) => value,
                    _ => atom(value),
                };
                expr(ExprKind::Tolerance {
                    value: Box::new(value),
                    deviation: Box::new(deviation),
                })
            }),
            (name(), prop::collection::vec(inner.clone(), 0..3)).prop_map(|(name, arguments)| {
                expr(ExprKind::Call {
                    name: spanned(name),
                    arguments,
                })
            }),
            list(inner),
        ]
    })
}

fn comment_text() -> impl Strategy<Value = String> {
    "# ?[ -~\u{E9}]{0,10}".prop_map(|text| text.trim_end().to_owned())
}

fn list(inner: impl Strategy<Value = Expr>) -> impl Strategy<Value = Expr> {
    let item = prop_oneof![
        6 => inner.prop_map(ListItem::Value),
        1 => comment_text().prop_map(|text| ListItem::Comment(Comment { text, spaced: false, span: NOWHERE })),
    ];
    (prop::collection::vec(item, 0..4), any::<bool>()).prop_map(|(items, lines)| {
        // A list counts as one of several lines wherever its text has a line's end.
        let breaks = |item: &ListItem| match item {
            ListItem::Comment(_) => true,
            ListItem::Value(value) => print_expression(value).contains('\n'),
        };
        let lines = lines || items.iter().any(breaks);
        expr(ExprKind::List { items, lines })
    })
}

/// A value: an expression, or a range with or without its step.
fn value() -> impl Strategy<Value = Expr> {
    prop_oneof![
        6 => expression(),
        1 => (expression(), expression(), prop::option::of(expression())).prop_map(|(from, to, by)| {
            expr(ExprKind::Range {
                from: Box::new(from),
                to: Box::new(to),
                by: by.map(Box::new),
            })
        }),
    ]
}

/// Values one behind the other: brackets where one would take the next for a part of itself.
fn values() -> impl Strategy<Value = Vec<Expr>> {
    prop::collection::vec(value(), 0..3).prop_map(|values| {
        let last = values.len().saturating_sub(1);
        values
            .into_iter()
            .enumerate()
            .map(|(place, value)| {
                let alone = is_atom(&value) && !matches!(value.kind, ExprKind::Size { .. });
                let holds = alone && !ends_bare(&value);
                let is_range = matches!(value.kind, ExprKind::Range { .. });
                match (place == last, holds) {
                    (true, _) | (_, true) => value,
                    _ if is_range => expr(ExprKind::List {
                        lines: print_expression(&value).contains('\n'),
                        items: vec![ListItem::Value(value)],
                    }),
                    _ => grouped(value),
                }
            })
            .collect()
    })
}

fn entry(block: impl Strategy<Value = Option<Block>>) -> impl Strategy<Value = Entry> {
    (
        path(),
        values(),
        block,
        prop::option::weighted(0.2, comment_text()),
        any::<bool>(),
        any::<bool>(),
    )
        .prop_map(|(head, values, block, comment, joined, spaced)| Entry {
            head: Some(spanned(head)),
            values,
            block,
            comment: comment.map(|text| Comment {
                text,
                spaced: false,
                span: NOWHERE,
            }),
            joined,
            spaced,
            span: NOWHERE,
        })
}

fn item(block: impl Strategy<Value = Option<Block>>) -> impl Strategy<Value = Item> {
    prop_oneof![
        8 => entry(block).prop_map(Item::Entry),
        1 => (comment_text(), any::<bool>())
            .prop_map(|(text, spaced)| Item::Comment(Comment { text, spaced, span: NOWHERE })),
    ]
}

/// Layout that the text can show: what shares a line, what has an empty line before it.
fn laid_out(mut items: Vec<Item>, inline: bool) -> Vec<Item> {
    let mut before: Option<bool> = None;
    for item in &mut items {
        match item {
            Item::Entry(entry) => {
                entry.joined = before == Some(true) && (inline || entry.joined);
                entry.spaced &= before.is_some() && !entry.joined;
                before = Some(entry.comment.is_none());
            }
            Item::Comment(comment) => {
                comment.spaced &= before.is_some();
                before = Some(false);
            }
            Item::Broken(_) => before = Some(false),
        }
    }
    items
}

/// Whether a block can stand on one line.
fn fits_one_line(items: &[Item]) -> bool {
    items.iter().all(|item| match item {
        Item::Entry(entry) => {
            entry.comment.is_none() && entry.block.as_ref().is_none_or(|block| block.inline)
        }
        _ => false,
    })
}

fn block() -> impl Strategy<Value = Option<Block>> {
    let made = |(items, comment, inline): (Vec<Item>, Option<String>, bool)| {
        let inline = inline && comment.is_none() && fits_one_line(&items);
        Block {
            items: laid_out(items, inline),
            comment: comment.map(|text| Comment {
                text,
                spaced: false,
                span: NOWHERE,
            }),
            inline,
            open: NOWHERE,
            damaged: false,
        }
    };
    let parts = move |block: BoxedStrategy<Option<Block>>| {
        (
            prop::collection::vec(item(block), 0..4),
            prop::option::weighted(0.1, comment_text()),
            any::<bool>(),
        )
            .prop_map(made)
    };
    let leaf = parts(Just(None).boxed()).boxed();
    let nested = leaf.prop_recursive(3, 12, 3, move |inner| {
        parts(prop::option::weighted(0.3, inner).boxed())
    });
    prop::option::weighted(0.4, nested)
}

/// Whole trees.
pub fn tree() -> impl Strategy<Value = Tree> {
    prop::collection::vec(item(block()), 0..6).prop_map(|items| Tree {
        items: laid_out(items, false),
    })
}
