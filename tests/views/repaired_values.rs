//! A value that a repair has set is the same everywhere: how the pair is now, and its column of a
//! recheck.

use crate::recheck_pair::{first, lined_up, recheck_of};
use rimbook::testing::job::fields::{Field, all_fields, set_repair_value, show};
use rimbook::testing::job::{Design, Job, Repair, TakenAs, handover_now};
use rimbook::testing::views::recheck::{Parameter as P, Source};

/// The row of a recheck that shows a value, and what was typed at two repairs.
fn row_of(key: &str) -> (P, [&'static str; 2]) {
    match key {
        "vertex_mm" => (P::Vertex, ["11", "14"]),
        "length_to_bend_mm" => (P::LengthToBend, ["91", "94"]),
        "height_mm" | "segment_height_mm" => (P::Height, ["19", "22"]),
        "pantoscopic_deg" => (P::Tilt, ["4", "11"]),
        "face_form_deg" => (P::FaceForm, ["2", "6"]),
        "head_width_mm" => (P::HeadWidth, ["140", "146"]),
        "mount" => (P::Pads, ["push", "fixed"]),
        "size_mm" => (P::Pads, ["11", "15"]),
        "material" => (P::Pads, ["titanium", "hard plastic"]),
        other => panic!("no row of the recheck is known for {other}"),
    }
}

fn repair(field: &Field, day: &str, text: &str) -> Repair {
    let blank = Repair {
        on: Some(day.parse().unwrap()),
        ..Repair::default()
    };
    set_repair_value(&blank, field.path, text, day.parse().unwrap()).unwrap()
}

/// The column of a recheck for what repairs have set.
fn column(job: &Job, parameter: P, field: &Field) -> Option<String> {
    let compared = lined_up(&recheck_of(job), job);
    compared.row(parameter, field.eye)?.shown(Source::Repaired)
}

#[test]
fn how_a_pair_is_now_and_a_recheck_agree_on_every_value_that_a_repair_may_change() {
    let fields: Vec<&Field> = all_fields().iter().filter(|f| f.is_repaired()).collect();
    assert_eq!(fields.len(), 14, "both eyes of four, and six of the pair");
    for field in fields {
        let (parameter, [early, late]) = row_of(field.key);
        let mut job = first();
        if field.key == "segment_height_mm" {
            job.lenses.design = Some(Design::Bifocal);
        }
        assert_eq!(column(&job, parameter, field), None, "{}", field.path);
        // Written down in another order than it was done.
        job.aftercare.repairs = vec![
            repair(field, "2026-12-02", late),
            repair(field, "2026-11-20", early),
        ];
        let now = handover_now(&job);
        let set: Vec<&str> = now
            .iter()
            .filter(|(_, stands)| stands.taken_as == TakenAs::Adjusted)
            .map(|(path, _)| *path)
            .collect();
        assert_eq!(set, [field.path], "a repair touches no other value");
        let stands = &now[field.path];
        assert_eq!(stands.on, Some("2026-12-02".parse().unwrap()));
        let json = stands.value.to_json();
        let is = json.as_f64().map_or_else(
            || json.as_str().unwrap().to_owned(),
            |number| number.to_string(),
        );
        assert_eq!(is, late, "{}", field.path);
        let seen = column(&job, parameter, field).unwrap();
        let number = |text: &str| text.trim_end_matches(" mm").parse::<f64>().ok();
        let agree = match (number(&seen), number(late)) {
            (Some(seen), Some(set)) => (seen - set).abs() < 1e-9,
            _ => seen == late,
        };
        assert!(agree, "{}: {seen}, not {late}", field.path);
    }
}

#[test]
fn pads_of_which_a_repair_says_one_value_keep_the_others() {
    let mut job = first();
    let field = |path: &str| all_fields().iter().find(|f| f.full() == path).unwrap();
    let size = field("frame.pads.size_mm");
    job.frame.pads =
        serde_json::from_value(serde_json::json!({"mount": "screw", "material": "silicone"}))
            .unwrap();
    job.aftercare.repairs = vec![repair(size, "2026-12-02", "15")];
    let now = handover_now(&job);
    assert_eq!(now["pads.size_mm"].value.to_json(), 15);
    assert!(
        !now.contains_key("pads.mount") && !now.contains_key("pads.material"),
        "no repair has set them"
    );
    let (mount, material) = (field("frame.pads.mount"), field("frame.pads.material"));
    let whole = format!("{} 15 mm {}", show(&job, mount), show(&job, material));
    assert_eq!(column(&job, P::Pads, size), Some(whole));
}

#[test]
fn a_repair_that_says_nothing_of_the_pads_has_not_set_them() {
    let mut job = first();
    let size = all_fields()
        .iter()
        .find(|f| f.full() == "frame.pads.size_mm")
        .unwrap();
    job.frame.pads = serde_json::from_value(serde_json::json!({"mount": "screw"})).unwrap();
    job.aftercare.repairs = vec![Repair {
        pads: Some(rimbook::testing::job::Pads::default()),
        ..Repair::default()
    }];
    assert_eq!(column(&job, P::Pads, size), None);
    assert!(
        handover_now(&job)
            .values()
            .all(|s| s.taken_as == TakenAs::HandedOver)
    );
}
