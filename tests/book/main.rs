//! The file, and everything a person can do with it; and what happens when it is damaged or killed.

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
#[path = "../support/long.rs"]
mod long;
#[path = "../support/old_books.rs"]
mod old_books_of;
#[path = "../support/practice.rs"]
mod practice;

mod backup;
mod completeness;
mod data_protection;
mod demo;
mod demo_book;
mod desk;
mod doctor;
mod encrypted;
mod every_row;
mod faults_damage;
mod faults_disk;
mod faults_kill;
mod faults_power;
mod faults_processes;
mod head;
mod history;
mod kept_once;
mod many;
mod odd_places;
mod old_books;
mod questions;
mod recall;
mod restore;
mod scenarios;
mod store;
mod two_processes;
