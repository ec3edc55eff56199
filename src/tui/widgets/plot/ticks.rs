//! Round numbers along an axis.

use super::raster::is_drawable;

/// Numbers along an axis, all written with the same decimals.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ticks {
    /// The numbers.
    pub at: Vec<f64>,
    /// Decimals with which all of them are exact.
    pub decimals: usize,
}

impl Ticks {
    /// Writes one of them.
    pub(super) fn write(&self, value: f64) -> String {
        let text = format!("{value:.*}", self.decimals);
        if text.trim_start_matches(['-', '0', '.']).is_empty() {
            "0".to_owned()
        } else {
            text
        }
    }

    /// Returns the columns of the widest one.
    pub(super) fn width(&self) -> usize {
        let widths = self.at.iter().map(|v| self.write(*v).len());
        widths.max().unwrap_or(0)
    }
}

/// Returns round numbers (1, 2 or 5 and noughts) between two values, at most so many.
pub(super) fn ticks((low, high): (f64, f64), most: u16) -> Ticks {
    let none = Ticks {
        at: Vec::new(),
        decimals: 0,
    };
    let most = f64::from(most.max(1));
    let width = high - low;
    if !is_drawable(low) || !is_drawable(high) || width <= 0.0 || width < 1e-9 {
        return none;
    }
    let mut decade = 10f64.powf((width / most).log10().floor());
    let mut decimals = decimals_of(decade);
    let step = loop {
        let fits = [1.0, 2.0, 5.0]
            .into_iter()
            .map(|m| m * decade)
            .find(|step| (high / step).floor() - (low / step).ceil() < most);
        if let Some(step) = fits {
            break step;
        }
        decade *= 10.0;
        decimals = decimals_of(decade);
    };
    let mut at = Vec::new();
    let mut next = (low / step - 1e-9).ceil();
    // Beyond the last digit of a number, adding one changes nothing.
    while next * step <= high + step * 1e-9 && next + 1.0 > next {
        at.push(next * step);
        next += 1.0;
    }
    Ticks { at, decimals }
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a small whole number, not below nought"
)]
fn decimals_of(decade: f64) -> usize {
    (-decade.log10()).round().clamp(0.0, 9.0) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_few_and_within() {
        for (range, most) in [
            ((0.0, 1.0), 5),
            ((-10.37, -9.61), 4),
            ((8.0, 20.0), 7),
            ((0.0, 0.013), 3),
            ((-1.0, 1.0), 1),
            ((250.0, 800.0), 6),
        ] {
            let t = ticks(range, most);
            assert!(t.at.len() <= usize::from(most) + 1, "{range:?} {t:?}");
            for v in &t.at {
                assert!(*v >= range.0 - 1e-9 && *v <= range.1 + 1e-9);
                let written: f64 = t.write(*v).parse().unwrap();
                assert!((written - v).abs() < 1e-9, "{t:?}");
            }
        }
        assert_eq!(
            ticks((8.0, 20.0), 7).at,
            [8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0]
        );
    }

    #[test]
    fn an_axis_without_length_has_none() {
        assert!(ticks((1.0, 1.0), 5).at.is_empty());
        assert!(ticks((f64::NAN, 1.0), 5).at.is_empty());
        assert!(ticks((0.0, f64::INFINITY), 5).at.is_empty());
        assert!(ticks((9e8, 9e8 + 1e-7), 5).at.len() <= 6);
    }
}
