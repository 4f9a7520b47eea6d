//! The bench line by line, without a terminal: what each word does to text, tries and files.
//!
//! Held against the language page's section on the bench and the acceptance list's points 6, 7, 9 and 16. What
//! a text should be after random changes comes from a model of its own (`bench_model`).

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use annulet::bench::{Bench, Files, Reply, WORDS, complete, statements};
use annulet::session::{Library, NoLibrary, Request, Session};

use crate::support::{files_under, read, root, run, run_in};

/// Files in memory.
#[derive(Clone, Default)]
pub struct Memory(pub Rc<RefCell<BTreeMap<String, String>>>);

impl Files for Memory {
    fn read(&mut self, name: &str) -> Result<String, String> {
        let files = self.0.borrow();
        files.get(name).cloned().ok_or(format!("no file `{name}`"))
    }

    fn write(&mut self, name: &str, text: &str) -> Result<(), String> {
        self.0.borrow_mut().insert(name.to_owned(), text.to_owned());
        Ok(())
    }

    fn exists(&mut self, name: &str) -> bool {
        self.0.borrow().contains_key(name)
    }

    fn library(&mut self, _: &str) -> Box<dyn Library> {
        Box::new(NoLibrary)
    }

    fn beginning(&mut self, start: &str) -> Vec<String> {
        let files = self.0.borrow();
        let names = files.keys().filter(|name| name.starts_with(start));
        names.cloned().collect()
    }
}

const PAIR: &str = "\
# The pair.
let cut = 0.30 mm # as deep as the tool goes

band mill { # first
  size    ISO 53
  width   4.5 mm   # measured
  thickness 1.5 mm ± 0.02 mm
  profile domed { edge 1.3 mm }
  alloy   sterling
  pattern { repeats 18, depth cut, cover 92 % }
}

variant light of mill {
  hollow {
    shell 0.55 mm # 0.25 is left
    sleeve 0.32 mm
    ridge 0.12 mm { wide 0.40 mm, count 1 }
    lock stake { count 3 }
  }
}
require light.weight <= 3 g
";

pub fn bench_on(text: &str) -> (Bench, Memory) {
    let files = Memory::default();
    files
        .0
        .borrow_mut()
        .insert("r.annulet".to_owned(), text.to_owned());
    let mut bench = Bench::new(Box::new(files.clone()), None);
    let reply = bench.step("open r.annulet");
    assert!(!reply.refused, "{reply:?}");
    (bench, files)
}

/// Types lines that must all be taken; gives what was printed.
pub fn typed(bench: &mut Bench, lines: &[&str]) -> String {
    let mut text = String::new();
    for line in lines {
        let reply = bench.step(line);
        assert!(!reply.refused, "{line}: {reply:?}");
        text.push_str(&reply.text);
    }
    text
}

pub fn refused(bench: &mut Bench, line: &str) -> Reply {
    let before = bench.text().to_owned();
    let reply = bench.step(line);
    assert!(reply.refused, "{line}: {reply:?}");
    assert_eq!(bench.text(), before, "{line}");
    reply
}

/// Lines of one text that the other has not, and the other way round.
fn changed_lines(before: &str, after: &str) -> (Vec<String>, Vec<String>) {
    let only = |of: &str, not: &str| {
        let known: Vec<&str> = not.lines().collect();
        let own = of.lines().filter(|line| !known.contains(line));
        own.map(str::to_owned).collect()
    };
    (only(before, after), only(after, before))
}

#[test]
fn a_kept_try_changes_its_own_line_and_no_comment() {
    let cases = [
        (
            "try width 5 mm",
            "  width   4.5 mm   # measured",
            "  width   5 mm   # measured",
        ),
        (
            "try width + 0.5 mm",
            "  width   4.5 mm   # measured",
            "  width   5 mm   # measured",
        ),
        ("try size + 1", "  size    ISO 53", "  size    ISO 54"),
        (
            "try thickness + 0.1 mm",
            "  thickness 1.5 mm ± 0.02 mm",
            "  thickness 1.6 mm ± 0.02 mm",
        ),
        (
            "try edge 1.2 mm",
            "  profile domed { edge 1.3 mm }",
            "  profile domed { edge 1.2 mm }",
        ),
        (
            "try depth + 0.02 mm",
            "  pattern { repeats 18, depth cut, cover 92 % }",
            "  pattern { repeats 18, depth cut + 0.02 mm, cover 92 % }",
        ),
        (
            "try mean-depth 0.18 mm",
            "  pattern { repeats 18, depth cut, cover 92 % }",
            "  pattern { repeats 18, depth cut, mean-depth 0.18 mm, cover 92 % }",
        ),
        (
            "try cut 0.28 mm",
            "let cut = 0.30 mm # as deep as the tool goes",
            "let cut = 0.28 mm # as deep as the tool goes",
        ),
        (
            "try profile flat",
            "  profile domed { edge 1.3 mm }",
            "  profile flat",
        ),
        (
            "try light.shell 0.6 mm",
            "    shell 0.55 mm # 0.25 is left",
            "    shell 0.6 mm # 0.25 is left",
        ),
        (
            "try light.shell - 0.05 mm",
            "    shell 0.55 mm # 0.25 is left",
            "    shell 0.5 mm # 0.25 is left",
        ),
        (
            "try outside 20 mm",
            "  thickness 1.5 mm ± 0.02 mm",
            "  outside 20 mm",
        ),
    ];
    for (line, old, new) in cases {
        let (mut bench, _) = bench_on(PAIR);
        typed(&mut bench, &[line]);
        assert_eq!(bench.text(), PAIR, "{line}: a try leaves the text alone");
        typed(&mut bench, &["keep"]);
        let (gone, come) = changed_lines(PAIR, bench.text());
        assert_eq!(
            (gone, come),
            (vec![old.to_owned()], vec![new.to_owned()]),
            "{line}"
        );
        assert_eq!(bench.tries(), 0);
    }
}

#[test]
fn sizes_step_in_their_own_system() {
    let (mut bench, _) = bench_on(PAIR);
    typed(&mut bench, &["size US 7", "try size + 1/2", "keep"]);
    assert!(
        bench.text().contains("size    US 7 1/2\n"),
        "{}",
        bench.text()
    );
    typed(&mut bench, &["size ISO 53"]);
    let reply = refused(&mut bench, "try size + 1/2");
    assert!(reply.findings[0].message().contains("no size there"));
}

#[test]
fn what_was_not_said_yet_is_put_where_a_person_would_put_it() {
    let added = |line: &str| {
        let (mut bench, _) = bench_on(PAIR);
        typed(&mut bench, &[line]);
        changed_lines(PAIR, bench.text())
    };
    let none: Vec<String> = Vec::new();
    assert_eq!(
        added("comfort 0.1 mm"),
        (none.clone(), vec!["  comfort 0.1 mm".to_owned()])
    );
    assert_eq!(
        added("light.width 5 mm"),
        (none.clone(), vec!["  width 5 mm".to_owned()])
    );
    assert_eq!(
        added("light.hollow.shell.nose 0.1 mm"),
        (
            vec!["    shell 0.55 mm # 0.25 is left".to_owned()],
            vec!["    shell 0.55 mm { nose 0.1 mm } # 0.25 is left".to_owned()]
        )
    );
    assert_eq!(
        added("ease { outer 0.1 mm }"),
        (none.clone(), vec!["  ease { outer 0.1 mm }".to_owned()])
    );
    assert_eq!(
        added("let deep = 0.2 mm"),
        (none, vec!["let deep = 0.2 mm".to_owned()])
    );
}

#[test]
fn without_takes_the_block_away_or_says_so_in_a_variant() {
    let (mut bench, _) = bench_on(PAIR);
    typed(&mut bench, &["on light", "try without hollow", "keep"]);
    assert!(!bench.text().contains("hollow"), "{}", bench.text());
    let (mut bench, _) = bench_on(&format!(
        "{PAIR}variant plain of light {{\n  width 4 mm\n}}\n"
    ));
    typed(&mut bench, &["on plain", "try without hollow", "keep"]);
    assert!(
        bench
            .text()
            .ends_with("variant plain of light {\n  without hollow\n  width 4 mm\n}\n")
            || bench
                .text()
                .ends_with("variant plain of light {\n  width 4 mm\n  without hollow\n}\n"),
        "{}",
        bench.text()
    );
    let outcome = Session::default().run("r", bench.text(), &Request::default());
    let plain = outcome
        .evaluations
        .iter()
        .find(|one| one.band.name == "plain")
        .unwrap();
    assert!(plain.band.hollow.is_none());
}

#[test]
fn every_undo_shows_both_values_and_the_way_back_ends_where_it_began() {
    let (mut bench, _) = bench_on(PAIR);
    let first = typed(&mut bench, &["eval json"]);
    let widths = ["4.6", "4.7", "4.8", "4.9", "5"];
    for width in widths {
        typed(&mut bench, &[&format!("width {width} mm")]);
    }
    let changed = typed(&mut bench, &["eval json"]);
    assert_ne!(first, changed);
    let mut all = vec!["4.5"];
    all.extend(widths);
    for pair in all.windows(2).rev() {
        let shown = typed(&mut bench, &["undo"]);
        let line = shown
            .lines()
            .find(|line| line.trim_start().starts_with("width"))
            .unwrap();
        assert!(
            line.contains(&format!("{} mm", pair[1]))
                && line.contains(&format!("→ {} mm", pair[0])),
            "{line}"
        );
    }
    assert_eq!(typed(&mut bench, &["eval json"]), first);
    refused(&mut bench, "undo");
    for _ in widths {
        typed(&mut bench, &["redo"]);
    }
    assert_eq!(typed(&mut bench, &["eval json"]), changed);
    typed(&mut bench, &["undo", "width 6 mm"]);
    refused(&mut bench, "redo");
}

#[test]
fn a_saved_session_is_the_same_in_a_new_process() {
    let folder = tempfile::TempDir::new().unwrap();
    std::fs::write(folder.path().join("r.annulet"), PAIR).unwrap();
    let lines =
        "try width 5 mm\nkeep\nthickness 1.6 mm\nrequire mill.weight <= 6 g\nsave\neval json\n";
    let session = run_in(folder.path(), &["bench", "r.annulet"], lines.as_bytes());
    assert_eq!(session.status, 0, "{}", session.stderr);
    let json = session.stdout.split_once("saved r.annulet\n").unwrap().1;
    let again = run_in(folder.path(), &["eval", "--json", "r.annulet"], b"");
    assert_eq!(json, again.stdout);
    let text = std::fs::read_to_string(folder.path().join("r.annulet")).unwrap();
    assert!(
        text.contains("# measured") && !text.contains("save"),
        "{text}"
    );
    // One more change is one more line.
    run_in(
        folder.path(),
        &["bench", "r.annulet"],
        b"width 5.5 mm\nsave\n",
    );
    let after = std::fs::read_to_string(folder.path().join("r.annulet")).unwrap();
    let (gone, come) = changed_lines(&text, &after);
    assert_eq!((gone.len(), come.len()), (1, 1), "{after}");
}

#[test]
fn refused_lines_leave_nothing_behind() {
    let (mut bench, files) = bench_on(PAIR);
    for line in [
        "width 5",
        "width 5 g",
        "widht 5 mm",
        "try shell 3 mm",
        "band mill { width 3 mm }",
        "let cut = 1 g",
        "keep",
        "drop",
        "on nobody",
        "open nothing.annulet",
        "keep motif",
        "alloy nothing",
        "weight + 3 mm",
        "list nothing",
        "help nothing",
        "}",
    ] {
        let reply = refused(&mut bench, line);
        let said = reply.complaint.is_some() || !reply.findings.is_empty();
        assert!(said, "{line}: nothing was said");
    }
    typed(&mut bench, &["width 5 mm", "save"]);
    let saved = files.0.borrow()["r.annulet"].clone();
    assert_eq!(saved, PAIR.replace("width   4.5 mm", "width   5 mm"));
}

#[test]
fn a_misspelt_word_is_offered_the_nearest() {
    let (mut bench, _) = bench_on(PAIR);
    for (line, near) in [
        ("tyr width 5 mm", "`try`"),
        ("comapre mill light", "`compare`"),
    ] {
        let said = refused(&mut bench, line).complaint.unwrap();
        assert!(said.contains(near), "{line}: {said}");
    }
    // A field that is spelt wrong stays a field.
    let found = refused(&mut bench, "widht 5 mm").findings;
    assert!(found[0].help().unwrap().contains("`width`"));
}

#[test]
fn a_file_changed_by_someone_else_is_not_written_over() {
    let (mut bench, files) = bench_on(PAIR);
    typed(&mut bench, &["width 5 mm"]);
    files
        .0
        .borrow_mut()
        .insert("r.annulet".to_owned(), "# other\n".to_owned());
    let reply = refused(&mut bench, "save");
    assert!(reply.complaint.unwrap().contains("changed since"));
    assert_eq!(files.0.borrow()["r.annulet"], "# other\n");
    typed(&mut bench, &["save over"]);
    assert!(files.0.borrow()["r.annulet"].contains("width   5 mm"));
    files.0.borrow_mut().remove("r.annulet");
    let reply = refused(&mut bench, "save");
    assert!(reply.complaint.unwrap().contains("gone"));
    files
        .0
        .borrow_mut()
        .insert("s.annulet".to_owned(), "# mine\n".to_owned());
    let reply = refused(&mut bench, "save s.annulet");
    assert!(reply.complaint.unwrap().contains("already"));
}

#[test]
fn unsaved_changes_are_asked_about() {
    let (mut bench, _) = bench_on(PAIR);
    assert!(bench.step("quit").ends);
    typed(&mut bench, &["try width 5 mm"]);
    assert!(bench.step("quit").ends, "a what-if is not a change");
    typed(&mut bench, &["keep"]);
    let reply = bench.step("quit");
    assert!(!reply.ends && reply.asks.is_some());
    assert!(bench.step("open r.annulet").asks.is_some());
    typed(&mut bench, &["save"]);
    assert!(bench.step("quit").ends);
}

#[test]
fn a_try_says_which_limits_and_requirements_it_breaks_and_meets() {
    let (mut bench, _) = bench_on(PAIR);
    let broken = typed(&mut bench, &["on light", "try sleeve 0.15 mm"]);
    assert!(broken.contains("falls short now"), "{broken}");
    let met = typed(&mut bench, &["try sleeve 0.3 mm"]);
    assert!(met.contains("holds again"), "{met}");
    let required = typed(&mut bench, &["drop", "try width 9 mm, shell 0.8 mm"]);
    assert!(required.contains("required, broken now"), "{required}");
    let again = typed(&mut bench, &["undo"]);
    assert!(again.contains("required, holds again"), "{again}");
}

#[test]
fn a_try_on_a_parent_reaches_what_is_made_of_it() {
    let (mut bench, _) = bench_on(PAIR);
    let shown = typed(&mut bench, &["try width 5 mm"]);
    assert!(
        shown
            .lines()
            .any(|line| line.starts_with("  light: weight")),
        "{shown}"
    );
    let shown = typed(&mut bench, &["try cut 0.25 mm"]);
    assert!(
        shown
            .lines()
            .any(|line| line.starts_with("  light: weight")),
        "{shown}"
    );
}

#[test]
fn an_absolute_value_drops_a_deviation_and_says_so_a_step_keeps_it() {
    let (mut bench, _) = bench_on(PAIR);
    let reply = bench.step("try thickness 1.6 mm");
    assert!(
        reply
            .findings
            .iter()
            .any(|one| one.code() == "model::deviation_dropped"),
        "{reply:?}"
    );
    typed(&mut bench, &["drop"]);
    let reply = bench.step("try thickness + 0.1 mm");
    assert!(reply.findings.is_empty(), "{reply:?}");
    assert!(typed(&mut bench, &["why thickness"]).contains("1.6 mm ± 0.02 mm"));
    let ran = run(
        &["ask", "thickness", "--set", "thickness=1.6 mm", "--in", "-"],
        PAIR.split("\nvariant").next().unwrap(),
    );
    assert!(
        ran.stderr.contains("deviation_dropped") && ran.stdout == "1.6 mm\n",
        "{}{}",
        ran.stdout,
        ran.stderr
    );
    let ran = run(
        &[
            "ask",
            "thickness",
            "--set",
            "thickness + 0.1 mm",
            "--in",
            "-",
        ],
        PAIR.split("\nvariant").next().unwrap(),
    );
    assert_eq!(
        (ran.stdout.as_str(), ran.stderr.as_str()),
        ("1.6 mm ± 0.02 mm\n", "")
    );
}

#[test]
fn every_place_that_sets_a_value_is_listed_the_winner_marked() {
    let (mut bench, _) = bench_on(PAIR);
    let why = typed(
        &mut bench,
        &[
            "on light",
            "light.width 4.8 mm",
            "try width 5 mm",
            "try width + 1 mm",
            "why width",
        ],
    );
    let places: Vec<&str> = why
        .lines()
        .filter(|line| line.contains(": width"))
        .collect();
    assert_eq!(places.len(), 4, "{why}");
    assert!(
        places[0].contains("r.annulet:6") && places[1].contains("r.annulet:14"),
        "{why}"
    );
    assert!(
        places[2].contains("try: width 5 mm")
            && places[3].contains("try: width 6 mm")
            && places[3].ends_with("<- holds"),
        "{why}"
    );
}

#[test]
fn all_digits_are_shown_where_they_are_wanted() {
    let (mut bench, _) = bench_on(PAIR);
    assert!(typed(&mut bench, &["weight"]).starts_with("≈ "));
    let all = typed(&mut bench, &["digits all", "mill.weight"]);
    assert!(!all.contains('≈') && all.len() > 12, "{all}");
    // Exact amounts keep every digit in either manner.
    assert_eq!(
        typed(&mut bench, &["digits useful", "10000 EUR + 0.95 EUR"]),
        "10000.95 EUR\n"
    );
}

#[test]
fn blocks_replace_those_of_their_name_and_bring_their_comments() {
    let (mut bench, _) = bench_on("");
    let paste = "annulet 1\n\n# The first.\nband b {\n  size ISO 54, width 4 mm # wide\n  thickness 1.6 mm\n  profile flat, alloy sterling\n}\n# Kept small.\nrequire b.weight <= 5 g\n";
    typed(&mut bench, &[paste]);
    assert_eq!(
        bench.text(),
        "annulet 1\n\n# The first.\nband b {\n  size ISO 54, width 4 mm # wide\n  thickness 1.6 mm\n  profile flat, alloy sterling\n}\n\n# Kept small.\nrequire b.weight <= 5 g\n"
    );
    typed(
        &mut bench,
        &[
            "band b {\n  size ISO 56, width 3 mm\n  thickness 1.6 mm, profile flat, alloy sterling\n}",
        ],
    );
    assert_eq!(bench.text().matches("band b").count(), 1);
    assert!(
        bench.text().contains("ISO 56") && bench.text().contains("# The first."),
        "{}",
        bench.text()
    );
    let reply = bench.step("require b.weight <= 5 g");
    assert!(reply.text.contains("already"), "{reply:?}");
}

#[test]
fn a_pasted_text_and_its_lines_one_by_one_come_to_the_same() {
    let long: String = (0..60)
        .map(|n| format!("band b{n} {{\n  size ISO {}, width 4 mm\n  thickness 1.6 mm\n  profile flat, alloy sterling\n}}\n\n", 45 + n % 20))
        .collect();
    let (mut whole, _) = bench_on("");
    typed(&mut whole, &[&long]);
    let (mut single, _) = bench_on("");
    for statement in statements(&long) {
        typed(&mut single, &[statement]);
    }
    assert_eq!(whole.text(), single.text());
    let ran = run(&["bench"], &format!("{long}eval json\n"));
    let shown = typed(&mut whole, &["eval json"]);
    assert!(
        ran.stdout.ends_with(&shown.replace("r.annulet", "recipe")),
        "{}",
        ran.stderr
    );
}

#[test]
fn a_pipe_stops_at_the_first_mistake_and_names_its_line() {
    let ran = run(
        &["bench", "examples/harvest.annulet"],
        "weight in g\n\nwidth 5 m\nweight\n",
    );
    assert_eq!(ran.status, 2);
    assert_eq!(ran.stdout.lines().count(), 1);
    assert!(
        ran.stderr.contains("<stdin>:3:7")
            && ran.stderr.ends_with("<stdin>:3: stopped at this line\n"),
        "{}",
        ran.stderr
    );
    let ran = run(
        &["bench", "examples/harvest.annulet"],
        "band b {\n  width 3 mm\n",
    );
    assert!(
        ran.status == 2 && ran.stderr.contains("inside a block"),
        "{}",
        ran.stderr
    );
    let short = run(
        &["bench", "examples/harvest.annulet"],
        "try limit.wall 1 mm\n",
    );
    assert_eq!(short.status, 1, "{}", short.stderr);
    assert_eq!(run(&["bench"], "").status, 0);
    assert!(
        run(&["bench", "examples/harvest.annulet"], "weight\n")
            .stdout
            .bytes()
            .all(|byte| byte != 0x1b)
    );
}

#[test]
fn every_word_has_help_with_examples_that_run() {
    let recipe = read("examples/workshop-pair.annulet");
    for word in WORDS {
        let (mut bench, files) = bench_on(&recipe);
        files
            .0
            .borrow_mut()
            .insert("examples/harvest.annulet".to_owned(), recipe.clone());
        let help = typed(&mut bench, &[&format!("help {}", word.word)]);
        assert!(help.starts_with(word.word) && help.contains(word.does));
        for example in word.examples {
            assert!(help.contains(example), "{example}");
            typed(&mut bench, &[example]);
        }
    }
    let (mut bench, _) = bench_on(&recipe);
    bench.set_width(40);
    let narrow = typed(&mut bench, &["help", "help keys", "help try"]);
    assert!(
        narrow.lines().all(|line| line.chars().count() <= 60),
        "{narrow}"
    );
    bench.set_width(160);
    let all = typed(&mut bench, &["help"]);
    assert!(WORDS.iter().all(|word| all.contains(word.does)), "{all}");
    // The questions of the help are asked of the recipe that it speaks of.
    let topic = typed(&mut bench, &["help questions"]);
    let questions = topic.lines().filter(|line| line.starts_with("  "));
    assert!(questions.clone().count() > 3);
    for question in questions {
        typed(&mut bench, &[question]);
    }
    let block = typed(&mut bench, &["help recipe"]);
    let block: Vec<&str> = block
        .lines()
        .filter(|line| line.starts_with("  "))
        .collect();
    typed(&mut bench, &[&block.join("\n")]);
}

#[test]
fn the_first_screen_names_lines_that_work() {
    let welcome = Bench::new(Box::new(Memory::default()), None).welcome();
    let lines: Vec<&str> = welcome.lines().skip(1).collect();
    assert_eq!(lines.len(), 5, "{welcome}");
    typed(&mut Bench::new(Box::new(Memory::default()), None), &lines);
}

#[test]
fn open_begins_anew_and_undo_leads_back_through_it() {
    let (mut bench, files) = bench_on(PAIR);
    files
        .0
        .borrow_mut()
        .insert("s.annulet".to_owned(), read("examples/harvest.annulet"));
    typed(&mut bench, &["width 5 mm", "save", "open s.annulet"]);
    assert!(bench.text().contains("band harvest"));
    typed(&mut bench, &["undo"]);
    assert!(bench.text().contains("width   5 mm"));
    typed(&mut bench, &["redo"]);
    assert!(bench.text().contains("band harvest"));
    assert_eq!(bench.prompt(), "s:harvest> ");
}

#[test]
fn what_is_shown_tells_what_comes_from_elsewhere() {
    let (mut bench, _) = bench_on(PAIR);
    let shown = typed(&mut bench, &["show light"]);
    assert!(
        shown
            .starts_with("variant light of mill {\n  hollow {\n    shell 0.55 mm # 0.25 is left\n"),
        "{shown}"
    );
    assert!(
        shown.contains("#   width 4.5 mm  (r.annulet:6:3)"),
        "{shown}"
    );
    assert!(!shown.contains("#   hollow.shell"), "{shown}");
}

#[test]
fn an_edit_keeps_the_line_ends_and_indents_of_the_file() {
    let text = PAIR.replace('\n', "\r\n").replace("  ", "\t");
    let (mut bench, _) = bench_on(&text);
    typed(&mut bench, &["comfort 0.1 mm"]);
    assert_eq!(bench.text().replace("\tcomfort 0.1 mm\r\n", ""), text);
}

#[test]
fn the_program_alone_is_the_bench_and_folders_stand_beside_files() {
    let ran = run_in(&root(), &[], b"help\n");
    assert!(
        ran.status == 0 && ran.stdout.contains("lay a what-if"),
        "{}",
        ran.stderr
    );
}

#[test]
fn prices_and_the_shop_are_tried_stepped_and_kept_like_fields() {
    let recipe = read("examples/market-day.annulet");
    let (mut bench, _) = bench_on(&recipe);
    let shown = typed(&mut bench, &["try prices.gold 110 EUR/g"]);
    assert!(
        shown.contains("cost") && shown.contains("harvest-light: cost"),
        "{shown}"
    );
    typed(
        &mut bench,
        &["try prices.gold + 5 EUR/g", "try shop.batch 40", "keep"],
    );
    let (gone, come) = changed_lines(&recipe, bench.text());
    assert_eq!((gone.len(), come.len()), (2, 2), "{come:?}");
    assert!(
        come[0].starts_with("  gold 115 EUR/g # of fine gold"),
        "{come:?}"
    );
    assert!(come[1].starts_with("  batch 40 # rings"), "{come:?}");
}

#[test]
fn completion_knows_the_place_and_the_dimension() {
    let (mut bench, _) = bench_on(&read("examples/market-day.annulet"));
    let mut offered = |text: &str| complete(&mut bench, text, text.len()).1;
    assert_eq!(
        offered("band b { width 1.5 "),
        ["mm", "cm", "m", "\u{B5}m", "in"]
    );
    assert_eq!(offered("band b { hollow { shell 0.5 mm { ro"), ["roof"]);
    assert_eq!(
        offered("shop { operation x { run 3 "),
        ["s", "min", "h", "day"]
    );
    assert_eq!(offered("shop { scrap { turnings { "), ["collected", "paid"]);
    assert_eq!(offered("prices { pall")[0], "palladium");
    assert_eq!(
        offered("try harvest-light.hollow.sleeve.al"),
        ["harvest-light.hollow.sleeve.alloy"]
    );
    assert_eq!(offered("variant x o"), ["of"]);
    assert_eq!(
        offered("size US 1"),
        ["1", "10", "11", "12", "13", "14", "15", "16"]
    );
    assert_eq!(offered("help tr"), ["try"]);
    assert_eq!(offered("title \"wid"), Vec::<String>::new());
    assert_eq!(offered("width 5 mm # wid"), Vec::<String>::new());
}

#[test]
fn machine_output_is_that_of_the_command_line_for_every_example() {
    for file in files_under("examples", ".annulet") {
        for how in ["json", "csv"] {
            let session = run(&["bench", &file], &format!("eval {how}\n"));
            let call = run(&["eval", &format!("--{how}"), &file], "");
            assert_eq!(session.stdout, call.stdout, "{file} {how}");
        }
    }
}

#[test]
fn nothing_is_refused_or_taken_in_silence() {
    let (mut bench, _) = bench_on(PAIR);
    for line in ["try 5 mm", "try \"abc\""] {
        assert!(!refused(&mut bench, line).findings.is_empty(), "{line}");
        assert_eq!(bench.tries(), 0);
    }
    let (mut bench, _) = bench_on(&PAIR.replace("width   4.5 mm", "widht   4.5 mm"));
    for line in ["weight", "why thickness"] {
        let said = refused(&mut bench, line).complaint.unwrap();
        assert!(said.contains("`check`"), "{line}: {said}");
    }
    let (mut bench, _) = bench_on(PAIR);
    let hidden = typed(&mut bench, &["try width 5 mm", "width 6 mm"]);
    assert!(hidden.contains("still lies over it"), "{hidden}");
    let gone = typed(
        &mut bench,
        &["drop", "on light", "try without hollow", "keep"],
    );
    // The block goes, its comment stays.
    assert!(!gone.contains("gone with"), "{gone}");
    assert!(bench.text().contains("\n  # 0.25 is left\n") && !bench.text().contains("hollow"));
    let (mut bench, _) = bench_on(PAIR);
    let gone = typed(&mut bench, &["variant light of mill {\n  width 5 mm\n}"]);
    // Where nothing of its line is left, the comment stands above the band.
    assert!(!gone.contains("gone with"), "{gone}");
    assert!(
        bench.text().contains("# 0.25 is left\nvariant light"),
        "{}",
        bench.text()
    );
    let written = PAIR.replace(
        "profile domed { edge 1.3 mm }",
        "profile domed { # p\n    edge 1.3 mm # e\n    # tail\n  } # after",
    );
    let (mut bench, _) = bench_on(&written);
    typed(&mut bench, &["try profile flat", "keep"]);
    let carried = "  # p\n  # e\n  # tail\n  profile flat # after\n";
    assert!(bench.text().contains(carried), "{}", bench.text());
    let (mut bench, _) = bench_on(PAIR);
    let gone = typed(&mut bench, &["let cut = 0.2 mm"]);
    assert!(!gone.contains("gone with"), "{gone}");
}

#[test]
fn a_refused_keep_points_into_the_line_that_was_tried() {
    let ran = run(
        &["bench", "tests/suite/cases/errors/used/two.annulet"],
        "on first\ntry width 5 mm\nkeep\n",
    );
    let width = ran
        .stderr
        .lines()
        .any(|line| line.ends_with("| width 5 mm"));
    assert!(
        width && !ran.stderr.contains("OutOfBounds"),
        "{}",
        ran.stderr
    );
}

#[test]
fn last_digits_are_no_move() {
    let (mut bench, _) = bench_on(&read("examples/workshop-pair.annulet"));
    let shown = typed(
        &mut bench,
        &["on millstone-light", "try measured 13.1 g/cm3"],
    );
    assert!(!shown.contains("0000000"), "{shown}");
}
