//! The stages of a hollow ring come in the order of the work: bore after release and opening of the mandrel rise from
//! loose to fixed, over random bands.
//!
//! Held against the table of stages in section 3 of the physical model; no figures are expected. Two cases are left
//! out: a ring that is caught so little that it has no turning window (the model says it has none), and a ring that
//! is opened past seated and does not grip, whose mandrel is reckoned otherwise than that of seated.

use annulet::evaluate::Evaluation;
use annulet::quantity::Number;

use crate::random_bands::evaluated;

/// The stages in the order of the work, those that a ring has.
const STAGES: &[&str] = &["catching", "turning", "seated", "fixed"];

fn figure(of: &Evaluation, path: &str) -> Option<f64> {
    let id = annulet::schema::find_result(path)?.id;
    of.number(id).map(Number::to_f64)
}

#[test]
fn every_stage_is_opened_further_than_the_one_before() {
    // Of bore and mandrel: pairs compared, and pairs left out.
    let mut counts = [[0; 2]; 2];
    let mut wrong = Vec::new();
    for (seed, (drawn, outcome)) in evaluated().iter().enumerate() {
        let text = drawn.recipe.text();
        for band in outcome.evaluations.iter() {
            let of = |path: &str| figure(band, path);
            let no_window = of("stretch.window").is_some_and(|window| window <= 0.0);
            let no_grip = of("grip.pressure").is_some_and(|pressure| pressure <= 0.0);
            for (place, kind) in ["bore", "mandrel"].into_iter().enumerate() {
                let stage =
                    |name: &&'static str| Some((*name, of(&format!("stretch.{name}.{kind}"))?));
                let stages: Vec<(&str, f64)> = STAGES.iter().filter_map(stage).collect();
                for (earlier, (before, low)) in stages.iter().enumerate() {
                    for (after, high) in &stages[earlier + 1..] {
                        let left_out =
                            no_window && *before == "turning" || no_grip && *after == "fixed";
                        counts[place][usize::from(left_out)] += 1;
                        // What does not grip springs back, and is not fixed. Else fixed may be seated again.
                        let rises = low < high || *after == "fixed" && low <= high;
                        if !left_out && !rises {
                            wrong.push(format!(
                                "{seed}: {kind} at {before} {low}, at {after} {high}\n{text}"
                            ));
                        }
                    }
                }
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{}\n{}",
        wrong.len(),
        wrong[..wrong.len().min(3)].join("\n")
    );
    for [compared, left_out] in counts {
        assert!(
            compared > 1000 && left_out < compared / 3,
            "{compared} compared, {left_out} left out"
        );
    }
}
