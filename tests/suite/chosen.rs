//! `choose` beside what tries every place: the same however it is asked, no worse than what lies about it, kept where rings are
//! off, and what stops it named.

use crate::support::{Ran, run};

const PAIR: &str = "examples/market-day.annulet";
const LIGHT: [&str; 4] = ["--in", PAIR, "--band", "harvest-light"];

const SHELL: &str = "shell 0.35 mm .. 0.9 mm";
const SLEEVE: &str = "sleeve 0.25 mm .. 0.6 mm";

fn choose(words: &[&str]) -> Ran {
    let ran = run(&[&["choose"], words, &LIGHT].concat(), "");
    assert_eq!(ran.status, 0, "{words:?}: {}{}", ran.stdout, ran.stderr);
    ran
}

fn json(words: &[&str]) -> serde_json::Value {
    let ran = choose(&[words, &["--json"]].concat());
    let mut whole: serde_json::Value = serde_json::from_str(&ran.stdout).unwrap();
    whole["recipes"][0]["choices"][0].take()
}

/// The paths that are chosen, each with its number in mm.
fn values(choice: &serde_json::Value) -> Vec<(String, f64)> {
    let values = choice["best"]["values"].as_object().unwrap().iter();
    let number = |text: &str| text.trim_end_matches(" mm").parse().unwrap();
    values
        .map(|(path, value)| (path.clone(), number(value.as_str().unwrap())))
        .collect()
}

/// The best aim of a grid about a choice, with the same limits.
fn about(choice: &serde_json::Value, steps: u32, step: f64, clause: &str) -> f64 {
    let reach = step * f64::from(steps);
    let axes = values(choice).into_iter().map(|(path, at)| {
        let (from, to) = (at - reach, at + reach);
        format!("{path} {from:.6} mm .. {to:.6} mm by {step:.6} mm")
    });
    let words: Vec<String> = axes.chain([clause.to_owned()]).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let ran = run(&[&["sweep"], &words[..], &LIGHT, &["--csv"]].concat(), "");
    let row = ran
        .stdout
        .lines()
        .nth(1)
        .unwrap_or_else(|| panic!("{}", ran.stderr));
    row.rsplit(',').next().unwrap().parse().unwrap()
}

#[test]
fn the_order_of_fields_and_limits_changes_nothing() {
    let (thick, wide) = ("thickness 1.2 mm .. 2 mm", "width 4 mm .. 6 mm");
    let (cost, wall) = ("cost <= 300 EUR", "wall.least >= 0.2 mm");
    let orders = [
        ([SHELL, SLEEVE, thick, wide], format!("where {cost}, holds")),
        ([SHELL, SLEEVE, thick, wide], format!("where holds, {cost}")),
        ([wide, SHELL, SLEEVE, thick], format!("where {cost}, holds")),
        ([thick, wide, SLEEVE, SHELL], format!("where holds, {cost}")),
    ];
    let mut known = None;
    for (fields, limits) in &orders {
        let words = [&fields[..], &["most width", limits]].concat();
        let choice = json(&words);
        let mut found = values(&choice);
        // They are shown as they were asked for.
        let first = fields[0].split(' ').next().unwrap();
        let shown = choose(&words).stdout;
        assert!(shown.lines().next().unwrap().contains(first), "{shown}");
        found.sort_by(|one, other| one.0.cmp(&other.0));
        assert_eq!(
            *known.get_or_insert(found.clone()),
            found,
            "{fields:?} {limits}"
        );
    }
    // A limit that all others keep already changes nothing that can be seen.
    let limits = format!("where {cost}, holds, {wall}");
    let choice = json(&[SHELL, SLEEVE, thick, wide, "most width", &limits]);
    let more = values(&choice)
        .into_iter()
        .find(|(path, _)| path.ends_with("width"));
    let less = known
        .unwrap()
        .into_iter()
        .find(|(path, _)| path.ends_with("width"));
    let (more, less) = (more.unwrap().1, less.unwrap().1);
    assert!((more - less).abs() < 1e-4 * less, "{more} {less}");
}

#[test]
fn nothing_about_the_best_is_better() {
    let cases = [
        (
            [
                SHELL,
                SLEEVE,
                "width 4 mm .. 7 mm",
                "profile.edge 0.7 mm .. 1.2 mm",
            ],
            "most width",
            "price <= 560 EUR, wall.least >= 0.2 mm",
        ),
        (
            [
                SHELL,
                SLEEVE,
                "width 4 mm .. 6 mm",
                "thickness 1.2 mm .. 2 mm",
            ],
            "most width",
            "cost <= 300 EUR, holds",
        ),
        (
            [
                "shell 0.3 mm .. 0.8 mm",
                "sleeve 0.2 mm .. 0.6 mm",
                "width 3 mm .. 6 mm",
                "cut 0.15 mm .. 0.35 mm",
            ],
            "most width",
            "wall.least >= 0.2 mm, price <= 550 EUR, holds",
        ),
    ];
    for (fields, aim, limits) in cases {
        let clause = format!("{aim} where {limits}");
        let choice = json(&[&fields[..], &[clause.as_str()]].concat());
        let ours = choice["best"]["aim"]["value"]
            .as_str()
            .unwrap()
            .parse::<f64>()
            .unwrap();
        let path = aim.split_once(' ').unwrap().1;
        let clause = format!("show {path} where {limits} {aim} best 1");
        for step in [0.02, 0.001] {
            let grid = about(&choice, 2, step, &clause);
            assert!(
                ours >= grid * (1.0 - 1e-4),
                "{limits}, by {step}: {ours} {grid}"
            );
        }
    }
}

/// A hundred-thousandth of the aim is all that shorter numbers may cost.
#[test]
fn digits_cost_next_to_nothing() {
    let limits = "cost <= 320 EUR, holds";
    let size = ["--set", "harvest-light.size=ISO 56"];
    let clause = format!("most weight where {limits}");
    let choice = json(&[&[SHELL, clause.as_str()], &size[..]].concat());
    let ours = choice["best"]["aim"]["value"].as_f64().unwrap();
    let fine = "shell 0.555 mm .. 0.565 mm by 0.00001 mm";
    let clause = format!("show weight where {limits} most weight best 1");
    let ran = run(
        &[&["sweep", fine, &clause], &size[..], &LIGHT, &["--csv"]].concat(),
        "",
    );
    let grid: f64 = ran
        .stdout
        .lines()
        .nth(1)
        .unwrap()
        .rsplit(',')
        .next()
        .unwrap()
        .parse()
        .unwrap();
    assert!(ours >= grid * (1.0 - 1e-5), "{ours} {grid}");
    let shown = choice["best"]["values"]["harvest-light.hollow.shell"]
        .as_str()
        .unwrap();
    assert!(shown.len() <= "0.123456 mm".len(), "{shown}");
}

/// A ring that is off weighs more: of 5 mm and a tenth to either side as much as one of 5.1 mm.
#[test]
fn limits_are_kept_where_rings_are_off() {
    let recipe = "let t = 1.2 mm\nband plain {\n  size 17 mm, width 5 mm \u{B1} 0.1 mm, thickness t\n  profile flat, alloy sterling\n}\nrequire plain.weight <= 4.6 g\n";
    let words = [
        "choose",
        "t 1 mm .. 2 mm",
        "most t where plain.weight <= 4.6 g",
        "--in",
        "-",
    ];
    let ran = run(&words, recipe);
    assert_eq!(ran.status, 0, "{}", ran.stderr);
    let found = ran.stdout.lines().next().unwrap().trim_start_matches("t ");
    let checked = |t: &str| run(&["check", "--set", &format!("t={t}"), "-"], recipe).status;
    assert_eq!(checked(found), 0, "{found}");
    let more: f64 = found.trim_end_matches(" mm").parse().unwrap();
    assert_eq!(checked(&format!("{:.6} mm", more + 2e-4)), 1, "{found}");
}

#[test]
fn what_stops_the_best_is_named() {
    // The sleeve ends where its tube is too wide for the shell: no bound, and no limit but that all holds.
    let ran = choose(&["sleeve 0.2 mm .. 0.6 mm", "least weight where holds"]);
    assert!(
        ran.stdout
            .contains("binds: holds; else `tube-shell` cannot make the shell"),
        "{}",
        ran.stdout
    );
    // What no field moves does not bind, nor does what gains nothing.
    let limits = "least weight where wall.least >= 0.2 mm, fineness.UK >= 585, weight >= 2.5 g";
    let choice = json(&["width 3 mm .. 6 mm", limits]);
    let binding = choice["binding"].as_array().unwrap();
    let texts: Vec<&str> = binding
        .iter()
        .map(|one| one["limit"].as_str().unwrap())
        .collect();
    assert_eq!(texts, ["weight >= 2.5 g"]);
    // What would have to give is named too.
    let words = [
        "choose",
        "sleeve 0.2 mm .. 0.6 mm",
        "least weight where holds, weight <= 2.66 g",
    ];
    let ran = run(&[&words[..], &LIGHT].concat(), "");
    assert_eq!(ran.status, 3, "{}", ran.stderr);
    assert!(
        ran.stdout
            .contains("holds: `tube-shell` cannot make the shell"),
        "{}",
        ran.stdout
    );
    // What a share gives is told for each per cent of it.
    let ran = choose(&[SHELL, "most shell where saving >= 34 %"]);
    assert!(
        ran.stdout.contains("each 1 % that it gives is"),
        "{}",
        ran.stdout
    );
}
