//! A text differs in nothing from itself and from its canonical form; two texts of one fingerprint differ in nothing; and
//! what differs there and back is the same, what comes on the one way going on the other.
//!
//! The other text stands behind a line `#---`; where there is none, it is the same with one of its figures changed.

use annulet::explore::Difference;
use annulet::session::{Request, State, difference};

use super::run::Run;
use super::tidy::form;

/// What stands between the two texts.
const BETWEEN: &str = "\n#---\n";

fn state(run: &Run) -> State<'_> {
    State {
        prepared: &run.prepared,
        outcome: &run.outcome,
        sources: &run.session.sources,
    }
}

/// The text with its last figure changed.
fn moved(text: &str) -> String {
    let Some(at) = text.rfind(|c: char| c.is_ascii_digit()) else {
        return text.to_owned();
    };
    let mut bytes = text.as_bytes().to_vec();
    bytes[at] = if bytes[at] == b'5' { b'6' } else { b'5' };
    String::from_utf8(bytes).unwrap_or_default()
}

fn counts(of: &Difference) -> [usize; 6] {
    [
        of.stated.len(),
        of.bands.len(),
        of.orders.len(),
        of.requirements.len(),
        of.came.len(),
        of.went.len(),
    ]
}

pub fn holds(text: &str) {
    let (one, other) = match text.split_once(BETWEEN) {
        Some((one, other)) => (one.to_owned(), other.to_owned()),
        None => (text.to_owned(), moved(text)),
    };
    let (old, new) = (Run::of(&one), Run::of(&other));
    let there = difference(state(&old), state(&new));
    let [stated, bands, orders, requirements, came, went] = counts(&there);
    let back = counts(&difference(state(&new), state(&old)));
    assert_eq!(back, [stated, bands, orders, requirements, went, came]);
    assert!(difference(state(&old), state(&old)).is_none());
    let print = |run: &Run| run.prepared.fingerprint(&Request::default());
    if print(&old) == print(&new) && !old.is_wrong() && !new.is_wrong() {
        assert!(there.is_none(), "one fingerprint, and {there:?}");
    }
    if let Some((tidied, _)) = form(&one) {
        let tidied = Run::of(&tidied);
        let found = difference(state(&old), state(&tidied));
        assert!(found.is_none(), "{found:?}");
        assert_eq!(print(&old), print(&tidied));
    }
}
