//! References between bands: fields and results of others, in whatever order they are written.
//!
//! Held against the language page's semantics of change and its paths: no field needs a result of its own
//! band, what is needed is evaluated first, and a circle is one finding that shows the whole way round. Figures
//! are the written lengths, or the weight of a plain pipe, which grows with its width.

use annulet::finding::Finding;
use annulet::model::check;
use annulet::session::{Outcome, Request, Session};

use crate::support::{agree, band_with};

fn outcome(recipe: &str) -> (Session, Outcome) {
    let mut session = Session::default();
    let outcome = session.run("r.annulet", recipe, &Request::default());
    (session, outcome)
}

/// A flat band of a name, with these lines in place of its own.
fn band(name: &str, lines: &[&str]) -> String {
    band_with(lines).replace("band b", &format!("band {name}"))
}

/// The answer to a question about a sound recipe.
fn answer(recipe: &str, question: &str) -> String {
    let (mut session, outcome) = outcome(recipe);
    assert!(
        outcome.findings.is_empty(),
        "{:?}\n{recipe}",
        outcome.findings
    );
    let (value, problems) = session.ask(question, &outcome);
    check::shown(&value.unwrap_or_else(|| panic!("{question}: {problems:?}")))
}

/// The findings of a recipe, as code and message.
fn found(recipe: &str) -> Vec<(String, String)> {
    let (_, outcome) = outcome(recipe);
    let one = |finding: &Finding| (finding.code(), finding.message());
    outcome.findings.iter().map(one).collect()
}

#[test]
fn fields_and_results_of_others_in_any_order() {
    // The lines of band `a`, the question, the answer; band `z` stands before it or behind it.
    let other = ["size ISO 54", "width 4 mm", "limit { wall 0.25 mm }"];
    let cases = [
        ("width z.width + 1 mm", "a.width", "5 mm"),
        ("size z.size + 1", "a.size", "ISO 55"),
        ("thickness z.limit.wall * 8", "a.thickness", "2 mm"),
        ("thickness z.wall * 8", "a.thickness", "2 mm"),
        ("width z.thickness + z.width", "a.width", "6 mm"),
        // Results by full and by short path.
        ("width z.wall.least + 1 mm", "a.width", "3 mm"),
        ("width z.least + 1 mm", "a.width", "3 mm"),
        ("width z.strip.height", "a.width", "4 mm"),
        // A path that is both is the same quantity.
        (
            "outside 20 mm\nwidth z.bore - z.bore + 3 mm",
            "a.width",
            "3 mm",
        ),
        // A default of the other band.
        ("width z.comfort + 3 mm", "a.width", "3 mm"),
        // Fields of the same band by its own name.
        ("thickness a.width * 0.3", "a.thickness", "1.5 mm"),
        // Words cannot be referred to, numbers and shares can.
        (
            "pattern { depth 0.1 mm, cover z.saved * 2 }",
            "a.pattern.cover",
            "90 %",
        ),
    ];
    for (line, question, wanted) in cases {
        let shares = line.contains("saved");
        let line = line.replace("z.saved", "z.pattern.cover");
        let mut lines = other.to_vec();
        if shares {
            lines.push("pattern { depth 0.1 mm, cover 45 % }");
        }
        let own: Vec<&str> = line.lines().collect();
        let mut a = band("a", &own);
        if own.iter().any(|line| line.starts_with("outside")) {
            a = a.replace("  thickness 2 mm\n", "");
        }
        let z = band("z", &lines);
        for recipe in [format!("{a}{z}"), format!("{z}{a}")] {
            assert_eq!(answer(&recipe, question), wanted, "{recipe}");
        }
    }
}

#[test]
fn a_result_that_is_computed_goes_on_as_computed() {
    let recipe = band("a", &["width z.weight / 1 g * 1 mm"]) + &band("z", &[]);
    let (_, outcome) = outcome(&recipe);
    let weight = outcome.evaluations[1].figures.weight;
    assert!(agree(
        outcome.evaluations[0].figures.strip_height,
        weight,
        1e-12
    ));
}

#[test]
fn variants_and_parents_use_each_others_results() {
    let weight = "width p.weight / 1 g * 1 mm";
    let parent = band("p", &[]);
    let cases = [
        format!("{parent}variant v of p {{ {weight} }}\n"),
        format!("variant v of p {{ {weight} }}\n{parent}"),
    ];
    let first = answer(&cases[0], "v.width");
    assert_eq!(answer(&cases[1], "v.width"), first);
    // The parent needs its variant, which restates the field in question.
    let parent = band("p", &["width v.weight / 1 g * 1 mm"]);
    for recipe in [
        format!("{parent}variant v of p {{ width 5 mm }}\n"),
        format!("variant v of p {{ width 5 mm }}\n{parent}"),
    ] {
        assert_eq!(answer(&recipe, "p.width"), first, "{recipe}");
    }
    // A variant that inherits such a field would need its own result.
    let inherits = format!("{parent}variant v of p {{ thickness 1.5 mm }}\n");
    let found = found(&inherits);
    assert!(
        found.iter().all(|(code, _)| code == "model::own_result"),
        "{found:?}"
    );
    assert_eq!(found.len(), 1);
}

#[test]
fn no_field_needs_a_result_of_its_own_band() {
    for path in ["weight", "a.weight", "a.wall.least", "volume", "a.least"] {
        let line = format!("thickness {path} * 1");
        let found = found(&(band("a", &[&line]) + &band("c", &[])));
        assert_eq!(found.len(), 1, "{path}: {found:?}");
        assert_eq!(found[0].0, "model::own_result", "{path}");
    }
    // Its own outside follows from its thickness: as a field that is not stated it has no value.
    let found = found(&band("a", &["thickness outside / 10"]));
    assert_eq!(found.len(), 1, "{found:?}");
}

#[test]
fn lets_use_results_and_serve_other_bands() {
    let recipe = format!(
        "let third = a.weight / 3 g * 1 mm\nlet more = third + 1 mm\n{}{}",
        band("c", &["width more"]),
        band("a", &[])
    );
    let (_, outcome) = outcome(&recipe);
    assert!(outcome.findings.is_empty(), "{:?}", outcome.findings);
    let weight = outcome.evaluations[1].figures.weight;
    assert!(agree(
        outcome.evaluations[0].figures.strip_height,
        weight / 3.0 + 1.0,
        1e-12
    ));
    // An alloy may use one too: its density is not weighed but reckoned from another band.
    let recipe = format!(
        "alloy x {{ silver 925, copper 75, density c.width / 1 mm * 2 g/cm3 }}\n{}{}",
        band("a", &["alloy x"]),
        band("c", &[])
    );
    assert_eq!(answer(&recipe, "a.density"), "10 g/cm3");
}

#[test]
fn circles_are_one_finding_with_the_whole_way_round() {
    let weight = |of: &str| format!("width {of}.weight / 1 g * 1 mm");
    let cases = [
        // The recipe, and the way; whichever comes first in the text begins it.
        (
            band("a", &["width c.width"]) + &band("c", &["width a.width"]),
            "a.width needs c.width needs a.width",
        ),
        (
            band("a", &[&weight("c")]) + &band("c", &[&weight("a")]),
            "a.width needs c.width needs a.width",
        ),
        (
            band("a", &["width c.width"])
                + &band("c", &["width d.width"])
                + &band("d", &["width a.width"]),
            "a.width needs c.width needs d.width needs a.width",
        ),
        (
            band("a", &[&weight("c")])
                + &band("c", &["thickness d.width * 0.4"])
                + &band("d", &["width a.width"]),
            "a.width needs c.thickness needs d.width needs a.width",
        ),
        (
            "let x = x + 1 mm\n".to_owned() + &band("a", &[]),
            "x needs x",
        ),
        (
            "let x = y\nlet y = z\nlet z = x\n".to_owned() + &band("a", &[]),
            "x needs y needs z needs x",
        ),
        (
            "let x = a.weight / 1 g * 1 mm\n".to_owned() + &band("a", &["width x"]),
            "x needs a.width needs x",
        ),
        (
            band("a", &["thickness width * 0.4", "width thickness * 2"]),
            "a.width needs a.thickness needs a.width",
        ),
        (band("a", &["width width * 2"]), "a.width needs a.width"),
        (
            "alloy x { silver 925, copper 75, density a.weight / 1 g * 1 g/cm3 }\n".to_owned()
                + &band("a", &["alloy x"]),
            "x needs a needs x",
        ),
    ];
    for (recipe, way) in cases {
        let found = found(&recipe);
        assert_eq!(found.len(), 1, "{way}: {found:?}");
        assert_eq!(found[0].0, "model::circle", "{way}");
        let first = way.split(" needs ").next().unwrap();
        assert_eq!(found[0].1, format!("`{first}` needs its own value: {way}"));
    }
    // Two circles are two findings, and what only leads into one is none.
    let two = "let a = b\nlet b = a\nlet c = c\nlet leads = a + c\n";
    let found = found(&(two.to_owned() + &band("x", &["width leads"])));
    let codes: Vec<&str> = found.iter().map(|(code, _)| code.as_str()).collect();
    assert_eq!(codes, ["model::circle", "model::circle"], "{found:?}");
}

#[test]
fn long_chains_work_and_endless_ones_are_bounded() {
    // Each needs the one before it: any length does, since that one is known already.
    let chain = |length: usize, next: &dyn Fn(usize) -> usize, first: usize| -> String {
        (0..length)
            .map(|place| {
                if place == first {
                    return band(&format!("b{place}"), &["width 4 mm"]);
                }
                let line = format!("width b{}.width + 0.01 mm", next(place));
                band(&format!("b{place}"), &[&line])
            })
            .collect()
    };
    assert_eq!(
        answer(&chain(200, &|place| place - 1, 0), "b199.width"),
        "5.99 mm"
    );
    assert_eq!(
        answer(&chain(20, &|place| place + 1, 19), "b0.width"),
        "4.19 mm"
    );
    // Results are evaluated once each, and not once for every way that leads to them.
    let results: String = (0..40)
        .map(|place| {
            if place == 0 {
                return band("b0", &[]);
            }
            let before = place - 1;
            let line =
                format!("width (b{before}.weight + b{before}.weight) / b{before}.weight * 2 mm");
            band(&format!("b{place}"), &[&line])
        })
        .collect();
    assert!(found(&results).is_empty());
    // A chain against the text's order is looked up inside itself; one made to exhaust the stack is refused.
    for length in [30, 1000] {
        let found = found(&chain(length, &|place| place + 1, length - 1));
        assert!(!found.is_empty());
        assert!(
            found.iter().all(|(code, _)| code == "model::no_result"),
            "{found:?}"
        );
    }
}

#[test]
fn slips_in_a_path_are_told_where_they_stand() {
    let z = band("z", &["title \"x\""]);
    let cases = [
        (
            "z.widht",
            "model::unknown_name",
            Some("did you mean `width`?"),
        ),
        ("z.play", "model::ambiguous_name", None),
        (
            "z.uncut",
            "model::ambiguous_name",
            Some("write one of `weight.uncut` or `volume.uncut`"),
        ),
        ("zz.width", "model::unknown_name", None),
        ("z.hollow.shell", "model::unknown_name", None),
        (
            "z.shell.weight / 1 g * 1 mm",
            "model::unknown_name",
            Some("the other band states nothing that gives it one"),
        ),
        ("z.title", "model::wrong_kind", None),
        ("z.weight", "model::wrong_kind", None),
    ];
    for (path, code, help) in cases {
        let recipe = band("a", &[&format!("width {path}")]) + &z;
        let (session, outcome) = outcome(&recipe);
        let [finding] = outcome.findings.as_slice() else {
            panic!("{path}: {:?}", outcome.findings);
        };
        assert_eq!(finding.code(), code, "{path}");
        let at = finding.span().unwrap();
        let under = session.sources.slice(at);
        assert!(path.starts_with(under), "{path}: {under}");
        if let Some(help) = help {
            assert_eq!(finding.help().as_deref(), Some(help), "{path}");
        }
    }
    // What rests on a band that is faulty itself is not computed, and no mistake of its own.
    for (bad, code) in [
        ("profile domed { edge 3 mm }", "geometry::does_not_fit"),
        ("thickness 2 mmm", "model::unknown_unit"),
    ] {
        let recipe = band("a", &["width z.weight / 1 g * 1 mm"]) + &band("z", &[bad]);
        let found = found(&recipe);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0].0, code);
    }
    // A variant of what is not there lacks only that.
    let orphan = "variant a of harvst { thickness width * 0.4, width 5 mm }\n".to_owned()
        + &band("harvest", &["width a.width + a.comfort + a.thickness"])
        + "variant c of a { size 17 mm + comfort, outside size * 1.2 }\n";
    let codes: Vec<String> = found(&orphan).into_iter().map(|(code, _)| code).collect();
    assert_eq!(codes, ["model::unknown_name"], "{:?}", found(&orphan));
}
