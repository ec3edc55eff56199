//! Suggestions from earlier jobs, so that nobody types the same words twice.

use chrono::NaiveDate;

use super::error::DeskError;
use super::open::Desk;
use crate::book::store::key_of;
use crate::job::Wearer;

/// How many of the newest jobs are looked at.
const JOBS: u32 = 50;
/// How many of the newest acceptances.
const ACCEPTANCES: u32 = 300;
/// For how many wearers a reason must have been given before it is offered for another: a reason
/// given for two may still describe a face; given for three it is a phrase of the practice.
const WEARERS: usize = 3;

/// Earlier texts, each once and the newest first. A reason may identify a wearer: which
/// may be offered is decided by [`Suggestions::reasons_for`].
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Suggestions {
    /// Laboratories.
    pub laboratories: Vec<String>,
    /// Prescribers.
    pub prescribers: Vec<String>,
    /// Coatings of a pair, as they are typed.
    pub coatings: Vec<String>,
    /// Makers of frames.
    pub frame_makers: Vec<String>,
    /// Suppliers of frames.
    pub frame_suppliers: Vec<String>,
    /// Makers of lenses.
    pub lens_makers: Vec<String>,
    /// Products of lenses.
    pub lens_products: Vec<String>,
    /// Variants of products.
    pub lens_variants: Vec<String>,
    /// Reasons of acceptances.
    pub reasons: Vec<PastReason>,
}

/// A reason for which a finding was accepted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PastReason {
    /// Number of the job.
    pub number: String,
    /// Whose job it is.
    pub wearer: WearerId,
    /// Id of the check.
    pub check: String,
    /// The reason.
    pub reason: String,
}

/// What identifies a wearer across jobs: name and date of birth.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WearerId {
    /// The normalised name; empty without a name.
    pub key: String,
    /// Date of birth.
    pub born: Option<NaiveDate>,
}

impl WearerId {
    /// Returns the identity of a wearer.
    pub fn of(wearer: &Wearer) -> Self {
        Self {
            key: key_of(wearer.name.as_deref().unwrap_or_default()),
            born: wearer.born,
        }
    }

    /// Whether both are the same wearer: nobody without a name, no namesake born on another day.
    fn is(&self, other: &Self) -> bool {
        !self.key.is_empty() && self == other
    }
}

impl Suggestions {
    /// Returns the reasons that may be offered for a check of a job, the newest first: those given
    /// for this job or another of the same wearer, and those given for three different wearers at
    /// least. What was written about one wearer, for however many of their pairs, is theirs.
    ///
    /// Wearers are counted by name alone: the same name with and without a date of birth may be one.
    pub fn reasons_for(&self, check: &str, number: &str, wearer: &WearerId) -> Vec<&str> {
        let of_check = || self.reasons.iter().filter(|g| g.check == check);
        let mut out: Vec<&str> = Vec::new();
        for given in of_check() {
            let same = || of_check().filter(|g| g.reason == given.reason);
            let is_theirs = same().any(|g| g.number == number || g.wearer.is(wearer));
            let mut wearers: Vec<&str> = same().map(|g| g.wearer.key.as_str()).collect();
            wearers.sort_unstable();
            wearers.dedup();
            if (is_theirs || wearers.len() >= WEARERS) && !out.contains(&given.reason.as_str()) {
                out.push(&given.reason);
            }
        }
        out
    }
}

fn add(words: &mut Vec<String>, word: Option<String>) {
    if let Some(word) = word.filter(|w| !w.trim().is_empty())
        && !words.contains(&word)
    {
        words.push(word);
    }
}

impl Desk {
    /// Returns what was written in the newest jobs and acceptances and may be offered again.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn suggestions(&self) -> Result<Suggestions, DeskError> {
        let mut suggestions = Suggestions::default();
        for job in self.store.written_lately(JOBS)? {
            add(&mut suggestions.laboratories, job.laboratory);
            add(&mut suggestions.prescribers, job.prescriber);
            add(
                &mut suggestions.coatings,
                job.coatings.map(|c| c.join(", ")),
            );
            add(&mut suggestions.frame_makers, job.frame_maker);
            add(&mut suggestions.frame_suppliers, job.frame_supplier);
            add(&mut suggestions.lens_makers, job.lens_maker);
            add(&mut suggestions.lens_products, job.lens_product);
            add(&mut suggestions.lens_variants, job.lens_variant);
        }
        suggestions.reasons = self
            .store
            .accepted_lately(ACCEPTANCES)?
            .into_iter()
            .map(|accepted| PastReason {
                number: accepted.number,
                wearer: WearerId {
                    key: accepted.wearer_key,
                    born: accepted.born,
                },
                check: accepted.acceptance.check,
                reason: accepted.acceptance.reason,
            })
            .collect();
        Ok(suggestions)
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::{PastReason, Suggestions, WearerId};

    fn whose(key: &str, year: i32) -> WearerId {
        WearerId {
            key: key.to_owned(),
            born: NaiveDate::from_ymd_opt(year, 1, 2),
        }
    }

    fn given(number: &str, key: &str, check: &str, reason: &str) -> PastReason {
        PastReason {
            number: number.to_owned(),
            wearer: whose(key, 1980),
            check: check.to_owned(),
            reason: reason.to_owned(),
        }
    }

    const NOSE: &str = "the nose is set to the right";
    const PHRASE: &str = "agreed by telephone";

    #[test]
    fn a_reason_is_offered_to_its_own_wearer_or_once_three_wearers_had_it() {
        let mut suggestions = Suggestions {
            reasons: vec![
                given("9", "ada", "a", NOSE),
                given("8", "ada", "a", NOSE),
                given("7", "ada", "a", NOSE),
                given("6", "bela", "a", PHRASE),
                given("5", "ivor", "a", PHRASE),
                given("4", "ivor", "b", "another check"),
            ],
            ..Suggestions::default()
        };
        // Three pairs of one wearer, and two wearers, are too few.
        assert!(
            suggestions
                .reasons_for("a", "3", &whose("cora", 1980))
                .is_empty()
        );
        // A further pair of the same wearer, or a job whose name was put right since.
        assert_eq!(
            suggestions.reasons_for("a", "3", &whose("ada", 1980)),
            [NOSE]
        );
        assert_eq!(
            suggestions.reasons_for("a", "9", &whose("adah", 1980)),
            [NOSE]
        );
        // A namesake is somebody else.
        assert!(
            suggestions
                .reasons_for("a", "3", &whose("ada", 1991))
                .is_empty()
        );
        suggestions.reasons.push(given("2", "dora", "a", PHRASE));
        assert_eq!(
            suggestions.reasons_for("a", "3", &whose("cora", 1980)),
            [PHRASE]
        );
        assert!(
            suggestions
                .reasons_for("b", "3", &whose("cora", 1980))
                .is_empty()
        );
    }

    #[test]
    fn one_wearer_written_with_and_without_a_date_of_birth_counts_once() {
        let mut reasons: Vec<PastReason> =
            ["9", "8", "7"].map(|n| given(n, "ada", "a", NOSE)).into();
        reasons[1].wearer.born = None;
        reasons[2].wearer = whose("ada", 1981);
        reasons.push(given("6", "bela", "a", NOSE));
        let suggestions = Suggestions {
            reasons,
            ..Suggestions::default()
        };
        assert!(
            suggestions
                .reasons_for("a", "3", &whose("cora", 1980))
                .is_empty()
        );
    }

    #[test]
    fn jobs_without_a_name_are_not_one_wearers() {
        let suggestions = Suggestions {
            reasons: vec![given("9", "", "a", NOSE)],
            ..Suggestions::default()
        };
        assert!(
            suggestions
                .reasons_for("a", "3", &whose("", 1980))
                .is_empty()
        );
    }
}
