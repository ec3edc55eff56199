//! The `rimbook` program.
fn main() -> std::process::ExitCode {
    let clock = rimbook::clock::Clock { fixed: None };
    let db = std::env::var_os("RIMBOOK_DB").unwrap_or_else(|| "/tmp/none.db".into());
    rimbook::term::run(std::path::Path::new(&db), clock)
}
