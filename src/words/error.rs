//! The findings of a band's metal: what is impossible or too thin, where, and what would just do.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::source::Span;

/// What is impossible or too thin.
#[derive(Debug, Error, Diagnostic)]
pub enum MetalError {
    /// A length that is more, or less, than the others allow.
    #[error("{message}")]
    #[diagnostic(code(geometry::does_not_fit), help("{help}"))]
    DoesNotFit {
        /// The value.
        #[label("{label}")]
        at: Span,
        /// What is wrong, with the figures.
        message: String,
        /// The limit.
        label: String,
        /// What would just fit.
        help: String,
    },
    /// Two lengths that say the same thing and do not agree.
    #[error("`{first_name}` and `{second_name}` do not agree: {message}")]
    #[diagnostic(code(geometry::over_stated), help("{help}"))]
    OverStated {
        /// One of them.
        #[label("this follows from the other lengths")]
        second: Span,
        /// The other one.
        #[label("and this is stated too")]
        first: Span,
        /// Its name.
        first_name: &'static str,
        /// Name of the second.
        second_name: &'static str,
        /// The figures.
        message: String,
        /// What the second would have to be, or what was meant.
        help: String,
    },
    /// A drawn cut that goes through.
    #[error("{message}")]
    #[diagnostic(code(geometry::cut_through), help("{help}"))]
    CutThrough {
        /// The cut, or its depth.
        #[label("goes through")]
        at: Span,
        /// Which, and how deep.
        message: String,
        /// What would just fit.
        help: String,
    },
    /// A drawn cut that leaves the strip.
    #[error("{message}")]
    #[diagnostic(code(evaluate::cut_beyond), severity(advice), help("{help}"))]
    CutBeyond {
        /// The cut.
        #[label("clipped at the side face")]
        at: Span,
        /// Which, and how far.
        message: String,
        /// What to do.
        help: String,
    },
    /// A line that does not meet itself.
    #[error("{message}")]
    #[diagnostic(
        code(evaluate::cut_gap),
        severity(advice),
        help("end it where the next repeat begins, at the pitch and at the same axial place")
    )]
    CutGap {
        /// The cut.
        #[label("does not meet itself")]
        at: Span,
        /// Which, and by how much.
        message: String,
    },
    /// A pocket that the cutter does not fit into.
    #[error("{message}")]
    #[diagnostic(
        code(evaluate::cut_no_room),
        severity(warning),
        help("draw it wider, or take a narrower cutter")
    )]
    CutNoRoom {
        /// The cut.
        #[label("not cut at all")]
        at: Span,
        /// Which, and the cutter.
        message: String,
    },
    /// Drawn cuts that take nothing off.
    #[error("{message}")]
    #[diagnostic(
        code(evaluate::cut_nothing),
        severity(warning),
        help("move the cuts onto the strip, or cut deeper")
    )]
    CutNothing {
        /// The cut.
        #[label("meets no metal")]
        at: Span,
        /// Which band.
        message: String,
    },
    /// A wall that exists, but is thinner than it may be.
    #[error("{what} of `{band}` is {wall} mm thick, under {bound} {limit} mm")]
    #[diagnostic(code(evaluate::thin_wall), severity(warning), help("{help}"))]
    ThinWall {
        /// What makes it thin.
        #[label("{label}")]
        at: Span,
        /// The band.
        band: String,
        /// Which wall.
        what: &'static str,
        /// The wall.
        wall: String,
        /// What bounds it.
        bound: &'static str,
        /// The limit.
        limit: String,
        /// Where it is thin.
        label: String,
        /// What would keep the limit.
        help: String,
    },
}

// What would just fit is offered in words: which length gives way is for the maker to say.
impl Problem for MetalError {}
