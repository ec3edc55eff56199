//! From how near to how far a wearer sees clearly, as bars.
//!
//! [`crate::trade::optics::clear_range`].

use super::{Bar, Bars};
use crate::trade::optics::clear_range::ClearRange;

/// Returns the farthest and the nearest as bars from the spectacle plane, in centimetres.
pub(crate) fn clear_range_bars(range: ClearRange) -> Bars {
    let bar = |label: &str, mm: Option<f64>, none: &str, strong: bool| Bar {
        label: label.to_owned(),
        value: mm.map(|mm| mm / 10.0),
        unit: "cm",
        text: mm.map_or_else(|| none.to_owned(), |mm| format!("{:.0} cm", mm / 10.0)),
        strong,
    };
    Bars {
        title: "clear from the spectacles to".to_owned(),
        bars: vec![
            bar("farthest", range.far_mm, "no end", true),
            bar("nearest", range.near_mm, "no end", false),
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::optics::clear_range::{clear_range, office_range};

    #[test]
    fn the_bars_are_centimetres_and_say_where_there_is_no_end() {
        let bars = clear_range_bars(clear_range(2.5, 0.5)).bars;
        assert_eq!(
            (bars[0].text.as_str(), bars[1].text.as_str()),
            ("40 cm", "33 cm")
        );
        let bars = clear_range_bars(office_range(2.0, 2.0, 1.0)).bars;
        assert_eq!((bars[0].value, bars[0].text.as_str()), (None, "no end"));
    }
}
