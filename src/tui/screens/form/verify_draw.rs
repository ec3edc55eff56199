//! The readings against their tolerances, with how much of each is used.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::job::Job;
use crate::judge::derive::verification::{Reading, report};
use crate::practice::Practice;
use crate::tui::widgets::text::wrap;
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, margin, put};

pub(super) fn draw(
    job: &Job,
    practice: &Practice,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    match report(job, practice, Reading::AsRead) {
        Ok(report) => {
            for (row, line) in
                (0..area.height).zip(margin::tolerance_table(&report, area.width, theme))
            {
                put(frame, at(area, row), line);
            }
        }
        Err(why) => {
            let why = format!("Each reading is set against its tolerance here. So far: {why}");
            for (row, line) in (0..area.height).zip(wrap(&why, area.width.into())) {
                put(
                    frame,
                    at(area, row),
                    Line::styled(line, theme.style(Role::Muted)),
                );
            }
        }
    }
}
