//! Job sheets: what stands on them, in true size, and nothing that was not given.
//!
//! Weights are held against closed forms and what is evaluated, sizes against ISO 216 and the inch of 25.4 mm; the PDF is
//! read by its own operators (ISO 32000-1, 8.3.4 and 9.4.3), the HTML as XML.

use std::f64::consts::PI;

use resvg::usvg::roxmltree::{Document, ParsingOptions};

use crate::support::{agree, number, read, results, run};

fn html(call: &[&str], recipe: &str) -> String {
    let call = [&["sheet", "--html", "--in", "-"], call].concat();
    let ran = run(&call, recipe);
    assert!(ran.status < 2 && !ran.stdout.is_empty(), "{}", ran.stderr);
    ran.stdout
}

fn parsed(html: &str) -> Document<'_> {
    let options = ParsingOptions {
        allow_dtd: true,
        ..ParsingOptions::default()
    };
    Document::parse_with_options(html, options).unwrap_or_else(|error| panic!("{error}\n{html}"))
}

/// Label and text of every fact, and whether a box stands beside it.
fn facts(html: &str) -> Vec<(String, String, bool)> {
    let document = parsed(html);
    let rows = document
        .descendants()
        .filter(|node| node.has_tag_name("tr") || node.tag_name().name() == "tr");
    rows.filter_map(|row| {
        let cells: Vec<_> = row.children().filter(|node| node.is_element()).collect();
        let label = cells
            .first()
            .filter(|cell| cell.attribute("scope") == Some("row"))?;
        let text =
            |node: &resvg::usvg::roxmltree::Node<'_, '_>| node.text().unwrap_or("").to_owned();
        let boxed = cells
            .iter()
            .any(|cell| cell.attribute("class") == Some("box"));
        Some((text(label), text(&cells[1]), boxed))
    })
    .collect()
}

fn found<'a>(facts: &'a [(String, String, bool)], label: &str) -> &'a (String, String, bool) {
    facts
        .iter()
        .find(|fact| fact.0 == label)
        .unwrap_or_else(|| panic!("{label} in {facts:?}"))
}

fn grams(text: &str) -> f64 {
    text.trim_start_matches('\u{2248}')
        .trim()
        .trim_end_matches(" g")
        .parse()
        .unwrap()
}

#[test]
fn every_example_has_its_sheets_on_a_page_each() {
    for example in crate::support::files_under("examples", ".annulet") {
        let ran = run(&["sheet", "--html", "--in", &example], "");
        assert!(ran.status < 2, "{example}: {}", ran.stderr);
        let document = parsed(&ran.stdout);
        let machine: serde_json::Value =
            serde_json::from_str(&run(&["eval", "--json", &example], "").stdout).unwrap();
        let bands = machine["recipes"][0]["bands"].as_array().unwrap();
        let articles = document
            .descendants()
            .filter(|node| node.tag_name().name() == "article")
            .count();
        assert_eq!(articles, bands.len(), "{example}");
        for node in document.descendants() {
            assert!(
                !matches!(node.tag_name().name(), "script" | "link" | "img" | "iframe"),
                "{example}"
            );
            for attribute in node.attributes() {
                assert!(
                    !attribute.name().contains("href") && attribute.name() != "src",
                    "{attribute:?}"
                );
            }
        }
        let results = machine["recipes"][0]["results"].as_object().unwrap();
        let said = facts(&ran.stdout);
        for band in bands {
            let name = band["name"].as_str().unwrap();
            let display = results[&format!("{name}.weight")]["display"]
                .as_str()
                .unwrap();
            let weights = said.iter().filter(|fact| fact.0 == "finished");
            assert!(
                weights
                    .clone()
                    .any(|fact| fact.1.starts_with(display) && fact.2),
                "{example} {name} {display}"
            );
        }
    }
}

// A flat band with metal left on: pi/4 (outside^2 - bore^2) width, each with its layer, at 10.4 g/cm3.
#[test]
fn expected_weights_are_closed_forms() {
    let recipe = "alloy a { silver 1000, density 10.4 g/cm3 }
band b { size 18 mm, width 6 mm, thickness 2 mm, profile flat, alloy a, finish { bore 0.02 mm, outside 0.03 mm, faces 0.05 mm } }";
    let said = facts(&html(&[], recipe));
    let pipe = |outside: f64, bore: f64, width: f64| {
        PI / 4.0 * (outside * outside - bore * bore) * width * 0.0104
    };
    for (label, wanted) in [
        ("band turned", pipe(22.06, 17.96, 6.1)),
        ("finished", pipe(22.0, 18.0, 6.0)),
    ] {
        let (_, text, boxed) = found(&said, label);
        assert!(
            *boxed && (grams(text) - wanted).abs() <= 0.0005,
            "{label} {text} for {wanted}"
        );
    }
}

// Stretching keeps volume: without metal for finishing, parts weigh as machined what they weigh in the ring.
#[test]
fn parts_weigh_as_turned_what_they_weigh_in_the_ring() {
    let recipe = read("examples/latch.annulet");
    let machine = results(&recipe);
    let said = facts(&html(&[], &recipe));
    for part in ["shell", "sleeve"] {
        let (_, text, boxed) = found(&said, &format!("{part} turned"));
        let wanted = number(&machine, &format!("latch.{part}.weight"));
        assert!(
            *boxed && (grams(text) - wanted).abs() <= 0.001,
            "{text} for {wanted}"
        );
    }
    for (label, boxed) in [
        ("twist test", true),
        ("pull test", true),
        ("finished", true),
        ("pins", false),
    ] {
        assert_eq!(found(&said, label).2, boxed, "{label}");
    }
}

#[test]
fn a_sheet_bears_no_day_but_one_that_is_given() {
    let recipe = "band b { title \"<i>& so\", size 18 mm, width 6 mm, thickness 2 mm, profile flat, alloy silver-925 }";
    let plain = html(&[], recipe);
    assert!(
        plain.contains("no date given") && !plain.contains("202"),
        "{plain}"
    );
    assert!(
        plain.contains("&lt;i&gt;&amp; so") && !plain.contains("<i>"),
        "{plain}"
    );
    assert!(html(&["--on", "2026-11-25"], recipe).contains("as of 2026-11-25"));
    assert_eq!(plain, html(&[], recipe));
    // Other figures, another fingerprint; a comment changes none.
    let print = |page: &str| page.split("fingerprint ").nth(1).unwrap()[..14].to_owned();
    assert_ne!(
        print(&plain),
        print(&html(&["--set", "width=5.999 mm"], recipe))
    );
    assert_eq!(
        print(&plain),
        print(&html(&[], &format!("# a note\n{recipe}")))
    );
}

#[test]
fn price_stands_there_only_when_it_is_wanted() {
    let call = |more: &[&str]| {
        let call = [
            &[
                "sheet",
                "harvest-light",
                "--html",
                "--in",
                "examples/market-day.annulet",
            ],
            more,
        ]
        .concat();
        let ran = run(&call, "");
        assert!(ran.status < 2, "{}", ran.stderr);
        ran.stdout
    };
    let asked = run(
        &[
            "ask",
            "harvest-light.price",
            "--in",
            "examples/market-day.annulet",
        ],
        "",
    );
    let price = asked.stdout.trim().to_owned();
    assert!(!price.is_empty() && !call(&[]).contains(&price));
    assert_eq!(found(&facts(&call(&["--price"])), "price").1, price);
}

#[test]
fn an_order_has_a_page_for_each_of_its_lines() {
    let example = "examples/market-day.annulet";
    let machine: serde_json::Value =
        serde_json::from_str(&run(&["eval", "--json", example], "").stdout).unwrap();
    let order = &machine["recipes"][0]["orders"][0];
    let name = order["name"].as_str().unwrap();
    let ran = run(&["sheet", name, "--html", "--in", example], "");
    assert!(ran.status < 2, "{}", ran.stderr);
    let said = facts(&ran.stdout);
    let lines = said.iter().filter(|fact| fact.0 == "wanted").count();
    assert!(lines >= 2, "{said:?}");
    let document = parsed(&ran.stdout);
    assert_eq!(
        lines,
        document
            .descendants()
            .filter(|node| node.tag_name().name() == "article")
            .count()
    );
}

/// The page of a PDF as text, and the numbers in front of an operator.
fn pdf(call: &[&str]) -> (Vec<u8>, String) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("sheet.pdf");
    let call = [&["sheet", "--out", file.to_str().unwrap()], call].concat();
    let ran = run(&call, "");
    assert!(ran.status < 2, "{}", ran.stderr);
    let bytes = std::fs::read(&file).unwrap();
    let text: String = bytes.iter().map(|byte| char::from(*byte)).collect();
    let shown = text.split('\n').map(|line| {
        // What is not ASCII is shown by its bytes in hexadecimal.
        let digits = line
            .strip_prefix('<')
            .and_then(|line| line.strip_suffix("> Tj"));
        match digits {
            Some(digits) => {
                let byte =
                    |place: usize| u8::from_str_radix(&digits[place..place + 2], 16).unwrap();
                let letters = (0..digits.len())
                    .step_by(2)
                    .map(|place| char::from(byte(place)));
                format!("({}) Tj", letters.collect::<String>())
            }
            None => line.to_owned(),
        }
    });
    let text = shown.collect::<Vec<_>>().join("\n");
    (bytes, text)
}

#[test]
fn a_printed_sheet_is_of_true_size() {
    for (paper, width, height) in [("A4", 210.0, 297.0), ("Letter", 8.5 * 25.4, 11.0 * 25.4)] {
        let call = [
            "ferrule",
            "--paper",
            paper,
            "--in",
            "examples/ferrule.annulet",
        ];
        let (bytes, text) = pdf(&call);
        let boxed = text
            .split("/MediaBox [")
            .nth(1)
            .unwrap()
            .split(']')
            .next()
            .unwrap();
        let corners: Vec<f64> = boxed
            .split_whitespace()
            .map(|word| word.parse().unwrap())
            .collect();
        let points = 72.0 / 25.4;
        assert!((corners[2] / points - width).abs() < 0.01, "{corners:?}");
        assert!((corners[3] / points - height).abs() < 0.01, "{corners:?}");
        let matrices: Vec<Vec<f64>> = text
            .lines()
            .filter_map(|line| line.strip_suffix(" cm"))
            .map(|line| {
                line.split_whitespace()
                    .map(|word| word.parse().unwrap())
                    .collect()
            })
            .collect();
        assert!(agree(matrices[0][0], points, 1e-6), "{matrices:?}");
        // Each drawn view is to the scale that the drawing states, a whole number, and lies on the page.
        let scale = matrices[1][0];
        assert!(
            scale == scale.round() && text.contains(&format!("({scale}:1. Lengths")),
            "{scale}"
        );
        // A page's own matrix stands before what is on it.
        let views = matrices
            .iter()
            .filter(|matrix| !agree(matrix[0], points, 1e-6));
        for matrix in views {
            assert_eq!(matrix[0], scale);
            let (left, right) = (matrix[4] - 3.1 * scale, matrix[4] + 3.1 * scale);
            assert!(left > 0.0 && right < width, "{matrix:?}");
        }
        let pages = text.matches("/MediaBox").count();
        assert!(
            text.contains(&format!("page 1 of {pages})")) && pages == 1,
            "{pages}"
        );
        for words in [
            "18.007",
            "twist test",
            "fingerprint",
            "no date given",
            "to machine: sleeve",
        ] {
            assert!(text.contains(words), "{words}");
        }
        assert_eq!(bytes, pdf(&call).0);
    }
}

#[test]
fn sheets_that_cannot_be_meant_are_refused() {
    let example = "examples/ferrule.annulet";
    for (call, wanted) in [
        (&["ferule"][..], "did you mean `ferrule`"),
        (&["--out", "x.svg"], "the ending says the form"),
        (&["--html", "--out", "x.pdf"], "which one?"),
        (&["--paper", "A5"], "A5"),
    ] {
        let ran = run(&[&["sheet", "--in", example], call].concat(), "");
        assert_eq!((ran.status, ran.stdout.as_str()), (2, ""), "{call:?}");
        assert!(ran.stderr.contains(wanted), "{call:?} {}", ran.stderr);
    }
}

#[test]
fn a_drawn_pattern_comes_with_its_cutters_cuts_and_minutes() {
    let page = html(&["wicker"], &read("examples/wicker.annulet"));
    let facts = facts(&page);
    let cutter = &found(&facts, "cutter").1;
    for said in [
        "vee-90: vee",
        "angle 90 deg",
        "tip 0.05 mm",
        "feed 600 mm/min",
        "pass 0.15 mm",
    ] {
        assert!(cutter.contains(said), "{cutter}");
    }
    for (cut, said) in [
        ("path upward", "0.22 mm deep"),
        ("ring border", "0.15 mm deep"),
    ] {
        let cut = &found(&facts, cut).1;
        assert!(cut.starts_with("vee-90, ") && cut.contains(said), "{cut}");
    }
    // Twelve closed triangles: 3.1 mm, and twice the side from half of that across and 2.7 mm up.
    let side = (1.55_f64 * 1.55 + 2.7 * 2.7).sqrt();
    let long = 12.0 * (3.1 + 2.0 * side);
    let said = &found(&facts, "path upward").1;
    let length = said
        .split(", ")
        .find_map(|part| part.strip_suffix(" mm long in all"))
        .unwrap();
    let length: f64 = length
        .trim_start_matches('\u{2248}')
        .trim()
        .parse()
        .unwrap();
    assert!(agree(length, long, 1e-3), "{length} where {long} is due");
    assert!(
        found(&facts, "cutting time").1.contains(" min "),
        "{facts:?}"
    );
}
