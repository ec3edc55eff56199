//! `transpose`, `power_vector`, `combine`, `difference`, `meridian_power`.

use serde::Serialize;

use super::error::CalcError;
use super::keys;
use super::reply::{Number, OnlyRx, RxReply};
use super::request::Fields;
use crate::trade::optics::PowerMatrix;
use crate::trade::optics::combine::difference;
use crate::trade::optics::meridian::meridian_power_d;
use crate::trade::optics::vector::PowerVector;

/// More thin lenses than this are never in contact.
const MOST_POWERS: usize = 100;

pub(super) fn transpose(f: &Fields<'_, '_>) -> Result<OnlyRx, CalcError> {
    f.only(&["rx", "form"])?;
    let form = f.form()?;
    Ok(OnlyRx {
        rx: form.of(f.rx("rx")?).into(),
    })
}

#[derive(Serialize)]
#[allow(
    clippy::struct_field_names,
    reason = "every key of an answer names its unit"
)]
pub(super) struct VectorReply {
    m_d: Number,
    j0_d: Number,
    j45_d: Number,
    blur_d: Number,
}

pub(super) fn power_vector(f: &Fields<'_, '_>) -> Result<VectorReply, CalcError> {
    f.only(&["rx"])?;
    let v = PowerVector::of(f.rx("rx")?);
    Ok(VectorReply {
        m_d: Number(v.m_d),
        j0_d: Number(v.j0_d),
        j45_d: Number(v.j45_d),
        blur_d: Number(v.blur_d()),
    })
}

pub(super) fn combined(f: &Fields<'_, '_>) -> Result<OnlyRx, CalcError> {
    f.only(&["powers", "form"])?;
    let form = f.form_or_minus()?;
    let sum = f
        .powers("powers", MOST_POWERS)?
        .try_fold(PowerMatrix::default(), |sum, rx| {
            Ok::<_, CalcError>(sum + rx?.matrix())
        })?;
    Ok(OnlyRx {
        rx: form.of(sum.rx()).into(),
    })
}

#[derive(Serialize)]
pub(super) struct DifferenceReply {
    rx: RxReply,
    blur_d: Number,
}

pub(super) fn difference_of(f: &Fields<'_, '_>) -> Result<DifferenceReply, CalcError> {
    f.only(&["from", "to", "form"])?;
    let form = f.form_or_minus()?;
    let rx = difference(f.rx("from")?, f.rx("to")?);
    Ok(DifferenceReply {
        rx: form.of(rx).into(),
        blur_d: Number(PowerVector::of(rx).blur_d()),
    })
}

#[derive(Serialize)]
pub(super) struct MeridianReply {
    power_d: Number,
}

pub(super) fn meridian_power(f: &Fields<'_, '_>) -> Result<MeridianReply, CalcError> {
    f.only(&["rx", "meridian_deg"])?;
    Ok(MeridianReply {
        power_d: Number(meridian_power_d(
            f.rx("rx")?,
            f.number(&keys::MERIDIAN_DEG)?,
        )),
    })
}
