//! A line of 100 mm: the proof that a sheet was printed to scale.

use super::drawing::{Align, Drawing, Mark, Pen, Point};

/// Length of the line, mm.
pub(crate) const RULER_MM: f64 = 100.0;

/// Margin at the ends of the line for its numbers, mm.
const BESIDE_MM: f64 = 6.0;
/// Distance of the line from the top, mm.
const LINE_MM: f64 = 9.0;

/// Returns the line with a tick at every millimetre.
pub(crate) fn ruler() -> Drawing {
    let at = |mm: f64| BESIDE_MM + mm;
    let mut marks = vec![Mark::line(
        Point::new(at(0.0), LINE_MM),
        Point::new(at(RULER_MM), LINE_MM),
        Pen::Fine,
    )];
    for mm in 0..=100_u32 {
        let length = match mm {
            _ if mm % 10 == 0 => 4.5,
            _ if mm % 5 == 0 => 3.2,
            _ => 2.0,
        };
        let x = at(f64::from(mm));
        marks.push(Mark::line(
            Point::new(x, LINE_MM - length),
            Point::new(x, LINE_MM),
            Pen::Fine,
        ));
        if mm % 10 == 0 {
            marks.push(Mark::word(
                Point::new(x, LINE_MM - 5.4),
                mm.to_string(),
                Align::Middle,
            ));
        }
    }
    Drawing {
        title: String::new(),
        width_mm: 2.0f64.mul_add(BESIDE_MM, RULER_MM),
        height_mm: LINE_MM + 1.0,
        marks,
        words: vec!["a line of 100 mm with a tick at every millimetre".to_owned()],
        explained: false,
    }
}
