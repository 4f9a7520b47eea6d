//! The nearest value of one field at which a band is as it should be, all other fields as they are.

/// How a band stands with a field changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// As it should.
    Fits,
    /// As at the start: not moved far enough.
    Short,
    /// Something else no longer fits.
    Beyond,
}

/// Micrometres in a millimetre.
const STEPS: f64 = 1000.0;
/// No field is moved up by more, mm.
const FURTHEST: f64 = 20.0;

/// The nearest multiple of a micrometre at which a band fits, `current` falling short; or `least` itself, below which
/// the field means nothing.
///
/// A band that falls short does so until it fits, and fits until something else does not: the way is doubled, then
/// halved, and no value between is missed however narrow the stretch that fits.
#[must_use]
pub fn nearest(
    less: bool,
    current: f64,
    least: f64,
    stands: impl Fn(f64) -> Stands,
) -> Option<f64> {
    let grid = |step: i64| step as f64 / STEPS;
    let (mut short, last) = if less {
        (
            (current * STEPS).ceil() as i64,
            (least * STEPS).ceil() as i64,
        )
    } else {
        (
            (current * STEPS).floor() as i64,
            ((current + FURTHEST) * STEPS) as i64,
        )
    };
    let (mut way, mut far) = (1, None);
    while far.is_none() && short != last {
        let next = if less {
            (short - way).max(last)
        } else {
            (short + way).min(last)
        };
        match stands(grid(next)) {
            Stands::Short => short = next,
            other => far = Some((next, other)),
        }
        way *= 2;
    }
    if let Some((mut far, mut how)) = far {
        while (far - short).abs() > 1 {
            let middle = short + (far - short) / 2;
            match stands(grid(middle)) {
                Stands::Short => short = middle,
                other => (far, how) = (middle, other),
            }
        }
        if how == Stands::Fits {
            return Some(grid(far));
        }
    }
    (less && least > 0.0 && stands(least) == Stands::Fits).then_some(least)
}
