//! From a key to an action, and back from an action to the key that is shown.

use std::collections::HashMap;

use super::action::{ACTIONS, Action, Entry, Scope};
use super::key::{Key, NoSuchKey};

/// A key file that cannot be used; the program does not start with keys nobody knows.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum KeymapError {
    /// It is no TOML.
    #[error("the key file is no TOML table of `action = \"key\"` or `action = [\"key\", …]`: {0}")]
    File(String),
    /// An action is not known.
    #[error(
        "the key file names the action {0:?}, which there is not; docs/keys.md lists the names, so does `:` in the program"
    )]
    Action(String),
    /// A key is not known.
    #[error("the key file gives {action} a key that there is not: {key}")]
    Key {
        /// The action.
        action: String,
        /// The key.
        key: NoSuchKey,
    },
    /// Two actions of one screen have the same key.
    #[error("the key file gives {key} to both {first} and {second} on the same screen")]
    Twice {
        /// The key.
        key: String,
        /// One action.
        first: &'static str,
        /// The other.
        second: &'static str,
    },
}

/// Which key does what, by scope.
#[derive(Debug, Clone)]
pub struct Keymap {
    keys: HashMap<Action, Vec<Key>>,
}

#[derive(serde::Deserialize)]
#[serde(untagged)]
enum OneOrMore {
    One(String),
    More(Vec<String>),
}

impl Default for Keymap {
    fn default() -> Self {
        let keys = ACTIONS
            .iter()
            .map(|e| {
                (
                    e.action,
                    e.keys.iter().filter_map(|k| Key::parse(k).ok()).collect(),
                )
            })
            .collect();
        Self { keys }
    }
}

impl Keymap {
    /// Returns the default keys with those of a key file in place of its actions' own.
    ///
    /// # Errors
    /// [`KeymapError`] naming the action or key that is wrong.
    pub fn with_file(text: &str) -> Result<Self, KeymapError> {
        let file: HashMap<String, OneOrMore> =
            toml::from_str(text).map_err(|e| KeymapError::File(e.message().to_owned()))?;
        let mut map = Self::default();
        for (id, names) in file {
            let action = Action::named(&id).ok_or_else(|| KeymapError::Action(id.clone()))?;
            let names = match names {
                OneOrMore::One(n) => vec![n],
                OneOrMore::More(list) => list,
            };
            let keys = names
                .iter()
                .map(|n| Key::parse(n))
                .collect::<Result<Vec<_>, _>>()
                .map_err(|key| KeymapError::Key {
                    action: id.clone(),
                    key,
                })?;
            map.keys.insert(action, keys);
        }
        map.check()?;
        Ok(map)
    }

    fn check(&self) -> Result<(), KeymapError> {
        for scope in Scope::ALL {
            let here: Vec<_> = ACTIONS
                .iter()
                .filter(|e| e.scopes.contains(scope))
                .collect();
            for (i, first) in here.iter().enumerate() {
                for second in here.iter().skip(i + 1) {
                    if let Some(key) = self
                        .keys_of(first.action)
                        .iter()
                        .find(|k| self.keys_of(second.action).contains(k))
                    {
                        return Err(KeymapError::Twice {
                            key: key.to_string(),
                            first: first.id,
                            second: second.id,
                        });
                    }
                }
            }
            self.leaves_everywhere(&here)?;
        }
        Ok(())
    }

    /// Refuses keys of one screen that would leave an action of everywhere, such as the help, without
    /// any key there. Where the program's own keys do so it is meant: what is typed is left first.
    fn leaves_everywhere(&self, here: &[&Entry]) -> Result<(), KeymapError> {
        let own = Self::default();
        for entry in ACTIONS {
            if !entry.scopes.contains(&Scope::Everywhere) || own.hidden(entry, here).is_some() {
                continue;
            }
            if let Some((key, other)) = self.hidden(entry, here) {
                return Err(KeymapError::Twice {
                    key: key.to_string(),
                    first: entry.id,
                    second: other.id,
                });
            }
        }
        Ok(())
    }

    /// The first key of an action and the one that takes it on a screen, where none is left to it.
    fn hidden<'a>(&self, entry: &Entry, here: &[&'a Entry]) -> Option<(Key, &'a Entry)> {
        let taken = |key: &Key| {
            here.iter()
                .find(|e| e.action != entry.action && self.keys_of(e.action).contains(key))
                .copied()
        };
        let keys = self.keys_of(entry.action);
        let first = *keys.first()?;
        let by = taken(&first)?;
        keys.iter()
            .all(|k| taken(k).is_some())
            .then_some((first, by))
    }

    /// Returns the action of a key in a scope; a screen's own keys go before those of everywhere.
    pub fn action(&self, scope: Scope, key: Key) -> Option<Action> {
        let of = |wanted: Scope| {
            ACTIONS
                .iter()
                .filter(move |e| e.scopes.contains(&wanted))
                .find(|e| self.keys_of(e.action).contains(&key))
                .map(|e| e.action)
        };
        // While text is typed, a character that could begin or go on a text is never a command.
        let typed = matches!(scope, Scope::Entry | Scope::Lookup) && key.types().is_some();
        if typed {
            return None;
        }
        of(scope).or_else(|| of(Scope::Everywhere))
    }

    /// Returns the keys of an action.
    pub fn keys_of(&self, action: Action) -> &[Key] {
        self.keys.get(&action).map_or(&[], Vec::as_slice)
    }

    /// Returns a sentence with the first key of each action in place of its name in braces.
    pub fn sentence(&self, text: &str) -> String {
        let mut out = String::new();
        let mut rest = text;
        while let Some((before, after)) = rest.split_once('{') {
            let Some((name, behind)) = after.split_once('}') else {
                break;
            };
            out.push_str(before);
            let key = Action::named(name).and_then(|a| self.shown(a));
            out.push_str(key.as_deref().unwrap_or(name));
            rest = behind;
        }
        out + rest
    }

    /// What becomes of an entry that is being typed by which key.
    pub fn kept_or_dropped(&self) -> String {
        self.sentence("{commit} keeps it, {restore} drops it")
    }

    /// The keys that answer a check, as `y or n`.
    pub fn yes_or_no(&self) -> String {
        let key = |action| self.shown(action).unwrap_or_default();
        format!("{} or {}", key(Action::Yes), key(Action::No))
    }

    /// Returns the first key of an action as it is shown, or nothing.
    pub fn shown(&self, action: Action) -> Option<String> {
        self.keys_of(action).first().map(ToString::to_string)
    }
}
