//! Sections as they are drawn: their outlines read back and integrated, their pixels counted.
//!
//! Volumes are held against an independent solid modeller (`tests/modeller/volumes.toml`), areas against what is
//! evaluated. Paths are read as the SVG recommendation has them (elliptical arcs by their end points, appendix B.2.4),
//! integrals are Gauss and Legendre's of five points over short chords: nothing of the program's own is used.

use std::collections::BTreeMap;
use std::f64::consts::PI;

use resvg::{tiny_skia, usvg};

use crate::support::{agree, number, read, results, run};

/// One line or arc of a path, as a place for each share of it.
struct PathSide {
    from: (f64, f64),
    to: (f64, f64),
    /// Centre, radius, first angle and the angle that is gone through.
    arc: Option<((f64, f64), f64, f64, f64)>,
}

impl PathSide {
    fn at(&self, share: f64) -> (f64, f64) {
        match self.arc {
            Some((centre, radius, first, sweep)) => {
                let angle = first + sweep * share;
                (
                    centre.0 + radius * angle.cos(),
                    centre.1 + radius * angle.sin(),
                )
            }
            None => (
                self.from.0 + share * (self.to.0 - self.from.0),
                self.from.1 + share * (self.to.1 - self.from.1),
            ),
        }
    }
}

/// A path of `M`, `L`, `A` and `Z` with absolute places.
fn sides(path: &str) -> Vec<PathSide> {
    let spaced: String = path
        .chars()
        .flat_map(|c| match c {
            'M' | 'L' | 'A' | 'Z' => vec![' ', c, ' '],
            ',' => vec![' '],
            c => vec![c],
        })
        .collect();
    let mut words = spaced.split_whitespace();
    let (mut here, mut start, mut all) = ((0.0, 0.0), (0.0, 0.0), Vec::new());
    while let Some(word) = words.next() {
        let mut next = || words.next().unwrap().parse::<f64>().unwrap();
        match word {
            "M" => {
                here = (next(), next());
                start = here;
            }
            "L" => {
                let to = (next(), next());
                all.push(PathSide {
                    from: here,
                    to,
                    arc: None,
                });
                here = to;
            }
            "A" => {
                let radius = next();
                assert_eq!(radius, next());
                assert_eq!((next(), next()), (0.0, 0.0));
                let sweeps = next() == 1.0;
                let to = (next(), next());
                all.push(arc(here, to, radius, sweeps));
                here = to;
            }
            "Z" => {
                if here != start {
                    all.push(PathSide {
                        from: here,
                        to: start,
                        arc: None,
                    });
                }
                here = start;
            }
            word => panic!("{word} in {path}"),
        }
    }
    all
}

/// Centre of an arc that is no more than a half circle, as the recommendation's appendix computes it.
fn arc(from: (f64, f64), to: (f64, f64), radius: f64, sweeps: bool) -> PathSide {
    let half = ((from.0 - to.0) / 2.0, (from.1 - to.1) / 2.0);
    let square = half.0 * half.0 + half.1 * half.1;
    let off = ((radius * radius - square).max(0.0) / square).sqrt();
    let off = if sweeps { off } else { -off };
    let centre = (
        off * half.1 + (from.0 + to.0) / 2.0,
        -off * half.0 + (from.1 + to.1) / 2.0,
    );
    let angle = |at: (f64, f64)| (at.1 - centre.1).atan2(at.0 - centre.0);
    let (first, last) = (angle(from), angle(to));
    let mut sweep = last - first;
    if sweeps && sweep < 0.0 {
        sweep += 2.0 * PI;
    }
    if !sweeps && sweep > 0.0 {
        sweep -= 2.0 * PI;
    }
    let centre_radius = ((from.0 - centre.0).powi(2) + (from.1 - centre.1).powi(2)).sqrt();
    PathSide {
        from,
        to,
        arc: Some((centre, centre_radius, first, sweep)),
    }
}

/// Area, and the volume of the ring that it sweeps about `y = 0`: contour integrals of `y dx` and `pi y^2 dx`.
fn swept(path: &str) -> (f64, f64) {
    const RULE: [(f64, f64); 5] = [
        (0.0, 0.568_888_888_888_888_9),
        (0.538_469_310_105_683, 0.478_628_670_499_366_47),
        (-0.538_469_310_105_683, 0.478_628_670_499_366_47),
        (0.906_179_845_938_664, 0.236_926_885_056_189_08),
        (-0.906_179_845_938_664, 0.236_926_885_056_189_08),
    ];
    const PARTS: u32 = 8;
    let (mut area, mut volume) = (0.0, 0.0);
    for side in sides(path) {
        for part in 0..PARTS {
            for (place, weight) in RULE {
                let share = (f64::from(part) + (1.0 + place) / 2.0) / f64::from(PARTS);
                let y = side.at(share).1;
                // How x goes with the share.
                let along = match side.arc {
                    Some((_, radius, first, sweep)) => {
                        -radius * (first + sweep * share).sin() * sweep
                    }
                    None => side.to.0 - side.from.0,
                };
                let dx = along * weight / 2.0 / f64::from(PARTS);
                area += y * dx;
                volume += PI * y * y * dx;
            }
        }
    }
    (area.abs(), volume.abs())
}

#[test]
fn the_reader_of_paths_knows_circles_and_rings() {
    // A half disc of radius 2 on the axis: area 2 pi, and the ball 32 pi / 3 that it sweeps.
    let (area, volume) = swept("M-2 0A2 2 0 0 0 2 0Z");
    assert!(
        agree(area, 2.0 * PI, 1e-9) && agree(volume, 32.0 * PI / 3.0, 1e-9),
        "{area} {volume}"
    );
    // A full disc of radius 1 at 10: area pi, and the ring 2 pi * 10 * pi, either way round.
    for path in [
        "M-1 10A1 1 0 0 0 1 10A1 1 0 0 0 -1 10Z",
        "M-1 10A1 1 0 0 1 1 10A1 1 0 0 1 -1 10Z",
    ] {
        let (area, volume) = swept(path);
        assert!(
            agree(area, PI, 1e-9) && agree(volume, 20.0 * PI * PI, 1e-9),
            "{area} {volume}"
        );
    }
    // A quarter of a disc of radius 2, either way round: the bow's centre is not on its chord.
    for path in ["M0 0L2 0A2 2 0 0 1 0 2Z", "M0 0L0 2A2 2 0 0 0 2 0Z"] {
        let (area, volume) = swept(path);
        assert!(
            agree(area, PI, 1e-9) && agree(volume, 16.0 * PI / 3.0, 1e-9),
            "{area} {volume}"
        );
    }
    // A pipe: pi (5^2 - 4^2) 3.
    assert!(agree(swept("M0 4L3 4L3 5L0 5Z").1, 27.0 * PI, 1e-12));
}

/// The paths of a drawing by the ids of their sections, read as XML.
fn paths(svg: &str) -> BTreeMap<String, String> {
    let document =
        usvg::roxmltree::Document::parse(svg).unwrap_or_else(|error| panic!("{error}\n{svg}"));
    let sections = document
        .descendants()
        .filter(|node| node.attribute("class") == Some("metal"));
    sections
        .map(|node| {
            (
                node.attribute("id").unwrap().to_owned(),
                node.attribute("d").unwrap().to_owned(),
            )
        })
        .collect()
}

fn drawn(recipe: &str, more: &[&str]) -> String {
    let call = [&["section", "--svg", "--in", "-"], more].concat();
    let ran = run(&call, recipe);
    assert!(
        ran.status < 2 && !ran.stdout.is_empty(),
        "{}\n{recipe}",
        ran.stderr
    );
    ran.stdout
}

#[test]
fn drawn_sections_sweep_the_volumes_of_the_modeller() {
    let table = |path: &str| read(path).parse::<toml::Table>().unwrap();
    let cases = table("tests/modeller/cases.toml");
    let record = table("tests/modeller/volumes.toml");
    let text = |value: &toml::Value, key: &str| value[key].as_str().unwrap().to_owned();
    let bands: BTreeMap<String, &toml::Value> = record["band"]
        .as_array()
        .unwrap()
        .iter()
        .map(|band| (text(band, "name"), band))
        .collect();
    let (mut compared, mut wrong) = (0, Vec::new());
    for case in cases["case"].as_array().unwrap() {
        let (name, recipe) = (text(case, "name"), text(case, "recipe"));
        let found = paths(&drawn(&recipe, &["--view", "finished"]));
        let band = bands[&name];
        let wanted: &[(&str, &str)] = match band.get("shell") {
            Some(_) => &[
                ("b1-finished-shell", "shell"),
                ("b1-finished-sleeve", "sleeve"),
            ],
            None => &[("b1-finished-band", "solid")],
        };
        assert_eq!(found.len(), wanted.len(), "{name}");
        for (id, figure) in wanted {
            let (_, volume) = swept(&found[*id]);
            let modelled = band[*figure].as_float().unwrap();
            compared += 1;
            if !agree(volume, modelled, 1e-6) {
                wrong.push(format!(
                    "{name}: {figure} drawn {volume}, modelled {modelled}"
                ));
            }
        }
    }
    assert!(compared > 150, "{compared}");
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn drawn_areas_and_volumes_are_the_evaluated_ones() {
    for example in crate::support::files_under("examples", ".annulet") {
        let machine: serde_json::Value =
            serde_json::from_str(&run(&["eval", "--json", &example], "").stdout).unwrap();
        let recipe = &machine["recipes"][0];
        let results = recipe["results"].as_object().unwrap();
        for band in recipe["bands"].as_array().unwrap() {
            let name = band["name"].as_str().unwrap();
            let ran = run(
                &[
                    "section", name, "--svg", "--in", &example, "--view", "finished",
                ],
                "",
            );
            assert!(ran.status < 2, "{example}: {}", ran.stderr);
            let found = paths(&ran.stdout);
            let of = |path: &str| number(results, &format!("{name}.{path}"));
            if let Some(path) = found.get("b1-finished-band") {
                let (area, volume) = swept(path);
                assert!(
                    agree(area, of("section.area"), 1e-8),
                    "{example} {name}: {area}"
                );
                assert!(
                    agree(volume, of("volume.uncut"), 1e-8),
                    "{example} {name}: {volume}"
                );
                continue;
            }
            for part in ["shell", "sleeve"] {
                let (_, volume) = swept(&found[&format!("b1-finished-{part}")]);
                let wanted = of(&format!("{part}.volume"));
                assert!(
                    agree(volume, wanted, 1e-8),
                    "{example} {name}.{part}: {volume} for {wanted}"
                );
            }
        }
    }
}

const HOLLOW: &str = "alloy outer { silver 1000, temper annealed { yield 520 MPa, modulus 90 GPa, elongation 6 % } }
alloy inner { silver 1000, temper annealed { yield 300 MPa, modulus 90 GPa, hardening 1100 MPa, elongation 40 % } }
band b {
  title \"A <b>bold</b> & \\\"quoted\\\" name\"
  size 18 mm
  width 6 mm ± 0.02 mm
  thickness 2 mm
  profile domed { edge 1.4 mm }
  comfort 0.1 mm
  alloy inner
  hollow {
    shell 0.5 mm ± 0.03 mm { alloy outer }
    sleeve 0.45 mm { alloy inner }
    ridge 0.14 mm { wide 0.4 mm, count 2, play 0.06 mm }
    stage fixed { past 0.09 mm }
  }
}
";

// Stretching keeps volume (model page 3): a part as machined and at every stage has the finished part's, where no metal
// is left on for finishing.
#[test]
fn every_state_that_is_drawn_has_the_volume_of_the_finished_part() {
    let found = paths(&drawn(HOLLOW, &[]));
    let whole = results(HOLLOW);
    let mut seen = 0;
    for (id, path) in &found {
        let part = id.rsplit('-').next().unwrap();
        let wanted = number(&whole, &format!("b.{part}.volume"));
        let (_, volume) = swept(path);
        // A shell's stretch is told on its foot and crown, its channel moves with it: all of it keeps its volume.
        assert!(agree(volume, wanted, 1e-6), "{id}: {volume} for {wanted}");
        seen += 1;
    }
    // Finished, two parts as machined, five stages of two parts.
    assert_eq!(seen, 2 + 2 + 10, "{:?}", found.keys());
}

#[test]
fn figures_carry_their_deviations_and_the_names_are_escaped() {
    let svg = drawn(HOLLOW, &[]);
    let document = usvg::roxmltree::Document::parse(&svg).unwrap();
    let texts: Vec<&str> = document
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .filter_map(|node| node.text())
        .collect();
    for wanted in [
        "width 6 \u{B1} 0.02",
        "shell wall 0.5 \u{B1} 0.03",
        "bore \u{D8} 18",
        "outside \u{D8} 22",
        "sleeve 0.45",
    ] {
        assert!(texts.contains(&wanted), "{wanted} in {texts:?}");
    }
    assert!(
        texts
            .iter()
            .any(|text| text.contains("<b>bold</b> & \"quoted\"")),
        "{texts:?}"
    );
    // What is seen is said, and nothing is fetched.
    let root = document.root_element();
    assert_eq!(root.attribute("role"), Some("img"));
    for id in root.attribute("aria-labelledby").unwrap().split(' ') {
        let told = document
            .descendants()
            .find(|node| node.attribute("id") == Some(id))
            .unwrap();
        assert!(told.text().is_some_and(|text| text.len() > 10), "{id}");
    }
    for node in document.descendants() {
        for attribute in node.attributes() {
            let fetched = attribute.name().contains("href") || attribute.name() == "src";
            assert!(!fetched, "{attribute:?}");
        }
    }
    assert!(
        !svg.contains("url(http") && !svg.contains("@import"),
        "{svg}"
    );
}

/// A drawing without its dimensions: only sections are left.
fn alone(svg: &str) -> String {
    let beside = ["class=\"narrow\"", "class=\"word\"", "class=\"solid\""];
    let lines = svg
        .lines()
        .filter(|line| !beside.iter().any(|class| line.contains(class)));
    lines.map(|line| format!("{line}\n")).collect()
}

/// A drawing as pixels, so many to a millimetre of paper.
fn pixels(svg: &str, each: f32) -> tiny_skia::Pixmap {
    let tree = usvg::Tree::from_str(
        svg,
        &usvg::Options {
            dpi: 25.4,
            ..usvg::Options::default()
        },
    )
    .unwrap();
    let (wide, high) = (tree.size().width() * each, tree.size().height() * each);
    let mut map = tiny_skia::Pixmap::new(wide.ceil() as u32, high.ceil() as u32).unwrap();
    resvg::render(
        &tree,
        tiny_skia::Transform::from_scale(each, each),
        &mut map.as_mut(),
    );
    map
}

// The red of a section without its edge, in squares of a twentieth of a millimetre on paper.
#[test]
fn pixels_count_up_to_the_section_that_is_evaluated() {
    let whole = results(&read("examples/harvest.annulet"));
    let area = number(&whole, "harvest.section.area");
    for scale in [5.0, 10.0, 20.0] {
        let svg = drawn(
            &read("examples/harvest.annulet"),
            &["--scale", &scale.to_string(), "--view", "finished"],
        );
        let plain = svg.replace("url(#b1-finished-rising)", "#f00");
        let plain = plain.replace("class=\"metal\" stroke=\"#000\"", "stroke=\"none\"");
        assert!(!plain.contains("metal\""), "no edge is left");
        let plain = alone(&plain);
        let map = pixels(&plain, 20.0);
        let red: f64 = map
            .pixels()
            .iter()
            .map(|pixel| f64::from(pixel.alpha() - pixel.green()) / 255.0)
            .sum();
        let found = red / 400.0 / (scale * scale);
        assert!(agree(found, area, 3e-3), "{scale}: {found} for {area}");
    }
}

// Some readers of SVG know no style sheets: what they draw is the same.
#[test]
fn a_section_needs_no_style_sheet() {
    let svg = drawn(&read("examples/ferrule.annulet"), &["ferrule"]);
    let (before, rest) = svg.split_once("<style>").unwrap();
    let (_, behind) = rest.split_once("</style>").unwrap();
    let plain = format!("{before}{behind}");
    let (with, without) = (pixels(&svg, 4.0), pixels(&plain, 4.0));
    assert!(with.pixels() == without.pixels());
    assert!(with.pixels().iter().any(|pixel| pixel.green() < 100));
}

// In black and white: the outline is the widest dark line from face to face, as wide as stated, and shell and sleeve are
// hatched each its own way.
#[test]
fn a_section_is_as_wide_on_paper_as_its_scale_says() {
    let recipe =
        "band b { size 18 mm, width 6 mm, thickness 2 mm, profile flat, alloy silver-925 }";
    for scale in [4.0, 10.0] {
        let svg = drawn(recipe, &["--scale", &format!("{scale}:1")]);
        let map = pixels(&alone(&svg), 20.0);
        let row = |y: u32| {
            let mut dark = 0;
            let mut most = 0;
            for x in 0..map.width() {
                let is_dark = map.pixel(x, y).unwrap().green() < 100;
                dark = if is_dark { dark + 1 } else { 0 };
                most = most.max(dark);
            }
            most
        };
        let widest = (0..map.height()).map(row).max().unwrap();
        // The edge's line is 0.35 mm wide; joins are round.
        let wanted = 20.0 * (6.0 * scale + 0.35);
        assert!(
            (f64::from(widest) - wanted).abs() <= 3.0,
            "{widest} for {wanted}"
        );
    }
}
