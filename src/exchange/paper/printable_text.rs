//! Texts from data, made safe to print; every character removed is reported.

use super::font::{BOX, Fonts};
use crate::text::printable;
use crate::views::sheet::drawing::Mark;
use crate::views::sheet::{Block, Fact, Sheet};

/// Changes made to one text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Done {
    /// Characters the font lacks.
    boxed: usize,
    /// Invisible characters removed.
    removed: usize,
}

/// Whether a character is invisible but changes how others are drawn or joined.
const fn is_unseen(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{180e}' | '\u{200b}'..='\u{200d}' | '\u{2060}'..='\u{2064}' | '\u{feff}'
        | '\u{fe00}'..='\u{fe0f}' | '\u{e0000}'..='\u{e01ef}')
}

fn one(text: &str, fonts: &Fonts) -> (String, Done) {
    let shown = printable(text);
    // Line ends and tabs became blanks; every other missing character was removed.
    let mut done = Done {
        boxed: 0,
        removed: text.chars().count() - shown.chars().count(),
    };
    let mut out = String::with_capacity(shown.len());
    for c in shown.chars() {
        if is_unseen(c) {
            done.removed += 1;
        } else if c.is_whitespace() {
            out.push(' ');
        } else if fonts.has(c) {
            out.push(c);
        } else {
            done.boxed += 1;
            out.push(BOX);
        }
    }
    (out, done)
}

/// Cleans the texts of a sheet and collects a note for each value that was changed.
struct Cleaner<'a> {
    fonts: &'a Fonts,
    notes: Vec<String>,
}

impl Cleaner<'_> {
    fn text(&mut self, what: &str, text: &mut String) {
        let (clean, done) = one(text, self.fonts);
        *text = clean;
        let say = |n: usize| {
            if n == 1 {
                "1 character".to_owned()
            } else {
                format!("{n} characters")
            }
        };
        if done.boxed > 0 {
            let (are, they) = if done.boxed == 1 {
                ("is", "it is")
            } else {
                ("are", "they are")
            };
            self.note(format!(
                "{} of {what} {are} not in the font; {they} printed as {BOX}.",
                say(done.boxed)
            ));
        }
        if done.removed > 0 {
            let are = if done.removed == 1 { "is" } else { "are" };
            self.note(format!(
                "{} of {what} that cannot be seen {are} left out.",
                say(done.removed)
            ));
        }
    }

    /// The same name on both parts of a sheet is said once.
    fn note(&mut self, note: String) {
        if !self.notes.contains(&note) {
            self.notes.push(note);
        }
    }

    fn fact(&mut self, fact: &mut Fact) {
        let what = format!("the value “{}”", fact.label);
        self.text(&what, &mut fact.value);
    }

    fn block(&mut self, block: &mut Block) {
        match block {
            Block::Code { number, .. } => self.text("the job's number", number),
            Block::Facts { facts, .. } => facts.iter_mut().for_each(|f| self.fact(f)),
            Block::Table {
                title, rows, note, ..
            } => {
                let what = format!("the table “{title}”");
                rows.iter_mut().flatten().for_each(|c| self.text(&what, c));
                self.text(&what, note);
            }
            Block::Lines { title, lines, .. } => {
                let what = format!("the part “{title}”");
                for line in lines {
                    self.text(&what, line);
                }
            }
            Block::Drawing(drawing) => {
                let what = format!("the drawing “{}”", drawing.title);
                drawing.words.iter_mut().for_each(|w| self.text(&what, w));
                for mark in &mut drawing.marks {
                    if let Mark::Word { text, .. } = mark {
                        self.text(&what, text);
                    }
                }
            }
        }
    }
}

/// Returns the sheet with printable texts, and a sentence for each text changed.
pub(crate) fn safe(sheet: &Sheet, fonts: &Fonts) -> (Sheet, Vec<String>) {
    let mut sheet = sheet.clone();
    let mut cleaner = Cleaner {
        fonts,
        notes: Vec::new(),
    };
    cleaner.text("the practice's name", &mut sheet.practice);
    cleaner.text("the job's number", &mut sheet.number);
    for block in &mut sheet.blocks {
        cleaner.block(block);
    }
    (sheet, cleaner.notes)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::{Done, one};
    use crate::exchange::paper::font::Fonts;

    #[test]
    fn what_the_font_lacks_is_boxed_and_what_is_unseen_goes_both_counted() {
        let fonts = Fonts::embedded().unwrap();
        let (text, done) = one("Ana\u{202e} 明美子\u{1b}[2J\u{200b}\tŁ\n", &fonts);
        assert_eq!(text, "Ana □□□[2J Ł ");
        assert_eq!(
            done,
            Done {
                boxed: 3,
                removed: 3
            }
        );
    }

    #[test]
    fn a_name_the_font_has_is_left_as_it_is() {
        let fonts = Fonts::embedded().unwrap();
        for name in [
            "Zoë Ñandú",
            "Łucja Żółć",
            "Ελένη",
            "Жанна",
            "O'Neill-Smythe",
        ] {
            assert_eq!(one(name, &fonts), (name.to_owned(), Done::default()));
        }
    }
}
