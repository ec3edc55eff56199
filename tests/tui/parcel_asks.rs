//! What the parcel asks beyond the readings, only where the order asks for it: code, lot and engraving of
//! a product that is named, the mark of a safety pair, the powers that the laboratory states.

use crate::driver::Driver;
use crate::parcel_book::{book, ordered, taken_up, types};
use serde_json::{Value, json};

const READ: [&str; 6] = [
    "-3.75/-1.25x77",
    "-4.25/-1.75x103",
    "32.3",
    "32.7",
    "18.7",
    "18.9",
];

fn pair(change: &Value) -> Value {
    let mut file = ordered("Tamsin Arkle", "2026-10-12");
    json_patch::merge(&mut file, change);
    file
}

fn read(change: &Value, readings: &[&str]) -> Driver {
    let mut d = book(&[pair(change)]);
    taken_up(&mut d);
    types(&mut d, readings);
    d
}

/// The step that the cursor is on.
fn asked(d: &Driver) -> String {
    let screen = d.screen(80, 24);
    let line = screen.lines().find(|l| l.starts_with("> "));
    line.unwrap_or_default().to_owned()
}

#[test]
fn a_pair_that_asks_for_nothing_more_is_judged_after_its_readings() {
    let d = read(&json!({}), &READ);
    assert!(d.shows_verdict(), "{}", d.screen(80, 24));
}

#[test]
fn a_scanned_packet_fills_identifier_and_lot_of_a_product_that_the_order_names() {
    let named = json!({"lenses": {"maker": "Quill Optical", "product": "Plain 1.6"}});
    let mut d = read(&named, &READ);
    assert!(!d.shows_verdict());
    assert!(
        asked(&d).contains("Lens identifier, right"),
        "{}",
        d.screen(80, 24)
    );
    assert!(d.screen(80, 24).contains("down leaves it out"));
    types(&mut d, &["(01)09506000134352(10)AB-1"]);
    let right = d.in_book().job.readings.right;
    assert_eq!(right.identifier.as_deref(), Some("9506000134352"));
    assert_eq!(right.lot.as_deref(), Some("AB-1"));
    // The lot is known, so the other lens comes next.
    assert!(asked(&d).contains("Lens identifier, left"), "{}", asked(&d));
    // A wrong check digit is no identifier.
    types(&mut d, &["(01)09506000134353(10)AB-2"]);
    assert!(
        d.screen(80, 24).contains("check digit"),
        "{}",
        d.screen(80, 24)
    );
    d.keys(&["esc"]);
    d.keys(&["down"]);
    assert!(asked(&d).contains("Lens lot, left"));
    // Left empty, it is passed by; the pair is judged without it.
    d.keys(&["enter", "enter"]);
    assert!(d.shows_verdict(), "{}", d.screen(80, 24));
    assert_eq!(d.in_book().job.readings.left.lot, None);
}

#[test]
fn a_code_scanned_at_a_reading_says_where_it_belongs() {
    let named = json!({"lenses": {"product": "Plain 1.6"}});
    let mut d = read(&named, &READ[..1]);
    types(&mut d, &["(01)09506000134352(10)AB-1"]);
    let shown = d.screen(80, 24);
    assert!(shown.contains("scan it at the identifier"), "{shown}");
}

#[test]
fn the_mark_of_a_safety_pair_is_asked_for_before_it_is_judged() {
    let safety = json!({
        "lenses": {"purpose": "safety", "impact_mark": "F", "material": "polycarbonate 1.59"},
        "frame": {"impact_mark": "F"},
    });
    let mut d = read(&safety, &READ);
    assert!(
        asked(&d).contains("Centre thickness, right"),
        "{}",
        d.screen(80, 24)
    );
    types(&mut d, &["3", "3"]);
    assert!(asked(&d).contains("Impact mark on the lenses"));
    types(&mut d, &["S"]);
    assert_eq!(d.in_book().job.readings.impact_mark.as_deref(), Some("S"));
    assert!(d.shows_verdict(), "{}", d.screen(80, 24));
    // A weaker mark than the order's holds the pair, and the verdict says by what.
    let shown = d.screen(80, 24);
    assert!(shown.contains("weaker than the F ordered"), "{shown}");
}

#[test]
fn what_the_laboratory_states_is_asked_for_after_both_lenses_are_read_and_judged_by() {
    let by_laboratory = json!({"lenses": {
        "compensates": {"tilt": "laboratory"}, "powers": {"as": "laboratory compensated"},
    }});
    let mut d = read(&by_laboratory, &[]);
    assert!(!d.screen(80, 24).contains("the laboratory states"));
    types(
        &mut d,
        &[
            "-3.70/-1.22x77",
            "-4.20/-1.72x103",
            "32.3",
            "32.7",
            "18.7",
            "18.9",
        ],
    );
    assert!(
        asked(&d).contains("Focimeter, and its line"),
        "{}",
        d.screen(80, 24)
    );
    types(&mut d, &["No 2, e line"]);
    assert!(asked(&d).contains("Power the laboratory states, right"));
    types(&mut d, &["-3.70/-1.22x77", "-4.20/-1.72x103"]);
    assert!(d.shows_verdict(), "{}", d.screen(80, 24));
    let job = d.in_book().job;
    let stated = job.lenses.laboratory_powers.unwrap();
    assert_eq!(stated.left.sphere_d.unwrap().thousandths(), -4200);
    assert_eq!(stated.right.cylinder_d.unwrap().thousandths(), -1220);
    assert_eq!(job.readings.instrument.as_deref(), Some("No 2, e line"));
    let findings = &d.app.job.as_ref().unwrap().findings;
    let of_powers = |f: &&rimbook::testing::judge::gate::Finding| {
        f.check == "lens-power" || f.check == "laboratory-powers-missing"
    };
    assert!(findings.iter().find(of_powers).is_none(), "{findings:#?}");
}

#[test]
fn prism_control_is_read_of_both_lenses_so_that_nobody_knows_which_has_it() {
    let control = json!({"lenses": {"prism_control": {"eye": "left", "amount_delta": 1.5, "line_height_mm": 14}}});
    let mut d = read(&control, &READ);
    assert!(
        asked(&d).contains("Prism control, right"),
        "{}",
        d.screen(80, 24)
    );
    types(&mut d, &["0", "1.5"]);
    assert!(d.shows_verdict(), "{}", d.screen(80, 24));
    let findings = &d.app.job.as_ref().unwrap().findings;
    assert!(findings.iter().all(|f| f.check != "prism-control-made"));
}
