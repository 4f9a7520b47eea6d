//! A picture as SVG: sections in true millimetres under a transform, words beside them, nothing fetched.
//!
//! Edges, hatching and words are black on white, and light on dark where the reader prefers that and nothing is printed;
//! parts are told apart by the way of their hatching, not by colour.

use std::fmt::Write;

use super::picture::{Anchor, Hatching, Ink, Lettering, Panel, Picture, Region, Sign, Spot, Trace};
use super::xml::escape;

/// What a reader that knows style sheets changes: light on dark. Black on white stands at each element, so that one
/// that knows none draws it too.
pub const STYLE: &str = "\
@media screen and (prefers-color-scheme:dark){\
.paper{fill:#15181c}\
.edge,.narrow,.hatch,.metal{stroke:#e8e6e1}\
.solid,.word{fill:#e8e6e1}}";

/// Places behind the point: of paper, and of sections, whose areas are to come out as evaluated.
const PLACES: (usize, usize) = (3, 9);

/// A file of its own.
#[must_use]
pub fn svg(picture: &Picture) -> String {
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    out.push_str(&whole(picture, "", true));
    out
}

/// The same to stand in a page that has [`STYLE`]; `prefix` keeps its ids from those of others.
#[must_use]
pub fn inline(picture: &Picture, prefix: &str) -> String {
    whole(picture, prefix, false)
}

fn whole(picture: &Picture, prefix: &str, own: bool) -> String {
    let mut out = String::new();
    let (width, height) = (number(picture.width, 3), number(picture.height, 3));
    // Writing to a string never fails, here and below.
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" font-family=\"Helvetica,Arial,sans-serif\" role=\"img\" aria-labelledby=\"{prefix}title {prefix}description\">"
    );
    let _ = writeln!(
        out,
        "<title id=\"{prefix}title\">{}</title>\n<desc id=\"{prefix}description\">{}</desc>",
        escape(&picture.title),
        escape(&picture.description)
    );
    if own {
        let _ = writeln!(out, "<style>{STYLE}</style>");
    }
    let _ = writeln!(
        out,
        "<rect class=\"paper\" fill=\"#fff\" width=\"{width}\" height=\"{height}\"/>"
    );
    for panel in &picture.panels {
        draw(&mut out, panel, picture.height, prefix);
    }
    out.push_str("</svg>\n");
    out
}

/// A number with so many places at most, no needless zeros, no minus before nothing.
fn number(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text = match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.'),
        false => &text,
    };
    if text == "-0" { "0" } else { text }.to_owned()
}

fn draw(out: &mut String, panel: &Panel, height: f64, prefix: &str) {
    let id = format!("{prefix}{}", panel.id);
    let _ = writeln!(
        out,
        "<g id=\"{id}\">\n<title>{}</title>",
        escape(&panel.title)
    );
    if !panel.regions.is_empty() || !panel.lines.is_empty() {
        hatchings(out, panel, &id);
        let (scale, x, y) = (
            number(panel.scale, 6),
            number(panel.origin.x, 6),
            number(height - panel.origin.y, 6),
        );
        let _ = writeln!(
            out,
            "<g transform=\"matrix({scale} 0 0 -{scale} {x} {y})\">"
        );
        for region in &panel.regions {
            part(out, region, panel.scale, &id);
        }
        for (trace, ink) in &panel.lines {
            let way = way(trace, PLACES.1, false, 0.0);
            line(out, &way, *ink, panel.scale);
        }
        out.push_str("</g>\n");
    }
    for sign in &panel.signs {
        match sign {
            Sign::Line(trace, ink) => line(out, &way(trace, PLACES.0, true, height), *ink, 1.0),
            Sign::Arrow(at, to) => arrow(out, *at, *to, height),
            Sign::Dot(at) => {
                let _ = writeln!(
                    out,
                    "<circle class=\"solid\" fill=\"#000\" cx=\"{}\" cy=\"{}\" r=\"0.35\"/>",
                    number(at.x, 3),
                    number(height - at.y, 3)
                );
            }
            Sign::Text(text) => words(out, text, height),
        }
    }
    out.push_str("</g>\n");
}

/// Patterns of the panel's own scale.
fn hatchings(out: &mut String, panel: &Panel, id: &str) {
    out.push_str("<defs>\n");
    for (hatching, turned) in [(Hatching::Rising, -45), (Hatching::Falling, 45)] {
        if !panel.regions.iter().any(|one| one.hatching == hatching) {
            continue;
        }
        let apart = hatching.apart() / panel.scale;
        // y points upwards here.
        let _ = writeln!(
            out,
            "<pattern id=\"{id}-{}\" patternUnits=\"userSpaceOnUse\" width=\"{apart:.6}\" height=\"{apart:.6}\" patternTransform=\"rotate({})\"><line class=\"hatch\" stroke=\"#000\" x1=\"0\" y1=\"0\" x2=\"{apart:.6}\" y2=\"0\" stroke-width=\"{:.6}\"/></pattern>",
            word(hatching),
            -turned,
            0.13 / panel.scale
        );
    }
    out.push_str("</defs>\n");
}

fn word(hatching: Hatching) -> &'static str {
    match hatching {
        Hatching::Rising => "rising",
        Hatching::Falling => "falling",
    }
}

fn part(out: &mut String, region: &Region, scale: f64, id: &str) {
    let _ = writeln!(
        out,
        "<path id=\"{id}-{}\" class=\"metal\" stroke=\"#000\" fill=\"url(#{id}-{})\" stroke-width=\"{}\" stroke-linejoin=\"round\" d=\"{}\"><title>{}</title></path>",
        region.id,
        word(region.hatching),
        number(Ink::Edge.width() / scale, 6),
        way(&region.trace, PLACES.1, false, 0.0),
        escape(&region.title)
    );
}

fn line(out: &mut String, way: &str, ink: Ink, scale: f64) {
    let class = if ink == Ink::Edge { "edge" } else { "narrow" };
    let dashes: Vec<String> = ink
        .dashes()
        .iter()
        .map(|dash| number(dash / scale, 6))
        .collect();
    let dashes = match dashes.is_empty() {
        true => String::new(),
        false => format!(" stroke-dasharray=\"{}\"", dashes.join(" ")),
    };
    let width = number(ink.width() / scale, 6);
    let _ = writeln!(
        out,
        "<path class=\"{class}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{width}\"{dashes} d=\"{way}\"/>"
    );
}

/// The way of a trace; turned upside down where it is on paper, whose y points downwards in SVG.
fn way(trace: &Trace, places: usize, turned: bool, height: f64) -> String {
    let place = |at: Spot| {
        let y = if turned { height - at.y } else { at.y };
        format!("{} {}", number(at.x, places), number(y, places))
    };
    let mut way = format!("M{}", place(trace.from));
    for (from, bend) in trace.sides() {
        match radius(from, bend.to, bend.bulge) {
            None => way.push_str(&format!("L{}", place(bend.to))),
            Some(radius) => {
                // A left turn goes with the angles, which in SVG's own frame run from x to y.
                let sweep = u8::from((bend.bulge > 0.0) != turned);
                let radius = number(radius, places);
                way.push_str(&format!(
                    "A{radius} {radius} 0 0 {sweep} {}",
                    place(bend.to)
                ));
            }
        }
    }
    if trace.closed {
        way.push('Z');
    }
    way
}

/// Radius of an arc; none for a line.
fn radius(from: Spot, to: Spot, bulge: f64) -> Option<f64> {
    let chord = libm::hypot(to.x - from.x, to.y - from.y);
    (bulge != 0.0).then(|| chord * (1.0 + bulge * bulge) / (4.0 * bulge.abs()))
}

fn arrow(out: &mut String, at: Spot, to: Spot, height: f64) {
    let corners: Vec<String> = super::picture::head(at, to)
        .iter()
        .map(|spot| format!("{},{}", number(spot.x, 3), number(height - spot.y, 3)))
        .collect();
    let _ = writeln!(
        out,
        "<polygon class=\"solid\" fill=\"#000\" points=\"{}\"/>",
        corners.join(" ")
    );
}

fn words(out: &mut String, text: &Lettering, height: f64) {
    let anchor = match text.anchor {
        Anchor::Start => "",
        Anchor::Middle => " text-anchor=\"middle\"",
        Anchor::End => " text-anchor=\"end\"",
    };
    let bold = if text.bold {
        " font-weight=\"bold\""
    } else {
        ""
    };
    let _ = writeln!(
        out,
        "<text class=\"word\" fill=\"#000\" x=\"{}\" y=\"{}\" font-size=\"{}\"{anchor}{bold}>{}</text>",
        number(text.at.x, 3),
        number(height - text.at.y, 3),
        number(text.size, 3),
        escape(&text.text)
    );
}
