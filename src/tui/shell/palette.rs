//! The list of actions: those of the current screen by what is typed of them, and where else an
//! action is that is not here.

use nucleo_matcher::pattern::{CaseMatching, Normalization, Pattern};
use nucleo_matcher::{Config, Matcher, Utf32Str};

use crate::tui::App;
use crate::tui::action::{ACTIONS, Action, Entry, Scope};

/// What a match in the name counts more than any in the sentence.
const NAMED: u32 = 10_000;

/// How well an action's name matches.
struct Finder {
    pattern: Pattern,
    matcher: Matcher,
    buffer: Vec<char>,
}

impl Finder {
    fn of(text: &str) -> Self {
        Self {
            pattern: Pattern::parse(text, CaseMatching::Ignore, Normalization::Smart),
            matcher: Matcher::new(Config::DEFAULT),
            buffer: Vec::new(),
        }
    }

    fn score(&mut self, words: &str) -> Option<u32> {
        let words = Utf32Str::new(words, &mut self.buffer);
        self.pattern.score(words, &mut self.matcher)
    }

    /// By the name as a key file has it, as it is spoken, and as the hints have it.
    fn named(&mut self, entry: &Entry) -> Option<u32> {
        self.score(&format!(
            "{} {} {}",
            entry.id,
            entry.id.replace('-', " "),
            entry.title
        ))
    }
}

/// Actions that the list itself leaves out: it is open, and two that go down and up as others do.
const fn is_listed(action: Action) -> bool {
    !matches!(action, Action::Palette | Action::DownToo | Action::UpToo)
}

/// Whether a text is an action's name, as the pages print it or as it is said.
fn is_name(entry: &Entry, text: &str) -> bool {
    entry.id.replace('-', " ") == text.trim().replace('-', " ").to_lowercase()
}

/// Whether the sentence of an action has each word of a text in it. Letters scattered over a sentence
/// are no find: Enter would do something that nobody looked for.
fn says(entry: &Entry, text: &str) -> bool {
    let help = entry.help.to_lowercase();
    text.to_lowercase()
        .split_whitespace()
        .all(|word| help.contains(word))
}

/// Returns the actions of the current screen that match, best first; one whose name matches goes
/// before those of which only the sentence does.
pub fn matching(app: &App, text: &str) -> Vec<Action> {
    let scope = app.scope();
    let mut finder = Finder::of(text);
    let mut scored: Vec<((bool, u32), Action)> = ACTIONS
        .iter()
        .filter(|e| e.scopes.contains(&scope) || e.scopes.contains(&Scope::Everywhere))
        .filter(|e| is_listed(e.action))
        .filter_map(|e| {
            let by_name = finder.named(e).map(|score| score + NAMED);
            let score = by_name.or_else(|| says(e, text).then_some(0))?;
            // A name that is written out is meant, whatever else it is a part of.
            Some(((is_name(e, text), score), e.action))
        })
        .collect();
    scored.sort_by_key(|(score, _)| std::cmp::Reverse(*score));
    scored.into_iter().map(|(_, a)| a).collect()
}

/// Says that nothing on the current screen is called so, and where something is that is.
pub(crate) fn nothing_found(text: &str) -> Vec<String> {
    let text = text.trim();
    let mut finder = Finder::of(text);
    let mut elsewhere: Vec<(u32, &Entry)> = ACTIONS
        .iter()
        .filter(|e| is_listed(e.action))
        .filter_map(|e| Some((finder.named(e)?, e)))
        .collect();
    elsewhere.sort_by_key(|(score, _)| std::cmp::Reverse(*score));
    let here = format!("Nothing on this screen is called {text}.");
    let Some((_, best)) = elsewhere.first() else {
        return vec![here];
    };
    let screens: Vec<&str> = best.scopes.iter().map(|s| s.title()).collect();
    let there = format!("On another screen: {} ({}).", best.id, screens.join(", "));
    vec![here, there]
}
