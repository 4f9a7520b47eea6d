//! What a place in a recipe means to whoever writes it: its value and where that comes from, where a name is given, and
//! everywhere that it is used.
//!
//! Input: a recipe as read and evaluated, and a place in its text, in bytes. Output: spans and texts. Nothing here knows
//! an editor or its protocol.

mod names;
mod open;
mod place;

pub use names::{Renamed, given, renamed, used_at};
pub use open::Opening;
pub use place::{Hovered, hovered};
