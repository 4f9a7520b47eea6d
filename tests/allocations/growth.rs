//! Nothing grows faster than its input: what a recipe or a bench asks of memory at four times the length.
//!
//! The measure is counted, not timed, so that it is the same on every machine: how often memory is asked for, and how
//! many bytes. Work that asks for none is not seen by it; `DEVELOPERS.md` says how to count instructions.

use std::fmt::Write;
use std::hint::black_box;

use annulet::bench::{Bench, Files};

use annulet::session::{Library, NoLibrary, Request, Session};

use crate::{Asked, asked};

/// Four times the input may ask for this many times as much: a little more than four, for what grows in doublings.
const IN_STEP: f64 = 5.0;

/// The same where each line of four times as many reads four times as much.
const EACH_READS: f64 = 17.0;

const HOLLOW: &str = "size ISO 54, width 5 mm, thickness 1.8 mm, profile flat, alloy silver-925
  hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.12 mm }";

fn each(many: usize, line: impl Fn(usize) -> String) -> String {
    (0..many).map(line).collect()
}

fn band(name: &str) -> String {
    format!(
        "band {name} {{ size ISO 54, width 5 mm, thickness 1.8 mm, profile flat, alloy silver-925 }}\n"
    )
}

/// An outline of as many straight runs, over a band of 5 mm.
fn outline(runs: usize) -> String {
    let mut text = String::from("from -2.5 mm 1.8 mm");
    for run in 1..=runs {
        let x = 5.0 * run as f64 / runs as f64 - 2.5;
        let y = if run % 2 == 0 { 1.8 } else { 1.801 };
        let _ = write!(text, ", to {x:.6} mm {y} mm");
    }
    text
}

type Text = fn(usize) -> String;

/// Recipes that are as long as they are told, with a length that a person might still write.
const RECIPES: &[(&str, usize, Text)] = &[
    ("bands", 40, |n| each(n, |one| band(&format!("b{one}")))),
    ("hollow bands", 20, |n| {
        each(n, |one| format!("band b{one} {{ {HOLLOW} }}\n"))
    }),
    ("variants of one band", 40, |n| {
        band("b")
            + &each(n, |one| {
                format!("variant v{one} of b {{ width 4.{one:03} mm }}\n")
            })
    }),
    ("variants of variants", 40, |n| {
        band("v0")
            + &each(n, |one| {
                format!("variant v{} of v{one} {{ width 4.{one:03} mm }}\n", one + 1)
            })
    }),
    ("orders", 40, |n| {
        band("b")
            + &each(n, |one| {
                format!("order o{one} {{ dated 2026-11-25, b {{ 2 of ISO 54 }} }}\n")
            })
    }),
    ("bands in one order", 40, |n| {
        let lines = each(n, |one| format!("  b{one} {{ 2 of ISO 54 }}\n"));
        each(n, |one| band(&format!("b{one}"))) + "order o { dated 2026-11-25\n" + &lines + "}\n"
    }),
    ("stretched bands in one order", 20, |n| {
        let bands = each(n, |one| {
            band(&format!("b{one}")).replace("profile", "start 16.9 mm, profile")
        });
        let lines = each(n, |one| format!("  b{one} {{ 2 of ISO 54 }}\n"));
        bands + "order o { dated 2026-11-25\n" + &lines + "}\n"
    }),
    ("made bands in one order", 20, |n| {
        let made = "blank-outside 20.7 mm, blank-bore 16.9 mm, blank-width 5.1 mm";
        let bands = each(n, |one| {
            format!(
                "{}made b{one} {{ {made} }}\n",
                band(&format!("b{one}")).replace("profile", "start 16.9 mm, profile")
            )
        });
        let lines = each(n, |one| format!("  b{one} {{ 2 of ISO 54 }}\n"));
        bands + "order o { dated 2026-11-25\n" + &lines + "}\n"
    }),
    ("names that nobody knows", 60, |n| {
        each(n, |one| {
            format!("band b{one} {{ size ISO 54, wydth{one} 5 mm, alloy silver-92{one} }}\n")
        })
    }),
    ("long names that nobody knows", 60, |n| {
        format!(
            "band b {{\n{}}}\n",
            each(n, |one| format!("  {}{one} 5 mm\n", "w".repeat(60)))
        )
    }),
    ("requirements, each on its own band", 40, |n| {
        each(n, |one| {
            format!(
                "{}require b{one}.weight > {one} g\n",
                band(&format!("b{one}"))
            )
        })
    }),
    ("alloys", 40, |n| {
        each(n, |one| {
            format!("alloy a{one} {{ gold 585, copper 325, silver 90, density 13.3 g/cm3 }}\n")
        }) + &band("b")
    }),
    ("lets in a chain", 60, |n| {
        "let a0 = 5 mm\n".to_owned()
            + &each(n, |one| format!("let a{} = a{one} + 0.001 mm\n", one + 1))
            + &band("b").replace("5 mm", &format!("a{n}"))
    }),
    ("lets in a chain, last first", 60, |n| {
        band("b").replace("5 mm", "a0")
            + &each(n, |one| format!("let a{one} = a{} + 0.001 mm\n", one + 1))
            + &format!("let a{n} = 5 mm\n")
    }),
    ("runs of an outline", 40, |n| {
        format!(
            "band b {{ size ISO 54, alloy silver-925, profile custom {{ {} }} }}\n",
            outline(n)
        )
    }),
    ("runs of an outline over a hollow", 40, |n| {
        format!(
            "band b {{ size ISO 54, alloy silver-925, profile custom {{ {} }}, hollow {{ shell 0.5 mm, sleeve 0.4 mm, ridge 0.12 mm }} }}\n",
            outline(n)
        )
    }),
    ("mistakes", 100, |n| each(n, |one| format!("}} {one}\n"))),
    ("comments", 400, |n| {
        each(n, |one| format!("# {one}\n")) + &band("b")
    }),
];

/// Lines at a bench, as many as are told, that ask for the same however much was typed before them.
const LINES: &[(&str, usize, Text)] = &[
    ("a field moved again and again", 30, |n| {
        band("b") + "on b\n" + &each(n, |one| format!("width 4.{one:03} mm\n"))
    }),
    ("lines taken back", 30, |n| {
        band("b")
            + "on b\n"
            + &each(n, |one| format!("width 4.{one:03} mm\n"))
            + &"undo\n".repeat(n)
    }),
    ("bands typed one by one", 60, |n| {
        each(n, |one| band(&format!("b{one}")))
    }),
    ("bands typed field by field", 20, |n| {
        each(n, |one| {
            format!(
                "band b{one} {{ size ISO 54 }}\nwidth 5 mm\nthickness 1.8 mm\nprofile flat\nalloy silver-925\n"
            )
        })
    }),
    ("bands typed and taken back", 30, |n| {
        each(n, |one| band(&format!("b{one}"))) + &"undo\n".repeat(n)
    }),
    ("bands typed, each asked for its weight", 40, |n| {
        each(n, |one| {
            format!("{}b{one}.weight\n", band(&format!("b{one}")))
        })
    }),
    ("lines of one block", 60, |n| {
        format!("band b {{\n{}}}\n", each(n, |one| format!("  # {one}\n")))
    }),
    ("tries on each other", 30, |n| {
        band("b") + "on b\n" + &each(n, |one| format!("try width 4.{one:03} mm\n"))
    }),
    ("what is not understood", 60, |n| {
        each(n, |one| format!("wydth {one}\n"))
    }),
];

/// Lines at a bench that each read the recipe again, once: their sum grows with the square.
const READING: &[(&str, usize, Text)] = &[("the first of many bands changed", 30, |n| {
    each(n, |one| band(&format!("b{one}")))
        + "on b0\n"
        + &each(n, |one| format!("width 4.{one:03} mm\n"))
})];

/// No file is there.
struct NoFiles;

impl Files for NoFiles {
    fn read(&mut self, _: &str) -> Result<String, String> {
        Err("there are no files".to_owned())
    }

    fn write(&mut self, _: &str, _: &str) -> Result<(), String> {
        Ok(())
    }

    fn exists(&mut self, _: &str) -> bool {
        false
    }

    fn library(&mut self, _: &str) -> Box<dyn Library> {
        Box::new(NoLibrary)
    }

    fn beginning(&mut self, _: &str) -> Vec<String> {
        Vec::new()
    }
}

fn evaluated(text: &str) {
    black_box(Session::default().run("r.annulet", text, &Request::default()));
}

fn typed(text: &str) {
    let mut bench = Bench::new(Box::new(NoFiles), None);
    for line in text.lines() {
        black_box(bench.step(line));
    }
}

fn asking(run: fn(&str), text: &str) -> Asked {
    let before = asked();
    run(text);
    let after = asked();
    Asked {
        times: after.times - before.times,
        bytes: after.bytes - before.bytes,
    }
}

/// What asks for more than that many times as much at four times its length, in words.
fn growing(run: fn(&str), inputs: &[(&str, usize, Text)], most: f64) -> Vec<String> {
    // What is made once in a program, such as the catalogue, is made before it is counted.
    run(&band("b"));
    let mut wrong = Vec::new();
    for (name, many, text) in inputs {
        let (short, long) = (asking(run, &text(*many)), asking(run, &text(4 * many)));
        let ratio = |long: usize, short: usize| long as f64 / short as f64;
        let (times, bytes) = (
            ratio(long.times, short.times),
            ratio(long.bytes, short.bytes),
        );
        if times > most || bytes > most {
            wrong.push(format!("{name}: {times:.2} times as often, {bytes:.2} times the bytes ({short:?}, {long:?})"));
        }
    }
    wrong
}

#[test]
fn a_recipe_asks_for_memory_in_step_with_its_length() {
    assert_eq!(growing(evaluated, RECIPES, IN_STEP), Vec::<String>::new());
}

#[test]
fn a_bench_asks_for_memory_in_step_with_what_is_typed() {
    assert_eq!(growing(typed, LINES, IN_STEP), Vec::<String>::new());
}

#[test]
fn a_line_asks_for_no_more_than_a_reading_of_the_recipe() {
    assert_eq!(growing(typed, READING, EACH_READS), Vec::<String>::new());
}
