//! What a tint lets through: its filter category, and whether a pair counts as tinted.

use crate::job::{Job, Tint};
use crate::trade::tolerance::DUST;
use crate::trade::units::Percent;

/// Upper edge of the transmittance of each filter category from 0 on, percent; a category reaches
/// down to the upper edge of the next, which is no longer its own (ISO 12312-1, as the College of
/// Optometrists prints it).
const UP_TO_PERCENT: [f64; 5] = [100.0, 80.0, 43.0, 18.0, 8.0];

/// The darkest category.
pub(crate) const DARKEST: u8 = 4;

/// The filter category of a transmittance in percent.
pub(crate) fn category_of(transmittance_percent: f64) -> u8 {
    (0..=DARKEST)
        .rev()
        .find(|category| transmittance_percent <= up_to_percent(*category) + DUST)
        .unwrap_or(0)
}

/// The most light that a tint of a category lets through, percent.
pub(crate) fn up_to_percent(category: u8) -> f64 {
    UP_TO_PERCENT[usize::from(category.min(DARKEST))]
}

/// The transmittance of a category in words, percent.
pub(crate) fn range_in_words(category: u8) -> String {
    let category = category.min(DARKEST);
    let most = up_to_percent(category);
    match UP_TO_PERCENT.get(usize::from(category) + 1) {
        Some(least) if category == 0 => format!("over {least:.0} %"),
        Some(least) => format!("over {least:.0} to {most:.0} %"),
        None => format!("{most:.0} % or less"),
    }
}

/// The category of the tint in words: as recorded, with its transmittance where none is recorded; else by
/// the transmittance.
pub(crate) fn category_in_words(job: &Job) -> Option<String> {
    let tint = job.lenses.tint.as_ref()?;
    Some(match (tint.category, tint.transmittance_percent) {
        (Some(category), None) => format!("category {category}, {}", range_in_words(category)),
        (Some(category), Some(_)) => format!("category {category}"),
        (None, t) => format!("category {} by its transmittance", category_of(t?.get())),
    })
}

/// The most light that a tint may let through, percent: as recorded, else as much as its category
/// allows. Of a photochromic lens both are of its light state.
pub(crate) fn most_light_percent(tint: &Tint) -> Option<f64> {
    let of_category = || tint.category.map(up_to_percent);
    tint.transmittance_percent
        .map(Percent::get)
        .or_else(of_category)
}

/// Whether the lenses are tinted: for the sun, coloured, of a category above 0 or with 80 % of the
/// light or less. The colour of a photochromic lens is that of its dark state and does not count.
pub(crate) fn is_tinted(job: &Job) -> bool {
    let Some(tint) = &job.lenses.tint else {
        return false;
    };
    let coloured = tint.colour.as_ref().is_some_and(|c| !c.trim().is_empty());
    tint.sun == Some(true)
        || coloured && !is_photochromic(job)
        || tint.category.is_some_and(|category| category > 0)
        || tint
            .transmittance_percent
            .is_some_and(|t| category_of(t.get()) > 0)
}

/// Whether the lenses darken in the light.
pub(crate) fn is_photochromic(job: &Job) -> bool {
    let tint = job.lenses.tint.as_ref();
    tint.is_some_and(|tint| tint.photochromic == Some(true))
}

/// Whether the pair is for the sun.
pub(crate) fn is_for_the_sun(job: &Job) -> bool {
    let tint = job.lenses.tint.as_ref();
    tint.is_some_and(|tint| tint.sun == Some(true))
}
