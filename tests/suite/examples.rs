//! What is shipped to be read: every example evaluates, and every block of the README does what it shows.
//!
//! A report is a snapshot; it proves that nothing changed unseen, and nothing about a figure, which
//! `closed_forms.rs` and its like do. Held against the acceptance list, point 39.

use std::process::Command;

use annulet::bench::{Bench, Files};
use annulet::session::{Library, NoLibrary};

use crate::support::{files_under, read, root, run};

#[test]
fn every_example_holds_and_reports() {
    let examples = files_under("examples", ".annulet");
    assert!(examples.len() >= 4);
    for example in examples {
        let card = run(&["eval", &example], "");
        assert_eq!((card.status, card.stderr.as_str()), (0, ""), "{example}");
        let ran = run(&["eval", "--full", &example], "");
        assert_eq!((ran.status, ran.stderr.as_str()), (0, ""), "{example}");
        let check = run(&["check", &example], "");
        assert_eq!((check.status, check.stdout.as_str()), (0, ""), "{example}");
        let name = example.replace("examples/", "").replace('/', "__");
        let mut settings = insta::Settings::clone_current();
        settings.set_snapshot_path("snapshots/examples");
        settings.set_prepend_module_to_snapshot(false);
        settings.set_omit_expression(true);
        let name = name.trim_end_matches(".annulet");
        settings.bind(|| insta::assert_snapshot!(name, ran.stdout));
        settings.set_snapshot_path("snapshots/cards");
        settings.bind(|| insta::assert_snapshot!(name, card.stdout));
    }
}

#[test]
fn every_example_marks_its_diameters() {
    for example in files_under("examples", ".annulet") {
        let report = run(&["eval", "--full", &example], "").stdout;
        for line in report.lines() {
            let label = line.trim_start();
            if ["outside  ", "bore  ", "inside  "]
                .iter()
                .any(|word| label.starts_with(word))
            {
                let marked =
                    line.contains('\u{D8}') || line.contains("radial") || line.contains("left on");
                assert!(marked, "{example}: {line}");
            }
        }
    }
}

#[test]
fn every_example_is_in_canonical_form() {
    for example in files_under("examples", ".annulet") {
        let text = read(&example);
        let mut sources = annulet::source::Sources::default();
        let id = sources.add(&example, &text);
        let tree = annulet::syntax::parse(sources.get(id).unwrap()).value;
        assert_eq!(annulet::syntax::print(&tree), text, "{example}");
    }
}

/// A fenced block of a page: its language, and its lines.
struct Block {
    language: String,
    lines: Vec<String>,
}

fn blocks(page: &str) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut open: Option<Block> = None;
    for line in page.lines() {
        match (line.strip_prefix("```"), &mut open) {
            (Some(language), None) => {
                let (language, lines) = (language.trim().to_owned(), Vec::new());
                open = Some(Block { language, lines });
            }
            (Some(_), Some(_)) => blocks.extend(open.take()),
            (None, Some(block)) => block.lines.push(line.to_owned()),
            (None, None) => {}
        }
    }
    assert!(open.is_none(), "a block is not closed");
    blocks
}

/// The pages that show calls.
fn pages() -> Vec<(&'static str, String)> {
    ["README.md", "DEVELOPERS.md", "examples/guide.md"]
        .into_iter()
        .filter(|page| root().join(page).exists())
        .map(|page| (page, read(page)))
        .collect()
}

/// Runs a shown call in the package's folder; what it prints, results before findings.
fn called(call: &str) -> String {
    let program = env!("CARGO_BIN_EXE_annulet");
    let line = format!("annulet() {{ '{program}' \"$@\"; }}; {call}");
    let output = Command::new("sh")
        .args(["-c", &line])
        .current_dir(root())
        .env_remove("NO_COLOR")
        .env_remove("COLUMNS")
        .output()
        .unwrap();
    let mut text = String::from_utf8(output.stdout).unwrap();
    text.push_str(std::str::from_utf8(&output.stderr).unwrap());
    text
}

/// Whether lines are those expected, of which `…` stands for any number.
fn matches(found: &[&str], wanted: &[&str]) -> bool {
    match wanted.split_first() {
        None => found.is_empty(),
        Some((&"\u{2026}", rest)) => (0..=found.len()).any(|skip| matches(&found[skip..], rest)),
        Some((first, rest)) => found.first() == Some(first) && matches(&found[1..], rest),
    }
}

#[test]
fn every_call_that_a_page_shows_prints_what_it_shows() {
    for (page, text) in pages() {
        for block in blocks(&text) {
            if !["sh", "console"].contains(&block.language.as_str()) {
                continue;
            }
            let joined = block.lines.join("\n");
            // What stands before the first call is no output of any.
            for shown in format!("\n{joined}").split("\n$ ").skip(1) {
                let (call, wanted) = shown.split_once('\n').unwrap_or((shown, ""));
                if call.starts_with("cargo") {
                    continue;
                }
                let found = called(call);
                let found: Vec<&str> = found.trim_end().lines().collect();
                let wanted: Vec<&str> = wanted.trim_end().lines().collect();
                let same = matches(&found, &wanted);
                assert!(
                    same,
                    "{page}: {call}\n--- found\n{}\n--- shown\n{}",
                    found.join("\n"),
                    wanted.join("\n")
                );
            }
        }
    }
}

/// The recipes of the package, for a bench.
struct Package;

impl Files for Package {
    fn read(&mut self, name: &str) -> Result<String, String> {
        Ok(read(name))
    }

    fn write(&mut self, name: &str, _: &str) -> Result<(), String> {
        Err(format!("`{name}` is not written over"))
    }

    fn exists(&mut self, _: &str) -> bool {
        true
    }

    fn library(&mut self, _: &str) -> Box<dyn Library> {
        Box::new(NoLibrary)
    }

    fn beginning(&mut self, _: &str) -> Vec<String> {
        Vec::new()
    }
}

#[test]
fn every_session_that_a_page_shows_runs_as_shown() {
    let mut typed = 0;
    for (page, text) in pages() {
        for block in blocks(&text)
            .iter()
            .filter(|block| block.language == "bench")
        {
            let file = block.lines[0].strip_prefix("$ annulet bench").unwrap();
            let mut bench = Bench::new(Box::new(Package), None);
            let mut found: Vec<String> = Vec::new();
            let mut wanted: Vec<&str> = Vec::new();
            let opened = match file.trim() {
                "" => bench.welcome(),
                file => bench.step(&format!("open {file}")).text,
            };
            found.extend(opened.lines().map(str::to_owned));
            for line in &block.lines[1..] {
                let prompt = bench.prompt();
                if let Some(typed_line) = line.strip_prefix(&prompt) {
                    let shown: Vec<&str> = found.iter().map(String::as_str).collect();
                    assert!(
                        matches(&shown, &wanted),
                        "{page}: before {line}\n{}",
                        shown.join("\n")
                    );
                    wanted.clear();
                    let reply = bench.step(typed_line);
                    assert!(!reply.refused, "{page}: {line}");
                    found = reply
                        .text
                        .lines()
                        .map(|line| line.trim_end().to_owned())
                        .collect();
                    typed += 1;
                } else {
                    wanted.push(line);
                }
            }
            let shown: Vec<&str> = found.iter().map(String::as_str).collect();
            assert!(
                matches(&shown, &wanted),
                "{page}: the end\n{}",
                shown.join("\n")
            );
        }
    }
    assert!(typed > 4);
}

#[test]
fn every_recipe_that_a_page_shows_is_sound() {
    for (page, text) in pages() {
        for block in blocks(&text) {
            let recipe = block.lines.join("\n") + "\n";
            if block.language != "annulet" || !recipe.contains("band ") {
                continue;
            }
            let ran = run(&["check", "-"], &recipe);
            assert_eq!(
                (ran.status, ran.stderr.as_str()),
                (0, ""),
                "{page}\n{recipe}"
            );
        }
    }
}

#[test]
fn a_page_is_compared_as_it_should_be() {
    let page =
        "text\n```console\n$ annulet --version\nannulet 0\n```\n```annulet\nband b {}\n```\n";
    let found = blocks(page);
    assert_eq!(found.len(), 2);
    assert_eq!(
        (found[0].language.as_str(), found[0].lines.len()),
        ("console", 2)
    );
    assert!(matches(&["a", "b", "c"], &["a", "\u{2026}"]));
    assert!(matches(&["a", "b", "c"], &["\u{2026}", "c"]));
    assert!(matches(&[], &[]));
    assert!(!matches(&["a", "b"], &["a"]));
    assert!(!matches(&["a"], &["a", "b"]));
    assert_eq!(
        called("annulet --version"),
        format!("annulet {}\n", env!("CARGO_PKG_VERSION"))
    );
}
