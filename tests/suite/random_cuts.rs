//! Random drawn cuts and the cutters that make them, for [`crate::random_bands`].
//!
//! No test of its own. Cuts are shallow, since a rigid tool goes deeper than its tip uphill.

use crate::random_recipe::{Dice, Entry, called, mm, number, word};

/// Cuts of a pattern.
pub struct Cuts {
    /// What stands in the pattern.
    pub fields: Vec<Entry>,
    /// The cutters, at the top level.
    pub cutters: Vec<Entry>,
}

/// The kinds of cut.
const KINDS: &[&str] = &[
    "flutes", "lines", "wave", "ring", "dots", "facets", "path", "pocket",
];

/// Cuts for a band of a width; lengths in micrometres.
pub fn cuts(dice: &mut Dice, width: i64, deepest: i64) -> Cuts {
    let mut fields = Vec::new();
    if dice.chance(50) {
        fields.push(number("repeats", dice.between(6, 30), 0, "", 1));
    } else {
        fields.push(mm("motif", dice.length(1800, 5000)));
        if dice.chance(40) {
            fields.push(number("multiple", dice.between(1, 4), 0, "", 1));
        }
    }
    if dice.chance(25) {
        fields.push(number("minutes", dice.between(1, 15), 0, "min", 1));
    }
    fields.push(word("cutter", dice.one(&["sharp", "round"])));
    fields.push(mm("depth", dice.length(30, deepest)));
    let first = dice.one(KINDS);
    fields.push(cut(dice, first, width, deepest));
    let second = dice.one(KINDS);
    if dice.chance(35) {
        let mut named = cut(dice, second, width, deepest);
        if dice.chance(50) || second == first {
            let path = format!("{second}.more");
            let block = std::mem::take(&mut named.block);
            named = called(&format!("{second} more"), &path, "").with(block);
        }
        fields.push(named);
    }
    Cuts {
        fields,
        cutters: cutters(dice),
    }
}

fn cut(dice: &mut Dice, kind: &'static str, width: i64, deepest: i64) -> Entry {
    let quarter = width / 4;
    let mut fields = Vec::new();
    let count = number("count", dice.between(1, 3), 0, "", 1);
    let place = dice.length(-quarter, quarter);
    match kind {
        "flutes" => fields.push(count),
        "lines" => {
            fields.push(count);
            fields.push(number("slant", dice.between(-45, 45), 0, "deg", 1));
            fields.push(word("both-ways", dice.one(&["yes", "no"])));
        }
        "wave" => {
            fields.push(mm("rise", dice.length(200, quarter)));
            fields.push(mm("at", place / 2));
            fields.push(number("periods", dice.between(1, 2), 0, "", 1));
        }
        "ring" => {
            fields.push(match dice.chance(50) {
                true => mm("at", place),
                false => mm("from-edge", dice.length(300, quarter)),
            });
            fields.push(word("both", dice.one(&["yes", "no"])));
        }
        "dots" => {
            fields.push(count);
            fields.push(mm("row", place));
            fields.push(word("cutter", "round"));
        }
        "facets" => {
            fields.push(count);
            fields.push(mm("row", place));
            fields.push(number("tilt", dice.between(0, 8), 0, "deg", 1));
            fields.push(word("cutter", "face"));
        }
        "path" => {
            let to = dice.length(200, quarter);
            let at = |u: i64, v: i64| {
                let sign = if v < 0 { "-" } else { "" };
                let v = v.abs();
                format!(
                    "{}.{:03} mm {sign}{}.{:03} mm",
                    u / 1000,
                    u % 1000,
                    v / 1000,
                    v % 1000
                )
            };
            fields.push(called("from", "", &at(100, -to)));
            fields.push(called(
                "arc",
                "",
                &format!("{} to {}", at(700, 0), at(200, to)),
            ));
            fields.push(called("to", "", &at(1200, to)));
            fields.push(mm("depth", dice.length(0, deepest)));
            fields.push(mm("ramp", dice.length(30, deepest)));
            return word(kind, "").with(fields);
        }
        _ => {
            for (head, place) in [
                ("from", "0.2 mm -0.4 mm"),
                ("to", "1.4 mm -0.4 mm"),
                ("to", "1.4 mm 0.4 mm"),
                ("to", "0.2 mm 0.4 mm"),
            ] {
                fields.push(called(head, "", place));
            }
            fields.push(word("cutter", "wide"));
            fields.push(mm("step-over", dice.length(100, 300)));
        }
    }
    if dice.chance(50) {
        fields.push(mm("depth", dice.length(30, deepest)));
    }
    word(kind, "").with(fields)
}

fn cutters(dice: &mut Dice) -> Vec<Entry> {
    let mut speeds = |more: Vec<Entry>| {
        let mut fields = more;
        fields.push(number("feed", dice.between(200, 900), 0, "mm/min", 1));
        fields.push(number("plunge", dice.between(40, 200), 0, "mm/min", 1));
        if dice.chance(40) {
            fields.push(mm("pass", dice.length(40, 200)));
        }
        if dice.chance(30) {
            fields.push(mm("lift", dice.length(200, 800)));
            fields.push(number("rapid", dice.between(1000, 4000), 0, "mm/min", 1));
        }
        fields
    };
    let (sharp, round) = (speeds(Vec::new()), speeds(Vec::new()));
    let (wide, face) = (speeds(Vec::new()), speeds(Vec::new()));
    let angle = number("angle", dice.between(60, 140), 0, "deg", 1);
    let tip = mm("tip", dice.length(0, 80));
    let radius = mm("radius", dice.length(150, 400));
    let flat = mm("width", dice.length(200, 500));
    vec![
        called("cutter sharp vee", "cutter.sharp", "").with([angle, tip].into_iter().chain(sharp)),
        called("cutter round ball", "cutter.round", "").with(std::iter::once(radius).chain(round)),
        called("cutter wide flat", "cutter.wide", "").with(std::iter::once(flat).chain(wide)),
        called("cutter face facet", "cutter.face", "").with(face),
    ]
}
