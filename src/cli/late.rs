//! A command whose options are defined once it is called: a call pays for one command, not for all of them.

use clap::builder::Resettable;
use clap::{ArgMatches, Args, Command, Error, FromArgMatches};
use std::ops::{Deref, DerefMut};

/// What a command takes, defined when the command line names it, or help, the manual or a completion asks for all.
#[derive(Debug, Default)]
pub(super) struct Late<T>(pub T);

impl<T: Args> Args for Late<T> {
    fn augment_args(command: Command) -> Command {
        command.defer(|command| {
            // The words about a command are its own, not those of the type that holds its options.
            let (about, long) = (
                command.get_about().cloned(),
                command.get_long_about().cloned(),
            );
            T::augment_args(command)
                .about(Resettable::from(about))
                .long_about(Resettable::from(long))
        })
    }

    fn augment_args_for_update(command: Command) -> Command {
        Self::augment_args(command)
    }
}

impl<T: FromArgMatches> FromArgMatches for Late<T> {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, Error> {
        T::from_arg_matches(matches).map(Self)
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), Error> {
        self.0.update_from_arg_matches(matches)
    }
}

impl<T> Deref for Late<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.0
    }
}

impl<T> DerefMut for Late<T> {
    fn deref_mut(&mut self) -> &mut T {
        &mut self.0
    }
}
