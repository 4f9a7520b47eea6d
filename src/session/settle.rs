//! One number of a band settled by one reading of the scale.

use crate::evaluate::{OnScale, Settled};
use crate::schema::{self, FieldId};
use crate::suggest::listed;

use super::Outcome;

/// A number that a reading settles.
#[derive(Clone, Debug)]
pub struct Calibrated {
    /// The band.
    pub band: String,
    /// The number.
    pub settled: Settled,
    /// The reading.
    pub reading: OnScale,
    /// As a recipe writes it: path and value.
    pub line: String,
    /// What the line is remarked with.
    pub remark: String,
}

impl Outcome {
    /// What a path of a band would have to be for a reading of it to come out: the one named, else the only one that
    /// the recipe can be compared with.
    ///
    /// # Errors
    /// In words, why it cannot be settled.
    pub fn settle(&self, path: &str, by: Option<&str>) -> Result<Calibrated, String> {
        let words: Vec<&str> = path
            .split([',', ' '])
            .filter(|one| !one.is_empty())
            .collect();
        let [path] = words.as_slice() else {
            return Err(format!(
                "one reading settles one number, and {} are named; name one, or state the others as measured",
                words.len()
            ));
        };
        let (band, rest) = match path.split_once('.') {
            Some((band, rest)) if self.recipe.is_band(band) => (Some(band), rest),
            _ => (self.chosen.as_deref(), *path),
        };
        let mut shown = self.evaluations.iter().filter(|of| !of.band.used);
        let found = match band {
            Some(name) => shown.find(|of| of.band.name == name),
            None => match self.recipe.names.as_slice() {
                [only] => shown.find(|of| of.band.name == only.name),
                _ => {
                    return Err(format!(
                        "whose `{rest}`? write `BAND.{rest}`; bands are {}",
                        listed(self.recipe.names.iter().map(|one| one.name.as_str()))
                    ));
                }
            },
        };
        let Some(evaluation) = found else {
            return Err("this band cannot be worked out; `check` says why".to_owned());
        };
        let name = &evaluation.band.name;
        let Some(all) = evaluation.weighings() else {
            return Err(format!(
                "nothing of `{name}` was weighed; write `weighed {name} {{ finished 4.27 g }}`"
            ));
        };
        let known: Vec<&OnScale> = all
            .readings
            .iter()
            .filter(|one| one.over().is_some())
            .collect();
        let word = |one: &OnScale| one.field.row().word();
        let reading = match (by, known.as_slice()) {
            (Some(by), _) => known.iter().find(|one| word(one) == by).ok_or_else(|| {
                format!(
                    "there is no reading `{by}` of `{name}` that the recipe can be compared with"
                )
            })?,
            (None, [only]) => only,
            (None, []) => {
                return Err(format!(
                    "no reading of `{name}` can be compared with the recipe"
                ));
            }
            (None, _) => {
                return Err(format!(
                    "by which reading? `--by` one of {}",
                    listed(known.iter().map(|one| word(one)))
                ));
            }
        };
        let matching = schema::matching(rest);
        let field = match matching.as_slice() {
            [one] if evaluation.band.field(one.id).is_some() => one.path,
            _ => rest,
        };
        let settled = evaluation.settle(field, reading).ok_or_else(|| {
            format!(
                "no value of `{rest}` alone gives {} {}; is it a number of `{name}` that its weight rests on?",
                crate::words::grams(reading.grams),
                word(reading)
            )
        })?;
        let day = match reading.dated {
            Some(day) => format!(", {day}"),
            None => String::new(),
        };
        let remark = format!(
            "settled by {} {}{day}",
            crate::words::grams(reading.grams),
            word(reading)
        );
        let path = match settled.number.path.ends_with(FieldId::AlloyDensity.word())
            && evaluation
                .band
                .fields
                .iter()
                .all(|one| one.field.path != settled.number.path)
        {
            true => settled.number.path.clone(),
            false => format!("{name}.{}", settled.number.path),
        };
        Ok(Calibrated {
            band: name.clone(),
            line: format!("{path} {}", crate::words::settled_line(&settled)),
            settled,
            reading: (*reading).clone(),
            remark,
        })
    }
}
