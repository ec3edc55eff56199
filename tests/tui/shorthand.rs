//! Fewer keys: the gate from an entry, who measured and when, names by their beginning.

use crate::driver;

use crate::driver::{Driver, clock, scenario, to_field, value};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::fields;
use rimbook::testing::trade::units::Dioptre;
use rimbook::testing::tui::Screen;
use serde_json::{Value, json};

fn job(id: &str) -> Value {
    scenario(id)["job"].clone()
}

#[test]
fn the_gate_is_shown_from_an_entry_once_it_is_kept_and_not_before() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&[
        "/", "1001", "enter", "alt-3", "down", "down", "down", "down", "down",
    ]);
    d.keys(&["banana", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Job, "what is no length is not kept");
    d.keys(&["ctrl-u", "62", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Gate);
    assert_eq!(
        d.in_book()
            .job
            .fitting
            .binocular_pd_mm
            .map(|v| v.to_string())
            .as_deref(),
        Some("62.0"),
        "what was typed was kept first"
    );
}

#[test]
fn the_first_reading_says_who_read_it_and_when_and_undo_takes_both_back() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&[
        "/", "1001", "enter", "alt-7", "down", "down", "-2.50", "enter",
    ]);
    let readings = d.in_book().job.readings;
    assert_eq!(readings.taken_by.as_deref(), Some("Ines Calloway"));
    assert_eq!(readings.taken_on, Some(driver::today()));
    d.keys(&["ctrl-u"]);
    let readings = d.in_book().job.readings;
    assert_eq!((readings.taken_by, readings.taken_on), (None, None));
}

#[test]
fn the_first_measurement_of_a_remake_says_who_took_it_although_a_day_was_carried() {
    let mut d = Driver::demo();
    d.keys(&["1030", "enter", "alt-v", "tab"]);
    // The moves on the face, then the outcome.
    d.keys(&["down", "down", "down", "down", "down"]);
    d.keys(&["enter", "enter", "enter", "enter", "tab", "tab"]);
    d.keys(&["down", "down", "enter", "h", "enter", "enter", "r", "enter"]);
    d.keys(&["f9"]);
    let job = d.in_book().job;
    assert!(job.origins.contains_key("fitting.taken_on"), "carried");
    assert_eq!(job.fitting.taken_by, None);
    go(&mut d, "alt-3", "fitting.pantoscopic_deg");
    d.keys(&["8", "tab"]);
    let job = d.in_book().job;
    assert_eq!(job.fitting.taken_by.as_deref(), Some("Hanne Sorrel"));
    assert_eq!(job.fitting.taken_on, Some(driver::today()));
    assert!(!job.origins.contains_key("fitting.taken_on"), "its own day");
}

#[test]
fn a_step_that_leads_nowhere_says_how_far_the_entry_goes() {
    let mut d = Driver::demo();
    d.keys(&["enter"]);
    go(&mut d, "alt-3", "fitting.right.vertex_mm");
    d.keys(&["39.8", "enter"]);
    go(&mut d, "alt-3", "fitting.right.vertex_mm");
    d.keys(&["ctrl-up"]);
    assert_eq!(kept(&d, "fitting.right.vertex_mm"), json!(40));
    d.keys(&["ctrl-up"]);
    assert_eq!(kept(&d, "fitting.right.vertex_mm"), json!(40));
    assert_eq!(
        d.said(),
        "vertex distance goes from 2 to 40 mm: no step leads on."
    );
    // A file may hold what nobody would type: a step leads back.
    let number = d.in_book().number;
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let change = json!({"right": {"vertex_mm": 120}});
    desk.record(
        &number,
        rimbook::testing::job::Section::Fitting,
        &change,
        None,
        None,
    )
    .unwrap();
    drop(desk);
    d.run(vec![rimbook::testing::tui::effect::Effect::Open(number)]);
    go(&mut d, "alt-3", "fitting.right.vertex_mm");
    d.keys(&["ctrl-down"]);
    assert_eq!(kept(&d, "fitting.right.vertex_mm"), json!(40));
    d.keys(&["delete", "ctrl-up"]);
    assert!(d.said().contains("nothing to step from"), "{}", d.said());
}

#[test]
fn a_name_is_typed_by_its_beginning_or_as_me() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["/", "1001", "enter", "alt-7", "nad", "enter"]);
    assert_eq!(
        d.in_book().job.readings.taken_by.as_deref(),
        Some("Nadia Brookwell")
    );
    d.keys(&["up", "me", "enter"]);
    assert_eq!(
        d.in_book().job.readings.taken_by.as_deref(),
        Some("Ines Calloway")
    );
}

/// The value under a path of the open job, as it stands in the book.
fn kept(d: &Driver, path: &str) -> Value {
    let job = d.in_book().job;
    fields::find(path).unwrap().value(&job).unwrap_or_default()
}

fn at(d: &Driver) -> String {
    d.app.states.form().unwrap().field().unwrap().full_path()
}

/// Puts the cursor on an entry.
fn go(d: &mut Driver, section: &str, path: &str) {
    d.keys(&[section]);
    for _ in 0..60 {
        if at(d) == path {
            return;
        }
        d.keys(&["tab"]);
    }
    panic!("{path} is not in this section");
}

#[test]
fn a_digit_on_the_worklist_begins_the_look_up_and_its_gate_is_one_key_away() {
    let mut d = Driver::signed_in(&[job("S01"), job("S02")]);
    d.keys(&["1002"]);
    assert_eq!(d.app.screen, Screen::Lookup);
    assert_eq!(d.app.states.lookup().unwrap().line.text(), "1002");
    d.keys(&["ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Gate);
    assert_eq!(d.app.job.as_ref().unwrap().open.number, "1002");
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Lookup, "back to where it was asked");
    // Nothing is found, so there is no gate to show.
    d.keys(&["9999", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Lookup);
    assert!(d.said().contains("No job is selected"), "{}", d.said());
}

#[test]
fn a_job_begins_with_the_name_that_was_looked_for_and_not_with_a_number() {
    let mut d = Driver::signed_in(&[]);
    d.keys(&["/", "Una Merrowby"]);
    assert!(d.screen(80, 24).contains("ctrl-n begins a new job"));
    d.keys(&["ctrl-n", "enter"]);
    assert_eq!(kept(&d, "wearer.name"), "Una Merrowby");
    d.keys(&["esc", "ctrl-u", "1402", "ctrl-n", "enter"]);
    assert!(d.app.dialog.is_some(), "a number is nobody's name");
}

#[test]
fn a_form_opens_where_the_gate_asks_and_the_first_f4_stays_there() {
    // Nothing but the pupil distances is missing.
    let mut missing = job("S01");
    for eye in ["right", "left"] {
        missing["fitting"][eye]["cd_mm"] = Value::Null;
    }
    missing["fitting"]["binocular_pd_mm"] = Value::Null;
    let mut d = Driver::signed_in(&[missing]);
    d.keys(&["1001", "enter"]);
    let first = at(&d);
    assert!(first.starts_with("fitting."), "{first}");
    d.keys(&["f4"]);
    assert_eq!(at(&d), first, "{}", d.said());
    assert!(d.said().contains("first entry"), "{}", d.said());
    d.keys(&["f4"]);
    assert_ne!(at(&d), first);
    // Its own key goes to the first entry of the section in front.
    d.keys(&["alt-3"]);
    assert_eq!(at(&d), "fitting.taken_by");
}

#[test]
fn two_lengths_fill_both_eyes_and_one_undo_takes_both_back() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["1001", "enter"]);
    go(&mut d, "alt-3", "fitting.right.height_mm");
    let before = (
        kept(&d, "fitting.right.height_mm"),
        kept(&d, "fitting.left.height_mm"),
    );
    d.keys(&["21/20.5", "tab"]);
    assert_eq!(kept(&d, "fitting.right.height_mm"), 21);
    assert_eq!(kept(&d, "fitting.left.height_mm"), 20.5);
    assert_eq!(at(&d), "fitting.right.segment_height_mm", "both are filled");
    d.keys(&["ctrl-u"]);
    let now = (
        kept(&d, "fitting.right.height_mm"),
        kept(&d, "fitting.left.height_mm"),
    );
    assert_eq!(now, before);
    go(&mut d, "alt-3", "fitting.left.height_mm");
    d.keys(&["21/20.5", "tab"]);
    assert!(d.screen(80, 24).contains("right eye's column"));
    assert_eq!(kept(&d, "fitting.left.height_mm"), before.1);
}

#[test]
fn the_laboratory_of_the_last_order_is_offered_and_kept_only_like_what_is_typed() {
    let mut order = job("S01");
    order["order"]["laboratory"] = "Northern Bench".into();
    order["prescription"]["prescriber"] = "Dr Vale".into();
    order["wearer"]["allergies"] = serde_json::json!(["nickel"]);
    let mut d = Driver::signed_in(&[order]);
    d.keys(&["n", "Una Merrowby", "enter"]);
    go(&mut d, "alt-6", "order.laboratory");
    let shown = d.screen(80, 24);
    assert!(shown.contains("ctrl-o: Northern Bench"), "{shown}");
    assert_eq!(kept(&d, "order.laboratory"), Value::Null, "shown, not kept");
    d.keys(&["ctrl-o"]);
    let taken = d.screen(80, 24);
    assert!(!taken.contains("ctrl-o:"), "taken, so not offered: {taken}");
    d.keys(&["esc"]);
    assert_eq!(kept(&d, "order.laboratory"), Value::Null);
    d.keys(&["ctrl-o", "tab"]);
    assert_eq!(kept(&d, "order.laboratory"), "Northern Bench");
    d.keys(&["ctrl-u"]);
    assert_eq!(kept(&d, "order.laboratory"), Value::Null);
    // By the beginning of one of its words, and never before something is typed.
    go(&mut d, "alt-2", "prescription.prescriber");
    assert!(!d.screen(80, 24).contains("ctrl-o:"));
    d.keys(&["va"]);
    assert!(d.screen(80, 24).contains("ctrl-o: Dr Vale"));
    d.keys(&["tab"]);
    assert_eq!(kept(&d, "prescription.prescriber"), "va", "as it was typed");
    go(&mut d, "alt-2", "prescription.prescriber");
    d.keys(&["v", "ctrl-o", "tab"]);
    assert_eq!(kept(&d, "prescription.prescriber"), "Dr Vale");
    // Nothing of a wearer comes from another wearer.
    go(&mut d, "alt-1", "wearer.allergies");
    d.keys(&["ni"]);
    assert!(!d.screen(80, 24).contains("ctrl-o:"));
    d.keys(&["ctrl-o"]);
    assert!(d.said().contains("Nothing is offered"), "{}", d.said());
}

#[test]
fn who_makes_frame_and_lenses_is_offered_by_the_first_letters_of_an_earlier_job() {
    let mut earlier = job("S01");
    earlier["frame"]["maker"] = "Rowan Works".into();
    earlier["frame"]["supplier"] = "Vale Supply".into();
    earlier["lenses"]["maker"] = "Glen Optical".into();
    earlier["lenses"]["product"] = "Desk".into();
    earlier["lenses"]["variant"] = "Wide".into();
    let mut d = Driver::signed_in(&[earlier]);
    d.keys(&["n", "Una Merrowby", "enter"]);
    for (section, path, letters, offered) in [
        ("alt-4", "frame.maker", "ro", "Rowan Works"),
        ("alt-4", "frame.supplier", "va", "Vale Supply"),
        ("alt-5", "lenses.maker", "opt", "Glen Optical"),
        ("alt-5", "lenses.product", "de", "Desk"),
        ("alt-5", "lenses.variant", "w", "Wide"),
    ] {
        go(&mut d, section, path);
        d.keys(&[letters]);
        // Beside a picture there is room for the first letter only.
        let shown = d.screen(160, 40);
        let first = offered.chars().next().unwrap();
        assert!(shown.contains(&format!("ctrl-o: {first}")), "{shown}");
        d.keys(&["ctrl-o", "tab"]);
        assert_eq!(kept(&d, path), offered);
    }
}

#[test]
fn a_code_scanned_at_the_frames_identifier_fills_its_lot_too_and_nothing_elsewhere() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["1001", "enter"]);
    go(&mut d, "alt-4", "frame.identifier");
    d.keys(&["010950600013435210AB-1", "ctrl-5", "2177", "enter"]);
    assert_eq!(kept(&d, "frame.identifier"), "9506000134352 serial 77");
    assert_eq!(kept(&d, "frame.lot"), "AB-1");
    go(&mut d, "alt-4", "frame.identifier");
    d.keys(&["(01)09506000134353", "enter"]);
    let shown = d.screen(160, 40);
    assert!(shown.contains("its other figures give 2"), "{shown}");
    d.keys(&["esc"]);
    go(&mut d, "alt-4", "frame.colour");
    let before = kept(&d, "frame.colour");
    d.keys(&["(01)09506000134352", "enter"]);
    let shown = d.screen(160, 40);
    assert!(shown.contains("the code of a frame or lens"), "{shown}");
    d.keys(&["esc"]);
    assert_eq!(kept(&d, "frame.colour"), before);
}

#[test]
fn a_reason_given_for_this_job_is_taken_again_and_another_wearers_is_not_shown() {
    let mut d = Driver::demo();
    d.keys(&["1002", "ctrl-g", "a"]);
    assert!(!d.screen(80, 24).contains("given before"));
    d.keys(&["down", "agreed by telephone", "enter"]);
    let open = |d: &Driver| {
        let findings = &d.app.job.as_ref().unwrap().findings;
        findings.iter().filter(|f| f.is_open()).count()
    };
    let left = open(&d);
    assert!(left > 0, "the other eye");
    d.keys(&["home", "a"]);
    assert!(d.screen(80, 24).contains("agreed by telephone"));
    // What is written already is not replaced.
    d.keys(&["x", "down"]);
    assert!(d.screen(80, 24).contains("> x"), "{}", d.screen(80, 24));
    d.keys(&["ctrl-u", "down", "enter"]);
    assert_eq!(open(&d), left - 1, "{}", d.said());
    let acceptances = d.in_book().acceptances;
    assert!(
        acceptances
            .iter()
            .all(|a| a.reason == "agreed by telephone")
    );
    // The book says whose each reason is.
    let used = d.app.used.as_ref().unwrap();
    let desk = Desk::open(&d.path, clock()).unwrap();
    assert!(!used.reasons.is_empty());
    for given in &used.reasons {
        let wearer = desk.load(&given.number).unwrap().job.wearer;
        assert!(wearer.born.is_some());
        assert_eq!(
            given.wearer,
            rimbook::testing::book::desk::WearerId::of(&wearer)
        );
    }
    // An empty line is still no reason, and going up again empties it.
    let mut other = Driver::demo();
    other.keys(&["1002", "ctrl-g", "a", "down", "up", "enter"]);
    assert!(other.app.dialog.is_some(), "no reason, no acceptance");
}

#[test]
fn a_pair_sent_back_at_the_gate_says_what_fails_and_it_can_be_written_again() {
    let mut d = Driver::demo();
    d.keys(&["1006", "ctrl-g"]);
    let fault = d.app.job.as_ref().unwrap().findings[0].message.clone();
    d.keys(&["s", "ctrl-u", "scratched", "enter"]);
    let said = |d: &Driver| {
        d.app
            .job
            .as_ref()
            .unwrap()
            .history
            .last()
            .unwrap()
            .detail
            .to_string()
    };
    assert!(said(&d).contains("\"scratched\""), "{}", said(&d));
    // What fails stands in it already.
    let mut d = Driver::demo();
    d.keys(&["1006", "ctrl-g", "s", "enter"]);
    assert!(fault.contains("axis"), "{fault}");
    assert!(said(&d).contains(&fault), "{}", said(&d));
}

#[test]
fn a_whole_power_is_seen_with_its_sign_while_it_is_typed() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["/", "1001", "enter", "alt-2"]);
    for _ in 0..20 {
        if d.screen(80, 24).contains(">sphere") {
            break;
        }
        d.keys(&["down"]);
    }
    for (eye, typed) in [
        ("right", "-16.25/-10.75x170"),
        ("left", "-11.25/-10.25x90 add 2.25"),
    ] {
        d.keys(&[typed]);
        for (columns, rows) in [(80, 24), (120, 40)] {
            let screen = d.screen(columns, rows);
            assert!(screen.contains(typed), "{eye}\n{screen}");
        }
        d.keys(&["tab"]);
    }
    assert_eq!(
        d.in_book().job.prescription.left.sphere_d.map(Dioptre::get),
        Some(-11.25)
    );
}

#[test]
fn the_gate_waits_for_an_entry_that_cannot_be_kept_and_says_so() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["enter"]);
    to_field(&mut d, "prescription.right.sphere_d");
    d.keys(&["-2.2", "ctrl-g"]);
    for _ in 0..2 {
        assert_eq!(d.app.screen, Screen::Job);
        let edit = d
            .app
            .states
            .form()
            .and_then(|f| f.edit())
            .cloned()
            .expect("typed");
        assert_eq!(edit.line.text(), "-2.2");
        assert!(edit.error.unwrap().contains("-2.25"));
        assert!(d.said().contains("cannot be kept"), "{}", d.said());
        // Pressed again it says so again.
        d.keys(&["ctrl-g"]);
    }
    d.keys(&["5", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Gate);
    assert_eq!(value(&d, "prescription.right.sphere_d"), "-2.25");
}

#[test]
fn the_gate_keeps_what_is_being_typed_about_a_visit() {
    let mut past = job("S01");
    past["past"] = json!(true);
    past["stage"] = json!("collected");
    let mut d = Driver::signed_in(&[past]);
    d.keys(&["/", "1001", "enter", "alt-v", "enter"]);
    assert_eq!(d.app.screen, Screen::Visit);
    d.keys(&["tab", "tab", "tab", "floors lean", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Gate);
    let visit = d.in_book().job.visit;
    assert_eq!(visit.complaint.as_deref(), Some("floors lean"));
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Visit);
    // A day that is none: the gate waits, and why stands with it.
    for _ in 0..6 {
        d.keys(&["down"]);
    }
    while d
        .visit()
        .entry()
        .map(rimbook::testing::tui::visit_entries::VisitEntry::key)
        != Some("review_on")
    {
        d.keys(&["up"]);
    }
    d.keys(&["soon", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Visit);
    let edit = d.visit().edit().expect("still typed");
    assert_eq!(edit.line.text(), "soon");
    assert!(edit.error.is_some());
    assert!(d.said().contains("cannot be kept"), "{}", d.said());
}
