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

    /// Whether the role is one that people are registered for.
    pub const fn is_registered(self) -> bool {
        matches!(self, Self::DispensingOptician | Self::Optometrist)
    }
}

/// What makes a dispensing optician or an optometrist registered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum NumberRule {
    /// The role and a registration number on the staff list.
    #[default]
    #[serde(rename = "required")]
    Required,
    /// The role alone.
    #[serde(rename = "not required")]
    NotRequired,
}

impl NumberRule {
    /// Every rule.
    pub const ALL: [Self; 2] = [Self::Required, Self::NotRequired];

    /// The word it is set by.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Required => "required",
            Self::NotRequired => "not required",
        }
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

impl StaffMember {
    /// Whether the person is a registered dispensing optician or optometrist.
    pub fn is_registrant(&self, rule: NumberRule) -> bool {
        self.role.is_registered() && !self.lacks_number(rule)
    }

    /// Whether the person's role is a registered one and the number that the rule asks for is missing.
    pub fn lacks_number(&self, rule: NumberRule) -> bool {
        let number = self.registration.as_deref().map(str::trim);
        self.role.is_registered()
            && rule == NumberRule::Required
            && number.is_none_or(str::is_empty)
    }
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

    /// Whether the person of that name is a registered dispensing optician or optometrist.
    pub fn is_registrant(&self, name: &str, rule: NumberRule) -> bool {
        self.find(name).is_some_and(|m| m.is_registrant(rule))
    }

    /// Whether the person may serve a restricted wearer: registered, or a trainee whose
    /// supervisor is.
    pub fn may_serve_restricted(&self, name: &str, rule: NumberRule) -> bool {
        self.find(name).is_some_and(|m| match m.role {
            Role::Trainee => m
                .supervisor
                .as_deref()
                .is_some_and(|s| self.is_registrant(s, rule)),
            _ => m.is_registrant(rule),
        })
    }
}
