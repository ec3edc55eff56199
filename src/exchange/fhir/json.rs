//! JSON whose decimals keep the places they were written with: `-2.50` stays `-2.50`. FHIR counts
//! trailing zeros as meaning, and a power must not pass through binary fractions.

use std::fmt;

/// A JSON value.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Json {
    /// A text.
    Text(String),
    /// A number as it is written.
    Number(String),
    /// A list.
    List(Vec<Json>),
    /// An object, keys in their order.
    Object(Vec<(&'static str, Json)>),
}

impl Json {
    /// A text.
    pub(crate) fn text(value: impl Into<String>) -> Self {
        Self::Text(value.into())
    }

    fn write(&self, f: &mut fmt::Formatter<'_>, depth: usize) -> fmt::Result {
        let indent = |f: &mut fmt::Formatter<'_>, depth: usize| {
            writeln!(f)?;
            write!(f, "{:width$}", "", width = depth * 2)
        };
        match self {
            Self::Text(text) => f.write_str(&quoted(text)),
            Self::Number(number) => f.write_str(number),
            Self::List(list) if list.is_empty() => f.write_str("[]"),
            Self::List(list) => {
                f.write_str("[")?;
                for (i, item) in list.iter().enumerate() {
                    if i > 0 {
                        f.write_str(",")?;
                    }
                    indent(f, depth + 1)?;
                    item.write(f, depth + 1)?;
                }
                indent(f, depth)?;
                f.write_str("]")
            }
            Self::Object(keys) => {
                f.write_str("{")?;
                for (i, (key, value)) in keys.iter().enumerate() {
                    if i > 0 {
                        f.write_str(",")?;
                    }
                    indent(f, depth + 1)?;
                    write!(f, "{}: ", quoted(key))?;
                    value.write(f, depth + 1)?;
                }
                indent(f, depth)?;
                f.write_str("}")
            }
        }
    }
}

impl fmt::Display for Json {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.write(f, f.width().unwrap_or(0))
    }
}

/// A text in quotes, its control characters escaped.
fn quoted(text: &str) -> String {
    // A text always serialises.
    serde_json::to_string(text).unwrap_or_default()
}
