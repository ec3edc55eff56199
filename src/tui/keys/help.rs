//! The help of a screen: its keys, what has no key, and what may be typed for more than one value.

use std::fmt::Write as _;

use super::action::{ACTIONS, Action, Scope};
use super::keymap::Keymap;

/// A short form of what is typed into an entry.
#[derive(Debug)]
pub struct Typed {
    /// Examples as they are typed.
    pub text: &'static str,
    /// What it means.
    pub help: &'static str,
}

/// Every short form that the entries of a job take.
pub const TYPED: &[Typed] = &[
    Typed {
        text: "t, +7, 3/12/2026",
        help: "A day: today, in seven days, day before month.",
    },
    Typed {
        text: "-2.25/-0.75x90",
        help: "A whole power, in any entry of a power; add 2.00 may follow, and R and L say both eyes at once.",
    },
    Typed {
        text: "31/30.5",
        help: "A length of both eyes, the right one first, in the right eye's column.",
    },
    Typed {
        text: "21=",
        help: "A length that is the same in both eyes.",
    },
    Typed {
        text: "52-18-140",
        help: "In lens width, as it is printed inside the side: sets the distance between lenses and the side too.",
    },
    Typed {
        text: "bif, r 1.60",
        help: "A word of a list, or each of its words, by its beginning.",
    },
    Typed {
        text: "me, han",
        help: "A name of the staff by its beginning; me is who is acting.",
    },
    Typed {
        text: "prescribed",
        help: "In powers are: where no power to order is recorded yet, the prescription's powers are copied there; each can be corrected.",
    },
];

/// Returns the help of a screen: headings, which say nothing, and what each key or short form does.
pub fn entries(scope: Scope, keymap: &Keymap) -> Vec<(String, String)> {
    let mut scopes = vec![scope];
    if scope == Scope::Job {
        scopes.push(Scope::Entry);
    }
    scopes.push(Scope::Everywhere);
    // The shortest of its keys leaves room for the name.
    let palette = keymap.keys_of(Action::Palette);
    let palette = palette.iter().map(ToString::to_string);
    let palette = palette.min_by_key(String::len).unwrap_or_default();
    let mut out: Vec<(String, String)> = Vec::new();
    for scope in scopes {
        out.push((scope.title().to_owned(), String::new()));
        // What two actions say in the same words is listed once, with the keys of both.
        let mut said: Vec<(&str, Vec<String>)> = Vec::new();
        for e in ACTIONS.iter().filter(|e| e.scopes.contains(&scope)) {
            let keys = keymap.keys_of(e.action);
            let mut keys: Vec<String> = keys.iter().map(ToString::to_string).collect();
            // What has no key is found by its name.
            if keys.is_empty() {
                keys.push(format!("{palette} {}", e.id));
            }
            match said.iter_mut().find(|(help, _)| *help == e.help) {
                Some((_, before)) => before.extend(keys),
                None => said.push((e.help, keys)),
            }
        }
        out.extend((said.into_iter()).map(|(help, keys)| (keys.join(", "), help.to_owned())));
        if scope == Scope::Entry {
            out.push(("typed into an entry".to_owned(), String::new()));
            out.extend(TYPED.iter().map(|t| (t.text.to_owned(), t.help.to_owned())));
        }
    }
    out
}

/// The last entry that may stand at the top: below it the rest is seen.
pub(crate) fn places(scope: Scope, keymap: &Keymap) -> usize {
    entries(scope, keymap).len().saturating_sub(6)
}

/// Returns the table of default keys as Markdown.
pub fn markdown() -> String {
    let mut out = String::new();
    for scope in Scope::ALL {
        let heading = scope.title();
        // A String takes every write.
        let _ = write!(
            out,
            "### {heading}\n\n| key | action | what it does |\n|---|---|---|\n"
        );
        for e in ACTIONS.iter().filter(|e| e.scopes.contains(scope)) {
            let keys = e
                .keys
                .iter()
                .map(|k| format!("`{k}`"))
                .collect::<Vec<_>>()
                .join(", ");
            let _ = writeln!(out, "| {keys} | `{}` | {} |", e.id, e.help);
        }
        out.push('\n');
    }
    out + &typed_forms()
}

/// Returns the short forms as Markdown.
fn typed_forms() -> String {
    let mut out = String::from("### typed into an entry\n\n| typed | what it does |\n|---|---|\n");
    for t in TYPED {
        // A String takes every write.
        let _ = writeln!(out, "| `{}` | {} |", t.text, t.help);
    }
    out
}
