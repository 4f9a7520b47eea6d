//! Why a value is what it is, as a readable tree.

use std::collections::BTreeSet;

use crate::evaluate::Why;
use crate::source::printable;

use super::change::answer;
use super::number::Digits;

/// The tree as text, inputs indented under what they go into; what was told is not told again.
#[must_use]
pub fn why(why: &Why, digits: Digits) -> String {
    let mut text = String::new();
    node(&mut text, why, digits, 0, &mut BTreeSet::new());
    text
}

fn node<'w>(
    text: &mut String,
    why: &'w Why,
    digits: Digits,
    depth: usize,
    told: &mut BTreeSet<&'w str>,
) {
    let indent = "  ".repeat(depth);
    let value = why.value.as_ref().map_or_else(String::new, |found| {
        format!(" = {}", answer(&why.path, found, digits))
    });
    if !told.insert(&why.path) {
        text.push_str(&format!("{indent}{}{value}, as above\n", why.path));
        return;
    }
    text.push_str(&format!("{indent}{}{value}\n", why.path));
    text.push_str(&format!("{indent}    {}\n", why.meaning));
    if let Some(formula) = &why.formula {
        text.push_str(&format!("{indent}    by {formula}\n"));
    }
    let last = why.places.len().saturating_sub(1);
    for (place, found) in why.places.iter().enumerate() {
        let wins = if place == last && last > 0 && why.formula.is_none() {
            "  <- holds"
        } else {
            ""
        };
        text.push_str(&format!(
            "{indent}    {}: {}{wins}\n",
            found.place,
            printable(&found.text)
        ));
    }
    for input in &why.inputs {
        node(text, input, digits, depth + 1, told);
    }
}
