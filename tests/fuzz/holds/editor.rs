//! Any text as it is being written in an editor: whatever is asked of any place has an answer inside the text; a name that
//! is changed everywhere and back leaves the text as it was and, on the way, every figure; a repair mends what it is
//! offered for.

use annulet::assist::{Opening, given, hovered, renamed, used_at};
use annulet::finding::Finding;
use annulet::session::NoLibrary;
use annulet::syntax::TOP_WORDS;

use super::run::Run;

/// How many places of a text are asked about, and how many repairs are tried.
const PLACES: usize = 24;
const REPAIRS: usize = 4;

/// A name that no text of ours holds.
const NEW: &str = "zzpierzz";

fn alike(findings: &[Finding], one: &Finding) -> usize {
    let says = |other: &&Finding| other.code() == one.code() && other.message() == one.message();
    findings.iter().filter(says).count()
}

pub fn holds(text: &str) {
    let mut open = Opening::read("recipe", text, &mut NoLibrary, None);
    super::spans::check(&open.outcome.findings, &open.session.sources);
    let step = (text.len() / PLACES).max(1);
    let places = (0..=text.len()).filter(|place| text.is_char_boundary(*place));
    for byte in places.step_by(step) {
        // What a value of drawn cuts comes from is found by moving every number of them.
        let drawn = open
            .outcome
            .evaluations
            .iter()
            .any(|one| one.band.is_drawn());
        if !drawn && let Some(found) = hovered(&mut open, byte) {
            assert!(!found.text.is_empty() && found.at.start <= found.at.end);
        }
        let _ = given(&open, byte);
        let _ = used_at(&open, byte);
        let Ok(names) = renamed(&open, byte, NEW) else {
            continue;
        };
        let there = names.written(text, NEW);
        assert_ne!(there, text);
        let first = names
            .places
            .first()
            .expect("a name that is changed stands somewhere");
        let old = &text[first.clone()];
        let moved = Opening::read("recipe", &there, &mut NoLibrary, None);
        assert_eq!(
            open.outcome.evaluations.len(),
            moved.outcome.evaluations.len(),
            "{there}"
        );
        for (one, other) in open
            .outcome
            .evaluations
            .iter()
            .zip(&moved.outcome.evaluations)
        {
            let weights = [one, other].map(|of| of.figures.weight.to_bits());
            assert_eq!(weights[0], weights[1], "{there}");
        }
        // What is called as a block begins can be called otherwise, and nothing can be called so.
        if TOP_WORDS.contains(&old) {
            continue;
        }
        match renamed(&moved, first.start, old) {
            Ok(back) => assert_eq!(back.written(&there, old), text),
            Err(why) => panic!("there, and not back to `{old}`: {why}\n{there}"),
        }
    }
    let Some(own) = open.source() else { return };
    let repairs = open.outcome.findings.iter();
    let repairs = repairs.filter_map(|one| Some((one, one.repair()?)));
    for (finding, repair) in repairs.take(REPAIRS) {
        let range = own.range(repair.span);
        let mut mended = own.text.to_string();
        mended.replace_range(range, &repair.text);
        let after = Run::of(&mended);
        let (then, now) = (
            alike(&open.outcome.findings, finding),
            alike(&after.outcome.findings, finding),
        );
        assert!(now < then, "{} stays:\n{mended}", finding.message());
    }
}
