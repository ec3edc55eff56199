//! `vertex`.

use serde::Serialize;

use super::error::CalcError;
use super::keys;
use super::reply::{Number, RxReply};
use super::request::Fields;
use crate::trade::optics::vertex::{per_mm_d, round_to_step, strongest_change_d, vertex};

#[derive(Serialize)]
pub(super) struct VertexReply {
    exact: RxReply,
    #[serde(skip_serializing_if = "Option::is_none")]
    rounded: Option<RxReply>,
    strongest_change_d: Number,
    per_mm_d: Number,
}

pub(super) fn vertex_distance(f: &Fields<'_, '_>) -> Result<VertexReply, CalcError> {
    f.only(&["rx", "from_mm", "to_mm", "step_d", "form"])?;
    let form = f.form_or_minus()?;
    let rx = f.rx("rx")?;
    let (from_mm, to_mm) = (f.number(&keys::FROM_MM)?, f.number(&keys::TO_MM)?);
    let step_d = f.optional(&keys::STEP_D)?;
    let exact = form.of(vertex(rx, from_mm, to_mm)?);
    Ok(VertexReply {
        exact: exact.into(),
        rounded: step_d.map(|step| round_to_step(exact, step).into()),
        strongest_change_d: Number(strongest_change_d(rx, from_mm, to_mm)?),
        per_mm_d: Number(per_mm_d(rx)),
    })
}
