//! A batch of weighings beside a band: its figures, and what they are held against.

use crate::evaluate::{Evaluation, Tallied, range_of};
use crate::report::HeldAgainst;
use crate::schema::ResultId;
use crate::source::printable;

use super::Outcome;

/// Weighings of a batch, g, each with the line of its file.
pub type Batch = Vec<(u64, f64)>;

/// A batch beside its band.
#[derive(Clone, Debug)]
pub struct TalliedBatch {
    /// The band.
    pub band: String,
    /// The lines of the readings.
    pub lines: Vec<u64>,
    /// What the readings come to.
    pub tallied: Tallied,
    /// What they are held against.
    pub wanted: HeldAgainst,
}

impl TalliedBatch {
    /// Whether some reading lies beyond the limits, or beyond what a steady process keeps within.
    #[must_use]
    pub fn falls_short(&self) -> bool {
        let count = self.tallied.readings.len();
        !self.tallied.outliers.is_empty() || self.tallied.within.is_some_and(|of| of < count)
    }
}

impl Outcome {
    /// Weighings beside the band that is shown, held against the least and the most that are asked, as texts in grams,
    /// else against the range that the recipe gives.
    ///
    /// # Errors
    /// In words, why they cannot be held against it.
    pub fn tally(
        &self,
        batch: Batch,
        least: Option<&str>,
        most: Option<&str>,
    ) -> Result<TalliedBatch, String> {
        let shown: Vec<&Evaluation> = self.shown().collect();
        let [band] = shown.as_slice() else {
            return Err(match shown.is_empty() {
                true => "no band can be worked out; `check` says why".to_owned(),
                false => "of which band? name it with `--band NAME`".to_owned(),
            });
        };
        let wanted = wanted(band, least, most)?;
        let (lines, grams): (Vec<u64>, Vec<f64>) = batch.into_iter().unzip();
        let Some(tallied) = Tallied::of(&grams, Some(wanted.limits)) else {
            return Err("a batch has two readings at least".to_owned());
        };
        Ok(TalliedBatch {
            band: band.band.name.clone(),
            lines,
            tallied,
            wanted,
        })
    }
}

fn wanted(
    band: &Evaluation,
    least: Option<&str>,
    most: Option<&str>,
) -> Result<HeldAgainst, String> {
    let nominal = band
        .number(ResultId::Weight)
        .map_or(f64::NAN, |one| one.to_f64());
    let range = range_of(band, ResultId::Weight.row());
    let mut limits = range.map_or((nominal, nominal), |range| (range.low, range.high));
    if least.is_none() && most.is_none() && limits.0 >= limits.1 {
        return Err(
            "nothing of the band may be off, so there is no range to hold readings against; give `--least` and `--most`, or state tolerances"
                .to_owned(),
        );
    }
    if let Some(least) = least {
        limits.0 = written_grams(least).ok_or_else(|| no_mass("--least", least))?;
    }
    if let Some(most) = most {
        limits.1 = written_grams(most).ok_or_else(|| no_mass("--most", most))?;
    }
    Ok(HeldAgainst {
        limits,
        of_recipe: least.is_none() && most.is_none(),
        nominal,
    })
}

fn no_mass(option: &str, text: &str) -> String {
    format!(
        "`{option} {}` is no weight in grams; write it as in `{option} \"4.27 g\"`",
        printable(text)
    )
}

/// A weight in grams, with or without its unit.
///
/// # Example
/// ```
/// use annulet::session::written_grams;
/// assert_eq!(written_grams(" 4.27 g"), Some(4.27));
/// assert_eq!(written_grams("4,27"), None);
/// ```
#[must_use]
pub fn written_grams(text: &str) -> Option<f64> {
    let text = text.trim();
    let number = text.strip_suffix('g').unwrap_or(text).trim();
    let plain = number.chars().all(|c| c.is_ascii_digit() || c == '.');
    let value: f64 = number
        .parse()
        .ok()
        .filter(|_| plain && !number.is_empty())?;
    Some(value)
}
