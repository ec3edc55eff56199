//! What the outcome of a visit makes of its job.

use super::{Job, Outcome, Reason, Stage};

impl Job {
    /// The outcome with which the visit of a recheck was closed; none while somebody still has to
    /// do something about it.
    pub fn closed_as(&self) -> Option<Outcome> {
        let is_over = self.reason == Some(Reason::Recheck) && self.stage() == Stage::Cancelled;
        self.visit
            .outcome
            .filter(|o| is_over && *o != Outcome::Waiting)
    }

    /// Closes the visit of a recheck by its outcome, or opens it again; says so in the words of a
    /// history, where it changed. A pair to be made again stays in view until its remake is begun,
    /// and what was ordered goes its own way.
    pub fn settle_visit(&mut self, before: Option<Outcome>) -> Option<&'static str> {
        let was_closed = self.stage() == Stage::Cancelled;
        if self.reason != Some(Reason::Recheck) || !(was_closed || self.stage() == Stage::Measured)
        {
            return None;
        }
        let closes = match self.visit.outcome {
            None | Some(Outcome::Waiting) => false,
            Some(Outcome::Remade) => was_closed && before == Some(Outcome::Remade),
            // Words that may mean a disease, which came after the decision or of which nobody was
            // told after all, keep it in view; to ask for a re-test is to tell.
            Some(Outcome::Adjusted | Outcome::Returned) => !self.visit.is_warning_unreported(),
            Some(Outcome::RetestAsked) => true,
        };
        match (was_closed, closes) {
            (false, true) => {
                self.stage = Some(Stage::Cancelled);
                Some("closed")
            }
            (true, false) => {
                self.stage = Some(Stage::Measured);
                Some("opened again")
            }
            _ => None,
        }
    }

    /// The stage of the job, in words: a visit that is over says what came of it.
    pub fn stage_words(&self) -> String {
        self.closed_as()
            .map_or_else(|| self.stage().to_string(), |o| format!("closed: {o}"))
    }
}
