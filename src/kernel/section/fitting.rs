//! The value of one field at which something fits, sought on both sides of any range.

/// The largest or smallest multiple of a micrometre that makes a shape possible, changing one field only.
///
/// `accepts` judges a changed shape; it is asked about 20 times, or 240 where the field has a range with
/// two ends.
#[must_use]
pub fn fitting(less: bool, current: f64, accepts: impl Fn(f64) -> bool) -> Option<f64> {
    fitting_from(0.0, less, current, accepts)
}

/// The same for a field that means nothing below `least`, which may be all that fits.
#[must_use]
pub fn fitting_from(
    least: f64,
    less: bool,
    current: f64,
    accepts: impl Fn(f64) -> bool,
) -> Option<f64> {
    const STEPS: f64 = 1000.0;
    // A kilometre: no field fits beyond, and steps are counted without running over.
    const FURTHEST: f64 = 1e6;
    let grid = |step: i64| step as f64 / STEPS;
    let current = current.min(FURTHEST);
    let (mut bad, mut good) = if less {
        (
            (current * STEPS).ceil() as i64,
            (least * STEPS).ceil() as i64,
        )
    } else {
        (
            (current * STEPS).floor() as i64,
            ((current + 20.0) * STEPS) as i64,
        )
    };
    // The far end need not be good: the field may have a range with two ends. Look for any good place first,
    // in ever longer steps from here, then evenly.
    if !accepts(grid(good)) {
        let span = good - bad;
        let longer = std::iter::successors(Some(1), |step| Some(step + step / 16 + 1));
        let longer = longer.take_while(|step| *step < span.abs());
        let any = longer
            .map(|step| bad + step * span.signum())
            .chain((1..64).map(|part| bad + span * part / 64))
            .find(|step| accepts(grid(*step)));
        let Some(any) = any else {
            return (less && least > 0.0 && accepts(least)).then_some(least);
        };
        good = any;
    }
    while (bad - good).abs() > 1 {
        let middle = good + (bad - good) / 2;
        if accepts(grid(middle)) {
            good = middle
        } else {
            bad = middle
        }
    }
    let found = grid(good);
    (found > 0.0).then_some(found)
}
