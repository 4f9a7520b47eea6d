//! From a place on to the best that it leads to, along whatever limits stand in the way.
//!
//! Input: a place, and what each place comes to. About it the aim and all limits are taken to be straight as far as a step
//! goes: each number is moved a little by itself, and the step that is best by these slopes is tried (sequential linear
//! programming with a trust region; R. Fletcher, E. Sainz de la Maza 1989). Where a limit bends within the step, or shows only
//! beyond it, its slopes are taken there too, and hold beside the first. A step that leads nowhere is made shorter.

use cobyla::{RhoBeg, StopTols, minimize};

use super::merit::{Merit, Seat};

/// What judges a place.
pub(super) type Judge<'a> = dyn FnMut(&[f64]) -> Option<Merit> + 'a;

/// The longest and the shortest step of a number, as a part of its way.
const LONG: f64 = 0.25;
const SHORT: f64 = 1e-6;

/// How far a number is moved to see what it does, as a part of a step, and at least: a price goes in steps of its own.
const NUDGE: f64 = 0.5;
const LEAST_NUDGE: f64 = 4e-3;

/// The parts of that which are tried where the band cannot be made so far.
const SHORTER: [f64; 4] = [1.0, 0.25, 0.05, 0.005];

/// The same beyond a limit that bends, where another may begin next to it.
const FINE_NUDGE: f64 = 0.02;
const LEAST_FINE_NUDGE: f64 = 2e-6;

/// How much of a step is left between it and a limit, for what the slopes do not see.
const LEFT: f64 = 2e-4;

/// How often a step is mended by what was found where it led.
const MENDED: usize = 5;

/// What of a slope is more than a little bend.
const BENT: f64 = 0.1;

/// How many steps away what was found of a limit still holds.
const KEPT: f64 = 8.0;

/// How often the step by slopes is sought on.
const SOUGHT: usize = 120;

/// A limit, straight: by how much it is kept at a place, and by how much more per number.
struct Cut {
    limit: usize,
    at: Vec<f64>,
    spare: f64,
    slopes: Vec<f64>,
}

impl Cut {
    /// By how much it may move within a step.
    fn reach(&self, wide: f64) -> f64 {
        self.slopes.iter().map(|slope| slope.abs()).sum::<f64>() * wide
    }

    fn spare(&self, at: &[f64]) -> f64 {
        let moved = at.iter().zip(&self.at).zip(&self.slopes);
        self.spare
            + moved
                .map(|((at, from), slope)| (at - from) * slope)
                .sum::<f64>()
    }
}

/// Goes on from a place as long as that leads anywhere, first in steps `wide`; judges about `most` places.
pub(super) fn slid(place: Seat, mut wide: f64, most: usize, judge: &mut Judge<'_>) -> Seat {
    // Where nothing may move, there is no way on.
    if place.at.is_empty() {
        return place;
    }
    let mut judged = 0;
    let mut judge = |at: &[f64]| {
        judged += 1;
        (judged, judge(at))
    };
    let mut best = place;
    let mut beyond: Vec<Cut> = Vec::new();
    loop {
        let nudge = (wide * NUDGE).max(LEAST_NUDGE);
        let about = Slopes::about(&best, nudge, true, &mut |at| judge(at).1);
        // What was found beyond stands beside, as far as it does not contradict where it stands now.
        beyond.retain(|cut| cut.spare(&best.at) >= 0.0 && near(&cut.at, &best.at, KEPT * wide));
        let mut cuts = about.cuts(&best, |limit| !about.is_bent(limit));
        let own = cuts.len();
        cuts.append(&mut beyond);
        let mut moved = false;
        let mut spent = 0;
        for _ in 0..MENDED {
            let at = stepped(&best.at, wide, &about, &cuts);
            if at == best.at {
                break;
            }
            let (so_far, found) = judge(&at);
            spent = so_far;
            let Some(found) = found else { break };
            let seat = Seat { at, judged: found };
            if seat.judged.beats(&best.judged) {
                best = seat;
                moved = true;
                break;
            }
            if !mended(&mut cuts, &seat, wide, &mut |at| judge(at).1) {
                break;
            }
        }
        beyond = cuts.split_off(own);
        wide = match moved {
            true => (wide * 2.0).min(LONG),
            false => wide / 4.0,
        };
        if wide < SHORT || spent >= most {
            return best;
        }
    }
}

fn near(one: &[f64], other: &[f64], wide: f64) -> bool {
    one.iter()
        .zip(other)
        .all(|(one, other)| (one - other).abs() <= wide)
}

/// What each number does about a place when it is moved to either side: to the aim, which stands first, and to each limit.
struct Slopes {
    /// By what is moved, then by number: to the one side and to the other, the same where only one was asked.
    all: Vec<Vec<[f64; 2]>>,
    /// How far each number may go down and up before nothing can be made.
    room: Vec<[f64; 2]>,
}

impl Slopes {
    fn about(place: &Seat, nudge: f64, both: bool, judge: &mut Judge<'_>) -> Self {
        let of = |judged: &Merit| -> Vec<f64> {
            std::iter::once(judged.aim)
                .chain(judged.spare.iter().copied())
                .collect()
        };
        let known = of(&place.judged);
        let mut all = vec![vec![[0.0; 2]; place.at.len()]; known.len()];
        let mut room = vec![[1.0; 2]; place.at.len()];
        for (axis, here) in place.at.iter().enumerate() {
            let mut look = |by: f64| -> Option<Vec<f64>> {
                let mut at = place.at.clone();
                *at.get_mut(axis)? = here + by;
                Some(of(&judge(&at)?))
            };
            let mut side = |sign: f64, room: &mut f64| -> Option<(bool, Vec<f64>)> {
                if !(0.0..=1.0).contains(&(here + sign * nudge)) {
                    return None;
                }
                // What cannot be made may begin nearer.
                let tried = SHORTER.map(|part| nudge * part);
                let found = tried
                    .into_iter()
                    .find_map(|by| Some((by, look(sign * by)?)));
                let far = found.as_ref().is_some_and(|(by, _)| *by >= nudge);
                if !far {
                    *room = found.as_ref().map_or(0.0, |(by, _)| *by);
                }
                let (by, found) = found?;
                let both = found.iter().zip(&known);
                let slopes = both.map(|(found, known)| (found - known) / (sign * by));
                Some((far, slopes.collect()))
            };
            let mut of_axis = [1.0; 2];
            let [down, up] = &mut of_axis;
            let one = side(1.0, up);
            let other = match (&one, both) {
                (Some((true, _)), false) => None,
                _ => side(-1.0, down),
            };
            if let Some(room) = room.get_mut(axis) {
                *room = of_axis;
            }
            // What was seen from too near says little, where there is better.
            let any_far = [&one, &other].into_iter().flatten().any(|(far, _)| *far);
            let seen = |side: Option<(bool, Vec<f64>)>| {
                side.filter(|(far, _)| *far || !any_far)
                    .map(|(_, slopes)| slopes)
            };
            let (one, other) = (seen(one), seen(other));
            let (Some(one), Some(other)) = (one.clone().or(other.clone()), other.or(one)) else {
                continue;
            };
            for (slopes, both) in all.iter_mut().zip(one.into_iter().zip(other)) {
                if let Some(slope) = slopes.get_mut(axis) {
                    *slope = both.into();
                }
            }
        }
        Self { all, room }
    }

    /// Whether a limit goes on to one side otherwise than to the other.
    fn is_bent(&self, limit: usize) -> bool {
        let slopes = || self.all.get(limit + 1).into_iter().flatten();
        let steep = slopes()
            .flatten()
            .map(|slope| slope.abs())
            .fold(0.0, f64::max);
        slopes().any(|[one, other]| (one - other).abs() > BENT * steep)
    }

    fn of(&self, which: usize) -> Vec<f64> {
        let slopes = self.all.get(which).into_iter().flatten();
        slopes.map(|[one, other]| (one + other) / 2.0).collect()
    }

    fn aim(&self) -> Vec<f64> {
        self.of(0)
    }

    /// Some of the limits as they go on from the place.
    fn cuts(&self, place: &Seat, wanted: impl Fn(usize) -> bool) -> Vec<Cut> {
        let spares = place.judged.spare.iter().enumerate();
        let cuts = spares.filter(|(limit, _)| wanted(*limit));
        cuts.map(|(limit, spare)| Cut {
            limit,
            at: place.at.clone(),
            spare: *spare,
            slopes: self.of(limit + 1),
        })
        .collect()
    }
}

/// Takes in what a step that leads nowhere found of the limits that it breaks; whether it broke any.
fn mended(cuts: &mut Vec<Cut>, seat: &Seat, wide: f64, judge: &mut Judge<'_>) -> bool {
    let mut unseen = Vec::new();
    let mut is_broken = false;
    for (limit, spare) in seat.judged.spare.iter().enumerate() {
        if *spare >= 0.0 {
            continue;
        }
        is_broken = true;
        let of_it = cuts.iter_mut().filter(|cut| cut.limit == limit);
        let spare_there = |cut: &Cut| cut.spare(&seat.at);
        let tight = of_it.min_by(|one, other| spare_there(one).total_cmp(&spare_there(other)));
        match tight {
            // It bends a little: by as much all over the step.
            Some(cut) if cut.spare(&seat.at) - spare <= BENT * cut.reach(wide) => {
                cut.spare += spare - cut.spare(&seat.at);
            }
            _ => unseen.push(limit),
        }
    }
    if !unseen.is_empty() {
        let nudge = (wide * FINE_NUDGE).max(LEAST_FINE_NUDGE);
        let about = Slopes::about(seat, nudge, false, judge);
        let mut found = about.cuts(seat, |limit| unseen.contains(&limit));
        if found.iter().any(|cut| cut.reach(wide) == 0.0) && nudge < LEAST_NUDGE {
            // It goes in steps that are longer.
            let about = Slopes::about(seat, LEAST_NUDGE, false, judge);
            found = about.cuts(seat, |limit| unseen.contains(&limit));
        }
        cuts.append(&mut found);
    }
    is_broken
}

/// The place within a step that is best by the slopes.
fn stepped(at: &[f64], wide: f64, about: &Slopes, cuts: &[Cut]) -> Vec<f64> {
    let aim = about.aim();
    let place = |step: &[f64]| -> Vec<f64> {
        let moved = at.iter().zip(step);
        moved
            .map(|(at, step)| (at + step * wide).clamp(0.0, 1.0))
            .collect()
    };
    let steep = aim
        .iter()
        .map(|slope| slope.abs())
        .fold(0.0, f64::max)
        .max(1e-300);
    let towards = |step: &[f64], (): &mut ()| -> f64 {
        step.iter()
            .zip(&aim)
            .map(|(step, slope)| step * slope / steep)
            .sum()
    };
    // Each in the same measure; where it does not move, it is not asked.
    let kept = cuts.iter().filter_map(|cut| {
        let reach = cut.reach(wide);
        (reach > 0.0).then_some(move |step: &[f64], (): &mut ()| -> f64 {
            let moved = step.iter().zip(at).zip(cut.at.iter().zip(&cut.slopes));
            let moved = moved.map(|((step, at), (from, slope))| (at + step * wide - from) * slope);
            (cut.spare + moved.sum::<f64>()) / reach - LEFT
        })
    });
    let kept: Vec<_> = kept.collect();
    let kept: Vec<&dyn cobyla::Func<()>> = kept
        .iter()
        .map(|one| one as &dyn cobyla::Func<()>)
        .collect();
    let bounds = at.iter().zip(&about.room).map(|(at, [down, up])| {
        let (down, up) = (down.min(*at), up.min(1.0 - at));
        ((-down / wide).max(-1.0), (up / wide).min(1.0))
    });
    let bounds: Vec<(f64, f64)> = bounds.collect();
    let tolerances = StopTols {
        xtol_abs: vec![1e-5; at.len()],
        ..StopTols::default()
    };
    let found = minimize(
        towards,
        &vec![0.0; at.len()],
        &bounds,
        &kept,
        (),
        SOUGHT,
        RhoBeg::All(0.5),
        Some(tolerances),
    );
    match found {
        Ok((_, step, _)) | Err((_, step, _)) => place(&step),
    }
}
