//! The queue of what is to be done: what a key, an answer or news leads to is carried out here, one
//! after the other. Nothing that says what is to be done carries anything out itself.

use std::collections::VecDeque;

use super::app::App;
use super::carry_out::carry_out;
use super::questions;
use crate::tui::effect::Effect;
use crate::tui::next::Next;

/// Carries out what is wanted, and what that leads to before the rest; returns what is left to be
/// done outside, in order.
pub(crate) fn run(app: &mut App, next: Next) -> Vec<Effect> {
    let mut effects = Vec::new();
    let mut queue = VecDeque::from([next]);
    while let Some(next) = queue.pop_front() {
        match next {
            Next::Pass | Next::Stay => {}
            Next::Do(more) => effects.extend(more),
            Next::All(all) => {
                for next in all.into_iter().rev() {
                    queue.push_front(next);
                }
            }
            next => queue.push_front(carry_out(app, next)),
        }
    }
    effects
}

/// Offers what can be done without a book.
pub(crate) fn welcome(app: &mut App) {
    let next = questions::welcome(app);
    run(app, next);
}
