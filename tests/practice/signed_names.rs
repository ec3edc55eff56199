//! Names that somebody is answerable by count only where their owner signed them.
#![allow(clippy::disallowed_methods, reason = "tests")]

use crate::driver::{assistant, clock, optician, scenario};
use crate::sign_in::is_refused;
use rimbook::testing::book::desk::{Desk, OpenJob, Security};
use rimbook::testing::job::{Contact, Gate, Repair, Section};
use rimbook::testing::judge::gate::Finding;
use serde_json::{Value, json};

const OPTICIAN: &str = "Ines Calloway";
const ASSISTANT: &str = "Nadia Brookwell";
const PINS: [(&str, &str); 2] = [(OPTICIAN, "4710"), (ASSISTANT, "8253")];
const ON: Security = Security {
    sign_in: true,
    idle_minutes: 5,
};

/// A book in which everybody signs in, and the assistant is signed in.
fn book() -> (tempfile::TempDir, Desk) {
    let dir = tempfile::tempdir().unwrap();
    let mut desk = Desk::create(&dir.path().join("book.db"), clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    desk.add_staff(assistant()).unwrap();
    for (name, pin) in PINS {
        desk.set_secret(name, pin, name).unwrap();
    }
    desk.set_security(ON, OPTICIAN).unwrap();
    as_person(&mut desk, ASSISTANT);
    (dir, desk)
}

fn as_person(desk: &mut Desk, name: &str) {
    let (_, pin) = PINS.iter().find(|(n, _)| *n == name).unwrap();
    desk.sign_in(name, pin).unwrap();
}

/// A sound pair in which every name is the optician's, for a wearer who is registered sight impaired.
fn restricted_pair() -> Value {
    let mut job = scenario("S01")["job"].clone();
    job["wearer"]["sight_impaired"] = json!("partial");
    job
}

fn unsigned(desk: &Desk, number: &str, gate: Gate) -> Vec<Finding> {
    let open = desk.load(number).unwrap();
    let mut list = desk.findings(&open, gate).unwrap();
    list.retain(|f| f.check == "unsigned" && f.is_open());
    list
}

fn fields(findings: &[Finding]) -> Vec<&str> {
    findings.iter().map(|f| f.field.as_str()).collect()
}

fn record(desk: &mut Desk, section: Section, change: &Value, by: &str) -> OpenJob {
    desk.record("1001", section, change, None, Some(by))
        .unwrap()
}

/// The readings or the handover of the scenario that [`restricted_pair`] is made of.
fn step(section: &str) -> Value {
    let scenario = scenario("S01");
    let steps = scenario["steps"].as_array().unwrap();
    let step = steps.iter().find(|s| s["section"] == section).unwrap();
    step["value"].clone()
}

#[test]
fn an_assistant_who_types_a_registrants_name_gets_through_no_gate() {
    let (_dir, mut desk) = book();
    desk.import(&restricted_pair().to_string(), Some(ASSISTANT))
        .unwrap();
    let held = unsigned(&desk, "1001", Gate::Ordered);
    assert_eq!(fields(&held), ["fitting.taken_by"]);
    assert!(held[0].message.contains(OPTICIAN) && held[0].message.contains(ASSISTANT));
    let moved = |desk: &mut Desk, gate, by| {
        let advance = desk.advance("1001", gate, by, None).unwrap();
        let mut open = advance.findings.iter().filter(|f| f.is_open());
        let other = open.find(|f| f.check != "unsigned");
        assert!(other.is_none(), "{other:?}");
        advance.moved
    };
    assert!(!moved(&mut desk, Gate::Ordered, ASSISTANT));
    // Not even the owner moves it without having confirmed.
    as_person(&mut desk, OPTICIAN);
    assert!(!moved(&mut desk, Gate::Ordered, OPTICIAN));
    desk.confirm("1001", &[], OPTICIAN).unwrap();
    assert!(moved(&mut desk, Gate::Ordered, OPTICIAN));

    as_person(&mut desk, ASSISTANT);
    record(&mut desk, Section::Readings, &step("readings"), ASSISTANT);
    let held = unsigned(&desk, "1001", Gate::Verified);
    assert_eq!(fields(&held), ["readings.taken_by"]);
    assert!(!moved(&mut desk, Gate::Verified, ASSISTANT));
    as_person(&mut desk, OPTICIAN);
    desk.confirm("1001", &["readings.taken_by".to_owned()], OPTICIAN)
        .unwrap();
    assert!(moved(&mut desk, Gate::Verified, OPTICIAN));

    as_person(&mut desk, ASSISTANT);
    let mut handover = step("handover");
    handover["given_by"] = json!(ASSISTANT);
    handover["supervised_by"] = json!(OPTICIAN);
    record(&mut desk, Section::Handover, &handover, ASSISTANT);
    let held = unsigned(&desk, "1001", Gate::Collected);
    assert_eq!(fields(&held), ["handover.supervised_by"]);
    assert!(!moved(&mut desk, Gate::Collected, ASSISTANT));
}

#[test]
fn every_name_of_weight_needs_its_owner() {
    let (_dir, mut desk) = book();
    let mut job = restricted_pair();
    job["fitting"]["taken_by"] = json!(ASSISTANT);
    job["fitting"]["supervised_by"] = json!(OPTICIAN);
    job["prescription"]["kind"] = json!("copied from worn pair");
    job["prescription"]["copied_by"] = json!(OPTICIAN);
    job["lenses"]["powers"]["by"] = json!(OPTICIAN);
    job["visit"] = json!({"outcome": "adjusted", "decided_by": OPTICIAN});
    job["aftercare"] = json!({
        "contacts": [{"at": "2026-10-12T09:00", "by": OPTICIAN, "how": "letter"}],
        "repairs": [{"on": "2026-10-12", "by": OPTICIAN, "supervised_by": OPTICIAN}],
    });
    desk.import(&job.to_string(), Some(ASSISTANT)).unwrap();
    let mut held: Vec<String> = unsigned(&desk, "1001", Gate::Ordered)
        .into_iter()
        .map(|f| f.field)
        .collect();
    held.sort();
    let all = [
        "aftercare.contacts.0.by",
        "aftercare.repairs.0.by",
        "aftercare.repairs.0.supervised_by",
        "fitting.supervised_by",
        "lenses.powers.by",
        "prescription.copied_by",
        "visit.decided_by",
    ];
    assert_eq!(held, all);
    as_person(&mut desk, OPTICIAN);
    let waiting = desk.waiting_names(OPTICIAN).unwrap();
    assert_eq!(waiting.len(), all.len());
    assert!(waiting.iter().all(|w| w.typed_by == ASSISTANT));
    assert!(desk.waiting_names(ASSISTANT).unwrap().is_empty());
    desk.confirm("1001", &[], OPTICIAN).unwrap();
    assert!(unsigned(&desk, "1001", Gate::Ordered).is_empty());
    assert!(desk.waiting_names(OPTICIAN).unwrap().is_empty());
}

#[test]
fn powers_and_contacts_recorded_in_anothers_name_are_unsigned() {
    let (_dir, mut desk) = book();
    let mut job = restricted_pair();
    job["fitting"]["taken_by"] = json!(ASSISTANT);
    desk.import(&job.to_string(), Some(ASSISTANT)).unwrap();
    assert!(unsigned(&desk, "1001", Gate::Ordered).is_empty());
    let powers = json!({"powers": {"as": "vertex compensated", "by": OPTICIAN}});
    record(&mut desk, Section::Lenses, &powers, ASSISTANT);
    let contact =
        json!({"contacts": [{"at": "2026-10-12T09:00", "by": OPTICIAN, "told": "ready"}]});
    record(&mut desk, Section::Aftercare, &contact, ASSISTANT);
    let held = unsigned(&desk, "1001", Gate::Ordered);
    assert_eq!(
        fields(&held),
        ["lenses.powers.by", "aftercare.contacts.0.by"]
    );
    // What somebody notes in the own name is signed, and signs nothing else of the list.
    as_person(&mut desk, OPTICIAN);
    let own: Contact = serde_json::from_value(json!({"how": "letter"})).unwrap();
    desk.add_contact("1001", OPTICIAN, own).unwrap();
    let held = unsigned(&desk, "1001", Gate::Ordered);
    assert_eq!(
        fields(&held),
        ["lenses.powers.by", "aftercare.contacts.0.by"]
    );
}

#[test]
fn a_signature_covers_the_values_beside_the_name() {
    let (_dir, mut desk) = book();
    as_person(&mut desk, OPTICIAN);
    desk.import(&restricted_pair().to_string(), Some(OPTICIAN))
        .unwrap();
    assert!(unsigned(&desk, "1001", Gate::Ordered).is_empty());
    // The owner's own change leaves it signed, another section is no matter of it.
    record(
        &mut desk,
        Section::Fitting,
        &json!({"right": {"cd_mm": 31.0}}),
        OPTICIAN,
    );
    as_person(&mut desk, ASSISTANT);
    record(
        &mut desk,
        Section::Frame,
        &json!({"colour": "grey"}),
        ASSISTANT,
    );
    assert!(unsigned(&desk, "1001", Gate::Ordered).is_empty());
    let open = record(
        &mut desk,
        Section::Fitting,
        &json!({"right": {"cd_mm": 32.0}}),
        ASSISTANT,
    );
    assert_eq!(
        open.job.names["fitting.taken_by"].typed_by.as_deref(),
        Some(ASSISTANT)
    );
    assert_eq!(
        fields(&unsigned(&desk, "1001", Gate::Ordered)),
        ["fitting.taken_by"]
    );
    // A change of a value by the owner is no confirmation of what the other entered.
    as_person(&mut desk, OPTICIAN);
    record(
        &mut desk,
        Section::Fitting,
        &json!({"left": {"cd_mm": 31.5}}),
        OPTICIAN,
    );
    assert_eq!(unsigned(&desk, "1001", Gate::Ordered).len(), 1);
    // Entering the own name again is.
    record(
        &mut desk,
        Section::Fitting,
        &json!({"taken_by": OPTICIAN}),
        OPTICIAN,
    );
    assert!(unsigned(&desk, "1001", Gate::Ordered).is_empty());
    let open = record(
        &mut desk,
        Section::Fitting,
        &json!({"taken_by": null}),
        OPTICIAN,
    );
    assert!(!open.job.names.contains_key("fitting.taken_by"));
}

#[test]
fn what_was_kept_while_sign_in_was_off_holds_nothing_until_somebody_changes_it() {
    let (_dir, mut desk) = book();
    as_person(&mut desk, OPTICIAN);
    desk.set_security(Security::default(), OPTICIAN).unwrap();
    desk.sign_out();
    desk.import(&restricted_pair().to_string(), None).unwrap();
    assert!(desk.load("1001").unwrap().job.names.is_empty());
    assert!(is_refused(desk.confirm("1001", &[], OPTICIAN)).contains("not signed in"));
    desk.set_security(ON, OPTICIAN).unwrap();
    assert!(unsigned(&desk, "1001", Gate::Ordered).is_empty());
    as_person(&mut desk, ASSISTANT);
    record(
        &mut desk,
        Section::Fitting,
        &json!({"right": {"cd_mm": 32.0}}),
        ASSISTANT,
    );
    assert_eq!(unsigned(&desk, "1001", Gate::Ordered).len(), 1);
    // Off again: it is silent, and a change drops what was known of the name.
    as_person(&mut desk, OPTICIAN);
    desk.set_security(Security::default(), OPTICIAN).unwrap();
    assert!(unsigned(&desk, "1001", Gate::Ordered).is_empty());
}

#[test]
fn a_file_brings_no_signature_along() {
    let (_dir, mut desk) = book();
    let mut job = restricted_pair();
    job["names"] = json!({"fitting.taken_by": {"at": "2026-10-12T09:00"}});
    let imported = desk.import(&job.to_string(), Some(ASSISTANT)).unwrap();
    assert!(imported.ignored.iter().any(|key| key.starts_with("names")));
    assert_eq!(unsigned(&desk, "1001", Gate::Ordered).len(), 1);
}

#[test]
fn a_job_begun_from_a_signed_one_keeps_what_is_carried_whole_and_no_more() {
    let (_dir, mut desk) = book();
    as_person(&mut desk, OPTICIAN);
    let mut job = restricted_pair();
    job["prescription"]["kind"] = json!("copied from worn pair");
    job["prescription"]["copied_by"] = json!(OPTICIAN);
    desk.import(&job.to_string(), Some(OPTICIAN)).unwrap();
    as_person(&mut desk, ASSISTANT);
    let begun = desk
        .begin_from("1001", rimbook::testing::job::Reason::SecondPair, ASSISTANT)
        .unwrap();
    for (path, entry) in &begun.job.names {
        let was = desk.load("1001").unwrap().job.value_at(path);
        assert_eq!(begun.job.value_at(path), was, "{path}");
        let section = Section::from_word(path.split('.').next().unwrap()).unwrap();
        let old = desk.load("1001").unwrap().job.section(section).unwrap();
        if begun.job.section(section).unwrap() != old {
            assert_eq!(entry.typed_by.as_deref(), Some(ASSISTANT), "{path}");
        }
    }
}

#[test]
fn only_the_owner_confirms_and_only_what_waits() {
    let (_dir, mut desk) = book();
    desk.import(&restricted_pair().to_string(), Some(ASSISTANT))
        .unwrap();
    is_refused(desk.confirm("1001", &[], OPTICIAN));
    let said = is_refused(desk.confirm("1001", &[], ASSISTANT));
    assert!(said.contains("nothing of job 1001 waits"), "{said}");
    is_refused(desk.confirm("1001", &["fitting.taken_by".to_owned()], ASSISTANT));
    // At another's screen, by the PIN; whoever is signed in stays so.
    is_refused(desk.confirm_with_secret("1001", &[], OPTICIAN, "4711"));
    assert_eq!(desk.signed_in(), Some(ASSISTANT));
    assert_eq!(unsigned(&desk, "1001", Gate::Ordered).len(), 1);
    desk.confirm_with_secret("1001", &[], OPTICIAN, "4710")
        .unwrap();
    assert_eq!(desk.signed_in(), Some(ASSISTANT));
    assert!(unsigned(&desk, "1001", Gate::Ordered).is_empty());
    let history = desk.history("1001").unwrap();
    let event = history.last().unwrap();
    assert_eq!(event.by.as_deref(), Some(OPTICIAN));
    assert_eq!(event.detail["confirmed"][0]["field"], "fitting.taken_by");
    assert_eq!(event.detail["confirmed"][0]["typed_by"], ASSISTANT);
}

#[test]
fn a_repair_of_a_restricted_pair_does_not_rest_on_a_supervisor_who_did_not_sign() {
    let (_dir, mut desk) = book();
    as_person(&mut desk, OPTICIAN);
    let mut pair = restricted_pair();
    (pair["past"], pair["stage"], pair["number"]) =
        (json!(true), json!("collected"), json!("1001"));
    pair["handover"] = step("handover");
    desk.import(&pair.to_string(), Some(OPTICIAN)).unwrap();
    as_person(&mut desk, ASSISTANT);
    let repair: Repair = serde_json::from_value(json!({
        "kind": "sides set", "right": {"vertex_mm": 12}, "supervised_by": OPTICIAN,
    }))
    .unwrap();
    let answer = desk.add_repair("1001", ASSISTANT, repair.clone()).unwrap();
    assert!(answer.kept.is_none());
    assert!(answer.findings.iter().any(|f| f.check == "unsigned"));
    as_person(&mut desk, OPTICIAN);
    let answer = desk.add_repair("1001", OPTICIAN, repair).unwrap();
    assert!(answer.kept.is_some(), "{:?}", answer.findings);
}
