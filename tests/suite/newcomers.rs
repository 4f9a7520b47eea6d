//! Three tasks of somebody new at the bench, as they would be typed: a hollow ring of one's own, what it costs, and a
//! what-if that is kept as a variant. How many lines each takes is held. Beside them: what the help shows to be
//! copied runs, and the words of the bench that serve such tasks do what they say.

use annulet::bench::{Bench, NoFiles, Reply, find};

use crate::support::{agree, number, read, results};

fn fresh() -> Bench {
    Bench::new(Box::new(NoFiles), None)
}

/// Types lines, none of which may be refused; the last reply.
fn typed(bench: &mut Bench, lines: &[&str]) -> String {
    let mut last = Reply::default();
    for line in lines {
        last = bench.step(line);
        let findings: Vec<String> = last.findings.iter().map(|one| one.message()).collect();
        assert!(!last.refused, "{line}\n{findings:?}\n{:?}", last.complaint);
    }
    last.text
}

/// Blocks that a help shows to be copied, each as it would be pasted.
fn blocks(topic: &str) -> Vec<String> {
    let help = fresh().step(&format!("help {topic}")).text;
    let mut blocks: Vec<String> = Vec::new();
    let mut inside = false;
    for line in help.lines() {
        let shown = line.strip_prefix("  ");
        match (shown, inside) {
            (Some(line), true) => *blocks.last_mut().unwrap() += &format!("\n{line}"),
            (Some(line), false) => blocks.push(line.to_owned()),
            (None, _) => {}
        }
        inside = shown.is_some();
    }
    blocks
}

/// The first task.
const HOLLOW: &[&str] = &[
    "band mine { size US 7, width 5 mm, thickness 1.6 mm, profile flat }",
    "alloy yellow-750",
    "hollow { shell 0.5 mm, sleeve 0.35 mm, ridge 0.12 mm { wide 0.4 mm } }",
    "saving",
    "eval machining",
];

#[test]
fn a_hollow_ring_of_ones_own_takes_five_lines() {
    let mut bench = fresh();
    let missing = typed(&mut bench, &HOLLOW[..1]);
    assert!(
        missing.contains("still missing: band `mine` lacks `alloy`"),
        "{missing}"
    );
    let asked = bench.step("weight");
    assert_eq!(
        asked.complaint.as_deref(),
        Some("still to be given: band `mine` lacks `alloy`")
    );
    let machining = typed(&mut bench, &HOLLOW[1..]);
    assert!(machining.contains("to machine: sleeve"), "{machining}");
    // The same text through the command line comes to the same.
    let found = results(bench.text());
    let saving = number(&found, "mine.saving");
    let (weight, solid) = (
        number(&found, "mine.weight"),
        number(&found, "mine.solid.weight"),
    );
    assert!(agree(saving, 1.0 - weight / solid, 1e-12));
    let said = typed(&mut bench, &["saving"]);
    assert_eq!(said.trim(), format!("\u{2248} {:.2} %", saving * 100.0));
    assert_eq!(HOLLOW.len(), 5);
}

#[test]
fn its_cost_takes_the_blocks_of_the_help_and_one_question() {
    let mut bench = fresh();
    typed(&mut bench, &HOLLOW[..3]);
    let asked = bench.step("cost");
    let help = asked
        .findings
        .iter()
        .find_map(|one| one.help())
        .unwrap_or_default();
    assert!(help.contains("write a `prices {"), "{help}");
    let pasted = blocks("prices");
    assert_eq!(pasted.len(), 1, "{pasted:?}");
    assert!(pasted[0].lines().count() <= 12);
    assert!(!bench.step(&pasted[0]).refused);
    let cost = typed(&mut bench, &["cost"]);
    assert!(cost.trim().ends_with(" EUR"), "{cost}");
    let price = typed(&mut bench, &["price"]);
    // By hand: cost plus 90 % of it, rounded to a cent, halves to even.
    let amount = |text: &str| text.trim().trim_end_matches(" EUR").parse::<f64>().unwrap();
    assert!(
        (amount(&price) - amount(&cost) * 1.9).abs() < 0.006,
        "{cost} {price}"
    );
    let money = typed(&mut bench, &["eval money"]);
    assert!(
        money.contains("cost plus 90 %") && money.contains("metal"),
        "{money}"
    );
}

#[test]
fn a_what_if_is_kept_as_a_variant_with_two_lines() {
    let mut bench = fresh();
    typed(&mut bench, &HOLLOW[..3]);
    let before = typed(&mut bench, &["weight"]);
    typed(&mut bench, &["try width 6 mm", "keep as mine-wide"]);
    assert!(
        bench.text().contains("variant mine-wide of mine {"),
        "{}",
        bench.text()
    );
    assert_eq!(typed(&mut bench, &["mine.weight"]), before);
    let found = results(bench.text());
    assert!(number(&found, "mine-wide.weight") > number(&found, "mine.weight"));
    assert_eq!(bench.tries(), 0);
    let compared = typed(&mut bench, &["compare mine mine-wide"]);
    assert!(
        compared.contains("width") && compared.contains("more are the same in all"),
        "{compared}"
    );
    // One step leads back to the open try.
    typed(&mut bench, &["undo"]);
    assert_eq!(bench.tries(), 1);
    assert!(!bench.text().contains("variant"));
}

#[test]
fn the_help_on_hollow_and_stretch_shows_what_runs() {
    let mut bench = fresh();
    typed(&mut bench, &HOLLOW[..2]);
    for block in blocks("hollow") {
        assert!(!bench.step(&block).refused, "{block}");
    }
    assert!(typed(&mut bench, &["saving"]).contains('%'));
    let mut bench = fresh();
    typed(&mut bench, &HOLLOW[..2]);
    for block in blocks("stretch") {
        assert!(!bench.step(&block).refused, "{block}");
    }
    assert!(typed(&mut bench, &["machined.bore"]).contains("mm"));
}

fn pair() -> Bench {
    let mut bench = fresh();
    let text = read("examples/workshop-pair.annulet").replace("annulet 1\n", "");
    typed(&mut bench, &[&text, "on millstone-light"]);
    bench
}

#[test]
fn a_range_makes_a_row_for_each_value_with_a_bar_and_lays_nothing_over() {
    let mut bench = pair();
    let text = typed(&mut bench, &["try shell 0.45 mm .. 0.60 mm by 0.05 mm"]);
    let rows: Vec<&str> = text.lines().filter(|line| line.contains(" mm  ")).collect();
    assert_eq!(rows.len(), 4, "{text}");
    let bars: Vec<usize> = rows
        .iter()
        .map(|row| row.matches('\u{2588}').count())
        .collect();
    assert!(
        bars[0] == 1 && bars.is_sorted() && bars[3] > bars[1],
        "{text}"
    );
    assert_eq!(bench.tries(), 0);
    // Each row is what the value laid over alone comes to.
    for (row, value) in rows
        .iter()
        .zip(["0.45 mm", "0.50 mm", "0.55 mm", "0.60 mm"])
    {
        typed(&mut bench, &[&format!("try shell {value}")]);
        let weight = typed(&mut bench, &["weight"]);
        assert!(row.contains(weight.trim()), "{value}: {weight} in\n{text}");
        typed(&mut bench, &["drop"]);
    }
    let list = typed(&mut bench, &["try size [ISO 50, ISO 52, ISO 54]"]);
    assert!(list.contains("ISO 52"), "{list}");
    assert!(bench.step("try shell 0.6 mm .. 0.5 mm by 0.05 mm").refused);
    assert!(bench.step("try shel [0.6 mm, 0.5 mm]").refused);
}

#[test]
fn tries_are_numbered_listed_dropped_and_kept_one_by_one() {
    let mut bench = pair();
    typed(
        &mut bench,
        &[
            "try shell - 0.05 mm",
            "try width + 0.5 mm",
            "try cut 0.28 mm",
        ],
    );
    let list = typed(&mut bench, &["try"]);
    for wanted in [
        "  1  shell 0.55 mm",
        "  2  width",
        "  3  cut 0.28 mm",
        "all together",
        "weight",
    ] {
        assert!(list.contains(wanted), "{wanted}\n{list}");
    }
    let all = typed(&mut bench, &["weight"]);
    typed(&mut bench, &["drop 2"]);
    assert_eq!(bench.tries(), 2);
    typed(&mut bench, &["undo"]);
    assert_eq!(typed(&mut bench, &["weight"]), all);
    typed(&mut bench, &["keep 1"]);
    assert_eq!(bench.tries(), 2);
    assert_eq!(typed(&mut bench, &["weight"]), all);
    for wrong in ["drop 3", "keep 0", "drop first"] {
        assert!(bench.step(wrong).refused, "{wrong}");
    }
    typed(&mut bench, &["keep"]);
    assert_eq!(typed(&mut bench, &["weight"]), all);
}

#[test]
fn what_is_watched_stands_behind_every_reply() {
    let mut bench = pair();
    let first = typed(&mut bench, &["watch weight wall.least"]);
    assert!(
        first.starts_with("watch: weight \u{2248} 3.981 g; wall.least"),
        "{first}"
    );
    let after = typed(&mut bench, &["try width 5 mm"]);
    let weight = typed(&mut bench, &["weight"]);
    let weight = weight.lines().next().unwrap();
    assert!(
        after
            .trim_end()
            .lines()
            .next_back()
            .unwrap()
            .contains(weight),
        "{after}"
    );
    let machine = typed(&mut bench, &["eval json"]);
    assert!(!machine.contains("watch:"));
    typed(&mut bench, &["watch off"]);
    assert!(!typed(&mut bench, &["weight"]).contains("watch"));
    assert!(bench.step("watch wieght").refused);
}

#[test]
fn a_reply_fits_the_screen_and_more_shows_the_rest() {
    let mut bench = pair();
    bench.set_height(20);
    let first = typed(&mut bench, &["eval full"]);
    assert!(first.lines().count() < 20, "{first}");
    assert!(first.contains("more lines: `more`"), "{first}");
    let mut whole: Vec<String> = Vec::new();
    let mut next = first;
    loop {
        let lines = next.lines().filter(|line| !line.contains(": `more`"));
        whole.extend(lines.map(str::to_owned));
        if !next.contains("more lines: `more`") {
            break;
        }
        next = typed(&mut bench, &["more"]);
    }
    bench.set_height(10_000);
    let wanted = typed(&mut bench, &["eval full"]);
    assert_eq!(whole, wanted.lines().map(str::to_owned).collect::<Vec<_>>());
    assert!(bench.step("more").refused);
    // What moved shows what is looked at first, and the rest behind it.
    let moved = typed(&mut bench, &["try width 5 mm"]);
    assert!(moved.contains("more results: `more`"), "{moved}");
    let rest = typed(&mut bench, &["more"]);
    assert!(rest.lines().count() > moved.lines().count(), "{rest}");
}

#[test]
fn it_is_the_last_value_in_all_its_digits() {
    let mut bench = pair();
    typed(&mut bench, &["weight", "let heavy = it"]);
    let line = bench
        .text()
        .lines()
        .find(|line| line.starts_with("let heavy"));
    let written = line.unwrap().trim_start_matches("let heavy = ").to_owned();
    let found = number(&results(bench.text()), "millstone-light.weight");
    let number: f64 = written.trim_end_matches(" g").parse().unwrap();
    assert!(agree(number, found, 1e-14), "{written} {found}");
    typed(&mut bench, &["0.2 mm + 0.1 mm"]);
    assert_eq!(typed(&mut bench, &["it * 2"]).trim(), "0.6 mm");
    // In a text and in a comment it is a word like others.
    typed(&mut bench, &["title \"it\" # it"]);
    assert!(bench.text().contains("title \"it\" # it"));
}

#[test]
fn why_goes_two_levels_and_all_of_them_where_it_is_asked_to() {
    let mut bench = pair();
    let short = typed(&mut bench, &["why weight"]);
    let all = typed(&mut bench, &["why all weight"]);
    assert!(
        short.contains("`why all weight`") && short.len() < all.len(),
        "{short}"
    );
    assert!(!all.contains("`why all weight`"));
    let own = typed(&mut bench, &["why width"]);
    assert!(!own.contains("why all"), "{own}");
}

#[test]
fn a_band_is_run_through_sizes_at_the_bench() {
    let mut bench = pair();
    let table = typed(&mut bench, &["run ISO 50 .. ISO 54 by 2"]);
    for size in ["ISO 50", "ISO 52", "ISO 54"] {
        assert!(table.contains(size), "{table}");
    }
    bench.set_width(60);
    let narrow = typed(&mut bench, &["run ISO 50 .. ISO 54 by 2"]);
    assert!(
        narrow.lines().all(|line| line.chars().count() <= 60),
        "{narrow}"
    );
    for wrong in ["run", "run 5 g"] {
        assert!(bench.step(wrong).refused);
    }
}

#[test]
fn a_try_that_breaks_a_requirement_or_a_mark_says_so() {
    let mut bench = pair();
    typed(
        &mut bench,
        &[
            "require millstone-light meets UK",
            "require millstone-light.weight <= 4 g",
        ],
    );
    let told = bench.step("try alloy sterling");
    let text = told.text.clone()
        + &told
            .findings
            .iter()
            .map(|one| one.message())
            .collect::<String>();
    assert!(text.contains("fineness UK"), "{text}");
    let heavier = bench.step("try width 9 mm").text;
    assert!(heavier.contains("broken now"), "{heavier}");
}

#[test]
fn every_part_that_eval_names_is_shown_at_the_bench() {
    let mut bench = pair();
    let word = find("eval").unwrap();
    for (part, _) in annulet::report::ReportPart::ALL {
        assert!(word.more.contains(part), "{part}");
        let reply = bench.step(&format!("eval {part}"));
        assert!(!reply.refused && !reply.text.is_empty(), "{part}");
    }
    let card = typed(&mut bench, &["eval"]);
    let full = typed(&mut bench, &["eval full"]);
    assert!(card.lines().count() < 24, "{card}");
    assert!(full.lines().count() > 60);
    assert!(card.contains("`eval full`"), "{card}");
    assert!(
        bench
            .step("eval mashining")
            .complaint
            .unwrap()
            .contains("`machining`")
    );
}

#[test]
fn a_drawn_pattern_is_pasted_from_its_help_and_seen_unrolled() {
    let mut bench = fresh();
    typed(
        &mut bench,
        &["band mine { size US 7, width 5 mm, thickness 1.8 mm, profile flat, alloy sterling }"],
    );
    let grams = |text: String| -> f64 {
        let figure = text
            .trim()
            .trim_start_matches("\u{2248} ")
            .trim_end_matches(" g");
        figure.parse().unwrap()
    };
    let uncut = grams(typed(&mut bench, &["weight"]));
    let pasted = blocks("pattern");
    assert_eq!(pasted.len(), 2, "{pasted:?}");
    for block in pasted {
        assert!(!bench.step(&block).refused, "{block}");
    }
    assert!(grams(typed(&mut bench, &["weight"])) < uncut);
    // By hand: a groove 0.2 mm deep leaves so much of 1.8 mm.
    assert!(typed(&mut bench, &["wall.least"]).contains("1.6 mm"));
    assert!(typed(&mut bench, &["pattern.time"]).contains("min"));
    let strip = typed(&mut bench, &["strip"]);
    assert!(strip.lines().count() > 3, "{strip}");
    let rows = typed(&mut bench, &["try pattern.repeats 16 .. 24 by 2"]);
    assert_eq!(rows.matches("holds").count(), 5, "{rows}");
}

#[test]
fn each_way_of_looking_for_a_value_runs_from_its_help() {
    let mut bench = fresh();
    typed(
        &mut bench,
        &["band mine { size US 7, width 5 mm, thickness 1.6 mm, profile flat, alloy yellow-750 }"],
    );
    let lines = blocks("search");
    let lines: Vec<&str> = lines.iter().flat_map(|block| block.lines()).collect();
    assert_eq!(lines.len(), 4);
    for line in lines {
        typed(&mut bench, &[line]);
    }
}

#[test]
fn a_word_of_the_command_line_is_told_what_serves_here() {
    let mut bench = fresh();
    typed(
        &mut bench,
        &["band mine { size US 7, width 5 mm, thickness 1.6 mm, profile flat, alloy yellow-750 }"],
    );
    for word in ["ask weight", "diff", "sheet", "tidy", "serve", "man"] {
        let reply = bench.step(word);
        let said = reply.complaint.unwrap_or_default();
        assert!(
            reply.refused && said.contains('`') && !said.contains("not built"),
            "{word}: {said}"
        );
    }
}
