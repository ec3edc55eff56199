//! The pages of figures, with a note below each.

use chrono::NaiveDate;
use serde::Serialize;

use super::line::FigureLine;
use super::period::Period;
use super::rate::LEAST;
use super::rechecks::REFERENCE;

/// A page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PageKind {
    /// Days from stage to stage.
    TurnRound,
    /// Late work and first-time passes by laboratory.
    Laboratories,
    /// Send-backs by laboratory and check.
    SendBacks,
    /// Rechecks and remakes.
    Rechecks,
    /// Acceptances.
    Acceptances,
    /// Measurements.
    Measurements,
}

impl PageKind {
    /// Every page in its order.
    pub const ALL: [Self; 6] = [
        Self::TurnRound,
        Self::Laboratories,
        Self::SendBacks,
        Self::Rechecks,
        Self::Acceptances,
        Self::Measurements,
    ];

    /// Its title.
    pub const fn title(self) -> &'static str {
        match self {
            Self::TurnRound => "turn-round",
            Self::Laboratories => "laboratories",
            Self::SendBacks => "send-backs",
            Self::Rechecks => "rechecks",
            Self::Acceptances => "acceptances",
            Self::Measurements => "measurements",
        }
    }

    /// The note below it: definitions and limits.
    const fn note(self) -> &'static str {
        match self {
            Self::TurnRound => {
                "Each pair once, in the period in which that stage ended; a pair that went back counts from its order to \
                 the verification that stands. Calendar days, begun with the day the book first heard of the job."
            }
            Self::Laboratories => {
                "Late: the first pair of an order came after the day it was due when it was ordered. Passed the first \
                 time: verified and never sent back. Out today is as of today, whatever the period."
            }
            Self::SendBacks => {
                "Rounds that ended in the period, by going back or with a verification that stands. One send-back may \
                 have several failed checks: their shares add up to more than the whole."
            }
            Self::Rechecks => REFERENCE,
            Self::Acceptances => {
                "An acceptance is a decision, not a fault. Counts follow who is there and what comes in; they do not \
                 rank people."
            }
            Self::Measurements => {
                "As the pair was ordered. Limits are the practice's thresholds. A distance that was asked for by \
                 telephone and then entered counts as known."
            }
        }
    }
}

/// A page of figures.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Page {
    /// Which.
    pub page: PageKind,
    /// Its figures.
    pub lines: Vec<FigureLine>,
    /// The note below them: definitions and limits.
    pub note: &'static str,
}

/// All figures of a period.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Report {
    /// The period.
    pub period: Period,
    /// The one before.
    pub before: Period,
    /// Whether the period includes today.
    pub is_running: bool,
    /// Fewer cases than this give no share.
    pub least: u64,
    /// The pages.
    pub pages: Vec<Page>,
}

impl Report {
    pub(super) fn new(
        period: Period,
        before: Period,
        today: NaiveDate,
        lines: impl Fn(PageKind) -> Vec<FigureLine>,
    ) -> Self {
        Self {
            period,
            before,
            is_running: today < period.to,
            least: LEAST,
            pages: PageKind::ALL
                .into_iter()
                .map(|page| Page {
                    page,
                    lines: lines(page),
                    note: page.note(),
                })
                .collect(),
        }
    }
}
