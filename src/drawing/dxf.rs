//! DXF of release 12, the open text form: pairs of a code and a value, one a line. Lengths are true millimetres.
//!
//! Lines are LINE, arcs ARC, words TEXT. Signs that the form has codes for are written by them (`%%c`, `%%p`, `%%d`),
//! other letters beyond ASCII by their code point.

use std::fmt::{Display, Write};

use super::picture::{Anchor, Ink, Panel, Picture, Sign, Spot, Trace, head};

/// A layer: its name, its colour by number, the kind of its lines.
pub type LayerOf = (&'static str, u8, &'static str);

const LAYERS: [LayerOf; 6] = [
    ("SECTION", 7, "CONTINUOUS"),
    ("SLEEVE", 5, "CONTINUOUS"),
    ("DIMENSIONS", 3, "CONTINUOUS"),
    ("CUT", 1, "DASHED"),
    ("CENTRE", 9, "DASHDOT"),
    ("TEXT", 7, "CONTINUOUS"),
];

/// A picture in the lengths of its first panel, whose origin is 0: what is drawn ten times as large on paper is true to
/// size here, words and arrows a tenth of theirs.
#[must_use]
pub fn dxf(picture: &Picture) -> String {
    let first = picture.panels.iter().find(|panel| panel.scale > 0.0);
    let (origin, scale) = first.map_or((Spot::default(), 1.0), |one| (one.origin, one.scale));
    let paper = |at: Spot| Spot::at((at.x - origin.x) / scale, (at.y - origin.y) / scale);
    let mut out = Dxf::default();
    let corners = [
        paper(Spot::default()),
        paper(Spot::at(picture.width, picture.height)),
    ];
    out.head(&LAYERS, corners);
    out.comment(&picture.title);
    for panel in &picture.panels {
        draw(&mut out, panel, scale, &paper);
    }
    out.end()
}

fn draw(out: &mut Dxf, panel: &Panel, scale: f64, paper: &dyn Fn(Spot) -> Spot) {
    let own = |at: Spot| paper(panel.on_paper(at.x, at.y));
    let layer = |ink: Ink| match ink {
        Ink::Edge => "SECTION",
        Ink::Narrow => "DIMENSIONS",
        Ink::Dashed => "CUT",
        Ink::Centre => "CENTRE",
    };
    for region in &panel.regions {
        let layer = if region.id == "sleeve" {
            "SLEEVE"
        } else {
            "SECTION"
        };
        out.trace(layer, &region.trace, &own);
    }
    for (trace, ink) in &panel.lines {
        out.trace(layer(*ink), trace, &own);
    }
    for sign in &panel.signs {
        match sign {
            Sign::Line(trace, ink) => out.trace(layer(*ink), trace, paper),
            Sign::Arrow(at, way) => {
                let [tip, left, right] = head(*at, *way).map(paper);
                for (from, to) in [(tip, left), (left, right), (right, tip)] {
                    out.line("DIMENSIONS", from, to);
                }
            }
            Sign::Dot(at) => out.circle("DIMENSIONS", paper(*at), 0.35 / scale),
            Sign::Text(text) => {
                out.text(paper(text.at), text.size / scale, text.anchor, &text.text);
            }
        }
    }
}

/// A drawing that grows entity by entity.
#[derive(Debug, Default)]
pub struct Dxf {
    text: String,
}

impl Dxf {
    /// One code with its value.
    pub fn pair(&mut self, code: u32, value: impl Display) {
        // Writing to a string never fails.
        let _ = write!(self.text, "{code}\n{value}\n");
    }

    /// A length or an angle.
    pub fn number(&mut self, code: u32, value: f64) {
        // No minus before nothing.
        let value = if value.abs() < 5e-10 { 0.0 } else { value };
        self.pair(code, format_args!("{value:.9}"));
    }

    /// A place, its first code that of x.
    pub fn place(&mut self, code: u32, at: Spot) {
        self.number(code, at.x);
        self.number(code + 10, at.y);
        self.number(code + 20, 0.0);
    }

    /// What is said and not drawn.
    pub fn comment(&mut self, text: &str) {
        self.pair(999, ascii(text));
    }

    /// Header and tables, and the beginning of the entities.
    pub fn head(&mut self, layers: &[LayerOf], corners: [Spot; 2]) {
        let [least, most] = corners;
        self.section("HEADER");
        self.pair(9, "$ACADVER");
        self.pair(1, "AC1009");
        self.pair(9, "$EXTMIN");
        self.place(10, least);
        self.pair(9, "$EXTMAX");
        self.place(10, most);
        self.pair(9, "$LTSCALE");
        self.number(40, 0.1);
        self.pair(0, "ENDSEC");
        self.section("TABLES");
        self.table("LTYPE", 3);
        for (name, text, parts) in [
            ("CONTINUOUS", "Solid line", [].as_slice()),
            ("DASHED", "Dashed", [1.6, -0.8].as_slice()),
            ("DASHDOT", "Dash and dot", [4.0, -0.8, 0.4, -0.8].as_slice()),
        ] {
            self.pair(0, "LTYPE");
            self.pair(2, name);
            self.pair(70, 0);
            self.pair(3, text);
            self.pair(72, 65);
            self.pair(73, parts.len());
            self.number(40, parts.iter().map(|part: &f64| part.abs()).sum());
            for part in parts {
                self.number(49, *part);
            }
        }
        self.pair(0, "ENDTAB");
        self.table("LAYER", layers.len() + 1);
        for (name, colour, line) in std::iter::once(&("0", 7, "CONTINUOUS")).chain(layers) {
            self.pair(0, "LAYER");
            self.pair(2, name);
            self.pair(70, 0);
            self.pair(62, colour);
            self.pair(6, line);
        }
        self.pair(0, "ENDTAB");
        self.table("STYLE", 1);
        self.pair(0, "STYLE");
        self.pair(2, "STANDARD");
        self.pair(70, 0);
        self.number(40, 0.0);
        self.number(41, 1.0);
        self.number(50, 0.0);
        self.pair(71, 0);
        self.number(42, 1.0);
        self.pair(3, "txt");
        self.pair(4, "");
        self.pair(0, "ENDTAB");
        self.pair(0, "ENDSEC");
        self.section("ENTITIES");
    }

    fn section(&mut self, name: &str) {
        self.pair(0, "SECTION");
        self.pair(2, name);
    }

    fn table(&mut self, name: &str, most: usize) {
        self.pair(0, "TABLE");
        self.pair(2, name);
        self.pair(70, most);
    }

    /// A straight line.
    pub fn line(&mut self, layer: &str, from: Spot, to: Spot) {
        self.pair(0, "LINE");
        self.pair(8, layer);
        self.place(10, from);
        self.place(11, to);
    }

    /// A circle.
    pub fn circle(&mut self, layer: &str, at: Spot, radius: f64) {
        self.pair(0, "CIRCLE");
        self.pair(8, layer);
        self.place(10, at);
        self.number(40, radius);
    }

    /// Lines and arcs, each an entity, every place put where it belongs.
    pub fn trace(&mut self, layer: &str, trace: &Trace, placed: &dyn Fn(Spot) -> Spot) {
        for (from, bend) in trace.sides() {
            let (from, to) = (placed(from), placed(bend.to));
            if bend.bulge == 0.0 {
                self.line(layer, from, to);
                continue;
            }
            self.arc(layer, from, to, bend.bulge);
        }
    }

    /// An arc by its ends and its bulge; written from x towards y, as the form wants it.
    fn arc(&mut self, layer: &str, from: Spot, to: Spot, bulge: f64) {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        // Half the chord over the tangent of half the angle: from the chord's middle to the centre, to the left.
        let off = (1.0 - bulge * bulge) / (4.0 * bulge);
        let centre = Spot::at(
            (from.x + to.x) / 2.0 - off * dy,
            (from.y + to.y) / 2.0 + off * dx,
        );
        let radius = libm::hypot(dx, dy) * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
        let angle = |at: Spot| {
            let degrees = libm::atan2(at.y - centre.y, at.x - centre.x).to_degrees();
            if degrees < 0.0 {
                degrees + 360.0
            } else {
                degrees
            }
        };
        let (first, last) = match bulge > 0.0 {
            true => (from, to),
            false => (to, from),
        };
        self.pair(0, "ARC");
        self.pair(8, layer);
        self.place(10, centre);
        self.number(40, radius);
        self.number(50, angle(first));
        self.number(51, angle(last));
    }

    /// Words.
    pub fn text(&mut self, at: Spot, size: f64, anchor: Anchor, text: &str) {
        self.pair(0, "TEXT");
        self.pair(8, "TEXT");
        self.place(10, at);
        // The height of its capitals.
        self.number(40, 0.72 * size);
        self.pair(1, ascii(text));
        let how = match anchor {
            Anchor::Start => return,
            Anchor::Middle => 1,
            Anchor::End => 2,
        };
        self.pair(72, how);
        self.place(11, at);
    }

    /// The whole text.
    #[must_use]
    pub fn end(mut self) -> String {
        self.pair(0, "ENDSEC");
        self.pair(0, "EOF");
        self.text
    }
}

/// Text in ASCII, on one line.
fn ascii(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\u{D8}' => plain.push_str("%%c"),
            '\u{B1}' => plain.push_str("%%p"),
            '\u{B0}' => plain.push_str("%%d"),
            '\u{2248}' => plain.push('~'),
            '\u{2212}' => plain.push('-'),
            '\u{B7}' => plain.push(';'),
            ' '..='~' => plain.push(letter),
            letter if letter.is_control() => plain.push(' '),
            letter => {
                let mut units = [0; 2];
                for unit in letter.encode_utf16(&mut units) {
                    plain.push_str(&format!("\\U+{unit:04X}"));
                }
            }
        }
    }
    plain
}
