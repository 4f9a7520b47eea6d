//! What each command takes of the common options, given in front of it and behind it.

use clap::Args;

use super::arguments::{Command, OfNone, OfRecipe, OfRecipes};
use super::common::{Common, Laid, Many};
use super::look::Look;

/// What a command takes of the common options, as given behind it.
struct Taken<'a> {
    word: &'static str,
    laid: Option<&'a Laid>,
    many: Option<&'a Many>,
    look: &'a Look,
}

impl Command {
    /// Its word.
    pub fn word(&self) -> &'static str {
        self.taken().word
    }

    /// How its findings are told.
    pub fn look(&self) -> &Look {
        self.taken().look
    }

    /// Whether it is to print a document.
    pub fn is_machine(&self) -> bool {
        match self {
            Self::Eval(of) => of.call.json,
            Self::Check(of) => of.call.json,
            Self::Ask(of) => of.call.json,
            Self::Compare(of) => of.call.json,
            Self::Contour(of) => of.call.json,
            Self::Diff(of) => of.call.json,
            Self::List(of) => of.call.json,
            Self::Offer(of) => of.call.json,
            Self::Run(of) => of.call.json,
            Self::Gauge(of) => of.call.json,
            Self::Settle(of) => of.call.json,
            Self::Sure(of) => of.call.json,
            Self::Tally(of) => of.call.json,
            Self::Sweep(of) => of.call.json,
            Self::Choose(of) => of.call.seek.json,
            Self::Solve(of) => of.call.json,
            Self::Why(of) => of.call.json,
            Self::Bench(_)
            | Self::Completions(_)
            | Self::Man(_)
            | Self::Section(_)
            | Self::Serve(_)
            | Self::Sheet(_)
            | Self::Strip(_)
            | Self::Tidy(_) => false,
        }
    }

    fn taken(&self) -> Taken<'_> {
        fn one<'a, T: Args>(word: &'static str, of: &'a OfRecipe<T>) -> Taken<'a> {
            Taken {
                word,
                laid: Some(&of.laid),
                many: None,
                look: &of.look,
            }
        }
        fn many<'a, T: Args>(word: &'static str, of: &'a OfRecipes<T>) -> Taken<'a> {
            Taken {
                word,
                laid: Some(&of.laid),
                many: Some(&of.many),
                look: &of.look,
            }
        }
        fn none<'a, T: Args>(word: &'static str, of: &'a OfNone<T>) -> Taken<'a> {
            Taken {
                word,
                laid: None,
                many: None,
                look: &of.look,
            }
        }
        match self {
            Self::Bench(of) => one("bench", of),
            Self::Eval(of) => many("eval", of),
            Self::Check(of) => many("check", of),
            Self::Ask(of) => one("ask", of),
            Self::Compare(of) => one("compare", of),
            Self::Contour(of) => one("contour", of),
            Self::Completions(of) => none("completions", of),
            Self::Diff(of) => one("diff", of),
            Self::Man(of) => none("man", of),
            Self::List(of) => none("list", of),
            Self::Serve(of) => none("serve", of),
            Self::Section(of) => one("section", of),
            Self::Sheet(of) => one("sheet", of),
            Self::Tidy(of) => none("tidy", of),
            Self::Offer(of) => one("offer", of),
            Self::Run(of) => one("run", of),
            Self::Gauge(of) => one("gauge", of),
            Self::Settle(of) => one("settle", of),
            Self::Sure(of) => one("sure", of),
            Self::Tally(of) => one("tally", of),
            Self::Strip(of) => one("strip", of),
            Self::Sweep(of) => one("sweep", of),
            Self::Choose(of) => one("choose", of),
            Self::Solve(of) => one("solve", of),
            Self::Why(of) => one("why", of),
        }
    }
}

impl Common {
    /// These options, given in front of a command, and those given behind it: all that the command works with.
    ///
    /// # Errors
    /// One of them is given on both sides, or is none that the command uses.
    pub fn with(self, command: &Command) -> Result<Self, String> {
        let Taken {
            word,
            laid,
            many,
            look,
        } = command.taken();
        let unused = |option: &str| Err(format!("`{word}` takes no `{option}`"));
        let mut all = self;
        match laid {
            Some(behind) => {
                all.laid.sets.extend(behind.sets.iter().cloned());
                all.laid.band = one(all.laid.band, behind.band.clone(), "--band", word)?;
                all.laid.on = one(all.laid.on, behind.on.clone(), "--on", word)?;
                all.laid.root = one(all.laid.root, behind.root.clone(), "--root", word)?;
                all.laid.name = one(all.laid.name, behind.name.clone(), "--name", word)?;
                all.laid.lenient |= behind.lenient;
            }
            None if !all.laid.sets.is_empty() => return unused("--set"),
            None if all.laid.band.is_some() => return unused("--band"),
            None if all.laid.on.is_some() => return unused("--on"),
            None if all.laid.root.is_some() => return unused("--root"),
            None if all.laid.name.is_some() => return unused("--name"),
            None if all.laid.lenient => return unused("--lenient"),
            None => {}
        }
        match many {
            Some(behind) => {
                all.many.jobs = one(all.many.jobs, behind.jobs, "--jobs", word)?;
                all.many.stop |= behind.stop;
            }
            None if all.many.jobs.is_some() => return unused("--jobs"),
            None if all.many.stop => return unused("--stop"),
            None => {}
        }
        all.look.quiet |= look.quiet;
        all.look.color = one(all.look.color, look.color, "--color", word)?;
        all.look.findings = one(all.look.findings, look.findings, "--findings", word)?;
        Ok(all)
    }
}

/// What is given on one side of a command.
fn one<T>(
    before: Option<T>,
    behind: Option<T>,
    option: &str,
    word: &str,
) -> Result<Option<T>, String> {
    match (before, behind) {
        (Some(_), Some(_)) => Err(format!(
            "`{option}` is given twice, before `{word}` and after it"
        )),
        (before, behind) => Ok(before.or(behind)),
    }
}
