//! What could not be read: the bands and alloys whose results nobody can know.

use crate::finding::Finding;
use crate::model::{Band, FieldValue, Nested, Value};
use crate::schema::Takes;
use crate::source::Span;
use crate::syntax::ast;

use super::names::single_name;

/// The bands and alloys in whose text something could not be read: what they would come to is not known.
#[derive(Debug)]
pub(super) struct Broken {
    bands: Vec<String>,
    alloys: Vec<String>,
}

impl Broken {
    pub fn of(trees: &[Nested], findings: &[Finding]) -> Self {
        let mut broken = Self {
            bands: Vec::new(),
            alloys: Vec::new(),
        };
        let mut places: Vec<Span> = findings
            .iter()
            .filter(|finding| finding.code().starts_with("syntax::"))
            .filter_map(Finding::span)
            .collect();
        places.sort_unstable();
        let entries = || trees.iter().flat_map(|tree| ast::entries(&tree.items));
        for entry in entries() {
            if places.is_empty() || !holds_one(entry, &places) {
                continue;
            }
            let name = entry.values.first().and_then(single_name);
            match entry.head_name() {
                Some("band" | "variant") => broken.bands.extend(name),
                Some("alloy") => broken.alloys.extend(name),
                _ => {}
            }
        }
        // What is made of a broken band is broken with it, however long the chain.
        let variants: Vec<(String, String)> = entries()
            .filter(|entry| entry.head_name() == Some("variant"))
            .filter_map(|entry| {
                let name = |place: usize| entry.values.get(place).and_then(single_name);
                name(0).zip(name(2))
            })
            .collect();
        for _ in 0..variants.len() {
            let before = broken.bands.len();
            for (name, parent) in &variants {
                if broken.bands.contains(parent) && !broken.bands.contains(name) {
                    broken.bands.push(name.clone());
                }
            }
            if broken.bands.len() == before {
                break;
            }
        }
        broken
    }

    pub fn holds(&self, band: &Band) -> bool {
        let of_alloy = |field: &FieldValue| {
            matches!(&field.value, Value::Word(name)
                if field.field.takes == Takes::Alloy && self.alloys.contains(name))
        };
        self.bands.contains(&band.name) || band.fields.iter().any(of_alloy)
    }
}

/// Whether one of some places, in order, lies in an entry, or in a line that leads into it from elsewhere.
fn holds_one(entry: &ast::Entry, places: &[Span]) -> bool {
    let behind = places.partition_point(|place| place.start < entry.span.start);
    let first = places.get(behind);
    let inner = || entry.block.iter().flat_map(ast::Block::entries);
    first.is_some_and(|place| place.start < entry.span.end)
        || inner().any(|inner| holds_one(inner, places))
}
