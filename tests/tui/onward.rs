//! Where the cursor goes by itself: past what a whole power filled, and to what the gate asks for.

use crate::driver::{Driver, clock};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::trade::units::{Degree, Millimetre};
use rimbook::testing::tui::screens::collections::steps_now;

/// A new job of a wearer of whom only the name is known.
fn begun() -> Driver {
    let mut d = Driver::signed_in(&[]);
    d.keys(&["n", "Una Merrowby", "enter"]);
    d
}

fn at(d: &Driver) -> String {
    d.app
        .states
        .form()
        .unwrap()
        .field()
        .expect("a field")
        .full_path()
}

#[test]
fn a_new_job_begins_below_the_name_that_was_given() {
    let mut d = begun();
    assert_eq!(at(&d), "wearer.born");
    d.keys(&["15/3/1958", "enter", "esc", "/", "una", "enter"]);
    assert_eq!(at(&d), "wearer.phone", "where it was left");
}

#[test]
fn one_key_goes_from_each_entry_the_gate_asks_for_to_the_next() {
    let mut d = begun();
    let mut seen = Vec::new();
    for typed in [
        "",
        "15/3/1958",
        "none known",
        "no",
        "t",
        "dr vale",
        "-2.25/-0.75x90",
    ] {
        d.keys(&[typed, "f4"]);
        seen.push(at(&d));
    }
    assert_eq!(
        seen,
        [
            "wearer.born",
            "wearer.allergies",
            "wearer.sight_impaired",
            "prescription.tested_on",
            "prescription.prescriber",
            "prescription.right.sphere_d",
            "prescription.left.sphere_d",
        ],
        "{}",
        d.said()
    );
    // What was typed on the way is kept.
    let job = d.in_book().job;
    assert!(job.wearer.allergies.is_some());
    assert_eq!(job.prescription.prescriber.as_deref(), Some("dr vale"));
}

#[test]
fn what_the_program_fills_in_is_not_asked_for_on_the_way() {
    let mut d = begun();
    d.keys(&["alt-2", "alt-3", "f4"]);
    let place = at(&d);
    assert!(
        place.starts_with("fitting.") && !place.contains("taken"),
        "{place}"
    );
}

#[test]
fn what_a_kept_value_leads_to_is_known_before_the_cursor_goes_on() {
    let mut d = begun();
    d.keys(&["alt-5", "gen", "f4", "prog", "f4"]);
    assert_eq!(at(&d), "lenses.material");
    // One finding names all that is not chosen; it now speaks of the powers.
    d.keys(&["resin 1.60", "f4"]);
    assert_eq!(at(&d), "lenses.powers.as");
}

#[test]
fn an_entry_that_is_refused_keeps_the_cursor() {
    let mut d = begun();
    d.keys(&["alt-2", "32 of May", "f4"]);
    assert_eq!(at(&d), "prescription.tested_on");
    assert!(
        d.app.states.form().and_then(|f| f.edit()).is_some(),
        "still typed"
    );
}

#[test]
fn after_the_last_one_comes_the_first_and_without_any_it_is_said() {
    let mut d = begun();
    d.keys(&["alt-6", "end", "f4"]);
    assert_eq!(at(&d), "wearer.born");
}

#[test]
fn a_whole_power_takes_the_cursor_past_what_it_filled() {
    let mut d = begun();
    d.keys(&["alt-2"]);
    while at(&d) != "prescription.right.sphere_d" {
        d.keys(&["down"]);
    }
    d.keys(&["-2.25/-0.75x90 add 2.00", "tab"]);
    assert_eq!(at(&d), "prescription.left.sphere_d", "the other eye first");
    d.keys(&["-2.00/-0.50x85 add 2.00", "tab"]);
    assert_eq!(
        at(&d),
        "prescription.right.base_in_delta",
        "below the addition"
    );
    // A single figure fills nothing but its own entry.
    d.keys(&["up", "up", "up", "up", "right", "-2.50", "tab"]);
    assert_eq!(at(&d), "prescription.right.cylinder_d");
}

#[test]
fn a_written_line_fills_every_entry_it_speaks_of_and_says_which() {
    let mut d = begun();
    d.keys(&["alt-2"]);
    while at(&d) != "prescription.right.sphere_d" {
        d.keys(&["down"]);
    }
    d.keys(&["R +8.00 6/9 BVD 12 L +8.25 6/6 add 2.00", "tab"]);
    let said = d.said();
    assert!(said.contains("Assumed: addition for both eyes."), "{said}");
    assert!(
        said.contains("Also filled: acuity, tested at vertex."),
        "{said}"
    );
    let job = &d.in_book().job;
    assert_eq!(job.prescription.right.acuity.as_deref(), Some("6/9"));
    assert_eq!(job.prescription.left.acuity.as_deref(), Some("6/6"));
    let vertex = job.prescription.tested_vertex_mm.unwrap();
    assert_eq!(vertex.thousandths(), 12_000);
    assert_eq!(
        job.prescription.right.addition_d,
        job.prescription.left.addition_d
    );
}

#[test]
fn a_key_that_does_nothing_says_so() {
    let mut d = Driver::signed_in(&[]);
    d.keys(&["z"]);
    assert!(d.said().contains("z does nothing here"), "{}", d.said());
    assert!(d.said().contains('?'), "and where the keys are");
}

#[test]
fn two_readings_can_be_corrected_one_after_the_other() {
    let mut d = Driver::demo();
    d.keys(&["p", "1007", "enter", "y", "y", "y"]);
    d.keys(&["-3.01/-0.49x21", "enter", "-3.25", "enter"]);
    assert!(d.screen(80, 24).contains("both lenses are read"));
    d.keys(&["22", "enter", "21.5", "enter", "21", "enter", "21", "enter"]);
    assert!(d.parcel().shown, "the last answer leads to the verdict");
    d.keys(&[
        "v", "home", "down", "down", "down", "down", "down", "down", "down", "down", "down",
    ]);
    d.keys(&["32", "enter"]);
    assert!(!d.parcel().shown, "{}", d.screen(80, 24));
    assert!(d.said().contains("v shows the verdict"), "{}", d.said());
    d.keys(&["31.5", "enter", "v"]);
    let shown = d.screen(80, 24);
    assert!(d.parcel().shown && !shown.contains("OVER"), "{shown}");
}

#[test]
fn yes_to_a_value_on_the_face_is_what_was_measured_unless_it_was_adjusted_since() {
    let mut d = Driver::demo();
    d.keys(&["c"]);
    let row = |d: &Driver, words: &str| {
        d.screen(80, 24)
            .lines()
            .find(|l| l.contains(words))
            .unwrap_or_default()
            .to_owned()
    };
    d.keys(&["y", "y", "y", "y", "y", "y"]);
    assert!(row(&d, "Pantoscopic").contains("y: the same"));
    d.keys(&["y", "y", "y"]);
    let desk = Desk::open(&d.path, clock()).unwrap();
    let handover = desk.load("1008").unwrap().job.handover;
    assert_eq!(handover.pantoscopic_deg.map(Degree::get), Some(6.0));
    assert_eq!(
        handover.right.length_to_bend_mm.map(Millimetre::get),
        Some(96.0)
    );
    assert_eq!(handover.left.length_to_bend_mm, None, "each is answered");
    // Heights read, then something adjusted: the height is read again and typed.
    let go = |d: &mut Driver, path: &str| {
        let at = steps_now(d.app.seen()).iter().position(|s| s.path == path);
        d.collections_mut().step = at.expect(path);
    };
    go(&mut d, "handover.right.height_mm");
    d.keys(&["y"]);
    go(&mut d, "handover.pads_level");
    d.keys(&["a"]);
    go(&mut d, "handover.right.height_mm");
    d.keys(&["y"]);
    assert!(d.said().contains("type it"), "{}", d.said());
}

#[test]
fn powers_as_prescribed_are_not_typed_twice_and_undo_takes_them_back() {
    let mut d = begun();
    d.keys(&["alt-2"]);
    while at(&d) != "prescription.right.sphere_d" {
        d.keys(&["down"]);
    }
    d.keys(&["-2.25/-0.75x90 add 2.00", "tab", "-2.00", "tab"]);
    d.keys(&["alt-5"]);
    while at(&d) != "lenses.powers.as" {
        d.keys(&["down"]);
    }
    d.keys(&["prescribed", "tab"]);
    let section = d
        .in_book()
        .job
        .section(rimbook::testing::job::Section::Lenses)
        .unwrap();
    let right = &section["powers"]["right"];
    assert_eq!(right["sphere_d"], -2.25);
    assert_eq!(right["cylinder_d"], -0.75);
    assert_eq!(right["addition_d"], 2.0);
    assert_eq!(section["powers"]["left"]["sphere_d"], -2.0);
    d.keys(&["ctrl-u"]);
    let section = d
        .in_book()
        .job
        .section(rimbook::testing::job::Section::Lenses)
        .unwrap();
    assert!(
        section["powers"]["right"]["sphere_d"].is_null(),
        "{section}"
    );
}

#[test]
fn one_finding_about_several_entries_leads_to_each_that_is_missing() {
    let mut d = begun();
    d.keys(&["alt-4"]);
    let mut seen = Vec::new();
    entry_at(&mut d, "frame.a_mm");
    for typed in ["50", "38"] {
        d.keys(&[typed, "f4"]);
        seen.push(at(&d));
    }
    assert_eq!(seen, ["frame.b_mm", "frame.dbl_mm"]);
}

/// Goes down to a field of the section in front.
fn entry_at(d: &mut Driver, path: &str) {
    for _ in 0..40 {
        if at(d) == path {
            return;
        }
        d.keys(&["down"]);
    }
    panic!("{path} is not in this section");
}
