//! Pest's pairs of one value to an [`Expr`].
//!
//! Precedence, weakest first: comparison, `in`, sum, product; all are read from left to right. `None`
//! comes back only where the grammar already promised otherwise, so callers may drop it.
//! What has no sure meaning is reported, and stays in the tree as unread text, so that nothing is computed of it.

use pest::iterators::Pair;
use rust_decimal::Decimal;

use crate::finding::{Finding, add};
use crate::source::{Source, Span, Spanned};

use super::ast::{Comment, Expr, ExprKind, ListItem, Numeral, Operator, Path};
use super::error::SyntaxError;
use super::grammar::Rule;
use super::guard::LONGEST;
use super::names;

/// Reads values of one source and collects what is wrong with them.
pub(super) struct Reader<'a> {
    source: &'a Source,
    /// Where the text that the grammar read begins in the source.
    from: usize,
    findings: &'a mut Vec<Finding>,
}

/// An operand or a sum half built, and the operators that wait for their right side.
struct Stack {
    operands: Vec<Expr>,
    operators: Vec<Spanned<Operator>>,
}

impl<'a> Reader<'a> {
    /// A reader of what the grammar read from a place of the source on.
    pub(super) fn new(source: &'a Source, from: usize, findings: &'a mut Vec<Finding>) -> Self {
        Self {
            source,
            from,
            findings,
        }
    }

    fn span(&self, pair: &Pair<'_, Rule>) -> Span {
        let span = pair.as_span();
        self.source
            .span(self.from + span.start()..self.from + span.end())
    }

    /// A value: an expression, or a range of them.
    pub(super) fn value(&mut self, pair: Pair<'_, Rule>) -> Option<Expr> {
        let span = self.span(&pair);
        let value = self.range(pair, span)?;
        if depth(&value) > LONGEST {
            return Some(self.too_long(span));
        }
        Some(value)
    }

    /// The expression in its place, unread.
    fn too_long(&mut self, at: Span) -> Expr {
        add(self.findings, SyntaxError::TooLong { at, limit: LONGEST });
        self.unread(at)
    }

    fn unread(&self, span: Span) -> Expr {
        Expr {
            kind: ExprKind::Unread(self.source.slice(span).to_owned()),
            span,
        }
    }

    fn range(&mut self, pair: Pair<'_, Rule>, span: Span) -> Option<Expr> {
        let mut parts = pair
            .into_inner()
            .filter(|part| part.as_rule() == Rule::expression);
        let from = self.expression(parts.next()?)?;
        let Some(to) = parts.next() else {
            return Some(from);
        };
        let to = Box::new(self.expression(to)?);
        let by = match parts.next() {
            Some(by) => Some(Box::new(self.expression(by)?)),
            None => None,
        };
        Some(Expr {
            kind: ExprKind::Range {
                from: Box::new(from),
                to,
                by,
            },
            span,
        })
    }

    /// Terms and operators, by precedence.
    fn expression(&mut self, pair: Pair<'_, Rule>) -> Option<Expr> {
        let span = self.span(&pair);
        // A term and an operator, or a conversion, for each of the most that are read.
        if pair.clone().into_inner().nth(2 * LONGEST + 1).is_some() {
            return Some(self.too_long(span));
        }
        let mut stack = Stack {
            operands: Vec::new(),
            operators: Vec::new(),
        };
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::term => stack.operands.push(self.term(part)?),
                Rule::operator => {
                    let operator = Spanned::new(operator(part.as_str()), self.span(&part));
                    self.reduce(&mut stack, binding(operator.value));
                    stack.operators.push(operator);
                }
                Rule::convert => {
                    self.reduce(&mut stack, binding(Operator::Add));
                    let unit = part.into_inner().next()?;
                    let unit = Spanned::new(unit.as_str().to_owned(), self.span(&unit));
                    let value = Box::new(stack.operands.pop()?);
                    let span = value.span.to(unit.span);
                    stack.operands.push(Expr {
                        kind: ExprKind::Convert { value, unit },
                        span,
                    });
                }
                _ => {}
            }
        }
        self.reduce(&mut stack, 0);
        stack.operands.pop()
    }

    /// Joins what binds at least as strongly as `binding`.
    fn reduce(&mut self, stack: &mut Stack, least: u8) {
        while let Some(operator) = stack
            .operators
            .pop_if(|operator| binding(operator.value) >= least)
        {
            let (Some(right), Some(left)) = (stack.operands.pop(), stack.operands.pop()) else {
                return;
            };
            let span = left.span.to(right.span);
            if self.refuse_two_readings(&operator, &left, &right) {
                stack.operands.push(self.unread(span));
                continue;
            }
            let (left, right) = (Box::new(left), Box::new(right));
            stack.operands.push(Expr {
                kind: ExprKind::Binary {
                    operator,
                    left,
                    right,
                },
                span,
            });
        }
    }

    /// `1 / 2 mm` may be half a millimetre or one over two millimetres.
    fn refuse_two_readings(
        &mut self,
        operator: &Spanned<Operator>,
        left: &Expr,
        right: &Expr,
    ) -> bool {
        let (
            ExprKind::Quantity {
                number: above,
                unit: None,
            },
            ExprKind::Quantity {
                number: below,
                unit: Some(unit),
            },
        ) = (&left.kind, &right.kind)
        else {
            return false;
        };
        let (Operator::Divide, Numeral::Decimal(above), Numeral::Decimal(below)) =
            (operator.value, above, below)
        else {
            return false;
        };
        let first = above
            .checked_div(*below)
            .unwrap_or_default()
            .round_dp(9)
            .normalize();
        add(
            self.findings,
            SyntaxError::TwoReadings {
                at: left.span.to(right.span),
                first: format!("{first} {}", unit.value),
                second: format!("{above} / ({below} {})", unit.value),
            },
        );
        true
    }

    /// An operand with its sign and tolerance.
    fn term(&mut self, pair: Pair<'_, Rule>) -> Option<Expr> {
        let span = self.span(&pair);
        let mut sign = None;
        let mut value = None;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::minus => sign = Some(self.span(&part)),
                Rule::tolerance => {
                    let deviation = Box::new(self.operand(part.into_inner().next()?)?);
                    let inner: Expr = value.take()?;
                    let span = inner.span.to(deviation.span);
                    value = Some(Expr {
                        kind: ExprKind::Tolerance {
                            value: Box::new(inner),
                            deviation,
                        },
                        span,
                    });
                }
                _ => {
                    let operand = self.operand(part)?;
                    value = Some(match sign.take() {
                        Some(_) => {
                            let span = Span {
                                start: span.start,
                                end: operand.span.end,
                            };
                            Expr {
                                kind: ExprKind::Negate(Box::new(operand)),
                                span,
                            }
                        }
                        None => operand,
                    });
                }
            }
        }
        value
    }

    fn operand(&mut self, pair: Pair<'_, Rule>) -> Option<Expr> {
        let span = self.span(&pair);
        let kind = match pair.as_rule() {
            Rule::text => match self.text(pair.as_str(), span) {
                Some(text) => ExprKind::Text(text),
                None => return Some(self.unread(span)),
            },
            Rule::date => date(pair.as_str())?,
            Rule::path => ExprKind::Path(Path(names::name(pair.as_str(), span, self.findings))),
            Rule::quantity => {
                let mut parts = pair.into_inner();
                let number = parts.next()?;
                let number_span = self.span(&number);
                let number = match read_number(number.as_str()) {
                    Ok(number) => number,
                    Err(problem) => {
                        add(self.findings, problem(number_span));
                        return Some(self.unread(span));
                    }
                };
                let unit = parts
                    .next()
                    .map(|unit| Spanned::new(unit.as_str().to_owned(), self.span(&unit)));
                ExprKind::Quantity { number, unit }
            }
            Rule::size => {
                let mut parts = pair.into_inner();
                let (system, designation) = (parts.next()?, parts.next()?);
                let spaced = designation
                    .as_str()
                    .split_whitespace()
                    .collect::<Vec<_>>()
                    .join(" ");
                ExprKind::Size {
                    system: Spanned::new(system.as_str().to_owned(), self.span(&system)),
                    designation: Spanned::new(spaced, self.span(&designation)),
                }
            }
            Rule::call => {
                let mut parts = pair.into_inner();
                let name = parts.next()?;
                let name = Spanned::new(name.as_str().to_owned(), self.span(&name));
                let arguments = parts
                    .map(|part| self.expression(part))
                    .collect::<Option<Vec<_>>>()?;
                ExprKind::Call { name, arguments }
            }
            Rule::group => ExprKind::Group(Box::new(self.expression(pair.into_inner().next()?)?)),
            Rule::list => {
                let lines = pair.as_str().contains(['\n', '\r']);
                let mut items = Vec::new();
                for part in pair.into_inner() {
                    items.push(match part.as_rule() {
                        Rule::comment => ListItem::Comment(Comment {
                            text: part.as_str().trim_end().to_owned(),
                            spaced: false,
                            span: self.span(&part),
                        }),
                        _ => ListItem::Value(self.value(part)?),
                    });
                }
                ExprKind::List { items, lines }
            }
            _ => return None,
        };
        Some(Expr { kind, span })
    }
}

impl Reader<'_> {
    /// A text without its quotes and escapes; none after saying which backslash means nothing.
    fn text(&mut self, quoted: &str, at: Span) -> Option<String> {
        let inner = quoted
            .strip_prefix('"')
            .and_then(|text| text.strip_suffix('"'))
            .unwrap_or(quoted);
        if !inner.contains('\\') {
            return Some(inner.to_owned());
        }
        let mut text = String::with_capacity(inner.len());
        let mut sound = true;
        let mut characters = inner.char_indices();
        while let Some((place, c)) = characters.next() {
            if c != '\\' {
                text.push(c);
                continue;
            }
            match characters.next() {
                Some((_, escaped @ ('"' | '\\'))) => text.push(escaped),
                behind => {
                    let behind = behind.map_or('"', |(_, behind)| behind);
                    let offset = |bytes: usize| u32::try_from(bytes).unwrap_or(u32::MAX);
                    let start = at.start.saturating_add(offset(place + 1));
                    let end = start.saturating_add(offset(1 + behind.len_utf8()));
                    let at = Span { start, end };
                    add(self.findings, SyntaxError::Escape { at, behind });
                    sound = false;
                }
            }
        }
        sound.then_some(text)
    }
}

/// How deep operands lie in each other; brackets are bounded already, so this goes down a bounded way.
fn depth(expr: &Expr) -> usize {
    let deepest = |inner: &[&Expr]| 1 + inner.iter().map(|expr| depth(expr)).max().unwrap_or(0);
    match &expr.kind {
        ExprKind::Negate(inner) | ExprKind::Group(inner) => deepest(&[inner]),
        ExprKind::Convert { value, .. } => deepest(&[value]),
        ExprKind::Binary { left, right, .. } => deepest(&[left, right]),
        ExprKind::Tolerance { value, deviation } => deepest(&[value, deviation]),
        ExprKind::Range { from, to, by } => {
            let by = by.as_deref().map_or(0, depth);
            deepest(&[from, to]).max(1 + by)
        }
        ExprKind::Call { arguments, .. } => 1 + arguments.iter().map(depth).max().unwrap_or(0),
        ExprKind::List { items, .. } => {
            let values = items.iter().map(|item| match item {
                ListItem::Value(value) => depth(value),
                ListItem::Comment(_) => 0,
            });
            1 + values.max().unwrap_or(0)
        }
        ExprKind::Quantity { .. }
        | ExprKind::Size { .. }
        | ExprKind::Path(_)
        | ExprKind::Text(_)
        | ExprKind::Date(..)
        | ExprKind::Unread(_) => 1,
    }
}

/// How strongly an operator binds.
fn binding(operator: Operator) -> u8 {
    match operator {
        Operator::Multiply | Operator::Divide => 3,
        Operator::Add | Operator::Subtract => 2,
        _ => 1,
    }
}

fn operator(sign: &str) -> Operator {
    match sign {
        "+" => Operator::Add,
        "-" => Operator::Subtract,
        "/" => Operator::Divide,
        "=" => Operator::Equal,
        "!=" => Operator::Unequal,
        "<" => Operator::Less,
        "<=" => Operator::AtMost,
        ">" => Operator::More,
        ">=" => Operator::AtLeast,
        _ => Operator::Multiply,
    }
}

fn date(text: &str) -> Option<ExprKind> {
    let mut parts = text.splitn(3, '-');
    let year = parts.next()?.parse().ok()?;
    let month = parts.next()?.parse().ok()?;
    let day = parts.next()?.parse().ok()?;
    Some(ExprKind::Date(year, month, day))
}

/// A number as written; the problem, when there is one, still wants its place.
fn read_number(text: &str) -> Result<Numeral, fn(Span) -> SyntaxError> {
    let digits: fn(Span) -> SyntaxError = |at| SyntaxError::Digits { at };
    let Some((above, below)) = text.split_once('/') else {
        return Decimal::from_str_exact(text)
            .map(Numeral::Decimal)
            .map_err(|_| digits);
    };
    let mut parts = above.split_whitespace();
    let (first, second) = (parts.next().unwrap_or("0"), parts.next());
    let (whole, numerator) = second.map_or(("0", first), |numerator| (first, numerator));
    let read = |part: &str| part.parse::<u32>().map_err(|_| digits);
    let (whole, numerator, denominator) = (read(whole)?, read(numerator)?, read(below)?);
    if denominator == 0 {
        return Err(|at| SyntaxError::FractionOverZero { at });
    }
    Ok(Numeral::Fraction {
        whole,
        numerator,
        denominator,
    })
}
