//! Read at a glance: what `eval` prints fits the screen that it is printed on, whole words and whole tables.
//! Held against the acceptance list, points 47 and 48.

use std::collections::BTreeSet;

use annulet::source::cells;

use crate::support::{Ran, files_under, run, run_wide};

/// Widths of terminals that are tried.
const WIDTHS: [usize; 5] = [40, 60, 80, 100, 200];

/// Lines and columns of the smallest screen that a card is made for.
const SCREEN: (usize, usize) = (24, 80);

fn shown(arguments: &[&str], columns: usize) -> Ran {
    let ran = run_wide(arguments, columns);
    assert!(ran.status < 2, "{arguments:?}\n{}", ran.stderr);
    ran
}

/// Lines that no terminal of that width holds whole; a word that is longer than any line has one of its own.
fn too_long(text: &str, columns: usize) -> Vec<&str> {
    text.lines()
        .filter(|line| cells(line) > columns && line.split_whitespace().count() > 1)
        .collect()
}

/// The words and figures of a text, without what stands around them.
fn words(text: &str) -> BTreeSet<&str> {
    let around = |c: char| !c.is_alphanumeric();
    let all = text
        .split_whitespace()
        .map(|word| word.trim_matches(around));
    all.filter(|word| !word.is_empty()).collect()
}

#[test]
fn a_report_fits_the_terminal_and_breaks_no_word() {
    for example in files_under("examples", ".annulet") {
        for extent in [&["eval"][..], &["eval", "--full"]] {
            let call = [extent, &[example.as_str()]].concat();
            let wide = shown(&call, 200).stdout;
            let known = words(&wide);
            for columns in WIDTHS {
                let text = shown(&call, columns).stdout;
                let long = too_long(&text, columns);
                assert!(
                    long.is_empty(),
                    "{call:?} at {columns}\n{}",
                    long.join("\n")
                );
                for word in words(&text) {
                    // A narrow page says the heads of a table in each line.
                    let said = known.contains(word)
                        || ["issued", "finished", "recovered", "lost", "mandrel", "released"]
                            .contains(&word)
                        || ["opened", "sizes", "heights", "not", "to", "scale"].contains(&word)
                        // Heights are drawn otherwise where there are fewer columns.
                        || word.parse::<f64>().is_ok();
                    assert!(said, "{call:?} at {columns}: {word}\n{text}");
                }
            }
        }
    }
}

#[test]
fn the_figures_of_a_report_are_the_same_at_every_width() {
    let figures = |text: &str| -> BTreeSet<String> {
        let words = words(text);
        let scale = text.lines().filter_map(|line| line.split('\u{D7}').nth(1));
        let scale: Vec<&str> = scale.map(str::trim).collect();
        words
            .iter()
            .filter(|word| word.parse::<f64>().is_ok() && !scale.contains(word))
            .map(|word| (*word).to_owned())
            .collect()
    };
    for example in files_under("examples", ".annulet") {
        let call = ["eval", "--full", &example];
        let wide = figures(&shown(&call, 200).stdout);
        for columns in WIDTHS {
            let found = figures(&shown(&call, columns).stdout);
            let missing: Vec<&String> = wide.difference(&found).collect();
            assert!(missing.is_empty(), "{example} at {columns}: {missing:?}");
        }
    }
}

#[test]
fn a_card_fits_one_screen() {
    for example in files_under("examples", ".annulet") {
        let text = shown(&["eval", &example], SCREEN.1).stdout;
        // Cards are parted by an empty line; behind them stand orders, requirements, and what closes the run.
        let mut blocks: Vec<&str> = text.split("\n\n").collect();
        let closing = blocks.pop().unwrap_or("").lines().count();
        for card in blocks {
            let lines = card.lines().count() + 1 + closing;
            // The last line of the screen is the prompt's.
            assert!(lines < SCREEN.0, "{example}: {lines} lines\n{card}");
        }
    }
}

#[test]
fn every_part_of_a_report_can_be_asked_for_and_is_part_of_the_whole() {
    use annulet::report::ReportPart;
    let example = "examples/market-day.annulet";
    let whole = shown(&["eval", "--full", example], 80).stdout;
    let mut found = 0;
    for example in [
        example,
        "examples/cartwheel.annulet",
        "examples/ferrule.annulet",
    ] {
        let whole = shown(&["eval", "--full", example], 80).stdout;
        for (word, _) in ReportPart::ALL {
            let part = shown(&["eval", "--part", word, example], 80).stdout;
            for line in part.lines() {
                found += 1;
                assert!(whole.contains(line), "{example}: {word}: {line}");
            }
        }
    }
    assert!(found > 300);
    let money = shown(&["eval", "--part", "money", example], 80).stdout;
    assert!(money.contains("cost of one ring") && !money.contains("fineness"));
    assert!(money.len() < whole.len() / 2);
    let nothing = run(&["eval", "--part", "grip", "examples/harvest.annulet"], "");
    assert_eq!((nothing.status, nothing.stdout.as_str()), (0, ""));
    assert!(nothing.stderr.contains("no band has anything of `grip`"));
    let unknown = run(&["eval", "--part", "gripp", "examples/harvest.annulet"], "");
    assert_eq!(unknown.status, 2);
    assert!(unknown.stderr.contains("grip"), "{}", unknown.stderr);
}

#[test]
fn cautions_are_told_once_a_run_and_in_full_where_they_are_asked_for() {
    use annulet::evaluate::CAUTIONS;
    let examples = ["examples/market-day.annulet", "examples/ferrule.annulet"];
    let full = shown(&["eval", "--full", examples[0], examples[1]], 80).stdout;
    let full: String = full.split_whitespace().collect::<Vec<_>>().join(" ");
    let card = shown(&["eval", examples[0], examples[1]], 80).stdout;
    let card: String = card.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut told = 0;
    for caution in CAUTIONS {
        let times = full.matches(caution.text).count();
        // Who decides is said behind old metal too.
        assert!(
            times < 2 || caution.name == "who-decides",
            "{}: {times}",
            caution.name
        );
        if times == 1 && caution.name != "who-decides" {
            told += 1;
            assert!(card.contains(caution.title), "{}\n{card}", caution.title);
        }
    }
    assert!(told > 5);
    assert_eq!(card.matches("take care").count(), 1);
}

#[test]
fn what_falls_short_stands_first_and_in_words() {
    let recipe =
        "band b { size 17 mm, width 5 mm, thickness 0.15 mm, profile flat, alloy sterling }\n";
    let ran = run(&["eval", "-"], recipe);
    assert_eq!(ran.status, 1);
    let place = |text: &str| {
        ran.stdout
            .find(text)
            .unwrap_or_else(|| panic!("{text}\n{}", ran.stdout))
    };
    assert!(place("short") < place("weight"));
    assert!(!ran.stdout.contains("holds"));
}

#[test]
fn a_section_shows_ridge_lip_cut_and_diameters() {
    let text = run(&["eval", "examples/latch.annulet"], "").stdout;
    for wanted in [
        "\u{25BC} lip",
        "\u{2593} sleeve",
        "lips \u{D8}",
        "bore \u{D8}",
    ] {
        assert!(text.contains(wanted), "{wanted}\n{text}");
    }
    let cut = run(&["eval", "examples/harvest.annulet"], "").stdout;
    assert!(
        cut.contains("\u{2591} cut") && cut.contains("cut 0.3 mm deep"),
        "{cut}"
    );
    let ridge = run(&["eval", "examples/ferrule.annulet"], "").stdout;
    let drawn = ridge
        .lines()
        .filter(|line| line.trim_start().starts_with('\u{2588}'));
    assert!(
        drawn.into_iter().any(|line| line.contains('\u{25B2}')),
        "{ridge}"
    );
    assert!(ridge.contains("ridge \u{D8}"));
}
