//! Why a value is what it is: its formula and inputs, or every place that set it and the one that won.

use crate::catalogue;
use crate::model::money::{Rate, Setting};
use crate::model::{Alloy, AlloyDensity, Band, FieldValue, Key, LetValue, Recipe, Value};
use crate::quantity::{Dimension, Number, Quantity};
use crate::schema::{BlockId, FieldId, RestsOn, ResultId, Subject, Takes};
use crate::source::{Sources, Span};

use super::causes::{Cause, causes};
use super::evaluation::Evaluation;

/// A value and why it is that.
#[derive(Clone, Debug)]
pub struct Why {
    /// Full path, with its band.
    pub path: String,
    /// The value.
    pub value: Option<Value>,
    /// What it means.
    pub meaning: String,
    /// How it is computed; none for a field.
    pub formula: Option<String>,
    /// Whether the recipe says nothing of it, so that its default holds.
    pub is_default: bool,
    /// Where a field is set, weakest first; the last one wins.
    pub places: Vec<WhyPlace>,
    /// What it is computed from.
    pub inputs: Vec<Why>,
}

/// A place that sets a field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WhyPlace {
    /// `file:line:column`, `--set`, or the basis of a default.
    pub place: String,
    /// What is said there.
    pub text: String,
}

/// The tree of a value; inputs are followed `depth` levels down. What moves a result is observed ([`causes`]): a number
/// stands under the innermost of the results that its formula goes through.
#[must_use]
pub fn explain(
    subject: Subject,
    evaluation: &Evaluation,
    recipe: &Recipe,
    sources: &Sources,
    depth: usize,
) -> Option<Why> {
    let mut tree = Tree {
        evaluation,
        recipe,
        sources,
        results: Vec::new(),
        causes: Vec::new(),
    };
    match evaluation.meant(subject) {
        Subject::Field(id) => {
            let mut why = tree.field(&evaluation.band, id, depth)?;
            if id == FieldId::Alloy {
                let density = FieldId::AlloyDensity.word();
                why.inputs
                    .extend(explain_alloy(&evaluation.band.alloy, density, sources));
            }
            Some(why)
        }
        Subject::Result(id) => {
            if depth > 0 {
                tree.reach(id);
                tree.causes = causes(evaluation, &tree.results);
            }
            tree.result(id, depth)
        }
    }
}

/// What a tree is grown from.
struct Tree<'a> {
    evaluation: &'a Evaluation,
    recipe: &'a Recipe,
    sources: &'a Sources,
    /// The result that is asked for, and all that its formula goes through.
    results: Vec<ResultId>,
    /// What moves them.
    causes: Vec<(Cause, Vec<usize>)>,
}

impl Tree<'_> {
    /// Notes a result and all that its formula goes through.
    fn reach(&mut self, id: ResultId) {
        if self.results.contains(&id) {
            return;
        }
        self.results.push(id);
        for inner in self.through(id) {
            self.reach(inner);
        }
    }

    /// The results that a formula goes through, those that the band has.
    fn through(&self, id: ResultId) -> Vec<ResultId> {
        let (_, needs) = self.evaluation.formula(id.row());
        let results = needs.iter().filter_map(|need| match need {
            RestsOn::R(id) => Some(*id),
            RestsOn::F(_) | RestsOn::B(_) => None,
        });
        let has = |id: &ResultId| self.evaluation.number(*id).is_some();
        results.filter(has).collect()
    }

    /// Places of the causes that move a result.
    fn moving(&self, id: ResultId) -> Vec<usize> {
        let Some(place) = self.results.iter().position(|known| *known == id) else {
            return Vec::new();
        };
        let causes = self.causes.iter().enumerate();
        let moving = causes.filter(|(_, (_, moved))| moved.contains(&place));
        moving.map(|(cause, _)| cause).collect()
    }

    fn result(&self, id: ResultId, depth: usize) -> Option<Why> {
        let (evaluation, entry) = (self.evaluation, id.row());
        let quantity = evaluation.result(entry)?;
        let unit = Some(evaluation.unit(entry).into_owned()).filter(|unit| !unit.is_empty());
        let (formula, needs) = evaluation.formula(entry);
        let mut inputs = Vec::new();
        if depth > 0 {
            let all = self.moving(id);
            let mut left = all.clone();
            for inner in self.through(id) {
                let moving = self.moving(inner);
                // What nothing moves, such as a limit at its least, still shows its way.
                if all.is_empty() || moving.iter().any(|cause| all.contains(cause)) {
                    inputs.extend(self.result(inner, depth - 1));
                    left.retain(|cause| !moving.contains(cause));
                }
            }
            for need in needs {
                // What is chosen is no number, and cannot be moved by a little.
                if let RestsOn::F(field) = need
                    && (all.is_empty()
                        || !field.row().takes.is_measured() && self.counts(*field, &all))
                {
                    inputs.extend(self.field(&evaluation.band, *field, depth - 1));
                }
            }
            inputs.extend(
                left.into_iter()
                    .filter_map(|cause| self.cause(cause, depth - 1)),
            );
        }
        Some(Why {
            path: format!("{}.{}", evaluation.band.name, entry.path),
            value: Some(Value::Quantity { quantity, unit }),
            meaning: entry.meaning.to_owned(),
            formula: Some(formula.to_owned()),
            is_default: false,
            places: Vec::new(),
            inputs,
        })
    }

    /// Whether a choice counts among some causes: an alloy or a stock by its numbers.
    fn counts(&self, field: FieldId, causes: &[usize]) -> bool {
        let band = &self.evaluation.band;
        let Some(Value::Word(word)) = band.field(field).map(|found| &found.value) else {
            return true;
        };
        let mut causes = causes.iter().filter_map(|place| self.causes.get(*place));
        match field.row().takes {
            Takes::Alloy => causes.any(|(cause, _)| match cause {
                Cause::Alloy(alloy, _) => {
                    alloy.name == *word || catalogue::metal_name(word) == Some(&*alloy.name)
                }
                _ => false,
            }),
            Takes::Stock => causes.any(|(cause, _)| match cause {
                Cause::Setting(id, Some(row)) if id.row().block == BlockId::Stock => {
                    let said = band.terms.as_ref().map(|terms| &terms.money.said);
                    let row = said.and_then(|said| said.rows.get(*row));
                    row.is_some_and(|row| *row.name == **word)
                }
                _ => false,
            }),
            _ => true,
        }
    }

    fn cause(&self, place: usize, depth: usize) -> Option<Why> {
        let band = &self.evaluation.band;
        match &self.causes.get(place)?.0 {
            Cause::Field(id) => self.field(band, *id, depth),
            Cause::Other(id) => self.field(band.against.as_ref()?, *id, depth),
            Cause::Setting(id, row) => {
                let said = &band.terms.as_ref()?.money.said;
                let value = said.get(*id, *row)?;
                let stands_in = row.and_then(|row| said.rows.get(row));
                let mut why = explain_setting(
                    Setting {
                        row: stands_in,
                        value,
                    },
                    self.sources,
                );
                why.inputs = self.mentioned(Key::Setting(*id, *row), depth);
                Some(why)
            }
            Cause::Rate(place) => {
                let rate = band.terms.as_ref()?.money.rates.get(*place)?;
                Some(explain_rate(rate, self.sources))
            }
            Cause::Alloy(alloy, path) => explain_alloy(alloy, path, self.sources),
            Cause::Cut(cut, id) => {
                let cut = band.cuts.get(*cut)?;
                let path = format!("{}.{}", band.name, cut.path(*id));
                let value = cut.value(&band.fields, *id)?;
                Some(explain_value(&path, value, self.sources))
            }
            Cause::OtherCut(cut, id) => {
                let other = band.against.as_ref()?;
                let cut = other.cuts.get(*cut)?;
                let path = format!("{}.{}", other.name, cut.path(*id));
                let value = cut.value(&other.fields, *id)?;
                Some(explain_value(&path, value, self.sources))
            }
            Cause::Cutter(name, id) => {
                let cutters = band.cutters_beside();
                let cutter = cutters.iter().find(|cutter| cutter.name == *name)?;
                let path = format!("cutter.{name}.{}", id.word());
                Some(explain_value(&path, cutter.values.get(*id)?, self.sources))
            }
        }
    }

    fn field(&self, band: &Band, id: FieldId, depth: usize) -> Option<Why> {
        let value = band.field(id)?;
        let field = id.row();
        let written = self.recipe.place_of(&band.name);
        let mentioned = written.map(|written| self.mentioned(Key::Field(written, id), depth));
        Some(Why {
            path: format!("{}.{}", band.name, field.path),
            value: Some(value.value.clone()),
            meaning: field.meaning.to_owned(),
            formula: None,
            is_default: value.at.is_none(),
            places: places(value, self.sources),
            inputs: mentioned.unwrap_or_default(),
        })
    }

    /// What a value is written by: `let`s, other fields, and results by their value alone.
    fn mentioned(&self, key: Key, depth: usize) -> Vec<Why> {
        if depth == 0 {
            return Vec::new();
        }
        let program = &self.recipe.program;
        let whys = self.recipe.mentions(key).filter_map(|means| match means {
            Key::Let(written) => {
                let one = self.recipe.lets.get(program.let_place(written)?)?;
                let mut why = explain_let(one, self.sources);
                why.inputs = self.mentioned(Key::Let(written), depth - 1);
                Some(why)
            }
            Key::Field(written, id) => {
                let band = self.recipe.bands.get(program.band_place(written)?)?;
                self.field(band, id, depth - 1)
            }
            Key::Setting(id, row) => {
                let said = &self.recipe.money.as_ref()?.said;
                let value = said.get(id, row)?;
                let row = row.and_then(|row| said.rows.get(row));
                Some(explain_setting(Setting { row, value }, self.sources))
            }
            Key::Result(..) | Key::Alloy(..) => None,
        });
        whys.collect()
    }
}

/// What `prices` or `shop` says, and every place that says it.
#[must_use]
pub fn explain_setting(setting: Setting<'_>, sources: &Sources) -> Why {
    explain_value(&setting.path(), setting.value, sources)
}

/// A rate of exchange, and where it is written.
fn explain_rate(rate: &Rate, sources: &Sources) -> Why {
    let dimension = Dimension {
        currency: Some(rate.in_),
        ..Dimension::MONEY
    };
    Why {
        path: FieldId::PricesRate.path().to_owned(),
        value: Some(Value::Quantity {
            quantity: Quantity::new(Number::Exact(rate.is), dimension),
            unit: Some(rate.in_.code().to_owned()),
        }),
        meaning: format!("what one {} is, of {}", rate.of.code(), rate.dated),
        formula: None,
        is_default: false,
        places: vec![why_place(rate.at, sources)],
        inputs: Vec::new(),
    }
}

/// What stands under a path, and every place that says it.
#[must_use]
pub fn explain_value(path: &str, value: &FieldValue, sources: &Sources) -> Why {
    Why {
        path: path.to_owned(),
        value: Some(value.value.clone()),
        meaning: value.field.meaning.to_owned(),
        formula: None,
        is_default: value.at.is_none(),
        places: places(value, sources),
        inputs: Vec::new(),
    }
}

/// A `let` and every place that gives it a value.
#[must_use]
pub fn explain_let(one: &LetValue, sources: &Sources) -> Why {
    Why {
        path: one.name.clone(),
        value: Some(one.value.clone()),
        meaning: "a value that the recipe names".to_owned(),
        formula: None,
        is_default: false,
        places: one
            .places
            .iter()
            .map(|span| why_place(*span, sources))
            .collect(),
        inputs: Vec::new(),
    }
}

/// Every place that set a field, weakest first; a default under them all.
fn places(value: &FieldValue, sources: &Sources) -> Vec<WhyPlace> {
    let default = value.field.default.map(|(text, basis)| WhyPlace {
        place: format!("default ({basis})"),
        text: text.to_owned(),
    });
    let written = value.places.iter().map(|span| why_place(*span, sources));
    default.into_iter().chain(written).collect()
}

fn why_place(span: Span, sources: &Sources) -> WhyPlace {
    WhyPlace {
        place: locate(span, sources),
        text: sources.slice(span).to_owned(),
    }
}

/// Where something is written: `file:line:column`, `--set`, or `try`.
#[must_use]
pub fn locate(span: Span, sources: &Sources) -> String {
    match sources.holding(span) {
        Some(source) if matches!(&*source.name, "--set" | "try") => source.name.to_string(),
        _ => sources.locate(span),
    }
}

/// A value of an alloy by its path, and every place that says it.
#[must_use]
pub fn explain_alloy(alloy: &Alloy, path: &str, sources: &Sources) -> Option<Why> {
    let value = alloy.value(path)?;
    let parts: Vec<String> = alloy
        .parts
        .iter()
        .map(|(element, part)| format!("{element} {}", part.normalize()))
        .collect();
    let parts = parts.join(", ");
    let written = alloy.places.iter().find(|(known, _)| known == path);
    let mut places: Vec<WhyPlace> = written
        .iter()
        .flat_map(|(_, places)| places)
        .map(|span| why_place(*span, sources))
        .collect();
    if places.is_empty() {
        let mixed = "derived by ideal mixing of the elements, may be off by about 2.5 %";
        let mut figures = alloy.tempers.iter().flat_map(|temper| {
            let all = temper.figures.iter();
            all.map(|(field, _, basis)| (format!("temper.{}.{}", temper.name, field.word()), basis))
        });
        let text = match (&alloy.density, figures.find(|(known, _)| known == path)) {
            (_, Some((_, basis))) => basis,
            (AlloyDensity::Stated { basis, .. }, _) if path == "density" => basis,
            (AlloyDensity::Derived(_), _) if path == "density" => mixed,
            _ => parts.as_str(),
        };
        places.push(WhyPlace {
            place: alloy
                .at
                .map_or_else(|| "built-in alloy".to_owned(), |at| locate(at, sources)),
            text: text.to_owned(),
        });
    }
    let meaning = match path.rsplit_once('.') {
        Some((temper, field)) => {
            format!(
                "{field} of {} in its {}",
                alloy.name,
                temper.replace('.', " ")
            )
        }
        None if path == "density" => format!("density of {} ({parts})", alloy.name),
        None => format!("parts per thousand of {path} in {}", alloy.name),
    };
    Some(Why {
        path: format!("{}.{path}", alloy.name),
        value: Some(value),
        meaning,
        formula: None,
        is_default: false,
        places,
        inputs: Vec::new(),
    })
}
