//! Drawings in SVG that a pattern is cut by: what they come to, and what is refused or told of them.
//!
//! Lengths and areas are held against closed forms and against `usvg`, an SVG library of its own that shares no code with
//! the reader but the parser of XML; volumes against the same motif written as `path` and `pocket`.

use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::PI;
use std::fs;
use std::sync::{Arc, Mutex};

use annulet::bench::{Bench, Files};
use annulet::motif::{Motif, read as motif};
use annulet::schema::ResultId;
use annulet::session::{Library, Opened, Request, Session};
use resvg::tiny_skia::{PathSegment, Point};
use resvg::usvg;
use tempfile::TempDir;

use crate::support::{Ran, agree, files_under, read, run_in};

const CASES: &str = "tests/suite/cases/drawings";

/// A drawing of 6 mm by 4 mm, a unit each millimetre.
fn drawn(inside: &str) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"6mm\" height=\"4mm\" viewBox=\"0 0 6 4\">{inside}</svg>"
    )
}

fn lines(motif: &Motif) -> impl Iterator<Item = &[(f64, f64)]> {
    let lines = motif.marks.iter().filter(|mark| !mark.filled);
    lines.map(|mark| mark.points.as_slice())
}

/// The length of all lines, mm.
fn length(motif: &Motif) -> f64 {
    let steps = lines(motif).flat_map(|line| line.windows(2));
    steps
        .map(|pair| (pair[1].0 - pair[0].0).hypot(pair[1].1 - pair[0].1))
        .sum()
}

fn shoelace(points: &[(f64, f64)]) -> f64 {
    let next = points.iter().cycle().skip(1);
    let twice = points.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1);
    twice.sum::<f64>().abs() / 2.0
}

/// The area inside all outlines, mm2.
fn area(motif: &Motif) -> f64 {
    let outlines = motif.marks.iter().filter(|mark| mark.filled);
    outlines.map(|mark| shoelace(&mark.points)).sum()
}

#[test]
fn lengths_and_areas_are_those_of_closed_forms() {
    let stroke = "fill=\"none\" stroke=\"black\"";
    let rows = [
        // A parabola y = x^2 / 2 over 2: (x sqrt(1 + x^2) + asinh x) / 2.
        (
            format!("<path d=\"M1 1Q2 1 3 3\" {stroke}/>"),
            (2.0 * 5.0_f64.sqrt() + 2.0_f64.asinh()) / 2.0,
        ),
        (format!("<path d=\"M1 2A1 1 0 0 1 3 2\" {stroke}/>"), PI),
        (
            format!("<circle cx=\"3\" cy=\"2\" r=\"1.5\" {stroke}/>"),
            3.0 * PI,
        ),
        (
            format!("<path d=\"M1 1h2v1H1Vz\" {stroke}/>").replace("Vz", "z"),
            6.0,
        ),
        (format!("<polyline points=\"0,0 3,4\" {stroke}/>"), 5.0),
        (format!("<polygon points=\"0,0 3,0 3,4\" {stroke}/>"), 12.0),
        (format!("<line x1=\"1\" x2=\"4\" y2=\"4\" {stroke}/>"), 5.0),
        // Behind a closed line the next begins where that began.
        (
            format!("<path d=\"M1 1h1v1zl0 2\" {stroke}/>"),
            4.0 + 2.0_f64.sqrt(),
        ),
        (
            format!("<rect width=\"3\" height=\"2\" rx=\"0.5\" {stroke}/>"),
            2.0 * (2.0 + 1.0) + PI,
        ),
        // A turn keeps lengths, a scale multiplies them, and groups add up.
        (
            format!(
                "<g transform=\"rotate(30) scale(2)\"><g transform=\"translate(1 1)\"><path d=\"M0 0L1 0\" {stroke}/></g></g>"
            ),
            2.0,
        ),
        (
            format!(
                "<defs><path id=\"a\" d=\"M0 0H1\"/></defs><g {stroke}><use href=\"#a\"/><use href=\"#a\" x=\"2\" y=\"1\"/></g>"
            ),
            2.0,
        ),
        (
            format!("<symbol id=\"a\"><path d=\"M0 0H1\"/></symbol><use href=\"#a\" {stroke}/>"),
            1.0,
        ),
    ];
    for (inside, wanted) in rows {
        let found = length(&motif(&drawn(&inside)).unwrap());
        // Chords lie within a micrometre of a curve.
        assert!(
            agree(found, wanted, 2e-3) && found <= wanted * (1.0 + 3e-4),
            "{inside}: {found} {wanted}"
        );
    }
    let rows = [
        ("<circle cx=\"3\" cy=\"2\" r=\"1.5\"/>", 2.25 * PI),
        (
            "<ellipse cx=\"3\" cy=\"2\" rx=\"2\" ry=\"0.5\" fill=\"red\"/>",
            PI,
        ),
        (
            "<rect x=\"1\" y=\"1\" width=\"3\" height=\"2\" rx=\"0.5\"/>",
            6.0 - 0.25 * (4.0 - PI),
        ),
        ("<polygon points=\"0,0 3,0 3,4\" style=\"fill:#123\"/>", 6.0),
        // Below a parabola that its control point is 2 above: two thirds of base times half of that.
        ("<path d=\"M1 3Q2 1 3 3Z\"/>", 2.0 / 3.0 * 2.0 * 1.0),
        ("<path transform=\"scale(2 0.5)\" d=\"M0 0H1V1H0Z\"/>", 1.0),
        // A shear keeps areas.
        (
            "<g transform=\"skewX(40)\"><path d=\"M0 0H1V1H0Z\"/></g>",
            1.0,
        ),
    ];
    for (inside, wanted) in rows {
        let motif = motif(&drawn(inside)).unwrap();
        assert!(
            agree(area(&motif), wanted, 2e-3),
            "{inside}: {} {wanted}",
            area(&motif)
        );
        assert_eq!(lines(&motif).count(), 0, "{inside}");
    }
}

#[test]
fn pages_become_millimetres() {
    let line = "<path d=\"M0 0H10\" fill=\"none\" stroke=\"black\"/>";
    // Where ten units stand, by the units of the page: CSS has 96 pixels, 72 points and 6 picas to an inch.
    for (page, ends) in [
        ("width=\"40mm\" height=\"20mm\"", [0.0, 25.4 / 9.6]),
        (
            "width=\"40mm\" height=\"20mm\" viewBox=\"0 0 40 20\"",
            [0.0, 10.0],
        ),
        (
            "width=\"4cm\" height=\"2cm\" viewBox=\"0 0 80 40\"",
            [0.0, 5.0],
        ),
        (
            "width=\"2in\" height=\"1in\" viewBox=\"-5 0 20 10\"",
            [12.7, 38.1],
        ),
        (
            "width=\"96\" height=\"48px\" viewBox=\"0 0 10 5\"",
            [0.0, 25.4],
        ),
        (
            "width=\"72pt\" height=\"3pc\" viewBox=\"0 0 10 5\"",
            [0.0, 25.4],
        ),
        // What is left of the page stands on both sides, or where it is said.
        (
            "width=\"40mm\" height=\"10mm\" viewBox=\"0 0 20 10\"",
            [10.0, 20.0],
        ),
        (
            "width=\"40mm\" height=\"10mm\" viewBox=\"0 0 20 10\" preserveAspectRatio=\"xMinYMid\"",
            [0.0, 10.0],
        ),
        (
            "width=\"40mm\" height=\"10mm\" viewBox=\"0 0 20 10\" preserveAspectRatio=\"xMaxYMin meet\"",
            [20.0, 30.0],
        ),
        (
            "width=\"40mm\" height=\"10mm\" viewBox=\"0 0 20 10\" preserveAspectRatio=\"none\"",
            [0.0, 20.0],
        ),
        (
            "width=\"40mm\" height=\"10mm\" viewBox=\"0 0 20 10\" preserveAspectRatio=\"xMinYMin slice\"",
            [0.0, 20.0],
        ),
    ] {
        let text = format!("<svg xmlns=\"http://www.w3.org/2000/svg\" {page}>{line}</svg>");
        let motif = motif(&text).unwrap();
        let line = lines(&motif).next().unwrap();
        let found = [line[0].0, line[1].0];
        assert!(
            (found[0] - ends[0]).abs() < 1e-9 && (found[1] - ends[1]).abs() < 1e-9,
            "{page}: {found:?}"
        );
        // The top of the page is half its height above mid width.
        assert!(
            (line[0].1 - motif.high / 2.0).abs() < 1e-9 || page.contains("slice"),
            "{page}"
        );
    }
}

/// Every kind of path data, under transforms, groups, `use` and styles.
const EVERYTHING: &str = "
  <g id=\"one\" transform=\"translate(0.5 0.3) rotate(12)\" fill=\"none\" stroke=\"black\">
    <path d=\"M0 0c1 0 1 1 2 1s1-1 2-1q0.5 1 1 0t1 0a0.5 0.8 30 1 0 0.4 0.9A2 1 0 0 1 1 3zm1 1h1v0.5H1.5V2l-1-.5\"/>
    <path transform=\"matrix(1 0.2 -0.3 0.9 0.1 0.2)\" d=\"M1,1C1.5-1 3.5 2 4 1S5 3 5 2M0 3Q1 1 2 3T4 3\"/>
    <circle cx=\"2\" cy=\"2\" r=\"0.7\"/><ellipse cx=\"3\" cy=\"1\" rx=\"1.1\" ry=\"0.4\"/>
    <rect x=\"1\" y=\"1\" width=\"2\" height=\"1\"/><rect x=\"1\" y=\"1\" width=\"2\" height=\"1\" rx=\"0.2\" transform=\"skewY(10)\"/>
    <polyline points=\"0 0 1,1 2 0,3 1\"/><polygon points=\"3 3 4 3 4 2\"/><line x1=\"1\" y1=\"1\" x2=\"2\" y2=\"3\"/>
  </g>
  <defs><path id=\"leaf\" d=\"M0 0q1-1 2 0q-1 1-2 0z\"/></defs>
  <use href=\"#leaf\" x=\"1\" y=\"2\" style=\"stroke:black;fill:none\"/>
  <use href=\"#leaf\" transform=\"scale(0.5 -1)\" stroke=\"red\" fill=\"none\"/>
  <use href=\"#one\" transform=\"scale(0.4)\"/>
  <g display=\"none\"><path d=\"M0 0L5 5\" stroke=\"black\"/></g>";

/// The length and the box of all that is drawn, mm, by the other library.
fn by_the_other(text: &str) -> (f64, [f64; 4]) {
    let tree = usvg::Tree::from_str(text, &usvg::Options::default()).unwrap();
    let mut found = (0.0, [f64::MAX, f64::MAX, f64::MIN, f64::MIN]);
    let mm = 25.4 / 96.0;
    fn walk(group: &usvg::Group, each: &mut dyn FnMut(&usvg::Path)) {
        for node in group.children() {
            match node {
                usvg::Node::Group(group) => walk(group, each),
                usvg::Node::Path(path) => each(path),
                _ => panic!("no path"),
            }
        }
    }
    walk(tree.root(), &mut |path| {
        let moved = path.data().clone().transform(path.abs_transform()).unwrap();
        let (mut at, mut start) = (Point::zero(), Point::zero());
        let mut along = |curve: &dyn Fn(f64) -> (f64, f64)| {
            let mut last = curve(0.0);
            for part in 0..=256 {
                let next = curve(f64::from(part) / 256.0);
                found.0 += (next.0 - last.0).hypot(next.1 - last.1) * mm;
                let [left, low, right, high] = found.1;
                found.1 = [
                    left.min(next.0 * mm),
                    low.min(next.1 * mm),
                    right.max(next.0 * mm),
                    high.max(next.1 * mm),
                ];
                last = next;
            }
        };
        let of = |points: &[Point], weights: &[f64]| {
            let sum = |pick: fn(&Point) -> f32| {
                let all = points.iter().zip(weights);
                all.map(|(point, weight)| f64::from(pick(point)) * weight)
                    .sum::<f64>()
            };
            (sum(|point| point.x), sum(|point| point.y))
        };
        let line = |from: Point, to: Point| move |t: f64| of(&[from, to], &[1.0 - t, t]);
        for segment in moved.segments() {
            match segment {
                PathSegment::MoveTo(to) => (at, start) = (to, to),
                PathSegment::LineTo(to) => {
                    along(&line(at, to));
                    at = to;
                }
                PathSegment::QuadTo(one, to) => {
                    along(&|t| {
                        let s = 1.0 - t;
                        of(&[at, one, to], &[s * s, 2.0 * s * t, t * t])
                    });
                    at = to;
                }
                PathSegment::CubicTo(one, two, to) => {
                    along(&|t| {
                        let s = 1.0 - t;
                        let weights = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
                        of(&[at, one, two, to], &weights)
                    });
                    at = to;
                }
                PathSegment::Close => {
                    along(&line(at, start));
                    at = start;
                }
            }
        }
    });
    found
}

#[test]
fn another_library_reads_the_same() {
    let example = read("examples/motifs/reed.svg");
    let stroked = example.replace("fill=\"black\"", "fill=\"none\" stroke=\"black\"");
    let stroked = stroked.replace(
        "<g id=\"leaves\">",
        "<g id=\"leaves\" fill=\"none\" stroke=\"black\">",
    );
    let shapes = EVERYTHING.lines().filter(|line| line.starts_with("    <"));
    let alone = shapes.map(|shape| {
        let group = "<g transform=\"translate(2 1) rotate(12)\" fill=\"none\" stroke=\"black\">";
        drawn(&format!("{group}{shape}</g>"))
    });
    for text in alone.chain([drawn(EVERYTHING), stroked]) {
        let motif = motif(&text).unwrap();
        assert_eq!(motif.unread, []);
        let (wanted, [left, low, right, high]) = by_the_other(&text);
        assert!(
            agree(length(&motif), wanted, 1e-3),
            "{} {wanted}",
            length(&motif)
        );
        let all = || lines(&motif).flatten();
        let bound = |pick: fn(&(f64, f64)) -> f64, by: fn(f64, f64) -> f64| {
            all().map(pick).reduce(by).unwrap()
        };
        let mid = motif.high / 2.0;
        for (found, wanted) in [
            (bound(|at| at.0, f64::min), left),
            (bound(|at| at.0, f64::max), right),
            (mid - bound(|at| at.1, f64::max), low),
            (mid - bound(|at| at.1, f64::min), high),
        ] {
            assert!((found - wanted).abs() < 3e-3, "{found} {wanted}: {text}");
        }
    }
}

const SHARP: &str = "cutter sharp vee { angle 90 deg, feed 600 mm/min, plunge 120 mm/min }";
const FLAT: &str = "cutter flat-4 flat { width 0.4 mm, feed 400 mm/min, plunge 80 mm/min }";

fn recipe(pattern: &str) -> String {
    let flat = match pattern.contains("flat-4") {
        true => FLAT,
        false => "# one cutter",
    };
    format!(
        "{SHARP}\n{flat}\nband b {{\n  size 17 mm, width 5 mm, thickness 2 mm, profile domed {{ edge 1.4 mm }}, alloy silver-925\n  pattern {{ depth 0.2 mm, cutter sharp, {pattern} }}\n}}\n"
    )
}

/// A folder with a drawing, and a recipe that cuts by it.
fn folder(drawing: &str, pattern: &str) -> TempDir {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("motif.svg"), drawing).unwrap();
    fs::write(folder.path().join("r.annulet"), recipe(pattern)).unwrap();
    folder
}

fn asked(folder: &TempDir, questions: &[&str]) -> Vec<f64> {
    let mut call = vec!["ask", "--plain", "--digits", "all", "--in", "r.annulet"];
    call.extend(questions);
    let ran = run_in(folder.path(), &call, b"");
    assert_eq!(ran.status, 0, "{}", ran.stderr);
    let lines = ran.stdout.lines();
    lines
        .map(|line| line.split(' ').next().unwrap().parse().unwrap())
        .collect()
}

#[test]
fn a_drawing_cuts_what_the_same_motif_written_does() {
    let questions = [
        "weight.cut",
        "pattern.groove-length",
        "pattern.plunges",
        "pattern.time",
        "pattern.cover",
        "wall.under-cut",
    ];
    let stroke = "fill=\"none\" stroke=\"black\"";
    // On 17 mm and 2 mm the strip is 2 pi 10.5 mm; eleven repeats of 6 mm stretch a little.
    for (drawing, repeat, written) in [
        (
            format!("<path d=\"M1 1L3 3.5\" {stroke}/>"),
            "repeats 11, drawing { file \"motif.svg\", fit none }",
            "repeats 11, path { from 1 mm 1 mm, to 3 mm -1.5 mm }",
        ),
        (
            format!("<path d=\"M1 2A1 1 0 0 1 3 2L4 2\" {stroke}/>"),
            "repeats 11, drawing { file \"motif.svg\", fit none }",
            "repeats 11, path { from 1 mm 0 mm, arc 2 mm 1 mm to 3 mm 0 mm, to 4 mm 0 mm }",
        ),
        (
            "<rect x=\"1\" y=\"1\" width=\"2\" height=\"1.5\"/>".to_owned(),
            "repeats 11, drawing { file \"motif.svg\", fit none, cutter flat-4, step-over 0.2 mm }",
            "repeats 11, pocket { from 1 mm -0.5 mm, to 3 mm -0.5 mm, to 3 mm 1 mm, to 1 mm 1 mm, cutter flat-4, step-over 0.2 mm }",
        ),
        (
            "<circle cx=\"2\" cy=\"2\" r=\"0.8\"/>".to_owned(),
            "repeats 11, drawing { file \"motif.svg\", fit none, cutter flat-4, step-over 0.2 mm }",
            "repeats 11, pocket { from 1.2 mm 0 mm, arc 2 mm 0.8 mm to 2.8 mm 0 mm, arc 2 mm -0.8 mm to 1.2 mm 0 mm, cutter flat-4, step-over 0.2 mm }",
        ),
    ] {
        let by_drawing = asked(&folder(&drawn(&drawing), repeat), &questions);
        let by_hand = asked(&folder("", written), &questions);
        for ((found, wanted), question) in by_drawing.iter().zip(&by_hand).zip(questions) {
            assert!(
                agree(*found, *wanted, 2e-3),
                "{drawing} {question}: {found} {wanted}"
            );
        }
    }
}

#[test]
fn a_drawing_is_fitted_along_the_band_alone() {
    // Half a drawing across and one along, so that each length tells the stretch.
    let drawing = drawn("<path d=\"M1 2H4\" fill=\"none\" stroke=\"black\"/>");
    let strip = 2.0 * PI * 10.5;
    for (fit, wanted) in [
        ("fit none", 8.0 * 3.0),
        ("fit repeat", strip * 3.0 / 6.0),
        ("fit strip", strip * 3.0 / 6.0),
    ] {
        let folder = folder(
            &drawing,
            &format!("repeats 8, drawing {{ file \"motif.svg\", {fit} }}"),
        );
        let found = asked(&folder, &["pattern.groove-length", "pattern.plunges"]);
        assert!(agree(found[0], wanted, 1e-9), "{fit}: {}", found[0]);
        assert_eq!(
            found[1],
            if fit == "fit strip" { 1.0 } else { 8.0 },
            "{fit}"
        );
    }
}

fn check(folder: &TempDir) -> Ran {
    run_in(
        folder.path(),
        &["check", "--findings", "line", "r.annulet"],
        b"",
    )
}

/// What each drawing of the cases comes to: status, and what is said.
const SAID: &[(&str, i32, &str)] = &[
    ("blank", 2, "it is empty"),
    ("declared", 2, "may declare no entities"),
    ("empty", 2, "it is empty"),
    ("entities", 2, "may declare no entities"),
    ("external", 2, "may declare no entities"),
    ("kilometre", 2, "it is 4000.0 mm wide"),
    ("no-size", 2, "it does not say how large it is"),
    ("nothing", 2, "it draws no line and no filled outline"),
    ("other-svg", 2, "not an SVG"),
    ("page", 2, "it is a `<html>`, not an SVG"),
    ("points", 2, "`<path> beyond all measure` (line 1)"),
    ("share-size", 2, "it does not say how large it is"),
    ("told-clip", 1, "`clip-path` (motif.svg:3)"),
    ("told-dashes", 1, "`stroke-dasharray` (motif.svg:3)"),
    ("told-data", 1, "`<path> as it is written` (motif.svg:3)"),
    ("told-dot", 1, "`<path> of no length` (motif.svg:3)"),
    ("told-far", 1, "`<path> beyond all measure` (motif.svg:3)"),
    ("told-filter", 1, "`filter` (motif.svg:3)"),
    ("told-flat", 1, "`<path> without an inside` (motif.svg:3)"),
    ("told-foreign", 1, "`<foreignObject>` (motif.svg:3)"),
    ("told-gradient", 1, "`<linearGradient>` (motif.svg:3)"),
    (
        "told-hole",
        1,
        "`<path> with outlines over or inside each other` (motif.svg:3)",
    ),
    ("told-image", 1, "`<image>` (motif.svg:3)"),
    ("told-inner", 1, "`<svg>` (motif.svg:3)"),
    ("told-mask", 1, "`mask` (motif.svg:3)"),
    ("told-moved", 1, "`transform in a style` (motif.svg:3)"),
    (
        "told-painted",
        1,
        "`fill of a gradient or pattern` (motif.svg:3)",
    ),
    ("told-script", 1, "`<script>` (motif.svg:3)"),
    ("told-share", 1, "`<rect> as it is written` (motif.svg:3)"),
    ("told-start", 1, "`<path> as it is written` (motif.svg:3)"),
    ("told-style", 1, "`<style>` (motif.svg:3)"),
    (
        "told-symbol",
        1,
        "`<use> of a symbol with a `viewBox`` (motif.svg:3)",
    ),
    ("told-text", 1, "`<text>` (motif.svg:3)"),
    (
        "told-turned",
        1,
        "`transform as it is written` (motif.svg:3)",
    ),
    (
        "told-use-elsewhere",
        1,
        "`<use> of what is not in the file` (motif.svg:3)",
    ),
    (
        "told-use-fetched",
        1,
        "`<use> of what is not in the file` (motif.svg:3)",
    ),
    (
        "told-use-nowhere",
        1,
        "`<use> of what is not in the file` (motif.svg:3)",
    ),
    ("unclosed", 2, "it cannot be read as XML"),
    ("use-bomb", 2, "more than 20000 elements"),
    ("use-itself", 2, "a `use` leads back to itself"),
    ("use-loop", 2, "a `use` leads back to itself"),
    ("view-box", 2, "its `viewBox` cannot be read"),
    ("words", 2, "it cannot be read as XML"),
    ("zero-size", 2, "it does not say how large it is"),
];

#[test]
fn what_no_tool_can_follow_is_refused_or_told() {
    let known: BTreeSet<String> = SAID
        .iter()
        .map(|(name, ..)| format!("{CASES}/{name}.svg"))
        .collect();
    let there: BTreeSet<String> = files_under(CASES, ".svg").into_iter().collect();
    assert_eq!(known, there);
    for (name, status, said) in SAID {
        let text = read(&format!("{CASES}/{name}.svg"));
        let folder = folder(&text, "repeats 12, drawing {\n  file \"motif.svg\" }");
        let ran = check(&folder);
        assert_eq!(ran.status, *status, "{name}: {}{}", ran.stdout, ran.stderr);
        // One finding, at the name of the drawing.
        let lines: Vec<&str> = ran.stderr.lines().collect();
        assert_eq!(lines.len(), 1, "{name}: {}", ran.stderr);
        assert!(
            lines[0].starts_with("r.annulet:6:8: "),
            "{name}: {}",
            ran.stderr
        );
        assert!(lines[0].contains(said), "{name}: {}", ran.stderr);
        assert!(!ran.stderr.contains("root:"), "{name}: {}", ran.stderr);
    }
}

#[test]
fn large_and_deep_drawings_are_bounded() {
    let line = "<path d=\"M1 1L3 3\" fill=\"none\" stroke=\"black\"/>";
    let rows = [
        (
            format!("{}{line}{}", "<g>".repeat(60), "</g>".repeat(60)),
            "more than 48 deep",
        ),
        (
            format!("{}{line}{}", "<g>".repeat(50_000), "</g>".repeat(50_000)),
            "",
        ),
        (line.repeat(15_000), "more than 20000 points"),
        (line.repeat(25_000), ""),
        ("<g/>".repeat(25_000) + line, "more than 20000 elements"),
        (
            format!(
                "<path d=\"M0 0{}\" stroke=\"black\"/>",
                "Q1 4 4 0".repeat(30_000)
            ),
            "more than 20000 points",
        ),
        (format!("<!--{}-->{line}", "a".repeat(1_200_000)), "at most"),
        // Each of many uses is found at once.
        (
            format!("<g id=\"a\"/>{}{line}", "<use href=\"#a\"/>".repeat(9000)),
            "reads",
        ),
    ];
    for (inside, said) in rows {
        let found = motif(&drawn(&inside));
        match (found, said) {
            (Ok(_), said) => assert_eq!(said, "reads"),
            (Err(error), said) => assert!(
                error.message.contains(said),
                "{} {}",
                error.message,
                error.help
            ),
        }
    }
    // A file that is too large is not read at all.
    let folder = folder(
        &" ".repeat(3 << 20),
        "repeats 12, drawing { file \"motif.svg\" }",
    );
    let ran = check(&folder);
    assert_eq!(ran.status, 2);
    assert!(
        ran.stderr.contains("at most") && !ran.stderr.contains("recipe?"),
        "{}",
        ran.stderr
    );
}

#[test]
fn a_drawing_lies_in_the_folder() {
    let line = drawn("<path d=\"M1 1L3 3\" fill=\"none\" stroke=\"black\"/>");
    for (file, said) in [
        ("missing.svg", "there is no file `missing.svg`"),
        ("motiv.svg", "did you mean `motif.svg`?"),
        ("", "a file's name goes here"),
        ("../outside.svg", "lies outside the recipe's folder"),
        ("/etc/passwd", "lies outside the recipe's folder"),
        ("http://192.0.2.1/a.svg", "there is no file"),
        (".", "is a folder"),
        ("link.svg", "lies outside the recipe's folder"),
    ] {
        let folder = folder(&line, &format!("repeats 12, drawing {{ file \"{file}\" }}"));
        std::os::unix::fs::symlink("/etc/passwd", folder.path().join("link.svg")).unwrap();
        let ran = check(&folder);
        assert_eq!(ran.status, 2, "{file}");
        assert_eq!(ran.stderr.lines().count(), 1, "{}", ran.stderr);
        assert!(ran.stderr.contains(said), "{file}: {}", ran.stderr);
    }
    // Bytes that are no text.
    let folder = folder(&line, "repeats 12, drawing { file \"motif.svg\" }");
    fs::write(folder.path().join("motif.svg"), b"<svg>\n\xff</svg>").unwrap();
    let ran = check(&folder);
    assert!(
        ran.status == 2 && ran.stderr.contains("motif.svg:2: byte 0xFF is not text"),
        "{}",
        ran.stderr
    );
    // One beside the recipe's folder, by `--root`.
    let below = folder.path().join("below");
    fs::create_dir(&below).unwrap();
    fs::write(folder.path().join("motif.svg"), &line).unwrap();
    fs::write(
        below.join("r.annulet"),
        recipe("repeats 12, drawing { file \"../motif.svg\" }"),
    )
    .unwrap();
    let inside = run_in(
        folder.path(),
        &["check", "--root", ".", "below/r.annulet"],
        b"",
    );
    assert_eq!((inside.status, inside.stderr.as_str()), (0, ""));
    let outside = run_in(folder.path(), &["check", "below/r.annulet"], b"");
    assert_eq!(outside.status, 2, "{}", outside.stderr);
}

#[test]
fn parts_are_told_apart() {
    let drawing = drawn(
        "<g fill=\"none\" stroke=\"black\"><g id=\"veins\"><path d=\"M1 2H2\"/><path id=\"long\" d=\"M1 1H4\"/></g></g><rect id=\"leaf\" x=\"4\" y=\"1\" width=\"1\" height=\"1\"/>",
    );
    for (part, wanted) in [("veins", 4.0), ("long", 3.0)] {
        let folder = folder(
            &drawing,
            &format!("repeats 8, drawing {{ file \"motif.svg\", part \"{part}\", fit none }}"),
        );
        assert!(
            agree(
                asked(&folder, &["pattern.groove-length"])[0],
                8.0 * wanted,
                1e-9
            ),
            "{part}"
        );
    }
    for (part, help) in [
        ("vein", "did you mean `veins`?"),
        ("stalk", "its parts are"),
    ] {
        let folder = folder(
            &drawing,
            &format!("repeats 8, drawing {{ file \"motif.svg\", part \"{part}\" }}"),
        );
        let ran = run_in(folder.path(), &["check", "r.annulet"], b"");
        assert!(
            ran.status == 2 && ran.stderr.contains(help),
            "{}",
            ran.stderr
        );
    }
    // What another part holds is nobody's business here.
    let drawing = drawing.replace("</svg>", "<text id=\"note\">x</text></svg>");
    let folder = folder(
        &drawing,
        "repeats 8, drawing { file \"motif.svg\", part \"veins\", fit none }",
    );
    assert_eq!(check(&folder).status, 0, "{}", check(&folder).stderr);
}

#[test]
fn drawings_are_files_of_the_recipe() {
    let line = |to: &str| {
        drawn(&format!(
            "<path d=\"M1 1L{to}\" fill=\"none\" stroke=\"black\"/>"
        ))
    };
    let folder = folder(&line("3 3"), "repeats 12, drawing { file \"motif.svg\" }");
    let eval = || -> serde_json::Value {
        let ran = run_in(folder.path(), &["eval", "--json", "r.annulet"], b"");
        serde_json::from_str::<serde_json::Value>(&ran.stdout).unwrap()["recipes"][0].clone()
    };
    let before = eval();
    assert_eq!(
        before["files"],
        serde_json::json!(["r.annulet", "motif.svg"])
    );
    assert_eq!(eval()["fingerprints"], before["fingerprints"]);
    fs::write(folder.path().join("motif.svg"), line("3 3.5")).unwrap();
    let after = eval();
    assert_ne!(
        after["fingerprints"]["recipe"],
        before["fingerprints"]["recipe"]
    );
    assert_ne!(after["results"]["b.weight"], before["results"]["b.weight"]);
    // A drawing that a used file names counts from that file.
    fs::create_dir(folder.path().join("house")).unwrap();
    fs::rename(
        folder.path().join("r.annulet"),
        folder.path().join("house/b.annulet"),
    )
    .unwrap();
    fs::rename(
        folder.path().join("motif.svg"),
        folder.path().join("house/motif.svg"),
    )
    .unwrap();
    fs::write(
        folder.path().join("r.annulet"),
        "use \"house/b.annulet\"\nvariant v of b { width 6 mm }\n",
    )
    .unwrap();
    let used = eval();
    assert_eq!(
        used["files"],
        serde_json::json!(["r.annulet", "house/b.annulet", "house/motif.svg"])
    );
    assert!(
        used["results"]["v.pattern.groove-length"].is_object()
            || used["results"]["v.pattern.groove-length"].is_string(),
        "{used}"
    );
}

/// Notes what is opened.
struct Noting(Vec<String>, String);

impl Library for Noting {
    fn open(&mut self, _: Option<&str>, path: &str) -> Result<Opened, (String, String)> {
        self.0.push(path.to_owned());
        let (id, name) = (path.to_owned(), path.to_owned());
        Ok(Opened {
            id,
            name,
            text: self.1.clone(),
        })
    }
}

#[test]
fn nothing_but_the_drawing_is_opened_and_that_once() {
    for file in files_under(CASES, ".svg") {
        let mut library = Noting(Vec::new(), read(&file));
        let twice = "repeats 12, drawing a { file \"motif.svg\" }, drawing b { file \"motif.svg\", part \"x\" }";
        Session::default().run_with("r", &recipe(twice), &Request::default(), &mut library);
        assert_eq!(library.0, ["motif.svg"], "{file}");
    }
    let many: String = (0..70)
        .map(|n| format!("drawing d{n} {{ file \"{n}.svg\" }}\n"))
        .collect();
    let mut library = Noting(
        Vec::new(),
        drawn("<path d=\"M1 1L3 3\" stroke=\"black\" fill=\"none\"/>"),
    );
    let outcome = Session::default().run_with(
        "r",
        &recipe(&format!("repeats 12\n{many}")),
        &Request::default(),
        &mut library,
    );
    assert_eq!(library.0.len(), 64);
    assert!(
        outcome
            .findings
            .iter()
            .any(|one| one.message().contains("64 drawings at most"))
    );
}

#[test]
fn a_drawing_is_reached_every_way() {
    let drawing = drawn(
        "<path id=\"vein\" d=\"M1 2H2\" fill=\"none\" stroke=\"black\"/><rect id=\"leaf\" x=\"3\" y=\"1\" width=\"1.2\" height=\"1\"/>",
    );
    let base = "repeats 8, drawing { file \"motif.svg\", cutter flat-4 }";
    let results = |folder: &TempDir, sets: &[&str], band: &str| {
        let mut call = vec!["eval", "--json", "r.annulet"];
        for set in sets {
            call.extend(["--set", set]);
        }
        let ran = run_in(folder.path(), &call, b"");
        assert_eq!(ran.status, 0, "{sets:?} {}", ran.stderr);
        let json: serde_json::Value = serde_json::from_str(&ran.stdout).unwrap();
        let all = json["recipes"][0]["results"].as_object().unwrap().clone();
        let start = format!("{band}.");
        let own = all
            .into_iter()
            .filter_map(|(path, value)| Some((path.strip_prefix(&start)?.to_owned(), value)));
        own.collect::<BTreeMap<String, serde_json::Value>>()
    };
    let before = results(&folder(&drawing, base), &[], "b");
    for (field, value) in [
        ("depth", "0.15 mm"),
        ("fit", "none"),
        ("fit", "strip"),
        ("part", "\"leaf\""),
        ("cutter", "sharp"),
        ("step-over", "0.1 mm"),
    ] {
        let inside = base.replace(" }", &format!(", {field} {value} }}"));
        let inside = match field {
            "cutter" => inside.replace(", cutter flat-4", ""),
            _ => inside,
        };
        let wanted = results(&folder(&drawing, &inside), &[], "b");
        assert_ne!(wanted, before, "{field}");
        let dotted = format!("{base}, drawing.{field} {value}");
        if field != "cutter" {
            assert_eq!(
                results(&folder(&drawing, &dotted), &[], "b"),
                wanted,
                "{field}"
            );
        }
        let set = format!("b.pattern.drawing.{field}={value}");
        assert_eq!(
            results(&folder(&drawing, base), &[&set], "b"),
            wanted,
            "{field}"
        );
        let variant = folder(&drawing, base);
        let path = variant.path().join("r.annulet");
        let text = fs::read_to_string(&path).unwrap()
            + &format!("variant v of b {{ pattern {{ drawing {{ {field} {value} }} }} }}\n");
        fs::write(&path, text).unwrap();
        assert_eq!(results(&variant, &[], "v"), wanted, "{field}");
    }
    // Another file is read with the recipe alone.
    let other = folder(&drawing, base);
    let call = [
        "eval",
        "r.annulet",
        "--set",
        "b.pattern.drawing.file=\"other.svg\"",
    ];
    let ran = run_in(other.path(), &call, b"");
    assert!(
        ran.status == 2 && ran.stderr.contains("a drawing is read with its recipe"),
        "{}",
        ran.stderr
    );
}

/// Files that lie in memory.
#[derive(Clone)]
struct Shelf(Arc<Mutex<BTreeMap<String, String>>>);

impl Shelf {
    fn text(&self, name: &str) -> Option<String> {
        self.0.lock().unwrap().get(name).cloned()
    }
}

impl Library for Shelf {
    fn open(&mut self, _: Option<&str>, path: &str) -> Result<Opened, (String, String)> {
        let text = self.text(path).ok_or((String::new(), String::new()))?;
        let (id, name) = (path.to_owned(), path.to_owned());
        Ok(Opened { id, name, text })
    }
}

impl Files for Shelf {
    fn read(&mut self, name: &str) -> Result<String, String> {
        self.text(name).ok_or_else(String::new)
    }

    fn write(&mut self, name: &str, text: &str) -> Result<(), String> {
        let mut all = self.0.lock().unwrap();
        all.insert(name.to_owned(), text.to_owned());
        Ok(())
    }

    fn exists(&mut self, name: &str) -> bool {
        self.text(name).is_some()
    }

    fn library(&mut self, _: &str) -> Box<dyn Library> {
        Box::new(self.clone())
    }

    fn beginning(&mut self, _: &str) -> Vec<String> {
        Vec::new()
    }
}

#[test]
fn at_the_prompt_a_drawing_is_read_again_with_its_recipe() {
    let mut shelf = Shelf(Arc::default());
    let draw = |shelf: &mut Shelf, to: &str| {
        let line = format!("<path d=\"M1 1L{to}\" fill=\"none\" stroke=\"black\"/>");
        shelf.write("motif.svg", &drawn(&line)).unwrap();
    };
    draw(&mut shelf, "4 1");
    let text = recipe("repeats 8, drawing { file \"motif.svg\", fit none }");
    shelf.write("r", &text).unwrap();
    let mut bench = Bench::new(Box::new(shelf.clone()), None);
    let long = |bench: &Bench| {
        let outcome = bench.outcome();
        let evaluation = outcome.evaluation("b").unwrap();
        let number = annulet::evaluate::number(ResultId::PatternGrooveLength, evaluation);
        number.unwrap().to_f64()
    };
    assert!(!bench.step("open r").refused);
    assert!(agree(long(&bench), 24.0, 1e-9));
    assert!(!bench.step("try pattern.depth 0.1 mm").refused);
    assert!(agree(long(&bench), 24.0, 1e-9));
    draw(&mut shelf, "3 1");
    assert!(!bench.step("open r").refused);
    assert!(agree(long(&bench), 16.0, 1e-9));
    // A line that is written has the recipe read again, and its drawing with it.
    draw(&mut shelf, "2 1");
    assert!(!bench.step("width 6 mm").refused);
    assert!(agree(long(&bench), 8.0, 1e-9));
}
