//! Fields of the wearer.

use super::field::{Field, Kind};
use super::table::{table, words_of};
use crate::job::SightImpaired;

pub(super) const FIELDS: &[Field] = table!(
    Wearer,
    [
        one(
            "name",
            "name",
            "",
            Kind::Text,
            "the wearer's name as it is written; a job cannot be without it"
        ),
        one(
            "born",
            "born",
            "",
            Kind::Date,
            "date of birth: 1961-04-23, 23/4/1961 or 23 apr 1961"
        ),
        one(
            "phone",
            "phone",
            "",
            Kind::Text,
            "telephone number as it is written"
        ),
        one("email", "e-mail", "", Kind::Text, "electronic mail address"),
        one(
            "allergies",
            "allergies",
            "",
            Kind::Words,
            "allergies, comma separated (nickel, silicone); none when asked and none is known"
        ),
        one(
            "one_eyed",
            "one useful eye",
            "",
            Kind::Flag,
            "yes when only one eye sees usefully, otherwise no"
        ),
        one(
            "sight_impaired",
            "sight impaired",
            "",
            Kind::Choice(words_of!(SightImpaired)),
            "registration as sight impaired: no, partial or severe"
        ),
        one(
            "occupation",
            "occupation",
            "",
            Kind::Text,
            "what the wearer does"
        ),
        one(
            "drives",
            "drives",
            "",
            Kind::Flag,
            "yes when the wearer drives, otherwise no"
        ),
        one(
            "notes",
            "notes",
            "",
            Kind::Notes,
            "anything else about the wearer"
        ),
    ]
);
