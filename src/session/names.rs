//! The names at the top level of a recipe, which paths of overrides begin with.

use std::collections::BTreeSet;

use crate::model::{Holder, Nested};
use crate::schema::{CutKind, FieldId};
use crate::syntax::ast;

/// Words of blocks that can be reached by a path; those of `MONEY` without a name too.
pub(super) const WORDS: &[&str] = &[
    "prices", "shop", "alloy", "profile", "cutter", "stock", "order", "rules",
];

/// A block of the top level that is neither band nor `let`.
#[derive(Debug)]
pub(super) struct Block {
    pub word: &'static str,
    pub name: Option<String>,
    /// The entries in it that are told apart by a name: the word and the name.
    pub inner: Vec<(String, String)>,
    /// The words of its other entries.
    pub heads: Vec<String>,
}

impl Block {
    fn of(entry: &ast::Entry) -> Option<Self> {
        let word = WORDS.iter().find(|word| entry.head_name() == Some(word))?;
        let name = ast::first_word(&entry.values).map(str::to_owned);
        let (mut inner, mut heads) = (Vec::new(), Vec::new());
        for entry in entry.block.iter().flat_map(ast::Block::entries) {
            let Some(head) = entry.head_name() else {
                continue;
            };
            match ast::entry_name(&entry.values) {
                Some(name) if crate::model::tells_apart(word, head) => {
                    inner.push((head.to_owned(), name.into_owned()));
                }
                _ => heads.push(head.to_owned()),
            }
        }
        Some(Self {
            word,
            name,
            inner,
            heads,
        })
    }

    pub fn holder(&self) -> Holder {
        Holder::Block(self.word, self.name.clone())
    }
}

/// Names at the top level of all trees.
#[derive(Debug)]
pub(super) struct Names {
    pub bands: Vec<String>,
    /// The bands of the recipe itself, which are all that a path without a band can mean.
    pub own: Vec<String>,
    pub lets: Vec<String>,
    pub blocks: Vec<Block>,
    /// Cuts with a name: the band, the word of the cut and its name.
    pub cuts: Vec<(String, String, String)>,
}

impl Names {
    pub fn of(trees: &[Nested]) -> Self {
        let (mut bands, mut own, mut lets) = (Vec::new(), Vec::new(), Vec::new());
        let (mut blocks, mut cuts) = (Vec::new(), Vec::new());
        for (place, tree) in trees.iter().enumerate() {
            for entry in ast::entries(&tree.items) {
                match (entry.head_name(), entry.values.as_slice()) {
                    (Some("band" | "variant"), [first, ..]) => {
                        let band = single_name(first);
                        cuts.extend(band.iter().flat_map(|band| named_cuts(band, entry)));
                        bands.extend(band);
                    }
                    (Some("let"), [first]) => {
                        if let ast::ExprKind::Binary { left, .. } = &first.kind {
                            lets.extend(single_name(left));
                        }
                    }
                    // Orders of a used file are that file's business.
                    (Some("order"), _) if place > 0 => {}
                    _ => blocks.extend(Block::of(entry)),
                }
            }
            if place == 0 {
                own.clone_from(&bands);
            }
        }
        // Blocks without a name are opened by whoever says something of them.
        for word in ["prices", "shop"] {
            if blocks.iter().all(|block: &Block| block.word != word) {
                blocks.push(Block {
                    word,
                    name: None,
                    inner: Vec::new(),
                    heads: Vec::new(),
                });
            }
        }
        Self {
            bands,
            own,
            lets,
            blocks,
            cuts,
        }
    }

    /// Puts the last bands of a recipe that uses no file in the place of others.
    pub fn put(&mut self, gone: &BTreeSet<String>, last: &Nested) {
        let is_left = |name: &String| !gone.contains(name);
        self.bands.retain(is_left);
        self.own.retain(is_left);
        self.cuts.retain(|(band, _, _)| is_left(band));
        for entry in ast::entries(&last.items) {
            let Some(band) = entry.values.first().and_then(single_name) else {
                continue;
            };
            self.cuts.extend(named_cuts(&band, entry));
            self.bands.push(band.clone());
            self.own.push(band);
        }
    }

    /// Whether some words are among them.
    pub fn any(&self, words: &BTreeSet<String>) -> bool {
        let blocks = self.blocks.iter().filter_map(|block| block.name.as_ref());
        let mut all = self.bands.iter().chain(&self.lets).chain(blocks);
        all.any(|name| words.contains(name))
    }
}

/// The cuts of a band's pattern that bear a name.
fn named_cuts(band: &str, entry: &ast::Entry) -> Vec<(String, String, String)> {
    fn inside(entry: &ast::Entry) -> impl Iterator<Item = &ast::Entry> {
        entry.block.iter().flat_map(ast::Block::entries)
    }
    let is_pattern = |entry: &&ast::Entry| entry.head_name() == Some(FieldId::Pattern.word());
    let cuts = inside(entry).filter(is_pattern).flat_map(inside);
    cuts.filter_map(|cut| {
        let word = cut
            .head_name()
            .filter(|word| CutKind::of_word(word).is_some())?;
        let name = ast::first_word(&cut.values)?;
        Some((band.to_owned(), word.to_owned(), name.to_owned()))
    })
    .collect()
}

pub(super) fn single_name(expr: &ast::Expr) -> Option<String> {
    single_word(expr).map(str::to_owned)
}

/// The same as it stands in the tree.
pub(super) fn single_word(expr: &ast::Expr) -> Option<&str> {
    match &expr.kind {
        ast::ExprKind::Path(path) => path.single(),
        _ => None,
    }
}
