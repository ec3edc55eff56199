//! Every check, made to hold by one change to a pair that has nothing against it.
//!
//! The pair is scenario S01 of `tests/data/scenarios.json`; each row changes one thing. A check
//! without a row fails the test, so no check can stand in the catalogue that cannot hold.

use std::collections::BTreeSet;

use crate::checks_page::{Part, is_current};
use crate::gate_rows::{rows, strong, with};
use crate::sound_pair::{changed, found, found_with, pair, staff, today};
use rimbook::testing::job::{Gate, Job, NameKept, QuestionTo, Section, Stage};
use rimbook::testing::judge::gate::catalogue::CHECKS;
use rimbook::testing::judge::gate::{
    About, Finding, Passed, Question, Severity, Surroundings, findings,
};
use rimbook::testing::practice::Practice;
use serde_json::{Value, json};

/// The pair with its readings and handover, nothing against it at any gate.
fn sound_job() -> Job {
    pair(&[])
}

/// Checks that need more than one change to one job; each has a test of its own below.
const ELSEWHERE: [&str; 7] = [
    "unsigned",
    "order-duplicate",
    "near-limit",
    "question-open",
    "lens-unnamed",
    "child-fit",
    "decentration-large",
];

#[test]
fn a_sound_pair_has_nothing_against_it_at_any_gate() {
    for gate in Gate::ALL {
        let list = found(&sound_job(), *gate);
        assert!(list.iter().all(|f| !f.is_open()), "{gate}: {list:?}");
    }
}

#[test]
fn every_check_can_hold() {
    for (id, gate, changes) in rows() {
        let list = found(&changed(&changes), gate);
        let ids: Vec<_> = list
            .iter()
            .filter(|f| f.is_open())
            .map(|f| f.check.word())
            .collect();
        assert!(ids.contains(&id), "{id} does not hold; open are {ids:?}");
    }
    let tried: BTreeSet<&str> = rows().iter().map(|r| r.0).chain(ELSEWHERE).collect();
    let known: BTreeSet<&str> = CHECKS.iter().map(|c| c.id.word()).collect();
    assert_eq!(tried, known, "every check has a row, and every row a check");
}

#[test]
fn every_finding_says_numbers_names_a_field_and_offers_a_way_out() {
    for (id, gate, changes) in rows() {
        for f in found(&changed(&changes), gate) {
            assert!(!f.message.is_empty() && !f.ways_out.is_empty(), "{id}");
            let (section, path) = f
                .field
                .split_once('.')
                .unwrap_or_else(|| panic!("{}", f.check.word()));
            assert!(
                Section::from_word(section).is_some() && !path.is_empty(),
                "{id}: {}",
                f.field
            );
            assert_eq!(
                f.severity != Severity::Warning,
                f.accept.word() == "nobody",
                "{}",
                f.check
            );
        }
    }
}

#[test]
fn the_same_order_twice_within_a_fortnight_is_questioned() {
    let job = sound_job();
    let mut other = job.clone();
    other.stage = Some(Stage::Ordered);
    other.number = Some("7".to_owned());
    let list = found_with(&job, Gate::Ordered, &[other.clone()], &[], &[]);
    assert!(list.iter().any(|f| f.check == "order-duplicate"));
    other.order.ordered_on = today().checked_sub_days(chrono::Days::new(15));
    let list = found_with(&job, Gate::Ordered, &[other], &[], &[]);
    assert!(list.iter().all(|f| f.check != "order-duplicate"));
}

#[test]
fn a_value_at_four_fifths_of_its_limit_is_noted_and_holds_nothing() {
    let job = changed(&[("readings", json!({"right": {"sphere_d": -0.6}}))]);
    let list = found(&job, Gate::Verified);
    assert!(
        list.iter().any(|f| f.check == "near-limit" && !f.is_open()),
        "{list:?}"
    );
}

#[test]
fn what_is_offered_for_a_vertex_distance_leaves_what_the_finding_says_when_nothing_is_done() {
    use rimbook::testing::judge::gate::of_finding;
    use rimbook::testing::judge::rules::remedy::RemedyKind;
    use rimbook::testing::practice::Thresholds;
    let thresholds = Thresholds::default();
    let away = json!({"right": {"vertex_mm": 14}});
    for (check, gate, section) in [
        ("bvd-mismatch", Gate::Ordered, "fitting"),
        ("fit-vertex", Gate::Collected, "handover"),
    ] {
        let job = changed(&with(strong(), section, away.clone()));
        let list = found(&job, gate);
        let finding = list.iter().find(|f| f.check == check).expect(check);
        let remedy = of_finding(&job, finding, &thresholds).expect(check);
        // -8.00 D: the far point is 125 mm from the lens, and 2 mm less once it is farther out.
        let expected = 1000.0 / 123.0 - 8.0;
        let left = |kind| remedy.way(kind).unwrap().remaining_d;
        assert!((left(RemedyKind::Leave) - expected).abs() < 1e-9, "{check}");
        assert!(
            finding.message.contains(&format!("{expected:.2} D")),
            "{check}: {}",
            finding.message
        );
        assert!((remedy.move_mm() + 2.0).abs() < 1e-9, "{check}");
        assert!(left(RemedyKind::SetExactly) < 1e-9, "{check}");
        let others = list
            .iter()
            .filter(|f| !["bvd-mismatch", "fit-vertex"].contains(&f.check.word()));
        for f in others {
            assert_eq!(of_finding(&job, f, &thresholds), None, "{}", f.check);
        }
    }
}

#[test]
fn a_name_that_somebody_else_typed_is_a_stop_where_a_gate_rests_on_it_and_only_with_sign_in_on() {
    let (staff, practice) = (staff(), Practice::default());
    let typed = |path: &str| {
        let mut job = sound_job();
        let kept = NameKept {
            at: None,
            typed_by: Some("Nadia Brookwell".to_owned()),
        };
        job.names.insert(path.to_owned(), kept);
        job
    };
    let open = |job: &Job, gate, sign_in| {
        let around = Surroundings {
            sign_in,
            today: today(),
            staff: &staff,
            practice: &practice,
            others: &[],
            questions: &[],
        };
        let mut list = findings(gate, job, around, &[], &[]);
        list.retain(|f| f.check == "unsigned");
        list
    };
    for (path, holds_at) in [
        ("fitting.taken_by", [true, true, true]),
        ("readings.taken_by", [false, true, true]),
        ("handover.given_by", [false, false, true]),
    ] {
        let job = typed(path);
        for (gate, holds) in Gate::ALL.iter().zip(holds_at) {
            assert!(open(&job, *gate, false).is_empty(), "{path} {gate}");
            let held = open(&job, *gate, true);
            assert_eq!(held.len(), usize::from(holds), "{path} {gate}: {held:?}");
            for f in held {
                assert_eq!((f.severity, f.field.as_str()), (Severity::Stop, path));
                assert_eq!(f.accept.word(), "nobody");
                let name = job.value_at(path).unwrap();
                let said = [name.as_str().unwrap(), "Nadia Brookwell"];
                assert!(said.iter().all(|s| f.message.contains(s)), "{}", f.message);
            }
        }
    }
    // An entry of a name that is not there, or that its owner signed, holds nothing.
    assert!(open(&typed("fitting.supervised_by"), Gate::Ordered, true).is_empty());
    let mut signed = sound_job();
    let kept = NameKept::default();
    signed.names.insert("fitting.taken_by".to_owned(), kept);
    assert!(open(&signed, Gate::Ordered, true).is_empty());
}

#[test]
fn an_open_question_is_one_stop_at_every_gate_until_it_is_answered() {
    let (job, staff, practice) = (sound_job(), staff(), Practice::default());
    let question = Question {
        of: QuestionTo::Prescriber,
        text: "Is the addition meant?".to_owned(),
        by: "Nadia Brookwell".to_owned(),
        on: today(),
    };
    let passed = [Passed {
        gate: Gate::Ordered,
        job: job.clone(),
    }];
    for gate in Gate::ALL {
        let open = |questions| {
            let around = Surroundings {
                sign_in: false,
                today: today(),
                staff: &staff,
                practice: &practice,
                others: &[],
                questions,
            };
            let mut list = findings(*gate, &job, around, &[], &passed);
            list.retain(Finding::is_open);
            list
        };
        assert!(open(&[]).is_empty(), "{gate}");
        let held = open(std::slice::from_ref(&question));
        assert_eq!(held.len(), 1, "{gate}: {held:?}");
        let f = &held[0];
        assert_eq!(
            (f.check.to_string().as_str(), f.gate, f.severity, f.eye),
            ("question-open", *gate, Severity::Stop, About::Job)
        );
        assert!(
            f.message.contains("Is the addition meant?"),
            "{}",
            f.message
        );
        assert_eq!(f.ways_out, ["record the answer"]);
        let of_laboratory = Question {
            of: QuestionTo::Laboratory,
            text: "Which coating?".to_owned(),
            ..question.clone()
        };
        let both = open(&[question.clone(), of_laboratory]);
        assert_eq!(both.len(), 2, "{gate}: one finding each");
        assert!(both[1].message.contains("asked the laboratory"));
    }
}

#[test]
fn docs_of_the_checks_are_what_the_program_prints() {
    let thresholds = rimbook::testing::practice::Thresholds::default();
    let printed = rimbook::testing::judge::gate::catalogue::markdown(&thresholds);
    assert!(
        is_current(Part::Printed, &printed),
        "RIMBOOK_WRITE_DOCS=1 cargo test --test judge docs writes it again"
    );
}

#[test]
fn another_addition_or_prism_is_another_order() {
    let job = sound_job();
    let mut other = job.clone();
    other.stage = Some(Stage::Ordered);
    other.number = Some("7".to_owned());
    let is_twice = |other: &Job| {
        found_with(&job, Gate::Ordered, std::slice::from_ref(other), &[], &[])
            .iter()
            .any(|f| f.check == "order-duplicate")
    };
    assert!(is_twice(&other));
    for powers in [
        json!({"powers": {"right": {"addition_d": 2.0}}}),
        json!({"powers": {"left": {"base_in_delta": 2.0}}}),
        json!({"powers": {"right": {"base_up_delta": -0.5}}}),
    ] {
        let mut another = other.clone();
        another.record(Section::Lenses, &powers).unwrap();
        assert!(!is_twice(&another), "{powers}");
    }
}

#[test]
fn prism_that_was_not_read_is_said_of_the_eye_it_is_missing_from() {
    let read = |changes: &[(&'static str, Value)]| -> Vec<(About, String)> {
        found(&changed(changes), Gate::Verified)
            .into_iter()
            .filter(|f| f.check == "readings-missing")
            .map(|f| (f.eye, f.field))
            .collect()
    };
    let none =
        json!({"base_in_delta": null, "base_up_delta": null, "cd_mm": null, "height_mm": null});
    assert_eq!(read(&[]), []);
    assert_eq!(
        read(&[("readings", json!({"right": none}))]),
        [(
            About::from(rimbook::testing::trade::eye::Eye::Right),
            "readings.right.base_in_delta".to_owned()
        )]
    );
    let both = read(&[("readings", json!({"right": none, "left": none}))]);
    assert_eq!(both.len(), 2, "{both:?}");
}

#[test]
fn a_trace_of_prism_the_other_way_is_no_reversed_base() {
    let read = |delta: f64| {
        found(
            &changed(&[
                (
                    "lenses",
                    json!({"powers": {"right": {"base_up_delta": 0.5}}}),
                ),
                ("readings", json!({"right": {"base_up_delta": delta}})),
            ]),
            Gate::Verified,
        )
        .iter()
        .any(|f| f.check == "prism-reversed")
    };
    assert!(!read(0.0) && !read(-0.01) && !read(-0.11));
    assert!(read(-0.12) && read(-0.5));
}

#[test]
fn days_out_of_their_order_are_said_each_at_its_field() {
    let fields = |changes: &[(&'static str, Value)]| -> Vec<String> {
        found(&changed(changes), Gate::Ordered)
            .into_iter()
            .filter(|f| f.check == "days-impossible")
            .map(|f| f.field)
            .collect()
    };
    // Today is 12 October 2026 in the scenario.
    assert_eq!(
        fields(&[("order", json!({"ordered_on": "2026-10-12"}))]),
        [] as [&str; 0]
    );
    for (section, change, field) in [
        (
            "order",
            json!({"ordered_on": "2026-10-13"}),
            "order.ordered_on",
        ),
        (
            "fitting",
            json!({"taken_on": "2026-10-13"}),
            "fitting.taken_on",
        ),
        (
            "prescription",
            json!({"tested_on": "2026-10-13"}),
            "prescription.tested_on",
        ),
        ("wearer", json!({"born": "2026-10-10"}), "wearer.born"),
    ] {
        assert_eq!(fields(&[(section, change)]), [field], "{section}");
    }
    let late = {
        let mut job = changed(&[(
            "order",
            json!({"ordered_on": "2026-09-01", "due_on": "2026-09-12"}),
        )]);
        job.stage = Some(Stage::Ordered);
        found(&job, Gate::Verified)
    };
    assert!(
        late.iter().all(|f| f.check != "due-late"),
        "a pair that was ordered may be late"
    );
}

/// 28 mm is unusual, not a slip: it is the practice's to say whether a pair is worn there.
#[test]
fn no_compensation_is_offered_for_a_distance_that_no_pair_is_worn_at() {
    use rimbook::testing::judge::gate::of_finding;
    use rimbook::testing::judge::rules::remedy::of_job;
    let mut practice = Practice::default();
    let of = |practice: &Practice, section: &'static str, change: Value| {
        let job = changed(&with(strong(), section, change));
        let around = Surroundings {
            sign_in: false,
            today: today(),
            staff: &staff(),
            practice,
            others: &[],
            questions: &[],
        };
        let is_held = findings(Gate::Ordered, &job, around, &[], &[])
            .iter()
            .any(|f| f.check == "vertex-range");
        let words: Vec<String> = rimbook::testing::views::lines(&job, practice, today())
            .into_iter()
            .map(|l| l.label.trim().to_owned())
            .filter(|l| l.contains("compensated"))
            .collect();
        let offered = of_job(
            &job,
            rimbook::testing::trade::eye::Eye::Right,
            &practice.thresholds,
        )
        .is_some();
        assert_eq!(offered, !words.is_empty(), "{words:?}");
        (is_held, offered)
    };
    let tested = |mm: f64| json!({"tested_vertex_mm": mm});
    let (held, offered) = ((true, false), (false, true));
    for mm in [1.5, 4.9, 25.1, 28.0, 120.0] {
        assert_eq!(of(&practice, "prescription", tested(mm)), held, "{mm}");
    }
    for mm in [5.0, 16.0, 25.0] {
        assert_eq!(of(&practice, "prescription", tested(mm)), offered, "{mm}");
    }
    // One eye's distance is part of the mean that both would be compensated for.
    let left = json!({"left": {"vertex_mm": 28}, "right": {"vertex_mm": 14}});
    assert_eq!(of(&practice, "fitting", left.clone()), held);
    practice.set("vertex-high", "30").unwrap();
    assert_eq!(of(&practice, "prescription", tested(28.0)), offered);
    assert_eq!(of(&practice, "fitting", left), offered);
    practice.set("vertex-high", "15").unwrap();
    assert_eq!(of(&practice, "prescription", tested(16.0)), held);
    // At the collection, too, other powers are no way out for a distance that cannot be.
    let at_collection = |mm: f64| {
        let now = json!({"right": {"vertex_mm": mm}, "left": {"vertex_mm": mm}});
        let job = changed(&with(strong(), "handover", now));
        let list = found(&job, Gate::Collected);
        let finding = list.iter().find(|f| f.check == "fit-vertex").unwrap();
        of_finding(&job, finding, &Practice::default().thresholds).is_some()
    };
    assert!(at_collection(16.0) && !at_collection(28.0));
}

#[test]
fn an_allergy_names_a_material_in_full_or_by_a_word_of_it() {
    let holds = |allergy: &str, material: &str| {
        found(
            &changed(&[
                ("wearer", json!({"allergies": [allergy]})),
                ("frame", json!({"front_material": material})),
            ]),
            Gate::Ordered,
        )
        .iter()
        .any(|f| f.check == "allergy-plastic")
    };
    for (allergy, material) in [
        ("acetate", "acetate"),
        ("titanium", "beta titanium"),
        ("steel", "stainless steel"),
        ("Cellulose acetate", "acetate"),
    ] {
        assert!(holds(allergy, material), "{allergy} and {material}");
    }
    for (allergy, material) in [
        ("titanium", "aluminium"),
        ("metal", "aluminium"),
        ("metal", "acetate"),
        ("pollen", "horn"),
    ] {
        assert!(!holds(allergy, material), "{allergy} and {material}");
    }
}
