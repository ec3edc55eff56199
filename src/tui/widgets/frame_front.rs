//! The frame front to scale, seen by somebody who faces the wearer: the right eye is on the left.

use ratatui::Frame as Screen;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::{Color, Modifier, Style};
use ratatui::symbols::Marker;
use ratatui::text::Line;
use ratatui::widgets::Paragraph;
use ratatui::widgets::canvas::{Canvas, Context, Line as Stroke, Points, Rectangle};

use crate::job::Job;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::centration::{decentration, frame_centre_distance_mm};
use crate::trade::optics::outline::Outline;

/// Sides between which a box can be drawn, mm.
const DRAWN_MM: std::ops::RangeInclusive<f64> = 1.0..=200.0;
/// Room left round the front, mm.
const ROUND_MM: f64 = 3.0;
/// A terminal cell is about twice as high as wide.
const CELL_HEIGHT: f64 = 2.0;

/// One eye's point in the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct EyePoint {
    /// Centration distance, mm.
    pub cd_mm: f64,
    /// Height above the lowest tangent, mm, where measured.
    pub height_mm: Option<f64>,
    /// From the boxed centre towards the nose, mm; outwards is negative.
    pub in_mm: f64,
}

/// Everything the picture needs.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FrontPicture {
    a_mm: f64,
    b_mm: f64,
    dbl_mm: f64,
    /// The edge where the longest diameter fits the box; the box alone otherwise.
    outline: Option<Outline>,
    points: PerEye<Option<EyePoint>>,
}

impl FrontPicture {
    /// Returns the picture of a job.
    ///
    /// # Errors
    /// The measurements without which there is no box to draw, by the names they have on forms.
    pub(crate) fn of(job: &Job) -> Result<Self, Vec<&'static str>> {
        let frame = &job.frame;
        let side = |v: Option<crate::trade::units::Millimetre>| {
            v.map(crate::trade::units::Millimetre::get)
                .filter(|mm| DRAWN_MM.contains(mm))
        };
        let (Some(a_mm), Some(b_mm), Some(dbl_mm)) =
            (side(frame.a_mm), side(frame.b_mm), side(frame.dbl_mm))
        else {
            let parts = [
                ("lens width a", side(frame.a_mm)),
                ("lens height b", side(frame.b_mm)),
                ("between lenses", side(frame.dbl_mm)),
            ];
            return Err(parts
                .iter()
                .filter(|p| p.1.is_none())
                .map(|p| p.0)
                .collect());
        };
        let points = PerEye::from_fn(|eye| {
            let measured = job.fitting.eye(eye);
            let cd_mm = measured.cd_mm?.get();
            let height_mm = measured.height_mm.map(crate::trade::units::Millimetre::get);
            Some(EyePoint {
                cd_mm,
                height_mm,
                in_mm: decentration(a_mm, b_mm, dbl_mm, cd_mm, height_mm).in_mm,
            })
        });
        Ok(Self {
            a_mm,
            b_mm,
            dbl_mm,
            outline: frame
                .ed_mm
                .and_then(|ed| Outline::from_box(a_mm, b_mm, ed.get()).ok()),
            points,
        })
    }

    /// Returns the numbers written beside the picture.
    pub(crate) fn numbers(&self) -> Vec<String> {
        let mut lines = vec![format!(
            "centres {:.1} mm",
            frame_centre_distance_mm(self.a_mm, self.dbl_mm)
        )];
        for (eye, point) in self.points.iter() {
            let letter = if eye == Eye::Right { 'R' } else { 'L' };
            let Some(p) = point else {
                lines.push(format!("{letter} no centration distance"));
                continue;
            };
            let way = if p.in_mm < 0.0 { "out" } else { "in" };
            lines.push(format!("{letter} {:.1} mm {way}", p.in_mm.abs()));
            lines.push(p.height_mm.map_or_else(
                || format!("{letter} no height"),
                |h| format!("{letter} height {h:.1} mm"),
            ));
        }
        if self.outline.is_none() {
            lines.push("no longest diameter: boxes only".to_owned());
        }
        lines
    }

    /// Returns the left edge of an eye's box; x = 0 is the middle of the bridge.
    fn left_edge(&self, eye: Eye) -> f64 {
        match eye {
            Eye::Right => -self.dbl_mm / 2.0 - self.a_mm,
            Eye::Left => self.dbl_mm / 2.0,
        }
    }

    /// Returns where an eye's point lies; without a height it is put on the datum line.
    fn place(&self, eye: Eye) -> Option<(f64, f64)> {
        let p = (*self.points.get(eye))?;
        // The wearer's right eye is on the observer's left, so its distance counts to the left.
        Some((
            -eye.nasal_sign() * p.cd_mm,
            p.height_mm.unwrap_or(self.b_mm / 2.0),
        ))
    }
}

/// Draws the front with boxes, lens shapes, datum line, bridge, heights and the points at which
/// the optical centres or fitting crosses are ordered; numbers beside or below it.
///
/// Needs 36 by 10 cells; in less it says so.
pub(crate) fn frame_front(
    screen: &mut Screen<'_>,
    area: Rect,
    picture: &FrontPicture,
    ascii: bool,
) {
    if area.width < 36 || area.height < 10 {
        screen.render_widget(Paragraph::new("the picture needs 36 x 10"), area);
        return;
    }
    let numbers = picture.numbers();
    let longest = numbers.iter().map(|n| n.chars().count()).max().unwrap_or(0);
    let side = u16::try_from(longest).unwrap_or(u16::MAX);
    let (drawing, text, lines) = if area.width > side.saturating_add(36) {
        let [d, _, t] = Layout::horizontal([
            Constraint::Min(36),
            Constraint::Length(1),
            Constraint::Length(side),
        ])
        .areas(area);
        (d, t, numbers)
    } else {
        let mut joined: Vec<String> = Vec::new();
        for n in numbers {
            match joined.last_mut() {
                Some(last)
                    if last.chars().count() + n.chars().count() + 3 <= usize::from(area.width) =>
                {
                    last.push_str(" | ");
                    last.push_str(&n);
                }
                _ => joined.push(n),
            }
        }
        let rows = u16::try_from(joined.len())
            .unwrap_or(u16::MAX)
            .min(area.height / 2);
        let [d, t] = Layout::vertical([Constraint::Min(1), Constraint::Length(rows)]).areas(area);
        (d, t, joined)
    };
    screen.render_widget(
        Paragraph::new(lines.into_iter().map(Line::from).collect::<Vec<_>>()),
        text,
    );
    draw(screen, drawing, picture, ascii);
}

fn draw(screen: &mut Screen<'_>, area: Rect, picture: &FrontPicture, ascii: bool) {
    let mut wide = 2.0 * picture.a_mm + picture.dbl_mm + 2.0 * ROUND_MM;
    let mut high = picture.b_mm + 2.0 * ROUND_MM;
    // One scale for both directions: the shorter one gets room to spare.
    let shape = f64::from(area.width) / (f64::from(area.height) * CELL_HEIGHT).max(1.0);
    if wide / high < shape {
        wide = high * shape;
    } else {
        high = wide / shape;
    }
    let middle = picture.b_mm / 2.0;
    // A braille cell holds two dots across and four down.
    let dots = if ascii { (1.0, 1.0) } else { (2.0, 4.0) };
    let canvas = Canvas::default()
        .marker(if ascii {
            Marker::Custom('.')
        } else {
            Marker::Braille
        })
        .x_bounds([-wide / 2.0, wide / 2.0])
        .y_bounds([middle - high / 2.0, middle + high / 2.0])
        .paint(|ctx| {
            let cell = |x: f64, y: f64| {
                let across = in_cell(x + wide / 2.0, wide, area.width, dots.0);
                let down = in_cell(middle + high / 2.0 - y, high, area.height, dots.1);
                (across - wide / 2.0, middle + high / 2.0 - down)
            };
            paint(ctx, picture, ascii, cell);
        });
    screen.render_widget(canvas, area);
}

/// Returns the length at which a text is printed into the cell where a point of that length falls.
///
/// The canvas spreads points over the dots of its cells, but texts over one cell fewer, so that a
/// mark would stand beside the stroke that ends in it.
fn in_cell(along: f64, whole: f64, cells: u16, dots: f64) -> f64 {
    let cells = f64::from(cells);
    let cell = ((along / whole * (cells * dots - 1.0)).round() / dots).floor();
    ((cell + 0.5) * whole / (cells - 1.0).max(1.0)).min(whole)
}

fn paint(
    ctx: &mut Context<'_>,
    picture: &FrontPicture,
    ascii: bool,
    cell: impl Fn(f64, f64) -> (f64, f64),
) {
    let ink = Color::Reset;
    let middle = picture.b_mm / 2.0;
    let half = picture.a_mm + picture.dbl_mm / 2.0;
    ctx.draw(&Stroke::new(-half, middle, half, middle, ink));
    for eye in Eye::BOTH {
        let left = picture.left_edge(eye);
        ctx.draw(&Rectangle {
            x: left,
            y: 0.0,
            width: picture.a_mm,
            height: picture.b_mm,
            color: ink,
        });
        if let Some(outline) = &picture.outline {
            let centre = left + picture.a_mm / 2.0;
            let edge: Vec<(f64, f64)> = (0..360)
                .map(|degree| {
                    let angle = f64::from(degree).to_radians();
                    let r = outline.radius_mm(angle);
                    (centre + r * angle.cos(), middle + r * angle.sin())
                })
                .collect();
            ctx.draw(&Points {
                coords: &edge,
                color: ink,
            });
        }
        if let (Some((x, y)), Some(p)) = (picture.place(eye), *picture.points.get(eye))
            && p.height_mm.is_some()
        {
            ctx.draw(&Stroke::new(x, 0.0, x, y, ink));
        }
    }
    ctx.layer();
    let bold = Style::new().add_modifier(Modifier::BOLD);
    for eye in Eye::BOTH {
        let boxed = picture.left_edge(eye) + picture.a_mm / 2.0;
        let (bx, by) = cell(boxed, middle);
        ctx.print(bx, by, Line::from(if ascii { "o" } else { "○" }));
        if let Some((x, y)) = picture.place(eye).map(|(x, y)| cell(x, y)) {
            ctx.print(x, y, Line::styled(if ascii { "+" } else { "✛" }, bold));
        }
        let letter = if eye == Eye::Right { "R" } else { "L" };
        ctx.print(
            picture.left_edge(eye) + 1.5,
            picture.b_mm - 1.5,
            Line::styled(letter, bold),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ratatui::Terminal;
    use ratatui::backend::TestBackend;
    use serde_json::json;

    fn job() -> Job {
        serde_json::from_value(json!({
            "frame": {"a_mm": 52, "b_mm": 38, "dbl_mm": 18, "ed_mm": 56},
            "fitting": {"right": {"cd_mm": 31.5, "height_mm": 22}, "left": {"cd_mm": 36, "height_mm": 21}}
        }))
        .unwrap()
    }

    fn drawn(width: u16, height: u16, ascii: bool) -> Vec<String> {
        let picture = FrontPicture::of(&job()).unwrap();
        let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
        terminal
            .draw(|f| frame_front(f, f.area(), &picture, ascii))
            .unwrap();
        let buffer = terminal.backend().buffer().clone();
        (0..height)
            .map(|y| {
                (0..width)
                    .map(|x| buffer[(x, y)].symbol().to_owned())
                    .collect()
            })
            .collect()
    }

    #[test]
    fn the_wearers_right_eye_is_on_the_left_and_numbers_say_in_and_out() {
        let lines = drawn(80, 20, true);
        let row = lines
            .iter()
            .find(|l| l.contains('R') && l.contains('L'))
            .unwrap();
        assert!(row.find('R') < row.find('L'), "{lines:#?}");
        let numbers = FrontPicture::of(&job()).unwrap().numbers();
        assert_eq!(
            numbers,
            [
                "centres 70.0 mm",
                "R 3.5 mm in",
                "R height 22.0 mm",
                "L 1.0 mm out",
                "L height 21.0 mm"
            ]
        );
    }

    #[test]
    fn centres_lie_where_the_distances_put_them() {
        let picture = FrontPicture::of(&job()).unwrap();
        assert_eq!(picture.place(Eye::Right), Some((-31.5, 22.0)));
        assert_eq!(picture.place(Eye::Left), Some((36.0, 21.0)));
    }

    #[test]
    fn a_mark_stands_on_the_stroke_that_shows_its_height() {
        for (width, height) in [(72, 16), (90, 24), (120, 30)] {
            let lines: Vec<Vec<char>> = drawn(width, height, false)
                .iter()
                .map(|l| l.chars().collect())
                .collect();
            let marks = lines.iter().enumerate().flat_map(|(y, line)| {
                let columns = line.iter().enumerate().filter(|(_, c)| **c == '✛');
                columns.map(move |(x, _)| (x, y))
            });
            for (x, y) in marks {
                // One column of four dots is the stroke, whatever else crosses the cell.
                let under = lines[y + 2][x];
                let dots = u32::from(under).wrapping_sub(0x2800);
                let stroke = dots < 0x100 && (dots & 0x47 == 0x47 || dots & 0xb8 == 0xb8);
                assert!(stroke, "{width}x{height}: {under} under {x},{y}");
            }
        }
    }

    #[test]
    fn without_a_box_it_says_what_is_missing() {
        let mut job = job();
        job.frame.a_mm = None;
        job.frame.dbl_mm = None;
        assert_eq!(
            FrontPicture::of(&job),
            Err(vec!["lens width a", "between lenses"])
        );
    }

    #[test]
    fn any_area_is_drawn_without_a_fault_and_ascii_stays_ascii() {
        for (width, height) in [
            (1, 1),
            (36, 10),
            (40, 14),
            (60, 10),
            (120, 40),
            (200, 10),
            (36, 60),
        ] {
            drop(drawn(width, height, false));
            let all = drawn(width, height, true).join("\n");
            assert!(all.is_ascii(), "{all}");
            if width >= 36 && height >= 10 {
                assert_eq!(all.matches('+').count(), 2, "{all}");
            }
        }
    }
}
