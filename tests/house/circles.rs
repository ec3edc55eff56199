//! No circle of files in `src`: what uses what runs one way.

use crate::import_graph::Graph;

fn graph(files: &[(&str, &str)]) -> Graph {
    let sources = files
        .iter()
        .map(|(f, t)| ((*f).to_owned(), (*t).to_owned()));
    Graph::of(sources)
}

#[test]
fn a_circle_is_found_through_re_exports_parents_and_paths_in_the_code() {
    let found = graph(&[
        ("lib.rs", "mod a; mod b; mod c;"),
        (
            "a/mod.rs",
            "mod inner; mod other; pub use inner::Thing; pub(crate) use other::help;",
        ),
        ("a/inner.rs", "use super::help; pub struct Thing;"),
        (
            "a/other.rs",
            "pub(crate) fn help() { let _ = \"crate::c::Third\"; crate::b::go(); }",
        ),
        ("b.rs", "use crate::a::{Thing as It}; pub fn go() {}"),
        (
            "c.rs",
            "use crate::b; #[cfg(test)] mod tests { use crate::a::Thing; } pub struct Third;",
        ),
    ]);
    assert_eq!(
        found.circles(),
        [["a/inner.rs", "a/other.rs", "b.rs"]],
        "{:#?}",
        found.uses
    );
}

#[test]
fn a_parent_that_defines_what_its_child_uses_and_uses_the_child_is_a_circle() {
    let found = graph(&[
        ("lib.rs", "pub mod a;"),
        (
            "a/mod.rs",
            "mod child;\npub struct Shared;\npub fn go() { child::go(); }",
        ),
        ("a/child.rs", "use super::Shared;\npub fn go() {}"),
    ]);
    assert_eq!(found.circles(), [["a/child.rs", "a/mod.rs"]]);
}

#[test]
fn a_parent_that_only_hands_names_on_is_in_no_circle() {
    let found = graph(&[
        ("lib.rs", "pub mod a;"),
        (
            "a/mod.rs",
            "mod child;\nmod shared;\npub use child::go;\npub use shared::Shared;",
        ),
        ("a/child.rs", "use super::Shared;\npub fn go() {}"),
        ("a/shared.rs", "pub struct Shared;"),
    ]);
    assert!(found.circles().is_empty(), "{:#?}", found.uses);
}
