//! What each screen remembers.

use super::editor::Edit;
use super::job_view::JobView;
use crate::desk::JobLine;
use crate::eye::Eye;
use crate::job::{Section, Stage};

/// The collections of the day.
#[derive(Debug, Default)]
pub struct Collections {
    /// The day's handovers by time.
    pub lines: Vec<JobLine>,
    /// The selected one.
    pub selected: usize,
    /// The check the cursor is on.
    pub step: usize,
    /// The job whose handover the cursor was put into.
    pub begun: Option<String>,
    /// The handover in front is another than it was, and why: the next key that answers says so
    /// first.
    pub replaced: Option<String>,
    /// A pair that waits and whose wearer has come without an appointment today.
    pub walk_in: Option<String>,
    /// The last check was answered and the cursor was not moved since: the keys for what comes then
    /// are keys even where words could be typed.
    pub done: bool,
    /// What was sent to be kept says that the frame was adjusted.
    pub adjusted: bool,
}

/// The form of a job: the job, and what the form remembers of it.
#[derive(Debug)]
pub struct JobScreen {
    /// The job that is open.
    pub view: JobView,
    /// Place in the row of sections.
    pub tab: usize,
    /// Row of the cursor.
    pub row: usize,
    /// Column of the cursor, in rows that have one for each eye.
    pub eye: Eye,
    /// The entry being typed.
    pub edit: Option<Edit>,
    /// What was sent to be kept and is not kept yet.
    pub sent: Option<Edit>,
    /// Section, row and column from which the cursor goes on to the next entry that the gate asks
    /// for, once what was sent is kept: only then is it known what that is.
    pub onward: Option<(usize, usize, Eye)>,
    /// Where the form opened, until the next entry was asked for.
    pub opened_at: Option<(usize, usize, Eye)>,
}

// Until the form is a screen of its own, those who read the job reach it through the form.
impl std::ops::Deref for JobScreen {
    type Target = JobView;

    fn deref(&self) -> &JobView {
        &self.view
    }
}

impl std::ops::DerefMut for JobScreen {
    fn deref_mut(&mut self) -> &mut JobView {
        &mut self.view
    }
}

/// The sections of the form in their order; the history has no section of its own.
pub const TABS: [(&str, Option<Section>); 9] = [
    ("wearer", Some(Section::Wearer)),
    ("prescription", Some(Section::Prescription)),
    ("fitting", Some(Section::Fitting)),
    ("frame", Some(Section::Frame)),
    ("lenses", Some(Section::Lenses)),
    ("order", Some(Section::Order)),
    ("verification", Some(Section::Readings)),
    ("handover", Some(Section::Handover)),
    ("history", None),
];

impl JobScreen {
    /// Where the form begins to be filled: the section the next move is about.
    pub fn tab_for(stage: Stage) -> usize {
        match stage {
            Stage::Measured => 0,
            Stage::Ordered => 6,
            Stage::Verified => 7,
            Stage::Collected | Stage::Cancelled => 8,
        }
    }

    /// The section in front.
    pub fn section(&self) -> Option<Section> {
        TABS.get(self.tab).and_then(|t| t.1)
    }
}
