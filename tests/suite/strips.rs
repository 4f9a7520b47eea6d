//! Strips as drawn, measured from outside: by an independent reader of DXF (`tests/drawings`, recorded), and in pixels.
//!
//! What is drawn is held against closed forms of the recipe: repeats along `pi` times the largest outside, lengths of
//! lines, arcs and waves.

use std::f64::consts::{PI, TAU};

use resvg::{tiny_skia, usvg};
use serde_json::Value;

use crate::support::{agree, number, plain, read, run};

fn record() -> Vec<Value> {
    let record: Value = serde_json::from_str(&read("tests/drawings/read.json")).unwrap();
    record["strips"].as_array().unwrap().clone()
}

/// How many of a kind an independent reader found on a layer, and how long they are.
fn on_layer(strip: &Value, layer: &str, kind: &str) -> (u64, f64) {
    let found = &strip["layers"][layer][kind];
    (found[0].as_u64().unwrap(), found[1].as_f64().unwrap())
}

#[test]
fn an_independent_reader_found_the_strip_and_its_repeats() {
    let strips = record();
    assert!(strips.len() >= 5);
    for strip in &strips {
        let (example, band) = (
            strip["example"].as_str().unwrap(),
            strip["band"].as_str().unwrap(),
        );
        let drawn = run(&["strip", band, "--dxf", "--in", example], "").stdout;
        // What is recorded is what is drawn today: kinds by layers.
        let lines: Vec<&str> = drawn.lines().map(str::trim).collect();
        for (layer, kinds) in strip["layers"].as_object().unwrap() {
            for (kind, found) in kinds.as_object().unwrap() {
                let begins = ["0", kind.as_str(), "8", layer.as_str()];
                let count = lines.windows(4).filter(|four| **four == begins).count();
                assert_eq!(
                    Some(count as u64),
                    found[0].as_u64(),
                    "{example} {layer} {kind}: record it anew, see tests/drawings/README.md"
                );
            }
        }
        assert_eq!(
            (&strip["faults"], &strip["release"]),
            (&0.into(), &"AC1009".into())
        );
        let json: Value =
            serde_json::from_str(&run(&["eval", "--json", example], "").stdout).unwrap();
        let results = json["recipes"][0]["results"].as_object().unwrap();
        let of = |path: &str| number(results, &format!("{band}.{path}"));
        let side = |side: &str| strip[side].as_f64().unwrap();
        let (long, high) = (PI * of("outside"), of("width"));
        assert!(
            (side("right") - long).abs() < 2e-6 && side("left") == 0.0,
            "{example}"
        );
        assert!((side("high") - high / 2.0).abs() < 2e-6, "{example}");
        assert!((side("low") + high / 2.0).abs() < 2e-6, "{example}");
        let repeats = strip["repeats"].as_array().unwrap();
        let pitch = long / (repeats.len() + 1) as f64;
        for (place, at) in repeats.iter().enumerate() {
            let wanted = pitch * (place + 1) as f64;
            assert!((at.as_f64().unwrap() - wanted).abs() < 2e-6, "{example}");
        }
        assert!(agree(of("strip.pitch"), pitch, 1e-9), "{example}");
    }
}

#[test]
fn an_independent_reader_found_the_lines_of_the_tool() {
    let strips = record();
    let of = |band: &str| strips.iter().find(|strip| strip["band"] == band).unwrap();
    let near = |found: (u64, f64), count: u64, wanted: f64, share: f64| {
        assert_eq!(found.0, count);
        assert!(agree(found.1, wanted, share), "{} {wanted}", found.1);
    };
    // Three sides of a triangle 3.1 mm wide and 2.7 mm high, twelve times; a ring on either side.
    let wicker = of("wicker");
    let triangle = 3.1 + 2.0 * 1.55_f64.hypot(2.7);
    for layer in ["CUT1_PATH_UPWARD", "CUT2_PATH_DOWNWARD"] {
        near(on_layer(wicker, layer, "LINE"), 36, 12.0 * triangle, 1e-6);
    }
    let long = |strip: &Value| strip["right"].as_f64().unwrap();
    near(
        on_layer(wicker, "CUT3_RING_BORDER", "LINE"),
        24,
        2.0 * long(wicker),
        1e-6,
    );
    // A wave by its integral; a ball of 0.3 mm that goes in 0.12 mm is sqrt(h (2 r - h)) wide to either side.
    let millpond = of("millpond");
    let pitch = long(millpond) / 12.0;
    let steps = 20_000;
    let wave: f64 = (0..steps)
        .map(|step| {
            let turn = TAU * (f64::from(step) + 0.5) / f64::from(steps);
            (0.8 * TAU / pitch * turn.cos()).hypot(1.0) * pitch / f64::from(steps)
        })
        .sum();
    near(
        on_layer(millpond, "CUT1_WAVE", "POLYLINE"),
        12,
        12.0 * wave,
        1e-3,
    );
    let half = (0.12_f64 * (0.6 - 0.12)).sqrt();
    near(
        on_layer(millpond, "CUT2_DOTS_UPPER", "CIRCLE"),
        24,
        24.0 * TAU * half,
        1e-4,
    );
    // Lines at 35 degrees both ways, which run out over both faces.
    let trellis = of("trellis");
    let across = 6.0 / 35_f64.to_radians().cos();
    let (count, found) = on_layer(trellis, "CUT1_LINES", "LINE");
    assert!(count == 46 && found > 46.0 * across, "{found}");
    near(
        on_layer(of("haystack"), "CUT1_RING", "LINE"),
        24,
        long(of("haystack")),
        1e-6,
    );
    // Strokes of a drawing, by the other library that reads it in `drawings.rs`, are what the tool goes along.
    let reedbed = of("reedbed");
    let layers = ["CUT1_DRAWING_STEMS", "CUT2_DRAWING_WATER", "CUT5_RING_EDGE"];
    let sum: f64 = layers
        .iter()
        .map(|layer| on_layer(reedbed, layer, "LINE").1)
        .sum();
    let told = run(
        &[
            "ask",
            "--plain",
            "pattern.groove-length",
            "--in",
            "examples/reedbed.annulet",
        ],
        "",
    );
    let told: f64 = told
        .stdout
        .split(' ')
        .next()
        .unwrap()
        .trim()
        .parse()
        .unwrap();
    assert!(agree(sum, told, 1e-5), "{sum} {told}");
}

/// Pixels to a millimetre.
const EACH: f64 = 40.0;
/// Where the strip stands on its page, mm.
const LEFT: f64 = 7.0;

struct Raster(tiny_skia::Pixmap);

impl Raster {
    fn of(svg: &str) -> Self {
        let options = usvg::Options {
            dpi: 25.4,
            ..usvg::Options::default()
        };
        let tree = usvg::Tree::from_str(svg, &options).unwrap();
        let size = tree.size();
        let each = EACH as f32;
        let side = |length: f32| (length * each).ceil() as u32;
        let mut map = tiny_skia::Pixmap::new(side(size.width()), side(size.height())).unwrap();
        let scale = tiny_skia::Transform::from_scale(each, each);
        resvg::render(&tree, scale, &mut map.as_mut());
        Self(map)
    }

    /// How dark it is at a place of the page: red from 0 to 255.
    fn red(&self, x: u32, y: f64) -> u8 {
        let y = (y * EACH) as u32;
        self.0.pixel(x, y).unwrap().demultiply().red()
    }

    /// Stretches of a row that are darker than that: middle and width in mm from the strip's left end.
    fn along(&self, y: f64, darker: u8) -> Vec<(f64, f64)> {
        stretches((0..self.0.width()).map(|x| self.red(x, y) < darker))
            .map(|(from, to)| ((from + to) / 2.0 - LEFT, to - from))
            .collect()
    }

    /// The same of a column, mm from the top of the page.
    fn down(&self, x: f64, darker: u8) -> Vec<(f64, f64)> {
        let x = (x * EACH) as u32;
        let places = (0..self.0.height()).map(|y| (f64::from(y) + 0.5) / EACH);
        stretches(places.map(|y| self.red(x, y) < darker))
            .map(|(from, to)| ((from + to) / 2.0, to - from))
            .collect()
    }
}

fn stretches(dark: impl Iterator<Item = bool>) -> impl Iterator<Item = (f64, f64)> {
    let mut all: Vec<(f64, f64)> = Vec::new();
    let mut before = false;
    for (place, dark) in dark.enumerate() {
        let at = place as f64 / EACH;
        if dark && !before {
            all.push((at, at));
        }
        if let Some(last) = all.last_mut().filter(|_| dark) {
            last.1 = at + 1.0 / EACH;
        }
        before = dark;
    }
    all.into_iter()
}

#[test]
fn pixels_measure_pitch_lines_widths_and_seam() {
    let recipe = "cutter sharp vee { angle 90 deg }\nband b {\n  size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy silver-925\n  pattern { repeats 12, cutter sharp, depth 0.3 mm, flutes { count 1 }, ring { at 1 mm, depth 0.2 mm } }\n}\n";
    let svg = run(&["strip", "--in", "-", "--svg"], recipe).stdout;
    let map = Raster::of(&svg);
    let (long, pitch) = (TAU * 10.5, TAU * 10.5 / 12.0);
    assert!(agree(
        plain(recipe, "strip.length").parse().unwrap(),
        long,
        1e-9
    ));
    // A pixel, and half of one for the line's own edge.
    let exact = 1.5 / EACH;
    let top = 15.0;
    let middle = top + 2.5;
    // Over the strip stand the ends of repeats, and of the seam at both ends, which alone goes on.
    let ticks = map.along(top - 0.5, 200);
    assert_eq!(ticks.len(), 13, "{ticks:?}");
    for (place, (at, _)) in ticks.iter().enumerate() {
        assert!((at - pitch * place as f64).abs() < exact, "{place}: {at}");
    }
    let seam = map.along(top - 1.5, 240);
    assert_eq!(seam.len(), 2, "{seam:?}");
    assert!(
        seam[0].0.abs() < exact && (seam[1].0 - long).abs() < exact,
        "{seam:?}"
    );
    // Red, where all else is grey or blue.
    let end = map
        .0
        .pixel((LEFT * EACH) as u32, ((top - 1.5) * EACH) as u32)
        .unwrap();
    assert!(end.red() > 150 && end.green() < 90, "{end:?}");
    // Each flute in the middle of its repeat, its centre line within what it is wide: twice 0.3 mm at 90 degrees.
    let lines = map.along(middle - 2.0, 110);
    let inner: Vec<_> = lines
        .iter()
        .filter(|(at, _)| *at > 0.3 && *at < long - 0.3)
        .collect();
    assert_eq!(inner.len(), 12, "{lines:?}");
    for (place, (at, _)) in inner.iter().enumerate() {
        assert!(
            (at - pitch * (place as f64 + 0.5)).abs() < exact,
            "{place}: {at}"
        );
    }
    for (at, wide) in map
        .along(middle - 2.0, 215)
        .iter()
        .filter(|(at, wide)| *at > 0.5 && *at < long - 0.5 && *wide > 0.3)
    {
        assert!((wide - 0.6).abs() < 2.0 * exact, "at {at}: {wide}");
    }
    // The ring 1 mm above mid width, 0.4 mm wide.
    let down = map.down(LEFT + 0.25 * pitch, 215);
    let ring = down
        .iter()
        .find(|(at, _)| (at - (middle - 1.0)).abs() < 0.3)
        .unwrap();
    assert!(
        (ring.0 - (middle - 1.0)).abs() < exact && (ring.1 - 0.4).abs() < 2.0 * exact,
        "{ring:?}"
    );
    // The faces: 5 mm apart.
    let column = map.down(LEFT + 0.4 * pitch, 60);
    assert!(
        column.iter().any(|(at, _)| (at - top).abs() < exact),
        "{column:?}"
    );
    assert!(
        column.iter().any(|(at, _)| (at - top - 5.0).abs() < exact),
        "{column:?}"
    );
    // Where a program knows no style sheet, the drawing is no darker.
    let (start, end) = (svg.find("<style>").unwrap(), svg.find("</style>").unwrap());
    let bare = format!("{}{}", &svg[..start], &svg[end + "</style>".len()..]);
    assert!(Raster::of(&bare).0.data() == map.0.data());
    assert!(!bare.contains("var("));
}

#[test]
fn one_repeat_is_shaded_where_it_is_cut() {
    // A pocket in a quarter of a repeat: its shade stands there and nowhere else.
    let recipe = "cutter flat-4 flat { width 0.4 mm }\nband b {\n  size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy silver-925\n  pattern { repeats 12, cutter flat-4, depth 0.3 mm, pocket { from 0.5 mm 0.3 mm, to 2.5 mm 0.3 mm, to 2.5 mm 2.3 mm, to 0.5 mm 2.3 mm } }\n}\n";
    let svg = run(&["strip", "--in", "-", "--svg"], recipe).stdout;
    let map = Raster::of(&svg);
    let pitch = TAU * 10.5 / 12.0;
    let scale = 8.0_f64.min(12.0);
    assert!(svg.contains("one repeat, 8 times as large"), "{svg}");
    let top = 15.0 + 5.0 + 9.0 + 5.0;
    // Two fifths of the way up from mid width lies the pocket, as far below nothing.
    let cut = map.along(top + (2.5 - 1.3) * scale, 120);
    assert_eq!(
        cut.iter().filter(|(_, wide)| *wide > 1.0).count(),
        1,
        "{cut:?}"
    );
    let (at, wide) = *cut.iter().find(|(_, wide)| *wide > 1.0).unwrap();
    assert!(
        (at / scale - 1.5).abs() < 0.06 && (wide / scale - 2.0).abs() < 0.1,
        "{at} {wide} {pitch}"
    );
    let below = map.along(top + (2.5 + 1.3) * scale, 120);
    assert!(below.iter().all(|(_, wide)| *wide < 0.5), "{below:?}");
}
