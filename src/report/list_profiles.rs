//! Outsides as a table with small drawings.

use crate::kernel::section::curve::{Piece, Point};
use crate::kernel::section::{Outside, Shape};

use super::sketch::sketch;

/// An outside as it is listed: what a recipe writes, and a band to draw.
struct ListedProfile {
    kind: &'static str,
    meaning: &'static str,
    written: &'static str,
    outside: fn() -> Outside,
}

/// All kinds of outside, drawn on a band of 5 mm by 1.8 mm.
const PROFILES: &[ListedProfile] = &[
    ListedProfile {
        kind: "flat",
        meaning: "a cylinder",
        written: "profile flat",
        outside: || Outside::Flat,
    },
    ListedProfile {
        kind: "domed",
        meaning: "a circular arc through edges and crown: half-round over a cylindrical bore, court over a comfort bore",
        written: "profile domed { edge 0.8 mm }",
        outside: || Outside::Domed { edge: 0.8 },
    },
    ListedProfile {
        kind: "bevelled",
        meaning: "a flat with straight chamfers of an axial and a radial leg",
        written: "profile bevelled { across 1.2 mm, down 0.7 mm }",
        outside: || Outside::Bevelled {
            across: 1.2,
            down: 0.7,
        },
    },
    ListedProfile {
        kind: "knife-edge",
        meaning: "two straight flanks, tangent to a rounded crown; without `crown` they meet in an edge",
        written: "profile knife-edge { edge 0.8 mm, crown 0.5 mm }",
        outside: || Outside::KnifeEdge {
            edge: 0.8,
            crown: 0.5,
        },
    },
    ListedProfile {
        kind: "concave",
        meaning: "an arc that dips at mid width",
        written: "profile concave { dip 0.6 mm }",
        outside: || Outside::Concave { dip: 0.6 },
    },
    ListedProfile {
        kind: "custom",
        meaning: "points and arcs from face to face, heights over the smallest bore",
        written: "profile custom { from -2.5 mm 1.2 mm, to -1.5 mm 1.8 mm, arc 0 mm 1.4 mm to 1.5 mm 1.8 mm, to 2.5 mm 1.2 mm }",
        outside: || {
            let at = |x: f64, y: f64| Point { x, y };
            let pieces = [
                Piece::line(at(-2.5, 1.2), at(-1.5, 1.8)),
                Piece::arch(at(-1.5, 1.8), at(1.5, 1.8), -0.4),
                Piece::line(at(1.5, 1.8), at(2.5, 1.2)),
            ];
            Outside::Custom(pieces.into_iter().collect())
        },
    },
];

/// All outsides.
pub(super) fn all() -> String {
    let all: Vec<String> = PROFILES.iter().map(profile).collect();
    format!(
        "{}\nevery outside works over a cylindrical and over a comfort bore (`comfort 0.3 mm`)\n",
        all.join("\n")
    )
}

/// The outside of a word.
pub(super) fn one(kind: &str) -> Option<String> {
    PROFILES
        .iter()
        .find(|profile| profile.kind == kind)
        .map(profile)
}

/// One outside: its word, what it is, how it is written, and a drawing.
fn profile(profile: &ListedProfile) -> String {
    let shape = Shape {
        radius: 8.6,
        width: 5.0,
        thickness: 1.8,
        comfort: 0.0,
        outside: (profile.outside)(),
        ease_outer: 0.0,
        ease_bore: 0.0,
        cut: None,
        hollow: None,
    };
    let drawing = sketch(&shape, 40, 24).lines;
    let drawing: String = drawing.iter().map(|line| format!("    {line}\n")).collect();
    format!(
        "{}: {}\n  {}\n{drawing}",
        profile.kind, profile.meaning, profile.written
    )
}
