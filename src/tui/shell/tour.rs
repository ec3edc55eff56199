//! A first look round the screens, on the invented practice: five stops, each the real screen with
//! a few lines about it. Any key of the screen works meanwhile and ends the tour.

use super::app::App;
use crate::job::Stage;
use crate::tui::action::Action;
use crate::tui::effect::Effect;
use crate::tui::key::Key;
use crate::tui::keymap::Keymap;
use crate::tui::next::Next;
use crate::tui::screen_name::Screen;

/// One stop of the tour.
#[derive(Debug)]
pub struct Stop {
    /// The screen it is about.
    pub screen: Screen,
    /// What is said there.
    pub text: &'static str,
}

impl Stop {
    /// What is said, with the keys of a practice in the places of their actions' names.
    pub fn says(&self, keys: &Keymap) -> String {
        keys.sentence(self.text)
    }
}

/// The stops, in the order of a pair's way through the practice.
pub const STOPS: [Stop; 5] = [
    Stop {
        screen: Screen::Worklist,
        text: "The worklist: today on top, then the open jobs in the order in which they need somebody. \
               {up} and {down} select; the fitting card of the selected job is always in view. {open} opens it.",
    },
    Stop {
        screen: Screen::Job,
        text: "A job: right and left eye side by side, {section-wearer} to {section-history} are its sections. Type a value and press {next-field}; \
               a whole power such as -2.25/-0.75x90 fills its row. What follows from an entry is worked out beside it.",
    },
    Stop {
        screen: Screen::Gate,
        text: "The gate: what holds the next move, worst first, with its ways out. {go-to-field} goes to the entry; a \
               warning is accepted with a reason by who may.",
    },
    Stop {
        screen: Screen::Lookup,
        text: "The look-up: a few letters of a name, digits of a number, telephone or date of birth, or a frame. \
               The fitting values of a past job show while you type.",
    },
    Stop {
        screen: Screen::Collections,
        text: "The collections of the day: each wearer's checks on the face in their order, one key each. \
               {help} shows the keys of any screen, {palette} finds an action by its name. In the invented practice nobody is real: try things there.",
    },
];

/// Begins the tour.
pub(crate) fn begin(app: &mut App) -> Next {
    go(app, 0)
}

/// Takes a key during the tour; `None` when it is the screen's own, and the tour over.
pub(crate) fn key(app: &mut App, key: Key) -> Option<Next> {
    let at = app.tour?;
    if key.is("enter") || key.is("right") {
        return Some(go(app, at + 1));
    }
    if key.is("left") {
        return Some(go(app, at.saturating_sub(1)));
    }
    app.tour = None;
    // Esc ends the tour where it is: it does not also leave the screen.
    key.is("esc").then_some(Next::Stay)
}

fn go(app: &mut App, to: usize) -> Next {
    let Some(stop) = STOPS.get(to) else {
        app.tour = None;
        home(app);
        app.say(app.keymap.sentence("That was the tour. {help} shows the keys of a screen; tour in the list of actions ({palette}) begins again."));
        return Next::Stay;
    };
    app.tour = Some(to);
    match stop.screen {
        Screen::Job => job(app),
        Screen::Gate if app.job.is_some() => Next::Go(Screen::Gate),
        Screen::Lookup => Next::LookUp("ca".to_owned()),
        Screen::Collections => Next::Run(Action::Collections),
        _ => {
            home(app);
            Next::Stay
        }
    }
}

fn home(app: &mut App) {
    app.begin(Screen::Worklist);
}

/// Opens a job that is being measured and is held: the one that shows most.
fn job(app: &mut App) -> Next {
    let lines = &app.lines;
    let held = lines
        .iter()
        .filter(|l| l.stage == Stage::Measured && !l.held.is_empty())
        .max_by_key(|l| l.held.iter().count());
    let Some(line) = held.or_else(|| lines.first()) else {
        return Next::Stay;
    };
    let number = line.number.clone();
    home(app);
    Next::Do(vec![Effect::Open(number)])
}
