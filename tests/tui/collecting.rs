//! The collections by keys over a real book: the order of the checks, heights that are read again
//! after an adjustment, and advice with its reasons.

use crate::collecting_book::{all, collections, handover, held_by, to};
use crate::driver::{clock, scenario, today};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::{Gate, Handover, Job, Section, StaffRoll, Stage, read_jobs};
use rimbook::testing::judge::rules::advice::advice;
use rimbook::testing::practice::Practice;
use rimbook::testing::trade::eye::Eye;
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::screens::collections::{Giver, HandoverCheck, steps};
use serde_json::{Value, json};

fn steps_of(job: &Job) -> Vec<HandoverCheck> {
    let staff = StaffRoll(Vec::new());
    let giver = Giver {
        staff: &staff,
        person: None,
    };
    steps(job, &Practice::default(), giver, today())
}

fn read(file: &Value) -> Job {
    read_jobs(&file.to_string()).unwrap().remove(0)
}

#[test]
fn nothing_that_moves_the_lenses_is_asked_after_the_heights() {
    for id in ["S01", "S12", "S09"] {
        let job = read(&scenario(id)["job"]);
        let paths: Vec<&str> = steps_of(&job).iter().map(|s| s.path).collect();
        let place = |path: &str| paths.iter().position(|p| *p == path);
        let first_height = paths.iter().position(|p| p.contains("height")).unwrap();
        let before = [
            "handover.identity_checked",
            "handover.frame_checked",
            "handover.pads_level",
            "handover.temples_free",
            "handover.let_back_even",
            "handover.pantoscopic_deg",
            "handover.left.length_to_bend_mm",
            "handover.drop_follows",
            "handover.stays",
            "handover.left.vertex_mm",
        ];
        let places: Vec<usize> = before.iter().map(|p| place(p).unwrap()).collect();
        assert!(places.is_sorted(), "{id}: {paths:?}");
        assert!(places.iter().all(|p| *p < first_height), "{id}: {paths:?}");
        let after = [
            "handover.distance_acuity",
            "handover.wearer_words",
            "handover.advice",
        ];
        assert!(after.iter().all(|p| place(p).unwrap() > first_height));
        assert_eq!(paths.last(), Some(&"handover.collected_by"));
    }
}

#[test]
fn what_is_asked_only_of_some_is_asked_of_those() {
    let asked = |job: &Job, path: &str| steps_of(job).iter().any(|s| s.path == path);
    let mut job = Job::default();
    for path in [
        "handover.sees_single",
        "handover.reads_number_plate",
        "handover.intermediate_acuity",
        "handover.right.segment_height_mm",
    ] {
        assert!(!asked(&job, path), "{path}");
    }
    job.prescription.left.base_up_delta = serde_json::from_value(json!(2)).unwrap();
    assert!(asked(&job, "handover.sees_single"));
    job.wearer.drives = Some(true);
    assert!(asked(&job, "handover.reads_number_plate"));
    job.lenses.design = Some(rimbook::testing::job::Design::Trifocal);
    assert!(asked(&job, "handover.intermediate_acuity"));
    assert!(asked(&job, "handover.right.segment_height_mm"));
    assert!(!asked(&job, "handover.right.height_mm"));
}

#[test]
fn an_adjustment_after_the_heights_asks_for_both_again_and_holds_until_they_are_given() {
    let mut d = collections();
    to(&mut d, "handover.pantoscopic_deg");
    d.keys(&["7", "enter"]);
    to(&mut d, "handover.right.vertex_mm");
    d.keys(&["12", "enter", "12", "enter", "19", "enter", "19", "enter"]);
    assert_eq!(
        handover(&d).adjusted_after_heights,
        None,
        "measured in order"
    );
    assert!(!held_by(&d, "heights-before-adjusting"));

    // The tilt is another now: somebody has bent the sides.
    to(&mut d, "handover.pantoscopic_deg");
    d.keys(&["9", "enter"]);
    assert_eq!(
        handover(&d).adjusted_after_heights,
        Some(vec![Eye::Right, Eye::Left])
    );
    assert!(held_by(&d, "heights-before-adjusting"));
    assert!(d.said().contains("read them again"), "{}", d.said());
    to(&mut d, "handover.right.height_mm");
    let screen = d.screen(80, 24);
    assert!(screen.contains("adjusted since: read again"), "{screen}");
    d.keys(&["19", "enter"]);
    assert_eq!(handover(&d).adjusted_after_heights, Some(vec![Eye::Left]));
    assert!(
        held_by(&d, "heights-before-adjusting"),
        "one eye is not both"
    );
    d.keys(&["19", "enter"]);
    assert_eq!(handover(&d).adjusted_after_heights, None);
    assert!(!held_by(&d, "heights-before-adjusting"));
}

#[test]
fn the_key_for_adjusted_answers_the_check_and_asks_for_the_heights() {
    let mut d = collections();
    to(&mut d, "handover.pads_level");
    d.keys(&["a"]);
    assert_eq!(handover(&d).pads_level, Some(true));
    assert_eq!(
        handover(&d).adjusted_after_heights,
        None,
        "no height was read yet"
    );
    to(&mut d, "handover.right.height_mm");
    d.keys(&["19", "enter", "19", "enter"]);
    to(&mut d, "handover.sides_even");
    d.keys(&["a"]);
    assert_eq!(handover(&d).sides_even, Some(true));
    assert_eq!(
        handover(&d).adjusted_after_heights,
        Some(vec![Eye::Right, Eye::Left])
    );
}

#[test]
fn any_way_of_recording_an_adjustment_counts_and_writing_the_same_again_does_not() {
    let mut job = Job::default();
    let heights = json!({"right": {"height_mm": 20, "vertex_mm": 12}, "left": {"height_mm": 21}, "pads_level": false});
    job.record(Section::Handover, &heights).unwrap();
    assert_eq!(job.handover.adjusted_after_heights, None);
    for (change, stale) in [
        (json!({"right": {"vertex_mm": 12.0}}), false),
        (json!({"pads_level": false}), false),
        (json!({"comfortable": false}), false),
        (json!({"left": {"vertex_mm": 12}}), false),
        // Cleared, it could be given again as anything.
        (json!({"right": {"vertex_mm": null}}), true),
        (json!({"right": {"vertex_mm": 13}}), true),
        (json!({"pads_level": true}), true),
        (
            json!({"right": {"vertex_mm": 13, "height_mm": 20}, "left": {"height_mm": 21}}),
            false,
        ),
    ] {
        let mut now = job.clone();
        now.record(Section::Handover, &change).unwrap();
        assert_eq!(
            now.handover.adjusted_after_heights.is_some(),
            stale,
            "{change}"
        );
    }
    // Only the eye whose height was read can have a height that no longer holds.
    let mut one = Job::default();
    one.record(
        Section::Handover,
        &json!({"left": {"height_mm": 21}, "stays": false}),
    )
    .unwrap();
    one.record(Section::Handover, &json!({"stays": true}))
        .unwrap();
    assert_eq!(one.handover.adjusted_after_heights, Some(vec![Eye::Left]));
    // Striking it off is not reading.
    for struck in [json!(null), json!([])] {
        let before = one.clone();
        let refused = one
            .record(
                Section::Handover,
                &json!({"adjusted_after_heights": struck}),
            )
            .unwrap_err();
        assert!(refused.to_string().contains("read that height again"));
        assert_eq!(one, before);
    }
    one.record(
        Section::Handover,
        &json!({"adjusted_after_heights": null, "left": {"height_mm": 21}}),
    )
    .unwrap();
    assert_eq!(one.handover.adjusted_after_heights, None);
}

#[test]
fn advice_is_shown_with_its_reason_and_recorded_by_topic() {
    let mut d = collections();
    let at = all(&d)
        .iter()
        .position(|s| s.topic.is_some_and(|t| t.word() == "re-test"))
        .unwrap();
    d.collections_mut().step = at;
    let screen = d.screen(80, 24);
    assert!(
        screen.contains("sooner with any change of sight (every"),
        "{screen}"
    );
    d.keys(&["y"]);
    let given = handover(&d).advice.unwrap();
    assert_eq!(
        given.iter().map(|a| a.word()).collect::<Vec<_>>(),
        ["re-test"]
    );
}

#[test]
fn whatever_the_gate_asks_to_be_said_is_among_the_advice() {
    let scenarios: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    let mut asked = 0;
    for scenario in scenarios["scenarios"].as_array().unwrap() {
        let file = match &scenario["job"] {
            // One that is played on the invented practice has no job of its own.
            Value::Array(several) if several.is_empty() => continue,
            Value::Array(several) => &several[0],
            one => one,
        };
        let job = read(file);
        let staff = StaffRoll::default();
        let practice = Practice::default();
        let around = rimbook::testing::judge::gate::Surroundings {
            sign_in: false,
            today: today(),
            staff: &staff,
            practice: &practice,
            others: &[],
            questions: &[],
        };
        let listed: Vec<&str> = advice(&job, &practice, today())
            .iter()
            .map(|p| p.topic.word())
            .collect();
        for finding in
            rimbook::testing::judge::gate::findings(Gate::Collected, &job, around, &[], &[])
        {
            if finding.check == "advice-missing" {
                for topic in finding.values["missing"].as_array().unwrap() {
                    assert!(
                        listed.contains(&topic.as_str().unwrap()),
                        "{}: {topic}",
                        scenario["id"]
                    );
                    asked += 1;
                }
            }
        }
    }
    assert!(asked > 10);
}

#[test]
fn a_pair_that_slips_doubles_or_is_another_ones_is_not_handed_over() {
    let mut d = collections();
    for (path, check) in [
        ("handover.frame_checked", "frame-not-the-one"),
        ("handover.stays", "does-not-stay"),
    ] {
        to(&mut d, path);
        assert!(!held_by(&d, check));
        d.keys(&["n"]);
        assert!(held_by(&d, check), "{check}");
    }
    d.keys(&["g", "m"]);
    assert_eq!(d.in_book().job.stage(), Stage::Verified);
}

#[test]
fn taking_a_second_reading_back_does_not_make_the_first_one_good_again() {
    let d = collections();
    let number = d.collections().lines[0].number.clone();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let by = Some("Ines Calloway");
    let mut record = |change: &Value| {
        desk.record_entry(&number, Section::Handover, change, None, by, None)
            .unwrap()
            .1
    };
    record(&json!({"stays": false, "right": {"height_mm": 18}, "left": {"height_mm": 18}}));
    record(&json!({"stays": true}));
    let back = record(&json!({"right": {"height_mm": 19}, "left": {"height_mm": 19}}));
    assert!(!held_by(&d, "heights-before-adjusting"));
    desk.undo_entry(&number, Section::Handover, &back, None, by)
        .unwrap();
    assert_eq!(
        handover(&d).adjusted_after_heights,
        Some(vec![Eye::Right, Eye::Left]),
        "18 was read before the pair was adjusted"
    );
    assert!(held_by(&d, "heights-before-adjusting"));
}

#[test]
fn nothing_seen_of_a_pair_that_goes_back_is_taken_for_the_next_one() {
    let d = collections();
    let number = d.collections().lines[0].number.clone();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let by = "Ines Calloway";
    let seen = json!({"identity_checked": true, "sees_single": true, "comfortable": true,
        "right": {"height_mm": 19}, "left": {"height_mm": 19}});
    desk.record(&number, Section::Handover, &seen, None, Some(by))
        .unwrap();
    let back = desk
        .send_back(&number, by, "the left lens came loose")
        .unwrap();
    assert_eq!(back.job.handover, Handover::default());
    let event = desk.history(&number).unwrap().pop().unwrap();
    assert_eq!(event.detail["handover"], seen);
}

#[test]
fn from_the_gate_one_goes_back_to_the_face_that_is_waiting() {
    let mut d = collections();
    d.keys(&["g"]);
    assert_eq!(d.app.screen, Screen::Gate);
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Collections);
    // The entry a finding is about is in the form; from there back to the gate.
    d.keys(&["g", "enter"]);
    assert_eq!(d.app.screen, Screen::Job);
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Gate);
}
