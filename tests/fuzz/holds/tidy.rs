//! The canonical form of a text that reads without findings says the same: the same comments in the same order, the same
//! findings, every number the same to the last bit.

use annulet::source::Sources;
use annulet::syntax::{ast, parse, print};

use super::run::Run;

/// The canonical form and the comments of a text that reads without findings.
pub fn form(text: &str) -> Option<(String, Vec<String>)> {
    let mut sources = Sources::default();
    let id = sources.add("recipe", text);
    let parsed = parse(sources.get(id)?);
    if !parsed.findings.is_empty() {
        return None;
    }
    let comments = ast::comments(&parsed.value.items).into_iter();
    let comments = comments.map(|one| one.text.clone()).collect();
    Some((print(&parsed.value), comments))
}

pub fn holds(text: &str) {
    let Some((tidied, comments)) = form(text) else {
        return;
    };
    let Some((again, kept)) = form(&tidied) else {
        panic!("the canonical form cannot be read:\n{tidied}");
    };
    assert_eq!(tidied, again, "not the same twice");
    assert_eq!(comments, kept, "{tidied}");
    let (before, after) = (Run::of(text), Run::of(&tidied));
    assert_eq!(before.codes(), after.codes(), "{tidied}");
    assert_eq!(before.figures(), after.figures(), "{tidied}");
}
