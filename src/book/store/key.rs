//! The key of an encrypted book, and how to tell that a book is encrypted.

use std::io::Read;
use std::path::{Path, PathBuf};

use zeroize::Zeroizing;

/// Bytes of a key.
pub(crate) const KEY_BYTES: usize = 32;

/// What every file of SQLite begins with that is not encrypted.
const PLAIN: &[u8; 16] = b"SQLite format 3\0";

/// The random key of a book; overwritten when it is dropped, never shown.
#[derive(Clone)]
pub struct Key(Zeroizing<[u8; KEY_BYTES]>);

impl std::fmt::Debug for Key {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Key")
    }
}

impl Key {
    /// Returns a key of these bytes.
    pub fn new(bytes: [u8; KEY_BYTES]) -> Self {
        Self(Zeroizing::new(bytes))
    }

    /// Returns the bytes.
    pub fn bytes(&self) -> &[u8; KEY_BYTES] {
        &self.0
    }

    /// Returns the key as SQLCipher takes a raw one: no derivation, which the random key needs none of.
    #[cfg(feature = "encrypted")]
    pub(super) fn literal(&self) -> Zeroizing<String> {
        use std::fmt::Write as _;
        let mut text = Zeroizing::new(String::with_capacity(2 * KEY_BYTES + 3));
        text.push_str("x'");
        for byte in self.0.iter() {
            // Writing to a string does not fail.
            let _ = write!(text, "{byte:02x}");
        }
        text.push('\'');
        text
    }
}

/// Returns the path of the wrapped keys, in the book's directory.
pub(crate) fn keyring_file(book: &Path) -> PathBuf {
    let mut name = book.as_os_str().to_owned();
    name.push(".keys");
    name.into()
}

/// Whether a book is encrypted: no plain SQLite header, and wrapped keys in its directory.
pub(crate) fn is_encrypted(book: &Path) -> bool {
    let begins_plain = || {
        let mut begin = [0; PLAIN.len()];
        let read = std::fs::File::open(book).and_then(|mut f| f.read_exact(&mut begin));
        // A file too short for a header is decided on by whoever opens it.
        read.is_err() || &begin == PLAIN
    };
    keyring_file(book).is_file() && book.is_file() && !begins_plain()
}
