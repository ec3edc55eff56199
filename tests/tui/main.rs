//! The terminal program, by its keys, on real books.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub,
    reason = "tests"
)]

#[path = "../support/driver.rs"]
mod driver;
#[path = "../support/faults.rs"]
mod faults;
#[path = "../support/figures_book.rs"]
mod figures_book;
#[path = "../support/long.rs"]
mod long;
#[path = "../support/pty.rs"]
mod pty;

mod answers;
mod choosing;
mod collecting;
mod collecting_book;
mod collecting_cursor;
mod collecting_ways;
mod confirming;
mod contacts;
mod docs_screens;
mod faults_terminal;
mod figures_screen;
mod fuzz_screens;
mod guide;
mod heights_by_keys;
mod help;
mod hints;
mod leaving;
mod locking;
mod named_keys;
mod narrow;
mod onward;
mod parcel;
mod parcel_asks;
mod parcel_book;
mod parcel_hidden;
mod parcel_repeats;
mod reducer;
mod remake_price;
mod remedies;
mod repairs;
mod repairs_held;
mod scanning;
mod scanning_terminal;
mod screens;
mod screens_say;
mod screens_say_table;
mod shorthand;
mod tasks;
mod terminal;
mod tour;
mod two_desks;
mod visit;
mod visit_end;
mod workbench;
