//! Whether `why` tells all that moves a result, and nothing that does not.
//!
//! Every number of many random recipes is made a little larger in the text, the recipe evaluated again, and each
//! result that moved is looked up: the number must be among its causes. The program is held against itself by moving
//! it; no list of causes is repeated here. That a tree shows all causes, and no others, is held on some results of
//! each recipe.

use std::collections::{BTreeMap, BTreeSet};

use annulet::evaluate::{Evaluation, Why, causes};
use annulet::quantity::Number;
use annulet::schema::{RESULTS, ResultId, Room};
use annulet::session::{Outcome, Request, Session};

use crate::random_bands::of_seed;

/// How many recipes are drawn.
const SEEDS: u64 = 24;

/// A change that is more than the last bits of a solver. Lines of a cost share out the unit that its rounded total
/// leaves over, and weights are rounded to 1e-6 g: such a unit is no cause.
fn differs(id: ResultId, before: f64, after: f64) -> bool {
    let row = id.row();
    let rounded = match row.room {
        Room::Money if row.dimension.money != 0 => 0.0101,
        Room::Money => 2e-6,
        _ => 0.0,
    };
    let by = (before - after).abs();
    by > rounded && by > 1e-9 * before.abs().max(after.abs()).max(1e-2)
}

fn run(text: &str) -> (Session, Outcome) {
    let mut session = Session::default();
    let outcome = session.run("r", text, &Request::default());
    (session, outcome)
}

/// The results that a band has.
fn results(evaluation: &Evaluation) -> Vec<ResultId> {
    let all = RESULTS.iter().map(|result| result.id);
    all.filter(|id| evaluation.number(*id).is_some()).collect()
}

/// The numbers of each band and result.
fn figures(outcome: &Outcome) -> BTreeMap<(String, ResultId), f64> {
    let mut figures = BTreeMap::new();
    for evaluation in &outcome.evaluations {
        for id in results(evaluation) {
            if let Some(number) = evaluation.number(id) {
                let key = (evaluation.band.name.clone(), id);
                figures.insert(key, number.to_f64());
            }
        }
    }
    figures
}

/// The paths of each result's causes, without the names of bands, so that a parent's field is that of its variant.
fn caused(outcome: &Outcome) -> BTreeMap<(String, ResultId), BTreeSet<String>> {
    let mut caused: BTreeMap<(String, ResultId), BTreeSet<String>> = BTreeMap::new();
    let bands = names(outcome);
    for evaluation in &outcome.evaluations {
        let ids = results(evaluation);
        for (cause, moved) in causes(evaluation, &ids) {
            let path = cause.path(&evaluation.band).unwrap();
            for place in moved {
                let key = (evaluation.band.name.clone(), ids[place]);
                let known = caused.entry(key).or_default();
                known.insert(plain(&path, &bands).to_owned());
            }
        }
    }
    caused
}

fn names(outcome: &Outcome) -> BTreeSet<String> {
    let bands = outcome.recipe.bands.iter();
    bands.map(|band| band.name.clone()).collect()
}

fn plain<'p>(path: &'p str, bands: &BTreeSet<String>) -> &'p str {
    match path.split_once('.') {
        Some((first, rest)) if bands.contains(first) => rest,
        _ => path,
    }
}

/// The path under which a number of the text is told: a profile's by the band that has it, an alloy's by its name.
fn told(path: &str, bands: &BTreeSet<String>) -> String {
    let path = plain(path, bands);
    if let Some(rest) = path.strip_prefix("profile.form.") {
        return format!("profile.{rest}");
    }
    path.strip_prefix("alloy.").unwrap_or(path).to_owned()
}

#[test]
fn what_moves_a_result_is_among_its_causes() {
    let mut missing: BTreeMap<(String, &'static str), u64> = BTreeMap::new();
    let mut seen = 0;
    for seed in 0..SEEDS {
        let drawn = of_seed(seed);
        let (_, outcome) = run(&drawn.recipe.text());
        let before = figures(&outcome);
        let caused = caused(&outcome);
        let bands = names(&outcome);
        let lets: BTreeSet<&str> = outcome.recipe.lets.iter().map(|one| &*one.name).collect();
        for (place, path) in drawn.recipe.paths().into_iter().enumerate() {
            if lets.contains(&*path) {
                // It stands behind the field that mentions it: see below.
                continue;
            }
            let after = figures(&run(&drawn.recipe.moved(place).set).1);
            let told = told(&path, &bands);
            for (key, before) in &before {
                if after
                    .get(key)
                    .is_some_and(|after| differs(key.1, *before, *after))
                {
                    seen += 1;
                    if !caused.get(key).is_some_and(|known| known.contains(&told)) {
                        missing.entry((told.clone(), key.1.path())).or_insert(seed);
                    }
                }
            }
        }
    }
    assert!(seen > 3_000, "{seen}");
    assert!(missing.is_empty(), "{missing:#?}");
}

/// Every path of a tree.
fn paths(why: &Why, into: &mut BTreeSet<String>) {
    into.insert(why.path.clone());
    for input in &why.inputs {
        paths(input, into);
    }
}

#[test]
fn a_tree_shows_every_cause() {
    let mut asked = 0;
    for seed in 0..SEEDS {
        let (mut session, outcome) = run(&of_seed(seed).recipe.text());
        let bands = names(&outcome);
        for ((band, id), wanted) in caused(&outcome)
            .into_iter()
            .skip(seed as usize % 31)
            .step_by(31)
        {
            let (why, _) = session.why(&format!("{band}.{}", id.path()), &outcome, 99);
            let mut found = BTreeSet::new();
            paths(&why.unwrap(), &mut found);
            let found: BTreeSet<String> = found
                .iter()
                .map(|path| plain(path, &bands).to_owned())
                .collect();
            let lacking: Vec<&String> = wanted.difference(&found).collect();
            assert!(
                lacking.is_empty(),
                "seed {seed}, {band}.{}: {lacking:?}",
                id.path()
            );
            asked += 1;
        }
    }
    assert!(asked > 60, "{asked}");
}

#[test]
fn what_a_field_is_written_by_stands_behind_it() {
    let recipe = "let cut = 0.3 mm\nlet deep = cut * 1.1\nprices { dated 2026-11-20, silver price }\nlet price = 1 EUR/g\n\
                  band b {\n size 17 mm, width 5 mm, thickness width * 0.4, alloy silver-925, profile flat\n \
                  pattern { repeats 18, depth deep, cover 90 % }\n}\n";
    let (mut session, outcome) = run(recipe);
    for (result, causes) in [
        (
            "b.weight",
            &["cut", "deep", "b.width", "b.thickness", "b.pattern.depth"][..],
        ),
        ("b.cost", &["price", "prices.silver", "cut"]),
        ("b.outside", &["b.width", "b.thickness", "b.size"]),
    ] {
        let (why, problems) = session.why(result, &outcome, 99);
        let why = why.unwrap_or_else(|| panic!("{result}: {problems:?}"));
        let mut found = BTreeSet::new();
        paths(&why, &mut found);
        for cause in causes {
            assert!(found.contains(*cause), "{result} <- {cause}: {found:?}");
        }
    }
}

/// A third of a minute has more digits than are kept: what rests on it is told all the same, batch and all.
#[test]
fn a_batch_of_three_stands_behind_what_is_earned() {
    for sale in [
        "piece { at 900 EUR }",
        "piece { margin 20 % }",
        "weight { making 20 EUR/g }",
    ] {
        let recipe = format!(
            "prices {{ dated 2026-11-20, gold 98.40 EUR/g, silver 1.25 EUR/g }}\n\
             shop {{ labour 42 EUR/h, machine 5 EUR/h, batch 3, operation turning {{ set-up 25 min, run 7 min, at both }} }}\n\
             band b {{ size 17 mm, width 4.5 mm, thickness 1.5 mm, profile flat, alloy yellow-750, sale {sale} }}\n"
        );
        let (mut session, outcome) = run(&recipe);
        let mut found = BTreeSet::new();
        paths(
            &session.why("b.earning", &outcome, 99).0.unwrap(),
            &mut found,
        );
        assert!(found.contains("shop.batch"), "{sale}: {found:?}");
        // 25/3 and 7 minutes.
        let (value, _) = session.ask("b.time.labour", &outcome);
        let minutes = value.unwrap().quantity().unwrap().number.to_f64() / 60.0;
        assert!((minutes - (25.0 / 3.0 + 7.0)).abs() < 1e-9, "{minutes}");
    }
}

/// A pattern is cut off either build alike. Where as many rings are rejected of both, it moves no price at which they cost
/// the same, but for the micrograms that masses are rounded to; where more are of one, it does.
#[test]
fn a_cover_moves_a_break_even_where_rejects_differ() {
    let recipe = |rejects: &str, cover: &str| {
        format!(
            "prices {{ dated 2026-11-20, silver 1.25 EUR/g }}\n\
             shop {{ labour 42 EUR/h, machine 5 EUR/h, operation turning {{ set-up 2 min, run 3 min, at both }}, \
             operation joining {{ run 1 min, for hollow, at both }}, rejects {{ {rejects} }}, \
             scrap {{ offcuts {{ paid 98 % }}, turnings {{ collected 90 %, paid 80 % }} }} }}\n\
             band b {{ size 17 mm, width 4.5 mm, thickness 2 mm, profile flat, alloy silver-925, \
             pattern {{ repeats 18, depth 0.25 mm, mean-depth 0.12 mm, cover {cover} }}, hollow {{ shell 0.5 mm, sleeve 0.4 mm }} }}\n"
        )
    };
    for (rejects, moves) in [
        ("solid 2 %, hollow 2 %", false),
        ("solid 2 %, hollow 30 %", true),
    ] {
        let silver = |cover: &str| {
            let (_, outcome) = run(&recipe(rejects, cover));
            let found = outcome.evaluations[0].number(ResultId::BreakEvenSilver);
            found.unwrap().to_f64()
        };
        let by = (silver("60 %") - silver("40 %")).abs();
        assert_eq!(by > 1e-3, moves, "{rejects}: {by}");
        let caused = caused(&run(&recipe(rejects, "40 %")).1);
        let known = &caused[&("b".to_owned(), ResultId::BreakEvenSilver)];
        assert_eq!(known.contains("pattern.cover"), moves, "{known:?}");
    }
}

/// The price of silver is 1.1 times in another currency; a rate of a currency that nothing is stated in moves nothing.
#[test]
fn a_rate_of_exchange_is_a_cause_where_an_amount_goes_by_it() {
    let recipe = |rate: &str| {
        format!(
            "prices {{ dated 2026-11-01, silver 1 USD/g, rate 1 EUR = {rate} USD, rate 1 CHF = 1.07 EUR }}
shop {{ labour 30 EUR/h, operation turning {{ run 4 min }} }}
band b {{ size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy silver-925 }}"
        )
    };
    let (mut session, outcome) = run(&recipe("1.1"));
    let (_, dearer) = run(&recipe("1.0"));
    let evaluation = &outcome.evaluations[0];
    let ids = results(evaluation);
    let found = causes(evaluation, &ids);
    let by_rates: Vec<&Vec<usize>> = found
        .iter()
        .filter(|(cause, _)| cause.path(&evaluation.band).as_deref() == Some("prices.rate"))
        .map(|(_, moved)| moved)
        .collect();
    let [moved] = by_rates.as_slice() else {
        panic!("{} rates move something", by_rates.len());
    };
    for (place, id) in ids.iter().enumerate() {
        let [before, after] =
            [evaluation, &dearer.evaluations[0]].map(|one| one.number(*id).map(Number::to_f64));
        if differs(*id, before.unwrap(), after.unwrap()) {
            assert!(moved.contains(&place), "{}", id.path());
        }
    }
    assert!(!moved.contains(&ids.iter().position(|id| *id == ResultId::Weight).unwrap()));
    let (why, _) = session.why("b.cost", &outcome, 99);
    let mut found = BTreeSet::new();
    paths(&why.unwrap(), &mut found);
    assert!(found.contains("prices.rate"));
}
