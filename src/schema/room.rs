//! What of the program computes a result.

/// The room of the program that computes a result.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Room {
    /// Sections, weights and walls.
    Metal,
    /// Balance, cost and price.
    Money,
    /// Stretch, join and strength.
    Stretch,
    /// Arcs and edges for the lathe.
    Lathe,
    /// Marks.
    Fineness,
}
