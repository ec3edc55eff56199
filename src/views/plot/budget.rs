//! The accuracy budget as bars: how far each measurement may be wrong.

use super::{Bar, Bars};

/// One measurement.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct BudgetRow {
    /// What is measured.
    pub label: String,
    /// How far the true value may lie below; `None` where no limit is ever reached.
    pub minus: Option<f64>,
    /// How far above.
    pub plus: Option<f64>,
    /// Unit of both.
    pub unit: &'static str,
    /// Whether it is the one to measure twice.
    pub strong: bool,
}

/// Returns one bar a measurement, as long as the smaller of its two sides: a short bar is one to be
/// careful with.
pub(crate) fn budget_bars(rows: &[BudgetRow]) -> Bars {
    let bars = rows
        .iter()
        .map(|row| {
            let value = match (row.minus, row.plus) {
                (Some(a), Some(b)) => Some(a.min(b)),
                (one, other) => one.or(other),
            };
            let unit = row.unit;
            let mut text = match (row.minus.map(tenths), row.plus.map(tenths)) {
                (None, None) => "no limit is reached".to_owned(),
                (None, Some(plus)) => format!("{plus} {unit} more, less without limit"),
                (Some(minus), None) => format!("{minus} {unit} less, more without limit"),
                (Some(minus), Some(plus)) if minus == plus => {
                    format!("{minus} {unit} either way")
                }
                (Some(minus), Some(plus)) => format!("{minus} {unit} less, {plus} more"),
            };
            if row.strong {
                text.push_str(": measure twice");
            }
            Bar {
                label: row.label.clone(),
                value,
                unit: row.unit,
                text,
                strong: row.strong,
            }
        })
        .collect();
    Bars {
        title: "how far each measurement may be wrong".to_owned(),
        bars,
    }
}

/// Writes tenths, rounded down: what is shown is still allowed.
fn tenths(by: f64) -> String {
    // A tenth that is reached but for the last digits of the arithmetic counts as reached.
    format!("{:.1}", (by * 10.0 + 1e-6).floor() / 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_is_as_long_as_the_smaller_side_and_says_both() {
        let row = |minus, plus, strong| BudgetRow {
            label: "R CD".to_owned(),
            minus,
            plus,
            unit: "mm",
            strong,
        };
        let bars = budget_bars(&[
            row(Some(1.23), Some(0.8), true),
            row(None, None, false),
            row(Some(0.5), None, false),
            row(Some(2.0), Some(2.09), false),
        ])
        .bars;
        assert_eq!(bars[0].value, Some(0.8));
        assert_eq!(bars[0].text, "1.2 mm less, 0.8 more: measure twice");
        assert_eq!(
            (bars[1].value, bars[1].text.as_str()),
            (None, "no limit is reached")
        );
        assert_eq!(bars[2].text, "0.5 mm less, more without limit");
        assert_eq!(bars[3].text, "2.0 mm either way");
    }
}
