//! Options that many commands take, in front of the command or behind it.

use std::num::NonZeroUsize;

use clap::Args;
use clap_complete::engine::ArgValueCompleter;

use super::look::Look;
use super::names::Names;

/// What stands in front of a command, or of the bench without one; a command takes those of these that it uses.
#[derive(Debug, Default, Args)]
pub(super) struct Common {
    #[command(flatten)]
    pub laid: Laid,
    #[command(flatten)]
    pub many: Many,
    #[command(flatten)]
    pub look: Look,
}

/// What is said of a recipe beside its text.
#[derive(Clone, Debug, Default, Args)]
pub(super) struct Laid {
    /// Lay a value over the recipe, as if it stood there
    #[arg(long = "set", value_name = "PATH=VALUE", add = ArgValueCompleter::new(Names::Settings))]
    pub sets: Vec<String>,
    /// The band that paths without a band's name mean
    #[arg(long, value_name = "NAME", add = ArgValueCompleter::new(Names::Bands))]
    pub band: Option<String>,
    /// Date for price ages; the clock is never read
    #[arg(long, value_name = "DATE")]
    pub on: Option<String>,
    /// Let `use` reach all files below this folder
    #[arg(long, value_name = "DIR")]
    pub root: Option<String>,
    /// What standard input is called, and where it would lie
    #[arg(long, value_name = "NAME")]
    pub name: Option<String>,
    /// Limits and requirements that fall short do not set the status
    #[arg(long)]
    pub lenient: bool,
}

/// How many recipes are gone through.
#[derive(Clone, Debug, Default, Args)]
pub(super) struct Many {
    /// How many recipes are evaluated at once
    #[arg(long, value_name = "N")]
    pub jobs: Option<NonZeroUsize>,
    /// End at the first recipe that is wrong
    #[arg(long)]
    pub stop: bool,
}
