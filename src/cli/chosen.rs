//! The one band that a command is about.

use crate::session::Outcome;
use crate::source::printable;
use crate::suggest::listed;

use super::common::Laid;

/// The band that is meant, by the name behind the command or `--band`; the only one, where there is but one.
///
/// # Errors
/// There is none of that name, or several to choose from.
pub(super) fn chosen(
    named: Option<&str>,
    laid: &Laid,
    outcome: &Outcome,
) -> Result<String, String> {
    let names = || outcome.recipe.names.iter().map(|one| one.name.as_str());
    if let (Some(name), Some(other)) = (named, &laid.band)
        && name != other
    {
        return Err(format!(
            "`{}` and `--band {}` are two bands; which one?",
            printable(name),
            printable(other)
        ));
    }
    let named = named.or(laid.band.as_deref());
    match named {
        Some(name) if outcome.recipe.is_band(name) => Ok(name.to_owned()),
        Some(name) => Err(format!(
            "the recipe has no band `{}`; bands are {}",
            printable(name),
            listed(outcome.shown().map(|one| one.band.name.as_str()))
        )),
        None => {
            let mut bands = names().filter(|name| outcome.recipe.is_band(name));
            match (bands.next(), bands.next()) {
                (Some(only), None) => Ok(only.to_owned()),
                (None, _) => Err("the recipe has no band".to_owned()),
                (Some(_), Some(_)) => Err(format!(
                    "which band? One of {}",
                    listed(names().filter(|name| outcome.recipe.is_band(name)))
                )),
            }
        }
    }
}
