//! What a remake costs the practice: asked where a visit ends in one that the practice pays for and no
//! price is known yet; else set by its own action. The figures estimate from it, nothing else does.

use super::sign_in;
use crate::app::App;
use crate::app::effect::Effect;
use crate::app::line::Line;
use crate::app::question::TextAsker;

/// Asks for the price.
pub(crate) fn ask(app: &mut App) {
    let known = app.remake_price.map(|p| Line::of(&p.to_string()));
    app.ask_with(
        "What does a remake cost the practice, in whole units of its money? Only the figures \
         estimate from it; 0 takes it back, Esc leaves it:",
        known.unwrap_or_default(),
        Price,
    );
}

/// What a remake costs the practice.
#[derive(Debug)]
struct Price;

impl TextAsker for Price {
    fn answered(&self, app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
        let price: u64 = text
            .parse()
            .map_err(|_| "Write whole units without their name, such as 95.".to_owned())?;
        Ok(sign_in::acting(app).map_or_else(Vec::new, |by| {
            vec![Effect::SetRemakePrice {
                price: (price > 0).then_some(price),
                by,
            }]
        }))
    }
}
