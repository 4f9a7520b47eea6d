//! What can be wrong with the shape of a recipe.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::{Problem, Repair};
use crate::source::Span;

/// Problems of shape; meaning is not looked at yet.
#[derive(Debug, Error, Diagnostic)]
pub enum SyntaxError {
    /// A line that fits none of the shapes.
    #[error("this line cannot be read from here")]
    #[diagnostic(code(syntax::unreadable), help("{help}"))]
    Unreadable {
        /// Where it stops to fit.
        #[label("expected {expected}")]
        at: Span,
        /// What could have stood there.
        expected: String,
        /// What a line looks like.
        help: String,
    },
    /// A comma between two digits.
    #[error("a comma between digits can be read in two ways")]
    #[diagnostic(code(syntax::decimal_comma), help("{help}"))]
    DecimalComma {
        /// The comma.
        #[label("decimal mark or separator?")]
        at: Span,
        /// The readings.
        help: String,
    },
    /// A day that begins with its day, or is written in fewer digits.
    #[error("a day is not written as `{written}` here")]
    #[diagnostic(code(syntax::day_first), help("{help}"))]
    DayFirst {
        /// The day.
        #[label("year, month and day")]
        at: Span,
        /// The text.
        written: String,
        /// The day, year first.
        help: String,
    },
    /// Text without its quotation marks.
    #[error("the name of a file stands between quotation marks")]
    #[diagnostic(code(syntax::unquoted), help("{help}"))]
    Unquoted {
        /// The text.
        #[label("without them")]
        at: Span,
        /// The same with them.
        help: String,
    },
    /// An operator that lacks a space.
    #[error("`{operator}` needs a space on both sides")]
    #[diagnostic(code(syntax::tight_operator), help("{help}"))]
    TightOperator {
        /// The operator with its neighbours.
        #[label("{label}")]
        at: Span,
        /// The operator.
        operator: String,
        /// What its lack means.
        label: &'static str,
        /// The readings.
        help: String,
    },
    /// `==`.
    #[error("`==` is not an operator")]
    #[diagnostic(
        code(syntax::double_equal),
        help("write one `=`, with a space on both sides")
    )]
    DoubleEqual {
        /// Both signs.
        #[label("one is enough")]
        at: Span,
    },
    /// `+-`.
    #[error("`+-` is not an operator")]
    #[diagnostic(
        code(syntax::plus_minus),
        help("a tolerance is written `\u{B1}` or `+/-`, as in `2 mm \u{B1} 0.1 mm`")
    )]
    PlusMinus {
        /// Both signs.
        #[label("a tolerance?")]
        at: Span,
    },
    /// `=>` or `=<`.
    #[error("`{written}` is not a comparison")]
    #[diagnostic(code(syntax::turned_sign), help("write `{instead}`"))]
    TurnedSign {
        /// Both signs.
        #[label("turned round")]
        at: Span,
        /// They.
        written: String,
        /// They the other way round.
        instead: &'static str,
    },
    /// `1 / 2 mm`.
    #[error("a number divided by a quantity can be read in two ways")]
    #[diagnostic(
        code(syntax::two_readings),
        help("write `{first}`, or `{second}` if you mean that")
    )]
    TwoReadings {
        /// The quotient.
        #[label("which is divided?")]
        at: Span,
        /// The quotient taken first.
        first: String,
        /// The quantity taken first.
        second: String,
    },
    /// A character that the language has no use for.
    #[error("the character {shown} (U+{code:04X}) is not part of the language")]
    #[diagnostic(code(syntax::character), help("{help}"))]
    Character {
        /// The character.
        #[label("here")]
        at: Span,
        /// The character in quotes, or its name when it cannot be shown.
        shown: String,
        /// Its code point.
        code: u32,
        /// What to write instead.
        help: String,
        /// The text to put there, when it cannot be wrong.
        instead: Option<&'static str>,
    },
    /// A number that starts or ends with its point, or carries an exponent.
    #[error("`{written}` is not written as a number here")]
    #[diagnostic(code(syntax::number), help("write `{instead}`"))]
    Number {
        /// The number.
        #[label("{why}")]
        at: Span,
        /// The text.
        written: String,
        /// What is missing or too much.
        why: &'static str,
        /// The same number as the language writes it.
        instead: String,
        /// No other number can be meant.
        certain: bool,
    },
    /// More digits than an exact decimal holds.
    #[error("this number has more digits than can be kept exactly")]
    #[diagnostic(
        code(syntax::digits),
        help("at most 28 digits are kept; no workshop measures more than 9")
    )]
    Digits {
        /// The number.
        #[label("too long")]
        at: Span,
    },
    /// A fraction over zero.
    #[error("a fraction over zero has no value")]
    #[diagnostic(code(syntax::fraction), help("write a denominator of 2, 4 or 8"))]
    FractionOverZero {
        /// The fraction.
        #[label("divided by zero")]
        at: Span,
    },
    /// `width = 5 mm` or `width: 5 mm`.
    #[error("a field takes no `{mark}`")]
    #[diagnostic(
        code(syntax::mark),
        help("write `{instead}`; `=` gives a value to a name of your own, after `let`")
    )]
    FieldMark {
        /// The mark.
        #[label("leave it out")]
        at: Span,
        /// The mark as written.
        mark: char,
        /// The line without it.
        instead: String,
    },
    /// A backslash before what it does not change.
    #[error("a backslash before `{behind}` has no meaning in a text")]
    #[diagnostic(
        code(syntax::escape),
        help(
            "write `\\\\` for a backslash, `\\\"` for a quotation mark, and nothing else after one"
        )
    )]
    Escape {
        /// The backslash and what stands behind it.
        #[label("not read")]
        at: Span,
        /// What stands behind it.
        behind: char,
    },
    /// A step where a value stands: `width +1 mm`, or `width + 1 mm` in a file.
    #[error("{message}")]
    #[diagnostic(code(syntax::step), help("{help}"))]
    Step {
        /// The sign and what stands behind it.
        #[label("no value")]
        at: Span,
        /// What is wrong with it.
        message: String,
        /// How it is written.
        help: String,
    },
    /// A quotation mark without its partner.
    #[error("this text is not closed")]
    #[diagnostic(code(syntax::open_text), help("end it with `\"` on the same line"))]
    OpenText {
        /// The opening mark.
        #[label("opened here")]
        at: Span,
    },
    /// A bracket without its partner.
    #[error("this bracket is not closed")]
    #[diagnostic(code(syntax::open_bracket), help("close it with `{close}`"))]
    OpenBracket {
        /// The opening bracket.
        #[label("opened here")]
        at: Span,
        /// The bracket that is missing.
        close: char,
    },
    /// A block without its closing brace.
    #[error("the block `{header}` is not closed")]
    #[diagnostic(
        code(syntax::open_block),
        help("add a `}}` before the place where the block must have ended")
    )]
    OpenBlock {
        /// The opening brace.
        #[label("opened here")]
        open: Span,
        /// Where it must have ended at the latest.
        #[label("it must have ended before this")]
        ended: Span,
        /// The block's header.
        header: String,
    },
    /// A closing brace too many.
    #[error("this `}}` closes nothing")]
    #[diagnostic(
        code(syntax::stray_brace),
        help("remove it, or open a block on its header's line")
    )]
    StrayBrace {
        /// The brace.
        #[label("no block is open here")]
        at: Span,
    },
    /// A block without its opening brace.
    #[error("the block of `{header}` is not opened")]
    #[diagnostic(
        code(syntax::missing_brace),
        help("put a `{{` at the end of its header's line")
    )]
    MissingBrace {
        /// The end of the header.
        #[label("a `{{` goes here")]
        at: Span,
        /// The block's header.
        header: String,
    },
    /// `{` on a line of its own.
    #[error("a `{{` stands on the line of its header")]
    #[diagnostic(code(syntax::lone_brace), help("{help}"))]
    LoneBrace {
        /// The brace.
        #[label("it opens nothing here")]
        at: Span,
        /// Where it belongs.
        help: &'static str,
    },
    /// Deeper than any band needs.
    #[error("brackets or blocks stand more than {limit} deep in each other here")]
    #[diagnostic(
        code(syntax::too_deep),
        help("a recipe needs no more than five; nothing after this was read")
    )]
    TooDeep {
        /// The bracket that is too much.
        #[label("one too many")]
        at: Span,
        /// The greatest depth.
        limit: usize,
    },
    /// An expression of more operators, or deeper, than any recipe needs.
    #[error("this expression is too long to be read as one")]
    #[diagnostic(
        code(syntax::too_long),
        help(
            "give its parts names of their own, as in `let a = …`, at most {limit} operators each"
        )
    )]
    TooLong {
        /// The expression.
        #[label("too long")]
        at: Span,
        /// The most operators.
        limit: usize,
    },
    /// More text than a recipe can hold.
    #[error("this recipe holds {bytes} bytes; at most {limit} are read")]
    #[diagnostic(
        code(syntax::too_large),
        help("split it, and take the parts together with `use`")
    )]
    TooLarge {
        /// The start of the source.
        #[label("nothing was read")]
        at: Span,
        /// Its size.
        bytes: usize,
        /// The limit.
        limit: usize,
    },
}

impl Problem for SyntaxError {
    fn repair(&self) -> Option<Repair> {
        match self {
            Self::Character {
                at,
                instead: Some(instead),
                ..
            } => Some(Repair {
                span: *at,
                text: (*instead).to_owned(),
            }),
            Self::Number {
                at,
                instead,
                certain: true,
                ..
            } => Some(Repair {
                span: *at,
                text: instead.clone(),
            }),
            Self::PlusMinus { at } => Some(Repair {
                span: *at,
                text: "\u{B1}".to_owned(),
            }),
            // Which of several braces is too many or missing is for the maker to say, as is what a mark meant.
            Self::OpenText { .. }
            | Self::Number { certain: false, .. }
            | Self::Escape { .. }
            | Self::Step { .. }
            | Self::StrayBrace { .. }
            | Self::MissingBrace { .. }
            | Self::Unreadable { .. }
            | Self::DecimalComma { .. }
            | Self::DayFirst { .. }
            | Self::Unquoted { .. }
            | Self::TightOperator { .. }
            | Self::DoubleEqual { .. }
            | Self::TurnedSign { .. }
            | Self::TwoReadings { .. }
            | Self::Character { instead: None, .. }
            | Self::Digits { .. }
            | Self::FractionOverZero { .. }
            | Self::FieldMark { .. }
            | Self::OpenBracket { .. }
            | Self::OpenBlock { .. }
            | Self::LoneBrace { .. }
            | Self::TooDeep { .. }
            | Self::TooLong { .. }
            | Self::TooLarge { .. } => None,
        }
    }
}
