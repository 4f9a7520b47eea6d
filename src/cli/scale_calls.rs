//! What the commands about what may be off, and about the scale, take.

use clap::Args;
use clap_complete::engine::ArgValueCompleter;

use super::digits::HowMany;
use super::names::{Names, Recipes};

#[derive(Debug, Args)]
pub(super) struct Gauge {
    /// What was read of the ring, as in `weight 3.52 g, width 5 mm`
    #[arg(value_name = "READINGS")]
    pub readings: Vec<String>,
    /// A file of readings, one a line; `-` is standard input
    #[arg(long = "in", value_name = "FILE")]
    pub file: Option<String>,
    /// Machine output: one JSON document
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub(super) struct Settle {
    /// A field of the band, or the density of an alloy
    #[arg(value_name = "PATH", required = true, add = ArgValueCompleter::new(Names::Paths))]
    pub path: Vec<String>,
    /// The reading that settles it, where there are several
    #[arg(long, value_name = "READING")]
    pub by: Option<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// Machine output: one JSON document
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub(super) struct Sure {
    /// The recipe; `-` is standard input
    #[arg(value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// The same, as other commands over one recipe take it
    #[arg(long = "in", value_name = "FILE", conflicts_with = "file", add = ArgValueCompleter::new(Recipes))]
    pub recipe: Option<String>,
    /// Machine output: one JSON document
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Tally {
    /// The weighings, as CSV
    #[arg(value_name = "CSV")]
    pub readings: String,
    /// The column of the weight, where it is not called `weight`
    #[arg(long, value_name = "NAME")]
    pub column: Option<String>,
    /// The least that a ring may weigh
    #[arg(long, value_name = "WEIGHT")]
    pub least: Option<String>,
    /// The most
    #[arg(long, value_name = "WEIGHT")]
    pub most: Option<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// Machine output: one JSON document
    #[arg(long)]
    pub json: bool,
}
