//! Help at the prompt: the words, each with examples that run; and how a recipe is written.

use super::words::{WORDS, find};

/// A topic that is no command.
struct Topic {
    name: &'static str,
    text: &'static str,
}

const TOPICS: &[Topic] = &[
    Topic {
        name: "recipe",
        text: "\
A recipe describes bands, one field a line. Type its lines here, or edit the file.

  band harvest {
    size ISO 54, width 4.5 mm, thickness 1.5 mm
    profile domed { edge 1.2 mm }
    alloy sterling
  }

A line such as `width 5 mm` changes the band in memory; `save` writes the file. A block with its
braces is typed over several lines, or pasted. `list fields` shows every field with its default.
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
        name: "keys",
        text: "\
  Tab       completes the word: fields that fit here, units, alloys, bands, paths
  Up, Down  earlier lines; a block comes back whole
  Ctrl-R    search earlier lines
  Ctrl-C    forget the line, or the block that is not closed yet; it never ends the bench
  Ctrl-D    on an empty line: end, asking where something is not saved

Earlier lines are kept in the file that ANNULET_HISTORY names; `ANNULET_HISTORY=off` keeps none.
",
    },
];

/// Names of all topics: the commands, and those that are none.
pub(super) fn topics() -> impl Iterator<Item = &'static str> {
    let words = WORDS.iter().map(|word| word.word);
    words.chain(TOPICS.iter().map(|topic| topic.name))
}

/// The help of a topic, or the list of words; none where there is no such topic.
pub(super) fn help(topic: &str) -> Option<String> {
    if topic.is_empty() {
        return Some(all());
    }
    if let Some(topic) = TOPICS.iter().find(|known| known.name == topic) {
        return Some(topic.text.to_owned());
    }
    let word = find(topic)?;
    let mut text = format!("{} {}\n  {}\n", word.word, word.takes, word.does);
    if !word.more.is_empty() {
        for line in crate::report::wrapped(word.more, 76) {
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

fn all() -> String {
    let rows: Vec<(String, &str)> = WORDS
        .iter()
        .map(|word| (format!("{} {}", word.word, word.takes), word.does))
        .collect();
    let wide = rows
        .iter()
        .map(|(left, _)| crate::source::cells(left))
        .max()
        .unwrap_or(0);
    let mut text = String::new();
    for (left, does) in rows {
        let pad = wide - crate::source::cells(&left) + 2;
        text.push_str(&format!("  {left}{:pad$}{does}\n", ""));
    }
    text.push_str(
        "\nAny other line is part of the recipe (`width 5 mm`) or a question (`weight`).\n\
         More: `help try`, `help recipe`, `help questions`, `help keys`.\n",
    );
    text
}

/// What a newcomer sees first.
pub(super) const WELCOME: &str = "\
annulet: ring bands tried out before the metal is cut. Three things to type:
  band plain { size ISO 54, width 4 mm, thickness 1.6 mm, profile flat, alloy sterling }
  try width + 0.5 mm
  help
";
