//! The loop: wait for a key, let the reducer take it, do what it asks, draw when something changed.

use std::io::{self, BufWriter, Stdout, Write};
use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::buffer::Buffer;
use ratatui::crossterm::event;
use ratatui::crossterm::terminal::{BeginSynchronizedUpdate, EndSynchronizedUpdate};
use ratatui::crossterm::{execute, queue};
use signal_hook::consts::{SIGABRT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGTSTP};

use super::burst::Burst;
use super::guard::{self, Guard};
use super::input;
use crate::book::clock::Clock;
use crate::book::desk::Desk;
use crate::book::desk::Occasion;
use crate::text::{ascii, is_ascii_terminal};
use crate::tui::App;
use crate::tui::effect::Effect;
use crate::tui::keymap::Keymap;
use crate::tui::perform::Performer;
use crate::tui::seen::Clipboard;
use crate::tui::shell::draw;
use crate::tui::shell::update::{self, Input};
use crate::tui::widgets::theme::Theme;

/// How often an idle screen looks whether another program changed the book.
const POLL: Duration = Duration::from_secs(1);
/// Most waiting keys that are handled before the screen is drawn again.
const MOST_UNDRAWN: u32 = 64;
/// How long the loop may take to end by itself once the terminal has gone.
const GRACE: Duration = Duration::from_secs(3);

/// The terminal, behind a buffer: a frame is written in one piece, because a terminal wakes for each
/// write.
type Screen = Terminal<CrosstermBackend<BufWriter<Stdout>>>;
/// Size of that buffer, bytes: more than a frame of a large window.
const FRAME: usize = 1 << 16;

/// When somebody last pressed a key.
struct Touched {
    at: Instant,
    wall: chrono::NaiveDateTime,
    clock: Clock,
}

impl Touched {
    fn now(clock: Clock) -> Self {
        Self {
            at: Instant::now(),
            wall: clock.wall(),
            clock,
        }
    }

    /// Whole minutes since then. The monotonic clock stops while the machine sleeps and the wall clock
    /// may be set back: the longer time counts.
    fn minutes(&self) -> u64 {
        let wall = (self.clock.wall() - self.wall).num_seconds();
        let seconds = self.at.elapsed().as_secs();
        seconds.max(u64::try_from(wall).unwrap_or(0)) / 60
    }
}

/// Shows the book on the screens; where there is no book, offers to begin one.
///
/// `unlocked` is an encrypted book that the caller has opened with its passphrase.
pub(crate) fn run(db: &Path, clock: Clock, unlocked: Option<Desk>) -> ExitCode {
    open(db, clock, unlocked, false)
}

/// Opens an invented practice on the screen, with a tour of the screens first.
pub(crate) fn show_round(db: &Path, clock: Clock) -> ExitCode {
    open(db, clock, None, true)
}

fn open(db: &Path, clock: Clock, unlocked: Option<Desk>, tour: bool) -> ExitCode {
    match start(db, clock, unlocked, tour) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            // The terminal has been restored by now.
            drop(writeln!(io::stderr(), "rimbook: {why}"));
            ExitCode::FAILURE
        }
    }
}

fn start(db: &Path, clock: Clock, unlocked: Option<Desk>, tour: bool) -> Result<(), String> {
    if std::env::var("TERM").is_ok_and(|term| term == "dumb") {
        return Err("this terminal (TERM=dumb) can draw no screens; `rimbook --help` lists the commands, which it can show".to_owned());
    }
    let keymap = keys()?;
    let (mut performer, mut app) = match unlocked {
        Some(desk) => Performer::with(Some(desk), db, clock, keymap),
        None => Performer::start(db, clock, keymap).map_err(|e| e.to_string())?,
    };
    app.tour = tour.then_some(0);
    guard::hook_panics();
    let ending = watch_signals().map_err(|e| format!("the signals cannot be watched: {e}"))?;
    let guard = Guard::enter().map_err(|e| {
        format!("this needs a terminal ({e}); `rimbook --help` lists the commands that do not")
    })?;
    let ended = turn(&mut app, &mut performer, &ending, clock);
    drop(guard);
    ended.map_err(|e| format!("the terminal cannot be used: {e}"))?;
    if let Some(why) = app.last_words {
        return Err(why);
    }
    if ending.load(Ordering::SeqCst) {
        // A signal ends the program at once; the next start makes the backup that is due.
        return Ok(());
    }
    for note in performer.finish().map_err(|e| e.to_string())? {
        drop(writeln!(io::stderr(), "rimbook: {note}"));
    }
    Ok(())
}

/// Reads the key file, or the built-in keys where there is none.
fn keys() -> Result<Keymap, String> {
    let Some(path) = crate::tui::perform::key_file() else {
        return Ok(Keymap::default());
    };
    let text = std::fs::read_to_string(&path)
        .map_err(|e| format!("the key file {} cannot be read: {e}", path.display()))?;
    Keymap::with_file(&text).map_err(|e| format!("{} ({e})", path.display()))
}

/// Sets a flag when somebody asks the program to end.
///
/// When the terminal itself has gone, the wait for keys may never come back; the watcher then ends
/// the program after a while. What was typed is in the book already.
fn watch_signals() -> io::Result<Arc<AtomicBool>> {
    let ending = Arc::new(AtomicBool::new(false));
    let flag = Arc::clone(&ending);
    let mut signals =
        signal_hook::iterator::Signals::new([SIGTERM, SIGHUP, SIGINT, SIGQUIT, SIGABRT])?;
    std::thread::Builder::new()
        .name("signals".to_owned())
        .spawn(move || {
            if let Some(signal) = signals.forever().next() {
                end(&flag, signal);
            }
        })?;
    let flag = Arc::clone(&ending);
    std::thread::Builder::new()
        .name("hang-up".to_owned())
        .spawn(move || {
            if has_hung_up() {
                end(&flag, SIGHUP);
            }
        })?;
    Ok(ending)
}

/// Lets the loop end by itself, and ends the program where it does not.
fn end(ending: &AtomicBool, signal: i32) -> ! {
    ending.store(true, Ordering::SeqCst);
    std::thread::sleep(GRACE);
    guard::restore();
    std::process::exit(128 + signal);
}

/// Waits until the terminal of standard input has gone: one that does not control the program sends no
/// signal then, and reading from it would never wait again. Returns `false` where standard input is no
/// terminal or cannot be watched.
fn has_hung_up() -> bool {
    use rustix::event::{PollFd, PollFlags, poll};
    use std::io::IsTerminal as _;
    let terminal = io::stdin();
    if !terminal.is_terminal() {
        return false;
    }
    loop {
        // A hang-up is told though nothing is asked for.
        let mut watched = [PollFd::new(&terminal, PollFlags::empty())];
        match poll(&mut watched, None) {
            Ok(_)
                if watched[0]
                    .revents()
                    .intersects(PollFlags::HUP | PollFlags::ERR) =>
            {
                return true;
            }
            Ok(_) | Err(rustix::io::Errno::INTR) => {}
            Err(_) => return false,
        }
    }
}

fn turn(
    app: &mut App,
    performer: &mut Performer,
    ending: &AtomicBool,
    clock: Clock,
) -> io::Result<()> {
    let no_color = std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty());
    let is_ascii = is_ascii_terminal(&|name| std::env::var(name).ok());
    let theme = Theme::new(no_color, None).ascii(is_ascii);
    let out = BufWriter::with_capacity(FRAME, io::stdout());
    let mut terminal = Terminal::new(CrosstermBackend::new(out))?;
    // The first look at the events starts watching the window's size; before the first drawing, so
    // that no change of size falls between the two.
    event::poll(Duration::ZERO)?;
    if !super::clipboard::is_taken(&|name| std::env::var(name).ok()) {
        app.clipboard = Clipboard::Refused;
    }
    let effects = update::message(app, performer.begin());
    do_all(app, performer, effects, &mut terminal)?;
    let mut dirty = true;
    let mut resized = false;
    let mut undrawn = 0;
    let mut next_poll = Instant::now() + POLL;
    let mut first = true;
    let mut touched = Touched::now(clock);
    let (begun, mut burst) = (Instant::now(), Burst::default());
    while !app.quit {
        // While keys are waiting, nobody would see a screen drawn between them.
        if dirty && (undrawn >= MOST_UNDRAWN || !event::poll(Duration::ZERO)?) {
            queue!(terminal.backend_mut(), BeginSynchronizedUpdate)?;
            if std::mem::take(&mut resized) {
                repaint(&mut terminal)?;
            }
            terminal.draw(|frame| {
                draw::draw(app, theme, frame);
                if theme.is_ascii() {
                    in_ascii(frame.buffer_mut());
                }
            })?;
            execute!(terminal.backend_mut(), EndSynchronizedUpdate)?;
            dirty = false;
            undrawn = 0;
        }
        if std::mem::take(&mut first) {
            // After the first drawing, so that the screen appears without delay.
            let due = vec![Effect::BackUpIfDue(Occasion::Start)];
            dirty |= do_all(app, performer, due, &mut terminal)?;
            continue;
        }
        let waiting = event::poll(Duration::ZERO)?;
        let until = burst
            .until()
            .map_or(next_poll, |at| next_poll.min(begun + at));
        let wait = until.saturating_duration_since(Instant::now());
        let seen = if waiting || event::poll(wait)? {
            Some(event::read()?)
        } else {
            None
        };
        if ending.load(Ordering::SeqCst) {
            for input in burst.finish() {
                let effects = update::input(app, input);
                do_all(app, performer, effects, &mut terminal)?;
            }
            update::input(app, Input::Hangup);
            continue;
        }
        let inputs = if let Some(seen) = seen {
            resized |= matches!(seen, event::Event::Resize(..));
            dirty |= resized;
            input::read(seen).map_or_else(Vec::new, |i| burst.take(i, begun.elapsed(), waiting))
        } else if Instant::now() >= next_poll {
            next_poll = Instant::now() + POLL;
            vec![Input::Poll]
        } else {
            burst.pass(begun.elapsed())
        };
        // Before anything is made of a key: the one that wakes a machine finds the screen locked.
        let open = app.lock.is_none();
        let effects = update::input(app, Input::Idle(touched.minutes()));
        dirty |= do_all(app, performer, effects, &mut terminal)?;
        if open && app.lock.is_some() {
            (touched, dirty) = (Touched::now(clock), true);
            burst.spoil();
            continue;
        }
        if inputs.iter().any(|i| *i != Input::Poll) {
            // Asked for now: the news of another size may be behind the key.
            let size = terminal.size()?;
            update::input(app, Input::Window(size.width, size.height));
        }
        for input in inputs {
            if app.quit {
                break;
            }
            if matches!(input, Input::Key(_) | Input::Paste(_) | Input::Scanned(_)) {
                touched = Touched::now(clock);
            }
            let polled = input == Input::Poll;
            undrawn += 1;
            let effects = update::input(app, input);
            let told = do_all(app, performer, effects, &mut terminal)?;
            dirty |= told || !polled;
        }
    }
    Ok(())
}

/// Puts an ASCII character into every cell of a frame that has another.
fn in_ascii(buffer: &mut Buffer) {
    for cell in &mut buffer.content {
        if !cell.symbol().is_ascii() {
            let shown = ascii(cell.symbol()).trim_start().chars().next();
            cell.set_char(shown.unwrap_or(' '));
        }
    }
}

/// Makes the next drawing paint every cell: a terminal that was small for a moment has lost the cells
/// outside, even if it has its old size again when it is drawn.
fn repaint(terminal: &mut Screen) -> io::Result<()> {
    let size = terminal.size()?;
    terminal.resize(ratatui::layout::Rect::new(0, 0, size.width, size.height))
}

/// Carries out effects and those that follow from them; returns whether a message came back.
fn do_all(
    app: &mut App,
    performer: &mut Performer,
    effects: Vec<Effect>,
    terminal: &mut Screen,
) -> io::Result<bool> {
    let mut queue: std::collections::VecDeque<Effect> = effects.into();
    let mut told = false;
    while let Some(effect) = queue.pop_front() {
        if effect == Effect::Suspend {
            guard::restore();
            // The system ignores it where no shell could take the program up again.
            signal_hook::low_level::raise(SIGTSTP)?;
            guard::take()?;
            repaint(terminal)?;
            told = true;
            continue;
        }
        if let Effect::Copy(text) = &effect {
            let mut out = io::stdout();
            out.write_all(super::clipboard::sequence(text).as_bytes())?;
            out.flush()?;
            continue;
        }
        if let Some(message) = performer.perform(effect) {
            told = true;
            queue.extend(update::message(app, message));
        }
    }
    Ok(told)
}
