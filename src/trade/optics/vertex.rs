//! Moving a lens nearer to the eye or further away: the power that does the same there.
//!
//! `F' = F / (1 - d F)` for each principal meridian, `d = (from - to) / 1000` in metres; the axis
//! does not turn. Source: Bennett and Rabbetts, Clinical Visual Optics (effectivity); Jalie,
//! Ophthalmic Lenses and Dispensing.

use super::{OpticsError, Rx};

/// Returns the power that does at `to_mm` from the cornea what `power_d` does at `from_mm`.
///
/// Powers in dioptres, distances in millimetres, both to the back vertex.
///
/// # Errors
/// [`OpticsError::Impossible`] when the lens would have to be at or beyond its own focus.
pub fn vertex_power_d(power_d: f64, from_mm: f64, to_mm: f64) -> Result<f64, OpticsError> {
    let divisor = 1.0 - (from_mm - to_mm) / 1000.0 * power_d;
    if divisor > 1e-9 && power_d.is_finite() {
        Ok(power_d / divisor)
    } else {
        Err(OpticsError::impossible(format!(
            "a lens of {power_d:+.2} D has its focus {:.1} mm behind it and cannot be replaced {:.1} mm nearer to the \
             eye: check the power and both distances",
            1000.0 / power_d,
            from_mm - to_mm
        )))
    }
}

/// Returns the power that does at `to_mm` what `rx` does at `from_mm`, in minus-cylinder form.
///
/// # Errors
/// As [`vertex_power_d`], for either principal meridian.
pub fn vertex(rx: Rx, from_mm: f64, to_mm: f64) -> Result<Rx, OpticsError> {
    let (along, across) = moved(rx, from_mm, to_mm)?;
    Ok(Rx::new(along, across - along, rx.axis_deg).minus_form())
}

/// Returns the largest change of a principal power that the move makes, with its sign, in dioptres.
///
/// # Errors
/// As [`vertex`].
pub fn strongest_change_d(rx: Rx, from_mm: f64, to_mm: f64) -> Result<f64, OpticsError> {
    let (along, across) = moved(rx, from_mm, to_mm)?;
    let (was_along, was_across) = rx.principal_powers();
    let (first, second) = (along - was_along, across - was_across);
    Ok(if second.abs() > first.abs() {
        second
    } else {
        first
    })
}

/// Returns by how much the strongest principal power changes for one millimetre more of vertex
/// distance, in dioptres per millimetre: `F^2 / 1000`, the size of the slope of [`vertex_power_d`]
/// over the distance moved to (the power to order falls as the lens moves away).
#[must_use]
pub fn per_mm_d(rx: Rx) -> f64 {
    let strongest = rx.strongest_d();
    strongest * strongest / 1000.0
}

/// Returns the power with sphere and cylinder on the nearest whole step, half steps away from
/// zero, as powers are ordered. The axis is not rounded. `step_d` in dioptres, above zero.
#[must_use]
pub(crate) fn round_to_step(rx: Rx, step_d: f64) -> Rx {
    let round = |d: f64| (d / step_d).round() * step_d;
    Rx::new(round(rx.sphere_d), round(rx.cylinder_d), rx.axis_deg)
}

fn moved(rx: Rx, from_mm: f64, to_mm: f64) -> Result<(f64, f64), OpticsError> {
    let (along, across) = rx.principal_powers();
    Ok((
        vertex_power_d(along, from_mm, to_mm)?,
        vertex_power_d(across, from_mm, to_mm)?,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lens_cannot_be_replaced_behind_its_focus() {
        let e = vertex(Rx::sphere(50.0), 25.0, 0.0).unwrap_err();
        assert!(e.to_string().contains("20.0 mm behind"), "{e}");
    }

    #[test]
    fn half_steps_round_away_from_zero() {
        let rx = round_to_step(Rx::new(-6.125, -0.375, 17.3), 0.25);
        assert_eq!(rx, Rx::new(-6.25, -0.5, 17.3));
    }
}
