//! What survives where there is little room: number and surname at the top, a whole power beside the
//! form.

use crate::driver::{Driver, scenario};
use serde_json::json;

/// A job of a wearer, opened.
fn opened(name: &str) -> Driver {
    let mut file = scenario("S01")["job"].clone();
    file["wearer"]["name"] = json!(name);
    let mut d = Driver::signed_in(&[file]);
    d.keys(&["enter"]);
    d
}

fn top(d: &Driver, width: u16) -> String {
    let screen = d.screen(width, 20);
    screen.lines().next().unwrap().to_owned()
}

#[test]
fn number_and_surname_outlive_everything_else_at_the_top() {
    for name in [
        "Alma Dunwood",
        "Mina Okoro-Hale",
        "Marguerite Anneliese Brandt-Thorncroft",
    ] {
        let mut d = opened(name);
        let surname = name.split(' ').next_back().unwrap();
        for keys in [&[][..], &["ctrl-g"], &["esc", "f6"], &["esc", "f8"]] {
            d.keys(keys);
            for width in [60, 64, 70, 80, 90, 100, 120, 140] {
                let top = top(&d, width);
                let number = d.app.job.as_ref().unwrap().open.number.clone();
                assert!(top.contains(surname), "{width}: {top}");
                assert!(top.contains(&format!("{number} ")), "{width}: {top}");
                assert!(!top.contains('…'), "{width}: {top}");
                // Who acts is said as long as there is room for it, and that nobody proved it.
                let who = top.contains("Ines Calloway");
                assert!(who || width < 80, "{width}: {top}");
                let unproven = ["unproven", "not signed in", "Calloway?"];
                assert!(
                    !who || unproven.iter().any(|u| top.contains(u)),
                    "{width}: {top}"
                );
            }
        }
    }
    // A usual name stands whole in a usual window, with both cautions in words.
    let top = top(&opened("Alma Dunwood"), 80);
    assert!(top.contains("Alma Dunwood"), "{top}");
    assert!(
        top.contains("unproven") && top.contains("trial day"),
        "{top}"
    );
}

#[test]
fn the_help_explains_the_marks_of_the_top_line() {
    let mut d = opened("Alma Dunwood");
    d.keys(&["f1", "end"]);
    let screen = d.screen(60, 40);
    assert!(screen.contains("Ines Calloway?"), "{screen}");
    assert!(screen.contains("has proved by a PIN"), "{screen}");
    assert!(
        screen.contains("12 Oct*") && screen.contains("trial"),
        "{screen}"
    );
}

#[test]
fn a_list_of_sections_that_is_cut_says_so() {
    let mut d = opened("Alma Dunwood");
    for key in ["alt-1", "alt-5", "alt-9"] {
        d.keys(&[key]);
        let screen = d.screen(60, 20);
        let tabs = screen.lines().nth(2).unwrap();
        assert!(tabs.contains('['), "{tabs}");
        let (first, last) = (tabs.contains("wearer"), tabs.contains("history"));
        assert!(last || tabs.ends_with('…'), "{tabs}");
        assert!(first || last, "{tabs}");
    }
}

#[test]
fn a_power_beside_the_form_is_never_cut() {
    for id in ["S01", "S02", "S05", "S12"] {
        let mut d = Driver::signed_in(&[scenario(id)["job"].clone()]);
        d.keys(&["enter"]);
        let worked = d.app.job.as_ref().unwrap().worked.clone();
        for key in ["alt-1", "alt-2", "alt-3", "alt-5", "alt-6"] {
            d.keys(&[key]);
            let screen = d.screen(120, 40);
            for line in screen
                .lines()
                .filter(|l| l.contains("compensated for vertex"))
            {
                assert!(!line.contains('…'), "{id} {key}: {line}");
            }
            // A line that is begun is ended: each of its words is there.
            for w in worked
                .iter()
                .filter(|w| w.label == "compensated for vertex")
            {
                let begins = w.text.split(',').next().unwrap();
                if screen.contains(begins) {
                    let end = w.text.rsplit(", ").next().unwrap();
                    assert!(screen.contains(end), "{id} {key}: {end}\n{screen}");
                }
            }
        }
    }
}

#[test]
fn beside_the_form_every_value_of_one_eye_says_of_which() {
    let mut d = Driver::signed_in(&[scenario("S01")["job"].clone()]);
    d.keys(&["enter", "alt-5"]);
    let screen = d.screen(120, 40);
    for label in ["thickness", "image size"] {
        for eye in ["R", "L"] {
            assert!(
                screen.contains(&format!("{eye} {label} ")),
                "{eye} {label}\n{screen}"
            );
        }
    }
}
