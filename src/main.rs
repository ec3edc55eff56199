//! The `rimbook` program.
fn main() -> std::process::ExitCode {
    let Ok(clock) = rimbook::clock::Clock::from_environment() else {
        return std::process::ExitCode::from(2);
    };
    let db = std::env::var_os("RIMBOOK_DB").unwrap_or_else(|| "/tmp/none.db".into());
    rimbook::term::run(std::path::Path::new(&db), clock)
}
