//! Plots as SVG, read back: where points lie, what is told apart, that they say what they are.
//!
//! Outside things: the weight of a flat band by the closed form of a pipe, pi times density, width and the difference of
//! squared radii, with the density of the alloy table; proportions of lengths read from the file by an XML library.
//! Rendered in a browser and looked at by hand.

use std::f64::consts::PI;

use roxmltree::{Document, Node};

use crate::support::{agree, read, run};

const RECIPE: &str = "band b {\n  size 18 mm\n  width 5 mm\n  thickness 2 mm\n  profile flat\n  alloy sterling\n  limit { wall 1.2 mm }\n}\n";

/// What a call prints, its status, and the plot that it draws.
fn drawn(arguments: &[&str]) -> (String, i32, String) {
    let folder = tempfile::tempdir().unwrap();
    let (recipe, plot) = (folder.path().join("r.annulet"), folder.path().join("p.svg"));
    std::fs::write(&recipe, RECIPE).unwrap();
    let mut all = arguments.to_vec();
    let (recipe, file) = (recipe.to_str().unwrap(), plot.to_str().unwrap());
    all.extend(["--in", recipe, "--plot", file]);
    let ran = run(&all, "");
    let text = std::fs::read_to_string(&plot).unwrap_or_default();
    (ran.stdout + &ran.stderr, ran.status, text)
}

fn number(node: &Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).unwrap().parse().unwrap()
}

fn elements<'a>(document: &'a Document<'a>, name: &str) -> Vec<Node<'a, 'a>> {
    let all = document.descendants();
    all.filter(|node| node.has_tag_name(name)).collect()
}

type Places = Vec<(f64, f64)>;

/// The centres of filled circles (points) and of open ones (marks).
fn circles(document: &Document<'_>) -> (Places, Places) {
    let all = elements(document, "circle");
    let at = |node: &Node<'_, '_>| (number(node, "cx"), number(node, "cy"));
    let is_open = |node: &Node<'_, '_>| node.attribute("fill") == Some("none");
    let (open, filled): (Vec<_>, Vec<_>) = all.into_iter().partition(is_open);
    (
        filled.iter().map(at).collect(),
        open.iter().map(at).collect(),
    )
}

/// The weight of a pipe in sterling silver (10.36 g/cm3, the density of the alloy table), in g.
fn pipe(thickness: f64, width: f64) -> f64 {
    let (inner, outer) = (9.0, 9.0 + thickness);
    PI * (outer * outer - inner * inner) * width * 10.36e-3
}

#[test]
fn points_lie_where_the_closed_form_has_them() {
    let call = ["sweep", "thickness 1 mm .. 3 mm by 0.25 mm", "plot weight"];
    let (said, status, text) = drawn(&call);
    assert_eq!(status, 0, "{said}");
    let document = Document::parse(&text).unwrap();
    let (points, marks) = circles(&document);
    // The first, at 1 mm, is under the least wall, and is crossed.
    let thick: Vec<f64> = (1..9).map(|step| 1.0 + 0.25 * f64::from(step)).collect();
    assert_eq!(points.len(), thick.len());
    let (first, last) = (points[0], points[points.len() - 1]);
    let ends = (pipe(1.25, 5.0), pipe(3.0, 5.0));
    for ((x, y), thickness) in points.iter().zip(&thick) {
        let along = (thickness - 1.25) / 1.75;
        let up = (pipe(*thickness, 5.0) - ends.0) / (ends.1 - ends.0);
        // Places are whole units of the drawing, of which the axes have hundreds.
        let off = (
            x - first.0 - along * (last.0 - first.0),
            y - first.1 - up * (last.1 - first.1),
        );
        assert!(
            off.0.abs() <= 1.0 && off.1.abs() <= 1.0,
            "{thickness} mm: {off:?}"
        );
    }
    // The recipe is 2 mm thick.
    assert_eq!(marks, [points[3]]);
}

#[test]
fn what_falls_short_is_crossed_and_what_holds_is_shaded() {
    let call = [
        "sweep",
        "thickness 1 mm .. 1.5 mm by 0.05 mm",
        "show weight, holds",
    ];
    let (said, status, text) = drawn(&call);
    assert_eq!(status, 0, "{said}");
    let document = Document::parse(&text).unwrap();
    let (points, marks) = circles(&document);
    // 1.2 mm and above: seven of eleven; the recipe's 2 mm lie beyond.
    assert_eq!((points.len(), marks.len()), (7, 0));
    let rectangles = elements(&document, "rect");
    let is_shade = |node: &&Node<'_, '_>| node.attribute("fill") == Some("#E2ECE2");
    let shaded: Vec<_> = rectangles.iter().filter(is_shade).collect();
    assert_eq!(shaded.len(), 1);
    let (from, wide) = (number(shaded[0], "x"), number(shaded[0], "width"));
    let step = points[1].0 - points[0].0;
    assert!((points[0].0 - from - step / 2.0).abs() <= 1.5);
    assert!((from + wide - points[6].0).abs() <= 1.5);
    assert!(text.contains("crosses: a limit falls short"));
}

#[test]
fn nothing_is_drawn_over_what_is_left_out() {
    let call = [
        "sweep",
        "thickness [1.5 mm, 1.6 mm, 1.7 mm, 1.8 mm, 1.9 mm]",
        "show weight, holds where thickness != 1.7 mm",
    ];
    let (said, status, text) = drawn(&call);
    assert_eq!(status, 0, "{said}");
    let document = Document::parse(&text).unwrap();
    let (points, _) = circles(&document);
    assert_eq!(points.len(), 4);
    let hole = f64::midpoint(points[1].0, points[2].0);
    let rectangles = elements(&document, "rect");
    let is_shade = |node: &&Node<'_, '_>| node.attribute("fill") == Some("#E2ECE2");
    let shaded: Vec<_> = rectangles.iter().filter(is_shade).collect();
    assert_eq!(shaded.len(), 2);
    for one in shaded {
        let (from, wide) = (number(one, "x"), number(one, "width"));
        assert!(hole < from || from + wide < hole);
    }
    let lines = elements(&document, "polyline");
    let thin = lines
        .iter()
        .filter(|line| line.attribute("stroke") == Some("#000000"));
    for line in thin.filter(|line| line.attribute("points").unwrap().trim().contains(' ')) {
        let places = line.attribute("points").unwrap().split_whitespace();
        let across: Vec<f64> = places
            .map(|at| at.split(',').next().unwrap().parse().unwrap())
            .collect();
        let upward = across.windows(2).all(|pair| pair[0] == pair[1]);
        let is_axis = across.len() == 2 && (upward || across[1] - across[0] > 300.0);
        let over = across.iter().any(|x| *x < hole) && across.iter().any(|x| *x > hole);
        assert!(is_axis || !over, "{across:?}");
    }
}

#[test]
fn a_map_has_a_cell_for_each_pair_and_grows_dark_with_the_figure() {
    let call = [
        "sweep",
        "thickness 1 mm .. 2 mm by 0.5 mm",
        "width [4 mm, 5 mm]",
        "plot weight",
    ];
    let (said, status, text) = drawn(&call);
    assert_eq!(status, 0, "{said}");
    let document = Document::parse(&text).unwrap();
    let level = |node: &Node<'_, '_>| {
        let fill = node.attribute("fill")?;
        if fill == "none" || fill == "#FFFFFF" {
            return None;
        }
        let part = |at: usize| i64::from_str_radix(&fill[at..at + 2], 16).unwrap();
        assert!(part(1) == part(3) && part(3) == part(5), "{fill}");
        Some(part(1))
    };
    let rectangles = elements(&document, "rect");
    let cells: Vec<i64> = rectangles.iter().filter_map(level).collect();
    let pairs = [1.0, 1.5, 2.0].map(|thickness| [4.0, 5.0].map(|width| pipe(thickness, width)));
    let weights: Vec<f64> = pairs.into_iter().flatten().collect();
    assert_eq!(cells.len(), weights.len(), "{cells:?}");
    for (cell, weight) in cells.iter().zip(&weights) {
        let part = (weight - weights[0]) / (weights[5] - weights[0]);
        let wanted = 245.0 - (245.0 - 90.0) * part;
        assert!(
            (*cell as f64 - wanted).abs() <= 1.0,
            "{cell} where {wanted} is due"
        );
    }
    assert!(text.contains("framed: the recipe as it stands"));
}

#[test]
fn what_one_aim_costs_of_the_other_and_sizes_are_drawn_too() {
    let call = [
        "choose",
        "thickness 1.2 mm .. 2 mm",
        "width 4 mm .. 6 mm",
        "least weight where thickness >= 1.2 mm against most width",
    ];
    let (said, status, text) = drawn(&call);
    assert_eq!(status, 0, "{said}");
    let document = Document::parse(&text).unwrap();
    let (points, marks) = circles(&document);
    assert!(points.len() > 3);
    // The least thickness at each width: the weight is linear in it.
    let (first, last) = (points[0], points[points.len() - 1]);
    for (x, y) in &points {
        let part = (x - first.0) / (last.0 - first.0);
        let off = y - first.1 - part * (last.1 - first.1);
        assert!(off.abs() <= 1.5, "{points:?}");
    }
    assert_eq!(marks, [first]);
    assert!(said.contains("weight g\n"), "{said}");

    let (said, status, text) = drawn(&["run", "b", "--sizes", "16 mm .. 20 mm by 1 mm"]);
    assert_eq!(status, 0, "{said}");
    let document = Document::parse(&text).unwrap();
    let (points, marks) = circles(&document);
    assert_eq!(points.len(), 5);
    assert_eq!(marks, [points[2]]);
    // With the thickness given the weight is linear in the inside diameter.
    let steps: Vec<f64> = points
        .windows(2)
        .map(|pair| pair[0].1 - pair[1].1)
        .collect();
    let same = steps.iter().all(|step| (step - steps[0]).abs() <= 1.0);
    assert!(same, "{steps:?}");
}

#[test]
fn a_plot_says_what_it_is_and_is_the_same_on_every_run() {
    let call = ["sweep", "thickness 1 mm .. 2 mm by 0.25 mm", "plot weight"];
    let (_, _, text) = drawn(&call);
    let document = Document::parse(&text).unwrap();
    let root = document.root_element();
    assert_eq!(root.attribute("role"), Some("img"));
    let named = root.attribute("aria-labelledby").unwrap();
    let said = |name: &str| {
        let node = root.children().find(|node| node.has_tag_name(name));
        let node = node.unwrap();
        assert!(named.contains(node.attribute("id").unwrap()));
        node.text().unwrap().to_owned()
    };
    assert_eq!(said("title"), "weight, g over thickness, mm");
    assert!(
        said("desc").contains("from 1 mm to 2 mm"),
        "{}",
        said("desc")
    );
    assert!(!text.contains("href") && !text.contains("url("));
    assert_eq!(drawn(&call).2, text);
    let options = resvg::usvg::Options::default();
    let tree = resvg::usvg::Tree::from_str(&text, &options).unwrap();
    assert!(agree(f64::from(tree.size().width()), 760.0, 1e-6));
}

#[test]
fn what_cannot_be_plotted_is_said() {
    let three = [
        "sweep",
        "thickness 1 mm .. 2 mm by 0.5 mm",
        "width [4 mm, 5 mm]",
        "size [17 mm, 18 mm]",
    ];
    let alone = [
        "choose",
        "thickness 1.2 mm .. 2 mm",
        "least weight where thickness >= 1 mm",
    ];
    let rows = ["sweep", "thickness 1 mm .. 2 mm by 0.5 mm", "--csv"];
    for (call, said) in [
        (&three[..], "there is nothing to plot"),
        (
            &alone[..],
            "`against most PATH` says what the aim is drawn over",
        ),
        (&rows[..], "cannot be used with"),
    ] {
        let (found, status, text) = drawn(call);
        assert_eq!(status, 2, "{found}");
        assert!(found.contains(said), "{found}");
        assert_eq!(text, "");
    }
    // Where nothing keeps the limits, that is the answer.
    let (found, status, text) = drawn(&[
        "choose",
        "thickness 1.2 mm .. 2 mm",
        "least weight where weight <= 1 g against most width",
    ]);
    assert_eq!(status, 3, "{found}");
    assert!(found.contains("nothing is plotted"), "{found}");
    assert_eq!(text, "");
    let call = [
        "run",
        "harvest",
        "--sizes",
        "ISO 54",
        "--in",
        "examples/market-day.annulet",
        "--plot",
        "p.png",
    ];
    let ran = run(&call, "");
    assert_eq!(ran.status, 2);
    let said = ran.stderr;
    assert!(
        said.contains("the ending says the form") && said.contains(".svg"),
        "{said}"
    );
}

/// The pictures of the guide are what the program draws.
#[test]
fn the_pictures_of_the_guide_are_those_that_the_program_draws() {
    let guide = read("examples/guide.md");
    let harvest = "examples/market-day.annulet";
    let strip = |band: &str| {
        let recipe = format!("examples/{band}.annulet");
        let call = ["strip", band, "--in", &recipe].map(str::to_owned);
        (format!("{band}-strip"), call.to_vec())
    };
    let section = ["section", "harvest-light", "solid", "--in", harvest].map(str::to_owned);
    let drawn = ["wicker", "millpond", "trellis", "haystack", "reedbed"].map(strip);
    let all = drawn
        .into_iter()
        .chain([("harvest-light-section".to_owned(), section.to_vec())]);
    for (picture, call) in all {
        let call: Vec<&str> = call.iter().map(String::as_str).collect();
        let ran = run(&call, "");
        assert_eq!(ran.status, 0, "{}", ran.stderr);
        assert!(guide.contains(&format!("(pictures/{picture}.svg)")));
        assert_eq!(
            read(&format!("examples/pictures/{picture}.svg")),
            ran.stdout,
            "{picture}"
        );
    }
    let folder = tempfile::tempdir().unwrap();
    let plot = folder.path().join("p.svg");
    let call = [
        "sweep",
        "shell 0.45 mm .. 0.60 mm by 0.01 mm",
        "plot weight",
        "--band",
        "harvest-light",
        "--in",
        harvest,
        "--plot",
        plot.to_str().unwrap(),
    ];
    assert_eq!(run(&call, "").status, 0);
    assert!(guide.contains("(pictures/harvest-light-weight.svg)"));
    let kept = read("examples/pictures/harvest-light-weight.svg");
    assert_eq!(kept, std::fs::read_to_string(&plot).unwrap());
}

/// Where along the axis each point of a curve in characters stands, from the left.
fn columns(drawn: &str) -> Vec<usize> {
    let lines = drawn.lines().filter_map(|line| line.split_once('\u{2502}'));
    let mut found: Vec<usize> = lines
        .flat_map(|(_, cells)| {
            let cells = cells.chars().enumerate();
            cells
                .filter(|(_, cell)| *cell == '\u{2022}')
                .map(|(at, _)| at)
                .collect::<Vec<_>>()
        })
        .collect();
    found.sort_unstable();
    found
}

#[test]
fn a_list_of_numbers_is_drawn_to_scale_in_any_order() {
    let recipe = crate::support::band_with(&[]);
    let drawn = |list: &str| {
        let sweep = format!("width [{list}] plot weight");
        let ran = run(&["sweep", &sweep, "--in", "-"], &recipe);
        assert_eq!(ran.status, 0, "{}", ran.stderr);
        columns(&ran.stdout)
    };
    let found = drawn("3 mm, 4 mm, 13 mm");
    let [first, second, last] = found.as_slice() else {
        panic!("{found:?}");
    };
    // A tenth of the way, within a column.
    let tenth = (last - first) as f64 / 10.0;
    assert!(((second - first) as f64 - tenth).abs() < 1.0, "{found:?}");
    assert_eq!(found, drawn("13 mm, 3 mm, 4 mm"));
}
