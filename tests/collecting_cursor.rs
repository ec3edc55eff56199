//! Where the cursor of the collections stands, and what has to be typed there instead of agreed to.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "tests"
)]

mod collecting_book;
mod driver;

use collecting_book::{all, collections, handover, to};
use driver::{Driver, clock};
use rimbook::desk::Desk;
use rimbook::job::Section;
use serde_json::json;

#[test]
fn a_handover_half_done_looks_as_it_was_approved() {
    let mut d = with(-6.0, "single vision");
    d.keys(&["y", "y", "y", "y", "y", "y", "y", "y", "y", "y"]);
    insta::assert_snapshot!("handover_80x24", d.screen(80, 24));
    insta::assert_snapshot!("handover_120x40", d.screen(120, 40));
    to(&mut d, "handover.right.vertex_mm");
    insta::assert_snapshot!("handover_vertex_80x24", d.screen(80, 24));
}

#[test]
fn on_a_full_day_the_handover_in_front_and_the_count_are_still_seen() {
    let mut d = collections();
    let one = d.app.collections.lines[0].clone();
    d.app.collections.lines = (0..9)
        .map(|n| {
            let mut line = one.clone();
            line.wearer = format!("{} {n}", line.wearer);
            line
        })
        .collect();
    for front in 0..9 {
        d.app.collections.selected = front;
        for width in [60, 80, 120] {
            let screen = d.screen(width, 24);
            let head = screen.lines().nth(2).unwrap();
            let wanted = format!("[15:30 Maribel Thorncroft {front}]");
            assert!(head.contains(&wanted), "{width}: {head}");
            assert!(head.contains("0 of 26 answered"), "{width}: {head}");
        }
    }
}

/// The path of the check under the cursor.
fn at(d: &Driver) -> &'static str {
    all(d)[d.app.collections.step].path
}

#[test]
fn the_cursor_begins_at_the_first_check_without_an_answer_and_goes_on_to_the_next() {
    let mut d = collections();
    assert_eq!(at(&d), "handover.identity_checked");
    d.keys(&["y", "y", "y"]);
    assert_eq!(at(&d), "handover.temples_free");
    // One further down is answered first: it is not asked again.
    to(&mut d, "handover.let_back_even");
    d.keys(&["y"]);
    assert_eq!(at(&d), "handover.pantoscopic_deg");
    // Somebody else takes over: the screen is opened anew.
    d.keys(&["esc", "c"]);
    assert_eq!(at(&d), "handover.temples_free");
    d.keys(&["y"]);
    assert_eq!(at(&d), "handover.pantoscopic_deg", "past what is answered");
    // The gate and back: the cursor stays where it was.
    to(&mut d, "handover.stays");
    d.keys(&["g", "esc"]);
    assert_eq!(at(&d), "handover.stays");
}

#[test]
fn after_the_last_check_it_goes_round_to_what_was_left_out_and_then_stays() {
    let mut d = collections();
    let (done, count) = rimbook::app::collecting::answered(&d.app);
    assert_eq!(done, 0);
    let screen = d.screen(80, 24);
    let said = format!("0 of {count} answered");
    assert!(screen.contains(&said), "{said}: {screen}");
    d.keys(&["down"]);
    for left in (1..count).rev() {
        let before = d.app.collections.step;
        let step = all(&d)[before].clone();
        if step.is_yes_no() {
            d.keys(&["y"]);
        } else if step.path.ends_with("acuity") {
            d.keys(&["v", "6/6", "enter"]);
        } else if step.path.ends_with("words") || step.path.ends_with("collected_by") {
            d.keys(&["v", "well", "enter"]);
        } else if step.path.ends_with("bend_mm") {
            d.keys(&["v", "96", "enter"]);
        } else {
            d.keys(&["v", "12", "enter"]);
        }
        let (done, _) = rimbook::app::collecting::answered(&d.app);
        assert_eq!(done, count - left, "{}: {}", step.path, d.said());
    }
    assert_eq!(at(&d), "handover.identity_checked", "round to the first");
    d.keys(&["y"]);
    assert_eq!(at(&d), "handover.identity_checked", "nothing is left");
    assert!(d.said().contains("Every check is answered"), "{}", d.said());
    assert!(
        d.screen(80, 24)
            .contains(&format!("{count} of {count} answered"))
    );
}

#[test]
fn after_an_adjustment_the_cursor_is_at_the_first_height_to_be_read_again() {
    let mut d = collections();
    to(&mut d, "handover.right.height_mm");
    d.keys(&["19", "enter", "19", "enter"]);
    to(&mut d, "handover.pads_level");
    d.keys(&["a"]);
    assert_eq!(at(&d), "handover.right.height_mm");
    assert!(d.said().contains("read them again"), "{}", d.said());
    d.keys(&["y"]);
    assert!(
        d.said().contains("adjusted since it was read"),
        "{}",
        d.said()
    );
    assert_eq!(
        at(&d),
        "handover.right.height_mm",
        "agreeing is not reading"
    );
    d.keys(&["19.5", "enter"]);
    assert_eq!(at(&d), "handover.left.height_mm");
    // Adjusted once more, while the left one still waits: from the first of the two again.
    to(&mut d, "handover.temples_free");
    d.keys(&["a"]);
    assert_eq!(at(&d), "handover.right.height_mm");
    d.keys(&["19", "enter", "19", "enter"]);
    assert_eq!(at(&d), "handover.distance_acuity");
    assert_eq!(handover(&d).adjusted_after_heights, None);
}

#[test]
fn whoever_signs_in_only_then_has_answered_nothing_and_moved_nothing() {
    let mut d = collections();
    d.app.person = None;
    d.keys(&["y"]);
    assert_eq!(at(&d), "handover.identity_checked");
    assert_eq!(handover(&d).identity_checked, None);
    d.keys(&["enter", "y"]);
    assert_eq!(handover(&d).identity_checked, Some(true));
    assert_eq!(at(&d), "handover.frame_checked");
}

/// The same day with another pair: powers and design as given.
fn with(sphere_d: f64, design: &str) -> Driver {
    let mut d = collections();
    let number = d.app.collections.lines[0].number.clone();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let by = Some("Ines Calloway");
    let powers =
        json!({"right": {"sphere_d": sphere_d}, "left": {"sphere_d": sphere_d, "cylinder_d": 0}});
    desk.record(&number, Section::Prescription, &powers, None, by)
        .unwrap();
    let lenses = json!({"design": design});
    desk.record(&number, Section::Lenses, &lenses, None, by)
        .unwrap();
    let fitting = json!({"right": {"segment_height_mm": 16}, "left": {"segment_height_mm": 16}});
    desk.record(&number, Section::Fitting, &fitting, None, by)
        .unwrap();
    drop(desk);
    d.keys(&["esc", "c"]);
    d
}

#[test]
fn where_a_millimetre_counts_the_value_is_typed_and_not_agreed_to() {
    // From 5.00 D on: BS 2738-3 on presenting prescriptions, from memory; the practice may set its own.
    // By F²/1000: 0.025 D per millimetre at 5 D, 0.036 at 6 D.
    for (sphere, is_typed, said) in [
        (-4.75, false, ""),
        (
            -5.0,
            true,
            "at 5.00 D one millimetre changes the power by 0.03 D",
        ),
        (
            6.0,
            true,
            "at 6.00 D one millimetre changes the power by 0.04 D",
        ),
    ] {
        let mut d = with(sphere, "single vision");
        to(&mut d, "handover.right.vertex_mm");
        let screen = d.screen(80, 24);
        assert_eq!(screen.contains("y: the same"), !is_typed, "{screen}");
        assert_eq!(screen.contains("type what you read"), is_typed, "{screen}");
        d.keys(&["y"]);
        let kept = handover(&d).right.vertex_mm.is_some();
        assert_eq!(kept, !is_typed, "{sphere}: {}", d.said());
        assert!(d.said().contains(said), "{}", d.said());
        if is_typed {
            assert_eq!(at(&d), "handover.right.vertex_mm");
            d.keys(&["13", "enter"]);
            assert!((handover(&d).right.vertex_mm.unwrap().get() - 13.0).abs() < 1e-9);
        }
        // What does not hang on the strength is agreed to as before.
        to(&mut d, "handover.pantoscopic_deg");
        d.keys(&["y"]);
        assert!(handover(&d).pantoscopic_deg.is_some());
    }
    let mut d = with(-4.75, "single vision");
    d.app
        .practice
        .thresholds
        .set(rimbook::gate::Threshold::Strong, 4.0);
    to(&mut d, "handover.left.vertex_mm");
    d.keys(&["y"]);
    assert_eq!(
        handover(&d).left.vertex_mm,
        None,
        "the practice's own limit"
    );
}

#[test]
fn heights_of_lenses_with_more_than_one_power_are_typed_too() {
    for (design, path, is_typed) in [
        ("single vision", "handover.right.height_mm", false),
        ("bifocal", "handover.right.segment_height_mm", true),
        ("trifocal", "handover.right.segment_height_mm", true),
        ("progressive", "handover.right.height_mm", true),
        ("occupational", "handover.right.height_mm", true),
    ] {
        let mut d = with(-1.0, design);
        to(&mut d, path);
        d.keys(&["y"]);
        assert_eq!(handover(&d).right.has_height(), !is_typed, "{design}");
        if is_typed {
            let said = format!("in a {design} lens the height decides");
            assert!(
                d.said().contains(&said.replace("a occ", "an occ")),
                "{}",
                d.said()
            );
            d.keys(&["16", "enter"]);
            assert!(handover(&d).right.has_height(), "{design}");
        }
    }
}

#[test]
fn a_wearer_who_comes_without_an_appointment_is_handed_the_selected_pair() {
    let mut d = collections();
    d.keys(&["esc"]);
    let first = d.app.worklist.line().unwrap().number.clone();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let none = json!({"collection_at": null});
    desk.record(&first, Section::Job, &none, None, Some("Ines Calloway"))
        .unwrap();
    d.input(rimbook::app::update::Input::Poll);
    let place = (d.app.worklist.lines.iter())
        .position(|l| l.number == first)
        .unwrap();
    d.keys(&["home"]);
    for _ in 0..place {
        d.keys(&["down"]);
    }
    d.keys(&["c"]);
    let screen = d.screen(80, 24);
    assert!(screen.contains("[now Maribel Thorncroft]"), "{screen}");
    d.keys(&["y"]);
    let kept = desk.load(&first).unwrap().job.handover.identity_checked;
    assert_eq!(kept, Some(true));
}
