//! Many thousand random keys through the real keys, reducer and book: nothing breaks, every screen
//! can be drawn at any size, and what is shown as kept is what a second look at the file finds.
//!
//! Long: a plain run presses fewer keys (`tests/support/long.rs`).

use std::collections::HashMap;

use crate::driver::{Driver, clock, optician, scenario};
use crate::faults::{Dice, report, whole};
use crate::long::rounds;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::action::{ACTIONS, Scope};
use rimbook::testing::tui::key::{Code, Key, NAMED};
use rimbook::testing::tui::update::Input;

/// Every screen but the welcome, which a book that is there never shows.
const SCREENS: [Screen; 12] = [
    Screen::Worklist,
    Screen::Job,
    Screen::Gate,
    Screen::Lookup,
    Screen::Collections,
    Screen::Parcel,
    Screen::Pictures,
    Screen::Choices,
    Screen::Workbench,
    Screen::Figures,
    Screen::Aloud,
    Screen::Visit,
];

/// Begins the recheck of a pair from before the book; returns its number.
fn recheck_in(book: &std::path::Path) -> String {
    let mut past = scenario("S01")["job"].clone();
    past["past"] = true.into();
    past["stage"] = "collected".into();
    let mut desk = Desk::open(book, clock()).unwrap();
    let by = optician().name;
    let imported = desk.import(&past.to_string(), Some(&by)).unwrap();
    desk.recheck(&imported.numbers[0], &by).unwrap().number
}

fn pick<'a, T>(dice: &mut Dice, of: &'a [T]) -> &'a T {
    let at = dice.below(of.len() as u64);
    &of[usize::try_from(at).unwrap()]
}

/// What comes next: most often a key that does something on some screen.
fn next(dice: &mut Dice) -> Input {
    let typed = |c| Key {
        code: Code::Char(c),
        ctrl: false,
        alt: false,
    };
    let key = match dice.below(20) {
        0..=7 => {
            let keys = pick(dice, ACTIONS).keys;
            if keys.is_empty() {
                typed('a')
            } else {
                Key::parse(pick::<&str>(dice, keys)).unwrap()
            }
        }
        8..=12 => Key {
            code: Code::Named(pick::<&str>(dice, NAMED)),
            ctrl: dice.below(8) == 0,
            alt: false,
        },
        13..=16 => {
            let characters: Vec<char> = "0123456789.,+-/x @aeinor".chars().collect();
            typed(*pick(dice, &characters))
        }
        17 => typed(
            char::from_u32(u32::try_from(dice.below(0x11_0000)).unwrap()).unwrap_or('\u{301}'),
        ),
        18 if dice.below(3) == 0 => {
            let numbers = ["1001", "1002", "1003", "9999"];
            return Input::Scanned((*pick(dice, &numbers)).to_owned());
        }
        18 => return Input::Poll,
        _ => {
            let texts = [
                "-2.25/-0.75x90",
                "R +1.00 L +1.25 add 2.00",
                "18.5",
                "2026-11-30",
                "\u{1b}[31m\u{7}",
                "two\nlines\r\n",
                "\u{202e}nrut",
                "e\u{301}\u{301}\u{301}",
                "日本語",
                "",
            ];
            return Input::Paste((*pick(dice, &texts)).to_owned());
        }
    };
    Input::Key(key)
}

/// Asserts what holds after every key.
fn holds(d: &Driver, what: &str) {
    let app = &d.app;
    assert!(app.trail.len() <= SCREENS.len(), "{what}: {:?}", app.trail);
    let needs_job = matches!(
        app.screen,
        Screen::Job | Screen::Gate | Screen::Pictures | Screen::Choices
    );
    assert!(!needs_job || app.job.is_some(), "{what}: {:?}", app.screen);
    assert_ne!(app.screen, Screen::Welcome, "{what}");
}

/// Asserts what is drawn and that the job on the screen is the job in the file.
fn looks_right(d: &Driver, dice: &mut Dice, what: &str) {
    let (width, height) = (
        u16::try_from(1 + dice.below(160)).unwrap(),
        u16::try_from(1 + dice.below(60)).unwrap(),
    );
    d.screen(width, height);
    let shown = d.screen(100, 30);
    assert!(
        !shown.chars().any(|c| c.is_control() && c != '\n'),
        "{what}: {shown:?}"
    );
    if let (Some(person), None) = (&d.app.person, &d.app.dialog) {
        // Behind a character of two columns stands an empty cell.
        let bare = |text: &str| text.split_whitespace().collect::<String>();
        assert!(
            bare(&shown).contains(&bare(person)),
            "{what}: who acts is shown\n{shown}"
        );
    }
    let Some(job) = &d.app.job else { return };
    let second = Desk::open(&d.path, clock()).unwrap();
    let kept = second.load(&job.open.number).unwrap();
    assert_eq!(job.open, kept, "{what}");
    let name = kept.job.wearer.name.clone().unwrap_or_default();
    // While the name itself is typed again, what is typed stands in its place.
    let is_read = d.app.dialog.is_none() && d.app.states.form().is_none_or(|f| f.edit().is_none());
    if d.app.screen == Screen::Job && is_read && name.is_ascii() {
        // The header cuts a name that is too long for it.
        let begins: String = name.chars().take(12).collect();
        assert!(shown.contains(&begins), "{what}: {name:?}\n{shown}");
    }
}

#[test]
fn no_row_of_keys_breaks_a_screen_or_parts_it_from_the_book() {
    let mut visits: HashMap<Screen, u64> = HashMap::new();
    let keys = rounds(2400, 6000);
    let runs = 6;
    let mut turns = (0..9_u8).cycle();
    for seed in 0..runs {
        let mut dice = Dice::new(seed);
        let jobs = ["S01", "S07", "S12"].map(|id| scenario(id)["job"].clone());
        let mut d = Driver::signed_in(&jobs);
        let recheck = recheck_in(&d.path);
        for step in 0..keys / runs {
            let input = next(&mut dice);
            let what = format!("seed {seed}, step {step}, {input:?}");
            d.input(input);
            d.app.quit = false;
            holds(&d, &what);
            *visits.entry(d.app.screen).or_default() += 1;
            if dice.below(25) == 0 {
                looks_right(&d, &mut dice, &what);
            }
            // Now and then straight to where random keys seldom lead, to each of them in turn.
            if dice.below(60) == 0 {
                d.keys(&["esc", "esc", "esc", "esc", "esc", "esc"]);
                let action = match turns.next().unwrap() {
                    0 => "workbench",
                    1 => "pictures",
                    2 => "choices",
                    3 => "figures",
                    4 => "gate",
                    5 => "visit",
                    6 => "parcel",
                    7 => "read-aloud",
                    _ => "collections",
                };
                if action == "visit" {
                    d.keys(&["/", &recheck, "enter"]);
                }
                if let Some(e) = ACTIONS.iter().find(|e| e.id == action) {
                    // The worklist's own key would be typed into a job.
                    if !e.scopes.contains(&Scope::Worklist) && action != "visit" {
                        d.keys(&["enter"]);
                    }
                    d.press(Key::parse(e.keys[0]).unwrap());
                }
            }
        }
        drop(d.performer);
        whole(&d.path);
    }
    for screen in SCREENS {
        assert!(
            visits.contains_key(&screen),
            "{screen:?} was never reached: {visits:?}"
        );
    }
    report(&format!("{keys} keys in {runs} books: {visits:?}"));
}
