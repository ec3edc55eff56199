//! Many thousand random keys through the real keys, reducer and book: nothing breaks, every screen
//! can be drawn at any size, and what is shown as kept is what a second look at the file finds.
//!
//! `RIMBOOK_FAULT_ROUNDS` asks for more keys than the usual run.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "tests"
)]

mod driver;
mod faults;

use std::collections::HashMap;

use driver::{Driver, clock, scenario};
use faults::{Dice, report, rounds, whole};
use rimbook::app::Screen;
use rimbook::app::action::ACTIONS;
use rimbook::app::key::{Code, Key, NAMED};
use rimbook::app::update::Input;
use rimbook::desk::Desk;

/// Every screen but the welcome, which a book that is there never shows.
const SCREENS: [Screen; 9] = [
    Screen::Worklist,
    Screen::Job,
    Screen::Gate,
    Screen::Lookup,
    Screen::Collections,
    Screen::Parcel,
    Screen::Pictures,
    Screen::Choices,
    Screen::Workbench,
];

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
        assert!(
            shown.contains(person.as_str()),
            "{what}: who acts is shown\n{shown}"
        );
    }
    let Some(job) = &d.app.job else { return };
    let second = Desk::open(&d.path, clock()).unwrap();
    let kept = second.load(&job.open.number).unwrap();
    assert_eq!(job.open, kept, "{what}");
    let name = kept.job.wearer.name.clone().unwrap_or_default();
    if d.app.screen == Screen::Job && d.app.dialog.is_none() && name.is_ascii() && name.len() < 30 {
        // Beside who acts and the day a long name is cut in a narrower window.
        let wide = d.screen(140, 30);
        assert!(wide.contains(&name), "{what}: {name:?}\n{wide}");
    }
}

#[test]
fn no_row_of_keys_breaks_a_screen_or_parts_it_from_the_book() {
    let mut visits: HashMap<Screen, u64> = HashMap::new();
    let keys = rounds(6000);
    let runs = 6;
    for seed in 0..runs {
        let mut dice = Dice::new(seed);
        let jobs = ["S01", "S07", "S12"].map(|id| scenario(id)["job"].clone());
        let mut d = Driver::signed_in(&jobs);
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
            // Now and then straight to where random keys seldom lead.
            if dice.below(60) == 0 {
                d.keys(&["esc", "esc", "esc", "esc", "esc", "esc"]);
                let action = match dice.below(5) {
                    0 => "workbench",
                    1 => "pictures",
                    2 => "choices",
                    3 => "parcel",
                    _ => "collections",
                };
                if !matches!(action, "parcel" | "collections") {
                    d.keys(&["enter"]);
                }
                if let Some(e) = ACTIONS.iter().find(|e| e.id == action) {
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
