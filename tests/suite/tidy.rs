//! The canonical form: the same for every layout, it says the same, keeps every comment, and moves no neighbour.
//!
//! Held against the acceptance list's point 37 over the shipped examples, the cases of findings and random recipes
//! with their layout disturbed.

use std::fs;
use std::path::Path;

use annulet::source::Sources;
use annulet::syntax;

use crate::overrides_equal_edits::outcome;
use crate::random_bands::of_seed;
use crate::support::{Ran, files_under, lone_examples, read, run, run_in};

fn tidied(text: &str) -> Ran {
    run(&["tidy", "-"], text)
}

/// Every comment of a text, in order.
fn comments(text: &str) -> Vec<String> {
    let lines = text.lines();
    let behind = lines.filter_map(|line| {
        // No text of these recipes holds the sign.
        line.split_once('#')
            .map(|(_, behind)| behind.trim().to_owned())
    });
    behind.collect()
}

/// Spaces where they mean nothing: more of them, tabs, other line ends.
fn disturbed(text: &str) -> String {
    let lines = text.lines().enumerate();
    let lines = lines.map(|(place, line)| {
        let indent = [" ", "\t", "      ", ""][place % 4];
        format!(
            "{indent}{}{}",
            line.trim_start(),
            ["", "  ", "\t"][place % 3]
        )
    });
    lines.collect::<Vec<_>>().join("\r\n") + "\r\n"
}

#[test]
fn what_is_tidy_stays_and_means_the_same() {
    let examples = lone_examples().into_iter();
    let examples = examples.map(|file| read(&file));
    let drawn = (0..60).map(|seed| of_seed(seed).recipe.text());
    for text in examples.chain(drawn) {
        let once = tidied(&text);
        assert_eq!((once.status, once.stderr.as_str()), (0, ""), "{text}");
        let form = once.stdout;
        assert_eq!(tidied(&form).stdout, form, "not the same twice:\n{text}");
        assert_eq!(tidied(&disturbed(&text)).stdout, form, "{text}");
        assert_eq!(comments(&form), comments(&text));
        assert_eq!(
            outcome(&form, Vec::new()),
            outcome(&text, Vec::new()),
            "{text}"
        );
    }
}

#[test]
fn examples_are_tidy() {
    let mut call = vec!["tidy", "--check"];
    let files = files_under("examples", ".annulet");
    call.extend(files.iter().map(String::as_str));
    let ran = run(&call, "");
    assert_eq!((ran.status, ran.stdout.as_str()), (0, ""), "{}", ran.stderr);
}

#[test]
fn a_changed_line_moves_no_other() {
    for file in files_under("examples", ".annulet") {
        let form = tidied(&read(&file)).stdout;
        let mut lines: Vec<String> = form.lines().map(str::to_owned).collect();
        let Some(place) = lines.iter().position(|line| line.starts_with("  width ")) else {
            continue;
        };
        lines[place] = "  width   9.876543   mm # a longer value, and why".to_owned();
        let after = tidied(&(lines.join("\n") + "\n")).stdout;
        lines[place] = "  width 9.876543 mm # a longer value, and why".to_owned();
        assert_eq!(after, lines.join("\n") + "\n", "{file}");
    }
}

const UNTIDY: &str = "# head\nband   b{ # its own\nwidth 4.5mm , size   ISO 54\n}\n";
const TIDY: &str = "# head\nband b { # its own\n  width 4.5 mm, size ISO 54\n}\n";

#[test]
fn a_check_writes_nothing_and_shows_what_would_change() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("r.annulet");
    fs::write(&file, UNTIDY).unwrap();
    let check = run_in(folder.path(), &["tidy", "--check", "r.annulet"], b"");
    assert_eq!((check.status, check.stderr.as_str()), (1, ""));
    assert!(
        check
            .stdout
            .contains("\n-band   b{ # its own\n-width 4.5mm , size   ISO 54\n+band b { # its own\n+  width 4.5 mm, size ISO 54\n"),
        "{}",
        check.stdout
    );
    assert_eq!(fs::read_to_string(&file).unwrap(), UNTIDY);
    // Piped, the same but for the name.
    let piped = run(&["tidy", "--check", "-"], UNTIDY);
    assert_eq!(piped.status, 1);
    assert_eq!(piped.stdout.replace("<stdin>", "r.annulet"), check.stdout);

    let ran = run_in(folder.path(), &["tidy", "r.annulet"], b"");
    assert_eq!(
        (ran.status, ran.stdout.as_str()),
        (0, "r.annulet: tidied\n")
    );
    assert_eq!(fs::read_to_string(&file).unwrap(), TIDY);
    for call in [
        &["tidy", "r.annulet"][..],
        &["tidy", "--check", "r.annulet"],
    ] {
        let again = run_in(folder.path(), call, b"");
        assert_eq!(
            (again.status, again.stdout.as_str(), again.stderr.as_str()),
            (0, "", "")
        );
    }
}

#[test]
fn what_cannot_be_read_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let broken = "band b {\n   width 4,5 mm\n  = =\n}\n";
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("broken.annulet", broken);
    write("untidy.annulet", UNTIDY);
    let ran = run_in(
        folder.path(),
        &["tidy", "broken.annulet", "untidy.annulet", "gone.annulet"],
        b"",
    );
    assert_eq!(ran.status, 2);
    assert_eq!(ran.stdout, "untidy.annulet: tidied\n");
    assert!(
        ran.stderr.contains("broken.annulet` is left as it is"),
        "{}",
        ran.stderr
    );
    assert!(ran.stderr.contains("gone.annulet"), "{}", ran.stderr);
    assert_eq!(
        fs::read_to_string(folder.path().join("broken.annulet")).unwrap(),
        broken
    );
    assert!(Path::new(&folder.path().join("untidy.annulet")).exists());
    // What has no meaning yet can still be tidied: a form is not a matter of fields.
    assert_eq!(
        tidied("band b { wdith  4.5mm }\n").stdout,
        "band b { wdith 4.5 mm }\n"
    );
}

#[test]
fn the_printer_and_the_command_are_one() {
    let mut sources = Sources::default();
    let id = sources.add("r", UNTIDY);
    let tree = syntax::parse(sources.get(id).unwrap()).value;
    assert_eq!(syntax::print(&tree), TIDY);
}
