//! How any text may stand in XML and HTML.

/// Text as it may stand between tags and in quoted attributes: what marks up is written out, controls and what is no
/// character of XML become a space.
#[must_use]
pub fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            letter if letter.is_control() || matches!(letter, '\u{FFFE}' | '\u{FFFF}') => {
                safe.push(' ');
            }
            letter => safe.push(letter),
        }
    }
    safe
}
