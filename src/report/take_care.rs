//! The block of cautions of a report.

use crate::evaluate::{Evaluation, WHO_DECIDES};

use super::page::{Page, wrapped};

/// What to take care of that was not said before, and who decides.
pub(super) fn section(page: &mut Page, evaluation: &Evaluation, said: &mut Vec<&'static str>) {
    page.heading("take care");
    let due = evaluation.cautions.iter();
    let due: Vec<_> = due.filter(|one| one.name != WHO_DECIDES.name).collect();
    let mut before = Vec::new();
    for caution in due {
        if said.contains(&caution.name) {
            before.push(caution.name);
            continue;
        }
        said.push(caution.name);
        for line in wrapped(caution.text, 76) {
            page.line(&format!("    {line}"));
        }
    }
    if !before.is_empty() {
        for line in wrapped(&format!("As above: {}.", before.join(", ")), 76) {
            page.line(&format!("    {line}"));
        }
    }
    page.line(&format!("    {}", WHO_DECIDES.text));
}
