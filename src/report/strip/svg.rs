//! The strip as SVG in true scale: repeats, seam, centre line, the tool's lines and widths, one repeat shaded by depth.
//!
//! One unit is one mm, both in the `viewBox` and on paper. Light on dark where the reader prefers that; title and
//! description are there for screen readers. Names are escaped. Nothing is fetched.

use std::fmt::Write;

use super::shades::shades;
use super::sheet::Sheet;
use super::xml::escape;
use crate::kernel::pattern::repeats::degrees;
use crate::kernel::pattern::stroke::{StripPlace, Stroke, StrokeArc, StrokeRun, stops};

const MARGIN: f64 = 7.0;
const TOP: f64 = 15.0;
/// Height of the shaded repeat at most, mm.
const PREVIEW: f64 = 40.0;
/// What a reader that knows style sheets changes: light on dark. The looks stand at each element, so that a drawing
/// program that knows none draws them too.
const STYLE: &str = "\
@media screen and (prefers-color-scheme:dark){.paper{fill:#14181e}.h,.word,.shade{fill:#e6e9ee}.s{fill:#7d8896}\
.strip{fill:#353027;stroke:#e6e9ee}.rep,.mid{stroke:#7d8896}.seam{stroke:#ff8d80}.w,.c{stroke:#7db4f0}\
.a{fill:#7db4f0;stroke:#7db4f0}.dim{stroke:#e6e9ee}}";
const HEAD: &str = "class=\"h\" font-size=\"3.2\" font-weight=\"600\"";
const SAID: &str = "class=\"s\" fill=\"#8a94a3\"";
const WORD: &str = "class=\"word\"";
const STRIP: &str = "class=\"strip\" fill=\"#f1ead9\" stroke=\"#1c2430\" stroke-width=\"0.15\"";
const REPEAT: &str = "class=\"rep\" stroke=\"#8a94a3\" stroke-width=\"0.1\"";
const SEAM: &str = "class=\"seam\" stroke=\"#b3372f\" stroke-width=\"0.25\"";
const MIDDLE: &str =
    "class=\"mid\" stroke=\"#8a94a3\" stroke-width=\"0.08\" stroke-dasharray=\"1.2 0.4 0.2 0.4\"";
/// A groove as wide as it is cut.
const WIDTH: &str = "class=\"w\" fill=\"none\" stroke=\"#2d6cb5\" stroke-opacity=\"0.3\" stroke-linecap=\"round\" stroke-linejoin=\"round\"";
/// A centre line.
const CENTRE: &str =
    "class=\"c\" fill=\"none\" stroke=\"#2d6cb5\" stroke-width=\"0.09\" stroke-linecap=\"round\"";
/// A dot, a facet, a pocket.
const AREA: &str =
    "class=\"a\" fill=\"#2d6cb5\" fill-opacity=\"0.3\" stroke=\"#2d6cb5\" stroke-width=\"0.09\"";
const LENGTH: &str = "class=\"dim\" fill=\"none\" stroke=\"#1c2430\" stroke-width=\"0.12\"";

/// The drawing as the text of an SVG file.
#[must_use]
pub fn svg(sheet: &Sheet<'_>) -> String {
    let mut out = String::new();
    // Writing to a string never fails.
    let _ = write(&mut out, sheet);
    out
}

fn write(out: &mut String, sheet: &Sheet<'_>) -> std::fmt::Result {
    let (length, high) = (sheet.outside.length(), sheet.outside.width());
    let (span, spans) = sheet.span();
    let preview = sheet.relief.filter(|_| !sheet.cuts.is_empty());
    let scale = (length / span).min(PREVIEW / high).max(1.0);
    let below = TOP + high + 9.0;
    let tall = below
        + if preview.is_some() {
            5.0 + high * scale + 6.0
        } else {
            0.0
        };
    let wide = length.max(66.0) + 2.0 * MARGIN;
    let name = escape(sheet.name);
    let turn = degrees(sheet.repeats);
    write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide:.3}mm\" height=\"{tall:.3}mm\" "
    )?;
    writeln!(
        out,
        "viewBox=\"0 0 {wide:.3} {tall:.3}\" font-family=\"Helvetica,Arial,sans-serif\" font-size=\"2\" fill=\"#1c2430\" role=\"img\" aria-labelledby=\"title about\">"
    )?;
    writeln!(out, "<title id=\"title\">{name}: the strip</title>")?;
    write!(
        out,
        "<desc id=\"about\">The outside of the band {name} unrolled in true scale, {length:.3} mm long and "
    )?;
    write!(
        out,
        "{high:.3} mm wide, in {} repeats of {:.3} mm, {turn:.3} degrees each. ",
        sheet.repeats,
        sheet.pitch()
    )?;
    let count = sheet.cuts.len();
    let cuts: Vec<String> = (0..count).map(|cut| escape(&sheet.name_of(cut))).collect();
    let listed = if cuts.is_empty() {
        "no drawn cuts".to_owned()
    } else {
        cuts.join(", ")
    };
    writeln!(out, "Cuts: {listed}.</desc>")?;
    writeln!(out, "<style>{STYLE}</style>")?;
    writeln!(
        out,
        "<rect class=\"paper\" fill=\"#fff\" width=\"{wide:.3}\" height=\"{tall:.3}\"/>"
    )?;
    writeln!(out, "<text {HEAD} x=\"{MARGIN}\" y=\"5\">{name}</text>")?;
    write!(
        out,
        "<text {SAID} x=\"{MARGIN}\" y=\"8.6\">strip {length:.2} x {high:.2} mm, "
    )?;
    writeln!(
        out,
        "{} repeats of {:.3} mm, {turn:.3}\u{b0} each</text>",
        sheet.repeats,
        sheet.pitch()
    )?;
    // The strip: u to the right, v upwards, v = 0 in the middle.
    let middle = TOP + high / 2.0;
    writeln!(
        out,
        "<defs><clipPath id=\"edge\"><rect x=\"0\" y=\"{:.4}\" width=\"{length:.4}\" height=\"{high:.4}\"/></clipPath>",
        -high / 2.0
    )?;
    writeln!(out, "<g id=\"span\">")?;
    cuts_of(out, sheet)?;
    writeln!(out, "</g></defs>")?;
    writeln!(out, "<g transform=\"translate({MARGIN} {middle:.4})\">")?;
    writeln!(
        out,
        "<rect {STRIP} x=\"0\" y=\"{:.4}\" width=\"{length:.4}\" height=\"{high:.4}\"/>",
        -high / 2.0
    )?;
    writeln!(out, "<g clip-path=\"url(#edge)\">")?;
    // What runs over the seam comes in again at the other end.
    for place in -1..=i64::from(spans) {
        writeln!(
            out,
            "<use href=\"#span\" x=\"{:.4}\"/>",
            span * place as f64
        )?;
    }
    writeln!(out, "</g>")?;
    let half = high / 2.0;
    writeln!(
        out,
        "<line {MIDDLE} x1=\"-2\" x2=\"{:.4}\" y1=\"0\" y2=\"0\"/>",
        length + 2.0
    )?;
    // Degrees stand where there is room for them.
    let each = (8.0 / sheet.pitch()).ceil().max(1.0) as u32;
    for repeat in 0..=sheet.repeats {
        let x = sheet.pitch() * f64::from(repeat);
        let seam = repeat == 0 || repeat == sheet.repeats;
        let (class, over) = if seam { (SEAM, 2.0) } else { (REPEAT, 0.8) };
        writeln!(
            out,
            "<line {class} x1=\"{x:.4}\" x2=\"{x:.4}\" y1=\"{:.4}\" y2=\"{:.4}\"/>",
            -half - over,
            half + over
        )?;
        if seam || repeat % each == 0 && sheet.repeats - repeat >= each {
            let at = turn * f64::from(repeat);
            writeln!(
                out,
                "<text {SAID} x=\"{x:.4}\" y=\"{:.4}\" text-anchor=\"middle\">{}\u{b0}</text>",
                -half - 2.4,
                short(at)
            )?;
        }
    }
    dimension(out, sheet.pitch(), half)?;
    writeln!(
        out,
        "<text {SAID} x=\"{length:.4}\" y=\"{:.4}\" text-anchor=\"end\">seam</text>",
        half + 4.4
    )?;
    writeln!(out, "</g>")?;
    if let Some(relief) = preview {
        write!(
            out,
            "<text {WORD} x=\"{MARGIN}\" y=\"{:.3}\">one repeat, {} times as large, shaded by depth</text>",
            below + 2.5,
            short(scale)
        )?;
        writeln!(
            out,
            "<g shape-rendering=\"crispEdges\" role=\"presentation\" transform=\"translate({MARGIN} {:.4})\">",
            below + 5.0
        )?;
        let (w, h) = (sheet.pitch() * scale, high * scale);
        writeln!(
            out,
            "<rect {STRIP} x=\"0\" y=\"0\" width=\"{w:.3}\" height=\"{h:.3}\"/>"
        )?;
        shades(out, relief, w, h, sheet.pitch() / span)?;
        writeln!(out, "</g>")?;
    }
    writeln!(out, "</svg>")
}

/// The length of a repeat under the first of them.
fn dimension(out: &mut String, pitch: f64, half: f64) -> std::fmt::Result {
    let y = half + 2.2;
    write!(
        out,
        "<path {LENGTH} d=\"M0 {y:.3}H{pitch:.4}M0 {:.3}V{:.3}M{pitch:.4} {:.3}V{:.3}\"/>",
        y - 0.6,
        y + 0.6,
        y - 0.6,
        y + 0.6
    )?;
    writeln!(
        out,
        "<text {WORD} x=\"0\" y=\"{:.3}\">pitch {pitch:.3} mm</text>",
        y + 2.8
    )
}

/// The cuts of one span.
fn cuts_of(out: &mut String, sheet: &Sheet<'_>) -> std::fmt::Result {
    for stroke in &sheet.layout.strokes {
        let half = sheet.half_width(stroke.cut);
        let title = escape(&sheet.name_of(stroke.cut));
        if stroke.runs.is_empty() {
            let at = stroke.from.at;
            writeln!(
                out,
                "<g><title>{title}</title><circle {AREA} cx=\"{:.4}\" cy=\"{:.4}\" r=\"{half:.4}\"/></g>",
                at.u, -at.v
            )?;
            continue;
        }
        let way = way(stroke);
        write!(
            out,
            "<g><title>{title}</title><path {WIDTH} stroke-width=\"{:.4}\" d=\"{way}\"/>",
            2.0 * half
        )?;
        writeln!(out, "<path {CENTRE} d=\"{way}\"/></g>")?;
    }
    for facet in &sheet.layout.facets {
        let title = escape(&sheet.name_of(facet.cut));
        writeln!(
            out,
            "<g><title>{title}</title><path {AREA} d=\"{}\"/></g>",
            round(&sheet.facet_edge(facet))
        )?;
    }
    for pocket in &sheet.layout.pockets {
        let title = escape(&sheet.name_of(pocket.cut));
        write!(
            out,
            "<g><title>{title}</title><path {AREA} d=\"{}\"/>",
            round(&pocket.outline)
        )?;
        for inner in &pocket.loops {
            write!(out, "<path {CENTRE} d=\"{}\"/>", round(inner))?;
        }
        writeln!(out, "</g>")?;
    }
    Ok(())
}

/// A closed line.
fn round(corners: &[StripPlace]) -> String {
    let mut way = String::new();
    for (place, at) in corners.iter().enumerate() {
        let letter = if place == 0 { 'M' } else { 'L' };
        let _ = write!(way, "{letter}{:.4} {:.4}", at.u, -at.v);
    }
    if !corners.is_empty() {
        way.push('Z');
    }
    way
}

/// The line of a tool: lines and arcs as they are, waves as chords.
fn way(stroke: &Stroke) -> String {
    let mut way = format!("M{:.4} {:.4}", stroke.from.at.u, -stroke.from.at.v);
    let mut from = stroke.from;
    for (run, to) in &stroke.runs {
        let arc = match run {
            StrokeRun::Arc(via) => StrokeArc::through(from.at, *via, to.at),
            _ => None,
        };
        if let Some(arc) = arc {
            // In two halves, so that a full circle is drawn as well; y points down, so the sense turns round.
            let sense = u8::from(arc.sweep < 0.0);
            for at in [arc.at(0.5), to.at] {
                let _ = write!(
                    way,
                    "A{0:.4} {0:.4} 0 0 {sense} {1:.4} {2:.4}",
                    arc.radius, at.u, -at.v
                );
            }
        } else {
            stops(from, *run, *to, 2e-3, |stop| {
                let _ = write!(way, "L{:.4} {:.4}", stop.at.u, -stop.at.v);
            });
        }
        from = *to;
    }
    way
}

/// A number without needless zeros.
fn short(number: f64) -> String {
    let text = format!("{number:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
