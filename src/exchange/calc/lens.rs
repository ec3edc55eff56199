//! `back_vertex`, `thickness`, `magnification`, `aniseikonia`.

use serde::Serialize;

use super::error::CalcError;
use super::frames::FrameFields;
use super::keys;
use super::reply::Number;
use super::request::{Either, Fields};
use crate::trade::eye::PerEye;
use crate::trade::optics::Rx;
use crate::trade::optics::aniseikonia::aniseikonia;
use crate::trade::optics::back_vertex::thick_powers;
use crate::trade::optics::curves::BASE_INDEX;
use crate::trade::optics::magnification::{
    MeridianMagnification, PUPIL_MM, WornForm, magnification,
};
use crate::trade::optics::outline::Outline;
use crate::trade::optics::prism::Prism;
use crate::trade::optics::thickness::{GivenThickness, LensBody, thickness_with_prism};

/// Most directions in which the edge is asked for.
const MOST_DIRECTIONS: usize = 360;

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
    edge_at_mm: Option<Vec<Number>>,
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
        "base_in_delta",
        "base_up_delta",
        "meridians_deg",
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
    let prism = Prism {
        base_in_delta: f.number_or(&keys::BASE_IN_DELTA, 0.0)?,
        base_up_delta: f.number_or(&keys::BASE_UP_DELTA, 0.0)?,
    };
    let directions = f
        .has(keys::EDGE_MERIDIAN_DEG.name)
        .then(|| f.numbers(&keys::EDGE_MERIDIAN_DEG, MOST_DIRECTIONS))
        .transpose()?;
    let t = thickness_with_prism(f.eye()?, body, prism, &outline)?;
    let edge_at = |at: Vec<f64>| -> Result<Vec<Number>, CalcError> {
        at.into_iter()
            .map(|deg| Ok(Number(t.edge_at_mm(deg)?)))
            .collect()
    };
    Ok(ThicknessReply {
        centre_mm: Number(t.centre_mm),
        edge_nasal_mm: Number(t.edge_nasal_mm),
        edge_temporal_mm: Number(t.edge_temporal_mm),
        edge_top_mm: Number(t.edge_top_mm),
        edge_bottom_mm: Number(t.edge_bottom_mm),
        edge_max_mm: Number(t.edge_max_mm),
        edge_min_mm: Number(t.edge_min_mm),
        edge_at_mm: directions.map(edge_at).transpose()?,
        weight_g: density.map(|d| Number(t.weight_g(d))),
    })
}

fn given_thickness(f: &Fields<'_, '_>) -> Result<GivenThickness, CalcError> {
    Ok(match f.either(&keys::CENTRE_MM, &keys::THINNEST_MM)? {
        Either::One(mm) => GivenThickness::Centre(mm),
        Either::Other(mm) => GivenThickness::Thinnest(mm),
    })
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

/// Reads the power, form and distance of one lens as worn, and refuses other keys.
fn worn_lens(f: &Fields<'_, '_>) -> Result<(Rx, WornForm), CalcError> {
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
    Ok((f.rx("rx")?, form))
}

#[derive(Serialize)]
pub(super) struct AniseikoniaReply {
    worst_percent: Number,
    worst_meridian_deg: Number,
    along_180_percent: Number,
    along_90_percent: Number,
}

pub(super) fn aniseikonia_of_pair(f: &Fields<'_, '_>) -> Result<AniseikoniaReply, CalcError> {
    f.only(&["right", "left"])?;
    let found = aniseikonia(PerEye {
        right: worn_lens(&f.object("right")?)?,
        left: worn_lens(&f.object("left")?)?,
    })?;
    Ok(AniseikoniaReply {
        worst_percent: Number(found.worst_percent),
        worst_meridian_deg: Number(found.worst_meridian_deg),
        along_180_percent: Number(found.along_180_percent),
        along_90_percent: Number(found.along_90_percent),
    })
}

pub(super) fn spectacle_magnification(f: &Fields<'_, '_>) -> Result<MagnificationReply, CalcError> {
    let (rx, form) = worn_lens(f)?;
    let m = magnification(rx, form)?;
    Ok(MagnificationReply {
        shape: Number(m.shape),
        along_axis: m.along_axis.into(),
        across_axis: m.across_axis.into(),
    })
}
