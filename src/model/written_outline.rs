//! Custom outlines: points and three-point arcs to runs from left to right.
//!
//! An outline starts with `from`, goes on with `to` or `arc … to …`, and spans the width. It is
//! single-valued: each run goes to the right, and no arc overhangs. Whether it stays outside the bore is
//! judged by `geometry`.

use crate::finding::Finding;
use crate::quantity::{Dimension, Length};
use crate::source::Span;
use crate::syntax::ast::{Entry, Expr, ExprKind, Item, entries};

use super::error::ModelError;
use super::expression::{Evaluator, Scope};
use super::review::no_block;

use super::outline::{Outline, Run};

/// A point as written, with its place.
#[derive(Clone, Copy)]
struct Point {
    x: Length,
    y: Length,
    at: Span,
}

impl Point {
    fn floats(self) -> (f64, f64) {
        (self.x.to_mm(), self.y.to_mm())
    }
}

/// Reads an outline that must span the width; `None` after saying what is wrong.
pub(super) fn outline(
    items: &[Item],
    at: Span,
    width: Option<Length>,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<Outline> {
    let before = findings.len();
    let mut runs = Vec::new();
    let mut last: Option<Point> = None;
    for entry in entries(items) {
        if let Some(block) = &entry.block {
            let head = entry.head_name().unwrap_or("to");
            findings.push(no_block(block.open, head, "to 1.5 mm 2.2 mm").into());
            return None;
        }
        let place = match (entry.head_name(), last) {
            (Some("from"), None) => point(&entry.values, entry, scope, findings),
            (Some("to"), Some(from)) => {
                let to = point(&entry.values, entry, scope, findings);
                runs.extend(to.and_then(|to| line(from, to, entry, findings)));
                to
            }
            (Some("arc"), Some(from)) => {
                let (via, to) = arc_points(entry, scope, findings)?;
                runs.extend(arc(from, via, to, entry, findings));
                Some(to)
            }
            (Some("from"), Some(_)) => {
                return refuse(
                    entry,
                    "an outline starts only once",
                    "go on with `to` or `arc`",
                    findings,
                );
            }
            (Some("to" | "arc"), None) => {
                return refuse(
                    entry,
                    "an outline starts with `from`",
                    "write `from -2.5 mm 1.6 mm` first",
                    findings,
                );
            }
            _ => {
                return refuse(
                    entry,
                    "an outline holds `from`, `to` and `arc … to …`",
                    "as in `to 1.5 mm 2.2 mm`",
                    findings,
                );
            }
        };
        last = Some(place?);
    }
    if runs.is_empty() && findings.len() == before {
        let help = "write `{ from -2.5 mm 1.6 mm, to 0 mm 2 mm, to 2.5 mm 1.6 mm }`".to_owned();
        findings.push(outline_error(at, "this outline has no line", help).into());
    }
    ends(items, width, scope, findings, before);
    (findings.len() == before).then_some(Outline { runs })
}

/// The outline must reach from face to face.
fn ends(
    items: &[Item],
    width: Option<Length>,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
    before: usize,
) {
    let Some(width) = width.filter(|_| findings.len() == before) else {
        return;
    };
    let half = width.value() / rust_decimal::Decimal::TWO;
    let mut quiet = Vec::new();
    let all: Vec<&Entry> = entries(items).collect();
    let mut judge = |entry: Option<&&Entry>, wanted: rust_decimal::Decimal, word: &str| {
        let Some(entry) = entry else { return };
        let skip = entry.values.len().saturating_sub(2);
        let Some(values) = entry.values.get(skip..) else {
            return;
        };
        let Some(place) = point(values, entry, scope, &mut quiet) else {
            return;
        };
        if place.x.value() != wanted {
            let wanted = wanted.normalize();
            let message = format!(
                "the outline {word} at {} mm, and the side face is at {wanted} mm",
                place.x.value().normalize()
            );
            let help = format!(
                "write `{wanted} mm` there: half the width of {} mm",
                width.value().normalize()
            );
            let at = values.first().map_or(place.at, |value| value.span);
            findings.push(ModelError::Outline { at, message, help }.into());
        }
    };
    judge(all.first(), -half, "starts");
    judge(all.last(), half, "ends");
}

fn outline_error(at: Span, message: &str, help: String) -> ModelError {
    ModelError::Outline {
        at,
        message: message.to_owned(),
        help,
    }
}

fn refuse<T>(entry: &Entry, message: &str, help: &str, findings: &mut Vec<Finding>) -> Option<T> {
    findings.push(outline_error(entry.header_span(), message, help.to_owned()).into());
    None
}

/// Two lengths: an axial place and a height.
fn point(
    values: &[Expr],
    entry: &Entry,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<Point> {
    let [x, y] = values else {
        if let Some(unread) = values
            .iter()
            .find(|one| matches!(one.kind, ExprKind::Unread(_)))
        {
            findings.push(ModelError::Unread { at: unread.span }.into());
            return None;
        }
        return refuse(
            entry,
            "a point has an axial place and a height",
            "as in `to 1.5 mm 2.2 mm`",
            findings,
        );
    };
    let (x_value, y_value) = (length(x, scope, findings), length(y, scope, findings));
    Some(Point {
        x: x_value?,
        y: y_value?,
        at: x.span.to(y.span),
    })
}

fn length(expr: &Expr, scope: &mut dyn Scope, findings: &mut Vec<Finding>) -> Option<Length> {
    let value = Evaluator { scope, findings }.value(expr, Some(Dimension::LENGTH))?;
    let found = value.quantity().and_then(Length::from_quantity);
    if found.is_none() {
        let problem = match value.quantity() {
            Some(quantity) if quantity.dimension == Dimension::NONE => ModelError::UnitMissing {
                at: expr.span,
                field: "outline".to_owned(),
                due: "a length".to_owned(),
                units: crate::suggest::listed(crate::quantity::unit::of_dimension(
                    Dimension::LENGTH,
                )),
            },
            _ => ModelError::WrongKind {
                at: expr.span,
                field: "outline".to_owned(),
                due: "a length".to_owned(),
                found: value.named(),
                help: "as in `to 1.5 mm 2.2 mm`".to_owned(),
            },
        };
        findings.push(problem.into());
    }
    found
}

/// `arc X Y to X Y`.
fn arc_points(
    entry: &Entry,
    scope: &mut dyn Scope,
    findings: &mut Vec<Finding>,
) -> Option<(Point, Point)> {
    let [via_x, via_y, word, to_x, to_y] = entry.values.as_slice() else {
        return refuse(
            entry,
            "an arc goes through one point to another",
            "as in `arc 0 mm 1.9 mm to 1.5 mm 2.2 mm`",
            findings,
        );
    };
    if !matches!(&word.kind, ExprKind::Path(path) if path.0 == "to") {
        return refuse(
            entry,
            "an arc goes through one point to another",
            "as in `arc 0 mm 1.9 mm to 1.5 mm 2.2 mm`",
            findings,
        );
    }
    let via = point(&[via_x.clone(), via_y.clone()], entry, scope, findings);
    let to = point(&[to_x.clone(), to_y.clone()], entry, scope, findings);
    Some((via?, to?))
}

fn line(from: Point, to: Point, entry: &Entry, findings: &mut Vec<Finding>) -> Option<Run> {
    if to.x <= from.x {
        let help =
            "each point stands to the right of the one before; an upright step is not possible"
                .to_owned();
        findings.push(
            outline_error(
                to.at,
                "this point is not to the right of the one before",
                help,
            )
            .into(),
        );
        return None;
    }
    Some(Run {
        from: from.floats(),
        to: to.floats(),
        radius: 0.0,
        at: entry.header_span(),
    })
}

/// The circular arc through three points.
fn arc(
    from: Point,
    via: Point,
    to: Point,
    entry: &Entry,
    findings: &mut Vec<Finding>,
) -> Option<Run> {
    line(from, to, entry, findings)?;
    if via.x <= from.x || via.x >= to.x {
        let help = "the arc goes through a point between its ends".to_owned();
        findings.push(
            outline_error(
                via.at,
                "this point does not lie between the arc's ends",
                help,
            )
            .into(),
        );
        return None;
    }
    let (a, b, c) = (from.floats(), via.floats(), to.floats());
    // Twice the signed area of the triangle: positive when the middle point lies above the chord.
    let area = (c.0 - a.0) * (b.1 - a.1) - (b.0 - a.0) * (c.1 - a.1);
    let distance = |p: (f64, f64), q: (f64, f64)| {
        ((p.0 - q.0) * (p.0 - q.0) + (p.1 - q.1) * (p.1 - q.1)).sqrt()
    };
    let product = distance(a, b) * distance(b, c) * distance(a, c);
    if area.abs() < 1e-12 * product.max(1e-12) {
        return Some(Run {
            from: a,
            to: c,
            radius: 0.0,
            at: entry.header_span(),
        });
    }
    let chord = distance(a, c);
    // From an arc of more than a half circle its chord is seen under less than a right angle; from a half
    // circle under a right one, and half the chord is the radius without the last bits that a product leaves.
    let seen =
        ((a.0 - b.0) * (c.0 - b.0) + (a.1 - b.1) * (c.1 - b.1)) / (distance(a, b) * distance(b, c));
    let radius = if seen.abs() < 1e-12 {
        chord / 2.0 * area.signum()
    } else {
        product / (2.0 * area)
    };
    let bulges_far = seen > 1e-12;
    let off = ((radius.abs() - chord / 2.0) * (radius.abs() + chord / 2.0))
        .max(0.0)
        .sqrt()
        * radius.signum();
    // The centre must lie below both ends of an arc that bulges upwards, above both of one that bulges down.
    let centre = (a.1 + c.1) / 2.0 - off * (c.0 - a.0) / chord;
    let overhangs = if radius > 0.0 {
        centre > a.1.min(c.1) + 1e-9
    } else {
        centre < a.1.max(c.1) - 1e-9
    };
    if bulges_far || overhangs {
        let help = "an arc may be upright at its end, but not lean over; bring its middle point nearer to the straight line between its ends".to_owned();
        findings.push(outline_error(via.at, "this arc overhangs", help).into());
        return None;
    }
    Some(Run {
        from: a,
        to: c,
        radius,
        at: entry.header_span(),
    })
}
