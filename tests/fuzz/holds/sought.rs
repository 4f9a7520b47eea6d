//! Any text behind `sweep`, `solve` or `choose`, asked of a fixed recipe: each row read is what the recipe comes to with
//! that row's values laid over it, what is solved meets its target, what is chosen keeps its limits.

use std::sync::LazyLock;

use annulet::explore::{Axis, Came, Cell, RowReader, What};
use annulet::model::Value;
use annulet::session::{Request, Resolver, Tried};

use super::run::Run;

const RECIPE: &str = r#"annulet 1
let rim = 0.25 mm
band solid {
  size ISO 54, width 4.5 mm, thickness 1.8 mm
  profile domed { edge 1.2 mm }, comfort rim, alloy yellow-585
}
band parts {
  size US 7 1/2, width 6.5 mm, thickness 1.9 mm
  profile bevelled { across 1.2 mm, down 0.5 mm }, alloy sterling
  hollow { shell 0.5 mm { nose 0.2 mm }, sleeve 0.4 mm, ridge 0.12 mm { wide 0.35 mm, count 2 } }
}
"#;

static FIXED: LazyLock<Run> = LazyLock::new(|| {
    let run = Run::of(RECIPE);
    assert!(!run.is_wrong(), "{:?}", run.outcome.findings);
    run
});

/// How many rows of a sweep are read.
const ROWS: u64 = 6;

/// How far two ways to the same number may lie apart, as a part of it.
const CLOSE: f64 = 1e-9;

/// How near what is solved for must come to what was wanted: values are written to the digits that they need.
const MET: f64 = 1e-4;

pub fn holds(text: &str) {
    let (word, rest) = text.split_once(' ').unwrap_or((text, ""));
    match word {
        "solve" => solved(rest),
        // Sets of stepped values multiply, and each is searched for itself.
        "choose" if !rest.contains('[') && !rest.contains(" by ") => chosen(rest),
        "choose" => {}
        _ => swept(if word == "sweep" { rest } else { text }),
    }
}

/// The recipe with values laid over it.
fn laid(axes: &[Axis], values: &[Value]) -> Run {
    let lines = axes.iter().zip(values).map(|(axis, value)| Tried {
        line: axis.line(value),
        band: None,
        typed: None,
    });
    let request = Request {
        tries: lines.collect(),
        ..Request::default()
    };
    Run::with(RECIPE, &request)
}

/// What a path comes to as a number in base units.
fn asked(run: &mut Run, path: &str) -> Option<f64> {
    let (value, _) = run.session.ask(path, &run.outcome);
    Some(value?.quantity()?.number.to_f64())
}

fn near(one: f64, other: f64, part: f64) -> bool {
    (one - other).abs() <= part * one.abs().max(other.abs()).max(1.0)
}

fn swept(text: &str) {
    let run = &*FIXED;
    let mut session = run.session.clone();
    let request = Request::default();
    let (found, findings) = session.sweep(&run.prepared, &request, &run.outcome, text);
    super::spans::check(&findings, &session.sources);
    let Some(found) = found else {
        assert!(!findings.is_empty(), "refused, and no word of it");
        return;
    };
    let anew = Resolver::new(
        &session,
        &run.prepared,
        &request,
        &run.outcome,
        &found.bands,
    );
    let engine = found.engine(&anew);
    let mut reader = RowReader::new(&engine);
    let last = found.rows.saturating_sub(1);
    for row in (0..found.rows.min(ROWS)).chain((last >= ROWS).then_some(last)) {
        let mut cells = Vec::new();
        if reader.read(row, &mut cells) != Came::Kept {
            continue;
        }
        assert_eq!(cells.len(), found.readings.len());
        let over = laid(&found.axes, &engine.values(row));
        for (cell, reading) in cells.iter().zip(&found.readings) {
            let What::Result(band, id) = &reading.what else {
                continue;
            };
            let one = over.outcome.evaluation(&found.bands[*band]);
            let fresh = Cell::of(one.and_then(|one| one.value(id.row())), &reading.unit);
            let numbers = [cell.number(), fresh.number()];
            match numbers.map(|one| one.map(|one| one.to_f64())) {
                [Some(one), Some(other)] => {
                    assert!(
                        near(one, other, CLOSE),
                        "{}: {one} and {other}",
                        reading.name
                    );
                }
                [one, other] => assert_eq!(one, other, "{}", reading.name),
            }
        }
    }
}

fn solved(text: &str) {
    let run = &*FIXED;
    let mut session = run.session.clone();
    let request = Request::default();
    let (found, findings) = session.solve(&run.prepared, &request, &run.outcome, text);
    super::spans::check(&findings, &session.sources);
    let Some(found) = found else {
        assert!(!findings.is_empty(), "refused, and no word of it");
        return;
    };
    for root in &found.roots {
        let axes = [found.axis.clone()];
        let mut over = laid(&axes, std::slice::from_ref(&root.at));
        let sides = [found.left.name.as_str(), found.target.as_str()];
        let [left, right] = sides.map(|side| asked(&mut over, side));
        if let (Some(left), Some(right)) = (left, right) {
            assert!(
                near(left, right, MET),
                "{left} and {right} at {:?}",
                root.at
            );
        }
    }
}

fn chosen(text: &str) {
    let run = &*FIXED;
    let mut session = run.session.clone();
    let request = Request::default();
    let (found, findings) = session.choose(&run.prepared, &request, &run.outcome, text);
    super::spans::check(&findings, &session.sources);
    let Some(found) = found else {
        assert!(!findings.is_empty(), "refused, and no word of it");
        return;
    };
    let Some(best) = &found.best else { return };
    let over = laid(&found.axes, &best.values);
    let (reading, _) = &found.aim;
    if let What::Result(_, id) = &reading.what {
        let bands = over.outcome.evaluations.iter();
        let fresh = bands.filter_map(|one| Cell::of(one.value(id.row()), &reading.unit).number());
        let mut fresh = fresh.map(|one| one.to_f64());
        let aim = best.aim.to_f64();
        assert!(
            fresh.any(|one| near(one, aim, CLOSE)),
            "{aim} of {:?}",
            best.values
        );
    }
}
