//! Any lines typed at a bench: whatever they do, its bands are those of its text read afresh, to the last bit; all of them
//! taken back leave nothing, and done again they leave the same text.

use annulet::bench::{Bench, NoFiles, statements};
use annulet::finding::Finding;
use annulet::session::Request;

use super::run::Run;

/// How many lines are typed.
const LINES: usize = 20;

pub fn holds(text: &str) {
    let mut bench = Bench::new(Box::new(NoFiles), None);
    for line in statements(text).into_iter().take(LINES) {
        let reply = bench.step(line);
        super::spans::check(&reply.findings, bench.sources());
        if reply.ends {
            break;
        }
    }
    let written = bench.text().to_owned();
    if bench.tries() == 0 {
        let request = Request {
            band: bench.outcome().chosen.clone(),
            ..Request::default()
        };
        let fresh = Run::with(&written, &request);
        let said = |findings: &[Finding]| -> Vec<String> {
            let said = findings.iter();
            said.map(|one| format!("{:?} {} {}", one.span(), one.code(), one.message()))
                .collect()
        };
        // A recipe without a line is nothing that is wrong at a bench.
        if !written.is_empty() {
            let (held, afresh) = (&bench.outcome().findings, &fresh.outcome.findings);
            assert_eq!(said(held), said(afresh), "{written}");
        }
        let fresh = fresh.figures();
        let held = bench.outcome().evaluations.iter();
        let held: Vec<(String, u64)> = held
            .map(|one| (one.band.name.clone(), one.figures.weight.to_bits()))
            .collect();
        let weight = |name: &str| {
            let known = held.iter().find(|(known, _)| known == name);
            known.map(|(_, weight)| *weight)
        };
        assert_eq!(fresh.len(), held.len(), "{written}");
        let place = annulet::schema::RESULTS
            .iter()
            .position(|one| one.path == "weight");
        for (name, numbers) in &fresh {
            let number = place.and_then(|place| numbers[place]);
            assert_eq!(number, weight(name), "{name} of\n{written}");
        }
    }
    let mut count = 0;
    while !bench.step("undo").refused {
        count += 1;
        // A line may make two changes at most.
        assert!(count <= 2 * LINES, "more is taken back than was typed");
    }
    assert_eq!(bench.text(), "", "what is left when all is taken back");
    for _ in 0..count {
        assert!(!bench.step("redo").refused);
    }
    assert_eq!(bench.text(), written, "done again");
}
