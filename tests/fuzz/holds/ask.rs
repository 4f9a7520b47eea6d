//! Any text as a question about a fixed recipe: no panic, no hang; findings point into a source.

use std::sync::LazyLock;

use annulet::model::Value;
use annulet::report::{self, Digits};
use annulet::session::{Outcome, Request, Session};

const RECIPE: &str = r#"annulet 1
let rim = 0.25 mm
let odd = 5 mm ± 0.1 mm
band solid {
  title "Solid", size ISO 54, width 4.5 mm ± 0.05 mm, thickness 1.8 mm
  profile domed { edge 1.2 mm }, comfort rim, alloy yellow-585
  pattern { repeats 24, depth 0.2 mm, mean-depth 0.1 mm, cover 75 % }
}
band parts {
  size US 7 1/2, width 6.5 mm, thickness 1.9 mm
  profile bevelled { across 1.2 mm, down 0.5 mm }, alloy sterling
  hollow { shell 0.5 mm { nose 0.2 mm }, sleeve 0.4 mm, ridge 0.12 mm { wide 0.35 mm, count 2 }, lock stake { count 3 } }
}
"#;

static FIXED: LazyLock<(Session, Outcome)> = LazyLock::new(|| {
    let mut session = Session::default();
    let outcome = session.run("recipe", RECIPE, &Request::default());
    assert!(outcome.findings.is_empty(), "{:?}", outcome.findings);
    (session, outcome)
});

pub fn holds(question: &str) {
    let (session, outcome) = &*FIXED;
    let mut session = session.clone();
    let (value, findings) = session.ask(question, outcome);
    super::spans::check(&findings, &session.sources);
    assert!(
        value.is_some() || !findings.is_empty(),
        "no answer, and no word of why"
    );
    if let Some(Value::Quantity { quantity, unit }) = &value {
        for digits in [Digits::Useful, Digits::All] {
            let _ = report::shown_quantity(quantity, unit.as_deref(), digits);
        }
    }
    if let Some(value) = value {
        let _ = report::answers(&[(question.to_owned(), Some(value), Vec::new())]);
    }
}
