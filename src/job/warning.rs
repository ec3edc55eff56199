//! Words about a pair that came back that may mean a disease. They come before everything else: what
//! is adjusted first is time lost.

use super::{Complaint, Visit};

/// Words in free text that may mean a disease.
const DANGER: &[&str] = &[
    "sudden",
    "flash",
    "curtain",
    "veil",
    "floater",
    "double",
    "pain",
    "tender",
    "numb",
    "weak",
    "loss of sight",
    "lost sight",
    "lost vision",
    "went dark",
    "went black",
    "droop",
];

/// Returns the danger words in a text.
pub fn danger_words(text: &str) -> Vec<&'static str> {
    let text = text.to_lowercase();
    // Where the word before says that there is none, it is no danger.
    DANGER
        .iter()
        .copied()
        .filter(|w| {
            text.match_indices(*w).any(|(at, _)| {
                let before = text.get(..at).unwrap_or_default();
                let last = before.split_whitespace().last().unwrap_or_default();
                !matches!(last, "no" | "not" | "without" | "never")
            })
        })
        .collect()
}

impl Visit {
    /// Returns what in the wearer's words may mean a disease, a few words each; nothing where none
    /// may.
    pub fn warning_signs(&self) -> Vec<String> {
        let mut signs: Vec<String> = danger_words(self.complaint.as_deref().unwrap_or_default())
            .into_iter()
            .map(|w| format!("\"{w}\""))
            .collect();
        let kinds = self.complaints.as_deref().unwrap_or_default();
        if kinds.contains(&Complaint::Warning) {
            signs.push(Complaint::Warning.word().to_owned());
        }
        signs
    }

    /// Whether the wearer's words may mean a disease and nobody is entered as told of them.
    pub fn is_warning_unreported(&self) -> bool {
        let told = self.warning_told.as_deref().unwrap_or_default();
        told.trim().is_empty() && !self.warning_signs().is_empty()
    }
}
