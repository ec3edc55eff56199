//! The line of hints: every key that it shows is pressed, on every screen and in what state it can
//! be in, and does something there. Saying why nothing was done is not enough.

use std::collections::BTreeSet;

use crate::driver::Driver;
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::key::Key;
use rimbook::testing::tui::update::{self, Input};

/// The states: what it is, the screen it is on, and the keys that lead there from the worklist of
/// the invented practice, with its dispensing optician acting.
const STATES: &[(&str, Screen, &[&str])] = &[
    ("worklist", Screen::Worklist, &[]),
    ("look-up, nothing typed", Screen::Lookup, &["/"]),
    ("look-up, a past job", Screen::Lookup, &["/", "call"]),
    ("look-up, an open job", Screen::Lookup, &["/", "1001"]),
    ("look-up, nobody", Screen::Lookup, &["/", "zzzz"]),
    ("job, wearer", Screen::Job, &["/", "1001", "enter"]),
    (
        "job, prescription",
        Screen::Job,
        &["/", "1001", "enter", "alt-2"],
    ),
    (
        "job, left eye",
        Screen::Job,
        &[
            "/", "1001", "enter", "alt-2", "down", "down", "down", "down", "down", "down", "right",
        ],
    ),
    ("job, frame", Screen::Job, &["/", "1003", "enter", "alt-4"]),
    (
        "job, history",
        Screen::Job,
        &["/", "1001", "enter", "alt-9"],
    ),
    (
        "job, something to undo",
        Screen::Job,
        &["/", "1002", "enter", "alt-5", "down", "bif", "enter"],
    ),
    ("job, collected", Screen::Job, &["/", "call", "enter"]),
    (
        "job, all is filled in",
        Screen::Job,
        &["/", "1001", "enter", "alt-6"],
    ),
    (
        "typing a number",
        Screen::Job,
        &[
            "/", "1001", "enter", "alt-2", "down", "down", "down", "down", "down", "down", "-2",
        ],
    ),
    (
        "typing a text",
        Screen::Job,
        &["/", "1001", "enter", "alt-1", "xy"],
    ),
    (
        "typing, refused",
        Screen::Job,
        &["/", "1001", "enter", "alt-2", "-2.2", "enter"],
    ),
    (
        "typing, nothing left",
        Screen::Job,
        &["/", "1001", "enter", "alt-1", "x", "backspace"],
    ),
    (
        "gate, nothing holds",
        Screen::Gate,
        &["/", "1001", "enter", "ctrl-g"],
    ),
    (
        "gate, a warning",
        Screen::Gate,
        &["/", "1002", "enter", "ctrl-g"],
    ),
    (
        "gate, a stop",
        Screen::Gate,
        &["/", "1003", "enter", "ctrl-g"],
    ),
    (
        "gate, accepted",
        Screen::Gate,
        &["/", "1010", "enter", "ctrl-g"],
    ),
    (
        "gate, with the laboratory",
        Screen::Gate,
        &["/", "1006", "enter", "ctrl-g"],
    ),
    (
        "gate, collected",
        Screen::Gate,
        &["/", "call", "enter", "ctrl-g"],
    ),
    (
        "gate, a question open",
        Screen::Gate,
        &["/", "1002", "enter", "ctrl-g", "p", "which", "enter"],
    ),
    ("collections, first check", Screen::Collections, &["c"]),
    (
        "collections, a value",
        Screen::Collections,
        &["c", "y", "y", "y", "y", "y"],
    ),
    (
        "collections, a value not measured",
        Screen::Collections,
        &["c", "home", "end"],
    ),
    ("collections, another", Screen::Collections, &["c", "tab"]),
    ("parcel, list", Screen::Parcel, &["p"]),
    ("parcel, a number typed", Screen::Parcel, &["p", "1007"]),
    ("parcel, a tick", Screen::Parcel, &["p", "1007", "enter"]),
    (
        "parcel, a reading",
        Screen::Parcel,
        &["p", "1007", "enter", "y", "y", "y"],
    ),
    (
        "parcel, typing",
        Screen::Parcel,
        &["p", "1007", "enter", "y", "y", "y", "-3"],
    ),
    (
        "parcel, refused",
        Screen::Parcel,
        &["p", "1007", "enter", "y", "y", "y", "-3.xx", "enter"],
    ),
    ("parcel, read", Screen::Parcel, READ),
    ("parcel, verdict", Screen::Parcel, VERDICT),
    ("pictures", Screen::Pictures, &["/", "1001", "enter", "f6"]),
    (
        "choices, as recorded",
        Screen::Choices,
        &["/", "1002", "enter", "f7"],
    ),
    (
        "choices, another",
        Screen::Choices,
        &["/", "1002", "enter", "f7", "end"],
    ),
    (
        "choices, ordered",
        Screen::Choices,
        &["/", "1006", "enter", "f7"],
    ),
    (
        "choices, nothing to line up",
        Screen::Choices,
        &["n", "Una Merrowby", "enter", "f7"],
    ),
    ("workbench, list", Screen::Workbench, &["f8"]),
    ("workbench, last", Screen::Workbench, LAST),
    ("workbench, fields", Screen::Workbench, &["f8", "enter"]),
    (
        "workbench, typing",
        Screen::Workbench,
        &["f8", "enter", "+1"],
    ),
    (
        "workbench, of a job",
        Screen::Workbench,
        &[
            "/",
            "1002",
            "enter",
            "f8",
            "page-down",
            "page-down",
            "page-down",
            "page-down",
            "page-down",
            "page-down",
        ],
    ),
    ("figures", Screen::Figures, &["f"]),
    ("figures, earlier", Screen::Figures, &["f", "left"]),
    ("read aloud", Screen::Aloud, &["/", "call", "alt-r"]),
    (
        "visit, differences",
        Screen::Visit,
        &["/", "call", "enter", "alt-v", "enter"],
    ),
    (
        "visit, steps",
        Screen::Visit,
        &["/", "call", "enter", "alt-v", "enter", "tab"],
    ),
    (
        "visit, causes",
        Screen::Visit,
        &["/", "call", "enter", "alt-v", "enter", "tab", "tab"],
    ),
    (
        "visit, outcome",
        Screen::Visit,
        &["/", "call", "enter", "alt-v", "enter", "tab", "tab", "tab"],
    ),
    (
        "visit, typing",
        Screen::Visit,
        &[
            "/", "call", "enter", "alt-v", "enter", "tab", "tab", "tab", "blurred",
        ],
    ),
    (
        "visit, a remake decided",
        Screen::Visit,
        &[
            "/", "call", "enter", "alt-v", "enter", "tab", "tab", "tab", "down", "down", "down",
            "enter", "r", "enter",
        ],
    ),
];

const READ: &[&str] = &[
    "p",
    "1007",
    "enter",
    "y",
    "y",
    "y",
    "-3.01/-0.49x21",
    "enter",
    "-3.25",
    "enter",
];

const VERDICT: &[&str] = &[
    "p",
    "1007",
    "enter",
    "y",
    "y",
    "y",
    "-3.01/-0.49x21",
    "enter",
    "-3.25",
    "enter",
    "32",
    "enter",
    "31.5",
    "enter",
    "21",
    "enter",
    "21",
    "enter",
];

const LAST: &[&str] = &[
    "f8",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
    "page-down",
];

/// The invented practice, in a state.
fn in_state(keys: &[&str]) -> Driver {
    let mut d = Driver::demo();
    d.keys(keys);
    d
}

/// The keys and words that stand in the line of hints.
fn shown(d: &Driver, width: u16, height: u16) -> BTreeSet<(String, String)> {
    let screen = d.screen(width, height);
    let line = screen.lines().last().unwrap().trim();
    let hints = line.split("   ").map(str::trim).filter(|h| !h.is_empty());
    hints
        .map(|hint| {
            let (key, word) = hint.split_once(' ').expect("a key and its word");
            (key.to_owned(), word.to_owned())
        })
        .collect()
}

/// What the screens know, less what was only said.
fn knows(d: &mut Driver) -> String {
    let said = d.app.notice.take();
    let all = format!("{:?}", d.app);
    d.app.notice = said;
    all
}

/// Whatever text is being typed.
fn texts(d: &Driver) -> [Option<String>; 4] {
    let job = d.app.states.form().and_then(|f| f.edit());
    [
        job.map(|e| e.line.text().to_owned()),
        (d.app.states.visit())
            .and_then(|v| v.edit())
            .map(|e| e.line.text().to_owned()),
        (d.app.states.workbench())
            .and_then(|b| b.editor.edit())
            .map(|e| e.line.text().to_owned()),
        d.app.states.lookup().map(|l| l.line.text().to_owned()),
    ]
}

#[test]
fn every_key_in_the_line_of_hints_does_something_in_every_state() {
    let (mut idle, mut pressed) = (Vec::new(), 0);
    for (state, screen, keys) in STATES {
        let d = in_state(keys);
        assert_eq!(d.app.screen, *screen, "{state}: {}", d.said());
        assert!(d.app.dialog.is_none(), "{state}: {:?}", d.app.dialog);
        let narrow = shown(&d, 80, 24);
        let wide = shown(&d, 120, 40);
        assert!(narrow.is_subset(&wide), "{state}: {narrow:?} {wide:?}");
        assert!(!narrow.is_empty(), "{state}");
        for (name, word) in wide {
            let key = Key::parse(&name).unwrap();
            let mut d = in_state(keys);
            let (before, was) = (knows(&mut d), texts(&d));
            let effects = update::input(&mut d.app, Input::Key(key));
            pressed += 1;
            if effects.is_empty() && knows(&mut d) == before {
                idle.push(format!("{state}: {name} {word}: {:?}", d.said()));
            }
            // A key that is typed as text is no command.
            let typed = texts(&d).into_iter().zip(was).any(|(now, was)| {
                was.is_some_and(|was| now.is_some_and(|now| now.len() > was.len()))
            });
            if typed && !word.starts_with("step") {
                idle.push(format!("{state}: {name} {word} is typed"));
            }
        }
    }
    assert!(idle.is_empty(), "{idle:#?}");
    assert!(pressed > 200, "{pressed} keys were pressed");
}

#[test]
fn what_works_nowhere_on_a_screen_is_not_hinted_there() {
    let words = |keys: &[&str]| -> BTreeSet<String> {
        let d = in_state(keys);
        shown(&d, 120, 40)
            .into_iter()
            .map(|(_, word)| word)
            .collect()
    };
    let reading = words(&["p", "1007", "enter", "y", "y", "y", "-3"]);
    assert!(!reading.contains("marked") && !reading.contains("step up"));
    let stop = words(&["/", "1003", "enter", "ctrl-g"]);
    assert!(
        !stop.contains("accept"),
        "a stop is accepted by nobody: {stop:?}"
    );
    let warning = words(&["/", "1002", "enter", "ctrl-g"]);
    assert!(warning.contains("accept"), "{warning:?}");
    // In the look-up a question mark is looked for; the help has another key.
    let d = in_state(&["/"]);
    let help = ("f1".to_owned(), "help".to_owned());
    assert!(shown(&d, 80, 24).contains(&help));
}

#[test]
fn the_gate_names_the_keys_of_what_can_be_done_about_the_job() {
    let at = |number: &str, width: u16| -> BTreeSet<String> {
        let d = in_state(&["/", number, "enter", "ctrl-g"]);
        assert_eq!(d.app.screen, Screen::Gate);
        let shown = shown(&d, width, 24);
        shown.into_iter().map(|(_, word)| word).collect()
    };
    // The prescriber was asked: the answer is what moves it, in a narrow window too.
    let asked = at("1013", 80);
    assert!(
        asked.contains("answer") && asked.contains("help"),
        "{asked:?}"
    );
    assert!(!asked.contains("send back") && !asked.contains("recheck"));
    let delivered = at("1006", 80);
    assert!(delivered.contains("send back"), "{delivered:?}");
    assert!(!delivered.contains("answer"), "{delivered:?}");
    let collected = at("1028", 80);
    for word in ["recheck", "visit"] {
        assert!(collected.contains(word), "{word}: {collected:?}");
        assert!(!delivered.contains(word), "{word}: {delivered:?}");
    }
    assert!(!collected.contains("cancel job") && !collected.contains("move on"));
    let wide = at("1006", 120);
    for word in ["ask prescriber", "cancel job", "send back"] {
        assert!(wide.contains(word), "{word}: {wide:?}");
    }
}
