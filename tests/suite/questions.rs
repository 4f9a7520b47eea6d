//! Questions and their lines; and that an answer about one thing carries no mistakes of another.
//!
//! Held against the language page's section on the command line: one question gives one output line, also a failed
//! one; nothing that a call says is dropped.

use serde_json::Value;

use crate::support::{band_with, run};

/// A sound band `a`, a faulty one `b`, one that falls short `c`, one that rests on `b`, an impossible one `e` and
/// one that rests on a result of it.
fn six() -> String {
    let named = |name: &str, lines: &[&str]| {
        band_with(lines).replacen("band b", &format!("band {name}"), 1)
    };
    [
        "annulet 1\nlet odd = 1 g\n".to_owned(),
        named("a", &[]),
        named("b", &["width 5"]),
        named("c", &["limit { wall 3 mm }"]),
        named("d", &["width b.width"]),
        named("e", &["profile domed { edge 9 mm }"]),
        named("f", &["width e.outside / 4"]),
        "require c.width <= 1 mm\nrequire a.width <= 6 mm\n".to_owned(),
    ]
    .concat()
}

#[test]
fn every_question_has_its_line() {
    // Questions, lines with `--plain`, status.
    let cases: &[(&[&str], &[&str], i32)] = &[
        (&["a.width", "a.thickness"], &["5", "2"], 0),
        (&["a.width", "a.bad", "a.thickness"], &["5", "", "2"], 2),
        (&["bad", "a.width"], &["", "5"], 2),
        (&["a.width", "b.width"], &["5", ""], 2),
        (&["b.width", "d.width", "a.width"], &["", "", "5"], 2),
        (&["a.width +", "a.width"], &["", "5"], 2),
        (&["", "a.width"], &["", "5"], 2),
        (&["a.hollow.shell", "a.width"], &["", "5"], 2),
        (&["a.title", "a.width"], &["", "5"], 2),
    ];
    for (questions, lines, status) in cases {
        let mut plain = vec!["ask", "--plain", "--in", "-"];
        plain.extend(*questions);
        let ran = run(&plain, &six());
        assert_eq!(ran.status, *status, "{questions:?}: {}", ran.stderr);
        let found: Vec<&str> = ran.stdout.split_terminator('\n').collect();
        assert_eq!(found, *lines, "{questions:?}");
        let mut shown = vec!["ask", "--in", "-"];
        shown.extend(*questions);
        let ran = run(&shown, &six());
        let dashes = lines.iter().map(|line| line.is_empty());
        let found = ran.stdout.lines().map(|line| line == "\u{2014}");
        assert!(found.eq(dashes), "{questions:?}: {}", ran.stdout);
        let mut json = vec!["ask", "--json", "--in", "-"];
        json.extend(*questions);
        let ran = run(&json, &six());
        let json: Value = serde_json::from_str(&ran.stdout).unwrap();
        let answers = json["recipes"][0]["answers"].as_array().unwrap();
        assert_eq!(answers.len(), lines.len(), "{questions:?}");
        for (answer, line) in answers.iter().zip(*lines) {
            assert_eq!(answer["value"].is_null(), line.is_empty(), "{answer}");
        }
    }
    // Also where there is nothing to ask.
    for arguments in [
        &["ask", "--in", "nowhere.annulet", "width", "weight"][..],
        &["ask", "--in", "-", "--on", "today", "width", "weight"],
        &["ask", "--in", "-", "--band", "z", "a.width", "a.weight"],
    ] {
        let ran = run(arguments, &six());
        assert_eq!(
            (ran.status, ran.stdout.as_str()),
            (2, "\u{2014}\n\u{2014}\n"),
            "{arguments:?}: {}",
            ran.stderr
        );
    }
}

#[test]
fn one_band_is_answered_without_the_mistakes_of_another() {
    // A call, its status, codes that are said.
    let cases: &[(&[&str], i32, &[&str])] = &[
        (&["ask", "a.weight"], 0, &[]),
        (&["ask", "weight", "--band", "a"], 0, &[]),
        (&["ask", "b.weight"], 2, &["model::unit_missing"]),
        (&["ask", "d.weight"], 2, &["model::unit_missing"]),
        (&["ask", "e.weight"], 2, &["geometry::does_not_fit"]),
        (&["ask", "f.weight"], 2, &["geometry::does_not_fit"]),
        (
            &["ask", "f.thickness", "a.width"],
            2,
            &["geometry::does_not_fit"],
        ),
        (
            &["ask", "c.weight"],
            1,
            &["evaluate::thin_wall", "session::broken"],
        ),
        (
            &["ask", "a.weight", "c.weight"],
            1,
            &["evaluate::thin_wall", "session::broken"],
        ),
        (
            &["ask", "a.weight", "b.thickness"],
            2,
            &["model::unit_missing"],
        ),
        (&["ask", "odd"], 0, &[]),
        (&["ask", "a.width + odd"], 2, &["model::mixed_kinds"]),
        (
            &["ask", "a.weight / a.weight.uncut \u{B1} 0.1 mm"],
            2,
            &["model::mixed_kinds"],
        ),
        (&["why", "a.weight"], 0, &[]),
        (&["why", "weight", "--band", "a"], 0, &[]),
        (&["why", "b.weight"], 2, &["model::unit_missing"]),
        (
            &["why", "c.weight"],
            1,
            &["evaluate::thin_wall", "session::broken"],
        ),
        (&["run", "a", "--sizes", "[17 mm, 18 mm]"], 0, &[]),
        (
            &["run", "b", "--sizes", "[17 mm, 18 mm]"],
            2,
            &["model::unit_missing"],
        ),
        (&["compare", "a", "solid"], 0, &[]),
        (
            &["compare", "a", "c"],
            1,
            &["evaluate::thin_wall", "session::broken"],
        ),
        (&["compare", "a", "b"], 2, &["model::unit_missing"]),
    ];
    for (arguments, status, codes) in cases {
        let mut all = arguments.to_vec();
        all.extend(["--in", "-"]);
        let ran = run(&all, &six());
        assert_eq!(ran.status, *status, "{arguments:?}: {}", ran.stderr);
        let found: Vec<&str> = ran
            .stderr
            .lines()
            .filter(|line| line.contains("::") && !line.contains(' '))
            .collect();
        let wanted: Vec<&str> = codes.to_vec();
        assert_eq!(found, wanted, "{arguments:?}: {}", ran.stderr);
    }
}

#[test]
fn an_order_is_offered_without_the_mistakes_of_what_is_not_in_it() {
    let shop = "\
prices { dated 2026-11-20, silver 1 EUR/g }
shop { labour 40 EUR/h, operation turning { run 5 min } }
";
    let sale = "sale piece { markup 100 % }";
    let sound = band_with(&[sale]);
    let faulty = band_with(&["width 5", sale]).replacen("band b", "band z", 1);
    let orders = "order fair { dated 2026-11-25, b { 2 of ISO 54 } }\norder late { dated 2026-11-25, z { 1 of ISO 54 } }\n";
    let recipe = [shop, &sound, &faulty, orders].concat();
    let fair = run(&["offer", "fair", "--in", "-"], &recipe);
    assert_eq!(
        (fair.status, fair.stderr.as_str()),
        (0, ""),
        "{}",
        fair.stdout
    );
    assert!(fair.stdout.contains("EUR"), "{}", fair.stdout);
    let late = run(&["offer", "late", "--in", "-"], &recipe);
    assert_eq!(late.status, 2);
    assert!(
        late.stderr.contains("model::unit_missing"),
        "{}",
        late.stderr
    );
}

#[test]
fn every_option_that_is_taken_is_used_or_refused() {
    let recipe = band_with(&[]) + &band_with(&["width 6 mm"]).replacen("band b", "band c", 1);
    // A call on that recipe, its status, what must be said.
    let cases: &[(&[&str], i32, &str)] = &[
        (&["list", "alloys", "--set", "width=5 mm"], 2, "--set"),
        (&["list", "alloys", "--band", "b"], 2, "--band"),
        (&["list", "alloys", "--on", "2026-11-25"], 2, "--on"),
        (
            &["--set", "width=5 mm", "list", "alloys"],
            2,
            "takes no `--set`",
        ),
        (&["--band", "b", "list", "alloys"], 2, "takes no `--band`"),
        (
            &["--on", "2026-11-25", "list", "alloys"],
            2,
            "takes no `--on`",
        ),
        (&["--jobs", "2", "list", "alloys"], 2, "takes no `--jobs`"),
        (&["ask", "b.width", "--in", "-", "--jobs", "2"], 2, "--jobs"),
        (
            &["--stop", "ask", "b.width", "--in", "-"],
            2,
            "takes no `--stop`",
        ),
        (&["--jobs", "2", "bench"], 2, "takes no `--jobs`"),
        (
            &["--set", "b.width=9 mm", "ask", "b.width", "--in", "-"],
            0,
            "9 mm",
        ),
        (
            &[
                "--set",
                "b.width=9 mm",
                "ask",
                "b.width - c.width",
                "--in",
                "-",
                "--set",
                "c.width=2 mm",
            ],
            0,
            "7 mm",
        ),
        (&["--band", "b", "ask", "width", "--in", "-"], 0, "5 mm"),
        (
            &["--band", "b", "ask", "width", "--in", "-", "--band", "c"],
            2,
            "`--band` is given twice",
        ),
        (
            &["--on", "2026-11-25", "eval", "-", "--on", "2026-11-26"],
            2,
            "`--on` is given twice",
        ),
        (
            &["--color", "never", "eval", "-", "--color", "always"],
            2,
            "`--color` is given twice",
        ),
        (
            &["ask", "b.width", "--band", "z", "--in", "-"],
            2,
            "no band `z`",
        ),
        (
            &["why", "b.width", "--band", "z", "--in", "-"],
            2,
            "no band `z`",
        ),
        (
            &["compare", "b", "c", "--band", "z", "--in", "-"],
            2,
            "no band `z`",
        ),
        (
            &["run", "b", "--sizes", "17 mm", "--band", "z", "--in", "-"],
            2,
            "two bands",
        ),
        (
            &["run", "--sizes", "17 mm", "--band", "z", "--in", "-"],
            2,
            "no band `z`",
        ),
        (
            &["run", "b", "--sizes", "17 mm", "--band", "c", "--in", "-"],
            2,
            "two bands",
        ),
        (&["offer", "--band", "z", "--in", "-"], 2, "no band `z`"),
        (&["bench", "--band", ""], 2, "no band"),
        (
            &[
                "ask", "b.width", "--plain", "--digits", "useful", "--in", "-",
            ],
            2,
            "all digits",
        ),
        (
            &[
                "ask", "b.width", "--json", "--digits", "useful", "--in", "-",
            ],
            2,
            "all digits",
        ),
        (
            &["eval", "-", "--csv", "--digits", "useful"],
            2,
            "all digits",
        ),
        (
            &["eval", "-", "--json", "--digits", "useful"],
            2,
            "all digits",
        ),
        (
            &[
                "compare", "b", "c", "--csv", "--digits", "useful", "--in", "-",
            ],
            2,
            "all digits",
        ),
        (
            &[
                "run", "b", "--sizes", "17 mm", "--json", "--digits", "useful", "--in", "-",
            ],
            2,
            "all digits",
        ),
        (
            &[
                "why", "b.width", "--json", "--digits", "useful", "--in", "-",
            ],
            2,
            "all digits",
        ),
        (
            &["ask", "b.width", "--plain", "--digits", "all", "--in", "-"],
            0,
            "5",
        ),
    ];
    for (arguments, status, wanted) in cases {
        let ran = run(arguments, &recipe);
        assert_eq!(
            ran.status, *status,
            "{arguments:?}: {}{}",
            ran.stdout, ran.stderr
        );
        assert!(
            ran.stdout.contains(wanted) || ran.stderr.contains(wanted),
            "{arguments:?}: {}{}",
            ran.stdout,
            ran.stderr
        );
    }
}
