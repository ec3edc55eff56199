//! What the collections remember, and what keys and news make of that.

use serde_json::{Value, json};

use super::checks::{
    Giver, HandoverCheck, agreed, can_adjust, heights_read, heights_to_read_again, is_answered,
    read_again, steps,
};
use crate::book::desk::{JobLine, OpenJob};
use crate::job::fields;
use crate::job::{HandoverMethod, Section, Stage};
use crate::tui::action::{Action, Scope};
use crate::tui::effect::Deed;
use crate::tui::key::Key;
use crate::tui::line::Line;
use crate::tui::list::moved;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::{Next, Question};
use crate::tui::screen_name::Screen;
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::Seen;

/// The collections of the day.
#[derive(Debug, Default)]
pub struct State {
    /// The day's handovers by time.
    pub lines: Vec<JobLine>,
    /// Place of the selected one.
    pub selected: usize,
    /// Place of the check the cursor is on.
    pub step: usize,
    /// The job whose handover the cursor was put into.
    begun: Option<String>,
    /// The selected handover is another than it was, and why: the next key that answers says so
    /// first.
    replaced: Option<String>,
    /// A pair that waits and whose wearer has come without an appointment today.
    walk_in: Option<String>,
    /// The last check was answered and the cursor was not moved since: the keys for what comes then
    /// are keys even where words could be typed.
    done: bool,
    /// What was sent to be kept says that the frame was adjusted.
    adjusted: bool,
    /// How many heights were to be read again when the card was last read or changed.
    stale: usize,
}

/// Returns the checks of the handover whose card is shown.
pub fn steps_now(seen: Seen<'_>) -> Vec<HandoverCheck> {
    let giver = Giver {
        staff: seen.staff,
        person: seen.person,
    };
    seen.card.map_or_else(Vec::new, |c| {
        steps(&c.job, seen.practice, giver, seen.today)
    })
}

/// How many of the checks of that handover are answered, and how many there are.
pub fn answered(seen: Seen<'_>) -> (usize, usize) {
    let Some(card) = seen.card else {
        return (0, 0);
    };
    let steps = steps_now(seen);
    let done = steps.iter().filter(|s| is_answered(s, &card.job)).count();
    (done, steps.len())
}

/// The first check without an answer from a place on, then from the beginning.
fn open_from(seen: Seen<'_>, from: usize) -> Option<usize> {
    let job = &seen.card?.job;
    let steps = steps_now(seen);
    let from = from.min(steps.len());
    (from..steps.len())
        .chain(0..from)
        .find(|at| steps.get(*at).is_some_and(|s| !is_answered(s, job)))
}

fn first_to_read_again(seen: Seen<'_>) -> Option<usize> {
    let job = &seen.card?.job;
    let steps = steps_now(seen);
    steps.iter().position(|s| read_again(s, job).is_some())
}

fn is_on(line: &JobLine, today: chrono::NaiveDate) -> bool {
    line.collection_at.is_some_and(|m| m.0.date() == today)
}

fn refused(step: &HandoverCheck, why: &str) -> Next {
    Next::complain(format!("{}: {why}", step.question))
}

/// Asks who hands over before anything is kept in their name.
fn who_first() -> Next {
    Next::AskWho.and(Next::say("First say who hands over; then answer."))
}

/// Records the value of a field of the handover.
fn record(path: &str, value: Value, seen: Seen<'_>) -> Next {
    match fields::find(path) {
        Some(field) => keep(fields::change(field, value), seen),
        None => Next::Stay,
    }
}

/// Keeps a change of the handover, in the name of whoever hands over.
fn keep(change: Value, seen: Seen<'_>) -> Next {
    let Some(person) = seen.person else {
        return who_first();
    };
    let Some(card) = seen.card else {
        return Next::Stay;
    };
    let change = fields::signed_answer(&card.job, Section::Handover, change, person, seen.today);
    Next::Act(Deed::Record {
        number: card.number.clone(),
        section: Section::Handover,
        change,
        revision: card.revision,
        field: None,
        is_undo: false,
    })
}

/// Takes the text that was asked for as a value of the handover of a job.
fn keep_text(number: &str, path: &'static str, text: &str, seen: Seen<'_>) -> Result<Next, String> {
    if seen.card.is_none_or(|c| c.number != number) {
        return Err(format!(
            "This was asked for job {number}, which is not in front any more: Esc, and begin again."
        ));
    }
    let Some(field) = fields::find(path) else {
        return Ok(Next::Stay);
    };
    let value = fields::parse(field, text, seen.today).map_err(|e| e.to_string())?;
    Ok(record(path, value, seen))
}

impl State {
    /// Begins with the day's handovers, and with the pair that is selected on the worklist: its wearer
    /// has come for it, with an appointment or without.
    pub(crate) fn open(&mut self, selected: Option<&JobLine>, seen: Seen<'_>) -> Next {
        let walk_in = selected.filter(|l| l.stage == Stage::Verified);
        self.walk_in = walk_in.map(|l| l.number.clone());
        (self.begun, self.replaced) = (None, None);
        let before = self.line().map(|l| l.number.clone());
        self.lines = self.lines_now(seen);
        let place = self.place_of(self.walk_in.as_deref());
        let place = place.or_else(|| self.place_of(before.as_deref()));
        self.selected = place.unwrap_or(0);
        self.card()
    }

    /// The selected handover.
    pub(super) fn line(&self) -> Option<&JobLine> {
        self.lines.get(self.selected)
    }

    fn card(&self) -> Next {
        Next::Card(self.line().map(|l| l.number.clone()))
    }

    fn place_of(&self, number: Option<&str>) -> Option<usize> {
        let number = number?;
        self.lines.iter().position(|l| l.number == number)
    }

    /// The day's handovers among the open jobs.
    fn lines_now(&self, seen: Seen<'_>) -> Vec<JobLine> {
        let is_walk_in = |l: &JobLine| Some(&l.number) == self.walk_in.as_ref();
        let is_today = |l: &JobLine| is_on(l, seen.today);
        let all = seen.lines.iter();
        let mut lines: Vec<JobLine> = all
            .filter(|l| l.stage == Stage::Verified && (is_today(l) || is_walk_in(l)))
            .cloned()
            .collect();
        // Whoever came without an appointment is there now.
        lines.sort_by_key(|l| (!is_walk_in(l) || is_today(l), l.collection_at));
        lines
    }

    /// The open jobs were read again: the selected handover stays selected.
    fn read(&mut self, seen: Seen<'_>) -> Next {
        let before = self.line().cloned();
        self.lines = self.lines_now(seen);
        let place = self.place_of(before.as_ref().map(|l| l.number.as_str()));
        self.selected = place.unwrap_or(0);
        if seen.screen != Screen::Collections {
            return Next::Stay;
        }
        let gone = before.filter(|_| place.is_none());
        let said = gone.map_or(Next::Stay, |gone| self.another(&gone));
        said.and(self.card())
    }

    /// Somebody else has moved the selected pair away: what is asked about it is closed, and nothing
    /// is answered for the next wearer before that is said.
    fn another(&mut self, gone: &JobLine) -> Next {
        let next = self.lines.first().map_or_else(
            || "nobody is left".to_owned(),
            |l| format!("{} is in front now", l.wearer),
        );
        let said = format!(
            "{} ({}) is no longer among the collections; {next}.",
            gone.wearer, gone.number
        );
        self.begun = None;
        self.replaced = Some(said.clone());
        Next::CloseQuestionOf(gone.number.clone()).and(Next::complain(said))
    }

    /// Says that another handover is selected than before, in place of an answer; once.
    fn says_replaced(&mut self) -> Option<Next> {
        let said = self.replaced.take()?;
        Some(Next::complain(format!("{said} Nothing was answered.")))
    }

    /// A card was read: the handover of another job begins at its first check without an answer.
    fn card_read(&mut self, seen: Seen<'_>) {
        self.stale = seen.card.map_or(0, |c| heights_to_read_again(&c.job));
        let Some(card) = seen.card else {
            return;
        };
        if seen.screen == Screen::Collections && self.begun.as_ref() != Some(&card.number) {
            self.begun = Some(card.number.clone());
            self.done = false;
            self.step = open_from(seen, 0).unwrap_or(0);
        }
    }

    /// Something was recorded: on to the next check without an answer; after an adjustment, to the
    /// first height that is to be read again.
    fn recorded(&mut self, seen: Seen<'_>) -> Next {
        let adjusted = std::mem::take(&mut self.adjusted);
        let before = self.stale;
        self.stale = seen.card.map_or(0, |c| heights_to_read_again(&c.job));
        self.done = false;
        if seen.screen != Screen::Collections {
            return Next::Stay;
        }
        let mut next = Next::Stay;
        if self.stale > before || (adjusted && self.stale > 0) {
            next = Next::complain(
                "Adjusted after the heights were read: read them again, they are marked.",
            );
        }
        if adjusted && let Some(at) = first_to_read_again(seen) {
            self.step = at;
            return next;
        }
        if let Some(at) = open_from(seen, self.step + 1) {
            self.step = at;
            return next;
        }
        self.done = true;
        let mut keys = seen.keys.keys_of(Action::OpenGate).iter();
        let key = keys.find(|k| {
            seen.keys.action(Scope::Collections, **k) == Some(Action::OpenGate)
                && !self.is_text(**k, seen)
        });
        let key = key.map_or_else(String::new, ToString::to_string);
        let said = format!("Every check is answered. {key} shows the gate.");
        next.and(Next::say(said))
    }

    /// The check under the cursor.
    fn current(&self, seen: Seen<'_>) -> Option<HandoverCheck> {
        steps_now(seen).into_iter().nth(self.step)
    }

    fn act(&mut self, action: Action, seen: Seen<'_>) -> Next {
        if let Some(by) = action.rows() {
            self.done = false;
            self.step = moved(self.step, by, steps_now(seen).len());
            return Next::Stay;
        }
        let answers = matches!(
            action,
            Action::Yes | Action::No | Action::Adjusted | Action::Value
        );
        if answers && let Some(said) = self.says_replaced() {
            return said;
        }
        match action {
            Action::NextJob => self.other(1),
            Action::PreviousJob => self.other(-1),
            Action::Yes | Action::No => self.yes_no(action == Action::Yes, seen),
            Action::Adjusted => self.adjust(seen),
            Action::Value => self.prompt(Line::default(), seen),
            _ => Next::Pass,
        }
    }

    fn other(&mut self, by: isize) -> Next {
        self.replaced = None;
        let count = self.lines.len();
        self.selected = moved(self.selected, by, count);
        if count > 1 {
            self.begun = None;
        }
        self.card()
    }

    /// A digit typed on a value begins the value; on words any letter begins them.
    fn typed(&mut self, key: Key, seen: Seen<'_>) -> Next {
        if !key.types().is_some_and(|c| c.is_ascii_digit()) && !self.is_text(key, seen) {
            return Next::Stay;
        }
        if let Some(said) = self.says_replaced() {
            return said;
        }
        let mut line = Line::default();
        line.key(key);
        self.prompt(line, seen)
    }

    /// Pasted text begins the words of a check, or its value.
    fn pasted(&mut self, text: &str, seen: Seen<'_>) -> Next {
        if self.current(seen).is_none_or(|step| step.is_yes_no()) {
            return Next::Stay;
        }
        let mut line = Line::default();
        line.paste(text);
        self.prompt(line, seen)
    }

    /// Asks for the value or the words of the check under the cursor.
    fn prompt(&mut self, line: Line, seen: Seen<'_>) -> Next {
        let (Some(step), Some(of)) = (self.current(seen), self.line()) else {
            return Next::Stay;
        };
        // Before anything is typed: what is typed under nobody's name could not be kept.
        if seen.person.is_none() {
            return who_first();
        }
        if step.is_yes_no() {
            return refused(&step, &format!("{}.", seen.keys.yes_or_no()));
        }
        if step.is_chosen() {
            return choose(&step, false, seen);
        }
        let Some(field) = fields::find(step.path) else {
            return Next::Stay;
        };
        let unit = if field.unit.is_empty() {
            String::new()
        } else {
            format!(", {}", field.unit)
        };
        let (number, path) = (of.number.clone(), step.path);
        let asked_for = number.clone();
        self.adjusted = false;
        let question = Question::text_seen(
            format!("{}{unit}:", step.question),
            line,
            move |text, seen| keep_text(&number, path, text, seen),
        );
        Next::Ask(question.only_for(asked_for))
    }

    fn yes_no(&mut self, yes: bool, seen: Seen<'_>) -> Next {
        let (Some(step), Some(card)) = (self.current(seen), seen.card) else {
            return Next::Stay;
        };
        if step.is_chosen() && !(yes && step.is_method()) {
            return choose(&step, true, seen);
        }
        let value = match step.topic {
            None if step.is_method() => json!(HandoverMethod::InPerson),
            None if step.is_yes_no() => json!(yes),
            None => match agreed(&step, &card.job, seen.practice) {
                Ok(value) if yes => value,
                Ok(_) => return refused(&step, "this one is a value; type it."),
                Err(why) => return refused(&step, &why),
            },
            Some(topic) => {
                let given = card.job.handover.advice.iter().flatten().map(|a| a.word());
                let mut topics: Vec<&str> = given.filter(|t| *t != topic.word()).collect();
                if yes {
                    topics.push(topic.word());
                }
                json!(topics)
            }
        };
        self.adjusted = false;
        record(step.path, value, seen)
    }

    /// Something was adjusted at this check: what was answered there is well now, and heights that
    /// were read before are read again.
    fn adjust(&mut self, seen: Seen<'_>) -> Next {
        let (Some(step), Some(card)) = (self.current(seen), seen.card) else {
            return Next::Stay;
        };
        if !step.is_of_fit() {
            return not_adjusted(&step, seen);
        }
        if !can_adjust(&step, &card.job) {
            return Next::say("No height was read yet: nothing has to be read again.");
        }
        let stale = heights_read(&card.job);
        let mut change = match fields::find(step.path).filter(|_| step.is_yes_no()) {
            Some(field) => fields::change(field, json!(true)),
            None => json!({}),
        };
        if let (Value::Object(map), false) = (&mut change, stale.is_empty()) {
            map.insert("adjusted_after_heights".to_owned(), json!(stale));
        }
        let next = keep(change, seen);
        self.adjusted = matches!(next, Next::Act(_));
        next
    }
}

/// Offers the answers of a check that is answered by one of several: the ways in which a pair reaches its
/// wearer, without the one in person after a no; or the registered people.
fn choose(step: &HandoverCheck, not_in_person: bool, seen: Seen<'_>) -> Next {
    if seen.person.is_none() {
        return who_first();
    }
    if step.is_method() {
        let ways = HandoverMethod::ALL.iter().copied();
        let offered = ways
            .filter(|way| !(not_in_person && way.is_in_person()))
            .map(|way| (way.to_string(), record(step.path, json!(way), seen)))
            .collect();
        return Next::Ask(Question::choose(
            "How does the pair reach the wearer?",
            offered,
        ));
    }
    let rule = seen.practice.registration;
    let people = seen.staff.0.iter().filter(|m| m.is_registrant(rule));
    let offered: Vec<(String, Next)> = people
        .map(|m| {
            let label = format!("{}, {}", m.name, m.role.word());
            (label, record(step.path, json!(m.name), seen))
        })
        .collect();
    if offered.is_empty() {
        return refused(step, "nobody registered is on the staff list.");
    }
    Next::Ask(Question::choose(
        "Who supervises, on the premises?",
        offered,
    ))
}

/// Says that a check is none of the fit, and what answers it instead.
fn not_adjusted(step: &HandoverCheck, seen: Seen<'_>) -> Next {
    let instead = if step.is_yes_no() {
        seen.keys.yes_or_no()
    } else {
        "type it".to_owned()
    };
    refused(
        step,
        &format!(
            "nothing is adjusted at this one: {instead}. Say adjusted at the check of the fit it was done for."
        ),
    )
}

impl Behaviour for State {
    fn scope(&self, _seen: Seen<'_>) -> Scope {
        Scope::Collections
    }

    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next {
        match input {
            ScreenInput::Action(action) => self.act(action, seen),
            ScreenInput::Key(key) if key.types().is_some() => self.typed(key, seen),
            ScreenInput::Paste(text) => self.pasted(text, seen),
            _ => Next::Pass,
        }
    }

    fn notice(&mut self, news: News<'_>, seen: Seen<'_>) -> Next {
        match news {
            News::Book => self.read(seen),
            News::Returned => self.card(),
            News::Card => {
                self.card_read(seen);
                Next::Stay
            }
            News::Recorded { is_undo: false } => self.recorded(seen),
            News::Recorded { is_undo: true } => {
                // The shell says that it was taken back.
                let _said = self.recorded(seen);
                Next::Stay
            }
            News::Refused | News::Moved { .. } => {
                self.stale = seen.card.map_or(0, |c| heights_to_read_again(&c.job));
                Next::Stay
            }
            _ => Next::Stay,
        }
    }

    /// Whether a key begins the words of the check under the cursor. Keys of everywhere, such as the
    /// one for help, stay what they are. Once every check is answered no words are waited for, and the
    /// keys are keys again.
    fn is_text(&self, key: Key, seen: Seen<'_>) -> bool {
        key.types().is_some_and(|c| !c.is_whitespace())
            && seen.keys.action(Scope::Everywhere, key).is_none()
            && self.line().is_some()
            && !self.done
            && self.current(seen).is_some_and(|step| step.takes_words())
    }

    fn hints(&self, seen: Seen<'_>) -> Vec<Action> {
        let waits = !seen.waiting.is_empty();
        let Some(card) = seen.card.filter(|_| self.line().is_some()) else {
            let mut hints = vec![Action::Help, Action::Back];
            hints.extend(waits.then_some(Action::Waiting));
            hints.push(Action::SwitchPerson);
            return hints;
        };
        let Some(step) = self.current(seen) else {
            return Vec::new();
        };
        self.hints_at(&step, card, seen)
    }

    fn selected<'a>(&'a self, _seen: Seen<'a>) -> Option<&'a str> {
        self.line().map(|l| l.number.as_str())
    }
}

impl State {
    fn hints_at(&self, step: &HandoverCheck, card: &OpenJob, seen: Seen<'_>) -> Vec<Action> {
        let is_yes_no = step.is_yes_no() || step.is_method();
        let is_agreed = is_yes_no || agreed(step, &card.job, seen.practice).is_ok();
        let waits = !seen.waiting.is_empty();
        [
            (Action::Yes, is_agreed),
            (Action::No, is_yes_no),
            (Action::Value, !is_yes_no),
            (Action::Adjusted, can_adjust(step, &card.job)),
            (Action::OpenGate, true),
            (Action::Told, true),
            (Action::Help, true),
            (Action::Back, true),
            (Action::NextJob, self.lines.len() > 1),
            (Action::OpenJob, true),
            (Action::Waiting, waits),
            (Action::SwitchPerson, true),
        ]
        .into_iter()
        .filter_map(|(action, works)| works.then_some(action))
        .collect()
    }
}
