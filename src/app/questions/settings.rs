//! The practice's settings: its standard and the thresholds of the checks.

use super::sign_in;
use crate::app::App;
use crate::app::effect::Effect;
use crate::app::question::{ChoiceAsker, TextAsker};
use crate::practice::{Setting, settings};

/// Shows every setting with the cursor on one of them, the first where none is named.
pub(crate) fn show(app: &mut App, at: Option<&str>) {
    let all = settings(&app.practice);
    let selected = all.iter().position(|s| Some(s.key) == at).unwrap_or(0);
    let offered = all
        .iter()
        .map(|s| {
            let mark = if s.is_own { "own" } else { "" };
            let label = format!("{:<24}{:>16} {:<15} {mark}", s.key, s.value, s.unit);
            (label, s.key)
        })
        .collect();
    app.choose_from(
        "Practice settings: what decides what the checks say. Enter changes one.",
        offered,
        selected,
        Which,
    );
}

/// Shows the list again after a change, with the value now in force.
pub(crate) fn show_again(app: &mut App) {
    if let Some(key) = app.setting.take()
        && app.dialog.is_none()
    {
        show(app, Some(key));
    }
}

/// Which setting is to be changed, by its key.
#[derive(Debug)]
struct Which;

impl ChoiceAsker for Which {
    type Answer = &'static str;

    fn answered(self, app: &mut App, key: &'static str) -> Vec<Effect> {
        let all = settings(&app.practice);
        let Some(setting) = all.iter().find(|s| s.key == key) else {
            return Vec::new();
        };
        let title = title(setting);
        if setting.words.is_empty() {
            app.ask(title, Written { key });
        } else {
            let at = setting.words.iter().position(|w| **w == setting.value);
            let offered = (setting.words.iter())
                .map(|w| ((*w).to_owned(), *w))
                .collect();
            app.choose_from(title, offered, at.unwrap_or(0), OneOfWords { key });
        }
        Vec::new()
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

/// The value of a setting that is one of a few words.
#[derive(Debug)]
struct OneOfWords {
    key: &'static str,
}

impl ChoiceAsker for OneOfWords {
    type Answer = &'static str;

    fn answered(self, app: &mut App, word: &'static str) -> Vec<Effect> {
        set(app, self.key, word).unwrap_or_else(|why| {
            app.complain(why);
            Vec::new()
        })
    }

    fn unanswered(self, app: &mut App) -> Vec<Effect> {
        show(app, Some(self.key));
        Vec::new()
    }
}

/// The value of a setting that is a number or free text.
#[derive(Debug)]
struct Written {
    key: &'static str,
}

impl TextAsker for Written {
    fn answered(&self, app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
        set(app, self.key, text)
    }

    fn unanswered(self: Box<Self>, app: &mut App) -> Vec<Effect> {
        show(app, Some(self.key));
        Vec::new()
    }
}

fn set(app: &mut App, key: &'static str, text: &str) -> Result<Vec<Effect>, String> {
    let mut practice = app.practice.clone();
    practice.set(key, text)?;
    let Some(by) = sign_in::acting(app) else {
        return Ok(Vec::new());
    };
    app.setting = Some(key);
    Ok(vec![Effect::SetPractice {
        practice: Box::new(practice),
        by,
    }])
}
