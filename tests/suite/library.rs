//! What a program that embeds the library sees: a band by values or from text, its numbers moved, its findings matched.
//!
//! A plan whose numbers were moved must come to what a recipe with those numbers in its text comes to, to the last
//! bit; and that one is checked elsewhere against things outside the project.

use annulet::Plan;
use annulet::finding::Weight;
use annulet::plan::Which;
use annulet::quantity::Number;
use annulet::schema::{FieldId, RESULTS, ResultId};

use rust_decimal::{Decimal, dec};

use crate::support::read;

fn by_values() -> Plan {
    let draft = Plan::draft("harvest")
        .with(FieldId::Title, "For the \"fair\"")
        .with(FieldId::Size, "ISO 54")
        .with(FieldId::Width, dec!(4.5))
        .with(FieldId::Thickness, 1.5)
        .with("profile", "domed")
        .with("profile.edge", "1.2 mm")
        .with(FieldId::PatternRepeats, 18)
        .with(FieldId::PatternDepth, 0.3)
        .with(FieldId::PatternMeanDepth, 0.18)
        .with(FieldId::PatternCover, 0.9)
        .with(FieldId::Alloy, "silver-925");
    draft.build().unwrap()
}

fn text(width: Decimal) -> String {
    format!(
        "band harvest {{
  title \"For the \\\"fair\\\"\"
  size ISO 54, width {width} mm, thickness 1.5 mm
  profile domed {{ edge 1.2 mm }}
  pattern {{ repeats 18, depth 0.3 mm, mean-depth 0.18 mm, cover 90 % }}
  alloy silver-925
}}"
    )
}

/// Every result, to the last bit.
fn figures(plan: &Plan) -> Vec<(ResultId, String)> {
    let all: Vec<ResultId> = RESULTS.iter().map(|row| row.id).collect();
    let found = plan.evaluate(&all).unwrap();
    let shown = |number: Number| match number {
        Number::Exact(number) => number.normalize().to_string(),
        Number::Computed(number) => format!("{number:?}"),
    };
    found
        .iter()
        .map(|(id, number)| (id, shown(number)))
        .collect()
}

#[test]
fn a_band_by_values_is_the_one_from_text() {
    let (values, text) = (by_values(), Plan::read(&text(dec!(4.5))).unwrap());
    assert_eq!(figures(&values), figures(&text));
    assert_eq!(values.band().unwrap().title(), text.band().unwrap().title());
    assert!(values.findings().is_empty());
}

#[test]
fn a_number_moved_often_is_the_one_written() {
    let mut plan = by_values();
    let mut heaviest = 0.0_f64;
    for step in 0..100_000 {
        let width = dec!(3) + Decimal::from(step) * dec!(0.00003);
        plan.set(FieldId::Width, width).unwrap();
        let found = plan.evaluate(&[ResultId::Weight]).unwrap();
        let weight = found.number(ResultId::Weight).unwrap().to_f64();
        assert!(weight > heaviest);
        heaviest = weight;
        if step % 9_973 == 0 {
            let written = Plan::read(&text(width)).unwrap();
            assert_eq!(figures(&plan), figures(&written));
        }
    }
}

#[test]
fn what_follows_from_a_number_moves_with_it() {
    let text = |face: &str| {
        format!(
            "let face = {face}
band first {{
  size ISO 54, width face, thickness 0.4 * face
  profile flat, alloy yellow-585
}}
variant second of first {{ thickness first.thickness + 0.1 mm }}"
        )
    };
    let mut plan = Plan::read(&text("4 mm")).unwrap();
    plan.set("face", 5).unwrap();
    let mut written = Plan::read(&text("5 mm")).unwrap();
    for band in ["first", "second"] {
        assert!(plan.turn_to(band) && written.turn_to(band));
        assert_eq!(figures(&plan), figures(&written));
    }
    assert!(!plan.turn_to("third"));
    // A number in place of an expression stays, whatever the expression would follow.
    plan.set(FieldId::Thickness, dec!(1.25)).unwrap();
    plan.set("face", 6).unwrap();
    let thickness = plan.band().unwrap().length(FieldId::Thickness);
    assert_eq!(thickness, Some(1.25));
}

#[test]
fn words_and_numbers_may_be_given_in_any_order() {
    let mut plan = by_values();
    plan.set(FieldId::Width, 5).unwrap();
    plan.set(FieldId::Alloy, "yellow-750").unwrap();
    plan.set(Which::Path("size"), 17.5).unwrap();
    plan.set(FieldId::Title, "Another").unwrap();
    plan.set(FieldId::Thickness, "0.06 in").unwrap();
    let text = "band harvest {
  size 17.5 mm, width 5 mm, thickness 0.06 in
  profile domed { edge 1.2 mm }
  pattern { repeats 18, depth 0.3 mm, mean-depth 0.18 mm, cover 90 % }
  alloy yellow-750
}";
    assert_eq!(figures(&plan), figures(&Plan::read(text).unwrap()));
    assert_eq!(plan.band().unwrap().title(), Some("Another"));
}

#[test]
fn every_number_of_the_examples_can_be_set_to_what_it_is() {
    for file in ["examples/harvest.annulet", "examples/market-day.annulet"] {
        let mut plan = Plan::read(&read(file)).unwrap();
        let before = figures(&plan);
        let band = plan.band().unwrap().clone();
        for field in band.fields.iter() {
            let Some(quantity) = field.value.quantity() else {
                continue;
            };
            if !quantity.deviations.is_empty() || field.at.is_none() {
                continue;
            }
            let number = quantity.number.exact().unwrap();
            plan.set(field.field.id, number).unwrap();
            assert_eq!(figures(&plan), before, "{file}: {}", field.field.path);
        }
    }
}

#[test]
fn findings_tell_what_is_wrong() {
    let mut plan = by_values();
    let refused = plan.set(FieldId::Width, -1).unwrap_err();
    assert_eq!(refused[0].code(), "model::out_of_range");
    assert_eq!(refused[0].weight(), Weight::Wrong);
    assert_eq!(plan.field_of(&refused[0]), Some(FieldId::Width));
    assert_eq!(figures(&plan), figures(&by_values()));

    plan.set(FieldId::ProfileEdge, 1.6).unwrap();
    let impossible = plan.evaluate(&[ResultId::Weight]).unwrap_err();
    assert_eq!(impossible[0].weight(), Weight::Wrong);
    assert_eq!(plan.field_of(&impossible[0]), Some(FieldId::ProfileEdge));
    assert_eq!(plan.findings()[0].code(), impossible[0].code());
    plan.set(FieldId::ProfileEdge, 1.2).unwrap();
    assert_eq!(figures(&plan), figures(&by_values()));

    for (path, value) in [
        ("widht", "5 mm"),
        ("alloy", "unobtainium"),
        ("width", "5 mm, thickness 9 mm"),
        ("width", "5 mm\n}\nband other {"),
        ("wid th", "5 mm"),
        ("", "5 mm"),
    ] {
        assert!(plan.set(path, value).is_err(), "{path} {value}");
        let draft = Plan::draft("harvest").with(path, value);
        assert!(draft.build().is_err(), "{path} {value}");
    }
    assert!(Plan::draft("a band").build().is_err());
    assert!(Plan::read("").is_err());
    assert_eq!(
        Plan::read("let a = 1 mm").unwrap_err()[0].code(),
        "model::no_band"
    );
    assert_eq!(figures(&plan), figures(&by_values()));
}

#[test]
fn a_plan_goes_to_another_thread() {
    let plan = by_values();
    let threads: Vec<_> = [4, 5]
        .map(|width| {
            let mut plan = plan.clone();
            std::thread::spawn(move || {
                plan.set(FieldId::Width, width).unwrap();
                plan.evaluate(&[ResultId::Weight])
                    .unwrap()
                    .number("weight")
                    .unwrap()
                    .to_f64()
            })
        })
        .into();
    let weights: Vec<f64> = threads.into_iter().map(|one| one.join().unwrap()).collect();
    assert!(weights[0] < weights[1]);
}
