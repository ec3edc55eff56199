//! Checks of what the fitter saw and the wearer said with the pair on: a pair of which one of these
//! is answered with no is not handed over.

use super::restricted::is_restricted_child;
use super::values;
use crate::eye::Eye;
use crate::gate::{About, Acceptable, Check, PRACTICE, Severity};
use crate::job::{Design, Gate};

/// `heights-before-adjusting`.
pub static HEIGHTS_BEFORE_ADJUSTING: Check = Check {
    id: "heights-before-adjusting",
    gate: Gate::Collected,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the frame was adjusted after the heights on the face were read, even where one was cleared since; or a height that was cleared was taken back",
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
            let stands = if segment {
                here.segment_height_mm
            } else {
                here.height_mm
            };
            let said = match stands {
                Some(height) => format!(
                    "the {eye} height {height} mm was read before the frame was last adjusted, or was taken back since: read it again"
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

/// `frame-not-the-one`.
pub static FRAME_NOT_THE_ONE: Check = Check {
    id: "frame-not-the-one",
    gate: Gate::Collected,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the print on the frame is not that of the frame ordered",
    ways_out: &["find the wearer's own pair", "send back"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.handover.frame_checked == Some(false) {
            found.add(
                About::Job,
                "handover.frame_checked",
                "the print on the frame is not that of the frame ordered",
                values! {"frame_checked" => false, "frame" => c.job.frame.name},
                None,
            );
        }
    },
};

/// `sees-double`.
pub static SEES_DOUBLE: Check = Check {
    id: "sees-double",
    gate: Gate::Collected,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the wearer sees double in the pair",
    ways_out: &["measure prism and heights again", "ask the prescriber"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.handover.sees_single == Some(false) {
            found.add(
                About::Job,
                "handover.sees_single",
                "the wearer sees double in the pair",
                values! {"sees_single" => false},
                None,
            );
        }
    },
};

/// `does-not-stay`.
pub static DOES_NOT_STAY: Check = Check {
    id: "does-not-stay",
    gate: Gate::Collected,
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
            "handover.stays",
            "the pair does not stay in place when the head is shaken or bent",
            values! {"stays" => false},
            None,
        );
    },
};

/// `number-plate`.
pub static NUMBER_PLATE: Check = Check {
    id: "number-plate",
    gate: Gate::Collected,
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
                "handover.reads_number_plate",
                "the wearer does not read a number plate at the distance that driving asks for",
                values! {"reads_number_plate" => false},
                None,
            );
        }
    },
};

/// The steps of a chart of letters, from the smallest, as the denominator for six metres.
const LINES: [f64; 12] = [
    4.0, 5.0, 6.0, 7.5, 9.0, 12.0, 18.0, 24.0, 36.0, 48.0, 60.0, 120.0,
];

/// Returns how many lines of the chart down an acuity lies, or nothing for one that is no fraction.
fn chart_line(text: &str) -> Option<usize> {
    let (distance, rest) = text.trim().split_once('/')?;
    let end = rest
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(rest.len());
    let letters: f64 = rest.get(..end)?.parse().ok()?;
    let distance: f64 = distance.parse().ok().filter(|d| *d > 0.0)?;
    let at_six = letters * 6.0 / distance;
    if !at_six.is_finite() || at_six <= 0.0 {
        return None;
    }
    // By ratio: 20/20 and 6/6 are one line, 6/10 lies nearest to 6/9.
    let apart = |line: f64| (line / at_six).ln().abs();
    LINES
        .iter()
        .enumerate()
        .min_by(|a, b| apart(*a.1).total_cmp(&apart(*b.1)))
        .map(|(at, _)| at)
}

/// Returns the best line in what was written of an acuity, such as `R 6/9 L 6/6`.
fn best_line(text: &str) -> Option<usize> {
    text.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';'))
        .filter_map(chart_line)
        .min()
}

/// `acuity-worse`.
pub static ACUITY_WORSE: Check = Check {
    id: "acuity-worse",
    gate: Gate::Collected,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "distance acuity with the pair is two lines or more below the better eye's at the sight test",
    ways_out: &[
        "take it again, each eye",
        "read the pair again",
        "ask the prescriber",
    ],
    source: PRACTICE,
    run: |c, found| {
        if c.job.lenses.is_near_single_vision() {
            return;
        }
        let written = |eye: Eye| c.job.prescription.eye(eye).acuity.as_deref();
        let best = Eye::BOTH
            .iter()
            .filter_map(|eye| best_line(written(*eye)?))
            .min();
        let now = c.job.handover.distance_acuity.as_deref();
        let (Some(best), Some(line)) = (best, now.and_then(best_line)) else {
            return;
        };
        if line >= best + 2 {
            found.add(
                About::Job,
                "handover.distance_acuity",
                format!(
                    "distance acuity {} is {} lines below the better eye's at the sight test",
                    now.unwrap_or_default(),
                    line - best
                ),
                values! {"distance_acuity" => now, "right" => written(Eye::Right), "left" => written(Eye::Left)},
                Some("2 lines".to_owned()),
            );
        }
    },
};

#[cfg(test)]
mod tests {
    use super::chart_line;

    #[test]
    fn acuities_of_any_distance_are_lines_of_one_chart() {
        for (text, line) in [
            ("6/6", Some(2)),
            ("20/20", Some(2)),
            ("6/9-2", Some(4)),
            ("6/7.5", Some(3)),
            ("3/60", Some(11)),
            ("20/40", Some(5)),
            ("counts fingers", None),
            ("6/", None),
            ("0/6", None),
        ] {
            assert_eq!(chart_line(text), line, "{text}");
        }
    }
}
