//! Arithmetic of decimals that rounds nothing: the result, or none where it has more digits than are kept.

use rust_decimal::Decimal;

/// A sum; none where a digit of it would be lost.
pub(super) fn sum(left: Decimal, right: Decimal) -> Option<Decimal> {
    let (left, right) = (left.normalize(), right.normalize());
    let sum = left.checked_add(right)?;
    // What does not fit is rounded to fewer places than its parts have.
    let kept = sum.is_zero() && left == -right || sum.scale() == left.scale().max(right.scale());
    kept.then(|| sum.normalize())
}

/// A product; none where a digit of it would be lost.
///
/// # Example
/// Thirty digits of a product are more than are kept, although each factor has few.
pub(super) fn product(left: Decimal, right: Decimal) -> Option<Decimal> {
    let (left, right) = (left.normalize(), right.normalize());
    let mantissa = left.mantissa().checked_mul(right.mantissa())?;
    shifted(mantissa, left.scale() + right.scale())
}

/// A quotient; none where it does not come out, or has more digits than are kept.
pub(super) fn quotient(left: Decimal, right: Decimal) -> Option<Decimal> {
    let (left, right) = (left.normalize(), right.normalize());
    if right.is_zero() {
        return None;
    }
    if left.is_zero() {
        return Some(Decimal::ZERO);
    }
    let common = gcd(
        left.mantissa().unsigned_abs(),
        right.mantissa().unsigned_abs(),
    );
    let (rest, twos) = without(right.mantissa().unsigned_abs() / common, 2);
    let (rest, fives) = without(rest, 5);
    let places = i64::from(twos.max(fives)) + i64::from(left.scale()) - i64::from(right.scale());
    if rest != 1 || places > i64::from(Decimal::MAX_SCALE) {
        return None;
    }
    let quotient = left.checked_div(right)?.normalize();
    // As many whole digits beside the places may be too many.
    (product(quotient, right)? == left).then_some(quotient)
}

/// So many units of that place behind the point, when it fits.
fn shifted(mut mantissa: i128, mut scale: u32) -> Option<Decimal> {
    while scale > 0 && mantissa % 10 == 0 {
        mantissa /= 10;
        scale -= 1;
    }
    Decimal::try_from_i128_with_scale(mantissa, scale).ok()
}

/// A number without a prime factor, and how often it had it.
fn without(mut number: u128, prime: u128) -> (u128, u32) {
    let mut times = 0;
    while number.is_multiple_of(prime) && number > 0 {
        number /= prime;
        times += 1;
    }
    (number, times)
}

fn gcd(mut a: u128, mut b: u128) -> u128 {
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}
