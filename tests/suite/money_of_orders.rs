//! Rejects, batches, solder, tax and prices under cost, worked out by hand as in `money_by_hand`, from the ring of 5 g whose
//! alloy is worth 60.50 EUR a gram.
//!
//! What an order begins, buys and pays is worked out by the words of the model: so many begun that as many as ordered
//! are finished, whole rings; set-up once for each batch of the workshop. Nothing here reads the program's own sums.

use annulet::money::{Pays, Stand};
use annulet::session::{Outcome, Request, Session};
use serde_json::Value;

use crate::support::run;

const RING: &str = "prices { dated 2026-11-20, gold 100 EUR/g, silver 1.25 EUR/g }
alloy green { gold 600, silver 400, density 14.400555835314 g/cm3 }
alloy seam { gold 500, silver 500 }
";
const WORK: &str = "currency EUR, labour 60 EUR/h, machine 30 EUR/h, batch 4
  operation turning { set-up 20 min, run 9 min, at both }
  rejects { solid 20 % }
  scrap { offcuts { paid 90 % } }";

fn recipe(shop: &str, lines: &str, rest: &str) -> String {
    format!(
        "{RING}shop {{\n  {shop}\n}}\nband b {{\n  size 16 mm, width 3.07 mm, thickness 2 mm, profile flat, alloy green\n  {lines}\n}}\n{rest}"
    )
}

fn outcome(recipe: &str) -> Outcome {
    Session::default().run("r", recipe, &Request::default())
}

fn codes(recipe: &str) -> Vec<String> {
    let found = outcome(recipe).findings;
    found.iter().map(annulet::finding::Finding::code).collect()
}

fn totals(recipe: &str) -> Value {
    let ran = run(&["eval", "--json", "-"], recipe);
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    json["recipes"][0]["orders"][0]["totals"].clone()
}

fn is(totals: &Value, path: &str, wanted: &str) {
    let found = path.split('.').fold(totals, |at, key| &at[key]);
    let found = found
        .as_str()
        .map_or_else(|| found.to_string(), str::to_owned);
    assert_eq!(found, wanted, "{path} in {totals:#}");
}

#[test]
fn rejects_are_begun_bought_and_come_back() {
    // Eight finished of which one in five begun is not: ten begun, in batches of 4 three of them.
    let found = totals(&recipe(WORK, "", "order { b 8 }\n"));
    is(&found, "count", "8");
    is(&found, "begun", "10");
    assert_eq!(found["set-ups"][0]["times"], 3);
    // 10 * 5 g are issued, 8 * 5 g finished; two rings come back as clean offcuts, paid at 90 %.
    for (path, grams) in [
        ("grams.issued", "50"),
        ("grams.finished", "40"),
        ("grams.offcuts", "10"),
        ("grams.recovered", "9"),
        ("grams.lost", "1"),
    ] {
        is(&found, path, grams);
    }
    assert_eq!(found["stock"][0]["grams"], "50");
    assert_eq!(found["stock"][0]["money"], "3025");
    // Bought 50 * 60.50, returned 9 * 60.50; 3 * 20 + 10 * 9 = 150 min: 150 and 75 EUR.
    is(&found, "cost.bought", "3025");
    is(&found, "cost.returned", "544.5");
    is(&found, "minutes.labour", "150");
    is(&found, "cost.total", "2705.5");
    // One alone: 302.50 + 14 + 7, and a quarter of what a reject wastes, 302.50 - 272.25 + 13.50 = 43.75: 334.4375, shown
    // as 334.44; eight are 2675.52.
    is(&found, "singly", "2675.52");
    is(&found, "difference", "29.98");
}

#[test]
fn rings_begun_beyond_the_count_fall_to_the_lines_by_their_counts() {
    // 5 / 0.8 = 6.25: seven are begun. Two more: of three 1.2, of two 0.8; one to the first, one to the larger rest.
    let found = totals(&recipe(WORK, "", "order { b { 3, 2 of 18 mm } }\n"));
    assert_eq!(found["lines"][0]["begun"], 4);
    assert_eq!(found["lines"][1]["begun"], 3);
    // Exactly whole: 8 / 0.8.
    let found = totals(&recipe(WORK, "", "order { b { 4, 4 of 18 mm } }\n"));
    assert_eq!(found["lines"][0]["begun"], 5);
    assert_eq!(found["lines"][1]["begun"], 5);
}

#[test]
fn solder_weighs_and_costs() {
    // A gram of it is worth 50 + 0.625; a quarter of a gram 12.65625. 302.50 + 12.65625 = 315.15625.
    let text = recipe("currency EUR", "solder seam { amount 0.25 g }", "");
    let found = outcome(&text);
    let account = found.evaluations[0].account().unwrap();
    assert_eq!(account.weights.issued.to_string(), "5.250000");
    assert_eq!(account.cost.unwrap().total.to_string(), "315.16");
    assert!((found.evaluations[0].figures.weight - 5.25).abs() < 1e-9);
    // Its metal without a price keeps the cost back.
    let unpriced = text.replace("silver 500 }", "platinum 500 }");
    let found = outcome(&unpriced);
    assert!(found.evaluations[0].account().unwrap().cost.is_none());
    assert!(codes(&unpriced).contains(&"evaluate::no_price".to_owned()));
    // A solid that a hollow band is compared with has no seam.
    let hollow = text.replace(
        "solder seam",
        "hollow { shell 0.6 mm, sleeve 0.5 mm, ridge 0.2 mm { wide 0.4 mm, count 1 } }\n  solder seam",
    );
    let found = outcome(&hollow);
    let against = found.evaluations[0].account().unwrap().against.clone();
    assert_eq!(against.unwrap().cost.unwrap().to_string(), "302.50");
}

#[test]
fn tax_is_taken_on_the_price_as_it_is_shown() {
    // 350.005 is shown as 350.00; a fifth of that is 70.00, where a fifth of 350.005 would make 420.006, 420.01.
    let text = recipe(
        "currency EUR, tax 20 %",
        "sale piece { at 350.005 EUR }",
        "",
    );
    let found = outcome(&text);
    let account = found.evaluations[0].account().unwrap();
    assert_eq!(account.net.unwrap().to_string(), "350.00");
    assert_eq!(account.gross.unwrap().to_string(), "420.00");
}

#[test]
fn what_earns_nothing_falls_short_and_the_value_put_back_passes() {
    // The ring costs 302.50.
    let sold = |sale: &str| codes(&recipe("currency EUR", &format!("sale {sale}"), ""));
    let under = vec!["evaluate::under_cost".to_owned()];
    for sale in [
        "piece { at 302.49 EUR }",
        "piece { at 302.50 EUR }",
        "piece { markup 0 % }",
        "piece { margin 0 % }",
        "weight { making 0 EUR/g }",
        "weight { making 0 % }",
    ] {
        assert_eq!(sold(sale), under, "{sale}");
    }
    for sale in [
        "piece { at 302.51 EUR }",
        "piece { markup 1 % }",
        "weight { making 0.01 EUR/g }",
        "weight { making 0.01 % }",
    ] {
        assert!(sold(sale).is_empty(), "{sale}");
    }
    // Ten minutes of labour and a making charge that does not pay for them: 10 / 5 g, and a cent more.
    let shop = "currency EUR, labour 60 EUR/h\n  operation filing { run 10 min }";
    let with = |making: &str| recipe(shop, &format!("sale weight {{ making {making} }}"), "");
    let found = outcome(&with("1 EUR/g"));
    let help = found.findings[0].help().unwrap();
    assert_eq!(help, "`making 2.01 EUR/g` would just earn something");
    assert!(codes(&with("2.01 EUR/g")).is_empty());
    assert_eq!(codes(&with("2 EUR/g")), under);
}

#[test]
fn an_order_under_its_cost_falls_short_though_each_ring_earns() {
    // One ring alone costs 334.44 in batches of 4 and is sold for 340; one ordered takes two begun and a set-up of its own:
    // 605 - 4.5 * 60.50 + 38 * 1.5 = 389.75.
    let text = recipe(WORK, "sale piece { at 340 EUR }", "order fair { b 1 }\n");
    let found = outcome(&text).findings;
    let said: Vec<String> = found.iter().map(|one| one.message()).collect();
    assert_eq!(
        said,
        ["order `fair` is offered for 340.00 EUR, and costs 389.75 EUR: 49.75 EUR is lost"]
    );
    let many = text.replace("b 1 ", "b 400 ");
    assert!(codes(&many).is_empty());
}

#[test]
fn a_build_whose_other_has_no_price_is_not_said_not_to_pay() {
    let text = recipe(
        WORK,
        "against c",
        "alloy white { gold 600, platinum 400 }\nvariant c of b { alloy white, without against }\n",
    );
    let text = text.replace(", without against", "");
    let text = text.replace(
        "variant c of b { alloy white }",
        "band c { size 16 mm, width 3.07 mm, thickness 2 mm, profile flat, alloy white }",
    );
    let found = outcome(&text);
    let against = found.evaluations[0]
        .account()
        .unwrap()
        .against
        .clone()
        .unwrap();
    assert_eq!((against.cost, against.pays), (None, None));
    let report = run(&["eval", "-"], &text).stdout;
    assert!(!report.contains("even without rejects"), "{report}");
    assert!(
        report.contains("not known: a cost is not given"),
        "{report}"
    );
}

#[test]
fn the_side_on_which_a_build_pays_is_said() {
    let shop = "currency EUR";
    let rest = "alloy pale { gold 300, silver 700, density 14.400555835314 g/cm3 }\nband c { size 16 mm, width 3.07 mm, thickness 2 mm, profile flat, alloy pale }\n";
    let stand = |recipe: &str, place: usize| {
        let found = outcome(recipe);
        let account = found.evaluations[place].account().unwrap();
        let against = account.against.clone().unwrap();
        (against.metals[0].1, against.pays.unwrap())
    };
    let first = recipe(shop, "against c", rest);
    let second = recipe(
        shop,
        "",
        &rest.replace("alloy pale }", "alloy pale, against b }"),
    );
    // b has 3 g of gold and 2 g of silver, c 1.5 g and 3.5 g: 1.5 g of gold against 1.5 g of silver at 1.25.
    let at = rust_decimal::dec!(1.25);
    assert_eq!(
        stand(&first, 0),
        (
            Stand::Same {
                at,
                less_above: false
            },
            Pays::Never
        )
    );
    let (mirrored, _) = stand(&second, 1);
    assert_eq!(
        mirrored,
        Stand::Same {
            at,
            less_above: true
        }
    );
}

#[test]
fn stock_keeps_its_clean_up_and_names_line_size_and_what_would_serve() {
    // The ring is turned to 20 mm outside and 16 mm bore.
    let text = |form: &str| {
        recipe(
            "currency EUR",
            "stock near",
            &format!(
                "stock near tube {{ {form} }}\nstock far tube {{ outside 24 mm, bore 15 mm }}\n"
            ),
        )
    };
    let unfit = vec!["evaluate::stock".to_owned()];
    for (form, is_fit) in [
        ("outside 20.2 mm, bore 15.8 mm", true),
        ("outside 20.19 mm, bore 15.8 mm", false),
        ("outside 20.2 mm, bore 15.81 mm", false),
        ("outside 20 mm, bore 16 mm, clean-up 0 mm", true),
        ("outside 20.9 mm, bore 15 mm, clean-up 1 mm", false),
    ] {
        assert_eq!(codes(&text(form)) != unfit, is_fit, "{form}");
    }
    let small = outcome(&text("outside 20 mm, bore 15 mm")).findings;
    assert_eq!(
        small[0].message(),
        "`near` cannot make the band of `b` in 16 mm: its outside is 20 mm, and must be at least 20.2 mm, with 0.2 mm to clean up"
    );
    assert_eq!(
        small[0].help().unwrap(),
        "`outside 20.2 mm` would just do; `far` would serve"
    );
    // In an order the size and the line are those that it is too small for.
    let ordered = text("outside 21 mm, bore 15 mm") + "order fair { b { 1, 2 of 18 mm } }\n";
    let found = outcome(&ordered).findings;
    assert!(found[0].message().contains("`b` in 18 mm"), "{found:?}");
    let labels = found[0].labels();
    assert!(
        labels
            .iter()
            .any(|(at, _)| &ordered[at.start as usize..at.end as usize] == "2 of 18 mm"),
        "{labels:?}"
    );
}

#[test]
fn a_price_that_is_held_against_no_cost_falls_short() {
    // Nothing rests on the cost: a note. A price stands beside it: not judged is not passed.
    let weights = |recipe: &str| {
        let found = outcome(recipe).findings;
        let each = found.iter().map(|one| (one.code(), one.weight()));
        each.collect::<Vec<_>>()
    };
    use annulet::finding::Weight;
    let unpriced = |lines: &str| recipe("currency EUR", lines, "").replace("gold 100 EUR/g, ", "");
    let no_price = "evaluate::no_price".to_owned();
    assert_eq!(weights(&unpriced("")), [(no_price.clone(), Weight::Note)]);
    assert_eq!(
        weights(&unpriced("sale piece { at 400 EUR }")),
        [(no_price, Weight::Short)]
    );
    let unpaid = |lines: &str| recipe("operation turning { run 9 min }", lines, "");
    let no_rate = "evaluate::unpaid_time".to_owned();
    assert_eq!(weights(&unpaid("")), [(no_rate.clone(), Weight::Note)]);
    assert_eq!(
        weights(&unpaid("sale weight { making 20 EUR/g }")),
        [(no_rate, Weight::Short)]
    );
}

#[test]
fn prices_that_look_like_a_slip_are_asked_about_once() {
    let asked = |metals: &str| {
        let recipe = recipe("currency EUR", "", "");
        let priced = recipe.replace("gold 100 EUR/g, silver 1.25 EUR/g", metals);
        let codes = codes(&priced);
        codes
            .iter()
            .filter(|code| *code == "evaluate::unlikely_price")
            .count()
    };
    assert_eq!(asked("gold 98.40 EUR/g, silver 1.10 EUR/g"), 0);
    assert_eq!(asked("gold 1.10 EUR/g, silver 98.40 EUR/g"), 1);
    assert_eq!(asked("gold 98 EUR/kg, silver 1.10 EUR/g"), 1);
    assert_eq!(
        asked("gold 98.40 EUR/g, silver 1.10 EUR/g, platinum 32 EUR/kg"),
        1
    );
    assert_eq!(asked("gold 98400 EUR/g, silver 1.10 EUR/g"), 1);
    assert_eq!(asked("gold 98400 EUR/g"), 1);
    assert_eq!(asked("gold 98400 EUR/kg, silver 1100 EUR/kg"), 0);
}

#[test]
fn scrap_that_came_back_is_weighed_against_what_was_taken_off() {
    // Two rings of five rejected: ten begun for eight. The two are 10 g of offcuts; all of them are collected.
    let with = |weighed: &str| {
        recipe(
            WORK,
            "",
            &format!("order fair {{ b 8, returned {{ offcuts {weighed} }} }}\n"),
        )
    };
    let short = vec!["evaluate::returned".to_owned()];
    for (weighed, is_short) in [
        ("10 g", false),
        ("9.995 g", false),
        ("9.99 g", true),
        ("10.01 g", true),
        ("0 g", true),
    ] {
        assert_eq!(codes(&with(weighed)) == short, is_short, "{weighed}");
    }
    let found = totals(&with("9 g"));
    assert_eq!(found["returned"][0]["expected"], "10");
}
