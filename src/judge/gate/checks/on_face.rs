//! Checks of what the fitter saw and the wearer said with the pair on: a pair of which one of these
//! is answered with no is not handed over.

use super::restricted::is_restricted_child;
use super::values;
use crate::job::fields::at;
use crate::job::{Design, Gate};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::notation::{LINE_LOG_MAR, best_log_mar, might_be_log_mar};

pub(crate) static HEIGHTS_BEFORE_ADJUSTING: Check = Check {
    id: CheckId::HeightsBeforeAdjusting,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the frame was adjusted after the heights on the face were read, even where one was cleared since; or a height that was cleared was taken back, or the design changed to one for which another height counts",
    ways_out: &["read the heights again"],
    source: "Brooks and Borish, System for Ophthalmic Dispensing: adjust, then measure",
    run: |c, found| {
        let h = &c.job.handover;
        let segment = c.job.lenses.design.is_some_and(Design::has_segment);
        for eye in h.adjusted_after_heights.iter().flatten() {
            let field = if segment {
                "segment_height_mm"
            } else {
                "height_mm"
            };
            let here = h.eye(*eye);
            let height = if segment {
                here.segment_height_mm
            } else {
                here.height_mm
            };
            let said = match height {
                Some(height) => format!(
                    "the {eye} height {height} mm was read before the frame was last adjusted or the design was changed, or was taken back since: read it again"
                ),
                None => format!(
                    "the {eye} height was read before the frame was last adjusted and is cleared now: read it"
                ),
            };
            found.add(
                *eye,
                format!("handover.{eye}.{field}"),
                said,
                values! {"height_mm" => here.height_mm, "segment_height_mm" => here.segment_height_mm},
                None,
            );
        }
    },
};

pub(crate) static FRAME_NOT_THE_ONE: Check = Check {
    id: CheckId::FrameNotTheOne,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the print on the frame is not that of the frame ordered",
    ways_out: &["find the wearer's own pair", "send back"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.handover.frame_checked == Some(false) {
            found.add(
                About::Job,
                at!(handover.frame_checked),
                "the print on the frame is not that of the frame ordered",
                values! {"frame_checked" => false, "frame" => c.job.frame.name},
                None,
            );
        }
    },
};

pub(crate) static SEES_DOUBLE: Check = Check {
    id: CheckId::SeesDouble,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the wearer sees double in the pair",
    ways_out: &["measure prism and heights again", "ask the prescriber"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.handover.sees_single == Some(false) {
            found.add(
                About::Job,
                at!(handover.sees_single),
                "the wearer sees double in the pair",
                values! {"sees_single" => false},
                None,
            );
        }
    },
};

pub(crate) static DOES_NOT_STAY: Check = Check {
    id: CheckId::DoesNotStay,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the pair does not stay in place; a stop for a child",
    ways_out: &["adjust bridge, bend and drop", "another frame"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.handover.stays != Some(false) {
            return;
        }
        let day = c.job.handover.given_on.unwrap_or(c.around.today);
        let severity = if is_restricted_child(c, day) {
            Severity::Stop
        } else {
            Severity::Warning
        };
        found.add_as(
            severity,
            About::Job,
            at!(handover.stays),
            "the pair does not stay in place when the head is shaken or bent",
            values! {"stays" => false},
            None,
        );
    },
};

pub(crate) static NUMBER_PLATE: Check = Check {
    id: CheckId::NumberPlate,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a driver does not read a number plate in the pair",
    ways_out: &[
        "ask the prescriber",
        "tell the wearer not to drive in it, and record it",
    ],
    source: "College of Optometrists guidance on driving",
    run: |c, found| {
        if c.job.handover.reads_number_plate == Some(false) {
            found.add(
                About::Job,
                at!(handover.reads_number_plate),
                "the wearer does not read a number plate at the distance that driving asks for",
                values! {"reads_number_plate" => false},
                None,
            );
        }
    },
};

pub(crate) static ACUITY_WORSE: Check = Check {
    id: CheckId::AcuityWorse,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "distance acuity with the pair is {acuity-lines:word} lines (0.1 logMAR each) or more below the better eye's at the sight test; a note where one could not be read as a number, or is a small decimal that may be logMAR",
    ways_out: &[
        "take it again, each eye",
        "read the pair again",
        "ask the prescriber",
    ],
    source: "Bailey and Lovie 1976: 0.1 logMAR a line, from memory; two lines: common practice",
    run: |c, found| {
        if c.job.lenses.is_near_single_vision() {
            return;
        }
        let written = |eye: Eye| c.job.prescription.eye(eye).acuity.as_deref();
        let tested: Vec<&str> = Eye::BOTH.iter().filter_map(|eye| written(*eye)).collect();
        let now = c.job.handover.distance_acuity.as_deref();
        let (false, Some(now)) = (tested.is_empty(), now) else {
            return;
        };
        let best = tested
            .iter()
            .filter_map(|text| best_log_mar(text))
            .min_by(f64::total_cmp);
        let values = values! {"distance_acuity" => now, "right" => written(Eye::Right), "left" => written(Eye::Left)};
        let (Some(best), Some(with_the_pair)) = (best, best_log_mar(now)) else {
            let what = match best {
                Some(_) => format!("with the pair, \"{now}\","),
                None => format!("at the sight test, \"{}\",", tested.join(" ")),
            };
            found.add_as(
                Severity::Note,
                About::Job,
                at!(handover.distance_acuity),
                format!(
                    "distance acuity {what} could not be read as a number, and nothing was compared: write it as 6/9, 20/30, 0.8 or logMAR 0.1"
                ),
                values,
                None,
            );
            return;
        };
        let all = tested.iter().chain([&now]);
        if let Some(small) = all.copied().find(|text| might_be_log_mar(text)) {
            found.add_as(
                Severity::Note,
                About::Job,
                at!(handover.distance_acuity),
                format!(
                    "distance acuity \"{small}\" was read as a decimal (0.1 is 6/60): where it is logMAR, write logMAR {small}"
                ),
                values.clone(),
                None,
            );
        }
        // By whole lines: 6/9 is 0.18 logMAR, the line two below 6/6.
        let lines = ((with_the_pair - best) / LINE_LOG_MAR).round();
        let limit = c.threshold(Threshold::AcuityLines);
        if lines >= limit {
            found.add(
                About::Job,
                at!(handover.distance_acuity),
                format!(
                    "distance acuity {now} is {lines:.0} lines below the better eye's at the sight test ({best:.2} then, {with_the_pair:.2} logMAR now)"
                ),
                values,
                Some(format!("{limit:.0} lines")),
            );
        }
    },
};
