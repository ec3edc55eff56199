//! The pictures of a job.

use ratatui::Frame;
use ratatui::layout::Rect;

use super::theme::Theme;
use crate::app::App;

pub(super) fn draw(_app: &App, _theme: Theme, _frame: &mut Frame<'_>, _area: Rect) {}
