//! What was written before and may be offered again, so that nobody types it twice.

use super::{Desk, DeskError};

/// How many of the newest jobs are looked at.
const JOBS: u32 = 50;
/// How many of the newest acceptances.
const ACCEPTANCES: u32 = 300;

/// What was written before, each once and the newest first. Nothing of a wearer is among it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Used {
    /// Laboratories.
    pub laboratories: Vec<String>,
    /// Prescribers.
    pub prescribers: Vec<String>,
    /// Coatings of a pair, as they are typed.
    pub coatings: Vec<String>,
    /// Reasons of acceptances.
    pub reasons: Vec<Given>,
}

/// A reason for which a finding was accepted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Given {
    /// Number of the job.
    pub number: String,
    /// Id of the check.
    pub check: String,
    /// The reason.
    pub reason: String,
}

impl Used {
    /// Returns the reasons that may be offered for a check of a job, the newest first: those given
    /// for this job, and those given for two others at least. One that was written about another
    /// wearer alone is that wearer's.
    pub fn reasons_for(&self, check: &str, number: &str) -> Vec<&str> {
        let of_check = || self.reasons.iter().filter(|g| g.check == check);
        let mut out: Vec<&str> = Vec::new();
        for given in of_check() {
            let mut jobs: Vec<&str> = of_check()
                .filter(|g| g.reason == given.reason)
                .map(|g| g.number.as_str())
                .collect();
            jobs.sort_unstable();
            jobs.dedup();
            let is_offered = jobs.contains(&number) || jobs.len() > 1;
            if is_offered && !out.contains(&given.reason.as_str()) {
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
    pub fn used(&self) -> Result<Used, DeskError> {
        let mut used = Used::default();
        for (laboratory, prescriber, coatings) in self.store.written_lately(JOBS)? {
            add(&mut used.laboratories, laboratory);
            add(&mut used.prescribers, prescriber);
            add(&mut used.coatings, coatings.map(|c| c.join(", ")));
        }
        used.reasons = self
            .store
            .accepted_lately(ACCEPTANCES)?
            .into_iter()
            .map(|(number, a)| Given {
                number,
                check: a.check,
                reason: a.reason,
            })
            .collect();
        Ok(used)
    }
}

#[cfg(test)]
mod tests {
    use super::{Given, Used};

    #[test]
    fn a_reason_is_offered_to_its_own_job_or_once_it_was_given_for_two() {
        let given = |number: &str, check: &str, reason: &str| Given {
            number: number.to_owned(),
            check: check.to_owned(),
            reason: reason.to_owned(),
        };
        let used = Used {
            reasons: vec![
                given("9", "a", "agreed by telephone"),
                given("8", "a", "her nose is set to the right"),
                given("7", "a", "agreed by telephone"),
                given("8", "b", "another check"),
                given("8", "a", "her nose is set to the right"),
            ],
            ..Used::default()
        };
        assert_eq!(used.reasons_for("a", "5"), ["agreed by telephone"]);
        assert_eq!(
            used.reasons_for("a", "8"),
            ["agreed by telephone", "her nose is set to the right"]
        );
        assert!(used.reasons_for("b", "5").is_empty());
    }
}
