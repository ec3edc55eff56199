//! Figures of the practice's work, counted from the book, over a period and the one before.
//!
//! Plain records of jobs go in one by one, counts come out; no job is kept, so a book of any size is
//! read in little room. Each figure is defined in a file of its name and in `docs/figures.md`.

pub(crate) mod acceptances;
pub(crate) mod late;
pub(crate) mod line;
pub(crate) mod measurements;
pub(crate) mod page;
pub(crate) mod passes;
pub(crate) mod period;
pub(crate) mod rate;
pub(crate) mod rechecks;
pub(crate) mod record;
pub(crate) mod returns;
pub(crate) mod sparkline;
pub(crate) mod spread;
pub(crate) mod table;
pub(crate) mod turn_round;

use chrono::NaiveDate;

use acceptances::Acceptances;
use late::{Late, Out};
use measurements::{Measurements, Repeatability};
use page::{PageKind, Report};
use passes::Passes;
use period::Period;
use rechecks::Rechecks;
use record::CountedJob;
use returns::Returns;
use turn_round::TurnRound;

/// The counts of one period.
#[derive(Debug, Clone, Default)]
struct Tally {
    turn_round: TurnRound,
    late: Late,
    passes: Passes,
    returns: Returns,
    rechecks: Rechecks,
    acceptances: Acceptances,
    measurements: Measurements,
}

impl Tally {
    fn add(&mut self, record: &CountedJob, period: &Period, limits: Repeatability) {
        self.turn_round.add(record, period);
        self.late.add(record, period);
        self.passes.add(record, period);
        self.returns.add(record, period);
        self.rechecks.add(record, period);
        self.acceptances.add(record, period);
        self.measurements.add(record, period, limits);
    }
}

/// Figures in the making.
#[derive(Debug, Clone)]
pub struct Figures {
    period: Period,
    before: Period,
    today: NaiveDate,
    limits: Repeatability,
    remake_price: Option<u64>,
    now: Tally,
    then: Tally,
    out: Out,
}

impl Figures {
    /// Begins with all counts at zero.
    pub fn new(period: Period, today: NaiveDate, limits: Repeatability) -> Self {
        Self {
            period,
            before: period.before(),
            today,
            limits,
            remake_price: None,
            now: Tally::default(),
            then: Tally::default(),
            out: Out::default(),
        }
    }

    /// Says what a remake costs the practice, in whole units of its money.
    #[must_use]
    pub const fn with_remake_price(mut self, price: Option<u64>) -> Self {
        self.remake_price = price;
        self
    }

    /// The period before.
    pub const fn before(&self) -> Period {
        self.before
    }

    /// Counts a job. One from before the book was never checked by it and counts nowhere.
    pub fn add(&mut self, record: &CountedJob) {
        if record.past {
            return;
        }
        self.now.add(record, &self.period, self.limits);
        self.then.add(record, &self.before, self.limits);
    }

    /// Counts an order that is at a laboratory today.
    pub fn add_out(&mut self, laboratory: Option<&str>, due_on: Option<NaiveDate>) {
        self.out.add(laboratory, due_on, self.today);
    }

    /// Returns the pages.
    pub fn report(&self) -> Report {
        let (now, then) = (&self.now, &self.then);
        Report::new(self.period, self.before, self.today, |kind| match kind {
            PageKind::TurnRound => TurnRound::lines(&now.turn_round, &then.turn_round),
            PageKind::Laboratories => {
                let mut lines = Late::lines(&now.late, &then.late);
                lines.extend(self.out.lines());
                lines.extend(Passes::lines(&now.passes, &then.passes));
                lines
            }
            PageKind::SendBacks => {
                Returns::lines((&now.returns, &now.passes), (&then.returns, &then.passes))
            }
            PageKind::Rechecks => Rechecks::lines(&now.rechecks, &then.rechecks, self.remake_price),
            PageKind::Acceptances => Acceptances::lines(&now.acceptances, &then.acceptances),
            PageKind::Measurements => {
                Measurements::lines(&now.measurements, &then.measurements, self.limits)
            }
        })
    }
}
