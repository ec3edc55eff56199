//! The sheets that a practice prints.

/// A sheet that can be printed of a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetKind {
    /// SheetKind the bench needs.
    Tray,
    /// SheetKind the laboratory needs.
    Order,
    /// The finished pair to scale, to lay it on.
    Chart,
    /// SheetKind the wearer takes home.
    Wearer,
}

impl SheetKind {
    /// Every sheet.
    pub const ALL: [Self; 4] = [Self::Tray, Self::Order, Self::Chart, Self::Wearer];

    /// The word it is asked for by.
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

    /// SheetKind it is, in a line.
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::Tray => "tray: what the bench needs, with the code of the tray",
            Self::Order => "order: what the laboratory needs for these lenses",
            Self::Chart => "chart: the finished pair at 1:1, to lay it on",
            Self::Wearer => "wearer: prescription, fitting values and care, to take home",
        }
    }
}
