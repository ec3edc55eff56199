//! The terminal's events as the program's own.

use ratatui::crossterm::event::{Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers};

use crate::tui::key::{Code, Key};
use crate::tui::shell::update::Input;

/// Returns the input of an event, or `None` for an event the screens do not use.
///
/// Releases are ignored: some terminals report them, and each key would act twice. The loop itself
/// handles a resize.
pub(crate) fn read(event: Event) -> Option<Input> {
    match event {
        Event::Key(key) if key.kind != KeyEventKind::Release => key_of(key).map(Input::Key),
        Event::Paste(text) => Some(Input::Paste(text)),
        _ => None,
    }
}

fn key_of(event: KeyEvent) -> Option<Key> {
    let code = match event.code {
        KeyCode::Char(c) => Code::Char(c),
        KeyCode::F(n) => Code::F(n),
        KeyCode::Enter => Code::Named("enter"),
        KeyCode::Esc => Code::Named("esc"),
        KeyCode::BackTab => Code::Named("shift-tab"),
        KeyCode::Tab if event.modifiers.contains(KeyModifiers::SHIFT) => Code::Named("shift-tab"),
        KeyCode::Tab => Code::Named("tab"),
        KeyCode::Backspace => Code::Named("backspace"),
        KeyCode::Delete => Code::Named("delete"),
        KeyCode::Up => Code::Named("up"),
        KeyCode::Down => Code::Named("down"),
        KeyCode::Left => Code::Named("left"),
        KeyCode::Right => Code::Named("right"),
        KeyCode::Home => Code::Named("home"),
        KeyCode::End => Code::Named("end"),
        KeyCode::PageUp => Code::Named("page-up"),
        KeyCode::PageDown => Code::Named("page-down"),
        _ => return None,
    };
    Some(Key {
        code,
        ctrl: event.modifiers.contains(KeyModifiers::CONTROL),
        alt: event.modifiers.contains(KeyModifiers::ALT),
    })
}

#[cfg(test)]
mod tests {
    use super::{Event, Input, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, read};

    #[test]
    fn a_released_key_is_not_pressed_again() {
        let mut event = KeyEvent::new(KeyCode::Char('n'), KeyModifiers::NONE);
        event.kind = KeyEventKind::Release;
        assert_eq!(read(Event::Key(event)), None);
    }

    #[test]
    fn a_character_reached_with_control_and_alt_is_text() {
        let event = KeyEvent::new(
            KeyCode::Char('@'),
            KeyModifiers::CONTROL | KeyModifiers::ALT,
        );
        let Some(Input::Key(key)) = read(Event::Key(event)) else {
            panic!("a key");
        };
        assert_eq!(key.types(), Some('@'));
    }
}
