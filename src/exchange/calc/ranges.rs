//! `clear_range`, `office_range`.

use serde::Serialize;

use super::error::CalcError;
use super::keys;
use super::reply::Number;
use super::request::{Either, Fields};
use crate::trade::optics::clear_range::{ClearRange, clear_range, mean_amplitude_d, office_range};

#[derive(Serialize)]
pub(super) struct RangeReply {
    far_mm: Option<Number>,
    near_mm: Option<Number>,
}

impl From<ClearRange> for RangeReply {
    fn from(range: ClearRange) -> Self {
        Self {
            far_mm: range.far_mm.map(Number),
            near_mm: range.near_mm.map(Number),
        }
    }
}

pub(super) fn of_addition(f: &Fields<'_, '_>) -> Result<RangeReply, CalcError> {
    f.only(&["addition_d", "amplitude_d", "age_years"])?;
    Ok(clear_range(f.number(&keys::ADDITION_D)?, amplitude(f)?).into())
}

pub(super) fn of_office_lens(f: &Fields<'_, '_>) -> Result<RangeReply, CalcError> {
    f.only(&["addition_d", "power_drop_d", "amplitude_d", "age_years"])?;
    let addition = f.number(&keys::ADDITION_D)?;
    let drop = f.number(&keys::POWER_DROP_D)?;
    Ok(office_range(addition, drop, amplitude(f)?).into())
}

/// The amplitude that is given, or the mean of the age that is given instead, dioptres.
fn amplitude(f: &Fields<'_, '_>) -> Result<f64, CalcError> {
    Ok(match f.either(&keys::AMPLITUDE_D, &keys::AGE_YEARS)? {
        Either::One(d) => d,
        Either::Other(years) => mean_amplitude_d(years),
    })
}
