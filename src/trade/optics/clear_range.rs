//! From how near to how far is seen clearly through an addition, or through an office lens.
//!
//! Thin lens in the spectacle plane, all accommodation used, no depth of focus: `far = 1/A`,
//! `near = 1/(A + accommodation)`. Source: Bennett and Rabbetts, Clinical Visual Optics; mean
//! amplitude by age: Hofstetter (1950), 18.5 - 0.3 a year.

/// The least amplitude that is supposed, dioptres: what is left at 60 is depth of focus.
const LEAST_AMPLITUDE_D: f64 = 0.5;

/// Where an eye sees clearly, from the spectacle plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ClearRange {
    /// The farthest, mm; none where there is no end to it.
    pub far_mm: Option<f64>,
    /// The nearest, mm; none where there is neither addition nor accommodation.
    pub near_mm: Option<f64>,
}

/// Returns the mean amplitude of accommodation at an age in years, dioptres.
#[must_use]
pub(crate) fn mean_amplitude_d(age_years: f64) -> f64 {
    f64::max(18.5 - 0.3 * age_years, LEAST_AMPLITUDE_D)
}

/// Returns the clear range through an addition (0 or more, dioptres) with an amplitude of
/// accommodation (0 or more, dioptres).
#[must_use]
pub(crate) fn clear_range(addition_d: f64, amplitude_d: f64) -> ClearRange {
    office_range(addition_d, 0.0, amplitude_d)
}

/// Returns the clear range of an office lens: near through its near point, far through its top,
/// where the addition is less by the drop (0 or more, dioptres).
#[must_use]
pub(crate) fn office_range(addition_d: f64, power_drop_d: f64, amplitude_d: f64) -> ClearRange {
    ClearRange {
        far_mm: reach_mm(addition_d - power_drop_d),
        near_mm: reach_mm(addition_d + amplitude_d),
    }
}

/// The distance at which light that comes through so much power is parallel, mm.
fn reach_mm(power_d: f64) -> Option<f64> {
    (power_d > 1e-9).then(|| 1000.0 / power_d)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn is(found: Option<f64>, wanted: f64, within: f64) {
        let found = found.expect("a distance");
        assert!((found - wanted).abs() < within, "{found} is not {wanted}");
    }

    /// Published: a worked answer (amplitude 3.50, addition 2.25: 17 to 44 cm); Jalie, Progressive
    /// power lenses part 6 (+1.00 puts the far point at 100 cm).
    #[test]
    fn published_ranges_agree() {
        let range = clear_range(2.25, 3.5);
        is(range.far_mm, 444.4, 0.1);
        is(range.near_mm, 173.9, 0.1);
        is(clear_range(1.0, 2.0).far_mm, 1000.0, 1e-9);
    }

    #[test]
    fn the_drop_of_an_office_lens_takes_the_far_point_away() {
        let range = office_range(2.0, 1.25, 1.0);
        is(range.far_mm, 1333.3, 0.1);
        is(range.near_mm, 333.3, 0.1);
        assert_eq!(office_range(2.0, 2.0, 1.0).far_mm, None);
        assert_eq!(office_range(2.0, 2.5, 1.0).far_mm, None);
        let nothing = clear_range(0.0, 0.0);
        assert_eq!((nothing.far_mm, nothing.near_mm), (None, None));
    }

    #[test]
    fn the_amplitude_falls_with_age_to_half_a_dioptre() {
        assert!((mean_amplitude_d(45.0) - 5.0).abs() < 1e-12);
        assert!((mean_amplitude_d(60.0) - 0.5).abs() < 1e-12);
        assert!((mean_amplitude_d(80.0) - 0.5).abs() < 1e-12);
    }
}
