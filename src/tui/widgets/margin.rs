//! How much of a tolerance is used, as bars and as a table.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::theme::{Role, Theme};
use crate::trade::tolerance::{Quantity, Report};

/// Returns a bar of the share of a tolerance that is used, `width` columns with its number.
///
/// The bar is full at the limit; past it, it ends in an arrow and the word OVER. A share that is no
/// number says so instead.
pub(crate) fn margin_bar(used_percent: f64, width: u16, ascii: bool) -> Line<'static> {
    Line::from(bar_text(used_percent, usize::from(width), ascii))
}

fn bar_text(used: f64, width: usize, ascii: bool) -> String {
    if !used.is_finite() {
        return "no limit".chars().take(width).collect();
    }
    // The word follows the exact share: 100.4 is over, and must not read "100 % OVER".
    let over = used > 100.0;
    let shown = if over {
        used.ceil()
    } else {
        used.max(0.0).floor()
    };
    let words = if over {
        format!(" {shown:.0} % OVER")
    } else {
        format!(" {shown:.0} %")
    };
    let cells = width.saturating_sub(words.chars().count());
    let (full, empty, arrow) = if ascii {
        ('#', '.', '>')
    } else {
        ('█', '░', '▶')
    };
    let filled = if over { cells } else { cells_of(used, cells) };
    let mut bar: String = (0..cells)
        .map(|i| if i < filled { full } else { empty })
        .collect();
    if over && bar.pop().is_some() {
        bar.push(arrow);
    }
    format!("{bar}{words}").chars().take(width.max(1)).collect()
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "a share of 0 to 1 of a number of columns, rounded"
)]
fn cells_of(used_percent: f64, cells: usize) -> usize {
    (used_percent.max(0.0) / 100.0 * cells as f64).round() as usize
}

/// The name of what is compared, short enough for a column.
const fn name(what: Quantity) -> &'static str {
    match what {
        Quantity::PowerAlongAxis => "power along",
        Quantity::PowerAcrossAxis => "power across",
        Quantity::Cylinder => "cylinder",
        Quantity::Axis => "axis",
        Quantity::Addition => "addition",
        Quantity::PrismHorizontal => "prism in/out",
        Quantity::PrismVertical => "prism up/down",
        Quantity::Centration => "centration",
        Quantity::Height => "height",
        Quantity::HeightDifference => "height diff.",
    }
}

fn number(what: Quantity, value: f64, signed: bool) -> String {
    // Nothing has no sign: dust of a difference would be shown as -0.00.
    let value = if value.abs() < 0.005 { 0.0 } else { value };
    match what {
        Quantity::Axis => format!("{value:.0}°"),
        Quantity::Centration | Quantity::Height | Quantity::HeightDifference => {
            format!("{value:.1}")
        }
        _ if signed => format!("{value:+.2}"),
        _ => format!("{value:.2}"),
    }
}

/// Returns the comparison as lines: what, eye, ordered, read, error, limit and a bar of the share
/// used; what could not be compared comes last.
pub(crate) fn tolerance_table(report: &Report, width: u16, theme: Theme) -> Vec<Line<'static>> {
    let width = usize::from(width);
    let mut lines = vec![Line::styled(
        fit(
            &format!(
                "{:13} {:5} {:>7} {:>7} {:>6} {:>6} used",
                "what", "eye", "ordered", "read", "error", "limit"
            ),
            width,
        ),
        theme.style(Role::Muted),
    )];
    for line in &report.lines {
        let signed = |v| number(line.what, v, true);
        let size = |v| number(line.what, v, false);
        let text = format!(
            "{:13} {:5} {:>7} {:>7} {:>6} {:>6} ",
            name(line.what),
            line.eye.word(),
            signed(line.ordered),
            signed(line.measured),
            size(line.error),
            size(line.limit)
        );
        let room = width.saturating_sub(text.chars().count());
        // An eighth may lie past its printed two decimals and still pass: the bar then stops at full.
        let used = if line.pass {
            line.used_percent.min(100.0)
        } else {
            line.used_percent
        };
        let role = if line.pass { Role::Good } else { Role::Stop };
        let mut spans = vec![Span::styled(fit(&text, width), Style::new())];
        if room > 0 {
            spans.push(Span::styled(
                bar_text(used, room.min(24), theme.is_ascii()),
                theme.style(role),
            ));
        }
        lines.push(Line::from(spans));
    }
    for missing in &report.missing {
        let text = format!(
            "{:13} {:5} not read: it cannot be compared",
            name(missing.what),
            missing.eye.word()
        );
        lines.push(Line::styled(fit(&text, width), theme.style(Role::Warning)));
    }
    lines
}

fn fit(text: &str, width: usize) -> String {
    text.chars().take(width).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::eye::PerEye;
    use crate::trade::optics::Rx;
    use crate::trade::tolerance::{EyeValues, LensKind, Options, Standard, compare};

    #[test]
    fn bars_are_read_without_colour() {
        assert_eq!(bar_text(62.0, 10, false), "███░░ 62 %");
        assert_eq!(bar_text(0.0, 9, false), "░░░░░ 0 %");
        assert_eq!(bar_text(100.0, 11, false), "█████ 100 %");
        assert_eq!(bar_text(131.0, 17, false), "█████▶ 131 % OVER");
        assert_eq!(bar_text(131.0, 17, true), "#####> 131 % OVER");
        assert_eq!(bar_text(100.4, 17, true), "#####> 101 % OVER");
        assert_eq!(bar_text(f64::NAN, 20, false), "no limit");
    }

    #[test]
    fn no_width_makes_a_bar_wider_than_asked() {
        for width in 1..40 {
            for used in [0.0, 55.5, 100.0, 250.0, f64::INFINITY, -3.0] {
                assert!(bar_text(used, width, false).chars().count() <= width);
            }
        }
    }

    #[test]
    fn every_line_of_a_report_has_its_numbers_and_its_bar() {
        let ordered = PerEye {
            right: Some(EyeValues::of(Rx::new(-2.25, -0.75, 90.0))),
            left: None,
        };
        let read = PerEye {
            right: Some(EyeValues::of(Rx::new(-2.75, -0.75, 92.0))),
            left: None,
        };
        let report = compare(
            Standard::Iso21987_2017,
            LensKind::SingleVision,
            &ordered,
            &read,
            Options::default(),
        )
        .unwrap();
        let text: Vec<String> = tolerance_table(&report, 78, Theme::new(true, None))
            .iter()
            .map(ToString::to_string)
            .collect();
        assert_eq!(text.len(), 1 + report.lines.len() + report.missing.len());
        assert!(text.iter().any(|l| l.contains("OVER")), "{text:#?}");
        assert!(text.iter().all(|l| l.chars().count() <= 78));
        assert!(
            text.iter()
                .any(|l| l.starts_with("axis          right     90°     92°     2°")),
            "{text:#?}"
        );
    }
}
