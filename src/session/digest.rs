//! The digest of some lines: SHA-256 (FIPS 180-4), of which so many digits are given that two texts of a workshop never
//! share them by chance.

use sha2::{Digest, Sha256};

/// How many hexadecimal digits of it are given.
const DIGITS: usize = 16;

/// The digest of some lines.
pub(super) fn of_lines<'a>(lines: impl Iterator<Item = &'a str>) -> String {
    let mut hash = Sha256::new();
    for line in lines {
        hash.update(line.as_bytes());
        hash.update(b"\n");
    }
    let hex = hash
        .finalize()
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect::<String>();
    hex.chars().take(DIGITS).collect()
}
