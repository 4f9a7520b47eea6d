//! What the bench works on: a text, and what is tried over it.

use std::sync::Arc;

use crate::session::Tried;

/// What the bench works on.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct State {
    pub text: Arc<str>,
    pub tries: Vec<Tried>,
}
