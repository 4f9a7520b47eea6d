//! The fingerprint of a recipe: the same for all texts that mean the same, so that a report on paper can be matched to
//! the recipe that it was made of.
//!
//! It is the SHA-256 (FIPS 180-4) of what the recipe and the files that it uses state, line by line in a fixed order,
//! figures in base units, and of the text of each drawing that it names. Layout, order, comments, dotted lines, defaults that are written out, and the units that a
//! figure is written in leave it as it is.

use std::sync::OnceLock;

use crate::catalogue;
use crate::model::{Nested, StatedPath, meant, stated};
use crate::syntax::ast;

use super::digest::of_lines;
use super::{Prepared, Request};

impl Prepared {
    /// The fingerprint of the recipe with what a request lays over it.
    ///
    /// # Example
    /// ```
    /// use annulet::session::{NoLibrary, Request, Session};
    /// let print = |text: &str| {
    ///     let prepared = Session::default().prepare("r", text, &mut NoLibrary);
    ///     prepared.fingerprint(&Request::default())
    /// };
    /// let one = print("band b {\n  size 16 mm\n  width 5 mm\n}\n");
    /// assert_eq!(one, print("band b { width 0.5 cm, size 16.0 mm } # the same\n"));
    /// assert_ne!(one, print("band b { width 0.6 cm, size 16.0 mm }\n"));
    /// ```
    #[must_use]
    pub fn fingerprint(&self, request: &Request) -> String {
        let mut lines = Vec::new();
        for (place, tree) in self.trees().iter().enumerate() {
            // What a used file requires is none of the recipe's business.
            let whose = if place == 0 { "own" } else { "used" };
            lines.extend(said(tree, place == 0).map(|line| format!("{whose} {line}")));
        }
        let drawn = self.drawn_files().iter();
        lines.extend(drawn.map(|file| format!("drawing {} {}", file.written, file.digest)));
        lines.sort_unstable();
        lines.dedup();
        lines.extend(request.band.iter().map(|band| format!("band {band}")));
        lines.extend(request.on.iter().map(|day| format!("on {day}")));
        let mut laid: Vec<String> = request.sets.clone();
        laid.sort_unstable();
        laid.extend(request.tries.iter().map(|tried| tried.line.clone()));
        lines.extend(laid.iter().map(|line| format!("laid {}", line.trim())));
        of_lines(lines.iter().map(String::as_str))
    }

    /// The fingerprint of the recipe, and what tells the program from another.
    #[must_use]
    pub fn fingerprints(&self, request: &Request) -> (String, String) {
        (self.fingerprint(request), of_program())
    }
}

/// What tells the program from another: its version, and the fingerprint of its built-in tables.
fn of_program() -> String {
    static TABLES: OnceLock<String> = OnceLock::new();
    let tables = TABLES.get_or_init(|| of_lines(catalogue::texts()));
    format!("{}-{tables}", env!("CARGO_PKG_VERSION"))
}

/// What a text says, a line each.
fn said(tree: &Nested, requires: bool) -> impl Iterator<Item = String> {
    let paths = stated(tree).into_iter();
    let paths = paths
        .filter(|one| !StatedPath::same(Some(one), None))
        .map(|one| {
            let band = one
                .band
                .as_deref()
                .map_or_else(String::new, |band| format!("band {band} "));
            format!("{band}{} = {}", one.path, one.meant())
        });
    let mut others = Vec::new();
    for entry in ast::entries(&tree.items) {
        let values: Vec<String> = entry.values.iter().map(meant).collect();
        match entry.head_name() {
            Some("let") => others.push(format!("let {}", values.join(" "))),
            Some("require") if requires => others.push(format!("require {}", values.join(" "))),
            // A band is there, and what it is made of.
            Some(word @ ("band" | "variant")) => {
                others.push(format!("{word} {}", values.join(" ")))
            }
            _ => {}
        }
    }
    paths.chain(others)
}
