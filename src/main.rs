//! The `rimbook` program.

use std::process::ExitCode;

fn main() -> ExitCode {
    rimbook::run()
}
