//! The parts of a job that hold values a person may type, and where each lies in its section.

use super::record::{KeyRow, Record};
use crate::job::{
    Compensates, EyeFitting, EyeHandover, EyePower, EyePrescription, EyeReading, Fitting, Frame,
    Handover, Job, LaboratoryPowers, Lenses, Order, Pads, Powers, Prescription, Previous,
    PrismControl, PrismControlRead, Readings, Repair, SecondReading, Section, Segment, Tint,
    Wearer,
};
use crate::trade::eye::Eye;

/// A part of a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JobPart {
    /// What the job itself carries.
    Job,
    /// The wearer.
    Wearer,
    /// The prescription.
    Prescription,
    /// One eye of the prescription.
    PrescriptionEye,
    /// The pair worn until now.
    Previous,
    /// One eye of it.
    PreviousEye,
    /// The fitting.
    Fitting,
    /// One eye of the fitting.
    FittingEye,
    /// The second reading of the fitting.
    SecondReading,
    /// One eye of it.
    SecondReadingEye,
    /// The frame.
    Frame,
    /// Its pads.
    Pads,
    /// The lenses.
    Lenses,
    /// Who compensates their powers.
    Compensates,
    /// Their prism control.
    PrismControl,
    /// Their segment.
    Segment,
    /// Their tint.
    Tint,
    /// The powers ordered.
    Powers,
    /// One eye of them.
    PowersEye,
    /// What the laboratory states.
    LaboratoryPowers,
    /// One eye of that.
    LaboratoryEye,
    /// The order.
    Order,
    /// The readings.
    Readings,
    /// Prism control as read.
    PrismControlRead,
    /// One lens as read.
    ReadingsEye,
    /// The handover.
    Handover,
    /// One eye of it.
    HandoverEye,
}

impl JobPart {
    /// The part that a section is.
    pub(super) const fn of_section(section: Section) -> Option<Self> {
        Some(match section {
            Section::Job => Self::Job,
            Section::Wearer => Self::Wearer,
            Section::Prescription => Self::Prescription,
            Section::Fitting => Self::Fitting,
            Section::Frame => Self::Frame,
            Section::Lenses => Self::Lenses,
            Section::Order => Self::Order,
            Section::Readings => Self::Readings,
            Section::Handover => Self::Handover,
            // Written by their own screens and commands, never field by field.
            Section::Origins | Section::Visit | Section::Aftercare => return None,
        })
    }

    /// The rows of its keys.
    pub(super) const fn rows(self) -> &'static [KeyRow] {
        match self {
            Self::Job => Job::KEYS,
            Self::Wearer => Wearer::KEYS,
            Self::Prescription => Prescription::KEYS,
            Self::PrescriptionEye | Self::PreviousEye => EyePrescription::KEYS,
            Self::Previous => Previous::KEYS,
            Self::Fitting => Fitting::KEYS,
            Self::FittingEye | Self::SecondReadingEye => EyeFitting::KEYS,
            Self::SecondReading => SecondReading::KEYS,
            Self::Frame => Frame::KEYS,
            Self::Pads => Pads::KEYS,
            Self::Lenses => Lenses::KEYS,
            Self::Compensates => Compensates::KEYS,
            Self::PrismControl => PrismControl::KEYS,
            Self::PrismControlRead => PrismControlRead::KEYS,
            Self::Segment => Segment::KEYS,
            Self::Tint => Tint::KEYS,
            Self::Powers => Powers::KEYS,
            Self::PowersEye | Self::LaboratoryEye => EyePower::KEYS,
            Self::LaboratoryPowers => LaboratoryPowers::KEYS,
            Self::Order => Order::KEYS,
            Self::Readings => Readings::KEYS,
            Self::ReadingsEye => EyeReading::KEYS,
            Self::Handover => Handover::KEYS,
            Self::HandoverEye => EyeHandover::KEYS,
        }
    }

    /// The part that lies under its keys `right` and `left`.
    pub(super) const fn eyes(self) -> Option<Self> {
        Some(match self {
            Self::Prescription => Self::PrescriptionEye,
            Self::Previous => Self::PreviousEye,
            Self::Fitting => Self::FittingEye,
            Self::SecondReading => Self::SecondReadingEye,
            Self::Powers => Self::PowersEye,
            Self::LaboratoryPowers => Self::LaboratoryEye,
            Self::Readings => Self::ReadingsEye,
            Self::Handover => Self::HandoverEye,
            _ => return None,
        })
    }

    /// The parts that lie in the part of a section, each under its own key.
    pub(super) const INNER: [(Self, &'static str, Self); 10] = [
        (Self::Prescription, "previous", Self::Previous),
        (Self::Fitting, "second_reading", Self::SecondReading),
        (Self::Frame, "pads", Self::Pads),
        (Self::Lenses, "compensates", Self::Compensates),
        (Self::Lenses, "prism_control", Self::PrismControl),
        (
            Self::Readings,
            "prism_control_delta",
            Self::PrismControlRead,
        ),
        (Self::Lenses, "segment", Self::Segment),
        (Self::Lenses, "tint", Self::Tint),
        (Self::Lenses, "powers", Self::Powers),
        (Self::Lenses, "laboratory_powers", Self::LaboratoryPowers),
    ];

    /// Its path in the section, with a point behind it where there is one, before an eye's word.
    pub(super) const fn path(self) -> &'static str {
        match self {
            Self::Previous | Self::PreviousEye => "previous.",
            Self::SecondReading | Self::SecondReadingEye => "second_reading.",
            Self::Pads => "pads.",
            Self::Compensates => "compensates.",
            Self::PrismControl => "prism_control.",
            Self::PrismControlRead => "prism_control_delta.",
            Self::Segment => "segment.",
            Self::Tint => "tint.",
            Self::Powers | Self::PowersEye => "powers.",
            Self::LaboratoryPowers | Self::LaboratoryEye => "laboratory_powers.",
            _ => "",
        }
    }

    /// The word before the labels of a part that several places hold.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::PreviousEye => "previous ",
            Self::PowersEye => "ordered ",
            Self::LaboratoryEye => "laboratory ",
            _ => "",
        }
    }

    /// Returns the part in a job.
    pub(super) fn in_job(self, job: &Job, eye: Option<Eye>) -> Option<&dyn Record> {
        let lenses = &job.lenses;
        Some(match self {
            Self::Job => job,
            Self::Wearer => &job.wearer,
            Self::Prescription => &job.prescription,
            Self::PrescriptionEye => job.prescription.eye(eye?),
            Self::Previous => job.prescription.previous.as_ref()?,
            Self::PreviousEye => job.prescription.previous.as_ref()?.eye(eye?),
            Self::Fitting => &job.fitting,
            Self::FittingEye => job.fitting.eye(eye?),
            Self::SecondReading => job.fitting.second_reading.as_ref()?,
            Self::SecondReadingEye => job.fitting.second(eye?)?,
            Self::Frame => &job.frame,
            Self::Pads => job.frame.pads.as_ref()?,
            Self::Lenses => lenses,
            Self::Compensates => lenses.compensates.as_ref()?,
            Self::PrismControl => lenses.prism_control.as_ref()?,
            Self::PrismControlRead => job.readings.prism_control_delta.as_ref()?,
            Self::Segment => lenses.segment.as_ref()?,
            Self::Tint => lenses.tint.as_ref()?,
            Self::Powers => lenses.powers.as_ref()?,
            Self::PowersEye => lenses.powers.as_ref()?.eye(eye?),
            Self::LaboratoryPowers => lenses.laboratory_powers.as_ref()?,
            Self::LaboratoryEye => lenses.laboratory_powers.as_ref()?.eye(eye?),
            Self::Order => &job.order,
            Self::Readings => &job.readings,
            Self::ReadingsEye => job.readings.eye(eye?),
            Self::Handover => &job.handover,
            Self::HandoverEye => job.handover.eye(eye?),
        })
    }

    /// Returns the part in a repair, which keeps each value under the path that it has in its section.
    pub(super) fn in_repair(self, repair: &Repair, eye: Option<Eye>) -> Option<&dyn Record> {
        Some(match self {
            Self::Handover | Self::Fitting => repair,
            Self::HandoverEye => repair.eye(eye?),
            Self::Pads => repair.pads.as_ref()?,
            _ => return None,
        })
    }
}
