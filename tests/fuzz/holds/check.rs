//! Any text as a recipe, with two overrides taken from it: no panic, no hang, no overflow; findings point
//! into a source; the bands of a recipe without mistakes have weights; reports can be written of all of it.
//!
//! Overrides are the lines that begin with `#set ` (`#set width=5 mm`), for the recipe a comment. Where there
//! are fewer than two, the head of one line and the values of another make one more.

use annulet::finding::Weight;
use annulet::report::{self, ReportExtent, TextLayout};
use annulet::schema;
use annulet::session::{Request, Session};

fn overrides(text: &str) -> Vec<String> {
    let lines = || text.lines().map(str::trim).filter(|line| !line.is_empty());
    let mut sets: Vec<String> = lines()
        .filter_map(|line| line.strip_prefix("#set "))
        .take(2)
        .map(str::to_owned)
        .collect();
    let said: Vec<(&str, &str)> = lines().filter_map(|line| line.split_once(' ')).collect();
    let mut seed = text.bytes().fold(7_usize, |sum, byte| {
        sum.wrapping_mul(31).wrapping_add(byte.into())
    });
    while sets.len() < 2 && !said.is_empty() {
        let (head, values) = (said[seed % said.len()].0, said[seed / 64 % said.len()].1);
        sets.push(format!("{head}={values}"));
        seed = seed.rotate_right(17);
    }
    sets
}

pub fn holds(text: &str) {
    let mut session = Session::default();
    let request = Request {
        sets: overrides(text),
        ..Request::default()
    };
    let outcome = session.run("recipe", text, &request);
    super::spans::check(&outcome.findings, &session.sources);
    let wrong = outcome.weight() == Some(Weight::Wrong);
    for evaluation in &outcome.evaluations {
        let figures = &evaluation.figures;
        if !wrong {
            for weight in [figures.weight, figures.weight_uncut] {
                assert!(
                    weight.is_finite() && weight >= 0.0,
                    "{} weighs {weight}",
                    evaluation.band.name
                );
            }
        }
        for entry in schema::RESULTS {
            let _ = evaluation.result(entry);
        }
        for extent in [ReportExtent::Card, ReportExtent::Full] {
            let _ = report::report(evaluation, extent, TextLayout::default());
        }
    }
    for finding in &outcome.findings {
        let _ = report::finding(finding, &session.sources);
    }
    for verdict in &outcome.verdicts {
        let _ = report::verdict(verdict, &session.sources);
    }
}
