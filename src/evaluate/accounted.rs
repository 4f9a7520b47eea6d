//! An evaluated band's metal, cost and price: money is handed its parts, and the build that it is compared with.

use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

use rust_decimal::Decimal;

use crate::model::Band;
use crate::money::{self, Account, Against, Workpiece};
use crate::quantity::Number;
use crate::schema::ResultId;

use super::evaluation::{Evaluation, possible};
use super::shortfall::Shortfall;
use super::workpiece::{compared_with, workpiece};

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

impl Evaluation {
    /// Metal, cost and price; none where the recipe says nothing of prices, workshop or stock.
    #[must_use]
    pub fn account(&self) -> Option<&Account> {
        let account = self
            .account
            .get_or_init(|| Some(Box::new(money::account(self.workpiece()?))));
        account.as_deref()
    }

    /// How it stands against the build that it is compared with; none where there is none.
    #[must_use]
    pub fn against(&self) -> Option<&Against> {
        let against = self.against.get_or_init(|| {
            let (work, other) = (self.workpiece()?, self.other()?);
            money::against(work, &other).map(Box::new)
        });
        against.as_deref()
    }

    /// What one per cent more on all prices of metal adds to its cost.
    #[must_use]
    pub fn one_per_cent(&self) -> Option<Decimal> {
        money::one_per_cent(self.workpiece()?)
    }

    /// What money is told of it; none where the recipe says nothing of prices, workshop or stock, or a stated stock
    /// cannot make its part.
    #[must_use]
    pub fn workpiece(&self) -> Option<&Workpiece> {
        self.work()
            .filter(|work| money::unfit(work).next().is_none())
    }

    /// What money is told of it, whether or not it can be made.
    fn work(&self) -> Option<&Workpiece> {
        let work = self.work.get_or_init(|| {
            let machined = |id: ResultId| self.stretched(id).map(Number::computed);
            workpiece(&self.band, &self.input, &self.figures, &machined).map(Box::new)
        });
        work.as_deref()
    }

    /// What falls short of stock, prices and rates.
    pub(super) fn of_money(&self) -> Vec<Shortfall> {
        let Some(work) = self.work() else {
            return Vec::new();
        };
        let unfit: Vec<money::MoneyShortfall> = money::unfit(work).collect();
        // What cannot be made has no cost.
        let account = self.account().filter(|_| unfit.is_empty());
        let earns = account.and_then(|account| account.earning) > Some(Decimal::ZERO);
        let under = match unfit.is_empty() && !earns {
            true => money::under_cost(work),
            false => None,
        };
        let missing = money::missing(work, account);
        let found = unfit.into_iter().chain(missing).chain(under);
        found.map(Shortfall::Money).collect()
    }

    /// The build that it is compared with, off by what both share.
    fn other(&self) -> Option<Cow<'_, Workpiece>> {
        let other = || possible(&compared_with(&self.band)?).ok();
        let other = self.other.get_or_init(other).as_ref()?;
        match &self.point {
            Some(point) => Some(Cow::Owned(other.at_point(point)?.work()?.clone())),
            None => other.work().map(Cow::Borrowed),
        }
    }

    /// The same with a band of which nothing but its money moved: terms, how it is sold, what it is compared with.
    #[must_use]
    pub fn with_money_of(&self, band: Arc<Band>) -> Self {
        let mut moved = Self {
            band,
            shortfalls: Vec::new(),
            worst: OnceLock::new(),
            falls: OnceLock::new(),
            work: OnceLock::new(),
            account: OnceLock::new(),
            against: OnceLock::new(),
            other: Arc::default(),
            points: OnceLock::new(),
            point: None,
            ..self.clone()
        };
        let of_metal = |short: &&Shortfall| matches!(short, Shortfall::Metal(_));
        let (metal, rest): (Vec<&Shortfall>, Vec<&Shortfall>) =
            self.shortfalls.iter().partition(of_metal);
        let rest = rest.into_iter();
        let rest = rest.filter(|short| !matches!(short, Shortfall::Money(_)));
        let metal = metal.into_iter().copied();
        let all = metal.chain(moved.of_money()).chain(rest.copied());
        moved.shortfalls = all.collect();
        moved
    }
}
