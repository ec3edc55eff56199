//! The code of a tray as bars (Code 128) and as a square (QR code), in modules.

use barcoders::sym::code128::Code128;
use qrcode::{EcLevel, QrCode};

/// Quiet zone before and after the bars, modules (ISO/IEC 15417: 10).
pub(crate) const BARS_QUIET: f64 = 10.0;
/// Quiet zone round the square, modules (ISO/IEC 18004: 4).
pub(crate) const SQUARE_QUIET: f64 = 4.0;

/// Runs of black: where each begins and how wide it is, in modules.
pub(crate) type Runs = Vec<(u32, u32)>;

/// Returns the bars as runs of black: where each begins and how wide it is; and the whole width.
///
/// `None` for a text that the code set of letters and digits does not hold.
pub(crate) fn bars(text: &str) -> Option<(Runs, u32)> {
    // U+0181 begins code set B: capitals, small letters and digits.
    let modules = Code128::new(format!("\u{181}{text}")).ok()?.encode();
    let width = u32::try_from(modules.len()).ok()?;
    Some((runs(modules.iter().map(|&m| m == 1)), width))
}

/// Returns the square's rows, each as runs of black, and its width.
pub(crate) fn square(text: &str) -> Option<(Vec<Runs>, u32)> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
    let width = code.width();
    let colours = code.to_colors();
    let rows = colours
        .chunks(width.max(1))
        .map(|row| runs(row.iter().map(|c| *c == qrcode::Color::Dark)))
        .collect();
    Some((rows, u32::try_from(width).ok()?))
}

/// Returns the runs of black modules: start and length of each.
fn runs(modules: impl Iterator<Item = bool>) -> Runs {
    let mut runs: Runs = Vec::new();
    for (at, black) in (0_u32..).zip(modules) {
        if !black {
            continue;
        }
        match runs.last_mut() {
            Some((from, length)) if *from + *length == at => *length += 1,
            _ => runs.push((at, 1)),
        }
    }
    runs
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::{bars, square};

    #[test]
    fn bars_have_the_modules_of_the_standard() {
        // Start, six characters, check: 11 modules each; stop: 13.
        let (runs, width) = bars("R1042K").unwrap();
        assert_eq!(width, 8 * 11 + 13);
        // Start B is 2 1 1 2 1 4: black 2, white 1, black 1, white 2, black 1.
        assert_eq!(runs[..3], [(0, 2), (3, 1), (6, 1)]);
        let (from, length) = *runs.last().unwrap();
        assert_eq!((from + length, length), (width, 2));
    }

    #[test]
    fn the_square_is_the_smallest_for_a_short_code() {
        let (rows, width) = square("R1042K").unwrap();
        assert_eq!((rows.len(), width), (21, 21));
        // The finder pattern: seven dark modules at either end of the first row.
        assert_eq!(rows[0][0], (0, 7));
        assert_eq!(*rows[0].last().unwrap(), (14, 7));
    }
}
