//! What is said of a band: values of the rooms before it to sentences, findings and helps. No arithmetic.

pub mod fineness;
