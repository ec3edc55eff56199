//! Who is acting: asked when it is first needed, shown all the time.

use crate::app::effect::{Deed, Effect};
use crate::app::question::{ChoiceAsker, Dialog, TextAsker};
use crate::app::questions::sign_in;
use crate::app::{App, Screen};
use crate::job::{Role, StaffMember};

/// What is said before anything else is done with a new book.
pub const CAUTION: &str = "rimbook supports a professional's judgement and replaces none. \
Confirm its tolerances and supply rules against the standard and the law in force where the \
practice works. Decisions stay with the registered professional.";

/// Asks who is acting; then does what waits for it.
pub(crate) fn ask(app: &mut App, then: Option<Deed>) {
    if app.staff.0.is_empty() {
        app.ask(
            "Nobody is on the staff list yet. Your name, as history will show it:",
            NameOfNew { then },
        );
        return;
    }
    let mut offered: Vec<(String, Person)> = app
        .staff
        .0
        .iter()
        .map(|m| {
            let label = format!("{}, {}", m.name, m.role.word());
            (label, Person::Member(m.name.clone()))
        })
        .collect();
    offered.push(("somebody new".to_owned(), Person::SomebodyNew));
    app.choose("Who are you?", offered, Who { then });
}

/// Offers what can be done without a book.
pub(crate) fn welcome(app: &mut App) {
    app.screen = Screen::Welcome;
    app.trail.clear();
    app.choose(
        "There is no book yet. What would you like to do?",
        vec![
            ("begin a new book".to_owned(), First::Begin),
            ("look at an invented practice first".to_owned(), First::Demo),
            ("leave".to_owned(), First::Leave),
        ],
        Welcome,
    );
    let place = format!("book: {}", app.place);
    if let Some(Dialog::Choose { note, .. }) = &mut app.dialog {
        *note = Some(place);
    }
}

/// Leaves a question unanswered for which something may wait.
fn left(then: Option<&Deed>) -> Vec<Effect> {
    match then {
        Some(_) => vec![Effect::NotKept(
            "Nothing was recorded: first say who is acting.".to_owned(),
        )],
        None => Vec::new(),
    }
}

/// Without a book: what to do first.
#[derive(Debug)]
struct Welcome;

#[derive(Debug)]
enum First {
    Begin,
    Demo,
    Leave,
}

impl ChoiceAsker for Welcome {
    type Answer = First;

    fn answered(self, app: &mut App, answer: First) -> Vec<Effect> {
        match answer {
            First::Begin => app.ask(
                "The first registered person of the practice. Name:",
                NameOfNew { then: None },
            ),
            First::Demo => {
                app.tour = Some(0);
                return vec![Effect::Demo];
            }
            First::Leave => app.quit = true,
        }
        Vec::new()
    }

    fn unanswered(self, app: &mut App) -> Vec<Effect> {
        app.quit = true;
        Vec::new()
    }

    fn is_needed(&self) -> bool {
        true
    }
}

/// Which person is acting.
#[derive(Debug)]
struct Who {
    then: Option<Deed>,
}

#[derive(Debug)]
enum Person {
    Member(String),
    SomebodyNew,
}

impl ChoiceAsker for Who {
    type Answer = Person;

    fn answered(self, app: &mut App, answer: Person) -> Vec<Effect> {
        let then = self.then;
        match answer {
            Person::Member(name) if app.security.sign_in => {
                sign_in::ask_to_sign_in(app, &name, then);
                Vec::new()
            }
            Person::Member(name) => {
                app.proven = false;
                app.person = Some(name);
                then.map(Effect::Act).into_iter().collect()
            }
            Person::SomebodyNew => {
                app.ask("Name, as history will show it:", NameOfNew { then });
                Vec::new()
            }
        }
    }

    fn unanswered(self, _app: &mut App) -> Vec<Effect> {
        left(self.then.as_ref())
    }

    fn is_needed(&self) -> bool {
        self.then.is_some()
    }
}

/// The name of a new person.
#[derive(Debug)]
struct NameOfNew {
    then: Option<Deed>,
}

impl TextAsker for NameOfNew {
    fn answered(&self, app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
        if text.is_empty() {
            return Err("Write a name, or Esc to leave it.".to_owned());
        }
        if app.staff.find(text).is_some() {
            return Err(format!("{text} is on the staff list already."));
        }
        // A new book begins with a registered person.
        let is_first = app.screen == Screen::Welcome;
        let offered = (Role::ALL.iter().copied())
            .filter(|r| r.is_registered() || !is_first)
            .map(|r| (r.word().to_owned(), r))
            .collect();
        let asker = RoleOfNew {
            name: text.to_owned(),
            then: self.then.clone(),
        };
        app.choose("Role:", offered, asker);
        Ok(Vec::new())
    }

    fn unanswered(self: Box<Self>, _app: &mut App) -> Vec<Effect> {
        left(self.then.as_ref())
    }

    fn is_needed(&self) -> bool {
        self.then.is_some()
    }
}

/// The role of a new person.
#[derive(Debug)]
struct RoleOfNew {
    name: String,
    then: Option<Deed>,
}

impl ChoiceAsker for RoleOfNew {
    type Answer = Role;

    fn answered(self, app: &mut App, role: Role) -> Vec<Effect> {
        let Self { name, then } = self;
        let title = match role {
            Role::Assistant => {
                let member = StaffMember {
                    name,
                    role,
                    registration: None,
                    supervisor: None,
                };
                return join(app, member, then);
            }
            Role::Trainee => "Supervisor's name:",
            _ => "Registration number:",
        };
        app.ask(title, DetailOfNew { name, role, then });
        Vec::new()
    }

    fn unanswered(self, _app: &mut App) -> Vec<Effect> {
        left(self.then.as_ref())
    }

    fn is_needed(&self) -> bool {
        true
    }
}

/// The registration of a new person, or the supervisor of a trainee.
#[derive(Debug)]
struct DetailOfNew {
    name: String,
    role: Role,
    then: Option<Deed>,
}

impl TextAsker for DetailOfNew {
    fn answered(&self, app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
        let role = self.role;
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
            name: self.name.clone(),
            role,
            registration,
            supervisor,
        };
        Ok(join(app, member, self.then.clone()))
    }

    fn unanswered(self: Box<Self>, _app: &mut App) -> Vec<Effect> {
        left(self.then.as_ref())
    }

    fn is_needed(&self) -> bool {
        true
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
