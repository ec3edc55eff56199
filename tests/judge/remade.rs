//! What the record lacks for the pair to be made again from it alone.

use rimbook::testing::job::Job;
use rimbook::testing::judge::derive::remade::lacks;
use rimbook::testing::views::card::made_again;
use serde_json::{Value, json};

/// A progressive pair of which everything is recorded.
fn whole() -> Value {
    json!({
        "wearer": {"name": "Ida Example-Thorn"},
        "prescription": {"right": {"sphere_d": -2, "addition_d": 2}, "left": {"sphere_d": -2, "addition_d": 2}},
        "fitting": {
            "right": {"cd_mm": 31.5, "height_mm": 20}, "left": {"cd_mm": 33, "height_mm": 20},
            "pantoscopic_deg": 9,
        },
        "frame": {
            "maker": "Maker", "name": "Model", "colour": "blue",
            "a_mm": 52, "b_mm": 38, "dbl_mm": 18, "side_mm": 140,
        },
        "lenses": {
            "design": "progressive", "purpose": "general", "maker": "Maker", "product": "Product",
            "material": "resin 1.60", "coatings": [], "tint": {"category": 1, "colour": "brown"},
            "powers": {
                "as": "prescribed",
                "right": {"sphere_d": -2, "addition_d": 2}, "left": {"sphere_d": -2, "addition_d": 2},
            },
        },
    })
}

fn paths(job: &Value) -> Vec<&'static str> {
    let job: Job = serde_json::from_value(job.clone()).unwrap();
    lacks(&job).iter().map(|field| field.full()).collect()
}

/// The pair with the value at a pointer taken out, and other values put in.
fn without(pointer: &str) -> Value {
    let mut job = whole();
    let (parent, key) = pointer.rsplit_once('/').unwrap();
    let parent = job.pointer_mut(parent).unwrap().as_object_mut().unwrap();
    assert!(parent.remove(key).is_some(), "{pointer}");
    job
}

#[test]
fn nothing_is_missing_of_a_whole_record() {
    assert_eq!(paths(&whole()), Vec::<&str>::new());
    let job: Job = serde_json::from_value(whole()).unwrap();
    assert_eq!(made_again(&job), None);
}

#[test]
fn each_missing_value_is_named_alone() {
    for path in [
        "frame.maker",
        "frame.name",
        "frame.colour",
        "frame.a_mm",
        "frame.b_mm",
        "frame.dbl_mm",
        "frame.side_mm",
        "lenses.maker",
        "lenses.product",
        "lenses.material",
        "lenses.coatings",
        "lenses.powers.as",
        "lenses.powers.right.sphere_d",
        "lenses.powers.left.addition_d",
        "fitting.right.cd_mm",
        "fitting.left.height_mm",
        "fitting.pantoscopic_deg",
    ] {
        let pointer = format!("/{}", path.replace('.', "/"));
        assert_eq!(paths(&without(&pointer)), [path]);
    }
}

#[test]
fn a_blank_text_is_no_name() {
    let mut job = whole();
    job["lenses"]["product"] = json!("  ");
    assert_eq!(paths(&job), ["lenses.product"]);
}

#[test]
fn a_tint_is_missing_only_where_there_is_one() {
    let none = without("/lenses/tint");
    assert_eq!(paths(&none), Vec::<&str>::new());
    let mut confirmed = none;
    confirmed["readings"] = json!({"tint_confirmed": true});
    assert_eq!(paths(&confirmed), ["lenses.tint.colour"]);
    let mut empty = whole();
    empty["lenses"]["tint"] = json!({"sun": true});
    assert_eq!(paths(&empty), ["lenses.tint.colour"]);
}

#[test]
fn heights_and_tilt_are_missing_only_where_the_pair_is_made_to_them() {
    let mut single = whole();
    single["lenses"]["design"] = json!("single vision");
    let fitting = json!({"right": {"cd_mm": 31.5}, "left": {"cd_mm": 33}});
    single["fitting"] = fitting;
    assert_eq!(paths(&single), Vec::<&str>::new());
    single["lenses"]["powers"]["as"] = json!("as worn compensated");
    assert_eq!(paths(&single), ["fitting.pantoscopic_deg"]);
    single["handover"] = json!({"pantoscopic_deg": 8});
    assert_eq!(paths(&single), Vec::<&str>::new());
    let mut segments = whole();
    segments["lenses"]["design"] = json!("bifocal");
    assert_eq!(
        paths(&segments),
        [
            "fitting.right.segment_height_mm",
            "fitting.left.segment_height_mm"
        ]
    );
}

#[test]
fn a_balance_lens_has_no_power_of_its_own_to_be_missed() {
    let mut job = without("/lenses/powers/left/sphere_d");
    job["prescription"]["left"]["balance"] = json!(true);
    assert_eq!(paths(&job), Vec::<&str>::new());
}

#[test]
fn a_near_pair_is_missed_its_near_centres() {
    let mut near = whole();
    near["lenses"]["design"] = json!("single vision");
    near["lenses"]["purpose"] = json!("near");
    near["fitting"] = json!({"right": {"near_cd_mm": 30}});
    assert_eq!(paths(&near), ["fitting.left.near_cd_mm"]);
}

#[test]
fn words_name_both_eyes_once() {
    let mut job = whole();
    for eye in ["right", "left"] {
        job["fitting"][eye] = json!({"height_mm": 20});
    }
    let job: Job = serde_json::from_value(job).unwrap();
    let words = made_again(&job).unwrap();
    assert_eq!(
        words.matches("CD").count() + words.matches("centration").count(),
        1,
        "{words}"
    );
}
