//! Overrides equal edits: `--set PATH=VALUE` gives what the recipe gives with that text changed in it.
//!
//! Held against the language page's semantics of change ("an override is an edit not yet written"), and the
//! acceptance list's points 14 and 16. `--band` and short paths are settled the same way.

use serde_json::Value;

use crate::support::{Ran, ask, band_with, read, run};

fn harvest() -> String {
    read("examples/harvest.annulet")
}

/// Machine output without the findings, whose places lie in other texts, and without the fingerprint, which tells a
/// recipe with something laid over it from one that says so itself.
fn computed(ran: &Ran) -> Value {
    let mut json: Value =
        serde_json::from_str(&ran.stdout).unwrap_or_else(|_| panic!("{}", ran.stderr));
    json.as_object_mut().unwrap().shift_remove("findings");
    for recipe in json["recipes"].as_array_mut().unwrap() {
        recipe.as_object_mut().unwrap().shift_remove("fingerprints");
    }
    json
}

#[test]
fn an_override_equals_the_edited_text() {
    // The override, the text it stands for, and what that becomes.
    let cases = [
        ("width=5 mm", "width 4.5 mm", "width 5 mm"),
        ("width=0.5 cm", "width 4.5 mm", "width 0.5 cm"),
        ("harvest.width=5 mm", "width 4.5 mm", "width 5 mm"),
        ("width=thickness * 3", "width 4.5 mm", "width thickness * 3"),
        (
            "width=5 mm \u{B1} 0.1 mm",
            "width 4.5 mm",
            "width 5 mm \u{B1} 0.1 mm",
        ),
        ("size=US 7 1/2", "size ISO 54", "size US 7 1/2"),
        ("size=17.25 mm", "size ISO 54", "size 17.25 mm"),
        ("profile.edge=1 mm", "edge 1.2 mm", "edge 1 mm"),
        ("edge=1 mm", "edge 1.2 mm", "edge 1 mm"),
        (
            "profile=flat",
            "profile domed { edge 1.2 mm }",
            "profile flat",
        ),
        (
            "profile=domed { edge 1.1 mm }",
            "edge 1.2 mm",
            "edge 1.1 mm",
        ),
        ("pattern.depth=0.25 mm", "depth cut,", "depth 0.25 mm,"),
        ("cover=50 %", "cover 90 %", "cover 50 %"),
        ("repeats=20", "repeats 18", "repeats 20"),
        ("cut=0.25 mm", "let cut = 0.30 mm", "let cut = 0.25 mm"),
        (
            "alloy=silver-925",
            "alloy rose-585\n  pattern",
            "alloy silver-925\n  pattern",
        ),
        (
            "temper=annealed",
            "alloy rose-585\n  pattern",
            "alloy rose-585\n  temper annealed\n  pattern",
        ),
        (
            "title=\"a, \\\"b\\\" = c\"",
            "title \"Harvest, four and a half millimetres\"",
            "title \"a, \\\"b\\\" = c\"",
        ),
        (
            "limit.wall=0.5 mm",
            "  pattern {",
            "  limit { wall 0.5 mm }\n  pattern {",
        ),
        (
            "comfort=0.1 mm",
            "  pattern {",
            "  comfort 0.1 mm\n  pattern {",
        ),
    ];
    for (set, from, to) in cases {
        let edited = harvest().replacen(from, to, 1);
        assert_ne!(edited, harvest(), "{set}: `{from}` is not in the recipe");
        let wanted = run(&["eval", "--json", "-"], &edited);
        assert!(wanted.status < 2, "{set}: {}", wanted.stderr);
        let found = run(&["eval", "--json", "-", "--set", set], &harvest());
        assert_eq!(found.status, wanted.status, "{set}: {}", found.stderr);
        assert_eq!(computed(&found), computed(&wanted), "{set}");
    }
}

#[test]
fn the_order_of_options_does_not_matter() {
    let sets = ["width=5 mm", "cut=0.2 mm", "edge=1 mm", "size=US 7"];
    let call = |order: [usize; 4]| {
        let mut arguments = vec!["eval", "--json", "-"];
        for place in order {
            arguments.extend(["--set", sets[place]]);
        }
        run(&arguments, &harvest())
    };
    let first = call([0, 1, 2, 3]);
    assert_eq!(first.status, 0, "{}", first.stderr);
    for order in [[3, 2, 1, 0], [1, 0, 3, 2], [2, 3, 0, 1]] {
        assert_eq!(call(order).stdout, first.stdout);
    }
    let before = run(&["--set", sets[0], "eval", "--json", "-"], &harvest());
    let behind = run(&["eval", "--json", "-", "--set", sets[0]], &harvest());
    assert_eq!(before.stdout, behind.stdout);
}

#[test]
fn references_follow_an_override() {
    let recipe = band_with(&[
        "thickness width * 0.4",
        "profile domed { edge thickness * 0.7 }",
    ]);
    let edge = |set: &str| {
        let ran = run(&["ask", "profile.edge", "--in", "-", "--set", set], &recipe);
        assert_eq!(ran.status, 0, "{}", ran.stderr);
        ran.stdout
    };
    assert_eq!(edge("width=5 mm"), "1.4 mm\n");
    assert_eq!(edge("width=10 mm"), "2.8 mm\n");
    assert_eq!(edge("thickness=3 mm"), "2.1 mm\n");
}

#[test]
fn a_faulty_override_fails_at_its_own_place() {
    let cases = [
        ("widht=5 mm", "--set:1:1"),
        ("width=5 mmm", "--set:1:9"),
        ("width=1,5 mm", "--set:1:8"),
        ("width=5 g", "--set:1:7"),
        ("harvest.widht=5 mm", "--set:1:9"),
        ("width=5 mm; drop", "--set:1:11"),
        ("width=", "--set:1:"),
        ("pattern.dpeth=1 mm", "--set:1:1"),
        ("alloy=rose-586", "--set:1:7"),
        ("profile.crown=1 mm", "--set:1:1"),
    ];
    for (set, place) in cases {
        for command in [&["eval", "-"][..], &["ask", "weight", "--in", "-"]] {
            let mut arguments = command.to_vec();
            arguments.extend(["--set", set]);
            let ran = run(&arguments, &harvest());
            let lines = if command[0] == "ask" {
                "\u{2014}\n"
            } else {
                ""
            };
            assert_eq!((ran.status, ran.stdout.as_str()), (2, lines), "{set}");
            assert!(ran.stderr.contains(place), "{set}: {}", ran.stderr);
        }
    }
}

#[test]
fn an_unqualified_path_means_the_only_band_or_the_one_named() {
    let two = band_with(&[]) + &band_with(&["width 6 mm"]).replace("band b", "band c");
    let ran = run(&["ask", "width", "--in", "-"], &two);
    assert_eq!(ran.status, 2);
    assert!(
        ran.stderr.contains("`b.width` or `c.width`"),
        "{}",
        ran.stderr
    );
    for (arguments, wanted) in [
        (&["ask", "width", "--in", "-", "--band", "c"][..], "6 mm\n"),
        (&["--band", "b", "ask", "width", "--in", "-"], "5 mm\n"),
        (&["ask", "c.width", "--in", "-"], "6 mm\n"),
        (&["ask", "c.width", "--in", "-", "--band", "b"], "6 mm\n"),
        (&["ask", "c.width - b.width", "--in", "-"], "1 mm\n"),
        (
            &["ask", "width", "c.width", "--in", "-", "--band", "b"],
            "5 mm\n6 mm\n",
        ),
        (
            &[
                "ask",
                "width",
                "--in",
                "-",
                "--band",
                "c",
                "--set",
                "width=7 mm",
            ],
            "7 mm\n",
        ),
        (
            &["ask", "b.width", "--in", "-", "--set", "b.width=7 mm"],
            "7 mm\n",
        ),
    ] {
        let ran = run(arguments, &two);
        assert_eq!(
            (ran.status, ran.stdout.as_str()),
            (0, wanted),
            "{arguments:?}: {}",
            ran.stderr
        );
    }
    let ran = run(&["eval", "-", "--band", "c"], &two);
    assert!(
        ran.stdout.starts_with("c\n") && !ran.stdout.contains("\nb\n"),
        "{}",
        ran.stdout
    );
    let ran = run(&["eval", "-", "--set", "width=7 mm"], &two);
    assert_eq!(ran.status, 2);
    assert!(
        ran.stderr.contains("`b.width` or `c.width`"),
        "{}",
        ran.stderr
    );
}

#[test]
fn short_paths_serve_where_they_are_unique() {
    let recipe = harvest();
    for (short, long) in [
        ("edge", "profile.edge"),
        ("cover", "pattern.cover"),
        ("depth", "pattern.depth"),
        ("uncut", "weight.uncut"),
        ("pitch", "strip.pitch"),
        ("circumference", "size.circumference"),
    ] {
        let short_answer = run(&["ask", short, "--in", "-"], &recipe);
        if short_answer.stderr.contains("ambiguous_name") {
            assert!(short_answer.stderr.contains(long), "{short}");
            continue;
        }
        assert_eq!(
            short_answer.stdout.trim_end(),
            ask(&recipe, long),
            "{short}"
        );
    }
}
