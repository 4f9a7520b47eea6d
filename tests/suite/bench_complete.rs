//! What Tab offers at the bench: what fits the place and the dimension, the recipe's own names first, never a list
//! that nobody reads. Held against the acceptance list, point 5.

use annulet::bench::{Bench, NoFiles, complete};

use crate::support::read;

/// More lines than this are no list to choose from.
const READABLE: usize = 96;

fn on(recipe: &str) -> Bench {
    let mut bench = Bench::new(Box::new(NoFiles), None);
    assert!(!bench.step(recipe).refused);
    bench
}

fn market() -> Bench {
    on(&read("examples/market-day.annulet").replace("annulet 1\n", ""))
}

#[test]
fn what_is_offered_has_the_dimension_that_is_due() {
    let mut bench = market();
    let mut offered = |text: &str| complete(&mut bench, text, text.len()).1;
    let stocks = ["tube-21", "tube-shell", "tube-sleeve"];
    assert_eq!(offered("stock "), stocks);
    assert_eq!(offered("band b { hollow { shell 0.5 mm { stock "), stocks);
    assert_eq!(offered("stock mine "), ["tube", "rod", "ring", "cast"]);
    let lengths = offered("width 5 ");
    assert_eq!(lengths[0], "mm");
    assert_eq!(offered("size 17.2 "), lengths);
    assert_eq!(offered("try size 17.2 "), lengths);
    let masses = offered("let heavy = harvest.weight in ");
    assert_eq!(masses[0], "g");
    assert_eq!(offered("require harvest.weight <= 2 "), masses);
    assert_eq!(offered("harvest-light.weight <= 2 "), masses);
    assert_eq!(offered("require harvest.wall.least >= 0.2 "), lengths);
    assert_eq!(
        offered("prices { gold 98 "),
        ["EUR/g", "USD/ozt", "INR/tola"]
    );
    assert_eq!(offered("shop { labour 42 ")[0], "EUR/h");
    assert_eq!(
        offered("band b { pattern { repeats 18 "),
        Vec::<String>::new()
    );
}

#[test]
fn what_is_sought_is_offered_clause_by_clause() {
    let mut bench = market();
    let mut offered = |text: &str| complete(&mut bench, text, text.len()).1;
    let has = |found: &[String], word: &str| found.iter().any(|one| one == word);
    assert_eq!(offered("sweep width 4 ")[0], "mm");
    assert!(has(&offered("sweep wid"), "width"));
    assert!(has(
        &offered("sweep width [4 mm, 5 mm], thick"),
        "thickness"
    ));
    let clauses = offered("sweep width 4 mm .. 5 mm by 0.5 mm ");
    assert!(has(&clauses, "show") && has(&clauses, "where") && has(&clauses, "plot"));
    assert!(!has(&offered("sweep width 4 mm .. "), "show"));
    assert!(has(
        &offered("sweep width 4 mm .. 5 mm by 0.5 mm show wei"),
        "weight"
    ));
    assert!(has(&offered("solve width 4 mm .. 6 mm "), "for"));
    assert_eq!(offered("solve width for weight = 5 ")[0], "g");
    assert!(has(
        &offered("choose width 4 mm .. 6 mm least wei"),
        "weight"
    ));
    assert_eq!(
        offered("choose width 4 mm .. 6 mm least weight where wall.least >= 1 ")[0],
        "mm"
    );
    assert!(has(&offered("strip "), "harvest") && has(&offered("strip "), "finished"));
    assert!(has(&offered("help pat"), "pattern") && has(&offered("help str"), "strip"));
}

#[test]
fn behind_meets_stand_rulebooks_and_their_standards() {
    let mut bench = on(
        "band b { size ISO 54, width 4 mm, thickness 1.6 mm, profile flat, alloy sterling }\n\
         rules house { like UK, standards gold [585, 750] }\n",
    );
    let mut offered = |text: &str| complete(&mut bench, text, text.len()).1;
    let books = offered("require b meets ");
    assert_eq!(books[..2], ["house", "UK"]);
    assert!(offered("require b meets UK ").contains(&"925".to_owned()));
    assert_eq!(offered("b meets U"), ["UK", "US"]);
}

#[test]
fn lists_can_be_read_and_begin_with_the_recipes_own_names() {
    let mut bench = market();
    let mut offered = |text: &str| complete(&mut bench, text, text.len()).1;
    for line in [
        "",
        "try ",
        "why ",
        "require ",
        "let x = ",
        "m",
        "s",
        "try m",
        "why machined.",
        "width 5 mm * ",
    ] {
        let found = offered(line);
        assert!(found.len() <= READABLE, "{line}: {}", found.len());
    }
    for line in ["", "try ", "why ", "require ", "let x = "] {
        assert_eq!(offered(line)[..2], ["harvest", "harvest-light"], "{line}");
    }
    // Too many to read are shown by their beginnings, and gone into from there.
    assert!(offered("why ").contains(&"machined.".to_owned()));
    assert!(offered("why machined.").contains(&"machined.shell.".to_owned()));
    assert!(offered("why machined.shell.").contains(&"machined.shell.bore".to_owned()));
}
