//! Writes laid-out pages as a PDF: one scale, 72 points to 25.4 mm.

use chrono::Datelike;
use krilla::color::luma;
use krilla::geom::{PathBuilder, Point, Rect};
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};

use super::error::PaperError;
use super::font::Fonts;
use super::page::{Ink, Item, MM_PER_PT, Page};
use crate::views::sheet::Sheet;

/// Lightness of grey text, of 255: dark enough to read on a weak printer.
const GREY: u8 = 95;

#[allow(
    clippy::cast_possible_truncation,
    reason = "a page is within 300 mm: a single float places a point to 0.0001 mm"
)]
fn pt(mm: f64) -> f32 {
    (mm / MM_PER_PT) as f32
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "sizes of text and widths of glyphs are small numbers"
)]
fn size(points: f64) -> f32 {
    points as f32
}

fn fill(grey: bool) -> Fill {
    Fill {
        paint: luma::Color::new(if grey { GREY } else { 0 }).into(),
        opacity: NormalizedF32::ONE,
        rule: krilla::paint::FillRule::default(),
    }
}

fn stroke(ink: Ink) -> Stroke {
    let (width_mm, grey, dash) = match ink {
        Ink::Fine => (0.15, false, None),
        Ink::Strong => (0.4, false, None),
        Ink::Faint => (0.15, true, None),
        Ink::Dashed => (0.2, false, Some([1.2, 0.8])),
    };
    Stroke {
        paint: luma::Color::new(if grey { GREY } else { 0 }).into(),
        width: pt(width_mm),
        line_join: LineJoin::Miter,
        dash: dash.map(|parts| StrokeDash {
            array: parts.map(pt).to_vec(),
            offset: 0.0,
        }),
        ..Stroke::default()
    }
}

fn draw(surface: &mut Surface<'_>, item: &Item, fonts: &[Font; 2], metrics: &Fonts) {
    match item {
        Item::Text {
            x,
            y,
            size_pt,
            bold,
            grey,
            text,
        } => {
            surface.set_stroke(None);
            surface.set_fill(Some(fill(*grey)));
            let [regular, heavy] = fonts;
            let font = if *bold { heavy } else { regular };
            let glyphs: Vec<KrillaGlyph> = metrics
                .glyphs(text, *bold)
                .into_iter()
                .map(|(glyph, advance, range)| {
                    let id = GlyphId::new(u32::try_from(glyph).unwrap_or(0));
                    KrillaGlyph::new(id, size(advance), 0.0, 0.0, 0.0, range, None)
                })
                .collect();
            surface.draw_glyphs(
                Point::from_xy(pt(*x), pt(*y)),
                &glyphs,
                font.clone(),
                text,
                size(*size_pt),
                false,
            );
        }
        Item::Line {
            points,
            closed,
            ink,
        } => {
            let mut path = PathBuilder::new();
            for (i, (x, y)) in points.iter().enumerate() {
                if i == 0 {
                    path.move_to(pt(*x), pt(*y));
                } else {
                    path.line_to(pt(*x), pt(*y));
                }
            }
            if *closed {
                path.close();
            }
            if let Some(path) = path.finish() {
                surface.set_fill(None);
                surface.set_stroke(Some(stroke(*ink)));
                surface.draw_path(&path);
            }
        }
        Item::Black { rectangles } => {
            let mut path = PathBuilder::new();
            for (x, y, width, height) in rectangles {
                if let Some(r) = Rect::from_xywh(pt(*x), pt(*y), pt(*width), pt(*height)) {
                    path.push_rect(r);
                }
            }
            if let Some(path) = path.finish() {
                surface.set_stroke(None);
                surface.set_fill(Some(fill(false)));
                surface.draw_path(&path);
            }
        }
    }
}

fn date(sheet: &Sheet) -> Option<DateTime> {
    let day = sheet.printed_on;
    Some(
        DateTime::new(u16::try_from(day.year()).ok()?)
            .month(u8::try_from(day.month()).ok()?)
            .day(u8::try_from(day.day()).ok()?),
    )
}

/// Writes the pages of a sheet. Its title names the job and nobody.
///
/// # Errors
/// [`PaperError`] when a font or a page cannot be made.
pub(crate) fn write(sheet: &Sheet, pages: &[Page]) -> Result<Vec<u8>, PaperError> {
    let font = |bold| {
        Font::new(Fonts::bytes(bold).into(), 0)
            .ok_or_else(|| PaperError("the font is damaged".to_owned()))
    };
    let fonts = [font(false)?, font(true)?];
    let metrics = Fonts::embedded()?;
    let (width, height) = sheet.paper.size_mm();
    let mut document = Document::new_with(SerializeSettings {
        enable_tagging: false,
        ..SerializeSettings::default()
    });
    let mut about = Metadata::new()
        .title(format!("{} {}", sheet.what.title(), sheet.number))
        .language("en".to_owned())
        .creator("rimbook".to_owned());
    if let Some(day) = date(sheet) {
        about = about.creation_date(day);
    }
    document.set_metadata(about);
    for page in pages {
        let settings = PageSettings::from_wh(pt(width), pt(height))
            .ok_or_else(|| PaperError("the paper has no size".to_owned()))?;
        let mut on = document.start_page_with(settings);
        let mut surface = on.surface();
        for item in &page.items {
            draw(&mut surface, item, &fonts, &metrics);
        }
        surface.finish();
        on.finish();
    }
    document.finish().map_err(|e| PaperError(format!("{e:?}")))
}
