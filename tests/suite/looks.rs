//! What stands out in a typed line, by the lexical rules of the language: the word right after a number is its unit,
//! save `of by in meets where x`; a command counts as the first word alone; everything behind `#` is a comment.

use annulet::bench::{Kind, look};

/// The parts that stand out, each with its letter: command, field, number, unit, text, #.
fn told(line: &str) -> String {
    let part = |(range, kind): (std::ops::Range<usize>, Kind)| {
        let letter = match kind {
            Kind::Command => 'c',
            Kind::Field => 'f',
            Kind::Number => 'n',
            Kind::Unit => 'u',
            Kind::Text => 't',
            Kind::Comment => '#',
        };
        format!("{letter}:{}", &line[range])
    };
    look(line)
        .into_iter()
        .map(part)
        .collect::<Vec<_>>()
        .join(" | ")
}

#[test]
fn parts_of_a_line_are_told_apart() {
    for (line, wanted) in [
        ("width 4.5 mm", "f:width | n:4.5 | u:mm"),
        // Names of the recipe's own are plain: no field, no block.
        ("wide-look 4.5 mm", "n:4.5 | u:mm"),
        ("width half * 2", "f:width | n:2"),
        ("band millstone {", "f:band"),
        // Units take no name away: only behind a number are they units.
        ("let mm = 3 g", "f:let | n:3 | u:g"),
        ("order fair { b 3 of 17 mm }", "f:order | n:3 | n:17 | u:mm"),
        (
            "ridge 0.12 mm by 0.01 mm",
            "f:ridge | n:0.12 | u:mm | n:0.01 | u:mm",
        ),
        ("cover 90 %", "f:cover | n:90 | u:%"),
        ("cover 5 \u{2030}", "f:cover | n:5 | u:\u{2030}"),
        // A sign that follows no number is no unit.
        ("% width", "f:width"),
        // A command is one only where it stands first.
        ("try width 4 mm", "c:try | f:width | n:4 | u:mm"),
        ("width try", "f:width"),
        // Fractions and days are numbers as a whole.
        ("size US 7 1/2", "f:size | n:7 | n:1/2"),
        ("dated 2026-11-25", "f:dated | n:2026-11-25"),
        (
            "title \"4 mm # wide\" # 5 g",
            "f:title | t:\"4 mm # wide\" | #:# 5 g",
        ),
    ] {
        assert_eq!(told(line), wanted, "{line}");
    }
}
