//! The fitting card.
