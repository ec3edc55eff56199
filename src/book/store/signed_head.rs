//! The newest entry of history, signed, and as a short code to be written down.
//!
//! Whoever rewrites the whole chain of a book makes it consistent again; they cannot make it hold an
//! entry that somebody else has kept. The signature (Ed25519, RFC 8032) says which book made a file that
//! lies beside a backup. Its key is made once and lies in the person's state directory, outside the
//! book; that of an encrypted book is derived from the key of the book, which its keyring seals.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use ed25519_dalek::{Signature, Signer, SigningKey, Verifier, VerifyingKey};
use rusqlite::{Connection, OptionalExtension};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use zeroize::Zeroizing;

use super::book_id::{BOOK_ID, hex, unhex};
use super::error::StoreError;
use super::hash::{Hash, hash};
use super::{chain, connection, disk, settings};

/// Ending of the file beside a backup.
const ENDING: &str = ".head";
const FORMAT: &str = "rimbook-head";
/// Letters of a code: none is taken for another (Crockford's base 32).
const LETTERS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// Letters of a code, five bits each: 120 bits of the hash.
const CODE_LETTERS: usize = 24;
const GROUP: usize = 4;
/// Bytes of a key.
const SEED: usize = 32;

/// The newest entry of history at a moment, signed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SignedHead {
    format: String,
    /// Id of the book.
    pub book: String,
    /// Id of the newest entry; 0 before the first.
    pub entry: i64,
    /// Its link in hexadecimal digits.
    pub link: String,
    /// When it was signed, by RFC 3339.
    pub at: String,
    /// Number of entries then.
    pub entries: i64,
    /// Number of jobs then.
    pub jobs: i64,
    /// The public key in hexadecimal digits.
    pub key: String,
    /// The signature over all of the above in hexadecimal digits.
    pub signature: String,
}

/// How a book compares with a head that somebody kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Against {
    /// The book holds it; so many entries were added since.
    Held(i64),
    /// The book does not hold it: history was rewritten, or its end was cut off.
    NotHeld(i64),
    /// It is of another book.
    OtherBook,
    /// Its signature is not right.
    NotSigned,
    /// It is signed, with another key than the one this person has for the book.
    OtherKey(i64),
    /// It is neither a code nor such a file.
    Unreadable,
}

/// Returns the file that lies beside a backup.
pub(super) fn head_file(backup: &Path) -> PathBuf {
    disk::side_file(backup, ENDING)
}

/// Returns the code of an entry: its id, and letters of the hash over book, id and link.
fn code_of(book: &str, entry: i64, link: &Hash) -> String {
    let digest = hash(&[book.as_bytes(), &entry.to_le_bytes(), link]);
    let bit = |n: usize| {
        digest
            .get(n / 8)
            .is_some_and(|byte| byte >> (7 - n % 8) & 1 == 1)
    };
    let mut code = entry.to_string();
    for letter in 0..CODE_LETTERS {
        if letter.is_multiple_of(GROUP) {
            code.push('-');
        }
        let value = (0..5).fold(0_usize, |n, at| n << 1 | usize::from(bit(letter * 5 + at)));
        code.push(char::from(LETTERS.get(value).copied().unwrap_or(b'0')));
    }
    code
}

/// Returns a typed code in the spelling that is compared, with its entry.
fn read_code(text: &str) -> Option<(i64, String)> {
    let (entry, letters) = text.trim().split_once('-')?;
    let letters: String = letters
        .chars()
        .filter(|c| *c != '-' && !c.is_whitespace())
        // As Crockford's base 32 reads what is easily taken for another letter.
        .map(|c| match c.to_ascii_uppercase() {
            'O' => '0',
            'I' | 'L' => '1',
            c => c,
        })
        .collect();
    let is_code = letters.len() == CODE_LETTERS && letters.bytes().all(|b| LETTERS.contains(&b));
    let entry: i64 = entry.parse().ok().filter(|n| *n >= 0)?;
    is_code.then_some((entry, letters))
}

fn book_of(c: &Connection) -> Result<String, StoreError> {
    Ok(settings::setting(c, BOOK_ID)?.unwrap_or_default())
}

/// Returns the code of the newest entry.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn code(c: &Connection) -> Result<String, StoreError> {
    let (entry, link) = chain::head(c)?;
    Ok(code_of(&book_of(c)?, entry, &link))
}

impl SignedHead {
    fn message(&self) -> Vec<u8> {
        let parts = [
            FORMAT,
            &self.book,
            &self.entry.to_string(),
            &self.link,
            &self.at,
            &self.entries.to_string(),
            &self.jobs.to_string(),
        ];
        hash(&parts.map(str::as_bytes)).to_vec()
    }

    /// Signs the newest entry of a book.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub(super) fn sign(c: &Connection, seed: &[u8; SEED], at: &str) -> Result<Self, StoreError> {
        let (entry, link) = chain::head(c)?;
        let count = |sql: &str| c.query_row(sql, [], |r| r.get::<_, i64>(0));
        let key = SigningKey::from_bytes(seed);
        let mut head = Self {
            format: FORMAT.to_owned(),
            book: book_of(c)?,
            entry,
            link: hex(&link),
            at: at.to_owned(),
            entries: count("SELECT count(*) FROM history")?,
            jobs: count("SELECT count(*) FROM job")?,
            key: hex(key.verifying_key().as_bytes()),
            signature: String::new(),
        };
        head.signature = hex(&key.sign(&head.message()).to_bytes());
        Ok(head)
    }

    fn is_signed(&self) -> bool {
        let key = unhex(&self.key)
            .and_then(|k| k.try_into().ok())
            .and_then(|k| VerifyingKey::from_bytes(&k).ok());
        let signature = unhex(&self.signature).and_then(|s| Signature::from_slice(&s).ok());
        match (key, signature) {
            (Some(key), Some(signature)) => key.verify(&self.message(), &signature).is_ok(),
            _ => false,
        }
    }
}

fn link_of(c: &Connection, entry: i64) -> Result<Option<Hash>, StoreError> {
    if entry == 0 {
        return Ok(Some(super::hash::FIRST));
    }
    Ok(c.prepare_cached("SELECT link FROM history WHERE id = ?1")?
        .query_row([entry], |r| r.get(0))
        .optional()?)
}

/// Compares a book with a code, or with the text of a file that lay beside a backup.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn against(
    c: &Connection,
    kept: &str,
    own: Option<&[u8; SEED]>,
) -> Result<Against, StoreError> {
    let (book, (newest, _)) = (book_of(c)?, chain::head(c)?);
    if let Some((entry, letters)) = read_code(kept) {
        let held = link_of(c, entry)?
            .map(|link| code_of(&book, entry, &link))
            .and_then(|code| read_code(&code))
            .is_some_and(|(_, found)| found == letters);
        return Ok(if held {
            Against::Held(newest - entry)
        } else {
            Against::NotHeld(entry)
        });
    }
    let Ok(head) = serde_json::from_str::<SignedHead>(kept) else {
        return Ok(Against::Unreadable);
    };
    if head.format != FORMAT || !head.is_signed() {
        return Ok(Against::NotSigned);
    }
    if head.book != book {
        return Ok(Against::OtherBook);
    }
    let held = link_of(c, head.entry)?.is_some_and(|link| hex(&link) == head.link);
    if !held {
        return Ok(Against::NotHeld(head.entry));
    }
    let own = own.map(|seed| hex(SigningKey::from_bytes(seed).verifying_key().as_bytes()));
    Ok(if own.is_some_and(|own| own != head.key) {
        Against::OtherKey(newest - head.entry)
    } else {
        Against::Held(newest - head.entry)
    })
}

/// Returns the key of a plain book from a directory of keys; `None` where there is none yet.
pub(super) fn seed_in(directory: &Path, book: &str) -> Option<Zeroizing<[u8; SEED]>> {
    let text = std::fs::read_to_string(key_path(directory, book)).ok()?;
    let seed: [u8; SEED] = unhex(text.trim())?.try_into().ok()?;
    Some(Zeroizing::new(seed))
}

fn key_path(directory: &Path, book: &str) -> PathBuf {
    directory.join(format!("head-{book}.key"))
}

/// Returns the key of a plain book from a directory of keys, made where there is none yet.
///
/// # Errors
/// [`StoreError::HeadKey`] when it can be neither read nor made.
pub(super) fn seed_made_in(
    directory: &Path,
    book: &str,
) -> Result<Zeroizing<[u8; SEED]>, StoreError> {
    if let Some(seed) = seed_in(directory, book) {
        return Ok(seed);
    }
    let why = |e: std::io::Error| StoreError::HeadKey(e.kind());
    if !directory.exists() {
        connection::make_directory(directory).map_err(why)?;
    }
    let path = key_path(directory, book);
    let mut seed = Zeroizing::new([0; SEED]);
    getrandom::fill(seed.as_mut_slice()).map_err(|_| StoreError::NoRandom)?;
    let mut text = Zeroizing::new(String::new());
    for byte in seed.iter() {
        // Writing to a string does not fail.
        let _ = write!(text, "{byte:02x}");
    }
    match connection::private_file(&path) {
        Ok(()) => std::fs::write(&path, text.as_bytes()).map_err(why)?,
        // Another process was faster, or what is there is no key.
        Err(e) => return seed_in(directory, book).ok_or_else(|| why(e)),
    }
    Ok(seed)
}

/// Returns the key of an encrypted book, from the key of the book itself.
pub(super) fn seed_from(book_key: &[u8]) -> Zeroizing<[u8; SEED]> {
    let mut sha = Sha256::new();
    sha.update(b"rimbook head key 1");
    sha.update(book_key);
    Zeroizing::new(sha.finalize().into())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_read_as_it_is_written_down() {
        let code = code_of("a book", 79, &[7; 32]);
        assert_eq!(code.len(), "79".len() + 6 * 5, "{code}");
        let (entry, letters) = read_code(&code).unwrap();
        assert_eq!(entry, 79);
        let small = code.to_lowercase().replace('0', "o").replace('1', "l");
        assert_eq!(read_code(&small), Some((79, letters)));
        for other in [
            "",
            "79",
            "79-ABCD",
            "x-ABCD",
            "-1-ABCD-EFGH-JKMN-PQRS-TVWX-YZ01",
        ] {
            assert_eq!(read_code(other), None, "{other}");
        }
        let one_later = code_of("a book", 80, &[7; 32]);
        assert_ne!(
            code.split_once('-').unwrap().1,
            one_later.split_once('-').unwrap().1
        );
    }
}
