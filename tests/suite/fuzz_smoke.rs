//! What must hold of any text, over a few made-up ones: the fuzz targets are run here, so that none of them is out of date.
//! `tests/fuzz` throws millions at them.

use crate::fuzz_holds::TARGETS;
use crate::fuzz_made_up::{Draws, MadeUp, own, words};
use crate::support::{lone_examples, read};

/// How many texts each target gets.
const TEXTS: usize = 12;

#[test]
fn what_must_hold_of_any_text_holds_of_a_few() {
    let recipes: Vec<String> = lone_examples().iter().map(|file| read(file)).collect();
    // Long recipes take long in a build for tests.
    let short: Vec<String> = recipes
        .into_iter()
        .filter(|text| text.len() < 900 && !text.contains("cutter "))
        .collect();
    assert!(short.len() > 3);
    let words = words(include_str!("../fuzz/annulet.dict"));
    assert!(words.len() > 100);
    for (name, holds) in TARGETS {
        let own = own(name).map(|texts| texts.iter().map(|text| (*text).to_owned()).collect());
        let seeds: Vec<String> = own.unwrap_or_else(|| short.clone());
        for seed in &seeds {
            holds(seed);
        }
        let mut made = MadeUp {
            seeds,
            words: words.clone(),
            draws: Draws(7),
        };
        for _ in 0..TEXTS {
            holds(&made.next());
        }
    }
}
