//! Between two numbers a little apart: where two sides meet, how far they stay the same, where they end to be defined, and
//! how near they come.
//!
//! Input: a function of one number, and the places known so far. A change of sign is narrowed down (T. R. Chandrupatla 1997:
//! the parabola through the last three places where it is sound, else the middle); a least is followed by golden sections,
//! which a kink does not mislead.

/// How often an interval is narrowed.
const HALVINGS: u32 = 60;

/// Below this part of the larger side a difference is what arithmetic leaves in the last digits: none.
const NOISE: f64 = 1e-13;

/// Down to which part of a number an interval about a root is narrowed, and about the end of a range in which the sides
/// stay the same.
const NARROW: f64 = 1e-13;
const END: f64 = 1e-9;

/// How often a least is followed before it is asked whether it can lead anywhere.
const FOLLOWED: u32 = 6;

/// How exactly the two sides must meet, as a part of the larger of them.
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
        match gap.abs() <= NOISE * self.size() {
            true => 0.0,
            false => gap,
        }
    }

    /// The larger of them.
    #[must_use]
    pub fn size(self) -> f64 {
        self.left.abs().max(self.right.abs())
    }

    /// Whether they are the same, within [`MEETS`] of the larger of them or, where both are small beside what they are elsewhere,
    /// of what they `usual`ly are.
    #[must_use]
    pub fn meet(self, usual: f64) -> bool {
        self.gap().abs() <= MEETS * self.size().max(usual)
    }
}

/// Both sides at a number, if they are there.
pub(super) type Look<'a> = dyn FnMut(f64) -> Option<Sides> + 'a;

/// A number and both sides there.
pub(super) type Place = (f64, Sides);

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

/// What an interval over which the gap changes its sign comes to.
pub(super) enum Crossed {
    /// Both sides meet.
    Root(Root),
    /// They step over each other.
    Steps(Place, Place),
    /// They are not there at this number; what is left of the interval about it.
    Hole(f64, Place, Place),
}

/// What following a least came to.
pub(super) enum Dip {
    /// Beyond this place the gap has another sign, or none.
    Through(Place),
    /// It comes no nearer than here.
    Least(Place),
}

/// How near two numbers may come before they are told as one: what a number is rounded to when it is put in.
#[derive(Clone, Copy, Debug)]
pub(super) struct Narrowing {
    /// The finest step of a number.
    pub finest: f64,
    /// What the larger of both sides usually is.
    pub usual: f64,
}

impl Narrowing {
    fn end(self, at: f64) -> f64 {
        self.finest.max(END * at.abs())
    }

    fn least(self, at: f64) -> f64 {
        (self.finest / 2.0).max(NARROW * at.abs())
    }

    /// The last place that is defined between one that is and a number that is not, and the first number beyond.
    pub fn edge(self, inside: Place, outside: f64, look: &mut Look<'_>) -> (Place, f64) {
        let (mut inside, mut outside) = (inside, outside);
        while (outside - inside.0).abs() > self.end(inside.0) {
            let middle = (inside.0 + outside) / 2.0;
            match look(middle) {
                Some(found) => inside = (middle, found),
                None => outside = middle,
            }
        }
        (inside, outside)
    }

    /// Where the gap changes its sign between two places.
    pub fn crossing(self, low: Place, high: Place, look: &mut Look<'_>) -> Crossed {
        let (low, zero, high) = match self.narrowed(low, high, look) {
            Narrowed::Hole(at, low, high) => return Crossed::Hole(at, low, high),
            Narrowed::Zero(low, zero, high) => (low, zero, high),
            Narrowed::Neighbours(low, high) => {
                let of = |place: Place| place.1.gap().abs();
                let (at, found) = if of(low) <= of(high) { low } else { high };
                return match found.meet(self.usual) {
                    true => Crossed::Root(Root {
                        at,
                        sides: found,
                        flat: None,
                    }),
                    false => Crossed::Steps(low, high),
                };
            }
        };
        Crossed::Root(self.rooted([zero, zero], Some(low), Some(high), look))
    }

    /// A root at a run of places without a gap, with the ends up to which that stays so before what lies on either side.
    pub fn rooted(
        self,
        [first, last]: [Place; 2],
        before: Option<Place>,
        behind: Option<Place>,
        look: &mut Look<'_>,
    ) -> Root {
        let from = before.map_or(first, |before| self.end_of_flat(first, before, look));
        let to = behind.map_or(last, |behind| self.end_of_flat(last, behind, look));
        let wide = to.0 - from.0 > 4.0 * self.end(to.0);
        let middle = (from.0 + to.0) / 2.0;
        Root {
            at: if wide { middle } else { first.0 },
            sides: first.1,
            flat: wide.then_some((from.0, to.0)),
        }
    }

    /// The last place without a gap on the way from one to another that has one.
    fn end_of_flat(self, zero: Place, beyond: Place, look: &mut Look<'_>) -> Place {
        let (mut inside, mut outside) = (zero, beyond.0);
        let end = self.end(zero.0);
        // Mostly there is no such range: just beside it there is a gap.
        let mut at = zero.0 + 2.0 * end * (beyond.0 - zero.0).signum();
        while (outside - inside.0).abs() > end {
            if (at - zero.0).abs() >= (outside - zero.0).abs() {
                at = (inside.0 + outside) / 2.0;
            }
            match look(at) {
                Some(found) if found.gap() == 0.0 => inside = (at, found),
                _ => outside = at,
            }
            at = (inside.0 + outside) / 2.0;
        }
        inside
    }

    /// What is left of an interval over which the gap changes its sign, narrowed until both ends are neighbours.
    fn narrowed(self, low: Place, high: Place, look: &mut Look<'_>) -> Narrowed {
        // The newest place, the other end, and the one before.
        let (mut a, mut b, mut c);
        (a, b) = (low, high);
        let mut part = 0.5;
        let sorted = |a: Place, b: Place| if a.0 < b.0 { (a, b) } else { (b, a) };
        for _ in 0..2 * HALVINGS {
            let at = a.0 + part * (b.0 - a.0);
            let Some(here) = look(at).map(|found| (at, found)) else {
                let (one, other) = sorted(a, b);
                return Narrowed::Hole(at, one, other);
            };
            if here.1.gap() == 0.0 {
                let (one, other) = sorted(a, b);
                return Narrowed::Zero(one, here, other);
            }
            match here.1.gap() * a.1.gap() > 0.0 {
                true => c = a,
                false => (c, b) = (b, a),
            }
            a = here;
            let wide = (b.0 - a.0).abs();
            let least = self.least(a.0.abs().max(b.0.abs()));
            if wide <= least {
                break;
            }
            let least = least / wide;
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
        let (one, other) = sorted(a, b);
        Narrowed::Neighbours(one, other)
    }

    /// Follows the gap from a place where it is less than at both ends about it, of which either may be the place itself: until it
    /// changes its sign, or comes no nearer.
    ///
    /// A few steps are always taken, since it may lead on more steeply between than it seems from outside; then only while it may
    /// lead below `known`, going on as steeply as it came.
    pub fn dip(self, ends: [Place; 2], least: Place, known: f64, look: &mut Look<'_>) -> Dip {
        let sign = least.1.gap().signum();
        let height = |place: Place| place.1.gap() * sign;
        let [mut low, mut high] = ends.map(|end| (end.0, height(end)));
        let mut best = least;
        for round in 0..2 * HALVINGS {
            let here = height(best);
            let rise = (low.1 - here).max(high.1 - here);
            let wide = high.0 - low.0;
            if wide <= 2.0 * self.least(best.0) || (round >= FOLLOWED && here - rise > known) {
                break;
            }
            let above = high.0 - best.0 >= best.0 - low.0;
            let at = match above {
                true => best.0 + SHORT * (high.0 - best.0),
                false => best.0 - SHORT * (best.0 - low.0),
            };
            let found = look(at).map(|found| (at, found));
            let reached = found.map_or(f64::INFINITY, height);
            match found {
                Some(found) if reached <= 0.0 => return Dip::Through(found),
                Some(found) if reached < here => {
                    match above {
                        true => low = (best.0, here),
                        false => high = (best.0, here),
                    }
                    best = found;
                }
                _ => match above {
                    true => high = (at, reached),
                    false => low = (at, reached),
                },
            }
        }
        Dip::Least(best)
    }
}

/// The shorter part of a golden section.
const SHORT: f64 = 0.381_966_011_250_105_1;

enum Narrowed {
    /// A place without a gap between two others.
    Zero(Place, Place, Place),
    /// Two places next to each other.
    Neighbours(Place, Place),
    /// A number without sides between two places.
    Hole(f64, Place, Place),
}
