//! Why a value of a recipe is what it is: finds the path, and asks for its tree.

use crate::evaluate::{self, Why};
use crate::finding::Finding;
use crate::model::{ModelError, Scope};
use crate::schema;
use crate::syntax::ast::{self, ExprKind};
use crate::words::fineness;

use super::question::{Meant, Results};
use super::{Outcome, Session};

impl Session {
    /// Why a path of a recipe has its value; inputs are followed `depth` levels down.
    ///
    /// # Errors
    /// `None`, with findings that say why not.
    pub fn why(
        &mut self,
        path: &str,
        outcome: &Outcome,
        depth: usize,
    ) -> (Option<Why>, Vec<Finding>) {
        let id = self.sources.add("question", path);
        let mut findings = Vec::new();
        let Some(source) = self.sources.get(id) else {
            return (None, findings);
        };
        let parsed = crate::syntax::parse_query(source);
        findings.extend(parsed.findings);
        let Some(ast::Expr {
            kind: ExprKind::Path(path),
            span,
        }) = parsed.value
        else {
            if findings.is_empty() {
                let at = source.span(0..source.text.len());
                findings.push(
                    ModelError::WrongKind {
                        at,
                        field: "why".to_owned(),
                        due: "a path".to_owned(),
                        found: "an expression".to_owned(),
                        help: "ask for one field or result, as in `annulet why weight`".to_owned(),
                    }
                    .into(),
                );
            }
            return (None, findings);
        };
        // The question itself finds and reports what is wrong with the path.
        let mut scope = Results { outcome };
        let found = Scope::name(&mut scope, &path, span, &mut findings);
        outcome.tell_unread(&mut findings);
        if found.is_none() {
            return (None, findings);
        }
        if let Some(setting) = scope.setting(&path.0) {
            return (
                Some(evaluate::explain_setting(setting, &self.sources)),
                findings,
            );
        }
        if let Some((alloy, rest)) = scope.alloy(&path.0) {
            return (
                evaluate::explain_alloy(alloy, rest, &self.sources),
                findings,
            );
        }
        if let Some(why) = scope.why_of_order(&path.0) {
            return (Some(why), findings);
        }
        if let Some((path, value)) = scope.of_cutter(&path.0) {
            return (
                Some(evaluate::explain_value(&path, value, &self.sources)),
                findings,
            );
        }
        let why = match scope.meant(&path.0, span, &mut findings) {
            Some(Meant::Let(one)) => Some(evaluate::explain_let(one, &self.sources)),
            Some(Meant::Of(band, rest)) => {
                let evaluation = outcome
                    .evaluations
                    .iter()
                    .find(|evaluation| evaluation.band.name == band);
                evaluation.and_then(|evaluation| match schema::find_subject(rest).as_slice() {
                    [subject] => {
                        let why = evaluate::explain(
                            *subject,
                            evaluation,
                            &outcome.recipe,
                            &self.sources,
                            depth,
                        );
                        why.map(|why| fineness::with_reasons(why, *subject, evaluation))
                    }
                    _ => match evaluation.band.cut_value(rest) {
                        Some(value) => {
                            let path = format!("{band}.{rest}");
                            Some(evaluate::explain_value(&path, value, &self.sources))
                        }
                        None => fineness::explain(evaluation, rest),
                    },
                })
            }
            None => None,
        };
        (why, findings)
    }
}
