//! Accepting a warning with a reason.

use serde_json::json;

use super::error::DeskError;
use super::open::Desk;
use super::record::Happened;
use super::view::Accepted;
use crate::judge::gate::{Acceptance, CheckId, Refusal};

impl Desk {
    /// Settles the open findings of a check at the job's next gate, as far as the role may.
    ///
    /// Without an eye, every open finding of the check is settled. An acceptance holds as long as
    /// the values it was given for.
    ///
    /// # Errors
    /// [`DeskError`] when the person or the job does not exist. A refusal is an answer, not an error.
    pub fn accept(
        &mut self,
        number: &str,
        check: &str,
        eye: Option<&str>,
        by: &str,
        reason: &str,
    ) -> Result<Accepted, DeskError> {
        let person = self.person(by)?;
        let open = self.load(number)?;
        let refused = |message: String| Ok(Accepted { ok: false, message });
        let Some(gate) = open.job.stage().next_gate().filter(|_| !open.job.is_past()) else {
            return refused(format!(
                "job {number} stands at {}: nothing holds it",
                open.job.stage()
            ));
        };
        let Some(check) = CheckId::from_word(check) else {
            return refused(format!(
                "there is no check {check:?}: rimbook checks lists them"
            ));
        };
        let (today, rule) = (self.today(), self.practice()?.registration);
        let mut given: Vec<Acceptance> = Vec::new();
        let mut refusal: Option<Refusal> = None;
        for finding in self.findings(&open, gate)? {
            let wanted =
                finding.check == check && eye.is_none_or(|e| finding.eye.word() == Some(e));
            if !wanted || !finding.is_open() {
                continue;
            }
            match Acceptance::of(&finding, &person, rule, reason, today) {
                Ok(acceptance) => given.push(acceptance),
                Err(why) => refusal = Some(why),
            }
        }
        if given.is_empty() {
            return refused(refusal.map_or_else(
                || format!("{check} does not hold job {number} at the gate to {gate}"),
                |why| why.to_string(),
            ));
        }
        let count = given.len();
        let message = format!(
            "{check}: {count} finding{} accepted by {}",
            if count == 1 { "" } else { "s" },
            person.name
        );
        let keep = |write: &crate::book::store::Write<'_>, id| {
            for acceptance in &given {
                write.accept(id, acceptance)?;
            }
            Ok(())
        };
        self.change(number, Some(open.revision), &keep, |_| {
            Ok(Happened {
                by: Some(&person.name),
                what: "accepted",
                detail: json!({"accepted": given}),
            })
        })?;
        Ok(Accepted { ok: true, message })
    }
}
