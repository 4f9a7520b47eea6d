//! One number sought so that two sides come to the same: all places where they do, or the nearest.
//!
//! Input: a function of one number between two bounds, which may step, and be undefined in parts. The bounds are walked
//! in equal steps. Wherever the gap between both sides changes its sign it is narrowed down; wherever it is less than on
//! both sides it is followed to its least, and where that leads through the target, on either side of it. Where it becomes
//! undefined, the edge is found first, since a solution may lie before it.

use super::narrow::{Crossed, Dip, Look, Narrowing, Place, Root, Sides};

/// How many steps the bounds are walked in.
const STEPS: u32 = 96;

/// What stands in the way of a solution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hindrance {
    /// The lower bound.
    Least,
    /// The upper bound.
    Most,
    /// At this number the band cannot be made.
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
    /// What the larger of both sides usually is between the bounds.
    pub usual: f64,
    /// The nearest where there is none, and what stops it; none where nothing could be evaluated.
    pub nearest: Option<(f64, Sides, Hindrance)>,
}

/// Seeks all numbers between two bounds at which both sides meet; numbers nearer than `finest` are the same.
///
/// # Range
/// `from` is less than `to`. What turns twice within a 96th of the way may hide two solutions between, and so may a gap in
/// what is defined that is narrower.
pub fn solve(from: f64, to: f64, finest: f64, look: &mut Look<'_>) -> Solved {
    let mut search = Search {
        narrowing: Narrowing { finest, usual: 0.0 },
        roots: Vec::new(),
        near: Vec::new(),
        least: f64::INFINITY,
        look,
    };
    let stretches = search.walked(from, to);
    let mut sizes: Vec<f64> = Vec::new();
    for stretch in &stretches {
        sizes.extend(stretch.points.iter().map(|(_, sides)| sides.size()));
    }
    sizes.sort_by(f64::total_cmp);
    search.narrowing.usual = sizes.get(sizes.len() / 2).copied().unwrap_or(0.0);
    for stretch in &stretches {
        search.meetings(&stretch.points);
        search.ends(stretch);
    }
    search.least = match search.roots.is_empty() {
        true => {
            let near = search.near.iter().map(|(place, _)| place.1.gap().abs());
            near.fold(f64::INFINITY, f64::min)
        }
        false => 0.0,
    };
    for stretch in &stretches {
        search.dips(&stretch.points);
    }
    search.solved()
}

/// A part of the way in which both sides are there, walked.
struct Stretch {
    points: Vec<Place>,
    /// What stands beyond its first and its last point.
    beyond: [Hindrance; 2],
}

struct Search<'l, 'f> {
    narrowing: Narrowing,
    roots: Vec<Root>,
    /// What comes near, and what stops it.
    near: Vec<(Place, Hindrance)>,
    /// How near the nearest comes that is known; nothing where there are roots.
    least: f64,
    look: &'l mut Look<'f>,
}

impl Search<'_, '_> {
    /// The bounds walked in steps, with the edges of what is undefined.
    fn walked(&mut self, from: f64, to: f64) -> Vec<Stretch> {
        let at = |step: u32| match step {
            STEPS => to,
            step => from + (to - from) * f64::from(step) / f64::from(STEPS),
        };
        let mut stretches: Vec<Stretch> = Vec::new();
        let mut outside = None::<f64>;
        let mut inside = false;
        for step in 0..=STEPS {
            let here = at(step);
            match ((self.look)(here), stretches.last_mut()) {
                (Some(sides), Some(last)) if inside => last.points.push((here, sides)),
                (Some(sides), _) => {
                    let mut points = Vec::new();
                    let mut before = Hindrance::Least;
                    if let Some(outside) = outside {
                        let found = self.narrowing.edge((here, sides), outside, &mut *self.look);
                        points.push(found.0);
                        before = Hindrance::Edge(found.1);
                    }
                    points.push((here, sides));
                    points.dedup_by(|one, other| one.0 == other.0);
                    stretches.push(Stretch {
                        points,
                        beyond: [before, Hindrance::Most],
                    });
                    inside = true;
                }
                (None, Some(last)) if inside => {
                    if let Some(end) = last.points.last().copied() {
                        let found = self.narrowing.edge(end, here, &mut *self.look);
                        last.points.push(found.0);
                        last.points.dedup_by(|one, other| one.0 == other.0);
                        last.beyond = [last.beyond[0], Hindrance::Edge(found.1)];
                    }
                    (inside, outside) = (false, Some(here));
                }
                (None, _) => outside = Some(here),
            }
        }
        stretches
    }

    /// Where both sides meet at walked points, or cross between them.
    fn meetings(&mut self, points: &[Place]) {
        // Two solutions may stand at points next to each other, and then nothing between is one.
        let mut all: Vec<Place> = Vec::with_capacity(points.len());
        for point in points {
            if let Some(last) = all.last()
                && last.1.gap() == 0.0
                && point.1.gap() == 0.0
            {
                let middle = (last.0 + point.0) / 2.0;
                all.extend((self.look)(middle).map(|sides| (middle, sides)));
            }
            all.push(*point);
        }
        let mut before = None::<Place>;
        let mut rest = all.as_slice();
        while let Some(first) = rest.first().copied() {
            if first.1.gap() != 0.0 {
                if let Some(before) = before
                    && before.1.gap() * first.1.gap() < 0.0
                {
                    self.cross(before, first);
                }
                before = Some(first);
                rest = rest.get(1..).unwrap_or_default();
                continue;
            }
            let run = rest.iter().take_while(|(_, sides)| sides.gap() == 0.0);
            let (run, behind) = rest.split_at(run.count());
            let last = run.last().copied().unwrap_or(first);
            let behind_it = behind.first().copied();
            let root = self
                .narrowing
                .rooted([first, last], before, behind_it, &mut *self.look);
            self.roots.push(root);
            // What is on its other side begins anew: the sign was changed here, if it was.
            before = None;
            rest = behind;
        }
    }

    /// Where the gap changes its sign between two places.
    fn cross(&mut self, low: Place, high: Place) {
        match self.narrowing.crossing(low, high, &mut *self.look) {
            Crossed::Root(root) => self.roots.push(root),
            Crossed::Steps(low, high) => {
                let steps = |place: Place| (place, Hindrance::Steps(place.0));
                self.near.extend([steps(low), steps(high)]);
            }
            // On either side of a hole it may still meet before the edge.
            Crossed::Hole(hole, low, high) => {
                for side in [low, high] {
                    let (edge, outside) = self.narrowing.edge(side, hole, &mut *self.look);
                    self.near.push((edge, Hindrance::Edge(outside)));
                    let both = if side.0 < edge.0 {
                        [side, edge]
                    } else {
                        [edge, side]
                    };
                    self.meetings(&both);
                }
            }
        }
    }

    /// What comes near at the points, and what stops it there.
    fn ends(&mut self, stretch: &Stretch) {
        let last = stretch.points.len().saturating_sub(1);
        let [before, behind] = stretch.beyond;
        for (at, point) in stretch.points.iter().enumerate() {
            let stop = match at {
                0 => before,
                at if at == last => behind,
                _ => Hindrance::Turns,
            };
            self.near.push((*point, stop));
        }
    }

    /// Follows the gap wherever it is less than on both sides, and of the same sign.
    fn dips(&mut self, points: &[Place]) {
        for (at, here) in points.iter().enumerate() {
            let gap = here.1.gap();
            let before = at.checked_sub(1).and_then(|at| points.get(at)).copied();
            let behind = points.get(at + 1).copied();
            // Of a level run the first and the last are followed.
            let falls = |beside: Option<Place>| {
                beside.is_some_and(|beside| beside.1.gap().abs() > gap.abs())
            };
            if gap == 0.0 || !(falls(before) || falls(behind)) {
                continue;
            }
            let earlier = points.iter().take(at).rev();
            let later = points.iter().skip(at + 1);
            if !is_below(gap, earlier) || !is_below(gap, later) {
                continue;
            }
            let ends = [before.unwrap_or(*here), behind.unwrap_or(*here)];
            let narrowing = self.narrowing;
            match narrowing.dip(ends, *here, self.least, &mut *self.look) {
                Dip::Through(found) if found.1.gap() == 0.0 => {
                    let [low, high] = ends.map(Some);
                    let root = narrowing.rooted([found, found], low, high, &mut *self.look);
                    self.roots.push(root);
                }
                Dip::Through(found) => {
                    let [low, high] = ends;
                    self.cross(low, found);
                    self.cross(found, high);
                }
                Dip::Least(found) if found.1.meet(narrowing.usual) => self.roots.push(Root {
                    at: found.0,
                    sides: found.1,
                    flat: None,
                }),
                Dip::Least(found) => {
                    // What leads to the end of the way is stopped there.
                    if (found.0 - here.0).abs() > 4.0 * narrowing.finest {
                        self.near.push((found, Hindrance::Turns));
                    }
                }
            }
        }
    }

    fn solved(self) -> Solved {
        let Self {
            mut roots,
            near,
            narrowing,
            ..
        } = self;
        roots.sort_by(|one, other| one.at.total_cmp(&other.at));
        roots.dedup_by(|one, other| {
            let close = 4.0 * narrowing.finest.max(1e-9 * one.at.abs());
            let (low, high) = other.flat.unwrap_or((other.at, other.at));
            low - close <= one.at && one.at <= high + close
        });
        let nearest = match roots.is_empty() {
            true => nearest(&near),
            false => None,
        };
        Solved {
            roots,
            usual: narrowing.usual,
            nearest,
        }
    }
}

/// Whether a gap is less than the first other one on a way, and of its sign; or there is no other.
fn is_below<'a>(gap: f64, mut way: impl Iterator<Item = &'a Place>) -> bool {
    let other = way.find(|(_, sides)| sides.gap() != gap);
    other.is_none_or(|(_, sides)| sides.gap() * gap > 0.0 && sides.gap().abs() > gap.abs())
}

/// The place that comes nearest, and what stops it from coming nearer.
fn nearest(near: &[(Place, Hindrance)]) -> Option<(f64, Sides, Hindrance)> {
    let gap = |one: &(Place, Hindrance)| one.0.1.gap();
    let nearest = near
        .iter()
        .min_by(|one, other| gap(one).abs().total_cmp(&gap(other).abs()))?;
    let ((at, sides), stop) = *nearest;
    let alike = super::narrow::MEETS * sides.size();
    let is_still = near
        .iter()
        .all(|one| (gap(one) - sides.gap()).abs() <= alike);
    let stop = if is_still { Hindrance::Still } else { stop };
    Some((at, sides, stop))
}
