//! A number that is moved comes to the same as the recipe with that number in its text, resolved anew.
//!
//! Held over every number of every shipped example (bands, prices, workshop, stock, orders, `let`s), a little up and a
//! little down, and over the cases below: results to the last bit, totals of orders, verdicts, findings by code and
//! text. Both ways are the program's own; that a resolved recipe is right is held elsewhere.

use std::collections::BTreeSet;

use annulet::evaluate::Evaluation;
use annulet::finding::Finding;
use annulet::model::{Band, FieldValue, Value, check};
use annulet::quantity::{Number, Quantity};
use annulet::schema::{RESULTS, Takes};
use annulet::session::{NoLibrary, Outcome, Prepared, Request, Session, Tried};

use rust_decimal::{Decimal, dec};

use crate::support::{lone_examples, read};

fn said(findings: &[Finding]) -> BTreeSet<(String, String)> {
    let said = findings.iter();
    said.map(|one| (one.code(), one.message())).collect()
}

/// Every result of an evaluation with its `±`, to the last bit.
fn all_of(evaluation: &Evaluation) -> Vec<Option<String>> {
    let results = RESULTS.iter().map(|result| evaluation.result(result));
    results
        .map(|result| result.map(|result| format!("{result:?}")))
        .collect()
}

/// Every result of every band to the last bit, totals of orders, verdicts.
fn figures(outcome: &Outcome) -> Vec<String> {
    let mut figures = Vec::new();
    for evaluation in &outcome.evaluations {
        let name = &evaluation.band.name;
        figures.extend(RESULTS.iter().filter_map(|result| {
            let number = evaluation.number(result.id)?;
            Some(format!("{name}.{} {number:?}", result.path))
        }));
    }
    let orders = outcome.orders.iter();
    figures.extend(orders.map(|one| format!("{:?}", one.totals)));
    let verdicts = outcome.verdicts.iter();
    figures.extend(verdicts.map(|one| format!("{} {:?} {}", one.what, one.holds, one.found)));
    figures
}

/// A line that moves a value by a little; none for what is no plain number.
fn line(path: &str, takes: Takes, value: &Value, by: Decimal) -> Option<String> {
    let Value::Quantity { quantity, unit } = value else {
        return None;
    };
    let number = quantity.number.exact()?;
    let number = match takes {
        Takes::Steps => return None,
        Takes::Count if by > Decimal::ONE => number + Decimal::ONE,
        Takes::Count => number - Decimal::ONE,
        _ => number.checked_mul(by)?.normalize(),
    };
    let moved = Quantity::new(Number::Exact(number), quantity.dimension);
    let shown = check::shown_quantity(&moved, unit.as_deref());
    quantity
        .deviations
        .is_empty()
        .then(|| format!("{path} {shown}"))
}

/// Every number of a recipe by its path; whether it is one of money.
fn numbers(outcome: &Outcome) -> Vec<(String, Takes, Value, bool)> {
    let recipe = &outcome.recipe;
    let mut all = Vec::new();
    let mut put = |path: String, value: &FieldValue, of_money: bool| {
        let of_money = of_money && value.at.is_some();
        all.push((path, value.field.takes, value.value.clone(), of_money));
    };
    for band in &recipe.bands {
        for field in band.fields.iter() {
            let of_money = field.field.path.starts_with("sale.");
            put(
                format!("{}.{}", band.name, field.field.path),
                field,
                of_money,
            );
        }
    }
    for setting in recipe.money.iter().flat_map(|money| money.said.settings()) {
        put(setting.path(), setting.value, true);
    }
    for order in &recipe.orders {
        for value in order.values.iter() {
            let rest = value.field.path.strip_prefix("order.").unwrap();
            let name = order.name.iter().map(|name| format!(".{name}"));
            put(
                format!("order{}.{rest}", name.collect::<String>()),
                value,
                true,
            );
        }
    }
    let lets = recipe.lets.iter();
    all.extend(lets.map(|one| (one.name.clone(), Takes::Anything, one.value.clone(), false)));
    all
}

/// Whether a line could be moved as numbers; what it comes to is the same as resolved anew.
fn moved_as(
    session: &mut Session,
    prepared: &Prepared,
    outcome: &Outcome,
    line: &str,
) -> Option<bool> {
    let tried = Tried {
        line: line.to_owned(),
        band: None,
        typed: None,
    };
    let found = session.by_numbers(prepared, outcome, &tried)?;
    let mut request = Request::default();
    request.tries.push(tried);
    let anew = session.outcome(prepared, &request);
    match found {
        Ok((part, reach)) => {
            let mut patched = outcome.clone();
            patched.patch(part, &reach, &session.sources);
            assert_eq!(figures(&patched), figures(&anew), "{line}");
            assert_eq!(said(&patched.findings), said(&anew.findings), "{line}");
            Some(true)
        }
        Err(findings) => {
            assert!(said(&findings).is_subset(&said(&anew.findings)), "{line}");
            Some(false)
        }
    }
}

#[test]
fn moved_equals_resolved() {
    let (mut moved, mut resolved, mut of_money) = (0, 0, 0);
    let files = lone_examples().into_iter();
    let recipes = files.map(|file| (read(&file), file));
    let case = (CASE.to_owned(), "the case".to_owned());
    for (text, file) in recipes.chain([case]) {
        let mut session = Session::default();
        let prepared = session.prepare(&file, &text, &mut NoLibrary);
        let outcome = session.outcome(&prepared, &Request::default());
        for (path, takes, value, is_money) in numbers(&outcome) {
            for by in [dec!(1.01), dec!(0.99)] {
                let Some(line) = line(&path, takes, &value, by) else {
                    continue;
                };
                let found = moved_as(&mut session, &prepared, &outcome, &line);
                assert!(!is_money || found.is_some(), "{file}: {line} is not moved");
                moved += usize::from(found.is_some());
                resolved += usize::from(found.is_none());
                of_money += usize::from(is_money);
            }
        }
    }
    assert!(moved > 500, "only {moved} were moved, {resolved} resolved");
    assert!(of_money > 80, "only {of_money} of money");
}

/// What the examples do not have: two currencies, `let`s that prices mention, results in a sale, offers, old metal.
const CASE: &str = "
let day = 50 EUR/h
let making = 20 EUR/g
let walls = 0.5 mm
prices {
  dated 2026-11-20, source \"the day's sheet\", premium 2 %, fabrication 1.5 EUR/g, oldest 9 days
  rate 1 USD = 0.92 EUR
  gold 130 USD/g { premium 3 % }
  silver 1.4 EUR/g, palladium 34 EUR/g, copper 0.01 EUR/g
}
shop {
  currency EUR, labour day, machine 0.6 * day, batch 4
  operation turning { run 6 min, set-up 12 min }
  operation cutting { run plain.width * 2 min/mm, at machine, for solid }
  operation joining { run 9 min, at both, for hollow }
  overhead 20 % { on cost }
  rejects { solid 1 %, hollow 4 % }
  scrap {
    offcuts { collected 100 %, paid 99 % }, turnings { collected 95 %, paid 90 % }
    polishings { part 1.5 %, collected 60 %, paid 70 % }
    charge 0.1 EUR/g, minimum 5 EUR
  }
  fee hallmark { article 1 EUR, consignment 12 EUR, minimum 20 EUR }
  tax 19 %
}
stock tube tube { outside 22 mm, bore 14 mm, length 120 mm, kerf 0.5 mm, facing 0.1 mm, rest 12 mm, fabrication 2 EUR/g }
stock blank cast { outside 22 mm, bore 16 mm, length 6 mm, facing 0.2 mm, sprue 1.5 g }
alloy own { gold 750, silver 125, copper 125, density 15.4 g/cm3 }
band plain {
  size ISO 54, width 4.5 mm, thickness 1.6 mm, profile flat, alloy own, stock tube
  sale weight { making making, add 4 % }
  against other
}
band other {
  size ISO 54, width 5 mm, thickness 1.6 mm, profile flat, alloy own, stock blank
  sale piece { at two.cost * 2 }
}
variant third of other {
  sale piece { margin 40 % }
  assay 751 { whole 749 }, solder own { amount 0.05 g }
  mark { deep 0.1 mm }
}
band two {
  size ISO 54, width 5 mm, thickness 1.9 mm, profile flat, alloy own
  hollow { shell walls { assay 752 }, sleeve 0.5 mm { assay 748 }, ridge 0.1 mm { wide 0.4 mm }, hold 0.08 mm }
  sale piece { markup 80 % }
}
order fair {
  dated 2026-11-28
  plain { 3 of ISO 52, 2 of ISO 58 }
  third 2
  exchange { weight 12 g, alloy own, paid 90 % }
  quote { valid 14 days, deposit 30 %, trigger 5 % }
}
order late { dated 2026-12-20, two 1, quote { dated 2026-12-01, valid 10 days } }
require \"cheap\" plain.cost <= 400 EUR
require prices.silver < 2 EUR/g
";

#[test]
fn larger_moves_break_limits_in_both_ways() {
    let mut session = Session::default();
    let prepared = session.prepare("the case", CASE, &mut NoLibrary);
    let outcome = session.outcome(&prepared, &Request::default());
    let wrong: Vec<String> = outcome
        .findings
        .iter()
        .map(|one| format!("{one:?}"))
        .collect();
    assert_eq!(outcome.evaluations.len(), 4, "{wrong:?}");
    let lines = [
        ("prices.oldest 2 days", true),
        ("prices.oldest 60 days", true),
        ("order.late.quote.valid 40 days", true),
        ("order.fair.exchange.weight 1 kg", true),
        ("stock.tube.outside 18 mm", true),
        ("tube.outside 18 mm", true),
        ("stock.tube.bore 30 mm", false),
        ("stock.tube.rest 130 mm", false),
        ("prices.gold 0 USD/g", true),
        ("shop.operation.turning.run 0 min", true),
        ("shop.rejects.hollow 100 %", false),
        (
            "shop.tax 7 %, prices.gold 200 USD/g, plain.sale.add 0 %",
            true,
        ),
        ("day 90 EUR/h", true),
        ("making 90 EUR/g", true),
    ];
    for (line, moves) in lines {
        let found = moved_as(&mut session, &prepared, &outcome, line);
        assert_eq!(found, Some(moves), "{line}");
    }
    // More than numbers.
    for line in [
        "prices.gold 99 EUR/g",
        "prices.gold 99 USD/g { premium 1 % }",
        "prices.gold 99 USD/g \u{B1} 1 USD/g",
        "prices.platinum 30 EUR/g",
        "shop.operation.cutting.set-up 4 min",
        "shop.overhead.on work",
        "prices.dated 2026-11-21",
        "plain.sale piece { at 3 EUR }",
    ] {
        let found = moved_as(&mut session, &prepared, &outcome, line);
        assert_eq!(found, None, "{line}");
    }
}

/// Findings with the places that they speak of.
fn placed(findings: &[Finding]) -> BTreeSet<String> {
    let all = findings.iter();
    all.map(|one| format!("{} {} {:?}", one.code(), one.message(), one.labels()))
        .collect()
}

#[test]
fn each_size_moved_equals_resolved() {
    let (mut moved, mut all) = (0, 0);
    for file in lone_examples() {
        let mut session = Session::default();
        let prepared = session.prepare(&file, &read(&file), &mut NoLibrary);
        let request = Request::default();
        let outcome = session.outcome(&prepared, &request);
        for band in &outcome.recipe.bands {
            for size in ["ISO 50", "ISO 61", "US 7 1/2", "17.3 mm", "9 mm"] {
                let (evaluation, problems) =
                    session.in_size(&prepared, &request, &outcome, (&band.name, size), None);
                let tried = Tried {
                    line: format!("size {size}"),
                    band: Some(band.name.clone()),
                    typed: None,
                };
                let found = session.by_numbers(&prepared, &outcome, &tried);
                moved += usize::from(found.is_some());
                all += 1;
                if is_measured(band) {
                    // Parts as made are those of one ring, and are left out in another size.
                    continue;
                }
                let mut wanted = request.clone();
                wanted.tries.push(tried);
                let names = BTreeSet::from([band.name.clone()]);
                let anew = session.part(&prepared, &wanted, &names);
                let mut evaluations = anew.evaluations.iter();
                let wanted = evaluations.find(|one| one.band.name == band.name);
                assert_eq!(
                    evaluation.as_ref().map(all_of),
                    wanted.map(all_of),
                    "{file}: {} in {size}",
                    band.name
                );
                assert_eq!(
                    placed(&problems),
                    placed(&anew.findings),
                    "{file}: {} in {size}",
                    band.name
                );
            }
        }
    }
    assert!(moved * 4 > all * 3, "only {moved} of {all} were moved");
}

fn is_measured(band: &Band) -> bool {
    let mut fields = band.fields.iter();
    fields.any(|field| field.field.path.starts_with("made."))
}

#[test]
fn each_size_moved_equals_the_recipe_with_that_size() {
    let text = |size: &str| {
        format!(
            "annulet 1
let play = 0.02 mm
band light {{
  size {size}, width 5 mm, thickness 0.1 * size
  profile domed {{ edge 0.08 * light.size - play }}
  alloy silver-925
}}
variant wide of light {{ width 6 mm }}"
        )
    };
    let mut session = Session::default();
    let prepared = session.prepare("recipe", &text("17 mm"), &mut NoLibrary);
    let request = Request::default();
    let outcome = session.outcome(&prepared, &request);
    for size in ["15.5 mm", "17 mm", "0.7 in", "18.25 mm"] {
        let (evaluation, problems) =
            session.in_size(&prepared, &request, &outcome, ("light", size), None);
        let written = Session::default().run("recipe", &text(size), &request);
        assert!(
            said(&problems).is_subset(&said(&written.findings)),
            "{size}"
        );
        let written = &written.evaluations[0];
        assert_eq!(all_of(&evaluation.unwrap()), all_of(written), "{size}");
    }
}
