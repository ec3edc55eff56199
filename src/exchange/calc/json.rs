//! A request as parsed: a JSON value that borrows its text from the line.
//!
//! A general JSON value would copy every key of every line; a line has a handful of keys that are
//! looked at once, so borrowed names in a short list are both simpler and several times quicker.
//! Unlike a general value it also refuses an object that names a key twice.

use std::borrow::Cow;
use std::fmt;

use serde::de::{self, Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde::ser::{Serialize, SerializeMap, Serializer};

/// The keys and values of an object, in their order.
pub(super) type Entries<'a> = Vec<(Cow<'a, str>, Node<'a>)>;

/// A JSON value whose texts are borrowed from the line where they have no escapes.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Node<'a> {
    Null,
    Bool(bool),
    Int(i64),
    /// A whole number too large for the above, kept so that an id comes back unchanged.
    Uint(u64),
    Float(f64),
    Text(Cow<'a, str>),
    List(Vec<Node<'a>>),
    Object(Entries<'a>),
}

/// Most keys of one object. It keeps the search for a key cheap; no request has as many.
const MOST_KEYS: usize = 64;

impl Node<'_> {
    /// Returns what the value is, for a message.
    pub(crate) fn type_name(&self) -> &'static str {
        match self {
            Self::Null => "null",
            Self::Bool(_) => "true or false",
            Self::Int(_) | Self::Uint(_) | Self::Float(_) => "a number",
            Self::Text(_) => "text",
            Self::List(_) => "a list",
            Self::Object(_) => "an object",
        }
    }

    /// Returns the number, if it is one.
    #[allow(
        clippy::cast_precision_loss,
        reason = "whole numbers beyond 2^53 are far outside every accepted range"
    )]
    pub(crate) fn number(&self) -> Option<f64> {
        match *self {
            Self::Int(i) => Some(i as f64),
            Self::Uint(u) => Some(u as f64),
            Self::Float(f) => Some(f),
            _ => None,
        }
    }
}

impl<'a> From<&'a serde_json::Value> for Node<'a> {
    fn from(value: &'a serde_json::Value) -> Self {
        use serde_json::Value;
        match value {
            Value::Null => Self::Null,
            Value::Bool(b) => Self::Bool(*b),
            Value::Number(n) => match (n.as_i64(), n.as_u64()) {
                (Some(i), _) => Self::Int(i),
                (None, Some(u)) => Self::Uint(u),
                (None, None) => n.as_f64().map_or(Self::Null, Self::Float),
            },
            Value::String(text) => Self::Text(Cow::Borrowed(text)),
            Value::Array(list) => Self::List(list.iter().map(Self::from).collect()),
            Value::Object(map) => Self::Object(
                map.iter()
                    .map(|(key, value)| (Cow::Borrowed(key.as_str()), Self::from(value)))
                    .collect(),
            ),
        }
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for Node<'a> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        d.deserialize_any(NodeVisitor)
    }
}

struct NodeVisitor;

impl<'de> Visitor<'de> for NodeVisitor {
    type Value = Node<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<Self::Value, E> {
        Ok(Node::Null)
    }

    fn visit_bool<E>(self, v: bool) -> Result<Self::Value, E> {
        Ok(Node::Bool(v))
    }

    fn visit_i64<E>(self, v: i64) -> Result<Self::Value, E> {
        Ok(Node::Int(v))
    }

    fn visit_u64<E>(self, v: u64) -> Result<Self::Value, E> {
        Ok(i64::try_from(v).map_or(Node::Uint(v), Node::Int))
    }

    fn visit_f64<E>(self, v: f64) -> Result<Self::Value, E> {
        Ok(Node::Float(v))
    }

    fn visit_borrowed_str<E>(self, v: &'de str) -> Result<Self::Value, E> {
        Ok(Node::Text(Cow::Borrowed(v)))
    }

    fn visit_str<E>(self, v: &str) -> Result<Self::Value, E> {
        Ok(Node::Text(Cow::Owned(v.to_owned())))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Self::Value, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element()? {
            list.push(item);
        }
        Ok(Node::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut entries: Entries<'de> = Vec::with_capacity(8);
        while let Some(Name(name)) = map.next_key()? {
            if entries.iter().any(|(known, _)| *known == name) {
                return Err(de::Error::custom(format_args!(
                    "key \"{name}\" is given twice"
                )));
            }
            if entries.len() == MOST_KEYS {
                return Err(de::Error::custom("an object with more than 64 keys"));
            }
            entries.push((name, map.next_value()?));
        }
        Ok(Node::Object(entries))
    }
}

/// A key, borrowed from the line unless it is written with escapes.
struct Name<'a>(Cow<'a, str>);

impl<'de: 'a, 'a> Deserialize<'de> for Name<'a> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        struct NameVisitor;
        impl<'de> Visitor<'de> for NameVisitor {
            type Value = Name<'de>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a key")
            }

            fn visit_borrowed_str<E>(self, v: &'de str) -> Result<Self::Value, E> {
                Ok(Name(Cow::Borrowed(v)))
            }

            fn visit_str<E>(self, v: &str) -> Result<Self::Value, E> {
                Ok(Name(Cow::Owned(v.to_owned())))
            }
        }
        d.deserialize_str(NameVisitor)
    }
}

impl Serialize for Node<'_> {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Null => s.serialize_unit(),
            Self::Bool(b) => s.serialize_bool(*b),
            Self::Int(i) => s.serialize_i64(*i),
            Self::Uint(u) => s.serialize_u64(*u),
            Self::Float(f) => s.serialize_f64(*f),
            Self::Text(t) => s.serialize_str(t),
            Self::List(l) => s.collect_seq(l),
            Self::Object(entries) => {
                let mut map = s.serialize_map(Some(entries.len()))?;
                for (key, value) in entries {
                    map.serialize_entry(key, value)?;
                }
                map.end()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_comes_back_as_it_was() {
        let line = r#"{"a":[1,-2,2.5,18446744073709551615,true,null],"b\n":{"c":"d\"e"}}"#;
        let node: Node<'_> = serde_json::from_str(line).unwrap();
        assert_eq!(serde_json::to_string(&node).unwrap(), line);
    }

    #[test]
    fn a_key_given_twice_is_refused() {
        let e = serde_json::from_str::<Node<'_>>(r#"{"a":1,"a":2}"#).unwrap_err();
        assert!(e.to_string().contains("\"a\" is given twice"));
    }
}
