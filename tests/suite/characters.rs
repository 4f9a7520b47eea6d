//! Characters from elsewhere: accepted or refused by their code point, and carets under the right cells.
//!
//! The corpus is that of the acceptance list's point 19: byte order mark, line ends, tabs, no-break spaces, both
//! micro signs, multiplication sign, superscripts, full-width and Arabic digits, controls, overrides.

use annulet::source::cells;

use crate::support::{Found, band_with, findings, root, run_in};

/// The one finding of a recipe.
fn only(recipe: &str) -> Found {
    let found = findings(recipe);
    assert_eq!(found.len(), 1, "{recipe}\n{found:#?}");
    found[0].clone()
}

#[test]
fn characters_from_elsewhere_are_refused_by_their_code_point() {
    // A character in a line, its code point as printed, a part of the help.
    let cases = [
        (
            "width 5 \u{2212} 1 mm",
            "(U+2212)",
            "the minus sign of the keyboard",
        ),
        (
            "width 5 \u{2013} 1 mm",
            "(U+2013)",
            "the minus sign of the keyboard",
        ),
        ("title \u{201C}x", "(U+201C)", "straight quotation mark"),
        ("width 5 mm;", "(U+003B)", "a comma or a new line"),
        ("width 5 $", "(U+0024)", "ISO 4217 code"),
        ("width 5 \u{20AC}", "(U+20AC)", "ISO 4217 code"),
        ("width \u{FF15} mm", "(U+FF15)", "full-width"),
        ("width \u{665} mm", "(U+0665)", "digits 0 to 9"),
        ("width \u{9EB} mm", "(U+09EB)", "digits 0 to 9"),
        ("width 5\u{2009}mm", "(U+2009)", "an ordinary space"),
        ("width 5\u{3000}mm", "(U+3000)", "an ordinary space"),
        ("width 5\u{200B}mm", "(U+200B)", "invisible"),
        ("width 5\u{200D} mm", "(U+200D)", "invisible"),
        ("width 5 \u{2264} 6 mm", "(U+2264)", "`<=`"),
        ("width 1\u{2044}2", "(U+2044)", "stroke of the keyboard"),
        ("width 5 mm\u{0}", "(U+0000)", "control character"),
        ("width 5 \u{1B}[31mmm", "(U+001B)", "control character"),
        ("width 5 mm\u{7F}", "(U+007F)", "control character"),
        ("width 5 mm\u{85}", "(U+0085)", "control character"),
        ("width 5\u{202E} mm", "(U+202E)", "direction of writing"),
        ("width 5\u{2066} mm", "(U+2066)", "direction of writing"),
        ("title \"a\u{202E}b\"", "(U+202E)", "direction of writing"),
        ("title \"a\u{1B}[2Jb\"", "(U+001B)", "control character"),
        (
            "width 5 mm # a\u{202D}b",
            "(U+202D)",
            "direction of writing",
        ),
        ("width 5 \u{339C}", "(U+339C)", "remove it"),
        ("width 5 mm\u{2028}", "(U+2028)", "an ordinary space"),
        ("title \"a\u{2028}b\"", "(U+2028)", "an ordinary space"),
        ("title \"a\u{2029}b\"", "(U+2029)", "an ordinary space"),
        ("title \"a\u{200B}b\"", "(U+200B)", "invisible"),
        ("title \"a\u{2060}b\"", "(U+2060)", "invisible"),
        ("title \"a\u{206F}b\"", "(U+206F)", "invisible"),
        ("title \"a\u{FEFF}b\"", "(U+FEFF)", "invisible"),
        ("title \"a\u{AD}b\"", "(U+00AD)", "invisible"),
        ("title \"a\u{3164}b\"", "(U+3164)", "invisible"),
        ("title \"a\u{E0041}b\"", "(U+E0041)", "invisible"),
        ("width 5 mm # a\u{200B}b", "(U+200B)", "invisible"),
    ];
    for (line, code_point, help) in cases {
        let found = only(&band_with(&[line]));
        assert_eq!(found.code, "syntax::character", "{line:?}: {found:?}");
        assert!(found.message.contains(code_point), "{line:?}: {found:?}");
        assert!(found.help.contains(help), "{line:?}: {found:?}");
        let shown = found.message.chars().all(annulet::source::is_safe);
        assert!(shown, "{line:?}: {found:?}");
    }
}

#[test]
fn a_name_holds_no_character_that_is_not_seen() {
    for (name, code) in [
        ("a\u{FE0F}", "(U+FE0F)"),
        ("\u{6307}\u{E0100}", "(U+E0100)"),
    ] {
        let found = findings(&band_with(&[]).replace("band b", &format!("band {name}")));
        assert!(!found.is_empty(), "{name:?}");
        assert_eq!(found[0].code, "syntax::character", "{name:?}: {found:?}");
        assert!(found[0].message.contains(code), "{name:?}: {found:?}");
    }
}

#[test]
fn characters_that_are_accepted() {
    let sound = band_with(&[]);
    let recipes = [
        format!("\u{FEFF}{sound}"),
        sound.replace('\n', "\r\n"),
        sound.replace('\n', "\r"),
        format!("\u{FEFF}{}", sound.replace('\n', "\r\n")),
        sound.replace("  ", "\t"),
        sound.replace(" 5 mm", "\u{A0}5\u{A0}mm"),
        sound.replace(" 5 mm", " 5\u{202F}mm"),
        sound.replace("5 mm", "5000 \u{B5}m"),
        sound.replace("5 mm", "5000 \u{3BC}m"),
        sound.replace("5 mm", "2.5 mm \u{D7} 2"),
        sound.replace("5 mm", "25 mm\u{B2} / (5 mm)"),
        sound.replace("5 mm", "5mm"),
        sound.replace("band b", "band \u{42F}-\u{6307}\u{8F2A}"),
        sound.replace("band b", "band e\u{301}t\u{E9}"),
        sound.trim_end().to_owned(),
    ];
    for recipe in recipes {
        assert_eq!(
            findings(&recipe).len(),
            0,
            "{recipe:?}: {:?}",
            findings(&recipe)
        );
    }
}

#[test]
fn columns_count_characters() {
    // What stands before the faulty unit on its line, and the unit's column.
    let cases = [
        ("  width 5 ", 11),
        ("\twidth 5 ", 10),
        ("\twidth\t5\t", 10),
        ("  title \"\u{6307}\u{8F2A}\", width 5 ", 25 - 2),
        ("  title \"\u{1F48D}\", width 5 ", 22),
        ("  title \"e\u{301}\", width 5 ", 23),
        ("  title \"\u{DF}\u{E9}\", width 5 ", 23),
        ("  width\u{A0}5\u{A0}", 11),
    ];
    let rest = "\n  size 17 mm\n  thickness 2 mm\n  profile flat\n  alloy silver-925\n}\n";
    for (before, column) in cases {
        for start in ["", "\u{FEFF}"] {
            for end in ["\n", "\r\n", "\r"] {
                let recipe = format!("{start}band b {{\n{before}mmm{rest}").replace('\n', end);
                let found = findings(&recipe);
                assert_eq!(found.len(), 1, "{before:?}: {found:?}");
                assert_eq!(found[0].text, "mmm", "{before:?}");
                assert_eq!(found[0].place, format!("2:{column}"), "{before:?} {end:?}");
            }
        }
    }
}

#[test]
fn carets_stand_under_the_right_cells() {
    let befores = [
        "  width 5 ",
        "\twidth\t5\t",
        "  title \"\u{6307}\u{8F2A}\u{FF21}\", width 5 ",
        "  title \"e\u{301}\u{DF}\", width 5 ",
        "  title \"\u{1F48D}\", width 5 ",
    ];
    for before in befores {
        let rest = "size 17 mm\n  thickness 2 mm\n  profile flat\n  alloy silver-925\n}";
        let recipe = format!("band b {{\n{before}milimetre\n  {rest}\n");
        let ran = run_in(&root(), &["check", "-"], recipe.as_bytes());
        let lines: Vec<&str> = ran.stderr.lines().collect();
        let shown = lines
            .iter()
            .position(|line| line.contains("milimetre\u{20}") || line.ends_with("milimetre"));
        let shown = shown.unwrap_or_else(|| panic!("{}", ran.stderr));
        let word = lines[shown].find("milimetre").unwrap();
        let mark = lines[shown + 1].find('^').unwrap();
        let (source, marks) = (&lines[shown][..word], &lines[shown + 1]);
        assert_eq!(
            cells(source),
            cells(&marks[..mark]),
            "{before:?}\n{}",
            ran.stderr
        );
        let under: String = marks[mark..].chars().take_while(|c| *c == '^').collect();
        assert_eq!(
            cells(&under),
            "milimetre".len(),
            "{before:?}\n{}",
            ran.stderr
        );
    }
}
