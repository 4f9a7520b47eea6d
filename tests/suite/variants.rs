//! Variants, overrides and references: what is laid over what, and which place wins.
//!
//! Expected figures are the written lengths themselves, or a plain pipe's closed form; the rules are those
//! of the language.

use annulet::session::{Outcome, Request, Session};

fn outcome(recipe: &str, sets: &[&str]) -> (Session, Outcome) {
    let mut session = Session::default();
    let sets = sets.iter().map(|set| (*set).to_owned()).collect();
    let outcome = session.run("r.annulet", recipe, &Request { sets, band: None });
    (session, outcome)
}

/// Answers to questions, as exact or computed numbers in the unit asked.
fn answer(recipe: &str, sets: &[&str], question: &str) -> String {
    let (mut session, outcome) = outcome(recipe, sets);
    let (value, problems) = session.ask(question, &outcome);
    let all: Vec<String> = outcome
        .findings
        .iter()
        .chain(&problems)
        .map(|one| format!("{one:?}"))
        .collect();
    let value = value.unwrap_or_else(|| panic!("{question}: {all:?}"));
    annulet::model::check::shown(&value)
}

fn codes(recipe: &str, sets: &[&str]) -> Vec<String> {
    outcome(recipe, sets)
        .1
        .findings
        .iter()
        .map(annulet::finding::Finding::code)
        .collect()
}

const PARENT: &str = "
let cut = 0.2 mm
profile soft domed { edge 1.1 mm }
band p {
  size ISO 54, width 4 mm, thickness 1.6 mm
  profile domed { edge thickness * 0.75 }
  alloy sterling
  pattern { repeats 18, depth cut, cover 90 % }
}
";

#[test]
fn a_variant_says_only_what_differs() {
    let rows = [
        // Entry by entry; references bind after merging.
        ("variant v of p { width 5 mm }", "v.width", "5 mm"),
        ("variant v of p { width 5 mm }", "v.thickness", "1.6 mm"),
        ("variant v of p { thickness 2 mm }", "v.edge", "1.5 mm"),
        (
            "variant v of p { pattern { depth 0.3 mm } }",
            "v.pattern.cover",
            "90 %",
        ),
        (
            "variant v of p { pattern { depth 0.3 mm } }",
            "v.pattern.depth",
            "0.3 mm",
        ),
        // A changed kind starts empty, the same kind does not.
        ("variant v of p { profile flat }", "v.profile", "flat"),
        ("variant v of p { profile domed }", "v.edge", "1.2 mm"),
        ("variant v of p { profile soft }", "v.edge", "1.1 mm"),
        (
            "variant v of p { profile soft { edge 1 mm } }",
            "v.edge",
            "1 mm",
        ),
        // One of two ways to say the same thing.
        (
            "variant v of p { size 16 mm, outside 20 mm, profile flat }",
            "v.outside",
            "20 mm",
        ),
        // A `let` stands before a field of another block that only ends in its name.
        (
            "let across = 3 mm\nvariant v of p { width across }",
            "v.width",
            "3 mm",
        ),
        // Chains, in any order.
        (
            "variant w of v { width 6 mm }\nvariant v of p { thickness 2 mm }",
            "w.thickness",
            "2 mm",
        ),
        (
            "variant w of v { width 6 mm }\nvariant v of p { thickness 2 mm }",
            "w.width",
            "6 mm",
        ),
        // Another band's fields and results.
        ("variant v of p { width p.width + 1 mm }", "v.width", "5 mm"),
        ("variant v of p { size p.size + 2 }", "v.size", "ISO 56"),
        (
            "variant v of p { width p.wall.least * 4 }",
            "v.width",
            "4 mm",
        ),
    ];
    for (variant, question, wanted) in rows {
        assert_eq!(
            answer(&format!("{PARENT}{variant}"), &[], question),
            wanted,
            "{variant}"
        );
    }
}

#[test]
fn without_takes_away() {
    let hollow = "variant v of p { hollow { shell 0.5 mm, sleeve 0.3 mm, ridge 0.1 mm { wide 0.3 mm, count 1 } } }";
    let solid = format!("{PARENT}{hollow}\nvariant s of v {{ without hollow }}");
    assert_eq!(
        answer(&solid, &[], "s.weight"),
        answer(&solid, &[], "p.weight")
    );
    let plain = format!("{PARENT}{hollow}\nvariant s of v {{ without hollow.ridge }}");
    assert_eq!(answer(&plain, &[], "s.ridge.volume"), "0 mm3");
    assert_eq!(
        codes(&format!("{PARENT}variant s of p {{ without hollow }}"), &[]),
        ["model::nothing_to_leave_out"]
    );
}

#[test]
fn an_override_on_a_parent_reaches_its_variants() {
    let recipe = format!("{PARENT}variant v of p {{ thickness 2 mm }}");
    assert_eq!(answer(&recipe, &["p.width=5 mm"], "v.width"), "5 mm");
    assert_eq!(
        answer(&recipe, &["p.thickness=1.8 mm"], "v.thickness"),
        "2 mm"
    );
    assert_eq!(
        answer(&recipe, &["p.thickness=1.8 mm"], "p.edge"),
        "1.35 mm"
    );
    assert_eq!(
        answer(&recipe, &["v.thickness=1.8 mm"], "p.thickness"),
        "1.6 mm"
    );
    assert_eq!(
        answer(&recipe, &["cut=0.1 mm"], "v.pattern.depth"),
        "0.1 mm"
    );
    // The order of options decides nothing, so one field cannot be laid over twice.
    let twice = ["v.width=5 mm", "v.width=6 mm"];
    assert_eq!(codes(&recipe, &twice), ["model::given_twice"]);
}

#[test]
fn circles_are_one_finding_with_the_way_round() {
    let rows = [
        (
            "variant a of b { width 4 mm }\nvariant b of a { width 5 mm }",
            "a needs b needs a",
        ),
        ("let a = b\nlet b = a", "a needs b needs a"),
        (
            "band a { size 16 mm, width b.width, thickness 1 mm, profile flat, alloy sterling }\n\
             band b { size 16 mm, width a.width, thickness 1 mm, profile flat, alloy sterling }",
            "a.width needs b.width needs a.width",
        ),
    ];
    for (recipe, way) in rows {
        let (_, outcome) = outcome(recipe, &[]);
        let circles: Vec<String> = outcome
            .findings
            .iter()
            .filter(|one| one.code() == "model::circle")
            .map(|one| one.message())
            .collect();
        assert_eq!(circles.len(), 1, "{circles:?}");
        assert!(circles[0].ends_with(way), "{circles:?}");
    }
    let own = "band a { size 16 mm, width weight * 1 mm / 1 g, thickness 1 mm, profile flat, alloy sterling }";
    assert_eq!(codes(own, &[]), ["model::own_result"]);
}

#[test]
fn requirements_are_judged_with_their_margin() {
    let rows = [
        ("require p.width <= 4 mm", Some(true), "nothing to spare"),
        (
            "require p.width < 4 mm",
            Some(false),
            "met, and must not be",
        ),
        (
            "require p.width <= 3.999999999 mm",
            Some(false),
            "0.000000001 mm too much",
        ),
        (
            "require p.wall.least >= 1 mm",
            Some(true),
            "nothing to spare",
        ),
        (
            "require p.wall.least >= 1.00001 mm",
            Some(false),
            "≈ 0.00001 mm missing",
        ),
        ("require \"whole\" p.width + 1 mm = 5 mm", Some(true), ""),
        ("require p.size = ISO 54", Some(true), ""),
        ("require p.weight <= 1 mm", None, ""),
        ("require p.weight", None, ""),
    ];
    for (line, holds, margin) in rows {
        let (_, outcome) = outcome(&format!("{PARENT}{line}"), &[]);
        let verdict = &outcome.verdicts[0];
        assert_eq!(
            (verdict.holds, verdict.margin.as_str()),
            (holds, margin),
            "{line}: {:?}",
            outcome.findings
        );
        let broken = outcome
            .findings
            .iter()
            .any(|one| one.code() == "session::broken");
        assert_eq!(broken, holds == Some(false), "{line}");
    }
    // A `±` must hold at its worst.
    let off = PARENT.replace("width 4 mm", "width 4 mm \u{B1} 0.1 mm");
    let (_, outcome) = outcome(
        &format!("{off}require p.width <= 4.05 mm\nrequire p.width <= 4.1 mm"),
        &[],
    );
    let holds: Vec<Option<bool>> = outcome
        .verdicts
        .iter()
        .map(|verdict| verdict.holds)
        .collect();
    assert_eq!(holds, [Some(false), Some(true)]);
}
