//! PD and near PD are seen wherever the other measurements are, and a near pair without near
//! centration distances is ordered by its near PD.

use crate::sound_pair::said;
use chrono::NaiveDate;
use rimbook::testing::job::{Gate, Job, Section};
use rimbook::testing::judge::derive::places::{CdSource, ordered_cd, ordered_cd_mm};
use rimbook::testing::practice::Practice;
use rimbook::testing::trade::eye::Eye;
use rimbook::testing::views::card::{CardData, fitting_card, read_aloud, second_card};
use rimbook::testing::views::sheet::{SheetKind, Subject, sheet};
use serde_json::{Value, json};

fn job(fitting: &Value) -> Job {
    serde_json::from_value(json!({
        "wearer": {"name": "Ida Example-Thorn"},
        "fitting": fitting,
        "frame": {"a_mm": 52, "b_mm": 38, "dbl_mm": 18, "ed_mm": 55},
        "lenses": {"design": "single vision", "purpose": "near"},
    }))
    .unwrap()
}

fn recorded() -> Job {
    job(&json!({
        "binocular_pd_mm": 64.5, "near_pd_mm": 60.5,
        "right": {"cd_mm": 31.5}, "left": {"cd_mm": 33},
    }))
}

fn card(job: &Job) -> String {
    let practice = Practice::default();
    let facts = CardData::of(job, &practice);
    let mut lines = fitting_card(job, "1001", &practice, 78);
    lines.extend(second_card(job, &[], &facts, 78));
    let lines: Vec<String> = lines
        .iter()
        .map(rimbook::testing::views::card::CardLine::text)
        .collect();
    lines.join("\n")
}

fn paper(what: SheetKind, job: &Job) -> String {
    let practice = Practice::default();
    let of = Subject {
        job,
        number: "1001",
        practice: &practice,
        today: NaiveDate::from_ymd_opt(2026, 11, 25).unwrap(),
    };
    rimbook::testing::exchange::paper::text(&sheet(what, of))
}

#[test]
fn both_distances_are_on_the_card_on_paper_and_read_aloud() {
    let job = recorded();
    let card = card(&job);
    assert!(card.contains("PD 64.5 mm · near PD 60.5 mm"), "{card}");
    for what in [SheetKind::Order, SheetKind::Wearer] {
        let text = paper(what, &job);
        assert!(text.contains("PD 64.5 mm"), "{text}");
        assert!(text.contains("near PD 60.5 mm"), "{text}");
    }
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    let said = read_aloud(&job, "1001", today).join("\n");
    assert!(
        said.contains("PD: six four point five millimetres."),
        "{said}"
    );
    assert!(
        said.contains("Near PD: six zero point five millimetres."),
        "{said}"
    );
}

#[test]
fn a_near_pair_is_ordered_by_its_near_pd_where_no_near_cd_is_recorded() {
    let job = recorded();
    let of = |eye| ordered_cd(&job, eye).unwrap();
    // 60.5 in the ratio 31.5 to 33, the right share to a tenth.
    assert_eq!(of(Eye::Right).1, CdSource::NearPd);
    assert!((of(Eye::Right).0 - 29.5).abs() < 1e-9);
    assert!((of(Eye::Left).0 - 31.0).abs() < 1e-9);
    let card = card(&job);
    assert!(card.contains("near 29.5/31 worked out"), "{card}");
    let order = paper(SheetKind::Order, &job);
    assert!(
        order.contains("29.5*") && order.contains("31.0*"),
        "{order}"
    );
    assert!(order.contains("worked out from the near PD"), "{order}");
    let chart = paper(SheetKind::Chart, &job);
    assert!(
        chart.contains(
            "centration point 29.5 mm from the middle of the bridge (worked out from the near PD)"
        ),
        "{chart}"
    );
}

#[test]
fn without_distance_cds_it_is_halved_and_a_recorded_near_cd_counts_first() {
    let halved = job(&json!({"near_pd_mm": 60.5}));
    for eye in Eye::BOTH {
        assert!((ordered_cd_mm(&halved, eye).unwrap() - 30.25).abs() < 1e-9);
    }
    let one = job(&json!({
        "near_pd_mm": 60.5,
        "right": {"cd_mm": 31.5, "near_cd_mm": 29}, "left": {"cd_mm": 33},
    }));
    assert_eq!(
        ordered_cd(&one, Eye::Right).unwrap(),
        (29.0, CdSource::Near)
    );
    assert!((ordered_cd_mm(&one, Eye::Left).unwrap() - 31.5).abs() < 1e-9);
    assert!(!card(&one).contains("near 29/-"), "{}", card(&one));
}

#[test]
fn a_pair_for_distance_stays_at_its_distance_cds() {
    let mut far = recorded();
    far.lenses.purpose = Some(rimbook::testing::job::Purpose::Distance);
    assert_eq!(
        ordered_cd(&far, Eye::Right).unwrap(),
        (31.5, CdSource::Distance)
    );
    assert!(!card(&far).contains("worked out"));
    assert!(!paper(SheetKind::Order, &far).contains("worked out from the near PD"));
}

/// The eyes named by `pd-near` of a pair for a purpose whose right near distance is the given one,
/// with the distance CD 31.5 mm and 31.0 mm and a task at a distance, mm.
fn near_named(purpose: &str, task_mm: f64, right_near_mm: f64) -> Vec<String> {
    said(
        "pd-near",
        Gate::Ordered,
        &[
            (
                Section::Wearer,
                json!({"tasks": [{"what": "work", "distance_mm": task_mm}]}),
            ),
            (
                Section::Fitting,
                json!({"right": {"cd_mm": 31.5, "near_cd_mm": right_near_mm}}),
            ),
            (Section::Lenses, json!({"purpose": purpose})),
        ],
    )
    .into_iter()
    .map(|f| f.message)
    .collect()
}

#[test]
fn a_near_distance_that_is_the_distance_one_again_is_asked_about() {
    // 31.5 mm at 650 mm, s 25.5 mm: 31.5 * 25.5 / 675.5 = 1.19 mm nearer, within the 1.5 mm.
    let said = near_named("intermediate", 650.0, 31.5);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("is the distance one again"), "{said:?}");
    assert_eq!(near_named("intermediate", 650.0, 31.25).len(), 1);
    assert!(near_named("intermediate", 650.0, 31.0).is_empty());
    // At 900 mm the eyes turn in by 0.87 mm, which a reading cannot tell from none.
    assert!(near_named("intermediate", 900.0, 31.5).is_empty());
}
