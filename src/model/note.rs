//! What is worth knowing of a value that is taken as it stands.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::source::Span;

/// Notes on values; none changes a status.
#[derive(Debug, Error, Diagnostic)]
pub enum ModelNote {
    /// A written deviation that an override takes away.
    #[error("the \u{B1} that is written is dropped")]
    #[diagnostic(
        code(model::deviation_dropped),
        severity(advice),
        help("write it again if it still holds, or step the value (`+ 0.05 mm`), which keeps it")
    )]
    DeviationDropped {
        /// The override.
        #[label("says nothing of the \u{B1}")]
        at: Span,
        /// Where the deviation is written.
        #[label("written here")]
        written: Span,
    },
    /// An assay whose metal is replaced.
    #[error("the assay is not taken over: it was made of {was}, and this is {is}")]
    #[diagnostic(
        code(model::assay_left),
        severity(advice),
        help(
            "the composition counts here; state `assay` beside the new metal where it was assayed"
        )
    )]
    AssayLeft {
        /// What replaces the metal.
        #[label("another metal")]
        at: Span,
        /// The assay.
        #[label("made of the metal before")]
        written: Span,
        /// The metal that was assayed.
        was: String,
        /// The metal that stands now.
        is: String,
    },
    /// Something stated that does nothing where it stands.
    #[error("{message}")]
    #[diagnostic(code(model::without_effect), severity(advice), help("{help}"))]
    WithoutEffect {
        /// What is stated.
        #[label("does nothing here")]
        at: Span,
        /// What does nothing, and why.
        message: &'static str,
        /// What to write.
        help: &'static str,
    },
    /// A size that was reached by rounding to the nearest of another system.
    #[error("this is the nearest size, not an exact conversion: {nearest}")]
    #[diagnostic(
        code(model::nearest_size),
        severity(advice),
        help("write the size as it was measured, or the size to be made")
    )]
    NearestSize {
        /// The conversion.
        #[label("rounded")]
        at: Span,
        /// The size, and how far it is off.
        nearest: String,
    },
    /// A range whose steps pass its end.
    #[error("the range ends at {last}: no step reaches {end}")]
    #[diagnostic(
        code(model::end_not_reached),
        severity(advice),
        help("take a step that divides it, or write {last} as its end")
    )]
    EndNotReached {
        /// The end.
        #[label("not in it")]
        at: Span,
        /// The end as stated.
        end: String,
        /// The last that is in it.
        last: String,
    },
    /// Solder of no stated weight.
    #[error("no amount of `{name}` is stated: it counts in no weight and no cost")]
    #[diagnostic(
        code(model::solder_unweighed),
        severity(advice),
        help("write how much is in the band, as in `solder {name} {{ amount 0.05 g }}`")
    )]
    Unweighed {
        /// The solder.
        #[label("how much?")]
        at: Span,
        /// Its name.
        name: String,
    },
    /// What is said of solder where there is none.
    #[error("`{word}` has no effect: the band has no solder")]
    #[diagnostic(
        code(model::no_solder),
        severity(advice),
        help("name the solder in place of `none`, or leave the line out")
    )]
    NoSolder {
        /// The value.
        #[label("no solder here")]
        at: Span,
        /// The field.
        word: &'static str,
    },
    /// A value that is read, and does nothing where it stands.
    #[error("`{what}` does nothing here: {why}")]
    #[diagnostic(code(model::idle), severity(advice), help("{help}"))]
    Idle {
        /// The value.
        #[label("without effect")]
        at: Span,
        /// The line.
        what: String,
        /// Why it does nothing.
        why: String,
        /// What to do.
        help: String,
    },
    /// Something with a name that nothing mentions.
    #[error("nothing uses `{name}`")]
    #[diagnostic(code(model::unused), severity(advice), help("{help}"))]
    Unused {
        /// Its name.
        #[label("not used")]
        at: Span,
        /// The same.
        name: String,
        /// What to write.
        help: String,
    },
    /// A figure that is far from what such a thing measures, as after a slip of its unit.
    #[error("{message}")]
    #[diagnostic(code(model::unlikely), severity(advice), help("{help}"))]
    Unlikely {
        /// The figure.
        #[label("{label}")]
        at: Span,
        /// What is far from what.
        message: String,
        /// In a word.
        label: String,
        /// What may be meant.
        help: String,
    },
}

impl Problem for ModelNote {}
