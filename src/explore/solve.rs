//! One number sought so that two sides come to the same: all places where they do, or the nearest.
//!
//! Input: a function of one number between two bounds, which may step, and be undefined in parts. The bounds are walked
//! in equal steps; wherever the difference changes its sign it is halved down, wherever it comes near without changing
//! it is followed to its least. Where it becomes undefined, the edge is found first, since a solution may lie before it.

/// How many steps the bounds are walked in.
const STEPS: u32 = 96;

/// How often an interval is narrowed; each narrows by half at least.
const HALVINGS: u32 = 60;

/// How exactly the two sides must meet, as a part of the larger of them and of one.
pub const MEETS: f64 = 1e-6;

/// Both sides at a number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sides {
    /// What is to become something.
    pub left: f64,
    /// What it is to become.
    pub right: f64,
}

impl Sides {
    /// By how much the left is more than the right.
    #[must_use]
    pub fn gap(self) -> f64 {
        self.left - self.right
    }

    /// Whether they are the same, within [`MEETS`].
    #[must_use]
    pub fn meet(self) -> bool {
        self.gap().abs() <= MEETS * self.left.abs().max(self.right.abs()).max(1e-3)
    }
}

/// A place where both sides meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Root {
    /// The number.
    pub at: f64,
    /// Both sides there.
    pub sides: Sides,
    /// The range in which they stay the same, where a result steps.
    pub flat: Option<(f64, f64)>,
}

/// What stands in the way of a solution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hindrance {
    /// The lower bound.
    Least,
    /// The upper bound.
    Most,
    /// Beyond this number the band cannot be made.
    Edge(f64),
    /// The result steps over it here.
    Steps(f64),
    /// It comes no nearer anywhere between.
    Turns,
}

/// What a search came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// All solutions, in rising order.
    pub roots: Vec<Root>,
    /// The nearest where there is none, and what stops it; none where nothing could be evaluated.
    pub nearest: Option<(f64, Sides, Hindrance)>,
}

/// Seeks all numbers between two bounds at which both sides meet.
///
/// # Range
/// `from` is less than `to`. Two solutions that lie nearer than a 96th of the way may be told as one.
pub fn solve(from: f64, to: f64, sides: &mut dyn FnMut(f64) -> Option<Sides>) -> Solved {
    let mut points = walked(from, to, sides);
    let mut roots: Vec<Root> = Vec::new();
    let mut steps: Vec<(f64, Sides)> = Vec::new();
    let pairs: Vec<_> = points
        .windows(2)
        .map(|pair| (pair.first().copied(), pair.last().copied()))
        .collect();
    for pair in pairs {
        let (Some(low), Some(high)) = pair else {
            continue;
        };
        let (Some(at_low), Some(at_high)) = (low.1, high.1) else {
            continue;
        };
        if at_low.gap() == 0.0 || at_low.gap() * at_high.gap() < 0.0 || at_high.gap() == 0.0 {
            match crossing((low.0, at_low), (high.0, at_high), sides) {
                Ok(root) => roots.push(root),
                Err(both) => steps.extend(both),
            }
        }
    }
    // Where it comes near and turns back, it may just touch.
    let nears: Vec<(f64, f64)> = points
        .windows(3)
        .filter_map(|three| {
            let [before, here, behind] = three else {
                return None;
            };
            let gap = |point: &(f64, Option<Sides>)| point.1.map(Sides::gap);
            let (a, b, c) = (gap(before)?, gap(here)?, gap(behind)?);
            let one_side = a * b > 0.0 && b * c > 0.0;
            (one_side && b.abs() <= a.abs() && b.abs() <= c.abs()).then_some((before.0, behind.0))
        })
        .collect();
    for (low, high) in nears {
        if let Some((at, found)) = least_gap(low, high, sides) {
            match found.meet() {
                true => roots.push(Root {
                    at,
                    sides: found,
                    flat: None,
                }),
                false => points.push((at, Some(found))),
            }
        }
    }
    roots.sort_by(|one, other| one.at.total_cmp(&other.at));
    let near = (to - from) * 1e-7;
    roots.dedup_by(|one, other| {
        let flat = other
            .flat
            .is_some_and(|(low, high)| low - near <= one.at && one.at <= high + near);
        flat || (one.at - other.at).abs() <= near
    });
    let nearest = match roots.is_empty() {
        true => nearest(from, to, &points, &steps),
        false => None,
    };
    Solved { roots, nearest }
}

type Point = (f64, Option<Sides>);

/// The bounds walked in steps, with the edges of what is undefined.
fn walked(from: f64, to: f64, sides: &mut dyn FnMut(f64) -> Option<Sides>) -> Vec<Point> {
    let at = |step: u32| match step {
        STEPS => to,
        step => from + (to - from) * f64::from(step) / f64::from(STEPS),
    };
    let mut points: Vec<Point> = Vec::new();
    for step in 0..=STEPS {
        let here = (at(step), sides(at(step)));
        if let Some(before) = points.last().copied()
            && before.1.is_some() != here.1.is_some()
        {
            points.push(edge(before, here, sides));
        }
        points.push(here);
    }
    points
}

/// The last place that is defined between one that is and one that is not.
fn edge(one: Point, other: Point, sides: &mut dyn FnMut(f64) -> Option<Sides>) -> Point {
    let (mut inside, mut outside) = match one.1 {
        Some(_) => (one, other.0),
        None => (other, one.0),
    };
    for _ in 0..HALVINGS {
        let middle = (inside.0 + outside) / 2.0;
        match sides(middle) {
            Some(found) => inside = (middle, Some(found)),
            None => outside = middle,
        }
    }
    inside
}

/// Where the gap changes its sign between two places: a root, or both sides of a step over it.
fn crossing(
    low: (f64, Sides),
    high: (f64, Sides),
    sides: &mut dyn FnMut(f64) -> Option<Sides>,
) -> Result<Root, Vec<(f64, Sides)>> {
    let sign = match low.1.gap() {
        0.0 => -high.1.gap().signum(),
        gap => gap.signum(),
    };
    // The last place with the sign of the beginning, and the first with that of the end.
    let first = narrowed(low, high, sides, &|gap| gap * sign > 0.0);
    let last = narrowed(low, high, sides, &|gap| gap * sign >= 0.0);
    let (from, to) = (first.1, last.0);
    if from.1.gap() == 0.0 && to.1.gap() == 0.0 {
        let wide = (to.0 - from.0).abs() > 1e-9 * to.0.abs().max(1e-6);
        return Ok(Root {
            at: if wide { (from.0 + to.0) / 2.0 } else { from.0 },
            sides: from.1,
            flat: wide.then_some((from.0, to.0)),
        });
    }
    let ends = [first.0, last.1];
    let nearer = ends
        .iter()
        .min_by(|one, other| one.1.gap().abs().total_cmp(&other.1.gap().abs()));
    match nearer {
        Some((at, found)) if found.meet() => Ok(Root {
            at: *at,
            sides: *found,
            flat: None,
        }),
        _ => Err(ends.to_vec()),
    }
}

/// The two neighbouring places between which a gap stops being as it is at the first of them.
fn narrowed(
    low: (f64, Sides),
    high: (f64, Sides),
    sides: &mut dyn FnMut(f64) -> Option<Sides>,
    is_before: &dyn Fn(f64) -> bool,
) -> ((f64, Sides), (f64, Sides)) {
    let (mut low, mut high) = (low, high);
    if !is_before(low.1.gap()) {
        return (low, low);
    }
    if is_before(high.1.gap()) {
        return (high, high);
    }
    for turn in 0..HALVINGS {
        // A straight line between both is mostly nearer than their middle; every other time the middle is taken all
        // the same, so that the interval shrinks whatever the curve.
        let (a, b) = (low.1.gap(), high.1.gap());
        let straight = low.0 + (high.0 - low.0) * (a / (a - b));
        let middle = low.0 + (high.0 - low.0) / 2.0;
        let inside = straight > low.0.min(high.0) && straight < low.0.max(high.0);
        let at = if inside && turn % 2 == 0 {
            straight
        } else {
            middle
        };
        if at == low.0 || at == high.0 {
            break;
        }
        let Some(found) = sides(at) else { break };
        if is_before(found.gap()) {
            low = (at, found);
        } else {
            high = (at, found);
        }
        if (high.0 - low.0).abs() <= 1e-13 * high.0.abs().max(1e-3) {
            break;
        }
    }
    (low, high)
}

/// The place of the least gap between two places, by golden sections.
fn least_gap(
    low: f64,
    high: f64,
    sides: &mut dyn FnMut(f64) -> Option<Sides>,
) -> Option<(f64, Sides)> {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    let (mut low, mut high) = (low, high);
    let mut one = high - GOLDEN * (high - low);
    let mut other = low + GOLDEN * (high - low);
    let (mut at_one, mut at_other) = (sides(one)?, sides(other)?);
    for _ in 0..HALVINGS {
        if at_one.gap().abs() <= at_other.gap().abs() {
            high = other;
            (other, at_other) = (one, at_one);
            one = high - GOLDEN * (high - low);
            at_one = sides(one)?;
        } else {
            low = one;
            (one, at_one) = (other, at_other);
            other = low + GOLDEN * (high - low);
            at_other = sides(other)?;
        }
    }
    Some((one, at_one))
}

/// The place that comes nearest, and what stops it from coming nearer.
fn nearest(
    from: f64,
    to: f64,
    points: &[Point],
    steps: &[(f64, Sides)],
) -> Option<(f64, Sides, Hindrance)> {
    let known = points
        .iter()
        .filter_map(|(at, sides)| Some((*at, (*sides)?)));
    let all = known.clone().chain(steps.iter().copied());
    let (at, sides) = all.min_by(|one, other| one.1.gap().abs().total_cmp(&other.1.gap().abs()))?;
    let undefined = points.iter().filter(|(_, sides)| sides.is_none());
    let beside = undefined
        .map(|(place, _)| *place)
        .min_by(|one, other| (one - at).abs().total_cmp(&(other - at).abs()));
    let step = (to - from) / f64::from(STEPS);
    let stop = if steps.iter().any(|(place, _)| *place == at) {
        Hindrance::Steps(at)
    } else if at == from {
        Hindrance::Least
    } else if at == to {
        Hindrance::Most
    } else {
        match beside.filter(|place| (place - at).abs() <= step) {
            Some(place) => Hindrance::Edge(place),
            None => Hindrance::Turns,
        }
    };
    Some((at, sides, stop))
}
