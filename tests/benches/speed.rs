//! Speed of the kernel and of reading, each beside a baseline in the same run: `cargo bench`.
//!
//! Whole-process figures (start, peak memory) are measured from outside; see `DEVELOPERS.md`.
#![allow(missing_docs, clippy::unwrap_used)]

use std::f64::consts::PI;

use annulet::Plan;
use annulet::bench::{Bench, Files, complete, look};
use annulet::kernel::pattern::{
    Accuracy, CutShape, CutterForm, PathPoint, Relief, RingPlace, StripOutside, StripPlace,
    StrokeRun, ToolCut, work,
};
use annulet::kernel::section::curve::{Piece, Point};
use annulet::kernel::section::{Catch, Cut, Hollow, Outside, Roof, Shape};
use annulet::kernel::{Input, figures};
use annulet::schema::{FieldId, ResultId};
use annulet::session::{Library, NoLibrary, Request, Session};
use annulet::source::Sources;
use annulet::syntax;
use divan::{Bencher, black_box};
use rust_decimal::Decimal;

fn main() {
    divan::main();
    // One bench by its name is looked at alone.
    if std::env::args().all(|word| word.starts_with('-') || word.contains('/')) {
        beside_numpy();
    }
}

/// The weights of a million pipes by numpy, the quickest of several runs, in seconds.
const NUMPY: &str = "
import time
import numpy as np
best = 1e9
for _ in range(9):
    start = time.perf_counter()
    thickness = 1 + np.arange(1000)[:, None] * 0.001
    width = 3 + np.arange(1000)[None, :] * 0.003
    weight = 0.01036 * np.pi * width * ((8.5 + thickness) ** 2 - 8.5**2)
    best = min(best, time.perf_counter() - start)
print(best)
";

/// Sweeps of a million flat bands beside numpy with the same formula, in this run; nothing where numpy is not there.
fn beside_numpy() {
    let python = std::process::Command::new("python3")
        .args(["-c", NUMPY])
        .output();
    let said = python
        .ok()
        .map(|ran| String::from_utf8_lossy(&ran.stdout).trim().to_owned());
    let Some(numpy) = said.and_then(|said| said.parse::<f64>().ok()) else {
        println!("numpy is not there: no ratio");
        return;
    };
    let quickest = |csv: bool| {
        let runs = (0..5).map(|_| {
            let start = std::time::Instant::now();
            black_box(swept(FLAT, None, MILLION, csv));
            start.elapsed().as_secs_f64()
        });
        runs.fold(f64::INFINITY, f64::min)
    };
    println!(
        "a million flat bands, quickest runs: numpy {:.1} ms",
        numpy * 1e3
    );
    for (what, csv) in [("in memory", false), ("as CSV", true)] {
        let ours = quickest(csv);
        println!(
            "  sweep {what} {:.1} ms, {:.1} times numpy",
            ours * 1e3,
            ours / numpy
        );
    }
}

fn shape(outside: Outside, hollow: Option<Hollow>) -> Shape {
    Shape {
        radius: 8.6,
        width: 5.0,
        thickness: 1.8,
        comfort: 0.2,
        outside,
        ease_outer: 0.0,
        ease_bore: 0.0,
        cut: Some(Cut {
            depth: 0.25,
            mean_depth: 0.15,
            even: false,
            cover: 0.8,
            drawn: false,
        }),
        hollow,
    }
}

fn input(outside: Outside, hollow: Option<Hollow>) -> Input {
    let density = 0.0133;
    Input {
        shape: shape(outside, hollow),
        density,
        shell_density: density,
        sleeve_density: density,
        solder: 0.0,
        repeats: Some(18),
        marks: annulet::kernel::Marks::default(),
        stretch: Default::default(),
        drawn: None,
    }
}

fn two_parts() -> Option<Hollow> {
    let catch = Catch::Ridge {
        height: 0.1,
        wide: 0.3,
        two: true,
        play: 0.05,
    };
    Some(Hollow {
        wall: 0.45,
        roof: Roof::Uniform,
        nose: 0.0,
        sleeve: 0.4,
        relief: None,
        catch,
        play: 0.0,
    })
}

/// A rolling outline of 50 straight runs.
fn outline() -> Outside {
    let at = |run: i32| {
        let x = -2.5 + 0.1 * f64::from(run);
        Point {
            x,
            y: 1.5 + 0.3 * (1.0 - (x / 2.5) * (x / 2.5)) + 0.02 * f64::from(run % 2),
        }
    };
    Outside::Custom(
        (0..50)
            .map(|run| Piece::line(at(run), at(run + 1)))
            .collect(),
    )
}

/// Baseline: the weight of a plain pipe by one formula.
#[divan::bench(sample_size = 10_000)]
fn baseline_one_formula(bencher: Bencher) {
    bencher.bench(|| {
        let (radius, width, thickness, density) = black_box((8.6, 5.0, 1.8, 0.0133));
        let outside: f64 = radius + thickness;
        density * PI * width * (outside * outside - radius * radius)
    });
}

#[divan::bench(sample_size = 1_000)]
fn solid_flat(bencher: Bencher) {
    let input = input(Outside::Flat, None);
    bencher.bench(|| figures(black_box(&input)));
}

#[divan::bench(sample_size = 1_000)]
fn solid_domed(bencher: Bencher) {
    let input = input(Outside::Domed { edge: 1.2 }, None);
    bencher.bench(|| figures(black_box(&input)));
}

#[divan::bench(sample_size = 1_000)]
fn hollow_flat(bencher: Bencher) {
    let input = input(Outside::Flat, two_parts());
    bencher.bench(|| figures(black_box(&input)));
}

#[divan::bench(sample_size = 1_000)]
fn hollow_domed(bencher: Bencher) {
    let input = input(Outside::Domed { edge: 1.2 }, two_parts());
    bencher.bench(|| figures(black_box(&input)));
}

#[divan::bench(sample_size = 1_000)]
fn hollow_knife_edge(bencher: Bencher) {
    let input = input(
        Outside::KnifeEdge {
            edge: 1.1,
            crown: 0.6,
        },
        two_parts(),
    );
    bencher.bench(|| figures(black_box(&input)));
}

#[divan::bench(sample_size = 1_000)]
fn hollow_bevelled_with_nose(bencher: Bencher) {
    let hollow = two_parts().map(|hollow| Hollow {
        nose: 0.2,
        ..hollow
    });
    let input = input(
        Outside::Bevelled {
            across: 1.0,
            down: 0.4,
        },
        hollow,
    );
    bencher.bench(|| figures(black_box(&input)));
}

#[divan::bench(sample_size = 100)]
fn hollow_custom_of_50_runs(bencher: Bencher) {
    let input = input(outline(), two_parts());
    bencher.bench(|| figures(black_box(&input)));
}

/// A dense pattern on a strip of 60 mm by 6 mm under a dome: lines both ways, a wave, dots and a pocket, 20 repeats.
fn dense() -> (StripOutside, [ToolCut; 5]) {
    let vee = CutterForm::vee(std::f64::consts::FRAC_PI_2, 0.05);
    let ball = CutterForm::Ball { radius: 0.3 };
    let corner = |u: f64, v: f64| PathPoint {
        at: StripPlace { u, v },
        run: StrokeRun::Line,
    };
    let lines = CutShape::Lines {
        count: 3,
        slant: 0.5,
        both: true,
    };
    let wave = CutShape::Wave {
        rise: 1.6,
        at: 0.0,
        periods: 1.0,
    };
    let dots = CutShape::Dots { row: 1.8, count: 4 };
    let ring = CutShape::Ring {
        place: RingPlace::FromEdge(0.4),
        both: true,
    };
    let pocket = CutShape::Pocket {
        outline: vec![corner(0.5, -1.0), corner(2.0, -1.0), corner(1.2, 0.8)],
        step_over: None,
    };
    let cuts = [
        ToolCut::new(lines, vee, 0.25),
        ToolCut::new(wave, vee, 0.3),
        ToolCut::new(dots, ball, 0.15),
        ToolCut::new(ring, vee, 0.15),
        ToolCut::new(pocket, CutterForm::Flat { half: 0.2 }, 0.2),
    ];
    let radius = 60.0 / std::f64::consts::TAU;
    (StripOutside::dome(radius, 6.0, 8.0).unwrap(), cuts)
}

#[divan::bench(sample_count = 30, sample_size = 1)]
fn dense_strip(bencher: Bencher) {
    let (outside, cuts) = dense();
    bencher.bench(|| {
        let accuracy = Accuracy::default();
        work(
            black_box(&outside),
            &cuts,
            20,
            accuracy,
            &mut Relief::default(),
        )
    });
}

/// A recipe of about 5,000 lines.
fn long_recipe() -> String {
    let mut text = String::from("annulet 1\n");
    for place in 0..416 {
        text.push_str(&format!(
            "\n# band number {place}\nband band-{place} {{\n  title \"Band {place}\"\n  size ISO 54\n  width 4.5 mm\n  \
             thickness 1.5 mm\n  profile domed {{ edge 1.2 mm }}\n  alloy silver-925\n  \
             pattern {{ repeats 18, depth 0.3 mm, mean-depth 0.18 mm, cover 90 % }}\n}}\n"
        ));
    }
    text
}

/// Baseline: going through the same text once, line by line.
#[divan::bench]
fn baseline_lines_of_5000(bencher: Bencher) {
    let text = long_recipe();
    bencher.bench(|| {
        black_box(&text)
            .lines()
            .map(|line| line.split_whitespace().count())
            .sum::<usize>()
    });
}

#[divan::bench]
fn parse_5000_lines(bencher: Bencher) {
    let text = long_recipe();
    bencher.bench(|| {
        let mut sources = Sources::default();
        let id = sources.add("long", black_box(&text));
        syntax::parse(sources.get(id).unwrap())
    });
}

#[divan::bench]
fn resolve_and_evaluate_5000_lines(bencher: Bencher) {
    let text = long_recipe();
    bencher.bench(|| Session::default().run("long", black_box(&text), &Request::default()));
}

/// The long recipe, as a file.
struct LongFile;

impl Files for LongFile {
    fn read(&mut self, _: &str) -> Result<String, String> {
        Ok(long_recipe())
    }

    fn write(&mut self, _: &str, _: &str) -> Result<(), String> {
        Ok(())
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

/// A bench on a recipe of about 5,000 lines, in its middle.
fn long_bench() -> Bench {
    let mut bench = Bench::new(Box::new(LongFile), None);
    let reply = bench.step("open long.annulet");
    assert!(!reply.refused);
    bench.step("on band-200");
    bench
}

/// Baseline: the same override by evaluating the whole recipe again.
#[divan::bench(sample_count = 30, sample_size = 1)]
fn baseline_override_5000_lines(bencher: Bencher) {
    let text = long_recipe();
    let request = Request {
        sets: vec!["width=5 mm".to_owned()],
        band: Some("band-200".to_owned()),
        ..Request::default()
    };
    bencher.bench(|| Session::default().run("recipe", black_box(&text), &request));
}

#[divan::bench(sample_count = 30, sample_size = 1)]
fn try_in_5000_lines(bencher: Bencher) {
    bencher
        .with_inputs(long_bench)
        .bench_local_refs(|bench| bench.step("try width 5 mm"));
}

#[divan::bench(sample_count = 30, sample_size = 1)]
fn keystroke_in_5000_lines(bencher: Bencher) {
    let mut bench = long_bench();
    bencher.bench_local(|| {
        let line = black_box("try width 5.25 mm");
        (look(line), bench.hint(line, 80))
    });
}

#[divan::bench(sample_count = 30, sample_size = 1)]
fn completion_in_5000_lines(bencher: Bencher) {
    let mut bench = long_bench();
    bencher.bench_local(|| complete(&mut bench, "why band-2", 10));
}

/// The wall of the hollow band of the market-day example, moved.
const SHELL: &str = "harvest-light.shell 0.54 mm";

/// The market-day example, read, and a line tried over it.
fn market_day(
    line: &str,
) -> (
    Session,
    annulet::session::Prepared,
    annulet::session::Outcome,
    annulet::session::Tried,
) {
    let text = include_str!("../../examples/market-day.annulet");
    let mut session = Session::default();
    let prepared = session.prepare("market-day.annulet", text, &mut NoLibrary);
    let outcome = session.outcome(&prepared, &Request::default());
    let tried = annulet::session::Tried {
        line: line.to_owned(),
        band: None,
        typed: None,
    };
    (session, prepared, outcome, tried)
}

/// Baseline of the next: the band resolved anew from its tree, as for a change that is more than a number.
#[divan::bench(sample_count = 50, sample_size = 20)]
fn baseline_shell_resolved_anew(bencher: Bencher) {
    let (mut session, prepared, _, tried) = market_day(SHELL);
    let names = std::collections::BTreeSet::from(["harvest-light".to_owned()]);
    let request = Request {
        tries: vec![tried],
        ..Request::default()
    };
    bencher.bench_local(|| session.part(&prepared, &request, &names));
}

#[divan::bench(sample_count = 50, sample_size = 20)]
fn shell_moved_as_a_number(bencher: Bencher) {
    let (mut session, prepared, outcome, tried) = market_day(SHELL);
    bencher.bench_local(|| session.by_numbers(&prepared, &outcome, &tried).is_some());
}

/// Baseline of the next: all of the recipe evaluated anew, with its order.
#[divan::bench(sample_count = 50, sample_size = 5)]
fn baseline_price_resolved_anew(bencher: Bencher) {
    let (mut session, prepared, _, tried) = market_day("prices.gold 99 EUR/g");
    let request = Request {
        tries: vec![tried],
        ..Request::default()
    };
    bencher.bench_local(|| session.outcome(&prepared, &request));
}

/// All bands and the order with another price of gold: the metal is not computed again.
#[divan::bench(sample_count = 50, sample_size = 20)]
fn price_moved_as_a_number(bencher: Bencher) {
    let (mut session, prepared, outcome, tried) = market_day("prices.gold 99 EUR/g");
    bencher.bench_local(|| session.by_numbers(&prepared, &outcome, &tried).is_some());
}

/// Every built-in rulebook asked of the hollow band, as results read them.
#[divan::bench(sample_count = 100, sample_size = 20)]
fn all_rulebooks_asked(bencher: Bencher) {
    let (_, _, outcome, _) = market_day(SHELL);
    let band = outcome
        .evaluations
        .iter()
        .find(|one| one.band.name == "harvest-light")
        .map(|one| std::sync::Arc::clone(&one.band))
        .unwrap();
    bencher
        .with_inputs(|| annulet::evaluate::evaluate(&band).unwrap())
        .bench_local_refs(|one| {
            let rows = annulet::schema::RESULTS.iter();
            let asked = rows.filter(|row| row.room == annulet::schema::Room::Fineness);
            asked.filter_map(|row| one.number(row.id)).count()
        });
}

/// A band by values, one of its numbers moved and its weight read.
#[divan::bench(sample_count = 50, sample_size = 1_000)]
fn plan_width_moved_and_weight_read(bencher: Bencher) {
    let draft = Plan::draft("harvest")
        .with(FieldId::Size, "ISO 54")
        .with(FieldId::Width, 4.5)
        .with(FieldId::Thickness, 1.5)
        .with(FieldId::Profile, "domed")
        .with(FieldId::ProfileEdge, 1.2)
        .with(FieldId::Alloy, "silver-925");
    let mut plan = draft.build().unwrap();
    let mut width = Decimal::new(45_000, 4);
    bencher.bench_local(|| {
        width += Decimal::new(1, 6);
        plan.set(FieldId::Width, width).unwrap();
        plan.evaluate(&[ResultId::Weight]).unwrap()
    });
}

/// A flat solid band, its outside and width to be varied.
const FLAT: &str =
    "band b { size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy sterling }\n";

/// A million of its kind.
const MILLION: &str =
    "thickness 1 mm .. 1.999 mm by 0.001 mm, width 3 mm .. 5.997 mm by 0.003 mm show weight";

/// Goes through all rows of a sweep in blocks, on one thread; as CSV too where it is wanted. How many bytes or cells.
fn swept(text: &str, band: Option<&str>, sweep: &str, csv: bool) -> usize {
    rows_of(text, band, sweep, csv, u64::MAX)
}

/// The first rows of a sweep as CSV. How many bytes.
fn begun(text: &str, band: Option<&str>, sweep: &str, rows: u64) -> usize {
    rows_of(text, band, sweep, true, rows)
}

fn rows_of(text: &str, band: Option<&str>, sweep: &str, csv: bool, most: u64) -> usize {
    let mut session = Session::default();
    let prepared = session.prepare("r.annulet", text, &mut NoLibrary);
    let request = Request {
        band: band.map(str::to_owned),
        ..Request::default()
    };
    let outcome = session.outcome(&prepared, &request);
    let (found, _) = session.sweep(&prepared, &request, &outcome, sweep);
    let found = found.unwrap();
    let anew =
        annulet::session::Resolver::new(&session, &prepared, &request, &outcome, &found.bands);
    let engine = found.engine(&anew);
    let writer =
        annulet::report::RowWriter::new(&engine, "r.annulet", annulet::report::Digits::Useful);
    let mut reader = annulet::explore::RowReader::new(&engine);
    let (mut from, mut size) = (0, 0);
    let mut bytes = Vec::new();
    let mut rows = annulet::explore::Rows::default();
    let last = found.rows.min(most);
    while from < last {
        let to = (from + 4096).min(last);
        let unmade = annulet::explore::Unmade::Kept;
        annulet::explore::rows_into(&mut reader, from, to, unmade, &mut rows);
        if csv {
            bytes.clear();
            writer.csv(&engine, &rows, &mut bytes);
            size += bytes.len();
        } else {
            size += black_box(&rows.cells).len();
        }
        from = to;
    }
    size
}

/// Baseline of the next two: the same million weights by one formula, written by hand.
#[divan::bench(sample_count = 10, sample_size = 1)]
fn baseline_million_pipes_by_one_formula() -> f64 {
    let mut sum = 0.0;
    for thickness in 0..1000_u32 {
        let outside = 8.5 + 1.0 + f64::from(black_box(thickness)) / 1000.0;
        for width in 0..1000_u32 {
            let width = 3.0 + f64::from(black_box(width)) * 0.003;
            sum += 0.01036 * PI * width * (outside * outside - 8.5 * 8.5);
        }
    }
    sum
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn sweep_of_a_million_flat_bands() -> usize {
    swept(FLAT, None, MILLION, false)
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn sweep_of_a_million_flat_bands_as_csv() -> usize {
    swept(FLAT, None, MILLION, true)
}

/// What is varied of the hollow band of the market-day example, ten thousand times, and all that is asked of it.
const HOLLOW: &str = "shell 0.45 mm .. 0.549 mm by 0.001 mm, cut 0.2 mm .. 0.299 mm by 0.001 mm";
const ALL_OF_HOLLOW: &str = "weight, machined.shell.bore, price, cost, fineness.UK, holds";

/// The market-day example in ten thousand rows.
fn hollow(show: &str) -> usize {
    let text = include_str!("../../examples/market-day.annulet");
    let sweep = format!("{HOLLOW} show {show}");
    swept(text, Some("harvest-light"), &sweep, false)
}

/// The first rows of a million, from a recipe that is read and evaluated to what is written.
#[divan::bench(sample_count = 50, sample_size = 1)]
fn first_rows_of_a_million() -> usize {
    begun(FLAT, None, MILLION, 64)
}

/// The first rows of the hollow band of the market-day example, with all that is asked of one.
#[divan::bench(sample_count = 50, sample_size = 1)]
fn first_rows_of_hollow_bands() -> usize {
    let text = include_str!("../../examples/market-day.annulet");
    let sweep = format!("{HOLLOW} show {ALL_OF_HOLLOW}");
    begun(text, Some("harvest-light"), &sweep, 64)
}

/// One number sought for a target, over the market-day example as it is read.
#[divan::bench(sample_count = 50, sample_size = 5, args = ["weight = 2.9 g", "wall.least = 0.25 mm", "cost = 300 EUR", "price = 570 EUR"])]
fn solve(bencher: Bencher, target: &str) {
    let (mut session, prepared, _, _) = market_day(SHELL);
    let request = light();
    let outcome = session.outcome(&prepared, &request);
    let text = format!("shell 0.3 mm .. 1 mm for {target}");
    bencher.bench_local(|| {
        let (found, _) = session.clone().solve(&prepared, &request, &outcome, &text);
        found.unwrap().roots.len()
    });
}

/// Four fields chosen at once.
#[divan::bench(sample_count = 10, sample_size = 1, args = ["wall.least >= 0.2 mm", "wall.least >= 0.2 mm, cost <= 300 EUR", "wall.least >= 0.2 mm, price <= 550 EUR, holds"])]
fn choose_over_four_fields(bencher: Bencher, limits: &str) {
    let (mut session, prepared, _, _) = market_day(SHELL);
    let request = light();
    let outcome = session.outcome(&prepared, &request);
    let fields = "shell 0.3 mm .. 0.8 mm, sleeve 0.2 mm .. 0.6 mm, width 3 mm .. 6 mm, cut 0.15 mm .. 0.35 mm";
    let text = format!("{fields} least weight where {limits}");
    bencher.bench_local(|| {
        let (found, _) = session.clone().choose(&prepared, &request, &outcome, &text);
        found.unwrap().best.is_some()
    });
}

/// The hollow band of the market-day example is meant.
fn light() -> Request {
    Request {
        band: Some("harvest-light".to_owned()),
        ..Request::default()
    }
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn sweep_of_ten_thousand_hollow_bands_weights_and_walls() -> usize {
    hollow("weight, saving, wall.least, wall.under-cut")
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn sweep_of_ten_thousand_hollow_bands_stretch_price_and_marks() -> usize {
    hollow(ALL_OF_HOLLOW)
}
