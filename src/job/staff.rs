//! The people of the practice, and what each role may do.

use serde::{Deserialize, Serialize};

/// A role, lowest first: a later role may do what an earlier one may.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Role {
    /// Unregistered assistant.
    #[serde(rename = "assistant")]
    Assistant,
    /// Trainee under a registered supervisor.
    #[serde(rename = "trainee")]
    Trainee,
    /// Registered dispensing optician.
    #[serde(rename = "dispensing optician")]
    DispensingOptician,
    /// Registered optometrist.
    #[serde(rename = "optometrist")]
    Optometrist,
}

impl Role {
    /// Every role, lowest first.
    pub const ALL: &'static [Self] = &[
        Self::Assistant,
        Self::Trainee,
        Self::DispensingOptician,
        Self::Optometrist,
    ];

    /// The word of the role.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Assistant => "assistant",
            Self::Trainee => "trainee",
            Self::DispensingOptician => "dispensing optician",
            Self::Optometrist => "optometrist",
        }
    }

    /// Returns the role of a word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|r| r.word() == word)
    }

    /// Whether the role is a registered one.
    pub const fn is_registered(self) -> bool {
        matches!(self, Self::DispensingOptician | Self::Optometrist)
    }
}

/// One person of the staff list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StaffMember {
    /// Name.
    pub name: String,
    /// Role.
    pub role: Role,
    /// Registration number of a registered person.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub registration: Option<String>,
    /// Name of a trainee's supervisor.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supervisor: Option<String>,
}

/// The staff list.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct StaffRoll(pub Vec<StaffMember>);

impl StaffRoll {
    /// Returns the person of a name; letter case and outer blanks do not matter.
    pub fn find(&self, name: &str) -> Option<&StaffMember> {
        let wanted = name.trim().to_lowercase();
        self.0.iter().find(|m| m.name.to_lowercase() == wanted)
    }

    /// Whether the person of that name is a dispensing optician or an optometrist.
    pub fn is_registrant(&self, name: &str) -> bool {
        self.find(name).is_some_and(|m| m.role.is_registered())
    }

    /// Whether the person may serve a restricted wearer: registered, or a trainee whose
    /// supervisor is.
    pub fn may_serve_restricted(&self, name: &str) -> bool {
        self.find(name).is_some_and(|m| match m.role {
            Role::Trainee => m
                .supervisor
                .as_deref()
                .is_some_and(|s| self.is_registrant(s)),
            role => role.is_registered(),
        })
    }
}
