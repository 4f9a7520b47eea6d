//! Where two builds cost or earn the same, in closed form, and which of them pays on which side.

use rust_decimal::Decimal;

use super::cost::{Job, Lines, cost};
use super::exact::Exact;

/// How two builds stand by the price of one element.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    /// They cost the same at a price by gram of fine metal; this one costs less above it, or else below.
    Same {
        /// The price.
        at: Decimal,
        /// On which side this one costs less.
        less_above: bool,
    },
    /// One costs less at any price.
    Always {
        /// Whether that is this one.
        less: bool,
    },
}

/// How two builds stand by the price of an element; none where it moves neither against the other, or a cost is not known.
///
/// # Formula
/// cost = a + b * g for each, exactly; g = (a of the other - a) / (b - b of the other)
#[must_use]
pub fn stand(element: &str, one: &Job<'_>, other: &Job<'_>) -> Option<Stand> {
    let line = |job: &Job<'_>| {
        let at = |price| cost(job, &job.book().with(element, price)).total();
        let fixed = at(Decimal::ZERO);
        (fixed, at(Decimal::ONE) - fixed)
    };
    let ((a, b), (other_a, other_b)) = (line(one), line(other));
    let slope = (b - other_b).0.filter(|slope| !slope.is_zero())?;
    let at = ((other_a - a) / slope.into()).0?;
    // With less of the metal in it a build costs less where the metal is dear.
    let less_above = slope.is_sign_negative();
    Some(match at < Decimal::ZERO {
        true => Stand::Always { less: less_above },
        false => Stand::Same { at, less_above },
    })
}

/// The price of an element at which two builds cost the same, money by gram of fine metal; none where they never
/// do, or only at a price below nothing.
#[must_use]
pub fn break_even_metal(element: &str, one: &Job<'_>, other: &Job<'_>) -> Option<Decimal> {
    match stand(element, one, other)? {
        Stand::Same { at, .. } => Some(at),
        Stand::Always { .. } => None,
    }
}

/// Up to which share of rejects a build costs no more than another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pays {
    /// Up to this share.
    UpTo(Decimal),
    /// However many are rejected: a reject wastes nothing.
    Always,
    /// Not even without rejects.
    Never,
}

/// Up to which share of rejects a build costs no more than another; none where a cost is not known.
///
/// # Formula
/// share / (1 - share) * waste = cost of the other - cost without rejects, so share = k / (1 + k)
#[must_use]
pub fn pays(one: &Lines, other: &Lines) -> Option<Pays> {
    let left = (other.total() - one.before_rejects()).0?;
    let waste = one.waste.0?;
    if left.is_sign_negative() && !left.is_zero() {
        return Some(Pays::Never);
    }
    if waste <= Decimal::ZERO {
        return Some(Pays::Always);
    }
    let times = Exact::from(left) / waste.into();
    Some(Pays::UpTo((times / (Exact::ONE + times)).0?))
}

/// The making charge by gram with which a ring earns a given amount.
///
/// # Formula
/// (earned + cost - worth of the metal charged) / weight charged
#[must_use]
pub fn same_earning(earned: Exact, cost: Exact, worth: Exact, charged: Exact) -> Option<Decimal> {
    ((earned + cost - worth) / charged).0
}
