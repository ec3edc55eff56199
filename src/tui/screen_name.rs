//! The screens by name.

/// A screen, by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Screen {
    /// There is no book yet.
    Welcome,
    /// The worklist.
    Worklist,
    /// The form of a job.
    Job,
    /// The gate of a job.
    Gate,
    /// The look-up.
    Lookup,
    /// The collections of the day.
    Collections,
    /// What came from the laboratory.
    Parcel,
    /// The pictures of a job.
    Pictures,
    /// Materials and base curves of a job side by side.
    Choices,
    /// Any calculation without a job.
    Workbench,
    /// Figures of the practice's work.
    Figures,
    /// A job as it is read out.
    Aloud,
    /// The visit about a pair that came back.
    Visit,
}

impl Screen {
    /// Whether it shows something of the job that is open, and nothing without it.
    pub const fn is_of_one_job(self) -> bool {
        matches!(
            self,
            Self::Job | Self::Gate | Self::Pictures | Self::Choices | Self::Aloud | Self::Visit
        )
    }

    /// What a person calls it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Welcome => "welcome",
            Self::Worklist => "worklist",
            Self::Job => "job",
            Self::Gate => "gate",
            Self::Lookup => "look-up",
            Self::Collections => "collections",
            Self::Parcel => "parcel",
            Self::Pictures => "pictures",
            Self::Choices => "choices",
            Self::Workbench => "workbench",
            Self::Figures => "figures",
            Self::Aloud => "read aloud",
            Self::Visit => "visit",
        }
    }
}
