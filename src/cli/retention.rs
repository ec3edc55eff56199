//! `retention`: the wearers whose records are due for review, the rule, and what was erased.

use chrono::NaiveDate;
use clap::Args;
use serde_json::json;

use super::book_place::BookPlace;
use super::erase::NOT_SWEPT;
use super::output::{Outcome, Output};
use crate::book::desk::{Desk, DeskError};
use crate::job::retention::Retention as Rule;

#[derive(Debug, Args)]
pub(crate) struct Retention {
    /// What is due on that day (2026-12-03) [default: today]
    #[arg(long, value_name = "DATE")]
    on: Option<NaiveDate>,
    /// What was erased instead: when, by whom, which number, why
    #[arg(long, conflicts_with_all = ["on", "adult_years", "child_until_age"])]
    erased: bool,
    /// Set the rule: years after last seen
    #[arg(long, value_name = "YEARS", requires = "by")]
    adult_years: Option<u16>,
    /// Set the rule: whoever was last seen under 18, at least until this birthday
    #[arg(long, value_name = "AGE", requires = "by")]
    child_until_age: Option<u16>,
    /// Who sets the rule
    #[arg(long = "as", value_name = "STAFF")]
    by: Option<String>,
}

/// Lists records due for review, or sets the rule.
pub(crate) fn retention(
    place: &BookPlace,
    out: &mut Output,
    what: &Retention,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open()?;
    if what.erased {
        return erasures(&desk, out);
    }
    if desk.sweep_is_due()? {
        Output::aside(NOT_SWEPT);
    }
    let mut rule = desk.retention()?;
    if what.adult_years.is_some() || what.child_until_age.is_some() {
        rule = Rule {
            adult_years: what.adult_years.unwrap_or(rule.adult_years),
            child_until_age: what.child_until_age.unwrap_or(rule.child_until_age),
        };
        let by = what.by.as_deref().unwrap_or_default();
        place.sign_in(&mut desk, by)?;
        desk.set_retention(rule, by)?;
    }
    let on = what.on.unwrap_or(desk.today());
    let due = desk.due_for_review(on)?;
    if out.json {
        out.value(&json!({"rule": rule, "on": on, "due": due}));
        return Ok(Outcome::Done);
    }
    for review in &due {
        let born = review
            .born
            .map_or_else(String::new, |b| format!(", born {b}"));
        let seen = if review.seen_by_entry {
            "last entry"
        } else {
            "last seen"
        };
        out.line(&format!(
            "{}  {}{born}, {seen} {}, due since {}: {}",
            review.numbers.join(" "),
            review.wearer,
            review.last_seen,
            review.due_on,
            review.why
        ));
    }
    Output::aside(&format!(
        "{} due for review on {on} ({} years after last seen, children until age {}). Nothing is erased by itself; \
         confirm the rule against the guidance and law in force where the practice works.",
        due.len(),
        rule.adult_years,
        rule.child_until_age
    ));
    Ok(Outcome::Done)
}

/// Lists the erasures: number of the job, person, day and reason.
fn erasures(desk: &Desk, out: &mut Output) -> Result<Outcome, DeskError> {
    let events = desk.erasures()?;
    if out.json {
        out.value(&events);
        return Ok(Outcome::Done);
    }
    for event in &events {
        out.line(&format!(
            "{}  job {}, by {}: {}",
            event.at,
            event.detail["number"].as_str().unwrap_or("without number"),
            event.by.as_deref().unwrap_or("nobody"),
            event.detail["reason"].as_str().unwrap_or_default()
        ));
    }
    Ok(Outcome::Done)
}
