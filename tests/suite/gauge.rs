//! From a ring in the hand to a recipe: what fits readings, what is left open, what cannot hold together.
//!
//! Outside things: closed forms of a pipe beside each row; the volumes that an independent solid modeller recorded
//! (`tests/modeller`), weighed and gauged back to the fields they were made with; an example worked by hand.

use std::f64::consts::PI;

use annulet::evaluate::Draws;
use annulet::session::{Gauged, NoLibrary, Readings, Request, Session};
use serde_json::Value;

use crate::support::{Found, agree, found, read, run};

/// g/cm3, of the alloy that the readings define.
const DENSITY: f64 = 10.36;

/// A pipe.
const RING: &str = "width 5 mm, inside 16 mm, outside 20 mm";

const MINE: &str = "alloy mine { silver 925, copper 75, density 10.36 g/cm3 }\n";

fn gauged(text: &str) -> (Option<Gauged>, Vec<Found>) {
    let mut session = Session::default();
    let name = "readings";
    let read = [Readings { name, text }];
    let (gauged, findings) = session.gauge(&read, "", None, &mut NoLibrary);
    let told = found(&findings, &session);
    (gauged, told)
}

fn fits(text: &str) -> Gauged {
    let (gauged, findings) = gauged(text);
    assert!(findings.is_empty(), "{findings:?}\n{text}");
    gauged.unwrap()
}

/// The volume of a pipe, mm3, by its measures.
fn pipe(inside: f64, outside: f64, width: f64) -> f64 {
    PI / 4.0 * (outside * outside - inside * inside) * width
}

/// To hundredths, as caliper and scale show it.
fn shown(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

#[test]
fn random_rings_read_by_caliper_and_scale_come_back() {
    let mut draws = Draws::new();
    let mut between = |low: f64, high: f64| low + (high - low) * (draws.draw() + 1.0) / 2.0;
    for round in 0..24 {
        let (inside, width, thick) = (between(14.0, 22.0), between(2.0, 9.0), between(1.0, 2.6));
        let outside = inside + 2.0 * thick;
        let weight = pipe(inside, outside, width) * DENSITY / 1000.0;
        let tools = format!(
            "{MINE}scale 0.01 g, caliper 0.01 mm, alloy mine, hollow no, pattern no, profile flat\n"
        );
        let all = [
            ("weight", weight, "g"),
            ("width", width, "mm"),
            ("inside", inside, "mm"),
            ("outside", outside, "mm"),
            ("thickness", thick, "mm"),
        ];
        let without = |left: &[&str]| {
            let kept = all.iter().filter(|one| !left.contains(&one.0));
            let lines =
                kept.map(|(word, value, unit)| format!("{word} {:.2} {unit}\n", shown(*value)));
            tools.clone() + &lines.collect::<String>()
        };
        // One number left out, and the weight settles it: the truth lies within what is said of it.
        let (left, path, truth): (&[&str], &str, f64) = [
            (&["thickness", "outside"][..], "thickness", thick),
            (&["width", "thickness"][..], "width", width),
            (&["inside", "thickness"][..], "size", inside),
            (&["inside", "outside"][..], "size", inside),
        ][round % 4];
        let text = without(left);
        let found = fits(&text);
        let [fit] = found.fits.as_slice() else {
            panic!("{:?}\n{text}", found.open);
        };
        let sought = fit.sought.as_ref().unwrap();
        assert_eq!(sought.path, path);
        assert!(
            sought.low - 1e-9 <= truth && truth <= sought.high + 1e-9,
            "{path}: {truth} not in {} to {}\n{text}",
            sought.low,
            sought.high
        );
        assert!(sought.high - sought.low < 0.6, "{path}: {sought:?}");
        // Nothing left out: the ring as read, or as near as the readings allow.
        let whole = fits(&without(&["thickness"]));
        let [fit_whole] = whole.fits.as_slice() else {
            panic!("{:?} {:?}", whole.says, whole.clashes);
        };
        for (fit, recipe) in [(fit, &found.recipe), (fit_whole, &whole.recipe)] {
            assert!((fit.grams - weight).abs() <= 0.01 + 1e-9, "{}", fit.grams);
            let mut session = Session::default();
            let outcome = session.run("found", recipe, &Request::default());
            assert!(
                outcome.findings.is_empty(),
                "{:?}\n{recipe}",
                outcome.findings
            );
            let of = outcome.evaluation("hand").unwrap();
            for (name, is, should) in [
                ("weight", of.figures.weight, weight),
                ("outside", of.figures.outside, outside),
                ("inside", of.figures.bore, inside),
            ] {
                // Half a hundredth of what was read, or what the readings leave of what was derived.
                let off = (sought.high - sought.low).max(0.0101) * 2.0;
                assert!(
                    (is - should).abs() <= off,
                    "{name}: {is} {should}\n{recipe}"
                );
            }
            let weighings = of.weighings().unwrap();
            assert_eq!(weighings.readings[0].agrees(), Some(true), "{recipe}");
        }
    }
}

#[test]
fn a_size_by_the_weight_is_the_closed_form() {
    // Worked by hand: inside 17.2 mm, 5 mm wide, 4 g of 10.36 g/cm3. Volume 386.100 mm3; outside squared is
    // 17.2^2 + 4 * 386.100 / (5 pi) = 394.160, outside 19.8535 mm, thickness 1.32673 mm.
    let text = format!(
        "{MINE}alloy mine, inside 17.2 mm \u{B1} 0.02 mm, width 5 mm \u{B1} 0.02 mm, weight 4 g \u{B1} 0.005 g"
    );
    let found = fits(&text);
    let sought = found.fits[0].sought.clone().unwrap();
    assert!((sought.value - 1.32673).abs() < 1e-5, "{sought:?}");
    // At either end: all three readings at the ends that help.
    let thick = |inside: f64, width: f64, weight: f64| {
        let volume = weight * 1000.0 / DENSITY;
        ((inside * inside + 4.0 * volume / (PI * width)).sqrt() - inside) / 2.0
    };
    assert!(
        (sought.low - thick(17.22, 5.02, 3.995)).abs() < 1e-7,
        "{sought:?}"
    );
    assert!(
        (sought.high - thick(17.18, 4.98, 4.005)).abs() < 1e-7,
        "{sought:?}"
    );
}

#[test]
fn bands_of_the_modeller_are_found_by_their_weight() {
    let volumes: toml::Table = read("tests/modeller/volumes.toml").parse().unwrap();
    let cases: toml::Table = read("tests/modeller/cases.toml").parse().unwrap();
    let named = |table: &toml::Table, of: &str, name: &str| {
        let all = table[of].as_array().unwrap().iter();
        let mut all = all.filter(|one| one["name"].as_str() == Some(name));
        all.next().unwrap().clone()
    };
    // The field that is taken out of the recipe, as it stands there, and what stands instead.
    for (name, out, instead, path, truth) in [
        ("domed-plain", "{ edge 1 mm }", "", "profile.edge", 1.0),
        ("domed-court", "{ edge 0.8 mm }", "", "profile.edge", 0.8),
        ("hollow-flat", "shell  0.45 mm", "", "hollow.shell", 0.45),
        (
            "hollow-flat-comfort",
            "sleeve 0.5 mm",
            "",
            "hollow.sleeve",
            0.5,
        ),
        ("hollow-domed", "shell  0.45 mm", "", "hollow.shell", 0.45),
    ] {
        let recipe = named(&cases, "case", name)["recipe"]
            .as_str()
            .unwrap()
            .to_owned();
        assert!(recipe.contains(out), "{recipe}");
        let of = named(&volumes, "band", name);
        let part = |key: &str| of.get(key).and_then(toml::Value::as_float);
        let volume = match part("shell") {
            // The ridges are the sleeve's.
            Some(shell) => shell + part("sleeve").unwrap(),
            None => part("solid").unwrap(),
        };
        let body = recipe.replace(out, instead);
        let body = body.split_once(&format!("band {name} {{")).unwrap().1;
        let body = body.trim_end().trim_end_matches('}');
        let lines = body.lines().filter(|line| !line.trim().is_empty());
        let lines: String = lines
            .map(|line| match line.trim().split_once(' ') {
                // Measured to a ten thousandth.
                Some((word @ ("size" | "width" | "thickness"), value)) => {
                    format!("{word} {} \u{B1} 0.0001 mm\n", value.trim())
                }
                _ => format!("{line}\n"),
            })
            .collect();
        let weight = volume * DENSITY / 1000.0;
        let text = format!("{lines}weight {weight:.7} g \u{B1} 0.0001 g\ncaliper 0.0002 mm\n");
        let found = fits(&text.replace("silver-925", "mine").replacen("", MINE, 1));
        let [fit] = found.fits.as_slice() else {
            panic!("{name}: {:?} {:?}", found.open, found.clashes);
        };
        let sought = fit.sought.as_ref().unwrap();
        assert_eq!(sought.path, path);
        assert!((sought.value - truth).abs() < 2e-4, "{name}: {sought:?}");
        assert!(
            sought.low <= truth + 1e-6 && truth - 1e-6 <= sought.high,
            "{name}: {sought:?}"
        );
    }
}

#[test]
fn what_cannot_hold_together_says_what_each_would_have_to_be() {
    // A pipe 17.2 to 20.9 mm, 5 mm wide: at most 5.02 * pi/4 * (20.92^2 - 17.18^2) * 10.36 g.
    let text =
        format!("{MINE}weight 9.52 g, width 5 mm, inside 17.2 mm, outside 20.9 mm, alloy mine\n");
    let (found, told) = gauged(&text);
    assert_eq!(told[0].code, "gauge::contradicts");
    let found = found.unwrap();
    assert!(found.fits.is_empty());
    let would = |word: &str| -> f64 {
        let each = found.clashes[0].each.iter();
        let each = each
            .filter(|(known, _)| known == word)
            .map(|(_, would)| would);
        let numbers = each.flat_map(|would| would.split(' ').filter_map(|part| part.parse().ok()));
        numbers.collect::<Vec<f64>>()[0]
    };
    let full =
        |inside: f64, outside: f64, width: f64| pipe(inside, outside, width) * DENSITY / 1000.0;
    let grams = 9.515;
    assert!((would("weight") - full(17.18, 20.92, 5.02)).abs() < 1e-3);
    assert!((would("width") - 5.02 * grams / full(17.18, 20.92, 5.02)).abs() < 1e-3);
    let square = grams * 1000.0 / DENSITY * 4.0 / (PI * 5.02);
    assert!((would("outside") - (17.18_f64.powi(2) + square).sqrt()).abs() < 1e-3);
    assert!((would("inside") - (20.92_f64.powi(2) - square).sqrt()).abs() < 1e-3);
    assert!((would("density") - grams * 1000.0 / pipe(17.18, 20.92, 5.02)).abs() < 0.01);
    // Three measures across: 17.2 + 2 * 2 = 21.2, and 20.9 was read.
    let (found, told) =
        gauged("width 5 mm, inside 17.2 mm, outside 20.9 mm, thickness 2 mm, alloy silver-925");
    assert_eq!(told.len(), 1);
    let each = &found.unwrap().clashes[0].each;
    assert_eq!(each[0].1, "16.9 mm, 16.84 to 16.96 mm");
    assert_eq!(each[2].1, "1.85 mm, 1.83 to 1.87 mm");
    // Told at the readings themselves.
    let ran = run(&["gauge", "width 5 mm, inside 20 mm, outside 18 mm"], "");
    assert_eq!(ran.status, 1, "{}", ran.stderr);
    assert!(
        ran.stderr.contains("not more than the inside"),
        "{}",
        ran.stderr
    );
    // Said to be neither hollow nor cut nor domed, and lighter than filled.
    let light = format!(
        "{MINE}weight 3.52 g, width 5 mm, inside 17.2 mm, outside 20.9 mm, alloy mine, hollow no, pattern no, profile flat"
    );
    let (found, told) = gauged(&light);
    assert_eq!(told[0].code, "gauge::contradicts", "{told:?}");
    assert!(found.unwrap().fits.is_empty());
}

#[test]
fn one_weight_settles_no_two_unknowns() {
    let ring = format!(
        "{MINE}weight 3.52 g, width 5 mm, inside 17.2 mm, outside 20.9 mm, alloy mine, profile flat\n"
    );
    // Nothing more is known: cut, or hollow; neither comes out as a band.
    let found = fits(&ring);
    assert!(found.fits.is_empty(), "{:?}", found.fits);
    let open: Vec<&[String]> = found
        .open
        .iter()
        .map(|one| one.unknowns.as_slice())
        .collect();
    assert_eq!(open[0], ["pattern.depth", "pattern.cover"]);
    assert_eq!(open[1], ["hollow.shell", "hollow.sleeve"]);
    // All over, so much is gone that what is left is a pipe: (2 r)^2 = 17.2^2 + 4 V / (5 pi).
    let left = (17.2_f64.powi(2) + 4.0 * 3520.0 / DENSITY / (PI * 5.0)).sqrt();
    let depth = (20.9 - left) / 2.0;
    let row = &found.open[0].rows[0];
    let said = row
        .strip_prefix("pattern.cover 100 %: pattern.depth ")
        .unwrap();
    let said: f64 = said.strip_suffix(" mm").unwrap().parse().unwrap();
    assert!((said - depth).abs() < 1e-4, "{row} {depth}");
    // With one of the two measured the other comes out, and no other row does.
    let sleeve = fits(&format!("{ring}pattern no, hollow {{ sleeve 0.3 mm }}"));
    assert_eq!(sleeve.fits[0].sought.as_ref().unwrap().path, "hollow.shell");
    let cover = fits(&format!("{ring}hollow no, pattern {{ cover 100 % }}"));
    let sought = cover.fits[0].sought.clone().unwrap();
    assert!((sought.value - depth).abs() < 1e-6, "{sought:?} {depth}");
    // A metal that is not known is an unknown too.
    let metal = fits("weight 4 g, width 5 mm, inside 17.2 mm, mark 585");
    assert!(metal.fits.is_empty());
    assert_eq!(metal.open[0].unknowns, ["thickness", "alloy"]);
    assert!(metal.open[0].rows.len() > 2);
    // But where no value does in any of them, that is a contradiction.
    let none = "weight 5.21 g, width 4.52 mm, size ISO 54, outside 20.9 mm, mark 18 karat, profile domed, hollow no, pattern no";
    let (none, told) = gauged(none);
    assert_eq!(told[0].code, "gauge::contradicts");
    assert!(none.unwrap().open.is_empty());
    // And every metal that the weight allows is a band of its own, of its mark alone.
    let several = fits("weight 5.9 g, width 5 mm, inside 16 mm, outside 20 mm, mark 925");
    assert!(several.fits.len() > 1);
    for fit in &several.fits {
        assert!(fit.alloy.starts_with("silver-9"), "{}", fit.alloy);
    }
}

#[test]
fn what_comes_out_is_a_recipe_and_goes_through_every_way() {
    let words = [
        "weight", "5.90", "g,", "width", "5", "mm,", "inside", "16", "mm,", "outside", "20", "mm,",
        "mark", "925",
    ];
    let called = run(&[&["gauge"], &words[..]].concat(), "");
    assert_eq!(called.status, 0, "{}", called.stderr);
    let piped = run(
        &["gauge"],
        "weight 5.90 g\nwidth 5 mm\ninside 16 mm  # with a pin gauge\noutside 20 mm\nmark 925\n",
    );
    assert_eq!(piped.stdout, called.stdout);
    let checked = run(&["check", "-"], &called.stdout);
    assert_eq!(
        (checked.status, checked.stderr.as_str()),
        (0, ""),
        "{}",
        called.stdout
    );
    let tidy = run(&["tidy", "-"], &called.stdout);
    assert_eq!(tidy.status, 0, "{}", tidy.stderr);
    let json = run(
        &[
            "gauge",
            "--json",
            "weight 5.90 g, width 5 mm, inside 16 mm, outside 20 mm, mark 925",
        ],
        "",
    );
    let json: Value = serde_json::from_str(&json.stdout).unwrap();
    let of = &json["recipes"][0]["gauged"][0];
    assert_eq!(of["recipe"], called.stdout.as_str());
    assert!(agree(
        of["readings"][0]["within"].as_f64().unwrap(),
        0.005,
        1e-12
    ));
    // At the bench alloys of the recipe count, and none of it is written again; what rests on a band stays behind, and
    // what is tried of the alloy counts: 5.37 g are of 9.5 g/cm3.
    let typed = format!(
        "{MINE}band b {{ size 17 mm, width 5 mm, thickness 2 mm, profile flat, alloy mine }}\nlet wide = b.width * 2\nlet more = wide + 1 mm\n\
         gauge weight 5.86 g, {RING}, alloy mine\ntry alloy.mine.density 9.5 g/cm3\ngauge weight 5.37 g, {RING}, alloy mine\n"
    );
    let ran = run(&["bench"], &typed);
    let all = format!("{}{}", ran.stdout, ran.stderr);
    assert_eq!(all.matches("alloy     mine ").count(), 2, "{all}");
    assert!(
        all.contains("weighs 5.858 g") && all.contains("weighs 5.372 g"),
        "{all}"
    );
    assert_eq!(
        all.matches("# With what is tried: alloy.mine.density")
            .count(),
        1
    );
    assert!(!ran.stdout.contains("annulet 1"), "{}", ran.stdout);
}

#[test]
fn a_mark_finds_the_metals_that_go_by_it() {
    // The pipe holds 565.49 mm3. ISO 9202 writes 585 for 14 karat, mills mix 583; fine gold is of 999 parts, and 24
    // karat. A density of ideal mixing: 1/(0.583/19.3 + 0.021/10.49 + 0.396/8.96) = 13.09 g/cm3, of fine gold 19.3.
    let closed = "hollow no, pattern no, profile flat";
    for (said, one, all) in [
        ("weight 7.40 g, mark 14 karat", "rose-583", ""),
        (
            "weight 7.40 g, mark 14 karat, alloy rose-583",
            "rose-583",
            "rose-583",
        ),
        ("weight 10.9 g, mark 24 karat", "gold-999", "gold-999"),
        ("weight 7.40 g, mark 583", "rose-583", ""),
    ] {
        let found = fits(&format!("{said}, {RING}, {closed}"));
        let is = |fit: &annulet::session::GaugedFit, of: &str| fit.alloy.starts_with(of);
        assert!(
            found.fits.iter().any(|fit| is(fit, one)),
            "{said}: {:?}",
            found.fits
        );
        assert!(
            found.fits.iter().all(|fit| is(fit, all)),
            "{said}: {:?}",
            found.fits
        );
    }
    // What is said to be whole is lighter than any metal of the mark, lies between two, or is no gold.
    for (said, message) in [
        (
            "weight 5.0 g, mark 750",
            "the lightest known alloy of mark 750",
        ),
        (
            "weight 8.48 g, mark 950",
            "the next lighter known alloy of mark 950",
        ),
        (
            "weight 5.86 g, mark 18 karat, alloy silver-925",
            "holds no gold",
        ),
        (
            "weight 6.6 g, mark 14 karat, alloy yellow-417",
            "the mark says 14 karat",
        ),
    ] {
        let (found, told) = gauged(&format!("{said}, {RING}, {closed}"));
        let is_told =
            |one: &Found| one.code == "gauge::contradicts" && one.message.contains(message);
        assert!(told.iter().any(is_told), "{said}: {told:?}");
        assert!(found.unwrap().open.is_empty(), "{said}");
    }
    let cut = fits(&format!(
        "weight 5.0 g, mark 750, {RING}, hollow no, profile flat"
    ));
    assert_eq!(cut.open[0].unknowns, ["alloy", "pattern"]);
}

#[test]
fn what_is_said_to_reach_the_weight_reaches_it() {
    let off = "alloy mine { silver 925, copper 75, density 10.3 g/cm3 \u{B1} 1 g/cm3 }\nalloy mine";
    let deep = "pattern { depth 0.8 mm \u{B1} 0.4 mm, cover 100 % }, alloy silver-925";
    let by_name =
        "let deep = 0.8 mm \u{B1} 0.4 mm\npattern { depth deep, cover 100 % }, alloy silver-925";
    let dome = "profile domed { edge 1.2 mm \u{B1} 40 % }, alloy silver-925";
    let bevel = "profile bevelled { across 1 mm \u{B1} 0.3 mm, down 0.8 mm \u{B1} 0.3 mm }, alloy silver-925";
    // Closed forms: 5.3 g of the pipe are 9.37 g/cm3; cut down all over to 3.6 g it is 18.56 mm outside.
    for (weight, said, wanted) in [
        (5.3, off, "density 9.372"),
        (3.6, deep, "pattern { depth 0."),
        (3.6, by_name, "as written it weighs"),
        (5.2, dome, "edge "),
        (5.5, bevel, "across "),
    ] {
        let found = fits(&format!("weight {weight} g, {RING}, {said}"));
        let [fit] = found.fits.as_slice() else {
            panic!("{said}: {:?} {:?}", found.open, found.clashes);
        };
        let whole = format!("{}{:?}", fit.text, fit.remarks);
        assert!(whole.contains(wanted), "{whole}");
        let reached = (fit.grams - weight).abs() <= 0.005 + 1e-9;
        let told = fit
            .remarks
            .iter()
            .any(|one| one.starts_with("as written it weighs"));
        assert_eq!(
            (reached, told),
            (said != by_name, said == by_name),
            "{} {whole}",
            fit.grams
        );
        let outcome = Session::default().run("found", &found.recipe, &Request::default());
        let mut told = outcome.findings.iter();
        // That a density is far from that of the mix may be said of it.
        let rest = told.find(|one| one.code() != "model::unlikely");
        assert!(rest.is_none(), "{rest:?}\n{}", found.recipe);
        let weighs = outcome.evaluation("hand").unwrap().figures.weight;
        assert!((weighs - fit.grams).abs() < 1e-9, "{weighs} {}", fit.grams);
    }
}

#[test]
fn what_is_no_reading_is_told_at_its_place() {
    for (text, code, said) in [
        (
            "weight 3.5, width 5 mm",
            "model::unit_missing",
            "`weight` takes a mass",
        ),
        (
            "weight 3.5 mm",
            "model::wrong_kind",
            "`weight` takes a mass, not a length",
        ),
        ("wieght 3.5 g", "model::unknown_field", "no field `wieght`"),
        (
            "weight 3.5 g, weight 3.6 g",
            "model::given_twice",
            "given twice",
        ),
        (
            "size ISO 54, inside 17 mm",
            "model::given_twice",
            "given twice",
        ),
        ("weight 0 g", "gauge::reading", "more than nothing"),
        ("weight", "gauge::reading", "says nothing"),
        (
            "weight 3 g, alloy silver-952",
            "model::unknown_name",
            "silver-952",
        ),
        ("weight 3 g, mark 12", "gauge::reading", "100 to 1000"),
        ("weight 3 g, mark 640", "model::unknown_name", "640"),
        (
            "pattern.depth 0.5 mm, pattern.cover 50 %, pattern no",
            "gauge::reading",
            "`pattern no` says that there is none",
        ),
        (
            "hollow no, hollow.sleeve 0.3 mm",
            "gauge::reading",
            "`hollow.sleeve` says something of it",
        ),
        (
            "weight 3 g, hollow perhaps",
            "gauge::reading",
            "`yes`, `no`, or a block",
        ),
        (
            "weight 3 g\nband b {\n}",
            "gauge::reading",
            "hold no `band`",
        ),
        ("# nothing\n", "gauge::nothing", "nothing was measured"),
        ("weight 3,5 g", "syntax::decimal_comma", "two ways"),
        (
            "width 5 mm, inside 17 mm, outside 21 mm, alloy silver-925, profile domed { edge 5 mm }",
            "geometry::does_not_fit",
            "edge",
        ),
        (
            "width 5 mm, inside 17 mm, outside 21 mm, alloy silver-925, colour 5 mm",
            "model::unknown_field",
            "colour",
        ),
    ] {
        let (found, told) = gauged(text);
        assert!(found.is_none(), "{text}");
        assert_eq!(told[0].code, code, "{text}: {told:?}");
        assert!(told[0].message.contains(said), "{text}: {told:?}");
    }
    for (words, said) in [
        (
            &["gauge", "weight 3 g", "--set", "width=5 mm"][..],
            "takes no `--set`",
        ),
        (
            &["gauge", "--in", "no-such.txt"][..],
            "no file `no-such.txt`",
        ),
    ] {
        let ran = run(words, "");
        assert_eq!(ran.status, 2, "{}", ran.stdout);
        assert!(ran.stderr.contains(said), "{}", ran.stderr);
    }
}
