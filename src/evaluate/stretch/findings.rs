//! What about stretch and join cannot be, or falls short, each with the value that would just work.

use crate::kernel::section::{Catch, fitting, impossible as misfits};
use crate::model::{Band, FieldValue};
use crate::schema::FieldId;

use super::super::error::{LimitError, ROUNDING};
use super::super::evaluation::Evaluation;
use super::hollow::{Joined, Verdict, joined};
use super::input::Start;
use super::judged::{Strain, strains};
use super::limits::{allowed, pulls};
use super::made::{self, Measured};
use crate::kernel::Input;
use crate::kernel::{Figures, figures};

/// A length or a per cent for a person: six places.
pub(super) fn places(value: f64) -> String {
    format!("{}", (value * 1e6).round() / 1e6)
}

/// A length rounded up to a thousandth, so that it is enough.
fn enough(value: f64) -> String {
    format!("{}", ((value - 1e-12) * 1e3).ceil() / 1e3)
}

/// A true strain in per cent of the length.
pub(super) fn percent(strain: f64) -> String {
    format!("{}", ((libm::exp(strain) - 1.0) * 1e5).round() / 1e3)
}

/// What cannot be: a start above the finished size, parts as made that contradict each other.
pub(in super::super) fn impossible(
    band: &Band,
    input: &Input,
    figures: &Figures,
) -> Vec<LimitError> {
    // Nothing is computed of a band that nothing is asked of.
    if band.hollow.is_some() {
        return match &super::of(input, figures).hollow {
            Some(joined) => made::contradiction(band, input, figures, joined),
            None => never_enters(band, input),
        }
        .into_iter()
        .collect();
    }
    let size = 2.0 * input.shape.radius;
    match input.stretch.start {
        Some(Start::Bore(start)) if start > size + ROUNDING => {
            vec![LimitError::StartAboveSize {
                at: band.place(FieldId::Start),
                size_at: band.place(FieldId::Size),
                band: band.name.clone(),
                start: places(start),
                size: places(size),
                help: format!(
                    "a stretch only opens; `start {} mm` would be no stretch at all",
                    (size * 1e6).floor() / 1e6
                ),
            }]
        }
        _ => made::blank_contradiction(band, input, figures)
            .into_iter()
            .collect(),
    }
}

/// A hollow band whose sleeve would have to be turned to nothing.
fn never_enters(band: &Band, input: &Input) -> Option<LimitError> {
    let hollow = input.shape.hollow?;
    let allowed = allowed(&input.stretch.sleeve, 1.0);
    let joins = |changed: &Input| {
        misfits(&changed.shape).is_empty()
            && joined_of(changed)
                .is_some_and(|joined| libm::log(1.0 + joined.strain) <= allowed.strain)
    };
    let (catch, passes) = match hollow.catch {
        Catch::Lip { .. } => (FieldId::HollowLip, "lips"),
        _ => (FieldId::HollowRidge, "feet"),
    };
    let fits = |path: FieldId| {
        let current = match path {
            FieldId::HollowEntry => Some(input.stretch.entry),
            _ => input.shape.field(path),
        };
        let changed = |value: f64| match path {
            FieldId::HollowEntry => {
                let mut changed = input.clone();
                changed.stretch.entry = value;
                changed
            }
            _ => Input {
                shape: input.shape.with(path, value),
                ..input.clone()
            },
        };
        fitting(true, current?, |value| joins(&changed(value))).map(|value| (path, value))
    };
    let stated = |path: FieldId| band.field(path).is_some_and(|field| field.at.is_some());
    let fit = [FieldId::HollowEntry, catch]
        .into_iter()
        .filter(|path| stated(*path))
        .find_map(fits);
    let at = fit.map_or(
        if stated(FieldId::HollowEntry) {
            FieldId::HollowEntry
        } else {
            catch
        },
        |(path, _)| path,
    );
    Some(LimitError::NeverEnters {
        at: band.place(at),
        band: band.name.clone(),
        passes,
        entry: places(input.stretch.entry),
        help: match fit {
            Some((path, value)) => format!("`{} {} mm` would just do", path.word(), places(value)),
            None => "a lower ridge and less clearance would do".to_owned(),
        },
    })
}

/// What falls short.
pub(in super::super) fn findings(evaluation: &Evaluation) -> Vec<LimitError> {
    let Evaluation {
        band,
        input,
        figures,
        ..
    } = evaluation;
    let mut found = Vec::new();
    if input.stretch.made != Measured::default() {
        let stretch = super::of(input, figures);
        found.extend(made::unused(band, stretch.hollow.as_ref()));
        if let Some(blank) = &stretch.blank {
            found.extend(made::blank_findings(band, input, figures, blank));
        }
    }
    if band.hollow.is_none() && input.stretch.start.is_none() {
        return found;
    }
    if band.hollow.is_some() && band.field(FieldId::Start).is_some() {
        found.push(LimitError::StartUnused {
            at: band.place(FieldId::Start),
            band: band.name.clone(),
        });
    }
    for strain in strains(input, figures) {
        if !strain.holds() {
            found.push(past_limit(band, input, &strain));
        }
    }
    if let Some(joined) = &super::of(input, figures).hollow {
        found.extend(no_window(band, input, joined));
        found.extend(too_far_out(band, joined));
        found.extend(no_grip(band, input, joined));
        found.extend(shell_yields(band, input, joined));
        found.extend(key(band, input, joined));
        if let Some(made) = &super::of(input, figures).made {
            found.extend(made::findings(band, input, figures, joined, made));
        }
    }
    found
}

/// A stretch past what the metal bears.
fn past_limit(band: &Band, input: &Input, strain: &Strain) -> LimitError {
    let limit = strain.allowed.strain;
    let path = match strain.part {
        "band" => FieldId::Start,
        "shell" => FieldId::HollowStagePast,
        _ if matches!(
            input.shape.hollow.map(|hollow| hollow.catch),
            Some(Catch::Lip { .. })
        ) =>
        {
            FieldId::HollowLip
        }
        _ => FieldId::HollowRidge,
    };
    let word = path.word();
    let fits = match path {
        FieldId::Start => {
            let bore = 2.0 * input.shape.radius / libm::exp(limit);
            Some(format!("`start {} mm`", enough(bore)))
        }
        FieldId::HollowStagePast => None,
        _ => input.shape.field(path).and_then(|now| {
            let bears = |value: f64| {
                let shape = input.shape.with(path, value);
                let changed = Input {
                    shape,
                    ..input.clone()
                };
                misfits(&changed.shape).is_empty()
                    && joined(&changed, &figures(&changed))
                        .is_some_and(|joined| libm::log(1.0 + joined.strain) <= limit)
            };
            fitting(true, now, bears).map(|value| format!("`{word} {} mm`", places(value)))
        }),
    };
    let fits = fits.or_else(|| {
        let stated = |field: &FieldValue| field.at.is_some();
        band.field(FieldId::HollowEntry)
            .filter(|field| strain.part == "sleeve" && stated(field))?;
        let bears = |value: f64| {
            let mut changed = input.clone();
            changed.stretch.entry = value;
            joined_of(&changed).is_some_and(|joined| libm::log(1.0 + joined.strain) <= limit)
        };
        fitting(true, input.stretch.entry, bears)
            .map(|value| format!("`entry {} mm`", places(value)))
    });
    let first = match pulls(strain.strain, &strain.allowed) {
        Some(pulls) if strain.part != "shell" => {
            format!("anneal first and between, in {pulls} even pulls")
        }
        _ => "make the part to size, so that it need not stretch".to_owned(),
    };
    let help = match fits {
        Some(fits) => format!("{first}; or {fits} would just do in one"),
        None => first,
    };
    LimitError::StretchLimit {
        at: band.place(path),
        band: band.name.clone(),
        part: strain.part,
        strain: percent(strain.strain),
        limit: percent(limit),
        label: strain.allowed.basis.to_owned(),
        help,
    }
}

/// A ring built to turn that is caught too little.
fn no_window(band: &Band, input: &Input, joined: &Joined) -> Option<LimitError> {
    let hollow = input.shape.hollow?;
    let (path, height) = match hollow.catch {
        Catch::Ridge { height, .. } => (FieldId::HollowRidge, height),
        Catch::Lip { height, .. } => (FieldId::HollowLip, height),
        Catch::None => (FieldId::HollowStage, 0.0),
    };
    let given = &input.stretch;
    let (what, overlap) = match given.turning {
        true => ("is built to turn, but is caught", joined.overlap_finished),
        // A ring that is never to turn needs no window, unless it is asked for.
        false if given.hold.is_some() => (
            "has no turning window: seated, it is caught",
            joined.overlap,
        ),
        false => return None,
    };
    let short = joined.hold - overlap;
    if short <= ROUNDING {
        return None;
    }
    let word = path.word();
    let (at, label) = match given.turning {
        true => (path, format!("{} mm too low, radial", places(short / 2.0))),
        false => (
            FieldId::HollowHold,
            "more than the catch is high".to_owned(),
        ),
    };
    let kept = (overlap * 1e3 + 1e-6).floor() / 1e3;
    let ridge = format!(
        "`{word} {} mm` would just keep it together",
        places(height + short / 2.0 + 5e-7)
    );
    let help = match hollow.catch {
        Catch::None => "give it a ridge: without one it is only loose, seated or fixed".to_owned(),
        _ if !given.turning && kept > 0.0 => {
            format!("`hold {} mm` would just do; or {ridge}", places(kept))
        }
        _ => ridge,
    };
    Some(LimitError::NoTurningWindow {
        at: band.place(at),
        band: band.name.clone(),
        what,
        overlap: places(overlap),
        hold: places(joined.hold),
        label,
        help,
    })
}

/// Two ridges that meet the feet, since a sleeve that is still small is wider.
fn too_far_out(band: &Band, joined: &Joined) -> Option<LimitError> {
    let (needed, there) = joined.shift?;
    if needed <= there + ROUNDING {
        return None;
    }
    let play = band.length(FieldId::HollowRidgePlay).unwrap_or(0.0);
    Some(LimitError::RidgeTooFarOut {
        at: band.place(
            if band
                .field(FieldId::HollowRidgePlay)
                .is_some_and(|play| play.at.is_some())
            {
                FieldId::HollowRidgePlay
            } else {
                FieldId::HollowRidge
            },
        ),
        band: band.name.clone(),
        needed: places(needed),
        there: places(there),
        help: format!(
            "`play {} mm` would just let them pass",
            enough(play + needed - there)
        ),
    })
}

/// A ring opened past seated that does not grip all over the enlarger's window.
fn no_grip(band: &Band, input: &Input, joined: &Joined) -> Option<LimitError> {
    let given = &input.stretch;
    let past = given.past.filter(|_| !given.turning)?;
    if joined.verdict == Verdict::Unknown {
        let hollow = band.hollow.as_ref()?;
        let parts = [
            ("shell", &hollow.shell, &given.shell),
            ("sleeve", &hollow.sleeve, &given.sleeve),
        ];
        let missing: Vec<String> = parts
            .into_iter()
            .filter(|(.., strength)| !strength.missing().is_empty())
            .map(|(part, metal, strength)| {
                format!(
                    "`{}` {} of the {part} states no {}",
                    metal.alloy.name,
                    metal.temper,
                    strength.missing().join(" and no ")
                )
            })
            .collect();
        return Some(LimitError::StrengthUnknown {
            at: band.place(FieldId::HollowStagePast),
            band: band.name.clone(),
            missing: missing.join("; "),
            help: "state them in an alloy block of the recipe, as in `temper hard { yield 520 MPa, modulus 90 GPa }`, or leave `past` out".to_owned(),
        });
    }
    if given.key.is_some() || !matches!(joined.verdict, Verdict::Loose | Verdict::MayGrip) {
        return None;
    }
    let fit = joined.fit?;
    let off = given.enlarger;
    let (label, help) = match joined.grip_window {
        Some((from, to)) => (
            format!(
                "it grips from \u{D8} {} to {} mm, where the shell yields",
                places(2.0 * from),
                places(2.0 * to)
            ),
            if 2.0 * from + off > 2.0 * to {
                "before the shell yields no opening grips over the whole window: a harder shell would, or an enlarger that repeats better".to_owned()
            } else {
                format!(
                    "`past {} mm` would just grip over the whole window",
                    enough(2.0 * from + off)
                )
            },
        ),
        None => match fit.shell_flow_needed() {
            Some(flow) => (
                "no opening makes it grip".to_owned(),
                format!(
                    "a shell with a yield of {} MPa or more would grip: a harder temper for the shell, a softer one for the sleeve",
                    flow.ceil()
                ),
            ),
            None => (
                "no opening makes it grip".to_owned(),
                "a harder shell over a softer sleeve grips; or give it a `key`".to_owned(),
            ),
        },
    };
    Some(LimitError::NoGrip {
        at: band.place(FieldId::HollowStagePast),
        band: band.name.clone(),
        verdict: if joined.verdict == Verdict::Loose {
            "does not grip"
        } else {
            "may or may not grip"
        },
        past: places(past),
        enlarger: places(off),
        label,
        help,
    })
}

/// A ring opened further than its shell bears before it yields; a key holds by shape, yielded or not.
fn shell_yields(band: &Band, input: &Input, joined: &Joined) -> Option<LimitError> {
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
    let help = match fitting(true, past, bears) {
        Some(past) => format!("`past {} mm` would just leave it elastic", places(past)),
        None => "leave `past` out: the report then says what to aim at".to_owned(),
    };
    Some(LimitError::ShellYields {
        at: band.place(FieldId::HollowStagePast),
        band: band.name.clone(),
        past: places(past),
        yields: places(to),
        help,
    })
}

fn joined_of(input: &Input) -> Option<Joined> {
    joined(input, &figures(input))
}

/// A key that the opening does not reach.
fn key(band: &Band, input: &Input, joined: &Joined) -> Option<LimitError> {
    let given = &input.stretch;
    let key = given.key.filter(|_| !given.turning)?;
    let reached = given
        .past
        .or(joined.aim.map(|aim| 2.0 * aim))
        .unwrap_or(0.0)
        / 2.0;
    (reached < key - ROUNDING).then(|| LimitError::KeyNotReached {
        at: band.place(FieldId::HollowStageKey),
        band: band.name.clone(),
        key: places(key),
        reached: places(reached),
        help: format!(
            "`past {} mm` on the diameter would just reach it",
            places(2.0 * key)
        ),
    })
}
