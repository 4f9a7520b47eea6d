//! What completion in the shell offers beside words and options: recipes, and names of the recipe at hand.
//!
//! Nothing is said where a recipe cannot be read: who types is not done yet.

use std::ffi::OsStr;
use std::path::Path;

use clap_complete::engine::{CompletionCandidate, PathCompleter, ValueCompleter};

use crate::report::Listing;
use crate::schema;
use crate::session::{self, Prepared, Session};

use super::input::{self, ENDING};
use super::library::Folder;

/// Recipes and folders.
#[derive(Clone, Copy)]
pub(super) struct Recipes;

impl ValueCompleter for Recipes {
    fn complete(&self, current: &OsStr) -> Vec<CompletionCandidate> {
        let is_recipe = |path: &Path| path.to_string_lossy().ends_with(ENDING);
        PathCompleter::any()
            .filter(move |path| path.is_dir() || is_recipe(path))
            .complete(current)
    }
}

/// Names of the recipe at hand, and paths of the vocabulary.
#[derive(Clone, Copy)]
pub(super) enum Names {
    /// Bands.
    Bands,
    /// Orders.
    Orders,
    /// What can be asked: results and fields, alone or behind a band's name, and `let`s.
    Paths,
    /// What `--set` takes: fields with `=` behind them.
    Settings,
    /// What `list` takes.
    Lists,
}

impl ValueCompleter for Names {
    fn complete(&self, current: &OsStr) -> Vec<CompletionCandidate> {
        let Some(current) = current.to_str() else {
            return Vec::new();
        };
        let all = match self {
            Self::Lists => Listing::ALL
                .iter()
                .map(|(word, _)| CompletionCandidate::new(*word))
                .collect(),
            Self::Bands => named(recipe().map(|recipe| bands(&recipe)), ""),
            Self::Orders => named(recipe().map(|recipe| recipe.named("order")), ""),
            Self::Paths => paths(current, true, ""),
            Self::Settings => paths(current, false, "="),
        };
        let begins = |one: &CompletionCandidate| {
            let word = one.get_value().to_string_lossy();
            word.starts_with(current)
        };
        all.into_iter().filter(begins).collect()
    }
}

fn named(names: Option<Vec<String>>, behind: &str) -> Vec<CompletionCandidate> {
    let names = names.unwrap_or_default().into_iter();
    names
        .map(|name| CompletionCandidate::new(name + behind))
        .collect()
}

/// Paths that begin as what is typed, each with what it means.
fn paths(current: &str, results: bool, behind: &str) -> Vec<CompletionCandidate> {
    let recipe = recipe();
    let bands = recipe.as_ref().map(bands).unwrap_or_default();
    let mut all = Vec::new();
    let band = current.split_once('.').map(|(band, _)| band);
    let before = match band.filter(|band| bands.iter().any(|known| known == band)) {
        Some(band) => format!("{band}."),
        None => {
            all.extend(named(Some(bands), "."));
            let lets = recipe.iter().flat_map(|recipe| recipe.named("let"));
            all.extend(lets.map(|name| CompletionCandidate::new(name + behind)));
            String::new()
        }
    };
    let mut put = |path: &str, meaning: &'static str| {
        let candidate = CompletionCandidate::new(format!("{before}{path}{behind}"));
        all.push(candidate.help(Some(meaning.into())));
    };
    if results {
        let rows = schema::RESULTS.iter();
        rows.for_each(|row| put(row.path, row.meaning));
    }
    for field in schema::of_band().iter().filter(|field| field.has_word()) {
        put(field.path, field.meaning);
    }
    all
}

fn bands(recipe: &Prepared) -> Vec<String> {
    let tree = recipe.tree();
    tree.map(|tree| session::band_names(&tree.items))
        .unwrap_or_default()
}

/// The recipe that the words typed so far name, else the one of this folder.
fn recipe() -> Option<Prepared> {
    let words: Vec<String> = std::env::args_os()
        .skip_while(|word| word != "--")
        .skip(1)
        .map(|word| word.to_string_lossy().into_owned())
        .collect();
    let option = words.iter().position(|word| word == "--in");
    let behind = option.and_then(|place| words.get(place + 1)).cloned();
    let joined = words.iter().find_map(|word| word.strip_prefix("--in="));
    let named = behind.or_else(|| joined.map(str::to_owned));
    let loose = || words.iter().find(|word| word.ends_with(ENDING)).cloned();
    let file = named.or_else(loose).or_else(|| input::sole_recipe().ok())?;
    let text = input::read_named(Path::new(&file), &file).ok()?;
    let mut folder = Folder::of(&file, None);
    Some(Session::default().prepare(&file, &text, &mut folder))
}
