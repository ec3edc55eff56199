//! The fitting card: what a dispensing optician wants to see of a pair at one glance.
//!
//! Two arrangements of the same lines of plain text: narrow (40 columns, at most 16 lines) and wide
//! (78 columns, at most 8 lines). Right comes before left, units are shown, a value that is
//! missing is a dash. A measurement is followed by how far it may be out ("±1.0"), and
//! the tightest by the words "measure twice", in a short line "read twice" or "read 2x" and no other
//! budget. Nothing here depends on a terminal.

mod aloud;
mod budgets;
mod card_data;
mod card_line;
mod changed_by_repairs;
mod lines;
mod made_again;
mod second_card;
mod value_text;
mod whole_record;

pub use aloud::read_aloud;
pub use card_data::CardData;
pub use card_line::CardLine;
pub(crate) use card_line::Emphasis;
pub(crate) use lines::arranged;
pub use lines::fitting_card;
pub use made_again::made_again;
pub(crate) use made_again::made_again_line;
pub use second_card::second_card;
pub use whole_record::whole_record;
