//! The practice's settings: its standard and the thresholds of the checks.

use super::sign_in;
use crate::book::desk::Program;
use crate::practice::{Setting, settings};
use crate::tui::effect::Effect;
use crate::tui::line::Line;
use crate::tui::next::{Next, Question};
use crate::tui::seen::Seen;

/// Shows every setting with the cursor on one of them, the first where none is named.
pub(crate) fn show(at: Option<&'static str>) -> Next {
    Next::then(move |seen| list(at, seen))
}

fn list(at: Option<&'static str>, seen: Seen<'_>) -> Next {
    let all = settings(seen.practice);
    let selected = all.iter().position(|s| Some(s.key) == at).unwrap_or(0);
    let offered = all
        .iter()
        .map(|s| {
            let mark = if s.is_own { "own" } else { "" };
            let label = format!("{:<24}{:>16} {:<15} {mark}", s.key, s.value, s.unit);
            let key = s.key;
            (label, Next::then(move |seen| change(key, seen)))
        })
        .collect();
    Next::Ask(Question::choose_from(
        "Practice settings: what decides what the checks say. Enter changes one.",
        offered,
        selected,
    ))
}

/// Asks for the new value of a setting.
fn change(key: &'static str, seen: Seen<'_>) -> Next {
    let all = settings(seen.practice);
    let Some(setting) = all.iter().find(|s| s.key == key) else {
        return Next::Stay;
    };
    let title = title(setting);
    let question = if setting.words.is_empty() {
        Question::text_seen(title, Line::default(), move |text, seen| {
            set(key, text, seen)
        })
    } else {
        let at = setting.words.iter().position(|w| **w == setting.value);
        let offered = (setting.words.iter())
            .map(|word| {
                let word = (*word).to_owned();
                let chosen = word.clone();
                let next =
                    Next::then(move |seen| set(key, &chosen, seen).unwrap_or_else(Next::complain));
                (word, next)
            })
            .collect();
        Question::choose_from(title, offered, at.unwrap_or(0))
    };
    Next::Ask(question.or_else(show(Some(key))))
}

fn title(s: &Setting) -> String {
    let mut text = format!("{}: {}", s.key, s.meaning);
    if s.words.is_empty() && !s.default.is_empty() {
        text = format!(
            "{text} In force: {} {}. Default: {} {} ({}). New value, or default:",
            s.value, s.unit, s.default, s.unit, s.source
        );
    }
    text
}

fn set(key: &'static str, text: &str, seen: Seen<'_>) -> Result<Next, String> {
    seen.practice.clone().set(key, text)?;
    let value = text.to_owned();
    Ok(sign_in::acting(seen).map_or_else(
        |next| next,
        |by| {
            let runs = Program::of_key(key).is_some();
            sign_in::again(&by.clone(), runs && seen.signs_in, move |secret| {
                let change = Effect::SetPractice {
                    key,
                    value,
                    by,
                    secret,
                };
                Next::SettingsAgain(key).and(Next::Do(vec![change]))
            })
        },
    ))
}
