//! What can be wrong with used files and with what is required.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::source::Span;

/// Problems of a whole recipe with the files around it, and requirements that do not hold.
#[derive(Debug, Error, Diagnostic)]
pub enum SessionError {
    /// A used file that cannot be read.
    #[error("{message}")]
    #[diagnostic(code(session::unread_file), help("{help}"))]
    UnreadFile {
        /// The path in the recipe.
        #[label("used here")]
        at: Span,
        /// Why.
        message: String,
        /// What to do.
        help: String,
    },
    /// A file that uses itself.
    #[error("these files use each other in a circle: {chain}")]
    #[diagnostic(
        code(session::circle),
        help("move what they share into a file of its own")
    )]
    Circle {
        /// The `use` that closes it.
        #[label("used again here")]
        at: Span,
        /// The files, in order.
        chain: String,
    },
    /// More files than a recipe needs.
    #[error("more than {limit} files are used")]
    #[diagnostic(
        code(session::too_many_files),
        help("put what belongs together into one file")
    )]
    TooManyFiles {
        /// The `use` that is too much.
        #[label("not read")]
        at: Span,
        /// The limit.
        limit: usize,
    },
    /// A result that rests on something that the recipe does not state.
    #[error("`{name}` is not given: no {what} is stated")]
    #[diagnostic(code(session::not_given), help("{help}"))]
    NotGiven {
        /// The path.
        #[label("not given")]
        at: Span,
        /// The path with its band.
        name: String,
        /// What is missing.
        what: String,
        /// The line to write.
        help: String,
    },
    /// A figure of a rulebook that gives no verdict.
    #[error("`{name}` is not given: {verdict}")]
    #[diagnostic(
        code(session::not_given),
        help(
            "`annulet list rules {book}` shows what was read; ask the assay office, which decides"
        )
    )]
    NoFigure {
        /// The path.
        #[label("not given")]
        at: Span,
        /// The path with its band.
        name: String,
        /// The rulebook.
        book: String,
        /// That there is no verdict, and why.
        verdict: String,
    },
    /// A requirement that does not hold.
    #[error("{what} does not hold: {found}")]
    #[diagnostic(code(session::broken), severity(warning), help("{help}"))]
    Broken {
        /// The comparison.
        #[label("{margin}")]
        at: Span,
        /// Its title, or its text.
        what: String,
        /// Both sides.
        found: String,
        /// By how much.
        margin: String,
        /// What to do.
        help: String,
    },
    /// A requirement that compares nothing.
    #[error("a requirement compares two values")]
    #[diagnostic(
        code(session::no_comparison),
        help("as in `require harvest.weight <= 2.9 g`; comparisons are <=, >=, <, >, = and !=")
    )]
    NoComparison {
        /// What stands there instead.
        #[label("no comparison")]
        at: Span,
    },
    /// A step from a value that is not there.
    #[error("`{name}` has no value to step from")]
    #[diagnostic(
        code(session::nothing_to_step_from),
        help("give it a value first, as in `{example}`")
    )]
    NothingToStepFrom {
        /// The path.
        #[label("{label}")]
        at: Span,
        /// The path with its band.
        name: String,
        /// Why there is none.
        label: &'static str,
        /// What would give it one.
        example: String,
    },
    /// A result that a line would set.
    #[error("`{name}` is worked out, not set")]
    #[diagnostic(code(session::worked_out), help("{help}"))]
    WorkedOut {
        /// The path.
        #[label("a result")]
        at: Span,
        /// The result.
        name: String,
        /// What can be changed instead.
        help: String,
    },
    /// A block without the field of it that a line would set.
    #[error("`{name}` is a block; one of its fields is due")]
    #[diagnostic(code(session::field_due), help("as in `{example}`"))]
    FieldDue {
        /// The path.
        #[label("a whole block")]
        at: Span,
        /// The block.
        name: String,
        /// A field of it with its value.
        example: String,
    },
    /// A built-in alloy that a line would change.
    #[error("`{name}` is built in, and no recipe changes it")]
    #[diagnostic(
        code(session::built_in),
        help("`alloy {name} {{ \u{2026} }}` of your own would stand in its place")
    )]
    BuiltIn {
        /// The name.
        #[label("a built-in alloy")]
        at: Span,
        /// The alloy.
        name: String,
    },
    /// Something that is defined in a used file, and so cannot be changed in this one.
    #[error("`{name}` is defined in a file that the recipe uses")]
    #[diagnostic(code(session::written_elsewhere), help("{help}"))]
    WrittenElsewhere {
        /// The path.
        #[label("not of this file")]
        at: Span,
        /// The band or the block.
        name: String,
        /// What to do.
        help: String,
    },
}

impl Problem for SessionError {}
