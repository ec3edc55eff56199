//! A job: one pair of spectacles on its way from the measurements to the wearer's face.
//!
//! The model is the job file of `docs/job-file.md`, section by section, one file each. It knows
//! nothing of storage, terminal or clock. What must be true before a job moves is [`crate::judge::gate`]'s.

mod aftercare;
mod days;
pub(crate) mod fields;
mod file;
mod fitting;
mod frame;
mod handover;
mod heights_to_read_again;
mod lenses;
mod merge;
mod moment;
mod name_kept;
pub(crate) mod names;
mod order;
mod origin;
mod power_to_order;
mod prescription;
mod question;
mod readings;
mod record_error;
mod repaired;
pub(crate) mod retention;
mod section;
mod staff;
mod stage;
mod strict;
pub(crate) mod tray_code;
mod visit;
mod visit_outcome;
mod warning;
mod wearer;
mod words;

use crate::job::fields::{FieldKind, Limits, Rules, Shown, record};
use chrono::NaiveDate;

pub use aftercare::{Aftercare, Contact, ContactBy, Repair, RepairKind};
pub(crate) use file::{FORMAT, JobFileError, VERSION, without_nulls, write_value};
pub use file::{read_jobs, read_json};
pub(crate) use fitting::{Centration, CoverTest, EyeFitting};
pub use fitting::{Fitting, SecondReading};
pub(crate) use frame::{
    Condition, FrameMaterial, NickelRelease, PadMaterial, PadMount, Rim, SideShape,
};
pub use frame::{Frame, Pads};
pub(crate) use handover::{Advice, EyeHandover};
pub use handover::{Handover, HandoverMethod};
pub(crate) use heights_to_read_again::moves_lenses;
pub use lenses::{
    Compensates, Compensator, Design, LaboratoryPowers, LensForm, Lenses, Powers, PowersAs,
    PrismControl, Purpose, Segment, Supply, Tint,
};
pub(crate) use lenses::{EyePower, SegmentShape};
pub use moment::Moment;
pub use name_kept::{NameKept, NamesKept};
pub(crate) use order::Order;
pub(crate) use origin::ended;
pub use origin::{Origin, Origins, TakenAs};
pub(crate) use power_to_order::power_to_order;
pub use prescription::{EyePrescription, Prescription, PrescriptionKind, Previous};
pub use question::QuestionTo;
pub(crate) use readings::{EyeReading, Markings, Repeats, Surface};
pub use readings::{PrismControlRead, Readings};
pub(crate) use record_error::RecordError;
pub use repaired::handover_now;
pub(crate) use repaired::{HandoverValue, set_by_repairs, value_now};
pub use section::Section;
pub use staff::{NumberRule, Role, StaffMember, StaffRoll};
pub use stage::{Gate, Reason, Stage};
pub use visit::{Cause, Complaint, CostBearer, Outcome, Visit};
pub use warning::danger_words;
pub use wearer::Wearer;
pub use wearer::whole_years;
pub use wearer::{Task, Tasks};
pub(crate) use words::current_word;

record! {
    /// One job, as it is kept, exported and imported.
    pub struct Job {
        /// Number given by the book.
        number: Option<String>,
        /// Its stage; absent in a new job file.
        stage: Option<Stage>,
        /// A job from before the book: any stage, never checked.
        past: Option<bool>,
        /// Why it was begun.
        reason: Option<Reason> = {
            label: "reason", kind: FieldKind::Choice(Reason::WORDS), limits: Limits::OfKind,
            help: "why the job was begun: new, second pair, reglaze, replacement, remake or recheck",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// Number of the job it follows.
        linked_to: Option<String> = {
            label: "follows job", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "number of the job this one follows",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// Day promised to the wearer.
        promised_on: Option<NaiveDate> = {
            label: "promised", kind: FieldKind::Date, limits: Limits::OfKind,
            help: "day promised to the wearer: 2026-12-03, 3/12/2026, today, +7",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// Appointment for the collection.
        collection_at: Option<Moment> = {
            label: "collection", kind: FieldKind::Moment, limits: Limits::OfKind,
            help: "appointment to collect: day and time, as 2026-12-03 15:30 or +7 9:30",
            shown: Shown::Placed, rules: Rules::Plain,
        },
        /// Who the pair is for.
        wearer: Wearer,
        /// What was prescribed.
        prescription: Prescription,
        /// What was measured.
        fitting: Fitting,
        /// The frame.
        frame: Frame,
        /// The lenses.
        lenses: Lenses,
        /// The order.
        order: Order,
        /// What was read of the finished pair.
        readings: Readings,
        /// How it was handed over.
        handover: Handover,
        /// Where values come from that were not taken for this job.
        origins: Origins,
        /// What came of a visit about the pair.
        visit: Visit,
        /// Repairs, and what the wearer was told.
        aftercare: Aftercare,
        /// How names with legal weight were kept with sign-in on; none: not signed in. Not read on import.
        #[serde(skip_serializing_if = "NamesKept::is_empty")]
        names: NamesKept,
    }
}

impl Job {
    /// The stage of the job: measured until something else is said.
    pub fn stage(&self) -> Stage {
        self.stage.unwrap_or(Stage::Measured)
    }

    /// Whether the job comes from before the book.
    pub fn is_past(&self) -> bool {
        self.past == Some(true)
    }

    /// Whether the pair is past the day on which the laboratory owed it.
    pub fn is_late(&self, today: NaiveDate) -> bool {
        self.stage() == Stage::Ordered
            && !self.is_past()
            && self.order.due_on.is_some_and(|due| due < today)
    }
}
