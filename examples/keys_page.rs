//! Prints the table of default keys, for `docs/keys.md`.

use std::io::Write;

fn main() -> std::io::Result<()> {
    let head = "# Keys\n\nPrinted from the table of actions (`cargo run --example keys_page > docs/keys.md`).\n\n";
    std::io::stdout().write_all(head.as_bytes())?;
    std::io::stdout().write_all(rimbook::app::action::markdown().as_bytes())
}
