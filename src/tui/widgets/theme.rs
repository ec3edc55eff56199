//! What things look like: roles instead of colours, marks that are read without colour.

use ratatui::style::{Color, Modifier, Style};

/// What a piece of text is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The name of a screen or part.
    Title,
    /// The name of a value.
    Label,
    /// A value.
    Value,
    /// Where the keys go.
    Focus,
    /// What matters less.
    Muted,
    /// A finding nobody may accept.
    Stop,
    /// A finding to settle.
    Warning,
    /// A finding that holds nothing.
    Note,
    /// Settled, or within its limit.
    Good,
    /// A key to press.
    Key,
}

/// A mark of severity: a glyph and its word, so that neither colour nor glyph is needed alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Cannot be accepted.
    Stop,
    /// Must be settled.
    Warning,
    /// Holds nothing.
    Note,
    /// Settled.
    Settled,
}

impl Mark {
    /// Returns the role whose style the mark takes.
    pub const fn role(self) -> Role {
        match self {
            Self::Stop => Role::Stop,
            Self::Warning => Role::Warning,
            Self::Note => Role::Note,
            Self::Settled => Role::Good,
        }
    }
}

/// The look of the screens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Theme {
    no_color: bool,
    light: Option<bool>,
    ascii: bool,
}

impl Theme {
    /// Makes a theme of the terminal's own sixteen colours on its own background.
    ///
    /// With `no_color` (the `NO_COLOR` convention, no-color.org) only bold, reverse, underline and
    /// dim are used. `light` says whether the background is light; unknown keeps to colours that
    /// are read on both.
    pub const fn new(no_color: bool, light: Option<bool>) -> Self {
        Self {
            no_color,
            light,
            ascii: false,
        }
    }

    /// Returns the theme with marks and drawings in plain ASCII, or not.
    #[must_use]
    pub const fn ascii(mut self, ascii: bool) -> Self {
        self.ascii = ascii;
        self
    }

    /// Whether marks and drawings keep to plain ASCII.
    pub const fn is_ascii(self) -> bool {
        self.ascii
    }

    /// Returns the style of a role.
    pub fn style(self, role: Role) -> Style {
        let (modifier, color) = self.look(role);
        let style = Style::new().add_modifier(modifier);
        if self.no_color {
            style
        } else {
            style.bg(Color::Reset).fg(color)
        }
    }

    fn look(self, role: Role) -> (Modifier, Color) {
        // Yellow vanishes on white, blue on black: the pair changes places with the background.
        let amber = match self.light {
            Some(false) => Color::Yellow,
            Some(true) | None => Color::Magenta,
        };
        let calm = match self.light {
            Some(true) => Color::Blue,
            Some(false) | None => Color::Cyan,
        };
        match role {
            Role::Title => (Modifier::BOLD, Color::Reset),
            Role::Label | Role::Value => (Modifier::empty(), Color::Reset),
            Role::Focus => (Modifier::REVERSED, Color::Reset),
            // Dim keeps its contrast on every palette, which bright black does not.
            Role::Muted => (Modifier::DIM, Color::Reset),
            Role::Stop => (Modifier::BOLD.union(Modifier::REVERSED), Color::Red),
            Role::Warning => (Modifier::BOLD, amber),
            Role::Note => (Modifier::empty(), calm),
            Role::Good => (Modifier::empty(), Color::Green),
            Role::Key => (Modifier::BOLD.union(Modifier::UNDERLINED), Color::Reset),
        }
    }

    /// Returns glyph and word of a mark.
    pub const fn mark(self, mark: Mark) -> &'static str {
        match (mark, self.ascii) {
            (Mark::Stop, false) => "■ STOP",
            (Mark::Stop, true) => "# STOP",
            (Mark::Warning, false) => "▲ WARNING",
            (Mark::Warning, true) => "! WARNING",
            (Mark::Note, false) => "· note",
            (Mark::Note, true) => ". note",
            (Mark::Settled, false) => "✓ settled",
            (Mark::Settled, true) => "+ settled",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROLES: [Role; 10] = [
        Role::Title,
        Role::Label,
        Role::Value,
        Role::Focus,
        Role::Muted,
        Role::Stop,
        Role::Warning,
        Role::Note,
        Role::Good,
        Role::Key,
    ];

    #[test]
    fn without_colour_no_role_sets_one() {
        for role in ROLES {
            let style = Theme::new(true, None).style(role);
            assert_eq!((style.fg, style.bg), (None, None), "{role:?}");
        }
    }

    #[test]
    fn the_background_is_the_terminals_own() {
        for light in [None, Some(true), Some(false)] {
            for role in ROLES {
                assert_eq!(Theme::new(false, light).style(role).bg, Some(Color::Reset));
            }
        }
    }

    #[test]
    fn ascii_marks_are_ascii_and_keep_their_word() {
        for mark in [Mark::Stop, Mark::Warning, Mark::Note, Mark::Settled] {
            let (plain, drawn) = (
                Theme::new(true, None).ascii(true).mark(mark),
                Theme::new(true, None).mark(mark),
            );
            assert!(plain.is_ascii());
            assert_eq!(
                plain.split_once(' ').unwrap().1,
                drawn.split_once(' ').unwrap().1
            );
        }
    }
}
