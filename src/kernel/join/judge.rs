//! What about stretch and join cannot be, or falls short, each with the value that would just work.

use crate::kernel::section::Curves;
use crate::kernel::section::{Body, Catch, fitting, impossible as misfits};
use crate::kernel::{FiguresWanted, Input, figures_of};
use crate::schema::FieldId;

use super::grip::Grip;
use super::input::{Lock, ROUNDING, Start};
use super::joined::{Joined, joined};
use super::limits::{Allowed, allowed, pulls};
use super::shortfall::JoinShortfall;
use super::strains::Strain;

/// A length rounded up to a thousandth, so that it is enough.
fn enough(value: f64) -> f64 {
    ((value - 1e-12) * 1e3).ceil() / 1e3
}

/// What cannot be: a start above the finished size, a sleeve that would have to be turned to nothing.
#[must_use]
pub fn impossible(input: &Input, joined: Option<&Joined>) -> Option<JoinShortfall> {
    if input.shape.hollow.is_some() {
        return match joined {
            Some(_) => None,
            None => never_enters(input),
        };
    }
    // Metal that is left in the bore is in the start too.
    let size = 2.0 * (input.shape.radius - input.stretch.layers.left[0]);
    match input.stretch.start {
        Some(Start::Bore(start)) if start > size + ROUNDING => {
            Some(JoinShortfall::StartAboveSize {
                start,
                size,
                fits: (size * 1e6).floor() / 1e6,
            })
        }
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
    let curves = Curves::of(&input.shape);
    joined(
        input,
        &figures_of(input, &curves, FiguresWanted::Volumes),
        &curves,
        None,
    )
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

/// The band with another opening past touch.
fn opened(input: &Input, past: f64) -> Input {
    let mut changed = input.clone();
    changed.stretch.past = Some(past);
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
fn never_enters(input: &Input) -> Option<JoinShortfall> {
    let hollow = input.shape.hollow?;
    let allowed = allowed(&input.stretch.sleeve, 1.0, &input.stretch.pull);
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
    Some(JoinShortfall::NeverEnters {
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
    found: &mut impl Extend<JoinShortfall>,
) {
    if input.shape.hollow.is_some() && input.stretch.start.is_some() {
        found.extend([JoinShortfall::StartUnused]);
    }
    if input.stretch.stated.lock && input.stretch.stated.key {
        found.extend([JoinShortfall::KeyUnused]);
    }
    let past = strains.iter().filter(|strain| !strain.holds());
    found.extend(past.map(|strain| past_limit(input, strain)));
    if let Some(joined) = joined {
        found.extend(no_window(input, joined));
        found.extend(too_far_out(input, joined));
        found.extend(wanders(input, joined));
        found.extend(no_grip(input, joined));
        found.extend(never_seated(input, joined));
        found.extend(shell_yields(input, joined));
        found.extend(key(input, joined));
    }
}

/// A stretch past what the metal bears.
fn past_limit(input: &Input, strain: &Strain) -> JoinShortfall {
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
        Body::Solid => {
            let done = input.shape.radius - input.stretch.layers.on()[0];
            let [early, ..] = input.stretch.layers.before();
            Some(enough(2.0 * (done / libm::exp(limit) - early)))
        }
        Body::Shell => safe_opening(input),
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
    JoinShortfall::StretchLimit {
        part: strain.part,
        strain: strain.strain,
        allowed: strain.allowed,
        pulls: pulls(strain.strain, &strain.allowed),
        field,
        fits: fits.map(|value| (field, value)).or_else(by_entry),
    }
}

/// A ring built to turn that is caught too little, or by what is not known.
fn no_window(input: &Input, joined: &Joined) -> Option<JoinShortfall> {
    let given = &input.stretch;
    let overlap = match given.turning {
        true => joined.overlap_finished,
        // A ring that is never to turn needs no window, unless it is asked for.
        false if given.hold.is_some() => joined.overlap,
        false => return None,
    };
    let Some(hold) = joined.hold else {
        return Some(JoinShortfall::CatchUnknown {
            overlap,
            shell: given.shell.unstated(),
        });
    };
    let short = hold - overlap;
    if short <= ROUNDING {
        return None;
    }
    let catch = catch(input);
    let kept = (overlap * 1e3 + 1e-6).floor() / 1e3;
    Some(JoinShortfall::NoTurningWindow {
        turning: given.turning,
        overlap,
        hold,
        field: match (given.turning, catch) {
            (true, Some((field, _))) => field,
            (true, None) => FieldId::HollowStage,
            (false, _) => FieldId::HollowHold,
        },
        keeps: (catch.is_some() && !given.turning && kept > 0.0).then_some(kept),
        raised: catch.map(|(field, height)| (field, height + short / 2.0 + 5e-7)),
    })
}

/// A turning ring that wanders along the finger.
fn wanders(input: &Input, joined: &Joined) -> Option<JoinShortfall> {
    let given = &input.stretch;
    let float = joined.float.filter(|_| given.turning)?;
    let most = given.most_float;
    if float <= most + ROUNDING {
        return None;
    }
    let (field, fits) = match input.shape.hollow?.catch {
        // What lies beside one ridge at mid width is closed by a second one.
        Catch::Ridge { two: false, .. } => (FieldId::HollowRidgeCount, None),
        Catch::Ridge { .. } => (FieldId::HollowRidgePlay, Some(most / 2.0)),
        _ => (FieldId::HollowLipPlay, Some(most)),
    };
    Some(JoinShortfall::Float {
        float,
        most,
        field,
        fits,
    })
}

/// Whether the maker states that it is held by metal that is moved or melted.
fn by_shape(lock: Option<Lock>) -> bool {
    matches!(lock, Some(Lock::Tack | Lock::Stake))
}

/// Two ridges that meet the feet, since a sleeve that is still small is wider.
fn too_far_out(input: &Input, joined: &Joined) -> Option<JoinShortfall> {
    let (needed, there) = joined.shift?;
    if needed <= there + ROUNDING {
        return None;
    }
    let play = match input.shape.hollow?.catch {
        Catch::Ridge { play, .. } => play,
        _ => 0.0,
    };
    Some(JoinShortfall::RidgeTooFarOut {
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

/// A ring opened past touch that does not grip all over the enlarger's window.
fn no_grip(input: &Input, joined: &Joined) -> Option<JoinShortfall> {
    let given = &input.stretch;
    let past = given.past.filter(|_| !given.turning)?;
    if by_shape(given.lock) {
        return None;
    }
    if joined.grip == Grip::Unknown {
        return Some(JoinShortfall::StrengthUnknown {
            shell: given.shell.unstated(),
            sleeve: given.sleeve.unstated(),
        });
    }
    // A key that bites holds by shape; one that does not is told.
    if given.lock.is_some() || !matches!(joined.grip, Grip::Loose | Grip::MayGrip) {
        return None;
    }
    let known = joined.together?.fit.is_known();
    let window = joined.grip_window.map(|(from, to)| (2.0 * from, 2.0 * to));
    Some(JoinShortfall::NoGrip {
        grip: joined.grip,
        past,
        enlarger: given.enlarger,
        window,
        known,
        fits: window.filter(|_| known).and_then(|(from, to)| {
            // Over a window narrower than the enlarger repeats, no opening grips all over.
            let low = enough(from + given.enlarger);
            (0..5)
                .map(|more| low + f64::from(more) * 1e-3)
                .take_while(|past| past + given.enlarger <= to + 5e-3)
                .find(|past| grips_safely(&opened(input, *past)))
        }),
        shell_yield: match window {
            Some(_) => None,
            None => joined.shell_yield_needed(),
        },
    })
}

/// A ring that is to be fixed, without a stated opening, whose shell yields first. With an opening it is told that nothing
/// grips; a lock or solder holds all the same.
fn never_seated(input: &Input, joined: &Joined) -> Option<JoinShortfall> {
    let given = &input.stretch;
    let held = given.turning || given.lock.is_some() || input.solder > 0.0;
    let never = !held && given.past.is_none() && joined.seated.is_none();
    never.then_some(JoinShortfall::NeverSeated)
}

/// Whether a band grips over the enlarger's whole window, and its shell stays elastic and within what it bears.
fn grips_safely(input: &Input) -> bool {
    joined_of(input).is_some_and(|joined| {
        joined.grip == Grip::Grips
            && yields_within(input, &joined).is_none()
            && shell_bears(input, &joined).bears(libm::log(1.0 + joined.shell_strain))
    })
}

/// The largest opening, no larger than the one stated, that passes at both ends of the enlarger's window: the shell stays
/// elastic and within what it bears, and where nothing holds by shape it grips; none where no opening does.
fn safe_opening(input: &Input) -> Option<f64> {
    let by_shape = by_shape(input.stretch.lock);
    let stays = |past: f64| {
        let changed = opened(input, past);
        joined_of(&changed).is_some_and(|joined| {
            yields_within(&changed, &joined).is_none()
                && shell_bears(&changed, &joined).bears(libm::log(1.0 + joined.shell_strain))
        })
    };
    let past = fitting(true, input.stretch.past?, stays)?;
    (by_shape || grips_safely(&opened(input, past))).then_some(past)
}

/// What the shell bears.
fn shell_bears(input: &Input, joined: &Joined) -> Allowed {
    let thinned = if input.stretch.cut_before {
        joined.notch
    } else {
        1.0
    };
    allowed(&input.stretch.shell, thinned, &input.stretch.pull)
}

/// The opening on the diameter at which the shell yields, where the enlarger may come to it.
fn yields_within(input: &Input, joined: &Joined) -> Option<f64> {
    let given = &input.stretch;
    let past = given.past.filter(|_| !given.turning)?;
    let to = 2.0 * joined.together?.yields_at()?;
    (past + given.enlarger > to + ROUNDING).then_some(to)
}

/// A ring opened further than its shell bears before it yields.
fn shell_yields(input: &Input, joined: &Joined) -> Option<JoinShortfall> {
    let given = &input.stretch;
    let past = given.past?;
    let to = yields_within(input, joined)?;
    // Where no opening grips, that is what is told.
    if joined.grip_window.is_none() && given.lock.is_none() {
        return None;
    }
    Some(JoinShortfall::ShellYields {
        past,
        enlarger: given.enlarger,
        yields: to,
        fits: safe_opening(input),
    })
}

/// A key that the opening does not reach.
fn key(input: &Input, joined: &Joined) -> Option<JoinShortfall> {
    let given = &input.stretch;
    let Some(Lock::Key(key)) = given.lock.filter(|_| !given.turning) else {
        return None;
    };
    if key <= 0.0 {
        return Some(JoinShortfall::KeyDepthUnknown);
    }
    let reached = joined.bites();
    (reached < key - ROUNDING).then(|| JoinShortfall::KeyNotReached {
        key,
        reached,
        field: if given.stated.lock {
            FieldId::HollowLock
        } else {
            FieldId::HollowStageKey
        },
        fits: reaching(input, joined, key),
    })
}

/// The opening past touch that would just reach a key, where the shell bears it; it may yield there, which is told.
fn reaching(input: &Input, joined: &Joined, key: f64) -> Option<f64> {
    let (from, _) = joined.grip_window?;
    let past = enough(2.0 * (from + key));
    let changed = opened(input, past);
    let there = joined_of(&changed)?;
    let bears = shell_bears(&changed, &there).bears(libm::log(1.0 + there.shell_strain));
    bears.then_some(past)
}
