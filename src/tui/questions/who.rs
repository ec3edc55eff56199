//! Who is acting: asked when it is first needed, shown all the time.

use crate::job::{NumberRule, Role, StaffMember, StaffRoll};
use crate::tui::Screen;
use crate::tui::action::Action;
use crate::tui::effect::{Deed, Effect};
use crate::tui::line::Line;
use crate::tui::next::{Next, Question};
use crate::tui::seen::Seen;

/// What is said before anything else is done with a new book.
pub(crate) const CAUTION: &str = "rimbook supports a professional's judgement and replaces none. \
Confirm its tolerances and supply rules against the standard and the law in force where the \
practice works. Decisions stay with the registered professional.";

/// Asks who is acting; then does what waits for it.
pub(crate) fn ask(then: Option<Deed>, seen: Seen<'_>) -> Next {
    if seen.staff.0.is_empty() {
        return name_of_new(
            "Nobody is on the staff list yet. Your name, as history will show it:",
            then,
        );
    }
    let mut offered: Vec<(String, Next)> = (seen.staff.0.iter())
        .map(|m| {
            let label = format!("{}, {}", m.name, m.role.word());
            let lacks = m.lacks_number(seen.practice.registration) && !seen.security.sign_in;
            let next = if lacks {
                number_of(m.clone(), then.clone())
            } else {
                let (name, then) = (m.name.clone(), then.clone());
                Next::ActAs { name, then }
            };
            (label, next)
        })
        .collect();
    offered.push((
        "somebody new".to_owned(),
        name_of_new("Name, as history will show it:", then.clone()),
    ));
    let is_needed = then.is_some();
    let question = Question::choose("Who are you?", offered);
    Next::Ask(left(question, then.as_ref()).needed(is_needed))
}

/// Says who counts as not registered for want of a number, if anybody does.
pub(crate) fn unregistered(staff: &StaffRoll, rule: NumberRule) -> Option<String> {
    let lacking: Vec<&str> = (staff.0.iter())
        .filter(|m| m.lacks_number(rule))
        .map(|m| m.name.as_str())
        .collect();
    (!lacking.is_empty()).then(|| {
        format!(
            "Not registered until the registration number is on the staff list: {}.",
            lacking.join(", ")
        )
    })
}

/// Asks for the missing registration number of somebody who is going to act.
fn number_of(member: StaffMember, then: Option<Deed>) -> Next {
    let title = format!(
        "Registration number of {} (empty: go on, not registered):",
        member.name
    );
    let waits = then.clone();
    let question = Question::text_seen(title, Line::default(), move |text, seen| {
        if text.is_empty() {
            let (name, then) = (member.name.clone(), then.clone());
            return Ok(Next::ActAs { name, then });
        }
        let member = StaffMember {
            registration: Some(text.to_owned()),
            ..member.clone()
        };
        Ok(join(member, then.clone(), seen))
    });
    Next::Ask(left(question, waits.as_ref()).needed(waits.is_some()))
}

/// Offers what can be done without a book.
pub(crate) fn welcome(place: &str) -> Question {
    let offered = vec![
        (
            "begin a new book".to_owned(),
            name_of_new("The first registered person of the practice. Name:", None),
        ),
        ("look at an invented practice first".to_owned(), Next::Demo),
        ("leave".to_owned(), Next::Run(Action::QuitNow)),
    ];
    Question::choose("There is no book yet. What would you like to do?", offered)
        .with_note(format!("book: {place}"))
        .or_else(Next::Run(Action::QuitNow))
        .needed(true)
}

/// Says what is not done where a question is left for whose answer something waits.
fn left(question: Question, then: Option<&Deed>) -> Question {
    if then.is_none() {
        return question;
    }
    let why = "Nothing was recorded: first say who is acting.".to_owned();
    question.or_else(Next::Do(vec![Effect::NotKept(why)]))
}

/// Asks for the name of a new person.
fn name_of_new(title: &str, then: Option<Deed>) -> Next {
    let waits = then.clone();
    let question = Question::text_seen(title, Line::default(), move |text, seen| {
        if text.is_empty() {
            return Err("Write a name, or Esc to leave it.".to_owned());
        }
        if seen.staff.find(text).is_some() {
            return Err(format!("{text} is on the staff list already."));
        }
        // A new book begins with a registered person.
        let is_first = seen.screen == Screen::Welcome;
        let roles = (Role::ALL.iter().copied()).filter(|r| r.is_registered() || !is_first);
        let offered = roles
            .map(|r| (r.word().to_owned(), role_of_new(text, r, then.clone())))
            .collect();
        let question = Question::choose("Role:", offered).needed(true);
        Ok(Next::Ask(left(question, then.as_ref())))
    });
    Next::Ask(left(question, waits.as_ref()).needed(waits.is_some()))
}

/// Goes on with a new person of a role.
fn role_of_new(name: &str, role: Role, then: Option<Deed>) -> Next {
    let name = name.to_owned();
    let title = match role {
        Role::Assistant => {
            let member = StaffMember {
                name,
                role,
                registration: None,
                supervisor: None,
            };
            return Next::then(|seen| join(member, then, seen));
        }
        Role::Trainee => "Supervisor's name:",
        _ => "Registration number:",
    };
    detail_of_new(title, name, role, then)
}

/// Asks for the registration of a new person, or the supervisor of a trainee.
fn detail_of_new(title: &str, name: String, role: Role, then: Option<Deed>) -> Next {
    let waits = then.clone();
    let question = Question::text_seen(title, Line::default(), move |text, seen| {
        if text.is_empty() {
            return Err(if role == Role::Trainee {
                "A trainee works under a registered supervisor: write the name.".to_owned()
            } else {
                "Write the registration number.".to_owned()
            });
        }
        let text = Some(text.to_owned());
        let (registration, supervisor) = if role == Role::Trainee {
            (None, text)
        } else {
            (text, None)
        };
        let member = StaffMember {
            name: name.clone(),
            role,
            registration,
            supervisor,
        };
        Ok(join(member, then.clone(), seen))
    });
    Next::Ask(left(question, waits.as_ref()).needed(true))
}

fn join(member: StaffMember, then: Option<Deed>, seen: Seen<'_>) -> Next {
    if seen.screen == Screen::Welcome {
        return Next::Do(vec![Effect::Create(member)]);
    }
    let by = member.name.clone();
    let mut effects = vec![Effect::AddStaff(member)];
    // Where people sign in, the new one does so before anything is done in their name.
    let then = then.filter(|_| !seen.security.sign_in);
    effects.extend(then.map(|deed| Effect::Deed { by, deed }));
    Next::Do(effects)
}
