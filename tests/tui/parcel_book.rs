//! A book with ordered jobs for the parcel, and what is done there by keys.
#![allow(dead_code, reason = "each test file uses its part")]

use crate::driver::{Driver, clock};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::{Gate, Job};
use rimbook::testing::tui::effect::Effect;
use serde_json::{Value, json};

/// An order whose every number is written in a way that no hint of a screen is.
pub fn ordered(name: &str, due: &str) -> Value {
    json!({
        "format": "rimbook-job", "version": 1, "reason": "new",
        "wearer": {"name": name, "born": "1980-01-02", "phone": "0000 0555", "allergies": [], "drives": false},
        "prescription": {
            "tested_on": "2026-09-20", "prescriber": "Marek Aldous", "tested_vertex_mm": 12,
            "right": {"sphere_d": -3.75, "cylinder_d": -1.25, "axis_deg": 77},
            "left": {"sphere_d": -4.25, "cylinder_d": -1.75, "axis_deg": 103}
        },
        "fitting": {
            "taken_by": "Ines Calloway", "taken_on": "2026-09-25",
            "centration": "through the frame", "cover_test": "no movement", "binocular_pd_mm": 65,
            "right": {"cd_mm": 32.3, "height_mm": 18.7, "vertex_mm": 12, "length_to_bend_mm": 96},
            "left": {"cd_mm": 32.7, "height_mm": 18.9, "vertex_mm": 12, "length_to_bend_mm": 96},
            "pantoscopic_deg": 6, "face_form_deg": 3, "head_width_mm": 135,
            "second_reading": {"binocular_pd_mm": 65, "right": {"cd_mm": 32.3, "height_mm": 18.7},
                "left": {"cd_mm": 32.7, "height_mm": 18.9}, "pantoscopic_deg": 6}
        },
        "frame": {
            "name": "Oval 2", "owned_by_wearer": false, "colour": "grey", "a_mm": 48, "b_mm": 34,
            "ed_mm": 50, "dbl_mm": 19, "side_mm": 140, "length_to_bend_mm": 96,
            "front_width_mm": 134, "front_material": "titanium", "side_material": "titanium",
            "contains_nickel": false, "rim": "full", "side_shape": "straight", "condition": "new",
            "pads": {"mount": "screw", "size_mm": 13, "material": "hard plastic"}
        },
        "lenses": {
            "purpose": "distance", "design": "single vision", "material": "resin 1.60",
            "coatings": ["hard"],
            "powers": {"as": "prescribed", "by": "Ines Calloway",
                "right": {"sphere_d": -3.75, "cylinder_d": -1.25, "axis_deg": 77},
                "left": {"sphere_d": -4.25, "cylinder_d": -1.75, "axis_deg": 103}}
        },
        "order": {"laboratory": "Northern Bench", "ordered_on": "2026-10-01", "due_on": due, "reference": "A-1"}
    })
}

/// A book with pairs that are with the laboratory, the optician signed in.
pub fn book(jobs: &[Value]) -> Driver {
    let d = Driver::with(jobs);
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    for line in desk.worklist().unwrap() {
        // A pair that is late already was ordered in time.
        let late = "entered after the order went out";
        desk.accept(&line.number, "due-late", None, "Ines Calloway", late)
            .unwrap();
        let moved = desk
            .advance(&line.number, Gate::Ordered, "Ines Calloway", None)
            .unwrap();
        let open: Vec<_> = moved.findings.iter().filter(|f| f.is_open()).collect();
        assert!(moved.moved, "{open:#?}");
    }
    drop(desk);
    let mut d = d;
    d.keys(&["w", "enter"]);
    d.run(vec![Effect::Reload]);
    d
}

/// Takes up the first pair and answers what is looked at.
pub fn taken_up(d: &mut Driver) {
    d.keys(&["p", "enter", "y", "y", "y"]);
}

/// Types values one after the other, Enter after each.
pub fn types(d: &mut Driver, values: &[&str]) {
    for value in values {
        d.keys(&[value, "enter"]);
    }
}

pub fn job_in_hand(d: &Driver) -> &Job {
    d.in_hand().expect("a pair in hand")
}

/// What of the order may not be seen before both lenses are read.
pub const NUMBERS: [&str; 12] = [
    "3.75", "1.25", "77", "4.25", "1.75", "103", "32.3", "32.7", "18.7", "18.9", "-5.00", "-6.00",
];
