//! The first bytes of a book's file, read as plain bytes: enough to tell whose it is.
//!
//! Three openings through the library cost more than half of a start. Where the header says by
//! itself that the file is a book of this version, one is enough; wherever it is silent or odd, the
//! careful way is taken (see [`super::open`]).

use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::sync::{Mutex, PoisonError};

use super::disk;

/// Bytes of the header and the first byte of the schema's page
/// (<https://www.sqlite.org/fileformat2.html>, "The Database Header").
const HEAD: usize = 101;
const MAGIC: &[u8] = b"SQLite format 3\0";
/// Kinds of a page that may begin a schema: an inner and a leaf page of a table.
const SCHEMA_PAGES: [u8; 2] = [5, 13];

/// Files that this process has opened by the library at any time. Reading one of those as plain
/// bytes would drop the locks on it when the reader is closed
/// (<https://www.sqlite.org/howtocorrupt.html>, section 2.2).
static OPENED: Mutex<Vec<(u64, u64)>> = Mutex::new(Vec::new());

/// Notes that a file is opened by the library; before it is.
pub(super) fn note_opened(path: &Path) {
    if let Some(file) = disk::identity(path) {
        let mut opened = OPENED.lock().unwrap_or_else(PoisonError::into_inner);
        if !opened.contains(&file) {
            opened.push(file);
        }
    }
}

/// Whether the header says that the file is whole in its length, worked in with a log, and marked
/// with these two numbers. `false` says nothing about the file, only that it must be looked into.
pub(super) fn says(path: &Path, application_id: i32, user_version: i64) -> bool {
    let Some(file) = disk::identity(path) else {
        return false;
    };
    // Held until the file is closed again: no thread opens it by the library meanwhile.
    let opened = OPENED.lock().unwrap_or_else(PoisonError::into_inner);
    if opened.contains(&file) {
        return false;
    }
    let mut head = [0; HEAD];
    let Ok(length) = File::open(path).and_then(|mut file| {
        file.read_exact(&mut head)?;
        Ok(file.metadata()?.len())
    }) else {
        return false;
    };
    drop(opened);
    is_said(&head, length, application_id, user_version)
}

fn is_said(head: &[u8; HEAD], length: u64, application_id: i32, user_version: i64) -> bool {
    let number = |at: usize| -> u32 {
        head.iter()
            .skip(at)
            .take(4)
            .fold(0, |n, byte| (n << 8) | u32::from(*byte))
    };
    let page = match u64::from(number(14) & 0xFFFF) {
        // 65 536 does not fit into its two bytes.
        1 => 65_536,
        page => page,
    };
    head.starts_with(MAGIC)
        // Written and read with a log.
        && head[18] == 2
        && head[19] == 2
        && page >= 512
        && page.is_power_of_two()
        && u64::from(number(28)) * page == length
        && i64::from(number(60)) == user_version
        && i64::from(number(68)) == i64::from(application_id)
        && SCHEMA_PAGES.contains(&head[100])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_header_says_so_only_when_every_byte_of_it_does() {
        let mut head = [0; HEAD];
        head[..16].copy_from_slice(MAGIC);
        head[16..18].copy_from_slice(&4096_u16.to_be_bytes());
        (head[18], head[19]) = (2, 2);
        head[28..32].copy_from_slice(&3_u32.to_be_bytes());
        head[60..64].copy_from_slice(&7_u32.to_be_bytes());
        head[68..72].copy_from_slice(&9_u32.to_be_bytes());
        head[100] = 13;
        assert!(is_said(&head, 3 * 4096, 9, 7));
        assert!(!is_said(&head, 3 * 4096 - 1, 9, 7), "cut short");
        assert!(!is_said(&head, 3 * 4096, 8, 7), "another program's");
        assert!(!is_said(&head, 3 * 4096, 9, 6), "another version");
        for at in [0, 15, 16, 18, 19, 28, 60, 68, 100] {
            let mut other = head;
            other[at] ^= 0x55;
            assert!(!is_said(&other, 3 * 4096, 9, 7), "byte {at}");
        }
    }

    #[test]
    fn a_file_that_is_open_is_not_read_as_plain_bytes() {
        let dir = tempfile::tempdir().unwrap();
        let at = dir.path().join("book.db");
        drop(super::super::open::create(&at).unwrap());
        let version = super::super::migrations::newest_version();
        assert!(!says(&at, super::super::open::APPLICATION_ID, version));
        let copy = dir.path().join("copy.db");
        std::fs::copy(&at, &copy).unwrap();
        assert!(says(&copy, super::super::open::APPLICATION_ID, version));
        note_opened(&copy);
        assert!(!says(&copy, super::super::open::APPLICATION_ID, version));
    }
}
