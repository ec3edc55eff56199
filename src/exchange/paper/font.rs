//! The embedded font: which characters it has and how wide they are.
//!
//! Read are the tables `cmap` (format 4), `hhea`, `hmtx` and `head` of the OpenType specification;
//! embedding is the PDF library's. One character is one glyph: no ligatures, no kerning. All digits are of one width, so columns of numbers
//! line up.

use super::error::PaperError;
use super::page::MM_PER_PT;

/// Noto Sans, SIL Open Font License 1.1 (`fonts/OFL.txt`).
const REGULAR: &[u8] = include_bytes!("fonts/NotoSans-Regular.ttf");
/// Noto Sans Bold, the same licence.
const BOLD: &[u8] = include_bytes!("fonts/NotoSans-Bold.ttf");

/// Printed for a character that the font lacks. The font lacks it too: what is drawn
/// is its glyph for missing ones, a box.
pub(crate) const BOX: char = '\u{25a1}';

/// A TrueType font with the tables that give its characters and their widths.
#[derive(Debug)]
pub(crate) struct Metrics {
    data: &'static [u8],
    cmap: usize,
    hmtx: usize,
    wide: usize,
    per_em: f64,
}

/// The regular and the bold weight of the font.
#[derive(Debug)]
pub(crate) struct Fonts {
    regular: Metrics,
    bold: Metrics,
}

fn u16_at(data: &[u8], at: usize) -> Option<u16> {
    let bytes = data.get(at..at.checked_add(2)?)?;
    Some(u16::from_be_bytes(bytes.try_into().ok()?))
}

fn u32_at(data: &[u8], at: usize) -> Option<usize> {
    let bytes = data.get(at..at.checked_add(4)?)?;
    usize::try_from(u32::from_be_bytes(bytes.try_into().ok()?)).ok()
}

fn usize_at(data: &[u8], at: usize) -> Option<usize> {
    u16_at(data, at).map(usize::from)
}

impl Metrics {
    fn read(data: &'static [u8]) -> Option<Self> {
        let table = |tag: &[u8; 4]| {
            let count = usize_at(data, 4)?;
            (0..count)
                .map(|i| 12 + 16 * i)
                .find_map(|at| (data.get(at..at + 4)? == tag).then(|| u32_at(data, at + 8))?)
        };
        let cmap = table(b"cmap")?;
        let count = usize_at(data, cmap + 2)?;
        // The subtable of platform 3, encoding 1: the basic plane.
        let unicode = (0..count).map(|i| cmap + 4 + 8 * i).find_map(|at| {
            let is_unicode = u16_at(data, at)? == 3 && u16_at(data, at + 2)? == 1;
            is_unicode.then(|| u32_at(data, at + 4).map(|offset| cmap + offset))?
        })?;
        (u16_at(data, unicode)? == 4).then_some(())?;
        Some(Self {
            data,
            cmap: unicode,
            hmtx: table(b"hmtx")?,
            wide: usize_at(data, table(b"hhea")? + 34)?,
            per_em: f64::from(u16_at(data, table(b"head")? + 18)?),
        })
    }

    /// Returns the glyph of a character; `None` where the font has none.
    fn glyph(&self, c: char) -> Option<usize> {
        let (data, cmap) = (self.data, self.cmap);
        let code = usize::try_from(u32::from(c)).ok()?;
        let twice = usize_at(data, cmap + 6)?;
        let ends = cmap + 14;
        let segment = (0..twice / 2)
            .map(|i| 2 * i)
            .find(|i| usize_at(data, ends + i).is_some_and(|end| end >= code))?;
        let start_at = ends + twice + 2 + segment;
        let start = usize_at(data, start_at)?;
        if code < start {
            return None;
        }
        let delta = usize_at(data, start_at + twice)?;
        let offset_at = start_at + 2 * twice;
        let offset = usize_at(data, offset_at)?;
        let glyph = if offset == 0 {
            (code + delta) % 0x1_0000
        } else {
            match usize_at(data, offset_at + offset + 2 * (code - start))? {
                0 => 0,
                glyph => (glyph + delta) % 0x1_0000,
            }
        };
        (glyph != 0).then_some(glyph)
    }

    fn advance(&self, glyph: usize) -> Option<f64> {
        let entry = glyph.min(self.wide.checked_sub(1)?);
        Some(f64::from(u16_at(self.data, self.hmtx + 4 * entry)?) / self.per_em)
    }
}

impl Fonts {
    /// Reads the embedded fonts.
    ///
    /// # Errors
    /// [`PaperError`] when their tables are not as they should be.
    pub(crate) fn embedded() -> Result<Self, PaperError> {
        let read =
            |data| Metrics::read(data).ok_or_else(|| PaperError("the font is damaged".to_owned()));
        Ok(Self {
            regular: read(REGULAR)?,
            bold: read(BOLD)?,
        })
    }

    fn weight(&self, bold: bool) -> &Metrics {
        if bold { &self.bold } else { &self.regular }
    }

    /// Whether both weights have a character.
    pub(crate) fn has(&self, c: char) -> bool {
        self.regular.glyph(c).is_some() && self.bold.glyph(c).is_some()
    }

    /// Returns the width of a text, mm.
    pub(crate) fn width_mm(&self, text: &str, size_pt: f64, bold: bool) -> f64 {
        let font = self.weight(bold);
        let ems: f64 = text
            .chars()
            .map(|c| font.advance(font.glyph(c).unwrap_or(0)).unwrap_or(1.0))
            .sum();
        ems * size_pt * MM_PER_PT
    }

    /// Returns the glyph of each character with its advance in ems and its place in the text. The
    /// widths are those of the layout, so that aligned text is printed aligned.
    pub(crate) fn glyphs(
        &self,
        text: &str,
        bold: bool,
    ) -> Vec<(usize, f64, std::ops::Range<usize>)> {
        let font = self.weight(bold);
        text.char_indices()
            .map(|(at, c)| {
                let glyph = font.glyph(c).unwrap_or(0);
                (
                    glyph,
                    font.advance(glyph).unwrap_or(1.0),
                    at..at + c.len_utf8(),
                )
            })
            .collect()
    }

    /// The bytes of a weight, to be embedded.
    pub(crate) fn bytes(bold: bool) -> &'static [u8] {
        if bold { BOLD } else { REGULAR }
    }

    /// Breaks text into lines no wider than `width_mm`, at most `most` of them. A word that is
    /// wider than a line is broken inside; text that does not fit is cut and marked as shortened.
    pub(crate) fn wrap(
        &self,
        text: &str,
        size_pt: f64,
        bold: bool,
        width_mm: f64,
        most: usize,
    ) -> Vec<String> {
        const CUT: &str = " … (shortened)";
        let wide = |t: &str| self.width_mm(t, size_pt, bold) > width_mm;
        let mut lines = vec![String::new()];
        for word in text.split_whitespace() {
            let last = lines.len() - 1;
            let joined = match lines.get(last) {
                Some(line) if line.is_empty() => word.to_owned(),
                Some(line) => format!("{line} {word}"),
                None => word.to_owned(),
            };
            if !wide(&joined) {
                if let Some(line) = lines.last_mut() {
                    *line = joined;
                }
                continue;
            }
            if lines.last().is_some_and(|l| !l.is_empty()) {
                lines.push(String::new());
            }
            for c in word.chars() {
                let Some(line) = lines.last_mut() else { break };
                line.push(c);
                if wide(line) && line.chars().count() > 1 {
                    line.pop();
                    lines.push(c.to_string());
                }
            }
        }
        if lines.len() > most {
            lines.truncate(most.max(1));
            if let Some(line) = lines.last_mut() {
                while !line.is_empty() && wide(&format!("{line}{CUT}")) {
                    line.pop();
                }
                line.push_str(CUT);
            }
        }
        lines
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::Fonts;

    #[test]
    fn digits_are_of_one_width_in_both_weights() {
        let fonts = Fonts::embedded().unwrap();
        for bold in [false, true] {
            let one = fonts.width_mm("1", 10.0, bold);
            for digit in "0123456789+".chars() {
                let width = fonts.width_mm(&digit.to_string(), 10.0, bold);
                assert!((width - one).abs() < 1e-9, "{digit}");
            }
            // 572 thousandths of the em, as the font's own table of widths has it.
            assert!((one - 0.572 * 10.0 * 25.4 / 72.0).abs() < 1e-9, "{one}");
        }
    }

    #[test]
    fn the_font_has_the_alphabets_it_is_said_to_have_and_no_more() {
        let fonts = Fonts::embedded().unwrap();
        for c in "AzÅßŁżЖλ°±…·Δ".chars() {
            assert!(fonts.has(c), "{c}");
        }
        for c in "明א\u{1f453}\u{25a1}".chars() {
            assert!(!fonts.has(c), "{c}");
        }
    }

    #[test]
    fn lines_are_no_wider_than_asked_and_lose_no_letter() {
        let fonts = Fonts::embedded().unwrap();
        let text = "one two threefourfivesixseveneightnineteneleven twelve";
        let lines = fonts.wrap(text, 10.0, false, 20.0, 99);
        assert!(lines.len() > 2);
        assert!(lines.iter().all(|l| fonts.width_mm(l, 10.0, false) <= 20.0));
        let letters = |t: &str| t.replace(' ', "");
        assert_eq!(letters(&lines.join("")), letters(text));
    }

    #[test]
    fn a_cut_is_said() {
        let fonts = Fonts::embedded().unwrap();
        let lines = fonts.wrap(&"word ".repeat(99), 10.0, false, 60.0, 3);
        assert_eq!(lines.len(), 3);
        assert!(lines[2].ends_with("… (shortened)"));
        assert!(fonts.width_mm(&lines[2], 10.0, false) <= 60.0);
    }
}
