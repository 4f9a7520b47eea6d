//! What to take care of: once a run, for all bands of it.

use crate::evaluate::{CAUTIONS, Caution, Evaluation, WHO_DECIDES};

use super::page::{Page, TextLayout};

/// Cautions that are due, gathered over the bands of a run.
#[derive(Clone, Debug, Default)]
pub struct Due(Vec<&'static str>);

impl Due {
    /// Adds those of a band.
    pub fn add(&mut self, evaluation: &Evaluation) {
        for caution in &evaluation.cautions {
            if caution.name != WHO_DECIDES.name && !self.0.contains(&caution.name) {
                self.0.push(caution.name);
            }
        }
    }

    /// In the order of the work.
    fn all(&self) -> impl Iterator<Item = &'static Caution> {
        let due = |caution: &&Caution| self.0.contains(&caution.name);
        CAUTIONS.iter().filter(due)
    }
}

/// What to take care of, in full, and who decides; nothing where nothing is due.
pub(super) fn in_full(due: &Due, layout: TextLayout) -> String {
    let mut page = Page::new(layout);
    if due.0.is_empty() {
        return page.text;
    }
    page.line("take care");
    for caution in due.all() {
        page.prose(caution.text);
    }
    page.prose(WHO_DECIDES.text);
    page.text
}

/// The titles, by what is typed for the words themselves, and who decides.
pub(super) fn by_title(due: &Due, part: &str, layout: TextLayout) -> String {
    let mut page = Page::new(layout);
    if due.0.is_empty() {
        return page.text;
    }
    let titles: Vec<&str> = due.all().map(|caution| caution.title).collect();
    let text = format!(
        "{} (`{part} care`). {}",
        titles.join("; "),
        WHO_DECIDES.text
    );
    page.hang((0, 11), "take care", &text);
    page.text
}
