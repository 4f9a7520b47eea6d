//! What can be wrong with the meaning of a recipe.

use miette::Diagnostic;
use thiserror::Error;

use crate::source::Span;

/// The kind of a name that is there and has no value as things stand.
pub const NO_VALUE: &str = "the value of";

/// Problems of meaning.
#[derive(Debug, Error, Diagnostic)]
pub enum ModelError {
    /// A word that begins nothing at the top level.
    #[error("a recipe has no `{word}`")]
    #[diagnostic(code(model::unknown_block), help("{help}"))]
    UnknownBlock {
        /// The word.
        #[label("not known here")]
        at: Span,
        /// The word.
        word: String,
        /// The nearest, or all.
        help: String,
        /// The nearest.
        nearest: Option<String>,
    },
    /// Values without the word of what they are said of.
    #[error("this line does not start with a field")]
    #[diagnostic(
        code(model::no_word),
        help("begin the line with a field, as in `width 4.5 mm`")
    )]
    NoWord {
        /// The values.
        #[label("which field?")]
        at: Span,
    },
    /// A word that is no field where it stands.
    #[error("`{holder}` has no field `{word}`")]
    #[diagnostic(code(model::unknown_field), help("{help}"))]
    UnknownField {
        /// The word.
        #[label("not a field here")]
        at: Span,
        /// The word.
        word: String,
        /// The block around it.
        holder: String,
        /// The nearest, or all.
        help: String,
        /// The nearest.
        nearest: Option<String>,
    },
    /// A word that is no unit, or none of the dimension due.
    #[error("`{word}` is not a unit")]
    #[diagnostic(code(model::unknown_unit), help("{help}"))]
    UnknownUnit {
        /// The unit.
        #[label("not a unit")]
        at: Span,
        /// The unit.
        word: String,
        /// The nearest, or all.
        help: String,
        /// The nearest.
        nearest: Option<String>,
    },
    /// A unit that means two things, or the wrong one.
    #[error("{message}")]
    #[diagnostic(code(model::ambiguous_unit), help("{help}"))]
    AmbiguousUnit {
        /// The unit.
        #[label("which is meant?")]
        at: Span,
        /// What is unclear.
        message: String,
        /// What to write instead.
        help: String,
    },
    /// A name that nothing carries.
    #[error("{kind} `{name}` is not known")]
    #[diagnostic(code(model::unknown_name), help("{help}"))]
    UnknownName {
        /// The name.
        #[label("not known")]
        at: Span,
        /// The name.
        name: String,
        /// What was looked for.
        kind: &'static str,
        /// The nearest, or what to do.
        help: String,
        /// The nearest.
        nearest: Option<String>,
    },
    /// A name that is given to two things.
    #[error("`{name}` means two things: {meanings}")]
    #[diagnostic(code(model::two_meanings), help("{help}"))]
    TwoMeanings {
        /// The name.
        #[label("which one?")]
        at: Span,
        /// Where the other is given.
        #[label("given here too")]
        other: Option<Span>,
        /// The name.
        name: String,
        /// Both.
        meanings: String,
        /// What to write.
        help: String,
    },
    /// A short path that could be several fields.
    #[error("`{name}` could be any of several")]
    #[diagnostic(code(model::ambiguous_name), help("write one of {choices}"))]
    AmbiguousName {
        /// The name.
        #[label("which one?")]
        at: Span,
        /// The name.
        name: String,
        /// The full paths.
        choices: String,
    },
    /// A bare number where a quantity is due.
    #[error("`{field}` takes {due}, and this number has no unit")]
    #[diagnostic(code(model::unit_missing), help("write a unit after it: {units}"))]
    UnitMissing {
        /// The number.
        #[label("no unit")]
        at: Span,
        /// The field.
        field: String,
        /// What is due.
        due: String,
        /// Units that would do.
        units: String,
    },
    /// A bare number where a share is due.
    #[error("{message}")]
    #[diagnostic(code(model::bare_share), help("{help}"))]
    BareShare {
        /// The number.
        #[label("without `%` or `\u{2030}`")]
        at: Span,
        /// What wants a share, and both readings.
        message: String,
        /// What to write.
        help: String,
    },
    /// A value of another kind than is due.
    #[error("`{field}` takes {due}, not {found}")]
    #[diagnostic(code(model::wrong_kind), help("{help}"))]
    WrongKind {
        /// The value.
        #[label("{found}")]
        at: Span,
        /// The field.
        field: String,
        /// What is due.
        due: String,
        /// What stands there.
        found: String,
        /// What to write.
        help: String,
    },
    /// Two quantities that do not go together.
    #[error("{left_kind} and {right_kind} do not go together with `{operator}`")]
    #[diagnostic(code(model::mixed_kinds), help("{help}"))]
    MixedKinds {
        /// Left.
        #[label("{left_kind}")]
        left: Span,
        /// Operator.
        #[label("joined here")]
        between: Span,
        /// Right.
        #[label("{right_kind}")]
        right: Span,
        /// Kind of the left.
        left_kind: String,
        /// Kind of the right.
        right_kind: String,
        /// The operator.
        operator: &'static str,
        /// What to do.
        help: String,
    },
    /// An operation without a result.
    #[error("{message}")]
    #[diagnostic(code(model::no_result), help("{help}"))]
    NoResult {
        /// The operation.
        #[label("here")]
        at: Span,
        /// Why.
        message: &'static str,
        /// What to do.
        help: &'static str,
    },
    /// The same thing said twice.
    #[error("`{name}` is given twice")]
    #[diagnostic(code(model::given_twice), help("keep one of the two"))]
    GivenTwice {
        /// The second place.
        #[label("again here")]
        again: Span,
        /// The first place.
        #[label("given here first")]
        first: Span,
        /// What is given.
        name: String,
    },
    /// Fields without which nothing can be computed.
    #[error("band `{band}` lacks {fields}")]
    #[diagnostic(code(model::missing_field), help("{help}"))]
    MissingField {
        /// The band's header.
        #[label("in this band")]
        at: Span,
        /// The band.
        band: String,
        /// What is missing.
        fields: String,
        /// Lines to add.
        help: String,
    },
    /// Fields that a block of the top level cannot do without.
    #[error("{what} lacks {fields}")]
    #[diagnostic(code(model::lacks), help("{help}"))]
    Lacks {
        /// The block.
        #[label("here")]
        at: Span,
        /// The block.
        what: String,
        /// What is missing.
        fields: String,
        /// Lines to add.
        help: String,
    },
    /// A price or a rate of no day.
    #[error("the {what} has no date")]
    #[diagnostic(
        code(model::undated),
        help("add `dated 2026-11-25`, with its own day, to the block `prices` or to this price")
    )]
    Undated {
        /// The price.
        #[label("no date")]
        at: Span,
        /// What it is.
        what: String,
    },
    /// Two currencies without a rate.
    #[error("there is no rate between {from} and {to}, so they cannot be added up")]
    #[diagnostic(
        code(model::no_rate),
        help(
            "state one in `prices`, as in `rate 1 {from} = 0.92 {to}` with the figure of the day, or write this amount in {to}"
        )
    )]
    NoRate {
        /// The amount.
        #[label("in {from}; all is counted in {to}")]
        at: Span,
        /// Its currency.
        from: String,
        /// The currency that all is counted in.
        to: String,
    },
    /// Two rates between the same currencies that do not say the same.
    #[error("{message}")]
    #[diagnostic(code(model::rates_contradict), help("keep the one that is right"))]
    RatesContradict {
        /// The rate.
        #[label("this rate")]
        at: Span,
        /// The one before it, or the first on the way through other currencies.
        #[label("against this")]
        first: Span,
        /// What both come to.
        message: String,
    },
    /// More or fewer values than a field takes.
    #[error("`{field}` takes {wanted}")]
    #[diagnostic(code(model::value_count), help("{help}"))]
    ValueCount {
        /// What is too much, or where something is missing.
        #[label("{label}")]
        at: Span,
        /// The field.
        field: String,
        /// What it takes.
        wanted: String,
        /// Too much, or missing.
        label: &'static str,
        /// What to write.
        help: String,
    },
    /// A bare number where a fineness is due that could be per cent, karats or parts per thousand.
    #[error("a fineness of {found} can be read in more than one way")]
    #[diagnostic(code(model::bare_fineness), help("{help}"))]
    BareFineness {
        /// The number.
        #[label("of what?")]
        at: Span,
        /// The number as written.
        found: String,
        /// The readings.
        help: String,
    },
    /// An assay far from what its alloy is mixed to hold.
    #[error("an assay of {figure} cannot belong to `{alloy}`, which holds {held} of {metal}")]
    #[diagnostic(
        code(model::assay_far),
        severity(warning),
        help("state the alloy that was assayed, or correct the figure: verdicts go by it")
    )]
    AssayFar {
        /// The assay.
        #[label("more than 20 per thousand off")]
        at: Span,
        /// Parts per thousand found.
        figure: String,
        /// The alloy.
        alloy: String,
        /// The precious metal that comes nearest.
        metal: String,
        /// What the alloy holds of it.
        held: String,
    },
    /// A value outside its range.
    #[error("`{field}` is {found}, and must be {range}")]
    #[diagnostic(code(model::out_of_range), help("{help}"))]
    OutOfRange {
        /// The value.
        #[label("out of range")]
        at: Span,
        /// The field.
        field: String,
        /// The value.
        found: String,
        /// What is allowed.
        range: String,
        /// What to write.
        help: String,
    },
    /// A composition that does not add up.
    #[error("the parts of `{alloy}` add up to {total} per thousand, not 1000")]
    #[diagnostic(code(model::composition), help("{help}"))]
    Composition {
        /// The alloy's name.
        #[label("{label}")]
        at: Span,
        /// The alloy.
        alloy: String,
        /// The sum.
        total: String,
        /// How much is missing or too much.
        label: String,
        /// What to do.
        help: String,
    },
    /// A size that cannot be read.
    #[error("{message}")]
    #[diagnostic(code(model::size), help("{help}"))]
    Size {
        /// The size, or its faulty part.
        #[label("{label}")]
        at: Span,
        /// What is wrong.
        message: String,
        /// In a word.
        label: &'static str,
        /// What to write.
        help: String,
        /// What that part must be, where it is beyond doubt.
        certain: Option<String>,
    },
    /// A custom outline that cannot be drawn.
    #[error("{message}")]
    #[diagnostic(code(model::outline), help("{help}"))]
    Outline {
        /// The run or point.
        #[label("here")]
        at: Span,
        /// What is wrong.
        message: String,
        /// What to write.
        help: String,
    },
    /// Two fields that exclude each other.
    #[error("{message}")]
    #[diagnostic(code(model::conflict), help("{help}"))]
    Conflict {
        /// The one that comes second.
        #[label("this")]
        second: Span,
        /// The one that comes first.
        #[label("and this")]
        first: Span,
        /// Why they do not go together.
        message: &'static str,
        /// What to do.
        help: &'static str,
    },
    /// A value that needs itself.
    #[error("`{name}` needs its own value: {chain}")]
    #[diagnostic(code(model::circle), help("{help}"))]
    Circle {
        /// Where the circle closes.
        #[label("asked for again here")]
        at: Span,
        /// The name.
        name: String,
        /// The way round.
        chain: String,
        /// What to do.
        help: String,
    },
    /// A value that rests on one that was refused already. It keeps everything that needs the value from
    /// being computed; a session does not show it beside the finding that says what is wrong.
    #[error("this value rests on one that could not be read")]
    #[diagnostic(code(model::unread), help("put right what was found there first"))]
    Unread {
        /// The value.
        #[label("not read")]
        at: Span,
    },
    /// An edition that this version does not know.
    #[error("this version reads edition 1 of the language")]
    #[diagnostic(code(model::edition), help("write `annulet 1`"))]
    Edition {
        /// What was written.
        #[label("another edition")]
        at: Span,
    },
    /// A date that no calendar has.
    #[error("there is no such day")]
    #[diagnostic(
        code(model::date),
        help("write year, month and day, as in `2026-11-25`")
    )]
    Date {
        /// The date.
        #[label("not in the calendar")]
        at: Span,
    },
    /// `without` something that is not there.
    #[error("there is no `{name}` to leave out")]
    #[diagnostic(code(model::nothing_to_leave_out), help("{help}"))]
    NothingToLeaveOut {
        /// The name.
        #[label("not there")]
        at: Span,
        /// The name.
        name: String,
        /// The nearest, or what can be left out.
        help: String,
    },
    /// A field that needs what is computed of its own band.
    #[error("`{name}` is worked out from this very band, so none of its fields can use it")]
    #[diagnostic(code(model::own_result), help("use another band's result, or fields"))]
    OwnResult {
        /// The name.
        #[label("worked out from this band")]
        at: Span,
        /// The name.
        name: String,
    },
    /// Nothing that could be evaluated.
    #[error("there is no band in `{source_name}`")]
    #[diagnostic(
        code(model::no_band),
        help("a band begins with `band NAME {{`; see `examples` for whole recipes")
    )]
    NoBand {
        /// The end of the source.
        #[label("the recipe ends here")]
        at: Span,
        /// The source.
        source_name: String,
    },
}
