//! Checks of what the lenses do differently to the eyes: prism at the reading point, image size.

use super::{power_value, to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Design, Gate, Job, Purpose};
use crate::judge::derive::lens::{image_sizes_apart, magnification_along_percent};
use crate::judge::derive::one_eye::has_one_useful_eye;
use crate::judge::derive::powers::ordered_or_prescribed;
use crate::judge::derive::segments::{AtReading, Segments, at_reading, previous_difference_delta};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Severity};
use crate::practice::Threshold;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::Rx;
use crate::trade::tolerance::DUST;
use crate::trade::units::Dioptre;

/// What the difference at the reading point counts in, leaves out or meets; empty where there is
/// nothing to say.
fn counted(near: &AtReading) -> String {
    let segments = match near.segments {
        Segments::Cancel => None,
        Segments::Differ(_) => Some("the segments' own prism included".to_owned()),
        Segments::Unknown => Some(
            "the segments' own prism left out, their size or height is not recorded".to_owned(),
        ),
    };
    let control = near.control.map(|control| {
        let (eye, amount) = (control.eye, control.amount_delta);
        if near.control_on_the_wrong_lens().is_some() {
            format!(
                "prism control of {amount:.2} is ordered on the {eye} lens, but the {} lens needs it",
                eye.other()
            )
        } else {
            format!("{amount:.2} of prism control on the {eye} lens taken off")
        }
    });
    let said: Vec<String> = segments.into_iter().chain(control).collect();
    if said.is_empty() {
        String::new()
    } else {
        format!(" ({})", said.join("; "))
    }
}

pub(crate) static ANISO_NEAR: Check = Check {
    id: CheckId::AnisoNear,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the eyes' vertical prism, without prescribed prism, differs by more than {aniso-near:1} at the reading point of a multifocal or general pair (a note where the previous pair had the same within {aniso-same:1})",
    ways_out: &[
        "prism control in the lower part (slab-off)",
        "a separate reading pair",
        "unequal segments",
    ],
    source: "McCarthy, anisometropia; common practice",
    run: |c, found| {
        let l = &c.job.lenses;
        let looks_down =
            l.design.is_some_and(Design::needs_addition) || l.purpose == Some(Purpose::General);
        if !looks_down || has_one_useful_eye(c.job) {
            return;
        }
        let powers = PerEye::from_fn(|eye| ordered_or_prescribed(c.job, eye));
        let (Some((right, left)), Some(near)) = (powers.both(), at_reading(c.job)) else {
            return;
        };
        let mut values = values! {
            "right" => power_value(*right), "left" => power_value(*left), "drop_mm" => near.drop_mm,
        };
        if matches!(near.segments, Segments::Differ(_)) {
            let difference = to_thousandth(near.difference_delta);
            values.insert("with_segments_delta".to_owned(), difference);
        }
        if let Some(control) = near.control {
            let ordered =
                values! {"eye" => control.eye.word(), "amount_delta" => control.amount_delta};
            values.insert("prism_control".to_owned(), ordered.into_iter().collect());
        }
        let limit = c.threshold(Threshold::AnisoNear);
        let apart = near.left_delta();
        if apart > limit + DUST {
            let same = c.threshold(Threshold::AnisoSame);
            let before =
                previous_difference_delta(c.job).filter(|before| is_the_same(&near, *before, same));
            let severity = before.map_or(Severity::Warning, |_| Severity::Note);
            let before = before.map_or(String::new(), |before| {
                format!("; the previous pair's by {:.2}", before.abs())
            });
            found.add_as(
                severity,
                About::Pair,
                at!(lenses.design),
                format!(
                    "{:.0} mm below the centres the eyes' vertical prism differs by {apart:.2} prism dioptres{}{before}",
                    near.drop_mm,
                    counted(&near)
                ),
                values,
                Some(format!("{limit:.2} prism dioptres")),
            );
        } else if let Some(control) = near.control_on_the_wrong_lens() {
            found.add_as(
                Severity::Note,
                About::Pair,
                at!(lenses.prism_control.eye),
                format!(
                    "{:.0} mm below the centres the eyes' vertical prism differs by {apart:.2} prism dioptres, by {:.2} \
                     with prism control on the {} lens: the {} lens would need it",
                    near.drop_mm,
                    apart + control.amount_delta,
                    control.eye,
                    control.eye.other()
                ),
                values,
                Some(format!("{limit:.2} prism dioptres")),
            );
        }
    },
};

/// Whether the previous pair had the same difference, the same way up, within a limit.
fn is_the_same(near: &AtReading, before_delta: f64, within_delta: f64) -> bool {
    let now_delta = near.left_delta().copysign(near.difference_delta);
    (now_delta - before_delta).abs() <= within_delta + DUST
}

/// Returns the power of an eye in the previous pair, as this pair is for: with its addition in a
/// single vision pair for near.
fn previous_power(job: &Job, eye: Eye) -> Option<Rx> {
    let before = job.prescription.previous.as_ref()?.eye(eye);
    let rx = before.rx()?;
    Some(match before.addition_d.map(Dioptre::get) {
        Some(addition) if job.lenses.is_near_single_vision() => rx.plus_sphere(addition),
        _ => rx,
    })
}

pub(crate) static ANISEIKONIA: Check = Check {
    id: CheckId::Aniseikonia,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the estimated magnification of the eyes differs by more than {aniseikonia:0} percent points along any meridian (a note where it is not more than {aniseikonia-same:0} over that of the previous pair)",
    ways_out: &[
        "match curves and thickness",
        "a shorter vertex distance",
        "a contact lens",
    ],
    source: "Duane's, chapter 47: symptoms from 3 to 5 %",
    run: |c, found| {
        if has_one_useful_eye(c.job) {
            return;
        }
        let powers = PerEye::from_fn(|eye| ordered_or_prescribed(c.job, eye));
        let Some(sizes) = image_sizes_apart(c.job, powers) else {
            return;
        };
        let limit = c.threshold(Threshold::Aniseikonia);
        let apart = sizes.worst_percent.abs();
        if apart <= limit + DUST {
            return;
        }
        let meridian = sizes.worst_meridian_deg;
        let along = PerEye::from_fn(|eye| magnification_along_percent(c.job, eye, meridian));
        let Some((right, left)) = along.both() else {
            return;
        };
        let before = image_sizes_apart(c.job, PerEye::from_fn(|eye| previous_power(c.job, eye)))
            .map(|before| before.worst_percent.abs());
        let same = c.threshold(Threshold::AniseikoniaSame);
        let was_so = before.filter(|before| apart <= before + same + DUST);
        let severity = was_so.map_or(Severity::Warning, |_| Severity::Note);
        let was_so = was_so.map_or(String::new(), |before| {
            format!("; {before:.1} with the previous powers")
        });
        let vertex = |eye| c.job.fitting.eye(eye).vertex_mm;
        found.add_as(
            severity,
            About::Pair,
            at!(lenses.base_d),
            format!(
                "image size right {right:+.1} %, left {left:+.1} % along {meridian:.0}: {apart:.1} percent points apart{was_so}"
            ),
            values! {
                "right_percent" => to_thousandth(*right), "left_percent" => to_thousandth(*left),
                "right_vertex_mm" => vertex(Eye::Right), "left_vertex_mm" => vertex(Eye::Left),
            },
            Some(format!("{limit:.1} percent points")),
        );
    },
};
