//! The front of a pair at 1:1: boxes, shape, datum line, centration points, segments, near points.

use super::content::Subject;
use super::drawing::{Align, Drawing, Mark, Pen, Point};
use super::value_text::{eye_word, length};
use crate::job::{Design, Job, SegmentShape};
use crate::judge::derive::accuracy::place_budget;
use crate::judge::derive::places;
use crate::trade::eye::Eye;
use crate::trade::optics::outline::Outline;
use crate::trade::tolerance::budget::Places;
use crate::trade::units::Millimetre;

/// From which side the pair is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seen {
    /// From the front: the wearer's right lens is on the viewer's left.
    Front,
    /// From behind, as it lies with its front down: the right lens is on the right.
    Behind,
}

/// Range of the sides of a box that can be drawn, mm.
const DRAWN_MM: std::ops::RangeInclusive<f64> = 1.0..=200.0;
/// Margin at the sides of the boxes, mm.
const BESIDE_MM: f64 = 3.0;
/// Room above the boxes, mm.
const ABOVE_MM: f64 = 8.0;
/// Room below them, mm.
const BELOW_MM: f64 = 6.5;
/// Half a cross at a centration point, mm.
const CROSS_MM: f64 = 3.0;
/// Half a mark of a near point, mm.
const NEAR_MM: f64 = 1.2;
/// Limits farther than this are not drawn, mm.
const FARTHEST_MM: f64 = 15.0;

/// The boxes of a front.
#[derive(Debug, Clone, Copy)]
struct Boxes {
    a: f64,
    b: f64,
    dbl: f64,
}

impl Boxes {
    fn of(job: &Job) -> Result<Self, String> {
        let f = &job.frame;
        let side = |v: Option<Millimetre>| v.map(Millimetre::get).filter(|v| DRAWN_MM.contains(v));
        let parts = [
            ("lens width A", side(f.a_mm)),
            ("lens height B", side(f.b_mm)),
            ("the distance between lenses", side(f.dbl_mm)),
        ];
        if let [(_, Some(a)), (_, Some(b)), (_, Some(dbl))] = parts {
            return Ok(Self { a, b, dbl });
        }
        let missing: Vec<&str> = parts
            .iter()
            .filter(|p| p.1.is_none())
            .map(|p| p.0)
            .collect();
        Err(format!(
            "Nothing can be drawn: record {} of the frame.",
            missing.join(", ")
        ))
    }

    fn width(self) -> f64 {
        2.0f64.mul_add(self.a + BESIDE_MM, self.dbl)
    }
}

/// What is drawn of one eye.
struct Side<'a> {
    job: &'a Job,
    eye: Eye,
    boxes: Boxes,
    /// -1 to the left of the middle, 1 to the right.
    way: f64,
}

impl Side<'_> {
    /// The place at a distance from the middle of the bridge and a height above the lowest tangent.
    fn place(&self, from_middle: f64, height: f64) -> Point {
        let middle = self.boxes.width() / 2.0;
        Point::new(
            self.way.mul_add(from_middle, middle),
            ABOVE_MM + self.boxes.b - height,
        )
    }

    /// The boxed centre.
    fn centre(&self) -> Point {
        self.place(
            f64::midpoint(self.boxes.dbl, self.boxes.a),
            self.boxes.b / 2.0,
        )
    }

    fn box_and_shape(&self, outline: Option<Outline>, marks: &mut Vec<Mark>) {
        let (centre, Boxes { a, b, .. }) = (self.centre(), self.boxes);
        marks.push(Mark::rectangle(
            centre.x - a / 2.0,
            centre.y - b / 2.0,
            a,
            b,
            Pen::Fine,
        ));
        if let Some(outline) = outline {
            let points = (0..180)
                .map(|i| {
                    let angle = (f64::from(i) * 2.0).to_radians();
                    let r = outline.radius_mm(angle);
                    Point::new(
                        r.mul_add(angle.cos(), centre.x),
                        r.mul_add(-angle.sin(), centre.y),
                    )
                })
                .collect();
            marks.push(Mark::Shape {
                points,
                pen: Pen::Strong,
            });
        }
        marks.push(Mark::Word {
            at: Point::new(centre.x, ABOVE_MM - 2.0),
            text: eye_word(self.eye).to_owned(),
            align: Align::Middle,
            large: true,
        });
    }

    /// The centration point and its room for error.
    fn centration(&self, limits: Option<&Places>, marks: &mut Vec<Mark>, words: &mut Vec<String>) {
        let name = eye_word(self.eye);
        let Some((cd, source)) = places::ordered_cd(self.job, self.eye) else {
            words.push(format!("{name}: no centration distance is recorded."));
            return;
        };
        let measured = places::ordered_height_mm(self.job, self.eye);
        let height = measured.unwrap_or(self.boxes.b / 2.0);
        let at = self.place(cd, height);
        marks.extend(Mark::cross(at, CROSS_MM, Pen::Fine));
        let height_words = measured.map_or_else(
            || "on the datum line, as no height is recorded".to_owned(),
            |h| format!("{} mm above the lowest tangent", length(Some(h))),
        );
        let from = match source.words() {
            "" => String::new(),
            words => format!(" ({words})"),
        };
        words.push(format!(
            "{name}: centration point {} mm from the middle of the bridge{from}, {height_words}.",
            length(Some(cd))
        ));
        let Some(limits) = limits else { return };
        let of = |limit: Option<f64>| limit.filter(|l| *l <= FARTHEST_MM);
        let across = limits.cd_mm.get(self.eye).and_then(|a| of(a.smallest()));
        let upright = limits
            .height_mm
            .get(self.eye)
            .and_then(|a| of(a.smallest()));
        let said = |limit: Option<f64>| {
            limit.map_or_else(
                || "more than 15 mm".to_owned(),
                |l| format!("{:.1} mm", (l * 10.0 + 1e-9).floor() / 10.0),
            )
        };
        words.push(format!(
            "{name}: the centre alone may be out by {} across and {} upright before the standard's limit is reached.",
            said(across),
            said(upright)
        ));
        match (across, upright) {
            (Some(x), Some(y)) => marks.push(Mark::ellipse(at, x, y, Pen::Dashed)),
            // Only one direction has a limit: two lines mark it.
            (Some(x), None) => {
                for by in [-x, x] {
                    marks.push(Mark::line(
                        Point::new(at.x + by, at.y - CROSS_MM),
                        Point::new(at.x + by, at.y + CROSS_MM),
                        Pen::Dashed,
                    ));
                }
            }
            (None, Some(y)) => {
                for by in [-y, y] {
                    marks.push(Mark::line(
                        Point::new(at.x - CROSS_MM, at.y + by),
                        Point::new(at.x + CROSS_MM, at.y + by),
                        Pen::Dashed,
                    ));
                }
            }
            (None, None) => {}
        }
    }

    /// Segment and near point.
    fn near(&self, marks: &mut Vec<Mark>, words: &mut Vec<String>) {
        let Some(design) = self.job.lenses.design.filter(|d| d.needs_addition()) else {
            return;
        };
        let name = eye_word(self.eye);
        let fitting = self.job.fitting.eye(self.eye);
        let (near, how) = match fitting.near_cd_mm.map(Millimetre::get) {
            Some(near) => (Some(near), ""),
            None => (places::near_cd_mm(self.job, self.eye), ", worked out"),
        };
        let Some(near) = near else { return };
        if design.has_segment() {
            self.segment(near, how, marks, words);
        } else if design == Design::Progressive
            && let (Some(height), Some(corridor)) = (fitting.height_mm, self.job.lenses.corridor_mm)
        {
            let at = self.place(near, height.get() - corridor.get());
            marks.push(Mark::ellipse(at, NEAR_MM, NEAR_MM, Pen::Fine));
            words.push(format!(
                "{name}: near point {near:.1} mm from the middle of the bridge{how}, {} mm (the corridor) below the fitting cross.",
                length(Some(corridor.get()))
            ));
        }
    }

    fn segment(&self, near: f64, how: &str, marks: &mut Vec<Mark>, words: &mut Vec<String>) {
        let name = eye_word(self.eye);
        let Some(top) = self.job.fitting.eye(self.eye).segment_height_mm else {
            words.push(format!("{name}: no height of the segment top is recorded."));
            return;
        };
        let top = top.get();
        let segment = self.job.lenses.segment.clone().unwrap_or_default();
        let width = segment.width_mm.map(Millimetre::get);
        let at = self.place(near, top);
        words.push(format!(
            "{name}: segment top {} mm above the lowest tangent, its middle {near:.1} mm from the middle of the bridge{how}.",
            length(Some(top))
        ));
        match (segment.shape, width) {
            (Some(SegmentShape::FullWidth), _) => {
                let (from, to) = (
                    self.place(self.boxes.dbl / 2.0, top),
                    self.place(self.boxes.dbl / 2.0 + self.boxes.a, top),
                );
                marks.push(Mark::line(from, to, Pen::Strong));
            }
            (Some(SegmentShape::Round), Some(width)) => {
                let centre = Point::new(at.x, at.y + width / 2.0);
                marks.push(Mark::ellipse(centre, width / 2.0, width / 2.0, Pen::Fine));
            }
            (_, width) => {
                let half = width.unwrap_or(20.0) / 2.0;
                marks.push(Mark::line(
                    Point::new(at.x - half, at.y),
                    Point::new(at.x + half, at.y),
                    Pen::Strong,
                ));
            }
        }
        if let Some(below) = segment.top_to_centre_mm {
            let centre = Point::new(at.x, at.y + below.get());
            marks.push(Mark::ellipse(centre, NEAR_MM, NEAR_MM, Pen::Fine));
            words.push(format!(
                "{name}: optical centre of the segment {} mm below its top.",
                length(Some(below.get()))
            ));
        }
    }
}

/// Returns the front at 1:1.
///
/// # Errors
/// A sentence with what is to be recorded.
pub(super) fn front(of: Subject<'_>, seen: Seen, with_limits: bool) -> Result<Drawing, String> {
    let job = of.job;
    let boxes = Boxes::of(job)?;
    let outline = job
        .frame
        .ed_mm
        .and_then(|ed| Outline::from_box(boxes.a, boxes.b, ed.get()).ok());
    let (width, height) = (boxes.width(), ABOVE_MM + boxes.b + BELOW_MM);
    let middle = width / 2.0;
    let datum = ABOVE_MM + boxes.b / 2.0;
    let mut marks = vec![
        Mark::line(Point::new(0.0, datum), Point::new(width, datum), Pen::Faint),
        Mark::line(
            Point::new(middle, ABOVE_MM),
            Point::new(middle, ABOVE_MM + boxes.b),
            Pen::Faint,
        ),
    ];
    let mut words = vec![format!(
        "Boxes {} by {} mm, {} mm between lenses; the datum line is {} mm above the lowest tangent.",
        length(Some(boxes.a)),
        length(Some(boxes.b)),
        length(Some(boxes.dbl)),
        length(Some(boxes.b / 2.0))
    )];
    if outline.is_none() {
        words.push(match job.frame.ed_mm {
            None => "No effective diameter is recorded: boxes without a shape.".to_owned(),
            Some(_) => {
                "No shape in this box has the recorded effective diameter: boxes without a shape."
                    .to_owned()
            }
        });
    }
    let limits = with_limits
        .then(|| place_budget(job, of.practice))
        .flatten();
    for eye in Eye::BOTH {
        let way = match (eye, seen) {
            (Eye::Right, Seen::Front) | (Eye::Left, Seen::Behind) => -1.0,
            _ => 1.0,
        };
        let side = Side {
            job,
            eye,
            boxes,
            way,
        };
        side.box_and_shape(outline, &mut marks);
        side.centration(limits.as_ref(), &mut marks, &mut words);
        side.near(&mut marks, &mut words);
    }
    let below = ABOVE_MM + boxes.b + 4.2;
    for (x, text) in [
        (
            middle - f64::midpoint(boxes.dbl, boxes.a),
            format!("A {}", length(Some(boxes.a))),
        ),
        (middle, format!("DBL {}", length(Some(boxes.dbl)))),
        (
            middle + f64::midpoint(boxes.dbl, boxes.a),
            format!("B {}", length(Some(boxes.b))),
        ),
    ] {
        marks.push(Mark::word(Point::new(x, below), text, Align::Middle));
    }
    if seen == Seen::Behind {
        // The numbers are those of the other drawing.
        words = vec![
            "The same pair as it lies with its front down: the right lens is on the right."
                .to_owned(),
        ];
    }
    let title = match seen {
        Seen::Front => "Seen from the front, 1:1",
        Seen::Behind => "Seen from behind, 1:1",
    };
    Ok(Drawing {
        title: title.to_owned(),
        width_mm: width,
        height_mm: height,
        marks,
        words,
        explained: with_limits && seen == Seen::Front,
    })
}
