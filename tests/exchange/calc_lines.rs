//! The headless interface line by line: what is refused, how, and that a run goes on.

use std::io::{self, BufRead, BufReader, Read};

use proptest::prelude::*;
use rimbook::testing::exchange::calc::{answer, run};
use serde_json::{Value, json};

fn ask(line: &str) -> Value {
    serde_json::from_str(&answer(line)).unwrap()
}

/// The kind and message of a refusal.
fn refusal(line: &str) -> (String, String) {
    let reply = ask(line);
    assert_eq!(reply["ok"], false, "{line} -> {reply}");
    assert!(reply.get("result").is_none());
    let text = |key: &str| reply["error"][key].as_str().unwrap().to_owned();
    (text("kind"), text("message"))
}

fn run_bytes(input: &[u8]) -> Vec<Value> {
    let mut out = Vec::new();
    run(input, &mut out).unwrap();
    String::from_utf8(out)
        .unwrap()
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .collect()
}

#[test]
fn a_key_has_one_range_in_every_calculation() {
    let tolerance = |key: &str, value: f64| {
        let mut eye = json!({"sphere_d": -2.0, "cylinder_d": -1.0, "axis_deg": 90.0});
        eye[key] = json!(value);
        let line = json!({
            "calc": "tolerance", "standard": "ISO 21987:2017", "lens_kind": "single vision",
            "ordered": {"right": eye}, "measured": {"right": eye},
        });
        line.to_string()
    };
    let centration = |value: f64| {
        let frame = json!({"a_mm": 50, "b_mm": 40, "dbl_mm": 18});
        json!({"calc": "centration", "frame": frame, "right": {"cd_mm": value}}).to_string()
    };
    let vector = |value: f64| {
        let rx = json!({"sphere_d": 1, "cylinder_d": value, "axis_deg": 90});
        json!({"calc": "power_vector", "rx": rx}).to_string()
    };
    for value in [0.0, 9.9, 10.0, 60.0, 60.1, 100.0] {
        let one = ask(&centration(value))["ok"].clone();
        assert_eq!(ask(&tolerance("cd_mm", value))["ok"], one, "cd {value}");
    }
    for value in [-60.0, -30.1, -30.0, 30.0, 30.1] {
        let one = ask(&vector(value))["ok"].clone();
        assert_eq!(ask(&tolerance("cylinder_d", value))["ok"], one, "{value}");
    }
    for value in [-20.0, -0.25, 20.1] {
        let (kind, message) = refusal(&tolerance("addition_d", value));
        assert_eq!(kind, "out_of_range");
        assert!(message.contains("0 to 20 D"), "{message}");
    }
}

#[test]
fn an_unknown_key_is_named_with_its_path() {
    for (line, path) in [
        (
            r#"{"calc":"power_vector","rx":{"sphere_d":1},"colour":2}"#,
            "\"colour\"",
        ),
        (
            r#"{"calc":"power_vector","rx":{"sphere_d":1,"axis":90}}"#,
            "\"rx.axis\"",
        ),
        (
            r#"{"calc":"combine","powers":[{"sphere_d":1},{"sphere_d":1,"cyl":1}]}"#,
            "\"powers[1].cyl\"",
        ),
        (
            r#"{"calc":"centration","frame":{"a_mm":50,"b_mm":40,"dbl_mm":18,"c_mm":1},"right":{"cd_mm":31}}"#,
            "\"frame.c_mm\"",
        ),
        (
            r#"{"calc":"power_vector","rx":{"sphere_d":1},"form":"plus"}"#,
            "\"form\"",
        ),
    ] {
        let (kind, message) = refusal(line);
        assert_eq!(kind, "unknown_key", "{message}");
        assert!(message.contains(path), "{message}");
    }
}

#[test]
fn a_missing_key_is_named_with_its_path() {
    for (line, path) in [
        (r#"{"id":1}"#, "\"calc\""),
        (r#"{"calc":"power_vector"}"#, "\"rx\""),
        (
            r#"{"calc":"vertex","rx":{"sphere_d":1},"from_mm":12}"#,
            "\"to_mm\"",
        ),
        (
            r#"{"calc":"power_vector","rx":{"sphere_d":1,"cylinder_d":-1}}"#,
            "\"rx.axis_deg\"",
        ),
        (
            r#"{"calc":"power_vector","rx":{"cylinder_d":-1,"axis_deg":5}}"#,
            "\"rx.sphere_d\"",
        ),
        (r#"{"calc":"transpose","rx":{"sphere_d":1}}"#, "\"form\""),
        (
            r#"{"calc":"centration","frame":{"a_mm":50,"b_mm":40,"dbl_mm":18}}"#,
            "\"right\"",
        ),
    ] {
        let (kind, message) = refusal(line);
        assert_eq!(kind, "missing_key", "{message}");
        assert!(message.contains(path), "{message}");
    }
}

#[test]
fn a_wrong_type_is_said() {
    for line in [
        r#"{"calc":"power_vector","rx":{"sphere_d":"-1.00"}}"#,
        r#"{"calc":"power_vector","rx":{"sphere_d":null}}"#,
        r#"{"calc":"power_vector","rx":[1,2,3]}"#,
        r#"{"calc":"combine","powers":{}}"#,
        r#"{"calc":"combine","powers":[3]}"#,
        r#"{"calc":7}"#,
        "[1,2]",
        "null",
        "\"vertex\"",
    ] {
        assert_eq!(refusal(line).0, "wrong_type", "{line}");
    }
}

#[test]
fn what_a_terminal_might_obey_is_escaped_and_the_value_stays_the_same() {
    let odd = "a\u{9b}31m\u{85}\u{7f}\u{202e}é";
    for line in [
        format!(r#"{{"id":"{odd}","calc":"vertex"}}"#),
        format!(
            r#"{{"id":{{"{odd}":["{odd}"]}},"calc":"drop_for_tilt","pantoscopic_deg":8,"vertex_mm":12}}"#
        ),
        format!(r#"{{"id":1,"calc":"{odd}"}}"#),
        format!(r#"{{"id":1,"calc":"vertex","{odd}":1}}"#),
        format!(r#"{{"id":"{odd}","calc":"power_vector","rx":{{"sphere_d":NaN}}}}"#),
    ] {
        let reply = answer(&line);
        assert!(
            reply.contains("\\u009b31m\\u0085\\u007f\\u202eé")
                && !reply.chars().any(char::is_control),
            "{reply:?}"
        );
        let request = line.replace("NaN", "1");
        let request: Value = serde_json::from_str(&request).unwrap();
        let read: Value = serde_json::from_str(&reply).unwrap();
        assert_eq!(read["id"], request["id"]);
    }
}

#[test]
fn numbers_without_a_finite_value_are_out_of_range_and_keep_their_id() {
    for number in ["NaN", "Infinity", "-Infinity", "1e999", "-1e400"] {
        let line = format!(r#"{{"id":"q7","calc":"power_vector","rx":{{"sphere_d":{number}}}}}"#);
        let reply = ask(&line);
        assert_eq!(reply["id"], "q7");
        assert_eq!(reply["error"]["kind"], "out_of_range", "{reply}");
        let message = reply["error"]["message"].as_str().unwrap();
        assert!(
            message.contains("sphere_d") && message.contains("-60 to 60 D"),
            "{message}"
        );
    }
}

#[test]
fn absurd_values_are_refused_with_the_accepted_range() {
    for (line, range) in [
        (
            r#"{"calc":"power_vector","rx":{"sphere_d":125}}"#,
            "-60 to 60 D",
        ),
        (
            r#"{"calc":"power_vector","rx":{"sphere_d":1,"cylinder_d":-1,"axis_deg":181}}"#,
            "0 to 180 degrees",
        ),
        (
            r#"{"calc":"vertex","rx":{"sphere_d":1},"from_mm":-1,"to_mm":0}"#,
            "0 to 50 mm",
        ),
        (
            r#"{"calc":"oblique","eye":"right","rx":{"sphere_d":1},"index":0.5,"pantoscopic_deg":1,"face_form_deg":1}"#,
            "1.3 to 2.5",
        ),
        (r#"{"calc":"combine","powers":[]}"#, "1 to 100"),
        (
            r#"{"calc":"prism_compound","eye":"middle","base_in_delta":1,"base_up_delta":0}"#,
            "\"right\" nor \"left\"",
        ),
        (
            r#"{"calc":"transpose","rx":{"sphere_d":1},"form":"cross"}"#,
            "\"plus\" nor \"minus\"",
        ),
    ] {
        let (kind, message) = refusal(line);
        assert_eq!(kind, "out_of_range", "{message}");
        assert!(message.contains(range), "{message}");
    }
}

#[test]
fn what_cannot_be_is_impossible() {
    for line in [
        r#"{"calc":"decentre_for","eye":"right","rx":{"sphere_d":0},"base_in_delta":1,"base_up_delta":0}"#,
        r#"{"calc":"decentre_for","eye":"left","rx":{"sphere_d":0,"cylinder_d":-2,"axis_deg":90},"base_in_delta":0,"base_up_delta":1}"#,
        r#"{"calc":"vertex","rx":{"sphere_d":60},"from_mm":20,"to_mm":0}"#,
        r#"{"calc":"back_vertex","front_d":40,"back_d":0,"centre_mm":45,"index":1.5}"#,
        r#"{"calc":"thickness","eye":"right","rx":{"sphere_d":2},"index":1.5,"base_d":6,"frame":{"a_mm":50,"b_mm":40,"ed_mm":70},"in_mm":0,"up_mm":0,"centre_mm":3}"#,
        r#"{"calc":"thickness","eye":"right","rx":{"sphere_d":9},"index":1.5,"base_d":10,"frame":{"a_mm":60,"b_mm":40,"ed_mm":62},"in_mm":0,"up_mm":0,"centre_mm":2}"#,
        r#"{"calc":"thickness","eye":"right","rx":{"sphere_d":0},"index":1.5,"base_d":25,"frame":{"a_mm":60,"b_mm":40,"ed_mm":62},"in_mm":0,"up_mm":0,"thinnest_mm":1}"#,
        r#"{"calc":"thickness","eye":"left","rx":{"sphere_d":-4},"index":1.5,"base_d":4,"frame":{"a_mm":30,"b_mm":30,"ed_mm":31},"in_mm":20,"up_mm":0,"thinnest_mm":0.05}"#,
        r#"{"calc":"as_worn","eye":"right","rx":{"sphere_d":0},"index":1.5,"front_d":30,"centre_mm":3,"pantoscopic_deg":0,"face_form_deg":0,"oc_in_mm":40}"#,
        r#"{"calc":"magnification","rx":{"sphere_d":50},"index":1.5,"front_d":6,"centre_mm":3,"vertex_mm":20}"#,
        r#"{"calc":"near_centration","cd_mm":32,"working_mm":400,"vertex_mm":12,"power_d":50}"#,
    ] {
        let (kind, message) = refusal(line);
        assert_eq!(kind, "impossible", "{message}");
        assert!(message.len() > 30, "says why: {message}");
    }
}

#[test]
fn an_id_of_any_kind_comes_back_and_none_is_null() {
    for id in [
        "7",
        "-3",
        "2.5",
        "18446744073709551615",
        "\"a\\u0000b\"",
        "null",
        "[1,{\"x\":2}]",
        "true",
    ] {
        let reply = ask(&format!(
            r#"{{"id":{id},"calc":"power_vector","rx":{{"sphere_d":1}}}}"#
        ));
        assert_eq!(reply["id"], serde_json::from_str::<Value>(id).unwrap());
        assert_eq!(reply["ok"], true);
    }
    assert_eq!(
        ask(r#"{"calc":"power_vector","rx":{"sphere_d":1}}"#)["id"],
        Value::Null
    );
    assert_eq!(ask(r#"{"id":5,"calc":"nonsense"}"#)["id"], 5);
}

#[test]
fn results_come_in_plus_form_when_asked_and_else_in_minus_form() {
    let at = |extra: &str| {
        ask(&format!(
            r#"{{"calc":"vertex","rx":{{"sphere_d":-8,"cylinder_d":-2,"axis_deg":20}},"from_mm":12,"to_mm":12,"step_d":0.25{extra}}}"#
        ))["result"]
            .clone()
    };
    let minus = json!({"sphere_d":-8.0,"cylinder_d":-2.0,"axis_deg":20.0});
    let plus = json!({"sphere_d":-10.0,"cylinder_d":2.0,"axis_deg":110.0});
    assert_eq!(at("")["exact"], minus);
    assert_eq!(at(",\"form\":\"minus\"")["exact"], minus);
    assert_eq!(at(",\"form\":\"plus\"")["exact"], plus);
    assert_eq!(at(",\"form\":\"plus\"")["rounded"], plus);
}

#[test]
fn an_axis_of_zero_is_read_as_180() {
    let reply = ask(
        r#"{"calc":"transpose","rx":{"sphere_d":1,"cylinder_d":-1,"axis_deg":0},"form":"minus"}"#,
    );
    assert_eq!(reply["result"]["rx"]["axis_deg"], 180.0);
}

#[test]
fn both_thicknesses_or_neither_are_refused() {
    let with = |extra: &str| {
        format!(
            r#"{{"calc":"thickness","eye":"right","rx":{{"sphere_d":-2}},"index":1.5,"base_d":4,"frame":{{"a_mm":50,"b_mm":40,"ed_mm":54}},"in_mm":2,"up_mm":1{extra}}}"#
        )
    };
    assert_eq!(refusal(&with("")).0, "missing_key");
    assert_eq!(
        refusal(&with(",\"centre_mm\":2,\"thinnest_mm\":2")).0,
        "unknown_key"
    );
    let reply = ask(&with(",\"centre_mm\":2"));
    assert_eq!(reply["ok"], true, "{reply}");
    assert!(
        reply["result"].get("weight_g").is_none(),
        "no weight without a density"
    );
}

#[test]
fn bad_lines_are_answered_in_their_place_and_the_run_goes_on() {
    let good = r#"{"id":1,"calc":"segment_jump","addition_d":2,"top_to_centre_mm":5}"#;
    let mut input = Vec::new();
    input.extend_from_slice(format!("{good}\r\n\n   \nnot json\n{{\"id\":2\n").as_bytes());
    input.extend_from_slice(b"\xff\xfe{}\n");
    input.extend_from_slice(br#"{"id":3,"id":4,"calc":"x"}"#);
    input.push(b'\n');
    input.extend_from_slice(good.as_bytes());
    let replies = run_bytes(&input);
    let kinds: Vec<_> = replies
        .iter()
        .map(|r| r["error"]["kind"].as_str().unwrap_or("ok").to_owned())
        .collect();
    assert_eq!(
        kinds,
        ["ok", "bad_json", "bad_json", "bad_json", "bad_json", "ok"]
    );
    assert_eq!(replies[0], replies[5]);
    assert!(
        replies[3]["error"]["message"]
            .as_str()
            .unwrap()
            .contains("UTF-8")
    );
    assert!(
        replies[4]["error"]["message"]
            .as_str()
            .unwrap()
            .contains("given twice")
    );
}

#[test]
fn an_endless_line_is_passed_over_without_being_kept() {
    let long = io::repeat(b'x').take(5 << 20);
    let tail: &[u8] =
        b"\n{\"id\":9,\"calc\":\"segment_jump\",\"addition_d\":2,\"top_to_centre_mm\":5}\n";
    let mut out = Vec::new();
    run(BufReader::new(long.chain(tail)), &mut out).unwrap();
    let replies: Vec<Value> = out
        .lines()
        .map(|l| serde_json::from_str(&l.unwrap()).unwrap())
        .collect();
    assert_eq!(replies.len(), 2);
    assert_eq!(replies[0]["error"]["kind"], "bad_json");
    assert_eq!(replies[1]["result"]["jump_delta"], 1.0);
}

#[test]
fn how_the_input_arrives_does_not_change_the_answers() {
    let requests: Vec<String> = (0..200)
        .map(|i| {
            let depth = f64::from(i) / 10.0;
            json!({"id":i,"calc":"segment_jump","addition_d":2,"top_to_centre_mm":depth})
                .to_string()
        })
        .collect();
    let input = requests.join("\n");
    let whole = run_bytes(input.as_bytes());
    let mut out = Vec::new();
    run(BufReader::with_capacity(7, input.as_bytes()), &mut out).unwrap();
    let pieces: Vec<Value> = out
        .lines()
        .map(|l| serde_json::from_str(&l.unwrap()).unwrap())
        .collect();
    assert_eq!(whole, pieces);
    assert_eq!(whole.len(), 200);
}

#[test]
fn deep_nesting_and_many_keys_are_refused_not_followed() {
    let deep = format!("{}1{}", "[".repeat(100_000), "]".repeat(100_000));
    assert_eq!(refusal(&deep).0, "bad_json");
    let keys: Vec<String> = (0..1000).map(|i| format!("\"k{i}\":1")).collect();
    assert_eq!(refusal(&format!("{{{}}}", keys.join(","))).0, "bad_json");
}

proptest! {
    #[test]
    fn any_text_is_answered_by_exactly_one_line_of_json(line in "\\PC{0,80}") {
        let reply = answer(&line);
        prop_assert!(!reply.contains('\n'));
        let reply: Value = serde_json::from_str(&reply).unwrap();
        prop_assert!(reply["ok"].is_boolean());
    }

    #[test]
    fn every_answer_to_accepted_numbers_is_finite_or_a_refusal(
        s in -60.0..60.0f64, c in -30.0..30.0f64, a in 0.0..180.0f64,
        front in -40.0..40.0f64, t in 0.1..50.0f64, n in 1.3..2.5f64,
        p in -45.0..45.0f64, w in -45.0..45.0f64, x in -50.0..50.0f64, y in -50.0..50.0f64,
    ) {
        let rx = json!({"sphere_d":s,"cylinder_d":c,"axis_deg":a});
        let frame = json!({"a_mm":50,"b_mm":38,"ed_mm":55});
        for request in [
            json!({"calc":"as_worn","eye":"left","rx":rx,"index":n,"front_d":front,"centre_mm":t,"pantoscopic_deg":p,"face_form_deg":w,"oc_in_mm":x,"oc_up_mm":y}),
            json!({"calc":"as_worn_compensate","eye":"left","rx":rx,"index":n,"front_d":front,"centre_mm":t,"pantoscopic_deg":p,"face_form_deg":w,"oc_in_mm":x,"oc_up_mm":y}),
            json!({"calc":"oblique_compensate","eye":"left","rx":rx,"index":n,"pantoscopic_deg":p,"face_form_deg":w}),
            json!({"calc":"thickness","eye":"left","rx":rx,"index":n,"base_d":front / 2.0,"frame":frame,"in_mm":x / 5.0,"up_mm":y / 5.0,"thinnest_mm":t / 20.0,"density":1.3}),
            json!({"calc":"vertex","rx":rx,"from_mm":t,"to_mm":0}),
            json!({"calc":"magnification","rx":rx,"index":n,"front_d":front,"centre_mm":t,"vertex_mm":t}),
            json!({"calc":"back_vertex","front_d":front,"back_d":s,"index":n,"centre_mm":t}),
            json!({"calc":"decentre_for","eye":"right","rx":rx,"base_in_delta":p,"base_up_delta":w}),
        ] {
            let text = answer(&request.to_string());
            prop_assert!(!text.contains("null,\"") || text.starts_with("{\"id\":null,"), "{text}");
            let reply: Value = serde_json::from_str(&text).unwrap();
            if reply["ok"] == false {
                prop_assert_eq!(&reply["error"]["kind"], "impossible", "{}", reply);
            } else {
                prop_assert!(!reply["result"].to_string().contains("null"), "{}", reply);
            }
        }
    }
}
