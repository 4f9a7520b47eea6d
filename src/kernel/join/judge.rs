//! What about stretch and join cannot be, or falls short, each with the value that would just work.

use crate::kernel::section::{Body, Catch, fitting, impossible as misfits};
use crate::kernel::{Input, figures};
use crate::schema::FieldId;

use super::grip::Grip;
use super::input::{ROUNDING, Start};
use super::joined::{Joined, joined};
use super::limits::{allowed, pulls};
use super::shortfall::Shortfall;
use super::strains::Strain;

/// A length rounded up to a thousandth, so that it is enough.
fn enough(value: f64) -> f64 {
    ((value - 1e-12) * 1e3).ceil() / 1e3
}

/// What cannot be: a start above the finished size, a sleeve that would have to be turned to nothing.
#[must_use]
pub fn impossible(input: &Input, joined: Option<&Joined>) -> Option<Shortfall> {
    if input.shape.hollow.is_some() {
        return match joined {
            Some(_) => None,
            None => never_enters(input),
        };
    }
    let size = 2.0 * input.shape.radius;
    match input.stretch.start {
        Some(Start::Bore(start)) if start > size + ROUNDING => Some(Shortfall::StartAboveSize {
            start,
            size,
            fits: (size * 1e6).floor() / 1e6,
        }),
        _ => None,
    }
}

/// The field of what catches, and its height; none where nothing does.
fn catch(input: &Input) -> Option<(FieldId, f64)> {
    match input.shape.hollow?.catch {
        Catch::Ridge { height, .. } => Some((FieldId::HollowRidge, height)),
        Catch::Lip { height, .. } => Some((FieldId::HollowLip, height)),
        Catch::None => None,
    }
}

fn joined_of(input: &Input) -> Option<Joined> {
    joined(input, &figures(input))
}

/// Whether a band can be, and the true strain of its sleeve's bore stays within what it bears.
fn bears(input: &Input, most: f64) -> bool {
    misfits(&input.shape).is_empty()
        && joined_of(input).is_some_and(|joined| libm::log(1.0 + joined.strain) <= most)
}

/// The band with another entry clearance.
fn with_entry(input: &Input, entry: f64) -> Input {
    let mut changed = input.clone();
    changed.stretch.entry = entry;
    changed
}

/// The band with another length of its shape.
fn with(input: &Input, field: FieldId, value: f64) -> Input {
    Input {
        shape: input.shape.with(field, value),
        ..input.clone()
    }
}

/// A hollow band whose sleeve would have to be turned to nothing.
fn never_enters(input: &Input) -> Option<Shortfall> {
    let hollow = input.shape.hollow?;
    let allowed = allowed(&input.stretch.sleeve, 1.0);
    let lips = matches!(hollow.catch, Catch::Lip { .. });
    let catch = if lips {
        FieldId::HollowLip
    } else {
        FieldId::HollowRidge
    };
    let stated = input.stretch.stated;
    let by_entry = || {
        let fits = |value: f64| bears(&with_entry(input, value), allowed.strain);
        fitting(true, input.stretch.entry, fits).map(|value| (FieldId::HollowEntry, value))
    };
    let by_catch = || {
        let fits = |value: f64| bears(&with(input, catch, value), allowed.strain);
        fitting(true, input.shape.field(catch)?, fits).map(|value| (catch, value))
    };
    let fits = stated.entry.then(by_entry).flatten();
    let fits = fits.or_else(|| stated.catch.then(by_catch).flatten());
    let field = match fits {
        Some((field, _)) => field,
        None if stated.entry => FieldId::HollowEntry,
        None => catch,
    };
    Some(Shortfall::NeverEnters {
        lips,
        entry: input.stretch.entry,
        field,
        fits: fits.map(|(_, value)| value),
    })
}

/// What falls short.
pub fn judge(
    input: &Input,
    strains: &[Strain],
    joined: Option<&Joined>,
    found: &mut impl Extend<Shortfall>,
) {
    if input.shape.hollow.is_some() && input.stretch.start.is_some() {
        found.extend([Shortfall::StartUnused]);
    }
    let past = strains.iter().filter(|strain| !strain.holds());
    found.extend(past.map(|strain| past_limit(input, strain)));
    if let Some(joined) = joined {
        found.extend(no_window(input, joined));
        found.extend(too_far_out(input, joined));
        found.extend(no_grip(input, joined));
        found.extend(shell_yields(input, joined));
        found.extend(key(input, joined));
    }
}

/// A stretch past what the metal bears.
fn past_limit(input: &Input, strain: &Strain) -> Shortfall {
    let limit = strain.allowed.strain;
    let field = match strain.part {
        Body::Solid => FieldId::Start,
        Body::Shell => FieldId::HollowStagePast,
        Body::Sleeve => match catch(input) {
            Some((field, _)) => field,
            None => FieldId::HollowRidge,
        },
    };
    let fits = match strain.part {
        Body::Solid => Some(enough(2.0 * input.shape.radius / libm::exp(limit))),
        Body::Shell => None,
        Body::Sleeve => input
            .shape
            .field(field)
            .and_then(|now| fitting(true, now, |value| bears(&with(input, field, value), limit))),
    };
    let by_entry = || {
        let bears = |value: f64| {
            let joined = joined_of(&with_entry(input, value));
            joined.is_some_and(|joined| libm::log(1.0 + joined.strain) <= limit)
        };
        let stated = input.stretch.stated.entry && strain.part == Body::Sleeve;
        let fits = stated.then(|| fitting(true, input.stretch.entry, bears));
        fits.flatten().map(|value| (FieldId::HollowEntry, value))
    };
    Shortfall::StretchLimit {
        part: strain.part,
        strain: strain.strain,
        allowed: strain.allowed,
        pulls: pulls(strain.strain, &strain.allowed),
        field,
        fits: fits.map(|value| (field, value)).or_else(by_entry),
    }
}

/// A ring built to turn that is caught too little.
fn no_window(input: &Input, joined: &Joined) -> Option<Shortfall> {
    let given = &input.stretch;
    let overlap = match given.turning {
        true => joined.overlap_finished,
        // A ring that is never to turn needs no window, unless it is asked for.
        false if given.hold.is_some() => joined.overlap,
        false => return None,
    };
    let short = joined.hold - overlap;
    if short <= ROUNDING {
        return None;
    }
    let catch = catch(input);
    let kept = (overlap * 1e3 + 1e-6).floor() / 1e3;
    Some(Shortfall::NoTurningWindow {
        turning: given.turning,
        overlap,
        hold: joined.hold,
        field: match (given.turning, catch) {
            (true, Some((field, _))) => field,
            (true, None) => FieldId::HollowStage,
            (false, _) => FieldId::HollowHold,
        },
        keeps: (catch.is_some() && !given.turning && kept > 0.0).then_some(kept),
        raised: catch.map(|(field, height)| (field, height + short / 2.0 + 5e-7)),
    })
}

/// Two ridges that meet the feet, since a sleeve that is still small is wider.
fn too_far_out(input: &Input, joined: &Joined) -> Option<Shortfall> {
    let (needed, there) = joined.shift?;
    if needed <= there + ROUNDING {
        return None;
    }
    let play = match input.shape.hollow?.catch {
        Catch::Ridge { play, .. } => play,
        _ => 0.0,
    };
    Some(Shortfall::RidgeTooFarOut {
        needed,
        there,
        field: if input.stretch.stated.ridge_play {
            FieldId::HollowRidgePlay
        } else {
            FieldId::HollowRidge
        },
        fits: enough(play + needed - there),
    })
}

/// A ring opened past seated that does not grip all over the enlarger's window.
fn no_grip(input: &Input, joined: &Joined) -> Option<Shortfall> {
    let given = &input.stretch;
    let past = given.past.filter(|_| !given.turning)?;
    if joined.grip == Grip::Unknown {
        return Some(Shortfall::StrengthUnknown {
            shell: given.shell.unstated(),
            sleeve: given.sleeve.unstated(),
        });
    }
    if given.key.is_some() || !matches!(joined.grip, Grip::Loose | Grip::MayGrip) {
        return None;
    }
    let fit = joined.fit?;
    let window = joined.grip_window.map(|(from, to)| (2.0 * from, 2.0 * to));
    Some(Shortfall::NoGrip {
        grip: joined.grip,
        past,
        enlarger: given.enlarger,
        window,
        // Over a window narrower than the enlarger repeats, no opening grips all over.
        fits: window
            .filter(|(from, to)| from + given.enlarger <= *to)
            .map(|(from, _)| enough(from + given.enlarger)),
        shell_yield: match window {
            Some(_) => None,
            None => fit.shell_flow_needed().map(f64::ceil),
        },
    })
}

/// A ring opened further than its shell bears before it yields; a key holds by shape, yielded or not.
fn shell_yields(input: &Input, joined: &Joined) -> Option<Shortfall> {
    let given = &input.stretch;
    let past = given
        .past
        .filter(|_| !given.turning && given.key.is_none())?;
    let yields = |joined: &Joined| joined.grip_window.map(|(_, to)| 2.0 * to);
    let to = yields(joined).filter(|to| past > to + ROUNDING)?;
    let bears = |past: f64| {
        let mut changed = input.clone();
        changed.stretch.past = Some(past);
        joined_of(&changed).is_some_and(|joined| yields(&joined).is_some_and(|to| past <= to))
    };
    Some(Shortfall::ShellYields {
        past,
        yields: to,
        fits: fitting(true, past, bears),
    })
}

/// A key that the opening does not reach.
fn key(input: &Input, joined: &Joined) -> Option<Shortfall> {
    let given = &input.stretch;
    let key = given.key.filter(|_| !given.turning)?;
    let reached = given
        .past
        .or(joined.aim.map(|aim| 2.0 * aim))
        .unwrap_or(0.0)
        / 2.0;
    (reached < key - ROUNDING).then_some(Shortfall::KeyNotReached { key, reached })
}
