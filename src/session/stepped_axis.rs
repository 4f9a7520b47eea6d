//! Steps among what is varied (`width + 0.1 mm .. 0.3 mm by 0.1 mm`, `width [- 0.1 mm, + 0.1 mm]`), as the values that they
//! come to from what stands.

use std::borrow::Cow;

use crate::explore::{MOST, ranged};
use crate::syntax;
use crate::syntax::ast::ExprKind;

use super::Typed;
use super::clauses::listed_parts;
use super::exploring::{Asking, SOURCE};
use super::question::Results;
use super::relative::SIGNS;

impl Asking<'_> {
    /// The text of an axis with the values that its steps come to; as it is where there is none. `None` after a finding.
    ///
    /// Where it is `free`, a range of steps without a step of its own stands for all between its ends.
    pub(super) fn without_steps<'t>(&mut self, text: &'t str, free: bool) -> Option<Cow<'t, str>> {
        let Some((path, rest)) = text.trim().split_once(char::is_whitespace) else {
            return Some(Cow::Borrowed(text));
        };
        let rest = rest.trim();
        let listed = rest.strip_prefix('[').and_then(|one| one.strip_suffix(']'));
        let items = listed.map_or_else(|| vec![rest], listed_parts);
        if !items.iter().any(|item| step(item).is_some()) {
            return Some(Cow::Borrowed(text));
        }
        let mut values: Vec<String> = Vec::new();
        for item in items {
            let Some((sign, amount)) = step(item) else {
                values.push(item.to_owned());
                continue;
            };
            let (amounts, between) = self.amounts(amount, free)?;
            let mut stepped = Vec::new();
            for amount in amounts {
                stepped.push(self.value_stepped(path, sign, &amount)?);
            }
            if let (true, [one, other]) = (between, stepped.as_slice()) {
                // What is taken off most leads to the smaller end.
                let (low, high) = match sign {
                    '-' | '/' => (other, one),
                    _ => (one, other),
                };
                return Some(Cow::Owned(format!("{path} {low} .. {high}")));
            }
            values.extend(stepped);
        }
        Some(Cow::Owned(format!("{path} [{}]", values.join(", "))))
    }

    /// The amounts of a step, each as text, and whether all between two of them is meant.
    fn amounts(&mut self, text: &str, free: bool) -> Option<(Vec<String>, bool)> {
        let id = self.session.sources.add(SOURCE, text);
        let parsed = syntax::parse_setting(self.session.sources.get(id)?);
        let mut values = parsed.value;
        if !parsed.findings.is_empty() {
            self.findings.extend(parsed.findings);
            return None;
        }
        let (Some(expr), true) = (values.pop(), values.is_empty()) else {
            let help = "as in `width + 0.1 mm` or `width + 0.1 mm .. 0.3 mm by 0.1 mm`";
            return self.lacks(text, "this is not what a step takes", help);
        };
        match &expr.kind {
            ExprKind::Range { from, to, by: None } if free => {
                Some((vec![self.text_of(from), self.text_of(to)], true))
            }
            ExprKind::Range { .. } => {
                let mut scope = Results {
                    outcome: &self.outcome,
                };
                let all = ranged(&expr, &mut scope, &mut self.findings)?;
                if all.len() > MOST {
                    let help = "write the values themselves, which may be as many as wanted";
                    return self.lacks(text, "these are too many steps", help);
                }
                if all.len() == 1 {
                    let help = "to either side of what stands it is `[- 0.2 mm, + 0.2 mm]`";
                    return self.lacks(text, "this range of steps ends where it begins", help);
                }
                let all = all.iter().map(crate::model::check::written);
                Some((all.collect(), false))
            }
            _ => Some((vec![text.to_owned()], false)),
        }
    }

    /// What stands, stepped, as text.
    fn value_stepped(&mut self, path: &str, sign: char, amount: &str) -> Option<String> {
        let typed = Typed {
            name: SOURCE.to_owned(),
            line: 1,
        };
        let mut request = self.request.clone();
        request.band.clone_from(&self.band);
        let line = format!("{path} {sign} {amount}");
        let absolute = self
            .session
            .absolute(&line, &typed, self.prepared, &request, &self.outcome);
        match absolute {
            Ok(line) => Some(line.strip_prefix(path)?.trim().to_owned()),
            Err(findings) => {
                self.findings.extend(findings);
                None
            }
        }
    }
}

/// The sign and the amount of a step.
fn step(item: &str) -> Option<(char, &str)> {
    let sign = item.chars().next().filter(|sign| SIGNS.contains(sign))?;
    let amount = item.get(sign.len_utf8()..)?;
    amount
        .starts_with(char::is_whitespace)
        .then(|| (sign, amount.trim()))
}
