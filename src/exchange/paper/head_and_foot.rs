//! Head and foot of a page.

use super::font::Fonts;
use super::page::{Ink, Item, MM_PER_PT};
use crate::views::sheet::value_text::written_day;
use crate::views::sheet::{MARGIN_MM, Sheet};

/// From the end of what a page says to the lower edge of the paper, mm.
pub(super) const FOOT_MM: f64 = 30.0;
/// Size of the title, points.
const TITLE_PT: f64 = 20.0;
/// Size of the practice's name and of the job's number, points.
const SIDE_PT: f64 = 10.0;
/// Size of the foot, points.
const FOOT_PT: f64 = 7.5;
/// Height of the head of the first page, mm.
const HEAD_MM: f64 = 12.0;
/// Height of the head of a further page, mm.
const AGAIN_MM: f64 = 7.0;

fn text(x: f64, y: f64, size_pt: f64, bold: bool, grey: bool, text: String) -> Item {
    Item::Text {
        x,
        y,
        size_pt,
        bold,
        grey,
        text,
    }
}

fn rule(sheet: &Sheet, y: f64) -> Item {
    let (width, _) = sheet.paper.size_mm();
    Item::Line {
        points: vec![(MARGIN_MM, y), (width - MARGIN_MM, y)],
        closed: false,
        ink: Ink::Strong,
    }
}

/// Draws the head of a page; returns where the page goes on, mm from the top.
pub(super) fn head(sheet: &Sheet, fonts: &Fonts, first: bool, items: &mut Vec<Item>) -> f64 {
    let (width, _) = sheet.paper.size_mm();
    let right = width - MARGIN_MM;
    let number = format!("job {}", sheet.number);
    let mut on_the_right = |said: &str, y: f64, bold: bool, room: f64| {
        let lines = fonts.wrap(said, SIDE_PT, bold, room, 1);
        let line = lines.first().cloned().unwrap_or_default();
        let x = right - fonts.width_mm(&line, SIDE_PT, bold);
        items.push(text(x, y, SIDE_PT, bold, !bold, line));
    };
    if !first {
        let y = MARGIN_MM + SIDE_PT * MM_PER_PT;
        on_the_right(&number, y, true, 80.0);
        items.push(text(
            MARGIN_MM,
            y,
            SIDE_PT,
            true,
            false,
            format!("{}, continued", sheet.what.title()),
        ));
        items.push(rule(sheet, MARGIN_MM + AGAIN_MM - 1.5));
        return MARGIN_MM + AGAIN_MM;
    }
    let base = MARGIN_MM + TITLE_PT * MM_PER_PT;
    if sheet.practice.is_empty() {
        on_the_right(&number, base, true, 75.0);
    } else {
        on_the_right(&sheet.practice, base - 5.0, false, 85.0);
        on_the_right(&number, base, true, 75.0);
    }
    items.push(text(
        MARGIN_MM,
        base,
        TITLE_PT,
        true,
        false,
        sheet.what.title().to_owned(),
    ));
    items.push(rule(sheet, MARGIN_MM + HEAD_MM - 1.5));
    MARGIN_MM + HEAD_MM - 1.5
}

/// Draws the foot of a page: the caution, the day, the page.
pub(super) fn foot(sheet: &Sheet, fonts: &Fonts, page: usize, of: usize, items: &mut Vec<Item>) {
    let (width, height) = sheet.paper.size_mm();
    let line = FOOT_PT * MM_PER_PT * 1.35;
    let mut y = height - FOOT_MM + 4.0;
    items.push(Item::Line {
        points: vec![(MARGIN_MM, y - 1.0), (width - MARGIN_MM, y - 1.0)],
        closed: false,
        ink: Ink::Faint,
    });
    y += FOOT_PT * MM_PER_PT;
    for said in fonts.wrap(&sheet.foot(), FOOT_PT, false, width - 2.0 * MARGIN_MM, 4) {
        items.push(text(MARGIN_MM, y, FOOT_PT, false, true, said));
        y += line;
    }
    let day = format!("Printed {}", written_day(sheet.printed_on));
    items.push(text(MARGIN_MM, y, FOOT_PT, false, true, day));
    let number = format!("page {page} of {of}");
    let x = width - MARGIN_MM - fonts.width_mm(&number, FOOT_PT, false);
    items.push(text(x, y, FOOT_PT, false, true, number));
}
