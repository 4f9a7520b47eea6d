//! Options of how findings are shown.

use clap::{Args, ValueEnum};

/// How findings are shown.
#[derive(Clone, Debug, Default, Args)]
pub(super) struct Look {
    /// Print mistakes only: no notes, no limits
    #[arg(long, short)]
    pub quiet: bool,
    /// Colour: auto (on a terminal), always, never
    #[arg(long, value_name = "WHEN", hide_possible_values = true)]
    pub color: Option<When>,
    /// Findings drawn, or a line each: `file:line:column: severity code: text`
    #[arg(long, value_name = "HOW", hide_possible_values = true)]
    pub findings: Option<Told>,
}

/// How findings are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Told {
    Drawn,
    Line,
}

/// When to use colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum When {
    Auto,
    Always,
    Never,
}
