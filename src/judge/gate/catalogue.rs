//! The catalogue: every check, in the order in which people meet them.

use std::fmt::Write as _;

use crate::job::Gate;
use crate::judge::gate::check::Check;
use crate::judge::gate::checks::{
    acceptable_powers, additions, allergies, as_worn, asked, carried, centration, child_fit,
    compensates, fit, frames, handover, heights, imbalance, impact, lens_choice, made, making,
    on_face, orders, plausible, prescriptions, prism, prism_control, questions, readings, remakes,
    restricted, signed, tilt, tints, vertex,
};
use crate::judge::gate::id::CheckId;
use crate::practice::Thresholds;

/// Every check of every gate.
pub static CHECKS: &[&Check] = &[
    // To ordered.
    &prescriptions::RX_MISSING,
    &prescriptions::RX_FORM,
    &asked::BIRTH_UNASKED,
    &asked::BIRTH_UNLIKELY,
    &prescriptions::RX_EXPIRED,
    &prescriptions::RX_CHANGE,
    &prescriptions::RX_SIGN_SUSPECT,
    &prescriptions::EYES_EXCHANGED_SUSPECT,
    &additions::ADDITION_MISSING,
    &additions::ADDITION_UNEQUAL,
    &additions::ADDITION_UNLIKELY,
    &plausible::DAYS_IMPOSSIBLE,
    &plausible::VERTEX_RANGE,
    &vertex::BVD_MISSING,
    &vertex::BVD_UNMEASURED,
    &vertex::BVD_MISMATCH,
    &vertex::BVD_UNEQUAL,
    &acceptable_powers::POWERS_NEED_REGISTRANT,
    &acceptable_powers::POWERS_DIFFER,
    &acceptable_powers::ADAPTED_UNREASONED,
    &compensates::COMPENSATED_TWICE,
    &compensates::COMPENSATION_UNMEASURED,
    &additions::INTERMEDIATE_UNEQUAL,
    &centration::CENTRATION_MISSING,
    &centration::CENTRATION_METHOD,
    &centration::PD_RANGE,
    &centration::PD_SUM,
    &centration::PD_ASYMMETRY,
    &centration::PD_REPEAT,
    &centration::PD_NEAR,
    &centration::CD_CHANGE,
    &centration::PD_WITH_DEVIATION,
    &centration::MEASURE_TWICE,
    &carried::CARRIED_FOREIGN,
    &carried::CARRIED_STALE,
    &heights::HEIGHT_MISSING,
    &heights::HEIGHT_IMPOSSIBLE,
    &heights::HEIGHT_LOW,
    &heights::HEIGHT_ASYMMETRY,
    &heights::HEIGHT_REPEAT,
    &heights::HEIGHT_MINIMUM,
    &heights::HEIGHT_ABOVE,
    &tilt::TILT_RANGE,
    &tilt::TILT_REPEAT,
    &prism::PRISM_MOVES_SIGHT,
    &child_fit::CHILD_FIT,
    &tilt::FACE_FORM_RANGE,
    &as_worn::AS_WORN_ERROR,
    &frames::FRAME_MISSING,
    &frames::FRAME_BOXED,
    &frames::FRAME_NARROW,
    &frames::FRAME_WIDE,
    &frames::FRAME_UNNAMED,
    &frames::FRAME_UNSEEN,
    &frames::CURVE_MISMATCH,
    &frames::SIDE_SHORT,
    &frames::BEND_ASYMMETRY,
    &allergies::ALLERGY_UNASKED,
    &carried::CARRIED_ANSWERS,
    &allergies::ALLERGY_NICKEL,
    &allergies::ALLERGY_PAD,
    &allergies::ALLERGY_PLASTIC,
    &allergies::ALLERGY_UNKNOWN,
    &allergies::NICKEL_WORN,
    &frames::FRAME_CONDITION,
    &restricted::RESTRICTED_UNDER_16,
    &restricted::RESTRICTED_SIGHT_IMPAIRED,
    &asked::SIGHT_UNASKED,
    &asked::DRIVING_UNASKED,
    &impact::IMPACT_CHILD,
    &impact::IMPACT_ONE_EYE,
    &impact::IMPACT_WORK,
    &lens_choice::LENSES_MISSING,
    &imbalance::ANISO_NEAR,
    &imbalance::ANISEIKONIA,
    &prism::PRISM_UNSPLIT,
    &prism::PRISM_OPPOSED,
    &making::BLANK_SMALL,
    &making::DECENTRATION_LARGE,
    &making::EDGE_THICK,
    &frames::MATERIAL_RIM,
    &tints::TINT_DRIVING,
    &tints::TINT_CONTRADICTS,
    &tints::TINT_DARK,
    &restricted::MEASURED_BY,
    &orders::ORDER_INCOMPLETE,
    &lens_choice::LENS_UNNAMED,
    &orders::DUE_LATE,
    &questions::QUESTION_OPEN,
    &signed::UNSIGNED,
    &orders::ORDER_DUPLICATE,
    &remakes::REMAKE_UNTRIED,
    &remakes::REMAKE_SAME,
    // To verified.
    &readings::READINGS_MISSING,
    &readings::LABORATORY_POWERS_MISSING,
    &readings::LABORATORY_POWERS_DOUBTFUL,
    &made::LENS_POWER,
    &made::LENS_CYLINDER,
    &made::LENS_AXIS,
    &made::LENS_ADDITION,
    &made::PAIR_PRISM_HORIZONTAL,
    &made::PAIR_PRISM_VERTICAL,
    &made::PRISM_REVERSED,
    &made::CENTRATION_MADE,
    &made::HEIGHT_MADE,
    &made::HEIGHT_DIFFERENCE,
    &readings::SEGMENT_TILT,
    &made::EYES_EXCHANGED,
    &readings::CENTRE_THICKNESS,
    &readings::BASE_CURVE,
    &readings::SURFACE_MARKED,
    &readings::MARKINGS_WRONG,
    &readings::UNCONFIRMED,
    &readings::FRAME_UNTRUED,
    &readings::MOUNTING_UNSOUND,
    &prism_control::PRISM_CONTROL_MADE,
    &readings::NEAR_LIMIT,
    // To collected.
    &handover::IDENTITY_UNCHECKED,
    &restricted::HANDOVER_BY,
    &restricted::RESTRICTED_HANDOVER,
    &fit::FIT_UNRECORDED,
    &fit::NOT_FITTED,
    &fit::FIT_VERTEX,
    &fit::FIT_HEIGHT,
    &fit::FIT_TILT,
    &fit::FIT_BEARING,
    &on_face::FRAME_NOT_THE_ONE,
    &on_face::HEIGHTS_BEFORE_ADJUSTING,
    &on_face::DOES_NOT_STAY,
    &handover::ACUITY_MISSING,
    &on_face::ACUITY_WORSE,
    &handover::NOT_COMFORTABLE,
    &on_face::SEES_DOUBLE,
    &on_face::NUMBER_PLATE,
    &handover::ADVICE_MISSING,
    &prescriptions::RX_EXPIRED_AT_HANDOVER,
];

/// Returns the first check of an id.
pub fn by_id(id: CheckId) -> Option<&'static Check> {
    CHECKS.iter().copied().find(|c| c.id == id)
}

/// Returns the catalogue with the thresholds in force, as a page: with the defaults it is
/// `docs/checks.md`.
pub fn markdown(thresholds: &Thresholds) -> String {
    let mut page = String::from(
        "# The checks of the gates\n\n\
         Printed from the program by `rimbook checks --markdown`. A **stop** cannot be accepted by\n\
         anyone; a **warning** is settled by a changed value or accepted with a reason by the role\n\
         named; a **note** is only shown. Limits are to be confirmed against the standard and the\n\
         law in force where the practice works.\n",
    );
    for gate in Gate::ALL {
        let _ = write!(
            page,
            "\n## To {gate}\n\n| id | severity | accepted by | holds the job when | ways out | source |\n|---|---|---|---|---|---|\n"
        );
        for check in CHECKS.iter().filter(|c| c.gate == *gate) {
            let _ = writeln!(
                page,
                "| `{}` | {} | {} | {} | {} | {} |",
                check.id,
                check.severity.word(),
                check.accept.word(),
                check.holds_when(thresholds),
                check.ways_out.join("; "),
                check.source(thresholds)
            );
        }
    }
    page
}
