//! The one definition of the command line's words.

use std::process::ExitCode;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::report::Digits;

/// What the program is told.
#[derive(Debug, Parser)]
#[command(
    name = "annulet",
    version,
    about = "Finger-ring bands before the metal is cut: weight, cost, stretch and fineness from a written recipe",
    after_help = "Example:\n  annulet eval examples/harvest.annulet\n\nExit status: 0 all well; 1 sound, but a limit falls short; 2 the recipe, a file or the call is wrong; 130 interrupted.",
    disable_help_subcommand = true
)]
pub(super) struct Arguments {
    #[command(subcommand)]
    pub command: Option<Command>,
    #[command(flatten)]
    pub common: Common,
}

/// What every command takes.
#[derive(Debug, Args)]
pub(super) struct Common {
    /// Lay a value over the recipe, as if it stood there
    #[arg(long = "set", value_name = "PATH=VALUE", global = true)]
    pub sets: Vec<String>,
    /// The band that paths without a band's name mean
    #[arg(long, value_name = "NAME", global = true)]
    pub band: Option<String>,
    /// The day that ages count to (never today by itself)
    #[arg(long, value_name = "DATE", global = true)]
    pub on: Option<String>,
    /// Print mistakes only: no notes, no limits
    #[arg(long, short, global = true)]
    pub quiet: bool,
    /// How many recipes are evaluated at once
    #[arg(long, value_name = "N", global = true)]
    pub jobs: Option<usize>,
    /// End at the first recipe that is wrong
    #[arg(long, global = true)]
    pub stop: bool,
    /// Colour: auto (on a terminal), always, never
    #[arg(
        long,
        value_name = "WHEN",
        default_value = "auto",
        global = true,
        hide_possible_values = true
    )]
    pub color: When,
}

/// When to use colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum When {
    Auto,
    Always,
    Never,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// The interactive bench: what-ifs at a prompt, or lines from a pipe
    #[command(
        after_help = "Example:\n  annulet bench examples/workshop-pair.annulet\n  echo \"try width 5 mm\" | annulet bench examples/harvest.annulet\n\n`annulet` alone does the same without a recipe. Earlier lines are kept in the file that ANNULET_HISTORY names; `off` keeps none."
    )]
    Bench(Bench),
    /// Report of each band: sizes, dimensions, weights, limits, cautions
    #[command(
        after_help = "Example:\n  annulet eval examples/harvest.annulet --set \"width=5 mm\"\n\n`-` reads standard input; without a file: piped input, else the one *.annulet file of this folder."
    )]
    Eval(Eval),
    /// Mistakes and limits; prints nothing where all holds
    #[command(after_help = "Example:\n  annulet check examples/*.annulet && echo sound")]
    Check(Check),
    /// Just the results asked for, one a line
    #[command(
        after_help = "Example:\n  annulet ask weight \"strip.length in in\" --in examples/harvest.annulet\n\n`annulet list results` and `annulet list fields` show all paths."
    )]
    Ask(Ask),
    /// Bands side by side, differences first; `solid` is the solid band of the same look
    #[command(
        after_help = "Example:\n  annulet compare millstone millstone-light --in examples/workshop-pair.annulet\n  annulet compare millstone-light solid --in examples/workshop-pair.annulet --csv"
    )]
    Compare(Compare),
    /// What the program knows: alloys, fields, profiles, results, schema, sizes, units
    #[command(after_help = "Example:\n  annulet list alloys yellow-750")]
    List(List),
    /// Orders as they are handed to the customer: rings, price, old metal, deposit, until when
    #[command(after_help = "Example:\n  annulet offer fair --in examples/market-day.annulet")]
    Offer(Offer),
    /// One band over many sizes: weight, strip, cost, price and limits of each
    #[command(
        after_help = "Example:\n  annulet run harvest-light --sizes \"ISO 48 .. ISO 62 by 2\" --in examples/market-day.annulet\n\nSizes are a range, a list (\"[US 6, US 7 1/2]\") or inside diameters (\"16 mm .. 20 mm by 0.5 mm\")."
    )]
    Run(Run),
    /// Where a value comes from: formula and inputs, or every place that set it
    #[command(
        after_help = "Example:\n  annulet why weight --in examples/harvest.annulet\n  annulet why width --depth 0"
    )]
    Why(Why),
}

#[derive(Debug, Default, Args)]
pub(super) struct Bench {
    /// The recipe; on a terminal a new one where there is no such file
    #[arg(value_name = "FILE")]
    pub file: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct Eval {
    /// Recipes, or folders of them; `-` is standard input
    #[arg(value_name = "FILE")]
    pub files: Vec<String>,
    /// Machine output: one JSON object
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// A table with one line a band
    #[arg(long)]
    pub csv: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Offer {
    /// The order; all, where none is named
    #[arg(value_name = "ORDER")]
    pub order: Option<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE")]
    pub file: Option<String>,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Run {
    /// The band; the only one, where there is but one
    #[arg(value_name = "BAND")]
    pub band_name: Option<String>,
    /// The sizes, in any system
    #[arg(long, value_name = "SIZES")]
    pub sizes: String,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE")]
    pub file: Option<String>,
    /// Machine output: one JSON object
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// The table as CSV
    #[arg(long)]
    pub csv: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Why {
    /// A field or a result
    #[arg(value_name = "PATH")]
    pub path: String,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE")]
    pub file: Option<String>,
    /// How many levels of inputs are shown
    #[arg(long, value_name = "N", default_value_t = 9)]
    pub depth: usize,
    /// The tree as JSON
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Compare {
    /// Bands by their names, and `solid`
    #[arg(value_name = "BAND")]
    pub bands: Vec<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE")]
    pub file: Option<String>,
    /// Machine output: one JSON object
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// A table with one line a path and one column a band
    #[arg(long)]
    pub csv: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Check {
    /// Recipes, or folders of them; `-` is standard input
    #[arg(value_name = "FILE")]
    pub files: Vec<String>,
    /// Findings as one JSON object
    #[arg(long)]
    pub json: bool,
    /// Print every requirement with its margin, those that hold too
    #[arg(long)]
    pub held: bool,
}

#[derive(Debug, Args)]
pub(super) struct Ask {
    /// Paths or expressions
    #[arg(value_name = "PATH", required = true)]
    pub questions: Vec<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE")]
    pub file: Option<String>,
    /// The bare number, all digits
    #[arg(long)]
    pub plain: bool,
    /// Answers as one JSON object
    #[arg(long, conflicts_with = "plain")]
    pub json: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct List {
    /// alloys, fields, profiles, results, schema, sizes or units
    pub what: String,
    /// One row of it, shown whole
    pub name: Option<String>,
}

/// How many digits are shown, for every command that prints numbers.
#[derive(Clone, Copy, Debug, Args)]
pub(super) struct HowMany {
    /// Digits shown: useful or all
    #[arg(
        long,
        value_name = "HOW",
        default_value = "useful",
        hide_possible_values = true
    )]
    pub digits: Shown,
}

impl From<HowMany> for Digits {
    fn from(how: HowMany) -> Self {
        how.digits.into()
    }
}

/// How many digits are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Shown {
    Useful,
    All,
}

impl From<Shown> for Digits {
    fn from(shown: Shown) -> Self {
        match shown {
            Shown::Useful => Self::Useful,
            Shown::All => Self::All,
        }
    }
}

/// Help and version go to standard output with status 0, a wrong call to standard error with status 2.
pub(super) fn refuse(error: &clap::Error) -> ExitCode {
    let status = u8::from(error.use_stderr()) * 2;
    // A closed pipe is no reason to complain about a complaint.
    let _ = error.print();
    ExitCode::from(status)
}
