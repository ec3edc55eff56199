//! Whether a collected pair is rechecked: asked where its visit is asked for.

use crate::app::effect::{Deed, Effect};
use crate::app::question::ChoiceAsker;
use crate::app::{App, Screen};

/// Asks whether the recheck of a collected pair is begun; its visit is shown then.
pub(crate) fn ask(app: &mut App, number: String) {
    app.choose(
        "The pair is collected. A recheck is a new job linked to it:",
        vec![
            ("begin a recheck of this pair".to_owned(), true),
            ("leave it".to_owned(), false),
        ],
        Begin { number },
    );
}

/// Whether a collected pair is rechecked.
#[derive(Debug)]
struct Begin {
    number: String,
}

impl ChoiceAsker for Begin {
    type Answer = bool;

    fn answered(self, app: &mut App, begins: bool) -> Vec<Effect> {
        if !begins {
            return Vec::new();
        }
        app.wanted = Some(Screen::Visit);
        vec![Effect::Act(Deed::Recheck {
            number: self.number,
        })]
    }
}
