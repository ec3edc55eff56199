//! Impact marks of frames and lenses: which are weaker, and which spectacles cannot carry.

/// How much an impact mark promises, the weakest first. EN 166 has S (increased robustness) and F
/// (45 m/s); ISO 16321 has C (45 m/s), D (80 m/s) and E (120 m/s).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Impact {
    /// S.
    IncreasedRobustness,
    /// F and C.
    Metres45,
    /// D.
    Metres80,
    /// E.
    Metres120,
}

/// A mark as it was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Mark {
    /// A mark that spectacles carry.
    Impact(Impact),
    /// A mark of goggles, shields or other protection, and what it is of.
    NotOnSpectacles(&'static str),
    /// Letters that mean nothing here.
    Unknown,
}

impl Mark {
    /// Reads a mark without regard to case; `None` when nothing is written.
    ///
    /// EN 166 adds T to a mark that also holds at extreme temperatures: FT promises what F does.
    pub(crate) fn read(written: &str) -> Option<Self> {
        let upper = written.trim().to_uppercase();
        let letter = match upper.strip_suffix('T') {
            Some(before) if !before.is_empty() => before.trim_end(),
            _ => &upper,
        };
        Some(match letter {
            "" => return None,
            "S" => Self::Impact(Impact::IncreasedRobustness),
            "F" | "C" => Self::Impact(Impact::Metres45),
            "D" => Self::Impact(Impact::Metres80),
            "E" => Self::Impact(Impact::Metres120),
            "A" => Self::NotOnSpectacles("face shields"),
            "B" => Self::NotOnSpectacles("goggles and face shields"),
            "3" => Self::NotOnSpectacles("protection from splash"),
            "4" => Self::NotOnSpectacles("protection from dust"),
            "5" => Self::NotOnSpectacles("protection from gas"),
            "9" => Self::NotOnSpectacles("protection from molten metal"),
            _ => Self::Unknown,
        })
    }

    /// What is wrong with it as a mark of spectacles.
    pub(crate) fn fault(self) -> Option<String> {
        match self {
            Self::Impact(_) => None,
            Self::NotOnSpectacles(of) => Some(format!("is of {of} and never on spectacles")),
            Self::Unknown => Some("is none of the marks S, F, C, D and E".to_owned()),
        }
    }

    /// Whether it promises less than another; `false` where one of them is no impact mark of
    /// spectacles.
    pub(crate) fn is_weaker_than(self, other: Self) -> bool {
        match (self, other) {
            (Self::Impact(one), Self::Impact(other)) => one < other,
            _ => false,
        }
    }
}

/// Reads a mark that may not be recorded.
pub(crate) fn recorded(mark: Option<&String>) -> Option<(&str, Mark)> {
    let written = mark?.trim();
    Some((written, Mark::read(written)?))
}
