//! What the figures remember, and what keys and counts make of it.

use crate::tui::action::{Action, Scope};
use crate::tui::effect::Effect;
use crate::tui::list::moved;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::Seen;
use crate::views::figures::page::{Page, PageKind, Report};
use crate::views::figures::period::{Length, Period};

/// What the screen remembers.
#[derive(Debug, Default)]
pub struct State {
    /// The period asked for.
    pub period: Option<Period>,
    /// What was counted last.
    pub report: Option<Report>,
    /// Place of the current page.
    pub page: usize,
    /// Place of the selected figure on it.
    pub selected: usize,
}

impl State {
    /// The current page.
    pub fn page(&self) -> Option<&Page> {
        self.report.as_ref()?.pages.get(self.page)
    }

    fn turn(&mut self, by: usize) -> Next {
        self.page = (self.page + by) % PageKind::ALL.len();
        self.selected = 0;
        Next::Stay
    }

    fn step(&mut self, by: isize) -> Next {
        let count = self.page().map_or(0, |p| p.lines.len());
        self.selected = moved(self.selected, by, count);
        Next::Stay
    }

    fn count(&mut self, period: Period) -> Next {
        self.period = Some(period);
        Next::Do(vec![Effect::Figures(period)])
    }

    fn count_again(&self) -> Next {
        self.period.map(Effect::Figures).into()
    }

    /// The period asked for; before one is, this month.
    fn period_now(&self, seen: Seen<'_>) -> Period {
        self.period
            .unwrap_or_else(|| Period::around(seen.today, Length::Month))
    }

    /// Counts the period of another length at the end of the current one, as far as it has come.
    fn by_length(&mut self, length: Length, seen: Seen<'_>) -> Next {
        let period = self.period_now(seen);
        let day = period.last().min(seen.today).max(period.from);
        self.count(Period::around(day, length))
    }
}

impl Behaviour for State {
    fn scope(&self, _seen: Seen<'_>) -> Scope {
        Scope::Figures
    }

    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next {
        let ScreenInput::Action(action) = input else {
            return Next::Pass;
        };
        let period = self.period_now(seen);
        if let Some(by) = action.rows() {
            return self.step(by);
        }
        match action {
            Action::NextPage => self.turn(1),
            Action::PreviousPage => self.turn(PageKind::ALL.len() - 1),
            Action::EarlierPeriod => self.count(period.before()),
            Action::LaterPeriod if seen.today < period.to => {
                Next::complain("Nothing has happened yet after this period.")
            }
            Action::LaterPeriod => self.count(period.next()),
            Action::ByMonth => self.by_length(Length::Month, seen),
            Action::ByQuarter => self.by_length(Length::Quarter, seen),
            Action::ByYear => self.by_length(Length::Year, seen),
            _ => Next::Pass,
        }
    }

    fn notice(&mut self, news: News<'_>, seen: Seen<'_>) -> Next {
        match news {
            News::Entered => self.count(self.period_now(seen)),
            News::BookChanged | News::SettingsChanged => self.count_again(),
            // An answer to what is no longer asked says nothing.
            News::Counted(report) if self.period == Some(report.period) => {
                self.report = Some(report.clone());
                Next::Stay
            }
            _ => Next::Stay,
        }
    }

    fn hints(&self, seen: Seen<'_>) -> Vec<Action> {
        let has_later = self.period.is_some_and(|p| seen.today >= p.to);
        let mut hints = vec![Action::NextPage, Action::EarlierPeriod];
        hints.extend(has_later.then_some(Action::LaterPeriod));
        hints.extend([Action::ByMonth, Action::ByYear, Action::Help, Action::Back]);
        hints
    }
}
