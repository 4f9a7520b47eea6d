//! Whether a stream gets colour: an option beats `NO_COLOR`, which beats what the terminal says.

use std::io::IsTerminal;

use super::look::When;

/// Whether a stream gets colour, each judged by itself.
pub(super) fn wanted(when: Option<When>, stream: &impl IsTerminal) -> bool {
    match when {
        Some(When::Always) => true,
        Some(When::Never) => false,
        Some(When::Auto) | None => {
            let refused = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
            let dumb = std::env::var_os("TERM").is_some_and(|value| value == "dumb");
            stream.is_terminal() && !refused && !dumb
        }
    }
}
