//! Streams and terminals: colour, closed pipes, full disks, closed standard streams.
//!
//! Held against the acceptance list's points 24 to 26 and the language page: colour only on a terminal,
//! `NO_COLOR` and `TERM=dumb` turn it off, `--color` beats both, each stream is judged by itself.

use std::fs::File;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

use crate::support::{band_with, root};

/// Variables and their values.
type Environment = &'static [(&'static str, &'static str)];

const PROGRAM: &str = env!("CARGO_BIN_EXE_annulet");

/// Runs a shell line in a folder that holds `bad.annulet` and `good.annulet`; `$ANNULET` is the program.
fn shell(line: &str, environment: &[(&str, &str)]) -> Output {
    let folder = TempDir::new().unwrap();
    std::fs::write(
        folder.path().join("bad.annulet"),
        band_with(&["width 5 mmm"]),
    )
    .unwrap();
    std::fs::write(folder.path().join("good.annulet"), band_with(&[])).unwrap();
    Command::new("sh")
        .args(["-c", line])
        .current_dir(folder.path())
        .env_remove("NO_COLOR")
        .env("TERM", "xterm-256color")
        .env("ANNULET", PROGRAM)
        .envs(environment.iter().copied())
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

/// The same on a pseudo-terminal; nothing where this machine has no `script` to make one.
fn on_terminal(line: &str, environment: &[(&str, &str)]) -> Option<String> {
    if !Path::new("/usr/bin/script").exists() {
        return None;
    }
    let output = shell(
        &format!("script -qec '{line}' /dev/null; cat log 2>/dev/null"),
        environment,
    );
    Some(String::from_utf8(output.stdout).unwrap())
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).unwrap()
}

const ESCAPE: char = '\u{1B}';

#[test]
fn redirected_output_has_no_colour() {
    for line in [
        "$ANNULET check bad.annulet",
        "$ANNULET eval good.annulet",
        "$ANNULET --help",
    ] {
        let output = shell(line, &[]);
        assert!(!text(&output.stdout).contains(ESCAPE), "{line}");
        assert!(!text(&output.stderr).contains(ESCAPE), "{line}");
    }
}

#[test]
fn an_option_beats_the_environment() {
    let cases = [
        ("--color always", "", "", true),
        ("--color always", "1", "", true),
        ("--color always", "1", "dumb", true),
        ("--color never", "", "", false),
        ("--color auto", "", "", false),
    ];
    for (option, no_color, term, colored) in cases {
        let line = format!("$ANNULET check bad.annulet {option}");
        let output = shell(&line, &[("NO_COLOR", no_color), ("TERM", term)]);
        assert_eq!(
            text(&output.stderr).contains(ESCAPE),
            colored,
            "{option} {no_color} {term}"
        );
        assert_eq!(output.status.code(), Some(2));
    }
}

#[test]
fn a_terminal_gets_colour_unless_told_otherwise() {
    let cases: &[(&str, Environment, bool)] = &[
        ("$ANNULET check bad.annulet", &[], true),
        ("$ANNULET check bad.annulet", &[("NO_COLOR", "1")], false),
        ("$ANNULET check bad.annulet", &[("NO_COLOR", "")], true),
        ("$ANNULET check bad.annulet", &[("TERM", "dumb")], false),
        ("$ANNULET check bad.annulet --color never", &[], false),
        (
            "$ANNULET check bad.annulet --color always",
            &[("NO_COLOR", "1")],
            true,
        ),
        // Standard error goes to a file, standard output to the terminal: each is judged by itself.
        ("$ANNULET check bad.annulet 2>log", &[], false),
        ("$ANNULET check bad.annulet >log", &[], true),
    ];
    for (line, environment, colored) in cases {
        let Some(shown) = on_terminal(line, environment) else {
            return;
        };
        assert!(shown.contains("mmm"), "{line}: {shown}");
        assert_eq!(
            shown.contains(ESCAPE),
            *colored,
            "{line} {environment:?}: {shown}"
        );
    }
}

#[test]
fn findings_fit_the_width_they_are_given() {
    for width in ["40", "60", "100"] {
        let line = "$ANNULET check bad.annulet --set title=5";
        let output = shell(line, &[("COLUMNS", width)]);
        let widest = text(&output.stderr)
            .lines()
            .map(annulet::source::cells)
            .max()
            .unwrap();
        assert!(
            widest <= width.parse().unwrap(),
            "{width}: {}",
            text(&output.stderr)
        );
    }
}

#[test]
fn a_closed_pipe_ends_quietly() {
    for command in [
        "list alloys",
        "list sizes",
        "eval good.annulet",
        "eval good.annulet --json",
    ] {
        // `sleep` makes sure that nobody reads any more when the program writes.
        let line = format!("(sleep 0.05; $ANNULET {command}; echo $? >&2) | true");
        let output = shell(&line, &[]);
        let said = text(&output.stderr);
        assert!(said == "0\n" || said == "141\n", "{command}: {said}");
    }
    let closed = shell("$ANNULET check bad.annulet 2>&-; echo $?", &[]);
    assert_eq!(text(&closed.stdout), "2\n");
}

#[test]
fn a_full_disk_is_one_line_and_a_status() {
    for command in [
        "list alloys",
        "eval good.annulet",
        "ask weight --in good.annulet",
    ] {
        let output = shell(&format!("$ANNULET {command} >/dev/full; echo $?"), &[]);
        assert_eq!(text(&output.stdout), "2\n", "{command}");
        let said = text(&output.stderr);
        assert_eq!(said.lines().count(), 1, "{command}: {said}");
        assert!(
            said.starts_with("annulet: cannot write"),
            "{command}: {said}"
        );
    }
}

#[test]
fn closed_standard_streams_are_no_panic() {
    let lines = [
        "$ANNULET eval - <&-",
        "$ANNULET eval good.annulet >&-",
        "$ANNULET eval good.annulet >&- 2>&-",
        "$ANNULET eval good.annulet <&- >&- 2>&-",
        "$ANNULET check bad.annulet <&- 2>&-",
    ];
    for line in lines {
        let output = shell(&format!("({line}); echo $?"), &[]);
        let status = text(&output.stdout).lines().last().unwrap().to_owned();
        assert!(["0", "2"].contains(&status.as_str()), "{line}: {status}");
        assert!(!text(&output.stderr).contains("panicked"), "{line}");
    }
}

#[test]
fn the_environment_changes_nothing_that_is_computed() {
    let run = |environment: &[(&str, &str)]| {
        // The width of a terminal lays texts out; the columns that are stated are those of a plain page.
        let line = "$ANNULET eval --json good.annulet; $ANNULET eval --csv good.annulet; COLUMNS=80 $ANNULET eval good.annulet";
        shell(line, environment).stdout
    };
    let plain = run(&[]);
    let others: &[&[(&str, &str)]] = &[
        &[("LC_ALL", "de_DE.UTF-8"), ("LANG", "de_DE.UTF-8")],
        &[("TZ", "Pacific/Kiritimati")],
        &[("HOME", "/nonexistent"), ("USER", "nobody")],
        &[("COLUMNS", "40"), ("NO_COLOR", "1"), ("TERM", "dumb")],
    ];
    for environment in others {
        assert_eq!(run(environment), plain, "{environment:?}");
    }
    assert!(!text(&plain).contains(root().to_str().unwrap()));
}

#[test]
fn a_file_that_cannot_be_read_is_said_by_name() {
    let output = shell("mkdir d && $ANNULET eval d good.annulet; echo $?", &[]);
    assert!(
        text(&output.stderr).contains("`d` is a folder"),
        "{}",
        text(&output.stderr)
    );
    assert!(text(&output.stdout).ends_with("2\n") && text(&output.stdout).starts_with("b\n"));
    assert!(
        File::open("/dev/full").is_ok(),
        "these tests need /dev/full"
    );
}
