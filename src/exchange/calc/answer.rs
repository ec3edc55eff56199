//! The answer to one request.

use serde_json::Value;

use super::error::{CalcError, RefusalKind};
use super::json::Node;
use super::request::Fields;
use super::{
    frames, lens, non_finite, powers, prisms, ranges, reply, tolerance_request, vertex, worn,
};

/// Returns the result of one request that is no text.
///
/// # Errors
/// [`CalcError`] as the answer of a line would say it.
pub(crate) fn calculate(request: &Value) -> Result<Value, CalcError> {
    let Node::Object(entries) = Node::from(request) else {
        return Err(no_object());
    };
    let mut out = Vec::new();
    dispatch(&Fields::root(&entries), &mut out)?;
    serde_json::from_slice(&out).map_err(|e| CalcError::new(RefusalKind::Impossible, e.to_string()))
}

fn no_object() -> CalcError {
    CalcError::new(
        RefusalKind::WrongType,
        "a request is a JSON object, one a line",
    )
}

/// Returns the answer to one request line, as one line without its line feed.
#[must_use]
pub fn answer(line: &str) -> String {
    let mut out = Vec::with_capacity(256);
    answer_into(line, &mut out);
    // Only JSON text was written.
    String::from_utf8(out).unwrap_or_default()
}

/// Appends the answer to one request line.
pub(super) fn answer_into(line: &str, out: &mut Vec<u8>) {
    match serde_json::from_str::<Node<'_>>(line) {
        Ok(Node::Object(entries)) => {
            let fields = Fields::root(&entries);
            reply::write(fields.id(), out, |out| dispatch(&fields, out));
        }
        Ok(_) => reply::refuse(&Node::Null, out, &no_object()),
        Err(why) => match non_finite::explain(line) {
            Some((id, error)) => reply::refuse(&id, out, &error),
            None => reply::refuse(
                &Node::Null,
                out,
                &CalcError::new(
                    RefusalKind::BadJson,
                    format!("this line is not JSON: {why}"),
                ),
            ),
        },
    }
}

/// Appends the result of the calculation that a request names.
fn dispatch(fields: &Fields<'_, '_>, out: &mut Vec<u8>) -> Result<(), CalcError> {
    match fields.text("calc")? {
        "transpose" => reply::result(out, powers::transpose(fields)?),
        "power_vector" => reply::result(out, powers::power_vector(fields)?),
        "combine" => reply::result(out, powers::combined(fields)?),
        "difference" => reply::result(out, powers::difference_of(fields)?),
        "meridian_power" => reply::result(out, powers::meridian_power(fields)?),
        "vertex" => reply::result(out, vertex::vertex_distance(fields)?),
        "prism_at" => reply::result(out, prisms::at_place(fields)?),
        "decentre_for" => reply::result(out, prisms::decentre(fields)?),
        "prism_resolve" => reply::result(out, prisms::resolved(fields)?),
        "prism_compound" => reply::result(out, prisms::compounded(fields)?),
        "reading_prism" => reply::result(out, prisms::reading(fields)?),
        "segment_jump" => reply::result(out, prisms::jump(fields)?),
        "prism_control" => reply::result(out, prisms::control(fields)?),
        "prism_shift" => reply::result(out, prisms::shift(fields)?),
        "clear_range" => reply::result(out, ranges::of_addition(fields)?),
        "office_range" => reply::result(out, ranges::of_office_lens(fields)?),
        "centration" => reply::result(out, frames::centration(fields)?),
        "blank" => reply::result(out, frames::blank(fields)?),
        "near_centration" => reply::result(out, frames::near_centration(fields)?),
        "drop_for_tilt" => reply::result(out, frames::drop_for_tilt(fields)?),
        "oblique" => reply::result(out, worn::oblique_power(fields)?),
        "oblique_compensate" => reply::result(out, worn::oblique_order(fields)?),
        "as_worn" => reply::result(out, worn::traced(fields)?),
        "as_worn_compensate" => reply::result(out, worn::traced_order(fields)?),
        "back_vertex" => reply::result(out, lens::back_vertex(fields)?),
        "thickness" => reply::result(out, lens::finished_thickness(fields)?),
        "magnification" => reply::result(out, lens::spectacle_magnification(fields)?),
        "aniseikonia" => reply::result(out, lens::aniseikonia_of_pair(fields)?),
        "tolerance" => reply::result(out, tolerance_request::answer(fields)?),
        other => Err(unknown_calc(other)),
    }
}

fn unknown_calc(name: &str) -> CalcError {
    CalcError::new(
        RefusalKind::UnknownCalc,
        format!(
            "there is no calculation called \"{name}\"; there are: transpose, power_vector, combine, difference, \
             meridian_power, vertex, prism_at, decentre_for, prism_resolve, prism_compound, reading_prism, \
             segment_jump, prism_control, prism_shift, clear_range, office_range, centration, blank, near_centration, drop_for_tilt, oblique, oblique_compensate, as_worn, \
             as_worn_compensate, back_vertex, thickness, magnification, aniseikonia, tolerance"
        ),
    )
}
