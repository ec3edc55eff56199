//! A code of history, or a signed head from beside a backup, shows later that nothing before it was
//! rewritten, even where the whole chain was worked out again.
#![allow(clippy::disallowed_methods, reason = "tests")]

use crate::practice::{Practice, past_the_program};
use serde_json::Value;

/// The level and the sentence of the look against something that was kept.
fn against(practice: &Practice, kept: &str) -> (String, String) {
    let (_, said) = practice.doctor(&["--against", kept]);
    let all = said["findings"].as_array().unwrap();
    let found = all.iter().find(|f| f["id"] == "head").unwrap();
    let text = |key: &str| found[key].as_str().unwrap().to_owned();
    (text("level"), text("message"))
}

fn code(practice: &Practice) -> String {
    practice.does(&["doctor", "--head"])["code"]
        .as_str()
        .unwrap()
        .to_owned()
}

/// A history that was rewritten as a whole: the newest entries are taken out and their jobs with them,
/// which leaves one consistent chain.
fn rewrite(practice: &Practice) {
    past_the_program(
        &practice.book(),
        "DELETE FROM job_search WHERE rowid = 3; DELETE FROM job WHERE id = 3;
         DELETE FROM history_detail WHERE id = 5; DELETE FROM history WHERE id = 5;",
    );
}

#[test]
fn a_code_that_was_written_down_shows_a_history_that_was_rewritten() {
    let practice = Practice::begin();
    let before = code(&practice);
    assert_eq!(against(&practice, &before).0, "ok");
    practice.import("Tove Marsh");
    let (level, said) = against(&practice, &before.to_lowercase());
    assert_eq!(
        (level.as_str(), said.contains("and 1 entries since")),
        ("ok", true),
        "{said}"
    );

    let practice = Practice::begin();
    let before = code(&practice);
    rewrite(&practice);
    // Consistent in itself: only what was kept tells.
    assert_eq!(practice.doctor(&[]).0, 0);
    practice.import("Somebody Else");
    assert_eq!(practice.doctor(&[]).0, 0);
    let (level, said) = against(&practice, &before);
    assert!(
        level == "fault" && said.contains("does not hold entry 5"),
        "{said}"
    );
    assert_eq!(practice.doctor(&["--against", &before]).0, 1);
}

#[test]
fn a_backup_has_a_signed_head_beside_it_that_is_compared_as_well() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let backup = practice.back_up(&dir);
    let head = format!("{}.head", backup.display());
    assert_eq!(against(&practice, &head).0, "ok");
    let text = std::fs::read_to_string(&head).unwrap();
    let mut told: Value = serde_json::from_str(&text).unwrap();
    assert_eq!((&told["entries"], &told["jobs"]), (&5.into(), &3.into()));
    // The key lies outside the book, for its owner alone.
    let key = practice.path(".local/state/rimbook");
    let keys = crate::practice::names(&key);
    assert_eq!(keys.len(), 1, "{keys:?}");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        for file in [key.join(&keys[0]), head.clone().into()] {
            let mode = std::fs::metadata(file).unwrap().permissions().mode();
            assert_eq!(mode & 0o777, 0o600);
        }
    }
    // Changed, it is no longer signed.
    told["jobs"] = 2.into();
    let forged = practice.path("forged.head");
    std::fs::write(&forged, told.to_string()).unwrap();
    let (level, said) = against(&practice, forged.to_str().unwrap());
    assert!(level == "fault" && said.contains("signature"), "{said}");
    // Another book's.
    let other = Practice::begin();
    let (level, said) = against(&other, &head);
    assert!(level == "fault" && said.contains("another book"), "{said}");
    let (level, said) = against(&practice, "no code");
    assert!(level == "fault" && said.contains("no code"), "{said}");
    // Signed with another key than the one here.
    std::fs::remove_dir_all(&key).unwrap();
    practice.back_up(&dir);
    let (level, said) = against(&practice, &head);
    assert!(level == "warning" && said.contains("another key"), "{said}");
    rewrite(&practice);
    assert_eq!(against(&practice, &head).0, "fault");
}

#[test]
fn a_head_goes_with_the_backup_it_belongs_to() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    practice.keep_newest_in(&dir);
    practice.import("Tove Marsh");
    practice.does(&["backup"]);
    let names = crate::practice::names(&dir);
    assert_eq!(names.len(), 2, "{names:?}");
    assert!(names[1].ends_with(".db.head"), "{names:?}");
}
