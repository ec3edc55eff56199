//! Figures of the practice's work: as text, JSON or CSV.

use chrono::{Datelike, NaiveDate};
use clap::{Args, ValueEnum};
use serde_json::json;

use super::book_place::BookPlace;
use super::output::{Outcome, Output, fail};
use crate::book::desk::{Desk, DeskError, ErrorKind};
use crate::exchange::csv_out::defused;
use crate::text::printable;
use crate::views::figures::page::Report;
use crate::views::figures::period::{Length, Period};
use crate::views::figures::table;

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    Text,
    Json,
    Csv,
}

#[derive(Debug, Args)]
pub(crate) struct Figures {
    /// The first day (2026-11-03)
    #[arg(long, value_name = "DATE", requires = "to")]
    from: Option<NaiveDate>,
    /// The last day, itself included
    #[arg(long, value_name = "DATE", requires = "from")]
    to: Option<NaiveDate>,
    /// A month (2026-11) [default: this month]
    #[arg(long, value_name = "MONTH", conflicts_with_all = ["from", "to"])]
    month: Option<String>,
    /// A quarter (2026-4)
    #[arg(long, value_name = "QUARTER", conflicts_with_all = ["from", "to", "month"])]
    quarter: Option<String>,
    /// A year (2026)
    #[arg(long, value_name = "YEAR", conflicts_with_all = ["from", "to", "month", "quarter"])]
    year: Option<i32>,
    /// Say what a remake costs the practice, in whole units of its money; 0 takes it back
    #[arg(long, value_name = "PRICE", requires = "by",
        conflicts_with_all = ["from", "to", "month", "quarter", "year", "form"])]
    remake_price: Option<u64>,
    /// Who says so
    #[arg(long, value_name = "STAFF")]
    by: Option<String>,
    /// text for a person, json or csv for a program
    #[arg(long = "as", value_enum, value_name = "FORM")]
    form: Option<Form>,
}

fn wrong(message: String) -> DeskError {
    fail(ErrorKind::Usage, message, &[])
}

/// Reads "2026-11" as the first day of month 11 in steps of `months`.
fn first_day(text: &str, months: u32) -> Option<NaiveDate> {
    let (year, which) = text.split_once('-')?;
    let which: u32 = which.parse().ok()?;
    let month = which.checked_sub(1)?.checked_mul(months)?.checked_add(1)?;
    NaiveDate::from_ymd_opt(year.parse().ok()?, month, 1)
}

impl Figures {
    fn period(&self, today: NaiveDate) -> Result<Period, DeskError> {
        let around = |day: Option<NaiveDate>, length, message: String| {
            day.filter(|d| (1900..=2200).contains(&d.year()))
                .map(|d| Period::around(d, length))
                .ok_or_else(|| wrong(message))
        };
        if let (Some(from), Some(to)) = (self.from, self.to) {
            return Period::days(from, to)
                .ok_or_else(|| wrong(format!("{to} is before {from}: the first day comes first")));
        }
        if let Some(month) = &self.month {
            let message = format!("{month:?} is no month: write it as 2026-11");
            return around(first_day(month, 1), Length::Month, message);
        }
        if let Some(quarter) = &self.quarter {
            let message = format!("{quarter:?} is no quarter: write the fourth of 2026 as 2026-4");
            return around(first_day(quarter, 3), Length::Quarter, message);
        }
        if let Some(year) = self.year {
            let message = format!("{year} is no year of the book: write it as 2026");
            let day = NaiveDate::from_ymd_opt(year, 1, 1);
            return around(day, Length::Year, message);
        }
        Ok(Period::around(today, Length::Month))
    }
}

/// Prints the figures of a period.
pub(crate) fn figures(
    place: &BookPlace,
    out: &mut Output,
    what: &Figures,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open()?;
    if let Some(price) = what.remake_price {
        let by = what.by.as_deref().unwrap_or_default();
        place.sign_in(&mut desk, by)?;
        desk.set_remake_price((price > 0).then_some(price), by)?;
        return price_said(&desk, out);
    }
    let report = desk.figures(what.period(desk.today())?)?;
    match what.form {
        Some(Form::Csv) => out.csv(&csv(&report)?),
        Some(Form::Json) => out.value(&report),
        None if out.json => out.value(&report),
        Some(Form::Text) | None => {
            for line in table::text(&report) {
                out.line(&line);
            }
        }
    }
    Ok(Outcome::Done)
}

fn price_said(desk: &Desk, out: &mut Output) -> Result<Outcome, DeskError> {
    let price = desk.remake_price()?;
    if out.json {
        out.value(&json!({"remake_price": price}));
    } else {
        out.line(&price.map_or_else(
            || "no price of a remake: no cost is estimated".to_owned(),
            |p| format!("a remake costs {p}: figures of rechecks estimate from it"),
        ));
    }
    Ok(Outcome::Done)
}

/// Returns a cell as it is written: a number as it is, a text so that no spreadsheet takes it for a
/// formula.
fn as_cell(cell: &str) -> String {
    if cell.parse::<f64>().is_ok() {
        cell.to_owned()
    } else {
        defused(cell)
    }
}

/// Returns the figures as CSV by RFC 4180: a row of names, then one row for each figure.
fn csv(report: &Report) -> Result<String, DeskError> {
    let broken = || {
        fail(
            ErrorKind::File,
            "the figures could not be written as CSV",
            &[],
        )
    };
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    writer.write_record(table::COLUMNS).map_err(|_| broken())?;
    for row in table::rows(report) {
        writer
            .write_record(row.iter().map(|cell| as_cell(&printable(cell))))
            .map_err(|_| broken())?;
    }
    let bytes = writer.into_inner().map_err(|_| broken())?;
    String::from_utf8(bytes).map_err(|_| broken())
}
