//! What one key does about a finding: recorded values, never a measurement, and they settle what they are
//! offered for.

use crate::gate_rows::{progressive, rows, strong, with};
use crate::sound_pair::{ASSISTANT, OPTICIAN, changed, found};
use rimbook::testing::job::{Gate, Job};
use rimbook::testing::judge::gate::recorded_remedies;
use rimbook::testing::judge::rules::recorded_remedy::RecordedRemedy;
use rimbook::testing::practice::Practice;
use serde_json::{Value, json};

type Changes = Vec<(&'static str, Value)>;

fn remedies(job: &Job, check: &str) -> Vec<RecordedRemedy> {
    let thresholds = Practice::default().thresholds;
    found(job, Gate::Ordered)
        .iter()
        .find(|f| f.check == check)
        .map_or_else(Vec::new, |f| recorded_remedies(job, f, &thresholds))
}

fn done(job: &Job, remedy: &RecordedRemedy) -> Job {
    let mut after = job.clone();
    after
        .record(remedy.section, &remedy.change_by(OPTICIAN))
        .unwrap();
    after
}

fn has(job: &Job, check: &str) -> bool {
    found(job, Gate::Ordered)
        .iter()
        .any(|f| f.check == check && f.is_open())
}

fn number(job: &Job, path: &str) -> Option<f64> {
    serde_json::to_value(job).unwrap().pointer(path)?.as_f64()
}

/// The values that a change sets, by their paths; what it removes is left out.
fn set(change: &Value, at: &str, into: &mut Vec<String>) {
    match change {
        Value::Object(map) => {
            for (key, inner) in map {
                set(inner, &format!("{at}.{key}"), into);
            }
        }
        Value::Null => {}
        _ => into.push(at.to_owned()),
    }
}

fn tilted() -> Changes {
    with(
        strong(),
        "fitting",
        json!({"pantoscopic_deg": 16, "face_form_deg": 0}),
    )
}

#[test]
fn no_remedy_of_any_check_fills_a_measurement_in_and_each_can_be_recorded() {
    let thresholds = Practice::default().thresholds;
    let mut tried = 0;
    for (id, gate, changes) in rows() {
        let job = changed(&changes);
        for finding in found(&job, Gate::Ordered)
            .iter()
            .filter(|_| gate == Gate::Ordered)
        {
            for remedy in recorded_remedies(&job, finding, &thresholds) {
                tried += 1;
                let mut paths = Vec::new();
                set(
                    &remedy.change_by(OPTICIAN),
                    remedy.section.word(),
                    &mut paths,
                );
                for path in paths {
                    assert!(path.starts_with("lenses."), "{id}: {path}");
                }
                let after = done(&job, &remedy);
                let same = found(&after, Gate::Ordered)
                    .into_iter()
                    .find(|f| f.is_same_as(finding));
                assert!(same.is_none(), "{id}: {} leaves {same:?}", remedy.words);
                assert!(!remedy.words.is_empty() && !remedy.short.is_empty());
            }
        }
    }
    assert!(tried > 10, "{tried} were tried");
}

/// 16 degrees at 1 mm for 2 degrees is 8 mm (rule of thumb); to a centre of rotation 25.5 mm behind the lens it is
/// 25.5 tan 16° = 7.3 mm, to half a millimetre 7.5.
#[test]
fn centres_are_lowered_for_tilt_by_one_value_which_leaves_what_the_words_say() {
    let job = changed(&tilted());
    assert!(has(&job, "as-worn-error"));
    let ways = remedies(&job, "as-worn-error");
    assert_eq!(ways.len(), 1, "{ways:?}");
    let lowered = ways[0].change["lowered_mm"].as_f64().unwrap();
    assert!((lowered - 7.5).abs() < 1e-9, "{lowered}");
    assert!(ways[0].words.contains(&format!("{lowered:.1} mm")));
    assert!(!ways[0].needs_registrant());
    let after = done(&job, &ways[0]);
    assert!(
        !has(&after, "as-worn-error"),
        "{:?}",
        found(&after, Gate::Ordered)
    );
    let said = ways[0].words.split("right ").nth(1).unwrap();
    let left = said.split(',').next().unwrap();
    assert!(left.parse::<f64>().unwrap() < 0.25, "{said}");
    if let Some(note) = found(&after, Gate::Ordered)
        .iter()
        .find(|f| f.check == "as-worn-error")
    {
        assert!(note.message.contains(left), "{left}: {}", note.message);
    }
    // Lowered already, the same is not offered again.
    assert!(remedies(&after, "as-worn-error").is_empty());
}

#[test]
fn a_tilt_the_other_way_is_no_reason_to_lower_centres() {
    let job = changed(&with(strong(), "fitting", json!({"pantoscopic_deg": -16})));
    for way in remedies(&job, "as-worn-error") {
        assert!(way.change.get("lowered_mm").is_none(), "{}", way.words);
    }
}

#[test]
fn a_progressive_pair_leaves_the_tilt_to_the_laboratory_instead() {
    let mut changes = strong();
    changes.extend(progressive());
    let job = changed(&with(changes, "fitting", json!({"pantoscopic_deg": 20})));
    let ways = remedies(&job, "as-worn-error");
    assert_eq!(ways.len(), 1);
    assert!(ways[0].words.contains("tilt 20°"), "{}", ways[0].words);
    let after = done(&job, &ways[0]);
    assert!(!has(&after, "as-worn-error"));
    assert!(
        !has(&after, "powers-differ"),
        "{:?}",
        found(&after, Gate::Ordered)
    );
}

fn at_fifteen() -> Changes {
    with(
        strong(),
        "fitting",
        json!({"right": {"vertex_mm": 15}, "left": {"vertex_mm": 15}}),
    )
}

/// -8.00 tested at 12 mm has its far point 137 mm before the cornea; 122 mm are left of it at 15 mm:
/// -8.20 D, in quarters -8.25.
#[test]
fn powers_are_compensated_in_quarters_by_whoever_does_it() {
    let job = changed(&at_fifteen());
    let ways = remedies(&job, "bvd-mismatch");
    let first = &ways[0];
    assert!(
        first.words.contains("in quarters: right -8.25, left -8.25"),
        "{}",
        first.words
    );
    assert!(first.needs_registrant());
    assert_eq!(
        ways.last().unwrap().short,
        "let the laboratory compensate for the vertex distance"
    );
    assert!(!ways.last().unwrap().needs_registrant());
    let after = done(&job, first);
    let powers = after.lenses.powers.clone().unwrap();
    assert_eq!(powers.by.as_deref(), Some(OPTICIAN));
    assert_eq!(number(&after, "/lenses/powers/right/sphere_d"), Some(-8.25));
    for check in [
        "bvd-mismatch",
        "powers-differ",
        "powers-need-registrant",
        "compensated-twice",
    ] {
        assert!(
            !has(&after, check),
            "{check}: {:?}",
            found(&after, Gate::Ordered)
        );
    }
    // Somebody who may not work powers out does not get past the gate with them.
    let mut by_assistant = job.clone();
    by_assistant
        .record(first.section, &first.change_by(ASSISTANT))
        .unwrap();
    assert!(has(&by_assistant, "powers-need-registrant"));
}

#[test]
fn the_error_that_is_left_is_the_worse_of_unequal_distances() {
    let mut changes = at_fifteen();
    changes.push(("fitting", json!({"left": {"vertex_mm": 16}})));
    let ways = remedies(&changed(&changes), "bvd-mismatch");
    let finest = ways
        .iter()
        .find(|w| w.short.starts_with("hundredths"))
        .unwrap();
    // At the mean, 15.5 mm, 1000/121.5 D; at 15 and at 16 mm 1000/122 and 1000/121 D are needed.
    assert!(finest.words.ends_with("0.03 D"), "{}", finest.words);
}

/// The prescription's -8.00 in the place of powers that an assistant altered.
#[test]
fn altered_powers_of_somebody_who_may_not_give_way_to_the_prescription() {
    let mut changes = at_fifteen();
    changes.push((
        "lenses",
        json!({"powers": {"as": "vertex compensated", "by": ASSISTANT, "right": {"sphere_d": -8.25}, "left": {"sphere_d": -8.25}}}),
    ));
    let job = changed(&changes);
    let ways = remedies(&job, "powers-need-registrant");
    let after = done(&job, &ways[0]);
    assert_eq!(number(&after, "/lenses/powers/left/sphere_d"), Some(-8.0));
    assert_eq!(after.lenses.powers.clone().unwrap().by, None);
    assert!(!has(&after, "powers-need-registrant") && !has(&after, "powers-differ"));
    assert!(
        has(&after, "bvd-mismatch"),
        "the distance is asked about again"
    );
}

#[test]
fn a_slip_in_a_near_distance_gives_way_to_the_worked_out_one() {
    let changes = vec![
        (
            "prescription",
            json!({"right": {"addition_d": 2.0}, "left": {"addition_d": 2.0}}),
        ),
        ("lenses", json!({"purpose": "near"})),
        ("fitting", json!({"right": {"near_cd_mm": 36}})),
    ];
    let job = changed(&changes);
    let ways = remedies(&job, "pd-near");
    assert_eq!(ways.len(), 1);
    assert!(ways[0].words.contains("36"), "{}", ways[0].words);
    let after = done(&job, &ways[0]);
    assert_eq!(number(&after, "/fitting/right/near_cd_mm"), None);
    assert!(!has(&after, "pd-near"));
    // A general pair is not ordered to a near distance: leaving it out would change nothing.
    let general = changed(&[("fitting", json!({"right": {"near_cd_mm": 36}}))]);
    assert!(has(&general, "pd-near"));
    assert!(remedies(&general, "pd-near").is_empty());
}

#[test]
fn nothing_is_done_by_one_key_once_the_lenses_are_ordered() {
    let job = changed(&tilted());
    let list = found(&job, Gate::Ordered);
    let finding = list.iter().find(|f| f.check == "as-worn-error").unwrap();
    let mut file = serde_json::to_value(&job).unwrap();
    file["stage"] = json!("ordered");
    let ordered: Job = serde_json::from_value(file).unwrap();
    let thresholds = Practice::default().thresholds;
    assert!(recorded_remedies(&ordered, finding, &thresholds).is_empty());
}
