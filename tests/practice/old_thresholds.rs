//! A threshold that an older version kept and this one has not any more.

use rimbook::testing::practice::{Practice, Threshold};
use serde_json::json;

#[test]
fn a_threshold_that_is_no_more_is_left_out_when_settings_are_read() {
    let mut kept = serde_json::to_value(Practice::default()).unwrap();
    kept["thresholds"] = json!({"strong-pair": 6.0, "no-such-threshold": 3.0});
    let read: Practice = serde_json::from_value(kept).unwrap();
    assert!((read.thresholds.get(Threshold::Strong) - 6.0).abs() < 1e-12);
    assert!(read.thresholds.is_own(Threshold::Strong));
    let written = serde_json::to_value(&read).unwrap();
    assert_eq!(written["thresholds"], json!({"strong-pair": 6.0}));
}
