//! What is tried with a pair on the face before it is made again.

/// The moves of a pair on the face that change nothing; the ids of the order of work.
pub const FREE_MOVES: &[(&str, &str)] = &[
    ("move-height", "lift and lower it"),
    ("move-distance", "press it closer, pull it away"),
    ("move-tilt", "tilt it"),
    ("move-turn", "turn and shift it"),
];

/// Returns the free moves that a visit does not have ticked, in words.
pub(crate) fn moves_not_tried(tried: &[String]) -> Vec<&'static str> {
    FREE_MOVES
        .iter()
        .filter(|(id, _)| !tried.iter().any(|t| t == id))
        .map(|(_, words)| *words)
        .collect()
}
