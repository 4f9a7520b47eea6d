//! What the commands take that go over many numbers.

use std::num::NonZeroUsize;

use clap::Args;
use clap_complete::engine::ArgValueCompleter;

use super::digits::HowMany;
use super::drawing::Written;
use super::names::Recipes;
use super::output::Output;

#[derive(Debug, Args)]
pub(super) struct Sweep {
    /// What is varied, and the clauses after it
    #[arg(value_name = "FIELD VALUES", required = true)]
    pub words: Vec<String>,
    /// The recipe; `-` is standard input
    #[arg(long = "in", value_name = "FILE", add = ArgValueCompleter::new(Recipes))]
    pub file: Option<String>,
    /// Machine output: one JSON document
    #[arg(long, conflicts_with_all = ["csv", "lines"])]
    pub json: bool,
    /// The rows as CSV, as they come
    #[arg(long, conflicts_with_all = ["lines", "plotted"])]
    pub csv: bool,
    /// The rows as JSON lines, as they come
    #[arg(long, conflicts_with = "plotted")]
    pub lines: bool,
    /// How many rows are computed at once
    #[arg(long, value_name = "N")]
    pub jobs: Option<NonZeroUsize>,
    #[command(flatten)]
    pub plot: PlotFile,
    #[command(flatten)]
    pub digits: HowMany,
}

#[derive(Debug, Args)]
pub(super) struct Choose {
    #[command(flatten)]
    pub seek: Seek,
    #[command(flatten)]
    pub plot: PlotFile,
}

/// The file that a plot goes to, beside what is written anyway.
#[derive(Debug, Args)]
pub(super) struct PlotFile {
    /// Draw the plot into this file too, as SVG
    #[arg(long = "plot", value_name = "FILE.svg")]
    pub plotted: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct Seek {
    /// What is sought, and the clauses after it
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

impl PlotFile {
    pub fn is_wanted(&self) -> bool {
        self.plotted.is_some()
    }

    /// Whether a plot can be written there.
    ///
    /// # Errors
    /// What to say where it cannot.
    pub fn check(&self) -> Result<(), String> {
        match &self.plotted {
            Some(_) => Written::to(&self.plotted).form(None, &[(".svg", ())], ()),
            None => Ok(()),
        }
    }

    /// Writes a plot there, where one is wanted.
    ///
    /// # Errors
    /// What to say where there is none, or it cannot be written.
    pub fn write(
        &self,
        drawn: impl FnOnce() -> Option<String>,
        lacks: &str,
        output: &mut Output,
    ) -> Result<(), String> {
        if self.plotted.is_none() {
            return Ok(());
        }
        let drawn = drawn().ok_or_else(|| lacks.to_owned())?;
        Written::to(&self.plotted).write(&drawn, output)
    }
}
