//! A remake is begun by one rule, from the pair itself or by the visit that decided on it: in the
//! same frame as the pair fits now. Common practice; persons and frames are invented.

use crate::carried_book::{begun, collected, day, findings, mm, old};
use crate::driver::{Driver, clock, scenario};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::{Job, Origins, Reason, Section, TakenAs, read_jobs};
use rimbook::testing::judge::rules::carry::{begin, begin_after_visit, origin_words};
use rimbook::testing::practice::Practice;
use serde_json::{Value, json};

const DO: &str = "Ines Calloway";
const DAY: &str = "2026-11-25";

/// The visit about a pair, with what was recorded at it, and its remake.
fn after_visit(first: &Job, at_visit: &[(Section, Value)]) -> Job {
    let number = first.number.as_deref().unwrap();
    let practice = Practice::default();
    let mut recheck = begin(first, number, Reason::Recheck, day(DAY), &practice)
        .unwrap()
        .job;
    for (section, change) in at_visit {
        recheck.record(*section, change).unwrap();
    }
    recheck
        .record(
            Section::Visit,
            &json!({"outcome": "remade", "cause": "height", "decided_by": DO, "decided_on": DAY}),
        )
        .unwrap();
    begin_after_visit(&recheck, "1004", Some(first), day(DAY), &practice)
        .unwrap()
        .job
}

#[test]
fn a_visit_at_which_nothing_was_taken_leads_to_the_remake_of_the_pair_itself() {
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    let mut jobs: Vec<Job> = vec![old()];
    for scenario in all["scenarios"].as_array().unwrap() {
        let mut job = match &scenario["job"] {
            // One that is played on the invented practice has no job of its own.
            Value::Array(several) if several.is_empty() => continue,
            Value::Array(several) => several[0].clone(),
            one => one.clone(),
        };
        job["number"] = json!("1003");
        job["stage"] = json!("collected");
        job["handover"] = collected()["handover"].clone();
        job["aftercare"] = collected()["aftercare"].clone();
        jobs.push(read_jobs(&job.to_string()).unwrap().remove(0));
    }
    for first in &jobs {
        let itself = begun(first, Reason::Remake, DAY).job;
        let mut visited = after_visit(first, &[]);
        assert_eq!(visited.linked_to.as_deref(), Some("1004"));
        visited.linked_to = itself.linked_to.clone();
        assert_eq!(visited, itself);
    }
    assert!(jobs.len() > 10);
}

#[test]
fn what_was_measured_at_the_visit_is_later_than_how_the_pair_stood() {
    let first = old();
    let taken = [
        (
            Section::Fitting,
            json!({"taken_by": DO, "taken_on": DAY, "right": {"height_mm": 21}, "left": {"vertex_mm": null}}),
        ),
        (Section::Frame, json!({"condition": "new"})),
    ];
    let remake = after_visit(&first, &taken);
    assert_eq!(mm(&remake, "fitting.right.height_mm"), Some(210));
    assert_eq!(
        origin_words(&remake.origins["fitting.right.height_mm"]),
        "from 1004, 2026-11-25, measured by Ines Calloway, in frame Fernley 50"
    );
    assert_eq!(
        remake.value_at("fitting.left.vertex_mm"),
        None,
        "struck off at the visit"
    );
    assert!(remake.frame.condition.is_some(), "looked at at the visit");
    // The rest as the pair fits now, in the origin's own words.
    assert_eq!(mm(&remake, "fitting.right.vertex_mm"), Some(130));
    let bend = &remake.origins["fitting.right.length_to_bend_mm"];
    assert_eq!(
        (bend.taken_as, bend.job.as_deref()),
        (Some(TakenAs::Adjusted), Some("1003"))
    );
    assert_eq!(
        origin_words(bend),
        "from 1003, 2026-11-02, adjusted by Nadia Brookwell, in frame Fernley 50"
    );
}

#[test]
fn a_value_measured_at_the_visit_by_nobody_named_is_not_said_to_be_the_first_fitters() {
    let taken = [(Section::Fitting, json!({"right": {"height_mm": 21}}))];
    let remake = after_visit(&old(), &taken);
    let origin = &remake.origins["fitting.right.height_mm"];
    assert_eq!(origin.by, None);
    assert_eq!(origin.on, Some(day(DAY)), "the day of the visit");
    assert_eq!(remake.fitting.taken_by, None, "named again for the remake");
}

#[test]
fn in_another_frame_nothing_of_the_pair_that_is_worn_is_put_in_its_place() {
    for other in [json!({"name": "Oval 2"}), json!({"a_mm": 54})] {
        let remake = after_visit(&old(), &[(Section::Frame, other)]);
        assert_eq!(
            mm(&remake, "fitting.right.height_mm"),
            Some(190),
            "as measured"
        );
        assert_eq!(findings("carried-foreign", &remake, DAY).len(), 1);
    }
}

#[test]
fn an_erased_pair_leaves_what_the_visit_holds() {
    let practice = Practice::default();
    let mut recheck = begun(&old(), Reason::Recheck, DAY).job;
    recheck
        .record(
            Section::Visit,
            &json!({"outcome": "remade", "cause": "height"}),
        )
        .unwrap();
    let remake = begin_after_visit(&recheck, "1004", None, day(DAY), &practice).unwrap();
    assert_eq!(mm(&remake.job, "fitting.right.height_mm"), Some(190));
    assert_eq!(
        remake.job.origins["fitting.right.height_mm"].job.as_deref(),
        Some("1003")
    );
    // Without any origin nothing says what was carried: all of it is the visit's.
    recheck.origins = Origins::new();
    let remake = begin_after_visit(&recheck, "1004", Some(&old()), day(DAY), &practice).unwrap();
    assert_eq!(remake.job.fitting, recheck.fitting);
    assert_eq!(remake.not_carried, []);
}

#[test]
fn how_the_pair_stands_now_is_carried_and_yet_no_other_order() {
    let d = Driver::with(&[collected()]);
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let number = desk.recheck("1003", DO).unwrap().number;
    let decided = json!({"outcome": "remade", "cause": "height",
        "tried": ["move-height", "move-distance", "move-tilt", "move-turn"]});
    desk.record_visit(&number, DO, &decided).unwrap();
    let remake = desk.begin_remake(&number, DO).unwrap();
    assert_eq!(mm(&remake.job, "fitting.right.height_mm"), Some(185));
    let left = desk.not_carried(&remake).unwrap();
    assert!(left.iter().any(|l| l.path == "frame.condition"), "{left:?}");
    let said = |desk: &Desk| {
        let open = desk.load(&remake.number).unwrap();
        let found = desk
            .findings(&open, rimbook::testing::job::Gate::Ordered)
            .unwrap();
        let same = found.into_iter().find(|f| f.check == "remake-same");
        same.map(|f| f.message)
    };
    let same = said(&desk).unwrap();
    assert!(
        same.contains("from how the pair fits now is no change"),
        "{same}"
    );
    // Measured, even to the same, it is somebody's decision.
    let measured = json!({"right": {"height_mm": 18.5}});
    desk.record(&remake.number, Section::Fitting, &measured, None, Some(DO))
        .unwrap();
    assert_eq!(said(&desk), None);
}

#[test]
fn a_remake_in_the_wearers_own_frame_stays_in_it() {
    let mut file = scenario("S01")["job"].clone();
    file["number"] = json!("1003");
    file["frame"]["owned_by_wearer"] = json!(true);
    let first = read_jobs(&file.to_string()).unwrap().remove(0);
    assert_eq!(after_visit(&first, &[]).frame.owned_by_wearer, Some(true));
    let itself = begun(&first, Reason::Remake, DAY).job;
    assert_eq!(itself.frame.owned_by_wearer, Some(true));
}
