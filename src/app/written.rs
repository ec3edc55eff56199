//! A whole prescription typed into one power: `-2.25/-0.75x90 add +2.00` fills the row.

use serde_json::Value;

use crate::eye::Eye;
use crate::form::{self, Field, RowPowers};
use crate::notation::{self, Reading, WrittenRx};
use crate::units::Degree;

/// Returns the change a whole written power makes, or why it is none; nothing when the field takes
/// no powers or the text is no more than one number.
pub(crate) fn whole_power(field: &Field, text: &str) -> Option<Result<Value, String>> {
    let is_one_number = !text
        .chars()
        .any(|c| c.is_whitespace() || c.is_alphabetic() || c == '/');
    if !form::is_power_row(field) || is_one_number {
        return None;
    }
    let eye = field.eye?;
    let reading = match notation::read(text) {
        Ok(reading) => reading,
        Err(why) => return Some(Err(why.message)),
    };
    Some(match reading {
        Reading::One {
            eye: Some(said), ..
        } if said != eye => Err(format!(
            "this is the {said} eye's power and the cursor is on the {eye} eye: go to the {said} one"
        )),
        Reading::One { rx, .. } => Ok(form::fill_row(field, &powers(&rx, eye))),
        Reading::Two(both) => {
            let mut change = form::fill_row(field, &powers(both.get(eye), eye));
            if let Some(other) = form::copy_from_other_eye(field) {
                let more = form::fill_row(other, &powers(both.get(eye.other()), eye.other()));
                json_patch::merge(&mut change, &more);
            }
            Ok(change)
        }
    })
}

fn powers(rx: &WrittenRx, eye: Eye) -> RowPowers {
    let (base_in, base_up) = rx.prism_components(eye);
    RowPowers {
        sphere: Some(rx.sphere.to_dioptre()),
        cylinder: rx.cylinder.map(notation::Eighths::to_dioptre),
        axis: rx
            .axis_deg
            .map(|a| Degree::from_thousandths(i32::from(a) * 1000)),
        addition: rx.addition.map(notation::Eighths::to_dioptre),
        base_in,
        base_up,
    }
}
