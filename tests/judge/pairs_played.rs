//! Pairs played through the three gates on the pure core, as `check`, `accept` and `advance` would.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rimbook::testing::job::{Gate, Job, Section, StaffMember, StaffRoll, read_jobs};
use rimbook::testing::judge::gate::{
    Acceptance, Finding, Passed, Severity, Surroundings, findings,
};
use rimbook::testing::practice::Practice;
use serde_json::Value;

/// One pair: what is recorded before it is ordered, verified and collected.
#[derive(Clone)]
pub struct Pair {
    pub id: String,
    job: Job,
    readings: Value,
    handover: Value,
}

impl Pair {
    /// Reads a pair; `readings` and `handover` may be absent.
    pub fn read(id: &str, of: &Value) -> Self {
        let jobs = read_jobs(&of["job"].to_string());
        Self {
            id: id.to_owned(),
            job: jobs.unwrap_or_else(|e| panic!("{id}: {e}")).remove(0),
            readings: of["readings"].clone(),
            handover: of["handover"].clone(),
        }
    }
}

/// The practice in which pairs are played: its people, its days, its choices.
pub struct World {
    staff: StaffRoll,
    days: BTreeMap<Gate, NaiveDate>,
    pub practice: Practice,
}

impl World {
    /// Reads staff and days of a file of pairs.
    pub fn read(file: &Value) -> Self {
        let day = |gate: &Gate| file["days"][gate.word()].as_str().unwrap().parse().unwrap();
        Self {
            staff: StaffRoll(serde_json::from_value(file["staff"].clone()).unwrap()),
            days: Gate::ALL.iter().map(|gate| (*gate, day(gate))).collect(),
            practice: Practice::default(),
        }
    }

    fn registrant(&self) -> &StaffMember {
        let is_one = |m: &&StaffMember| m.role.is_registered() && m.registration.is_some();
        self.staff.0.iter().find(is_one).unwrap()
    }

    /// Plays a pair gate by gate. `go_on` sees the open stops and warnings of a gate; warnings are then
    /// accepted, as somebody registered would, and a pair with a stop goes no further.
    pub fn play(&self, pair: &Pair, mut go_on: impl FnMut(Gate, &[Finding]) -> bool) {
        let mut job = pair.job.clone();
        let (mut acceptances, mut passed) = (Vec::<Acceptance>::new(), Vec::<Passed>::new());
        for gate in Gate::ALL {
            let recorded = match gate {
                Gate::Ordered => None,
                Gate::Verified => Some((Section::Readings, &pair.readings)),
                Gate::Collected => Some((Section::Handover, &pair.handover)),
            };
            if let Some((section, value)) = recorded {
                if value.is_null() {
                    return;
                }
                job.record(section, value)
                    .unwrap_or_else(|e| panic!("{}: {e:?}", pair.id));
            }
            let around = Surroundings {
                sign_in: false,
                today: self.days[gate],
                staff: &self.staff,
                practice: &self.practice,
                others: &[],
                questions: &[],
            };
            let mut open = findings(*gate, &job, around, &acceptances, &passed);
            open.retain(Finding::is_open);
            let is_stopped = open.iter().any(|f| f.severity == Severity::Stop);
            if !go_on(*gate, &open) || is_stopped {
                return;
            }
            acceptances.extend(open.iter().map(|f| {
                let reason = "looked at and meant so";
                Acceptance::of(
                    f,
                    self.registrant(),
                    self.practice.registration,
                    reason,
                    self.days[gate],
                )
                .unwrap_or_else(|e| panic!("{} {}: {e:?}", pair.id, f.check))
            }));
            passed.push(Passed {
                gate: *gate,
                job: job.clone(),
            });
            job.stage = Some(gate.to_stage());
        }
    }
}

/// What was said of pairs that are in order: by gate and pair, the checks.
#[derive(Default)]
pub struct Noise {
    pub at: BTreeMap<Gate, BTreeMap<String, BTreeSet<&'static str>>>,
}

impl Noise {
    /// Plays pairs that are in order.
    pub fn of(world: &World, pairs: &[Pair]) -> Self {
        let mut noise = Self::default();
        for pair in pairs {
            world.play(pair, |gate, open| {
                let said = open.iter().map(|f| f.check.word()).collect();
                noise
                    .at
                    .entry(gate)
                    .or_default()
                    .insert(pair.id.clone(), said);
                true
            });
        }
        noise
    }

    fn share(clean: usize, all: usize) -> f64 {
        f64::from(u32::try_from(clean).unwrap()) / f64::from(u32::try_from(all.max(1)).unwrap())
    }

    /// Returns how many pairs a gate had nothing against, and how many came to it.
    pub fn clean(&self, gate: Gate) -> (usize, usize) {
        let here = self.at.get(&gate);
        let clean = here.map_or(0, |h| h.values().filter(|said| said.is_empty()).count());
        (clean, here.map_or(0, BTreeMap::len))
    }

    /// Returns the share of pairs with nothing against them before the order.
    pub fn ordered_share(&self) -> f64 {
        let (clean, all) = self.clean(Gate::Ordered);
        Self::share(clean, all)
    }

    /// Returns how many of the ordered pairs both later gates had nothing against, and how many were
    /// ordered.
    pub fn later(&self) -> (usize, usize) {
        let none = BTreeMap::new();
        let at = |gate| self.at.get(&gate).unwrap_or(&none);
        let (verified, collected) = (at(Gate::Verified), at(Gate::Collected));
        let is_clean = |said: Option<&BTreeSet<_>>| said.is_some_and(BTreeSet::is_empty);
        let clean = verified
            .iter()
            .filter(|(id, said)| said.is_empty() && is_clean(collected.get(*id)));
        (clean.count(), verified.len())
    }

    /// Returns the share of ordered pairs that both later gates had nothing against.
    pub fn later_share(&self) -> f64 {
        let (clean, all) = self.later();
        Self::share(clean, all)
    }

    /// Returns how many pairs each check held at a gate, and how many it alone; most first.
    pub fn by_check(&self, gate: Gate) -> Vec<(&'static str, usize, usize)> {
        let mut counts = BTreeMap::<&str, (usize, usize)>::new();
        for said in self.at.get(&gate).into_iter().flat_map(BTreeMap::values) {
            for check in said {
                let (all, alone) = counts.entry(check).or_default();
                *all += 1;
                *alone += usize::from(said.len() == 1);
            }
        }
        let mut rows: Vec<_> = counts.into_iter().map(|(c, (n, a))| (c, n, a)).collect();
        rows.sort_by_key(|(check, pairs, _)| (std::cmp::Reverse(*pairs), *check));
        rows
    }
}

/// A mistake in a pair that was in order.
pub struct Mistake {
    pub pair: Pair,
    /// The pair without the mistake.
    pub twin: String,
    pub what: String,
    /// The gate that is to hold it at the latest.
    pub gate: Gate,
    pub is_detectable: bool,
}

/// What became of one kind of mistake.
#[derive(Default)]
pub struct Caught {
    pub held: usize,
    pub all: usize,
    pub by: BTreeSet<&'static str>,
    /// The mistakes that were not held; those that never came to their gate among them.
    pub missed: Vec<String>,
}

/// Plays mistakes. One is held when its gate or an earlier one has a stop or warning that the pair
/// without it does not have there.
pub fn caught<'a>(
    world: &World,
    twins: &[Pair],
    mistakes: impl Iterator<Item = &'a Mistake>,
) -> BTreeMap<String, Caught> {
    let mut usual = BTreeMap::<(&str, Gate), BTreeSet<_>>::new();
    for twin in twins {
        world.play(twin, |gate, open| {
            let said = open.iter().map(|f| (f.check, f.severity)).collect();
            usual.insert((&twin.id, gate), said);
            true
        });
    }
    let mut kinds = BTreeMap::<String, Caught>::new();
    for mistake in mistakes {
        let kind = kinds.entry(mistake.what.clone()).or_default();
        let mut is_held = false;
        world.play(&mistake.pair, |gate, open| {
            let before = usual.get(&(mistake.twin.as_str(), gate));
            let is_new =
                |f: &&Finding| !before.is_some_and(|said| said.contains(&(f.check, f.severity)));
            let new: Vec<_> = open.iter().filter(is_new).map(|f| f.check.word()).collect();
            is_held |= !new.is_empty();
            kind.by.extend(new);
            !is_held && gate != mistake.gate
        });
        kind.all += 1;
        if is_held {
            kind.held += 1;
        } else {
            kind.missed.push(mistake.pair.id.clone());
        }
    }
    kinds
}

/// Returns how many of all mistakes were held, and how many there are.
pub fn held(kinds: &BTreeMap<String, Caught>) -> (usize, usize) {
    let sum = |of: fn(&Caught) -> usize| kinds.values().map(of).sum();
    (sum(|k| k.held), sum(|k| k.all))
}

/// Returns the share of all mistakes that was held.
pub fn held_share(kinds: &BTreeMap<String, Caught>) -> f64 {
    let (held, all) = held(kinds);
    Noise::share(held, all)
}
