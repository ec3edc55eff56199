//! The reducer: an input or a message changes the [`App`] and says what is to be done.

use super::app::{App, LEAST_HEIGHT, LEAST_WIDTH};
use super::dispatch::dispatch;
use super::open::wanted_visit;
use super::questions::{ask_who, settings_again};
use super::route::{news_here, tell};
use super::run::{run, welcome};
use super::undo::undo_origins;
use super::{cache, dialog, lock, press as keys, scan, tour};
use crate::book::desk::Draft;
use crate::job::{Section, StaffMember};
use crate::tui::action::{Action, Scope};
use crate::tui::effect::{Book, Effect, Message, Opened};
use crate::tui::job_view::{JobView, UndoEntry};
use crate::tui::key::Key;
use crate::tui::news::News;
use crate::tui::question::Dialog;
use crate::tui::questions::{begin_job, print, repair, review, sign_in, who};
use crate::tui::screen_name::Screen;
use crate::tui::text;

/// Something from outside.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Input {
    /// A key.
    Key(Key),
    /// Pasted text.
    Paste(String),
    /// The number of a job whose tray was scanned.
    Scanned(String),
    /// Columns and rows of the window.
    Window(u16, u16),
    /// Whole minutes since the last key.
    Idle(u64),
    /// Time to look whether somebody else changed the book.
    Poll,
    /// The terminal has gone, or somebody asked the program to end.
    Hangup,
}

/// Takes an input.
pub fn input(app: &mut App, input: Input) -> Vec<Effect> {
    let effects = taken(app, input);
    let effects = settled(app, effects);
    cache::refresh(app);
    read_lists_where_shown(app, effects)
}

/// Reads the lists again once a deed has made them out of date, when they come to be shown: while a
/// job is worked on nobody sees them.
fn read_lists_where_shown(app: &mut App, mut effects: Vec<Effect>) -> Vec<Effect> {
    let shown = matches!(
        app.screen,
        Screen::Worklist | Screen::Collections | Screen::Parcel
    ) && app.lock.is_none();
    if effects.contains(&Effect::Reload) {
        app.is_stale = false;
    } else if shown && std::mem::take(&mut app.is_stale) {
        effects.insert(0, Effect::Reload);
    }
    effects
}

/// Settles who acts, and gives back what was typed and is not kept: the rest is done outside.
fn settled(app: &mut App, effects: Vec<Effect>) -> Vec<Effect> {
    let mut outside = Vec::new();
    for effect in effects {
        match effect {
            Effect::Act(deed) => {
                if let Some(by) = app.person.clone() {
                    outside.push(Effect::Deed { by, deed });
                } else {
                    let next = ask_who(app, Some(deed));
                    outside.extend(run(app, next));
                }
            }
            Effect::SaveDraft {
                number,
                field,
                text,
                ..
            } => outside.push(Effect::SaveDraft {
                number,
                field,
                text,
                by: app.person.clone(),
            }),
            Effect::ClearDraft { number, field, .. } => outside.push(Effect::ClearDraft {
                number,
                field,
                by: app.person.clone(),
            }),
            Effect::NotKept(why) => {
                give_back(app);
                app.wanted = None;
                outside.extend(news(app, News::Refused));
                app.complain(why);
            }
            other => outside.push(other),
        }
    }
    outside
}

fn taken(app: &mut App, input: Input) -> Vec<Effect> {
    match input {
        Input::Window(columns, rows) => {
            app.is_window_too_small = columns < LEAST_WIDTH || rows < LEAST_HEIGHT;
            Vec::new()
        }
        // Nobody sees what a key would do in a window in which nothing is drawn.
        Input::Key(key) if app.is_window_too_small && !leaves(app, key) => Vec::new(),
        Input::Paste(_) | Input::Scanned(_) if app.is_window_too_small => Vec::new(),
        Input::Key(key) => {
            app.notice = None;
            press(app, key)
        }
        Input::Paste(text) => paste(app, &text),
        Input::Scanned(number) => scan::scanned(app, number),
        Input::Idle(minutes) => lock::idle(app, minutes),
        Input::Poll if app.screen == Screen::Welcome || app.lock.is_some() => Vec::new(),
        Input::Poll => vec![Effect::Poll],
        Input::Hangup => {
            app.quit = true;
            Vec::new()
        }
    }
}

/// Whether a key leaves or suspends the program, wherever it is.
fn leaves(app: &App, key: Key) -> bool {
    matches!(
        app.keymap.action(Scope::Everywhere, key),
        Some(Action::QuitNow | Action::Suspend)
    )
}

fn press(app: &mut App, key: Key) -> Vec<Effect> {
    // These two must work whatever is asked at the moment.
    if let Some(action @ (Action::QuitNow | Action::Suspend)) =
        app.keymap.action(Scope::Everywhere, key)
    {
        return done(app, action);
    }
    if app.lock.is_some() {
        return lock::key(app, key);
    }
    if app.keymap.action(Scope::Everywhere, key) == Some(Action::Lock) {
        return done(app, Action::Lock);
    }
    if app.dialog.is_some() {
        return key_of_dialog(app, key);
    }
    if let Some(next) = tour::key(app, key) {
        return run(app, next);
    }
    let next = keys::press(app, key);
    run(app, next)
}

/// Does an action, and what it leads to.
pub fn done(app: &mut App, action: Action) -> Vec<Effect> {
    let next = dispatch(app, action);
    run(app, next)
}

/// Takes a key while something is asked. Without a book there is nothing behind a question but the
/// welcome.
fn key_of_dialog(app: &mut App, key: Key) -> Vec<Effect> {
    let asks = matches!(
        app.dialog,
        Some(Dialog::Text { .. } | Dialog::Choose { .. })
    );
    let next = dialog::key(app, key);
    let effects = run(app, next);
    let is_bare = app.screen == Screen::Welcome && app.dialog.is_none() && !app.quit;
    if asks && key.is("esc") && is_bare {
        welcome(app);
    }
    effects
}

/// Gives news to every screen on the stack, the current one last.
fn news(app: &mut App, news: News<'_>) -> Vec<Effect> {
    let stack: Vec<Screen> = app.trail.iter().copied().chain([app.screen]).collect();
    let mut effects = Vec::new();
    for screen in stack {
        let next = tell(app, screen, news);
        effects.extend(run(app, next));
    }
    effects
}

/// Gives news to the form, whether it is shown or not.
fn tell_form(app: &mut App, news: News<'_>) {
    let next = tell(app, Screen::Job, news);
    let _nothing = run(app, next);
}

fn paste(app: &mut App, text: &str) -> Vec<Effect> {
    if let Some(number) = crate::job::tray_code::decode(text) {
        return scan::scanned(app, number);
    }
    if let Some(lock) = &mut app.lock {
        lock.line.paste(text);
        return Vec::new();
    }
    match &mut app.dialog {
        Some(Dialog::Secret { line, .. }) => {
            line.paste(text);
            return Vec::new();
        }
        Some(Dialog::Text { line, .. } | Dialog::Palette { line, .. }) => {
            line.paste(text);
            return Vec::new();
        }
        Some(_) => return Vec::new(),
        None => {}
    }
    let next = keys::paste(app, text);
    run(app, next)
}

/// Takes what came of an effect.
pub fn message(app: &mut App, message: Message) -> Vec<Effect> {
    let all_news = news_of(&message);
    let effects = told(app, message);
    let mut effects = settled(app, effects);
    for news in all_news {
        let more = self::news(app, *news);
        effects.extend(settled(app, more));
    }
    cache::refresh(app);
    read_lists_where_shown(app, effects)
}

/// The news that a message is to the screens on the stack, once what can be seen has changed.
const fn news_of(message: &Message) -> &'static [News<'static>] {
    match message {
        Message::Book(_) | Message::Begun { .. } => &[News::Book],
        Message::Card(_) => &[News::Card],
        Message::Opened(_) | Message::Scanned(_) => &[News::Job],
        Message::Recorded { is_undo: false, .. } => &[News::Job, News::Recorded { is_undo: false }],
        Message::Recorded { is_undo: true, .. } => &[News::Job, News::Recorded { is_undo: true }],
        Message::Stale(_) => &[News::Refused, News::Job],
        Message::Failed { .. } => &[News::Refused],
        Message::Moved { refused: false, .. } => &[News::Job, News::Moved { refused: false }],
        Message::Moved { refused: true, .. } => &[News::Job, News::Moved { refused: true }],
        _ => &[],
    }
}

#[allow(clippy::too_many_lines, reason = "one arm for each message")]
fn told(app: &mut App, message: Message) -> Vec<Effect> {
    match message {
        Message::NoBook => {
            welcome(app);
            Vec::new()
        }
        Message::Ready {
            security,
            signed_in,
            staff,
        } => {
            app.security = security;
            app.staff = staff;
            match (security.sign_in, signed_in) {
                (true, None) => lock::shut(app),
                (true, Some(name)) => {
                    app.person = Some(name);
                    app.proven = true;
                    vec![Effect::Reload]
                }
                (false, _) => vec![Effect::Reload],
            }
        }
        Message::Book(book) => {
            let mut effects = book_read(app, *book);
            let next = settings_again(app);
            effects.extend(run(app, next));
            effects
        }
        Message::Begun { book, member } => {
            app.person = Some(member.name);
            app.say("The book is begun.");
            let effects = book_read(app, *book);
            run(app, sign_in::offer());
            effects
        }
        Message::Found(text, found) => {
            let (text, lines) = (&text, &found);
            news(app, News::Found { text, lines })
        }
        Message::Card(open) => {
            app.card = Some(open);
            Vec::new()
        }
        Message::SentBack(lately) => news(app, News::SentBack(&lately)),
        Message::Opened(opened) if app.screen == Screen::Parcel => {
            show(app, &opened);
            let drafts = own_drafts(app, &opened.drafts);
            let next = news_here(app, News::Drafts(&drafts));
            run(app, next)
        }
        Message::Used(used) => {
            app.used = Some(used);
            Vec::new()
        }
        Message::Opened(opened) => {
            let before = app.job.as_ref().map(|j| j.open.number.clone());
            opened_job(app, &opened);
            let next = wanted_visit(app);
            let mut effects = run(app, next);
            if before.as_ref() != Some(&opened.open.number) {
                effects.push(Effect::Used);
            }
            effects
        }
        Message::VisitLinks { number, links } => {
            let mut links = links;
            links.drafts = own_drafts(app, &links.drafts);
            let (number, links) = (&number, &links);
            news(app, News::Links { number, links })
        }
        Message::Scanned(opened) => {
            // Before the job is shown: the collections keep another job out.
            app.go(Screen::Job);
            opened_job(app, &opened);
            scan::arrived(app, &opened);
            Vec::new()
        }
        Message::Recorded {
            opened,
            back,
            ended,
            is_undo,
        } => {
            show(app, &opened);
            // A pair of the collections may be another than the one whose form is open.
            let in_form = (app.job.as_mut()).filter(|j| j.open.number == opened.open.number);
            if let (Some(job), Some((section, back)), false) = (in_form, back, is_undo) {
                // Beneath the value: taking that back ends nothing, so the origin comes after it.
                if !ended.is_empty() {
                    let origins = serde_json::to_value(ended).unwrap_or_default();
                    let origins = UndoEntry::of(&job.open.job, Section::Origins, origins);
                    job.undo.push(origins);
                }
                let entry = UndoEntry::of(&job.open.job, section, back);
                job.undo.push(entry);
            }
            app.is_stale = true;
            if is_undo {
                app.say("Taken back.");
                let next = undo_origins(app);
                return run(app, next);
            }
            Vec::new()
        }
        Message::Stale(opened) => {
            give_back(app);
            app.wanted = None;
            show(app, &opened);
            app.complain(app.keymap.sentence(
                "Somebody else changed this job; it is shown as it stands now. What you typed is kept: look, then {commit} keeps it.",
            ));
            app.is_stale = true;
            Vec::new()
        }
        Message::Counted(report) => news(app, News::Counted(&report)),
        Message::Due(due) => run(app, review::show(&due)),
        Message::RepairHeld {
            open,
            repair,
            findings,
        } => run(app, repair::held(*open, *repair, &findings)),
        Message::Changed => changed(app),
        Message::Joined(member) => joined(app, member),
        Message::Moved {
            opened,
            said,
            refused,
        } => {
            show(app, &opened);
            if refused {
                app.complain(said);
            } else {
                app.say(said);
            }
            app.is_stale = true;
            Vec::new()
        }
        Message::BackedUp { state, notes, code } => {
            app.backup = Some(state);
            if notes.is_empty() {
                app.say(format!("Backup made. History ends with {code}"));
            } else {
                app.complain(notes.join(" "));
            }
            // Whatever changed while it was made is read now.
            read_again(app)
        }
        Message::SignedIn { member, told, then } => lock::signed_in(app, &member, told, then),
        Message::SignInRefused {
            name,
            message,
            then,
        } => {
            let next = lock::refused(app, &name, &message, then);
            run(app, next)
        }
        Message::Set(said) => {
            app.say(said);
            let mut effects = vec![Effect::Reload];
            let next = news_here(app, News::SettingsChanged);
            effects.extend(run(app, next));
            effects
        }
        Message::Printed(printed) => run(app, print::said(&printed)),
        Message::UnknownProgram {
            number,
            what,
            program,
            command,
        } => run(app, print::may_run(number, what, program, &command)),
        Message::BookGone(why) => {
            app.quit = true;
            app.last_words = Some(why);
            let typed = app
                .states
                .get(app.screen)
                .and_then(|s| s.behaviour().typing());
            let number = app.job.as_ref().map_or("", |j| j.open.number.as_str());
            typed
                .map(|edit| {
                    Effect::Rescue(format!("{number} {}: {}\n", edit.path, edit.line.text()))
                })
                .into_iter()
                .collect()
        }
        Message::Rescued(file) => {
            let said = match file {
                Some(path) => format!("What was being typed is in {}.", path.display()),
                None => "What was being typed could not be kept in a file.".to_owned(),
            };
            if let Some(words) = &mut app.last_words {
                *words = format!("{words}. {said}");
            }
            Vec::new()
        }
        Message::Failed { message, hints } => {
            failed(app, &message, &hints);
            Vec::new()
        }
    }
}

/// What was typed by whoever acts, or by nobody known; where nobody acts yet, by anybody.
fn own_drafts(app: &App, drafts: &[Draft]) -> Vec<Draft> {
    let mut own = drafts.to_vec();
    own.retain(|d| match (&d.by, &app.person) {
        (Some(by), Some(person)) => by == person,
        _ => true,
    });
    own
}

/// Opens a job that was read.
pub(super) fn opened_job(app: &mut App, opened: &Opened) {
    // The gate may have been asked for before its job was read.
    let another = app
        .job
        .as_ref()
        .is_some_and(|j| j.open.number != opened.open.number);
    // First its screen: a list that only changes its card keeps the job that is open.
    if another || !matches!(app.screen, Screen::Gate | Screen::Choices | Screen::Visit) {
        app.go(Screen::Job);
    }
    if another {
        // What was shown of the job before is not behind this one.
        app.trail.retain(|s| !s.is_of_one_job());
    }
    show(app, opened);
    let drafts = own_drafts(app, &opened.drafts);
    tell_form(app, News::Drafts(&drafts));
    run(app, begin_job::opened(opened));
}

/// Says what went wrong and what can be done; what was typed is kept.
fn failed(app: &mut App, message: &str, hints: &[String]) {
    give_back(app);
    app.wanted = None;
    app.complain(text::sentences(message, hints));
    let next = settings_again(app);
    run(app, next);
    if app.screen == Screen::Welcome && app.dialog.is_none() {
        welcome(app);
    }
}

/// Somebody is on the staff list now; where people sign in, that alone lets nobody act.
fn joined(app: &mut App, member: StaffMember) -> Vec<Effect> {
    if app.security.sign_in {
        app.say(format!(
            "{} is on the staff list; their PIN or passphrase is set under another-pin in the list of actions.",
            member.name
        ));
        return vec![Effect::Reload];
    }
    app.say(format!("{} is acting.", member.name));
    // A new name is proved by nobody, whoever was there before.
    app.proven = false;
    app.person = Some(member.name.clone());
    match app.staff.0.iter_mut().find(|m| m.name == member.name) {
        Some(listed) => *listed = member,
        None => app.staff.0.push(member),
    }
    Vec::new()
}

fn book_read(app: &mut App, book: Book) -> Vec<Effect> {
    app.today = book.today;
    app.today_is_fixed = book.today_is_fixed;
    app.staff = book.staff;
    app.practice = book.practice;
    app.remake_price = book.remake_price;
    app.security = book.security;
    app.with_secret = book.with_secret;
    app.typed_names = book.typed_names;
    app.proven &= app.security.sign_in;
    // Turned on from elsewhere: from now on nothing is shown to whom nobody knows.
    if app.security.sign_in && !app.proven && app.lock.is_none() {
        return lock::shut(app);
    }
    app.lines = book.lines;
    app.waiting = book.waiting;
    app.backup = Some(book.backup);
    if app.screen == Screen::Welcome {
        app.begin(Screen::Worklist);
    }
    if !std::mem::replace(&mut app.numbers_said, true)
        && let Some(text) = who::unregistered(&app.staff, app.practice.registration)
    {
        app.complain(text);
    }
    Vec::new()
}

/// Shows the current values of a job; the place of the cursor and what is typed stay.
fn show(app: &mut App, opened: &Opened) {
    app.today = opened.today;
    let same = app
        .job
        .as_ref()
        .is_some_and(|j| j.open.number == opened.open.number);
    let mut worked = crate::views::lines(&opened.open.job, &app.practice, app.today);
    worked.extend(repair::lines(&opened.open.job));
    if app
        .card
        .as_ref()
        .is_some_and(|c| c.number == opened.open.number)
    {
        app.card = Some(Box::new(opened.open.clone()));
    }
    if matches!(app.screen, Screen::Collections | Screen::Lookup) && !same {
        return;
    }
    let old = app.job.take().filter(|_| same);
    let undo = old.map_or_else(Vec::new, |job| job.undo);
    app.job = Some(JobView {
        open: opened.open.clone(),
        findings: opened.findings.clone(),
        history: opened.history.clone(),
        worked,
        not_carried: opened.not_carried.clone(),
        undo,
    });
    // The form goes on with the job whether it is shown or not.
    tell_form(app, News::Job);
}

/// Opens what was typed again, because it was not recorded.
fn give_back(app: &mut App) {
    tell_form(app, News::Refused);
}

fn changed(app: &mut App) -> Vec<Effect> {
    if matches!(app.screen, Screen::Job | Screen::Gate) && app.job.is_some() {
        app.say("The book was changed by another program; this is how it stands now.");
    }
    read_again(app)
}

fn read_again(app: &mut App) -> Vec<Effect> {
    let mut effects = vec![Effect::Reload];
    let next = news_here(app, News::BookChanged);
    effects.extend(run(app, next));
    effects
}
