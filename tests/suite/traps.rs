//! Every trap of the language's lexical rules: code, place, text under the caret, and what the help offers.
//!
//! Held against the language page's section on lexical rules, whose promise is that no slip is ever read
//! as something else; and against the acceptance list's corpus of odd characters.

use crate::support::{Found, band_with, findings};

/// The one finding of a recipe.
fn only(recipe: &str) -> Found {
    let found = findings(recipe);
    assert_eq!(found.len(), 1, "{recipe}\n{found:#?}");
    found[0].clone()
}

/// A line of a band in place of its own of the same first word, the code of its only finding, the column,
/// the text under the caret, and a part of the help.
type Trap = (
    &'static str,
    &'static str,
    usize,
    &'static str,
    &'static str,
);

/// The line that a band's own lines leave for another: the band's header and its four others come before.
const LINE: usize = 6;

fn check(traps: &[Trap]) {
    for (line, code, column, text, help) in traps {
        let found = only(&band_with(&[line]));
        assert_eq!(found.code, *code, "{line}: {found:?}");
        assert_eq!(found.place, format!("{LINE}:{column}"), "{line}: {found:?}");
        assert_eq!(found.text, *text, "{line}: {found:?}");
        assert!(found.help.contains(help), "{line}: {found:?}");
    }
}

#[test]
fn numbers() {
    check(&[
        (
            "width 1,5 mm",
            "syntax::decimal_comma",
            10,
            ",",
            "`1.5` with a decimal point, or `1, 5`",
        ),
        (
            "width 1,000 mm",
            "syntax::decimal_comma",
            10,
            ",",
            "`1.000` with a decimal point, or `1000`",
        ),
        (
            "width 12,500 mm",
            "syntax::decimal_comma",
            11,
            ",",
            "`12.500` with a decimal point, or `12500`",
        ),
        ("width 1,85", "syntax::decimal_comma", 10, ",", "`1.85`"),
        ("width .5 mm", "syntax::number", 9, ".5", "`0.5`"),
        ("width 5. mm", "syntax::number", 9, "5.", "`5`"),
        ("width +5 mm", "syntax::step", 9, "+5", "`try width + 5 mm`"),
        (
            "width +0.5 mm",
            "syntax::step",
            9,
            "+0.5",
            "`try width + 0.5 mm`",
        ),
        ("width 1e-3 mm", "syntax::number", 9, "1e-3", "`0.001`"),
        ("width 1.5e+3 mm", "syntax::number", 9, "1.5e+3", "`1500`"),
        (
            "width 1e3 mm",
            "model::ambiguous_unit",
            10,
            "e3",
            "write all the digits",
        ),
        (
            "width 1E3 mm",
            "model::ambiguous_unit",
            10,
            "E3",
            "write all the digits",
        ),
        (
            "width 2e3",
            "model::ambiguous_unit",
            10,
            "e3",
            "write all the digits",
        ),
        ("width 5/0", "syntax::fraction", 9, "5/0", "2, 4 or 8"),
        (
            "width 5",
            "model::unit_missing",
            9,
            "5",
            "mm, cm, m, \u{B5}m or in",
        ),
        (
            "width -5 mm",
            "model::out_of_range",
            9,
            "-5 mm",
            "width 4.5 mm",
        ),
        (
            "width 0 mm",
            "model::out_of_range",
            9,
            "0 mm",
            "width 4.5 mm",
        ),
        (
            "width 2026-13-25",
            "model::date",
            9,
            "2026-13-25",
            "2026-11-25",
        ),
        (
            "width 12345678901234567890123456789012 mm",
            "syntax::digits",
            9,
            "12345678901234567890123456789012",
            "at most 28 digits",
        ),
    ]);
}

#[test]
fn operators() {
    check(&[
        (
            "size 7-1/2",
            "syntax::tight_operator",
            8,
            "7-1/2",
            "`7 1/2` for the fraction, or `7 - 1/2`",
        ),
        (
            "size US 7-1/2",
            "syntax::tight_operator",
            11,
            "7-1/2",
            "`7 1/2` for the fraction",
        ),
        (
            "width a-0.2 mm",
            "syntax::tight_operator",
            9,
            "a-0.2",
            "`a - 0.2 mm`",
        ),
        (
            "width 5 mm-1 mm",
            "syntax::tight_operator",
            11,
            "mm-1",
            "`5 mm - 1 mm`",
        ),
        (
            "width 5 mm +1 mm",
            "syntax::tight_operator",
            14,
            "+1",
            "`5 mm + 1 mm`",
        ),
        (
            "width 5 mm+ 1 mm",
            "syntax::tight_operator",
            11,
            "mm+",
            "`5 mm + 1 mm`",
        ),
        (
            "width 5*2 mm",
            "syntax::tight_operator",
            9,
            "5*2",
            "`5 * 2 mm`",
        ),
        (
            "width 5\u{D7}2 mm",
            "syntax::tight_operator",
            9,
            "5\u{D7}2",
            "`5 \u{D7} 2 mm`",
        ),
        (
            "width 5 mm..6 mm",
            "syntax::tight_operator",
            11,
            "mm..6",
            "`5 mm .. 6 mm`",
        ),
        (
            "width 1 / 2 mm",
            "syntax::two_readings",
            9,
            "1 / 2 mm",
            "`0.5 mm`, or `1 / (2 mm)`",
        ),
        (
            "width 5 mm // wide",
            "syntax::tight_operator",
            14,
            "//",
            "comments begin with `#`",
        ),
        ("width = 5 mm", "syntax::mark", 9, "=", "`width 5 mm`"),
        ("width (5 mm", "syntax::open_bracket", 9, "(", "`)`"),
        ("width [5 mm", "syntax::open_bracket", 9, "[", "`]`"),
        (
            "width 5 mm)",
            "syntax::unreadable",
            13,
            ")",
            "`width 4.5 mm`",
        ),
        (
            "width --5 mm",
            "syntax::unreadable",
            10,
            "-5",
            "`width 4.5 mm`",
        ),
        (
            "width \"open",
            "syntax::open_text",
            9,
            "\"",
            "on the same line",
        ),
    ]);
}

#[test]
fn a_mark_behind_the_head_word() {
    let found = only(&band_with(&["comfort: 0.1 mm"]));
    assert_eq!(
        (found.code.as_str(), found.text.as_str()),
        ("syntax::mark", ":")
    );
    assert!(found.help.contains("`comfort 0.1 mm`"), "{found:?}");
}

#[test]
fn units_are_replaced_only_by_units_of_the_dimension_due() {
    check(&[
        (
            "width 1.5 milimetre",
            "model::unknown_unit",
            13,
            "milimetre",
            "did you mean `millimetre`?",
        ),
        (
            "width 1.5 mmm",
            "model::unknown_unit",
            13,
            "mmm",
            "did you mean `mm`?",
        ),
        (
            "width 1.5 gm",
            "model::unknown_unit",
            13,
            "gm",
            "units of length: mm",
        ),
        (
            "width 1.5 grm",
            "model::unknown_unit",
            13,
            "grm",
            "units of length: mm, cm",
        ),
        (
            "width 5 d",
            "model::unknown_unit",
            11,
            "d",
            "units of length: mm, cm",
        ),
        (
            "width 5 inchs",
            "model::unknown_unit",
            11,
            "inchs",
            "did you mean `inch",
        ),
        (
            "width 5 mm/q",
            "model::unknown_unit",
            14,
            "q",
            "units of length",
        ),
    ]);
    // Only a unit that is meant beyond doubt is offered as a repair; `mmm` may be short of another letter.
    for (line, repair) in [
        ("width 1.5 milimetre", Some("millimetre")),
        ("width 1.5 mmm", None),
        ("width 1.5 grm", None),
        ("width 5 d", None),
    ] {
        assert_eq!(
            only(&band_with(&[line])).repair.as_deref(),
            repair,
            "{line}"
        );
    }
    let alloy = |line: &str| {
        let mix = "gold 585, copper 325, silver 90";
        only(&format!(
            "alloy a {{\n  {mix}\n  {line}\n}}\n{}",
            band_with(&["alloy a"])
        ))
    };
    let cases = [
        (
            "density 13.3 g/cm",
            "model::wrong_kind",
            "as in `density 13.30 g/cm3`",
        ),
        ("density 13.3 g/cmm3", "model::unknown_unit", "g/cm3"),
        ("density 13.3 mm", "model::wrong_kind", "g/cm3"),
        (
            "temper hard { yield 520 MP }",
            "model::unknown_unit",
            "did you mean `MPa`?",
        ),
        (
            "temper hard { yield 520 mPa }",
            "model::unknown_unit",
            "1 mPa is 0.000000001 MPa",
        ),
        (
            "temper hard { yield 520 m }",
            "model::wrong_kind",
            "yield 300 MPa",
        ),
    ];
    for (line, code, help) in cases {
        let found = alloy(line);
        assert_eq!(found.code, code, "{line}: {found:?}");
        assert!(found.help.contains(help), "{line}: {found:?}");
    }
}

#[test]
fn carat_karat_and_the_ounce() {
    check(&[
        (
            "width 5 ct",
            "model::ambiguous_unit",
            11,
            "ct",
            "units of length",
        ),
        (
            "width 5 carat",
            "model::ambiguous_unit",
            11,
            "carat",
            "units of length",
        ),
        (
            "width 5 oz",
            "model::ambiguous_unit",
            11,
            "oz",
            "`ozt` for the troy ounce",
        ),
        (
            "width 5 gr",
            "model::ambiguous_unit",
            11,
            "gr",
            "`g` or `grain`",
        ),
        (
            "width 5 karat",
            "model::wrong_kind",
            9,
            "5 karat",
            "width 4.5 mm",
        ),
    ]);
    // A fineness where a weight is due, and a stone's weight where a fineness is due: both are named.
    let let_only = |value: &str| only(&format!("let a = {value}\n{}", band_with(&[])));
    let found = let_only("1 g + 18 karat");
    assert_eq!(found.code, "model::mixed_kinds");
    assert!(found.help.contains("a karat is a fineness"), "{found:?}");
    assert!(
        found.help.contains("a carat is the weight of a stone"),
        "{found:?}"
    );
    let found = let_only("1 g + 5 ct");
    assert_eq!(
        (found.code.as_str(), found.text.as_str()),
        ("model::ambiguous_unit", "ct")
    );
    assert!(found.message.contains("weight of a stone"), "{found:?}");
    let found = only(&format!(
        "alloy a {{ gold 18 ct, silver 250 }}\n{}",
        band_with(&["alloy a"])
    ));
    assert!(found.help.contains("`karat`"), "{found:?}");
    assert!(found.message.contains("not a fineness"), "{found:?}");
}

#[test]
fn free_names_never_clash_with_units() {
    let lets: String = [
        "d", "t", "w", "h", "g", "m", "s", "oz", "mm", "in", "by", "of", "x",
    ]
    .iter()
    .enumerate()
    .map(|(place, name)| format!("let {name} = {} mm\n", place + 1))
    .collect();
    for name in ["d", "t", "w", "h", "g", "m", "s", "oz", "mm", "x"] {
        let recipe = format!("{lets}{}", band_with(&[&format!("width {name} + 0.5 mm")]));
        assert_eq!(
            findings(&recipe).len(),
            0,
            "{name}: {:?}",
            findings(&recipe)
        );
    }
    // A number still takes the word behind it as its unit.
    let found = only(&format!("{lets}{}", band_with(&["width 5 d"])));
    assert_eq!(
        (found.code.as_str(), found.text.as_str()),
        ("model::unknown_unit", "d")
    );
    let recipe = format!("{lets}{}", band_with(&["width 5 m / 1000"]));
    assert_eq!(crate::support::plain(&recipe, "b.width in mm"), "5");
}

#[test]
fn right_after_a_number_in_is_the_inch() {
    for line in ["width 0.5 in", "width 0.5in", "width 0.5 in in mm"] {
        let recipe = band_with(&[line]);
        assert_eq!(
            crate::support::plain(&recipe, "width in mm"),
            "12.7",
            "{line}"
        );
    }
}
