//! A text that reads without findings prints as one that reads as the same tree, and that prints as itself.

use annulet::source::Sources;
use annulet::syntax::{parse, print};

pub fn holds(text: &str) {
    let mut sources = Sources::default();
    let id = sources.add("written", text);
    let Some(source) = sources.get(id) else {
        return;
    };
    let first = parse(source);
    super::spans::check(&first.findings, &sources);
    if !first.findings.is_empty() {
        return;
    }
    let printed = print(&first.value);
    let id = sources.add("printed", &printed);
    let Some(source) = sources.get(id) else {
        return;
    };
    let second = parse(source);
    assert!(
        second.findings.is_empty(),
        "{:?} in what was printed:\n{printed}",
        second.findings
    );
    assert_eq!(first.value, second.value, "printed:\n{printed}");
    assert_eq!(printed, print(&second.value));
}
