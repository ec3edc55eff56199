//! The remedy of a finding by one key at the gate, over a real book.

use crate::driver::{Driver, scenario};
use serde_json::{Value, json};

/// The pair of a scenario after a change of some sections.
fn job(id: &str, change: &Value) -> Value {
    let mut file = scenario(id)["job"].clone();
    json_patch::merge(&mut file, change);
    file
}

/// -8.00 both, tilted 16 degrees, nothing compensated.
fn tilted() -> Value {
    let eyes = json!({"right": {"sphere_d": -8.0, "cylinder_d": null, "axis_deg": null}, "left": {"sphere_d": -8.0, "cylinder_d": null, "axis_deg": null}});
    let mut prescription = eyes.clone();
    prescription["previous"] = Value::Null;
    job(
        "S01",
        &json!({
            "prescription": prescription, "lenses": {"powers": eyes},
            "fitting": {"pantoscopic_deg": 16, "face_form_deg": 0},
        }),
    )
}

/// The finding of a check selected at the gate of the job.
fn at_gate(file: Value, check: &str) -> Driver {
    let mut d = Driver::signed_in(&[file]);
    d.keys(&["g"]);
    select(&mut d, check);
    d
}

fn select(d: &mut Driver, check: &str) {
    d.keys(&["home"]);
    let place = place(d, check).expect(check);
    for _ in 0..place {
        d.keys(&["down"]);
    }
}

fn place(d: &Driver, check: &str) -> Option<usize> {
    let findings = &d.app.job.as_ref().unwrap().findings;
    findings
        .iter()
        .position(|f| f.check == check && f.is_open())
}

#[test]
fn the_text_says_what_the_key_does_and_the_key_does_it_and_another_takes_it_back() {
    let mut d = at_gate(tilted(), "as-worn-error");
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("d: order the centres 7.5 mm below"),
        "{shown}"
    );
    assert_eq!(d.in_book().job.lenses.lowered_mm, None);
    d.keys(&["d"]);
    let lowered = d.in_book().job.lenses.lowered_mm.unwrap();
    assert_eq!(lowered.thousandths(), 7500);
    assert!(place(&d, "as-worn-error").is_none(), "{}", d.screen(80, 24));
    d.keys(&["ctrl-u"]);
    assert_eq!(d.in_book().job.lenses.lowered_mm, None);
    assert_eq!(d.said(), "Taken back.");
    assert!(place(&d, "as-worn-error").is_some());
}

#[test]
fn a_mismatch_is_compensated_by_two_keys_in_the_name_of_the_registrant() {
    let mut d = at_gate(scenario("S03")["job"].clone(), "bvd-mismatch");
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("d, enter: quarters: right -9.75 / -0.75 x 15, left -10.50"),
        "{shown}"
    );
    d.keys(&["d"]);
    let asked = d.screen(80, 24);
    for way in [
        "> quarters: right",
        "eighths: ",
        "let the laboratory",
        "leave the job",
    ] {
        assert!(asked.contains(way), "{way} in {asked}");
    }
    d.keys(&["enter"]);
    let powers = d.in_book().job.lenses.powers.unwrap();
    assert_eq!(powers.by.as_deref(), d.app.person.as_deref());
    assert_eq!(
        serde_json::to_value(powers.kind).unwrap(),
        "vertex compensated"
    );
    assert!(place(&d, "bvd-mismatch").is_none());
    assert!(place(&d, "powers-differ").is_none());
}

#[test]
fn an_assistant_is_offered_the_laboratory_and_no_powers_of_their_own() {
    let mut d = at_gate(scenario("S03")["job"].clone(), "bvd-mismatch");
    d.keys(&["w", "down", "enter"]);
    assert_eq!(d.app.person.as_deref(), Some("Nadia Brookwell"));
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("d: let the laboratory compensate"),
        "{shown}"
    );
    d.keys(&["d"]);
    let lenses = d.in_book().job.lenses;
    let who = lenses.compensates.unwrap();
    assert_eq!(serde_json::to_value(who.vertex).unwrap(), "laboratory");
    assert_eq!(lenses.powers.unwrap().by, None);
}

#[test]
fn a_finding_that_has_to_be_measured_says_so() {
    let file = job("S01", &json!({"fitting": {"left": {"cd_mm": null}}}));
    let mut d = at_gate(file, "centration-missing");
    assert!(!d.screen(80, 24).contains("\n d: "));
    d.keys(&["d"]);
    assert!(
        d.said().contains("measured, asked or chosen"),
        "{}",
        d.said()
    );
}
