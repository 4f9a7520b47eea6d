//! One line of an order, kept so that money that moves is counted anew without the line's metal.

use crate::evaluate::Evaluation;
use crate::finding::Finding;

/// One line of an order.
#[derive(Clone, Debug)]
pub(super) struct Line {
    /// The band in its size.
    pub evaluation: Option<Evaluation>,
    /// What was found beside limits when it was resolved in that size.
    pub said: Vec<Finding>,
}
