//! A band's section as it is looked at: finished, as machined, and through the stages of the enlarger.

use crate::evaluate::Evaluation;
use crate::kernel::join::{Boundary, Joined};
use crate::kernel::lathe::{
    LatheState, Moment, OutlineSide, Part, SectionOutline, lowered, outline,
};
use crate::kernel::section::curve::Point;

/// When a section is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Looked {
    /// In the finished ring.
    Finished,
    /// One part as it comes off the machine, metal for finishing included.
    Machined,
    /// The parts laid together: the shell slides on and off.
    Loose,
    /// What catches is caught.
    Catching,
    /// It turns and does not come off.
    Turning,
    /// No play is left.
    Seated,
    /// Opened past touch.
    Fixed,
    /// Opened to the ordered size, of a ring that is built to turn.
    Done,
}

impl Looked {
    /// Whether it is a stage at the enlarger.
    #[must_use]
    pub fn is_stage(self) -> bool {
        self > Self::Machined
    }
}

/// What is looked at in one view.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionView {
    /// When.
    pub looked: Looked,
    /// The outlines of the parts, the outer one first.
    pub outlines: Vec<SectionOutline>,
    /// The outside less the depth of the cut, where a pattern is cut by then.
    pub cut: Option<(Point, Vec<OutlineSide>)>,
    /// Bore after release and mandrel of a stage.
    pub opened: Option<Boundary>,
}

/// The views of a band: the finished ring; each part as machined, where that is another; each stage of the enlarger.
#[must_use]
pub fn section_views(evaluation: &Evaluation) -> Vec<SectionView> {
    let given = &evaluation.input.stretch;
    let joined = evaluation.stretch().hollow.as_ref();
    let parts: &[Part] = match joined {
        Some(_) => &[Part::Shell, Part::Sleeve],
        None => &[Part::Band],
    };
    let finished = Moment::On(LatheState::Finished);
    let mut views = Vec::new();
    views.extend(view(
        evaluation,
        Looked::Finished,
        parts,
        finished,
        None,
        true,
    ));
    if joined.is_some() || given.start.is_some() || given.layers.any() {
        let machined = Moment::On(LatheState::Machined);
        for part in parts {
            let part = std::slice::from_ref(part);
            let cut = given.cut_before;
            views.extend(view(
                evaluation,
                Looked::Machined,
                part,
                machined,
                None,
                cut,
            ));
        }
    }
    let stages = joined.map(|joined| stages(evaluation, joined));
    for (looked, moment, at) in stages.unwrap_or_default() {
        let cut = given.cut_before;
        views.extend(view(evaluation, looked, parts, moment, at, cut));
    }
    views
}

fn stages(evaluation: &Evaluation, joined: &Joined) -> Vec<(Looked, Moment, Option<Boundary>)> {
    let given = &evaluation.input.stretch;
    let opened = |looked: Looked, at: Option<Boundary>| {
        at.map(|at| (looked, Moment::Opened(at.bore), Some(at)))
    };
    let turns = joined.window.is_some_and(|window| window > 0.0);
    let mut all = vec![(Looked::Loose, Moment::Together, None)];
    all.extend(opened(Looked::Catching, joined.catching));
    all.extend(opened(Looked::Turning, joined.turning.filter(|_| turns)));
    if given.turning {
        all.push((Looked::Done, Moment::Done, Some(joined.finished)));
        return all;
    }
    all.extend(opened(Looked::Seated, joined.seated));
    // What is only aimed at is no state that the ring was ordered in.
    if let Some(at) = joined.fixed.filter(|_| given.past.is_some()) {
        all.push((Looked::Fixed, Moment::Done, Some(at)));
    }
    all
}

fn view(
    evaluation: &Evaluation,
    looked: Looked,
    parts: &[Part],
    moment: Moment,
    opened: Option<Boundary>,
    cut: bool,
) -> Option<SectionView> {
    let (input, stretch) = (&evaluation.input, evaluation.stretch());
    let outlines: Option<Vec<SectionOutline>> = parts
        .iter()
        .map(|part| outline(input, stretch, *part, moment))
        .collect();
    let depth = input.shape.cut.map(|cut| cut.depth).filter(|_| cut);
    let cut = depth.and_then(|depth| {
        let outer = parts.first().filter(|part| **part != Part::Sleeve)?;
        lowered(input, stretch, *outer, moment, depth)
    });
    Some(SectionView {
        looked,
        outlines: outlines?,
        cut,
        opened,
    })
}
