//! The text of numbers next to a picture, and equal steps along an axis.

/// A power.
pub(super) fn power(d: f64) -> String {
    signed(d, 2, "D")
}

/// A length.
pub(super) fn mm(value: f64) -> String {
    format!("{value:.1} mm")
}

/// An amount of prism, by its size.
pub(super) fn delta(value: f64) -> String {
    format!("{:.2} Δ", value.abs())
}

/// A number with its sign; a nought has none.
pub(super) fn signed(value: f64, decimals: usize, unit: &str) -> String {
    let text = format!("{value:+.decimals$}");
    let is_nought = !text.chars().any(|c| ('1'..='9').contains(&c));
    let text = if is_nought {
        text.replace(['+', '-'], "")
    } else {
        text
    };
    format!("{text} {unit}")
}

/// Equal steps from one value to another, both ends included.
pub(super) fn steps(from: f64, to: f64, count: u32) -> impl Iterator<Item = f64> {
    let count = count.max(1);
    (0..=count).map(move |i| from + (to - from) * f64::from(i) / f64::from(count))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rounded_nought_has_no_sign() {
        assert_eq!(power(-0.001), "0.00 D");
        assert_eq!(power(0.25), "+0.25 D");
        assert_eq!(signed(-3.0, 0, "%"), "-3 %");
    }

    #[test]
    fn steps_reach_both_ends() {
        let all: Vec<f64> = steps(8.0, 20.0, 3).collect();
        assert_eq!(all, [8.0, 12.0, 16.0, 20.0]);
    }
}
