//! Readings of a batch in the order that they were taken: mean, spread, drift, outliers, how many lie within limits.

/// What a batch of readings comes to, in the unit of the readings.
#[derive(Clone, Debug, PartialEq)]
pub struct Tallied {
    /// The readings, in order.
    pub readings: Vec<f64>,
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation (n - 1).
    pub deviation: f64,
    /// The mean of what neighbours differ by.
    pub moving: f64,
    /// The lower limit that a steady process keeps.
    pub lower: f64,
    /// The upper one.
    pub upper: f64,
    /// Places of readings beyond these limits.
    pub outliers: Vec<usize>,
    /// How much more each reading is than the one before, by least squares.
    pub drift: f64,
    /// The standard error of the drift; none of two readings.
    pub drift_error: Option<f64>,
    /// Places at which eight readings in a row lie on one side of the mean, each the last of them.
    pub runs: Vec<usize>,
    /// How many lie within the limits wanted, where some are.
    pub within: Option<usize>,
}

/// What the mean difference of two neighbours is of a standard deviation, where these are normal: 2 / sqrt(pi), the
/// constant d2 of published tables of control-chart constants for samples of two (1.128).
pub const D2: f64 = std::f64::consts::FRAC_2_SQRT_PI;

/// How many readings in a row on one side of the mean are no chance: common practice, no source.
const RUN: usize = 8;

fn square(value: f64) -> f64 {
    value * value
}

impl Tallied {
    /// Of readings in their order; none of fewer than two.
    ///
    /// # Formula
    /// Limits of a steady process: mean -/+ 3 / d2 * mean moving range (the chart of single values), 3 / d2 = 2.66.
    ///
    /// # Example
    /// ```
    /// use annulet::evaluate::Tallied;
    /// let found = Tallied::of(&[4.0, 4.2, 4.0, 4.2], Some((3.9, 4.1))).unwrap();
    /// assert!((found.mean - 4.1).abs() < 1e-12 && (found.moving - 0.2).abs() < 1e-12);
    /// assert!((found.upper - (4.1 + 2.66 * 0.2)).abs() < 1e-3);
    /// assert_eq!(found.within, Some(2));
    /// ```
    #[must_use]
    pub fn of(readings: &[f64], limits: Option<(f64, f64)>) -> Option<Self> {
        let count = readings.len();
        if count < 2 {
            return None;
        }
        let n = count as f64;
        let mean = readings.iter().sum::<f64>() / n;
        let squares: f64 = readings.iter().map(|one| square(one - mean)).sum();
        let neighbours = readings.windows(2).map(|pair| match pair {
            [one, next] => (next - one).abs(),
            _ => 0.0,
        });
        let moving = neighbours.sum::<f64>() / (n - 1.0);
        let reach = 3.0 / D2 * moving;
        let (lower, upper) = (mean - reach, mean + reach);
        let places = readings.iter().enumerate();
        let outliers = places
            .filter(|(_, one)| **one < lower || **one > upper)
            .map(|(place, _)| place);
        let middle = (n - 1.0) / 2.0;
        let across: f64 = (0..count).map(|place| square(place as f64 - middle)).sum();
        let drift = readings
            .iter()
            .enumerate()
            .map(|(place, one)| (place as f64 - middle) * (one - mean))
            .sum::<f64>()
            / across;
        let left: f64 = readings
            .iter()
            .enumerate()
            .map(|(place, one)| square(one - mean - drift * (place as f64 - middle)))
            .sum();
        let drift_error = (count > 2).then(|| (left / (n - 2.0) / across).sqrt());
        let mut runs = Vec::new();
        let (mut side, mut length) = (0.0, 0);
        for (place, one) in readings.iter().enumerate() {
            let now = (one - mean).signum() * f64::from(u8::from(*one != mean));
            length = if now == side && now != 0.0 {
                length + 1
            } else {
                1
            };
            side = now;
            if length == RUN {
                runs.push(place);
            }
        }
        let keeps = |(least, most): (f64, f64)| {
            let keep = |one: &&f64| **one >= least - 1e-9 && **one <= most + 1e-9;
            readings.iter().filter(keep).count()
        };
        Some(Self {
            readings: readings.to_vec(),
            mean,
            deviation: (squares / (n - 1.0)).sqrt(),
            moving,
            lower,
            upper,
            outliers: outliers.collect(),
            drift,
            drift_error,
            runs,
            within: limits.map(keeps),
        })
    }

    /// Whether the drift is more than chance makes likely: beyond twice its standard error (about 95 %, common practice).
    #[must_use]
    pub fn drifts(&self) -> bool {
        self.drift_error
            .is_some_and(|error| self.drift.abs() > 2.0 * error && self.drift != 0.0)
    }
}
