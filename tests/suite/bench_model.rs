//! Random sequences of edits, tries, keeps, drops, undos and redos, against a simple model of the text.
//!
//! The model keeps the value of each line and a stack of both; it knows nothing of trees or spans. After every
//! step the text must be the model's, to the byte, and what the bench comes to must be what a new session
//! comes to for the text with the tries written into it.

use annulet::bench::{Bench, NoFiles};
use annulet::session::{Request, Session};
use proptest::prelude::*;

/// Lines of the recipe: what stands before and behind the value.
const LINES: &[(&str, &str, &str)] = &[
    ("width", "  width   ", "   # measured twice"),
    ("thickness", "  thickness ", ""),
    (
        "comfort",
        "  ease { outer 0.05 mm }, comfort ",
        " # each side",
    ),
    (
        "pattern.depth",
        "  pattern { repeats 18, depth ",
        ", cover 80 % } # by hand",
    ),
    (
        "hollow.shell",
        "  hollow {\n    # The shell carries the look.\n    shell ",
        "",
    ),
    (
        "hollow.sleeve",
        "    sleeve ",
        " { temper annealed }\n    ridge 0.1 mm { wide 0.4 mm, count 1 }\n  }",
    ),
];

/// The values that each line can take, in hundredths of a millimetre.
const VALUES: &[&[u32]] = &[
    &[400, 450, 500, 625],
    &[160, 170, 185, 200],
    &[0, 5, 10],
    &[10, 20, 25],
    &[50, 55, 60],
    &[30, 35, 40],
];

type Values = Vec<u32>;

fn mm(value: u32) -> String {
    let text = format!("{}.{:02}", value / 100, value % 100);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn text(values: &Values) -> String {
    let mut text =
        "annulet 1\n\n# A look.\nband b {\n  size ISO 54\n  profile flat, alloy sterling\n"
            .to_owned();
    for ((_, before, behind), value) in LINES.iter().zip(values) {
        text.push_str(&format!("{before}{} mm{behind}\n", mm(*value)));
    }
    text + "}\n"
}

#[derive(Clone, Debug)]
enum Act {
    Edit(usize, usize),
    Try(usize, usize),
    Step(usize, i32),
    Keep,
    Drop,
    Undo,
    Redo,
    Refused,
}

fn act() -> impl Strategy<Value = Act> {
    let line = 0..LINES.len();
    prop_oneof![
        3 => (line.clone(), 0..4_usize).prop_map(|(line, value)| Act::Edit(line, value)),
        4 => (line.clone(), 0..4_usize).prop_map(|(line, value)| Act::Try(line, value)),
        2 => (line, prop_oneof![Just(1), Just(-1), Just(3)]).prop_map(|(line, step)| Act::Step(line, step)),
        2 => Just(Act::Keep),
        1 => Just(Act::Drop),
        3 => Just(Act::Undo),
        2 => Just(Act::Redo),
        1 => Just(Act::Refused),
    ]
}

/// The model: values of the text, and what is tried over them, in order.
#[derive(Clone, Debug, PartialEq)]
struct Model {
    values: Values,
    tries: Vec<(usize, u32)>,
}

impl Model {
    fn whole(&self) -> Values {
        let mut values = self.values.clone();
        for (line, value) in &self.tries {
            values[*line] = *value;
        }
        values
    }
}

/// The machine output, without places, which differ by design.
fn outcome(session: &Session, outcome: &annulet::session::Outcome) -> String {
    outcome.json(&session.sources)["results"].to_string()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_text_is_always_what_the_model_says(acts in prop::collection::vec(act(), 1..24)) {
        let first: Values = VALUES.iter().map(|values| values[1]).collect();
        let mut model = Model { values: first, tries: Vec::new() };
        let (mut past, mut future): (Vec<Model>, Vec<Model>) = (Vec::new(), Vec::new());
        let mut bench = Bench::new(Box::new(NoFiles), None);
        let reply = bench.step(&text(&model.values));
        prop_assert!(!reply.refused, "{:?}", reply);
        // The recipe was typed, so that is the first change.
        let start = bench.text().to_owned();
        for act in &acts {
            let before = model.clone();
            let taken = match act {
                Act::Edit(line, value) => {
                    let value = VALUES[*line][value % VALUES[*line].len()];
                    model.values[*line] = value;
                    !bench.step(&format!("{} {} mm", LINES[*line].0, mm(value))).refused
                }
                Act::Try(line, value) => {
                    let value = VALUES[*line][value % VALUES[*line].len()];
                    model.tries.push((*line, value));
                    !bench.step(&format!("try {} {} mm", LINES[*line].0, mm(value))).refused
                }
                Act::Step(line, step) => {
                    let now = model.whole()[*line];
                    let next = now.checked_add_signed(*step);
                    let sign = if *step < 0 { '-' } else { '+' };
                    let typed = format!("try {} {sign} {} mm", LINES[*line].0, mm(step.unsigned_abs()));
                    let taken = !bench.step(&typed).refused;
                    prop_assert_eq!(taken, next.is_some(), "{}", typed);
                    model.tries.extend(next.map(|next| (*line, next)));
                    taken
                }
                Act::Keep => {
                    model = Model { values: model.whole(), tries: Vec::new() };
                    !bench.step("keep").refused
                }
                Act::Drop => {
                    model.tries.clear();
                    !bench.step("drop").refused
                }
                Act::Undo if past.is_empty() => continue,
                Act::Undo => {
                    future.push(model.clone());
                    model = past.pop().unwrap();
                    prop_assert!(!bench.step("undo").refused);
                    false
                }
                Act::Redo => {
                    match future.pop() {
                        Some(next) => {
                            past.push(model.clone());
                            model = next;
                            prop_assert!(!bench.step("redo").refused);
                        }
                        None => prop_assert!(bench.step("redo").refused),
                    }
                    false
                }
                Act::Refused => {
                    prop_assert!(bench.step("width 5 g").refused);
                    prop_assert!(bench.step("try shell").refused);
                    false
                }
            };
            // What changes nothing is no change to go back to.
            if taken && model != before {
                past.push(before);
                future.clear();
            } else if !taken && !matches!(act, Act::Undo | Act::Redo) {
                prop_assert_eq!(&model, &before, "{:?} was refused", act);
            }
            prop_assert_eq!(bench.text(), text(&model.values), "after {:?}", act);
            prop_assert_eq!(bench.tries(), model.tries.len());
            let mut fresh = Session::default();
            let expected = fresh.run("recipe", &text(&model.whole()), &Request::default());
            let whole = text(&model.whole());
            let found = outcome(&fresh, bench.outcome());
            prop_assert_eq!(found, outcome(&fresh, &expected), "{}", whole);
        }
        prop_assert!(!start.is_empty());
    }
}
