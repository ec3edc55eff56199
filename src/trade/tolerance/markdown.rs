//! The tables printed for a reader, from the very data the comparison uses.

use std::fmt::Write as _;

use super::limit::{Amount, Bands, Cite};
use super::{ansi_z80_1 as ansi, iso_21987 as iso};

/// Returns the tables of both standards as Markdown, each with its clause, how sure we are of it,
/// and its source. `docs/tolerances.md` carries this text between two marks.
pub fn markdown() -> String {
    let mut out = String::new();
    iso_tables(&mut out);
    ansi_tables(&mut out);
    out
}

fn iso_tables(out: &mut String) {
    title(out, "ISO 21987:2017, mounted lenses");
    table(
        out,
        "Single vision and multifocal: power (dioptres)",
        iso::CITES[0],
    );
    power_rows(out, &iso::SINGLE_VISION_POWER);
    table(out, "Power variation: power (dioptres)", iso::CITES[1]);
    power_rows(out, &iso::POWER_VARIATION_POWER);
    table(out, "Cylinder axis (degrees)", iso::CITES[2]);
    axis_rows(out, iso::NO_AXIS_BELOW_D, &iso::AXIS);
    table(out, "Addition (dioptres)", iso::CITES[3]);
    plain_rows(out, "addition", &iso::ADDITION);
    table(out, "Prism of the pair (prism dioptres)", iso::CITES[4]);
    prism_rows(out);
    table(out, "Places and other measures", iso::CITES[5]);
    let place = format!("{:.1} mm", iso::PLACE_MM);
    let difference = format!("{:.1} mm", iso::HEIGHT_DIFFERENCE_MM);
    let tilt = format!("{:.0} degrees", iso::TILT_DEG);
    let thickness = format!("{:.1} mm", iso::THICKNESS_MM);
    let base = format!("{:.2} D (a warning)", iso::BASE_CURVE_D);
    place_rows(
        out,
        &[
            (
                "each centration, multifocal and power variation",
                &place,
                iso::CITES[5],
            ),
            (
                "each height, multifocal and power variation",
                &place,
                iso::CITES[5],
            ),
            (
                "difference of the heights against the ordered one",
                &difference,
                iso::CITES[6],
            ),
            (
                "tilt of a segment top or marking line",
                &tilt,
                iso::CITES[7],
            ),
            ("centre thickness when ordered", &thickness, iso::CITES[8]),
            ("base curve when ordered", &base, iso::CITES[9]),
        ],
    );
}

fn ansi_tables(out: &mut String) {
    title(out, "ANSI Z80.1-2015");
    table(
        out,
        "Single vision and multifocal: meridian of highest absolute power (dioptres)",
        ansi::CITES[0],
    );
    amount_rows(out, "power", &ansi::SINGLE_VISION_POWER);
    table(
        out,
        "Single vision and multifocal: cylinder (dioptres)",
        ansi::CITES[0],
    );
    amount_rows(out, "cylinder", &ansi::SINGLE_VISION_CYLINDER);
    table(
        out,
        "Progressive: meridian of highest absolute power (dioptres)",
        ansi::CITES[1],
    );
    amount_rows(out, "power", &ansi::PROGRESSIVE_POWER);
    table(out, "Progressive: cylinder (dioptres)", ansi::CITES[1]);
    amount_rows(out, "cylinder", &ansi::PROGRESSIVE_CYLINDER);
    table(out, "Cylinder axis (degrees)", ansi::CITES[2]);
    axis_rows(out, ansi::NO_AXIS_BELOW_D, &ansi::AXIS);
    table(out, "Addition (dioptres)", ansi::CITES[3]);
    plain_rows(out, "addition", &ansi::ADDITION);
    table(
        out,
        "Vertical prism of the pair (prism dioptres)",
        ansi::CITES[4],
    );
    amount_rows(out, "power along the vertical", &ansi::VERTICAL);
    table(
        out,
        "Horizontal prism of the pair, single vision and multifocal (prism dioptres)",
        ansi::CITES[4],
    );
    amount_rows(out, "power along the horizontal", &ansi::HORIZONTAL);
    table(
        out,
        "Horizontal prism of the pair, progressive (prism dioptres)",
        ansi::CITES[5],
    );
    let edge = ansi::PROGRESSIVE_BREAK_D;
    head(out, &["power along the horizontal", "limit"]);
    row(
        out,
        &[
            format!("up to {edge}"),
            format!("{:.2}", ansi::PROGRESSIVE_HORIZONTAL),
        ],
    );
    row(
        out,
        &[
            format!("over {edge}"),
            format!("each centration {:.1} mm instead", ansi::PLACE_MM),
        ],
    );
    table(out, "Places and other measures", ansi::CITES[6]);
    let place = format!("{:.1} mm", ansi::PLACE_MM);
    let difference = format!("{:.1} mm", ansi::HEIGHT_DIFFERENCE_MM);
    let tilt = format!("{:.0} degrees", ansi::TILT_DEG);
    let thickness = format!("{:.1} mm", ansi::THICKNESS_MM);
    let base = format!("{:.2} D", ansi::BASE_CURVE_D);
    place_rows(
        out,
        &[
            (
                "each height, multifocal and progressive",
                &place,
                ansi::CITES[6],
            ),
            (
                "difference of the heights against the ordered one",
                &difference,
                ansi::CITES[6],
            ),
            (
                "tilt of a segment top or marking line",
                &tilt,
                ansi::CITES[7],
            ),
            ("centre thickness when ordered", &thickness, ansi::CITES[8]),
            ("base curve when ordered", &base, ansi::CITES[9]),
        ],
    );
}

fn line(out: &mut String, text: &str) {
    // Writing to a String cannot fail.
    let _ = writeln!(out, "{text}");
}

fn title(out: &mut String, text: &str) {
    line(out, &format!("## {text}\n"));
}

fn cited(cite: &Cite) -> String {
    format!(
        "{} [{}]: {}",
        cite.clause,
        cite.confidence.words(),
        cite.source
    )
}

fn table(out: &mut String, name: &str, cite: &Cite) {
    if !out.ends_with("\n\n") {
        line(out, "");
    }
    line(out, &format!("**{name}**  \n{}\n", cited(cite)));
}

fn row<T: AsRef<str>>(out: &mut String, cells: &[T]) {
    let cells: Vec<&str> = cells.iter().map(AsRef::as_ref).collect();
    line(out, &format!("| {} |", cells.join(" | ")));
}

fn head(out: &mut String, names: &[&str]) {
    row(out, names);
    row(out, &vec!["---"; names.len()]);
}

fn power_rows(out: &mut String, bands: &Bands<iso::PowerRow>) {
    let columns = iso::CYLINDER_COLUMNS.described();
    let names: Vec<String> = columns
        .iter()
        .map(|(band, _)| format!("cylinder {band}"))
        .collect();
    let mut cells = vec!["larger principal power", "each meridian"];
    cells.extend(names.iter().map(String::as_str));
    head(out, &cells);
    for (band, limits) in bands.described() {
        let mut cells = vec![band, format!("{:.2}", limits.meridian)];
        cells.extend(limits.cylinder.map(|limit| format!("{limit:.2}")));
        row(out, &cells);
    }
    line(out, "");
}

fn axis_rows(out: &mut String, none_below: f64, bands: &Bands<f64>) {
    head(out, &["ordered cylinder", "limit"]);
    row(
        out,
        &[format!("under {none_below}"), "not tested".to_owned()],
    );
    for (band, limit) in bands.described() {
        row(out, &[band, format!("{limit:.0}")]);
    }
    line(out, "");
}

fn plain_rows(out: &mut String, what: &str, bands: &Bands<f64>) {
    head(out, &[&format!("ordered {what}"), "limit"]);
    for (band, limit) in bands.described() {
        row(out, &[band, format!("{limit:.2}")]);
    }
    line(out, "");
}

fn amount(amount: Amount) -> String {
    match (amount.fixed > 0.0, amount.per_d > 0.0) {
        (true, true) => format!("{:.2} + {:.2} F", amount.fixed, amount.per_d),
        (false, true) => format!("{:.2} F", amount.per_d),
        _ => format!("{:.2}", amount.fixed),
    }
}

fn amount_rows(out: &mut String, what: &str, bands: &Bands<Amount>) {
    head(out, &[&format!("ordered {what}, F"), "limit"]);
    for (band, limit) in bands.described() {
        row(out, &[band, amount(*limit)]);
    }
    line(out, "");
}

fn prism_rows(out: &mut String) {
    let (h, v) = (iso::HORIZONTAL_BREAK_D, iso::VERTICAL_BREAK_D);
    head(
        out,
        &[
            "prescribed prism",
            &format!("horizontal, F up to {h}"),
            &format!("horizontal, F over {h}"),
            &format!("vertical, F up to {v}"),
            &format!("vertical, F over {v}"),
        ],
    );
    let vertical = iso::VERTICAL.described();
    for ((band, across), (_, up)) in iso::HORIZONTAL.described().into_iter().zip(vertical) {
        let cells = [across.weak, across.strong, up.weak, up.strong].map(amount);
        let mut all = vec![band];
        all.extend(cells);
        row(out, &all);
    }
    line(out, "");
}

fn place_rows(out: &mut String, rows: &[(&str, &str, &Cite)]) {
    head(out, &["what", "limit", "clause"]);
    for (what, limit, cite) in rows {
        row(out, &[(*what).to_owned(), (*limit).to_owned(), cited(cite)]);
    }
    line(out, "");
}
