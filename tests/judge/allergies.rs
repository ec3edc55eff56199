//! Allergies as people write them, against what touches the skin.

use crate::sound_pair::{said, severities};
use rimbook::testing::job::Gate::Ordered;
use rimbook::testing::job::Section;
use rimbook::testing::judge::gate::Severity;
use serde_json::{Value, json};

fn of(id: &str, allergies: &[&str], frame: &Value) -> Vec<Severity> {
    let changes = [
        (Section::Wearer, json!({ "allergies": allergies })),
        (Section::Frame, frame.clone()),
    ];
    severities(id, Ordered, &changes)
}

#[test]
fn every_word_that_is_not_known_is_asked_about_once_for_the_list() {
    let none = json!({});
    for known in [
        &[][..],
        &["none"],
        &["None known", "NO"],
        &["nickel", "Metal", "SILICONE"],
        &["acetate", "beta titanium", "horn", "nickel alloy"],
        &["pollen", "dust", "animals", "food", "penicillin", "latex"],
    ] {
        assert!(of("allergy-unknown", known, &none).is_empty(), "{known:?}");
    }
    assert_eq!(
        of("allergy-unknown", &["gold", "nickle", "pollen"], &none),
        [Severity::Warning]
    );
    let list = said(
        "allergy-unknown",
        Ordered,
        &[(
            Section::Wearer,
            json!({"allergies": ["nickle", "gold", "horn"]}),
        )],
    );
    let message = &list[0].message;
    assert!(
        message.contains("\"nickle\" (did you mean nickel?)"),
        "{message}"
    );
    assert!(
        message.contains("\"gold\"") && !message.contains("horn"),
        "{message}"
    );
    assert_eq!(list[0].values["unknown"], json!(["nickle", "gold"]));
}

#[test]
fn somebody_allergic_to_nickel_is_given_no_frame_that_may_release_it() {
    let stop = [Severity::Stop];
    let frame = |content: Value, front: Value, side: Value, release: Value| json!({"contains_nickel": content, "front_material": front, "side_material": side, "nickel_release": release});
    let (yes, no, none) = (json!(true), json!(false), Value::Null);
    let (acetate, metal, other) = (json!("acetate"), json!("titanium"), json!("other"));
    let worn = json!("worn through");
    for word in ["nickel", "Metal"] {
        for (content, front, side, release, holds) in [
            (&yes, &acetate, &acetate, &none, true),
            (&no, &acetate, &acetate, &none, false),
            (&no, &metal, &metal, &none, false),
            (&no, &metal, &metal, &worn, true),
            (&none, &acetate, &acetate, &none, false),
            (&none, &metal, &acetate, &none, true),
            (&none, &acetate, &metal, &none, true),
            (&none, &acetate, &other, &none, true),
            (&none, &other, &acetate, &none, true),
            (&none, &none, &acetate, &none, true),
            (&none, &acetate, &none, &none, true),
            (&no, &none, &none, &none, false),
            (&none, &acetate, &acetate, &worn, true),
        ] {
            let frame = frame(
                content.clone(),
                front.clone(),
                side.clone(),
                release.clone(),
            );
            let expected = if holds { &stop[..] } else { &[] };
            assert_eq!(
                of("allergy-nickel", &[word], &frame),
                expected,
                "{word} {frame}"
            );
            assert!(of("allergy-nickel", &["pollen"], &frame).is_empty());
            assert!(
                of("nickel-worn", &[word], &frame).is_empty(),
                "{word} {frame}"
            );
        }
    }
    let worn_sides = frame(no, acetate, metal, worn);
    assert_eq!(of("nickel-worn", &[], &worn_sides), [Severity::Warning]);
    assert_eq!(
        of("nickel-worn", &["none"], &worn_sides),
        [Severity::Warning]
    );
}

#[test]
fn somebody_allergic_to_silicone_is_given_no_pads_that_may_be_of_it() {
    for (pads, holds) in [
        (json!({"mount": "screw", "material": "silicone"}), true),
        (json!({"mount": "fixed", "material": "silicone"}), true),
        (json!({"mount": "screw", "material": null}), true),
        (json!({"mount": "push", "material": null}), true),
        (json!({"mount": "fixed", "material": null}), false),
        (json!({"mount": "none", "material": null}), false),
        (json!({"mount": "screw", "material": "titanium"}), false),
        (json!({"mount": "push", "material": "hard plastic"}), false),
    ] {
        let frame = json!({ "pads": pads });
        let expected = if holds { vec![Severity::Stop] } else { vec![] };
        assert_eq!(
            of("allergy-pad", &["Silicone"], &frame),
            expected,
            "{frame}"
        );
        assert!(of("allergy-pad", &["nickel"], &frame).is_empty(), "{frame}");
    }
}
