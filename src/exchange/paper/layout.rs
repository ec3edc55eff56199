//! Puts a sheet on pages: every place in millimetres from the upper left corner of the paper.

use super::barcode::{BARS_QUIET, SQUARE_QUIET, bars, square};
use super::font::Fonts;
use super::head_and_foot;
use super::page::{Ink, Item, MM_PER_PT, Page};
use crate::views::sheet::drawing::{Align, Drawing, Mark};
use crate::views::sheet::{Block, Fact, MARGIN_MM, Sheet};

/// Size of values, points.
const VALUE_PT: f64 = 10.0;
/// Size of names and notes, points.
const LABEL_PT: f64 = 7.5;
/// Size of the titles of parts, points.
const TITLE_PT: f64 = 10.5;
/// Size of the words of a drawing, points.
const WORD_PT: f64 = 7.5;
/// Distance of base lines as a part of the size.
const LEADING: f64 = 1.32;
/// Columns of names with values.
const COLUMNS: usize = 4;
/// Between columns, mm.
const GAP_MM: f64 = 6.0;
/// Above a part, mm.
const BEFORE_MM: f64 = 3.8;
/// Width of the first column of a table, mm.
const EYE_MM: f64 = 16.0;
/// Width of the others, at most, mm.
const CELL_MM: f64 = 26.0;
/// Lines of a value at most.
const VALUE_LINES: usize = 2;
/// Most lines of a value of full width.
const WIDE_LINES: usize = 8;
/// Side of a box to tick, mm.
const TICK_MM: f64 = 3.0;

fn line_mm(size_pt: f64) -> f64 {
    size_pt * MM_PER_PT * LEADING
}

/// From the top of a line to its base line, mm.
fn ascent_mm(size_pt: f64) -> f64 {
    size_pt * MM_PER_PT * 0.95
}

/// A sheet as it grows page by page.
struct Layout<'a> {
    sheet: &'a Sheet,
    fonts: &'a Fonts,
    pages: Vec<Page>,
    /// Where the next thing begins, mm from the top.
    y: f64,
    left: f64,
    width: f64,
    bottom: f64,
}

/// Returns the pages of a sheet; `notes` say what could not be printed as recorded.
pub(crate) fn pages(sheet: &Sheet, notes: &[String], fonts: &Fonts) -> Vec<Page> {
    let (width, height) = sheet.paper.size_mm();
    let mut layout = Layout {
        sheet,
        fonts,
        pages: Vec::new(),
        y: 0.0,
        left: MARGIN_MM,
        width: width - 2.0 * MARGIN_MM,
        bottom: height - head_and_foot::FOOT_MM,
    };
    layout.turn();
    for block in &sheet.blocks {
        layout.block(block);
    }
    if !notes.is_empty() {
        layout.block(&Block::Lines {
            title: "About this print".to_owned(),
            lines: notes.to_vec(),
            boxes: false,
        });
    }
    let count = layout.pages.len();
    for (i, page) in layout.pages.iter_mut().enumerate() {
        head_and_foot::foot(sheet, fonts, i + 1, count, &mut page.items);
    }
    layout.pages
}

impl Layout<'_> {
    /// Begins a page.
    fn turn(&mut self) {
        let mut page = Page::default();
        self.y = head_and_foot::head(
            self.sheet,
            self.fonts,
            self.pages.is_empty(),
            &mut page.items,
        );
        self.pages.push(page);
    }

    /// Turns the page unless there is room.
    fn room(&mut self, height: f64) {
        if self.y + height > self.bottom {
            self.turn();
        }
    }

    fn put(&mut self, item: Item) {
        if let Some(page) = self.pages.last_mut() {
            page.items.push(item);
        }
    }

    fn text(&mut self, x: f64, y: f64, text: &str, size_pt: f64, bold: bool, grey: bool) {
        if !text.is_empty() {
            self.put(Item::Text {
                x,
                y,
                size_pt,
                bold,
                grey,
                text: text.to_owned(),
            });
        }
    }

    fn rule(&mut self, y: f64) {
        let (from, to) = (self.left, self.left + self.width);
        self.put(Item::Line {
            points: vec![(from, y), (to, y)],
            closed: false,
            ink: Ink::Faint,
        });
    }

    /// The title of a part, on one page with the first `first_mm` of it.
    fn title(&mut self, title: &str, first_mm: f64) {
        let title_mm = line_mm(TITLE_PT) + 0.8;
        self.room(BEFORE_MM + title_mm + first_mm);
        self.y += BEFORE_MM;
        if title.is_empty() {
            return;
        }
        let y = self.y + ascent_mm(TITLE_PT);
        self.text(self.left, y, title, TITLE_PT, true, false);
        self.y += title_mm;
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Code { number, code } => self.code(number, code.as_deref()),
            Block::Facts { title, facts } => self.facts(title, facts),
            Block::Table {
                title,
                head,
                rows,
                note,
            } => self.table(title, head, rows, note),
            Block::Lines {
                title,
                lines,
                boxes,
            } => self.lines(title, lines, *boxes),
            Block::Drawing(drawing) => self.drawing(drawing),
        }
    }

    /// The number as large as it fits, the bars below it, the square on the right.
    fn code(&mut self, number: &str, code: Option<&str>) {
        const SQUARE_MM: f64 = 1.1;
        const BARS_MM: f64 = 14.0;
        self.y += 4.0;
        let square_room = 33.0;
        let room = self.width - square_room;
        let mut size = 54.0;
        while size > 16.0 && self.fonts.width_mm(number, size, true) > room {
            size -= 2.0;
        }
        for line in self.fonts.wrap(number, size, true, room, 2) {
            let y = self.y + size * MM_PER_PT * 0.75;
            self.text(self.left, y, &line, size, true, false);
            self.y += size * MM_PER_PT * 0.95;
        }
        let top = self.y - size * MM_PER_PT * 0.95;
        let Some(code) = code else {
            self.y += 1.0;
            let y = self.y + ascent_mm(LABEL_PT);
            let why = "No code: a code stands for digits and capital letters, at most 20.";
            self.text(self.left, y, why, LABEL_PT, false, true);
            self.y += line_mm(LABEL_PT);
            return;
        };
        self.y += 1.0;
        if let Some((runs, width)) = bars(code) {
            let module = (room / (f64::from(width) + 2.0 * BARS_QUIET)).min(0.5);
            // The white margin of the paper is the quiet zone on the left.
            let rectangles = runs
                .iter()
                .map(|(from, length)| {
                    let x = f64::from(*from).mul_add(module, self.left);
                    (x, self.y, f64::from(*length) * module, BARS_MM)
                })
                .collect();
            self.put(Item::Black { rectangles });
        }
        self.y += BARS_MM + 0.8;
        let y = self.y + ascent_mm(VALUE_PT);
        self.text(self.left, y, code, VALUE_PT, false, false);
        self.y += line_mm(VALUE_PT);
        if let Some((rows, width)) = square(code) {
            let side = f64::from(width) * SQUARE_MM;
            let left = self.left + self.width - side;
            let top = top.max(self.y - side - SQUARE_QUIET);
            let mut rectangles = Vec::new();
            for (row, runs) in (0_u32..).zip(&rows) {
                let y = f64::from(row).mul_add(SQUARE_MM, top);
                for (from, length) in runs {
                    let x = f64::from(*from).mul_add(SQUARE_MM, left);
                    rectangles.push((x, y, f64::from(*length) * SQUARE_MM, SQUARE_MM));
                }
            }
            self.put(Item::Black { rectangles });
            self.y = self.y.max(top + side);
        }
        self.y += 1.0;
    }

    fn facts(&mut self, title: &str, facts: &[Fact]) {
        #[allow(clippy::cast_precision_loss, reason = "four columns")]
        let column = (self.width - GAP_MM * (COLUMNS - 1) as f64) / COLUMNS as f64;
        let one = line_mm(LABEL_PT) + line_mm(VALUE_PT);
        self.title(title, one);
        let mut row: Vec<(&str, Vec<String>)> = Vec::new();
        for fact in facts {
            let lines = self
                .fonts
                .wrap(&fact.value, VALUE_PT, false, column, usize::MAX);
            if fact.wide || lines.len() > VALUE_LINES {
                self.row(&std::mem::take(&mut row), column);
                let lines = self
                    .fonts
                    .wrap(&fact.value, VALUE_PT, false, self.width, WIDE_LINES);
                self.row(&[(&fact.label, lines)], self.width);
                continue;
            }
            row.push((&fact.label, lines));
            if row.len() == COLUMNS {
                self.row(&std::mem::take(&mut row), column);
            }
        }
        self.row(&row, column);
    }

    /// Names with values side by side.
    fn row(&mut self, row: &[(&str, Vec<String>)], column: f64) {
        let Some(most) = row.iter().map(|(_, lines)| lines.len()).max() else {
            return;
        };
        #[allow(clippy::cast_precision_loss, reason = "a few lines")]
        let height = line_mm(LABEL_PT) + line_mm(VALUE_PT) * most as f64 + 1.0;
        self.room(height);
        let mut x = self.left;
        for (label, lines) in row {
            let mut y = self.y;
            self.text(x, y + ascent_mm(LABEL_PT), label, LABEL_PT, false, true);
            y += line_mm(LABEL_PT) - 0.2;
            for line in lines {
                self.text(x, y + ascent_mm(VALUE_PT), line, VALUE_PT, false, false);
                y += line_mm(VALUE_PT);
            }
            x += column + GAP_MM;
        }
        self.y += height;
    }

    fn table(&mut self, title: &str, head: &[String], rows: &[Vec<String>], note: &str) {
        #[allow(clippy::cast_precision_loss, reason = "a few columns")]
        let count = head.len().saturating_sub(1).max(1) as f64;
        let cell = ((self.width - EYE_MM) / count).min(CELL_MM);
        let row_mm = line_mm(VALUE_PT) + 1.2;
        #[allow(clippy::cast_precision_loss, reason = "two rows")]
        let all = line_mm(LABEL_PT) + row_mm * rows.len() as f64;
        self.title(title, all);
        let place = |i: usize| -> f64 {
            #[allow(clippy::cast_precision_loss, reason = "a few columns")]
            let columns = i as f64;
            cell.mul_add(columns, self.left + EYE_MM)
        };
        let ends: Vec<f64> = (0..head.len()).map(place).collect();
        let y = self.y + ascent_mm(LABEL_PT);
        for (name, end) in head.iter().zip(&ends).skip(1) {
            let x = end - self.fonts.width_mm(name, LABEL_PT, false);
            self.text(x, y, name, LABEL_PT, false, true);
        }
        self.y += line_mm(LABEL_PT) + 0.4;
        for row in rows {
            self.rule(self.y);
            let cells: Vec<(usize, Vec<String>)> = row
                .iter()
                .enumerate()
                .map(|(i, text)| {
                    let (width, bold) = if i == 0 {
                        (EYE_MM, true)
                    } else {
                        (cell - 1.0, false)
                    };
                    (i, self.fonts.wrap(text, VALUE_PT, bold, width, 3))
                })
                .collect();
            let most = cells.iter().map(|(_, l)| l.len()).max().unwrap_or(1);
            for (i, lines) in cells {
                let mut y = self.y + 0.6 + ascent_mm(VALUE_PT);
                for line in lines {
                    let x = if i == 0 {
                        self.left
                    } else {
                        ends.get(i).copied().unwrap_or(self.left)
                            - self.fonts.width_mm(&line, VALUE_PT, false)
                    };
                    self.text(x, y, &line, VALUE_PT, i == 0, false);
                    y += line_mm(VALUE_PT);
                }
            }
            #[allow(clippy::cast_precision_loss, reason = "a few lines")]
            let height = line_mm(VALUE_PT) * most as f64 + 1.2;
            self.y += height;
        }
        self.rule(self.y);
        if !note.is_empty() {
            self.y += 0.6;
            for line in self.fonts.wrap(note, LABEL_PT, false, self.width, 6) {
                self.room(line_mm(LABEL_PT));
                let y = self.y + ascent_mm(LABEL_PT);
                self.text(self.left, y, &line, LABEL_PT, false, true);
                self.y += line_mm(LABEL_PT);
            }
        }
    }

    fn lines(&mut self, title: &str, lines: &[String], boxes: bool) {
        let indent = if boxes { TICK_MM + 2.2 } else { 0.0 };
        self.title(title, line_mm(VALUE_PT));
        for line in lines {
            let parts =
                self.fonts
                    .wrap(line, VALUE_PT - 0.5, false, self.width - indent, WIDE_LINES);
            for (i, part) in parts.iter().enumerate() {
                self.room(line_mm(VALUE_PT));
                let y = self.y + ascent_mm(VALUE_PT);
                if boxes && i == 0 {
                    let top = y - TICK_MM + 0.3;
                    let (l, r) = (self.left, self.left + TICK_MM);
                    self.put(Item::Line {
                        points: vec![(l, top), (r, top), (r, top + TICK_MM), (l, top + TICK_MM)],
                        closed: true,
                        ink: Ink::Fine,
                    });
                }
                self.text(self.left + indent, y, part, VALUE_PT - 0.5, false, false);
                self.y += line_mm(VALUE_PT - 0.5);
            }
            self.y += 0.9;
        }
    }

    fn drawing(&mut self, drawing: &Drawing) {
        let words: Vec<String> = if drawing.explained {
            drawing
                .words
                .iter()
                .flat_map(|w| self.fonts.wrap(w, WORD_PT, false, self.width, 4))
                .collect()
        } else {
            Vec::new()
        };
        self.title(&drawing.title, drawing.height_mm);
        let (left, top) = (self.left + (self.width - drawing.width_mm) / 2.0, self.y);
        for mark in &drawing.marks {
            self.mark(mark, left, top);
        }
        self.y += drawing.height_mm;
        for word in words {
            self.room(line_mm(WORD_PT));
            let y = self.y + ascent_mm(WORD_PT);
            self.text(self.left, y, &word, WORD_PT, false, true);
            self.y += line_mm(WORD_PT);
        }
    }

    fn mark(&mut self, mark: &Mark, left: f64, top: f64) {
        let place = |p: &crate::views::sheet::drawing::Point| (left + p.x, top + p.y);
        match mark {
            Mark::Line { from, to, pen } => self.put(Item::Line {
                points: vec![place(from), place(to)],
                closed: false,
                ink: *pen,
            }),
            Mark::Shape { points, pen } => self.put(Item::Line {
                points: points.iter().map(place).collect(),
                closed: true,
                ink: *pen,
            }),
            Mark::Word {
                at,
                text,
                align,
                large,
            } => {
                let (x, y) = place(at);
                let size = if *large { TITLE_PT } else { WORD_PT };
                let width = self.fonts.width_mm(text, size, *large);
                let x = match align {
                    Align::Start => x,
                    Align::Middle => x - width / 2.0,
                    Align::End => x - width,
                };
                self.text(x, y, text, size, *large, false);
            }
        }
    }
}
