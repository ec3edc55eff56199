//! The screens: each in a folder of its own, with what it remembers, what an input or news makes of
//! that, the keys it names, and its drawing. No screen knows another, nor the program around it.

pub mod behaviour;
pub mod draw;
pub mod figures;
pub mod gate;
pub mod lookup;
pub mod pictures;
pub mod read_aloud;
pub mod worklist;
