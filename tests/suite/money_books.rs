//! The books of 50 random workshops against an independent judge: `tests/money/books.py` works metal, cost, price and an order
//! of each out in exact fractions, from the words of the model, and shares nothing with the program.

use rust_decimal::Decimal;
use serde_json::Value;

use crate::support::{read, results, run};

fn number(text: &str) -> Decimal {
    text.parse()
        .unwrap_or_else(|_| panic!("{text} is no number"))
}

#[test]
fn the_books_of_random_workshops_are_those_of_the_judge() {
    let record: Value = serde_json::from_str(&read("tests/money/books.json")).unwrap();
    let shops = record.as_array().unwrap();
    assert_eq!(shops.len(), 50);
    let mut wrong = Vec::new();
    for (place, shop) in shops.iter().enumerate() {
        let recipe = shop["recipe"].as_str().unwrap();
        let found = results(recipe);
        for (path, wanted) in shop["bands"].as_object().unwrap() {
            let is = found[path]["value"].as_str().unwrap();
            if number(is) != number(wanted.as_str().unwrap()) {
                wrong.push(format!("shop {place}: {path} {is}, wanted {wanted}"));
            }
        }
        let ran = run(&["eval", "--json", "-"], recipe);
        let json: Value = serde_json::from_str(&ran.stdout).unwrap();
        let totals = &json["recipes"][0]["orders"][0]["totals"];
        for (path, wanted) in shop["order"].as_object().unwrap() {
            let is = path.split('.').fold(totals, |at, key| &at[key]);
            let is = is
                .as_str()
                .unwrap_or_else(|| panic!("{path} in {totals:#}"));
            if number(is) != number(wanted.as_str().unwrap()) {
                wrong.push(format!("shop {place}: order {path} {is}, wanted {wanted}"));
            }
        }
        let cost = |key: &str| number(totals["cost"][key].as_str().unwrap());
        let metal = cost("bought") - cost("returned") + cost("refining");
        assert_eq!(metal, cost("metal"), "{recipe}");
        let lines = ["metal", "labour", "machine", "overhead", "rejects", "fees"];
        let sum: Decimal = lines.into_iter().map(cost).sum();
        assert_eq!(sum, cost("total"), "{recipe}");
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
