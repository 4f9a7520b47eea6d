//! A recipe built and mended at the bench, a line at a time; comments through all of it.
//!
//! Held against the language page: what is kept is what a person would have written, every comment survives,
//! and a slip is answered where it was made.

use annulet::bench::complete;
use proptest::prelude::*;

use crate::bench::{bench_on, refused, typed};

const PLAIN: &str = "\
annulet 1

band b {
  size ISO 54
  width 5 mm  # measured
  thickness 1.5 mm
  profile flat
  alloy sterling
}
";

#[test]
fn a_band_is_built_line_by_line() {
    let (mut bench, _) = bench_on("");
    let none = refused(&mut bench, "width 5 mm").complaint.unwrap();
    assert!(none.contains("`band mine"), "{none}");
    let lines = [
        "band b { size ISO 54 }",
        "width 5 mm",
        "profile domed",
        "profile.edge 1.2 mm",
        "alloy sterling",
        "thickness 1.6 mm",
        "pattern.depth 0.3 mm",
        "pattern { cover 90 % }",
        "hollow { shell 0.6 mm }",
        "hollow.sleeve 0.3 mm",
    ];
    let said: Vec<String> = lines
        .iter()
        .map(|line| typed(&mut bench, &[line]))
        .collect();
    let missing = |place: usize| said[place].split("still missing").nth(1);
    assert!(
        missing(0)
            .unwrap()
            .contains("`width`, `thickness`, `profile` and `alloy`")
    );
    assert!(missing(4).unwrap().contains("lacks `thickness`"));
    assert!(
        missing(5).is_none() && said[5].contains("b: weight"),
        "{}",
        said[5]
    );
    assert!(missing(6).unwrap().contains("`pattern.cover`"));
    assert!(missing(7).is_none() && missing(8).is_some() && missing(9).is_none());
    assert_eq!(
        bench.text(),
        // A block that grows too long for its line is broken into lines.
        "annulet 1\n\nband b {\n  size ISO 54\n  width 5 mm\n  thickness 1.6 mm\n  profile domed { edge 1.2 mm }\n  \
         alloy sterling\n  pattern { depth 0.3 mm, cover 90 % }\n  hollow { shell 0.6 mm, sleeve 0.3 mm }\n}\n"
    );
    for _ in lines {
        bench.step("undo");
    }
    assert_eq!(bench.text(), "");
    // A whole band is not made a part of one by typing a part of it anew; of a line a try needs the whole too.
    let (mut bench, _) = bench_on(PLAIN);
    refused(&mut bench, "band b { width 3 mm }");
    refused(&mut bench, "try pattern.depth 0.3 mm");
}

#[test]
fn prices_shop_and_an_order_are_built_line_by_line() {
    let (mut bench, _) = bench_on("");
    let lines = [
        "prices { dated 2026-11-20 }",
        "prices.silver 1.1 EUR/g",
        "shop { labour 40 EUR/h }",
        "shop.operation turning { run 4 min }",
        "shop.operation.turning.run 6 min",
        "stock rod rod { outside 22 mm, length 300 mm }",
        "band b { size ISO 54, width 5 mm, thickness 1.6 mm, profile flat, alloy sterling }",
        "stock rod",
        "sale piece { markup 100 % }",
        "order fair { b 3 of ISO 54 }",
        "order.fair.b 2 of ISO 55",
    ];
    let said: Vec<String> = lines
        .iter()
        .map(|line| typed(&mut bench, &[line]))
        .collect();
    assert!(
        said[10].contains("order fair: rings 3 \u{2192} 2"),
        "{}",
        said[10]
    );
    assert_eq!(
        bench.text(),
        "\
annulet 1

prices { dated 2026-11-20, silver 1.1 EUR/g }

shop { labour 40 EUR/h, operation turning { run 6 min } }

stock rod rod { outside 22 mm, length 300 mm }

band b {
  size ISO 54
  width 5 mm
  thickness 1.6 mm
  profile flat
  alloy sterling
  stock rod
  sale piece { markup 100 % }
}

order fair { b 2 of ISO 55 }
"
    );
    let offer = typed(&mut bench, &["offer fair"]);
    assert!(
        offer.contains("size ISO 55") && offer.contains("2 at "),
        "{offer}"
    );
    assert_eq!(typed(&mut bench, &["offer"]), offer);
    let none = refused(&mut bench, "offer fiar").complaint.unwrap();
    assert!(none.contains("orders are fair"), "{none}");
    let why = typed(&mut bench, &["why all cost"]);
    assert!(
        why.lines().count() < 260 && why.contains("by issued *"),
        "{why}"
    );
    for line in why
        .lines()
        .filter(|line| line.contains(" = ") && !line.ends_with("as above"))
    {
        let path = line.split(" = ").next().unwrap().trim();
        let told = why.lines().filter(|line| {
            let first = line.split(" = ").next().unwrap().trim();
            first == path && !line.ends_with("as above")
        });
        assert_eq!(told.count(), 1, "{path}");
    }
}

#[test]
fn a_faulty_recipe_is_mended_in_any_order() {
    let faulty = PLAIN
        .replace("width 5", "widht 5")
        .replace("flat", "domd { edge 1.2 mm }");
    let mends: [&[&str]; 3] = [
        &[
            "width 5 mm",
            "profile domed { edge 1.2 mm }",
            "without widht",
        ],
        &[
            "without widht",
            "profile domed { edge 1.2 mm }",
            "width 5 mm",
        ],
        &[
            "profile domed { edge 1.2 mm }",
            "without widht",
            "width 5 mm",
        ],
    ];
    let mut texts = Vec::new();
    for lines in mends {
        let (mut bench, _) = bench_on(&faulty);
        typed(&mut bench, lines);
        assert_eq!(typed(&mut bench, &["check"]), "all holds\n");
        assert!(bench.text().contains("# measured"), "{}", bench.text());
        texts.push(typed(&mut bench, &["weight"]));
    }
    assert!(texts.windows(2).all(|pair| pair[0] == pair[1]));
    // One mistake for another is no mending of what was sound.
    let (mut bench, _) = bench_on(&faulty);
    refused(&mut bench, "alloy nothing");
    // What could not even be read gives way to what can.
    let (mut bench, _) = bench_on(&PLAIN.replace("1.5 mm", "1,5 mm"));
    typed(&mut bench, &["thickness 1.5 mm"]);
    assert_eq!(bench.text(), PLAIN);
}

#[test]
fn a_mistake_that_a_try_hides_is_still_one() {
    let (mut bench, _) = bench_on(PLAIN);
    typed(&mut bench, &["try width 6 mm"]);
    refused(&mut bench, "width 5 g");
    typed(&mut bench, &["drop", "width 7 mm"]);
}

#[test]
fn comments_come_with_the_line_that_is_typed() {
    let (mut bench, _) = bench_on(PLAIN);
    let said = typed(
        &mut bench,
        &[
            "width 6 mm # by hand",
            "# Broken by hand.",
            "weight",
            "ease.outer 0.1 mm # less at the bore",
            "pattern {\n  # the motif\n  repeats 18, depth 0.3 mm # to the tip\n  cover 90 %\n  # to be drawn\n}",
            "thickness 1.6 mm",
        ],
    );
    // The old comment gave way to the new one, and that is said.
    assert!(
        said.contains("gone with what was replaced: # measured"),
        "{said}"
    );
    assert_eq!(
        bench.text(),
        "annulet 1\n\nband b {\n  size ISO 54\n  width 6 mm  # by hand\n  thickness 1.6 mm\n  profile flat\n  \
         # Broken by hand.\n  ease { outer 0.1 mm } # less at the bore\n  alloy sterling\n  pattern {\n    \
         # the motif\n    repeats 18, depth 0.3 mm # to the tip\n    cover 90 %\n    # to be drawn\n  }\n}\n"
    );
    // A block on one line makes room for a comment.
    let (mut short, _) = bench_on("");
    typed(
        &mut short,
        &[
            "band b { size ISO 54 } # the first",
            "# By eye.",
            "width 5 mm # measured",
        ],
    );
    assert_eq!(
        short.text(),
        "annulet 1\n\nband b {\n  size ISO 54\n  # By eye.\n  width 5 mm # measured\n} # the first\n"
    );
    // In a block within one there is no room behind a field.
    typed(
        &mut bench,
        &["ease.bore 0.05 mm # felt", "ease.outer 0.2 mm # broad"],
    );
    assert!(
        bench.text().contains(
            "  # felt\n  # broad\n  ease { outer 0.2 mm, bore 0.05 mm } # less at the bore\n"
        ),
        "{}",
        bench.text()
    );
}

#[test]
fn a_block_typed_anew_keeps_the_comments_of_the_old_one() {
    let old = "\
# The look.
band b { # first
  # Fits most.
  size ISO 54
  width 5 mm\t# measured
  thickness 1.5 mm # checked
  profile domed {
    edge 1.2 mm # by eye
  } # round
  alloy sterling
  # to be weighed
} # end
";
    let (mut bench, _) = bench_on(old);
    let said = typed(
        &mut bench,
        &[
            "band b {\n  size ISO 56\n  width 4 mm\n  thickness 1.5 mm, alloy sterling # hard\n  profile domed {\n    edge 1.1 mm\n  }\n}",
        ],
    );
    assert!(!said.contains("gone with"), "{said}");
    assert_eq!(
        bench.text(),
        "\
# The look.
# checked
# to be weighed
band b { # first
  # Fits most.
  size ISO 56
  width 4 mm\t# measured
  thickness 1.5 mm, alloy sterling # hard
  profile domed {
    edge 1.1 mm # by eye
  } # round
} # end
"
    );
    let before = bench.text().to_owned();
    let same = bench.step("band b {\n  # Fits most.\n  size ISO 56\n  width 4 mm\n  thickness 1.5 mm, alloy sterling # hard\n  profile domed {\n    edge 1.1 mm\n  }\n}");
    assert!(same.text.contains("already"), "{same:?}");
    assert_eq!(bench.text(), before);
}

#[test]
fn a_field_taken_out_leaves_its_comment() {
    let text = PLAIN.replace(
        "  profile flat\n",
        "  pattern { # deep\n    repeats 18, depth 0.3 mm\n    # all round\n    cover 90 %\n  } # drawn\n  comfort 0.1 mm, ease { outer 0.1 mm }\n  profile flat\n",
    );
    let (mut bench, _) = bench_on(&text);
    typed(
        &mut bench,
        &[
            "without pattern",
            "without comfort",
            "without width",
            "width 5 mm",
        ],
    );
    assert_eq!(
        bench.text(),
        PLAIN.replace(
            "  width 5 mm  # measured\n  thickness 1.5 mm\n  profile flat\n",
            "  width 5 mm\n  # measured\n  thickness 1.5 mm\n  # deep\n  # all round\n  # drawn\n  ease { outer 0.1 mm }\n  profile flat\n"
        )
    );
}

#[test]
fn a_slip_is_answered_with_what_was_meant() {
    let (mut bench, _) = bench_on(PLAIN);
    for (line, meant) in [
        ("width = 6 mm", "write `width 6 mm`"),
        ("b.width = 6 mm", "write `b.width 6 mm`"),
    ] {
        let said = typed(&mut bench, &[line]);
        assert!(
            said.starts_with("does not hold\n") && said.contains(meant),
            "{said}"
        );
    }
    assert_eq!(typed(&mut bench, &["weight = 3 g"]), "does not hold\n");
    for (line, meant) in [("serve", "command line"), ("tidy", "command line")] {
        let said = refused(&mut bench, line).complaint.unwrap();
        assert!(said.contains(meant), "{line}: {said}");
    }
    for (line, meant) in [
        ("size ISO", "`ISO 54`"),
        (
            "hollow.stock rod",
            "`hollow.shell.stock` or `hollow.sleeve.stock`",
        ),
        ("let x = width + 1 mm", "`b.width`"),
        ("without hollow", "of the band"),
        ("let a=0.3 mm", "write `a = 0.3 mm`"),
        ("let a =0.3 mm", "write `a = 0.3 mm`"),
        ("require b.weight<=3 g", "write `b.weight <= 3 g`"),
        ("b.weight> 3 g", "write `b.weight > 3 g`"),
        ("require b.weight == 3 g", "one `=`"),
    ] {
        let found = refused(&mut bench, line).findings;
        assert_eq!(found.len(), 1, "{line}: {found:?}");
        let help = found[0].help().unwrap();
        assert!(help.contains(meant), "{line}: {help}");
    }
    // A name of the recipe's own stays one.
    typed(&mut bench, &["let serve = 0.3 mm", "serve"]);
}

#[test]
fn names_and_units_are_completed_in_order() {
    let (mut bench, _) = bench_on(&format!(
        "let cut = 0.3 mm\nlet heavy = 3 g\n{PLAIN}\
         alloy mine {{ silver 935, copper 65, density 10.3 g/cm3, temper hard {{ yield 300 MPa }} }}\n\
         profile soft domed {{ edge 1.2 mm }}\nshop {{ operation turning {{ run 4 min }} }}\n"
    ));
    let mut words = |line: &str| complete(&mut bench, line, line.len()).1;
    // Blocks that are no band, by their name and a point.
    assert_eq!(words("try mi"), ["minutes", "mine."]);
    assert_eq!(words("try mine.temper."), ["mine.temper.hard.yield"]);
    assert_eq!(words("mine.density 10 "), ["g/cm3", "kg/m3"]);
    assert_eq!(
        words("try shop.operation.tu"),
        [
            "shop.operation.turning.set-up",
            "shop.operation.turning.run",
            "shop.operation.turning.at",
            "shop.operation.turning.for"
        ]
    );
    assert!(words("try shop.operation.turning.run 4 ").contains(&"min".to_owned()));
    assert_eq!(words("try soft.edge 1 "), words("width 5 "));
    let alloys = words("alloy ");
    assert!(
        alloys[0] == "mine" && alloys.len() > 40 && alloys[1..].is_sorted(),
        "{alloys:?}"
    );
    assert_eq!(words("try cut 0.2 "), words("width 5 "));
    assert!(words("try heavy 2 ").contains(&"dwt".to_owned()));
    assert!(!words("let heavy = 2 ").contains(&"mm".to_owned()));
}

/// Lines that can be typed over [`ROUGH`], with `@` where a comment of their own stands.
const TYPED: &[&str] = &[
    "width 5 mm @",
    "width 4.5 mm",
    "thickness 1.6 mm @",
    "outside 20 mm @",
    "comfort 0.1 mm @",
    "ease.outer 0.05 mm @",
    "ease { outer 0.1 mm, bore 0.05 mm } @",
    "ease {\n  @\n  outer 0.07 mm @\n  @\n}",
    "profile flat @",
    "profile domed { edge 1.2 mm } @",
    "profile domed { @\n  edge 1.25 mm @\n} @",
    "profile bevelled {\n  across 0.5 mm, down 0.2 mm @\n}",
    "pattern.depth 0.25 mm @",
    "pattern {\n  @\n  repeats 20, depth 0.3 mm @\n  cover 80 % @\n}",
    "pattern { repeats 18, depth 0.2 mm, cover 90 % }",
    "hollow.shell 0.6 mm @",
    "hollow.sleeve 0.3 mm { temper annealed } @",
    "hollow { @\n  shell 0.6 mm, sleeve 0.3 mm @\n  @\n  ridge 0.1 mm { wide 0.3 mm } @\n} @",
    "without hollow",
    "without pattern",
    "without ease",
    "without comfort",
    "band b {\n  @\n  size ISO 54, width 5 mm @\n  thickness 1.6 mm\n  profile flat @\n  alloy sterling\n}",
    "band b { size ISO 55, width 5 mm, thickness 1.6 mm, profile flat, alloy sterling } @",
    "band b {\n  size ISO 55\n  width 5 mm\n  thickness 1.6 mm\n  profile domed {\n    edge 1.2 mm\n  }\n  alloy sterling\n  hollow {\n    shell 0.6 mm\n    sleeve 0.3 mm\n  }\n}",
    "let cut = 0.2 mm @",
    "undo",
    "redo",
];

const ROUGH: &str = "\
# 0 the file
let cut = 0.3 mm # 1 cut
band b { # 2 band
  # 3 above
  size ISO 54, width 5 mm # 4 width

  thickness 1.6 mm # 5 thick
  profile domed { # 6 domed
    edge 1.2 mm # 7 edge
  } # 8 round
  alloy sterling
  ease { outer 0.1 mm }, comfort 0.05 mm # 9 each side
  pattern {
    # 10 motif
    repeats 18, depth cut # 11 depth
    cover 90 % # 12 cover
    # 13 inside
  } # 14 drawn
  hollow {
    shell 0.6 mm
    sleeve 0.3 mm { # 15 sleeve
      temper annealed # 16 soft
    } # 17 thin
  }
  # 18 last
} # 19 end
# 20 the end
";

/// All comments of a text, sorted.
fn comments(text: &str) -> Vec<String> {
    let found = text.lines().filter_map(|line| line.split_once('#'));
    let mut found: Vec<String> = found
        .map(|(_, comment)| comment.trim().to_owned())
        .collect();
    found.sort();
    found
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is typed, no comment goes without a word, and none comes twice.
    #[test]
    fn no_comment_is_lost(picks in prop::collection::vec(0..TYPED.len(), 1..14)) {
        let (mut bench, _) = bench_on(ROUGH);
        for (step, pick) in picks.iter().enumerate() {
            let mut line = TYPED[*pick].to_owned();
            for place in 0..4 {
                line = line.replacen('@', &format!("# {step}.{place}"), 1);
            }
            let before = bench.text().to_owned();
            let reply = bench.step(&line);
            let after = bench.text().to_owned();
            if reply.refused || matches!(line.as_str(), "undo" | "redo") {
                continue;
            }
            prop_assert!(
                after == before || reply.findings.iter().all(|one| !one.code().starts_with("syntax")),
                "{line}: {reply:?}\n{after}"
            );
            let mut wanted = comments(&before);
            if after != before {
                wanted.extend(comments(&line));
            }
            for gone in reply.text.lines().filter_map(|line| line.split_once("gone with what was replaced: # ")) {
                let place = wanted.iter().position(|known| known == gone.1);
                prop_assert!(place.is_some(), "{line}: {gone:?}");
                wanted.swap_remove(place.unwrap());
            }
            wanted.sort();
            prop_assert_eq!(comments(&after), wanted, "{}\nbefore\n{}\nafter\n{}", line, before, after);
        }
    }
}
