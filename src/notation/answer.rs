//! The answer of the command line to one written prescription.

use serde_json::{Map, Value, json};

use super::read::read;
use super::rx::{Eighths, PrismBase, Reading, WrittenPrism, WrittenRx};

/// Reads one line and returns the answer as JSON: `{"ok":true,"rx":{…}}`, or
/// `{"ok":false,"error":{"kind":…,"message":…}}` with the code of the refusal.
pub fn answer(line: &str) -> Value {
    match read(line) {
        Ok(Reading::Two(eyes)) => {
            json!({"ok": true, "rx": {"right": object(&eyes.right), "left": object(&eyes.left)}})
        }
        Ok(Reading::One { eye, rx }) => {
            let mut fields = object(&rx);
            if let Some(eye) = eye {
                fields.insert("eye".to_owned(), json!(eye.word()));
            }
            json!({"ok": true, "rx": fields})
        }
        Err(error) => json!({
            "ok": false,
            "error": {"kind": error.kind.code(), "message": error.message},
        }),
    }
}

fn object(rx: &WrittenRx) -> Map<String, Value> {
    let mut fields = Map::new();
    let mut put = |name: &str, value: Value| fields.insert(name.to_owned(), value);
    put("sphere_d", json!(dioptres(rx.sphere)));
    put("cylinder_d", json!(rx.cylinder.map(dioptres)));
    put("axis_deg", json!(rx.axis_deg));
    put("addition_d", json!(rx.addition.map(dioptres)));
    put("prism", rx.prism.iter().copied().map(prism).collect());
    if let Some(acuity) = &rx.acuity {
        put("acuity", json!(acuity));
    }
    if let Some(vertex) = rx.vertex_mm {
        put("vertex_mm", json!(vertex));
    }
    fields
}

fn dioptres(power: Eighths) -> f64 {
    power.to_dioptre().get()
}

fn prism(prism: WrittenPrism) -> Value {
    let base = match prism.base {
        PrismBase::Up => json!("up"),
        PrismBase::Down => json!("down"),
        PrismBase::In => json!("in"),
        PrismBase::Out => json!("out"),
        PrismBase::Angle(degrees) => json!(degrees),
    };
    json!({"amount_delta": prism.amount.get(), "base": base})
}
