//! `back_vertex`, `thickness`, `magnification`.

use serde::Serialize;

use super::error::{CalcError, RefusalKind};
use super::frames::FrameFields;
use super::keys;
use super::reply::Number;
use super::request::Fields;
use crate::trade::optics::back_vertex::thick_powers;
use crate::trade::optics::curves::BASE_INDEX;
use crate::trade::optics::magnification::{
    MeridianMagnification, PUPIL_MM, WornForm, magnification,
};
use crate::trade::optics::outline::Outline;
use crate::trade::optics::thickness::{GivenThickness, LensBody, thickness};

#[derive(Serialize)]
#[allow(
    clippy::struct_field_names,
    reason = "every key of an answer names its unit"
)]
pub(super) struct BackVertexReply {
    back_vertex_d: Number,
    front_vertex_d: Number,
    equivalent_d: Number,
}

pub(super) fn back_vertex(f: &Fields<'_, '_>) -> Result<BackVertexReply, CalcError> {
    f.only(&["front_d", "back_d", "centre_mm", "index"])?;
    let p = thick_powers(
        f.number(&keys::FRONT_D)?,
        f.number(&keys::BACK_D)?,
        f.number(&keys::CENTRE_MM)?,
        f.number(&keys::INDEX)?,
    )?;
    Ok(BackVertexReply {
        back_vertex_d: Number(p.back_vertex_d),
        front_vertex_d: Number(p.front_vertex_d),
        equivalent_d: Number(p.equivalent_d),
    })
}

#[derive(Serialize)]
pub(super) struct ThicknessReply {
    centre_mm: Number,
    edge_nasal_mm: Number,
    edge_temporal_mm: Number,
    edge_top_mm: Number,
    edge_bottom_mm: Number,
    edge_max_mm: Number,
    edge_min_mm: Number,
    #[serde(skip_serializing_if = "Option::is_none")]
    weight_g: Option<Number>,
}

pub(super) fn finished_thickness(f: &Fields<'_, '_>) -> Result<ThicknessReply, CalcError> {
    f.only(&[
        "eye",
        "rx",
        "index",
        "base_d",
        "base_index",
        "frame",
        "in_mm",
        "up_mm",
        "centre_mm",
        "thinnest_mm",
        "density",
    ])?;
    let frame = f.object("frame")?;
    let boxed = FrameFields::of(&frame)?;
    let outline = Outline::from_box(boxed.a_mm, boxed.b_mm, frame.number(&keys::ED_MM)?)?;
    let body = LensBody {
        rx: f.rx("rx")?,
        index: f.number(&keys::INDEX)?,
        base_d: f.number(&keys::BASE_D)?,
        base_index: f.number_or(&keys::BASE_INDEX, BASE_INDEX)?,
        centre: f.place()?,
        given: given_thickness(f)?,
    };
    let density = f.optional(&keys::DENSITY)?;
    let t = thickness(f.eye()?, body, &outline)?;
    Ok(ThicknessReply {
        centre_mm: Number(t.centre_mm),
        edge_nasal_mm: Number(t.edge_nasal_mm),
        edge_temporal_mm: Number(t.edge_temporal_mm),
        edge_top_mm: Number(t.edge_top_mm),
        edge_bottom_mm: Number(t.edge_bottom_mm),
        edge_max_mm: Number(t.edge_max_mm),
        edge_min_mm: Number(t.edge_min_mm),
        weight_g: density.map(|d| Number(t.weight_g(d))),
    })
}

fn given_thickness(f: &Fields<'_, '_>) -> Result<GivenThickness, CalcError> {
    let centre = f.optional(&keys::CENTRE_MM)?;
    let thinnest = f.optional(&keys::THINNEST_MM)?;
    match (centre, thinnest) {
        (Some(mm), None) => Ok(GivenThickness::Centre(mm)),
        (None, Some(mm)) => Ok(GivenThickness::Thinnest(mm)),
        (None, None) => Err(CalcError::new(
            RefusalKind::MissingKey,
            "missing key \"centre_mm\" or \"thinnest_mm\": one of them is needed",
        )),
        (Some(_), Some(_)) => Err(CalcError::new(
            RefusalKind::UnknownKey,
            "\"thinnest_mm\" is not accepted together with \"centre_mm\": give one of them",
        )),
    }
}

#[derive(Serialize)]
pub(super) struct MagnificationReply {
    shape: Number,
    along_axis: MeridianReply,
    across_axis: MeridianReply,
}

#[derive(Serialize)]
struct MeridianReply {
    power: Number,
    total: Number,
    percent: Number,
}

impl From<MeridianMagnification> for MeridianReply {
    fn from(m: MeridianMagnification) -> Self {
        Self {
            power: Number(m.power),
            total: Number(m.total),
            percent: Number(m.percent),
        }
    }
}

pub(super) fn spectacle_magnification(f: &Fields<'_, '_>) -> Result<MagnificationReply, CalcError> {
    f.only(&[
        "rx",
        "index",
        "front_d",
        "centre_mm",
        "vertex_mm",
        "pupil_mm",
    ])?;
    let form = WornForm {
        index: f.number(&keys::INDEX)?,
        front_d: f.number(&keys::FRONT_D)?,
        centre_mm: f.number(&keys::CENTRE_MM)?,
        vertex_mm: f.number(&keys::VERTEX_MM)?,
        pupil_mm: f.number_or(&keys::PUPIL_MM, PUPIL_MM)?,
    };
    let m = magnification(f.rx("rx")?, form)?;
    Ok(MagnificationReply {
        shape: Number(m.shape),
        along_axis: m.along_axis.into(),
        across_axis: m.across_axis.into(),
    })
}
