//! The demo book is built through the gate: every job reaches the stage its file means it to.

use chrono::NaiveDate;
use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::demo::{build, files};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::Stage;

#[test]
fn every_step_of_every_job_is_let_through() {
    let folder = tempfile::tempdir().unwrap();
    let clock = Clock {
        fixed: NaiveDate::from_ymd_opt(2026, 11, 25),
    };
    let mut desk = Desk::create(&folder.path().join("demo.db"), clock).unwrap();
    let built = build(&mut desk).unwrap_or_else(|e| panic!("{e:?}"));
    // One file has its pair looked at again, which is a job more.
    assert_eq!(built.jobs, files().len() + 1);
    let lines = desk.worklist().unwrap();
    let held_by = |wearer: &str, check: &str| {
        lines
            .iter()
            .any(|line| line.wearer == wearer && line.held.iter().any(|held| held == check))
    };
    for (wearer, check) in [
        ("Tomas Wend", "bvd-mismatch"),
        ("Mina Okoro-Hale", "allergy-nickel"),
        ("Ruth Callander", "height-minimum"),
        ("Selma Darrow", "lens-axis"),
        ("Joss Tarrant", "rx-sign-suspect"),
    ] {
        assert!(held_by(wearer, check), "{wearer} is held by {check}");
    }
    assert!(
        lines
            .iter()
            .any(|l| l.stage == Stage::Measured && l.held.is_empty()),
        "one is ready to order"
    );
    assert_eq!(lines.iter().filter(|l| l.late).count(), 1);
    let verified = lines.iter().filter(|l| l.stage == Stage::Verified);
    assert_eq!(verified.filter(|l| l.collection_at.is_some()).count(), 2);
}
