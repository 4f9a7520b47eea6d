//! The one root of a function that only rises or only falls.

/// The root of `f` between `low` and `high`, where its signs differ; `None` where they do not.
///
/// # Formula
/// The interval is halved or cut by the chord through its ends, whichever is due (Illinois rule), to the last bit.
#[must_use]
pub fn root(f: impl Fn(f64) -> f64, low: f64, high: f64) -> Option<f64> {
    let (mut a, mut b) = (low, high);
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return Some(a);
    }
    if fb == 0.0 {
        return Some(b);
    }
    if !(fa.is_finite() && fb.is_finite()) || fa.signum() == fb.signum() {
        return None;
    }
    let mut kept = 0;
    let mut last = f64::NAN;
    for step in 0..200 {
        let chord = (a * fb - b * fa) / (fb - fa);
        // Now and then a half, so that a crooked function cannot hold the chord up.
        let inside = chord > a.min(b) && chord < a.max(b);
        let x = if inside && step % 8 != 7 {
            chord
        } else {
            (a + b) / 2.0
        };
        if (x - last).abs() <= 2.0 * f64::EPSILON * x.abs() {
            return Some(x);
        }
        last = x;
        let fx = f(x);
        if fx == 0.0 || (b - a).abs() <= 4.0 * f64::EPSILON * x.abs() {
            return Some(x);
        }
        if fx.signum() == fb.signum() {
            (b, fb) = (x, fx);
            if kept == 1 {
                fa /= 2.0;
            }
            kept = 1;
        } else {
            (a, fa) = (x, fx);
            if kept == -1 {
                fb /= 2.0;
            }
            kept = -1;
        }
    }
    Some((a + b) / 2.0)
}

/// The same where it is known about where the root lies.
///
/// # Formula
/// The chord through the last two places, as long as it settles between the ends; else as [`root`].
#[must_use]
pub fn root_near(f: impl Fn(f64) -> f64, guess: f64, low: f64, high: f64) -> Option<f64> {
    let guess = guess.clamp(low, high);
    let (mut a, mut b) = (guess, guess + (high - guess) * 1e-3);
    let (mut fa, mut fb) = (f(a), f(b));
    for _ in 0..12 {
        if fa == 0.0 {
            return Some(a);
        }
        let x = b - fb * (b - a) / (fb - fa);
        if !(x >= low && x <= high) {
            break;
        }
        if (x - b).abs() <= 2.0 * f64::EPSILON * x.abs() {
            return Some(x);
        }
        (a, fa) = (b, fb);
        (b, fb) = (x, f(x));
        if fb == 0.0 {
            return Some(b);
        }
    }
    root(f, low, high)
}
