//! What the commands take that go over many numbers.

use std::num::NonZeroUsize;

use clap::Args;
use clap_complete::engine::ArgValueCompleter;

use super::digits::HowMany;
use super::names::Recipes;

#[derive(Debug, Args)]
pub(super) struct Sweep {
    /// What is varied, and the clauses behind it
    #[arg(value_name = "FIELD VALUES", required = true)]
    pub words: Vec<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// Machine output: one JSON document
    #[arg(long, conflicts_with_all = ["csv", "lines"])]
    pub json: bool,
    /// The rows as CSV, as they come
    #[arg(long, conflicts_with = "lines")]
    pub csv: bool,
    /// The rows as JSON lines, as they come
    #[arg(long)]
    pub lines: bool,
    /// How many rows are computed at once
    #[arg(long, value_name = "N")]
    pub jobs: Option<NonZeroUsize>,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Seek {
    /// What is sought, and the clauses behind it
    #[arg(value_name = "FIELD VALUES", required = true)]
    pub words: Vec<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// Machine output: one JSON document
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub digits: HowMany,
}

/// How rows are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum RowForm {
    Table,
    Csv,
    Lines,
}

impl Sweep {
    /// How its rows are written.
    pub fn form(&self) -> RowForm {
        match (self.csv, self.lines) {
            (true, _) => RowForm::Csv,
            (_, true) => RowForm::Lines,
            _ => RowForm::Table,
        }
    }
}
