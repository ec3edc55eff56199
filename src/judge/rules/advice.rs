//! What is said when a pair is handed over: which advice this wearer needs with this pair, and why.
//!
//! One table. What the gate holds for when it is missing is `advice-missing`; everything it asks
//! for is listed here too.

use chrono::NaiveDate;

use crate::job::{Advice, Design, Job, Previous, Purpose};
use crate::judge::derive::changes::prescription_has_changed;
use crate::judge::derive::powers::ordered_or_prescribed;
use crate::judge::derive::tint::{is_photochromic, is_tinted};
use crate::practice::{Practice, Threshold};
use crate::trade::eye::Eye;
use crate::trade::optics::materials::Material;

/// Returns the design of the wearer's previous pair, in small letters; empty where none is recorded.
fn previous_design(job: &Job) -> String {
    let previous = job.prescription.previous.as_ref();
    previous.map_or_else(String::new, Previous::design_word)
}

/// Whether the pair is the wearer's first with more than one power: the previous design is not
/// recorded, or single vision.
pub(crate) fn is_first_multifocal(job: &Job) -> bool {
    let before = previous_design(job);
    job.lenses.design.is_some_and(Design::needs_addition)
        && (before.is_empty() || before == Design::SingleVision.word())
}

/// Whether the pair is progressive and the previous one is not recorded to have been.
pub(crate) fn is_first_progressive(job: &Job) -> bool {
    job.lenses.design == Some(Design::Progressive)
        && previous_design(job) != Design::Progressive.word()
}

/// One thing to be said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Point {
    /// The topic under which it is recorded.
    pub topic: Advice,
    /// What is said.
    pub say: &'static str,
    /// Why this wearer hears it with this pair.
    pub why: &'static str,
}

/// What the rules of the table look at.
struct AdviceContext<'a> {
    job: &'a Job,
    practice: &'a Practice,
    today: NaiveDate,
}

impl AdviceContext<'_> {
    fn design(&self, is: impl Fn(Design) -> bool) -> bool {
        self.job.lenses.design.is_some_and(is)
    }

    fn age(&self) -> Option<i32> {
        self.job.wearer.age_on(self.today)
    }

    fn limit(&self, threshold: Threshold) -> f64 {
        self.practice.thresholds.get(threshold)
    }

    /// Whether coatings or the colour of the tint have a word in them.
    fn says(&self, word: &str) -> bool {
        let l = &self.job.lenses;
        let colour = l.tint.as_ref().and_then(|t| t.colour.as_ref());
        l.coatings
            .iter()
            .flatten()
            .chain(colour)
            .any(|text| text.to_lowercase().contains(word))
    }

    fn is_polycarbonate(&self) -> bool {
        self.job
            .lenses
            .material
            .as_deref()
            .is_some_and(|key| Material::by_key(key).is_some() && key.starts_with("polycarbonate"))
    }

    /// Whether a principal power is as strong a plus as counts as strong.
    fn is_high_plus(&self) -> bool {
        Eye::BOTH.iter().any(|eye| {
            ordered_or_prescribed(self.job, *eye).is_some_and(|rx| {
                let (along, across) = rx.principal_powers();
                along.max(across) >= self.limit(Threshold::Strong)
            })
        })
    }
}

/// A row: topic, what is said, why, and when.
type Row = (
    Advice,
    &'static str,
    &'static str,
    fn(&AdviceContext<'_>) -> bool,
);

const ROWS: &[Row] = &[
    (
        Advice::Adaptation,
        "turn the nose to what you look at, point the chin; stairs through the top; wear it all day; a week or two; a day to come back",
        "first progressive pair",
        |a| is_first_progressive(a.job),
    ),
    (
        Advice::Adaptation,
        "the near part is below: lower the eyes to read, the chin for stairs; a day to come back",
        "first multifocal pair",
        |a| is_first_multifocal(a.job) && !a.design(|d| d == Design::Progressive),
    ),
    (
        Advice::Adaptation,
        "floors and edges may slope: wear it gradually, indoors first; no ladders, no driving until steady",
        "the powers have changed against the previous pair",
        |a| prescription_has_changed(a.job, &a.practice.thresholds, a.today),
    ),
    (
        Advice::Falls,
        "outdoors and on stairs a single-vision pair is safer: the lower part blurs the ground",
        "multifocal lenses from the older age on",
        |a| {
            a.design(Design::needs_addition)
                && a.age()
                    .is_some_and(|age| f64::from(age) >= a.limit(Threshold::OlderAge))
        },
    ),
    (
        Advice::Driving,
        "not for driving: the distance is not in these lenses",
        "office (degressive) design, and the wearer drives",
        |a| a.job.wearer.drives == Some(true) && a.design(|d| d == Design::Office),
    ),
    (
        Advice::Driving,
        "not at dusk or at night; category 4 never at the wheel",
        "tinted lenses, and the wearer drives",
        |a| a.job.wearer.drives == Some(true) && is_tinted(a.job),
    ),
    (
        Advice::Driving,
        "stays pale behind a windscreen, clears slowly in a tunnel; at dusk look whether it is clear",
        "photochromic lenses, and the wearer drives",
        |a| a.job.wearer.drives == Some(true) && is_photochromic(a.job) && !is_tinted(a.job),
    ),
    (
        Advice::Photochromic,
        "slow to clear in the cold; stays pale behind a windscreen",
        "photochromic lenses",
        |a| is_photochromic(a.job) || a.says("photochromic"),
    ),
    (
        Advice::SafetyLimits,
        "what it protects against and what not; look it over before use; replace when scratched; no repair elsewhere",
        "safety pair",
        |a| a.job.lenses.purpose == Some(Purpose::Safety),
    ),
    (
        Advice::Child,
        "take it off with both hands; have a look at it every week; come back in three months: children grow",
        "child under the restricted age",
        |a| {
            a.age()
                .is_some_and(|age| f64::from(age) < a.limit(Threshold::RestrictedAge))
        },
    ),
    (
        Advice::Field,
        "things at the edge jump in and out of view; when it slides down the power rises: push it up",
        "strong plus lenses",
        |a| a.is_high_plus(),
    ),
    (
        Advice::Solvents,
        "no acetone, no petrol, no household cleaner: they crack it; water and a drop of soap",
        "polycarbonate",
        |a| a.is_polycarbonate(),
    ),
    (
        Advice::Care,
        "rinse, then wipe; not on a hot sill or in the car; both hands; a case",
        "every pair",
        |_| true,
    ),
    (
        Advice::Aftercare,
        "adjusting costs nothing; any trouble: ring us and come in, do not put it away",
        "every pair",
        |_| true,
    ),
    (
        Advice::Retest,
        "when the next sight test is due; sooner with any change of sight",
        "every pair",
        |_| true,
    ),
];

/// Returns what is said of a pair, in the order in which it is said.
pub fn advice(job: &Job, practice: &Practice, today: NaiveDate) -> Vec<Point> {
    let about = AdviceContext {
        job,
        practice,
        today,
    };
    ROWS.iter()
        .filter(|(.., when)| when(&about))
        .map(|(topic, say, why, _)| Point {
            topic: *topic,
            say,
            why,
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::job::{Tint, Wearer};

    fn topics(job: &Job) -> Vec<&'static str> {
        let day = NaiveDate::from_ymd_opt(2026, 10, 12).unwrap();
        advice(job, &Practice::default(), day)
            .iter()
            .map(|p| p.why)
            .collect()
    }

    #[test]
    fn every_pair_hears_of_care_aftercare_and_the_next_test_and_nothing_else_by_itself() {
        assert_eq!(topics(&Job::default()), ["every pair"; 3]);
    }

    #[test]
    fn each_kind_of_wearer_and_lens_is_told_its_own() {
        let mut job = Job {
            wearer: Wearer {
                born: NaiveDate::from_ymd_opt(1960, 10, 12),
                drives: Some(true),
                ..Wearer::default()
            },
            ..Job::default()
        };
        job.lenses.design = Some(Design::Office);
        job.lenses.material = Some("polycarbonate 1.59".to_owned());
        job.lenses.coatings = Some(vec!["Photochromic grey".to_owned()]);
        let said = topics(&job);
        for why in [
            "first multifocal pair",
            "multifocal lenses from the older age on",
            "office (degressive) design, and the wearer drives",
            "photochromic lenses",
            "polycarbonate",
        ] {
            assert!(said.contains(&why), "{why}: {said:?}");
        }
        assert!(!said.contains(&"tinted lenses, and the wearer drives"));
        job.lenses.tint = Some(Tint::default());
        assert!(!topics(&job).contains(&"tinted lenses, and the wearer drives"));
        job.lenses.tint = Some(Tint {
            photochromic: Some(true),
            ..Tint::default()
        });
        assert!(topics(&job).contains(&"photochromic lenses, and the wearer drives"));
        job.lenses.tint = Some(Tint {
            category: Some(1),
            ..Tint::default()
        });
        job.lenses.purpose = Some(Purpose::Safety);
        job.wearer.born = NaiveDate::from_ymd_opt(2010, 10, 13);
        let said = topics(&job);
        for why in [
            "tinted lenses, and the wearer drives",
            "safety pair",
            "child under the restricted age",
        ] {
            assert!(said.contains(&why), "{why}: {said:?}");
        }
        job.wearer.born = NaiveDate::from_ymd_opt(2010, 10, 12);
        assert!(
            !topics(&job).contains(&"child under the restricted age"),
            "sixteen today"
        );
    }

    #[test]
    fn a_strong_plus_is_strong_from_the_limit_on() {
        let mut job = Job::default();
        for (sphere, is) in [(5.0, true), (4.75, false), (-8.0, false)] {
            job.prescription.right.sphere_d =
                Some(crate::trade::units::Dioptre::new(sphere).unwrap());
            assert_eq!(topics(&job).contains(&"strong plus lenses"), is, "{sphere}");
        }
    }
}
