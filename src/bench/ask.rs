//! Questions at the bench: values, reasons, comparisons, reports.

use crate::finding::Weight;
use crate::report::{self, document};
use crate::schema;
use crate::session::Outcome;
use crate::source::Sources;
use crate::syntax;
use crate::syntax::ast::{Expr, ExprKind, Operator};

use super::{Bench, Reply};

/// How many levels of inputs `why` shows.
const DEPTH: usize = 9;

impl Bench {
    /// The answer to a line that reads as one expression; none where it does not.
    pub(super) fn question(&mut self, line: &str) -> Option<Reply> {
        let mut scratch = Sources::default();
        let id = scratch.add("line", line.trim());
        let parsed = syntax::parse_query(scratch.get(id)?);
        let expr = parsed.value.filter(|_| parsed.findings.is_empty())?;
        if let Some(reply) = self.is_choice(&expr) {
            return Some(reply);
        }
        let (value, findings) = self.session.ask(line.trim(), &self.outcome);
        Some(match value {
            Some(value) => Reply {
                text: format!(
                    "{}\n{}",
                    report::value(&value, self.digits),
                    self.meant_to_set(&expr, line)
                ),
                findings,
                ..Reply::default()
            },
            None => Reply::refused(findings),
        })
    }

    /// `width = 5 mm` compares, which is not what was meant where `width` can be set.
    fn meant_to_set(&self, expr: &Expr, line: &str) -> String {
        let ExprKind::Binary {
            operator,
            left,
            right,
        } = &expr.kind
        else {
            return String::new();
        };
        let (ExprKind::Path(path), Operator::Equal) = (&left.kind, operator.value) else {
            return String::new();
        };
        let mut lets = self.outcome.recipe.lets.iter();
        let is_let = lets.any(|one| one.name == path.0);
        let field = path.0.rsplit('.').next().unwrap_or(&path.0);
        if !is_let && schema::matching(field).is_empty() {
            return String::new();
        }
        let end = right.span.end as usize;
        let value = line
            .trim()
            .get(right.span.start as usize..end)
            .unwrap_or("");
        let sets = if is_let {
            format!("let {} = {value}", path.0)
        } else {
            format!("{} {value}", path.0)
        };
        format!("  `=` compares; to set it write `{sets}`\n")
    }

    /// A command's word that is spelt wrong, or the name of a band alone.
    fn is_choice(&self, expr: &Expr) -> Option<Reply> {
        let ExprKind::Path(path) = &expr.kind else {
            return None;
        };
        let name = path.single()?;
        if self.outcome.recipe.is_band(name) {
            return Some(Reply::complaint(format!(
                "`{name}` is a band; `on {name}` chooses it, `show {name}` shows it, `{name}.weight` asks for its weight"
            )));
        }
        None
    }

    /// `why PATH`.
    pub(super) fn why(&mut self, path: &str) -> Reply {
        if path.is_empty() {
            return Reply::complaint("why what? as in `why weight`");
        }
        let (why, findings) = self.session.why(path, &self.outcome, DEPTH);
        match why {
            Some(why) => Reply {
                text: report::why(&why, self.digits),
                findings,
                ..Reply::default()
            },
            None => Reply::refused(findings),
        }
    }

    /// `eval`, `eval BAND`, `eval json`, `eval csv`.
    pub(super) fn eval(&mut self, what: &str) -> Reply {
        let mut request = self.request();
        match what.trim_start_matches("--") {
            how @ ("json" | "csv") => {
                request.band = None;
                let outcome = self.session.outcome(&self.prepared, &request);
                Reply::of(self.machine(how, &outcome))
            }
            name => {
                let name = match self.named_band(name) {
                    Ok(name) => name,
                    Err(message) => return Reply::complaint(message),
                };
                let outcome = self.session.outcome(&self.prepared, &request);
                let mut evaluations = outcome.evaluations.iter();
                let text = evaluations
                    .find(|one| one.band.name == name)
                    .map(|one| report::report(one, self.digits))
                    .unwrap_or_default();
                Reply {
                    text,
                    findings: outcome.findings,
                    ..Reply::default()
                }
            }
        }
    }

    fn machine(&self, how: &str, outcome: &Outcome) -> String {
        let files = self.prepared.files();
        if how == "csv" {
            let file = files.first().map_or("", |file| file);
            return report::csv_header() + &report::csv(file, outcome.shown());
        }
        let sources = &self.session.sources;
        let findings = outcome.findings.iter();
        let findings: Vec<String> = findings
            .map(|one| document::inline(&report::finding(one, sources)))
            .collect();
        let status = match outcome.weight() {
            Some(Weight::Wrong) => 2,
            Some(Weight::Short) => 1,
            Some(Weight::Note) | None => 0,
        };
        let mut part = outcome.part(files, sources, true);
        let mut request = self.request();
        request.band = None;
        part.fingerprints = Some(self.prepared.fingerprints(&request));
        document::whole("eval", self.on.as_deref(), vec![part], &findings, status)
    }

    /// That tries lie over the recipe, where some do: an offer with them is not the one that is saved.
    fn tried_over(&self) -> String {
        match self.tries() {
            0 => String::new(),
            1 => "\n  (with a try over the recipe, which `keep` writes and `drop` forgets)\n"
                .to_owned(),
            many => format!(
                "\n  (with {many} tries over the recipe, which `keep` writes and `drop` forgets)\n"
            ),
        }
    }

    /// `offer [ORDER]`.
    pub(super) fn offer(&mut self, name: &str) -> Reply {
        let request = self.request();
        let outcome = self.session.outcome(&self.prepared, &request);
        let ring = |name: &str| {
            let mut rings = outcome.evaluations.iter();
            rings.find(|one| one.band.name == name)
        };
        let wanted = (!name.is_empty()).then_some(name);
        let findings = match wanted {
            Some(name) => outcome.about(&self.prepared, &outcome.asked_of_order(name)),
            None => outcome.findings.clone(),
        };
        match report::offers(&outcome.orders, wanted, &ring, self.digits) {
            (text, Ok(())) => Reply {
                text: format!("{text}{}", self.tried_over()),
                findings,
                ..Reply::default()
            },
            (text, Err(message)) => Reply {
                text,
                ..Reply::complaint(message)
            },
        }
    }

    /// `check`.
    pub(super) fn check(&mut self) -> Reply {
        let request = self.request();
        let outcome = self.session.outcome(&self.prepared, &request);
        let mut text = report::requirements(&outcome.verdicts).unwrap_or_default();
        if outcome.findings.is_empty() && text.is_empty() {
            text = "all holds\n".to_owned();
        }
        Reply {
            text,
            findings: outcome.findings,
            ..Reply::default()
        }
    }

    /// `compare [BAND…] [solid]`.
    pub(super) fn compare(&mut self, names: &str) -> Reply {
        let words: Vec<&str> = names
            .split(|c: char| c.is_whitespace() || c == ',')
            .filter(|word| !word.is_empty())
            .collect();
        let sides = match self.outcome.sides(&words, !self.state.tries.is_empty()) {
            Ok(sides) => sides,
            Err(message) => return Reply::complaint(message),
        };
        let request = self.request();
        let compared = self
            .session
            .side_by_side(&sides, &self.prepared, &request, &self.outcome);
        let comparison = match compared {
            Ok(comparison) => comparison,
            Err((_, findings)) => return Reply::refused(findings),
        };
        Reply::of(report::compare(&comparison, self.digits, self.width))
    }
}
