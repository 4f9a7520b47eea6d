//! A batch of weighings: figures of single values on a control chart, drift, outliers, what a file may hold.
//!
//! Outside things: the constant d2 of published tables of control-chart constants (1.128 for samples of two; the limits
//! 2.660 times the mean moving range); least squares in closed form; figures by hand beside each row.

use annulet::evaluate::{D2, Tallied};
use serde_json::Value;

use crate::support::run_in;

#[test]
fn constants_are_those_of_published_tables() {
    assert_eq!(format!("{D2:.3}"), "1.128");
    assert_eq!(format!("{:.3}", 3.0 / D2), "2.659");
    assert!((3.0 / D2 - 2.660).abs() < 0.002);
    // The mean range of two normal values is 2 / sqrt(pi) standard deviations.
    assert!((D2 - 2.0 / std::f64::consts::PI.sqrt()).abs() < 1e-15);
}

#[test]
fn figures_are_those_by_hand() {
    // 1, 2, 3, 4, 10: mean 4, squares 9 + 4 + 1 + 0 + 36 = 50, deviation sqrt(50/4); neighbours 1, 1, 1, 6: 9/4.
    let found = Tallied::of(&[1.0, 2.0, 3.0, 4.0, 10.0], Some((2.0, 4.0))).unwrap();
    assert!((found.mean - 4.0).abs() < 1e-12);
    assert!((found.deviation - 12.5_f64.sqrt()).abs() < 1e-12);
    assert!((found.moving - 2.25).abs() < 1e-12);
    assert_eq!(found.within, Some(3));
    // Slope: sum of (x - 2)(y - 4) / 10 = (6 + 2 + 0 + 0 + 12) / 10 = 2.
    assert!((found.drift - 2.0).abs() < 1e-12);
    // What is left: 1, 0, -1, -2, 2: squares 10; sqrt(10 / 3 / 10).
    assert!((found.drift_error.unwrap() - (1.0_f64 / 3.0).sqrt()).abs() < 1e-12);
    assert!(found.drifts());
    // 4 + 2.66 * 2.25 = 9.98: the last lies beyond.
    assert_eq!(found.outliers, [4]);
    assert!(Tallied::of(&[1.0], None).is_none());
    // One far from a steady row lies beyond; eight on one side are a run.
    let mut row = vec![
        4.0, 4.01, 4.0, 4.01, 4.0, 4.01, 4.0, 4.01, 4.0, 4.01, 4.0, 4.01, 4.3,
    ];
    row.extend([4.0, 4.01, 4.0, 4.01, 4.0, 4.01, 4.0, 4.01]);
    let found = Tallied::of(&row, None).unwrap();
    assert_eq!(found.outliers, [12]);
    assert_eq!(found.runs, [7, 20]);
}

const RING: &str = "band b { size 16 mm, width 5 \u{B1} 0.05 mm, thickness 2 mm, profile flat, alloy silver-925 }\n";

fn tally(csv: &str, words: &[&str]) -> crate::support::Ran {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("ring.annulet"), RING).unwrap();
    std::fs::write(folder.path().join("rings.csv"), csv).unwrap();
    let arguments = [&["tally", "rings.csv", "--in", "ring.annulet"], words].concat();
    run_in(folder.path(), &arguments, b"")
}

#[test]
fn a_file_of_weighings_is_held_against_the_recipe() {
    let csv = "ring,weight\n1,5.85\n2,5.87\n3,5.84 g\n4,5.95\n";
    let ran = tally(csv, &["--json"]);
    assert_eq!(ran.status, 1, "{}", ran.stderr);
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    let found = &json["recipes"][0]["tallies"][0];
    assert_eq!(found["readings"][3]["line"], 5);
    assert_eq!(found["within"], 3);
    assert!((found["mean"].as_f64().unwrap() - 5.8775).abs() < 1e-12);
    // The width may be off by 1 %, and the weight with it.
    let (least, expected) = (
        found["least"].as_f64().unwrap(),
        found["expected"].as_f64().unwrap(),
    );
    assert!((least / expected - 0.99).abs() < 1e-9);
    let page = tally(csv, &["--least", "5 g", "--most", "6 g"]);
    assert_eq!(page.status, 0, "{}{}", page.stdout, page.stderr);
    for said in [
        "mean        5.877 g",
        "4 of 4 (100.0 %)",
        "\u{25CF}",
        "\u{250A}",
    ] {
        assert!(page.stdout.contains(said), "{said}\n{}", page.stdout);
    }
    // One column needs no heading, and one that is named is taken.
    assert_eq!(tally("5.85\n5.86\n", &[]).status, 0);
    assert_eq!(tally("a,b\n1,5.85\n2,5.86\n", &["--column", "b"]).status, 0);
}

#[test]
fn what_is_no_weighing_is_told_with_its_line() {
    for (csv, words, said) in [
        (
            "weight\n5.85\n4,34\nfive\n",
            &[][..],
            "rings.csv:4: `five` is no weight in grams",
        ),
        ("ring,mass\n1,5.85\n", &[], "no column is called `weight`"),
        ("1,5.85\n2,5.86\n", &[], "which of 2 columns?"),
        ("weight\n5.85\n", &[], "two readings at least"),
        ("weight\n5.85\n-1\n", &[], "`-1` is no weight"),
        (
            "5.85\n5.86\n",
            &["--least", "5 mm"],
            "`--least 5 mm` is no weight",
        ),
        ("5.85\n5.86\n", &["--column", "x"], "no line of headings"),
    ] {
        let ran = tally(csv, words);
        assert_eq!(ran.status, 2, "{csv}{}", ran.stdout);
        assert!(
            ran.stderr.replace("\n  ", " ").contains(said),
            "{csv}{}",
            ran.stderr
        );
    }
    let ran = run_in(std::path::Path::new("/"), &["tally", "no-such.csv"], b"");
    assert_eq!(ran.status, 2);
}

#[test]
fn a_chart_keeps_to_the_page_and_the_bench_draws_it_too() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    std::fs::write(path("ring.annulet"), RING).unwrap();
    std::fs::write(
        path("rings.csv"),
        "ring,weight\n1,5.85\n2,5.87\n3,5.84\n4,5.85\n5,5.86\n6,6.30\n",
    )
    .unwrap();
    for columns in [40, 80, 200] {
        let ran = crate::support::run_wide(
            &["tally", &path("rings.csv"), "--in", &path("ring.annulet")],
            columns,
        );
        let widest = ran
            .stdout
            .lines()
            .map(|line| line.chars().count())
            .max()
            .unwrap();
        assert!(
            widest <= columns && widest > columns.min(80) / 2,
            "{columns}: {widest}\n{}",
            ran.stdout
        );
        assert_eq!(ran.stdout.matches('\u{25CF}').count(), 7, "{}", ran.stdout);
    }
    let typed = format!("tally {} least 5.8 g most 5.9 g\n", path("rings.csv"));
    let ran = crate::support::run(&["bench", &path("ring.annulet")], &typed);
    assert!(
        ran.stdout.contains("5 of 6 (83.3 %)"),
        "{}{}",
        ran.stdout,
        ran.stderr
    );
    let typed = format!("tally {} fewest 5.8 g\n", path("rings.csv"));
    let ran = crate::support::run(&["bench", &path("ring.annulet")], &typed);
    assert!(ran.stderr.contains("knows no `fewest`"), "{}", ran.stderr);
    let typed = format!("tally {} least 2.7 dwt\n", path("rings.csv"));
    let ran = crate::support::run(&["bench", &path("ring.annulet")], &typed);
    let said = "`least 2.7 dwt` is no weight in grams; write it as in `least 4.27 g`";
    assert!(ran.stderr.contains(said), "{}", ran.stderr);
}
