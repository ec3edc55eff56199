//! What to do about a vertex distance, as lines: setting the frame first.

use crate::judge::derive::powers::written;
use crate::judge::rules::remedy::{Remedy, RemedyKind, SETTING_MM};
use crate::tui::widgets::text::{fit, flush_end};
use crate::tui::widgets::theme::Role;

/// Columns of what can be done.
const WHAT: usize = 41;
/// Columns of the power.
const POWER: usize = 22;

/// Returns the lines for the detail of a finding; `is_made` says that the lenses are made already.
pub(crate) fn lines(r: &Remedy, is_made: bool) -> Vec<(String, Role)> {
    let mut out = vec![(
        format!(
            "{} {} {}",
            fit("what can be done, in this order", WHAT),
            fit("power worn", POWER),
            flush_end("error left", 12)
        ),
        Role::Label,
    )];
    let mut row = |what: String, kind: RemedyKind, role: Role| {
        if let Some(way) = r.way(kind) {
            let up_to = if kind == RemedyKind::SetNearly {
                "≤ "
            } else {
                ""
            };
            out.push((
                format!(
                    "{} {} {}",
                    fit(&what, WHAT),
                    fit(&written(way.rx), POWER),
                    flush_end(&format!("{up_to}{:.2} D", way.remaining_d), 12)
                ),
                role,
            ));
        }
    };
    let set = if is_made {
        "set the pads"
    } else {
        "set the frame"
    };
    row(
        format!(
            "1 {set} {:.1} mm {}, to {:.1} mm",
            r.move_mm().abs(),
            r.direction(),
            r.correct_at_mm
        ),
        RemedyKind::SetExactly,
        Role::Title,
    );
    row(
        format!("  the same to within {SETTING_MM:.0} mm"),
        RemedyKind::SetNearly,
        Role::Value,
    );
    let order = if is_made {
        "2 else compensated lenses, in quarters"
    } else {
        "2 else order compensated, in quarters"
    };
    row(order.to_owned(), RemedyKind::OrderQuarters, Role::Value);
    row(
        "  in eighths".to_owned(),
        RemedyKind::OrderEighths,
        Role::Value,
    );
    let exact = if (r.ordered_for_mm - r.sits_mm).abs() > 0.05 {
        format!("  exact, for the mean of {:.1} mm", r.ordered_for_mm)
    } else {
        "  exact".to_owned()
    };
    row(exact, RemedyKind::OrderExact, Role::Value);
    row(
        "  left as it is".to_owned(),
        RemedyKind::Leave,
        Role::Warning,
    );
    out.push((
        "2 and accepting: dispensing optician or optometrist; others: to the prescriber".to_owned(),
        Role::Label,
    ));
    // The slope says what to expect, the exact figures that it is not the same both ways.
    for (place, p) in r.per_mm.iter().enumerate() {
        let lead = if place == 0 { "1 mm changes" } else { "" };
        out.push((
            format!(
                "{} {:+.2} D by {:.3} D (F²/1000); {:.3} closer, {:.3} farther",
                fit(lead, 12),
                p.power_d,
                p.slope_d,
                p.closer_d.abs(),
                p.farther_d.abs()
            ),
            Role::Label,
        ));
    }
    out
}
