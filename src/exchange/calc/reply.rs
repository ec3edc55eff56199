//! Writing answers.

use serde::{Serialize, Serializer};

use super::error::{CalcError, RefusalKind};
use super::json::Node;
use crate::text::json_safe;
use crate::trade::optics::Rx;
use crate::trade::optics::prism::{LensPoint, Prism};

/// A finite number of a result; minus zero is written as zero.
#[derive(Debug, Clone, Copy)]
pub(super) struct Number(pub f64);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        if self.0.is_finite() {
            s.serialize_f64(self.0 + 0.0)
        } else {
            Err(serde::ser::Error::custom("no finite result exists"))
        }
    }
}

/// A power in a result: sphere and cylinder in dioptres, axis in degrees.
#[derive(Debug, Clone, Copy, Serialize)]
pub(super) struct RxReply {
    sphere_d: Number,
    cylinder_d: Number,
    axis_deg: Number,
}

impl From<Rx> for RxReply {
    fn from(rx: Rx) -> Self {
        Self {
            sphere_d: Number(rx.sphere_d),
            cylinder_d: Number(rx.cylinder_d),
            axis_deg: Number(rx.axis_deg),
        }
    }
}

/// A result that holds only a power.
#[derive(Debug, Clone, Copy, Serialize)]
pub(super) struct OnlyRx {
    pub rx: RxReply,
}

/// A prism in a result, prism dioptres; base out and base down are negative.
#[derive(Debug, Clone, Copy, Serialize)]
pub(super) struct PrismReply {
    base_in_delta: Number,
    base_up_delta: Number,
}

impl From<Prism> for PrismReply {
    fn from(p: Prism) -> Self {
        Self {
            base_in_delta: Number(p.base_in_delta),
            base_up_delta: Number(p.base_up_delta),
        }
    }
}

/// A point of a lens in a result, mm; temporal and downwards are negative.
#[derive(Debug, Clone, Copy, Serialize)]
pub(super) struct PlaceReply {
    in_mm: Number,
    up_mm: Number,
}

impl From<LensPoint> for PlaceReply {
    fn from(p: LensPoint) -> Self {
        Self {
            in_mm: Number(p.in_mm),
            up_mm: Number(p.up_mm),
        }
    }
}

/// Appends an answer: the result that `work` appends, or the refusal if `work` fails.
pub(super) fn write(
    id: &Node<'_>,
    out: &mut Vec<u8>,
    work: impl FnOnce(&mut Vec<u8>) -> Result<(), CalcError>,
) {
    let start = out.len();
    out.extend_from_slice(b"{\"id\":");
    append(out, id);
    out.extend_from_slice(b",\"ok\":true,\"result\":");
    match work(out) {
        Ok(()) => out.push(b'}'),
        Err(error) => {
            out.truncate(start);
            refuse(id, out, &error);
        }
    }
}

/// Appends a result as JSON.
///
/// # Errors
/// [`RefusalKind::Impossible`] when a number is not finite.
#[allow(
    clippy::needless_pass_by_value,
    reason = "results are made for this call, and the calls read as one table"
)]
pub(super) fn result<R: Serialize>(out: &mut Vec<u8>, result: R) -> Result<(), CalcError> {
    serde_json::to_writer(out, &result).map_err(|_| {
        CalcError::new(
            RefusalKind::Impossible,
            "no finite result exists for these values: check them",
        )
    })
}

/// Appends an answer with `"ok":false` and the kind and sentence of the refusal.
pub(super) fn refuse(id: &Node<'_>, out: &mut Vec<u8>, error: &CalcError) {
    out.extend_from_slice(b"{\"id\":");
    append(out, id);
    out.extend_from_slice(b",\"ok\":false,\"error\":{\"kind\":\"");
    out.extend_from_slice(error.kind.word().as_bytes());
    out.extend_from_slice(b"\",\"message\":");
    append(out, &error.message);
    out.extend_from_slice(b"}}");
}

/// Appends a value that can always be written: text, or what was itself read from JSON.
///
/// Answers are read on terminals too, and ids and wrong keys come from the asker: what a terminal
/// might obey is escaped, which leaves the value as it is for whoever reads the JSON.
fn append(out: &mut Vec<u8>, value: &impl Serialize) {
    let start = out.len();
    if serde_json::to_writer(&mut *out, value).is_err() {
        out.truncate(start);
        out.extend_from_slice(b"null");
        return;
    }
    let is_plain = |b: &u8| b.is_ascii() && *b != 0x7f;
    if out.iter().skip(start).all(is_plain) {
        return;
    }
    if let Ok(text) = String::from_utf8(out.split_off(start)) {
        out.extend_from_slice(json_safe(text).as_bytes());
    }
}
