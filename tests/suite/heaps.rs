//! Heaps of one thing: brackets, runs, names, chains, numbers at the ends of their range.
//!
//! What an attacker would try first, or a script that went astray. Each ends within the patience of
//! `hostile.rs`, on a test thread's small stack, with findings that are bounded too.

use annulet::session::{Request, Session};
use annulet::syntax::{DEEPEST, LARGEST};

use crate::hostile::survive;
use crate::support::band_with;

fn is_refused(codes: &[String]) -> bool {
    codes.iter().any(|code| code != "finding::too_many")
}

#[test]
fn a_hundred_thousand_brackets_of_each_kind() {
    const MANY: usize = 100_000;
    for bracket in [
        "(",
        "[",
        "{",
        "a {\n",
        "a { ",
        "min(",
        "(-",
        "\"(\" [",
        "band b {\n",
    ] {
        let codes = survive(&bracket.repeat(MANY / bracket.len()));
        assert!(
            codes.contains(&"syntax::too_deep".to_owned()),
            "{bracket:?}: {codes:?}"
        );
        let line = format!("width {}", bracket.repeat(MANY / bracket.len()));
        assert!(is_refused(&survive(&band_with(&[&line]))), "{bracket:?}");
    }
    for bracket in [
        ")", "]", "}", "()", "[]", "{}", ")(", "}{", "a {}\n", "\"", "\\\"", "#\n",
    ] {
        survive(&bracket.repeat(MANY / bracket.len()));
        survive(&format!("let a = {}", bracket.repeat(MANY / bracket.len())));
    }
}

#[test]
fn brackets_up_to_the_limit_are_read() {
    let nested = |depth: usize| format!("width {}5 mm{}", "(".repeat(depth), ")".repeat(depth));
    assert_eq!(
        survive(&band_with(&[&nested(DEEPEST)])),
        Vec::<String>::new()
    );
    assert_eq!(
        survive(&band_with(&[&nested(DEEPEST + 1)])),
        ["syntax::too_deep"]
    );
}

#[test]
fn long_runs_of_one_thing() {
    let pieces = [
        "a",
        "1",
        "-",
        "+",
        "=",
        ":",
        ".",
        ",",
        "/",
        "*",
        "$",
        "\u{0}",
        "\u{6307}",
        "\u{301}",
        " ",
        "\n",
        "\r",
        "1.",
        "a-",
        "a=",
        "1,1",
        "1-1 ",
        "1 + ",
        "- ",
        "x ",
        "!\n",
        "}\n",
        "5 mm ",
        "\u{B1} ",
        "(1) ",
        "[1] ",
        "\"a\" ",
        "1e-1",
        "1/2 ",
        "a.b",
        "gold 1\n",
        "let a = 1\n",
        "# c\n",
        "ISO 54 ",
        "2026-11-25 ",
        "mm/",
        "\u{BD}",
        "..",
        "a\n",
    ];
    for piece in pieces {
        let many = 40_000 / piece.len();
        for text in [
            piece.repeat(many),
            format!("band b {{\n{}\n}}\n", piece.repeat(many)),
            format!("let a = {}", piece.repeat(many)),
            band_with(&[&format!("width {}", piece.repeat(many))]),
        ] {
            survive(&text);
        }
    }
}

#[test]
fn many_of_everything() {
    let count = 5_000;
    let each = |line: &dyn Fn(usize) -> String| (0..count).map(line).collect::<String>();
    let texts = [
        each(&|n| format!("let a{n} = {n} mm\n")),
        each(&|n| format!("let a{n} = a{}\n", n + 1)),
        format!(
            "let a0 = 1 mm\n{}",
            each(&|n| format!("let a{} = a{n} + 1 mm\n", n + 1))
        ),
        format!("band b {{\n{}}}\n", each(&|n| format!("  width{n} 5 mm\n"))),
        format!("alloy a {{\n{}}}\n", each(&|n| format!("  gold{n} 5\n"))),
        format!(
            "alloy a {{\n  gold 1000\n{}}}\n",
            each(&|n| format!("  temper t{n} {{ yield 5 MPa }}\n"))
        ),
        each(&|n| format!("use \"{n}.annulet\"\n")),
        each(&|_| "band b {\n}\n".to_owned()),
        format!(
            "{}{}",
            band_with(&[]),
            each(&|n| format!("require b.weight > {n} kg\n"))
        ),
        format!(
            "{}{}",
            band_with(&[]),
            each(&|n| format!("variant v{n} of b {{ width {}.5 mm }}\n", n % 9 + 1))
        ),
        format!("let a = [{}]\n", "1 mm, ".repeat(count)),
        format!(
            "{}{}",
            band_with(&[]),
            each(&|n| format!("b.width{n} 5 mm\n"))
        ),
        format!("{}{}", band_with(&[]), "b.width 5 mm\n".repeat(count)),
        each(&|n| format!("shop.operation.turning{n}.run 5 min\n")),
        each(&|n| format!("alloy.a{n}.gold 1000\n")),
        format!("band b {{\n{}}}\n", each(&|n| format!("  a{n}.b.c 5 mm\n"))),
        format!(
            "band b {{\n{}}}\n",
            "  a.b.c.d.e.f.g.h 5 mm\n".repeat(count)
        ),
        format!("band b {{\n  {} 5 mm\n}}\n", vec!["a"; 4 * count].join(".")),
        format!("{}{}", "a.b.c.d.e.f.g {\n".repeat(40), "}\n".repeat(40)),
        format!(
            "{}{}",
            "let a = 1 mm\n".repeat(count),
            band_with(&["width a"])
        ),
    ];
    for text in texts {
        assert!(text.len() < LARGEST);
        survive(&text);
    }
}

#[test]
fn values_that_need_each_other() {
    for text in [
        "let a = a\n".to_owned(),
        "let a = b\nlet b = c\nlet c = a\n".to_owned(),
        band_with(&["width thickness", "thickness width"]),
        band_with(&["width b.width"]),
        "let a = b.width\n".to_owned() + &band_with(&["width a"]),
    ] {
        let codes = survive(&text);
        assert!(
            codes.contains(&"model::circle".to_owned()),
            "{text}\n{codes:?}"
        );
        assert_eq!(
            codes.iter().filter(|code| *code == "model::circle").count(),
            1,
            "{text}"
        );
    }
    // Each value is as deep as may be, and the next one lies inside it.
    for (open, close) in [("(1 + ", ")"), ("min(", ")"), ("[", "]"), ("-(", ")")] {
        let lets: String = (0..200)
            .map(|n| {
                format!(
                    "let a{n} = {}a{}{}\n",
                    open.repeat(24),
                    n + 1,
                    close.repeat(24)
                )
            })
            .collect();
        survive(&(lets + "let a200 = 1 mm\n"));
    }
    // In their order they are worked out one by one, and a list of lists would grow all the same.
    let lists: String = (1..1500)
        .map(|n| {
            format!(
                "let a{n} = {}a{}{}\n",
                "[".repeat(24),
                n - 1,
                "]".repeat(24)
            )
        })
        .collect();
    survive(&("let a0 = 1 mm\n".to_owned() + &lists));
    let sums: String = (0..200)
        .map(|n| format!("let a{n} = a{}{}\n", n + 1, " + 1 mm".repeat(60)))
        .collect();
    survive(&(sums + "let a200 = 1 mm\n"));
}

#[test]
fn numbers_at_the_ends_of_the_range() {
    let big = "79228162514264337593543950335";
    let lines = [
        format!("width {big} mm"),
        format!("width {big} km"),
        format!("width {big} mm + {big} mm"),
        format!("width {big} mm * {big}"),
        "width 0.0000000000000000000000000001 mm".to_owned(),
        format!("size {big} mm"),
        format!("thickness {big} m"),
        format!("width 5 mm \u{B1} {big} mm"),
        format!("pattern {{ repeats {big}, depth 0.1 mm, cover 50 % }}"),
        format!("pattern {{ repeats 1, depth 0.{big} mm, cover 50 % }}"),
        "width 1/4294967295".to_owned(),
        "width 4294967295 4294967295/4294967295".to_owned(),
        "width 5 mm + 1/99999999999".to_owned(),
        format!("width sqrt({big} mm * {big} mm)"),
        "size UK Z+4294967296".to_owned(),
        format!("size ISO {big}"),
        format!("size US 1/{big}"),
        "size ISO 54 + 9223372036854775807".to_owned(),
        "size ISO 54 + 1/9223372036854775807".to_owned(),
        "size ISO 54 \u{B1} 9223372036854775807".to_owned(),
        "comfort 0.0000000000000000001 mm".to_owned(),
        "thickness 0.0000000001 mm".to_owned(),
        "width 100000 mm".to_owned(),
    ];
    for line in lines {
        let mut session = Session::default();
        let outcome = session.run("r", &band_with(&[&line]), &Request::default());
        for evaluation in &outcome.evaluations {
            let figures = &evaluation.figures;
            assert!(
                figures.weight.is_finite() && figures.weight > 0.0,
                "{line}: {}",
                figures.weight
            );
        }
        survive(&band_with(&[&line]));
    }
}
