//! A recipe read and evaluated, and what it comes to in a form that two of them can be compared in.

use annulet::finding::Weight;
use annulet::schema;
use annulet::session::{NoLibrary, Outcome, Prepared, Request, Session};

/// A text as a recipe.
pub struct Run {
    pub session: Session,
    pub prepared: Prepared,
    pub outcome: Outcome,
}

impl Run {
    pub fn of(text: &str) -> Self {
        Self::with(text, &Request::default())
    }

    pub fn with(text: &str, request: &Request) -> Self {
        let mut session = Session::default();
        let prepared = session.prepare("recipe", text, &mut NoLibrary);
        let outcome = session.outcome(&prepared, request);
        Self {
            session,
            prepared,
            outcome,
        }
    }

    pub fn is_wrong(&self) -> bool {
        self.outcome.weight() == Some(Weight::Wrong)
    }

    /// Codes of what is found, sorted.
    pub fn codes(&self) -> Vec<String> {
        let mut codes: Vec<String> = self.outcome.findings.iter().map(|one| one.code()).collect();
        codes.sort();
        codes
    }

    /// Every number of every band, to the last bit.
    pub fn figures(&self) -> Vec<(String, Vec<Option<u64>>)> {
        let bands = self.outcome.evaluations.iter();
        bands
            .map(|one| {
                let numbers = schema::RESULTS.iter().map(|entry| {
                    let number = one.number(entry.id)?;
                    Some(number.to_f64().to_bits())
                });
                (one.band.name.clone(), numbers.collect())
            })
            .collect()
    }
}
