//! `show`, `check` and `checks`: a job, its findings, and the catalogue of checks.

use serde_json::{Value, json};

use super::book_place::BookPlace;
use super::job_report::{say_findings, whole_job};
use super::output::{Outcome, Output, Series, fail};
use crate::book::desk::{Desk, DeskError, ErrorKind};
use crate::job::names::{label_of_name, legal_names};
use crate::job::{Gate, Job, NameKept};
use crate::judge::derive::remade::lacks;
use crate::judge::gate::Finding;
use crate::judge::gate::catalogue;
use crate::practice::Thresholds;
use crate::views::card::{CardData, made_again, read_aloud, whole_record};

/// Prints a job: its whole record, its open questions, and the findings before its next stage.
pub(crate) fn show(
    place: &BookPlace,
    out: &mut Output,
    number: &str,
    aloud: bool,
    by: Option<&str>,
) -> Result<Outcome, DeskError> {
    let desk = place.open_to_read(by, "shown", &[number])?;
    let open = desk.load(number)?;
    if aloud {
        let lines = read_aloud(&open.job, &open.number, desk.today());
        if out.json {
            out.value(&lines);
        } else {
            for line in &lines {
                out.line(line);
            }
        }
        return Ok(Outcome::Done);
    }
    if out.json {
        let mut job = whole_job(&desk, &open)?;
        let lacks: Vec<&str> = lacks(&open.job).iter().map(|f| f.full()).collect();
        job.insert("lacks".to_owned(), json!(lacks));
        out.value(&job);
        return Ok(Outcome::Done);
    }
    let practice = desk.practice()?;
    out.line(&format!("{}: {}", open.number, open.job.stage_words()));
    let data = CardData::of(&open.job, &practice);
    for line in whole_record(&open.job, &open.number, &open.acceptances, &data) {
        out.line(&line);
    }
    if let Some(lacks) = made_again(&open.job) {
        out.line(&lacks);
    }
    for line in names_that_count_less(&open.job) {
        out.line(&line);
    }
    for question in &open.questions {
        out.line(&format!(
            "question to the {}: {}",
            question.of, question.text
        ));
    }
    if let Some(gate) = open.job.stage().next_gate().filter(|_| !open.job.is_past()) {
        let mut findings = desk.findings(&open, gate)?;
        findings.retain(Finding::is_open);
        out.line(&format!("{} to settle before {gate}", findings.len()));
        say_findings(out, &findings);
    }
    Ok(Outcome::Done)
}

/// Says which names of a job nobody proved, in a line for each way; a signed name needs no word.
fn names_that_count_less(job: &Job) -> Vec<String> {
    let names = legal_names(job);
    let line = |said: &str, is_so: &dyn Fn(Option<&NameKept>) -> bool| {
        let so: Vec<String> = names
            .iter()
            .filter(|name| is_so(job.names.get(&name.path)))
            .map(|name| format!("{} {}", label_of_name(&name.path), name.name))
            .collect();
        (!so.is_empty()).then(|| format!("{said}: {}", so.join(" · ")))
    };
    [
        line("not signed in", &|kept| kept.is_none()),
        line("not confirmed", &|kept| {
            kept.is_some_and(|kept| kept.typed_by.is_some())
        }),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Prints the findings of a job, or of all open jobs.
pub(crate) fn check(
    place: &BookPlace,
    out: &mut Output,
    number: Option<&str>,
    to: Option<Gate>,
) -> Result<Outcome, DeskError> {
    let desk = place.open()?;
    let Some(number) = number else {
        return check_all(&desk, out);
    };
    let open = desk.load(number)?;
    let Some(gate) = to.or(open.job.stage().next_gate()) else {
        return Err(fail(
            ErrorKind::Refused,
            format!(
                "{number} is {}: no gate lies ahead of it",
                open.job.stage_words()
            ),
            &["name one with --to ordered, verified or collected"],
        ));
    };
    let findings = desk.findings(&open, gate)?;
    if out.json {
        out.value(&json!({"number": open.number, "to": gate, "findings": findings}));
    } else {
        say_check(out, &open.number, gate, &findings);
    }
    Ok(Outcome::Done)
}

fn say_check(out: &mut Output, number: &str, gate: Gate, findings: &[Finding]) {
    let open = findings.iter().filter(|f| f.is_open()).count();
    out.line(&format!("{number}: {open} to settle before {gate}"));
    say_findings(out, findings);
}

fn check_all(desk: &Desk, out: &mut Output) -> Result<Outcome, DeskError> {
    let mut series = Series::default();
    desk.judge_open(|judged| {
        let Some(gate) = judged.gate else {
            return Ok(());
        };
        let (number, findings) = (&judged.open.number, &judged.findings);
        if out.json {
            series.add(
                out,
                &json!({"number": number, "to": gate, "findings": findings}),
            );
        } else {
            say_check(out, number, gate, findings);
        }
        Ok(())
    })?;
    if out.json {
        series.end(out);
    }
    Ok(Outcome::Done)
}

/// Lists the checks with the thresholds of the book; with the defaults where there is no book yet.
pub(crate) fn checks(place: &BookPlace, out: &mut Output, markdown: bool) -> Result<(), DeskError> {
    let thresholds = if place.file()?.exists() {
        place.open()?.practice()?.thresholds
    } else {
        Thresholds::default()
    };
    let thresholds = &thresholds;
    if markdown {
        out.page(&catalogue::markdown(thresholds));
    } else if out.json {
        let list: Vec<Value> = catalogue::CHECKS
            .iter()
            .map(|c| {
                json!({
                    "id": c.id,
                    "gate": c.gate,
                    "severity": c.severity,
                    "accept": c.accept,
                    "holds_when": c.holds_when(thresholds),
                    "ways_out": c.ways_out,
                    "source": c.source(thresholds),
                })
            })
            .collect();
        out.value(&list);
    } else {
        for c in catalogue::CHECKS {
            out.line(&format!(
                "{}, to {}, {}: {}",
                c.id,
                c.gate,
                c.severity.word(),
                c.holds_when(thresholds)
            ));
        }
    }
    Ok(())
}
