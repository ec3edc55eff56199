//! `prism_at`, `decentre_for`, `prism_resolve`, `prism_compound`, `reading_prism`, `segment_jump`,
//! `prism_control`, `prism_shift`.

use serde::Serialize;

use super::error::CalcError;
use super::keys;
use super::reply::{Number, PlaceReply, PrismReply};
use super::request::Fields;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::centration::ROTATION_MM;
use crate::trade::optics::near_prism::{
    Segment, reading_prism, segment_jump_delta, segmented_reading_prism,
};
use crate::trade::optics::prism::{CompoundPrism, compound, decentre_for, prism_at, resolve};
use crate::trade::optics::prism_control::prism_control;
use crate::trade::optics::prism_shift::sight_shift_mm;

pub(super) fn at_place(f: &Fields<'_, '_>) -> Result<PrismReply, CalcError> {
    f.only(&["eye", "rx", "in_mm", "up_mm"])?;
    Ok(prism_at(f.eye()?, f.rx("rx")?, f.place()?).into())
}

pub(super) fn decentre(f: &Fields<'_, '_>) -> Result<PlaceReply, CalcError> {
    f.only(&["eye", "rx", "base_in_delta", "base_up_delta"])?;
    Ok(decentre_for(f.eye()?, f.rx("rx")?, f.prism()?)?.into())
}

pub(super) fn resolved(f: &Fields<'_, '_>) -> Result<PrismReply, CalcError> {
    f.only(&["eye", "amount_delta", "base_deg"])?;
    let prism = CompoundPrism {
        amount_delta: f.number(&keys::AMOUNT_DELTA)?,
        base_deg: f.number(&keys::BASE_DEG)?,
    };
    Ok(resolve(f.eye()?, prism).into())
}

#[derive(Serialize)]
pub(super) struct CompoundReply {
    amount_delta: Number,
    base_deg: Number,
}

pub(super) fn compounded(f: &Fields<'_, '_>) -> Result<CompoundReply, CalcError> {
    f.only(&["eye", "base_in_delta", "base_up_delta"])?;
    let prism = compound(f.eye()?, f.prism()?);
    Ok(CompoundReply {
        amount_delta: Number(prism.amount_delta),
        base_deg: Number(prism.base_deg),
    })
}

#[derive(Serialize)]
pub(super) struct ReadingReply {
    right: PrismReply,
    left: PrismReply,
    vertical_difference_delta: Number,
    horizontal_total_delta: Number,
}

pub(super) fn reading(f: &Fields<'_, '_>) -> Result<ReadingReply, CalcError> {
    f.only(&["right", "left", "drop_mm", "inset_mm", "segments"])?;
    let powers = PerEye {
        right: f.rx("right")?,
        left: f.rx("left")?,
    };
    let (drop_mm, inset_mm) = (
        f.number(&keys::DROP_MM)?,
        f.number_or(&keys::INSET_MM, 0.0)?,
    );
    let p = if f.has("segments") {
        let both = f.object("segments")?;
        both.only(&["right", "left"])?;
        let segments = PerEye {
            right: segment(&both.object("right")?)?,
            left: segment(&both.object("left")?)?,
        };
        segmented_reading_prism(powers, segments, drop_mm, inset_mm)
    } else {
        reading_prism(powers, drop_mm, inset_mm)
    };
    Ok(ReadingReply {
        right: p.at.right.into(),
        left: p.at.left.into(),
        vertical_difference_delta: Number(p.vertical_difference_delta),
        horizontal_total_delta: Number(p.horizontal_total_delta),
    })
}

fn segment(f: &Fields<'_, '_>) -> Result<Segment, CalcError> {
    f.only(&["addition_d", "oc_drop_mm", "oc_inset_mm"])?;
    Ok(Segment {
        addition_d: f.number(&keys::ADDITION_D)?,
        oc_drop_mm: f.number(&keys::OC_DROP_MM)?,
        oc_inset_mm: f.number_or(&keys::OC_INSET_MM, 0.0)?,
    })
}

#[derive(Serialize)]
pub(super) struct ControlReply {
    amount_delta: Number,
    eye: Option<Eye>,
    segment_difference_mm: Number,
    larger_segment_eye: Option<Eye>,
}

pub(super) fn control(f: &Fields<'_, '_>) -> Result<ControlReply, CalcError> {
    f.only(&["right", "left", "drop_mm", "tolerated_delta", "addition_d"])?;
    let powers = PerEye {
        right: f.rx("right")?,
        left: f.rx("left")?,
    };
    let found = prism_control(
        powers,
        f.above_zero(&keys::DROP_MM)?,
        f.number(&keys::TOLERATED_DELTA)?,
        f.above_zero(&keys::ADDITION_D)?,
    );
    Ok(ControlReply {
        amount_delta: Number(found.amount_delta),
        eye: found.eye,
        segment_difference_mm: Number(found.segment_difference_mm),
        larger_segment_eye: found.larger_segment_eye,
    })
}

#[derive(Serialize)]
pub(super) struct ShiftReply {
    shift_mm: Number,
}

pub(super) fn shift(f: &Fields<'_, '_>) -> Result<ShiftReply, CalcError> {
    f.only(&["amount_delta", "vertex_mm", "rotation_mm"])?;
    Ok(ShiftReply {
        shift_mm: Number(sight_shift_mm(
            f.number(&keys::AMOUNT_DELTA)?,
            f.number(&keys::VERTEX_MM)?,
            f.number_or(&keys::ROTATION_MM, ROTATION_MM)?,
        )),
    })
}

#[derive(Serialize)]
pub(super) struct JumpReply {
    jump_delta: Number,
}

pub(super) fn jump(f: &Fields<'_, '_>) -> Result<JumpReply, CalcError> {
    f.only(&["addition_d", "top_to_centre_mm"])?;
    let (addition, depth) = (
        f.number(&keys::ADDITION_D)?,
        f.number(&keys::TOP_TO_CENTRE_MM)?,
    );
    Ok(JumpReply {
        jump_delta: Number(segment_jump_delta(addition, depth)),
    })
}
