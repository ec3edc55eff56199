//! The chart: the finished pair at 1:1, to lay it on and see whether it is centred as ordered.

use super::content::{Block, Subject};
use super::front::{Seen, front};
use super::order::fitting;
use super::ruler::ruler;
use super::value_text::lens_facts;
use crate::job::Design;

/// The instruction to check the scale of the print.
pub(crate) const PROOF: &str = "Print at 100 %, without fitting to the page. Measure the line below: if it is not 100 mm \
     long, the drawings are not to scale.";

pub(super) fn blocks(of: Subject<'_>) -> Vec<Block> {
    let mut blocks = vec![
        Block::Lines {
            title: "Scale".to_owned(),
            lines: vec![PROOF.to_owned()],
            boxes: false,
        },
        Block::Drawing(ruler()),
    ];
    let drawn = front(of, Seen::Front, true);
    let has_drawing = drawn.is_ok();
    for (seen, drawn) in [
        (Seen::Front, drawn),
        (Seen::Behind, front(of, Seen::Behind, true)),
    ] {
        match drawn {
            Ok(drawing) => blocks.push(fitting(of, drawing)),
            Err(why) if seen == Seen::Front => blocks.push(Block::Lines {
                title: "Drawing".to_owned(),
                lines: vec![why],
                boxes: false,
            }),
            Err(_) => {}
        }
    }
    if has_drawing {
        blocks.push(Block::Lines {
            title: "How to use it".to_owned(),
            lines: how(of),
            boxes: false,
        });
    }
    blocks.push(Block::Facts {
        title: "Lenses".to_owned(),
        facts: lens_facts(of.job)
            .into_iter()
            .filter(|f| {
                matches!(
                    f.label.as_str(),
                    "design" | "segment" | "corridor" | "material"
                )
            })
            .collect(),
    });
    blocks
}

fn how(of: Subject<'_>) -> Vec<String> {
    let mut lines = vec![
        "Lay the pair with its front down and its sides up on the drawing seen from behind; hold it over the one seen \
         from the front when it faces you. Its middle of the bridge lies on the upright line, its shape in the boxes."
            .to_owned(),
        "Look straight down on each lens with one eye. The dotted centre, or the fitting cross, belongs within the \
         dashed line round the cross."
            .to_owned(),
        format!(
            "The dashed line is how far that one centre may be out, everything else as ordered, before a limit of {} \
             is reached; both lenses out at once are judged by the readings at verification.",
            of.practice.standard.name()
        ),
    ];
    match of.job.lenses.design {
        Some(design) if design.has_segment() => {
            lines.push(
                "The strong level line is the segment top; the small ring its optical centre."
                    .to_owned(),
            );
        }
        Some(Design::Progressive) => {
            lines.push("The small ring is the near point.".to_owned());
        }
        _ => {}
    }
    lines
}
