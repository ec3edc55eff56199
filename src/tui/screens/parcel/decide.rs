//! What becomes of the pair in hand: the verdict, passing it, sending it back, looking at its gate or
//! its form.

use serde_json::json;

use super::state::{State, findings, take_up_first};
use super::{steps, verdict};
use crate::job::fields;
use crate::judge::gate::faults::repeated;
use crate::judge::gate::{CheckId, Finding, Seen as Found, Work};
use crate::judge::rules::blind_reading::hidden_because;
use crate::practice::Threshold;
use crate::tui::action::Action;
use crate::tui::editor::Editor;
use crate::tui::effect::Effect;
use crate::tui::gating;
use crate::tui::next::Next;
use crate::tui::screen_name::Screen;
use crate::tui::seen::Seen;

impl State {
    /// Whether the verdict asks to confirm something.
    pub(super) fn asks(&self, seen: Seen<'_>) -> bool {
        let verdict =
            (self.pair(seen)).map(|job| verdict::judge(job, findings(seen), seen.practice).0);
        matches!(verdict, Some(verdict::Verdict::Confirm(_)))
    }

    pub(super) fn yes_no(&mut self, yes: bool, seen: Seen<'_>) -> Next {
        if self.shows_verdict(seen) {
            // Only what the verdict asks is answered: nobody confirms what was not read.
            let pair = self.pair(seen).filter(|_| self.asks(seen));
            let Some(next) = pair.and_then(steps::to_confirm) else {
                return Next::say("Nothing is asked here.");
            };
            return self.record(json!({ next.key: yes }), None, seen);
        }
        let Some(step) = self.steps(seen).into_iter().nth(self.row) else {
            return Next::Stay;
        };
        let (Some((good, bad)), Some(field)) = (step.yes_no, fields::find(&step.path)) else {
            let text = format!("{}: this one is a value; type it.", step.question);
            return Next::complain(text);
        };
        let value = if yes { good } else { bad };
        self.record(fields::change(field, value), None, seen)
    }

    /// Shows the verdict, or goes back to the steps.
    pub(super) fn turn_to_verdict(&mut self, seen: Seen<'_>) -> Next {
        if self.shows_verdict(seen) {
            self.shown = false;
            return Next::Stay;
        }
        let Some(job) = self.pair(seen) else {
            return take_up_first(seen);
        };
        if let Some(why) = hidden_because(job, seen.practice) {
            return Next::complain(why);
        }
        (self.shown, self.top) = (true, 0);
        Next::Stay
    }

    /// Passes the pair, when it was read well enough to be judged.
    pub(super) fn move_on(&mut self, seen: Seen<'_>) -> Next {
        match (seen.job, self.hides(seen)) {
            (Some(job), false) => gating::act(job, Action::Move),
            _ => self.turn_to_verdict(seen),
        }
    }

    /// Asks why the pair goes back, with what failed put in already.
    pub(super) fn send_back(&self, seen: Seen<'_>) -> Next {
        let Some(job) = seen.job else {
            return Next::Stay;
        };
        if !job.open.job.stage().can_send_back() {
            return gating::act(job, Action::SendBack);
        }
        let reason = gating::why_back(self.faults_found(seen));
        let faults = self.faults(seen);
        let remark = faults.first().map(|first| format!(" ({first})"));
        let number = job.open.number.clone();
        gating::ask_send_back(number, &remark.unwrap_or_default(), &reason)
    }

    /// What the laboratory has done wrong; while the order is hidden, what is seen without a reading.
    pub(super) fn faults_found<'a>(&self, seen: Seen<'a>) -> impl Iterator<Item = &'a Finding> {
        let hides = self.hides(seen);
        gating::faults(findings(seen))
            .filter(move |f| !hides || f.work == Work::Laboratory(Found::ByLooking))
    }

    /// What the laboratory has done wrong before and again now, a sentence each.
    pub(super) fn faults(&self, seen: Seen<'_>) -> Vec<String> {
        let pair = self.pair(seen);
        let Some(laboratory) = pair.and_then(|j| j.order.laboratory.as_deref()) else {
            return Vec::new();
        };
        let now: Vec<CheckId> = self.faults_found(seen).map(|f| f.check).collect();
        #[allow(
            clippy::cast_possible_truncation,
            reason = "a setting between 0 and 1000"
        )]
        let days = seen.practice.thresholds.get(Threshold::FaultDays) as i64;
        repeated(&self.sent_back, laboratory, &now, seen.today, days)
    }

    /// Opens the form or the gate of the job in hand, or of the one selected. Both compare readings
    /// with the order: of a pair in hand they are shown once its readings are in.
    pub(super) fn look(&mut self, gate: bool, seen: Seen<'_>) -> Next {
        let pair = self.pair(seen);
        if let Some(why) = pair.and_then(|job| hidden_because(job, seen.practice)) {
            return say_hidden(&why, gate, seen);
        }
        let selected = self.lines.get(self.selected);
        let number = self.in_hand.as_ref().or(selected.map(|l| &l.number));
        let Some(number) = number.cloned() else {
            return Next::Stay;
        };
        self.editor = Editor::default();
        let screen = if gate { Screen::Gate } else { Screen::Job };
        Next::CloseJob
            .and(Next::Go(screen))
            .and(Next::Do(vec![Effect::Open(number)]))
    }

    /// Records what is being typed and shows the gate; what cannot be kept stays, with the reason
    /// under it. Whether the gate may be shown is judged by the readings as they are kept, so after
    /// that one.
    pub(super) fn gate(&mut self, seen: Seen<'_>) -> Next {
        if !self.editor.is_open() {
            return self.show_gate(seen);
        }
        let kept = self.commit(seen);
        match self.editor.edit().map(|e| e.error.is_some()) {
            None => self.wants_gate = true,
            Some(true) => {
                return kept.and(Next::complain(seen.keys.sentence(
                    "The gate is not shown yet: what is typed cannot be kept, and why stands with it. \
                     Correct it, or {restore} drops it.",
                )));
            }
            // First somebody says who they are.
            Some(false) => {}
        }
        kept
    }

    pub(super) fn show_gate(&self, seen: Seen<'_>) -> Next {
        let pair = self.pair(seen);
        match pair.and_then(|job| hidden_because(job, seen.practice)) {
            Some(why) => say_hidden(&why, true, seen),
            None if seen.job.is_some() => Next::Go(Screen::Gate),
            None => Next::Stay,
        }
    }
}

/// Says why the gate or the form is not shown, and how whoever has to see it gets there.
fn say_hidden(why: &str, gate: bool, seen: Seen<'_>) -> Next {
    let (action, what) = if gate {
        (Action::OpenGate, "the gate")
    } else {
        (Action::OpenJob, "the form")
    };
    let [back, key] = [Action::Back, action].map(|a| seen.keys.shown(a).unwrap_or_default());
    Next::complain(format!(
        "{why} {back} puts the pair down; {key} in the list then shows {what}, and the order in it."
    ))
}
