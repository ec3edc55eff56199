//! The words that options take for stages, gates, sections, roles and ways of contact.

use crate::job::{ContactBy, Gate, Role, Section, Stage};

fn one_of<T>(found: Option<T>, words: &[&str]) -> Result<T, String> {
    found.ok_or_else(|| format!("one of: {}", words.join(", ")))
}

pub(super) fn gate(word: &str) -> Result<Gate, String> {
    one_of(Gate::from_word(word), &["ordered", "verified", "collected"])
}

pub(super) fn stage(word: &str) -> Result<Stage, String> {
    let words: Vec<_> = Stage::ALL.iter().map(|s| s.word()).collect();
    one_of(Stage::from_word(word), &words)
}

pub(super) fn section(word: &str) -> Result<Section, String> {
    let words: Vec<_> = Section::ALL.iter().map(|s| s.word()).collect();
    one_of(Section::from_word(word), &words)
}

pub(super) fn contact_by(word: &str) -> Result<ContactBy, String> {
    let words: Vec<_> = ContactBy::ALL.iter().map(|w| w.word()).collect();
    one_of(ContactBy::from_word(word), &words)
}

pub(super) fn role(word: &str) -> Result<Role, String> {
    let words: Vec<_> = Role::ALL.iter().map(|r| r.word()).collect();
    one_of(Role::from_word(word), &words)
}
