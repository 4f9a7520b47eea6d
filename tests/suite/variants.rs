//! Variants, overrides and references: what is laid over what, and which place wins.
//!
//! Expected figures are the written lengths themselves, or a plain pipe's closed form; the rules are those
//! of the language.

use annulet::schema::{self, FieldId};
use annulet::session::{Outcome, Request, Session};

fn outcome(recipe: &str, sets: &[&str]) -> (Session, Outcome) {
    let mut session = Session::default();
    let sets = sets.iter().map(|set| (*set).to_owned()).collect();
    let outcome = session.run(
        "r.annulet",
        recipe,
        &Request {
            sets,
            ..Request::default()
        },
    );
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

#[test]
fn only_a_changed_kind_empties_a_block() {
    let hollow = "let tall = 0.12 mm\nlet wall = 0.5 mm\n\
                  band h {\n  size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy sterling\n  \
                  hollow {\n    shell wall { nose 0.1 mm, temper hard }\n    sleeve 0.4 mm { relief 0.3 mm }\n    \
                  ridge tall { wide 0.4 mm, count 1 }\n    stage turning { play 0.06 mm }\n  }\n}\n";
    let variant = |body: &str| format!("{hollow}variant v of h {{ hollow {{ {body} }} }}\n");
    let rows = [
        // A name is a value like any other: its block stays when the value changes.
        ("ridge 0.13 mm", "v.ridge.wide", "0.4 mm"),
        ("ridge tall + 0.01 mm", "v.ridge.wide", "0.4 mm"),
        ("shell 0.6 mm", "v.nose", "0.1 mm"),
        (
            "shell 0.6 mm { nose 0.2 mm }",
            "v.hollow.shell.temper",
            "hard",
        ),
        ("sleeve 0.45 mm", "v.relief", "0.3 mm"),
        ("ridge { wide 0.5 mm }", "v.hollow.ridge", "0.12 mm"),
        ("ridge { wide 0.5 mm }", "v.hollow.ridge.count", "1"),
        // A stage is a kind: the same one keeps its block.
        ("stage turning", "v.hollow.stage.play", "0.06 mm"),
        (
            "stage turning { play 0.08 mm }",
            "v.hollow.stage.play",
            "0.08 mm",
        ),
        // Ridges give way to lips, and lips to ridges.
        (
            "lip 0.1 mm { wide 0.3 mm }, stage fixed",
            "v.hollow.lip.wide",
            "0.3 mm",
        ),
    ];
    let hollow_with = |body: &str| variant(body).replace("temper hard", "temper annealed");
    for (body, question, wanted) in rows {
        let recipe = if question.ends_with("temper") {
            variant(body).replace("alloy sterling", "alloy own")
                + "alloy own { silver 925, copper 75, density 10.3 g/cm3\n temper hard { yield 300 MPa }\n temper annealed { yield 100 MPa } }\n"
        } else {
            hollow_with(body)
        };
        assert_eq!(answer(&recipe, &[], question), wanted, "{body}");
    }
    // The other kind starts empty; the play of `turning` would be a mistake in `fixed`.
    for body in ["stage fixed", "lip 0.1 mm { wide 0.3 mm }, stage fixed"] {
        let (_, outcome) = outcome(&hollow_with(body), &[]);
        assert!(
            outcome
                .findings
                .iter()
                .all(|one| one.code() != "model::unknown_field"),
            "{body}: {:?}",
            outcome.findings
        );
        let band = &outcome.evaluations[1].band;
        assert!(band.field(FieldId::HollowStagePlay).is_none());
        assert_eq!(
            band.field(FieldId::HollowRidge).is_some(),
            body == "stage fixed"
        );
    }
}

#[test]
fn outlines_are_replaced_whole_and_leave_with_their_kind() {
    let custom = "profile arch custom { from -2 mm 1.5 mm, arc 0 mm 2 mm to 2 mm 1.5 mm }\n\
                  band p {\n  size 17 mm\n  width 4 mm\n  \
                  profile custom { from -2 mm 1.6 mm, to 0 mm 2.2 mm, to 2 mm 1.6 mm }\n  alloy sterling\n}\n";
    let rows = [
        // Points of the parent's outline would not fit the variant's width.
        (
            "width 5 mm, profile custom { from -2.5 mm 1.6 mm, to 2.5 mm 1.6 mm }",
            "v.outside",
            "20.2 mm",
        ),
        ("profile arch", "v.outside", "21 mm"),
        (
            "width 5 mm, thickness 1.6 mm, profile flat",
            "v.outside",
            "20.2 mm",
        ),
        (
            "width 5 mm, outside 20.4 mm, profile domed { edge 1.2 mm }",
            "v.outside",
            "20.4 mm",
        ),
        ("size 18 mm", "v.outside", "22.4 mm"),
    ];
    for (body, question, wanted) in rows {
        let recipe = format!("{custom}variant v of p {{ {body} }}\n");
        let (mut session, outcome) = outcome(&recipe, &[]);
        assert!(
            outcome.findings.is_empty(),
            "{body}: {:?}",
            outcome.findings
        );
        let (value, _) = session.ask(&format!("round({question}, 0.1 mm)"), &outcome);
        let value = value.unwrap();
        let found = value.quantity().unwrap().number.to_f64();
        let wanted: f64 = wanted.trim_end_matches(" mm").parse().unwrap();
        assert!((found - wanted).abs() < 1e-9, "{body}: {found}");
    }
    // A slip in the block of the new kind is found, although the parent's was an outline.
    let slip =
        format!("{custom}variant v of p {{ thickness 1.6 mm, profile domed {{ edgee 1 mm }} }}\n");
    assert_eq!(codes(&slip, &[]), ["model::unknown_field"]);
    // Back to an outline.
    let back = format!(
        "{custom}variant v of p {{ thickness 1.6 mm, profile flat }}\nvariant w of v {{ profile arch, thickness 2 mm }}\n"
    );
    assert_eq!(answer(&back, &[], "w.profile"), "custom");
}

#[test]
fn one_of_two_ways_stands_in_one_layer() {
    let rows = [
        ("outside 21 mm", "v.thickness", None),
        ("outside 21 mm", "v.outside", Some("21 mm")),
        ("thickness 1.7 mm", "v.thickness", Some("1.7 mm")),
    ];
    let plain = PARENT.replace("edge thickness * 0.75", "edge 1.1 mm");
    for (body, path, wanted) in rows {
        let recipe = format!("{plain}variant v of p {{ {body} }}\n");
        let (_, outcome) = outcome(&recipe, &[]);
        assert!(
            outcome.findings.is_empty(),
            "{body}: {:?}",
            outcome.findings
        );
        let band = &outcome.evaluations[1].band;
        let field = schema::find(path.trim_start_matches("v.")).unwrap();
        let found = band.field(field.id);
        match wanted {
            Some(wanted) => assert_eq!(annulet::model::check::shown(&found.unwrap().value), wanted),
            None => assert!(found.is_none(), "{body}"),
        }
    }
    // There and back through a chain, and laid over from outside.
    let chain = format!(
        "{plain}variant v of p {{ outside 21 mm }}\nvariant w of v {{ thickness 1.8 mm }}\n"
    );
    assert_eq!(answer(&chain, &[], "w.thickness"), "1.8 mm");
    assert_eq!(answer(&chain, &["w.outside=22 mm"], "w.outside"), "22 mm");
    assert_eq!(
        answer(&chain, &["v.thickness=1.9 mm"], "v.thickness"),
        "1.9 mm"
    );
    // Both in one layer must agree, as both in one block must.
    let both = ["p.thickness=1.8 mm", "p.outside=20 mm"];
    let turned = ["p.outside=20 mm", "p.thickness=1.8 mm"];
    assert_eq!(codes(&plain, &both), ["geometry::over_stated"]);
    assert_eq!(codes(&plain, &turned), ["geometry::over_stated"]);
}

#[test]
fn without_takes_away_what_the_parent_says() {
    let hollow = "variant h of p { hollow { shell 0.5 mm, sleeve 0.3 mm, ridge 0.1 mm { wide 0.3 mm, count 1 }, lock stake { count 3 } } }\n";
    let rows: &[(&str, &[&str])] = &[
        ("without hollow", &[]),
        (
            "without pattern, without comfort",
            &["model::nothing_to_leave_out"],
        ),
        ("without hollow.ridge.count", &[]),
        ("without hollow.ridge.wide", &["model::missing_field"]),
        ("without width", &["model::missing_field"]),
        ("without hollow.lip", &["model::nothing_to_leave_out"]),
        ("without holow", &["model::nothing_to_leave_out"]),
        // Said anew in the same block: nothing of the parent's is left.
        (
            "without hollow, hollow { shell 0.6 mm, sleeve 0.4 mm, lock stake { count 3 } }",
            &[],
        ),
        ("without hollow hollow", &["model::nothing_to_leave_out"]),
    ];
    for (body, wanted) in rows {
        let recipe = format!("{PARENT}{hollow}variant v of h {{ {body} }}\n");
        assert_eq!(codes(&recipe, &[]), *wanted, "{body}");
    }
    let anew = format!(
        "{PARENT}{hollow}variant v of h {{ without hollow, hollow {{ shell 0.6 mm, sleeve 0.4 mm }} }}\n"
    );
    assert_eq!(answer(&anew, &[], "v.ridge.volume"), "0 mm3");
    // A band of its own has no parent to take from.
    assert_eq!(
        codes(
            &PARENT.replace("alloy sterling", "alloy sterling\n  without comfort"),
            &[]
        ),
        ["model::nothing_to_leave_out"]
    );
}

#[test]
fn a_parent_keeps_its_own_mistakes_wherever_it_stands() {
    let band = "band b { size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy sterling }\n";
    // The parent with a mistake that the variant states anew, and the one finding.
    let cases = [
        (
            "width 5 mm",
            "width 5 mmm",
            "width 6 mm",
            "model::unknown_unit",
        ),
        ("width 5 mm, ", "", "width 6 mm", "model::missing_field"),
        (
            ", alloy sterling",
            "",
            "alloy sterling",
            "model::missing_field",
        ),
        (", alloy sterling", "", "width 6 mm", "model::missing_field"),
        (
            "width 5 mm",
            "widht 5 mm",
            "width 6 mm",
            "model::unknown_field",
        ),
        (
            "width 5 mm",
            "width 5 mm, width 6 mm",
            "width 7 mm",
            "model::given_twice",
        ),
        (
            "alloy sterling",
            "alloy stirling",
            "alloy sterling",
            "model::unknown_name",
        ),
    ];
    for (from, to, restated, code) in cases {
        let parent = band.replace(from, to);
        let variant =
            format!("variant v of b {{ {restated} }}\nvariant w of v {{ comfort 0.1 mm }}\n");
        for recipe in [format!("{parent}{variant}"), format!("{variant}{parent}")] {
            assert_eq!(codes(&recipe, &[]), [code], "{recipe}");
        }
    }
    // What the variant itself does away with is its own mistake.
    let lacks = format!("{band}variant v of b {{ profile domed }}\n");
    assert_eq!(codes(&lacks, &[]), ["model::missing_field"]);
}

#[test]
fn lines_of_variants_are_followed_in_any_order_and_bounded() {
    let band = "band v0 { size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy sterling }\n";
    let line = |length: usize| -> Vec<String> {
        let variant = |place: usize| {
            format!(
                "variant v{place} of v{} {{ comfort 0.{place:03} mm }}\n",
                place - 1
            )
        };
        std::iter::once(band.to_owned())
            .chain((1..=length).map(variant))
            .collect()
    };
    for turned in [false, true] {
        let mut lines = line(60);
        if turned {
            lines.reverse();
        }
        let recipe = lines.concat();
        for place in [1, 23, 24, 25, 60] {
            assert_eq!(answer(&recipe, &[], &format!("v{place}.width")), "5 mm");
            let comfort = answer(&recipe, &["v0.width=6 mm"], &format!("v{place}.comfort"));
            let wanted = format!("0.{place:03}");
            assert_eq!(comfort, format!("{} mm", wanted.trim_end_matches('0')));
            assert_eq!(
                answer(&recipe, &["v0.width=6 mm"], &format!("v{place}.width")),
                "6 mm"
            );
        }
        // Longer than anyone needs: told where it is too long, in no more time than as many bands take.
        let mut lines = line(3000);
        if turned {
            lines.reverse();
        }
        let codes = codes(&lines.concat(), &[]);
        assert!(
            codes.len() < 60 && codes.iter().all(|code| code == "model::no_result"),
            "{codes:?}"
        );
    }
}

#[test]
fn loops_are_one_finding_and_lack_nothing() {
    let rows = [
        ("variant a of a { width 4 mm }", "a needs a"),
        (
            "variant c of a { width 4 mm }\nvariant b of c {}\nvariant a of b {}\nvariant d of b { thickness width * 0.4 }",
            "c needs a needs b needs c",
        ),
        (
            "variant d of b { comfort edge }\nvariant b of c {}\nvariant c of b {}",
            "b needs c needs b",
        ),
    ];
    for (recipe, way) in rows {
        let (_, outcome) = outcome(recipe, &[]);
        let messages: Vec<String> = outcome.findings.iter().map(|one| one.message()).collect();
        assert_eq!(messages.len(), 1, "{messages:?}");
        assert!(messages[0].ends_with(way), "{messages:?}");
    }
}

#[test]
fn the_order_of_options_decides_nothing() {
    let plain = PARENT.replace("edge thickness * 0.75", "edge 1.1 mm");
    let recipe = format!("{plain}variant v of p {{ profile concave {{ dip 0.1 mm }} }}\n");
    let cases: [&[&str]; 5] = [
        &["v.profile=domed", "v.profile.edge=1 mm"],
        &[
            "p.profile=bevelled",
            "p.profile.across=0.5 mm",
            "p.profile.down=0.4 mm",
        ],
        &[
            "v.hollow.shell=0.5 mm",
            "v.hollow.sleeve=0.4 mm",
            "v.hollow.ridge=0.1 mm",
            "v.hollow.ridge.wide=0.3 mm",
            "v.hollow.ridge.count=1",
        ],
        &[
            "v.hollow.stage=turning",
            "v.hollow.stage.play=0.05 mm",
            "v.hollow={ shell 0.5 mm, sleeve 0.4 mm }",
        ],
        &[
            "cut=0.1 mm",
            "p.width=5 mm",
            "v.width=6 mm",
            "p.outside=21 mm",
        ],
    ];
    for sets in cases {
        let results = |order: &[&str]| {
            let (session, outcome) = outcome(&recipe, order);
            let findings: Vec<String> = outcome
                .findings
                .iter()
                .map(|one| format!("{one:?}"))
                .collect();
            let json = outcome.json(&session.sources);
            (json.to_string(), findings)
        };
        let first = results(sets);
        assert!(
            first.1.iter().all(|one| !one.starts_with("model::")),
            "{sets:?}: {:?}",
            first.1
        );
        let mut order = sets.to_vec();
        for _ in 0..sets.len() {
            order.rotate_left(1);
            assert_eq!(results(&order), first, "{order:?}");
            let turned: Vec<&str> = order.iter().rev().copied().collect();
            assert_eq!(results(&turned), first, "{turned:?}");
        }
    }
    // The same field twice is refused, by whatever path, and also within a block.
    for sets in [
        ["v.profile.edge=1 mm", "v.edge=1.1 mm"],
        ["v.profile=domed { edge 1 mm }", "v.edge=1.1 mm"],
        ["v.edge=1.1 mm", "v.profile=domed { edge 1 mm }"],
        ["cut=0.1 mm", "cut=0.1 mm"],
    ] {
        assert_eq!(codes(&recipe, &sets), ["model::given_twice"], "{sets:?}");
    }
}

#[test]
fn a_let_takes_one_value_from_outside_too() {
    for (set, code) in [
        ("cut=", "model::value_count"),
        ("cut=0.1 mm 0.2 mm", "model::value_count"),
        ("cut={ depth 0.1 mm }", "model::value_count"),
        ("cut=0.1 mmm", "model::unknown_unit"),
        ("cut=cut", "model::circle"),
        ("cutt=0.1 mm", "model::unknown_name"),
    ] {
        assert_eq!(codes(PARENT, &[set]), [code], "{set}");
    }
}

#[test]
fn names_are_sought_in_the_block_outwards_then_among_lets_then_far_fields() {
    let rows = [
        // `limit.wall`, `profile.edge` and `weight.cut` end in these names; the `let` is nearer.
        (
            "let wall = 0.55 mm",
            "hollow { shell wall, sleeve 0.4 mm }",
            "b.hollow.shell",
            "0.55 mm",
        ),
        ("let edge = 0.3 mm", "comfort edge", "b.comfort", "0.3 mm"),
        ("let cut = 0.2 mm", "comfort cut", "b.comfort", "0.2 mm"),
        ("let deep = 0.2 mm", "comfort deep", "b.comfort", "0.2 mm"),
        // Inside its own value a field's name is the `let`; elsewhere the two are refused.
        ("let width = 3 mm", "width width", "b.width", "3 mm"),
        // Without a `let`, a unique end is enough.
        ("", "comfort wall", "b.comfort", "0.2 mm"),
        (
            "",
            "comfort wall * 0.5, limit { wall 0.3 mm }",
            "b.comfort",
            "0.15 mm",
        ),
    ];
    for (named, lines, question, wanted) in rows {
        let width = if lines.starts_with("width") {
            ""
        } else {
            "width 5 mm, "
        };
        let recipe = format!(
            "{named}\nband b {{ size 17 mm, {width}thickness 2 mm, profile flat, alloy sterling\n  {lines}\n}}\n"
        );
        assert_eq!(answer(&recipe, &[], question), wanted, "{named}: {lines}");
    }
}
