//! Answers as JSON, one for each line.

use serde_json::{Map, Value, json};

use super::{PrismBase, Reading, WrittenRx, read};

fn base(base: PrismBase) -> Value {
    match base {
        PrismBase::Up => "up".into(),
        PrismBase::Down => "down".into(),
        PrismBase::In => "in".into(),
        PrismBase::Out => "out".into(),
        PrismBase::Angle(deg) => deg.into(),
    }
}

fn rx_value(rx: &WrittenRx) -> Map<String, Value> {
    let power = |p: Option<super::Eighths>| p.map_or(Value::Null, |p| p.to_dioptre().get().into());
    let mut out = Map::new();
    out.insert("sphere_d".into(), rx.sphere.to_dioptre().get().into());
    out.insert("cylinder_d".into(), power(rx.cylinder));
    out.insert("axis_deg".into(), rx.axis_deg.into());
    out.insert("addition_d".into(), power(rx.addition));
    let prism = rx
        .prism
        .iter()
        .map(|p| json!({"amount_delta": p.amount.get(), "base": base(p.base)}))
        .collect();
    out.insert("prism".into(), Value::Array(prism));
    if let Some(acuity) = &rx.acuity {
        out.insert("acuity".into(), acuity.as_str().into());
    }
    if let Some(mm) = rx.vertex_mm {
        out.insert(
            "vertex_mm".into(),
            serde_json::to_value(mm).unwrap_or(Value::Null),
        );
    }
    out
}

/// Returns the answer to one line: `{"ok":true,"rx":…}` or `{"ok":false,"error":…}`.
pub fn answer(line: &str) -> Value {
    match read(line) {
        Ok(Reading::One { eye, rx }) => {
            let mut rx = rx_value(&rx);
            if let Some(eye) = eye {
                rx.insert("eye".into(), eye.word().into());
            }
            json!({"ok": true, "rx": rx})
        }
        Ok(Reading::Two(eyes)) => json!({
            "ok": true,
            "rx": {"right": rx_value(&eyes.right), "left": rx_value(&eyes.left)},
        }),
        Err(error) => json!({
            "ok": false,
            "error": {"kind": error.kind.code(), "message": error.message},
        }),
    }
}
