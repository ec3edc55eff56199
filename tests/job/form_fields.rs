//! The table of fields against the job model, and every kind of entry against its own showing.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use chrono::NaiveDate;
use rimbook::testing::job::fields::{
    Field, FieldKind, RowPowers, change, copy_from_other_eye, fields, fill_row, find, is_power_row,
    parse, show, show_value, step, step_fine,
};
use rimbook::testing::job::{
    Compensates, Job, LaboratoryPowers, Pads, Powers, Previous, PrismControl, PrismControlRead,
    SecondReading, Section, Segment, Tint,
};
use rimbook::testing::trade::units::{Degree, Dioptre};
use serde_json::{Value, json};

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 26).unwrap()
}

fn every_field() -> impl Iterator<Item = &'static Field> {
    Section::ALL.iter().flat_map(|s| fields(*s))
}

fn leaves(value: &Value, path: &str, out: &mut Vec<String>) {
    match value.as_object() {
        Some(map) => {
            for (key, inner) in map {
                let at = if path.is_empty() {
                    key.clone()
                } else {
                    format!("{path}.{key}")
                };
                leaves(inner, &at, out);
            }
        }
        None => out.push(path.to_owned()),
    }
}

/// A job in which every part exists and no value is given: its leaves are every key there is.
fn every_key() -> Vec<String> {
    let mut job = Job::default();
    job.prescription.previous = Some(Previous::default());
    job.fitting.second_reading = Some(SecondReading::default());
    job.frame.pads = Some(Pads::default());
    job.lenses.segment = Some(Segment::default());
    job.lenses.compensates = Some(Compensates::default());
    job.lenses.prism_control = Some(PrismControl::default());
    job.readings.prism_control_delta = Some(PrismControlRead::default());
    job.lenses.tint = Some(Tint::default());
    job.lenses.powers = Some(Powers::default());
    job.lenses.laboratory_powers = Some(LaboratoryPowers::default());
    let mut out = Vec::new();
    leaves(&serde_json::to_value(job).unwrap(), "", &mut out);
    // The book gives these; nobody types them.
    out.retain(|p| !["number", "stage", "past"].contains(&p.as_str()));
    // A visit is written on a screen of its own.
    out.retain(|p| !p.starts_with("visit."));
    out
}

fn sample(field: &Field) -> &'static str {
    match field.kind {
        FieldKind::Text | FieldKind::Notes | FieldKind::Staff => "words",
        FieldKind::Date => "3/12/2026",
        FieldKind::Moment => "+7 15:30",
        FieldKind::Power | FieldKind::Reading => "-1.12",
        FieldKind::Axis => "90",
        FieldKind::Addition => "2.25",
        FieldKind::Prism(rimbook::testing::job::fields::PrismAxis::In) => "2 out",
        FieldKind::Prism(rimbook::testing::job::fields::PrismAxis::Up) => "1.5 down",
        FieldKind::Curve | FieldKind::Angle => "4",
        // What a wearer, a frame or a lens can have differs from place to place.
        FieldKind::Length => match rimbook::testing::job::fields::limits(field) {
            Some((_, most)) if most < 32.0 => "12,5 mm",
            Some((_, most)) if most > 2500.0 => "650 mm",
            Some((_, most)) if most > 150.0 => "120,5 mm",
            Some((least, _)) if least > 31.5 => "62,5 mm",
            _ => "31,5 mm",
        },
        FieldKind::Index => "1.6",
        FieldKind::Percent => "85 %",
        FieldKind::Category => "3",
        FieldKind::Flag => "y",
        FieldKind::Choice(words) | FieldKind::Advice(words) => words.last().unwrap(),
        FieldKind::Words => "nickel, hard",
        FieldKind::Tasks => "reading 400, screen 65 cm, music",
        FieldKind::PrismSize => "2,5",
        FieldKind::Material => "1.67",
    }
}

#[test]
fn every_key_of_the_job_file_has_exactly_one_field() {
    let fields: Vec<String> = every_field()
        .map(|f| {
            if f.section == Section::Job {
                f.path.to_owned()
            } else {
                f.full_path()
            }
        })
        .collect();
    let distinct: BTreeSet<&String> = fields.iter().collect();
    assert_eq!(distinct.len(), fields.len(), "a path has two fields");
    let keys = every_key();
    let keys: BTreeSet<&String> = keys.iter().collect();
    assert_eq!(distinct, keys);
}

#[test]
fn every_field_records_its_value_and_shows_it_again() {
    let mut job = Job::default();
    job.wearer.name = Some("Ida Example".into());
    for field in every_field() {
        let value = parse(field, sample(field), today())
            .unwrap_or_else(|e| panic!("{}: {e}", field.full_path()));
        job.record(field.section, &change(field, value.clone()))
            .unwrap_or_else(|e| panic!("{}: {e}", field.full_path()));
        assert_eq!(
            field.value(&job),
            Some(value.clone()),
            "{}",
            field.full_path()
        );
        let shown = show(&job, field);
        assert_eq!(
            parse(field, &shown, today()),
            Ok(value),
            "{}: {shown}",
            field.full_path()
        );
    }
    // A name stays, and heights to be read again are read, not struck off.
    let stays = ["wearer.name", "handover.adjusted_after_heights"];
    for field in every_field().filter(|f| !stays.contains(&f.full_path().as_str())) {
        job.record(field.section, &change(field, Value::Null))
            .unwrap();
        assert_eq!(show(&job, field), "", "{}", field.full_path());
    }
}

#[test]
fn fields_of_a_row_face_each_other() {
    for field in every_field() {
        assert!(!field.help.is_empty() && !field.label.is_empty());
        assert_eq!(find(&field.full_path()), Some(field));
        match (field.eye, copy_from_other_eye(field)) {
            (None, None) => {}
            (Some(eye), Some(other)) => {
                assert_eq!(other.eye, Some(eye.other()));
                assert_eq!((other.row, other.kind), (field.row, field.kind));
                assert_eq!(copy_from_other_eye(other), Some(field));
            }
            _ => panic!("{} has no other side", field.full_path()),
        }
    }
}

#[test]
fn what_cannot_be_read_is_refused_with_what_to_type() {
    for (path, typed, says) in [
        ("prescription.right.sphere_d", "2.25", "type +2.25 or -2.25"),
        (
            "prescription.right.sphere_d",
            "-25",
            "decimal point is missing: type -25.00",
        ),
        (
            "prescription.right.sphere_d",
            "-2.30",
            "type -2.375 or -2.25",
        ),
        ("prescription.right.sphere_d", "-45.00", "up to 40 D"),
        ("prescription.right.cylinder_d", "plano", "as -0.75"),
        ("prescription.right.axis_deg", "0", "type 180"),
        ("prescription.right.axis_deg", "181", "1 to 180"),
        ("prescription.right.axis_deg", "92.5", "whole number"),
        ("prescription.right.addition_d", "-2.00", "never minus"),
        (
            "prescription.right.base_in_delta",
            "2",
            "type 2 in or 2 out",
        ),
        ("prescription.right.base_in_delta", "2 up", "2 in or 2 out"),
        ("prescription.right.base_in_delta", "-2 in", "say it twice"),
        ("prescription.tested_on", "3/12/26", "2026-12-03"),
        ("wearer.name", " ", "type the name"),
        ("wearer.drives", "maybe", "yes or no"),
        ("lenses.design", "pro", ""),
        ("frame.front_material", "n", "nylon or nickel alloy"),
        ("frame.front_material", "steel", "type acetate, "),
        (
            "fitting.cover_test",
            "movement",
            "could be movement with spectacles or movement without spectacles",
        ),
        ("lenses.material", "1.60", "resin 1.60 or glass 1.60"),
        ("lenses.material", "1.6", "resin 1.60"),
        ("lenses.material", "resin 1.", "resin 1.60"),
        ("lenses.tint.category", "5", "0 to 4"),
        ("fitting.right.cd_mm", "31.5.2", "as 31.5"),
        ("fitting.right.cd_mm", "9000", "type 15 to 45"),
        ("fitting.right.vertex_mm", "120", "missing point"),
        ("prescription.tested_vertex_mm", "1.2", "type 2 to 40"),
        ("prescription.tested_vertex_mm", "120", "type 2 to 40"),
        ("handover.left.length_to_bend_mm", "950", "digit too many"),
        ("fitting.right.cd_mm", "31.55555", "three decimals"),
        ("handover.advice", "driving, flying", "type adaptation"),
    ] {
        let field = find(path).unwrap();
        match parse(field, typed, today()) {
            Err(e) => assert!(
                !says.is_empty() && e.to_string().contains(says),
                "{path} {typed:?}: {e}"
            ),
            Ok(value) => assert!(says.is_empty(), "{path} {typed:?} was read as {value}"),
        }
    }
}

#[test]
fn usual_ways_of_writing_are_read() {
    for (path, typed, value) in [
        ("prescription.right.sphere_d", "plano", json!(0)),
        ("prescription.right.sphere_d", "0", json!(0)),
        ("prescription.right.sphere_d", "-2", json!(-2)),
        ("lenses.material", "resin 1.6", json!("resin 1.60")),
        ("lenses.material", "resin 1,5", json!("resin 1.50")),
        ("lenses.material", "1.67", json!("resin 1.67")),
        ("prescription.right.sphere_d", "+.5 DS", json!(0.5)),
        ("prescription.right.sphere_d", "\u{2212}1,12", json!(-1.125)),
        ("readings.right.sphere_d", "-1.12", json!(-1.12)),
        ("prescription.left.axis_deg", "x90", json!(90)),
        ("prescription.left.base_in_delta", "2 base out", json!(-2)),
        ("prescription.left.base_up_delta", "1,5 up", json!(1.5)),
        ("prescription.left.base_up_delta", "2pd down", json!(-2)),
        ("prescription.left.sphere_d", "- 1.50", json!(-1.5)),
        ("prescription.left.sphere_d", "Sph: -2.25", json!(-2.25)),
        ("prescription.left.cylinder_d", "CYL -0.75", json!(-0.75)),
        ("prescription.left.addition_d", "2.25 add", json!(2.25)),
        ("prescription.left.addition_d", "Add +2.25", json!(2.25)),
        ("prescription.left.base_up_delta", "-1.5", json!(-1.5)),
        ("lenses.material", "poly", json!("polycarbonate 1.59")),
        ("lenses.material", "r 1.60", json!("resin 1.60")),
        ("lenses.material", "1,67", json!("resin 1.67")),
        // Unusual is the gate's to question.
        ("prescription.tested_vertex_mm", "28", json!(28)),
        ("fitting.left.vertex_mm", "28 mm", json!(28)),
        ("wearer.allergies", "none", json!([])),
        (
            "wearer.allergies",
            "nickel, , silicone",
            json!(["nickel", "silicone"]),
        ),
        (
            "handover.advice",
            "ad, dr",
            json!(["adaptation", "driving"]),
        ),
        ("frame.condition", "worn", json!("worn")),
        ("wearer.occupation", "a\u{1b}[31mb\u{202e}", json!("a[31mb")),
        ("wearer.occupation", "\u{1b}", Value::Null),
    ] {
        assert_eq!(
            parse(find(path).unwrap(), typed, today()).as_ref(),
            Ok(&value),
            "{path} {typed:?}"
        );
    }
}

#[test]
fn values_are_shown_as_people_write_them() {
    for (path, value, shown) in [
        ("prescription.right.sphere_d", json!(-1.125), "-1.125"),
        ("prescription.right.sphere_d", json!(2.5), "+2.50"),
        ("wearer.allergies", json!([]), "none known"),
        ("lenses.coatings", json!(["hard", "clean"]), "hard, clean"),
        ("prescription.right.base_up_delta", json!(-1.5), "1.50 down"),
        ("fitting.right.cd_mm", json!(31), "31"),
        ("wearer.drives", json!(false), "no"),
        (
            "collection_at",
            json!("2026-12-03T15:30"),
            "2026-12-03 15:30",
        ),
    ] {
        let full = if path.contains('.') {
            path.to_owned()
        } else {
            format!("job.{path}")
        };
        assert_eq!(show_value(find(&full).unwrap(), Some(&value)), shown);
    }
}

/// The page with its table of ranges made again: the rows round that of the tested vertex distance.
fn with_table(page: &str, table: &str) -> String {
    let lines: Vec<&str> = page.lines().collect();
    let known = lines
        .iter()
        .position(|l| l.starts_with("| tested at vertex"))
        .unwrap();
    let from = lines[..known]
        .iter()
        .rposition(|l| l.starts_with("|---"))
        .unwrap()
        + 1;
    let to = known
        + lines[known..]
            .iter()
            .position(|l| !l.starts_with('|'))
            .unwrap_or(lines.len() - known);
    let mut after = lines[to..].join("\n");
    if !after.is_empty() {
        after.push('\n');
    }
    format!("{}\n{table}{after}", lines[..from].join("\n"))
}

/// The table of the page, made of the fields: what shares a range stands in one row.
#[test]
fn the_page_says_what_every_number_can_be_at_most() {
    let mut rows: Vec<(String, Vec<&str>)> = Vec::new();
    for field in every_field() {
        let Some((least, most)) = rimbook::testing::job::fields::limits(field) else {
            continue;
        };
        let unit = match field.kind {
            FieldKind::Tasks => "mm",
            _ => field.unit,
        };
        let range = format!("{least} to {most} {unit}");
        let range = range.trim_end().to_owned();
        match rows.iter_mut().find(|(r, _)| *r == range) {
            Some((_, labels)) if labels.contains(&field.label) => {}
            Some((_, labels)) => labels.push(field.label),
            None => rows.push((range, vec![field.label])),
        }
    }
    assert!(rows.len() > 20, "{}", rows.len());
    let mut table = String::new();
    for (range, labels) in &rows {
        writeln!(table, "| {} | {range} |", labels.join(", ")).unwrap();
    }
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/notation.md");
    let page = std::fs::read_to_string(path).unwrap().replace("\r\n", "\n");
    if std::env::var_os("RIMBOOK_WRITE_DOCS").is_some() {
        std::fs::write(path, with_table(&page, &table)).unwrap();
        return;
    }
    assert!(
        page.contains(&table),
        "RIMBOOK_WRITE_DOCS=1 writes it again"
    );
}

#[test]
fn keys_step_values() {
    for (path, from, up, fine, to) in [
        (
            "prescription.right.sphere_d",
            "",
            true,
            false,
            Some("+0.25"),
        ),
        (
            "prescription.right.sphere_d",
            "-1.10",
            true,
            false,
            Some("-1.00"),
        ),
        (
            "prescription.right.sphere_d",
            "-1.25",
            false,
            true,
            Some("-1.375"),
        ),
        (
            "readings.right.sphere_d",
            "-1.25",
            true,
            true,
            Some("-1.24"),
        ),
        ("prescription.right.sphere_d", "+40.00", true, false, None),
        ("prescription.right.addition_d", "0.00", false, false, None),
        (
            "prescription.right.axis_deg",
            "178",
            true,
            false,
            Some("180"),
        ),
        ("prescription.right.axis_deg", "180", true, false, Some("5")),
        (
            "prescription.right.axis_deg",
            "5",
            false,
            false,
            Some("180"),
        ),
        ("prescription.right.axis_deg", "1", false, true, Some("180")),
        (
            "prescription.right.base_in_delta",
            "0.25 in",
            false,
            false,
            Some("0.00"),
        ),
        (
            "prescription.right.base_in_delta",
            "0.00",
            false,
            false,
            Some("0.25 out"),
        ),
        ("fitting.right.cd_mm", "31.2", true, false, Some("31.5")),
        ("fitting.right.cd_mm", "", true, false, None),
        ("wearer.drives", "", true, false, Some("yes")),
        ("wearer.drives", "yes", true, false, Some("no")),
        ("frame.rim", "rimless", true, false, Some("full")),
        (
            "order.due_on",
            "2026-11-30",
            true,
            false,
            Some("2026-12-01"),
        ),
        (
            "job.collection_at",
            "2026-12-03 15:30",
            false,
            false,
            Some("2026-12-03 15:15"),
        ),
        ("wearer.name", "Ida", true, false, None),
    ] {
        let field = find(path).unwrap();
        let got = if fine {
            step_fine(field, from, up)
        } else {
            step(field, from, up)
        };
        assert_eq!(got.as_deref(), to, "{path} {from} up {up} fine {fine}");
    }
}

#[test]
fn a_step_leads_no_farther_than_what_can_be_and_from_outside_as_in_a_file_back_to_it() {
    for (path, from, up, to) in [
        ("fitting.right.vertex_mm", "39.8", true, Some("40")),
        ("fitting.right.vertex_mm", "40", true, None),
        ("fitting.right.vertex_mm", "120", true, None),
        ("fitting.right.vertex_mm", "120", false, Some("40")),
        ("fitting.right.vertex_mm", "1", true, Some("2")),
        ("fitting.right.vertex_mm", "1", false, None),
        ("lenses.centre_mm", "0.5", false, Some("0.3")),
        (
            "prescription.right.sphere_d",
            "-45.00",
            true,
            Some("-40.00"),
        ),
        ("prescription.right.base_up_delta", "30.00 up", true, None),
    ] {
        let field = find(path).unwrap();
        for stepped in [step(field, from, up), step_fine(field, from, up)] {
            // A fine step may stop before the limit, never beyond it.
            let is_on_the_way = stepped.is_some() && from != "120" && from != "1";
            assert!(
                stepped.as_deref() == to || is_on_the_way,
                "{path} {from} up {up}: {stepped:?}"
            );
            if let Some(text) = stepped {
                assert!(parse(field, &text, today()).is_ok(), "{path}: {text}");
            }
        }
        assert_eq!(step(field, from, up).as_deref(), to, "{path} {from}");
    }
}

#[test]
fn a_whole_power_fills_its_row_and_no_other() {
    let row = RowPowers {
        sphere: Dioptre::new(-2.25).ok(),
        cylinder: Dioptre::new(-0.75).ok(),
        axis: Degree::new(90.0).ok(),
        addition: Dioptre::new(2.0).ok(),
        ..RowPowers::default()
    };
    let mut job = Job::default();
    for path in [
        "prescription.left.axis_deg",
        "prescription.previous.right.sphere_d",
        "lenses.powers.left.base_up_delta",
        "readings.right.cylinder_d",
        "lenses.laboratory_powers.left.addition_d",
    ] {
        let field = find(path).unwrap();
        assert!(is_power_row(field));
        job.record(field.section, &fill_row(field, &row)).unwrap();
    }
    assert_eq!(
        show(&job, find("prescription.left.sphere_d").unwrap()),
        "-2.25"
    );
    assert_eq!(show(&job, find("prescription.right.sphere_d").unwrap()), "");
    assert_eq!(
        show(
            &job,
            find("lenses.laboratory_powers.left.axis_deg").unwrap()
        ),
        "90"
    );
    let field = find("prescription.left.sphere_d").unwrap();
    let sphere = RowPowers {
        sphere: Some(Dioptre::ZERO),
        ..RowPowers::default()
    };
    job.record(field.section, &fill_row(field, &sphere))
        .unwrap();
    assert_eq!(
        show(&job, find("prescription.left.cylinder_d").unwrap()),
        ""
    );
    assert_eq!(
        show(&job, find("prescription.left.addition_d").unwrap()),
        "2.00"
    );
    for path in [
        "readings.right.cd_mm",
        "fitting.right.cd_mm",
        "prescription.previous.right_cd_mm",
        "readings.right.base_d",
    ] {
        assert!(!is_power_row(find(path).unwrap()), "{path}");
        assert_eq!(fill_row(find(path).unwrap(), &row), json!({}));
    }
}
