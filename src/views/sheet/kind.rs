//! The sheets that a practice prints.

/// A sheet that can be printed of a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetKind {
    /// Values to find, true up and read a pair at the bench.
    Tray,
    /// Everything the laboratory needs for these lenses.
    Order,
    /// The finished pair at 1:1, to lay the spectacles on.
    Chart,
    /// Prescription, fitting values and care, for the wearer.
    Wearer,
}

impl SheetKind {
    /// Every sheet.
    pub const ALL: [Self; 4] = [Self::Tray, Self::Order, Self::Chart, Self::Wearer];

    /// The word that names it on the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Tray => "tray",
            Self::Order => "order",
            Self::Chart => "chart",
            Self::Wearer => "wearer",
        }
    }

    /// The sheet that a word names.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|w| w.word() == word)
    }

    /// Its title on paper.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Tray => "Tray sheet",
            Self::Order => "Lens order",
            Self::Chart => "Chart of the finished pair",
            Self::Wearer => "Your spectacles",
        }
    }

    /// A line for a list of sheets: the word and the purpose.
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::Tray => "tray: what the bench needs, with the code of the tray",
            Self::Order => "order: what the laboratory needs for these lenses",
            Self::Chart => "chart: the finished pair at 1:1, to lay it on",
            Self::Wearer => "wearer: prescription, fitting values and care, to take home",
        }
    }
}
