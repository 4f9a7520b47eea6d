//! Where the bench stands: answers are of the band that the prompt names, `save` writes the file that it names, and
//! what a line brings is told when it is tried.
//!
//! Held against the acceptance list's points 42 and 49, and the language page's section on the bench.

use std::collections::BTreeSet;

use annulet::bench::{Asks, Bench, Files, Reply};
use annulet::finding::{Finding, Weight};

use crate::bench::{Memory, bench_on, refused, typed};
use crate::support::{lone_examples, read, root};

const TWO: &str = "\
annulet 1
band first {
  size ISO 54, width 5 mm, thickness 1.5 mm
  profile flat, alloy silver-925
}
band second {
  size ISO 54, width 6 mm, thickness 1.5 mm
  profile flat, alloy silver-925
}
";

#[test]
fn a_cut_that_says_nothing_is_written_with_its_block() {
    let cutter = "cutter vee vee { angle 90 deg, tip 0.05 mm, feed 600 mm/min, plunge 120 mm/min, pass 0.15 mm }";
    for line in [
        "flutes { }",
        "flutes {}",
        "pattern.flutes { }",
        "pattern { flutes { } }",
    ] {
        let (mut bench, _) = bench_on(TWO);
        typed(
            &mut bench,
            &[cutter, "pattern { repeats 12, cutter vee, depth 0.2 mm }"],
        );
        typed(&mut bench, &[line]);
        assert!(
            bench.text().contains("flutes { }"),
            "{line}: {}",
            bench.text()
        );
        typed(&mut bench, &["undo"]);
        assert!(!bench.text().contains("flutes"), "{line}: {}", bench.text());
    }
}

#[test]
fn after_a_refused_line_answers_are_of_the_band_that_the_prompt_names() {
    for line in [
        "band n2 { width 4 }",
        "band second { size ISO 54, width 5 }",
        "band first { size ISO 54, width 5 }",
        "width 5 g",
        "try width 5 g",
        "width 5 mmm",
        "let a = 5 +",
        "require second.width <= 5 g",
        "alloy x { gold 5 }",
        "on third",
        "open nowhere.annulet",
        "keep",
        "undo",
        "redo",
        "save x.txt",
        "nonsense here",
    ] {
        let (mut bench, _) = bench_on(TWO);
        typed(&mut bench, &["on second"]);
        assert_eq!(bench.prompt(), "r:second> ");
        refused(&mut bench, line);
        assert_eq!(bench.prompt(), "r:second> ", "{line}");
        assert_eq!(typed(&mut bench, &["width"]), "6 mm\n", "{line}");
        let weight = typed(&mut bench, &["weight"]);
        assert_eq!(typed(&mut bench, &["second.weight"]), weight, "{line}");
        // And the next line is of that band too.
        typed(&mut bench, &["width 7 mm"]);
        assert_eq!(typed(&mut bench, &["second.width"]), "7 mm\n", "{line}");
    }
}

#[test]
fn a_refused_keep_leaves_the_bench_on_its_band() {
    let (mut bench, _) = bench_on(TWO);
    typed(&mut bench, &["on second", "try width 7 mm"]);
    // A step that cannot be tried leaves the one before it as it was.
    refused(&mut bench, "try width + 1 g");
    assert_eq!(bench.prompt(), "r:second +1> ");
    assert_eq!(typed(&mut bench, &["width"]), "7 mm\n");
}

fn held(files: &Memory, name: &str) -> String {
    files.0.borrow()[name].clone()
}

#[test]
fn save_writes_the_file_that_the_prompt_names_and_undo_behind_it_asks() {
    for answer in ["s.annulet", "r.annulet"] {
        let (mut bench, files) = bench_on(TWO);
        typed(&mut bench, &["width 7 mm", "width 8 mm", "save s.annulet"]);
        assert_eq!(bench.prompt(), "s:first> ");
        let reply = bench.step("undo");
        let asks = Asks::BeforeUndo {
            before: "r.annulet".to_owned(),
            now: "s.annulet".to_owned(),
        };
        assert_eq!(reply.asks, Some(asks));
        assert!(bench.text().contains("width 8 mm"), "nothing is undone yet");
        refused(&mut bench, "undo x.annulet");
        let said = typed(&mut bench, &[&format!("undo {answer}")]);
        assert!(said.contains(&format!("`save` writes {answer}")), "{said}");
        let name = answer.trim_end_matches(".annulet");
        assert_eq!(bench.prompt(), format!("{name}:first*> "));
        // It is asked once; what lies further behind is the file's that was named.
        typed(&mut bench, &["undo"]);
        let prompt = bench.prompt();
        assert!(prompt.starts_with(&format!("{name}:first")), "{prompt}");
        typed(&mut bench, &["redo", "save"]);
        let other = ["s.annulet", "r.annulet"][usize::from(answer == "s.annulet")];
        assert!(held(&files, answer).contains("width 7 mm"), "{answer}");
        let kept = if other == "s.annulet" {
            "width 8 mm"
        } else {
            "width 5 mm"
        };
        assert!(held(&files, other).contains(kept), "{answer}");
    }
    // A file where there was none before is no question.
    let files = Memory::default();
    let mut bench = Bench::new(Box::new(files.clone()), None);
    typed(&mut bench, &[TWO, "width 7 mm", "save n.annulet", "undo"]);
    assert_eq!(bench.prompt(), "n:second*> ");
    typed(&mut bench, &["save"]);
    assert!(held(&files, "n.annulet").contains("width 6 mm"));
    refused(&mut bench, "undo n.annulet");
}

#[test]
fn going_back_through_open_names_the_file_again() {
    let (mut bench, files) = bench_on(TWO);
    files
        .clone()
        .write("t.annulet", &TWO.replace("first", "third"))
        .unwrap();
    let said = typed(&mut bench, &["open t.annulet", "undo"]);
    assert!(said.contains("`save` writes r.annulet"), "{said}");
    assert_eq!(bench.prompt(), "r:first> ");
    let said = typed(&mut bench, &["redo"]);
    assert!(said.contains("`save` writes t.annulet"), "{said}");
    assert_eq!(bench.prompt(), "t:third> ");
    typed(&mut bench, &["width 7 mm", "save"]);
    assert!(held(&files, "r.annulet").contains("width 5 mm"));
    // Files of one name are told apart by their folders.
    files.clone().write("a/t.annulet", TWO).unwrap();
    typed(&mut bench, &["open a/t.annulet"]);
    assert_eq!(bench.prompt(), "a/t:first> ");
}

const SHOP: &str = "\
annulet 1
let wide = 5 mm
prices { dated 2026-11-20, silver 1 EUR/g }
shop { labour 40 EUR/h, operation turning { run 5 min } }
stock blank tube { outside 21.2 mm, bore 16 mm, length 300 mm }
band first {
  size ISO 54, width wide, thickness 1.5 mm
  profile flat, alloy silver-925, stock blank
  sale piece { markup 100 % }
}
";

/// Text of a finding's code and message, for those that weigh so much.
fn said(findings: &[Finding], least: Weight) -> BTreeSet<String> {
    let heavy = findings.iter().filter(|one| one.weight() >= least);
    heavy
        .map(|one| format!("{} {}", one.code(), one.message()))
        .collect()
}

/// Lines that change something in most recipes, for good or ill.
const LINES: &[&str] = &[
    "width 3 mm",
    "width 12 mm",
    "thickness 1 mm",
    "thickness 1.58 mm",
    "thickness 1.62 mm",
    "thickness 2.2 mm",
    "thickness 0.2 mm",
    "size ISO 60",
    "size ISO 40",
    "alloy silver-925",
    "alloy nothing",
    "profile flat",
    "profile domed { edge 1 mm }",
    "profile domed { edge 9 mm }",
    "comfort 0.4 mm",
    "limit.wall 2 mm",
    "without hollow",
    "without pattern",
    "hollow.shell 0.2 mm",
    "hollow.shell 0.9 mm",
    "hollow.sleeve 0.9 mm",
    "pattern.depth 0.9 mm",
    "cut 0.9 mm",
    "prices.gold 1 EUR/g",
    "prices.dated 2020-01-01",
    "shop.batch 1",
    "order.fair.dated 2027-11-25",
    "tube-21.outside 20 mm",
    "tube-21.outside 20.3 mm",
    "tube-shell.bore 19 mm",
    "start stretch 30 %",
];

fn open(file: &str) -> Bench {
    struct Disk;
    impl Files for Disk {
        fn read(&mut self, name: &str) -> Result<String, String> {
            std::fs::read_to_string(root().join(name)).map_err(|error| error.to_string())
        }
        fn write(&mut self, _: &str, _: &str) -> Result<(), String> {
            Err("no".to_owned())
        }
        fn exists(&mut self, name: &str) -> bool {
            root().join(name).exists()
        }
        fn library(&mut self, _: &str) -> Box<dyn annulet::session::Library> {
            Box::new(annulet::session::NoLibrary)
        }
        fn beginning(&mut self, _: &str) -> Vec<String> {
            Vec::new()
        }
    }
    let mut bench = Bench::new(Box::new(Disk), Some("2026-11-26".to_owned()));
    assert!(!bench.step(&format!("open {file}")).refused, "{file}");
    bench
}

#[test]
fn a_try_brings_no_mistake_that_it_does_not_show() {
    let mut hidden = Vec::new();
    let (mut brought, mut drawn) = (0, 0);
    for file in lone_examples() {
        // Cuts that are drawn take long; one band with them shows what all do.
        drawn += usize::from(read(&file).contains("\ncutter "));
        if drawn > 1 && read(&file).contains("\ncutter ") {
            continue;
        }
        let mut bench = open(&file);
        let sound = said(&bench.findings(), Weight::Short);
        for line in LINES {
            let edit = open(&file).step(line);
            let tried = bench.step(&format!("try {line}"));
            // What a file cannot take, a what-if does not take either, and says why.
            if edit.refused && !tried.refused {
                hidden.push(format!("{file}: `{line}` is refused and can be tried"));
            }
            if tried.refused {
                assert!(
                    !tried.findings.is_empty() || tried.complaint.is_some(),
                    "{file}: `try {line}` says nothing"
                );
                continue;
            }
            // What is known of the recipe then is what the whole of it comes to.
            let known = said(&bench.outcome().findings, Weight::Short);
            let whole = bench.findings();
            if said(&whole, Weight::Wrong).len() > said(&[], Weight::Wrong).len() {
                hidden.push(format!("{file}: `try {line}` hides a mistake"));
            }
            let whole = said(&whole, Weight::Short);
            if known != whole {
                hidden.push(format!("{file}: `try {line}`: {known:#?}\n is {whole:#?}"));
            }
            brought += whole.difference(&sound).count();
            bench.step("drop");
        }
    }
    assert!(hidden.is_empty(), "{}", hidden.join("\n"));
    assert!(brought > 50, "{brought}");
}

#[test]
fn what_a_try_brings_to_an_order_or_a_requirement_is_told_with_it() {
    // The stock makes the band in its own size, and not in a size of the order.
    let order = format!("{SHOP}order fair {{ dated 2026-11-25, first {{ 2 of ISO 56 }} }}\n");
    let (mut bench, _) = bench_on(&order.replace("outside 21.2", "outside 21.4"));
    let reply = refused(&mut bench, "try thickness 1.9 mm");
    assert_eq!(reply.findings[0].code(), "evaluate::stock", "{reply:?}");
    let reply = refused(&mut bench, "thickness 1.9 mm");
    assert_eq!(reply.findings[0].code(), "evaluate::stock", "{reply:?}");
    // What is sound moves the order.
    let reply = bench.step("try wide 6 mm");
    assert!(reply.text.contains("order fair: price"), "{}", reply.text);
    // A requirement of a result that is gone cannot be judged.
    let pair = read("examples/workshop-pair.annulet")
        + "\nrequire millstone-light.shell.weight >= 0.1 g\n";
    let (mut bench, _) = bench_on(&pair);
    typed(&mut bench, &["on millstone-light"]);
    let weight = typed(&mut bench, &["weight"]);
    let reply = refused(&mut bench, "try without hollow");
    assert!(!reply.findings.is_empty(), "{reply:?}");
    assert_eq!(typed(&mut bench, &["weight"]), weight);
    // Prices that are too old by then.
    let dated = SHOP.replace("dated 2026-11-20", "dated 2026-11-20, oldest 14 days");
    let mut bench = {
        let files = Memory::default();
        files.clone().write("r.annulet", &dated).unwrap();
        let mut bench = Bench::new(Box::new(files), Some("2026-11-26".to_owned()));
        typed(&mut bench, &["open r.annulet"]);
        bench
    };
    let reply = bench.step("try prices.dated 2026-01-01");
    let codes: Vec<String> = reply.findings.iter().map(Finding::code).collect();
    assert!(
        !reply.refused && codes.contains(&"evaluate::stale_price".to_owned()),
        "{codes:?}"
    );
    // It is told once.
    let again = bench.step("try width 6 mm");
    assert!(again.findings.is_empty(), "{again:?}");
}

fn laid(text: &str, sets: &[&str]) -> (Bench, Reply) {
    let (mut bench, _) = bench_on(text);
    let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
    let reply = bench.lay_over(&sets);
    (bench, reply)
}

#[test]
fn overrides_lie_over_the_bench_as_what_is_tried() {
    let (mut bench, reply) = laid(TWO, &["width=8 mm", "width=9 mm"]);
    assert!(reply.refused, "given twice: {reply:?}");
    assert_eq!(bench.tries(), 0);
    assert_eq!(typed(&mut bench, &["width"]), "5 mm\n");
    let (mut bench, reply) = laid(TWO, &["thickness + 0.1 mm", "second.width=9 mm"]);
    assert!(!reply.refused, "{reply:?}");
    assert!(reply.text.contains("thickness"), "{}", reply.text);
    assert_eq!(bench.prompt(), "r:first +2> ");
    assert_eq!(
        typed(&mut bench, &["thickness", "second.width"]),
        "1.6 mm\n9 mm\n"
    );
    typed(&mut bench, &["keep"]);
    let kept = TWO
        .replacen("1.5 mm", "1.6 mm", 1)
        .replace("width 6 mm", "width 9 mm");
    assert_eq!(bench.text(), kept);
    // Together they are sound, one by one they are not.
    let (bench, reply) = laid(TWO, &["profile=domed { edge 1.9 mm }", "thickness=2 mm"]);
    assert!(!reply.refused, "{reply:?}");
    assert_eq!(bench.tries(), 2);
    for (set, code) in [
        ("widht=5 mm", "model::unknown_name"),
        ("width=5 g", "model::wrong_kind"),
        ("width", "model::value_count"),
        ("third.width=5 mm", "model::unknown_name"),
        ("thickness=20 m", "geometry::"),
    ] {
        let (bench, reply) = laid(TWO, &["thickness=2 mm", set]);
        let codes: Vec<String> = reply.findings.iter().map(Finding::code).collect();
        assert!(reply.refused, "{set}");
        assert!(
            codes.iter().any(|one| one.starts_with(code)) || code == "geometry::",
            "{set}: {codes:?}"
        );
        assert_eq!(bench.tries(), 0, "{set}");
    }
}

#[test]
fn a_comment_behind_a_question_is_nobodys_business() {
    let (mut bench, files) = bench_on(TWO);
    let said = typed(
        &mut bench,
        &[
            "width # now",
            "first.width # now",
            "width in cm # wide",
            "width > 4 mm # is it",
            "1 mm + 2 mm # in all",
            "why width # why",
            "show # what",
            "on second # the other",
            "on # which",
            "check # all",
            "eval second # whole",
            "compare first second # both",
            "digits useful # fewer",
            "list units # known",
            "help try # more",
        ],
    );
    assert!(said.starts_with("5 mm\n5 mm\n0.5 cm\n"), "{said}");
    assert_eq!(bench.text(), TWO);
    assert!(!bench.unsaved());
    for line in ["title # none", "pattern # none", "profile # which"] {
        bench.step(line);
        assert_eq!(bench.text(), TWO, "{line}");
    }
    // Behind what is written it stays, and a name may hold the sign.
    typed(
        &mut bench,
        &["width 7 mm # felt", "save a#b.annulet # mine"],
    );
    assert!(bench.text().contains("# felt"));
    assert!(held(&files, "a#b.annulet").contains("# felt"));
}
