//! What would certainly put a mistake of meaning right, and which word was meant.

use crate::finding::{Problem, Repair};
use crate::quantity::foreign;
use crate::suggest::certain;

use super::error::{ModelError, NO_VALUE};

impl Problem for ModelError {
    fn lacks_value(&self) -> bool {
        matches!(self, Self::UnknownName { kind, .. } if *kind == NO_VALUE)
    }

    fn repair(&self) -> Option<Repair> {
        // Names of a recipe's own differ by a letter or a capital as often as not; words of the language do not.
        let (at, text) = match self {
            Self::UnknownBlock {
                at,
                word,
                nearest: Some(near),
                ..
            }
            | Self::UnknownField {
                at,
                word,
                nearest: Some(near),
                ..
            } if certain(word, near) => (at, near),
            Self::UnknownUnit {
                at,
                word,
                nearest: Some(near),
                ..
            } if foreign::alias(word, None) == Some(near) || certain(word, near) => (at, near),
            // Alloys and rulebooks are told apart by more than capitals.
            Self::UnknownName {
                at,
                name,
                kind: "the alloy" | "the rulebook",
                nearest: Some(near),
                ..
            } if name.to_lowercase() == near.to_lowercase() => (at, near),
            Self::Size {
                at,
                certain: Some(text),
                ..
            } => (at, text),
            _ => return None,
        };
        Some(Repair {
            span: *at,
            text: text.clone(),
        })
    }

    fn meant(&self) -> Option<&str> {
        match self {
            Self::UnknownBlock { nearest, .. }
            | Self::UnknownField { nearest, .. }
            | Self::UnknownUnit { nearest, .. }
            | Self::UnknownName { nearest, .. } => nearest.as_deref(),
            _ => None,
        }
    }
}
