//! What the tests and benches of this crate reach; no interface for others, and it changes without notice.

/// Of `book`.
pub mod book {
    /// Of `book::clock`.
    pub mod clock {
        pub use crate::book::clock::Clock;
    }
    /// Of `book::demo`.
    pub mod demo {
        pub use crate::book::demo::{
            DemoError, DemoJob, DemoStep, build, build_many, files, resolve, staff,
        };
    }
    /// Of `book::desk`.
    pub mod desk {
        pub use crate::book::desk::{
            BackupPlan, Desk, DeskError, Erasure, ErrorKind, HandOver, JobWithFindings, Judged,
            ListFilter, Made, Occasion, OpenJob, PlanChange, Restore, Security, SecurityChange,
            Waiting, WaitingName, WearerId, restore,
        };
        pub use crate::book::desk::{examine, is_encrypted};
    }
    /// Of `book::store`.
    pub mod store {
        pub use crate::book::store::{
            APPLICATION_ID, Store, counting_queries, moment_of, newest_version, queries,
        };
        /// Of `book::store::chain`.
        pub mod chain {
            pub use crate::book::store::Fault;
        }
        #[cfg(feature = "encrypted")]
        /// Of `book::store::keyring`.
        pub mod keyring {
            #[cfg(feature = "encrypted")]
            pub use crate::book::store::keyring::Keyring;
        }
    }
}
/// Of `cli`.
pub mod cli {
    /// Of `cli::manual`.
    pub mod manual {
        pub use crate::cli::manual::{Page, completions, manual};
    }
}
/// Of `exchange`.
pub mod exchange {
    /// Of `exchange::calc`.
    pub mod calc {
        pub use crate::exchange::calc::{answer, run};
    }
    /// Of `exchange::calendar`.
    pub mod calendar {
        pub use crate::exchange::calendar::{Appointment, uid, write};
    }
    /// Of `exchange::csv_in`.
    pub mod csv_in {
        pub use crate::exchange::csv_in::{Rows, delimiter, read};
    }
    /// Of `exchange::csv_out`.
    pub mod csv_out {
        pub use crate::exchange::csv_out::{defused, fused, header, line, row};
    }
    /// Of `exchange::fhir`.
    pub mod fhir {
        pub use crate::exchange::fhir::{Bundle, CannotSay, FhirJob, read};
    }
    /// Of `exchange::mapping`.
    pub mod mapping {
        pub use crate::exchange::mapping::{Mapping, TEMPLATE};
    }
    /// Of `exchange::paper`.
    pub mod paper {
        pub use crate::exchange::paper::{SheetPdf, pdf, text};
    }
    /// Of `exchange::schema`.
    pub mod schema {
        pub use crate::exchange::schema::schema;
    }
    /// Of `exchange::schema_page`.
    pub mod schema_page {
        pub use crate::exchange::schema_page::with_tables;
    }
}
/// Of `job`.
pub mod job {
    pub use crate::job::{
        Aftercare, Cause, Compensates, Compensator, Complaint, Contact, ContactBy, CostBearer,
        Design, EyePrescription, Fitting, Frame, Gate, Handover, HandoverMethod, Job,
        LaboratoryPowers, LensForm, Lenses, Moment, NameKept, NamesKept, NumberRule, Origin,
        Origins, Outcome, Pads, Powers, PowersAs, Prescription, PrescriptionKind, Previous,
        PrismControl, PrismControlRead, Purpose, QuestionTo, Readings, Reason, Repair, RepairKind,
        Role, SecondReading, Section, Segment, StaffMember, StaffRoll, Stage, Supply, TakenAs,
        Task, Tasks, Tint, Visit, Wearer, danger_words, handover_now, read_jobs, read_json,
        whole_years,
    };
    /// Of `job::fields`.
    pub mod fields {
        pub use crate::job::fields::{
            Field, FieldKind, PrismAxis, Remake, RowPowers, Shown, all_fields, change,
            copy_from_other_eye, fields, fill_row, find, is_power_row, limits, parse,
            set_repair_value, show, show_value, step, step_fine,
        };
    }
    /// Of `job::retention`.
    pub mod retention {
        pub use crate::job::retention::{Retention, Why, last_seen};
    }
    /// Of `job::tray_code`.
    pub mod tray_code {
        pub use crate::job::tray_code::{decode, encode};
    }
}
/// Of `judge`.
pub mod judge {
    /// Of `judge::derive`.
    pub mod derive {
        /// Of `judge::derive::accuracy`.
        pub mod accuracy {
            pub use crate::judge::derive::accuracy::{BudgetRow, budget_rows, full_budget};
        }
        /// Of `judge::derive::places`.
        pub mod places {
            pub use crate::judge::derive::places::{CdSource, ordered_cd, ordered_cd_mm};
        }
        /// Of `judge::derive::remade`.
        pub mod remade {
            pub use crate::judge::derive::remade::lacks;
        }
        /// Of `judge::derive::verification`.
        pub mod verification {
            pub use crate::judge::derive::verification::{Reading, report};
        }
    }
    /// Of `judge::gate`.
    pub mod gate {
        pub use crate::judge::gate::{
            About, Acceptance, CheckId, Compared, Context, Finding, Found, Passed, Question,
            Refusal, Severity, Surroundings, findings, lets_through, of_finding, of_repair,
            recorded_remedies,
        };
        /// Of `judge::gate::catalogue`.
        pub mod catalogue {
            pub use crate::judge::gate::catalogue::{CHECKS, by_id, markdown};
        }
    }
    /// Of `judge::rules`.
    pub mod rules {
        /// Of `judge::rules::advice`.
        pub mod advice {
            pub use crate::judge::rules::advice::advice;
        }
        /// Of `judge::rules::carry`.
        pub mod carry {
            pub use crate::judge::rules::carry::{Begun, begin, begin_after_visit, origin_words};
        }
        /// Of `judge::rules::free_moves`.
        pub mod free_moves {
            pub use crate::judge::rules::free_moves::FREE_MOVES;
        }
        /// Of `judge::rules::recorded_remedy`.
        pub mod recorded_remedy {
            pub use crate::judge::rules::recorded_remedy::RecordedRemedy;
        }
        /// Of `judge::rules::remedy`.
        pub mod remedy {
            pub use crate::judge::rules::remedy::{RemedyKind, of_job};
        }
        /// Of `judge::rules::repeats`.
        pub mod repeats {
            pub use crate::judge::rules::repeats::wanted;
        }
    }
}
/// Of `practice`.
pub mod practice {
    pub use crate::practice::{Practice, Threshold, Thresholds, Way, settings};
    /// Of `practice::suspects`.
    pub mod suspects {
        pub use crate::practice::suspects::Suspects;
    }
    /// Of `practice::template`.
    pub mod template {
        pub use crate::practice::template::named;
    }
}
/// Of `text`.
pub mod text {
    pub use crate::text::printable;
}
/// Of `trade`.
pub mod trade {
    /// Of `trade::eye`.
    pub mod eye {
        pub use crate::trade::eye::{Eye, PerEye};
    }
    /// Of `trade::gs1`.
    pub mod gs1 {
        pub use crate::trade::gs1::{Gs1Error, Gtin, Scanned, ShortDate, read};
    }
    /// Of `trade::notation`.
    pub mod notation {
        pub use crate::trade::notation::{
            Assumption, Eighths, ErrorKind, LINE_LOG_MAR, PrismBase, Reading, WrittenPrism,
            WrittenRx, answer, best_log_mar, read, written,
        };
    }
    /// Of `trade::optics`.
    pub mod optics {
        pub use crate::trade::optics::{PowerMatrix, Rx};
        /// Of `trade::optics::as_worn`.
        pub mod as_worn {
            pub use crate::trade::optics::as_worn::{WornLens, as_worn, as_worn_compensate};
        }
        /// Of `trade::optics::back_vertex`.
        pub mod back_vertex {
            pub use crate::trade::optics::back_vertex::thick_powers;
        }
        /// Of `trade::optics::base_curve`.
        pub mod base_curve {
            pub use crate::trade::optics::base_curve::vogel_base_d;
        }
        /// Of `trade::optics::blank`.
        pub mod blank {
            pub use crate::trade::optics::blank::minimum_blank_mm;
        }
        /// Of `trade::optics::centration`.
        pub mod centration {
            pub use crate::trade::optics::centration::{
                NearTask, decentration, drop_for_tilt_mm, frame_centre_distance_mm, near_inset_mm,
            };
        }
        /// Of `trade::optics::combine`.
        pub mod combine {
            pub use crate::trade::optics::combine::{combine, difference};
        }
        /// Of `trade::optics::curves`.
        pub mod curves {
            pub use crate::trade::optics::curves::{
                curve_variation_factor, radius_mm, sag_mm, true_power_d,
            };
        }
        /// Of `trade::optics::magnification`.
        pub mod magnification {
            pub use crate::trade::optics::magnification::{WornForm, magnification};
        }
        /// Of `trade::optics::materials`.
        pub mod materials {
            pub use crate::trade::optics::materials::MATERIALS;
        }
        /// Of `trade::optics::meridian`.
        pub mod meridian {
            pub use crate::trade::optics::meridian::meridian_power_d;
        }
        /// Of `trade::optics::near_prism`.
        pub mod near_prism {
            pub use crate::trade::optics::near_prism::reading_prism;
        }
        /// Of `trade::optics::outline`.
        pub mod outline {
            pub use crate::trade::optics::outline::Outline;
        }
        /// Of `trade::optics::power`.
        pub mod power {
            pub use crate::trade::optics::power::{PowerMatrix, Rx};
        }
        /// Of `trade::optics::prism`.
        pub mod prism {
            pub use crate::trade::optics::prism::{
                CompoundPrism, LensPoint, Prism, compound, decentre_for, prism_at, resolve,
            };
        }
        /// Of `trade::optics::prism_shift`.
        pub mod prism_shift {
            pub use crate::trade::optics::prism_shift::sight_shift;
        }
        /// Of `trade::optics::thickness`.
        pub mod thickness {
            pub use crate::trade::optics::thickness::{
                GivenThickness, LensBody, edge_at_most_mm, thickness,
            };
        }
        /// Of `trade::optics::tilt`.
        pub mod tilt {
            pub use crate::trade::optics::tilt::{Tilt, oblique, oblique_compensate};
        }
        /// Of `trade::optics::vector`.
        pub mod vector {
            pub use crate::trade::optics::vector::PowerVector;
        }
        /// Of `trade::optics::vertex`.
        pub mod vertex {
            pub use crate::trade::optics::vertex::{
                per_mm_d, strongest_change_d, vertex, vertex_power_d,
            };
        }
    }
    /// Of `trade::tolerance`.
    pub mod tolerance {
        pub use crate::trade::tolerance::{
            Confidence, EyeValues, LensKind, Limit, LineEye, Options, PairValues, PrismPower,
            Quantity, Report, Standard, ToleranceLine, compare, markdown,
        };
        /// Of `trade::tolerance::budget`.
        pub mod budget {
            pub use crate::trade::tolerance::budget::{
                Allowance, Basis, Budget, LensModel, ThinLens, Worn, budget, places,
            };
        }
    }
    /// Of `trade::units`.
    pub mod units {
        pub use crate::trade::units::{Degree, Dioptre, Millimetre, PrismDioptre};
    }
}
/// Of `tui`.
pub mod tui {
    pub use crate::tui::{App, Screen, action, help, key, keymap};
    /// Of `tui::effect`.
    pub mod effect {
        pub use crate::tui::effect::Effect;
    }
    /// Of `tui::palette`.
    pub mod palette {
        pub use crate::tui::shell::palette::matching;
    }
    /// Of `tui::perform`.
    pub mod perform {
        pub use crate::tui::perform::Performer;
    }
    /// Of `tui::question`.
    pub mod question {
        pub use crate::tui::question::Dialog;
    }
    /// Of `tui::form_rows`.
    pub mod form_rows {
        pub use crate::tui::form_rows::{TABS, of_tab};
    }
    /// Of `tui::screens`.
    pub mod screens {
        /// Of `tui::screens::choices`.
        pub mod choices {
            pub use crate::tui::screens::choices::State;
        }
        /// Of `tui::screens::collections`.
        pub mod collections {
            pub use crate::tui::screens::collections::{
                Giver, HandoverCheck, State, answered, steps, steps_now,
            };
        }
        /// Of `tui::screens::parcel`.
        pub mod parcel {
            pub use crate::tui::screens::parcel::State;
        }
        /// Of `tui::screens::visit`.
        pub mod visit {
            pub use crate::tui::screens::visit::{Page, State};
        }
        /// Of `tui::screens::workbench`.
        pub mod workbench {
            /// Of `tui::screens::workbench::calculation`.
            pub mod calculation {
                pub use crate::tui::screens::workbench::calculation::{Calculation, InputKind};
            }
            /// Of `tui::screens::workbench::picture`.
            pub mod picture {
                pub use crate::tui::screens::workbench::picture::Drawing;
            }
            /// Of `tui::screens::workbench::request`.
            pub mod request {
                pub use crate::tui::screens::workbench::request::{
                    InputValue, Origin, Outcome, ask, at, request,
                };
            }
            /// Of `tui::screens::workbench::table`.
            pub mod table {
                pub use crate::tui::screens::workbench::table::all;
            }
        }
    }
    /// Of `tui::seen`.
    pub mod seen {
        pub use crate::tui::seen::Clipboard;
    }
    /// Of `tui::term`.
    pub mod term {
        /// Of `tui::term::burst`.
        pub mod burst {
            pub use crate::tui::term::burst::{Burst, GAP};
        }
    }
    /// Of `tui::tour`.
    pub mod tour {
        pub use crate::tui::shell::tour::STOPS;
    }
    /// Of `tui::ui`.
    pub mod ui {
        pub use crate::tui::shell::draw::draw;
    }
    /// Of `tui::update`.
    pub mod update {
        pub use crate::tui::shell::update::{Input, done, input, message};
    }
    /// Of `tui::visit_entries`.
    pub mod visit_entries {
        pub use crate::tui::visit_entries::VisitEntry;
    }
    /// Of `tui::widgets`.
    pub mod widgets {
        /// Of `tui::widgets::theme`.
        pub mod theme {
            pub use crate::tui::widgets::theme::Theme;
        }
    }
}
/// Of `views`.
pub mod views {
    pub use crate::views::lines;
    /// Of `views::card`.
    pub mod card {
        pub use crate::views::card::{
            CardData, CardLine, fitting_card, made_again, read_aloud, second_card, whole_record,
        };
    }
    /// Of `views::choices`.
    pub mod choices {
        pub use crate::views::choices::{Column, table};
    }
    /// Of `views::figures`.
    pub mod figures {
        pub use crate::views::figures::Figures;
        /// Of `views::figures::line`.
        pub mod line {
            pub use crate::views::figures::line::{Figure, FigureLine};
        }
        /// Of `views::figures::measurements`.
        pub mod measurements {
            pub use crate::views::figures::measurements::Repeatability;
        }
        /// Of `views::figures::page`.
        pub mod page {
            pub use crate::views::figures::page::{PageKind, Report};
        }
        /// Of `views::figures::period`.
        pub mod period {
            pub use crate::views::figures::period::{Length, Period};
        }
        /// Of `views::figures::rate`.
        pub mod rate {
            pub use crate::views::figures::rate::{Change, LEAST, Rate};
        }
        /// Of `views::figures::record`.
        pub mod record {
            pub use crate::views::figures::record::{
                AsOrdered, CountedEvent, CountedJob, EventKind,
            };
        }
        /// Of `views::figures::sparkline`.
        pub mod sparkline {
            pub use crate::views::figures::sparkline::{bar, drawn};
        }
        /// Of `views::figures::spread`.
        pub mod spread {
            pub use crate::views::figures::spread::Spread;
        }
        /// Of `views::figures::table`.
        pub mod table {
            pub use crate::views::figures::table::{COLUMNS, rows, text};
        }
    }
    /// Of `views::pictures`.
    pub mod pictures {
        pub use crate::views::pictures::{PictureKind, picture};
    }
    /// Of `views::plot`.
    pub mod plot {
        pub use crate::views::plot::Picture;
    }
    /// Of `views::recheck`.
    pub mod recheck {
        pub use crate::views::recheck::{
            ComparedRow, ComparedValue, Comparison, Likely, Parameter, Source, Suspect, axis_limit,
            centration_limit_mm, compare, likely, vertex_limit_mm,
        };
        /// Of `views::recheck::causes`.
        pub mod causes {
            pub use crate::views::recheck::causes::Weight;
        }
    }
    /// Of `views::sheet`.
    pub mod sheet {
        pub use crate::views::sheet::{CAUTION, Sheet, SheetKind, Subject, sheet};
    }
}
