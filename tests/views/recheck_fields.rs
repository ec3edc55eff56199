//! No value of a pair is left out where a pair that came back is compared: another value in its first
//! job or at the recheck changes a row of the comparison, or the list below says why it is none of its
//! rows.

use std::collections::BTreeSet;

use crate::fields_seen::{jobs, samples, today};
use rimbook::testing::job::fields::{Field, all_fields, change, parse};
use rimbook::testing::job::{Job, Section};
use rimbook::testing::practice::Practice;
use rimbook::testing::views::recheck::compare;

/// Fields that no row compares, and why.
const NOT_COMPARED: [(&str, &[&str]); 12] = [
    (
        "A second reading: the first, or the median of three, is what counts.",
        &[
            "fitting.second_reading.binocular_pd_mm",
            "fitting.second_reading.face_form_deg",
            "fitting.second_reading.head_width_mm",
            "fitting.second_reading.left.cd_mm",
            "fitting.second_reading.left.height_mm",
            "fitting.second_reading.left.length_to_bend_mm",
            "fitting.second_reading.left.near_cd_mm",
            "fitting.second_reading.left.segment_height_mm",
            "fitting.second_reading.left.vertex_mm",
            "fitting.second_reading.near_pd_mm",
            "fitting.second_reading.pantoscopic_deg",
            "fitting.second_reading.right.cd_mm",
            "fitting.second_reading.right.height_mm",
            "fitting.second_reading.right.length_to_bend_mm",
            "fitting.second_reading.right.near_cd_mm",
            "fitting.second_reading.right.segment_height_mm",
            "fitting.second_reading.right.vertex_mm",
        ],
    ),
    (
        "The centres that were ordered are compared: these only lead to them.",
        &["fitting.binocular_pd_mm", "fitting.near_pd_mm"],
    ),
    (
        "Who, with what and how: no value of the pair.",
        &[
            "fitting.centration",
            "fitting.cover_test",
            "fitting.prism_in_place",
            "fitting.supervised_by",
            "fitting.taken_by",
            "fitting.taken_with",
            "readings.instrument",
            "readings.taken_by",
            "readings.taken_on",
        ],
    ),
    (
        "The frame is named on the page; what counts of it for the eyes is its sizes and how it sits.",
        &[
            "frame.base_d",
            "frame.colour",
            "frame.condition",
            "frame.contains_nickel",
            "frame.ed_mm",
            "frame.front_material",
            "frame.front_width_mm",
            "frame.identifier",
            "frame.impact_mark",
            "frame.impact_rated",
            "frame.length_to_bend_mm",
            "frame.lot",
            "frame.maker",
            "frame.name",
            "frame.nickel_release",
            "frame.owned_by_wearer",
            "frame.rim",
            "frame.side_material",
            "frame.side_mm",
            "frame.side_shape",
            "frame.supplier",
        ],
    ),
    (
        "An answer of the day of the handover: the steps of the visit ask for it again.",
        &[
            "handover.adjusted_after_heights",
            "handover.advice",
            "handover.collected_by",
            "handover.comfortable",
            "handover.distance_acuity",
            "handover.drop_follows",
            "handover.frame_checked",
            "handover.given_by",
            "handover.given_on",
            "handover.identity_checked",
            "handover.intermediate_acuity",
            "handover.let_back_even",
            "handover.method",
            "handover.near_acuity",
            "handover.no_pressure_marks",
            "handover.pads_level",
            "handover.reads_number_plate",
            "handover.review_on",
            "handover.sees_single",
            "handover.sides_even",
            "handover.stays",
            "handover.supervised_by",
            "handover.temples_free",
            "handover.wearer_words",
        ],
    ),
    (
        "The powers that were ordered are compared, whoever worked them out.",
        &[
            "lenses.compensates.face_form",
            "lenses.compensates.tilt",
            "lenses.compensates.vertex",
            "lenses.laboratory_powers.left.addition_d",
            "lenses.laboratory_powers.left.axis_deg",
            "lenses.laboratory_powers.left.base_in_delta",
            "lenses.laboratory_powers.left.base_up_delta",
            "lenses.laboratory_powers.left.cylinder_d",
            "lenses.laboratory_powers.right.addition_d",
            "lenses.laboratory_powers.right.axis_deg",
            "lenses.laboratory_powers.right.base_in_delta",
            "lenses.laboratory_powers.right.base_up_delta",
            "lenses.laboratory_powers.right.cylinder_d",
            "prescription.right.axis_deg",
            "prescription.right.cylinder_d",
            "prescription.tested_vertex_mm",
        ],
    ),
    (
        "How the lens is made and supplied: the gates have judged it, and a wearer does not notice it alone.",
        &[
            "lenses.blank_mm",
            "lenses.edge_finish",
            "lenses.form",
            "lenses.impact_asked",
            "lenses.impact_mark",
            "lenses.lowered_mm",
            "lenses.minimum_height_mm",
            "lenses.prism_control.amount_delta",
            "lenses.prism_control.eye",
            "lenses.prism_control.line_height_mm",
            "lenses.segment.left_width_mm",
            "lenses.segment.top_to_centre_mm",
            "lenses.supply",
            "lenses.thinnest_mm",
            "lenses.thinning_prism_up_delta",
        ],
    ),
    (
        "Of the tint, colour, transmittance and category are compared.",
        &[
            "lenses.tint.dark_category",
            "lenses.tint.photochromic",
            "lenses.tint.sun",
        ],
    ),
    (
        "An office lens is compared by its powers and its design.",
        &["lenses.far_mm", "lenses.power_drop_d"],
    ),
    (
        "Where the prescription comes from and how well the wearer saw: no value of the pair.",
        &[
            "prescription.copied_because",
            "prescription.copied_by",
            "prescription.expires_on",
            "prescription.kind",
            "prescription.left.acuity",
            "prescription.notes",
            "prescription.prescriber",
            "prescription.prescriber_registration",
            "prescription.previous.left.acuity",
            "prescription.previous.right.acuity",
            "prescription.right.acuity",
        ],
    ),
    (
        "Seldom prescribed; the page of the visit shows the prescription whole.",
        &[
            "prescription.left.intermediate_addition_d",
            "prescription.left.near_base_in_delta",
            "prescription.left.near_base_up_delta",
            "prescription.previous.left.intermediate_addition_d",
            "prescription.previous.left.near_base_in_delta",
            "prescription.previous.left.near_base_up_delta",
            "prescription.previous.right.intermediate_addition_d",
            "prescription.previous.right.near_base_in_delta",
            "prescription.previous.right.near_base_up_delta",
            "prescription.right.intermediate_addition_d",
            "prescription.right.near_base_in_delta",
            "prescription.right.near_base_up_delta",
        ],
    ),
    (
        "What was looked at when the pair came; the readings that are judged are rows of their own.",
        &[
            "readings.coatings_confirmed",
            "readings.frame_trued",
            "readings.impact_mark",
            "readings.left.engraving",
            "readings.left.identifier",
            "readings.left.lot",
            "readings.markings",
            "readings.material_confirmed",
            "readings.mounting_sound",
            "readings.prism_control_delta.left",
            "readings.prism_control_delta.right",
            "readings.right.engraving",
            "readings.right.identifier",
            "readings.right.lot",
            "readings.segment_tilt_deg",
            "readings.surface",
            "readings.tint_confirmed",
        ],
    ),
];

/// The sections that hold values of a pair as it was prescribed, measured, chosen, read and fitted.
const OF_THE_PAIR: [Section; 6] = [
    Section::Prescription,
    Section::Fitting,
    Section::Frame,
    Section::Lenses,
    Section::Readings,
    Section::Handover,
];

fn is_compared(field: &Field, jobs: &[Job]) -> bool {
    let practice = Practice::default();
    jobs.iter().any(|job| {
        let same = compare(job, Some(job), &practice);
        samples(field).iter().any(|sample| {
            let Ok(value) = parse(field, sample, today()) else {
                return false;
            };
            let mut changed = job.clone();
            changed.record(field.section, &change(field, value)).is_ok()
                && (compare(&changed, Some(job), &practice) != same
                    || compare(job, Some(&changed), &practice) != same)
        })
    })
}

#[test]
fn every_value_of_a_pair_is_compared_or_has_a_reason_not_to_be() {
    let jobs = jobs();
    let left_out: BTreeSet<&str> = all_fields()
        .iter()
        .filter(|field| OF_THE_PAIR.contains(&field.section) && !is_compared(field, &jobs))
        .map(Field::full)
        .collect();
    let excused: BTreeSet<&str> = NOT_COMPARED
        .iter()
        .flat_map(|(_, paths)| paths.iter().copied())
        .collect();
    let forgotten: Vec<_> = left_out.difference(&excused).collect();
    assert!(forgotten.is_empty(), "no row compares {forgotten:#?}");
    let compared: Vec<_> = excused.difference(&left_out).collect();
    assert!(compared.is_empty(), "compared after all: {compared:#?}");
}
