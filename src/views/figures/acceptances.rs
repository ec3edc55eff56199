//! Acceptances: findings that were accepted, by check, role and person, and moves that rested on one.

use super::line::{Counts, Figure, FigureLine, shares};
use super::period::Period;
use super::record::{CountedJob, EventKind};
use super::sparkline::{PARTS, Parts};

/// Acceptances of one period.
#[derive(Debug, Clone)]
pub(crate) struct Acceptances {
    given: u64,
    checks: Counts,
    roles: Counts,
    people: Counts,
    moves: u64,
    moves_with_accepted: u64,
    parts: Parts,
}

impl Default for Acceptances {
    fn default() -> Self {
        Self {
            given: 0,
            checks: Counts::new(),
            roles: Counts::new(),
            people: Counts::new(),
            moves: 0,
            moves_with_accepted: 0,
            parts: [0; PARTS],
        }
    }
}

impl Acceptances {
    /// Counts a job.
    pub(crate) fn add(&mut self, record: &CountedJob, period: &Period) {
        for event in &record.events {
            let Some(part) = period.part(event.on) else {
                continue;
            };
            match &event.what {
                EventKind::Moved { with_accepted, .. } => {
                    self.moves += 1;
                    self.moves_with_accepted += u64::from(*with_accepted);
                }
                EventKind::Accepted(given) => {
                    for one in given {
                        self.given += 1;
                        if let Some(count) = self.parts.get_mut(part) {
                            *count += 1;
                        }
                        *self.checks.entry(one.check.clone()).or_default() += 1;
                        *self.roles.entry(one.role.clone()).or_default() += 1;
                        *self.people.entry(one.by.clone()).or_default() += 1;
                    }
                }
                _ => {}
            }
        }
    }

    /// Returns acceptances by check, role and person.
    pub(crate) fn lines(now: &Self, before: &Self) -> Vec<FigureLine> {
        let mut lines = vec![
            FigureLine::new(
                "moves through a gate",
                "rested on an acceptance",
                Figure::rate(now.moves_with_accepted, now.moves),
                Figure::rate(before.moves_with_accepted, before.moves),
            ),
            FigureLine::new(
                "findings accepted",
                "all",
                Figure::count(now.given),
                Figure::count(before.given),
            )
            .with(now.parts),
        ];
        for (group, table) in [
            (
                "accepted, by check",
                (|a| &a.checks) as fn(&Self) -> &Counts,
            ),
            ("accepted, by role", |a| &a.roles),
            ("accepted, by person", |a| &a.people),
        ] {
            lines.extend(shares(
                group,
                (table(now), now.given),
                (table(before), before.given),
            ));
        }
        lines
    }
}
