//! Numbers that look as if drawn by chance, the same in every run and on every machine.

/// Numbers that look as if drawn by chance, the same in every run.
///
/// # Source
/// The generator known as SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, 2014), its constants from memory.
#[derive(Clone, Debug)]
pub struct Draws(u64);

impl Draws {
    /// From the beginning.
    #[must_use]
    pub fn new() -> Self {
        Self(0)
    }

    /// A number from -1 to 1.
    pub fn draw(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        (z >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }
}

impl Default for Draws {
    fn default() -> Self {
        Self::new()
    }
}
