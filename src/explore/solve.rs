//! One number sought so that two sides come to the same: all places where they do, or the nearest.
//!
//! Input: a function of one number between two bounds, which may step, and be undefined in parts. The bounds are walked
//! in equal steps; wherever the difference changes its sign it is narrowed down (T. R. Chandrupatla 1997: the parabola
//! through the last three places where it is sound, else the middle), wherever it comes near without changing it is
//! followed to its least. Where it becomes undefined, the edge is found first, since a solution may lie before it.

/// How many steps the bounds are walked in.
const STEPS: u32 = 96;

/// How often an interval is narrowed.
const HALVINGS: u32 = 60;

/// Below this part of the larger side a difference is what arithmetic leaves in the last digits: none.
const NOISE: f64 = 1e-13;

/// Down to which part of a number an interval about a root is narrowed, and about the end of a range in which the sides
/// stay the same.
const NARROW: f64 = 1e-13;
const END: f64 = 1e-9;

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
        let gap = self.left - self.right;
        match gap.abs() <= NOISE * self.left.abs().max(self.right.abs()) {
            true => 0.0,
            false => gap,
        }
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
    /// It stays the same all over.
    Still,
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
    // Where it comes near and turns back, it may just touch, or come nearer than anywhere else: as far as a step on either
    // side leads away, it may lead on between.
    let known = points.iter().filter_map(|(_, sides)| *sides);
    let least = match roots.is_empty() {
        true => known
            .map(|sides| sides.gap().abs())
            .fold(f64::INFINITY, f64::min),
        false => 0.0,
    };
    let nears: Vec<(f64, f64)> = points
        .windows(3)
        .filter_map(|three| {
            let [before, here, behind] = three else {
                return None;
            };
            let gap = |point: &(f64, Option<Sides>)| point.1.map(Sides::gap);
            let (a, b, c) = (gap(before)?, gap(here)?, gap(behind)?);
            let one_side = a * b > 0.0 && b * c > 0.0;
            let (up, down) = (a.abs() - b.abs(), c.abs() - b.abs());
            let nears =
                up >= 0.0 && down >= 0.0 && b.abs() - up.max(down) < least.max(f64::MIN_POSITIVE);
            (one_side && nears && up + down > 0.0).then_some((before.0, behind.0))
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
    let (low, zero, high) = match (low.1.gap(), high.1.gap()) {
        (0.0, 0.0) => return Ok(rooted(low, low, high)),
        (0.0, _) => (low, Some(low), high),
        (_, 0.0) => (low, Some(high), high),
        _ => narrowed(low, high, sides),
    };
    let Some(zero) = zero else {
        let nearer = [low, high];
        let nearer = nearer
            .iter()
            .min_by(|one, other| one.1.gap().abs().total_cmp(&other.1.gap().abs()));
        return match nearer {
            Some((at, found)) if found.meet() => Ok(Root {
                at: *at,
                sides: *found,
                flat: None,
            }),
            _ => Err(vec![low, high]),
        };
    };
    let from = end_of_flat(zero, low, sides);
    let to = end_of_flat(zero, high, sides);
    Ok(rooted(zero, from, to))
}

/// A root, and the ends between which the sides stay the same.
fn rooted(zero: (f64, Sides), from: (f64, Sides), to: (f64, Sides)) -> Root {
    let wide = (to.0 - from.0).abs() > END * to.0.abs().max(1e-6);
    Root {
        at: if wide { (from.0 + to.0) / 2.0 } else { zero.0 },
        sides: zero.1,
        flat: wide.then_some((from.0, to.0)),
    }
}

/// The last place on the way from one without a gap to another that has none either.
fn end_of_flat(
    zero: (f64, Sides),
    beyond: (f64, Sides),
    sides: &mut dyn FnMut(f64) -> Option<Sides>,
) -> (f64, Sides) {
    if beyond.1.gap() == 0.0 {
        return beyond;
    }
    let (mut inside, mut outside) = (zero, beyond.0);
    // Mostly there is no such range: just beside it there is a gap.
    let beside = zero.0 + END * (beyond.0 - zero.0).signum() * zero.0.abs().max(1e-6);
    let mut at = beside;
    for _ in 0..HALVINGS {
        if (outside - inside.0).abs() <= END * zero.0.abs().max(1e-6) {
            break;
        }
        match sides(at) {
            Some(found) if found.gap() == 0.0 => inside = (at, found),
            _ => outside = at,
        }
        at = (inside.0 + outside) / 2.0;
    }
    inside
}

/// What is left of an interval over which the gap changes its sign, narrowed until both ends are neighbours, and the place
/// without any gap where one is met.
#[allow(clippy::type_complexity, reason = "three places")]
fn narrowed(
    low: (f64, Sides),
    high: (f64, Sides),
    sides: &mut dyn FnMut(f64) -> Option<Sides>,
) -> ((f64, Sides), Option<(f64, Sides)>, (f64, Sides)) {
    // The newest place, the other end, and the one before.
    let (mut a, mut b, mut c);
    (a, b) = (low, high);
    let mut part = 0.5;
    for _ in 0..2 * HALVINGS {
        let at = a.0 + part * (b.0 - a.0);
        let Some(here) = sides(at).map(|found| (at, found)) else {
            break;
        };
        if here.1.gap() == 0.0 {
            let (one, other) = if a.0 < b.0 { (a, b) } else { (b, a) };
            return (one, Some(here), other);
        }
        match here.1.gap() * a.1.gap() > 0.0 {
            true => c = a,
            false => (c, b) = (b, a),
        }
        a = here;
        let wide = (b.0 - a.0).abs();
        let least = NARROW * a.0.abs().max(b.0.abs()).max(1e-3) / wide;
        if least >= 1.0 || wide == 0.0 {
            break;
        }
        let (x, y) = (
            (a.0 - b.0) / (c.0 - b.0),
            (a.1.gap() - b.1.gap()) / (c.1.gap() - b.1.gap()),
        );
        part = match y * y < x && (1.0 - y) * (1.0 - y) < 1.0 - x {
            true => {
                let (fa, fb, fc) = (a.1.gap(), b.1.gap(), c.1.gap());
                fa / (fb - fa) * fc / (fb - fc)
                    + (c.0 - a.0) / (b.0 - a.0) * fa / (fc - fa) * fb / (fc - fb)
            }
            false => 0.5,
        };
        // Just past the root from the other side too, so that the interval closes.
        let least = (least / 2.0).min(0.5);
        part = part.clamp(least, 1.0 - least);
    }
    let (one, other) = if a.0 < b.0 { (a, b) } else { (b, a) };
    (one, None, other)
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
        if (high - low).abs() <= END * high.abs().max(1e-3) {
            break;
        }
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
    let at_gap = sides.gap();
    let undefined = points.iter().filter(|(_, sides)| sides.is_none());
    let beside = undefined
        .map(|(place, _)| *place)
        .min_by(|one, other| (one - at).abs().total_cmp(&(other - at).abs()));
    let step = (to - from) / f64::from(STEPS);
    let mut gaps = known.map(|(_, sides)| sides.gap() - at_gap);
    let alike = MEETS * sides.left.abs().max(sides.right.abs());
    let stop = if gaps.all(|gap| gap.abs() <= alike) {
        Hindrance::Still
    } else if steps.iter().any(|(place, _)| *place == at) {
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
