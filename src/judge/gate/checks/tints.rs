//! Checks of tints: driving, contradictions, darkness.

use super::values;
use crate::job::fields::at;
use crate::job::{Gate, Purpose};
use crate::judge::derive::tint::{
    DARKEST, category_of, is_for_the_sun, is_photochromic, most_light_percent, range_in_words,
    up_to_percent,
};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Severity};
use crate::practice::Threshold;
use crate::trade::tolerance::DUST;

/// Where the categories of a tint come from.
const CATEGORIES: &str =
    "ISO 12312-1 filter categories; College of Optometrists guidance on tints and driving";

pub(crate) static TINT_DRIVING: Check = Check {
    id: CheckId::TintDriving,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the wearer drives: category 4, or as dark by its transmittance, stops; in a general or distance pair that is not for the sun, less than {driving-transmittance:0} % warns (no transmittance recorded: the most of the category; photochromic: the light state)",
    ways_out: &["another tint", "label the pair and advise"],
    source: CATEGORIES,
    run: |c, found| {
        let l = &c.job.lenses;
        let Some(tint) = &l.tint else {
            return;
        };
        if c.job.wearer.drives != Some(true) {
            return;
        }
        let values = values! {"category" => tint.category, "transmittance_percent" => tint.transmittance_percent, "drives" => true};
        let state = if is_photochromic(c.job) {
            "in its light state the tint"
        } else {
            "the tint"
        };
        let field = if tint.transmittance_percent.is_some() {
            at!(lenses.tint.transmittance_percent).full()
        } else {
            at!(lenses.tint.category).full()
        };
        let darkest = "must not be worn at the wheel";
        let stop = if tint.category == Some(DARKEST) {
            Some((
                at!(lenses.tint.category).full(),
                format!("the wearer drives, and a filter of category {DARKEST} {darkest}"),
                format!("category {}", DARKEST - 1),
            ))
        } else {
            tint.transmittance_percent
                .filter(|t| category_of(t.get()) == DARKEST)
                .map(|t| {
                    (
                        field,
                        format!(
                            "the wearer drives, and {state} lets {t} % through: category {DARKEST}, which {darkest}"
                        ),
                        format!("over {:.0} %", up_to_percent(DARKEST)),
                    )
                })
        };
        if let Some((field, says, limit)) = stop {
            found.add_as(Severity::Stop, About::Job, field, says, values, Some(limit));
            return;
        }
        let is_for_all_hours = matches!(l.purpose, Some(Purpose::General | Purpose::Distance));
        if !is_for_all_hours || is_for_the_sun(c.job) {
            return;
        }
        let limit = c.threshold(Threshold::DrivingTransmittance);
        if let Some(most) = most_light_percent(tint).filter(|most| most + DUST < limit) {
            let lets = match (tint.transmittance_percent, tint.category) {
                (None, Some(category)) => {
                    format!("{state} is of category {category} and lets at most {most:.0} %")
                }
                (Some(t), _) => format!("{state} lets {t} %"),
                (None, None) => return,
            };
            found.add(
                About::Job,
                field,
                format!("the wearer drives and {lets} through: not for dusk or night"),
                values,
                Some(format!("{limit:.0} %")),
            );
        }
    },
};

pub(crate) static TINT_CONTRADICTS: Check = Check {
    id: CheckId::TintContradicts,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "category and transmittance of the tint disagree, silent at {tint-dark:0} % and less; or a photochromic lens is lighter in its darkest state than in its light one",
    ways_out: &["read it again"],
    source: CATEGORIES,
    run: |c, found| {
        let Some(tint) = &c.job.lenses.tint else {
            return;
        };
        if let (true, Some(light), Some(dark)) =
            (is_photochromic(c.job), tint.category, tint.dark_category)
            && dark < light
        {
            found.add(
                About::Job,
                at!(lenses.tint.dark_category),
                format!(
                    "the photochromic lens is of category {light} in its light state and of category {dark} when it has darkened: the darkest is the higher one"
                ),
                values! {"category" => light, "dark_category" => dark},
                Some(format!("category {light} or higher")),
            );
        }
        let (Some(category), Some(t)) = (tint.category, tint.transmittance_percent) else {
            return;
        };
        let by_transmittance = category_of(t.get());
        let is_dark = t.get() <= c.threshold(Threshold::TintDark) + DUST;
        if is_dark || category == by_transmittance {
            return;
        }
        found.add(
            About::Job,
            at!(lenses.tint.transmittance_percent),
            format!(
                "category {category} lets {} through, and the tint {t} %, which is category {by_transmittance}",
                range_in_words(category)
            ),
            values! {"category" => category, "transmittance_percent" => t},
            Some(range_in_words(category)),
        );
    },
};

pub(crate) static TINT_DARK: Check = Check {
    id: CheckId::TintDark,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the tint lets {tint-dark:0} % or less through",
    ways_out: &["another tint: this one is not for general use"],
    source: "ISO 12312-1 filter categories, from memory",
    run: |c, found| {
        let tint = c.job.lenses.tint.as_ref();
        let Some(t) = tint.and_then(|tint| tint.transmittance_percent) else {
            return;
        };
        let limit = c.threshold(Threshold::TintDark);
        if t.get() <= limit + DUST {
            found.add(
                About::Job,
                at!(lenses.tint.transmittance_percent),
                format!("the tint lets {t} % through: not for general use"),
                values! {"transmittance_percent" => t},
                Some(format!("over {limit:.0} %")),
            );
        }
    },
};
