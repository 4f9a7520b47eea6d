//! The strip as a DXF drawing of release 12: what a machine's program reads. Units are mm, `x` is `u`, `y` is `v`.
//!
//! Layers: STRIP (outline), REPEATS, CENTRE, and one for each cut. Lines are LINE, arcs ARC, waves and outlines POLYLINE,
//! dots POINT with a CIRCLE of the cut's width. All repeats are there.

use std::fmt::Write;

use super::sheet::Sheet;
use crate::kernel::pattern::stroke::{StripPlace, Stroke, StrokeArc, StrokeRun, stops};

/// The drawing as the text of a DXF file.
#[must_use]
pub fn dxf(sheet: &Sheet<'_>) -> String {
    let layers: Vec<String> = (0..sheet.cuts.len())
        .map(|cut| layer(cut, &sheet.name_of(cut)))
        .collect();
    let mut out = Dxf {
        text: String::new(),
    };
    let (length, left, right) = (
        sheet.outside.length(),
        sheet.outside.left(),
        sheet.outside.right(),
    );
    out.head(&layers, length, left, right);
    let at = |u: f64, v: f64| StripPlace { u, v };
    for (from, to) in [
        (at(0.0, left), at(length, left)),
        (at(length, left), at(length, right)),
        (at(length, right), at(0.0, right)),
        (at(0.0, right), at(0.0, left)),
    ] {
        out.line("STRIP", from, to);
    }
    out.line("CENTRE", at(0.0, 0.0), at(length, 0.0));
    for repeat in 1..sheet.repeats {
        let u = sheet.pitch() * f64::from(repeat);
        out.line("REPEATS", at(u, left), at(u, right));
    }
    let (span, spans) = sheet.span();
    for place in 0..spans {
        let by = span * f64::from(place);
        let moved = |at: StripPlace| StripPlace {
            u: at.u + by,
            v: at.v,
        };
        for stroke in &sheet.layout.strokes {
            let Some(layer) = layers.get(stroke.cut) else {
                continue;
            };
            out.stroke(layer, stroke, sheet.half_width(stroke.cut), &moved);
        }
        for facet in &sheet.layout.facets {
            let Some(layer) = layers.get(facet.cut) else {
                continue;
            };
            out.polyline(layer, &sheet.facet_edge(facet), true, &moved);
        }
        for pocket in &sheet.layout.pockets {
            let Some(layer) = layers.get(pocket.cut) else {
                continue;
            };
            out.polyline(layer, &pocket.outline, true, &moved);
        }
    }
    out.pair(0, "ENDSEC");
    out.pair(0, "EOF");
    out.text
}

/// A layer's name: letters, digits, `-` and `_` only, as release 12 wants them, told apart by the cut's number.
fn layer(cut: usize, name: &str) -> String {
    let plain = name.chars().take(20).map(|letter| {
        if letter.is_ascii_alphanumeric() {
            letter.to_ascii_uppercase()
        } else {
            '_'
        }
    });
    format!("CUT{}_{}", cut + 1, plain.collect::<String>())
}

struct Dxf {
    text: String,
}

impl Dxf {
    fn pair(&mut self, code: u32, value: impl std::fmt::Display) {
        // Writing to a string never fails.
        let _ = write!(self.text, "{code}\n{value}\n");
    }

    fn number(&mut self, code: u32, value: f64) {
        // No minus before nothing.
        let value = if value.abs() < 5e-7 { 0.0 } else { value };
        self.pair(code, format_args!("{value:.6}"));
    }

    fn place(&mut self, code: u32, at: StripPlace) {
        self.number(code, at.u);
        self.number(code + 10, at.v);
        self.number(code + 20, 0.0);
    }

    fn head(&mut self, layers: &[String], length: f64, left: f64, right: f64) {
        self.pair(0, "SECTION");
        self.pair(2, "HEADER");
        self.pair(9, "$ACADVER");
        self.pair(1, "AC1009");
        self.pair(9, "$EXTMIN");
        self.place(10, StripPlace { u: 0.0, v: left });
        self.pair(9, "$EXTMAX");
        self.place(
            10,
            StripPlace {
                u: length,
                v: right,
            },
        );
        self.pair(0, "ENDSEC");
        self.pair(0, "SECTION");
        self.pair(2, "TABLES");
        self.pair(0, "TABLE");
        self.pair(2, "LTYPE");
        self.pair(70, 1);
        self.pair(0, "LTYPE");
        self.pair(2, "CONTINUOUS");
        self.pair(70, 0);
        self.pair(3, "Solid line");
        self.pair(72, 65);
        self.pair(73, 0);
        self.number(40, 0.0);
        self.pair(0, "ENDTAB");
        self.pair(0, "TABLE");
        self.pair(2, "LAYER");
        self.pair(70, layers.len() + 4);
        let fixed = [("0", 7), ("STRIP", 7), ("REPEATS", 8), ("CENTRE", 9)];
        for (name, colour) in fixed.into_iter().chain(
            layers
                .iter()
                .zip((1..=6).cycle())
                .map(|(name, colour)| (name.as_str(), colour)),
        ) {
            self.pair(0, "LAYER");
            self.pair(2, name);
            self.pair(70, 0);
            self.pair(62, colour);
            self.pair(6, "CONTINUOUS");
        }
        self.pair(0, "ENDTAB");
        self.pair(0, "ENDSEC");
        self.pair(0, "SECTION");
        self.pair(2, "ENTITIES");
    }

    fn line(&mut self, layer: &str, from: StripPlace, to: StripPlace) {
        self.pair(0, "LINE");
        self.pair(8, layer);
        self.place(10, from);
        self.place(11, to);
    }

    fn polyline(
        &mut self,
        layer: &str,
        corners: &[StripPlace],
        closed: bool,
        moved: &dyn Fn(StripPlace) -> StripPlace,
    ) {
        if corners.is_empty() {
            return;
        }
        self.pair(0, "POLYLINE");
        self.pair(8, layer);
        self.pair(66, 1);
        self.place(10, StripPlace::default());
        self.pair(70, u8::from(closed));
        for corner in corners {
            self.pair(0, "VERTEX");
            self.pair(8, layer);
            self.place(10, moved(*corner));
        }
        self.pair(0, "SEQEND");
        self.pair(8, layer);
    }

    fn stroke(
        &mut self,
        layer: &str,
        stroke: &Stroke,
        half: f64,
        moved: &dyn Fn(StripPlace) -> StripPlace,
    ) {
        if stroke.runs.is_empty() {
            let at = moved(stroke.from.at);
            self.pair(0, "POINT");
            self.pair(8, layer);
            self.place(10, at);
            self.pair(0, "CIRCLE");
            self.pair(8, layer);
            self.place(10, at);
            self.number(40, half.max(1e-4));
        }
        let mut from = stroke.from;
        for (run, to) in &stroke.runs {
            let arc = match run {
                StrokeRun::Arc(via) => StrokeArc::through(from.at, *via, to.at),
                _ => None,
            };
            match (run, arc) {
                (_, Some(arc)) => self.arc(layer, &arc, moved),
                (StrokeRun::Wave { .. }, _) => {
                    let mut corners = vec![from.at];
                    stops(from, *run, *to, 1e-3, |stop| corners.push(stop.at));
                    self.polyline(layer, &corners, false, moved);
                }
                _ => self.line(layer, moved(from.at), moved(to.at)),
            }
            from = *to;
        }
    }

    /// Arcs go from `u` towards `v` from their first angle to their second, in degrees.
    fn arc(&mut self, layer: &str, arc: &StrokeArc, moved: &dyn Fn(StripPlace) -> StripPlace) {
        let (first, last) = (
            arc.start.min(arc.start + arc.sweep),
            arc.start.max(arc.start + arc.sweep),
        );
        let turn = |angle: f64| {
            let degrees = angle.to_degrees();
            degrees - (degrees / 360.0).floor() * 360.0
        };
        self.pair(0, "ARC");
        self.pair(8, layer);
        self.place(10, moved(arc.centre));
        self.number(40, arc.radius);
        self.number(50, turn(first));
        self.number(51, turn(last));
    }
}
