//! A place in the ranges of what may be off.

use std::sync::Arc;

use crate::source::Span;

/// Where each variable stands in its range, from -1, its lower end, to 1; one that is not named is as written.
pub type Standing = Arc<[(Span, f64)]>;
