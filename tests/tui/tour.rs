//! The tour of the screens on the invented practice.

use crate::driver::{Driver, demo_book};
use rimbook::testing::tui::action::Action;
use rimbook::testing::tui::tour::STOPS;
use rimbook::testing::tui::{Screen, update};

fn practice() -> (tempfile::TempDir, Driver) {
    let (dir, path) = demo_book();
    let mut driver = Driver::on(path);
    let effects = update::done(&mut driver.app, Action::Tour);
    driver.run(effects);
    (dir, driver)
}

#[test]
fn each_stop_shows_its_screen_and_what_is_said_about_it_in_full() {
    for (width, height) in [(80, 24), (120, 40), (60, 16)] {
        let (_dir, mut d) = practice();
        for (index, stop) in STOPS.iter().enumerate() {
            assert_eq!(d.app.screen, stop.screen, "stop {}", index + 1);
            let screen = d.screen(width, height);
            assert!(
                screen.contains(&format!("tour, {} of 5", index + 1)),
                "{screen}"
            );
            let text = stop.says(&d.app.keymap);
            assert!(!text.contains(['{', '}']), "{text}");
            let last = text.split(' ').next_back().unwrap();
            assert!(screen.contains(last), "{last:?} is cut off\n{screen}");
            d.keys(&["enter"]);
        }
        assert_eq!((d.app.screen, d.app.tour), (Screen::Worklist, None));
    }
}

#[test]
fn the_box_hides_neither_a_finding_of_the_gate_nor_its_ways_out() {
    let (_dir, mut d) = practice();
    d.keys(&["enter", "enter"]);
    assert_eq!(d.app.screen, Screen::Gate);
    let with = d.screen(80, 24);
    let gate = |screen: &str| -> Vec<String> {
        let lines = screen.lines().map(|l| l.trim().to_owned());
        lines
            .filter(|l| !l.is_empty() && !l.starts_with('─'))
            .collect()
    };
    assert!(with.contains("tour, 3 of 5"));
    d.keys(&["esc"]);
    for line in gate(&d.screen(80, 24)) {
        assert!(with.contains(&line), "{line} is hidden\n{with}");
    }
}

#[test]
fn a_key_of_the_screen_ends_the_tour_and_does_its_own() {
    let (_dir, mut d) = practice();
    d.keys(&["/"]);
    assert_eq!((d.app.screen, d.app.tour), (Screen::Lookup, None));
}

#[test]
fn esc_ends_the_tour_and_stays_on_the_screen() {
    let (_dir, mut d) = practice();
    d.keys(&["enter", "enter", "left", "esc"]);
    assert_eq!((d.app.screen, d.app.tour), (Screen::Job, None));
}

#[test]
fn the_tour_names_the_keys_that_the_practice_has_chosen() {
    let keys = rimbook::testing::tui::keymap::Keymap::with_file(
        "help = \"f12\"\nsection-wearer = \"alt-w\"",
    )
    .unwrap();
    let all: Vec<String> = STOPS.iter().map(|s| s.says(&keys)).collect();
    let all = all.join(" ");
    assert!(
        all.contains("f12 shows the keys") && all.contains("alt-w to alt-9"),
        "{all}"
    );
    assert!(!all.contains("? shows"), "{all}");
}
