//! The curve of one element, in its own units.

use kurbo::{Affine, BezPath, Circle, Ellipse, Point, Rect, RoundedRect, Shape};
use roxmltree::Node;
use svgtypes::{LengthUnit, PathParser, PathSegment, PointsParser};

/// Shapes are turned into curves within this, mm.
const NEAR: f64 = 1e-4;

/// The largest length that is taken, in user units: how many curves stand for a circle grows with it.
const LARGEST: f64 = 1e7;

/// A length of an element in user units; `None` for one in per cent, in a font's measures, or beyond all measure.
pub(super) fn length(node: Node<'_, '_>, name: &str) -> Option<f64> {
    let text = node.attribute(name)?;
    let found: svgtypes::Length = text.parse().ok()?;
    Some(found.number * in_pixels(found.unit)?).filter(|found| found.abs() < LARGEST)
}

/// How many user units a unit is, by the CSS pixel of 1/96 inch.
pub(super) fn in_pixels(unit: LengthUnit) -> Option<f64> {
    match unit {
        LengthUnit::None | LengthUnit::Px => Some(1.0),
        LengthUnit::In => Some(96.0),
        LengthUnit::Cm => Some(96.0 / 2.54),
        LengthUnit::Mm => Some(96.0 / 25.4),
        LengthUnit::Pt => Some(96.0 / 72.0),
        LengthUnit::Pc => Some(16.0),
        LengthUnit::Em | LengthUnit::Ex | LengthUnit::Percent => None,
    }
}

/// The matrix of a `transform`; the identity where there is none, `None` for one that cannot be read.
pub(super) fn transform(node: Node<'_, '_>) -> Option<Affine> {
    let Some(text) = node.attribute("transform") else {
        return Some(Affine::IDENTITY);
    };
    let found: svgtypes::Transform = text.parse().ok()?;
    Some(Affine::new([
        found.a, found.b, found.c, found.d, found.e, found.f,
    ]))
}

/// The curve of a shape; `None` where it cannot be read.
pub(super) fn curve(node: Node<'_, '_>) -> Option<BezPath> {
    let of = |name: &str| match node.has_attribute(name) {
        true => length(node, name),
        false => Some(0.0),
    };
    match node.tag_name().name() {
        "path" => path(node.attribute("d").unwrap_or("")),
        "line" => {
            let mut line = BezPath::new();
            line.move_to((of("x1")?, of("y1")?));
            line.line_to((of("x2")?, of("y2")?));
            Some(line)
        }
        "polyline" => points(node, false),
        "polygon" => points(node, true),
        "rect" => {
            let (x, y, wide, high) = (of("x")?, of("y")?, of("width")?, of("height")?);
            if wide <= 0.0 || high <= 0.0 {
                return None;
            }
            let rect = Rect::new(x, y, x + wide, y + high);
            let (rx, ry) = (length(node, "rx"), length(node, "ry"));
            match (rx.or(ry), ry.or(rx)) {
                (Some(rx), Some(ry)) if rx > 0.0 && ry > 0.0 => {
                    (rx == ry).then(|| RoundedRect::from_rect(rect, rx).to_path(NEAR))
                }
                _ => Some(rect.to_path(NEAR)),
            }
        }
        "circle" => {
            let centre = Point::new(of("cx")?, of("cy")?);
            let radius = of("r").filter(|radius| *radius > 0.0)?;
            Some(Circle::new(centre, radius).to_path(NEAR))
        }
        "ellipse" => {
            let centre = Point::new(of("cx")?, of("cy")?);
            let (rx, ry) = (of("rx")?, of("ry")?);
            (rx > 0.0 && ry > 0.0).then(|| Ellipse::new(centre, (rx, ry), 0.0).to_path(NEAR))
        }
        _ => None,
    }
}

fn points(node: Node<'_, '_>, closed: bool) -> Option<BezPath> {
    let mut line = BezPath::new();
    for (place, (x, y)) in PointsParser::from(node.attribute("points")?).enumerate() {
        match place {
            0 => line.move_to((x, y)),
            _ => line.line_to((x, y)),
        }
    }
    if closed && !line.elements().is_empty() {
        line.close_path();
    }
    Some(line)
}

/// Path data; `None` where some of it cannot be read.
fn path(data: &str) -> Option<BezPath> {
    let mut out = BezPath::new();
    let (mut at, mut start) = (Point::ZERO, Point::ZERO);
    // The control point that a smooth curve goes on from.
    let (mut cubic, mut quad): (Option<Point>, Option<Point>) = (None, None);
    for segment in PathParser::from(data) {
        let segment = segment.ok()?;
        let from = at;
        let place = |abs: bool, x: f64, y: f64| match abs {
            true => Point::new(x, y),
            false => Point::new(from.x + x, from.y + y),
        };
        let (mut next_cubic, mut next_quad) = (None, None);
        let is_move = matches!(segment, PathSegment::MoveTo { .. });
        if out.elements().is_empty() && !is_move {
            return None;
        }
        let mut cubic_to = |one: Point, two: Point, to: Point| {
            out.curve_to(one, two, to);
            (to, two)
        };
        match segment {
            PathSegment::MoveTo { abs, x, y } => {
                at = place(abs, x, y);
                start = at;
                out.move_to(at);
            }
            PathSegment::LineTo { abs, x, y } => {
                at = place(abs, x, y);
                out.line_to(at);
            }
            PathSegment::HorizontalLineTo { abs, x } => {
                at = Point::new(if abs { x } else { from.x + x }, from.y);
                out.line_to(at);
            }
            PathSegment::VerticalLineTo { abs, y } => {
                at = Point::new(from.x, if abs { y } else { from.y + y });
                out.line_to(at);
            }
            PathSegment::CurveTo {
                abs,
                x1,
                y1,
                x2,
                y2,
                x,
                y,
            } => {
                let (to, two) = cubic_to(place(abs, x1, y1), place(abs, x2, y2), place(abs, x, y));
                (at, next_cubic) = (to, Some(two));
            }
            PathSegment::SmoothCurveTo { abs, x2, y2, x, y } => {
                let one = cubic.map_or(from, |control| mirrored(control, from));
                let (to, two) = cubic_to(one, place(abs, x2, y2), place(abs, x, y));
                (at, next_cubic) = (to, Some(two));
            }
            PathSegment::Quadratic { abs, x1, y1, x, y } => {
                let control = place(abs, x1, y1);
                at = place(abs, x, y);
                out.quad_to(control, at);
                next_quad = Some(control);
            }
            PathSegment::SmoothQuadratic { abs, x, y } => {
                let control = quad.map_or(from, |control| mirrored(control, from));
                at = place(abs, x, y);
                out.quad_to(control, at);
                next_quad = Some(control);
            }
            PathSegment::EllipticalArc {
                abs,
                rx,
                ry,
                x_axis_rotation,
                large_arc,
                sweep,
                x,
                y,
            } => {
                at = place(abs, x, y);
                if [rx, ry, from.x, from.y, at.x, at.y]
                    .iter()
                    .any(|one| one.abs() >= LARGEST)
                {
                    return None;
                }
                let arc = kurbo::SvgArc {
                    from,
                    to: at,
                    radii: kurbo::Vec2::new(rx, ry),
                    x_rotation: x_axis_rotation.to_radians(),
                    large_arc,
                    sweep,
                };
                match kurbo::Arc::from_svg_arc(&arc) {
                    Some(arc) => {
                        arc.to_cubic_beziers(NEAR, |one, two, to| out.curve_to(one, two, to))
                    }
                    None => out.line_to(at),
                }
            }
            PathSegment::ClosePath { .. } => {
                out.close_path();
                at = start;
            }
        }
        (cubic, quad) = (next_cubic, next_quad);
    }
    Some(out)
}

fn mirrored(control: Point, at: Point) -> Point {
    Point::new(2.0 * at.x - control.x, 2.0 * at.y - control.y)
}
