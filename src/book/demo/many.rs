//! An invented book of any number of jobs: the same for the same seed and day.
//!
//! Job `n` is worked out from the seed and `n` alone, so only the lists of names are in memory.
//! The jobs run over twelve years; a wearer comes at most once in three of them. The newest
//! few hundred are open, equally many at each stage; one in twenty of the others was begun in the book
//! and moved through its gates; the rest are imported history.

use chrono::{Days, NaiveDate, NaiveTime};
use serde_json::json;

use super::build::Built;
use super::demo_file::staff;
use super::pair::{self, OPTICIAN, on};
use super::random::Throws;
use super::wearer::{Lists, Names, head_of_household};
use crate::book::desk::{Desk, DeskError, ErrorKind, Invented, InventedEvent, InventedMove};
use crate::job::{Gate, Job, Moment, Stage, whole_years};

const LISTS: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/demo-db/many.json"));

/// Kinds of random streams; those of the wearers are in `wearer.rs`.
const COURSE: u64 = 10;
const EPOCH: u64 = 11;

/// Days over which the jobs are spread.
const SPAN: u64 = 12 * 365;
/// Equal parts of [`SPAN`]; a wearer comes at most once in each.
const EPOCHS: u64 = 4;
/// Wearers for each hundred jobs.
const WEARERS: u64 = 45;
/// Most open jobs of a book.
const OPEN: u64 = 900;

/// The values that all jobs of an invented book share.
struct Book {
    seed: u64,
    today: NaiveDate,
    jobs: u64,
    names: Names,
}

/// Fills a new, empty book with `jobs` invented jobs.
///
/// # Errors
/// [`DeskError`] of the file, or for a book that is not empty.
pub fn build_many(desk: &mut Desk, jobs: usize, seed: u64) -> Result<Built, DeskError> {
    let wrong = |e: String| DeskError::new(ErrorKind::Input, e);
    let lists: Lists = serde_json::from_str(LISTS).map_err(|e| wrong(e.to_string()))?;
    for member in staff().map_err(|e| wrong(e.to_string()))? {
        desk.add_staff(member)?;
    }
    let book = Book {
        seed,
        today: desk.today(),
        jobs: u64::try_from(jobs).unwrap_or(u64::MAX),
        names: Names::new(lists),
    };
    let jobs = desk.enter_invented((0..book.jobs).map(|n| book.invent(n)))?;
    Ok(Built { jobs })
}

const fn common_divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { common_divisor(b, a % b) }
}

impl Book {
    /// How many jobs at the end are open.
    fn open(&self) -> u64 {
        (self.jobs / 20).min(OPEN)
    }

    /// Whose job it is: within an epoch no wearer twice.
    fn whose(&self, n: u64) -> u64 {
        let wearers = (self.jobs.saturating_mul(WEARERS) / 100).max(1);
        let epoch = (self.jobs / EPOCHS).max(1);
        let mut throws = Throws::of(self.seed, EPOCH, n / epoch);
        let mut step = 1 + throws.below(wearers);
        while common_divisor(step, wearers) != 1 {
            step += 1;
        }
        let at = u128::from(n % epoch) * u128::from(step) + u128::from(throws.below(wearers));
        u64::try_from(at % u128::from(wearers)).unwrap_or(0)
    }

    fn invent(&self, n: u64) -> Invented {
        let mut throws = Throws::of(self.seed, COURSE, n);
        let from_the_end = self.jobs - 1 - n;
        let stage = match from_the_end {
            f if f >= self.open() => Stage::Collected,
            f => match f * 3 / self.open().max(1) {
                0 => Stage::Measured,
                1 => Stage::Ordered,
                _ => Stage::Verified,
            },
        };
        let ago = match stage {
            Stage::Measured => throws.below(3),
            Stage::Ordered => 3 + throws.below(9),
            Stage::Verified => 10 + throws.below(4),
            // Long enough ago that the pair is collected.
            Stage::Collected | Stage::Cancelled => 16 + SPAN * from_the_end / self.jobs.max(1),
        };
        let begun = self
            .today
            .checked_sub_days(Days::new(ago))
            .unwrap_or(self.today);
        let which = self.whose(n);
        let mut person = self.names.person(self.seed, which, self.today);
        if whole_years(person.born, begun) < 4 {
            // Too young by then: the job was their parent's.
            person = self
                .names
                .person(self.seed, head_of_household(which), self.today);
        }
        let job = pair::measured(&mut throws, &self.names.lists, &person, begun);
        let is_before_the_book =
            stage == Stage::Collected && from_the_end >= self.open() + self.jobs / 20;
        self.course(&mut throws, job, stage, begun, is_before_the_book)
    }

    /// What became of a job that was measured on a day.
    fn course(
        &self,
        throws: &mut Throws,
        measured: Job,
        stage: Stage,
        begun: NaiveDate,
        is_before_the_book: bool,
    ) -> Invented {
        let mut minutes = 9 * 60 + throws.between(0, 200);
        let mut at = |day: NaiveDate| {
            minutes += 7;
            let seconds = u32::try_from(minutes).unwrap_or(0) * 60;
            day.and_time(
                NaiveTime::from_num_seconds_from_midnight_opt(seconds, 0).unwrap_or_default(),
            )
        };
        let read_on = on(begun, 6 + throws.below(3));
        let given_on = on(begun, 10 + throws.below(5));
        let mut events = vec![InventedEvent {
            moves: 0,
            at: at(begun),
            by: None,
            what: "invented",
            detail: json!({"seed": self.seed}),
        }];
        let mut job = measured;
        job.stage = Some(Stage::Measured);
        let mut moves = Vec::new();
        for gate in [Gate::Ordered, Gate::Verified, Gate::Collected] {
            if job.stage() == stage {
                break;
            }
            let day = match gate {
                Gate::Ordered => {
                    job.order.ordered_on = Some(begun);
                    begun
                }
                Gate::Verified => {
                    job.readings = pair::readings(throws, &job, read_on);
                    job.collection_at = Some(appointment(throws, given_on, self.today, stage));
                    read_on
                }
                Gate::Collected => {
                    job.handover = pair::handover(&job, given_on);
                    given_on
                }
            };
            moves.push(InventedMove {
                gate,
                on: day,
                before: job.clone(),
            });
            events.push(InventedEvent {
                moves: moves.len(),
                at: at(day),
                by: Some(OPTICIAN),
                what: "moved",
                detail: json!({"from": gate.from_stage(), "to": gate.to_stage(), "settled": []}),
            });
            job.stage = Some(gate.to_stage());
        }
        if is_before_the_book {
            moves.clear();
            job.past = Some(true);
        }
        Invented { job, moves, events }
    }
}

/// When the pair is to be collected; of one that waits for it, today or soon.
fn appointment(throws: &mut Throws, given_on: NaiveDate, today: NaiveDate, stage: Stage) -> Moment {
    let day = if stage == Stage::Verified {
        on(today, throws.below(5))
    } else {
        given_on
    };
    let half_hours = u32::try_from(throws.below(16)).unwrap_or(0);
    Moment(day.and_time(
        NaiveTime::from_hms_opt(9 + half_hours / 2, half_hours % 2 * 30, 0).unwrap_or_default(),
    ))
}
