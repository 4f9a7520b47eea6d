//! The tree of a recipe: what was written, where, and in what layout, with every comment kept.
//!
//! Nothing here has a meaning yet: a head word may be a field or a slip, a unit may not exist. Equality
//! compares what is said and not where it stands, so that `parse(print(tree)) == tree` can be tested.

use std::borrow::Cow;

use rust_decimal::Decimal;

use crate::source::{Span, Spanned};

/// A whole source, as pieces in the order written.
#[derive(Clone, Debug, PartialEq)]
pub struct Tree {
    /// The top level.
    pub items: Vec<Item>,
}

/// One piece of a block.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// Something said.
    Entry(Entry),
    /// A comment on a line of its own.
    Comment(Comment),
    /// Text that fits no shape; it was reported when the tree was built.
    Broken(Spanned<String>),
}

/// A comment with its `#`.
#[derive(Clone, Debug)]
pub struct Comment {
    /// The text from `#` to the end of the line, without spaces at its end.
    pub text: String,
    /// Whether an empty line stands before it.
    pub spaced: bool,
    /// Its place.
    pub span: Span,
}

impl PartialEq for Comment {
    fn eq(&self, other: &Self) -> bool {
        self.text == other.text && self.spaced == other.spaced
    }
}

/// A head word, what is said of it, and a block that says more.
#[derive(Clone, Debug)]
pub struct Entry {
    /// The word that names what is said; an order's counts have none.
    pub head: Option<Spanned<Path>>,
    /// What is said, in juxtaposed values.
    pub values: Vec<Expr>,
    /// The block, when the entry opens one.
    pub block: Option<Block>,
    /// A comment behind it on its last line.
    pub comment: Option<Comment>,
    /// Layout: it follows the entry before it on the same line, after a comma.
    pub joined: bool,
    /// Layout: an empty line stands before it.
    pub spaced: bool,
    /// From the head to the last value or the closing brace.
    pub span: Span,
}

impl PartialEq for Entry {
    fn eq(&self, other: &Self) -> bool {
        self.head == other.head
            && self.values == other.values
            && self.block == other.block
            && self.comment.as_ref().map(|c| &c.text) == other.comment.as_ref().map(|c| &c.text)
            && self.joined == other.joined
            && self.spaced == other.spaced
    }
}

impl Entry {
    /// An entry that only opens a block, under a name or none; the block is still to be put in.
    #[must_use]
    pub fn opening(head: Spanned<Path>, name: Option<Expr>, span: Span) -> Self {
        Self {
            head: Some(head),
            values: name.into_iter().collect(),
            block: None,
            comment: None,
            joined: false,
            spaced: false,
            span,
        }
    }

    /// The head when it is a single name.
    #[must_use]
    pub fn head_name(&self) -> Option<&str> {
        self.head.as_ref().and_then(|head| head.value.single())
    }

    /// The place of the head, or of the whole entry when it has none.
    #[must_use]
    pub fn head_span(&self) -> Span {
        self.head.as_ref().map_or(self.span, |head| head.span)
    }

    /// Head and values, without the block.
    #[must_use]
    pub fn header_span(&self) -> Span {
        self.values
            .last()
            .map_or_else(|| self.head_span(), |last| self.head_span().to(last.span))
    }
}

/// Pieces between braces.
#[derive(Clone, Debug)]
pub struct Block {
    /// What stands in it.
    pub items: Vec<Item>,
    /// A comment behind the opening brace.
    pub comment: Option<Comment>,
    /// Layout: the whole block stands on its header's line.
    pub inline: bool,
    /// The opening brace.
    pub open: Span,
    /// A brace was missing or too many somewhere in it, so that its entries may stand in the wrong place.
    pub damaged: bool,
}

impl PartialEq for Block {
    fn eq(&self, other: &Self) -> bool {
        self.items == other.items
            && self.comment.as_ref().map(|c| &c.text) == other.comment.as_ref().map(|c| &c.text)
            && self.inline == other.inline
    }
}

impl Block {
    /// All comments inside it, in order.
    #[must_use]
    pub fn comments(&self) -> Vec<&Comment> {
        self.comment.iter().chain(comments(&self.items)).collect()
    }

    /// The entries, without comments and broken text.
    pub fn entries(&self) -> impl Iterator<Item = &Entry> {
        entries(&self.items)
    }
}

/// The items of a block, each behind the first joined to the one before it where the block stands on one line: behind a
/// brace no comma need say so.
pub(super) fn on_one_line(mut items: Vec<Item>, inline: bool) -> Vec<Item> {
    for item in items.iter_mut().skip(1) {
        if let Item::Entry(entry) = item {
            entry.joined |= inline;
        }
    }
    items
}

/// Whether a block of several lines is among some items: what holds one stands on several itself.
pub(super) fn holds_tall(items: &[Item]) -> bool {
    let mut blocks = entries(items).filter_map(|entry| entry.block.as_ref());
    blocks.any(|block| !block.inline)
}

/// The entries among some items.
pub fn entries(items: &[Item]) -> impl Iterator<Item = &Entry> {
    items.iter().filter_map(|item| match item {
        Item::Entry(entry) => Some(entry),
        Item::Comment(_) | Item::Broken(_) => None,
    })
}

/// All comments among some items and inside them, in order.
#[must_use]
pub fn comments(items: &[Item]) -> Vec<&Comment> {
    let mut found = Vec::new();
    for item in items {
        match item {
            Item::Comment(comment) => found.push(comment),
            Item::Entry(entry) => {
                found.extend(entry.block.iter().flat_map(Block::comments));
                found.extend(&entry.comment);
            }
            Item::Broken(_) => {}
        }
    }
    found
}

/// The first value as a bare word.
#[must_use]
pub fn first_word(values: &[Expr]) -> Option<&str> {
    match values.first().map(|expr| &expr.kind) {
        Some(ExprKind::Path(path)) => path.single(),
        _ => None,
    }
}

/// The units on both sides of an exchange (`1 USD = 0.92 EUR`), as written.
#[must_use]
pub fn exchange(values: &[Expr]) -> Option<(&str, &str)> {
    fn unit(expr: &Expr) -> Option<&str> {
        match &expr.kind {
            ExprKind::Quantity { unit, .. } => unit.as_ref().map(|unit| unit.value.as_str()),
            _ => None,
        }
    }
    match values.first().map(|expr| &expr.kind) {
        Some(ExprKind::Binary {
            operator,
            left,
            right,
        }) if operator.value == Operator::Equal => unit(left).zip(unit(right)),
        _ => None,
    }
}

/// What tells an entry from others of its word: its first word; of an exchange both units (`USD-EUR`).
#[must_use]
pub fn entry_name(values: &[Expr]) -> Option<Cow<'_, str>> {
    let word = first_word(values).map(Cow::Borrowed);
    word.or_else(|| exchange(values).map(|(one, other)| Cow::Owned(format!("{one}-{other}"))))
}

/// Names joined by points.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Path(pub String);

impl Path {
    /// The names in order.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.split('.')
    }

    /// The path as one name, when it is one.
    #[must_use]
    pub fn single(&self) -> Option<&str> {
        (!self.0.contains('.')).then_some(&*self.0)
    }
}

/// A value as written.
#[derive(Clone, Debug)]
pub struct Expr {
    /// What it is.
    pub kind: ExprKind,
    /// Where it stands.
    pub span: Span,
}

impl PartialEq for Expr {
    fn eq(&self, other: &Self) -> bool {
        self.kind == other.kind
    }
}

/// The shapes of values.
#[derive(Clone, Debug, PartialEq)]
pub enum ExprKind {
    /// A number, perhaps with a unit behind it.
    Quantity {
        /// The number.
        number: Numeral,
        /// Its unit, not yet looked up.
        unit: Option<Spanned<String>>,
    },
    /// A ring size, neither part looked up yet.
    Size {
        /// The system word, in capitals.
        system: Spanned<String>,
        /// The designation, spaces between its parts reduced to one.
        designation: Spanned<String>,
    },
    /// A name or names joined by points.
    Path(Path),
    /// Text between quotes, escapes resolved.
    Text(String),
    /// A day as year, month, day; not yet checked against the calendar.
    Date(i32, u8, u8),
    /// Values in square brackets, comments among them kept.
    List {
        /// Values and comments in order.
        items: Vec<ListItem>,
        /// Layout: it runs over several lines.
        lines: bool,
    },
    /// A sign before an operand.
    Negate(Box<Expr>),
    /// Two operands and the operator between them.
    Binary {
        /// The operator.
        operator: Spanned<Operator>,
        /// What stands before it.
        left: Box<Expr>,
        /// What stands behind it.
        right: Box<Expr>,
    },
    /// `value in unit`.
    Convert {
        /// What is converted.
        value: Box<Expr>,
        /// To what unit.
        unit: Spanned<String>,
    },
    /// `value ± deviation`.
    Tolerance {
        /// The nominal value.
        value: Box<Expr>,
        /// The deviation to either side.
        deviation: Box<Expr>,
    },
    /// `from .. to by step`.
    Range {
        /// First value.
        from: Box<Expr>,
        /// Last value.
        to: Box<Expr>,
        /// Step.
        by: Option<Box<Expr>>,
    },
    /// `name(a, b)`.
    Call {
        /// The function.
        name: Spanned<String>,
        /// What it is given.
        arguments: Vec<Expr>,
    },
    /// An expression in round brackets.
    Group(Box<Expr>),
    /// Text that could not be read as a value; that was reported when the tree was built.
    Unread(String),
}

/// A value in a list, or a comment between two.
#[derive(Clone, Debug, PartialEq)]
pub enum ListItem {
    /// A value.
    Value(Expr),
    /// A comment.
    Comment(Comment),
}

/// A number as written: exact, fractions kept as such.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Numeral {
    /// A decimal number.
    Decimal(Decimal),
    /// `7 1/2` or `1/2`: whole part, numerator, denominator.
    Fraction {
        /// Whole part, 0 when there is none.
        whole: u32,
        /// Above the stroke.
        numerator: u32,
        /// Below the stroke, never 0.
        denominator: u32,
    },
}

/// Operators between two operands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Operator {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*` or `×`
    Multiply,
    /// `/`
    Divide,
    /// `=`: gives a name its value, or compares
    Equal,
    /// `!=`
    Unequal,
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    More,
    /// `>=`
    AtLeast,
}

impl Operator {
    /// How it is written in canonical text.
    #[must_use]
    pub fn sign(self) -> &'static str {
        match self {
            Self::Add => "+",
            Self::Subtract => "-",
            Self::Multiply => "*",
            Self::Divide => "/",
            Self::Equal => "=",
            Self::Unequal => "!=",
            Self::Less => "<",
            Self::AtMost => "<=",
            Self::More => ">",
            Self::AtLeast => ">=",
        }
    }

    /// Whether it compares two values instead of computing a third.
    #[must_use]
    pub fn compares(self) -> bool {
        !matches!(
            self,
            Self::Add | Self::Subtract | Self::Multiply | Self::Divide
        )
    }
}
