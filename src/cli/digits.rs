//! How many digits are shown, for every command that prints numbers.

use clap::{Args, ValueEnum};

use crate::report::Digits;

/// The option of it.
#[derive(Clone, Copy, Debug, Args)]
pub(super) struct HowMany {
    /// Digits shown: useful or all
    #[arg(long, value_name = "HOW", hide_possible_values = true)]
    pub digits: Option<Shown>,
}

impl HowMany {
    /// Why this does not go with an output that always has all digits, where one of these is wanted.
    pub fn beside(self, wanted: &[(bool, &str)]) -> Result<(), String> {
        let machine = wanted.iter().find(|(is_wanted, _)| *is_wanted);
        match (self.digits, machine) {
            (Some(Shown::Useful), Some((_, option))) => Err(format!(
                "`{option}` gives all digits; leave out `--digits useful`"
            )),
            _ => Ok(()),
        }
    }
}

impl From<HowMany> for Digits {
    fn from(how: HowMany) -> Self {
        match how.digits {
            Some(Shown::All) => Self::All,
            Some(Shown::Useful) | None => Self::Useful,
        }
    }
}

/// How many digits are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Shown {
    Useful,
    All,
}
