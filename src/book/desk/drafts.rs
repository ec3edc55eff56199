//! Unfinished entries, kept so that no entry is lost when a terminal closes.

use super::error::DeskError;
use super::open::Desk;
use super::session::signed;

/// A text that was typed into a field and not kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// Path of the field.
    pub field: String,
    /// The text.
    pub text: String,
    /// Who typed it, where that is known.
    pub by: Option<String>,
}

impl Desk {
    /// Keeps the unfinished text that somebody types into a field: of whoever is signed in, else of `by`.
    pub fn save_draft(
        &mut self,
        number: &str,
        field: &str,
        text: &str,
        by: Option<&str>,
    ) -> Result<(), DeskError> {
        self.draft(number, field, Some(text), by)
    }

    /// Removes the unfinished text of somebody from a field.
    pub fn clear_draft(
        &mut self,
        number: &str,
        field: &str,
        by: Option<&str>,
    ) -> Result<(), DeskError> {
        self.draft(number, field, None, by)
    }

    fn draft(
        &mut self,
        number: &str,
        field: &str,
        text: Option<&str>,
        by: Option<&str>,
    ) -> Result<(), DeskError> {
        let write = self.store.write()?;
        let session = self.session.as_deref();
        signed(session, &write, session)?;
        write.draft(number, field, session.or(by).unwrap_or_default(), text)?;
        Ok(write.commit()?)
    }

    /// Returns the unfinished texts of a job that may be offered: where people sign in, those of whoever
    /// is signed in and of nobody known; else all, each with who typed it.
    pub fn drafts(&self, number: &str) -> Result<Vec<Draft>, DeskError> {
        let mut drafts = self.every_draft(number)?;
        if self.security()?.sign_in {
            drafts.retain(|d| d.by.is_none() || d.by.as_deref() == self.session.as_deref());
        }
        Ok(drafts)
    }

    /// Returns the unfinished texts of a job, whoever typed them.
    pub(crate) fn every_draft(&self, number: &str) -> Result<Vec<Draft>, DeskError> {
        let drafts = self.store.drafts(self.store.id_of(number)?)?;
        let draft = |(field, text, by): (String, String, String)| Draft {
            field,
            text,
            by: Some(by).filter(|by| !by.is_empty()),
        };
        Ok(drafts.into_iter().map(draft).collect())
    }
}
