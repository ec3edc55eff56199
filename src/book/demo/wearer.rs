//! Invented wearers: names as frequent as names are, families, ages.
//!
//! The share of the k-th surname falls as 1/(k + 3): one in eighteen has the most common one.

use chrono::{Days, NaiveDate};
use serde::Deserialize;

use super::random::Throws;
use crate::job::Wearer;

/// Kinds of random streams; [`super::many`] has two more.
const HOUSEHOLD: u64 = 1;
const MEMBER: u64 = 2;
/// People of a household: two adults, and a third person who may be a child.
const MEMBERS: u64 = 3;

/// Invented names, frames and laboratories, read from `demo-db/many.json`.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct Lists {
    surname_beginnings: Vec<String>,
    surname_endings: Vec<String>,
    given: Vec<String>,
    pub(super) frames: Vec<Shape>,
    pub(super) laboratories: Vec<String>,
}

/// A frame of the lists; lengths in millimetres.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct Shape {
    pub(super) name: String,
    pub(super) a: i32,
    pub(super) b: i32,
    pub(super) ed: i32,
    pub(super) dbl: i32,
    pub(super) metal: bool,
}

/// The lists, and how often each surname occurs.
#[derive(Debug, Clone)]
pub(super) struct Names {
    pub(super) lists: Lists,
    /// Running total of the surnames' shares.
    shares: Vec<u64>,
}

/// An invented person.
#[derive(Debug, Clone)]
pub(super) struct Person {
    pub(super) wearer: Wearer,
    pub(super) born: NaiveDate,
    /// Distance between the pupils of the grown person, thousandths of a millimetre.
    pub(super) pd: i32,
}

impl Names {
    pub(super) fn new(lists: Lists) -> Self {
        let count = lists.surname_beginnings.len() * lists.surname_endings.len();
        let mut total = 0;
        let shares = (0..count as u64)
            .map(|k| {
                total += 1_000_000 / (k + 3);
                total
            })
            .collect();
        Self { lists, shares }
    }

    fn surname(&self, throws: &mut Throws) -> String {
        let at = throws.below(self.shares.last().copied().unwrap_or(0));
        let k = self.shares.partition_point(|&s| s <= at);
        let first = k % self.lists.surname_beginnings.len().max(1);
        let second = (k / self.lists.surname_beginnings.len().max(1) + first)
            % self.lists.surname_endings.len().max(1);
        let part = |list: &[String], n: usize| list.get(n).cloned().unwrap_or_default();
        part(&self.lists.surname_beginnings, first) + &part(&self.lists.surname_endings, second)
    }

    /// Returns the wearer of a running number, the same whenever asked.
    pub(super) fn person(&self, seed: u64, which: u64, today: NaiveDate) -> Person {
        let (house, member) = (which / MEMBERS, which % MEMBERS);
        let mut home = Throws::of(seed, HOUSEHOLD, house);
        let family = self.surname(&mut home);
        let family_phone = phone(&mut home);
        let age = home.quantile(&[(0, 25), (200, 40), (500, 56), (800, 72), (1000, 92)]);
        let is_family = home.chance(70);
        let mut own = Throws::of(seed, MEMBER, which);
        let years = match member {
            0 => age,
            1 if is_family => (age + own.between(-6, 6)).max(20),
            2 if is_family => (age - own.between(22, 38)).max(4),
            _ => own.between(18, 90),
        };
        let (surname, phone) = if is_family || member == 0 {
            (family, family_phone)
        } else {
            (self.surname(&mut own), phone(&mut own))
        };
        let given = own.pick(&self.lists.given).cloned().unwrap_or_default();
        let days = u64::try_from(years).unwrap_or(0) * 365 + own.below(365);
        let born = today.checked_sub_days(Days::new(days)).unwrap_or(today);
        // Means and deviations of women and men in ANSUR II (tests/data/open/SOURCES.md).
        let pd = if own.chance(50) {
            own.around(61_700, 3600)
        } else {
            own.around(64_000, 3400)
        };
        let allergies = if own.chance(4) {
            vec!["nickel".to_owned()]
        } else {
            Vec::new()
        };
        let wearer = Wearer {
            name: Some(format!("{given} {surname}")),
            born: Some(born),
            phone: Some(phone),
            allergies: Some(allergies),
            drives: own.chance(60).then_some(true),
            ..Wearer::default()
        };
        Person { wearer, born, pd }
    }
}

/// The running number of the grown-up who heads a wearer's household.
pub(super) const fn head_of_household(which: u64) -> u64 {
    which - which % MEMBERS
}

/// A number of no exchange: it begins with 0000.
fn phone(throws: &mut Throws) -> String {
    format!("0000 {:03} {:03}", throws.below(1000), throws.below(1000))
}
