//! Materials and curves side by side, by keys over a real book; and the remedy at the gate.

use crate::driver;

use crate::driver::{Driver, scenario};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::Stage;
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::screens::choices::State;
use rimbook::testing::views::choices::Column;
use serde_json::{Value, json};

fn job(id: &str) -> Value {
    scenario(id)["job"].clone()
}

fn selected(c: &State) -> (String, f64) {
    let row = c.row(c.selected).expect("a row");
    (row.material.key.to_owned(), row.base.get())
}

/// Presses a key until the table is sorted by a column.
fn sort_by(d: &mut Driver, column: Column) {
    for _ in 0..Column::ALL.len() {
        if d.app.states.choices().unwrap().column == column {
            return;
        }
        d.keys(&["s"]);
    }
    panic!("the column was never reached");
}

#[test]
fn the_table_opens_on_what_is_recorded_and_sorts_by_any_column_either_way() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["enter", "alt-c"]);
    assert_eq!(d.app.screen, Screen::Choices);
    assert_eq!(
        selected(d.app.states.choices().unwrap()),
        ("resin 1.50".to_owned(), 4.0)
    );
    for column in Column::ALL {
        sort_by(&mut d, column);
        for turn in ["smallest", "largest"] {
            let c = d.app.states.choices().unwrap();
            let values: Vec<f64> = (0..c.order.len())
                .filter_map(|p| c.row(p).unwrap().value(column))
                .map(|v| if column == Column::Size { v.abs() } else { v })
                .collect();
            assert!(values.len() > 12, "{column:?}");
            let in_order = values.windows(2).all(|w| {
                if turn == "largest" {
                    w[0] >= w[1]
                } else {
                    w[0] <= w[1]
                }
            });
            assert!(in_order, "{column:?} {turn} first: {values:?}");
            // The row that was looked at is still the one looked at.
            assert_eq!(selected(c), ("resin 1.50".to_owned(), 4.0));
            d.keys(&["r"]);
        }
    }
}

#[test]
fn a_material_is_taken_only_after_it_was_asked_for_and_confirmed() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["enter", "alt-c", "down", "enter"]);
    let (material, base) = selected(d.app.states.choices().unwrap());
    assert!(d.app.dialog.is_some(), "it asks: {}", d.screen(80, 24));
    assert_eq!(
        d.in_book().job.lenses.material.as_deref(),
        Some("resin 1.50")
    );
    d.keys(&["esc"]);
    assert_eq!(d.in_book().job.lenses.base_d.unwrap().thousandths(), 4000);
    d.keys(&["enter", "end", "enter"]);
    assert_eq!(d.in_book().job.lenses.base_d.unwrap().thousandths(), 4000);
    assert_eq!(d.said(), "The job is as it was.");

    d.keys(&["enter", "enter"]);
    let lenses = d.in_book().job.lenses;
    assert_eq!(lenses.material.as_deref(), Some(material.as_str()));
    assert!((lenses.base_d.unwrap().get() - base).abs() < 1e-9);
    assert!(lenses.centre_mm.is_some(), "the thickness stays");
    assert_eq!(d.app.screen, Screen::Choices);
    let c = d.app.states.choices().unwrap();
    assert_eq!(selected(c), (material, base));
    assert!(c.row(c.selected).unwrap().is_recorded);

    // It is an entry like any other: the form takes it back.
    d.keys(&["esc", "ctrl-u"]);
    let lenses = d.in_book().job.lenses;
    assert_eq!(lenses.material.as_deref(), Some("resin 1.50"));
    assert_eq!(lenses.base_d.unwrap().thousandths(), 4000);
}

#[test]
fn the_ordered_centre_thickness_goes_with_the_old_lens_when_asked_to() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["enter", "alt-c", "end", "up", "enter", "down", "enter"]);
    let (material, _) = selected(d.app.states.choices().unwrap());
    let lenses = d.in_book().job.lenses;
    assert_eq!(lenses.material.as_deref(), Some(material.as_str()));
    assert_eq!(lenses.centre_mm, None);
}

#[test]
fn an_ordered_job_shows_the_table_and_takes_nothing() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["g", "m"]);
    assert_eq!(d.app.job.as_ref().unwrap().open.job.stage(), Stage::Ordered);
    d.keys(&["alt-c", "down", "enter"]);
    assert!(d.app.dialog.is_none());
    assert!(d.said().contains("Only a measured job"), "{}", d.said());
}

#[test]
fn a_change_by_another_program_between_question_and_answer_is_not_overwritten() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["enter", "alt-c", "down", "enter"]);
    let number = d.app.job.as_ref().unwrap().open.number.clone();
    let mut desk = Desk::open(&d.path, driver::clock()).unwrap();
    let revision = desk.load(&number).unwrap().revision;
    desk.record(
        &number,
        rimbook::testing::job::Section::Lenses,
        &json!({"base_d": 2}),
        Some(revision),
        Some("Ines Calloway"),
    )
    .unwrap();
    d.keys(&["enter"]);
    let lenses = d.in_book().job.lenses;
    assert_eq!(lenses.base_d.unwrap().thousandths(), 2000);
    assert_eq!(lenses.material.as_deref(), Some("resin 1.50"));
}

#[test]
fn what_is_missing_is_named() {
    let mut file = job("S01");
    file["frame"]["a_mm"] = Value::Null;
    file["frame"]["b_mm"] = Value::Null;
    let mut d = Driver::signed_in(&[file]);
    d.keys(&["enter", "alt-c"]);
    let shown = d.screen(80, 24);
    assert!(shown.contains("boxed lens width (frame)"), "{shown}");
    d.keys(&["down", "enter"]);
    assert!(d.app.dialog.is_none());
}

#[test]
fn without_a_tilt_the_error_says_so_and_the_rest_is_there() {
    let mut file = job("S01");
    file["fitting"]["pantoscopic_deg"] = Value::Null;
    file["fitting"]["face_form_deg"] = Value::Null;
    let mut d = Driver::signed_in(&[file]);
    d.keys(&["enter", "alt-c"]);
    let shown = d.screen(80, 24);
    assert!(shown.contains("no tilt recorded"), "{shown}");
    let c = d.app.states.choices().unwrap();
    let row = c.row(c.selected).unwrap();
    assert_eq!(row.value(Column::Error), None);
    assert!(row.value(Column::Edge).is_some());
}

/// The detail of the mismatch of the right eye at the gate.
fn mismatch_at(width: u16, height: u16) -> String {
    let mut d = Driver::signed_in(&[job("S03")]);
    d.keys(&["g"]);
    let findings = &d.app.job.as_ref().unwrap().findings;
    let place = findings
        .iter()
        .position(|f| f.check == "bvd-mismatch")
        .expect("the mismatch");
    for _ in 0..place {
        d.keys(&["down"]);
    }
    d.screen(width, height)
}

#[test]
fn a_mismatch_offers_to_set_the_frame_before_other_powers() {
    let shown = mismatch_at(80, 24);
    let set = shown.find("1 set the frame").expect(&shown);
    let order = shown.find("2 else order compensated").expect(&shown);
    assert!(set < order, "{shown}");
    for needed in [
        "left as it is",
        "others: to the prescriber",
        "F²/1000",
        "limit 0.12 D",
    ] {
        assert!(shown.contains(needed), "{needed} in {shown}");
    }
}
