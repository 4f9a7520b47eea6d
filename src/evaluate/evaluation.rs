//! One band evaluated: its figures, what falls short, what must be said.

use crate::schema::{Need, ResultId, ResultRow};
use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

use smallvec::SmallVec;

use crate::finding::Finding;
use crate::geometry::{self, NamedWall};
use crate::model::{Band, BandResults, Value};
use crate::money::{self, Account, Shortfall, Workpiece};
use crate::quantity::{Currency, Number, Quantity, unit};
use crate::source::Span;

use super::cautions::{Caution, cautions};
use super::error::restricted;
use super::figures::{Figures, figures};
use super::input::Input;
use super::marks::under_marks;
use super::spread::{Ends, amounts, at_end, ends, shares_of, spread};
use super::stretch;
use super::thin::thin_walls;
use super::workpiece::{compared_with, workpiece};

/// A limit that is not kept.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub enum Limit {
    /// Of stock, prices or rates.
    Money(Shortfall),
    /// Any other, as it is said.
    Said(Finding),
}

/// A band with everything that is computed of it.
#[derive(Clone, Debug)]
pub struct Evaluation {
    /// The band.
    pub band: Arc<Band>,
    /// What the kernel was given.
    pub input: Input,
    /// What it computed.
    pub figures: Figures,
    /// Limits that fall short, in the order in which they are judged.
    pub limits: Vec<Limit>,
    /// How many of them stand before those of money.
    before_money: usize,
    /// Cautions whose trigger is in the recipe.
    pub cautions: Vec<&'static Caution>,
    /// Metal, cost and price, computed when they are first read.
    account: OnceLock<Option<Box<Account>>>,
    /// The build that it is compared with: another's evaluation, or computed when it is first read; none where there
    /// is none.
    other: Arc<OnceLock<Option<Evaluation>>>,
    /// The same with each `±` at either end, computed when they are first read.
    ends: OnceLock<Vec<Ends>>,
    /// The variable that stands at one end, and at which, where it is not as written.
    pub(super) moved: Option<(Span, f64)>,
}

/// Evaluates a band.
///
/// # Errors
/// What makes it impossible, each finding with the value that would just fit.
pub fn evaluate(band: &Arc<Band>) -> Result<Evaluation, Vec<Finding>> {
    let mut evaluation = unjudged(band)?;
    let said = |limit| Limit::Said(Finding::from(limit));
    let mut limits: Vec<Limit> = thin_walls(&evaluation).into_iter().map(said).collect();
    evaluation.before_money = limits.len();
    limits.extend(of_money(&evaluation));
    let rest = restricted(band).into_iter();
    limits.extend(rest.chain(stretch::findings(&evaluation)).map(said));
    evaluation.limits = limits;
    evaluation.cautions = cautions(band);
    Ok(evaluation)
}

/// Lets each of some evaluations read the one that it is compared with, where that is among them.
pub fn read_each_other(evaluations: &[Evaluation]) {
    for one in evaluations {
        let Some(against) = &one.band.against else {
            continue;
        };
        let mut all = evaluations.iter();
        if let Some(other) = all.find(|other| Arc::ptr_eq(&other.band, against)) {
            // Where it was read already, it is the same.
            one.other.get_or_init(|| Some(other.clone()));
        }
    }
}

/// Limits of stock, prices and rates that are not kept.
fn of_money(evaluation: &Evaluation) -> Vec<Limit> {
    let work = evaluation.work();
    let limits = work.iter().flat_map(|work| {
        let unfit = money::unfit(work);
        unfit.chain(money::missing(work)).map(Limit::Money)
    });
    limits.collect()
}

/// The figures of a band whose limits and cautions are nobody's question.
fn unjudged(band: &Arc<Band>) -> Result<Evaluation, Vec<Finding>> {
    let impossible = geometry::check(band);
    if !impossible.is_empty() {
        return Err(impossible);
    }
    let input = Input::of(band);
    let figures = figures(&input);
    let impossible = stretch::impossible(band, &input, &figures);
    if !impossible.is_empty() {
        return Err(impossible.into_iter().map(Finding::from).collect());
    }
    Ok(Evaluation {
        band: Arc::clone(band),
        input,
        figures,
        limits: Vec::new(),
        before_money: 0,
        cautions: Vec::new(),
        account: OnceLock::new(),
        other: Arc::default(),
        ends: OnceLock::new(),
        moved: None,
    })
}

impl Evaluation {
    /// Metal, cost and price; none where the recipe says nothing of prices, workshop or stock.
    #[must_use]
    pub fn account(&self) -> Option<&Account> {
        let account = self.account.get_or_init(|| {
            let work = self.workpiece()?;
            let other = self.other();
            Some(Box::new(money::account(&work, other.as_ref())))
        });
        account.as_deref()
    }

    /// What money is told of it; none where the recipe says nothing of prices, workshop or stock, or a stated stock
    /// cannot make its part.
    #[must_use]
    pub fn workpiece(&self) -> Option<Workpiece> {
        let unfit = |limit: &Limit| matches!(limit, Limit::Money(Shortfall::Stock { .. }));
        let unfit = self.limits.iter().any(unfit);
        self.work().filter(|_| !unfit)
    }

    /// What money is told of it, whether or not it can be made.
    fn work(&self) -> Option<Workpiece> {
        let machined = |id: ResultId| self.number(id);
        workpiece(&self.band, &self.input.shape, &self.figures, &machined)
    }

    /// The build that it is compared with, off by what both share.
    fn other(&self) -> Option<Workpiece> {
        let other = || unjudged(&compared_with(&self.band)?).ok();
        let other = self.other.get_or_init(other).as_ref()?;
        match self.moved {
            Some((variable, sign)) => at_end(other, variable, sign).work(),
            None => other.work(),
        }
    }

    /// The same with each `±` at either end.
    pub(super) fn ends(&self) -> &[Ends] {
        self.ends.get_or_init(|| ends(self))
    }

    /// The same with a band of which nothing but its money moved: terms, how it is sold, what it is compared with.
    #[must_use]
    pub fn with_money_of(&self, band: Arc<Band>) -> Self {
        let mut moved = Self {
            band,
            input: self.input.clone(),
            figures: self.figures,
            limits: Vec::new(),
            before_money: self.before_money,
            cautions: self.cautions.clone(),
            account: OnceLock::new(),
            other: Arc::default(),
            ends: OnceLock::new(),
            moved: None,
        };
        let (before, rest) = self
            .limits
            .split_at(self.before_money.min(self.limits.len()));
        let rest = rest
            .iter()
            .filter(|limit| !matches!(limit, Limit::Money(_)));
        let of_money = of_money(&moved).into_iter();
        let limits = before.iter().cloned().chain(of_money).chain(rest.cloned());
        moved.limits = limits.collect();
        moved
    }

    /// The same with another band, input and figures; limits and cautions stay those that they are.
    pub(super) fn with(
        &self,
        band: Arc<Band>,
        input: Input,
        figures: Figures,
        moved: (Span, f64),
    ) -> Self {
        Self {
            band,
            input,
            figures,
            limits: self.limits.clone(),
            before_money: self.before_money,
            cautions: self.cautions.clone(),
            account: OnceLock::new(),
            other: Arc::clone(&self.other),
            ends: OnceLock::new(),
            moved: Some(moved),
        }
    }

    /// A result in the unit of its row: exact where it can be; none where the band has no such result.
    #[must_use]
    pub fn number(&self, id: ResultId) -> Option<Number> {
        super::results::number(id, self)
    }

    /// The unit that a result is read in: of money the currency of this band.
    #[must_use]
    pub fn unit(&self, entry: &ResultRow) -> Cow<'static, str> {
        if entry.dimension.money == 0 {
            return Cow::Borrowed(entry.unit);
        }
        match self.currency() {
            Some(currency) => Cow::Owned(entry.unit.replacen("money", currency.code(), 1)),
            None => Cow::Borrowed(entry.unit),
        }
    }

    fn currency(&self) -> Option<Currency> {
        self.band.terms.as_ref()?.money.currency
    }

    /// A result as a quantity in base units.
    #[must_use]
    pub fn result(&self, entry: &ResultRow) -> Option<Quantity> {
        let number = self.number(entry.id)?;
        let unit = self.unit(entry);
        let number = match (number, unit::scale(&unit)) {
            (Number::Exact(value), Ok(scale)) => Number::Exact(scale.to_base(value)?),
            (Number::Computed(value), Ok(scale)) => {
                let one = scale
                    .of_base(Number::Computed(1.0))
                    .map_or(1.0, Number::to_f64);
                Number::Computed(value / one)
            }
            (number, Err(_)) => number,
        };
        let scale = unit::scale(&unit).ok();
        let one = scale
            .and_then(|scale| scale.of_base(Number::Computed(1.0)))
            .map_or(1.0, Number::to_f64);
        let dimension = self
            .currency()
            .map_or(entry.dimension, |of| entry.dimension.in_currency(of));
        let mut quantity = Quantity::new(number, dimension);
        for share in shares_of(self, entry) {
            quantity = quantity.deviating(
                share.variable,
                Number::Computed(share.amount.to_f64() / one),
            );
        }
        Some(quantity)
    }

    /// The amount of every `±` that it rests on.
    #[must_use]
    pub fn amounts(&self) -> Vec<Number> {
        amounts(self)
    }

    /// A result as a value with the unit that it is read in.
    #[must_use]
    pub fn value(&self, entry: &ResultRow) -> Option<Value> {
        let unit = Some(self.unit(entry).into_owned()).filter(|unit| !unit.is_empty());
        self.result(entry)
            .map(|quantity| Value::Quantity { quantity, unit })
    }

    /// Every wall, and how much thinner it may be in the worst case.
    #[must_use]
    pub fn walls(&self) -> Vec<(NamedWall, f64)> {
        let walls = walls(&self.input, &self.figures);
        let worst = |name: &str| {
            let read = |input: &Input, figures: &Figures| {
                self::walls(input, figures)
                    .iter()
                    .find(|wall| wall.name == name)
                    .map(|wall| wall.thickness)
            };
            spread(self, &read).map_or(0.0, |spread| -spread.low)
        };
        walls
            .into_iter()
            .map(|wall| (wall, worst(wall.name)))
            .collect()
    }

    /// What a result is computed by and from.
    #[must_use]
    pub fn formula(&self, entry: &ResultRow) -> (&'static str, &'static [Need]) {
        match entry.hollow {
            Some(hollow) if self.band.hollow.is_some() => hollow,
            _ => (entry.formula, entry.needs),
        }
    }
}

/// Every wall of the bodies, and what is left under the marks.
pub(super) fn walls(input: &Input, figures: &Figures) -> SmallVec<[NamedWall; 6]> {
    let mut walls = figures.bodies.walls();
    walls.extend(under_marks(input, &figures.bodies));
    walls
}

/// Results of bands, for fields and `let`s that refer to them.
pub struct Results;

impl BandResults for Results {
    fn value(&self, band: &Arc<Band>, id: ResultId) -> Option<Value> {
        evaluate(band).ok()?.value(id.row())
    }

    fn possible(&self, band: &Arc<Band>) -> bool {
        geometry::check(band).is_empty()
    }
}
