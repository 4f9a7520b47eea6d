//! An order with its rings: each line a band evaluated in its size, what all come to, and how far that may be off.
//!
//! What several lines share, as a price or a `let`, moves all of them at once; places of the ranges are added up once.

use std::collections::{BTreeSet, HashMap};
use std::sync::{Arc, Mutex, PoisonError};

use crate::model::check;
use crate::model::money::{Order, OrderItem};
use crate::money::{OrderTotals, Workpiece, order_totals};
use crate::quantity::{Deviation, to_f64};
use crate::schema::{FieldId, OrderResult, ResultId};
use crate::source::Span;

use super::evaluation::Evaluation;
use super::points::{KEPT, by_name, key_of};
use super::range::{Range, Spread};
use super::rests::{Rest, rests};
use super::spread::{range_over, shares};

/// An order with its totals.
#[derive(Clone, Debug)]
pub struct Ordered {
    /// The order.
    pub order: Order,
    /// Its totals; none where a line cannot be made, or nothing is said of prices, workshop or stock.
    pub totals: Option<OrderTotals>,
    rings: Arc<Rings>,
}

/// The rings of an order, with what was asked of their ranges.
#[derive(Debug, Default)]
struct Rings {
    made: Vec<Evaluation>,
    variables: Vec<Span>,
    known: Mutex<HashMap<Vec<i32>, Option<Arc<OrderTotals>>>>,
    ranges: Mutex<HashMap<OrderResult, Option<Range>>>,
}

impl Ordered {
    /// An order of some bands, in the order of its lines; none of them where one cannot be made.
    #[must_use]
    pub fn of(order: &Order, made: Option<Vec<Evaluation>>) -> Self {
        let made = made.unwrap_or_default();
        let totals = totals(order, made.iter());
        let inputs = made.iter().flat_map(Evaluation::inputs);
        let variables = by_name(inputs.map(|one| (one.path, one.variable)));
        Self {
            order: order.clone(),
            totals,
            rings: Arc::new(Rings {
                made,
                variables,
                ..Rings::default()
            }),
        }
    }

    /// The rings of its lines in their sizes, in the order of the lines; none where one cannot be made.
    #[must_use]
    pub fn rings(&self) -> &[Evaluation] {
        &self.rings.made
    }

    /// The same where some variables stand, nothing of it off any more; none where a ring cannot be made there.
    #[must_use]
    pub fn standing(&self, point: &[(Span, f64)]) -> Option<Self> {
        let stands = |variable: &Span| {
            let found = point.iter().find(|(known, _)| known == variable);
            found.map_or(0.0, |(_, t)| *t)
        };
        let totals = match &self.totals {
            Some(_) => {
                let place: Vec<f64> = self.rings.variables.iter().map(stands).collect();
                Some(OrderTotals::clone(&*self.at(&place)?))
            }
            None => None,
        };
        Some(Self {
            order: self.order.clone(),
            totals,
            rings: Arc::default(),
        })
    }

    /// How far a total may be off; none where nothing may be that it rests on.
    #[must_use]
    pub fn spread(&self, id: OrderResult) -> Option<Spread> {
        self.range(id).map(|range| range.spread())
    }

    /// What each variable does to a total, as deviations that add up to its range at least.
    #[must_use]
    pub fn shares(&self, id: OrderResult) -> Vec<Deviation> {
        self.range(id).map_or_else(Vec::new, |range| shares(&range))
    }

    /// What a total rests on that is not computed from the recipe alone.
    #[must_use]
    pub fn rests(&self, id: OrderResult) -> BTreeSet<Rest> {
        let of = twins(id).iter();
        let of = of.flat_map(|twin| self.rings.made.iter().map(|ring| rests(ring, twin.row())));
        of.flatten().collect()
    }

    /// The range of a total over all that may be off of any line; none where nothing may be.
    #[must_use]
    pub fn range(&self, id: OrderResult) -> Option<Range> {
        let rings = &self.rings;
        let nominal = to_f64(self.totals.as_ref()?.exact(id)?);
        if rings.variables.is_empty() {
            return None;
        }
        let lock = || rings.ranges.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = lock().get(&id) {
            return known.clone();
        }
        let mut at = |place: &[f64]| self.at(place)?.exact(id).map(to_f64);
        let fine = !rings.made.iter().any(|one| one.band.is_drawn());
        let found = range_over(&rings.variables, nominal, fine, &mut at);
        let found = Some(found).filter(|range| range.low < range.high);
        lock().insert(id, found.clone());
        found
    }

    /// The totals at a place of the ranges; none where a ring cannot be made there.
    fn at(&self, place: &[f64]) -> Option<Arc<OrderTotals>> {
        let rings = &self.rings;
        let key = key_of(place);
        let lock = || rings.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = lock().get(&key) {
            return known.clone();
        }
        let point = rings.variables.iter().copied().zip(place.iter().copied());
        let point: Vec<(Span, f64)> = point.collect();
        let moved: Option<Vec<_>> = rings.made.iter().map(|one| one.standing(&point)).collect();
        let found = moved
            .and_then(|made| totals(&self.order, made.iter().map(Arc::as_ref)))
            .map(Arc::new);
        let mut known = lock();
        if known.len() < KEPT {
            known.insert(key, found.clone());
        }
        found
    }
}

/// The totals of an order of some bands, in the order of its lines; none where there is none, or one has no metal of its
/// own.
fn totals<'a>(order: &Order, made: impl Iterator<Item = &'a Evaluation>) -> Option<OrderTotals> {
    let rings: Option<Vec<_>> = order.items.iter().zip(made).map(ring).collect();
    order_totals(order, &rings?)
}

/// The ring of a line, and its size as it is shown; none where it cannot be made.
fn ring((item, evaluation): (&OrderItem, &Evaluation)) -> Option<(Workpiece, String)> {
    let own = evaluation.band.field(FieldId::Size);
    let own = own.map(|size| check::written(&size.value));
    let size = item.size.clone().or(own).unwrap_or_default();
    Some((evaluation.workpiece()?.clone(), size))
}

/// The results of a ring that a total is added up from; none for what no ring has a part in.
fn twins(id: OrderResult) -> &'static [ResultId] {
    match id {
        OrderResult::Count | OrderResult::Begun | OrderResult::Credit => &[],
        OrderResult::Issued => &[ResultId::WeightIssued],
        OrderResult::Finished => &[ResultId::Weight],
        OrderResult::Turnings => &[ResultId::WeightTurnings],
        OrderResult::Offcuts => &[ResultId::WeightOffcuts],
        OrderResult::Polishings => &[ResultId::WeightPolishings],
        OrderResult::Recovered => &[ResultId::WeightRecovered],
        OrderResult::Lost => &[ResultId::WeightLost],
        OrderResult::Labour => &[ResultId::TimeLabour],
        OrderResult::Machine => &[ResultId::TimeMachine],
        OrderResult::CostMetal => &[ResultId::CostMetal],
        OrderResult::CostBought => &[ResultId::CostMetalBought],
        OrderResult::CostReturned => &[ResultId::CostMetalReturned],
        OrderResult::CostRefining => &[ResultId::CostMetalRefining],
        OrderResult::CostLabour => &[ResultId::CostLabour],
        OrderResult::CostMachine => &[ResultId::CostMachine],
        OrderResult::CostOverhead => &[ResultId::CostOverhead],
        OrderResult::CostFees => &[ResultId::CostFees],
        OrderResult::CostTiedUp => &[ResultId::CostTiedUp],
        OrderResult::OnePerCent => &[ResultId::CostOnePerCent],
        OrderResult::Cost | OrderResult::CostSingly | OrderResult::CostRest => &[ResultId::Cost],
        OrderResult::Price => &[ResultId::Price],
        OrderResult::Tax => &[ResultId::PriceTax],
        OrderResult::Total | OrderResult::Due | OrderResult::Deposit => &[ResultId::PriceTotal],
        OrderResult::Earning => &[ResultId::Earning],
    }
}
