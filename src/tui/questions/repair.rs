//! A repair or adjustment of a collected pair: what was done, and the few values that changed.

use crate::book::desk::OpenJob;
use crate::job::fields::{Field, repair_fields, repair_label, set_repair_value, show_read};
use crate::job::{Job, Repair, RepairKind, Stage, TakenAs, handover_now, value_now};
use crate::judge::gate::{CheckId, Finding};
use crate::tui::effect::Deed;
use crate::tui::line::Line;
use crate::tui::next::{Next, Question};
use crate::tui::question::needed;
use crate::views::WorkedLine;

/// A repair that is not kept yet.
#[derive(Debug, Clone, PartialEq)]
struct Mending {
    open: OpenJob,
    /// What was done until now.
    repair: Repair,
}

/// Asks what was done to a pair.
pub(crate) fn ask(open: &OpenJob) -> Next {
    let stage = open.job.stage();
    if stage != Stage::Collected {
        return Next::complain(format!(
            "The job is {stage}: only a collected pair is repaired; before that its own sections are changed."
        ));
    }
    let begun = |kind| Mending {
        open: open.clone(),
        repair: Repair {
            kind: Some(kind),
            ..Repair::default()
        },
    };
    let offered = (RepairKind::ALL.iter())
        .map(|k| (k.word().to_owned(), show(begun(*k), RepairRow::Kept)))
        .collect();
    let title = format!("Job {}: what was done to the pair today?", open.number);
    Next::Ask(Question::choose(title, offered))
}

/// Returns what a value was until now and what the repair says of it.
fn row(mending: &Mending, field: &Field) -> String {
    let stood = value_now(&mending.open.job, field)
        .map_or_else(|| "not recorded".to_owned(), |v| show_read(field, &v));
    let label = repair_label(field);
    match field.read_repair(&mending.repair) {
        None => format!("{label}: {stood}"),
        Some(value) => format!("{label}: {stood} → {}", show_read(field, &value)),
    }
}

/// A row of the list of a repair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum RepairRow {
    /// Keeps the repair.
    Kept,
    /// What was done, in words.
    Words,
    /// A value, by its path in the list of values that a repair can change.
    Value(&'static str),
}

/// Shows what the repair says, with the cursor on a row.
fn show(mending: Mending, at: RepairRow) -> Next {
    Next::then(move |_| list(&mending, at))
}

fn list(mending: &Mending, at: RepairRow) -> Next {
    let kind = mending.repair.kind.map_or("", RepairKind::word);
    let note = mending.repair.note.as_deref().unwrap_or("-");
    let mut rows = vec![
        (format!("keep it: {kind}"), RepairRow::Kept),
        (format!("in words: {note}"), RepairRow::Words),
    ];
    rows.extend(repair_fields().map(|field| (row(mending, field), RepairRow::Value(field.path))));
    let selected = rows.iter().position(|(_, p)| *p == at).unwrap_or(0);
    let offered = (rows.into_iter())
        .map(|(label, part)| (label, enter(mending.clone(), part)))
        .collect();
    Next::Ask(
        Question::choose_from(
            "Change what stands differently now, then keep it. Esc leaves it.",
            offered,
            selected,
        )
        .or_else(unfinished(mending)),
    )
}

/// Keeps the repair, or asks for a value of it or its words.
fn enter(mending: Mending, part: RepairRow) -> Next {
    let (title, text) = match part {
        RepairRow::Kept => return keep(mending),
        RepairRow::Words => (
            "What was done, in words:".to_owned(),
            mending.repair.note.clone().unwrap_or_default(),
        ),
        RepairRow::Value(path) => {
            let Some(field) = repair_fields().find(|field| field.path == path) else {
                return Next::Stay;
            };
            let unit = match field.unit {
                "" => String::new(),
                unit => format!(", {unit}"),
            };
            let title = format!(
                "{} now{unit}; empty where it did not change:",
                repair_label(field)
            );
            (title, String::new())
        }
    };
    let unchanged = show(mending.clone(), part);
    let question = Question::text_seen(title, Line::of(&text), move |text, seen| {
        let mut mending = mending.clone();
        match part {
            RepairRow::Kept => {}
            RepairRow::Words => {
                let words = crate::job::fields::clean(text);
                mending.repair.note = (!words.is_empty()).then_some(words);
            }
            RepairRow::Value(path) => {
                mending.repair = set_repair_value(&mending.repair, path, text, seen.today)
                    .map_err(|e| e.to_string())?;
            }
        }
        Ok(show(mending, part))
    });
    Next::Ask(question.or_else(unchanged))
}

fn keep(mending: Mending) -> Next {
    Next::Act(Deed::Repair {
        number: mending.open.number,
        repair: Box::new(mending.repair),
    })
}

/// Asks what becomes of a repair that a check holds: it is set right, supervised, or kept as it is
/// by somebody registered who says why.
pub(crate) fn held(open: OpenJob, repair: Repair, findings: &[Finding]) -> Next {
    let mending = Mending { open, repair };
    let open: Vec<&Finding> = findings.iter().filter(|f| f.is_open()).collect();
    let says: Vec<&str> = open.iter().map(|f| f.message.as_str()).collect();
    let title = format!("Not kept: {}", says.join(" "));
    let is_restricted = open.iter().any(|f| f.check == CheckId::RestrictedHandover);
    Next::then(move |seen| {
        let mut offered = vec![(
            "change a value".to_owned(),
            show(mending.clone(), RepairRow::Kept),
        )];
        let rule = seen.practice.registration;
        if is_restricted {
            offered.push((
                "somebody registered supervised".to_owned(),
                ask_supervisor(mending.clone()),
            ));
        }
        let may_keep = seen
            .person
            .is_some_and(|name| seen.staff.is_registrant(name, rule));
        if may_keep {
            offered.push((
                "keep it as it is, and say why".to_owned(),
                ask_why(&mending),
            ));
        }
        offered.push((
            "drop it, with what was changed".to_owned(),
            Next::say("The repair was dropped; nothing of it is kept."),
        ));
        let mut question = Question::choose(title, offered).or_else(unfinished(&mending));
        if !may_keep {
            question = question.with_note("as it is, only somebody registered keeps it".to_owned());
        }
        Next::Ask(question)
    })
}

/// Asks who supervised, of the registered people of the practice.
fn ask_supervisor(mending: Mending) -> Next {
    Next::then(move |seen| {
        let rule = seen.practice.registration;
        let offered: Vec<_> = (seen.staff.0.iter())
            .filter(|m| m.is_registrant(rule))
            .map(|m| {
                let mut mending = mending.clone();
                mending.repair.supervised_by = Some(m.name.clone());
                (format!("{}, {}", m.name, m.role.word()), keep(mending))
            })
            .collect();
        if offered.is_empty() {
            return Next::complain("Nobody on the staff list is registered.");
        }
        let question = Question::choose("Who supervised, on the premises?", offered);
        Next::Ask(question.or_else(unfinished(&mending)))
    })
}

/// Asks why a repair is kept although a check holds it.
fn ask_why(mending: &Mending) -> Next {
    let of = mending.clone();
    let title = "Why is it kept as it is? History shows the reason with your name:";
    let question = Question::text(title, Line::default(), move |text| {
        let mut mending = of.clone();
        mending.repair.reason = Some(needed(text, "why it is kept as it is")?);
        Ok(keep(mending))
    });
    Next::Ask(question.or_else(unfinished(mending)))
}

/// Asks what becomes of a repair that was left before it was kept: what was changed is not dropped
/// without a question.
fn unfinished(mending: &Mending) -> Next {
    let untouched = Repair {
        kind: mending.repair.kind,
        ..Repair::default()
    };
    if mending.repair == untouched {
        return Next::Stay;
    }
    let kind = mending.repair.kind.map_or("", RepairKind::word);
    let go_on = || show(mending.clone(), RepairRow::Kept);
    let question = Question::choose(
        "This repair is not kept yet. What becomes of it?",
        vec![
            ("go on with it".to_owned(), go_on()),
            (format!("keep it: {kind}"), keep(mending.clone())),
            (
                "drop it, with what was changed".to_owned(),
                Next::say("The repair was dropped; nothing of it is kept."),
            ),
        ],
    );
    Next::Ask(question.or_else(go_on()))
}

/// Returns the values that stand differently since the handover, beside the fields they replace.
pub(crate) fn lines(job: &Job) -> Vec<WorkedLine> {
    handover_now(job)
        .into_iter()
        .filter(|(_, s)| s.taken_as == TakenAs::Adjusted)
        .filter_map(|(path, s)| {
            let field = repair_fields().find(|field| field.path == path)?;
            let since = s.on.map_or_else(String::new, |on| format!(" since {on}"));
            Some(WorkedLine {
                field: field.full_path(),
                label: "now".to_owned(),
                text: format!("{}{since}", show_read(field, &s.value)),
            })
        })
        .collect()
}
