//! The practice's settings: its standard and the thresholds of the checks.

use super::App;
use super::dialog::{Dialog, Purpose};
use super::effect::Effect;
use super::signing;
use crate::practice::{Setting, settings};

/// Shows every setting, the one at `at` selected.
pub(crate) fn show(app: &mut App, at: usize) {
    let items = settings(&app.practice)
        .iter()
        .map(|s| {
            let mark = if s.is_own { "own" } else { "" };
            format!("{:<24}{:>16} {:<15} {mark}", s.key, s.value, s.unit)
        })
        .collect();
    app.choose(
        "Practice settings: what decides what the checks say. Enter changes one.",
        items,
        Purpose::Setting,
    );
    if let Some(Dialog::Choose { selected, .. }) = &mut app.dialog {
        *selected = at;
    }
}

/// Shows the list again after a change, as it now stands.
pub(crate) fn show_again(app: &mut App) {
    if let Some(at) = app.setting.take()
        && app.dialog.is_none()
    {
        show(app, at);
    }
}

/// Asks for the value of a setting.
pub(crate) fn chosen(app: &mut App, index: usize) {
    let all = settings(&app.practice);
    let Some(setting) = all.get(index) else {
        return;
    };
    if setting.words.is_empty() {
        let title = title(setting);
        app.ask(title, Purpose::SettingValue { index });
    } else {
        let at = setting.words.iter().position(|w| **w == setting.value);
        let items = setting.words.iter().map(|w| (*w).to_owned()).collect();
        app.choose(&title(setting), items, Purpose::SettingWord { index });
        if let Some(Dialog::Choose { selected, .. }) = &mut app.dialog {
            *selected = at.unwrap_or(0);
        }
    }
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

/// Takes a word.
pub(crate) fn word(app: &mut App, index: usize, place: usize) -> Vec<Effect> {
    let word = settings(&app.practice)
        .get(index)
        .and_then(|s| s.words.get(place).copied());
    match word.map(|w| value(app, index, w)) {
        Some(Ok(effects)) => effects,
        Some(Err(why)) => {
            app.complain(why);
            Vec::new()
        }
        None => Vec::new(),
    }
}

/// Takes a value; or says why it is none.
pub(crate) fn value(app: &mut App, index: usize, text: &str) -> Result<Vec<Effect>, String> {
    let Some(key) = settings(&app.practice).get(index).map(|s| s.key) else {
        return Ok(Vec::new());
    };
    let mut practice = app.practice.clone();
    practice.set(key, text)?;
    let Some(by) = signing::acting(app) else {
        return Ok(Vec::new());
    };
    app.setting = Some(index);
    Ok(vec![Effect::SetPractice {
        practice: Box::new(practice),
        by,
    }])
}
