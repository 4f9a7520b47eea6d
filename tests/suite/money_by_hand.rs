//! Cost, price and orders worked out by hand, in fractions, from rings that weigh a round number of grams.
//!
//! The ring: a pipe of 16 and 20 mm, of gold 600 and silver 400 with 5000 / (36 pi * 3.07) = 14.400555835314 g/cm3. A pipe
//! 2 mm thick holds pi (D + 2) * 2 mm2 in its section, so 36 pi * 3.07 mm3 weigh 5 g, exact to the millionth of a gram in
//! which money counts. With fine gold at 100 EUR and silver at 1.25 EUR a gram of the alloy is worth
//! 600/1000 * 100 + 400/1000 * 5/4 = 60 + 1/2 = 60.50 EUR. Every figure below is worked out from these by the words of the
//! workshop (what is issued, comes back, is paid), never by the program; halves of a cent go to the even one.
//! Days are counted on a calendar.

use annulet::model::Day;
use annulet::session::{Request, Session};
use serde_json::{Map, Value};

use crate::support::{ask, plain, results, run, run_in};

const ALLOY: &str = "alloy green { gold 600, silver 400, density 14.400555835314 g/cm3 }\n";
const PRICES: &str = "prices { dated 2026-11-20, gold 100 EUR/g, silver 1.25 EUR/g }\n";

/// The ring of 5 g, with what the shop says and what the band says beside its shape.
fn ring(shop: &str, stock: &str, lines: &str) -> String {
    format!(
        "{PRICES}{ALLOY}shop {{ currency EUR\n  {shop}\n}}\n{stock}\nband b {{\n  size 16 mm, width 3.07 mm, thickness 2 mm, profile flat, alloy green\n  {lines}\n}}\n"
    )
}

/// Results as text: money and grams are exact decimals.
fn exact(results: &Map<String, Value>, path: &str) -> String {
    let value = &results.get(path).unwrap_or_else(|| panic!("no {path}"))["value"];
    value.as_str().unwrap().to_owned()
}

fn check(recipe: &str, wanted: &[(&str, &str)]) {
    let found = results(recipe);
    for (path, value) in wanted {
        let path = format!("b.{path}");
        let number = |text: &str| text.parse::<rust_decimal::Decimal>().unwrap();
        assert_eq!(
            number(&exact(&found, &path)),
            number(value),
            "{path}\n{recipe}"
        );
    }
}

/// The report of a recipe, each line without what stands before it.
fn report(recipe: &str) -> Vec<String> {
    let ran = run(&["eval", "--full", "-"], recipe);
    assert!(ran.status < 2, "{}", ran.stderr);
    ran.stdout
        .lines()
        .map(|line| line.trim().to_owned())
        .collect()
}

/// Whether a report has this line, runs of spaces counted as one.
fn has(report: &[String], wanted: &str) {
    let flat = |line: &str| line.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        report.iter().any(|line| flat(line) == wanted),
        "no line `{wanted}` in\n{}",
        report.join("\n")
    );
}

#[test]
fn a_making_charge_in_per_cent_is_of_the_metal_charged() {
    // Charged: 5 * 1.04 = 5.2 g; its metal 5.2 * 60.50 = 314.60; 15 % of that 47.19; together 361.79. Tax at 20 %:
    // 361.79 * 6/5 = 434.148. The metal of the ring itself costs 5 * 60.50 = 302.50: earned 59.29.
    let recipe = ring("tax 20 %", "", "sale weight { making 15 %, add 4 % }");
    check(
        &recipe,
        &[
            ("weight.charged", "5.2"),
            ("price.making", "47.19"),
            ("price", "361.79"),
            ("price.total", "434.15"),
            ("price.tax", "72.36"),
            ("cost", "302.5"),
            ("earning", "59.29"),
        ],
    );
    let report = report(&recipe);
    has(
        &report,
        "price 361.79 EUR: metal 314.60 EUR, making 47.19 EUR",
    );
    has(&report, "tax 72.36 EUR");
    has(&report, "with tax 434.15 EUR");
    // By the gram it is another figure: 15 EUR on each of 5.2 g are 78.
    let by_gram = recipe.replace("making 15 %", "making 15 EUR/g");
    check(&by_gram, &[("price.making", "78"), ("price", "392.6")]);
}

const TURNING: &str = "labour 60 EUR/h, machine 30 EUR/h, batch 4\n  operation turning { set-up 20 min, run 9 min, at both }";

#[test]
fn overhead_on_cost_counts_the_metal_too() {
    // Labour: 20/4 + 9 = 14 min at 1 EUR = 14; machine 7. On work: 30 % of 21 = 6.30. On cost: 30 % of 21 + 302.50 =
    // 97.05; in all 420.55.
    let work = ring(&format!("{TURNING}\n  overhead 30 %"), "", "");
    check(&work, &[("cost.overhead", "6.3"), ("cost", "329.8")]);
    let cost = ring(&format!("{TURNING}\n  overhead 30 % {{ on cost }}"), "", "");
    let lines = [
        ("cost.metal", "302.5"),
        ("cost.labour", "14"),
        ("cost.machine", "7"),
        ("cost.overhead", "97.05"),
        ("cost", "420.55"),
    ];
    check(&cost, &lines);
    // One of five rejected: a quarter of a reject to each good ring. It wastes its run, 9 + 4.50, and its metal, 302.50,
    // with 30 % on both: 316 * 1.3 = 410.80; a quarter is 102.70. On work the metal bears nothing:
    // 302.50 + 13.50 * 1.3 = 320.05; a quarter is 80.0125.
    let rejects =
        |recipe: &str| recipe.replace("overhead 30 %", "rejects { solid 20 % }\n  overhead 30 %");
    check(
        &rejects(&cost),
        &[("cost.rejects", "102.7"), ("cost", "523.25")],
    );
    check(
        &rejects(&work),
        &[("cost.rejects", "80.01"), ("cost", "409.81")],
    );
    // Where offcuts are paid at 90 % the rejected ring brings 5 * 0.9 * 60.50 = 272.25: 30.25 of metal are wasted,
    // (30.25 + 13.50) * 1.3 = 56.875; a quarter is 14.21875.
    let paid = rejects(&cost).replace("rejects {", "scrap { offcuts { paid 90 % } }\n  rejects {");
    check(
        &paid,
        &[
            ("cost.rejects", "14.22"),
            ("cost.overhead", "97.05"),
            ("cost", "434.77"),
        ],
    );
}

/// A blank of 21 and 15 mm holds pi/4 (441 - 225) = 54 pi mm2; 3.684 mm of it 198.936 pi mm3, 9/5 of the ring's 110.52 pi:
/// 9 g.
const BLANK: &str = "stock blank cast { outside 21 mm, bore 15 mm, length 3.684 mm, sprue 1.5 g, fabrication 2 EUR/g }";

#[test]
fn a_cast_blank_is_issued_with_its_sprue() {
    // Polished off: 2 % of 5 g = 0.1 g. Turned off: 9 - 5 - 0.1 = 3.9 g. Issued: 9 + 1.5 = 10.5 g. Paid for: of the sprue
    // 0.9, of turnings 0.8 * 0.75 = 0.6, of polishings 0.5 * 0.4 = 0.2: 1.35 + 2.34 + 0.02 = 3.71 g. Lost:
    // 10.5 - 5 - 3.71 = 1.79 g.
    let scrap = |minimum: &str| {
        format!(
            "{TURNING}
  overhead 30 % {{ on cost }}
  scrap {{
    offcuts {{ paid 90 % }}
    turnings {{ collected 80 %, paid 75 % }}
    polishings {{ part 2 %, collected 50 %, paid 40 % }}
    charge 0.40 EUR/g, minimum {minimum}
  }}"
        )
    };
    // Bought: 10.5 * (60.50 + 2) = 656.25; returned 3.71 * 60.50 = 224.455. Sent in: 1.5 + 3.12 + 0.05 = 4.67 g, 1.868 EUR a
    // ring. Overhead: 30 % of 21 + 656.25 - 224.455 = 135.8385. In all 656.25 - 224.455 + 1.868 + 21 + 135.8385 = 590.5015.
    let recipe = ring(&scrap("7.47 EUR"), BLANK, "stock blank");
    let grams = [
        ("weight.issued", "10.5"),
        ("weight.turnings", "3.9"),
        ("weight.offcuts", "1.5"),
        ("weight.polishings", "0.1"),
        ("weight.recovered", "3.71"),
        ("weight.lost", "1.79"),
    ];
    check(&recipe, &grams);
    let money = [
        ("cost.metal.bought", "656.25"),
        ("cost.metal.refining", "1.87"),
        ("cost.overhead", "135.84"),
        ("cost", "590.5"),
    ];
    check(&recipe, &money);
    // Four rings send 7.472 EUR of charge: 7.47 is less, 10 is more and is shared by four.
    let least = ring(&scrap("10 EUR"), BLANK, "stock blank");
    // 590.5015 - 1.868 + 2.5 = 591.1335.
    check(
        &least,
        &[("cost.metal.refining", "2.5"), ("cost", "591.13")],
    );
    let report = report(&recipe);
    has(&report, "band 10.5 g 5 g 3.71 g 1.79 g");
    has(&report, "batch 42 g 20 g 14.84 g 7.16 g");
    // 600 and 400 of a thousand parts of each.
    has(&report, "of it gold 6.3 g 3 g 2.226 g 1.074 g");
    has(&report, "of it silver 4.2 g 2 g 1.484 g 0.716 g");
    has(
        &report,
        "taken off 3.9 g turnings, 1.5 g offcuts, 0.1 g polishings",
    );
    has(&report, "band from cast `blank`: 4 blanks a batch");
    // Without a sprue the blank alone is issued.
    let bare = recipe.replace("sprue 1.5 g, ", "");
    check(
        &bare,
        &[
            ("weight.issued", "9"),
            ("weight.offcuts", "0"),
            ("weight.turnings", "3.9"),
        ],
    );
}

#[test]
fn a_tube_is_told_with_its_length() {
    // Parted off: 3.07 + 2 * 0.1 + 0.5 = 3.77 mm a ring; four of them and 12 mm in the chuck are 27.08 mm; of lengths of
    // 24 mm (24 - 12) / 3.77 = 3.18, three rings come out of each, so two are cut.
    let stock =
        "stock tube-21 tube { outside 21 mm, bore 15 mm, kerf 0.5 mm, facing 0.1 mm, rest 12 mm }";
    let recipe = ring(TURNING, stock, "stock tube-21");
    has(
        &report(&recipe),
        "band from tube `tube-21`: 27.08 mm a batch",
    );
    let lengths = recipe.replace("bore 15 mm, kerf", "bore 15 mm, length 24 mm, kerf");
    has(
        &report(&lengths),
        "band from tube `tube-21`: 2 of 24 mm a batch",
    );
}

/// Rings 2.763 mm wide weigh 9/10 of 5 g in 16 mm, 4.5 g, and 40/36 of that in 18 mm, 5 g. The blank of 25 and 15 mm holds
/// 100 pi mm2; 2.98404 mm of it 298.404 pi mm3, three times the ring's 99.468 pi: 13.5 g, with its sprue 15 g.
fn order(charge: &str, fees: &str) -> String {
    format!(
        "{PRICES}{ALLOY}
shop {{
  currency EUR
  {TURNING}
  overhead 30 %
  scrap {{
    offcuts {{ paid 90 % }}
    turnings {{ collected 80 %, paid 75 % }}
    charge {charge}, minimum 25 EUR
  }}
  {fees}
  tax 20 %
}}
stock blank cast {{ outside 25 mm, bore 15 mm, length 2.98404 mm, sprue 1.5 g }}
band b {{
  size 16 mm, width 2.763 mm, thickness 2 mm, profile flat, alloy green, stock blank
  sale piece {{ markup 100 % }}
}}
band c {{
  size 18 mm, width 2.763 mm, thickness 2 mm, profile flat, alloy green
  sale piece {{ at 450 EUR }}
}}
order fair {{
  dated 2026-11-25
  b {{ 3, 2 of 18 mm }}
  c 4
  exchange {{ weight 6.4 g, alloy green, paid 92 % }}
  quote {{ valid 14 days, deposit 40 %, trigger 3 % }}
}}
"
    )
}

const FEES: &str = "fee hallmark { article 1.10 EUR, consignment 14 EUR, minimum 30 EUR }\n  fee post { consignment 9 EUR }";

/// What an order comes to, by the machine's keys.
fn totals(recipe: &str) -> Value {
    let ran = run(&["eval", "--json", "-"], recipe);
    let json: Value = serde_json::from_str(&ran.stdout).unwrap();
    json["recipes"][0]["orders"][0]["totals"].clone()
}

#[test]
fn an_order_is_added_up_from_its_rings() {
    let recipe = order("0.40 EUR/g", FEES);
    let totals = totals(&recipe);
    let is = |path: &str, wanted: &str| {
        let found = path.split('.').fold(&totals, |at, key| &at[key]);
        assert_eq!(found.as_str(), Some(wanted), "{path}");
    };
    assert_eq!(totals["count"], 9);
    // Issued: 5 blanks of 15 g and 4 times 5 g. Finished: 3 * 4.5 + 2 * 5 + 4 * 5. Turned off: 3 * 9 + 2 * 8.5. Paid for:
    // 5 * 1.5 * 0.9 + 44 * 0.6 = 6.75 + 26.4. Lost: 95 - 43.5 - 33.15.
    is("grams.issued", "95");
    is("grams.finished", "43.5");
    is("grams.turnings", "44");
    is("grams.offcuts", "7.5");
    is("grams.recovered", "33.15");
    is("grams.lost", "18.35");
    // Minutes: in batches of 4 the five of b take two set-ups and the four of c one, 3 * 20, and 9 * 9 run: 141 EUR of
    // labour, half of that of the machine; overhead 30 % of 211.50.
    is("minutes.labour", "141");
    is("minutes.machine", "141");
    is("cost.labour", "141");
    is("cost.machine", "70.5");
    is("cost.overhead", "63.45");
    // Fees: 9 * 1.10 + 14 = 23.90 is under 30; post 9.
    is("cost.fees", "39");
    // Metal: 95 * 60.50 = 5747.50 less 33.15 * 60.50 = 2005.575. The refiner counts what is sent by count of rings:
    // 3 * (1.5 + 7.2) + 2 * (1.5 + 6.8) = 42.7 g at 0.40 are 17.08, under 25. In all
    // 5747.50 - 2005.575 + 25 + 141 + 70.50 + 63.45 + 39 = 4080.875: to the even cent .88.
    is("cost.bought", "5747.5");
    is("cost.refining", "25");
    is("cost.total", "4080.88");
    // One of b in 16 mm, in a batch of 4: 907.50 - 6.75 * 60.50 = 499.125; refining 25 / 4; labour 20/4 + 9 = 14, machine 7,
    // overhead 6.30; fees 30 / 4 + 9 / 4 = 9.75: 542.425, twice that 1084.85. In 18 mm: 907.50 - 6.45 * 60.50 = 517.275,
    // so 560.575, twice that 1121.15. One of c: 302.50 + 27.30 + 9.75 = 339.55. As shown, halves to even,
    // 3 * 542.42 + 2 * 560.58 + 4 * 339.55 = 4106.62; all together cost 25.74 less.
    is("singly", "4106.62");
    is("difference", "-25.74");
    for (place, price) in [(0, "1084.85"), (1, "1121.15"), (2, "450")] {
        assert_eq!(totals["lines"][place]["price"], price);
    }
    // 3 * 1084.85 + 2 * 1121.15 + 4 * 450 = 7296.85; * 6/5 = 8756.22; old metal 6.4 * 0.92 * 60.50 = 356.224; to pay
    // 8756.22 - 356.22; two fifths of that 3360.
    is("price", "7296.85");
    is("total", "8756.22");
    is("credit", "356.22");
    is("due", "8400");
    is("deposit", "3360");
    let report = report(&recipe);
    for line in [
        "3 b 16 mm 4.5 g 1084.85 EUR each 3254.55 EUR",
        "2 b 18 mm 5 g 1121.15 EUR each 2242.30 EUR",
        "4 c 18 mm 5 g 450.00 EUR each 1800.00 EUR",
        "rings 95 g 43.5 g 33.15 g 18.35 g",
        "begun 5 `b` for 5, in 2 batches of up to 4",
        "begun 4 `c` for 4, in one batch",
        // Five blanks of 2.98404 mm are 14.9202 mm; 75 g and 20 g at 60.50 EUR.
        "to buy `blank` of green: 5, \u{2248} 14.920 mm in all, 75 g, 4537.50 EUR",
        "to buy green: 20 g, 1210.00 EUR, no stock stated",
        // Of 4080.88: 3766.93, 141, 70.50, 63.45, 39.
        "metal 3766.93 EUR 92.3 %",
        "bought 5747.50 EUR",
        "returned -2005.57 EUR",
        "refining 25.00 EUR",
        "labour 141.00 EUR 3.5 %",
        "machine 70.50 EUR 1.7 %",
        "overhead 63.45 EUR 1.6 %",
        "fees 39.00 EUR 1.0 %",
        "of it fee hallmark 30.00 EUR",
        "of it fee post 9.00 EUR",
        // A hundredth of 5747.50 - 2005.575.
        "if metal rises 1 % +37.42 EUR",
        "rings 7296.85 EUR",
        "tax 1459.37 EUR",
        "old metal -356.22 EUR",
        "of it one by one 4106.62 EUR",
        "of it whole rings -25.74 EUR, batches and consignments",
        "to pay 8400.00 EUR",
        "deposit 3360.00 EUR",
        "when ready 5040.00 EUR",
        "old metal 6.4 g of green, 92 % of its fine metal",
        // 97 and 103 hundredths of 100; silver is less than 2 % of what the metal is worth.
        "if gold below 97.00 EUR or above 103.00 EUR a gram: new offer",
    ] {
        has(&report, line);
    }
    let offered = run(&["offer", "--in", "-"], &recipe);
    let offered: Vec<String> = offered.stdout.lines().map(str::to_owned).collect();
    for line in [
        "3 at 1084.85 EUR 3254.55 EUR",
        "2 at 1121.15 EUR 2242.30 EUR",
        "4 at 450.00 EUR 1800.00 EUR",
        "together 7296.85 EUR",
        "tax 1459.37 EUR",
        "old metal: 6.4 g of green, 92 % credited -356.22 EUR",
        "to pay 8400.00 EUR",
        "deposit 3360.00 EUR",
        "and when ready 5040.00 EUR",
    ] {
        has(&offered, line);
    }
}

#[test]
fn minimum_charges_stand_until_what_is_sent_costs_more() {
    let cost = |charge: &str, fees: &str, key: &str| {
        totals(&order(charge, fees))["cost"][key]
            .as_str()
            .unwrap()
            .to_owned()
    };
    // 42.7 g at 0.70 EUR are 29.89, over the minimum of 25; at 0.58 EUR 24.766, under it; at 0.59 EUR 25.193.
    assert_eq!(cost("0.70 EUR/g", FEES, "refining"), "29.89");
    assert_eq!(cost("0.58 EUR/g", FEES, "refining"), "25");
    assert_eq!(cost("0.59 EUR/g", FEES, "refining"), "25.19");
    // 9 * 1.80 + 14 = 30.20, over the minimum of 30; at 1.77 EUR 29.93, under it. Post is 9 more.
    let hallmark = |article: &str| FEES.replace("1.10 EUR", article);
    assert_eq!(cost("0.70 EUR/g", &hallmark("1.80 EUR"), "fees"), "39.2");
    assert_eq!(cost("0.70 EUR/g", &hallmark("1.77 EUR"), "fees"), "39");
}

#[test]
fn another_build_is_dearer_by_the_difference() {
    // Alone in batches of 4, c costs 302.50 + 14 + 7 + 6.30 = 329.80; b 907.50 - 408.375 + 6.25 + 27.30 = 532.675: a tie, to the
    // even cent 532.68.
    let with = |band: &str, against: &str| {
        order("0.40 EUR/g", "").replace(
            &format!("band {band} {{"),
            &format!("band {band} {{\n  against {against}"),
        )
    };
    has(
        &report(&with("b", "c")),
        "it costs 329.80 EUR; this one 202.88 EUR more",
    );
    let report = report(&with("c", "b"));
    has(&report, "it costs 532.68 EUR; this one 202.88 EUR less");
    // One reject of c wastes 302.50 - 5 * 0.9 * 60.50 = 30.25 of metal and 13.50 * 1.3 = 17.55 of work: 47.80. Rejects may eat
    // 532.675 - 329.80 = 202.875, 4.244247 rejects to a good ring: 4.244247 / 5.244247 of those begun.
    has(&report, "pays up to \u{2248} 80.93 % of rejects");
}

#[test]
fn what_is_earned_is_told_in_per_cent() {
    let sale = |sale: &str| report(&ring("tax 20 %", "", &format!("sale piece {{ {sale} }}")));
    // 302.50 and 12.5 % of it are 340.3125; 302.50 is 55 % of 550.
    let markup = sale("markup 12.5 %");
    has(&markup, "price 340.31 EUR: cost plus 12.5 %");
    has(&markup, "earned 37.81 EUR before tax");
    let margin = sale("margin 45 %");
    has(&margin, "price 550.00 EUR: of which 45 % is earned");
    has(&margin, "earned 247.50 EUR before tax");
}

#[test]
fn shown_figures_end_in_an_even_digit_at_a_half() {
    // The alloy bought as such at 17.55 EUR: 87.75 of 100 is metal, 12.25 labour. 87.75 goes up to 87.8, 12.25 down to 12.2.
    let recipe = ring(
        "labour 60 EUR/h\n  operation turning { run 12.25 min }",
        "",
        "",
    )
    .replace("silver 1.25 EUR/g", "silver 1.25 EUR/g, green 17.55 EUR/g");
    let shares = report(&recipe);
    has(&shares, "metal 87.75 EUR 87.8 %");
    has(&shares, "labour 12.25 EUR 12.2 %");
    // Three places of a length or a weight, two of anything else.
    let values = [
        ("4.0005 mm", "\u{2248} 4.000 mm"),
        ("4.0015 mm", "\u{2248} 4.002 mm"),
        ("4.0025 mm", "\u{2248} 4.002 mm"),
        ("4.002500001 mm", "\u{2248} 4.003 mm"),
        ("2.0005 g", "\u{2248} 2.000 g"),
        ("2.0035 g", "\u{2248} 2.004 g"),
        ("12.125 %", "\u{2248} 12.12 %"),
        ("12.135 %", "\u{2248} 12.14 %"),
        ("98.405 EUR/g", "\u{2248} 98.40 EUR/g"),
        ("98.415 EUR/g", "\u{2248} 98.42 EUR/g"),
        ("520.125 MPa", "\u{2248} 520.12 MPa"),
    ];
    for (written, shown) in values {
        let recipe = format!("let value = {written}\n{recipe}");
        assert_eq!(ask(&recipe, "value"), shown);
        let number = written.split(' ').next().unwrap();
        assert_eq!(plain(&recipe, "value"), number, "nothing is lost of it");
    }
    let priced = recipe.replace("silver 1.25 EUR/g", "silver 1.235 EUR/g");
    has(
        &report(&priced),
        "price of silver at \u{2248} 1.24 EUR/g, 2026-11-20: no source stated",
    );
    let priced = recipe.replace("silver 1.25 EUR/g", "silver 1.245 EUR/g");
    has(
        &report(&priced),
        "price of silver at \u{2248} 1.24 EUR/g, 2026-11-20: no source stated",
    );
    // A fortieth of 10 %: 0.25 % down to 0.2; three of them 0.75 % up to 0.8.
    let folder = tempfile::tempdir().unwrap();
    let band =
        "band b { size 16 mm, width 4 mm, thickness 2 mm, profile flat, alloy silver-925 }\n";
    std::fs::write(folder.path().join("r.annulet"), band).unwrap();
    let tries = "try width 4.01 mm\ndrop\ntry width 4.03 mm\ndrop\ntry width 3.99 mm\n";
    let ran = run_in(folder.path(), &["bench", "r.annulet"], tries.as_bytes());
    let said: Vec<String> = ran.stdout.lines().map(str::to_owned).collect();
    has(&said, "width 4 mm \u{2192} 4.01 mm +0.01 mm (+0.2 %)");
    has(&said, "width 4 mm \u{2192} 4.03 mm +0.03 mm (+0.8 %)");
    has(
        &said,
        "width 4 mm \u{2192} 3.99 mm \u{2212}0.01 mm (\u{2212}0.2 %)",
    );
}

/// Codes and sentences of what is said of a recipe on a day.
fn said_on(recipe: &str, day: &str) -> Vec<(String, String)> {
    let request = Request {
        on: Day::read(day),
        ..Request::default()
    };
    assert!(request.on.is_some());
    let outcome = Session::default().run("r", recipe, &request);
    let findings = outcome.findings.iter();
    findings.map(|one| (one.code(), one.message())).collect()
}

#[test]
fn an_offer_stands_on_its_last_day() {
    let recipe = order("0.40 EUR/g", FEES);
    let expired = |recipe: &str, day: &str| {
        let said = said_on(recipe, day);
        let of = said
            .iter()
            .filter(|(code, _)| code == "evaluate::expired_offer");
        of.count() == 1
    };
    let until = |recipe: &str| {
        let offer = run(&["offer", "--in", "-"], recipe).stdout;
        let at = offer.find("until ").unwrap();
        offer[at + 6..at + 16].to_owned()
    };
    // 25 November and 14 days: five to the 30th, nine more.
    assert_eq!(until(&recipe), "2026-12-09");
    assert!(!expired(&recipe, "2026-12-09") && expired(&recipe, "2026-12-10"));
    // An offer of another day than the order's counts from its own: 27 November and 14 days.
    let later = recipe.replace("quote { valid", "quote { dated 2026-11-27, valid");
    assert_eq!(until(&later), "2026-12-11");
    assert!(!expired(&later, "2026-12-11") && expired(&later, "2026-12-12"));
    // 20 February and 14 days: 29 days in 2028, 28 in 2027 and in 2100, over the turn of a year 11 days to 31 December.
    for (dated, last, after) in [
        ("2028-02-20", "2028-03-05", "2028-03-06"),
        ("2027-02-20", "2027-03-06", "2027-03-07"),
        ("2100-02-20", "2100-03-06", "2100-03-07"),
        ("2026-12-20", "2027-01-03", "2027-01-04"),
    ] {
        let moved = recipe.replace("quote { valid", &format!("quote {{ dated {dated}, valid"));
        assert_eq!(until(&moved), last);
        assert!(!expired(&moved, last) && expired(&moved, after), "{dated}");
    }
}

#[test]
fn a_price_ages_from_its_own_day() {
    // The block is of the 20th, gold of the 22nd, the rate of the 21st; nothing is to be older than 3 days.
    let recipe = ring("", "", "").replace(
        PRICES,
        "prices {
  dated 2026-11-20, oldest 3 days
  gold 100 EUR/g { dated 2026-11-22 }
  silver 1.25 EUR/g
  rate 1 USD = 0.92 EUR { dated 2026-11-21 }
}
",
    );
    let (gold, silver, rate) = ("price of gold", "price of silver", "rate of USD in EUR");
    let rows: &[(&str, &[&str], &[&str])] = &[
        // The day, what is of a later day, what is too old.
        ("2026-11-19", &[gold, silver, rate], &[]),
        ("2026-11-20", &[gold, rate], &[]),
        ("2026-11-21", &[gold], &[]),
        ("2026-11-22", &[], &[]),
        ("2026-11-23", &[], &[]),
        ("2026-11-24", &[], &[silver]),
        ("2026-11-25", &[], &[silver, rate]),
        ("2026-11-26", &[], &[gold, silver, rate]),
    ];
    for (day, early, stale) in rows {
        let said = said_on(&recipe, day);
        for what in [gold, silver, rate] {
            for (code, due) in [
                ("evaluate::early_price", early),
                ("evaluate::stale_price", stale),
            ] {
                let is = said
                    .iter()
                    .any(|(of, text)| of == code && text.contains(what));
                assert_eq!(is, due.contains(&what), "{day} {what} {code}: {said:?}");
            }
        }
    }
}
