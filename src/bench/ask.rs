//! Questions at the bench: values, reasons, comparisons, reports.

use crate::evaluate::{Why, stopped};
use crate::explore::Keep;
use crate::finding::Weight;
use crate::report::{self, Due, ReportExtent, ReportPart, ReportWays, TextLayout, document};
use crate::schema;
use crate::session::Outcome;
use crate::source::{Sources, printable};
use crate::suggest::{listed, nearest};
use crate::syntax;
use crate::syntax::ast::{Expr, ExprKind, Operator};

use super::{Bench, Reply};

/// How many levels of inputs `why` shows under the value itself, and `why all`.
const DEPTHS: (usize, usize) = (1, 9);

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
        if let Some(value) = &value {
            self.keep_last(value);
        }
        Some(match value {
            Some(value) => Reply {
                text: format!(
                    "{}\n{}",
                    report::answer(line, &value, self.digits),
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

    /// `why PATH`, `why all PATH`.
    pub(super) fn why(&mut self, rest: &str) -> Reply {
        let whole = rest.strip_prefix("all ").or(rest.strip_suffix(" all"));
        let path = whole.unwrap_or(rest).trim();
        if path.is_empty() || rest == "all" {
            return Reply::complaint("why what? as in `why weight`");
        }
        let depth = if whole.is_some() { DEPTHS.1 } else { DEPTHS.0 };
        let (why, findings) = self.session.why(path, &self.outcome, depth);
        let goes_on = whole.is_none() && {
            let (deeper, _) = self.session.why(path, &self.outcome, depth + 1);
            let count = |why: &Option<Why>| why.as_ref().map_or(0, inputs);
            count(&deeper) > count(&why)
        };
        match why {
            Some(why) => Reply {
                text: match goes_on {
                    true => format!(
                        "{}\u{2026} and what these come from: `why all {}`\n",
                        report::why(&why, self.digits),
                        printable(path)
                    ),
                    false => report::why(&why, self.digits),
                },
                findings,
                ..Reply::default()
            },
            None => Reply::refused(findings),
        }
    }

    /// `eval [BAND] [full | PART]`, `eval json`, `eval csv`.
    pub(super) fn eval(&mut self, what: &str) -> Reply {
        let mut request = self.request();
        if let how @ ("json" | "csv") = what.trim_start_matches("--") {
            request.band = None;
            let outcome = self.session.outcome(&self.prepared, &request);
            return Reply::of(self.machine(how, &outcome));
        }
        let mut extent = ReportExtent::Card;
        let mut name = "";
        for word in what.split_whitespace() {
            let word = word.trim_start_matches("--");
            extent = match (word, ReportPart::of(word)) {
                // A band of that name is meant before a part.
                (word, _) if self.outcome.recipe.is_band(word) && name.is_empty() => {
                    name = word;
                    continue;
                }
                ("full", _) => ReportExtent::Full,
                ("part", _) => continue,
                (_, Some(part)) => ReportExtent::Part(part),
                (word, None) => return Reply::complaint(self.no_part(word)),
            };
        }
        let name = match self.named_band(name) {
            Ok(name) => name,
            Err(message) => return Reply::complaint(message),
        };
        let outcome = self.session.outcome(&self.prepared, &request);
        let layout = self.layout();
        let mut due = Due::default();
        let mut reports = Vec::new();
        for one in outcome.evaluations.iter() {
            if one.band.name == name {
                due.add(one);
                reports.push(report::report(one, extent, layout));
            }
        }
        if !reports.is_empty() {
            reports.extend(report::beside(
                &outcome.orders,
                &outcome.verdicts,
                extent,
                layout,
            ));
            reports.retain(|text| !text.is_empty());
            if !reports.is_empty() {
                reports.extend(report::over_told(&request.over(), layout));
            }
            let rounded = reports.iter().any(|text| text.contains('\u{2248}'));
            let closing = report::closing(&due, rounded, extent, ReportWays::BENCH, layout);
            reports.push(
                closing
                    .replace("`--", "`eval ")
                    .replace("`eval digits", "`digits"),
            );
        }
        reports.retain(|text| !text.is_empty());
        let nothing = reports.is_empty() && matches!(extent, ReportExtent::Part(_));
        Reply {
            text: match nothing {
                true => format!("  `{name}` has nothing of that\n"),
                false => reports.join("\n"),
            },
            findings: outcome.findings,
            ..Reply::default()
        }
    }

    /// What to say of a word behind `eval` that is neither a band nor a part.
    fn no_part(&self, word: &str) -> String {
        let parts = ReportPart::ALL.iter().map(|(word, _)| *word);
        let known = self.band_names().into_iter().chain(parts).chain(["full"]);
        let word = printable(word);
        match nearest(&word, known) {
            Some(near) => format!("`eval` knows no `{word}`; did you mean `{near}`?"),
            None => format!(
                "`eval` knows no `{word}`; write a band, `full`, or a part: {}",
                listed(ReportPart::ALL.iter().map(|(word, _)| *word))
            ),
        }
    }

    /// How texts are laid out here.
    pub(super) fn layout(&self) -> TextLayout {
        TextLayout {
            digits: self.digits,
            width: self.width,
        }
    }

    fn machine(&self, how: &str, outcome: &Outcome) -> String {
        let files = self.prepared.files();
        if how == "csv" {
            let file = files.first().map_or("", |file| file);
            return report::csv_header()
                + &report::csv(file, outcome.shown().take_while(|_| !stopped()));
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
        let wanted = (!name.is_empty()).then_some(name);
        let findings = match wanted {
            Some(name) => outcome.about(&self.prepared, &outcome.asked_of_order(name)),
            None => outcome.findings.clone(),
        };
        match report::offers(&outcome.orders, wanted, &request.over(), self.digits) {
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
        let mut text = report::requirements(&outcome.verdicts, self.layout()).unwrap_or_default();
        if outcome.findings.is_empty() && text.is_empty() {
            text = "all holds\n".to_owned();
        }
        Reply {
            text,
            findings: outcome.findings,
            ..Reply::default()
        }
    }

    /// `run SIZES`: the current band in many sizes.
    pub(super) fn run_sizes(&mut self, sizes: &str) -> Reply {
        if sizes.is_empty() {
            return Reply::complaint("run over which sizes? as in `run ISO 50 .. ISO 56 by 2`");
        }
        let (sizes, kept) = sizes.split_once(" keep ").unwrap_or((sizes, ""));
        let mut keeps = Vec::new();
        for word in kept.split([' ', ',']).filter(|word| !word.is_empty()) {
            match Keep::of_word(word) {
                Some(keep) => keeps.push(keep),
                None => {
                    return Reply::complaint(format!(
                        "`keep {word}`: what stays the same is `repeats`, `motif` or `outside`"
                    ));
                }
            }
        }
        let request = self.request();
        let band = self.band.clone();
        let (run, findings) = self.session.size_run(
            &self.prepared,
            &request,
            &self.outcome,
            band.as_deref(),
            (sizes, &keeps),
        );
        match run {
            Some(run) => Reply {
                text: report::size_run(&run, &request.over(), self.layout()),
                findings,
                ..Reply::default()
            },
            None => Reply::refused(findings),
        }
    }

    /// `compare [all] [BAND…] [solid]`.
    pub(super) fn compare(&mut self, names: &str) -> Reply {
        let mut words: Vec<&str> = names
            .split(|c: char| c.is_whitespace() || c == ',')
            .filter(|word| !word.is_empty())
            .collect();
        let all = words.first() == Some(&"all") && !self.outcome.recipe.is_band("all");
        if all {
            words.remove(0);
        }
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
        Reply::of(report::compare(&comparison, self.digits, self.width, all))
    }
}

/// How many inputs a reason has, at any depth.
fn inputs(why: &Why) -> usize {
    why.inputs.len() + why.inputs.iter().map(inputs).sum::<usize>()
}
