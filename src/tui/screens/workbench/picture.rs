//! The picture that explains a calculation, from what is typed at present.

use serde_json::Value;

use super::request::at;
use crate::job::Job;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::Rx;
use crate::trade::optics::aniseikonia::Aniseikonia;
use crate::trade::optics::back_vertex::thick_powers;
use crate::trade::optics::centration::{NearTask, ROTATION_MM};
use crate::trade::optics::clear_range::ClearRange;
use crate::trade::optics::curves::BASE_INDEX;
use crate::trade::optics::error::OpticsError;
use crate::trade::optics::magnification::{PUPIL_MM, WornForm};
use crate::trade::optics::near_prism::segment_jump_delta;
use crate::trade::optics::outline::Outline;
use crate::trade::optics::prism::{LensPoint, Prism, prism_at};
use crate::trade::optics::thickness::{GivenThickness, LensBody};
use crate::trade::optics::tilt::Tilt;
use crate::trade::units::Millimetre;
use crate::views::plot::aniseikonia::aniseikonia_plot;
use crate::views::plot::clear_range::clear_range_bars;
use crate::views::plot::magnification::magnification_plot;
use crate::views::plot::meridian::meridian_plot;
use crate::views::plot::prism_shift::prism_shift_plot;
use crate::views::plot::section::{Made, sections};
use crate::views::plot::tilt::{Form, TiltCase, tilt_plot};
use crate::views::plot::{
    Axis, Bar, Bars, Mark, Number, Picture, Plot, Series, drop, near_centration, prism_compass,
    reading_prism, vertex,
};

/// What is drawn.
#[derive(Debug, Clone, Default)]
pub enum Drawing {
    /// A picture of numbers.
    Picture(Box<Picture>),
    /// A frame front with its centres; the job holds nothing else.
    Front(Box<Job>),
    /// Bars of how much of each limit is used; the lines are those of the result.
    Margins,
    /// Nothing, as long as there is no result.
    #[default]
    None,
}

/// The values that a picture is made of.
struct Values<'a> {
    request: &'a Value,
    result: &'a Value,
    eye: Eye,
}

impl Values<'_> {
    fn of(&self, key: &str) -> Option<f64> {
        at(self.request, key).and_then(Value::as_f64)
    }

    fn rx(&self, key: &str) -> Option<Rx> {
        rx_of(at(self.request, key)?)
    }

    fn found(&self, key: &str) -> Option<f64> {
        at(self.result, key).and_then(Value::as_f64)
    }
}

fn rx_of(value: &Value) -> Option<Rx> {
    let part = |key: &str| value.get(key).and_then(Value::as_f64);
    Some(Rx::new(
        part("sphere_d")?,
        part("cylinder_d").unwrap_or(0.0),
        part("axis_deg").filter(|a| *a > 0.0).unwrap_or(180.0),
    ))
}

/// Returns the drawing of a calculation that was worked out.
pub(super) fn of(name: &str, request: &Value, result: &Value, eye: Eye) -> Drawing {
    let v = Values {
        request,
        result,
        eye,
    };
    match name {
        "tolerance" => return Drawing::Margins,
        "centration" => return front(&v).map_or(Drawing::None, Drawing::Front),
        _ => {}
    }
    match picture(name, &v) {
        Some(Ok(picture)) => Drawing::Picture(Box::new(picture)),
        Some(Err(e)) => Drawing::Picture(Box::new(Picture::Missing(format!("No picture: {e}.")))),
        None => Drawing::None,
    }
}

fn picture(name: &str, v: &Values<'_>) -> Option<Result<Picture, OpticsError>> {
    let plot = match name {
        "transpose" | "power_vector" | "meridian_power" | "combine" | "difference" => {
            Ok(powers(name, v)?)
        }
        "vertex" => vertex::vertex_plot("this power", v.rx("rx")?, v.of("from_mm")?, v.of("to_mm")),
        "oblique" | "oblique_compensate" | "as_worn" | "as_worn_compensate" => {
            tilt_plot(&tilted(name, v)?)
        }
        "prism_at" => {
            let place = LensPoint {
                in_mm: v.of("in_mm")?,
                up_mm: v.of("up_mm")?,
            };
            Ok(over_distance(
                v,
                place,
                "looked through, from the optical centre",
            ))
        }
        "decentre_for" => {
            // From the optical centre the place looked through lies the other way.
            let place = LensPoint {
                in_mm: -v.found("in_mm")?,
                up_mm: -v.found("up_mm")?,
            };
            Ok(over_distance(v, place, "optical centre moved away"))
        }
        "prism_resolve" => Ok(compass(v, v.result)?),
        "prism_compound" => Ok(compass(v, v.request)?),
        "reading_prism" | "prism_control" => {
            let pair = PerEye {
                right: v.rx("right")?,
                left: v.rx("left")?,
            };
            let inset = v.of("inset_mm").unwrap_or(0.0);
            Ok(reading_prism::reading_prism_plot(
                pair,
                v.of("drop_mm")?,
                inset,
            ))
        }
        "segment_jump" => Ok(jump(v)?),
        "near_centration" => {
            let task = NearTask {
                working_mm: v.of("working_mm")?,
                vertex_mm: v.of("vertex_mm")?,
                rotation_mm: v.of("rotation_mm").unwrap_or(ROTATION_MM),
                power_d: v.of("power_d").unwrap_or(0.0),
            };
            let is_near = v.request.get("centred").is_some_and(|c| c == "near");
            let task = if is_near { task.centred_near() } else { task };
            near_centration::near_centration_plot(v.of("cd_mm")?, task)
        }
        "drop_for_tilt" => drop::drop_plot(
            v.of("pantoscopic_deg")?,
            v.of("vertex_mm")?,
            v.of("rotation_mm").unwrap_or(ROTATION_MM),
        ),
        "back_vertex" => thick(v)?,
        "magnification" => {
            let form = WornForm {
                index: v.of("index")?,
                front_d: v.of("front_d")?,
                centre_mm: v.of("centre_mm")?,
                vertex_mm: v.of("vertex_mm")?,
                pupil_mm: v.of("pupil_mm").unwrap_or(PUPIL_MM),
            };
            magnification_plot(v.rx("rx")?, form)
        }
        "prism_shift" => Ok(prism_shift_plot(
            v.of("amount_delta")?,
            v.of("vertex_mm")? + v.of("rotation_mm").unwrap_or(ROTATION_MM),
        )),
        "aniseikonia" => Ok(aniseikonia_plot(Aniseikonia {
            along_180_percent: v.found("along_180_percent")?,
            along_90_percent: v.found("along_90_percent")?,
            worst_percent: v.found("worst_percent")?,
            worst_meridian_deg: v.found("worst_meridian_deg")?,
        })),
        "clear_range" | "office_range" => {
            let range = ClearRange {
                far_mm: v.found("far_mm"),
                near_mm: v.found("near_mm"),
            };
            return Some(Ok(Picture::Bars(clear_range_bars(range))));
        }
        "blank" => return Some(Ok(Picture::Bars(blank(v)?))),
        "thickness" => return lens(v),
        _ => return None,
    };
    Some(plot.map(Picture::Plot))
}

fn powers(name: &str, v: &Values<'_>) -> Option<Plot> {
    let named = |name: &str, rx: Rx| (name.to_owned(), rx);
    Some(match name {
        "combine" => {
            let list = v.request.get("powers")?.as_array()?;
            let mut all: Vec<(String, Rx)> = ["first", "second", "third"]
                .iter()
                .zip(list)
                .filter_map(|(n, value)| Some(named(n, rx_of(value)?)))
                .collect();
            all.push(named("together", rx_of(v.result.get("rx")?)?));
            meridian_plot("power over the meridian", &all)
        }
        "difference" => meridian_plot(
            "power over the meridian",
            &[
                named("first", v.rx("from")?),
                named("second", v.rx("to")?),
                named("difference", rx_of(v.result.get("rx")?)?),
            ],
        ),
        _ => {
            let mut plot = meridian_plot("power over the meridian", &[named("power", v.rx("rx")?)]);
            if let (Some(x), Some(y)) = (v.of("meridian_deg"), v.found("power_d")) {
                plot.marks.push(Mark {
                    name: "this meridian".to_owned(),
                    x: x.rem_euclid(180.0),
                    y,
                });
            }
            plot
        }
    })
}

fn tilted(name: &str, v: &Values<'_>) -> Option<TiltCase> {
    let form = match (v.of("front_d"), v.of("centre_mm")) {
        (Some(front_d), Some(centre_mm)) => Some(Form { front_d, centre_mm }),
        _ => None,
    };
    // What is compensated is looked at as it is ordered.
    let rx = if name.ends_with("_compensate") {
        rx_of(v.result.get("rx")?)?
    } else {
        v.rx("rx")?
    };
    Some(TiltCase {
        eye: v.eye,
        rx,
        index: v.of("index")?,
        form,
        tilt: Tilt {
            pantoscopic_deg: v.of("pantoscopic_deg")?,
            face_form_deg: v.of("face_form_deg")?,
        },
        limit: None,
    })
}

/// Evenly spaced numbers from 0 to an end.
fn to(end: f64) -> impl Iterator<Item = f64> {
    const STEPS: u32 = 40;
    (0..=STEPS).map(move |i| end * f64::from(i) / f64::from(STEPS))
}

/// Both parts of the prism along the way from the optical centre to a place.
fn over_distance(v: &Values<'_>, place: LensPoint, along: &str) -> Plot {
    let rx = v.rx("rx").unwrap_or(Rx::sphere(0.0));
    let here = place.in_mm.hypot(place.up_mm);
    // A place at the centre itself has no direction: towards the nose is shown.
    let (x, y) = if here > 0.0 {
        (place.in_mm / here, place.up_mm / here)
    } else {
        (1.0, 0.0)
    };
    let met = |mm: f64| {
        prism_at(
            v.eye,
            rx,
            LensPoint {
                in_mm: x * mm,
                up_mm: y * mm,
            },
        )
    };
    let end = (here * 1.5).max(5.0);
    let curve = |name: &str, part: fn(Prism) -> f64| Series {
        name: name.to_owned(),
        points: to(end).map(|mm| (mm, part(met(mm)))).collect(),
    };
    let mark = |name: &str, y: f64| Mark {
        name: name.to_owned(),
        x: here,
        y,
    };
    let p = met(here);
    Plot {
        title: format!(
            "{} eye: prism over the distance from the optical centre",
            v.eye
        ),
        x: Axis::new(along, "mm"),
        y: Axis::new("prism", "Δ"),
        series: vec![
            curve("base in, out is below 0", |p| p.base_in_delta),
            curve("base up, down is below 0", |p| p.base_up_delta),
        ],
        marks: vec![
            mark("here, across", p.base_in_delta),
            mark("here, up or down", p.base_up_delta),
        ],
        numbers: vec![Number::new("distance", format!("{here:.1} mm"))],
        ..Plot::default()
    }
}

fn compass(v: &Values<'_>, parts: &Value) -> Option<Plot> {
    let part = |key: &str| parts.get(key)?.as_f64();
    let prism = Prism {
        base_in_delta: part("base_in_delta")?,
        base_up_delta: part("base_up_delta")?,
    };
    Some(prism_compass::prism_compass(v.eye, prism))
}

fn jump(v: &Values<'_>) -> Option<Plot> {
    let (addition, here) = (v.of("addition_d")?, v.of("top_to_centre_mm")?);
    let end = if here < 0.0 {
        here * 1.5
    } else {
        (here * 1.5).max(10.0)
    };
    let at = |mm: f64| segment_jump_delta(addition, mm);
    Some(Plot {
        title: "jump over the depth of the segment's centre".to_owned(),
        x: Axis::new("top to optical centre", "mm"),
        y: Axis::new("jump, base down", "Δ"),
        series: vec![Series {
            name: format!("addition {addition:.2} D"),
            points: sorted(to(end).map(|mm| (mm, at(mm))).collect()),
        }],
        marks: vec![Mark {
            name: "this segment".to_owned(),
            x: here,
            y: at(here),
        }],
        ..Plot::default()
    })
}

/// Points in the order of x, also where they were worked out towards negative numbers.
fn sorted(mut points: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    points
}

fn thick(v: &Values<'_>) -> Option<Result<Plot, OpticsError>> {
    let (front, back) = (v.of("front_d")?, v.of("back_d")?);
    let (here, index) = (v.of("centre_mm")?, v.of("index")?);
    let at = |mm: f64| thick_powers(front, back, mm, index);
    let end = (here * 1.5).max(6.0);
    let curve = |name: &str, part: fn(crate::trade::optics::back_vertex::ThickPowers) -> f64| {
        // Far beyond the lens asked about, a thickness may have no power; the curve ends before.
        let points = to(end)
            .map_while(|mm| Some((mm, part(at(mm).ok()?))))
            .collect();
        Series {
            name: name.to_owned(),
            points,
        }
    };
    Some(at(here).map(|p| Plot {
        title: "power over the centre thickness".to_owned(),
        x: Axis::new("centre thickness", "mm"),
        y: Axis::new("power", "D"),
        series: vec![
            curve("back vertex", |p| p.back_vertex_d),
            curve("front vertex", |p| p.front_vertex_d),
            curve("equivalent", |p| p.equivalent_d),
        ],
        marks: vec![Mark {
            name: "this lens".to_owned(),
            x: here,
            y: p.back_vertex_d,
        }],
        ..Plot::default()
    }))
}

fn blank(v: &Values<'_>) -> Option<Bars> {
    let bar = |label: &str, mm: f64, strong: bool| Bar {
        label: label.to_owned(),
        value: Some(mm),
        unit: "mm",
        text: format!("{mm:.1} mm"),
        strong,
    };
    let (ed, all) = (v.of("frame.ed_mm")?, v.found("minimum_mm")?);
    let twice = 2.0 * v.of("in_mm")?.hypot(v.of("up_mm")?);
    Some(Bars {
        title: "what the blank has to cover".to_owned(),
        bars: vec![
            bar("longest diameter", ed, false),
            bar("twice the shift", twice, false),
            bar("allowance", all - ed - twice, false),
            bar("smallest blank", all, true),
            bar("exactly", v.found("exact_mm")?, true),
        ],
    })
}

fn lens(v: &Values<'_>) -> Option<Result<Picture, OpticsError>> {
    let outline = match Outline::from_box(
        v.of("frame.a_mm")?,
        v.of("frame.b_mm")?,
        v.of("frame.ed_mm")?,
    ) {
        Ok(outline) => outline,
        Err(e) => return Some(Err(e)),
    };
    let given = v
        .of("centre_mm")
        .map(GivenThickness::Centre)
        .or_else(|| v.of("thinnest_mm").map(GivenThickness::Thinnest))?;
    let index = v.of("index")?;
    let made = Made {
        name: format!("index {index}"),
        body: LensBody {
            rx: v.rx("rx")?,
            index,
            base_d: v.of("base_d")?,
            base_index: v.of("base_index").unwrap_or(BASE_INDEX),
            centre: LensPoint {
                in_mm: v.of("in_mm")?,
                up_mm: v.of("up_mm")?,
            },
            given,
        },
        density_g_cm3: v.of("density"),
    };
    let title = format!("{} lens cut level with its boxed centre", v.eye);
    Some(Ok(sections(title, v.eye, &outline, &[made])))
}

/// A job that holds a frame and where its centres belong, for the picture of a frame front.
fn front(v: &Values<'_>) -> Option<Box<Job>> {
    let mm = |key: &str| Millimetre::new(v.of(key)?).ok();
    let mut job = Job::default();
    job.frame.a_mm = Some(mm("frame.a_mm")?);
    job.frame.b_mm = Some(mm("frame.b_mm")?);
    job.frame.dbl_mm = Some(mm("frame.dbl_mm")?);
    job.fitting.right.cd_mm = mm("right.cd_mm");
    job.fitting.left.cd_mm = mm("left.cd_mm");
    job.fitting.right.height_mm = mm("right.height_mm");
    job.fitting.left.height_mm = mm("left.height_mm");
    Some(Box::new(job))
}
