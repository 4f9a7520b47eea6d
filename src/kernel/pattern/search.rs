//! Where is a function of one place lowest, when it may have kinks and more than one valley?

/// How close a place is narrowed down.
const CLOSE: f64 = 1e-5;

/// The lowest place of a function between two places, and its value there: a first search, then a narrowing down about
/// the best three of its places and about those named.
pub(super) fn lowest(
    from: f64,
    to: f64,
    count: u32,
    named: &[f64],
    at: &dyn Fn(f64) -> f64,
) -> (f64, f64) {
    let step = (to - from) / f64::from(count);
    let places = (0..=count).map(|place| from + step * f64::from(place));
    let inner = named
        .iter()
        .copied()
        .filter(|place| *place >= from && *place <= to);
    let mut seen: Vec<(f64, f64)> = places
        .chain(inner)
        .map(|place| (place, at(place)))
        .collect();
    seen.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut best = seen.first().copied().unwrap_or((from, f64::INFINITY));
    if step <= 0.0 || !best.1.is_finite() {
        return best;
    }
    for (place, _) in seen.iter().take(3) {
        for (low, high) in [
            ((place - step).max(from), *place),
            (*place, (place + step).min(to)),
        ] {
            let found = narrow(low, high, at);
            if found.1 < best.1 {
                best = found;
            }
        }
    }
    best
}

/// Golden section between two places.
fn narrow(mut low: f64, mut high: f64, at: &dyn Fn(f64) -> f64) -> (f64, f64) {
    const SHARE: f64 = 0.618_033_988_749_894_9;
    let (mut a, mut b) = (high - SHARE * (high - low), low + SHARE * (high - low));
    let (mut at_a, mut at_b) = (at(a), at(b));
    while high - low > CLOSE {
        if at_a <= at_b {
            (high, b, at_b) = (b, a, at_a);
            a = high - SHARE * (high - low);
            at_a = at(a);
        } else {
            (low, a, at_a) = (a, b, at_b);
            b = low + SHARE * (high - low);
            at_b = at(b);
        }
    }
    if at_a <= at_b { (a, at_a) } else { (b, at_b) }
}
