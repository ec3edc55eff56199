//! The screens: each in a folder of its own, with what it remembers, what an input or news makes of
//! that, the keys it names, and its drawing. No screen knows another, nor the program around it.

pub mod behaviour;
pub(crate) mod card_draw;
pub mod choices;
pub mod draw;
pub mod figures;
pub mod form;
pub mod gate;
pub(crate) mod job_lines_draw;
pub mod lookup;
pub mod pictures;
pub mod read_aloud;
pub mod visit;
pub mod workbench;
pub mod worklist;
