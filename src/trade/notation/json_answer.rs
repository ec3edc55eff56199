//! The answer to one line as JSON.

use serde_json::{Map, Value, json};

use super::read::read;
use super::reading::{Eighths, PrismBase, Reading, WrittenRx};

/// Reads one line and answers `{"ok":true,"rx":{…}}` or `{"ok":false,"error":{"kind","message"}}`.
///
/// An `rx` has `sphere_d`, `cylinder_d`, `axis_deg` and `addition_d`, null where not written, and
/// `prism` with `amount_delta` and `base` (`up`, `down`, `in`, `out` or degrees); `eye`, `acuity`
/// and `vertex_mm` only where written. Two eyes are `{"right":{…},"left":{…}}`.
pub fn answer(line: &str) -> Value {
    match read(line) {
        Ok(Reading::One { eye, rx }) => {
            let mut object = object(&rx);
            if let Some(eye) = eye {
                object.insert("eye".to_owned(), json!(eye.word()));
            }
            json!({"ok": true, "rx": object})
        }
        Ok(Reading::Two(eyes)) => {
            json!({"ok": true, "rx": {"right": object(&eyes.right), "left": object(&eyes.left)}})
        }
        Err(error) => {
            json!({"ok": false, "error": {"kind": error.kind.code(), "message": error.message}})
        }
    }
}

fn object(rx: &WrittenRx) -> Map<String, Value> {
    let dioptres = |eighths: Eighths| json!(eighths.to_dioptre().get());
    let prism: Vec<Value> = rx
        .prism
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
        .collect();
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
    object.insert("prism".to_owned(), Value::Array(prism));
    if let Some(acuity) = &rx.acuity {
        object.insert("acuity".to_owned(), json!(acuity));
    }
    if let Some(vertex) = rx.vertex_mm {
        object.insert("vertex_mm".to_owned(), json!(vertex));
    }
    object
}
