//! Appointments as iCalendar (RFC 5545): written from plain values, without a clock.
//!
//! A calendar is shown on many screens and kept by others, so an event says no more than "Collection"
//! and the number of the job: there is no place here for a name, a telephone number or a power.

use std::fmt::Write as _;

use chrono::NaiveDateTime;
use sha2::{Digest, Sha256};

use crate::text::printable;

/// The most octets of a line, its end not counted (RFC 5545, 3.1).
const LINE_OCTETS: usize = 75;

/// An appointment for a collection.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Appointment {
    /// The unique id of the event; it stays the same for as long as the job exists.
    pub uid: String,
    /// Number of the job.
    pub number: String,
    /// When it begins, UTC.
    pub starts_at: NaiveDateTime,
    /// How long it takes, minutes; at least one is written.
    pub minutes: u32,
    /// When the job was last changed, UTC.
    pub changed_at: NaiveDateTime,
    /// Rises with every change of the job.
    pub sequence: u32,
    /// Whether the job was cancelled.
    pub cancelled: bool,
}

/// Returns the id of a job's appointment: a hash, so that nobody reads a book or a wearer from it.
///
/// The book's own id is random, so the hash cannot be made again from a number alone.
pub fn uid(book_id: &str, number: &str) -> String {
    let mut hash = Sha256::new();
    // Each part with its length before it: no two pairs give the same bytes.
    for part in ["rimbook appointment", book_id, number] {
        hash.update(u64::try_from(part.len()).unwrap_or(u64::MAX).to_be_bytes());
        hash.update(part);
    }
    let mut id = String::with_capacity(36);
    for (at, byte) in hash.finalize().iter().take(16).enumerate() {
        // The marks of a UUID of an own kind, version 8 (RFC 9562, 5.8).
        let byte = match at {
            6 => (byte & 0x0f) | 0x80,
            8 => (byte & 0x3f) | 0x80,
            _ => *byte,
        };
        if matches!(at, 4 | 6 | 8 | 10) {
            id.push('-');
        }
        // A String takes every write.
        let _ = write!(id, "{byte:02x}");
    }
    id
}

/// Returns the calendar of some appointments; a calendar without any is none by the standard.
pub fn write(appointments: &[Appointment]) -> Option<String> {
    if appointments.is_empty() {
        return None;
    }
    let mut out = String::new();
    line(&mut out, "BEGIN:VCALENDAR");
    line(&mut out, "VERSION:2.0");
    let product = concat!(
        "PRODID:-//rimbook//rimbook ",
        env!("CARGO_PKG_VERSION"),
        "//EN"
    );
    line(&mut out, product);
    line(&mut out, "CALSCALE:GREGORIAN");
    for appointment in appointments {
        event(&mut out, appointment);
    }
    line(&mut out, "END:VCALENDAR");
    Some(out)
}

fn event(out: &mut String, a: &Appointment) {
    let status = if a.cancelled {
        "CANCELLED"
    } else {
        "CONFIRMED"
    };
    let summary = format!("Collection {}", a.number);
    line(out, "BEGIN:VEVENT");
    line(out, &format!("UID:{}", escape(&a.uid)));
    line(out, &format!("DTSTAMP:{}", utc(a.changed_at)));
    line(out, &format!("DTSTART:{}", utc(a.starts_at)));
    line(out, &format!("DURATION:PT{}M", a.minutes.max(1)));
    line(out, &format!("SEQUENCE:{}", a.sequence));
    line(out, &format!("STATUS:{status}"));
    line(out, "CLASS:PRIVATE");
    line(out, &format!("SUMMARY:{}", escape(&summary)));
    line(out, "END:VEVENT");
}

fn utc(at: NaiveDateTime) -> String {
    at.format("%Y%m%dT%H%M%SZ").to_string()
}

/// Returns text as a value of type TEXT (RFC 5545, 3.3.11); control characters have no place in one.
pub(crate) fn escape(text: &str) -> String {
    let text = printable(text);
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if matches!(c, '\\' | ';' | ',') {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

/// Adds a line, folded where it is too long; no character is taken apart.
fn line(out: &mut String, text: &str) {
    let mut octets = 0;
    for c in text.chars() {
        if octets + c.len_utf8() > LINE_OCTETS {
            out.push_str("\r\n ");
            octets = 1;
        }
        out.push(c);
        octets += c.len_utf8();
    }
    out.push_str("\r\n");
}
