//! What the parcel remembers, and what a key makes of it.

use super::steps::{self, Step};
use super::verdict;
use crate::book::desk::{Draft, JobLine};
use crate::job::{Job, Stage};
use crate::judge::gate::Finding;
use crate::judge::gate::faults::SentBack;
use crate::judge::rules::blind_reading::is_hidden;
use crate::tui::action::Action;
use crate::tui::editor::{Editor, typed_earlier};
use crate::tui::effect::Effect;
use crate::tui::line::Line;
use crate::tui::list::moved;
use crate::tui::next::Next;
use crate::tui::screen_name::Screen;
use crate::tui::seen::Seen;

/// The run through the parcel.
#[derive(Debug, Default)]
pub struct State {
    /// The jobs with the laboratory: what is late or due first, what was done in this run last.
    pub lines: Vec<JobLine>,
    /// Place of the selected one.
    pub selected: usize,
    /// A number as it is typed or scanned.
    pub number: Line,
    /// Number of the job in hand.
    pub in_hand: Option<String>,
    /// The reading being typed.
    pub editor: Editor,
    /// Place of the step the cursor is on.
    pub row: usize,
    /// First row of the verdict that is shown.
    pub(super) top: usize,
    /// Whether the verdict is shown rather than the steps.
    pub shown: bool,
    /// Numbers that were passed or sent back in this run.
    pub done: Vec<String>,
    /// Number of the job that the reading being typed belongs to.
    pub(super) typed_for: Option<String>,
    /// The reading that was sent to be kept corrects an answer: another may follow, so the steps
    /// stay.
    pub(super) corrects: bool,
    /// The gate was asked for while a reading was typed: it is shown once that reading is kept.
    pub(super) wants_gate: bool,
    /// What was sent back lately, of every laboratory.
    pub(super) sent_back: Vec<SentBack>,
}

impl State {
    /// The job in hand, once it is read and while it is ordered.
    pub fn pair<'a>(&self, seen: Seen<'a>) -> Option<&'a Job> {
        let number = self.in_hand.as_ref()?;
        let open = &seen.job?.open;
        (open.number == *number && open.job.stage() == Stage::Ordered).then_some(&open.job)
    }

    /// Whether the verdict is shown; never before every reading that decides is in.
    pub fn shows_verdict(&self, seen: Seen<'_>) -> bool {
        self.shown && !self.hides(seen)
    }

    /// Whether nothing of the order may be shown; without a pair in hand there is nothing to show.
    pub(super) fn hides(&self, seen: Seen<'_>) -> bool {
        let pair = self.pair(seen);
        pair.is_none_or(|job| is_hidden(job, seen.practice))
    }

    /// The steps of the pair in hand.
    pub(super) fn steps(&self, seen: Seen<'_>) -> Vec<Step> {
        let pair = self.pair(seen);
        pair.map_or_else(Vec::new, |job| steps::steps(job, seen.practice))
    }

    /// Takes the ordered jobs from the worklist.
    pub(super) fn take(&mut self, seen: Seen<'_>) {
        let chosen = self.lines.get(self.selected).map(|l| l.number.clone());
        let done = &self.done;
        let ordered = seen.lines.iter().filter(|l| l.stage == Stage::Ordered);
        let mut lines: Vec<JobLine> = ordered.cloned().collect();
        lines.sort_by_cached_key(|l| {
            let is_undated = l.due_on.is_none();
            let is_done = done.contains(&l.number);
            (is_done, is_undated, l.due_on, l.number.clone())
        });
        let is_chosen =
            |l: &JobLine| Some(&l.number) == chosen.as_ref() && !done.contains(&l.number);
        self.selected = lines.iter().position(is_chosen).unwrap_or(0);
        if !lines
            .iter()
            .any(|l| Some(&l.number) == self.in_hand.as_ref())
        {
            self.in_hand = None;
        }
        self.lines = lines;
    }

    /// Takes up the job of a number, typed or scanned; the end of it is enough where only one fits.
    pub(super) fn pick(&mut self, number: &str) -> Next {
        let wanted = number.trim();
        let same = |l: &&JobLine| l.number.eq_ignore_ascii_case(wanted);
        let ends = |l: &&JobLine| {
            let (all, end) = (l.number.to_lowercase(), wanted.to_lowercase());
            !end.is_empty() && all.ends_with(&end)
        };
        let exact = self.lines.iter().find(same);
        let ending: Vec<&JobLine> = self.lines.iter().filter(ends).collect();
        let found = match (exact, ending.as_slice()) {
            (Some(line), _) => Ok(line.number.clone()),
            (None, [one]) => Ok(one.number.clone()),
            (None, []) => Err(format!(
                "No pair that is with the laboratory has the number {wanted}: look it up with its name, or see whether it is ordered."
            )),
            (None, more) => Err(format!(
                "{} pairs have a number that ends in {wanted}: type more of it.",
                more.len()
            )),
        };
        self.number = Line::default();
        match found {
            Ok(number) => {
                let is_it = |l: &JobLine| l.number == number;
                self.selected = self.lines.iter().position(is_it).unwrap_or(0);
                self.in_hand = Some(number.clone());
                (self.shown, self.row, self.top) = (false, 0, 0);
                self.editor = Editor::default();
                Next::CloseJob.and(Next::Do(vec![Effect::Open(number)]))
            }
            Err(why) => Next::complain(why),
        }
    }

    pub(super) fn act(&mut self, action: Action, seen: Seen<'_>) -> Next {
        if let Some(by) = action.rows() {
            return self.step(by, seen);
        }
        let held = self.pair(seen).is_some();
        match action {
            Action::TakeUp if held => self.begin(None, seen),
            Action::TakeUp => {
                let typed = self.number.text().to_owned();
                let selected = self.lines.get(self.selected).map(|l| l.number.clone());
                match (typed.trim().is_empty(), selected) {
                    (false, _) => self.pick(&typed),
                    (true, Some(number)) => self.pick(&number),
                    (true, None) => Next::Stay,
                }
            }
            Action::Yes | Action::No if held => self.yes_no(action == Action::Yes, seen),
            Action::Verdict => self.turn_to_verdict(seen),
            Action::Yes | Action::No | Action::Move | Action::SendBack if !held => {
                take_up_first(seen)
            }
            Action::Move => self.move_on(seen),
            Action::SendBack => self.send_back(seen),
            Action::Gate => self.gate(seen),
            Action::OpenJob | Action::OpenGate => self.look(action == Action::OpenGate, seen),
            // The next reading is the next that is asked for.
            Action::Commit | Action::CommitNext | Action::CommitPrevious | Action::NextMarked => {
                self.commit(seen)
            }
            Action::StepUp | Action::StepDown => Next::Stay,
            Action::ClearText => {
                self.editor.retype("");
                self.draft().into()
            }
            Action::Restore => {
                let number = self.in_hand.clone().unwrap_or_default();
                self.editor.drop(&number).into()
            }
            Action::TakeOffered => Next::say("Nothing is offered for this entry: type it."),
            Action::Back if !self.number.text().is_empty() => {
                self.number = Line::default();
                Next::Stay
            }
            Action::Back if self.in_hand.is_some() => {
                self.in_hand = None;
                Next::Stay
            }
            _ => Next::Pass,
        }
    }

    pub(super) fn step(&mut self, by: isize, seen: Seen<'_>) -> Next {
        if let Some(job) = self.pair(seen) {
            if self.shows_verdict(seen) {
                let rows = verdict::rows(job, seen.practice);
                self.top = moved(self.top, by, rows.saturating_add(1));
            } else {
                self.row = moved(self.row, by, self.steps(seen).len());
            }
        } else {
            self.selected = moved(self.selected, by, self.lines.len());
        }
        Next::Stay
    }

    /// A job was read or has changed. A reading that was typed for another is dropped from the
    /// screen; it is kept as a draft of its own job.
    pub(super) fn read(&mut self, seen: Seen<'_>) {
        let number = seen.job.map(|j| &j.open.number);
        if number == self.typed_for.as_ref() {
            self.editor.recorded();
        } else {
            self.editor = Editor::default();
            self.typed_for = number.cloned();
        }
    }

    /// The pair in hand was read: it goes on where it was left.
    pub(super) fn go_on(&mut self, drafts: &[Draft], seen: Seen<'_>) -> Next {
        let job = seen
            .job
            .filter(|j| Some(&j.open.number) == self.in_hand.as_ref());
        let Some(job) = job.filter(|_| !self.editor.is_open()) else {
            return Next::Stay;
        };
        if self.pair(seen).is_none() {
            self.in_hand = None;
            let (number, stage) = (&job.open.number, job.open.job.stage());
            return Next::complain(format!("{number} is {stage} by now."));
        }
        let steps = self.steps(seen);
        let place = |path: &str| steps.iter().position(|s| s.path == path);
        let typed = (drafts.iter().rev()).find_map(|draft| Some((place(&draft.field)?, draft)));
        if let Some((at, Draft { field, text, by })) = typed {
            self.row = at;
            self.editor.take_up(field, text);
            return Next::say(typed_earlier(by.as_deref(), seen));
        }
        if self.row == 0 && !self.shown {
            self.next_step(seen);
        }
        Next::Stay
    }

    /// Something was recorded: goes on to what is asked next, or to the verdict.
    pub(super) fn recorded(&mut self, seen: Seen<'_>) -> Next {
        let wants_gate = std::mem::take(&mut self.wants_gate);
        if seen.screen != Screen::Parcel || self.pair(seen).is_none() {
            return Next::Stay;
        }
        let steps = self.steps(seen);
        let said = if std::mem::take(&mut self.corrects) && !steps.iter().any(Step::is_open) {
            self.row = moved(self.row, 1, steps.len());
            let key = seen.keys.shown(Action::Verdict).unwrap_or_default();
            Next::say(format!("Corrected. {key} shows the verdict again."))
        } else {
            self.next_step(seen);
            Next::Stay
        };
        if wants_gate {
            return said.and(self.show_gate(seen));
        }
        said
    }

    pub(super) fn next_step(&mut self, seen: Seen<'_>) {
        let steps = self.steps(seen);
        let open = |at: &usize| steps.get(*at).is_some_and(Step::is_open);
        let on_the_way = |at: &usize| steps.get(*at).is_some_and(Step::is_on_the_way);
        let here = self.row.min(steps.len());
        let ahead = (here..steps.len()).find(on_the_way);
        match ahead.or_else(|| (0..here).find(open)) {
            Some(at) => (self.row, self.shown) = (at, false),
            None => self.shown = true,
        }
    }

    /// The pair was passed or sent back: goes on to the next; or it was held, and the gate says by
    /// what.
    pub(super) fn moved_on(&mut self, refused: bool, seen: Seen<'_>) -> Next {
        if seen.screen != Screen::Parcel {
            return Next::Stay;
        }
        if refused {
            return Next::Go(Screen::Gate);
        }
        self.done.extend(self.in_hand.take());
        self.selected = 0;
        self.take(seen);
        Next::Do(vec![Effect::SentBack])
    }
}

pub(super) fn findings(seen: Seen<'_>) -> &[Finding] {
    seen.job.map_or(&[], |j| &j.findings)
}

/// Says that a pair has to be taken up first.
pub(super) fn take_up_first(seen: Seen<'_>) -> Next {
    Next::complain(
        seen.keys
            .sentence("Take a pair up first: type its number, or go to it and press {take-up}."),
    )
}
