//! What stands beside entries that prism or an office design changes, and on the order.

use chrono::NaiveDate;
use rimbook::testing::job::{Job, Section, read_jobs};
use rimbook::testing::practice::Practice;
use rimbook::testing::views::lines;
use rimbook::testing::views::sheet::{SheetKind, Subject, sheet};
use serde_json::{Value, json};

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 10, 12).unwrap()
}

fn pair(changes: &[(Section, Value)]) -> Job {
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    let mut job = read_jobs(&all["scenarios"][0]["job"].to_string())
        .unwrap()
        .remove(0);
    for (section, change) in changes {
        job.record(*section, change).unwrap();
    }
    job
}

fn beside(job: &Job, field: &str) -> Vec<String> {
    lines(job, &Practice::default(), today())
        .into_iter()
        .filter(|l| l.field == field)
        .map(|l| format!("{} {}", l.label, l.text))
        .collect()
}

fn order(job: &Job) -> String {
    on(SheetKind::Order, job)
}

fn on(what: SheetKind, job: &Job) -> String {
    let practice = Practice::default();
    let of = Subject {
        job,
        number: "1001",
        practice: &practice,
        today: today(),
    };
    format!("{:?}", sheet(what, of).blocks)
}

/// 4 base in right and 3 base down left, 25.5 mm before the centre of rotation (12 mm and 13.5 mm):
/// 25.5 x 4 / 100 = 1.0 mm out, 25.5 x 3 / 100 = 0.8 mm up, each away from the base.
fn prism() -> Vec<(Section, Value)> {
    let eyes = json!({"right": {"base_in_delta": 4}, "left": {"base_up_delta": -3}});
    vec![
        (Section::Prescription, eyes),
        (
            Section::Fitting,
            json!({"right": {"vertex_mm": 12}, "left": {"vertex_mm": 12}}),
        ),
    ]
}

#[test]
fn the_shift_of_a_line_of_sight_stands_beside_what_is_ordered_by_it() {
    let job = pair(&prism());
    let cd = beside(&job, "fitting.right.cd_mm");
    assert!(
        cd.contains(&"prism moves sight 1.0 mm out".to_owned()),
        "{cd:?}"
    );
    let height = beside(&job, "fitting.left.height_mm");
    assert!(
        height.contains(&"prism moves sight 0.8 mm up".to_owned()),
        "{height:?}"
    );
    // Nothing moves up or down on the right, nor in or out on the left.
    let others = [
        beside(&job, "fitting.right.height_mm"),
        beside(&job, "fitting.left.cd_mm"),
    ];
    assert!(!format!("{others:?}").contains("moves sight"), "{others:?}");
    assert!(!format!("{:?}", lines(&pair(&[]), &Practice::default(), today())).contains("sight"));
}

#[test]
fn of_a_segment_the_shift_stands_beside_its_height() {
    let mut changes = prism();
    changes.push((Section::Lenses, json!({"design": "bifocal"})));
    let job = pair(&changes);
    assert!(format!("{:?}", beside(&job, "fitting.left.segment_height_mm")).contains("0.8 mm up"));
}

#[test]
fn the_order_says_the_shift_and_whether_the_prism_was_in_place() {
    let says = "moves the lines of sight: right 1.0 mm out, left 0.8 mm up";
    let mut changes = prism();
    let order_of = |changes: &[(Section, Value)]| order(&pair(changes));
    let without = order_of(&changes);
    assert!(without.contains(says), "{without}");
    assert!(without.contains("measured without the prism in place"));
    changes.push((Section::Fitting, json!({"prism_in_place": true})));
    assert!(order_of(&changes).contains("measured with the prism in place"));
    assert!(!order_of(&[]).contains("lines of sight"));
}

/// A lens that the laboratory compensates does not read as it was ordered.
#[test]
fn the_order_asks_the_laboratory_to_state_what_a_compensated_lens_reads() {
    let by_laboratory =
        json!({"compensates": {"tilt": "laboratory"}, "powers": {"as": "laboratory compensated"}});
    let mut changes = vec![(Section::Lenses, by_laboratory)];
    let says = "right and left: to be stated by you, who compensate; not the powers ordered";
    let waits = order(&pair(&changes));
    assert!(
        waits.contains(says) && !waits.contains("the powers ordered; state"),
        "{says}"
    );
    let stated = json!({"laboratory_powers": {"right": {"sphere_d": -0.52}}});
    changes.push((Section::Lenses, stated));
    let one = order(&pair(&changes));
    assert!(one.contains("left: to be stated by you") && one.contains("-0.52"));
    assert!(!order(&pair(&[])).contains("to be stated"));
}

/// A reading pair is ordered to its near distances: 31.5 mm less 31.5 x 25.5 / 425.5, 1.9 mm.
#[test]
fn the_wearers_sheet_of_a_reading_pair_says_where_its_lenses_are_centred() {
    let near = json!({"purpose": "near"});
    let addition = json!({"right": {"addition_d": 2.0}, "left": {"addition_d": 2.0}});
    let job = pair(&[(Section::Lenses, near), (Section::Prescription, addition)]);
    let sheet = on(SheetKind::Wearer, &job);
    assert!(sheet.contains("29.6 worked out"), "{}", &sheet);
    assert!(sheet.contains("centred at the near CD, not at the CD"));
    assert!(!on(SheetKind::Wearer, &pair(&[])).contains("near CD"));
}

/// What the pair is stands together, and who compensates is no matter of the wearer's.
#[test]
fn the_wearers_sheet_names_the_lenses_with_the_pair() {
    let named = json!({"maker": "Quill Optical", "product": "Plain 1.6", "compensates": {"tilt": "laboratory"}});
    let sheet = on(SheetKind::Wearer, &pair(&[(Section::Lenses, named)]));
    assert!(sheet.contains("lens product"), "{sheet}");
    assert_eq!(sheet.matches("Plain 1.6").count(), 1);
    assert!(!sheet.contains("compensates"));
}

/// Addition 2.00 and a drop of 1.00: 1.00 D is left at the top, clear to 100 cm.
#[test]
fn the_clear_range_of_an_office_pair_stands_beside_its_entries_in_centimetres() {
    let office = json!({"design": "office", "power_drop_d": 1.0});
    let addition = json!({"right": {"addition_d": 2.0}, "left": {"addition_d": 2.0}});
    let job = pair(&[(Section::Lenses, office), (Section::Prescription, addition)]);
    for field in ["lenses.far_mm", "lenses.power_drop_d"] {
        let said = beside(&job, field).join(", ");
        assert!(
            said.starts_with("clear") && said.ends_with("to 100 cm"),
            "{said}"
        );
    }
    assert!(beside(&pair(&[]), "lenses.far_mm").is_empty());
}
