//! The `rimbook` program.
fn main() {}
