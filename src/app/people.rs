//! Who is acting: asked when it is first needed, shown all the time.

use super::dialog::Purpose;
use super::effect::{Deed, Effect};
use super::{App, Screen, choices, practice, repairing, signing, visit};
use crate::job::{Role, StaffMember};

/// What is said before anything else is done with a new book.
pub const CAUTION: &str = "rimbook supports a professional's judgement and replaces none. \
Confirm its tolerances and supply rules against the standard and the law in force where the \
practice works. Decisions stay with the registered professional.";

/// Does something in the name of whoever is acting; asks who that is first if need be.
pub(crate) fn by_somebody(app: &mut App, deed: Deed) -> Vec<Effect> {
    if let Some(by) = app.person.clone() {
        return vec![Effect::Deed { by, deed }];
    }
    who(app, Some(deed));
    Vec::new()
}

/// Asks who is acting.
pub(crate) fn who(app: &mut App, then: Option<Deed>) {
    if app.staff.0.is_empty() {
        app.ask(
            "Nobody is on the staff list yet. Your name, as history will show it:",
            Purpose::PersonName { then },
        );
        return;
    }
    let mut items: Vec<String> = app
        .staff
        .0
        .iter()
        .map(|m| format!("{}, {}", m.name, m.role.word()))
        .collect();
    items.push("somebody new".to_owned());
    app.choose("Who are you?", items, Purpose::Person { then });
}

/// Offers what can be done without a book.
pub(crate) fn welcome(app: &mut App) {
    app.begin(Screen::Welcome);
    app.choose(
        "There is no book yet. What would you like to do?",
        vec![
            "begin a new book".to_owned(),
            "look at an invented practice first".to_owned(),
            "leave".to_owned(),
        ],
        Purpose::Welcome,
    );
}

/// Takes a choice.
#[allow(clippy::too_many_lines, reason = "one arm for each question")]
pub(crate) fn chosen(app: &mut App, purpose: Purpose, index: usize) -> Vec<Effect> {
    match purpose {
        Purpose::Welcome => match index {
            0 => {
                app.ask(
                    "The first registered person of the practice. Name:",
                    Purpose::PersonName { then: None },
                );
                Vec::new()
            }
            1 => {
                app.tour = Some(0);
                vec![Effect::Demo]
            }
            _ => {
                app.quit = true;
                Vec::new()
            }
        },
        Purpose::Carry {
            number,
            revision,
            mut offers,
        } if index < offers.len() => {
            super::bench::carry::chosen(app, number, revision, offers.swap_remove(index))
        }
        Purpose::Person { then } => {
            if let Some(member) = app.staff.0.get(index) {
                if app.security.sign_in {
                    let name = member.name.clone();
                    signing::ask_to_sign_in(app, &name, then);
                    return Vec::new();
                }
                app.proven = false;
                app.person = Some(member.name.clone());
                then.map_or_else(Vec::new, |deed| by_somebody(app, deed))
            } else {
                app.ask(
                    "Name, as history will show it:",
                    Purpose::PersonName { then },
                );
                Vec::new()
            }
        }
        about @ (Purpose::NewFrom { .. }
        | Purpose::RepairKind { .. }
        | Purpose::Repair(_)
        | Purpose::RepairLeft(_)) => repairing::answered(app, about, index),
        Purpose::Print { number } => super::printing::chosen(&number, index),
        Purpose::ContactHow { .. } | Purpose::Waiting => {
            super::telling::chosen(app, purpose, index)
        }
        Purpose::Review { numbers } => super::retention::chosen(&numbers, index),
        Purpose::OfferSignIn => {
            signing::offered(app, index);
            Vec::new()
        }
        Purpose::SecretOf { names } => {
            if let Some(name) = names.get(index) {
                signing::begin(app, name, false);
            }
            Vec::new()
        }
        Purpose::Security => signing::settings_chosen(app, index),
        Purpose::Setting => {
            practice::chosen(app, index);
            Vec::new()
        }
        Purpose::SettingWord { index: setting } => practice::word(app, setting, index),
        Purpose::TakeChoice {
            number,
            revision,
            changes,
        } => choices::answered(app, number, revision, &changes, index),
        Purpose::Recheck { number } => visit::recheck(app, number, index),
        Purpose::VisitWord { entry } => visit::chosen(app, entry, index),
        Purpose::PersonRole { name, then } => {
            let roles = roles(app);
            let Some(role) = roles.get(index).copied() else {
                return Vec::new();
            };
            match role {
                Role::Assistant => join(
                    app,
                    StaffMember {
                        name,
                        role,
                        registration: None,
                        supervisor: None,
                    },
                    then,
                ),
                Role::Trainee => {
                    app.ask(
                        "Supervisor's name:",
                        Purpose::PersonDetail { name, role, then },
                    );
                    Vec::new()
                }
                _ => {
                    app.ask(
                        "Registration number:",
                        Purpose::PersonDetail { name, role, then },
                    );
                    Vec::new()
                }
            }
        }
        _ => Vec::new(),
    }
}

/// The roles offered: a new book begins with a registered person.
fn roles(app: &App) -> Vec<Role> {
    Role::ALL
        .iter()
        .copied()
        .filter(|r| r.is_registered() || app.screen != Screen::Welcome)
        .collect()
}

/// Takes a person's name, registration or supervisor.
pub(crate) fn answered(app: &mut App, purpose: Purpose, text: &str) -> Result<Vec<Effect>, String> {
    match purpose {
        Purpose::PersonName { then } => {
            if text.is_empty() {
                return Err("Write a name, or Esc to leave it.".to_owned());
            }
            if app.staff.find(text).is_some() {
                return Err(format!("{text} is on the staff list already."));
            }
            let items = roles(app).iter().map(|r| r.word().to_owned()).collect();
            app.choose(
                "Role:",
                items,
                Purpose::PersonRole {
                    name: text.to_owned(),
                    then,
                },
            );
            Ok(Vec::new())
        }
        Purpose::PersonDetail { name, role, then } => {
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
            Ok(join(
                app,
                StaffMember {
                    name,
                    role,
                    registration,
                    supervisor,
                },
                then,
            ))
        }
        _ => Ok(Vec::new()),
    }
}

fn join(app: &App, member: StaffMember, then: Option<Deed>) -> Vec<Effect> {
    if app.screen == Screen::Welcome {
        return vec![Effect::Create(member)];
    }
    let by = member.name.clone();
    let mut effects = vec![Effect::AddStaff(member)];
    // Where people sign in, the new one does so before anything is done in their name.
    let then = then.filter(|_| !app.security.sign_in);
    effects.extend(then.map(|deed| Effect::Deed { by, deed }));
    effects
}
