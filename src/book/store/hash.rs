//! Hashes over parts that carry their lengths.

use sha2::{Digest, Sha256};

/// A SHA-256 hash.
pub(crate) type Hash = [u8; 32];

/// The link before the first row.
pub(crate) const FIRST: Hash = [0; 32];

/// Returns the hash over parts.
pub(super) fn hash(parts: &[&[u8]]) -> Hash {
    let mut sha = Sha256::new();
    for part in parts {
        // The length keeps "ab", "c" and "a", "bc" apart.
        sha.update(u64::try_from(part.len()).unwrap_or(u64::MAX).to_le_bytes());
        sha.update(part);
    }
    sha.finalize().into()
}
