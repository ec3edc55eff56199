//! Changes of a section: one value, or a whole row of powers.

use serde_json::{Map, Value};

use super::field::Field;
use super::key_type::KeyType;
use super::table::{fields, find};
use crate::trade::eye::Eye;
use crate::trade::notation::{Eighths, WrittenRx};
use crate::trade::units::{Degree, Dioptre, PrismDioptre};

/// Returns the change of the field's section that sets just this value (`Null` removes it).
pub fn change(field: &Field, value: Value) -> Value {
    nested(field.path, value)
}

pub(super) fn nested(path: &str, value: Value) -> Value {
    path.rsplit('.').fold(value, |inner, key| {
        Value::Object(Map::from_iter([(key.to_owned(), inner)]))
    })
}

/// Returns the same value's field of the other eye.
pub fn copy_from_other_eye(field: &Field) -> Option<&'static Field> {
    let (own, other) = match field.eye? {
        Eye::Right => ("right", "left"),
        Eye::Left => ("left", "right"),
    };
    let path = field.path.replacen(own, other, 1);
    fields(field.section).iter().find(|f| f.path == path)
}

/// A whole power as it was typed into one field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct RowPowers {
    /// Sphere, dioptres.
    pub sphere: Option<Dioptre>,
    /// Cylinder, dioptres, in the form in which it was written.
    pub cylinder: Option<Dioptre>,
    /// Axis, degrees.
    pub axis: Option<Degree>,
    /// Addition, dioptres.
    pub addition: Option<Dioptre>,
    /// Prism base in; base out is negative.
    pub base_in: Option<PrismDioptre>,
    /// Prism base up; base down is negative.
    pub base_up: Option<PrismDioptre>,
}

/// Returns a written prescription as the values of a row.
pub(crate) fn row_powers(rx: &WrittenRx, eye: Eye) -> RowPowers {
    let (base_in, base_up) = rx.prism_components(eye);
    let written = |d: PrismDioptre| (d != PrismDioptre::default()).then_some(d);
    RowPowers {
        sphere: Some(rx.sphere.to_dioptre()),
        cylinder: rx.cylinder.map(Eighths::to_dioptre),
        axis: rx
            .axis_deg
            .map(|a| Degree::from_thousandths(i32::from(a) * 1000)),
        addition: rx.addition.map(Eighths::to_dioptre),
        base_in: written(base_in),
        base_up: written(base_up),
    }
}

const ROW_KEYS: [&str; 6] = [
    "sphere_d",
    "cylinder_d",
    "axis_deg",
    "addition_d",
    "base_in_delta",
    "base_up_delta",
];

/// Whether a whole power may be typed into this field.
pub fn is_power_row(field: &Field) -> bool {
    prefix(field).is_some()
}

/// The path of the eye the field belongs to, when the field is one value of a power.
pub(super) fn prefix(field: &Field) -> Option<&'static str> {
    let (prefix, key) = field.path.rsplit_once('.')?;
    let sphere = format!("{}.{prefix}.sphere_d", field.section.word());
    (field.eye.is_some() && ROW_KEYS.contains(&key) && find(&sphere).is_some()).then_some(prefix)
}

/// Returns the change that fills the field's row with a whole power.
///
/// Sphere, cylinder and axis belong together and are replaced together: a sphere alone takes a
/// cylinder away. Addition and prism change only when they were typed. For a field that belongs
/// to no power the change is empty.
pub fn fill_row(field: &Field, row: &RowPowers) -> Value {
    let Some(prefix) = prefix(field) else {
        return Value::Object(Map::new());
    };
    let mut eye = Map::new();
    eye.insert("sphere_d".to_owned(), json(row.sphere));
    eye.insert("cylinder_d".to_owned(), json(row.cylinder));
    eye.insert("axis_deg".to_owned(), json(row.axis));
    if row.addition.is_some() {
        eye.insert("addition_d".to_owned(), json(row.addition));
    }
    if row.base_in.is_some() {
        eye.insert("base_in_delta".to_owned(), json(row.base_in));
    }
    if row.base_up.is_some() {
        eye.insert("base_up_delta".to_owned(), json(row.base_up));
    }
    nested(prefix, Value::Object(eye))
}

pub(super) fn json<T: KeyType + Copy>(value: Option<T>) -> Value {
    value.value().map_or(Value::Null, |value| value.to_json())
}
