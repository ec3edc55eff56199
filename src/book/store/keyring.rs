//! The keys of an encrypted book, each wrapped by somebody's passphrase.
//!
//! The book is encrypted with one random key. For every person, and for the recovery code, the file
//! beside the book holds that key sealed (ChaCha20-Poly1305, RFC 8439) under a key derived from the
//! passphrase (argon2id, RFC 9106) with a separate salt. A passphrase is changed by sealing the key
//! again; the book itself is not written.

use std::io::Write as _;
use std::path::Path;

use argon2::{Algorithm, Argon2, Params, Version};
use chacha20poly1305::aead::{Aead, Payload};
use chacha20poly1305::{ChaCha20Poly1305, KeyInit};
use serde::{Deserialize, Serialize};
use zeroize::Zeroizing;

use super::book_id::{hex, unhex};
use super::error::StoreError;
use super::key::{KEY_BYTES, Key, keyring_file};

/// The name under which the recovery code's key is kept.
pub(crate) const RECOVERY: &str = "recovery code";
/// The shortest passphrase that may wrap the key, in characters: whoever has the files can try as
/// fast as their machine allows.
pub(crate) const SHORTEST: usize = 10;

const FORMAT: &str = "rimbook-keys";
const SALT_BYTES: usize = 16;
const NONCE_BYTES: usize = 12;
/// 64 MiB and three passes: RFC 9106's second recommendation.
const MEMORY_KIB: u32 = 64 * 1024;
const PASSES: u32 = 3;
/// Larger parameters are refused: they would only keep the machine busy.
const MOST_MEMORY_KIB: u32 = 1024 * 1024;
const MOST_PASSES: u32 = 20;
/// Letters of the recovery code: none is taken for another (Crockford's base 32).
const LETTERS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// Letters of a code, five bits each.
const CODE_LETTERS: usize = 32;

/// The wrapped keys of a book.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Keyring {
    format: String,
    version: u32,
    keys: Vec<Wrapped>,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Wrapped {
    of: String,
    memory_kib: u32,
    passes: u32,
    salt: String,
    nonce: String,
    sealed: String,
}

impl Default for Keyring {
    fn default() -> Self {
        Self {
            format: FORMAT.to_owned(),
            version: 1,
            keys: Vec::new(),
        }
    }
}

fn random<const N: usize>() -> Result<[u8; N], StoreError> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|_| StoreError::NoRandom)?;
    Ok(bytes)
}

/// Returns a new random key.
///
/// # Errors
/// [`StoreError::NoRandom`].
pub(crate) fn new_key() -> Result<Key, StoreError> {
    random().map(Key::new)
}

/// Returns a new recovery code, in groups to be written down.
///
/// # Errors
/// [`StoreError::NoRandom`].
pub(crate) fn new_code() -> Result<Zeroizing<String>, StoreError> {
    let bytes: [u8; CODE_LETTERS] = random()?;
    let mut code = Zeroizing::new(String::new());
    for (i, byte) in bytes.iter().enumerate() {
        if i > 0 && i.is_multiple_of(4) {
            code.push('-');
        }
        let letter = LETTERS.get(usize::from(byte % 32)).copied();
        code.push(char::from(letter.unwrap_or(b'0')));
    }
    Ok(code)
}

/// The code as it was made, however it was typed: case, blanks and dashes do not matter, nor the
/// letters that look like digits.
fn plain_code(typed: &str) -> Zeroizing<String> {
    let letters = typed.chars().filter(char::is_ascii_alphanumeric);
    Zeroizing::new(
        letters
            .map(|c| match c.to_ascii_uppercase() {
                'O' => '0',
                'I' | 'L' => '1',
                c => c,
            })
            .collect(),
    )
}

fn derived(
    secret: &str,
    salt: &[u8],
    memory_kib: u32,
    passes: u32,
) -> Option<Zeroizing<[u8; KEY_BYTES]>> {
    if memory_kib > MOST_MEMORY_KIB || passes > MOST_PASSES {
        return None;
    }
    let params = Params::new(memory_kib, passes, 1, Some(KEY_BYTES)).ok()?;
    let mut out = Zeroizing::new([0; KEY_BYTES]);
    Argon2::new(Algorithm::Argon2id, Version::V0x13, params)
        .hash_password_into(secret.as_bytes(), salt, out.as_mut())
        .ok()?;
    Some(out)
}

impl Wrapped {
    fn seal(of: &str, key: &Key, secret: &str) -> Result<Self, StoreError> {
        let failed = || StoreError::Content("a key");
        let (salt, nonce): ([u8; SALT_BYTES], [u8; NONCE_BYTES]) = (random()?, random()?);
        let wrapping = derived(secret, &salt, MEMORY_KIB, PASSES).ok_or_else(failed)?;
        let payload = Payload {
            msg: key.bytes(),
            aad: of.as_bytes(),
        };
        let sealed = ChaCha20Poly1305::new_from_slice(wrapping.as_ref())
            .map_err(|_| failed())?
            .encrypt(&nonce.into(), payload)
            .map_err(|_| failed())?;
        Ok(Self {
            of: of.to_owned(),
            memory_kib: MEMORY_KIB,
            passes: PASSES,
            salt: hex(&salt),
            nonce: hex(&nonce),
            sealed: hex(&sealed),
        })
    }

    fn open(&self, secret: &str) -> Option<Key> {
        let wrapping = derived(secret, &unhex(&self.salt)?, self.memory_kib, self.passes)?;
        let nonce: [u8; NONCE_BYTES] = unhex(&self.nonce)?.try_into().ok()?;
        let sealed = unhex(&self.sealed)?;
        let payload = Payload {
            msg: &sealed,
            aad: self.of.as_bytes(),
        };
        let opened = ChaCha20Poly1305::new_from_slice(wrapping.as_ref())
            .ok()?
            .decrypt(&nonce.into(), payload)
            .ok()
            .map(Zeroizing::new)?;
        opened.as_slice().try_into().ok().map(Key::new)
    }
}

impl Keyring {
    /// Reads the wrapped keys of a book.
    ///
    /// # Errors
    /// [`StoreError`] where they cannot be read or are not ours.
    pub fn of_book(book: &Path) -> Result<Self, StoreError> {
        let text = std::fs::read_to_string(keyring_file(book))
            .map_err(|e| StoreError::Directory(e.kind()))?;
        let ring: Self =
            serde_json::from_str(&text).map_err(|_| StoreError::Content("the file of the keys"))?;
        if ring.format != FORMAT || ring.version != 1 {
            return Err(StoreError::Content("the file of the keys"));
        }
        Ok(ring)
    }

    /// Wraps the key for somebody, in place of what they had; [`RECOVERY`] for the recovery code.
    ///
    /// # Errors
    /// [`StoreError::NoRandom`].
    pub fn wrap(&mut self, of: &str, key: &Key, secret: &str) -> Result<(), StoreError> {
        let wrapped = if of == RECOVERY {
            Wrapped::seal(of, key, &plain_code(secret))?
        } else {
            Wrapped::seal(of, key, secret)?
        };
        self.keys.retain(|k| !k.of.eq_ignore_ascii_case(of));
        self.keys.push(wrapped);
        Ok(())
    }

    /// Returns the person whose passphrase this is, and the key; `None` for a wrong passphrase.
    pub fn open(&self, secret: &str) -> Option<(&str, Key)> {
        let code = plain_code(secret);
        self.keys.iter().find_map(|wrapped| {
            let is_code = wrapped.of == RECOVERY;
            if is_code && code.len() != CODE_LETTERS {
                return None;
            }
            let secret = if is_code { code.as_str() } else { secret };
            Some((wrapped.of.as_str(), wrapped.open(secret)?))
        })
    }

    /// Writes the wrapped keys of a book: whole or not at all, readable by its owner only.
    ///
    /// # Errors
    /// [`StoreError::Directory`] where they cannot be written; those of before then stay.
    pub fn keep(&self, book: &Path) -> Result<(), StoreError> {
        let text = serde_json::to_string_pretty(self)
            .map_err(|_| StoreError::Content("the file of the keys"))?;
        let at = keyring_file(book);
        let mut part = at.as_os_str().to_owned();
        part.push(format!(".{}.part", std::process::id()));
        let part = std::path::PathBuf::from(part);
        let written = (|| {
            let mut options = std::fs::OpenOptions::new();
            options.write(true).create(true).truncate(true);
            #[cfg(unix)]
            {
                use std::os::unix::fs::OpenOptionsExt;
                options.mode(0o600);
            }
            let mut file = options.open(&part)?;
            file.write_all(text.as_bytes())?;
            file.sync_all()?;
            std::fs::rename(&part, &at)?;
            // The new name is on the disk when its directory is.
            match at.parent().filter(|d| !d.as_os_str().is_empty()) {
                Some(directory) => std::fs::File::open(directory)?.sync_all(),
                None => std::fs::File::open(".")?.sync_all(),
            }
        })();
        written.map_err(|e: std::io::Error| {
            // What could not be finished is of no use.
            std::fs::remove_file(&part).unwrap_or_default();
            StoreError::Directory(e.kind())
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_opened_by_its_passphrases_and_the_code_and_by_nothing_else() {
        let key = new_key().unwrap();
        let code = new_code().unwrap();
        let mut ring = Keyring::default();
        ring.wrap("Ines Calloway", &key, "seven blue herons")
            .unwrap();
        ring.wrap(RECOVERY, &key, &code).unwrap();
        let (who, opened) = ring.open("seven blue herons").unwrap();
        assert_eq!((who, opened.bytes()), ("Ines Calloway", key.bytes()));
        let typed = code.to_lowercase().replace('-', " ");
        assert_eq!(ring.open(&typed).unwrap().0, RECOVERY);
        for wrong in ["seven blue heron", "", "0000-0000"] {
            assert!(ring.open(wrong).is_none(), "{wrong}");
        }
        // A changed passphrase opens the same key; the old one nothing.
        ring.wrap("ines calloway", &key, "eight green frogs")
            .unwrap();
        assert!(ring.open("seven blue herons").is_none());
        assert_eq!(
            ring.open("eight green frogs").unwrap().1.bytes(),
            key.bytes()
        );
    }

    #[test]
    fn a_key_cannot_be_passed_off_as_somebody_elses() {
        let mut ring = Keyring::default();
        ring.wrap("A", &new_key().unwrap(), "seven blue herons")
            .unwrap();
        ring.keys[0].of = "B".to_owned();
        assert!(ring.open("seven blue herons").is_none());
        ring.keys[0].of = "A".to_owned();
        ring.keys[0].memory_kib = u32::MAX;
        assert!(ring.open("seven blue herons").is_none(), "no such memory");
    }

    #[test]
    fn the_file_of_the_keys_is_private_and_is_read_back() {
        let dir = tempfile::tempdir().unwrap();
        let book = dir.path().join("book.db");
        let mut ring = Keyring::default();
        ring.wrap("A", &new_key().unwrap(), "seven blue herons")
            .unwrap();
        ring.keep(&book).unwrap();
        assert_eq!(Keyring::of_book(&book).unwrap(), ring);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let mode = std::fs::metadata(keyring_file(&book))
                .unwrap()
                .permissions()
                .mode();
            assert_eq!(mode & 0o777, 0o600);
        }
        std::fs::write(keyring_file(&book), "{}").unwrap();
        assert!(Keyring::of_book(&book).is_err());
    }
}
