//! Help at the prompt: the words, each with examples that run; and how a recipe is written.

use crate::report::wrapped;
use crate::source::cells;

use super::words::{WORDS, find};

/// A topic that is no command.
struct Topic {
    name: &'static str,
    text: &'static str,
}

/// Paragraphs stand on one line each; lines with an indent stay as they are.
const TOPICS: &[Topic] = &[
    Topic {
        name: "recipe",
        text: "\
A recipe describes bands, one field a line. Type its lines here, or edit the file.

  band harvest {
    size ISO 54, width 4.5 mm
    thickness 1.5 mm
    profile domed { edge 1.2 mm }
    alloy sterling
  }

A line such as `width 5 mm` changes the band in memory; `save` writes the file. A block with its \
braces is typed over several lines, or pasted; or begin a band with `band mine { size ISO 54 }` and \
give it a line at a time. `list fields` shows every field with its default.
",
    },
    Topic {
        name: "questions",
        text: "\
A path or an expression prints its value.

  weight
  weight in dwt
  millstone.weight - millstone-light.weight
  weight <= 2.9 g

`it` is the last value: `it * 20`. `watch weight price` keeps results in view. `list results` shows every \
result, `list fields` every field. `why weight` says where it comes from.
",
    },
    Topic {
        name: "prices",
        text: "\
To have a cost, say what metal costs and on which day; for labour and machine, what the shop takes. \
Copy the blocks and put your own figures in (these are illustrative):

  prices {
    dated 2026-11-20
    source \"my refiner\"
    gold 98.40 EUR/g
    silver 1.10 EUR/g
  }
  shop {
    labour 42 EUR/h
    operation turning { set-up 20 min, run 9 min, at labour }
  }
  sale piece { markup 90 % }

`cost` and `price` then have a value, `eval money` shows the lines of both, `try prices.gold + 5 EUR/g` what a \
dearer gold does. `list fields prices` and `list fields shop` show what else can be stated.
",
    },
    Topic {
        name: "hollow",
        text: "\
A hollow band is an outer shell over an inner sleeve, joined cold; it looks like the solid one. Choose a band \
with `on`, then type or paste:

  hollow {
    shell 0.55 mm
    sleeve 0.35 mm
    ridge 0.12 mm { wide 0.40 mm, count 2 }
  }

`shell` is the wall left all round the cavity, `sleeve` the thickness of the inner part, `ridge` what catches the \
shell. `saving` shows what it saves, `compare solid` sets it beside the solid band, `eval machining` gives the \
diameters to turn, `try without hollow` shows it solid again.
",
    },
    Topic {
        name: "pattern",
        text: "\
A pattern is cut into the outside. Where its depth and the part of the outside that it covers are all that is known, \
`pattern { depth 0.2 mm, cover 60 % }` says so. Drawn cuts are set out on the band, with the tool that cuts them; type or \
paste:

  cutter vee-90 vee { angle 90 deg, tip 0.05 mm, feed 600 mm/min, plunge 120 mm/min }

  pattern {
    repeats 18, cutter vee-90, depth 0.2 mm
    flutes { count 2 }
    ring border { from-edge 0.5 mm, both yes, depth 0.12 mm }
  }

`drawing { file \"motifs/reed.svg\" }` cuts along a drawing in SVG. `strip` shows the outside unrolled, `pattern.time` how long it takes, `wall.under-cut` what is left under the cuts, \
`try pattern.repeats 16 .. 24 by 2` what other repeats do. `list fields pattern` and `list fields cutter` show every kind of \
cut and of tool.
",
    },
    Topic {
        name: "search",
        text: "\
Four words look for a value, from one field to many:

  try width 4 mm .. 6 mm by 0.5 mm
  solve width for weight = 5 g
  sweep width 4 mm .. 6 mm by 0.5 mm, thickness [1.5 mm, 1.7 mm] show weight, wall.least
  choose width 4 mm .. 6 mm, thickness 1.4 mm .. 2 mm least weight where wall.least >= 1.1 mm

`try` with a range shows a row for each value, `solve` the value that gives a target, `sweep` every combination of several fields, \
`choose` the best of them within limits. None of them changes the recipe: `try` with what was found lays it over, `keep` writes it in.
",
    },
    Topic {
        name: "stretch",
        text: "\
A band may be turned small and opened on the ring enlarger. A solid one says what it is turned to:

  start stretch 3 %

A hollow one is worked back by itself: say how far it is opened past the point where the parts touch, and give the \
strengths of the metal, so that mandrel and grip can be worked out:

  alloy my-rose {
    gold 585, copper 325, silver 90
    density 13.30 g/cm3
    temper annealed {
      yield 250 MPa, elongation 40 %, modulus 90 GPa, hardening 1100 MPa
    }
    temper hard { yield 560 MPa, elongation 5 %, modulus 90 GPa }
  }

`eval enlarger` shows the stages, pulls and pins, `eval grip` whether it holds. Grip is an estimate: pull and twist \
each ring.
",
    },
    Topic {
        name: "made",
        text: "\
Parts as they came off the machine, followed forward: what ring they make, the enlarger's stages, weight, the \
deepest cut still allowed, and the sleeve to turn for this shell. Any of the figures may be stated, under the \
names that they have in `eval machining`.

  made harvest-light {
    shell-bore 17.52 mm
    shell-channel-width 3.42 mm
  }

`list fields` shows all of them, under `made`; `why made.bore` says how one follows. `try without made` shows the ring as \
planned.
",
    },
    Topic {
        name: "keys",
        text: "\
Keys of the prompt:

  Tab       complete the word
  Up, Down  earlier lines; after a few letters those that
            begin so; within a block its lines
  Ctrl-R    search earlier lines
  Ctrl-C    forget the line, or the open block; end a line
            that is being worked out: nothing is changed
  Ctrl-D    on an empty line: end

The prompt names the file that `save` writes and the band that is meant where none is named; `*` marks changes \
that are not saved, `+1` an open try.

What Tab completes: fields that fit there, units, alloys, bands, paths. Ctrl-C never ends the bench; \
Ctrl-D asks where something is not saved. Where a signal ends the bench, as when its window is closed, unsaved work \
is put beside the recipe, into NAME.annulet.unsaved.

The last bands of a recipe are read by themselves as they are written; a line written anywhere else has all of it read \
once: in a text of thousands of lines that takes a moment. \
Who has such a text ready pipes it into `annulet eval -`, which reads it once.

Earlier lines are kept in the file that ANNULET_HISTORY names; `ANNULET_HISTORY=off` keeps none.
",
    },
];

/// Names of all topics: the commands, and those that are none.
pub(super) fn topics() -> impl Iterator<Item = &'static str> {
    let words = WORDS.iter().map(|word| word.word);
    words.chain(TOPICS.iter().map(|topic| topic.name))
}

/// The help of a topic, or the list of words, in lines of no more than some cells where they can be broken;
/// none where there is no such topic.
pub(super) fn help(topic: &str, width: usize) -> Option<String> {
    if topic.is_empty() {
        return Some(all(width));
    }
    if let Some(topic) = TOPICS.iter().find(|known| known.name == topic) {
        return Some(paragraphs(topic.text, width));
    }
    let word = find(topic)?;
    let mut text = format!("{} {}", word.word, word.takes);
    text.truncate(text.trim_end().len());
    text.push('\n');
    for said in [word.does, word.more] {
        if said.is_empty() {
            continue;
        }
        for line in wrapped(said, width.saturating_sub(2)) {
            text.push_str(&format!("  {line}\n"));
        }
    }
    if !word.examples.is_empty() {
        text.push_str("\n  for example\n");
        for example in word.examples {
            text.push_str(&format!("    {example}\n"));
        }
    }
    Some(text)
}

/// Paragraphs wrapped; what is indented, and empty lines, as they are.
fn paragraphs(text: &str, width: usize) -> String {
    let mut whole = String::new();
    for line in text.lines() {
        if line.is_empty() || line.starts_with(' ') {
            whole.push_str(&format!("{line}\n"));
            continue;
        }
        for line in wrapped(line, width) {
            whole.push_str(&format!("{line}\n"));
        }
    }
    whole
}

fn all(width: usize) -> String {
    let rows: Vec<(String, &str)> = WORDS
        .iter()
        .map(|word| (format!("{} {}", word.word, word.takes), word.does))
        .collect();
    let wide = rows.iter().map(|(left, _)| cells(left)).max().unwrap_or(0);
    // Where there is no room beside a word, what it does stands below it.
    let beside = width >= wide + 34;
    let room = width.saturating_sub(if beside { wide + 4 } else { 6 });
    let mut text = String::new();
    for (left, does) in rows {
        let left = left.trim_end();
        text.push_str(&format!("  {left}"));
        let mut gap = wide - cells(left) + 2;
        for (place, line) in wrapped(does, room).iter().enumerate() {
            let start = if beside && place == 0 { "" } else { "\n" };
            if place > 0 || !beside {
                gap = if beside { wide + 4 } else { 6 };
            }
            text.push_str(&format!("{start}{:gap$}{line}", ""));
        }
        text.push('\n');
    }
    text.push('\n');
    let end = "\
Any other line is part of the recipe (`width 5 mm`) or a question (`weight`).
More: `help try`, or one of recipe, questions, hollow, pattern, prices, search, stretch, made, keys.
";
    text + &paragraphs(end, width)
}

/// What a newcomer sees first.
pub(super) const WELCOME: &str = "\
annulet: ring bands tried out before the metal is cut. Things to type:
  band plain { size ISO 54, width 4 mm, thickness 1.6 mm, profile flat }
  alloy sterling
  try width + 0.5 mm
  eval
  help
";
