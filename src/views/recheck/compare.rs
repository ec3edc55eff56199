//! The comparison of a pair that came back: the pair worn before, the order, the readings, the handover,
//! the changes by repairs, and the present measurements.
//!
//! Powers are compared as vectors (Thibos, Wheeler and Horner 1997): the length of the difference
//! is the blur it makes. Readings are compared with the order by the practice's standard.

use super::axes::{axis_limit, centration_limit_mm, vertex_limit_mm};
use super::gather::Gathered;
use super::parameter::{Parameter, Source};
use super::row::{ComparedRow, ComparedValue, Judge, Values};
use crate::job::fields::at;
use crate::job::{Design, Job};
use crate::judge::derive::verification::{Reading, report};
use crate::practice::Practice;
use crate::practice::suspects::Suspect;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::vector::PowerVector;
use crate::trade::tolerance::DUST;
use crate::trade::tolerance::Quantity;

use Source::{HandedOver, Now, Ordered, Previous, Read, Repaired};

/// Between the pair worn before and this one.
const BEFORE: &[(Source, Source)] = &[(Previous, Ordered)];
/// Between order or handover and the present fit.
const SITS: &[(Source, Source)] = &[
    (Ordered, HandedOver),
    (Ordered, Repaired),
    (HandedOver, Repaired),
    (Ordered, Now),
    (HandedOver, Now),
    (Repaired, Now),
];
/// Between any two sources.
const ALL: &[(Source, Source)] = &[
    (Previous, Ordered),
    (Previous, HandedOver),
    (Previous, Repaired),
    (Previous, Now),
    (Ordered, HandedOver),
    (Ordered, Repaired),
    (HandedOver, Repaired),
    (Ordered, Now),
    (HandedOver, Now),
    (Repaired, Now),
];
/// Between what was ordered and what was made.
const MADE: &[(Source, Source)] = &[(Previous, Ordered), (Ordered, Read), (Ordered, Now)];

/// How a power changed from the pair worn before to this one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VectorChange {
    /// The pair worn before.
    pub from: PowerVector,
    /// This pair as ordered.
    pub to: PowerVector,
    /// The second less the first.
    pub difference: PowerVector,
}

/// The comparison of a recheck.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The rows: suspected ones first, then the other compared ones, then those with one value only.
    pub rows: Vec<ComparedRow>,
    /// How each eye's power changed.
    pub vectors: PerEye<Option<VectorChange>>,
    /// Whether the rechecked job was found in the book.
    pub has_first: bool,
}

impl Comparison {
    /// Returns the row of a parameter, for an eye or the pair.
    pub fn row(&self, parameter: Parameter, eye: Option<Eye>) -> Option<&ComparedRow> {
        self.rows
            .iter()
            .find(|r| r.parameter == parameter && r.eye == eye)
    }

    /// How many rows are suspected.
    pub fn beyond(&self) -> usize {
        self.rows.iter().filter(|r| r.is_beyond()).count()
    }
}

/// Compares a recheck with the job it is linked to.
///
/// Where that job is missing, the values carried into the recheck are taken as the order.
pub fn compare(recheck: &Job, first: Option<&Job>, practice: &Practice) -> Comparison {
    let g = Gathered::of(recheck, first, &practice.recheck);
    let mut rows = Vec::new();
    for eye in Eye::BOTH {
        power_rows(&g, eye, &mut rows);
    }
    pair_power_rows(&g, &mut rows);
    for eye in Eye::BOTH {
        place_rows(&g, eye, &mut rows);
    }
    pair_place_rows(&g, &mut rows);
    lens_rows(&g, &mut rows);
    frame_rows(&g, &mut rows);
    made_rows(&g, practice, &mut rows);
    rows.sort_by_key(|r| {
        let group = match (r.is_beyond(), r.is_compared()) {
            (true, _) => 0,
            (false, true) => 1,
            (false, false) => 2,
        };
        (group, r.parameter, r.eye)
    });
    Comparison {
        rows,
        vectors: PerEye::from_fn(|eye| vector_change(&g, eye)),
        has_first: first.is_some(),
    }
}

fn numbers(values: [Option<f64>; 6]) -> Values {
    values.map(|v| v.filter(|n| n.is_finite()).map(ComparedValue::Number))
}

fn words(values: [Option<String>; 6]) -> Values {
    values.map(|v| v.map(ComparedValue::Words))
}

fn vector_change(g: &Gathered<'_>, eye: Eye) -> Option<VectorChange> {
    let from = PowerVector::of(g.power(Previous, eye)?);
    let to = PowerVector::of(g.power(Ordered, eye)?);
    let difference = PowerVector {
        m_d: to.m_d - from.m_d,
        j0_d: to.j0_d - from.j0_d,
        j45_d: to.j45_d - from.j45_d,
    };
    Some(VectorChange {
        from,
        to,
        difference,
    })
}

fn power_rows(g: &Gathered<'_>, eye: Eye, rows: &mut Vec<ComparedRow>) {
    let powers = Source::ALL.map(|s| g.power(s, eye));
    let minus = powers.map(|p| p.map(crate::trade::optics::Rx::minus_form));
    let some = Some(eye);
    let mean = numbers(powers.map(|p| p.map(crate::trade::optics::Rx::mean_d)));
    let mut row = ComparedRow::of(
        Parameter::Power,
        some,
        mean,
        BEFORE,
        Judge::From(g.limits.get(Suspect::Power)),
    );
    // The mean power alone would hide a turned cylinder: the length of the vector counts.
    if let (Some(change), Some(d)) = (vector_change(g, eye), row.differences.first_mut()) {
        let blur = change.difference.blur_d();
        d.size = Some(blur);
        d.beyond = blur + DUST >= g.limits.get(Suspect::Power);
    }
    rows.push(row);
    let (limit, more) = (
        g.limits.get(Suspect::Sphere),
        g.limits.get(Suspect::SpherePlus),
    );
    let presbyope = g.is_presbyope() && !g.order.lenses.is_near_single_vision();
    let judge = if presbyope {
        Judge::FromOrMore(limit, more)
    } else {
        Judge::From(limit)
    };
    let note = presbyope.then_some("plus added to a presbyope's distance counts from 0.25 D on");
    let sphere = numbers(minus.map(|p| p.map(|rx| rx.sphere_d)));
    rows.push(ComparedRow::of(Parameter::Sphere, some, sphere, BEFORE, judge).noted(note));
    let cylinder = numbers(minus.map(|p| p.map(|rx| rx.cylinder_d)));
    rows.push(ComparedRow::of(
        Parameter::Cylinder,
        some,
        cylinder,
        BEFORE,
        Judge::From(g.limits.get(Suspect::Cylinder)),
    ));
    // A sphere has no axis: none is shown or compared.
    let axis = numbers(minus.map(|p| {
        p.filter(|rx| rx.cylinder_d.abs() > DUST)
            .map(|rx| rx.axis_deg)
    }));
    let limit = minus[0]
        .zip(minus[1])
        .and_then(|(a, b)| axis_limit(g.limits, a, b));
    let judge = limit.map_or(Judge::Shown, Judge::From);
    let note = limit
        .is_none()
        .then_some("the axis of a cylinder under 0.75 D is not judged");
    rows.push(ComparedRow::of(Parameter::Axis, some, axis, BEFORE, judge).noted(note));
    let additions = Source::ALL.map(|s| g.addition(s, eye));
    if additions.iter().any(Option::is_some) {
        rows.push(ComparedRow::of(
            Parameter::Addition,
            some,
            numbers(additions),
            BEFORE,
            Judge::From(g.limits.get(Suspect::Addition)),
        ));
    }
    let balance = Source::ALL.map(|s| g.balance_lens(s, eye));
    if balance.contains(&Some(true)) {
        let said = balance.map(|b| b.map(|b| if b { "yes" } else { "no" }.to_owned()));
        rows.push(ComparedRow::of(
            Parameter::BalanceLens,
            some,
            words(said),
            BEFORE,
            Judge::Any,
        ));
    }
}

fn pair_power_rows(g: &Gathered<'_>, rows: &mut Vec<ComparedRow>) {
    let balance = Source::ALL.map(|s| {
        let (r, l) = (g.power(s, Eye::Right)?, g.power(s, Eye::Left)?);
        Some(r.mean_d() - l.mean_d())
    });
    rows.push(ComparedRow::of(
        Parameter::Balance,
        None,
        numbers(balance),
        BEFORE,
        Judge::From(g.limits.get(Suspect::Balance)),
    ));
    for (parameter, suspect, is_vertical) in [
        (Parameter::PrismHorizontal, Suspect::PrismHorizontal, false),
        (Parameter::PrismVertical, Suspect::PrismVertical, true),
    ] {
        let net = Source::ALL.map(|s| g.net_prism(s, is_vertical));
        rows.push(ComparedRow::of(
            parameter,
            None,
            numbers(net),
            BEFORE,
            Judge::From(g.limits.get(suspect)),
        ));
    }
    rows.push(ComparedRow::of(
        Parameter::Working,
        None,
        numbers(Source::ALL.map(|s| g.working_mm(s))),
        SITS,
        Judge::From(g.limits.get(Suspect::Working)),
    ));
}

fn place_rows(g: &Gathered<'_>, eye: Eye, rows: &mut Vec<ComparedRow>) {
    let some = Some(eye);
    let rx = g.power(Ordered, eye);
    rows.push(ComparedRow::of(
        Parameter::Centration,
        some,
        numbers(Source::ALL.map(|s| g.centration_mm(s, eye))),
        &[(Previous, Ordered), (Ordered, Now)],
        Judge::From(centration_limit_mm(g.limits, eye, rx)),
    ));
    let inset = numbers(Source::ALL.map(|s| g.near_inset_mm(s, eye)));
    rows.push(ComparedRow::of(
        Parameter::NearInset,
        some,
        inset,
        SITS,
        Judge::From(g.limits.get(Suspect::NearInset)),
    ));
    let (judge, note) = height_judge(g, eye);
    let heights = numbers(Source::ALL.map(|s| g.height_mm(s, eye)));
    // The height in the pair worn before was in another frame: it is shown and not judged.
    rows.push(ComparedRow::of(Parameter::Height, some, heights, SITS, judge).noted(note));
    let vertex = numbers(Source::ALL.map(|s| g.vertex_mm(s, eye)));
    let judge = Judge::From(vertex_limit_mm(g.limits, rx));
    rows.push(ComparedRow::of(Parameter::Vertex, some, vertex, ALL, judge));
    rows.push(ComparedRow::of(
        Parameter::LengthToBend,
        some,
        numbers(Source::ALL.map(|s| g.length_to_bend_mm(s, eye))),
        SITS,
        Judge::From(g.limits.get(Suspect::LengthToBend)),
    ));
    rows.push(ComparedRow::of(
        Parameter::FrontCurve,
        some,
        numbers(Source::ALL.map(|s| g.front_curve_d(s, eye))),
        MADE,
        Judge::From(g.limits.get(Suspect::FrontCurve)),
    ));
    let is_plus = rx.is_some_and(|rx| rx.mean_d() > 0.0);
    let (judge, note) = if is_plus {
        (Judge::From(g.limits.get(Suspect::CentreThickness)), None)
    } else {
        (Judge::Shown, Some("judged of a plus lens only"))
    };
    let centre = numbers(Source::ALL.map(|s| g.centre_mm(s, eye)));
    rows.push(ComparedRow::of(Parameter::CentreThickness, some, centre, MADE, judge).noted(note));
}

/// Whether the lens has a fitting cross or a segment, whose height matters whatever the power.
fn has_cross_or_segment(g: &Gathered<'_>) -> bool {
    let design = g.order.lenses.design;
    design.is_some_and(|d| d != Design::SingleVision)
}

/// A fitting cross or segment is suspected soon; an optical centre only with some power.
fn height_judge(g: &Gathered<'_>, eye: Eye) -> (Judge, Option<&'static str>) {
    if has_cross_or_segment(g) {
        return (Judge::From(g.limits.get(Suspect::Height)), None);
    }
    let strongest = g
        .power(Ordered, eye)
        .map_or(0.0, |rx| rx.strongest_d().abs());
    if strongest + DUST >= g.limits.get(Suspect::CentreHeightFrom) {
        (Judge::From(g.limits.get(Suspect::CentreHeight)), None)
    } else {
        (
            Judge::Shown,
            Some("the height of a single-vision lens is judged from 3 D on"),
        )
    }
}

fn pair_place_rows(g: &Gathered<'_>, rows: &mut Vec<ComparedRow>) {
    let heights =
        Source::ALL.map(|s| Some(g.height_mm(s, Eye::Right)? - g.height_mm(s, Eye::Left)?));
    let (judge, note) = if has_cross_or_segment(g) {
        (Judge::From(g.limits.get(Suspect::HeightDifference)), None)
    } else {
        (
            Judge::Shown,
            Some("judged of a fitting cross or a segment only"),
        )
    };
    rows.push(
        ComparedRow::of(
            Parameter::HeightDifference,
            None,
            numbers(heights),
            ALL,
            judge,
        )
        .noted(note),
    );
    for (parameter, suspect, values) in [
        (
            Parameter::Tilt,
            Suspect::Tilt,
            Source::ALL.map(|s| g.tilt_deg(s)),
        ),
        (
            Parameter::FaceForm,
            Suspect::FaceForm,
            Source::ALL.map(|s| g.face_form_deg(s)),
        ),
        (
            Parameter::HeadWidth,
            Suspect::HeadWidth,
            Source::ALL.map(|s| g.head_width_mm(s)),
        ),
    ] {
        let judge = Judge::From(g.limits.get(suspect));
        rows.push(ComparedRow::of(
            parameter,
            None,
            numbers(values),
            ALL,
            judge,
        ));
    }
    let pads = words(Source::ALL.map(|s| g.pads(s)));
    rows.push(ComparedRow::of(
        Parameter::Pads,
        None,
        pads,
        SITS,
        Judge::Any,
    ));
}

fn lens_rows(g: &Gathered<'_>, rows: &mut Vec<ComparedRow>) {
    let design = words(Source::ALL.map(|s| g.design(s)));
    rows.push(ComparedRow::of(
        Parameter::Design,
        None,
        design,
        BEFORE,
        Judge::Any,
    ));
    let product = words(Source::ALL.map(|s| g.product(s)));
    rows.push(ComparedRow::of(
        Parameter::Product,
        None,
        product,
        BEFORE,
        Judge::Shown,
    ));
    let of = g.order.lenses.design;
    if of.is_some_and(Design::is_power_variation) {
        let corridor = numbers(Source::ALL.map(|s| g.corridor_mm(s)));
        let judge = Judge::From(g.limits.get(Suspect::Corridor));
        rows.push(ComparedRow::of(
            Parameter::Corridor,
            None,
            corridor,
            MADE,
            judge,
        ));
    }
    if of.is_some_and(Design::has_segment) {
        let segment = words(Source::ALL.map(|s| g.segment(s)));
        rows.push(ComparedRow::of(
            Parameter::Segment,
            None,
            segment,
            MADE,
            Judge::Any,
        ));
    }
    for (parameter, suspect, values) in [
        (
            Parameter::Index,
            Suspect::Index,
            Source::ALL.map(|s| g.index(s)),
        ),
        (
            Parameter::Abbe,
            Suspect::Abbe,
            Source::ALL.map(|s| g.abbe(s)),
        ),
    ] {
        let judge = Judge::From(g.limits.get(suspect));
        rows.push(ComparedRow::of(
            parameter,
            None,
            numbers(values),
            MADE,
            judge,
        ));
    }
    for (parameter, values) in [
        (Parameter::Tint, Source::ALL.map(|s| g.tint(s))),
        (Parameter::Coatings, Source::ALL.map(|s| g.coatings(s))),
    ] {
        rows.push(ComparedRow::of(
            parameter,
            None,
            words(values),
            MADE,
            Judge::Any,
        ));
    }
}

fn frame_rows(g: &Gathered<'_>, rows: &mut Vec<ComparedRow>) {
    for (parameter, field) in [
        (Parameter::BoxedWidth, at!(frame.a_mm)),
        (Parameter::BoxedHeight, at!(frame.b_mm)),
        (Parameter::BetweenLenses, at!(frame.dbl_mm)),
    ] {
        let values = Source::ALL.map(|s| g.frame_mm(s, field));
        let judge = Judge::From(g.limits.get(Suspect::Boxed));
        rows.push(ComparedRow::of(
            parameter,
            None,
            numbers(values),
            MADE,
            judge,
        ));
    }
}

/// The readings against the order, by the practice's standard: those taken now, else those of then.
fn made_rows(g: &Gathered<'_>, practice: &Practice, rows: &mut Vec<ComparedRow>) {
    let (read, source) = g.last_readings();
    let mut job = g.order.clone();
    job.readings = read.clone();
    let Ok(report) = report(&job, practice, Reading::AsRead) else {
        return;
    };
    for line in report.lines {
        let parameter = made(line.what);
        let mut values: Values = Default::default();
        values[Ordered.place()] = Some(ComparedValue::Number(line.ordered));
        values[source.place()] = Some(ComparedValue::Number(line.measured));
        let between = [(Ordered, source)];
        let eye = line.eye.eye();
        let mut row = ComparedRow::of(parameter, eye, values, &between, Judge::From(line.limit));
        // The standard's own verdict is kept, since it computes the error differently.
        for d in &mut row.differences {
            let sign = if line.measured < line.ordered {
                -1.0
            } else {
                1.0
            };
            d.size = Some(sign * line.error.abs());
            d.beyond = !line.pass;
        }
        rows.push(row);
    }
}

const fn made(what: Quantity) -> Parameter {
    match what {
        Quantity::PowerAlongAxis => Parameter::MadeAlong,
        Quantity::PowerAcrossAxis => Parameter::MadeAcross,
        Quantity::Cylinder => Parameter::MadeCylinder,
        Quantity::Axis => Parameter::MadeAxis,
        Quantity::Addition => Parameter::MadeAddition,
        Quantity::PrismHorizontal => Parameter::MadePrismHorizontal,
        Quantity::PrismVertical => Parameter::MadePrismVertical,
        Quantity::Centration => Parameter::MadeCentration,
        Quantity::Height => Parameter::MadeHeight,
        Quantity::HeightDifference => Parameter::MadeHeightDifference,
    }
}
