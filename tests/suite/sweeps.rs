//! Many what-ifs at once: rows equal single evaluations, ranges are exact, and what is written comes whole.
//!
//! Each row is held against `ask` on the recipe with the same values laid over it, which is the other way to the same
//! figures; that those are right is held elsewhere. CSV is read by the crate `csv`, JSON lines by `serde_json`. What a
//! closed pipe and a full disk must come to is the acceptance list's.

use std::io::Read;
use std::process::{Command, Stdio};

use annulet::explore::{Cell, RowReader, Tally, Unmade, rows};
use annulet::session::{NoLibrary, Request, Resolver, Session};

use crate::support::{Ran, root, run};

const PAIR: &str = "examples/market-day.annulet";

fn sweep(words: &[&str], more: &[&str]) -> Ran {
    run(&[&["sweep"], words, more].concat(), "")
}

/// The table of a sweep, header first.
fn table(words: &[&str], more: &[&str]) -> Vec<Vec<String>> {
    let ran = sweep(words, &[more, &["--csv"]].concat());
    assert!(ran.status < 2, "{}", ran.stderr);
    let mut reader = csv::ReaderBuilder::new();
    let mut reader = reader.has_headers(false).from_reader(ran.stdout.as_bytes());
    let rows = reader.records().map(|row| row.unwrap());
    rows.map(|row| row.iter().map(str::to_owned).collect())
        .collect()
}

#[test]
fn steps_are_exact_and_the_end_is_in_when_it_fits() {
    let column = |values: &str| -> Vec<String> {
        let axis = format!("comfort {values}");
        let rows = table(
            &[&axis, "show weight"],
            &["--in", "examples/harvest.annulet"],
        );
        rows.iter().skip(1).map(|row| row[1].clone()).collect()
    };
    assert_eq!(column("0.1 mm .. 0.3 mm by 0.1 mm"), ["0.1", "0.2", "0.3"]);
    assert_eq!(column("0.1 mm .. 0.35 mm by 0.1 mm"), ["0.1", "0.2", "0.3"]);
    assert_eq!(column("0.3 mm .. 0.1 mm by -0.1 mm"), ["0.3", "0.2", "0.1"]);
    assert_eq!(
        column("[0.2 mm, 0 mm .. 0.1 mm by 0.05 mm]"),
        ["0.2", "0", "0.05", "0.1"]
    );
    for wrong in [
        "0.1 mm .. 0.3 mm by 0 mm",
        "0.1 mm .. 0.3 mm by -0.1 mm",
        "0.3 mm .. 0.1 mm by 0.1 mm",
        "0.1 mm .. 0.3 mm",
        "0.1 mm .. 0.3 g by 0.1 mm",
        "[]",
    ] {
        let axis = format!("comfort {wrong}");
        let ran = sweep(&[&axis], &["--in", "examples/harvest.annulet"]);
        assert_eq!((ran.status, ran.stdout.as_str()), (2, ""), "{wrong}");
        assert!(ran.stderr.contains("error"), "{wrong}: {}", ran.stderr);
    }
}

#[test]
fn rows_are_single_evaluations_to_the_last_digit_shown() {
    let cases: &[(&[&str], &[&str], &str)] = &[
        // Lengths of the section, metal alone; and with what follows from a `let`.
        (
            &["shell 0.45 mm .. 0.6 mm by 0.05 mm", "cut [0.2 mm, 0.3 mm]"],
            &["weight", "saving", "wall.least", "sleeve.weight"],
            "harvest-light",
        ),
        // Stretch, money and marks.
        (
            &["shell [0.45 mm, 0.6 mm]", "width [4 mm, 4.5 mm]"],
            &[
                "machined.shell.bore",
                "grip.aim",
                "cost",
                "price",
                "fineness.UK",
            ],
            "harvest-light",
        ),
        (
            &["shell [0.45 mm, 0.6 mm]", "cut [0.2 mm, 0.25 mm]"],
            &[
                "weight.lost",
                "cost.rejects",
                "cost.metal",
                "time.machine",
                "earning",
                "break-even.gold",
                "overlap",
            ],
            "harvest-light",
        ),
        // A size, an alloy, prices, the shop.
        (
            &["size [ISO 52, ISO 54]", "alloy [rose-585, yellow-585]"],
            &["weight", "strip.length"],
            "harvest",
        ),
        (
            &[
                "prices.gold 60 EUR/g .. 100 EUR/g by 20 EUR/g",
                "shop.rejects.hollow [2 %, 10 %]",
            ],
            &["cost", "break-even.gold"],
            "harvest-light",
        ),
        (
            &[
                "pattern.repeats [12, 18]",
                "thickness [1.4 mm, 1.5 mm]",
                "ease.outer [0 mm, 0.1 mm]",
            ],
            &["weight", "strip.pitch"],
            "harvest",
        ),
        (
            &[
                "alloy.rose-585.density [13.2 g/cm3, 13.3 g/cm3]",
                "width [4 mm, 5 mm]",
            ],
            &["weight"],
            "harvest",
        ),
    ];
    let mut compared = 0;
    for (axes, results, band) in cases {
        let show = format!("show {}", results.join(", "));
        let words: Vec<&str> = axes.iter().copied().chain([show.as_str()]).collect();
        let rows = table(&words, &["--in", PAIR, "--band", band]);
        let paths: Vec<&str> = axes
            .iter()
            .map(|axis| axis.split_once(' ').unwrap().0)
            .collect();
        let units: Vec<&str> = rows[0][1..=axes.len()]
            .iter()
            .map(|name| {
                name.split_once(" (")
                    .map_or("", |(_, unit)| unit.trim_end_matches(')'))
            })
            .collect();
        for row in &rows[1..] {
            let mut call = vec!["ask".to_owned()];
            call.extend(results.iter().map(|path| (*path).to_owned()));
            call.extend(["--plain", "--in", PAIR, "--band", band].map(str::to_owned));
            for ((path, unit), value) in paths.iter().zip(&units).zip(&row[1..]) {
                call.extend(["--set".to_owned(), format!("{path}={value} {unit}")]);
            }
            let call: Vec<&str> = call.iter().map(String::as_str).collect();
            let asked = run(&call, "");
            for (result, (cell, single)) in results
                .iter()
                .zip(row[1 + axes.len()..].iter().zip(asked.stdout.lines()))
            {
                let digits = cell.split_once('.').map_or(0, |(_, digits)| digits.len());
                let cell: Option<f64> = cell.parse().ok();
                let single: Option<f64> = single.parse().ok();
                assert_eq!(
                    cell.is_some(),
                    single.is_some(),
                    "{result} {row:?} {}",
                    asked.stderr
                );
                let Some((cell, single)) = cell.zip(single) else {
                    continue;
                };
                // What is shown may be six digits that end in zeros, which are left out.
                let half = 0.5000001 * 10_f64.powi(-(digits.max(6) as i32));
                assert!(
                    (cell - single).abs() <= half,
                    "{result}: {cell} {single} {row:?}"
                );
                compared += 1;
            }
        }
    }
    assert!(compared > 60, "{compared}");
}

/// Whether all limits are kept, where some lengths may be off, by a `±` or by what the shop turns to, and where none may.
#[test]
fn a_row_holds_where_the_band_by_itself_does() {
    let pair = std::fs::read_to_string(PAIR).unwrap();
    let turned = "shop {\n  tolerance { turning 0.03 mm }";
    let recipes = [
        pair.clone(),
        pair.replace("shop {", turned),
        pair.replace("shell 0.55 mm", "shell 0.55 mm \u{B1} 0.02 mm")
            .replace("sleeve 0.30 mm", "sleeve 0.30 mm \u{B1} 0.05 mm"),
    ];
    let mut seen = std::collections::BTreeSet::new();
    for recipe in &recipes {
        let shells = ["0.45", "0.5", "0.53", "0.6"];
        let axis = format!("shell [{} mm]", shells.join(" mm, "));
        let more = ["--band", "harvest-light", "--in", "-", "--csv"];
        let swept = run(
            &[&["sweep", &axis, "show holds"][..], &more].concat(),
            recipe,
        );
        let rows: Vec<&str> = swept.stdout.lines().skip(1).collect();
        assert_eq!(rows.len(), shells.len(), "{}", swept.stderr);
        for (row, shell) in rows.iter().zip(shells) {
            let set = format!("harvest-light.shell={shell} mm");
            let alone = ["ask", "weight", "--band", "harvest-light", "--in", "-"];
            let alone = run(&[&alone[..], &["--set", &set]].concat(), recipe);
            let holds = row.ends_with(",yes");
            assert_eq!(holds, alone.status == 0, "{shell} {row} {}", alone.stderr);
            seen.insert(holds);
        }
    }
    assert_eq!(seen.len(), 2, "both must happen");
}

/// Source: the volume of a pipe and of the shell that an even cut takes off it, of any handbook.
#[test]
fn a_band_of_level_outside_and_bore_is_a_pipe_in_every_row() {
    let recipe = "band b { size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy sterling
      pattern { depth 0.2 mm, cover 50 %, repeats 12 } }";
    let call = [
        "sweep",
        "thickness [0.15 mm, 1 mm .. 2 mm by 0.25 mm]",
        "width [3 mm, 4.5 mm]",
        "show volume, volume.uncut, strip.length",
        "--csv",
        "--in",
        "-",
    ];
    let ran = run(&call, recipe);
    let mut lines = ran.stdout.lines().skip(1);
    let pi = std::f64::consts::PI;
    for thickness in [0.15, 1.0, 1.25, 1.5, 1.75, 2.0] {
        for width in [3.0, 4.5] {
            let cells: Vec<Option<f64>> = lines
                .next()
                .unwrap()
                .split(',')
                .map(|cell| cell.parse().ok())
                .collect();
            assert_eq!(cells[1..3], [Some(thickness), Some(width)]);
            if thickness < 0.2 {
                assert_eq!(cells[3..], [None; 3], "cut through");
                continue;
            }
            let (bore, outside) = (8.5, 8.5 + thickness);
            let uncut = pi * width * (outside * outside - bore * bore);
            let left: f64 = outside - 0.2;
            let cut = 0.5 * pi * width * (outside * outside - left * left);
            let wanted = [uncut - cut, uncut, 2.0 * pi * outside];
            for (found, wanted) in cells[3..].iter().zip(wanted) {
                assert!(
                    (found.unwrap() - wanted).abs() <= 5.1e-7,
                    "{found:?} {wanted}"
                );
            }
        }
    }
    assert_eq!(lines.next(), None);
}

/// Rows of a sweep over a recipe, so many at once, each block read by the same reader or by one of its own.
fn rows_in_blocks(
    recipe: &str,
    words: &str,
    size: u64,
    apart: bool,
) -> (Vec<u64>, Vec<Cell>, Tally) {
    let mut session = Session::default();
    let prepared = session.prepare("r.annulet", recipe, &mut NoLibrary);
    let request = Request::default();
    let outcome = session.outcome(&prepared, &request);
    let (sweep, findings) = session.sweep(&prepared, &request, &outcome, words);
    let sweep = sweep.unwrap_or_else(|| panic!("{words}: {findings:?}"));
    let anew = Resolver::new(&session, &prepared, &request, &outcome, &sweep.bands);
    let engine = sweep.engine(&anew);
    let mut reader = RowReader::new(&engine);
    let (mut kept, mut cells, mut tally) = (Vec::new(), Vec::new(), Tally::default());
    let mut from = 0;
    while from < sweep.rows {
        if apart {
            reader = RowReader::new(&engine);
        }
        let to = (from + size).min(sweep.rows);
        let unmade = match sweep.conditions.is_empty() {
            true => Unmade::Kept,
            false => Unmade::Dropped,
        };
        let found = rows(&mut reader, from, to, unmade);
        kept.extend(found.kept);
        cells.extend(found.cells);
        tally.add(&found.tally);
        from = to;
    }
    (kept, cells, tally)
}

#[test]
fn rows_behind_each_other_are_the_rows_by_themselves() {
    let recipe = "let deep = 1.2 mm
        band b { size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy sterling
          pattern { repeats 18, depth deep, mean-depth 0.6 mm, cover 80 % } }\n";
    let mut of_each = std::collections::BTreeSet::new();
    for words in [
        // What is thinner than its cut cannot be made; a solid band has no saving.
        "width [3 mm, 5 mm], thickness 1 mm .. 3 mm by 0.01 mm show weight, saving, volume",
        "width [3 mm, 5 mm], thickness 3 mm .. 1 mm by -0.01 mm show weight where weight <= 9 g, weight >= 4 g",
        "thickness [1.3 mm, 2 mm], size 15 mm .. 19 mm by 0.05 mm show weight.cut where weight >= 5 g",
        "thickness [1 mm, 2 mm], width 3 mm .. 6 mm by 0.01 mm show outside, strip.height, weight",
        "thickness [1 mm, 2 mm], pattern.mean-depth 0.5 mm .. 1.5 mm by 0.01 mm show weight.cut, weight",
        "thickness 1.3 mm .. 1.4 mm by 0.01 mm, deep 0.8 mm .. 1.6 mm by 0.01 mm show weight, wall.least",
        "width 3 mm .. 6 mm by 0.00001 mm show weight where weight < 3.9 g",
        "comfort 0 mm .. 0.3 mm by 0.1 mm, width 3 mm .. 4 mm by 0.01 mm show weight, section.area",
    ] {
        let all = rows_in_blocks(recipe, words, u64::MAX / 2, false);
        assert!(all.2.rows > 100, "{words}");
        if all.2.rows < 1000 {
            assert_eq!(rows_in_blocks(recipe, words, 1, true), all, "{words}");
        }
        assert_eq!(rows_in_blocks(recipe, words, 97, true), all, "{words}");
        assert_eq!(rows_in_blocks(recipe, words, 97, false), all, "{words}");
        let tally = &all.2;
        let counts = [tally.kept, tally.dropped, tally.barred];
        of_each.extend((0..3).filter(|one| counts[*one] > 0));
    }
    assert_eq!(of_each.len(), 3);
}

#[test]
fn conditions_keep_and_an_aim_orders() {
    let words = [
        "thickness 1.4 mm .. 1.8 mm by 0.1 mm",
        "width [4 mm, 5 mm]",
        "show weight",
        "where wall.least >= 0.9 mm, width >= 4.5 mm",
        "most weight best 2",
    ];
    let rows = table(&words, &["--in", PAIR, "--band", "harvest"]);
    let values: Vec<&[String]> = rows[1..].iter().map(|row| &row[1..3]).collect();
    assert_eq!(values, [["1.8", "5"], ["1.7", "5"]]);
    // What a condition does not hold of is gone, and nothing left is status 1.
    let ran = sweep(
        &["width [4 mm, 5 mm]", "where weight > 1 kg"],
        &["--in", PAIR, "--band", "harvest"],
    );
    assert_eq!(ran.status, 1);
    assert!(ran.stderr.contains("no row is left"), "{}", ran.stderr);
}

#[test]
fn what_has_no_value_is_an_empty_cell_and_counted() {
    let words = ["thickness [1.1 mm, 1.5 mm]", "show weight, saving"];
    let more = ["--in", PAIR, "--band", "harvest", "--csv"];
    let ran = sweep(&words, &more);
    let lines: Vec<&str> = ran.stdout.lines().collect();
    assert_eq!(lines.len(), 3, "{}", ran.stdout);
    assert!(lines[1].ends_with(",1.1,,"), "{}", lines[1]);
    assert!(lines[2].ends_with(','), "{}", lines[2]);
    assert!(
        ran.stderr.contains("1 of 2 rows cannot be made"),
        "{}",
        ran.stderr
    );
    assert!(
        ran.stderr.contains("saving has no value in 1 row"),
        "{}",
        ran.stderr
    );
}

#[test]
fn any_number_of_threads_gives_the_same_bytes() {
    let words = [
        "width 4 mm .. 5 mm by 0.01 mm",
        "thickness 1.3 mm .. 1.7 mm by 0.005 mm",
        "show weight, wall.least",
    ];
    let of = |jobs: &str| {
        let ran = sweep(
            &words,
            &["--in", PAIR, "--band", "harvest", "--csv", "--jobs", jobs],
        );
        assert_eq!(ran.status, 0, "{}", ran.stderr);
        ran.stdout
    };
    let one = of("1");
    assert_eq!(one.lines().count(), 1 + 101 * 81);
    assert!(one == of("2") && one == of("8"));
}

#[test]
fn json_lines_say_their_columns_and_their_rows() {
    let words = ["width [4 mm, 5 mm]", "show weight, holds"];
    let ran = sweep(&words, &["--in", PAIR, "--band", "harvest", "--lines"]);
    let lines: Vec<serde_json::Value> = ran
        .stdout
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    assert_eq!(lines.len(), 3);
    assert_eq!(lines[0]["columns"][0]["unit"], "mm");
    assert_eq!(lines[2]["harvest.width"], 5);
    assert!(lines[2]["weight"].as_f64().unwrap() > 4.5);
    assert_eq!(lines[2]["holds"], "yes");
}

#[test]
fn a_closed_pipe_ends_quietly_and_a_full_disk_does_not() {
    let recipe =
        "band b { size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy sterling }\n";
    let folder = tempfile::TempDir::new().unwrap();
    std::fs::write(folder.path().join("b.annulet"), recipe).unwrap();
    let words = [
        "sweep",
        "thickness 1 mm .. 2 mm by 0.001 mm",
        "width 3 mm .. 5.997 mm by 0.003 mm",
        "show weight",
        "--csv",
    ];
    let mut child = Command::new(env!("CARGO_BIN_EXE_annulet"))
        .args(words)
        .current_dir(folder.path())
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut first = [0_u8; 100];
    child.stdout.take().unwrap().read_exact(&mut first).unwrap();
    let ended = child.wait_with_output().unwrap();
    assert!(first.starts_with(b"file,thickness (mm),width (mm),weight (g)\n"));
    assert!(ended.status.success());
    let said = String::from_utf8(ended.stderr).unwrap();
    assert_eq!(said, "annulet: this sweep has 1,001,000 rows\n");
    if std::path::Path::new("/dev/full").exists() {
        let full = std::fs::File::options()
            .write(true)
            .open("/dev/full")
            .unwrap();
        let ran = Command::new(env!("CARGO_BIN_EXE_annulet"))
            .args(words)
            .arg("--quiet")
            .current_dir(folder.path())
            .stdin(Stdio::null())
            .stdout(full)
            .output()
            .unwrap();
        assert_eq!(ran.status.code(), Some(2));
        let said = String::from_utf8(ran.stderr).unwrap();
        assert_eq!(said.lines().count(), 1, "{said}");
    }
}

#[test]
#[cfg(target_os = "linux")]
fn an_interrupt_loses_no_finished_row() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_annulet"))
        .args([
            "sweep",
            "thickness 1.3 mm .. 2 mm by 0.00001 mm",
            "width 3 mm .. 6 mm by 0.00001 mm",
            "show weight, cost",
            "--csv",
            "--band",
            "harvest",
            "--in",
            PAIR,
        ])
        .current_dir(root())
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut out = child.stdout.take().unwrap();
    let mut all = vec![0_u8; 4000];
    out.read_exact(&mut all).unwrap();
    let killed = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status()
        .unwrap();
    assert!(killed.success());
    out.read_to_end(&mut all).unwrap();
    let ended = child.wait_with_output().unwrap();
    assert_eq!(ended.status.code(), Some(130));
    let text = String::from_utf8(all).unwrap();
    assert!(text.ends_with('\n'));
    let widths = text.lines().map(|line| line.split(',').count());
    assert!(widths.into_iter().all(|count| count == 5));
    let said = String::from_utf8(ended.stderr).unwrap();
    let rows = text.lines().count() - 1;
    let count: String = said
        .lines()
        .find_map(|line| line.split_once("interrupted after "))
        .unwrap()
        .1
        .chars()
        .take_while(|c| *c != ' ')
        .filter(char::is_ascii_digit)
        .collect();
    assert_eq!(count.parse::<usize>().unwrap(), rows, "{said}");
}
