//! The power of a toric lens in one meridian.

use super::Rx;

/// Returns the power along a meridian in dioptres: `S + C sin^2(meridian - axis)`.
///
/// `meridian_deg` in TABO degrees. Off the principal meridians this is the power of the section
/// only: the lens also throws light sideways there, which [`super::prism`] counts.
/// Source: Bennett and Rabbetts, Clinical Visual Optics, astigmatic lenses.
#[must_use]
pub fn meridian_power_d(rx: Rx, meridian_deg: f64) -> f64 {
    let sin = (meridian_deg - rx.axis_deg).to_radians().sin();
    rx.sphere_d + rx.cylinder_d * sin * sin
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_the_cylinder_is_in_force_45_degrees_from_its_axis() {
        let d = meridian_power_d(Rx::new(1.0, -2.0, 30.0), 75.0);
        assert!(d.abs() < 1e-12);
    }
}
