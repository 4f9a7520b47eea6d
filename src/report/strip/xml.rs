//! How may any text stand in an SVG file?

/// Text as it may stand in XML.
#[must_use]
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            letter if letter.is_control() || matches!(letter, '\u{fffe}' | '\u{ffff}') => {
                out.push(' ')
            }
            letter => out.push(letter),
        }
    }
    out
}
