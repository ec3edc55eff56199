//! Twelve counts as twelve characters: the shape at a glance, always shown with the numbers.

/// Into how many parts a period is cut.
pub(crate) const PARTS: usize = 12;

/// Counts of the parts of a period.
pub(crate) type Parts = [u64; PARTS];

/// Heights in eighths of a row; zero has a character of its own.
const BLOCKS: [char; 9] = ['·', '▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
/// The same in plain ASCII.
const PLAIN: [char; 9] = ['.', '1', '2', '3', '4', '5', '6', '7', '8'];

/// Draws counts against the largest of them; whatever is counted at all is seen.
pub fn drawn(parts: &Parts, is_ascii: bool) -> String {
    let glyphs = if is_ascii { PLAIN } else { BLOCKS };
    let most = parts.iter().copied().max().unwrap_or(0);
    parts
        .iter()
        .map(|&count| {
            let height = match most {
                0 => 0,
                most => {
                    usize::try_from((u128::from(count) * 8).div_ceil(u128::from(most))).unwrap_or(8)
                }
            };
            glyphs.get(height).copied().unwrap_or(' ')
        })
        .collect()
}

/// Draws a share from 0 to 1 as a bar of so many cells, filled from the left.
pub fn bar(share: f64, cells: usize, is_ascii: bool) -> String {
    let (full, empty) = if is_ascii { ('#', '.') } else { ('█', '░') };
    #[allow(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a share of a few cells"
    )]
    let filled = (share.clamp(0.0, 1.0) * cells as f64).round() as usize;
    // One case is shown as more than zero.
    let filled = if share > 0.0 { filled.max(1) } else { 0 }.min(cells);
    std::iter::repeat_n(full, filled)
        .chain(std::iter::repeat_n(empty, cells - filled))
        .collect()
}
