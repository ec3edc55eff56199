//! `prism_at`, `decentre_for`, `prism_resolve`, `prism_compound`, `reading_prism`, `segment_jump`.

use serde::Serialize;

use super::error::CalcError;
use super::keys;
use super::reply::{Number, PlaceReply, PrismReply};
use super::request::Fields;
use crate::trade::eye::PerEye;
use crate::trade::optics::near_prism::{reading_prism, segment_jump_delta};
use crate::trade::optics::prism::{CompoundPrism, compound, decentre_for, prism_at, resolve};

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
    f.only(&["right", "left", "drop_mm", "inset_mm"])?;
    let powers = PerEye {
        right: f.rx("right")?,
        left: f.rx("left")?,
    };
    let p = reading_prism(
        powers,
        f.number(&keys::DROP_MM)?,
        f.number_or(&keys::INSET_MM, 0.0)?,
    );
    Ok(ReadingReply {
        right: p.at.right.into(),
        left: p.at.left.into(),
        vertical_difference_delta: Number(p.vertical_difference_delta),
        horizontal_total_delta: Number(p.horizontal_total_delta),
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
