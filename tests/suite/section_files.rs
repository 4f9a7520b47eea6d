//! Files of drawings: DXF and PDF read back, the same bytes, calls that cannot be meant.
//!
//! DXF is read as the published reference of release 12 has it (pairs of a code and a value), and once by an independent
//! library, whose reading is recorded (`tests/drawings`). Lengths in a PDF are read from its operators: ISO 32000-1,
//! 8.3.4 (the matrix) and 8.5.2 (paths).

use std::collections::BTreeMap;
use std::f64::consts::PI;

use crate::support::{agree, number, read, results, root, run};

/// An entity of a DXF file: its kind, and its values by code.
type Entity = (String, BTreeMap<u32, String>);

fn entities(text: &str) -> Vec<Entity> {
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len() % 2, 0, "a code has no value");
    let pairs = lines
        .chunks(2)
        .map(|pair| (pair[0].trim().parse::<u32>().unwrap(), pair[1]));
    let mut all: Vec<Entity> = Vec::new();
    let mut inside = false;
    for (code, value) in pairs {
        match (code, value) {
            // A comment.
            (999, _) => {}
            (2, "ENTITIES") => inside = true,
            (0, "ENDSEC") => inside = false,
            (0, kind) if inside => all.push((kind.to_owned(), BTreeMap::new())),
            (code, value) if inside => {
                let entity = all.last_mut().unwrap();
                assert!(
                    entity.1.insert(code, value.to_owned()).is_none(),
                    "{code} twice"
                );
            }
            _ => {}
        }
    }
    all
}

fn of(entity: &Entity, code: u32) -> f64 {
    entity.1[&code].parse().unwrap()
}

/// Centre, radius, first angle and the angle gone through.
type ArcOf = ((f64, f64), f64, f64, f64);

/// The volume that the closed outline of a layer sweeps; its lines and arcs are joined end to end.
fn swept(text: &str, layer: &str) -> f64 {
    let mut left: Vec<[(f64, f64); 2]> = Vec::new();
    let mut bulges: Vec<Option<ArcOf>> = Vec::new();
    for entity in entities(text).iter().filter(|one| one.1[&8] == layer) {
        match entity.0.as_str() {
            "LINE" => {
                left.push([
                    (of(entity, 10), of(entity, 20)),
                    (of(entity, 11), of(entity, 21)),
                ]);
                bulges.push(None);
            }
            "ARC" => {
                let (centre, radius) = ((of(entity, 10), of(entity, 20)), of(entity, 40));
                let (first, last) = (of(entity, 50).to_radians(), of(entity, 51).to_radians());
                let sweep = (last - first).rem_euclid(2.0 * PI);
                let at = |angle: f64| {
                    (
                        centre.0 + radius * angle.cos(),
                        centre.1 + radius * angle.sin(),
                    )
                };
                left.push([at(first), at(first + sweep)]);
                bulges.push(Some((centre, radius, first, sweep)));
            }
            kind => panic!("{kind} on {layer}"),
        }
    }
    let near = |one: (f64, f64), other: (f64, f64)| {
        (one.0 - other.0).abs() + (one.1 - other.1).abs() < 1e-6
    };
    let begin = left[0][0];
    let mut here = begin;
    let mut volume = 0.0;
    let mut open: Vec<usize> = (0..left.len()).collect();
    while !open.is_empty() {
        let place = open
            .iter()
            .position(|one| near(left[*one][0], here) || near(left[*one][1], here))
            .unwrap_or_else(|| panic!("{layer} is open at {here:?}"));
        let one = open.remove(place);
        let forwards = near(left[one][0], here);
        let (from, to) = if forwards {
            (left[one][0], left[one][1])
        } else {
            (left[one][1], left[one][0])
        };
        // Integral of pi y^2 dx by Simpson's rule over short stretches.
        const PARTS: u32 = 200;
        let place = |share: f64| match bulges[one] {
            None => (
                from.0 + share * (to.0 - from.0),
                from.1 + share * (to.1 - from.1),
            ),
            Some((centre, radius, first, sweep)) => {
                let share = if forwards { share } else { 1.0 - share };
                let angle = first + sweep * share;
                (
                    centre.0 + radius * angle.cos(),
                    centre.1 + radius * angle.sin(),
                )
            }
        };
        for part in 0..PARTS {
            let share = |half: f64| (f64::from(part) + half) / f64::from(PARTS);
            let (low, middle, high) = (place(share(0.0)), place(share(0.5)), place(share(1.0)));
            let mean = (low.1 * low.1 + 4.0 * middle.1 * middle.1 + high.1 * high.1) / 6.0;
            volume += PI * mean * (high.0 - low.0);
        }
        here = to;
    }
    assert!(near(here, begin), "{layer} does not close");
    volume.abs()
}

fn dxf(example: &str, band: &str) -> String {
    let ran = run(
        &[
            "section", band, "--dxf", "--view", "finished", "--in", example,
        ],
        "",
    );
    assert!(ran.status < 2, "{}", ran.stderr);
    ran.stdout
}

#[test]
fn a_dxf_has_the_parts_in_true_millimetres() {
    for (example, band) in [
        ("ferrule", "ferrule"),
        ("latch", "latch"),
        ("harvest", "harvest"),
    ] {
        let example = format!("examples/{example}.annulet");
        let text = dxf(&example, band);
        assert!(
            text.is_ascii() && text.starts_with("0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n")
        );
        assert!(text.ends_with("0\nENDSEC\n0\nEOF\n"));
        let machine = results(&read(&example));
        let of = |path: &str| number(&machine, &format!("{band}.{path}"));
        let hollow = machine.contains_key(&format!("{band}.shell.volume"));
        let wanted = if hollow {
            "shell.volume"
        } else {
            "volume.uncut"
        };
        let (found, wanted) = (swept(&text, "SECTION"), of(wanted));
        assert!(agree(found, wanted, 1e-6), "{band}: {found} for {wanted}");
        if hollow {
            let (found, wanted) = (swept(&text, "SLEEVE"), of("sleeve.volume"));
            assert!(agree(found, wanted, 1e-6), "{band}: {found} for {wanted}");
        }
    }
}

#[test]
fn an_independent_reader_found_the_same_in_the_dxf() {
    let record: serde_json::Value =
        serde_json::from_str(&read("tests/drawings/read.json")).unwrap();
    let drawings = record["drawings"].as_array().unwrap();
    assert!(drawings.len() >= 3);
    for drawing in drawings {
        let text = |key: &str| drawing[key].as_str().unwrap().to_owned();
        let (example, band) = (text("example"), text("band"));
        let dxf = dxf(&example, &band);
        let kinds = entities(&dxf);
        for (kind, count) in drawing["entities"].as_object().unwrap() {
            let found = kinds.iter().filter(|one| one.0 == *kind).count();
            assert_eq!(
                Some(found as u64),
                count.as_u64(),
                "{example} {kind}: record it anew, see tests/drawings/README.md"
            );
        }
        assert_eq!(drawing["faults"], 0, "{example}");
        let machine = results(&read(&example));
        for (path, volume) in drawing["volumes"].as_object().unwrap() {
            let wanted = number(&machine, &format!("{band}.{path}"));
            let found = volume.as_f64().unwrap();
            assert!(
                agree(found, wanted, 1e-6),
                "{example} {path}: {found} for {wanted}"
            );
        }
    }
}

/// Numbers in front of an operator of a page.
fn operands(page: &str, operator: &str) -> Vec<Vec<f64>> {
    let lines = page.lines().filter_map(|line| line.strip_suffix(operator));
    lines
        .filter(|line| line.ends_with(' '))
        .map(|line| {
            line.split_whitespace()
                .filter_map(|word| word.parse().ok())
                .collect()
        })
        .collect()
}

#[test]
fn a_pdf_is_of_true_size() {
    let call = |out: &str| {
        run(
            &["section", "--in", "-", "--scale", "10:1", "--out", out],
            "band b { size 18 mm, width 6 mm, thickness 2 mm, profile flat, alloy silver-925 }",
        )
    };
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("b.pdf");
    let ran = call(file.to_str().unwrap());
    assert_eq!((ran.status, ran.stderr.as_str()), (0, ""));
    let bytes = std::fs::read(&file).unwrap();
    assert!(bytes.starts_with(b"%PDF-1."));
    let page = String::from_utf8_lossy(&bytes);
    assert!(
        page.contains("/PrintScaling /None"),
        "a print may be scaled"
    );
    // A point is 1/72 inch of 25.4 mm: the first matrix makes millimetres of it, the second the scale.
    let matrices = operands(&page, "cm");
    let (points, scale) = (matrices[0][0], matrices[1][0]);
    assert!(
        agree(points, 72.0 / 25.4, 1e-6) && scale == 10.0,
        "{matrices:?}"
    );
    // The section's own lengths: from one face to the other, and from the bore to the outside, on the page in points.
    let lines: Vec<Vec<f64>> = operands(&page, "l");
    let xs: Vec<f64> = lines
        .iter()
        .map(|at| at[0])
        .filter(|x| x.abs() == 3.0)
        .collect();
    assert!(xs.contains(&3.0) && xs.contains(&-3.0), "{lines:?}");
    let across = 6.0 * scale * points;
    assert!(agree(across, 60.0 / 25.4 * 72.0, 1e-6), "{across}");
    let ys: Vec<f64> = lines.iter().map(|at| at[1]).collect();
    assert!(ys.contains(&11.0) && ys.contains(&9.0), "{ys:?}");
    // The same again.
    call(file.to_str().unwrap());
    assert_eq!(std::fs::read(&file).unwrap(), bytes);
}

#[test]
fn drawings_are_the_same_bytes_on_every_run() {
    for form in ["--svg", "--dxf", "--text"] {
        let call = [
            "section",
            "ferrule",
            form,
            "--in",
            "examples/ferrule.annulet",
        ];
        let first = run(&call, "");
        assert!(first.stdout.len() > 1000, "{form}: {}", first.stderr);
        assert_eq!(first.stdout, run(&call, "").stdout, "{form}");
    }
}

#[test]
fn calls_that_cannot_be_meant_are_refused() {
    let example = "examples/ferrule.annulet";
    let cases: &[(&[&str], &str)] = &[
        (&["ferrule", "--scale", "0"], "a scale is 1:1 to 100:1"),
        (&["ferrule", "--scale", "ten"], "a scale is 1:1 to 100:1"),
        (&["ferule", "--svg"], "did you mean `ferrule`"),
        (&["--svg"], "which band?"),
        (&["ferrule", "ferrule", "--svg"], "is named twice"),
        (&["ferrule", "--out", "x.annulet"], "the name of a recipe"),
        (&["ferrule", "--out", "x.png"], "the ending says the form"),
        (&["ferrule", "--dxf", "--out", "x.svg"], "which one?"),
        (&["ferrule", "--out", "no-such-folder/x.svg"], "no folder"),
    ];
    for (call, wanted) in cases {
        let call = [&["section", "--in", example], *call].concat();
        let ran = run(&call, "");
        assert_eq!((ran.status, ran.stdout.as_str()), (2, ""), "{call:?}");
        assert!(ran.stderr.contains(wanted), "{call:?}: {}", ran.stderr);
    }
    assert!(!root().join("x.svg").exists() && !root().join("x.png").exists());
}

#[test]
fn what_is_laid_over_is_drawn() {
    let call = [
        "section",
        "ferrule",
        "--text",
        "--in",
        "examples/ferrule.annulet",
        "--set",
        "width=5 mm",
    ];
    let ran = run(&call, "");
    assert!(
        ran.stdout.contains("    width 5\n"),
        "{}{}",
        ran.stdout,
        ran.stderr
    );
}

// Letters that a PDF's fonts lack are told.
#[test]
fn letters_that_a_pdf_lacks_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("b.pdf");
    let recipe = "band b { title \"\u{6307}\u{8F2A}\", size 18 mm, width 6 mm, thickness 2 mm, profile flat, alloy silver-925 }";
    let ran = run(
        &["section", "--in", "-", "--out", file.to_str().unwrap()],
        recipe,
    );
    assert_eq!(ran.status, 0);
    assert!(ran.stderr.contains("standard fonts"), "{}", ran.stderr);
}
