//! `contour`: the points that a turning program goes through, at the prompt.

use crate::explore::contours;
use crate::kernel::lathe::{LatheState, Part};
use crate::report;
use crate::session::ContourAsked;

use super::{Bench, Reply};

/// What stands behind the word, as written.
#[derive(Default)]
struct Written {
    band: Option<String>,
    part: Option<Part>,
    finished: bool,
    step: Option<String>,
    nose: Option<String>,
    csv: bool,
}

impl Bench {
    /// `contour [BAND] [PART] [finished] [step LENGTH] [nose LENGTH] [csv]`.
    pub(super) fn contour(&mut self, rest: &str) -> Reply {
        let written = match read(rest) {
            Ok(written) => written,
            Err(message) => return Reply::complaint(message),
        };
        let name = match self.named_band(written.band.as_deref().unwrap_or("")) {
            Ok(name) => name,
            Err(message) => return Reply::complaint(message),
        };
        let request = self.request();
        let outcome = self.session.outcome(&self.prepared, &request);
        let Some(evaluation) = outcome.evaluations.iter().find(|one| one.band.name == name) else {
            return Reply::refused(outcome.findings);
        };
        let asked = ContourAsked {
            part: written.part,
            state: match written.finished {
                true => LatheState::Finished,
                false => LatheState::Machined,
            },
            step: written.step.as_deref(),
            nose: written.nose.as_deref(),
            dashes: "",
        };
        let of = match self.session.contour_of(&asked, evaluation, &outcome) {
            Ok(of) => of,
            Err(message) => return Reply::complaint(message),
        };
        let found = contours(evaluation, of);
        Reply::of(match written.csv {
            true => report::contours_csv(&found),
            false => report::contours(&found, self.digits),
        })
    }
}

/// Words in any order; a length goes on until the next of them.
fn read(rest: &str) -> Result<Written, String> {
    let mut written = Written::default();
    let mut length: Option<(&str, String)> = None;
    let words = rest
        .split(|c: char| c.is_whitespace() || c == ',')
        .filter(|word| !word.is_empty());
    for word in words.chain(["machined"]) {
        let part = match word {
            "shell" => Some(Part::Shell),
            "sleeve" => Some(Part::Sleeve),
            "band" => Some(Part::Band),
            _ => None,
        };
        let known =
            part.is_some() || matches!(word, "machined" | "finished" | "step" | "nose" | "csv");
        if !known && let Some((_, text)) = &mut length {
            text.push_str(word);
            text.push(' ');
            continue;
        }
        match length.take() {
            Some((of, text)) if text.is_empty() => {
                return Err(format!("{of} of what? as in `contour {of} 0.1 mm`"));
            }
            Some(("step", text)) => written.step = Some(text.trim_end().to_owned()),
            Some((_, text)) => written.nose = Some(text.trim_end().to_owned()),
            None => {}
        }
        match word {
            _ if part.is_some() => written.part = part,
            "machined" => {}
            "finished" => written.finished = true,
            "csv" => written.csv = true,
            "step" | "nose" => length = Some((word, String::new())),
            name if written.band.is_none() => written.band = Some(name.to_owned()),
            name => {
                return Err(format!(
                    "`{}`: behind the band stand `shell`, `sleeve`, `finished`, `step`, `nose` or `csv`",
                    crate::source::printable(name)
                ));
            }
        }
    }
    Ok(written)
}
