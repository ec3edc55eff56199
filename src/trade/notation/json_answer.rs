//! The answer to one line as JSON.

use serde_json::{Map, Value, json};

use super::read::read;
use super::reading::{Assumption, Eighths, PrismBase, Reading, WrittenPrism, WrittenRx};

/// Reads one line and answers `{"ok":true,"rx":{…}}` or `{"ok":false,"error":{"kind","message"}}`.
///
/// An `rx` has `sphere_d`, `cylinder_d`, `axis_deg` and `addition_d`, null where not written, and
/// `prism` with `amount_delta` and `base` (`up`, `down`, `in`, `out` or degrees); `eye`,
/// `intermediate_addition_d`, `near_prism`, `acuity` and `vertex_mm` only where written. Two eyes
/// are `{"right":{…},"left":{…}}`; what was assumed is `"assumed":[…]` beside `rx`.
pub fn answer(line: &str) -> Value {
    match read(line) {
        Ok(Reading::One { eye, rx }) => {
            let mut object = object(&rx);
            if let Some(eye) = eye {
                object.insert("eye".to_owned(), json!(eye.word()));
            }
            json!({"ok": true, "rx": object})
        }
        Ok(Reading::Two { eyes, assumed }) => {
            let rx = json!({"right": object(&eyes.right), "left": object(&eyes.left)});
            if assumed.is_empty() {
                return json!({"ok": true, "rx": rx});
            }
            let assumed: Vec<&str> = assumed.into_iter().map(Assumption::words).collect();
            json!({"ok": true, "rx": rx, "assumed": assumed})
        }
        Err(error) => {
            json!({"ok": false, "error": {"kind": error.kind.code(), "message": error.message}})
        }
    }
}

fn object(rx: &WrittenRx) -> Map<String, Value> {
    let dioptres = |eighths: Eighths| json!(eighths.to_dioptre().get());
    let mut object = Map::new();
    object.insert("sphere_d".to_owned(), dioptres(rx.sphere));
    object.insert(
        "cylinder_d".to_owned(),
        rx.cylinder.map_or(Value::Null, dioptres),
    );
    object.insert("axis_deg".to_owned(), json!(rx.axis_deg));
    object.insert(
        "addition_d".to_owned(),
        rx.addition.map_or(Value::Null, dioptres),
    );
    if let Some(addition) = rx.intermediate_addition {
        object.insert("intermediate_addition_d".to_owned(), dioptres(addition));
    }
    object.insert("prism".to_owned(), prisms(&rx.prism));
    if !rx.near_prism.is_empty() {
        object.insert("near_prism".to_owned(), prisms(&rx.near_prism));
    }
    if let Some(acuity) = &rx.acuity {
        object.insert("acuity".to_owned(), json!(acuity));
    }
    if let Some(vertex) = rx.vertex_mm {
        object.insert("vertex_mm".to_owned(), json!(vertex));
    }
    object
}

fn prisms(prism: &[WrittenPrism]) -> Value {
    prism
        .iter()
        .map(|prism| {
            let base = match prism.base {
                PrismBase::Up => json!("up"),
                PrismBase::Down => json!("down"),
                PrismBase::In => json!("in"),
                PrismBase::Out => json!("out"),
                PrismBase::Angle(degrees) => json!(degrees),
            };
            json!({"amount_delta": prism.amount.get(), "base": base})
        })
        .collect()
}
