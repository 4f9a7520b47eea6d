//! `--lines`: one line in, one result out, before the next is sent; however many come, in the memory of one.
//!
//! Held against the acceptance list's points 26 and 30. What a line comes to is checked against `--set` and against a
//! recipe with the line written in it; the weight of a pipe by its closed form.

use std::fmt::Write as _;
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, Command, Stdio};

use serde_json::Value;

use crate::json_schema::Schema;
use crate::support::{agree, number, root, run};

const HARVEST: &str = "examples/harvest.annulet";

fn lines_of(text: &str) -> Vec<&str> {
    text.lines().collect()
}

#[test]
fn a_line_over_a_recipe_is_what_set_makes_of_it() {
    let lines = [
        ("", &[][..]),
        ("width 5 mm", &["width=5 mm"]),
        ("width=5 mm, size=US 7", &["width=5 mm", "size=US 7"]),
        ("width + 0.5 mm # wider", &["width + 0.5 mm"]),
        ("profile flat", &["profile=flat"]),
        ("cut 0.25 mm", &["cut=0.25 mm"]),
        (
            "pattern { cover 50 %, depth 0.2 mm }",
            &["pattern={ cover 50 %, depth 0.2 mm }"],
        ),
        (
            "width 5 mm, title \"a # b, c\"",
            &["width=5 mm", "title=\"a # b, c\""],
        ),
    ];
    let input: String = lines.iter().map(|(line, _)| format!("{line}\n")).collect();
    let questions = ["weight", "outside", "strip.length in in"];
    let mut call = vec!["ask", "--lines", "--plain", "--in", HARVEST];
    call.extend(questions);
    let ran = run(&call, &input);
    assert_eq!(ran.stderr, "");
    let found = lines_of(&ran.stdout);
    assert_eq!(found.len(), lines.len());
    for ((line, sets), found) in lines.iter().zip(found) {
        let mut call = vec!["ask", "--plain", "--in", HARVEST];
        call.extend(questions);
        for set in *sets {
            call.extend(["--set", set]);
        }
        let wanted = run(&call, "");
        assert_eq!(found.replace('\t', "\n") + "\n", wanted.stdout, "{line}");
    }
}

#[test]
fn each_line_is_a_recipe_where_none_is_named() {
    let mut input = String::new();
    for width in 1..=5 {
        writeln!(
            input,
            "band b {{ size 16 mm, width {width} mm, thickness 2 mm, profile flat, alloy silver-999 }}"
        )
        .unwrap();
    }
    input.push_str("band b {\n\u{1}\n");
    let schema = Schema::published_at("/$defs/line");
    let ran = run(&["eval", "--lines"], &input);
    assert_eq!(ran.status, 2);
    let found: Vec<Value> = ran
        .stdout
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    assert_eq!(found.len(), 7);
    for (place, line) in found.iter().enumerate() {
        assert_eq!(schema.accepts(line), Ok(()), "{line:#}");
        assert_eq!(line["line"], place + 1);
        let results = line["recipe"]["results"].as_object().unwrap();
        if place < 5 {
            assert_eq!(line["status"], 0);
            let width = (place + 1) as f64;
            let pipe = std::f64::consts::PI * width * (10.0 * 10.0 - 8.0 * 8.0);
            assert!(agree(number(results, "b.volume"), pipe, 1e-12));
        } else {
            assert_eq!(line["status"], 2);
            assert!(!line["findings"].as_array().unwrap().is_empty());
        }
    }
}

#[test]
fn a_bad_line_costs_only_itself() {
    let input = b"width 5 mm\nwidht 5 mm\nwidth 5 mmm\nwidth -1 mm\n\xff\nwidth 5 mm\n";
    let ran = crate::support::run_in(
        &root(),
        &["ask", "weight", "--lines", "--in", HARVEST],
        input,
    );
    let found = lines_of(&ran.stdout);
    assert_eq!(found.len(), 6);
    assert_eq!(found[0], found[5]);
    assert!(found[1..5].iter().all(|line| *line == "—"), "{found:?}");
    assert_eq!(ran.status, 2);
    for place in 2..=5 {
        let told = format!("<stdin>:{place}:1: error ");
        assert!(ran.stderr.contains(&told), "{told}:\n{}", ran.stderr);
    }
    assert!(!ran.stderr.contains("<stdin>:1:") && !ran.stderr.contains("<stdin>:6:"));
    // What falls short is told, and sets the status.
    let ran = run(
        &["ask", "weight", "--lines", "--in", HARVEST],
        "cut 1.1 mm\n",
    );
    assert_eq!(ran.status, 1);
    assert!(
        ran.stderr.starts_with("<stdin>:1:1: warning "),
        "{}",
        ran.stderr
    );
}

#[test]
fn calls_without_meaning_are_refused() {
    for (call, told) in [
        (
            &["eval", "--lines", HARVEST][..],
            "write `--in examples/harvest.annulet`",
        ),
        (
            &["eval", "--lines", "--in", "-"],
            "standard input holds the lines",
        ),
        (
            &["eval", "--lines", "--in", "no.annulet"],
            "there is no file",
        ),
        (&["eval", "--in", HARVEST], "--lines"),
    ] {
        let ran = run(call, "");
        assert_eq!((ran.status, ran.stdout.as_str()), (2, ""), "{call:?}");
        assert!(ran.stderr.contains(told), "{call:?}: {}", ran.stderr);
    }
}

/// The program over the harvest recipe, waiting for lines.
fn waiting() -> (Child, ChildStdin) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_annulet"))
        .args(["ask", "weight", "--plain", "--lines", "--in", HARVEST])
        .current_dir(root())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let pipe = child.stdin.take().unwrap();
    (child, pipe)
}

/// The memory that a process holds, in KiB.
fn held(child: &Child) -> usize {
    let status = std::fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap();
    let line = status
        .lines()
        .find(|line| line.starts_with("VmRSS:"))
        .unwrap();
    line.split_whitespace().nth(1).unwrap().parse().unwrap()
}

#[test]
fn a_result_comes_before_the_next_line_is_sent_and_memory_does_not_grow() {
    let (mut child, mut pipe) = waiting();
    let mut answers = BufReader::new(child.stdout.take().unwrap());
    let mut early = 0;
    for place in 0..3000 {
        // Numbers alone, and now and then a line that is resolved anew, or wrong.
        let line = match place % 50 {
            48 => "profile flat".to_owned(),
            49 => "width 5 mmm".to_owned(),
            _ => format!("width {}.{:03} mm", 3 + place % 5, place % 1000),
        };
        writeln!(pipe, "{line}").unwrap();
        let mut answer = String::new();
        answers.read_line(&mut answer).unwrap();
        assert_eq!(
            answer.trim().is_empty(),
            place % 50 == 49,
            "{line}: {answer}"
        );
        if place == 500 {
            early = held(&child);
        }
    }
    let late = held(&child);
    assert!(late < 64 * 1024, "{late} KiB");
    assert!(late < early + 1024, "from {early} to {late} KiB");
    drop(pipe);
    drop(child.stderr.take());
    assert_eq!(child.wait().unwrap().code(), Some(2));
}

#[test]
fn a_closed_pipe_ends_it_quietly_and_a_full_disk_with_one_line() {
    let shell = |script: &str| {
        let path = std::path::Path::new(env!("CARGO_BIN_EXE_annulet"));
        let ran = Command::new("sh")
            .args(["-c", script])
            .env("ANNULET", path)
            .current_dir(root())
            .output()
            .unwrap();
        (
            String::from_utf8(ran.stdout).unwrap(),
            String::from_utf8(ran.stderr).unwrap(),
            ran.status.code(),
        )
    };
    let (out, err, _) = shell(
        "yes 'width 5 mm' | \"$ANNULET\" ask weight --lines --in examples/harvest.annulet | head -2",
    );
    assert_eq!((out.lines().count(), err.as_str()), (2, ""));
    let (_, err, status) = shell(
        "echo 'width 5 mm' | \"$ANNULET\" ask weight --lines --in examples/harvest.annulet > /dev/full",
    );
    assert_eq!((err.lines().count(), status), (1, Some(2)), "{err}");
}
