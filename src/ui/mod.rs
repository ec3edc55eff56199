//! What is drawn on the screens, from values it is given: looks, bars and pictures.

pub mod margin;
pub mod picture;
pub mod theme;
