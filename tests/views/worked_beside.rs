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
    let practice = Practice::default();
    let of = Subject {
        job,
        number: "1001",
        practice: &practice,
        today: today(),
    };
    format!("{:?}", sheet(SheetKind::Order, of).blocks)
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
