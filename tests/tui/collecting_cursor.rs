//! Where the cursor of the collections stands, and what has to be typed there instead of agreed to.

use crate::collecting_book::{all, collections, handover, to};
use crate::driver::{Driver, clock};
use crate::screens_say::says;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::Section;
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::question::Dialog;
use rimbook::testing::tui::update::Input;
use serde_json::json;

#[test]
fn a_handover_half_done_looks_as_it_was_approved() {
    let mut d = with(-6.0, "single vision");
    d.keys(&["y"; 11]);
    insta::assert_snapshot!("handover_80x24", d.screen(80, 24));
    says(
        &d.screen(120, 40),
        &[
            "11 of 28 answered",
            "Handed over in person in person │ 2026-10-12 · 1001 · verified · age 32",
            "Two details of the wearer checked yes │ Rx tested 2026-10-06",
            "> Sides press evenly · │ tilt 7° · face form 4° ±12.0 read twice",
            "Vertex distance, right · (measured 12)",
            "Reads a number plate ·",
            "The wearer is comfortable ·",
            "Told to come back with any trouble ·",
            "Collected by ·",
        ],
    );
    to(&mut d, "handover.right.vertex_mm");
    says(
        &d.screen(80, 24),
        &[
            "11 of 28 answered",
            "Length to bend as set, right 96 mm (measured 96)",
            "> Vertex distance, right · (measured 12; type it)",
            "Vertex distance, left · (measured 12)",
            "Cross or centre to pupil, right · (measured 19)",
            "type what you read: at 6.00 D one millimetre changes the power by 0.04 D",
            "enter value g gate t told ? help esc back o job w who",
        ],
    );
}

#[test]
fn on_a_full_day_the_handover_in_front_and_the_count_are_still_seen() {
    let mut d = collections();
    let one = d.collections().lines[0].clone();
    d.collections_mut().lines = (0..9)
        .map(|n| {
            let mut line = one.clone();
            line.wearer = format!("{} {n}", line.wearer);
            line
        })
        .collect();
    for front in 0..9 {
        d.collections_mut().selected = front;
        for width in [60, 80, 120] {
            let screen = d.screen(width, 24);
            let head = screen.lines().nth(2).unwrap();
            let wanted = format!("[15:30 Maribel Thorncroft {front}]");
            assert!(head.contains(&wanted), "{width}: {head}");
            assert!(head.contains("0 of 27 answered"), "{width}: {head}");
        }
    }
}

/// The path of the check under the cursor.
fn at(d: &Driver) -> &'static str {
    all(d)[d.collections().step].path
}

#[test]
fn the_cursor_begins_at_the_first_check_without_an_answer_and_goes_on_to_the_next() {
    let mut d = collections();
    assert_eq!(at(&d), "handover.method");
    d.keys(&["y", "y", "y", "y"]);
    assert_eq!(at(&d), "handover.temples_free");
    // One further down is answered first: it is not asked again.
    to(&mut d, "handover.let_back_even");
    d.keys(&["y"]);
    assert_eq!(at(&d), "handover.pantoscopic_deg");
    // Somebody else takes over: the screen is opened again.
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
    let (done, count) = rimbook::testing::tui::screens::collections::answered(d.app.seen());
    assert_eq!(done, 0);
    let screen = d.screen(80, 24);
    let said = format!("0 of {count} answered");
    assert!(screen.contains(&said), "{said}: {screen}");
    d.keys(&["down"]);
    for left in (1..count).rev() {
        let before = d.collections().step;
        let step = all(&d)[before].clone();
        if step.is_yes_no() {
            d.keys(&["y"]);
        } else if step.path.ends_with("acuity") {
            d.keys(&["6/6", "enter"]);
        } else if step.path.ends_with("words") || step.path.ends_with("collected_by") {
            d.keys(&["well", "enter"]);
        } else if step.path.ends_with("bend_mm") {
            d.keys(&["v", "96", "enter"]);
        } else {
            d.keys(&["v", "12", "enter"]);
        }
        let (done, _) = rimbook::testing::tui::screens::collections::answered(d.app.seen());
        assert_eq!(done, count - left, "{}: {}", step.path, d.said());
    }
    assert_eq!(at(&d), "handover.method", "round to the first");
    d.keys(&["y"]);
    assert_eq!(at(&d), "handover.method", "nothing is left");
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
    d.keys(&["down", "y"]);
    assert_eq!(at(&d), "handover.identity_checked");
    assert_eq!(handover(&d).identity_checked, None);
    d.keys(&["enter", "y"]);
    assert_eq!(handover(&d).identity_checked, Some(true));
    assert_eq!(at(&d), "handover.frame_checked");
}

/// The same day with another pair: powers and design as given.
fn with(sphere_d: f64, design: &str) -> Driver {
    let mut d = collections();
    let number = d.collections().lines[0].number.clone();
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
        .set(rimbook::testing::practice::Threshold::Strong, 4.0);
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
        ("office", "handover.right.height_mm", true),
    ] {
        let mut d = with(-1.0, design);
        to(&mut d, path);
        d.keys(&["y"]);
        assert_eq!(handover(&d).right.has_height(), !is_typed, "{design}");
        if is_typed {
            let said = format!("in a {design} lens the height decides");
            assert!(
                d.said().contains(&said.replace("a off", "an off")),
                "{}",
                d.said()
            );
            d.keys(&["16", "enter"]);
            assert!(handover(&d).right.has_height(), "{design}");
        }
    }
}

#[test]
fn only_at_a_check_of_the_fit_something_is_adjusted() {
    let mut d = collections();
    let (mut fit, mut others) = (0, 0);
    for (at, step) in all(&d).into_iter().enumerate() {
        d.collections_mut().step = at;
        let before = handover(&d);
        // Where words are typed, the key with alt beside the plain one.
        d.keys(&["alt-a"]);
        if step.is_of_fit() {
            fit += 1;
            let is_kept = handover(&d) != before;
            let said = d.said().contains("No height was read yet");
            assert!(is_kept || said, "{}: {}", step.path, d.said());
            continue;
        }
        others += 1;
        assert_eq!(handover(&d), before, "{}", step.path);
        assert_eq!(d.collections().step, at);
        let said = d.said();
        assert!(said.contains(step.question), "{said}");
        assert!(said.contains("nothing is adjusted at this one"), "{said}");
        assert!(!d.screen(120, 40).contains("adjusted   "), "{}", step.path);
    }
    assert!(fit > 12 && others > 8, "{fit} {others}");
    let kept = handover(&d);
    assert_eq!(
        (kept.identity_checked, kept.frame_checked, kept.advice),
        (None, None, None),
        "never said, never kept"
    );
}

#[test]
fn on_a_check_that_takes_words_every_letter_begins_them() {
    let words = [
        ("handover.near_acuity", "N5"),
        ("handover.distance_acuity", "6/5"),
        ("handover.wearer_words", "they feel odd"),
        ("handover.wearer_words", "you said so"),
        ("handover.wearer_words", "quite well, and no"),
        ("handover.collected_by", "the wearer"),
        ("handover.collected_by", "Viola"),
    ];
    for (path, text) in words {
        let mut d = collections();
        to(&mut d, path);
        d.keys(&[text, "enter"]);
        let number = d.collections().lines[0].number.clone();
        let desk = Desk::open(&d.path, clock()).unwrap();
        let job = desk.load(&number).unwrap().job;
        let field = rimbook::testing::job::fields::find(path).unwrap();
        assert_eq!(
            rimbook::testing::job::fields::show(&job, field),
            text,
            "{}",
            d.said()
        );
        assert!(d.app.dialog.is_none());
    }
    // Pasted words begin them as well; keys of everywhere stay keys.
    let mut d = collections();
    to(&mut d, "handover.wearer_words");
    d.input(Input::Paste("very clear".to_owned()));
    d.keys(&["enter"]);
    assert_eq!(handover(&d).wearer_words.as_deref(), Some("very clear"));
    to(&mut d, "handover.collected_by");
    d.keys(&["?"]);
    assert!(matches!(d.app.dialog, Some(Dialog::Help { .. })));
}

#[test]
fn where_letters_are_typed_the_hints_name_other_keys_and_those_work() {
    let mut d = collections();
    to(&mut d, "handover.wearer_words");
    let hints = d.screen(120, 40).lines().last().unwrap().to_owned();
    for hint in ["enter value", "ctrl-g gate", "alt-t told", "? help"] {
        assert!(hints.contains(hint), "{hint}: {hints}");
    }
    d.keys(&["alt-t"]);
    assert!(d.app.dialog.is_some(), "asks how the wearer was told");
    d.keys(&["esc", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Gate);
    d.keys(&["esc", "ctrl-w"]);
    assert!(d.app.dialog.is_some(), "asks who is acting");
    d.keys(&["esc", "alt-o"]);
    assert_eq!(d.app.screen, Screen::Job);
    // On the other checks the plain keys are shown.
    d.keys(&["esc", "home"]);
    let hints = d.screen(120, 40).lines().last().unwrap().to_owned();
    assert!(
        hints.contains("g gate") && !hints.contains("ctrl-g gate"),
        "{hints}"
    );
}

#[test]
fn home_and_end_go_to_the_first_and_the_last_check() {
    let mut d = collections();
    d.keys(&["end"]);
    assert_eq!(at(&d), "handover.collected_by");
    d.keys(&["home"]);
    assert_eq!(at(&d), "handover.method");
}

#[test]
fn after_one_wearer_is_done_the_next_begins_at_the_top() {
    let mut d = Driver::demo();
    d.keys(&["c"]);
    let first = d.app.card.as_ref().unwrap().number.clone();
    // The next one's cursor may have stood anywhere before.
    d.keys(&["tab", "end", "shift-tab"]);
    for _ in 0..40 {
        let (done, count) = rimbook::testing::tui::screens::collections::answered(d.app.seen());
        if done == count {
            break;
        }
        let step = all(&d)[d.collections().step].clone();
        if step.takes_words() {
            d.keys(&["well", "enter"]);
        } else {
            d.keys(&["y"]);
        }
    }
    let (done, count) = rimbook::testing::tui::screens::collections::answered(d.app.seen());
    assert_eq!(done, count, "{} {}", at(&d), d.said());
    assert!(d.said().contains(" g shows the gate"), "{}", d.said());
    // Whoever goes back to correct words types them: nothing is a key there.
    to(&mut d, "handover.wearer_words");
    d.keys(&["they feel odd", "enter"]);
    let job = &d.app.card.as_ref().unwrap().job;
    let words = job.handover.wearer_words.as_deref();
    assert_eq!(words, Some("they feel odd"), "{}", d.said());
    assert!(d.app.dialog.is_none());
    d.keys(&["g", "m"]);
    assert!(d.said().contains("collected"), "{}", d.said());
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Collections);
    assert_ne!(d.app.card.as_ref().unwrap().number, first);
    assert_eq!(at(&d), "handover.method");
    let screen = d.screen(80, 24);
    assert!(screen.contains("> Handed over in person"), "{screen}");
}

#[test]
fn a_wearer_who_comes_without_an_appointment_is_handed_the_selected_pair() {
    let mut d = collections();
    d.keys(&["esc"]);
    let first = d
        .app
        .states
        .worklist()
        .unwrap()
        .line(&d.app.lines)
        .unwrap()
        .number
        .clone();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let none = json!({"collection_at": null});
    desk.record(&first, Section::Job, &none, None, Some("Ines Calloway"))
        .unwrap();
    d.input(Input::Poll);
    let place = (d.app.lines.iter())
        .position(|l| l.number == first)
        .unwrap();
    d.keys(&["home"]);
    for _ in 0..place {
        d.keys(&["down"]);
    }
    d.keys(&["c"]);
    let screen = d.screen(80, 24);
    assert!(screen.contains("[now Maribel Thorncroft]"), "{screen}");
    d.keys(&["y", "y"]);
    let kept = desk.load(&first).unwrap().job.handover.identity_checked;
    assert_eq!(kept, Some(true));
}

#[test]
fn what_is_asked_for_one_wearer_is_never_kept_for_another() {
    let mut d = Driver::demo();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    d.keys(&["c", "tab"]);
    let second = d.app.card.as_ref().unwrap().number.clone();
    to(&mut d, "handover.pantoscopic_deg");
    d.keys(&["8"]);
    assert!(d.app.dialog.is_some());
    let away = json!({"collection_at": "2026-10-13T09:30"});
    desk.record(&second, Section::Job, &away, None, Some("Hanne Sorrel"))
        .unwrap();
    d.input(Input::Poll);
    let first = d.app.card.as_ref().unwrap().number.clone();
    assert_ne!(first, second);
    assert!(d.app.dialog.is_none());
    assert!(
        d.said().contains("no longer among the collections"),
        "{}",
        d.said()
    );
    let before = desk.load(&first).unwrap().job.handover;
    d.keys(&["y"]);
    assert!(d.said().contains("Nothing was answered"), "{}", d.said());
    assert_eq!(desk.load(&first).unwrap().job.handover, before);
    d.keys(&["y"]);
    assert_ne!(desk.load(&first).unwrap().job.handover, before);
}

#[test]
fn nothing_is_typed_before_somebody_is_named_for_it() {
    let mut d = collections();
    d.app.person = None;
    to(&mut d, "handover.wearer_words");
    d.keys(&["t"]);
    assert!(
        d.said().contains("First say who hands over"),
        "{}",
        d.said()
    );
    assert!(matches!(d.app.dialog, Some(Dialog::Choose { .. })));
}
