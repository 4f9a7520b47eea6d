//! What the commands for the machine take: the strip with its cuts, and contour points.

use clap::{Args, ValueEnum};
use clap_complete::engine::ArgValueCompleter;

use super::digits::HowMany;
use super::names::{Names, Recipes};

#[derive(Debug, Args)]
pub(super) struct Strip {
    /// The band; the only one, where there is but one
    #[arg(value_name = "BAND", add = ArgValueCompleter::new(Names::Bands))]
    pub band_name: Option<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// A drawing in SVG, to be looked at and printed in true scale
    #[arg(long, conflicts_with_all = ["dxf", "text"])]
    pub svg: bool,
    /// A drawing in DXF R12, for a machine's program
    #[arg(long, conflicts_with = "text")]
    pub dxf: bool,
    /// A shaded picture in characters
    #[arg(long)]
    pub text: bool,
    /// Where it is written; default: standard output
    #[arg(long, value_name = "FILE")]
    pub out: Option<String>,
    /// As it is when finished, where it is cut before a stretch
    #[arg(long)]
    pub finished: bool,
}

#[derive(Debug, Args)]
pub(super) struct Contour {
    /// The band; the only one, where there is but one
    #[arg(value_name = "BAND", add = ArgValueCompleter::new(Names::Bands))]
    pub band_name: Option<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// The part; all, where none is named
    #[arg(long, value_name = "PART")]
    pub part: Option<ContourPart>,
    /// When
    #[arg(long, value_name = "STATE", default_value = "machined")]
    pub state: ContourState,
    /// Step along the axis
    #[arg(long, value_name = "LENGTH", default_value = "0.05 mm")]
    pub step: String,
    /// Radius of the tool's round nose
    #[arg(long, value_name = "LENGTH")]
    pub nose: Option<String>,
    /// Machine output: one JSON object
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// The points as CSV
    #[arg(long)]
    pub csv: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

/// A part whose contour is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum ContourPart {
    Band,
    Shell,
    Sleeve,
}

/// The state whose contour is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum ContourState {
    Machined,
    Finished,
}
