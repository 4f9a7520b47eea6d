//! A hollow band back to its parts as machined, and forward through the enlarger, stage by stage.
//!
//! The finished ring is given. The sleeve's ridge top (or, between lips, its outside) must pass the shell's foot
//! (or lip) as machined with the entry clearance: that settles how small the sleeve is turned. Each part has its
//! own stretch; see [`super::Kinematics`].

use crate::kernel::section::{Body, Catch, Curves, Slices, slices_into};
use crate::kernel::{Figures, Input};

use super::grip::{Grip, Press};
use super::input::StretchInput;
use super::kinematics::{Carried, Kinematics, Pair, stretch};
use super::limits::allowed;
use super::machined::{Boundary, MachinedShell, MachinedSleeve};
use super::metal::End;
use super::parted::Parted;
use super::sections::Sections;
use super::thinned::Thinned;
use super::together::Together;

/// A hollow band, from its parts as machined to the finished ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joined {
    /// The shell as machined.
    pub shell: MachinedShell,
    /// The sleeve as machined.
    pub sleeve: MachinedSleeve,
    /// Widths of shell and sleeve as machined if the width is held.
    pub held: (f64, f64),
    /// Widths of shell and sleeve as machined if it is free.
    pub free: (f64, f64),
    /// Bore of the finished ring, all metal taken off.
    pub size: f64,
    /// It is built to turn.
    pub turns: bool,
    /// Stretch of the sleeve's bore, finished over machined less one.
    pub strain: f64,
    /// Stretch of the shell's foot under load, over machined less one, where the enlarger opens furthest.
    pub shell_strain: f64,
    /// Sleeve's bore before the stretch, without what comes off before.
    pub start: f64,
    /// The ridge is caught no more above this.
    pub catching: Option<Boundary>,
    /// It turns and cannot come off from here.
    pub turning: Option<Boundary>,
    /// No play is left from here; none where the shell yields first.
    pub seated: Option<Boundary>,
    /// Opened past touch: by what the recipe states, or by what is aimed at.
    pub fixed: Option<Boundary>,
    /// The ring when it is opened, metal that is taken off last still on.
    pub finished: Boundary,
    /// Overlap on the diameter that keeps the ring together; none where it is not stated and the shell is not known.
    pub hold: Option<f64>,
    /// Overlap on the diameter when seated.
    pub overlap: f64,
    /// Overlap on the diameter in the finished ring.
    pub overlap_finished: f64,
    /// The turning window on the bore; 0 or less where there is none.
    pub window: Option<f64>,
    /// Outer faces of the outermost ridges in the finished ring, axial from mid width; left, right.
    pub ridges: Option<(f64, f64)>,
    /// How far two ridges stand out axially as they pass the foot: needed, and there.
    pub shift: Option<(f64, f64)>,
    /// How far a turning ring may wander along the finger, in all, mm; none where nothing catches it.
    pub float: Option<f64>,
    /// Both parts, where both metals are known.
    pub together: Option<Together>,
    /// Radial openings past touch between which it grips and its shell is elastic.
    pub grip_window: Option<(f64, f64)>,
    /// The radial opening past touch to aim at, or the one stated; none where none is safe.
    pub aim: Option<f64>,
    /// What comes of that opening.
    pub press: Option<Press>,
    /// Whether it grips.
    pub grip: Grip,
    /// The shell's thinnest section over its uncut one, as cut.
    pub notch: f64,
    /// Area of the sleeve's section, mm2.
    pub sleeve_area: f64,
    /// The finished shell's surfaces, and it as machined, told from there.
    pub shell_back: (Pair, Carried),
    /// The finished sleeve's surfaces, and it as machined, told from there.
    pub sleeve_back: (Pair, Carried),
}

impl Joined {
    /// How far a ring that is built to turn wanders along the finger, in all, mm.
    #[must_use]
    pub fn wanders(&self) -> Option<f64> {
        self.float.filter(|_| self.turns)
    }

    /// The least yield of the shell with which some opening grips, in whole MPa; none where none does.
    #[must_use]
    pub fn shell_yield_needed(&self) -> Option<f64> {
        Some(self.together?.shell_yield_needed()?.ceil())
    }

    /// How far the ring is opened past seated, radial: what a key in the foot must be reached by; 0 where it is never
    /// seated.
    #[must_use]
    pub fn bites(&self) -> f64 {
        let past = self.grip_window.zip(self.aim);
        past.map_or(0.0, |((from, _), aim)| (aim - from).max(0.0))
    }
}

/// Least overlap on the diameter that keeps a ring together, mm (common practice, no source).
pub const HOLD: f64 = 0.10;

/// Follows a hollow band back to its parts and forward through the enlarger.
///
/// # Range
/// Bands that passed [`crate::kernel::check`]; `None` for solid ones. `parted`: its parts, where they are worked back
/// already.
#[must_use]
pub fn joined(
    input: &Input,
    figures: &Figures,
    curves: &Curves<'_>,
    parted: Option<Parted>,
) -> Option<Joined> {
    let shape = &input.shape;
    let hollow = shape.hollow?;
    let given = &input.stretch;
    let kinematics = given.kinematics;
    let mut slices = Slices::new();
    slices_into(curves, Body::Shell, 0.0, &mut slices);
    let sections = Sections::of(curves, &hollow, &slices);
    let (sleeve_area, sleeve_width) = (sections.sleeve, sections.sleeve_width);
    let past = given.past.filter(|_| !given.turning).map(|past| past / 2.0);
    let fit = sections.fit(input, &hollow);
    let parted = parted.or_else(|| Parted::with(input, &hollow, fit.as_ref()))?;
    let Parted { foot, back, seated } = parted;
    let finished = back.done;
    let notch = Thinned {
        radius: shape.radius,
        depth: shape.cut.map_or(0.0, |cut| cut.depth),
        cut: (given.cut_before && back.shell.lambda < 1.0).then_some((finished.shell, back.shell)),
        share: input.drawn_shares().map(|(least, _)| least),
    }
    .left(sections.shell);
    // Forward again: the sleeve as machined is now what everything is measured from.
    let start = back.sleeve.pair;
    let catch = back.sleeve.carried(&finished.sleeve, finished.catch);
    let together = fit.map(|fit| Together {
        fit,
        sleeve: start,
        shell: Pair {
            inner: foot,
            outer: back.shell.pair.outer,
        },
        middle: finished.sleeve.outer - finished.sleeve.inner,
        kinematics,
    });
    let boundary = |state: &Carried| Boundary::of(&given.sleeve, &start, state, together.as_ref());
    let until = |radius: f64, wanted: f64| start.until(radius, wanted, kinematics);
    let caught = !matches!(hollow.catch, Catch::None);
    let hold = hold(given, 2.0 * foot);
    let catching = until(catch, back.passes).filter(|_| caught);
    let turning = hold
        .filter(|_| caught)
        .and_then(|hold| until(catch, back.passes + hold / 2.0));
    let done = start.stretched(1.0 / back.sleeve.lambda, kinematics);
    let window = turning.map(|turning| 2.0 * (seated.pair.inner - turning.pair.inner));
    let overlap = 2.0 * (seated.carried(&start, catch) - back.passes);
    let grip_window = together.and_then(|together| together.window());
    let shell_bears = if given.cut_before { notch } else { 1.0 };
    let most = allowed(&given.shell, shell_bears, &given.pull).strain;
    let aim = past
        .or_else(|| {
            aimed(
                grip_window?,
                foot * (libm::exp(most) - 1.0),
                given.enlarger / 2.0,
            )
        })
        .filter(|_| !given.turning);
    let press = together.zip(aim).map(|(together, aim)| together.press(aim));
    let fixed = press.and_then(|press| {
        let state = match past {
            Some(_) => done,
            None => until(start.outer, press.floor)?,
        };
        Some(Boundary {
            // The smallest bore, which the mandrel touches; relief and comfort bore lie outside it.
            mandrel: Some(2.0 * (press.contact - (finished.sleeve.outer - finished.sleeve.inner))),
            ..boundary(&state)
        })
    });
    let seats = together.is_none() || grip_window.is_some();
    let seated_at = seats.then(|| Boundary {
        mandrel: match together.zip(grip_window) {
            Some((together, (from, _))) => Some(together.touch() + 2.0 * from),
            None => boundary(&seated).mandrel,
        },
        ..boundary(&seated)
    });
    let widths = |kinematics| {
        let back = finished.back(foot, given.entry, kinematics);
        let across = back.map_or((1.0, 1.0), |back| (back.shell.across, back.sleeve.across));
        let ([_, _, on], [_, _, early]) = (given.layers.on(), given.layers.before());
        (
            (shape.width + 2.0 * on) * across.0 + 2.0 * early,
            (sleeve_width + 2.0 * on) * across.1 + 2.0 * early,
        )
    };
    let parts = figures.hollow?.parts;
    let shift = ridge_shift(
        &start,
        catching.as_ref(),
        &done,
        parts.ridges,
        shape.half(),
        (parts.foot_left, parts.foot_right),
    );
    let (shell, sleeve) = parted.machined(input, &hollow, &parts);
    let finished_edge = boundary(&done);
    Some(Joined {
        shell,
        sleeve,
        held: widths(Kinematics::Held),
        free: widths(Kinematics::Free),
        size: 2.0 * shape.radius,
        turns: given.turning,
        strain: stretch(done.pair.inner, start.inner),
        shell_strain: press.map_or(0.0, |press| {
            stretch(press.contact + given.enlarger / 2.0, foot)
        }),
        start: 2.0 * start.inner,
        catching: catching.as_ref().map(boundary),
        turning: turning.as_ref().map(boundary),
        seated: seated_at,
        fixed,
        finished: match fixed.filter(|_| past.is_some()) {
            Some(fixed) => fixed,
            None => finished_edge,
        },
        hold,
        overlap,
        overlap_finished: 2.0 * (finished.catch - finished.passes()),
        window,
        ridges: parts.ridges,
        shift,
        float: parts.float,
        together,
        grip_window,
        aim,
        press,
        grip: grip(given, together.as_ref(), past),
        notch,
        sleeve_area,
        shell_back: (finished.shell, back.shell),
        sleeve_back: (finished.sleeve, back.sleeve),
    })
}

/// The overlap on the diameter that keeps a ring with feet of that bore together; none where the shell's metal is not
/// known.
///
/// # Formula
/// As stated, or the larger of 0.10 mm and `2 B yield / E`: twice what a thin shell springs open.
fn hold(given: &StretchInput, bore: f64) -> Option<f64> {
    let elastic = || Some(2.0 * bore * given.shell.elastic(End::High)?);
    given
        .hold
        .or_else(|| elastic().map(|elastic| HOLD.max(elastic)))
}

/// The opening in the middle of the window, or less where the shell would be strained past what it bears; none where
/// the enlarger cannot keep within. All radial.
fn aimed((from, to): (f64, f64), bears: f64, off: f64) -> Option<f64> {
    let most = (to - off).min(bears - off);
    let aim = ((from + to) / 2.0).min(most);
    (aim >= from + off && aim <= most).then_some(aim)
}

/// What must be free axially beside two ridges, since a sleeve that is still small is wider; and what is free.
fn ridge_shift(
    start: &Pair,
    passing: Option<&Carried>,
    done: &Carried,
    ridges: Option<(f64, f64)>,
    half: f64,
    feet: (f64, f64),
) -> Option<(f64, f64)> {
    let (left, right) = ridges?;
    let passing = passing.copied().unwrap_or(Carried {
        pair: *start,
        lambda: 1.0,
        across: 1.0,
    });
    let wider = stretch(passing.across, done.across);
    let side = |face: f64, foot: f64| (face * wider, half - foot - face);
    let (left, right) = (side(-left, feet.0), side(right, feet.1));
    Some(if left.1 - left.0 < right.1 - right.0 {
        left
    } else {
        right
    })
}

fn grip(given: &StretchInput, together: Option<&Together>, past: Option<f64>) -> Grip {
    let Some(together) = together else {
        return Grip::Unknown;
    };
    let Some(past) = past else {
        return Grip::Seated;
    };
    // The pressure is greatest where the shell begins to yield: between the ends of the window it is no lower
    // than at one of them.
    let grips = |past: f64| together.press(past).pressure > 0.0;
    let off = given.enlarger / 2.0;
    match (grips(past - off), grips(past), grips(past + off)) {
        (true, true, true) if together.fit.is_known() => Grip::Grips,
        (false, false, false) => Grip::Loose,
        _ => Grip::MayGrip,
    }
}
