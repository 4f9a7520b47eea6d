//! LaidLines of overrides, one after the other, each laid over a recipe that is read once: however many come, no more
//! than one of them is in memory.
//!
//! Where a line moves numbers alone, only what follows from them is worked out.

use crate::finding::Finding;
use crate::model::Value;

use super::relative::{is_relative, pieces};
use super::{Outcome, Prepared, Request, Session, Tried};

/// A recipe that lines of overrides are laid over.
#[derive(Debug)]
pub struct LaidLines {
    session: Session,
    prepared: Prepared,
    /// What the recipe comes to with nothing laid over it but what the request says.
    base: Outcome,
    request: Request,
    /// How many texts there are without any line.
    texts: usize,
}

impl LaidLines {
    /// LaidLines over a recipe that was evaluated as the request says.
    #[must_use]
    pub fn new(session: Session, prepared: Prepared, base: Outcome, request: Request) -> Self {
        Self {
            texts: session.sources.count(),
            session,
            prepared,
            base,
            request,
        }
    }

    /// The texts that findings of the line before point into.
    #[must_use]
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// The recipe and the files that it uses.
    #[must_use]
    pub fn files(&self) -> &[String] {
        self.prepared.files()
    }

    /// What the recipe comes to with a line over it, of as many overrides as commas part:
    /// `width 5 mm, size US 7`, with or without `=` between path and value, or steps, `width + 0.5 mm`. An empty line
    /// lays nothing.
    ///
    /// # Example
    /// ```
    /// use annulet::session::{LaidLines, NoLibrary, Request, Session};
    /// let text = "band b {\n  size 16 mm, width 5 mm, thickness 2 mm\n  profile flat, alloy sterling\n}";
    /// let mut session = Session::default();
    /// let prepared = session.prepare("r", text, &mut NoLibrary);
    /// let base = session.outcome(&prepared, &Request::default());
    /// let mut lines = LaidLines::new(session, prepared, base, Request::default());
    /// let mut weight = |line: &str| lines.lay(line).evaluations[0].figures.weight;
    /// // Twice the width is twice the weight.
    /// assert!((weight("width 10 mm") / weight("") - 2.0).abs() < 1e-12);
    /// assert!((weight("width + 5 mm, size=16 mm") / weight("width=5 mm") - 2.0).abs() < 1e-12);
    /// ```
    pub fn lay(&mut self, line: &str) -> Outcome {
        self.session.sources.forget_behind(self.texts);
        let line = without_comment(line);
        let said: Vec<&str> = pieces(line).into_iter().map(str::trim).collect();
        let said: Vec<&str> = said.into_iter().filter(|piece| !piece.is_empty()).collect();
        if said.is_empty() {
            return self.base.clone();
        }
        if let Some(moved) = self.moved(&said) {
            return moved;
        }
        let mut request = self.request.clone();
        request.sets.extend(said.iter().map(|piece| set(piece)));
        self.session.outcome(&self.prepared, &request)
    }

    /// What plain numbers come to; none where a line says more than those, or makes a mistake.
    fn moved(&mut self, said: &[&str]) -> Option<Outcome> {
        let is_plain = self.request.sets.is_empty() && self.request.tries.is_empty();
        if !is_plain || said.iter().any(|piece| is_relative(&spaced(piece))) {
            return None;
        }
        let texts: Vec<String> = said.iter().map(|piece| spaced(piece)).collect();
        let tried = Tried {
            line: texts.join("\n"),
            band: self.request.band.clone(),
            typed: None,
        };
        let moved = self.session.by_numbers(&self.prepared, &self.base, &tried);
        let (part, names) = moved?.ok()?;
        let mut whole = self.base.clone();
        whole.patch(part, &names, &self.session.sources);
        Some(whole)
    }

    /// The answer to a question about what a line came to.
    ///
    /// # Errors
    /// `None`, with findings that say why.
    pub fn ask(&mut self, question: &str, outcome: &Outcome) -> (Option<Value>, Vec<Finding>) {
        self.session.ask(question, outcome)
    }

    /// The findings that concern some questions about what a line came to.
    #[must_use]
    pub fn about<'a>(
        &self,
        outcome: &Outcome,
        questions: impl Iterator<Item = &'a str>,
    ) -> Vec<Finding> {
        let asked = outcome.asked(questions);
        outcome.about(&self.prepared, &asked)
    }
}

/// A line up to its comment.
fn without_comment(line: &str) -> &str {
    let mut quoted = false;
    let mut escaped = false;
    for (place, c) in line.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            '#' if !quoted => return line.get(..place).unwrap_or(line),
            _ => {}
        }
    }
    line
}

/// An override as the recipe's own line: path and value with a space between them.
fn spaced(piece: &str) -> String {
    match assignment(piece) {
        Some((path, value)) => format!("{path} {value}"),
        None => piece.to_owned(),
    }
}

/// An override as an option takes it.
fn set(piece: &str) -> String {
    if assignment(piece).is_some() || is_relative(piece) {
        return piece.to_owned();
    }
    match piece.split_once(char::is_whitespace) {
        Some((path, value)) => format!("{path}={}", value.trim_start()),
        None => piece.to_owned(),
    }
}

/// Path and value on the two sides of the `=` behind the first word.
fn assignment(piece: &str) -> Option<(&str, &str)> {
    let (path, value) = piece.split_once('=')?;
    let path = path.trim_end();
    let is_path = !path.is_empty() && !path.contains(char::is_whitespace);
    is_path.then(|| (path, value.trim_start()))
}
