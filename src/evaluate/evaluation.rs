//! One band evaluated: its figures, what falls short, what must be said.

use crate::schema::{Need, ResultId, ResultRow};
use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

use crate::finding::Finding;
use crate::fineness::Judgements;
use crate::kernel::{
    self, Figures, Input, NamedWall, StretchFigures, WallId, figures, thin_walls, walls,
};
use crate::model::{Band, BandResults, Value};
use crate::quantity::{Currency, Number, Quantity, unit};
use crate::source::Span;

use super::cautions::{Caution, cautions};
use super::error::restricted;
use super::money::{self, Account, unfit_stock, unpriced};
use super::of_band::{input_of, shape_of};
use super::shortfall::{Barred, Shortfall, impossible, short};
use super::spread::{Ends, amounts, ends, shares_of, spread};

/// A band with everything that is computed of it.
#[derive(Clone, Debug)]
pub struct Evaluation {
    /// The band.
    pub band: Arc<Band>,
    /// What the kernel was given.
    pub input: Input,
    /// What it computed.
    pub figures: Figures,
    /// What falls short, as values.
    pub shortfalls: Vec<Shortfall>,
    /// Limits that fall short, of rooms that still say so in sentences.
    pub limits: Vec<Finding>,
    /// Cautions whose trigger is in the recipe.
    pub cautions: Vec<&'static Caution>,
    /// Stretch, join and strength, computed when they are first read.
    stretch: OnceLock<StretchFigures>,
    /// Metal, cost and price, computed when they are first read.
    account: OnceLock<Option<Box<Account>>>,
    /// The same with each `±` at either end, computed when they are first read.
    ends: OnceLock<Vec<Ends>>,
    /// What rulebooks say of it, each judged when it is first asked.
    pub(super) judgements: OnceLock<Box<Judgements>>,
    /// The variable that stands at one end, and at which, where it is not as written.
    pub(super) moved: Option<(Span, f64)>,
}

/// Evaluates a band.
///
/// # Errors
/// What makes it impossible.
pub fn evaluate(band: &Arc<Band>) -> Result<Evaluation, Barred> {
    let mut evaluation = possible(band)?;
    let judged = evaluation.walls();
    let written = |field| band.field(field).is_some_and(|field| field.at.is_some());
    let thin = thin_walls(&evaluation.input, &judged, &written).map(kernel::Shortfall::ThinWall);
    let joined = short(&evaluation.input, &evaluation.figures, || {
        evaluation.stretch()
    });
    evaluation.shortfalls = thin.map(Shortfall::Metal).chain(joined).collect();
    let limits = unfit_stock(&evaluation)
        .into_iter()
        .chain(unpriced(&evaluation))
        .chain(restricted(band));
    evaluation.limits = limits.map(Finding::from).collect();
    Ok(evaluation)
}

/// Evaluates a band without asking what limits it keeps.
///
/// # Errors
/// As [`evaluate`].
pub(crate) fn possible(band: &Arc<Band>) -> Result<Evaluation, Barred> {
    let input = input_of(band);
    let stated = |field| band.length(field);
    let misfits = kernel::check(&input.shape, &stated, input.stretch.walls.anywhere);
    if !misfits.is_empty() {
        return Err(Barred::Shape(misfits.into_vec()));
    }
    let figures = figures(&input);
    let stretch = OnceLock::new();
    let of = || stretch.get_or_init(|| StretchFigures::of(&input, &figures));
    if let Some(clash) = impossible(&input, &figures, of) {
        return Err(Barred::Parts(Box::new(clash)));
    }
    Ok(Evaluation {
        band: Arc::clone(band),
        input,
        figures,
        shortfalls: Vec::new(),
        limits: Vec::new(),
        cautions: cautions(band),
        stretch,
        account: OnceLock::new(),
        ends: OnceLock::new(),
        judgements: OnceLock::new(),
        moved: None,
    })
}

impl Evaluation {
    /// Stretch, join and strength.
    #[must_use]
    pub fn stretch(&self) -> &StretchFigures {
        let compute = || StretchFigures::of(&self.input, &self.figures);
        self.stretch.get_or_init(compute)
    }

    /// Whether nothing falls short, nor is left to be said.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.limits.is_empty() && self.shortfalls.is_empty()
    }

    /// Metal, cost and price; none where the recipe says nothing of prices, workshop or stock.
    #[must_use]
    pub fn account(&self) -> Option<&Account> {
        let account = self
            .account
            .get_or_init(|| money::account(self).map(Box::new));
        account.as_deref()
    }

    /// The same with each `±` at either end.
    pub(super) fn ends(&self) -> &[Ends] {
        self.ends.get_or_init(|| ends(self))
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
            shortfalls: self.shortfalls.clone(),
            limits: self.limits.clone(),
            stretch: OnceLock::new(),
            cautions: self.cautions.clone(),
            account: OnceLock::new(),
            ends: OnceLock::new(),
            judgements: OnceLock::new(),
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
        let worst = |id: WallId| {
            let read = |of: &Evaluation| {
                let walls = walls(&of.input, &of.figures);
                let wall = walls.iter().find(|wall| wall.id == id)?;
                Some(wall.thickness)
            };
            spread(self, &read).map_or(0.0, |spread| -spread.low)
        };
        let walls = walls(&self.input, &self.figures).into_iter();
        walls.map(|wall| (wall, worst(wall.id))).collect()
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

/// Results of bands, for fields and `let`s that refer to them.
pub struct Results;

impl BandResults for Results {
    fn value(&self, band: &Arc<Band>, id: ResultId) -> Option<Value> {
        evaluate(band).ok()?.value(id.row())
    }

    fn possible(&self, band: &Arc<Band>) -> bool {
        let shape = shape_of(band, &|_, nominal| nominal);
        kernel::possible(&shape, &|field| band.length(field))
    }
}
