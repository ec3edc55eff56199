//! Whom a question about a job is put to.

use super::words::words;

words! {
    /// Whom a question about a job is put to.
    #[derive(Default)]
    QuestionTo {
        /// Who prescribed.
        #[default]
        Prescriber = "prescriber",
        /// Who makes the pair.
        Laboratory = "laboratory",
    }
}
