//! The power that a prescription comes to in the lens that is ordered.

use super::{Design, EyePower, EyePrescription, Lenses, Purpose};
use crate::trade::units::Dioptre;

/// Returns what is ordered of an eye's prescription, as prescribed, in lenses of that design and
/// purpose: single vision lenses for near have the addition in their sphere and the near prism where
/// one is written, those for intermediate the intermediate addition; neither has an addition of its
/// own.
pub(crate) fn power_to_order(written: &EyePrescription, lenses: &Lenses) -> EyePower {
    let is_single = lenses.design == Some(Design::SingleVision);
    let purpose = lenses.purpose.filter(|_| is_single);
    let added = match purpose {
        Some(Purpose::Near) => written.addition_d,
        Some(Purpose::Intermediate) => written.intermediate_addition_d,
        _ => None,
    };
    let sphere = |sphere: Dioptre| {
        let added = added.unwrap_or_default();
        Dioptre::from_thousandths(sphere.thousandths() + added.thousandths())
    };
    let near = [written.near_base_in_delta, written.near_base_up_delta];
    let has_near = purpose == Some(Purpose::Near) && near.iter().any(Option::is_some);
    let [base_in_delta, base_up_delta] = if has_near {
        near
    } else {
        [written.base_in_delta, written.base_up_delta]
    };
    EyePower {
        sphere_d: written.sphere_d.map(sphere),
        cylinder_d: written.cylinder_d,
        axis_deg: written.axis_deg,
        addition_d: written.addition_d.filter(|_| !is_single),
        base_in_delta,
        base_up_delta,
    }
}
