//! One band evaluated: its figures, what falls short, what must be said. What follows from them is worked out by the
//! files beside it, when it is first read.

use std::borrow::Cow;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, OnceLock};

use crate::fineness::Judgements;
use crate::kernel::join::{MachinedShell, MachinedSleeve, Parted};
use crate::kernel::section::Curves;
use crate::kernel::strength::Bears;
use crate::kernel::{self, Figures, FiguresWanted, Input, SaidTwice, StretchFigures, figures};
use crate::model::Band;
use crate::money::{Account, Against, Workpiece};
use crate::quantity::Currency;
use crate::schema::{RestsOn, ResultId, ResultRow};
use crate::source::Span;

use super::cautions::Caution;
use super::of_band::input_of;
use super::range::Range;
use super::shortfall::{Barred, Shortfall, Worst, impossible};
use super::standing::Standing;
use super::stop::stopped;

/// A band with everything that is computed of it.
#[derive(Clone, Debug)]
pub struct Evaluation {
    /// The band.
    pub band: Arc<Band>,
    /// What the kernel was given.
    pub input: Input,
    /// What it computed.
    pub figures: Figures,
    /// What falls short, in the order in which it is judged.
    pub shortfalls: Vec<Shortfall>,
    /// What holds as written, and falls short somewhere in the ranges of what may be off, looked for when it is first read.
    pub(super) worst: OnceLock<Vec<Worst>>,
    /// What falls short where its variables stand, judged when it is first read.
    pub(super) falls: OnceLock<Vec<(Shortfall, bool)>>,
    /// Cautions whose trigger is in the recipe, once its limits are asked.
    pub cautions: Vec<&'static Caution>,
    /// Stretch, join and strength, computed when they are first read.
    pub(super) stretch: OnceLock<StretchFigures>,
    /// The parts of a hollow band, worked back when it was judged whether it can be.
    pub(super) parted: Option<Parted>,
    /// Their bench figures, computed when they are read before the rest of stretch and join.
    pub(super) bench: OnceLock<Option<(MachinedShell, MachinedSleeve)>>,
    /// What money is told of it, worked out when it is first read.
    pub(super) work: OnceLock<Option<Box<Workpiece>>>,
    /// Metal, cost and price, computed when they are first read.
    pub(super) account: OnceLock<Option<Box<Account>>>,
    /// How it stands against another build, computed when it is first read.
    pub(super) against: OnceLock<Option<Box<Against>>>,
    /// What it bears, computed when it is first read.
    pub(super) bears: OnceLock<Option<Bears>>,
    /// The build that it is compared with: another's evaluation, or computed when it is first read; none where there
    /// is none.
    pub(super) other: Arc<OnceLock<Option<Evaluation>>>,
    /// What may be off, and the same at places of those ranges, computed when they are first read.
    pub(super) points: OnceLock<Arc<Points>>,
    /// What rulebooks say of it, each judged when it is first asked.
    pub(super) judgements: OnceLock<Box<Judgements>>,
    /// Where the variables stand that are not as written.
    pub(super) point: Option<Standing>,
}

/// The variables of a band, and the places of their ranges that it was evaluated at.
#[derive(Debug, Default)]
pub(super) struct Points {
    /// Each variable once, in the order of names.
    pub variables: Vec<Span>,
    pub known: Mutex<HashMap<Vec<i32>, Option<Arc<Evaluation>>>>,
    /// Ranges of results that were asked for.
    pub ranges: Mutex<HashMap<ResultId, Option<Range>>>,
}

/// Evaluates a band without asking what limits it keeps.
///
/// # Errors
/// What makes it impossible.
pub(crate) fn possible(band: &Arc<Band>) -> Result<Evaluation, Barred> {
    if stopped() {
        return Err(Barred::Shape(Vec::new()));
    }
    let input = input_of(band);
    let misfits = kernel::check(&input.shape, &stated_of(band), input.stretch.walls.anywhere);
    if !misfits.is_empty() {
        return Err(Barred::Shape(misfits.into_vec()));
    }
    let figures = figures(&input);
    if let Some(through) = kernel::cut_through(&input, &figures) {
        return Err(Barred::Shape(vec![kernel::KernelShortfall::Cut(through)]));
    }
    let stretch = OnceLock::new();
    let of = || stretch.get_or_init(|| StretchFigures::of(&input, &figures, None));
    if let Some(clash) = impossible(&input, &figures, of) {
        return Err(Barred::Parts(Box::new(clash)));
    }
    Ok(of_figures(band, input, figures, (stretch, None)))
}

/// A band evaluated without asking what limits it keeps, nor what would just fit where it cannot be made; none there.
#[must_use]
pub fn sound(band: &Arc<Band>) -> Option<Evaluation> {
    sound_with(band, input_of(band), &stated_of(band))
}

/// The same of a band whose figures are known as the kernel takes them.
#[must_use]
pub fn sound_with(band: &Arc<Band>, input: Input, stated: &SaidTwice) -> Option<Evaluation> {
    let found = sound_of(band, input, stated, FiguresWanted::All)?;
    if kernel::goes_through(&found.figures) {
        return None;
    }
    Some(found)
}

impl Evaluation {
    /// Says of its band what is known: that nothing of it may be off.
    pub fn set_nothing_off(&mut self) {
        self.points = OnceLock::from(Arc::default());
    }
}

/// The same with the figures that are wanted; where those are volumes, a drawn cut may go through.
pub(super) fn sound_of(
    band: &Arc<Band>,
    input: Input,
    stated: &SaidTwice,
    wanted: FiguresWanted,
) -> Option<Evaluation> {
    if stopped() {
        return None;
    }
    let (figures, parted) = parted(&input, stated, wanted)?;
    Some(of_figures(band, input, figures, (OnceLock::new(), parted)))
}

fn of_figures(
    band: &Arc<Band>,
    input: Input,
    figures: Figures,
    (stretch, parted): (OnceLock<StretchFigures>, Option<Parted>),
) -> Evaluation {
    Evaluation {
        band: Arc::clone(band),
        input,
        figures,
        shortfalls: Vec::new(),
        worst: OnceLock::new(),
        falls: OnceLock::new(),
        cautions: Vec::new(),
        stretch,
        parted,
        bench: OnceLock::new(),
        work: OnceLock::new(),
        account: OnceLock::new(),
        against: OnceLock::new(),
        bears: OnceLock::new(),
        other: Arc::default(),
        points: OnceLock::new(),
        judgements: OnceLock::new(),
        point: None,
    }
}

/// The lengths that a band states and that follow from others.
#[must_use]
pub fn stated_of(band: &Band) -> SaidTwice {
    SaidTwice::of(|field| band.length(field))
}

/// The figures of what can be made, without asking what limits it keeps; none where it cannot be.
#[must_use]
pub fn metal(input: &Input, stated: &SaidTwice, wanted: FiguresWanted) -> Option<Figures> {
    parted(input, stated, wanted).map(|(figures, _)| figures)
}

/// The same, with the parts of a hollow band where they had to be worked back.
fn parted(
    input: &Input,
    stated: &SaidTwice,
    wanted: FiguresWanted,
) -> Option<(Figures, Option<Parted>)> {
    let curves = Curves::of(&input.shape);
    if !kernel::possible(&curves, stated) {
        return None;
    }
    let figures = kernel::figures_of(input, &curves, wanted);
    if input.shape.hollow.is_some() && input.stretch.made.is_empty() {
        let parted = Parted::of(input, &curves)?;
        return Some((figures, Some(parted)));
    }
    let stretch = OnceLock::new();
    let of = || stretch.get_or_init(|| StretchFigures::of(input, &figures, None));
    let impossible = impossible(input, &figures, of);
    impossible.is_none().then_some((figures, None))
}

impl Evaluation {
    /// The repeats of its pattern, as stated or as they follow from the motif; none without a pattern.
    #[must_use]
    pub fn repeats(&self) -> Option<u32> {
        let drawn = self.input.drawn.as_ref();
        let on_band = drawn.and_then(|drawn| drawn.worked.as_ref());
        on_band
            .map(|on_band| on_band.repeats)
            .or(self.input.repeats)
    }

    /// Stretch, join and strength.
    #[must_use]
    pub fn stretch(&self) -> &StretchFigures {
        let compute = || StretchFigures::of(&self.input, &self.figures, self.parted);
        self.stretch.get_or_init(compute)
    }

    /// A result of stretch and join; bench figures of the parts without the rest, where that is not read.
    pub(super) fn stretched(&self, id: ResultId) -> Option<f64> {
        let parted = self.parted.as_ref();
        match parted.filter(|_| self.stretch.get().is_none() && kernel::is_of_parts(id)) {
            Some(parted) => {
                let bench = self
                    .bench
                    .get_or_init(|| parted.bench(&self.input, &self.figures));
                let (shell, sleeve) = bench.as_ref()?;
                kernel::of_parts(id, shell, sleeve)
            }
            None => kernel::stretch_result(id, self.stretch()),
        }
    }

    /// What it bears between two opposed forces; none where that is not known.
    #[must_use]
    pub fn bears(&self) -> Option<&Bears> {
        let compute = || kernel::strength::bears(&self.input, &Curves::of(&self.input.shape));
        self.bears.get_or_init(compute).as_ref()
    }

    /// Whether nothing falls short, nor is left to be said.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.shortfalls.is_empty() && self.worst().is_empty()
    }

    /// The same with another band, input and figures; limits and cautions stay those that they are.
    pub(super) fn with(
        &self,
        band: Arc<Band>,
        input: Input,
        figures: Figures,
        point: Standing,
    ) -> Self {
        Self {
            band,
            input,
            figures,
            shortfalls: self.shortfalls.clone(),
            worst: OnceLock::new(),
            falls: OnceLock::new(),
            stretch: OnceLock::new(),
            parted: None,
            bench: OnceLock::new(),
            cautions: self.cautions.clone(),
            work: OnceLock::new(),
            account: OnceLock::new(),
            against: OnceLock::new(),
            bears: OnceLock::new(),
            other: Arc::clone(&self.other),
            points: OnceLock::new(),
            judgements: OnceLock::new(),
            point: Some(point),
        }
    }

    /// The unit that a result is read in: of money the currency of this band.
    #[must_use]
    pub fn unit(&self, entry: &ResultRow) -> Cow<'static, str> {
        if entry.dimension.money == 0 {
            return Cow::Borrowed(entry.unit);
        }
        match self.currency() {
            Some(currency) => Cow::Owned(entry.unit.replacen("money", currency.code(), 1)),
            None => Cow::Borrowed(entry.unit),
        }
    }

    pub(super) fn currency(&self) -> Option<Currency> {
        self.band.terms.as_ref()?.money.currency
    }

    /// What a result is computed by and from.
    #[must_use]
    pub fn formula(&self, entry: &ResultRow) -> (&'static str, &'static [RestsOn]) {
        match entry.hollow {
            Some(hollow) if self.band.hollow.is_some() => hollow,
            _ => (entry.formula, entry.needs),
        }
    }
}
