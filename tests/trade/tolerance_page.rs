//! The printed tables are the tables the program uses.

use rimbook::testing::trade::tolerance::markdown;

const BEGIN: &str = "<!-- tables: written by tolerance::markdown() -->\n";
const END: &str = "<!-- end of the tables -->\n";
const PAGE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/tolerances.md");

fn parts(page: &str) -> (&str, &str, &str) {
    let (before, rest) = page
        .split_once(BEGIN)
        .expect("the page marks where its tables begin");
    let (tables, after) = rest
        .split_once(END)
        .expect("the page marks where its tables end");
    (before, tables, after)
}

#[test]
fn the_page_carries_the_tables_of_the_code() {
    let page = std::fs::read_to_string(PAGE).unwrap();
    assert_eq!(
        parts(&page).1,
        markdown(),
        "write it again: cargo test --test trade tolerance_page:: -- --ignored"
    );
}

#[test]
#[ignore = "writes docs/tolerances.md again after a change of the tables"]
fn write_the_page_again() {
    let page = std::fs::read_to_string(PAGE).unwrap();
    let (before, _, after) = parts(&page);
    std::fs::write(PAGE, format!("{before}{BEGIN}{}{END}{after}", markdown())).unwrap();
}
