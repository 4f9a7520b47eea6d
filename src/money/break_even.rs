//! Where two builds cost or earn the same, in closed form.

use rust_decimal::Decimal;

use super::cost::{Job, Lines, cost};
use super::exact::Exact;

/// The price of an element at which two builds cost the same, money by gram of fine metal; none where they never
/// do, or only at a price below nothing.
///
/// # Formula
/// cost = a + b * g for each, exactly; g = (a of the other - a) / (b - b of the other)
#[must_use]
pub fn break_even_metal(element: &str, one: &Job<'_>, other: &Job<'_>) -> Option<Decimal> {
    let line = |job: &Job<'_>| {
        let at = |price| cost(job, &job.book().with(element, price)).total();
        let fixed = at(Decimal::ZERO);
        (fixed, at(Decimal::ONE) - fixed)
    };
    let ((a, b), (other_a, other_b)) = (line(one), line(other));
    let slope = (b - other_b).0.filter(|slope| !slope.is_zero())?;
    let price = ((other_a - a) / slope.into()).0?;
    Some(price).filter(|price| !price.is_sign_negative())
}

/// The share of rejects at which one build costs what another does; none where it costs more without any.
///
/// # Formula
/// share / (1 - share) * waste = cost of the other - cost without rejects, so share = k / (1 + k)
#[must_use]
pub fn break_even_rejects(one: &Lines, other: &Lines) -> Option<Decimal> {
    let waste = one.waste.0.filter(|waste| *waste > Decimal::ZERO)?;
    let left = (other.total() - one.before_rejects()) / waste.into();
    let left = left.0.filter(|left| !left.is_sign_negative())?;
    (Exact::from(left) / (Exact::ONE + left.into())).0
}

/// The making charge by gram with which a ring earns a given amount.
///
/// # Formula
/// (earned + cost - worth of the metal charged) / weight charged
#[must_use]
pub fn same_earning(earned: Exact, cost: Exact, worth: Exact, charged: Exact) -> Option<Decimal> {
    ((earned + cost - worth) / charged).0
}
