//! The text of `rimbook --version`: version, build, and version of the SQLite library.

use std::fmt::Write as _;
use std::sync::LazyLock;

/// The text, made once.
static LONG: LazyLock<String> = LazyLock::new(|| {
    let mut text = env!("CARGO_PKG_VERSION").to_owned();
    let commit = match env!("RIMBOOK_COMMIT") {
        "" => "not recorded",
        commit => commit,
    };
    let features = if cfg!(feature = "encrypted") {
        "encrypted"
    } else {
        "none"
    };
    let library = if cfg!(feature = "encrypted") {
        "SQLite (in SQLCipher)"
    } else {
        "SQLite"
    };
    // A String takes every write.
    let _ = write!(
        text,
        "\nbuild: {}\ncommit: {commit}\nfeatures: {features}\n{library}: {}",
        env!("RIMBOOK_PROFILE"),
        crate::book::desk::library_version()
    );
    text
});

/// Returns the text, in lines.
pub(super) fn long() -> &'static str {
    &LONG
}
