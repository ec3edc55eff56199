//! Reading a request strictly: no key unknown, none missing, every number within its range.
//!
//! Refusals name the key with its path (`rx.axis_deg`, `powers[1].sphere_d`).

use super::error::{CalcError, RefusalKind};
use super::json::{Entries, Node};
use super::keys::{self, NumberKey};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::optics::prism::{LensPoint, Prism};
use crate::trade::optics::tilt::Tilt;

/// An object of a request, with its path for the messages.
pub(super) struct Fields<'r, 'a> {
    entries: &'r Entries<'a>,
    path: Path<'r>,
}

/// The path of an object in its request; written out only for a refusal.
#[derive(Clone, Copy)]
enum Path<'r> {
    Root,
    Key(&'r Path<'r>, &'r str),
    Item(&'r Path<'r>, &'r str, usize),
}

impl Path<'_> {
    fn with(self, key: &str) -> String {
        match self {
            Self::Root => key.to_owned(),
            Self::Key(parent, name) => format!("{}.{key}", parent.with(name)),
            Self::Item(parent, name, i) => format!("{}[{i}].{key}", parent.with(name)),
        }
    }
}

/// Keys that every request may have.
const EVERY_REQUEST: [&str; 2] = ["id", "calc"];

impl<'r, 'a> Fields<'r, 'a> {
    /// Returns the fields of a whole request.
    pub(crate) fn root(entries: &'r Entries<'a>) -> Self {
        Self {
            entries,
            path: Path::Root,
        }
    }

    /// Returns the id to echo: null where there is none.
    pub(crate) fn id(&self) -> &Node<'a> {
        self.get("id").unwrap_or(&Node::Null)
    }

    /// Refuses any key but these (and those that every request may have).
    pub(crate) fn only(&self, accepted: &[&str]) -> Result<(), CalcError> {
        for (key, _) in self.entries {
            let known = accepted.contains(&key.as_ref())
                || (matches!(self.path, Path::Root) && EVERY_REQUEST.contains(&key.as_ref()));
            if !known {
                return Err(CalcError::new(
                    RefusalKind::UnknownKey,
                    format!(
                        "unknown key \"{}\": accepted are {}",
                        self.path.with(key),
                        accepted.join(", ")
                    ),
                ));
            }
        }
        Ok(())
    }

    /// Returns the whole object as a `serde_json` map.
    pub(crate) fn to_map(&self) -> serde_json::Map<String, serde_json::Value> {
        self.entries
            .iter()
            .filter_map(|(key, node)| Some((key.to_string(), serde_json::to_value(node).ok()?)))
            .collect()
    }

    /// Whether the key is there.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.get(key).is_some()
    }

    /// Returns the refusal for a key that is needed and not there.
    pub(crate) fn missing(&self, key: &str) -> CalcError {
        CalcError::new(
            RefusalKind::MissingKey,
            format!("missing key \"{}\"", self.path.with(key)),
        )
    }

    /// Returns the refusal for a value that is none of those accepted.
    pub(crate) fn refuse(&self, key: &str, why: &str) -> CalcError {
        CalcError::new(
            RefusalKind::OutOfRange,
            format!("\"{}\" {why}", self.path.with(key)),
        )
    }

    /// Returns a number within its range.
    pub(crate) fn number(&self, key: &NumberKey) -> Result<f64, CalcError> {
        let node = self.get(key.name).ok_or_else(|| self.missing(key.name))?;
        let value = node
            .number()
            .ok_or_else(|| self.wrong_type(key.name, node, "a number"))?;
        if (key.low..=key.high).contains(&value) {
            Ok(value)
        } else {
            Err(self.refuse(key.name, &format!("is {value}: {}", key.range())))
        }
    }

    /// Returns a number of its range that is above 0.
    pub(crate) fn above_zero(&self, key: &NumberKey) -> Result<f64, CalcError> {
        let value = self.number(key)?;
        if value > 0.0 {
            Ok(value)
        } else {
            let why = format!(
                "is {value}: accepted are above 0 to {} {}",
                key.high, key.unit
            );
            Err(self.refuse(key.name, &why))
        }
    }

    /// Returns a number within its range, none where the key is not there.
    pub(crate) fn optional(&self, key: &NumberKey) -> Result<Option<f64>, CalcError> {
        self.has(key.name).then(|| self.number(key)).transpose()
    }

    /// Returns a number within its range, or the usual one where the key is not there.
    pub(crate) fn number_or(&self, key: &NumberKey, usual: f64) -> Result<f64, CalcError> {
        Ok(self.optional(key)?.unwrap_or(usual))
    }

    /// Returns a text.
    pub(crate) fn text(&self, key: &str) -> Result<&str, CalcError> {
        match self.get(key) {
            Some(Node::Text(text)) => Ok(text),
            Some(other) => Err(self.wrong_type(key, other, "text")),
            None => Err(self.missing(key)),
        }
    }

    /// Returns a text, none where the key is not there.
    pub(crate) fn optional_text(&self, key: &str) -> Result<Option<&str>, CalcError> {
        self.has(key).then(|| self.text(key)).transpose()
    }

    /// Returns which of two keys that exclude each other is there, with its value.
    pub(crate) fn either(&self, one: &NumberKey, other: &NumberKey) -> Result<Either, CalcError> {
        match (self.optional(one)?, self.optional(other)?) {
            (Some(value), None) => Ok(Either::One(value)),
            (None, Some(value)) => Ok(Either::Other(value)),
            (None, None) => Err(CalcError::new(
                RefusalKind::MissingKey,
                format!(
                    "missing key \"{}\" or \"{}\": one of them is needed",
                    self.path.with(one.name),
                    other.name
                ),
            )),
            (Some(_), Some(_)) => Err(CalcError::new(
                RefusalKind::UnknownKey,
                format!(
                    "\"{}\" is not accepted together with \"{}\": give one of them",
                    self.path.with(other.name),
                    one.name
                ),
            )),
        }
    }

    /// Returns an object.
    pub(crate) fn object<'c>(&'c self, key: &'c str) -> Result<Fields<'c, 'a>, CalcError> {
        match self.get(key) {
            Some(Node::Object(entries)) => Ok(Fields {
                entries,
                path: Path::Key(&self.path, key),
            }),
            Some(other) => Err(self.wrong_type(key, other, "an object")),
            None => Err(self.missing(key)),
        }
    }

    /// Returns the lens powers in a list, in their order.
    pub(crate) fn powers<'c>(
        &'c self,
        key: &'c str,
        most: usize,
    ) -> Result<impl Iterator<Item = Result<Rx, CalcError>> + 'c, CalcError> {
        let list = match self.get(key) {
            Some(Node::List(list)) => list,
            Some(other) => return Err(self.wrong_type(key, other, "a list of powers")),
            None => return Err(self.missing(key)),
        };
        if list.is_empty() || list.len() > most {
            let why = format!("has {} powers: accepted are 1 to {most}", list.len());
            return Err(self.refuse(key, &why));
        }
        Ok(list.iter().enumerate().map(move |(i, item)| match item {
            Node::Object(entries) => Fields {
                entries,
                path: Path::Item(&self.path, key, i),
            }
            .power(),
            other => Err(self.wrong_type(&format!("{key}[{i}]"), other, "a power")),
        }))
    }

    /// Returns the lens power under a key.
    pub(crate) fn rx(&self, key: &str) -> Result<Rx, CalcError> {
        self.object(key)?.power()
    }

    /// Returns the lens power that this object is: a cylinder needs an axis, an axis of 0 is 180.
    fn power(&self) -> Result<Rx, CalcError> {
        self.only(&["sphere_d", "cylinder_d", "axis_deg"])?;
        let sphere_d = self.number(&keys::SPHERE_D)?;
        let cylinder_d = self.number_or(&keys::CYLINDER_D, 0.0)?;
        let axis_deg = match self.optional(&keys::AXIS_DEG)? {
            Some(deg) if deg > 0.0 => deg,
            None if cylinder_d.abs() > 0.0 => return Err(self.missing(keys::AXIS_DEG.name)),
            Some(_) | None => 180.0,
        };
        Ok(Rx::new(sphere_d, cylinder_d, axis_deg))
    }

    /// Returns the numbers in a list, in their order, each within its range.
    pub(crate) fn numbers(&self, key: &NumberKey, most: usize) -> Result<Vec<f64>, CalcError> {
        let list = match self.get(key.name) {
            Some(Node::List(list)) => list,
            Some(other) => return Err(self.wrong_type(key.name, other, "a list of numbers")),
            None => return Err(self.missing(key.name)),
        };
        if list.is_empty() || list.len() > most {
            let why = format!("has {} numbers: accepted are 1 to {most}", list.len());
            return Err(self.refuse(key.name, &why));
        }
        list.iter()
            .map(|node| {
                let value = node
                    .number()
                    .ok_or_else(|| self.wrong_type(key.name, node, "a list of numbers"))?;
                if (key.low..=key.high).contains(&value) {
                    Ok(value)
                } else {
                    Err(self.refuse(key.name, &format!("holds {value}: {}", key.range())))
                }
            })
            .collect()
    }

    /// Returns the eye that the request is for.
    pub(crate) fn eye(&self) -> Result<Eye, CalcError> {
        match self.text("eye")? {
            "right" => Ok(Eye::Right),
            "left" => Ok(Eye::Left),
            _ => Err(self.refuse("eye", "is neither \"right\" nor \"left\"")),
        }
    }

    /// Returns the cylinder form that is asked for.
    pub(crate) fn form(&self) -> Result<Form, CalcError> {
        match self.text("form")? {
            "minus" => Ok(Form::Minus),
            "plus" => Ok(Form::Plus),
            _ => Err(self.refuse("form", "is neither \"plus\" nor \"minus\"")),
        }
    }

    /// Returns the cylinder form for results: minus unless the request asks for plus.
    pub(crate) fn form_or_minus(&self) -> Result<Form, CalcError> {
        if self.has("form") {
            self.form()
        } else {
            Ok(Form::Minus)
        }
    }

    /// Returns `in_mm` and `up_mm`.
    pub(crate) fn place(&self) -> Result<LensPoint, CalcError> {
        Ok(LensPoint {
            in_mm: self.number(&keys::IN_MM)?,
            up_mm: self.number(&keys::UP_MM)?,
        })
    }

    /// Returns `base_in_delta` and `base_up_delta`.
    pub(crate) fn prism(&self) -> Result<Prism, CalcError> {
        Ok(Prism {
            base_in_delta: self.number(&keys::BASE_IN_DELTA)?,
            base_up_delta: self.number(&keys::BASE_UP_DELTA)?,
        })
    }

    /// Returns `pantoscopic_deg` and `face_form_deg`.
    pub(crate) fn tilt(&self) -> Result<Tilt, CalcError> {
        Ok(Tilt {
            pantoscopic_deg: self.number(&keys::PANTOSCOPIC_DEG)?,
            face_form_deg: self.number(&keys::FACE_FORM_DEG)?,
        })
    }

    fn get(&self, key: &str) -> Option<&'r Node<'a>> {
        self.entries.iter().find(|(k, _)| k == key).map(|(_, v)| v)
    }

    fn wrong_type(&self, key: &str, found: &Node<'_>, wanted: &str) -> CalcError {
        let hint = if matches!(found, Node::Null) {
            "; leave the key out where there is no value"
        } else {
            ""
        };
        CalcError::new(
            RefusalKind::WrongType,
            format!(
                "\"{}\" is {}, not {wanted}{hint}",
                self.path.with(key),
                found.type_name()
            ),
        )
    }
}

/// The one of two keys that is there, with its value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Either {
    /// The first of them.
    One(f64),
    /// The second.
    Other(f64),
}

/// The form of a power: with a minus or a plus cylinder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    Minus,
    Plus,
}

impl Form {
    /// Returns the power in this form.
    pub(crate) fn of(self, rx: Rx) -> Rx {
        match self {
            Self::Minus => rx.minus_form(),
            Self::Plus => rx.plus_form(),
        }
    }
}
