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

`list results` shows every result, `list fields` every field. `why weight` says where it comes from.
",
    },
    Topic {
        name: "made",
        text: "\
Parts as they came off the machine, evaluated forward: what ring they make, the enlarger's stages, weight, the \
deepest cut still allowed, and the sleeve to turn for this shell. Any of the figures can be stated, under the \
names that the bench figures have.

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
  Up, Down  earlier lines; a block comes back whole
  Ctrl-R    search earlier lines
  Ctrl-C    forget the line, or the open block
  Ctrl-D    on an empty line: end

The prompt names the file that `save` writes and the band that bare names mean; `*` marks changes \
that are not saved, `+1` an open try.

What Tab completes: fields that fit there, units, alloys, bands, paths. Ctrl-C never ends the bench; \
Ctrl-D asks where something is not saved.

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
More: `help try`, `help recipe`, `help questions`, `help made`, `help keys`.
";
    text + &paragraphs(end, width)
}

/// What a newcomer sees first.
pub(super) const WELCOME: &str = "\
annulet: ring bands tried out before the metal is cut. Three things to type:
  band plain { size ISO 54, width 4 mm, thickness 1.6 mm, profile flat, alloy sterling }
  try width + 0.5 mm
  help
";
