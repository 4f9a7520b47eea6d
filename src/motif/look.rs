//! How an element is drawn: stroked, filled, or not at all.

use roxmltree::Node;

/// What an element takes over from those that it stands in.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Look {
    /// Whether it has a stroke.
    pub stroked: bool,
    /// Whether it is filled, where that is stated.
    pub filled: Option<bool>,
    /// Whether it is left out of the picture.
    pub hidden: bool,
}

/// The value of a property, by attribute or in `style`, which wins.
pub(super) fn property<'a>(node: Node<'a, '_>, name: &str) -> Option<&'a str> {
    styled(node, name).or_else(|| node.attribute(name).map(str::trim))
}

/// The value of a property in `style`.
pub(super) fn styled<'a>(node: Node<'a, '_>, name: &str) -> Option<&'a str> {
    let style = node.attribute("style").unwrap_or("");
    let stated = style.split(';').filter_map(|one| one.split_once(':'));
    let mut stated = stated.filter(|(known, _)| known.trim() == name);
    stated.next_back().map(|(_, value)| value.trim())
}

impl Look {
    /// The look of an element inside one of this look.
    pub fn of(self, node: Node<'_, '_>) -> Self {
        let paints = |name: &str| match property(node, name) {
            None | Some("inherit") => None,
            Some("none" | "transparent") => Some(false),
            Some(_) => Some(true),
        };
        let gone = property(node, "display") == Some("none");
        let seen = property(node, "visibility");
        Self {
            stroked: paints("stroke").unwrap_or(self.stroked),
            filled: paints("fill").or(self.filled),
            hidden: self.hidden || gone || matches!(seen, Some("hidden" | "collapse")),
        }
    }

    /// Whether all inside is meant: a fill that is stated, or the black one of what has neither fill nor stroke.
    pub fn is_filled(self) -> bool {
        self.filled.unwrap_or(!self.stroked)
    }
}
