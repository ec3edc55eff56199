//! The order of a pair in hand stays hidden until its round of readings is in: card, gate, any keys.
#![allow(clippy::needless_pass_by_value, reason = "tests")]

use crate::driver::{Driver, clock};
use crate::parcel_book::{NUMBERS, book, job_in_hand, ordered, taken_up, types};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::Section;
use rimbook::testing::trade::units::Dioptre;
use rimbook::testing::tui::Screen;
use serde_json::json;

#[test]
fn the_card_of_the_pair_in_hand_hides_its_order_until_the_round_is_complete() {
    let mut d = book(&[
        ordered("Ada Brookfield", "2026-10-12"),
        ordered("Bela Quist", "2026-10-20"),
    ]);
    taken_up(&mut d);
    let number = d.parcel().in_hand.clone().unwrap();
    let (words, powers) = ("hidden until both lenses are read", "-3.75");
    let looked_up = |d: &mut Driver, text: &str| {
        d.keys(&["/", text]);
        let screens = [(80, 24), (140, 50), (60, 16)].map(|(w, h)| d.screen(w, h));
        (screens.concat(), d.screen(140, 50))
    };
    let (screens, wide) = looked_up(&mut d, &number);
    for of_order in NUMBERS {
        assert!(!screens.contains(of_order), "{of_order}: {screens}");
    }
    for known in [
        words,
        "Ada Brookfield",
        &number,
        "Oval 2 grey",
        "Northern Bench",
    ] {
        assert!(wide.contains(known), "{known}: {wide}");
    }
    // Nor is it read out.
    d.keys(&["alt-r"]);
    assert_eq!(d.app.screen, Screen::Lookup);
    assert!(d.said().contains(words), "{}", d.said());
    // Another pair is not in hand; on the way back this one still is.
    d.keys(&["esc"]);
    let (_, wide) = looked_up(&mut d, "Bela");
    assert!(wide.contains(powers) && !wide.contains(words), "{wide}");
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    types(&mut d, &["-3.75/-1.25x77"]);
    assert!(looked_up(&mut d, &number).1.contains(words));
    d.keys(&["esc"]);
    // Both are read: now it shows.
    types(&mut d, &["-4.25/-1.75x103"]);
    let (_, wide) = looked_up(&mut d, &number);
    assert!(wide.contains(powers) && !wide.contains(words), "{wide}");
}

#[test]
fn the_card_of_a_pair_that_was_put_down_shows_its_order() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    d.keys(&["esc", "/", "Ada"]);
    assert!(d.screen(140, 50).contains("-3.75"));
    // On the worklist as in the look-up.
    d.keys(&["esc", "esc"]);
    assert_eq!(d.app.screen, Screen::Worklist);
    assert!(d.screen(140, 50).contains("-3.75"));
}

#[test]
fn the_gate_is_judged_after_the_last_reading_that_was_typed_is_kept() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    // The first lens alone shows nothing, and says which is left.
    d.keys(&["-2.00/-0.50x10", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    assert_eq!(
        job_in_hand(&d).readings.right.sphere_d.map(Dioptre::get),
        Some(-2.0)
    );
    assert!(
        d.said().contains("The left lens is not read yet"),
        "{}",
        d.said()
    );
    // With the last one typed, it is kept first: both are read then.
    d.keys(&["-2.00/-0.50x10", "ctrl-g"]);
    assert!(!d.said().contains("not read yet"), "{}", d.said());
    assert_eq!(d.app.screen, Screen::Gate);
    assert!(d.in_book().job.readings.left.sphere_d.is_some());
}

#[test]
fn a_reading_that_is_refused_leads_to_no_gate() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    types(&mut d, &["-2.00/-0.50x10"]);
    // Another terminal changes the job between.
    let number = d.parcel().in_hand.clone().unwrap();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let change = json!({"reference": "A-2"});
    desk.record(&number, Section::Order, &change, None, None)
        .unwrap();
    d.keys(&["-2.00/-0.50x10", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    assert!(d.said().contains("Somebody else"), "{}", d.said());
    // Kept by Enter, it goes on with the steps as ever.
    d.keys(&["enter"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    assert!(job_in_hand(&d).readings.left.sphere_d.is_some());
}

/// Keys in an order that repeats itself for a seed, of everything that can be done at the parcel.
fn any_key(seed: &mut u64) -> &'static str {
    const KEYS: [&str; 33] = [
        "p",
        "enter",
        "enter",
        "enter",
        "y",
        "y",
        "n",
        "v",
        "m",
        "s",
        "up",
        "down",
        "up",
        "down",
        "u",
        "ctrl-u",
        "?",
        "esc",
        "tab",
        "backspace",
        "x",
        "1",
        "2",
        "9",
        "-",
        "+",
        "/",
        "-1.00",
        "-2.00/-0.50x10",
        ":",
        "a",
        "home",
        "end",
    ];
    // Marsaglia, Xorshift RNGs, 2003.
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    KEYS[usize::try_from(*seed % KEYS.len() as u64).unwrap()]
}

#[test]
fn no_keys_at_the_parcel_show_the_order_before_both_lenses_are_read() {
    let (mut hidden, mut seed) = (0, 0x2545_F491_4F6C_DD1D);
    for _ in 0..12 {
        let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
        taken_up(&mut d);
        for _ in 0..60 {
            let key = any_key(&mut seed);
            d.keys(&[key]);
            let is_read = d.in_hand().is_none_or(|j| {
                j.readings.right.sphere_d.is_some() && j.readings.left.sphere_d.is_some()
            });
            if d.app.screen != Screen::Parcel || is_read {
                break;
            }
            let size = [(80, 24), (140, 50), (60, 16)][usize::try_from(seed % 3).unwrap()];
            let screen = d.screen(size.0, size.1);
            for number in NUMBERS {
                assert!(!screen.contains(number), "{key}: {number}: {screen}");
            }
            hidden += 1;
        }
    }
    assert!(hidden > 100, "only {hidden} screens were looked at");
}
