//! The figures of the practice's work: which period, which page, which figure.

use super::action::Action;
use super::effect::Effect;
use super::{App, Screen};
use crate::figures::page::{Page, PageKind, Report};
use crate::figures::period::{Length, Period};

/// What the screen remembers.
#[derive(Debug, Default)]
pub struct FiguresScreen {
    /// The period asked for.
    pub period: Option<Period>,
    /// What was counted last.
    pub report: Option<Report>,
    /// Place of the page in front.
    pub page: usize,
    /// Place of the selected figure on it.
    pub selected: usize,
}

impl FiguresScreen {
    /// The page in front.
    pub fn page(&self) -> Option<&Page> {
        self.report.as_ref()?.pages.get(self.page)
    }
}

/// Does an action of the figures.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    let count = PageKind::ALL.len();
    let f = &mut app.figures;
    let this_month = Period::around(app.today, Length::Month);
    let period = f.period.unwrap_or(this_month);
    let wanted = match action {
        Action::NextPage | Action::PreviousPage => {
            let by = if action == Action::NextPage {
                1
            } else {
                count - 1
            };
            f.page = (f.page + by) % count;
            f.selected = 0;
            return Vec::new();
        }
        Action::EarlierPeriod => period.before(),
        Action::LaterPeriod if app.today < period.to => {
            app.complain("Nothing has happened yet after this period.");
            return Vec::new();
        }
        Action::LaterPeriod => period.next(),
        Action::ByMonth => around(period, app.today, Length::Month),
        Action::ByQuarter => around(period, app.today, Length::Quarter),
        Action::ByYear => around(period, app.today, Length::Year),
        _ => {
            app.go(Screen::Figures);
            period
        }
    };
    app.figures.period = Some(wanted);
    vec![Effect::Figures(wanted)]
}

/// Whether something can have happened after the period in front.
pub(crate) fn has_later(app: &App) -> bool {
    app.figures.period.is_some_and(|p| app.today >= p.to)
}

/// Returns the period of another length at the end of the one in front, as far as it has come.
fn around(period: Period, today: chrono::NaiveDate, length: Length) -> Period {
    Period::around(period.last().min(today).max(period.from), length)
}

/// Goes up or down.
pub(crate) fn step(app: &mut App, by: isize) -> Vec<Effect> {
    let f = &mut app.figures;
    let count = f.page().map_or(0, |p| p.lines.len());
    f.selected = super::act::moved(f.selected, by, count);
    Vec::new()
}

/// Takes what was counted; an answer to what is no longer asked says nothing.
pub(crate) fn show(app: &mut App, report: Report) {
    if app.figures.period == Some(report.period) {
        app.figures.report = Some(report);
    }
}

/// Counts again what is in front.
pub(crate) fn again(app: &App) -> Option<Effect> {
    app.figures.period.map(Effect::Figures)
}
