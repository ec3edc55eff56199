//! What the visit remembers, and what keys and records make of it.

use serde_json::{Value, json};

use super::page::{Page, letter};
use crate::book::desk::{Draft, OpenJob, VisitLinks};
use crate::job::fields::{self, at};
use crate::job::{Complaint, CostBearer, Outcome, Section};
use crate::tui::action::{Action, Scope};
use crate::tui::editor::{Edit, Editor, typed_earlier};
use crate::tui::effect::{Deed, Effect};
use crate::tui::key::Key;
use crate::tui::list::moved;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::{Next, Question};
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::Seen;
use crate::tui::visit_entries::VisitEntry;
use crate::views::recheck::{Comparison, Likely, STEPS, compare, likely};

/// What the screen remembers.
#[derive(Debug, Default)]
pub struct State {
    /// The job it is about.
    pub number: String,
    /// The jobs linked to it, once they are read.
    pub links: Option<VisitLinks>,
    /// The current page.
    pub page: Page,
    /// The row of the cursor on each page.
    pub rows: [usize; 4],
    /// The values side by side.
    pub comparison: Option<Comparison>,
    /// What is likely.
    pub causes: Vec<Likely>,
    editor: Editor,
    /// The day that is being typed is the one on which a waiting wearer comes back.
    waits: bool,
    /// A word was sent to be recorded that may make it a remake at the practice's cost.
    leads_to_price: bool,
}

impl State {
    /// The row of the cursor on the current page.
    pub fn row(&self) -> usize {
        self.rows[self.page.place()]
    }

    /// The entry under the cursor, on the page that has entries.
    pub fn entry(&self) -> Option<VisitEntry> {
        (self.page == Page::Outcome)
            .then(|| VisitEntry::ALL.get(self.row()).copied())
            .flatten()
    }

    /// What is being typed.
    pub const fn edit(&self) -> Option<&Edit> {
        self.editor.edit()
    }

    /// Reads the jobs that the visit is linked to; what was shown of another visit is dropped.
    fn read(&mut self, seen: Seen<'_>) -> Next {
        let Some(job) = seen.job else {
            return Next::Stay;
        };
        let number = job.open.number.clone();
        if self.number != number {
            *self = Self {
                number: number.clone(),
                ..Self::default()
            };
        }
        self.work_out(seen);
        Next::Do(vec![Effect::VisitLinks(number)])
    }

    /// Takes the jobs that were read, and goes on with what was being typed.
    fn linked(&mut self, number: &str, links: &VisitLinks, seen: Seen<'_>) -> Next {
        if self.number != number {
            return Next::Stay;
        }
        self.links = Some(links.clone());
        self.work_out(seen);
        let is_free = !self.editor.is_open() && self.editor.sent().is_none();
        let draft = links.drafts.last().filter(|_| is_free);
        let draft = draft.filter(|draft| place_of(&draft.field).is_some());
        let Some(Draft { field, text, by }) = draft else {
            return Next::Stay;
        };
        self.go_to(field);
        self.editor.take_up(field, text);
        Next::say(typed_earlier(by.as_deref(), seen))
    }

    /// Works everything out again, where the job that is open is the visit's.
    fn refresh(&mut self, seen: Seen<'_>) -> Next {
        if seen.job.is_some_and(|j| j.open.number == self.number) {
            self.editor.recorded();
            self.work_out(seen);
        }
        Next::Stay
    }

    fn work_out(&mut self, seen: Seen<'_>) {
        let Some(job) = seen.job else { return };
        let first = self.links.as_ref().and_then(|l| l.first.as_ref());
        let comparison = compare(&job.open.job, first, seen.practice);
        self.causes = likely(&job.open.job, first, &comparison);
        self.comparison = Some(comparison);
        let last = self.count().saturating_sub(1);
        let row = &mut self.rows[self.page.place()];
        *row = last.min(*row);
    }

    fn count(&self) -> usize {
        match self.page {
            Page::Differences => self.comparison.as_ref().map_or(0, |c| c.rows.len()),
            Page::Steps => STEPS.len(),
            Page::Causes => self.causes.len(),
            Page::Outcome => VisitEntry::ALL.len(),
        }
    }

    fn turn(&mut self, by: usize, seen: Seen<'_>) -> Next {
        let place = (self.page.place() + by) % Page::ALL.len();
        self.page = Page::ALL[place];
        self.work_out(seen);
        Next::Stay
    }

    fn step(&mut self, by: isize) -> Next {
        let count = self.count();
        let row = &mut self.rows[self.page.place()];
        *row = moved(*row, by, count);
        Next::Stay
    }

    fn go_to(&mut self, path: &str) {
        if let Some(place) = place_of(path) {
            self.page = Page::Outcome;
            self.rows[Page::Outcome.place()] = place;
        }
    }

    fn act(&mut self, action: Action, seen: Seen<'_>) -> Next {
        if self.editor.is_open() {
            return self.act_typing(action, seen);
        }
        if let Some(by) = action.rows() {
            return self.step(by);
        }
        match action {
            // This is it.
            Action::Visit => Next::Stay,
            Action::NextPage => self.turn(1, seen),
            Action::PreviousPage => self.turn(Page::ALL.len() - 1, seen),
            Action::Tick => self.enter(seen),
            Action::Remake => self.remake(),
            _ => Next::Pass,
        }
    }

    /// The keys of an entry are those of the form, and as there what is recorded leads on.
    fn act_typing(&mut self, action: Action, seen: Seen<'_>) -> Next {
        match action {
            Action::Commit | Action::CommitNext => self.keep(1, seen),
            Action::CommitPrevious => self.keep(-1, seen),
            Action::Restore => {
                self.waits = false;
                self.editor.drop(&self.number).into()
            }
            Action::Gate => {
                let kept = self.keep(1, seen);
                if self.editor.is_open() {
                    return kept.and(Next::complain(seen.keys.sentence(
                        "The gate is not shown yet: what is typed cannot be kept, and why stands with it. \
                         Correct it, or {restore} drops it.",
                    )));
                }
                kept.and(Next::Run(Action::Gate))
            }
            _ => Next::Pass,
        }
    }

    /// Ticks a step, or edits an entry.
    fn enter(&mut self, seen: Seen<'_>) -> Next {
        match self.page {
            Page::Steps => self.tick(seen),
            Page::Outcome => self.open_entry(seen),
            Page::Differences => Next::say(
                seen.keys
                    .sentence("The values are entered in the form of the job: {back} goes there."),
            ),
            Page::Causes => {
                Next::say("A letter ticks what is complained of; the outcome is on the next page.")
            }
        }
    }

    fn type_key(&mut self, key: Key, seen: Seen<'_>) -> Next {
        if self.editor.is_open() {
            return if self.editor.key(key) {
                self.editor.draft(&self.number).into()
            } else {
                Next::Stay
            };
        }
        if !self.begins(key) {
            return Next::Pass;
        }
        let (Some(c), entry) = (key.types(), self.entry()) else {
            return Next::Pass;
        };
        match (self.page, entry) {
            (Page::Steps, _) => self.tick(seen),
            (Page::Causes, _) => self.complain_of(c, seen),
            // The letter that opens the list also leads to what begins with it.
            (_, Some(entry)) if !entry.words().is_empty() => {
                self.open_entry(seen).and(Next::Type(c))
            }
            (_, Some(entry)) => {
                self.editor.begin(&path_of(entry));
                self.type_key(key, seen)
            }
            _ => Next::Pass,
        }
    }

    /// Whether a key ticks something or begins an entry on the current page.
    fn begins(&self, key: Key) -> bool {
        key.types().is_some_and(|c| match self.page {
            Page::Differences => false,
            Page::Steps => c == ' ',
            Page::Causes => c.is_ascii_lowercase(),
            Page::Outcome => c.is_alphanumeric() || matches!(c, '+' | '-'),
        })
    }

    /// Takes pasted text into the entry under the cursor.
    fn paste(&mut self, text: &str) -> Next {
        if !self.editor.is_open() {
            match self.entry() {
                Some(entry) if entry.words().is_empty() => self.editor.begin(&path_of(entry)),
                _ => return Next::Stay,
            }
        }
        self.editor.paste(text);
        self.editor.draft(&self.number).into()
    }

    /// Records what was typed and goes on to the next entry or the one before.
    fn keep(&mut self, by: isize, seen: Seen<'_>) -> Next {
        let next = self.commit(seen);
        if !self.editor.is_open() {
            self.step(by);
        }
        next
    }

    /// Records what was typed, or says beside it what to type.
    fn commit(&mut self, seen: Seen<'_>) -> Next {
        let Some(edit) = self.editor.edit() else {
            return Next::Stay;
        };
        let Some(entry) = place_of(&edit.path).and_then(|p| VisitEntry::ALL.get(p)) else {
            return Next::Stay;
        };
        let path = edit.path.clone();
        let text = edit.line.text().trim().to_owned();
        let value = if text.is_empty() {
            Value::Null
        } else if *entry == VisitEntry::ReviewOn {
            // A day is read as every other day of the form is.
            match fields::parse(at!(order.due_on), &text, seen.today) {
                Ok(day) => day,
                Err(why) => {
                    self.editor.refuse(why.to_string());
                    return Next::Stay;
                }
            }
        } else {
            Value::String(text)
        };
        let mut change = json!({ entry.key(): value });
        if std::mem::take(&mut self.waits) && !value.is_null() {
            change["outcome"] = json!(Outcome::Waiting);
        }
        self.editor.send();
        self.record(change, Some(path), seen)
    }

    fn record(&mut self, change: Value, field: Option<String>, seen: Seen<'_>) -> Next {
        let Some(job) = seen.job else {
            return Next::Stay;
        };
        let words = [VisitEntry::Outcome, VisitEntry::AtCostOf];
        self.leads_to_price = words.iter().any(|e| change.get(e.key()).is_some());
        Next::Act(Deed::Record {
            number: job.open.number.clone(),
            section: Section::Visit,
            change,
            revision: job.open.revision,
            field,
            is_undo: false,
        })
    }

    /// Puts what was sent back into the entry, when it was not recorded.
    fn give_back(&mut self) -> Next {
        self.leads_to_price = false;
        if let Some(path) = self.editor.give_back().map(str::to_owned) {
            self.go_to(&path);
        }
        Next::Stay
    }

    /// Asks for the price of a remake, where a word that was chosen here and is recorded now made the
    /// visit end in one that the practice pays for, and no price is known. Not before: an outcome that
    /// is refused costs nothing.
    fn ask_price(&mut self, seen: Seen<'_>) -> Next {
        let leads = std::mem::take(&mut self.leads_to_price);
        let costs = seen.job.map(|j| &j.open.job.visit).is_some_and(|v| {
            v.outcome == Some(Outcome::Remade) && v.at_cost_of == Some(CostBearer::Practice)
        });
        if leads && costs && seen.remake_price.is_none() && !seen.is_asked {
            return Next::Run(Action::RemakePrice);
        }
        Next::Stay
    }

    /// Ticks the step under the cursor as done, or takes the tick away.
    fn tick(&mut self, seen: Seen<'_>) -> Next {
        let (Some(job), Some(tried_now)) = (seen.job, STEPS.get(self.row())) else {
            return Next::Stay;
        };
        let mut tried = job.open.job.visit.tried.clone().unwrap_or_default();
        if let Some(at) = tried.iter().position(|t| t == tried_now.id) {
            tried.remove(at);
        } else {
            tried.push(tried_now.id.to_owned());
            // In the order of work, whatever the order of ticking.
            tried.sort_by_key(|id| STEPS.iter().position(|s| s.id == id));
            self.step(1);
        }
        self.record(json!({ "tried": tried }), None, seen)
    }

    /// Ticks a complaint of the short list, or takes the tick away.
    fn complain_of(&mut self, c: char, seen: Seen<'_>) -> Next {
        let (Some(job), Some(kind)) = (
            seen.job,
            Complaint::ALL.iter().copied().find(|k| letter(*k) == c),
        ) else {
            return Next::Stay;
        };
        let mut kinds = job.open.job.visit.complaints.clone().unwrap_or_default();
        if let Some(at) = kinds.iter().position(|k| *k == kind) {
            kinds.remove(at);
        } else {
            kinds.push(kind);
            kinds.sort_unstable();
        }
        self.record(json!({ "complaints": kinds }), None, seen)
    }

    /// Edits the entry under the cursor, or offers the words it is chosen from.
    fn open_entry(&mut self, seen: Seen<'_>) -> Next {
        let (Some(job), Some(entry)) = (seen.job, self.entry()) else {
            return Next::Stay;
        };
        let now = entry.value(&job.open.job);
        let words = entry.words();
        if words.is_empty() {
            let text = now.as_deref().unwrap_or_default();
            self.editor.begin_with(&path_of(entry), text);
            return Next::Stay;
        }
        // The cause that most points to is offered where none is recorded.
        let likely = (self.causes.first())
            .filter(|_| entry == VisitEntry::Cause)
            .map(|c| c.row.counts_as.word());
        let likely = now.as_deref().or(likely);
        let at = words.iter().position(|w| Some(*w) == likely);
        let answer = |word: Option<&str>| Next::Answer(json!({ entry.key(): word }).to_string());
        let mut offered: Vec<(String, Next)> = (words.iter())
            .map(|w| ((*w).to_owned(), answer(Some(*w))))
            .collect();
        offered.push(("nothing yet".to_owned(), answer(None)));
        Next::Ask(Question::choose_from(
            entry.asks(),
            offered,
            at.unwrap_or(0),
        ))
    }

    /// Records the word that was chosen for an entry, as the change that it makes; waiting first asks
    /// for the day.
    fn chosen(&mut self, change: &str, seen: Seen<'_>) -> Next {
        let Ok(change) = serde_json::from_str::<Value>(change) else {
            return Next::Stay;
        };
        let is_waiting = change["outcome"].as_str() == Some(Outcome::Waiting.word());
        let has_day = seen
            .job
            .is_some_and(|j| j.open.job.visit.review_on.is_some());
        if is_waiting && !has_day {
            let path = path_of(VisitEntry::ReviewOn);
            self.go_to(&path);
            self.waits = true;
            self.editor.begin(&path);
            return Next::say(seen.keys.sentence(
                "On which day does the wearer come back? +14 is in two weeks; {commit} keeps both.",
            ));
        }
        // What comes next is under the cursor: who pays after the outcome.
        self.step(1);
        self.record(change, None, seen)
    }

    /// Begins the remake that was decided on, or opens the one that was begun.
    fn remake(&self) -> Next {
        if let Some(number) = self.links.as_ref().and_then(|l| l.remake.clone()) {
            return Next::Do(vec![Effect::Open(number)]);
        }
        let number = self.number.clone();
        Next::Act(Deed::Remake { number })
    }

    fn does(&self, action: Action, seen: Seen<'_>) -> bool {
        let Some(job) = seen.job else {
            return matches!(action, Action::Help | Action::Back);
        };
        match action {
            Action::Tick => matches!(self.page, Page::Steps | Page::Outcome),
            Action::Remake => {
                self.links.as_ref().is_some_and(|l| l.remake.is_some())
                    || job.open.job.visit.outcome == Some(Outcome::Remade)
            }
            Action::Undo => !job.undo.is_empty(),
            _ => true,
        }
    }
}

fn path_of(entry: VisitEntry) -> String {
    format!("visit.{}", entry.key())
}

fn place_of(path: &str) -> Option<usize> {
    let key = path.strip_prefix("visit.")?;
    VisitEntry::ALL.iter().position(|e| e.key() == key)
}

impl Behaviour for State {
    fn typing(&self) -> Option<&Edit> {
        self.editor.edit()
    }

    fn scope(&self, _seen: Seen<'_>) -> Scope {
        if self.editor.is_open() {
            Scope::Entry
        } else {
            Scope::Visit
        }
    }

    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next {
        self.editor.set_aside(&input);
        let next = match input {
            ScreenInput::Action(action) => self.act(action, seen),
            ScreenInput::Key(key) => self.type_key(key, seen),
            ScreenInput::Paste(text) => self.paste(text),
            ScreenInput::Answer(change) => self.chosen(change, seen),
        };
        self.editor.look(seen);
        next
    }

    fn notice(&mut self, news: News<'_>, seen: Seen<'_>) -> Next {
        match news {
            News::Entered => self.read(seen),
            News::BookChanged => {
                let open = seen.job.map(|j| Effect::Open(j.open.number.clone()));
                open.into()
            }
            News::Job => self.refresh(seen),
            News::Recorded { .. } => self.ask_price(seen),
            News::Refused => self.give_back(),
            News::Links { number, links } => self.linked(number, links, seen),
            _ => Next::Stay,
        }
    }

    /// What is being typed takes every key but those that end it.
    fn is_text(&self, key: Key, seen: Seen<'_>) -> bool {
        if !self.editor.is_open() {
            return self.begins(key);
        }
        !matches!(
            seen.keys.action(Scope::Entry, key),
            Some(
                Action::Commit
                    | Action::CommitNext
                    | Action::CommitPrevious
                    | Action::Restore
                    | Action::Gate
            )
        )
    }

    fn hints(&self, seen: Seen<'_>) -> Vec<Action> {
        if self.editor.is_open() {
            return vec![Action::Commit, Action::Gate, Action::Restore];
        }
        let named = [
            Action::NextPage,
            Action::Tick,
            Action::Remake,
            Action::Gate,
            Action::Help,
            Action::Back,
            Action::Undo,
        ];
        let does = named.into_iter().filter(|a| self.does(*a, seen));
        does.collect()
    }

    fn named<'a>(&'a self, seen: Seen<'a>) -> Option<&'a OpenJob> {
        seen.job.map(|j| &j.open)
    }
}
