//! A parcel by keys over a real book: the order is hidden until both lenses are read, the same fault
//! again is said, and nothing typed is lost.

use crate::driver::{Driver, clock};
use crate::parcel_book::{NUMBERS, book, job_in_hand, ordered, taken_up, types};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::{Section, Stage};
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::update::Input;
use serde_json::json;

#[test]
fn late_and_due_pairs_come_first_and_a_number_or_its_end_takes_one_up() {
    let mut d = book(&[
        ordered("Bela Quist", "2026-10-20"),
        ordered("Ada Brookfield", "2026-10-12"),
        ordered("Ivor Pennick", "2026-10-05"),
    ]);
    d.keys(&["p"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    let names: Vec<&str> = d.parcel().lines.iter().map(|l| l.wearer.as_str()).collect();
    assert_eq!(names, ["Ivor Pennick", "Ada Brookfield", "Bela Quist"]);
    let screen = d.screen(80, 24);
    assert!(
        screen.contains("late 7 d") && screen.contains("today"),
        "{screen}"
    );

    let number = d.parcel().lines[1].number.clone();
    let end: String = number.chars().skip(number.chars().count() - 2).collect();
    d.keys(&[&end, "enter"]);
    assert_eq!(
        job_in_hand(&d).wearer.name.as_deref(),
        Some("Ada Brookfield")
    );
    d.keys(&["esc"]);
    assert!(d.in_hand().is_none());

    d.input(Input::Scanned(number));
    assert_eq!(
        job_in_hand(&d).wearer.name.as_deref(),
        Some("Ada Brookfield")
    );
    d.keys(&["esc", "9999", "enter"]);
    assert!(d.said().contains("9999"), "{}", d.said());
    assert!(d.in_hand().is_none());
}

#[test]
fn nothing_of_the_order_is_anywhere_on_the_screen_before_both_lenses_are_read() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    let hidden = |d: &Driver| {
        for (width, height) in [(80, 24), (140, 50), (60, 16)] {
            let screen = d.screen(width, height);
            for number in NUMBERS {
                assert!(!screen.contains(number), "{number}: {screen}");
            }
        }
    };
    d.keys(&["p"]);
    hidden(&d);
    d.keys(&["enter"]);
    hidden(&d);
    d.keys(&["v"]);
    assert!(d.said().contains("Neither lens is read"), "{}", d.said());
    hidden(&d);
    d.keys(&["s"]);
    hidden(&d);
    d.keys(&["esc", "y", "y", "y"]);
    hidden(&d);
    d.keys(&["?"]);
    hidden(&d);
    d.keys(&["x", "-2.00/-0.50x10"]);
    hidden(&d);
    d.keys(&["enter"]);
    hidden(&d);
    d.keys(&["v"]);
    assert!(d.said().contains("left lens is not read"), "{}", d.said());
    d.keys(&["m"]);
    hidden(&d);
    assert!(!d.shows_verdict());
    // Both are read: now it may be seen, and only when asked for.
    types(&mut d, &["-2.00/-0.50x10"]);
    hidden(&d);
    d.keys(&["v"]);
    assert!(d.shows_verdict());
    let screen = d.screen(80, 24);
    assert!(
        screen.contains("FAILS") && screen.contains("77"),
        "{screen}"
    );
}

#[test]
fn a_pair_that_reads_well_is_confirmed_and_passed_with_one_key() {
    let mut d = book(&[
        ordered("Ada Brookfield", "2026-10-12"),
        ordered("Bela Quist", "2026-10-13"),
    ]);
    taken_up(&mut d);
    types(
        &mut d,
        &[
            "-3.77/-1.25x77",
            "-4.24/-1.77x103",
            "32.3",
            "32.7",
            "18.7",
            "18.9",
        ],
    );
    assert!(d.shows_verdict(), "{}", d.screen(80, 24));
    let screen = d.screen(80, 24);
    assert!(screen.contains("resin 1.60? y or n"), "{screen}");
    d.keys(&["y", "y"]);
    let screen = d.screen(80, 24);
    assert!(screen.contains("PASSES"), "{screen}");
    let number = d.parcel().in_hand.clone().unwrap();
    d.keys(&["m"]);
    assert_eq!(d.said(), "The job is verified now.");
    assert_eq!(d.app.screen, Screen::Parcel);
    assert!(d.in_hand().is_none());
    let job = Desk::open(&d.path, clock())
        .unwrap()
        .load(&number)
        .unwrap()
        .job;
    assert_eq!(job.stage(), Stage::Verified);
    assert_eq!(job.readings.taken_by.as_deref(), Some("Ines Calloway"));
    assert!(job.readings.taken_on.is_some());
    // The next one is at the cursor.
    assert_eq!(d.parcel().lines[d.parcel().selected].wearer, "Bela Quist");
}

#[test]
fn a_pair_that_is_held_by_something_else_leads_to_the_gate() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    d.keys(&["p", "enter", "n", "y", "y"]);
    types(
        &mut d,
        &[
            "-3.75/-1.25x77",
            "-4.25/-1.75x103",
            "32.3",
            "32.7",
            "18.7",
            "18.9",
        ],
    );
    assert!(
        d.screen(80, 24).contains("BUT HELD"),
        "{}",
        d.screen(80, 24)
    );
    assert!(
        d.screen(80, 24).contains("not been trued"),
        "{}",
        d.screen(80, 24)
    );
    d.keys(&["m"]);
    assert_eq!(d.app.screen, Screen::Gate);
    let findings = &d.app.job.as_ref().unwrap().findings;
    assert!(
        findings
            .iter()
            .any(|f| f.check == "frame-untrued" && f.is_open())
    );
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    assert!(d.in_hand().is_some());
}

#[test]
fn what_fails_goes_back_with_its_reason_put_in_and_the_same_again_is_said() {
    let mut d = book(&[
        ordered("Ada Brookfield", "2026-10-12"),
        ordered("Bela Quist", "2026-10-12"),
        ordered("Ivor Pennick", "2026-10-12"),
    ]);
    d.keys(&["p"]);
    let reads = [
        "-3.75/-1.25x91",
        "-4.25/-1.75x103",
        "32.3",
        "32.7",
        "18.7",
        "18.9",
    ];
    for (turn, again) in [None, Some("second"), Some("third")]
        .into_iter()
        .enumerate()
    {
        d.keys(&["enter", "y", "y", "y"]);
        types(&mut d, &reads);
        let screen = d.screen(80, 24);
        assert!(screen.contains("FAILS"), "{screen}");
        let said = again.map(|word| {
            // It is not sent back yet, and need not be.
            format!("lens-axis: if it goes back, the {word} pair from this laboratory in 90 days")
        });
        match &said {
            Some(said) => assert!(screen.contains(said.as_str()), "{screen}"),
            None => assert!(!screen.contains("pair from this laboratory"), "{screen}"),
        }
        let number = d.parcel().in_hand.clone().unwrap();
        d.keys(&["s", "enter"]);
        assert!(d.said().contains("Sent back"), "{}", d.said());
        let desk = Desk::open(&d.path, clock()).unwrap();
        let history = desk.history(&number).unwrap();
        let event = history.iter().find(|e| e.what == "sent back").unwrap();
        let reason = event.detail["reason"].as_str().unwrap();
        assert!(reason.contains("axis") && reason.contains("91"), "{reason}");
        assert!(
            !reason.contains("confirmed"),
            "our own work is no fault: {reason}"
        );
        assert_eq!(
            desk.load(&number).unwrap().job.readings.right.sphere_d,
            None
        );
        assert_eq!(d.parcel().done.len(), turn + 1);
    }
    assert!(d.screen(80, 24).contains("sent back in this run"));
    let desk = Desk::open(&d.path, clock()).unwrap();
    assert_eq!(desk.sent_back_lately().unwrap().len(), 3);
}

#[test]
fn what_is_being_typed_outlives_the_program() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    d.keys(&["-3.8"]);
    let mut new = Driver::on(d.path.clone());
    new.keys(&["w", "enter", "p", "enter"]);
    let edit = new.parcel().editor.edit().expect("what was typed");
    assert_eq!(edit.line.text(), "-3.8");
    new.keys(&["8/-1.25x77", "enter"]);
    assert_eq!(
        job_in_hand(&new)
            .readings
            .right
            .cylinder_d
            .unwrap()
            .thousandths(),
        -1250
    );
    // A further reading, half typed, too.
    new.keys(&["-3.7"]);
    let mut third = Driver::on(new.path.clone());
    third.keys(&["w", "enter", "p", "enter"]);
    let edit = third.parcel().editor.edit().expect("what was typed");
    assert_eq!(
        (edit.path.as_str(), edit.line.text()),
        ("readings.repeats.right.0", "-3.7")
    );
    // The form does not take it for one of its own entries.
    third.keys(&["esc", "esc", "esc", "enter"]);
    assert_eq!(third.app.screen, Screen::Job);
}

#[test]
fn what_cannot_be_read_is_refused_beside_the_entry_and_kept() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    for text in ["-2.00/-0.50", "abc", "L -2.00/-0.50x90"] {
        // The first letter of a word would be an action; a digit or sign begins the entry.
        d.keys(&["-", "ctrl-u", text, "enter"]);
        let edit = d.parcel().editor.edit().expect("still there");
        assert!(edit.error.is_some(), "{text}");
        assert_eq!(edit.line.text(), text);
        d.keys(&["esc"]);
    }
    assert_eq!(d.in_book().job.readings.right.sphere_d, None);
}

#[test]
fn whoever_reads_is_asked_for_first_and_what_was_typed_stays() {
    let mut d = Driver::with(&[]);
    drop(d.screen(80, 24));
    let b = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    d = Driver::on(b.path.clone());
    d.keys(&[
        "p",
        "enter",
        "down",
        "down",
        "down",
        "-3.75/-1.25x77",
        "enter",
    ]);
    assert!(d.app.dialog.is_some(), "{}", d.screen(80, 24));
    d.keys(&["enter", "enter"]);
    assert_eq!(
        d.in_book()
            .job
            .readings
            .right
            .axis_deg
            .unwrap()
            .thousandths(),
        77000
    );
    assert_eq!(
        d.in_book().job.readings.taken_by.as_deref(),
        Some("Ines Calloway")
    );
}

#[test]
fn somebody_elses_change_meanwhile_loses_nothing_that_was_typed() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    d.keys(&["-3.75/-1.25x77"]);
    let number = d.parcel().in_hand.clone().unwrap();
    Desk::open(&d.path, clock())
        .unwrap()
        .record(
            &number,
            Section::Order,
            &json!({"notes": "rang"}),
            None,
            Some("Ines Calloway"),
        )
        .unwrap();
    d.keys(&["enter"]);
    let edit = d.parcel().editor.edit().expect("kept");
    assert_eq!(edit.line.text(), "-3.75/-1.25x77");
    d.keys(&["enter"]);
    assert_eq!(
        d.in_book()
            .job
            .readings
            .right
            .axis_deg
            .unwrap()
            .thousandths(),
        77000
    );
    assert_eq!(d.in_book().job.order.notes.as_deref(), Some("rang"));
}

#[test]
fn only_the_last_days_are_looked_at() {
    let d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let number = desk.worklist().unwrap()[0].number.clone();
    desk.send_back(&number, "Ines Calloway", "scratched")
        .unwrap();
    let on = |day: &str| {
        let clock = rimbook::testing::book::clock::Clock {
            fixed: Some(day.parse().unwrap()),
        };
        Desk::open(&d.path, clock)
            .unwrap()
            .sent_back_lately()
            .unwrap()
            .len()
    };
    // 2026-10-12 and 90 days.
    assert_eq!(on("2027-01-10"), 1);
    assert_eq!(on("2027-01-11"), 0);
}

#[test]
fn what_is_not_asked_is_not_confirmed() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    // Far from the order: the verdict says that it fails and asks nothing.
    types(&mut d, &["-2.00/-0.50x10", "-2.00/-0.50x10"]);
    d.keys(&["v"]);
    assert!(d.shows_verdict() && d.screen(80, 24).contains("FAILS"));
    for key in ["y", "n"] {
        d.keys(&[key]);
        let readings = &job_in_hand(&d).readings;
        assert_eq!(
            (readings.material_confirmed, readings.coatings_confirmed),
            (None, None),
            "{key}"
        );
        assert!(d.said().contains("Nothing is asked"), "{}", d.said());
    }
}

#[test]
fn without_a_pair_in_hand_yes_and_no_answer_for_nobody() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    // The worklist's card is of this very job: it must not be taken for the one in hand.
    assert!(d.app.card.is_some());
    let number = d.app.lines[0].number.clone();
    d.keys(&["p"]);
    for key in ["y", "n"] {
        d.keys(&[key]);
        assert!(d.said().contains("Take a pair up first"), "{}", d.said());
    }
    let desk = Desk::open(&d.path, clock()).unwrap();
    let job = desk.load(&number).unwrap().job;
    assert_eq!(job.handover, rimbook::testing::job::Handover::default());
    assert_eq!(job.readings, rimbook::testing::job::Readings::default());
}

#[test]
fn the_key_for_the_next_entry_keeps_a_reading_and_goes_on() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    d.keys(&["-3.75/-1.25x77", "f4"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    let readings = &job_in_hand(&d).readings;
    assert!((readings.right.axis_deg.unwrap().get() - 77.0).abs() < 1e-9);
    assert_eq!(d.parcel().editor.edit().map(|_| ()), None);
}

#[test]
fn the_gate_keeps_a_reading_that_is_good_and_says_why_it_waits_for_one_that_is_not() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    d.keys(&["-3.75/-1.25", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    let edit = d.parcel().editor.edit().cloned().expect("kept");
    assert_eq!(edit.line.text(), "-3.75/-1.25");
    assert!(edit.error.is_some());
    assert!(
        d.said().contains("The gate is not shown yet"),
        "{}",
        d.said()
    );
    // It is kept; but the gate says what was ordered, and the left lens is not read.
    d.keys(&["x77", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    let readings = d.in_book().job.readings;
    assert!((readings.right.axis_deg.unwrap().get() - 77.0).abs() < 1e-9);
    assert!(d.said().contains("stays hidden"), "{}", d.said());
    // Once the readings are in, a correction is kept and the gate shown; from there back to the pair.
    types(&mut d, &["-4.25/-1.75x103"]);
    d.parcel_mut().row = 4;
    d.keys(&["-4.26/-1.75x103", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Gate, "{}", d.said());
    let read = d.in_book().job.readings.left.sphere_d;
    assert_eq!(read.unwrap().thousandths(), -4260);
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    assert!(d.in_hand().is_some());
}
