//! The sections of a job.

use super::words::words;

words! {
    /// A part of a job that is recorded on its own.
    Section {
        /// What the job itself carries: reason, promise, appointment.
        Job = "job",
        /// Who the pair is for.
        Wearer = "wearer",
        /// What was prescribed.
        Prescription = "prescription",
        /// What was measured.
        Fitting = "fitting",
        /// The frame.
        Frame = "frame",
        /// The lenses.
        Lenses = "lenses",
        /// The order.
        Order = "order",
        /// What was read of the finished pair.
        Readings = "readings",
        /// How it was handed over.
        Handover = "handover",
        /// Where values come from that were not taken for this job.
        Origins = "origins",
        /// What came of a visit about the pair.
        Visit = "visit",
        /// Repairs, and what the wearer was told.
        Aftercare = "aftercare",
    }
}
