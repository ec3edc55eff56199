//! What an examination of history shows.

use super::hash::Hash;

/// A fault that the chain shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// A row is missing before this one.
    Missing {
        /// Id of the row after the gap.
        id: i64,
    },
    /// The row is not the one that was written.
    Changed {
        /// Its id.
        id: i64,
    },
    /// Its content is gone though the job was not erased.
    ContentGone {
        /// Its id.
        id: i64,
    },
    /// The job is not as its newest row says.
    State {
        /// Number of the job, or its id where it has none.
        job: String,
    },
    /// What was decided about the job is not as its newest row says.
    Decisions {
        /// Number of the job.
        job: String,
    },
    /// The job is gone and was not erased.
    Gone {
        /// Number of the job, as history has it, or its id where it has none.
        job: String,
        /// Id of its newest row.
        id: i64,
    },
    /// The staff list, the settings or a secret are not as the newest row about them says.
    Practice {
        /// What, in a few words.
        what: &'static str,
    },
    /// The list of the numbers of erased jobs is not that of history.
    ErasedNumbers,
    /// The list of jobs as an older book had them is not as it was written.
    AsFound,
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Missing { id } => write!(f, "history has a gap before entry {id}"),
            Self::Changed { id } => write!(f, "entry {id} of history is not as it was written"),
            Self::ContentGone { id } => {
                write!(
                    f,
                    "the content of entry {id} is gone and its job was not erased"
                )
            }
            Self::State { job } => write!(
                f,
                "job {job} is not as its history says: it was changed past the program"
            ),
            Self::Decisions { job } => write!(
                f,
                "what was accepted or let through in job {job} is not as its history says: it was changed past the program"
            ),
            Self::Gone { job, id } => write!(
                f,
                "job {job} is gone and was never erased: its history ends at entry {id}"
            ),
            Self::Practice { what } => {
                write!(f, "{what} not as history says: changed past the program")
            }
            Self::ErasedNumbers => f.write_str(
                "the numbers of erased jobs are not those of history: one could be given again",
            ),
            Self::AsFound => f.write_str(
                "the record of the jobs of an older version of the book is not as it was written",
            ),
        }
    }
}

/// Result of checking the chain.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Walk {
    /// How many rows there are.
    pub rows: u64,
    /// What is wrong, in the order of the rows; no more than [`MOST_FAULTS`].
    pub faults: Vec<Fault>,
    /// The newest link.
    pub head: Hash,
}

/// Largest number of faults that are listed.
pub(crate) const MOST_FAULTS: usize = 50;

impl Walk {
    pub(super) fn note(&mut self, fault: Fault) {
        if self.faults.len() < MOST_FAULTS {
            self.faults.push(fault);
        }
    }
}
