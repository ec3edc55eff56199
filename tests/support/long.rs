//! How much of a long test a run does.
//!
//! A plain `cargo test` runs every test, the long ones with fewer cases. With `RIMBOOK_LONG_TESTS` set,
//! as `.ci/run` sets it, they run in full; `RIMBOOK_FAULT_ROUNDS` asks for any other number.
#![allow(dead_code, reason = "each binary uses its part")]

/// How often something is tried: `short` in a plain run, `full` in a long one.
pub fn rounds(short: u64, full: u64) -> u64 {
    let asked = std::env::var("RIMBOOK_FAULT_ROUNDS").ok();
    let usual = if is_long() { full } else { short };
    asked.and_then(|n| n.parse().ok()).unwrap_or(usual)
}

/// The same for a property: its number of cases.
pub fn cases(short: u32, full: u32) -> u32 {
    u32::try_from(rounds(short.into(), full.into())).unwrap()
}

/// Whether long tests run in full.
pub fn is_long() -> bool {
    std::env::var_os("RIMBOOK_LONG_TESTS").is_some()
}
