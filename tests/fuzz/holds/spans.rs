//! What every finding owes, shared by the targets.

use annulet::finding::Finding;
use annulet::source::{Sources, Span};

/// Every place that a finding speaks of, its repair's too, lies on character borders inside one source.
pub fn check(findings: &[Finding], sources: &Sources) {
    for finding in findings {
        for (span, word) in finding.labels() {
            inside(span, sources, finding, &word);
        }
        if let Some(repair) = finding.repair() {
            inside(repair.span, sources, finding, "the repair");
        }
        assert!(!finding.message().is_empty(), "{finding:?} says nothing");
        assert!(!finding.code().is_empty(), "{finding:?} has no code");
        let _ = finding.help();
    }
}

fn inside(span: Span, sources: &Sources, finding: &Finding, word: &str) {
    assert!(span.start <= span.end, "{finding:?} {word}: {span:?}");
    let Some(source) = sources.holding(span) else {
        panic!("{finding:?} {word}: {span:?} lies in no source");
    };
    let range = source.range(span);
    assert!(
        source.text.get(range.clone()).is_some(),
        "{finding:?} {word}: {range:?} of {} bytes in {}",
        source.text.len(),
        source.name
    );
    let place = source.place(span);
    assert!(place.line >= 1 && place.column >= 1);
}
