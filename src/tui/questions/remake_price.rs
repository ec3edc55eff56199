//! What a remake costs the practice: asked where a visit ends in one that the practice pays for and no
//! price is known yet; else set by its own action. The figures estimate from it, nothing else does.

use super::sign_in;
use crate::tui::effect::Effect;
use crate::tui::line::Line;
use crate::tui::next::{Next, Question};
use crate::tui::seen::Seen;

/// Asks for the price, as it is known until now.
pub(crate) fn ask(seen: Seen<'_>) -> Next {
    let known = seen.remake_price.map(|p| Line::of(&p.to_string()));
    Next::Ask(Question::text_seen(
        "What does a remake cost the practice, in whole units of its money? Only the figures \
         estimate from it; 0 takes it back, Esc leaves it:",
        known.unwrap_or_default(),
        |text, seen| {
            let price: u64 = text
                .parse()
                .map_err(|_| "Write whole units without their name, such as 95.".to_owned())?;
            let price = (price > 0).then_some(price);
            Ok(sign_in::acting(seen).map_or_else(
                |next| next,
                |by| Next::Do(vec![Effect::SetRemakePrice { price, by }]),
            ))
        },
    ))
}
