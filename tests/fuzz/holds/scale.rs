//! Any text as a recipe whose rings are weighed and whose figures may be off: each range holds what is written, no more
//! rings keep a limit than were drawn; a number that a reading settles brings the recipe to that reading. And the
//! numbers of the text as readings of a batch, held against what is true of any.

use annulet::evaluate::{Expected, Tallied};
use annulet::session::{Request, Tried};

use super::run::Run;

/// Numbers beyond this are no weights of rings, and their squares no numbers any more.
const MOST: f64 = 1e6;

pub fn holds(text: &str) {
    tallied(text);
    let run = Run::of(text);
    super::spans::check(&run.outcome.findings, &run.session.sources);
    let bands = &run.outcome.evaluations;
    // Thousands of rings are drawn of each, and of drawn cuts each takes a thousand times as long.
    let dear = bands.len() > 2 || bands.iter().any(|one| one.band.is_drawn());
    if run.is_wrong() || dear {
        return;
    }
    let off = bands.iter().any(|one| !one.inputs().is_empty());
    if off && text.len() < 1000 {
        let sure = run.outcome.sure(&run.session.sources);
        for band in &sure.bands {
            for one in &band.figures {
                let range = &one.range;
                assert!(
                    range.low <= range.nominal && range.nominal <= range.high,
                    "{range:?}"
                );
                assert!(one.drawn.1 >= 0.0);
            }
            let walls = band.walls.iter().map(|one| one.kept);
            for kept in walls.chain(band.limits.iter().map(|one| one.2)) {
                assert!(kept.kept <= kept.of, "{kept:?}");
            }
        }
    }
    for one in bands.iter().filter(|one| !one.band.used) {
        let Some(weighed) = one.weighings() else {
            continue;
        };
        for path in ["width", "thickness", "shell"] {
            let Ok(found) = run
                .outcome
                .settle(&format!("{}.{path}", one.band.name), None)
            else {
                continue;
            };
            let request = Request {
                tries: vec![Tried {
                    line: found.line.clone(),
                    band: Some(one.band.name.clone()),
                    typed: None,
                }],
                ..Request::default()
            };
            let laid = Run::with(text, &request);
            let now = laid.outcome.evaluation(&one.band.name);
            let Some(now) = now.and_then(|one| one.weighings()) else {
                continue;
            };
            let of = |field| now.readings.iter().find(|one| one.field == field);
            if let Some(Expected::Known { nominal, .. }) =
                of(found.reading.field).map(|one| one.expected)
            {
                // The line is written to the place of its `±`, which is what the reading may be off and all else.
                let settled = &found.settled;
                let times = (settled.by_scale + settled.at_worst) / settled.by_scale;
                let off = found.reading.off
                    * if times.is_finite() {
                        times.max(1.0)
                    } else {
                        1.0
                    };
                let most = 0.002 * found.reading.grams.abs() + off + 0.002;
                assert!(
                    (nominal - found.reading.grams).abs() <= most,
                    "`{}` gives {nominal} g, and {} g was weighed",
                    found.line,
                    found.reading.grams
                );
            }
        }
        assert!(!weighed.readings.is_empty());
    }
}

fn tallied(text: &str) {
    let words = text.split(|c: char| c.is_whitespace() || c == ',');
    let numbers = words.filter_map(|word| word.parse::<f64>().ok());
    let numbers: Vec<f64> = numbers.filter(|one| one.abs() < MOST).take(500).collect();
    let Some(found) = Tallied::of(&numbers, Some((0.0, 10.0))) else {
        return;
    };
    let least = numbers.iter().copied().fold(f64::INFINITY, f64::min);
    let most = numbers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let close = 1e-9 * MOST;
    assert!(
        found.mean >= least - close && found.mean <= most + close,
        "{found:?}"
    );
    assert!(found.deviation >= 0.0 && found.deviation <= most - least + close);
    assert!(found.moving >= 0.0 && found.moving <= most - least + close);
    assert!(found.lower <= found.mean && found.mean <= found.upper);
    let places = found.outliers.iter().chain(&found.runs);
    assert!(places.copied().all(|place| place < numbers.len()));
    assert!(found.within.is_some_and(|within| within <= numbers.len()));
    // Turned round, all but the order of it is the same.
    let turned: Vec<f64> = numbers.iter().rev().copied().collect();
    let other = Tallied::of(&turned, Some((0.0, 10.0))).expect("as many readings");
    assert!((other.mean - found.mean).abs() <= close && (other.drift + found.drift).abs() <= close);
    assert_eq!(other.within, found.within);
}
