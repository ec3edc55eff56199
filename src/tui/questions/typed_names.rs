//! Names that somebody else typed than their owner: signed at the finding, or from a list.

use crate::book::desk::WaitingName;
use crate::judge::gate::{CheckId, Finding};
use crate::tui::effect::{Deed, Effect};
use crate::tui::next::{Next, Question};
use crate::tui::seen::Seen;

/// Whether a finding is about a name that its owner can confirm.
pub(crate) fn waits_for_owner(finding: &Finding, seen: Seen<'_>) -> bool {
    finding.check == CheckId::Unsigned && owner(finding, seen).is_some()
}

/// The owner of the name that a finding is about, as the staff list writes it.
fn owner<'a>(finding: &Finding, seen: Seen<'a>) -> Option<&'a str> {
    let name = finding.values.get("name")?.as_str()?;
    seen.staff.find(name).map(|member| member.name.as_str())
}

/// Signs the name that a finding is about: at once where its owner is signed in, else by the PIN.
pub(crate) fn confirm(number: &str, finding: Option<&Finding>, seen: Seen<'_>) -> Next {
    let Some(finding) = finding.filter(|f| waits_for_owner(f, seen)) else {
        return Next::complain("Nothing here waits for the confirmation of a name.");
    };
    let Some(owner) = owner(finding, seen) else {
        return Next::Stay;
    };
    let (number, path) = (number.to_owned(), finding.field.clone());
    if seen.person == Some(owner) {
        let paths = vec![path];
        return Next::Act(Deed::Confirm { number, paths });
    }
    let title = format!(
        "{} PIN or passphrase of {owner}:",
        first_sentence(&finding.message)
    );
    let owner = owner.to_owned();
    Next::Ask(Question::secret(title, move |secret| {
        Next::Do(vec![Effect::ConfirmBySecret {
            number,
            path,
            owner,
            secret,
        }])
    }))
}

fn first_sentence(message: &str) -> String {
    let (first, _) = message.split_once(". ").unwrap_or((message, ""));
    format!("{}.", first.trim_end_matches('.'))
}

/// Lists the names that wait for whoever is signed in: one is looked at or signed, or all are signed.
pub(crate) fn ask(seen: Seen<'_>) -> Next {
    let waiting = seen.typed_names;
    if waiting.is_empty() {
        return Next::say("No name of yours waits for your confirmation.");
    }
    let mut offered: Vec<(String, Next)> = waiting.iter().map(|w| (label(w), look(w))).collect();
    if waiting.len() > 1 {
        let all = format!("confirm all {} of them", waiting.len());
        offered.push((all, confirm_all(waiting)));
    }
    Next::Ask(Question::choose(
        "Entered or changed in your name by others. Your confirmation signs it.",
        offered,
    ))
}

fn label(w: &WaitingName) -> String {
    format!(
        "{} {}: {}, typed by {}",
        w.number, w.wearer, w.label, w.typed_by
    )
}

/// Offers to see what one name is answerable for before it is signed.
fn look(w: &WaitingName) -> Next {
    let title = format!("{}. Do you confirm it?", label(w));
    let open = Effect::Open(w.number.clone());
    let paths = vec![w.path.clone()];
    Next::Ask(Question::choose(
        title,
        vec![
            ("open the job first".to_owned(), Next::Do(vec![open])),
            ("confirm it".to_owned(), signed(w.number.clone(), paths)),
        ],
    ))
}

fn signed(number: String, paths: Vec<String>) -> Next {
    Next::Act(Deed::Confirm { number, paths }).and(Next::Do(vec![Effect::Reload]))
}

/// Signs every name of the list, job by job.
fn confirm_all(waiting: &[WaitingName]) -> Next {
    let mut jobs: Vec<(String, Vec<String>)> = Vec::new();
    for w in waiting {
        match jobs.iter_mut().find(|(number, _)| *number == w.number) {
            Some((_, paths)) => paths.push(w.path.clone()),
            None => jobs.push((w.number.clone(), vec![w.path.clone()])),
        }
    }
    let deeds = jobs
        .into_iter()
        .map(|(number, paths)| Effect::Act(Deed::Confirm { number, paths }));
    Next::Do(deeds.chain([Effect::Reload]).collect())
}
