//! `oblique`, `oblique_compensate`, `as_worn`, `as_worn_compensate`.

use serde::Serialize;

use super::error::CalcError;
use super::keys;
use super::reply::{Number, OnlyRx, RxReply};
use super::request::Fields;
use crate::trade::optics::as_worn::{WornLens, as_worn, as_worn_compensate};
use crate::trade::optics::prism::LensPoint;
use crate::trade::optics::tilt::{oblique, oblique_compensate};

const THIN: [&str; 6] = [
    "eye",
    "rx",
    "index",
    "pantoscopic_deg",
    "face_form_deg",
    "form",
];

const THICK: [&str; 10] = [
    "eye",
    "rx",
    "index",
    "front_d",
    "centre_mm",
    "pantoscopic_deg",
    "face_form_deg",
    "oc_in_mm",
    "oc_up_mm",
    "form",
];

pub(super) fn oblique_power(f: &Fields<'_, '_>) -> Result<OnlyRx, CalcError> {
    f.only(&THIN)?;
    let form = f.form_or_minus()?;
    let rx = oblique(f.eye()?, f.rx("rx")?, f.number(&keys::INDEX)?, f.tilt()?)?;
    Ok(OnlyRx {
        rx: form.of(rx).into(),
    })
}

pub(super) fn oblique_order(f: &Fields<'_, '_>) -> Result<OnlyRx, CalcError> {
    f.only(&THIN)?;
    let form = f.form_or_minus()?;
    let rx = oblique_compensate(f.eye()?, f.rx("rx")?, f.number(&keys::INDEX)?, f.tilt()?)?;
    Ok(OnlyRx {
        rx: form.of(rx).into(),
    })
}

#[derive(Serialize)]
pub(super) struct AsWornReply {
    rx: RxReply,
    base_in_delta: Number,
    base_up_delta: Number,
}

pub(super) fn traced(f: &Fields<'_, '_>) -> Result<AsWornReply, CalcError> {
    f.only(&THICK)?;
    let form = f.form_or_minus()?;
    let worn = as_worn(f.eye()?, f.rx("rx")?, worn_lens(f)?)?;
    Ok(AsWornReply {
        rx: form.of(worn.rx).into(),
        base_in_delta: Number(worn.prism.base_in_delta),
        base_up_delta: Number(worn.prism.base_up_delta),
    })
}

#[derive(Serialize)]
pub(super) struct CompensatedReply {
    rx: RxReply,
    iterations: u32,
}

pub(super) fn traced_order(f: &Fields<'_, '_>) -> Result<CompensatedReply, CalcError> {
    f.only(&THICK)?;
    let form = f.form_or_minus()?;
    let order = as_worn_compensate(f.eye()?, f.rx("rx")?, worn_lens(f)?)?;
    Ok(CompensatedReply {
        rx: form.of(order.rx).into(),
        iterations: order.iterations,
    })
}

fn worn_lens(f: &Fields<'_, '_>) -> Result<WornLens, CalcError> {
    Ok(WornLens {
        index: f.number(&keys::INDEX)?,
        front_d: f.number(&keys::FRONT_D)?,
        centre_mm: f.number(&keys::CENTRE_MM)?,
        tilt: f.tilt()?,
        optical_centre: LensPoint {
            in_mm: f.number_or(&keys::OC_IN_MM, 0.0)?,
            up_mm: f.number_or(&keys::OC_UP_MM, 0.0)?,
        },
    })
}
