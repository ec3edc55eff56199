//! stand-in until merged
pub fn tolerance_table(_:&crate::tolerance::Report,_:u16,_:&super::theme::Theme)->Vec<ratatui::text::Line<'static>>{vec![]}
