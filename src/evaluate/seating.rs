//! What would seat a ring whose shell yields before its play is gone, or hold it otherwise: each way tried.

use crate::kernel::join::{End, JoinShortfall};
use crate::kernel::section::{Curves, impossible};
use crate::kernel::{FiguresWanted, Input, StretchFigures, figures_of, join};
use crate::model::{Band, Metal};
use crate::schema::FieldId;

use super::join_input::strength;
use super::of_band::input_of;
use super::shortfall::{Shortfall, short};

/// The play that a ring is tried to turn with, mm: the one that the vocabulary gives as its example.
const PLAY: f64 = 0.06;

/// Ways out, each of which leaves nothing to be told of stretch and join that was not told before.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Seating<'a> {
    /// The least yield of the shell with which some opening grips, in whole MPa.
    pub shell_yield: Option<f64>,
    /// Another temper of the shell's alloy.
    pub shell: Option<&'a str>,
    /// Another temper of the sleeve's alloy.
    pub sleeve: Option<&'a str>,
    /// Built to turn with this play, and where its catch is too low for that, one that keeps it together.
    pub turns: Option<(f64, Option<(FieldId, f64)>)>,
}

/// The ways out for a band that is never seated.
#[must_use]
pub fn seating(band: &Band) -> Seating<'_> {
    let input = input_of(band);
    let (Some(build), Some((before, shell_yield))) = (&band.hollow, told(&input, true)) else {
        return Seating::default();
    };
    let serves = |changed: &Input| {
        told(changed, false).is_some_and(|(after, _)| {
            let known = |code: &str| before.iter().any(|one| one.code() == code);
            let mut after = after.iter();
            after.all(|one| !is_never_seated(one) && known(one.code()))
        })
    };
    let turning = || {
        let mut changed = input.clone();
        changed.stretch.turning = true;
        changed.shape.hollow.as_mut()?.play = PLAY;
        if serves(&changed) {
            return Some((PLAY, None));
        }
        let mut short = told(&changed, false)?.0.into_iter();
        let raised = short.find_map(|one| match one {
            Shortfall::Join(JoinShortfall::NoTurningWindow { raised, .. }) => raised,
            _ => None,
        });
        let (field, height) = raised?;
        changed.shape = changed.shape.with(field, height);
        serves(&changed).then_some((PLAY, raised))
    };
    Seating {
        shell_yield,
        // A harder shell grips, or a softer sleeve: no other temper need be tried.
        shell: other_temper(&build.shell, |known| {
            let mut changed = input.clone();
            changed.stretch.shell = known;
            known.yields(End::Low) > input.stretch.shell.yields(End::Low) && serves(&changed)
        }),
        sleeve: other_temper(&build.sleeve, |known| {
            let mut changed = input.clone();
            changed.stretch.sleeve = known;
            known.yields(End::High) < input.stretch.sleeve.yields(End::High) && serves(&changed)
        }),
        turns: turning(),
    }
}

fn is_never_seated(shortfall: &Shortfall) -> bool {
    matches!(shortfall, Shortfall::Join(JoinShortfall::NeverSeated))
}

/// The first other temper of a metal that serves.
fn other_temper(metal: &Metal, serves: impl Fn(join::Strength) -> bool) -> Option<&str> {
    let names = metal
        .alloy
        .tempers
        .iter()
        .map(|temper| temper.name.as_str());
    let mut others = names.filter(|name| *name != metal.temper);
    others.find(|name| serves(strength(&metal.alloy, name)))
}

/// What is told of stretch and join, and the yield that a shell would need where that is `wanted`; none where the band
/// cannot be made so, or too little is known of its metals to tell.
fn told(input: &Input, wanted: bool) -> Option<(Vec<Shortfall>, Option<f64>)> {
    if !impossible(&input.shape).is_empty() {
        return None;
    }
    let figures = figures_of(input, &Curves::of(&input.shape), FiguresWanted::Volumes);
    let stretch = StretchFigures::of(input, &figures, None);
    let joined = stretch.hollow.as_ref()?;
    joined.together?;
    let needed = wanted.then(|| joined.shell_yield_needed()).flatten();
    Some((short(input, &figures, || &stretch), needed))
}
