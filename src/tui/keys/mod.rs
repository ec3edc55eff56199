//! What a person can do on the screens, and by which keys: the table of actions, the keys and their
//! names, the key file, the help of a screen and the printed table of keys.

pub mod action;
pub mod help;
pub mod key;
pub mod keymap;
