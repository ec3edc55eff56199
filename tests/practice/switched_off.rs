//! What a country does not have is switched off, and settings of older versions are read.

use crate::driver::{assistant, clock, optician, scenario};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::Gate;
use rimbook::testing::practice::{Practice, Threshold, Way, settings};
use serde_json::json;

#[test]
fn every_way_is_open_until_it_is_closed_by_its_own_name() {
    let mut practice = Practice::default();
    for way in Way::ALL {
        assert!(practice.allows(way));
        practice.set(way.key(), "off").unwrap();
        let listed = settings(&practice);
        let setting = listed.iter().find(|s| s.key == way.key()).unwrap();
        assert_eq!((setting.value.as_str(), setting.is_own), ("off", true));
        for other in Way::ALL {
            assert_eq!(practice.allows(other), other != way, "{other:?}");
        }
        let kept = serde_json::to_string(&practice).unwrap();
        let read: Practice = serde_json::from_str(&kept).unwrap();
        assert_eq!(read, practice);
        assert!(practice.set(way.key(), "closed").is_err());
        practice.set(way.key(), "default").unwrap();
    }
    assert_eq!(practice, Practice::default());
}

#[test]
fn a_threshold_that_an_older_version_had_is_passed_over() {
    let old = json!({"thresholds": {"child-pd-low": 41.0, "vertex-unequal": 2.0}});
    let practice: Practice = serde_json::from_value(old).unwrap();
    let value = practice.thresholds.get(Threshold::VertexUnequal);
    assert!((value - 2.0).abs() < 1e-9);
    let listed = settings(&practice);
    assert!(listed.iter().all(|s| s.key != "child-pd-low"));
}

#[test]
fn where_no_group_is_restricted_anybody_measures_a_child() {
    let dir = tempfile::tempdir().unwrap();
    let mut desk = Desk::create(&dir.path().join("book.db"), clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    desk.add_staff(assistant()).unwrap();
    let mut job = scenario("S01")["job"].clone();
    job["wearer"]["born"] = json!("2014-01-01");
    job["fitting"]["taken_by"] = json!("Nadia Brookwell");
    let number = desk
        .import(&job.to_string(), Some("Ines Calloway"))
        .unwrap()
        .numbers
        .remove(0);
    let is_held = |desk: &Desk| {
        let open = desk.load(&number).unwrap();
        let found = desk.findings(&open, Gate::Ordered).unwrap();
        found.iter().any(|f| f.check == "restricted-under-16")
    };
    assert!(is_held(&desk));
    let mut practice = desk.practice().unwrap();
    practice.set("restricted-groups", "off").unwrap();
    desk.set_practice(&practice, "Ines Calloway").unwrap();
    assert!(!is_held(&desk));
}
