//! The checks that hold a job, as stored in its row: one text, split only where it is shown.
//! A worklist has hundreds of such lines, and a screen shows a dozen.

use std::fmt;

use serde::{Serialize, Serializer};

/// Ids of checks, in their order.
#[derive(Clone, PartialEq, Eq)]
pub struct Held(String);

impl Held {
    /// Reads the ids from a stored JSON list.
    pub fn kept(text: &str) -> Self {
        // As this program writes it: ids are small letters and hyphens, which JSON leaves as they are.
        let is_ours = !text.as_bytes().contains(&b'\\') && !text.as_bytes().contains(&b' ');
        if is_ours && (text == "[]" || text.starts_with("[\"") && text.ends_with("\"]")) {
            return Self(text.to_owned());
        }
        let ids: Vec<String> = serde_json::from_str(text).unwrap_or_default();
        ids.into_iter().collect()
    }

    /// Returns the stored JSON list.
    pub fn as_kept(&self) -> &str {
        &self.0
    }

    /// Whether no check holds the job.
    pub fn is_empty(&self) -> bool {
        self.0.len() <= "[]".len()
    }

    /// Returns the ids, in their order.
    pub fn iter(&self) -> impl Iterator<Item = &str> {
        // Ids are every second part between the quotation marks.
        self.0.split('"').skip(1).step_by(2)
    }
}

impl Default for Held {
    fn default() -> Self {
        Self("[]".to_owned())
    }
}

impl<T: AsRef<str>> FromIterator<T> for Held {
    fn from_iter<I: IntoIterator<Item = T>>(ids: I) -> Self {
        let mut text = String::from("[");
        for id in ids {
            if text.len() > 1 {
                text.push(',');
            }
            text.push('"');
            // A mark inside an id would end it; no check has one.
            text.extend(id.as_ref().chars().filter(|c| *c != '"'));
            text.push('"');
        }
        text.push(']');
        Self(text)
    }
}

impl fmt::Debug for Held {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_list().entries(self.iter()).finish()
    }
}

impl Serialize for Held {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.collect_seq(self.iter())
    }
}

impl<const N: usize> PartialEq<[&str; N]> for Held {
    fn eq(&self, other: &[&str; N]) -> bool {
        self.iter().eq(other.iter().copied())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ids_of_checks_are_read_as_json_reads_them() {
        for text in [
            "[]",
            r#"["a-b"]"#,
            r#"["a","b","c"]"#,
            r#"["a", "b"]"#,
            "",
            "[1]",
            r#"[1,"b"]"#,
            r#"["\u0061-b"]"#,
        ] {
            let ids: Vec<String> = serde_json::from_str(text).unwrap_or_default();
            let held = Held::kept(text);
            assert!(held.iter().eq(ids.iter().map(String::as_str)), "{text}");
            assert_eq!(held.is_empty(), ids.is_empty(), "{text}");
            assert_eq!(
                serde_json::to_string(&held).unwrap(),
                serde_json::to_string(&ids).unwrap()
            );
            assert_eq!(Held::kept(held.as_kept()), held);
            assert_eq!(ids.iter().collect::<Held>(), held);
        }
    }
}
