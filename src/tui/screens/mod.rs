//! The screens: each in a folder of its own, with what it remembers, what an input or news makes of
//! that, the keys it names, and its drawing. No screen knows another, nor the program around it.

pub(crate) mod behaviour;
pub(crate) mod card_draw;
pub(crate) mod choices;
pub(crate) mod collections;
pub(crate) mod draw;
pub(crate) mod figures;
pub(crate) mod form;
pub(crate) mod gate;
pub(crate) mod job_lines_draw;
pub(crate) mod lookup;
pub(crate) mod parcel;
pub(crate) mod pictures;
pub(crate) mod read_aloud;
pub(crate) mod visit;
pub(crate) mod workbench;
pub(crate) mod worklist;
