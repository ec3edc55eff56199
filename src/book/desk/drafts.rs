//! Unfinished entries, kept so that no entry is lost when a terminal closes.

use super::error::DeskError;
use super::open::Desk;
use super::session::signed;

impl Desk {
    /// Keeps the unfinished text of a field.
    pub fn save_draft(&mut self, number: &str, field: &str, text: &str) -> Result<(), DeskError> {
        self.draft(number, field, Some(text))
    }

    /// Removes the unfinished text of a field.
    pub fn clear_draft(&mut self, number: &str, field: &str) -> Result<(), DeskError> {
        self.draft(number, field, None)
    }

    fn draft(&mut self, number: &str, field: &str, text: Option<&str>) -> Result<(), DeskError> {
        let write = self.store.write()?;
        signed(self.session.as_deref(), &write, self.session.as_deref())?;
        write.draft(number, field, text)?;
        Ok(write.commit()?)
    }

    /// Returns the unfinished texts of a job: path of the field and text.
    pub fn drafts(&self, number: &str) -> Result<Vec<(String, String)>, DeskError> {
        Ok(self.store.drafts(self.store.id_of(number)?)?)
    }
}
