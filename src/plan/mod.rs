//! The library's face: a recipe from text or from values, its numbers moved at will, its results read.
//!
//! A [`Plan`] is read and resolved once. From then on [`Plan::set`] puts a number in place of another without reading
//! anything again: what follows from it is worked out, and what rests on neither stays as it is.

mod draft;
mod given;

pub use draft::Draft;
pub use given::{Given, Which};

use std::sync::{Arc, OnceLock};

use crate::evaluate::{self, Evaluation};
use crate::finding::Finding;
use crate::model::{Band, Key, ModelError, Move, Moved, Value, check};
use crate::quantity::Number;
use crate::schema::{FieldId, ResultId};
use crate::session::{Library, NoLibrary, Outcome, Prepared, Request, Session, Tried};
use crate::source::Span;
use crate::words;

/// A band of a recipe, ready to have its numbers moved and its results read.
///
/// A copy shares what was read, so that each thread may have its own.
///
/// # Example
/// ```
/// use annulet::Plan;
/// use annulet::schema::{FieldId, ResultId};
/// use rust_decimal::dec;
///
/// let mut plan = Plan::read("
/// let face = 4.5 mm
/// band harvest {
///   size ISO 54, width face, thickness 1.5 mm
///   profile flat, alloy silver-925
/// }").unwrap();
/// plan.set("face", dec!(5)).unwrap();
/// plan.set("thickness", "1.6 mm").unwrap();
/// let found = plan.evaluate(&[ResultId::Weight]).unwrap();
/// assert!((found.number(ResultId::Weight).unwrap().to_f64() - 4.892).abs() < 1e-3);
///
/// // A number out of its range is refused, and the plan stays as it is.
/// let problems = plan.set(FieldId::Width, dec!(-1)).unwrap_err();
/// assert_eq!(problems[0].code(), "model::out_of_range");
/// ```
#[derive(Clone, Debug)]
pub struct Plan {
    session: Session,
    /// How many of its texts are the recipe's own.
    texts: usize,
    prepared: Arc<Prepared>,
    /// What the recipe comes to, with all that is laid over it.
    read: Outcome,
    band: String,
    /// Lines laid over the recipe, each with the path that it begins with.
    laid: Vec<(String, Tried)>,
    /// Numbers moved since, each with its band and its path.
    moves: Vec<((Option<String>, String), Move)>,
    moved: Moved,
    /// The band with them, computed when it is first asked for.
    computed: OnceLock<Result<Evaluation, Vec<Finding>>>,
}

/// Results of a band, those that were asked for.
#[derive(Clone, Debug, Default)]
pub struct Found(Vec<(ResultId, Number)>);

impl Found {
    /// A result in the unit of its row in the catalogue ([`crate::schema::RESULTS`]); none where it was not asked for, or the
    /// band has no such result.
    pub fn number<'a>(&self, which: impl Into<Which<'a, ResultId>>) -> Option<Number> {
        let id = which.into().id()?;
        let mut all = self.0.iter();
        all.find(|(known, _)| *known == id)
            .map(|(_, number)| *number)
    }

    /// All of them, in the order asked for.
    pub fn iter(&self) -> impl Iterator<Item = (ResultId, Number)> {
        self.0.iter().copied()
    }
}

impl Plan {
    /// A recipe from its text, at its first band.
    ///
    /// # Errors
    /// What is wrong with the recipe.
    pub fn read(text: &str) -> Result<Self, Vec<Finding>> {
        Self::open("recipe", text, &mut NoLibrary)
    }

    /// A recipe whose `use`s a library answers, at its first band.
    ///
    /// # Errors
    /// What is wrong with the recipe.
    pub fn open(name: &str, text: &str, library: &mut dyn Library) -> Result<Self, Vec<Finding>> {
        let mut session = Session::default();
        let prepared = session.prepare(name, text, library);
        let texts = session.sources.count();
        let read = session.outcome(&prepared, &Request::default());
        let wrong = read.mistakes();
        if !wrong.is_empty() {
            return Err(wrong);
        }
        let Some(first) = read.recipe.names.first() else {
            let text = session.sources.get(prepared.id);
            let whole = text.map_or_else(Span::default, |text| text.span(0..text.text.len()));
            let problem = ModelError::NoBand {
                at: whole.after(),
                source_name: name.to_owned(),
            };
            return Err(vec![problem.into()]);
        };
        Ok(Self {
            band: first.name.clone(),
            session,
            texts,
            prepared: Arc::new(prepared),
            read,
            laid: Vec::new(),
            moves: Vec::new(),
            moved: Moved::default(),
            computed: OnceLock::new(),
        })
    }

    /// A band by values instead of text.
    pub fn draft(band: &str) -> Draft {
        Draft::new(band)
    }

    /// Turns to another band of the recipe; false where it has none of that name.
    pub fn turn_to(&mut self, band: &str) -> bool {
        let is_there = self.read.recipe.bands.iter().any(|one| one.name == band);
        if is_there && self.band != band {
            band.clone_into(&mut self.band);
            self.computed = OnceLock::new();
        }
        is_there
    }

    /// The band that it is at, with its numbers as they are now.
    #[must_use]
    pub fn band(&self) -> Option<&Arc<Band>> {
        let mut bands = self.read.recipe.bands.iter();
        let place = bands.position(|band| band.name == self.band)?;
        let moved = self.moved.bands.get(&place);
        moved.or_else(|| self.read.recipe.bands.get(place))
    }

    /// Puts a value in place of another: of a field of the band, by id or path, of a `let`, or of whatever else
    /// `--set` reaches by a path (`other-band.width`, `prices.gold`).
    ///
    /// A number takes microseconds. What is more than a number (a word, or a count that chooses) resolves the recipe
    /// anew.
    ///
    /// # Units
    /// A bare number is in the base unit of what it is the value of: mm, g, s, parts of one, parts per thousand; of a
    /// size it is the inside diameter.
    ///
    /// # Errors
    /// What is wrong with the value; nothing has changed then. A number that makes the band impossible is none of
    /// these: [`Plan::evaluate`] says it.
    pub fn set<'a>(
        &mut self,
        which: impl Into<Which<'a, FieldId>>,
        value: impl Into<Given>,
    ) -> Result<(), Vec<Finding>> {
        let (which, given) = (which.into(), value.into());
        if let Given::Number(number) = given
            && let Some(one) = self.number_move(which, number)
            && self.move_number(which.path(), one)?
        {
            return Ok(());
        }
        let takes = which.id().map(|id| id.row().takes);
        self.lay(which.path(), &given.written(takes)?)
    }

    /// Results of the band, those that are wanted.
    ///
    /// # Errors
    /// What makes the band impossible with the numbers that it has now, each with the value that would just fit.
    pub fn evaluate(&self, wanted: &[ResultId]) -> Result<Found, Vec<Finding>> {
        let evaluation = self.computed()?;
        let numbers = wanted.iter();
        let numbers = numbers.filter_map(|id| Some((*id, evaluation.number(*id)?)));
        Ok(Found(numbers.collect()))
    }

    /// What there is to say of the band with the numbers that it has now: what makes it impossible, limits that it does
    /// not keep, and moved figures that are far from what a ring measures. Each has a stable [`Finding::code`] and a
    /// [`Finding::weight`], and [`Plan::field_of`] tells the field.
    ///
    /// What is required in the recipe and its orders are judged by a [`Session`].
    #[must_use]
    pub fn findings(&self) -> Vec<Finding> {
        let mut all: Vec<Finding> = self.moved.findings.clone();
        if let Some(band) = self.band() {
            all.extend(match evaluate::evaluate(band) {
                Ok(evaluation) => words::findings(&evaluation),
                Err(barred) => words::barred(band, barred),
            });
        }
        all
    }

    /// What was found in the whole recipe when it was last read or resolved.
    #[must_use]
    pub fn read_findings(&self) -> &[Finding] {
        &self.read.findings
    }

    /// The field of the band whose value a finding points at.
    #[must_use]
    pub fn field_of(&self, finding: &Finding) -> Option<FieldId> {
        let band = self.band()?;
        let at = finding.span().filter(|at| *at != band.at)?;
        let mut fields = band.fields.iter();
        fields
            .find(|field| field.at == Some(at))
            .map(|field| field.field.id)
    }

    fn computed(&self) -> Result<&Evaluation, Vec<Finding>> {
        let computed = self.computed.get_or_init(|| match self.band() {
            Some(band) => evaluate::possible(band).map_err(|barred| words::barred(band, barred)),
            None => Err(self.read.findings.clone()),
        });
        computed.as_ref().map_err(Clone::clone)
    }

    /// What a bare number moves, and the value that it has now.
    fn key(&self, which: Which<'_, FieldId>) -> Option<(Key, &Value, Span)> {
        let recipe = &self.read.recipe;
        if let Some(id) = which.id() {
            let band = self.band()?;
            let field = band.field(id)?;
            let key = Key::Field(recipe.place_of(&self.band)?, id);
            return Some((key, &field.value, field.at.unwrap_or(band.at)));
        }
        let name = which.path();
        let one = recipe.lets.iter().find(|one| one.name == name)?;
        let at = one.places.last().copied()?;
        Some((Key::Let(recipe.let_place(name)?), &one.value, at))
    }

    fn number_move(&self, which: Which<'_, FieldId>, number: Number) -> Option<Move> {
        let (key, value, at) = self.key(which)?;
        let value = given::like(value, number)?;
        Some(Move {
            key,
            value,
            at,
            said: at,
        })
    }

    /// The band that a path is of, and the path.
    fn place(&self, path: &str) -> (Option<String>, String) {
        (Some(self.band.clone()), path.to_owned())
    }

    /// Moves a number; false where it is more than that.
    fn move_number(&mut self, path: &str, one: Move) -> Result<bool, Vec<Finding>> {
        let place = self
            .moves
            .iter()
            .position(|(_, known)| known.key == one.key);
        let before = match place.and_then(|place| self.moves.get_mut(place)) {
            Some((_, known)) => Some(std::mem::replace(known, one)),
            None => {
                self.moves.push((self.place(path), one));
                None
            }
        };
        let moves = self.moves.iter().map(|(_, one)| one);
        let moved = self.read.recipe.moved(moves, &evaluate::Results);
        if let Ok(Some(moved)) = moved {
            self.moved = moved;
            self.computed = OnceLock::new();
            return Ok(true);
        }
        match (before, place.and_then(|place| self.moves.get_mut(place))) {
            (Some(before), Some((_, known))) => *known = before,
            _ => drop(self.moves.pop()),
        }
        moved.map(|_| false)
    }

    /// Lays a value over the recipe, with all numbers moved before it, and resolves it anew.
    fn lay(&mut self, path: &str, value: &str) -> Result<(), Vec<Finding>> {
        let mut laid = self.laid.clone();
        let moves = self.moves.iter();
        let moves = moves.map(|(at, one)| (at.clone(), check::written(&one.value)));
        let said = (self.place(path), value.to_owned());
        for ((band, path), value) in moves.chain([said]) {
            laid.retain(|(known, tried)| *known != path || tried.band != band);
            let line = format!("{path} {value}");
            let typed = None;
            laid.push((path, Tried { line, band, typed }));
        }
        let mut session = self.session.clone();
        session.sources.forget_behind(self.texts);
        let tries = laid.iter().map(|(_, tried)| tried.clone());
        let request = Request {
            tries: tries.collect(),
            ..Request::default()
        };
        let read = session.outcome(&self.prepared, &request);
        let wrong = read.mistakes();
        if !wrong.is_empty() {
            return Err(wrong);
        }
        self.session = session;
        self.read = read;
        self.laid = laid;
        self.moves.clear();
        self.moved = Moved::default();
        self.computed = OnceLock::new();
        Ok(())
    }
}
