//! Drives the screens by keys, over a real book in a file of its own.

#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "each test file uses its part"
)]

use std::collections::VecDeque;
use std::path::PathBuf;
use std::sync::OnceLock;

use chrono::NaiveDate;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::{Gate, Job, Role, Section, StaffMember};
use rimbook::testing::trade::eye::Eye;
use rimbook::testing::tui::App;
use rimbook::testing::tui::effect::Effect;
use rimbook::testing::tui::key::{Code, Key, NAMED};
use rimbook::testing::tui::keymap::Keymap;
use rimbook::testing::tui::perform::Performer;
use rimbook::testing::tui::screens::{collections, parcel, visit};
use rimbook::testing::tui::ui;
use rimbook::testing::tui::update::{self, Input};
use rimbook::testing::tui::widgets::theme::Theme;
use serde_json::{Value, json};

pub struct Driver {
    pub app: App,
    pub performer: Performer,
    pub path: PathBuf,
    #[allow(dead_code, reason = "kept for as long as the book in it")]
    dir: Option<tempfile::TempDir>,
}

pub fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 10, 12).unwrap()
}

pub fn clock() -> Clock {
    Clock {
        fixed: Some(today()),
    }
}

pub fn optician() -> StaffMember {
    StaffMember {
        name: "Ines Calloway".to_owned(),
        role: Role::DispensingOptician,
        registration: Some("R2041".to_owned()),
        supervisor: None,
    }
}

pub fn assistant() -> StaffMember {
    StaffMember {
        name: "Nadia Brookwell".to_owned(),
        role: Role::Assistant,
        registration: None,
        supervisor: None,
    }
}

/// The job of a scenario, as a job file.
pub fn scenario(id: &str) -> Value {
    let all: Value =
        serde_json::from_str(include_str!("../data/scenarios.json")).expect("the scenarios");
    let list = all["scenarios"].as_array().expect("a list").clone();
    list.into_iter()
        .find(|s| s["id"] == id)
        .expect("the scenario")
}

/// The book of the invented practice on the day of the tests: a copy of one that each run of a binary
/// builds once.
pub fn demo_book() -> (tempfile::TempDir, PathBuf) {
    static BUILT: OnceLock<Vec<u8>> = OnceLock::new();
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    let content = BUILT.get_or_init(|| {
        let mut desk = Desk::create(&path, clock()).unwrap();
        rimbook::testing::book::demo::build(&mut desk).unwrap();
        drop(desk);
        assert!(!dir.path().join("book.db-wal").exists(), "in one file");
        std::fs::read(&path).unwrap()
    });
    std::fs::write(&path, content).unwrap();
    (dir, path)
}

impl Driver {
    pub fn visit(&self) -> &visit::State {
        self.app.states.visit().expect("the visit was opened")
    }

    pub fn collections(&self) -> &collections::State {
        let state = self.app.states.collections();
        state.expect("the collections were opened")
    }

    /// What the parcel remembers.
    pub fn parcel(&self) -> &parcel::State {
        self.app.states.parcel().expect("the parcel was opened")
    }

    /// What the parcel remembers, to be changed.
    pub fn parcel_mut(&mut self) -> &mut parcel::State {
        let state = self.app.states.parcel_mut();
        state.expect("the parcel was opened")
    }

    /// The pair in hand at the parcel.
    pub fn in_hand(&self) -> Option<&Job> {
        self.parcel().pair(self.app.seen())
    }

    /// Whether the parcel shows its verdict.
    pub fn shows_verdict(&self) -> bool {
        self.parcel().shows_verdict(self.app.seen())
    }

    pub fn collections_mut(&mut self) -> &mut collections::State {
        let state = self.app.states.collections_mut();
        state.expect("the collections were opened")
    }

    /// Opens a new book with two people and the jobs given.
    pub fn with(jobs: &[Value]) -> Self {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("book.db");
        let mut desk = Desk::create(&path, clock()).unwrap();
        desk.add_staff(optician()).unwrap();
        desk.add_staff(assistant()).unwrap();
        for job in jobs {
            desk.import(&job.to_string(), Some("Ines Calloway"))
                .unwrap();
        }
        drop(desk);
        let mut driver = Self::on(path);
        driver.dir = Some(dir);
        driver
    }

    /// The invented practice with its dispensing optician acting, the third on the list.
    pub fn demo() -> Self {
        let (dir, path) = demo_book();
        let mut driver = Self::on(path);
        driver.dir = Some(dir);
        driver.keys(&["w", "down", "down", "enter"]);
        assert_eq!(driver.app.person.as_deref(), Some("Hanne Sorrel"));
        driver
    }

    /// Opens a book that is there, or the welcome where there is none.
    pub fn on(path: PathBuf) -> Self {
        Self::on_day(path, clock())
    }

    /// The same on another day.
    pub fn on_day(path: PathBuf, clock: Clock) -> Self {
        let (mut performer, mut app) = Performer::start(&path, clock, Keymap::default()).unwrap();
        let effects = update::message(&mut app, performer.begin());
        let mut driver = Self {
            app,
            performer,
            path,
            dir: None,
        };
        driver.run(effects);
        driver
    }

    /// Signed in as the optician.
    pub fn signed_in(jobs: &[Value]) -> Self {
        let mut driver = Self::with(jobs);
        driver.keys(&["w", "enter"]);
        assert_eq!(
            driver.app.person.as_deref(),
            Some("Ines Calloway"),
            "signed in"
        );
        driver
    }

    pub fn run(&mut self, effects: Vec<Effect>) {
        let mut queue: VecDeque<Effect> = effects.into();
        while let Some(effect) = queue.pop_front() {
            if let Some(message) = self.performer.perform(effect) {
                queue.extend(update::message(&mut self.app, message));
            }
        }
    }

    pub fn input(&mut self, input: Input) {
        let effects = update::input(&mut self.app, input);
        self.run(effects);
    }

    pub fn press(&mut self, key: Key) {
        self.input(Input::Key(key));
    }

    /// Presses named keys and types everything else.
    pub fn keys(&mut self, tokens: &[&str]) -> &mut Self {
        for token in tokens {
            let named = NAMED.contains(token)
                || ((token.starts_with("ctrl-") || token.starts_with("alt-"))
                    && Key::parse(token).is_ok())
                || matches!(
                    Key::parse(token),
                    Ok(Key {
                        code: Code::F(_),
                        ..
                    })
                );
            if named {
                self.press(Key::parse(token).unwrap());
            } else {
                for c in token.chars() {
                    self.press(Key {
                        code: Code::Char(c),
                        ctrl: false,
                        alt: false,
                    });
                }
            }
        }
        self
    }

    pub fn screen(&self, width: u16, height: u16) -> String {
        self.screen_in(width, height, Theme::new(false, None))
    }

    pub fn screen_in(&self, width: u16, height: u16, theme: Theme) -> String {
        let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
        terminal
            .draw(|frame| ui::draw(&self.app, theme, frame))
            .unwrap();
        let buffer = terminal.backend().buffer();
        let mut out = String::new();
        for y in 0..height {
            let line: String = (0..width).map(|x| buffer[(x, y)].symbol()).collect();
            out.push_str(line.trim_end());
            out.push('\n');
        }
        out
    }

    /// What was said last.
    pub fn said(&self) -> &str {
        self.app.notice.as_ref().map_or("", |s| &s.text)
    }

    /// The job that is open, as it stands in the book.
    pub fn in_book(&self) -> rimbook::testing::book::desk::OpenJob {
        let number = &self.app.job.as_ref().expect("an open job").open.number;
        Desk::open(&self.path, clock())
            .unwrap()
            .load(number)
            .unwrap()
    }
}

/// Puts the cursor on a field by the keys a person has: section, down, right.
pub fn to_field(d: &mut Driver, path: &str) {
    let section = path.split('.').next().unwrap();
    let tab = rimbook::testing::tui::form_rows::TABS
        .iter()
        .rposition(|t| {
            let of_order = section == "job" && t.1 == Some(Section::Order);
            of_order || t.1.is_some_and(|s| s.word() == section)
        })
        .expect("a section");
    d.keys(&[&format!("alt-{}", tab + 1), "home"]);
    let at = rimbook::testing::tui::form_rows::of_tab(tab)
        .iter()
        .position(|r| Eye::BOTH.iter().any(|e| r.field(*e).full_path() == path))
        .expect("a row");
    for _ in 0..at {
        d.keys(&["down"]);
    }
    let side = if path.contains(".left.") {
        "right"
    } else {
        "left"
    };
    d.keys(&[side]);
}

/// What stands at a path of the open job, as the book has it.
pub fn value(d: &Driver, path: &str) -> String {
    let field = rimbook::testing::job::fields::find(path).expect("a field");
    rimbook::testing::job::fields::show(&d.in_book().job, field)
}

/// Takes a pair like that of scenario S01 to verified, read as it was ordered, and says whether the
/// same order twice was questioned on the way.
pub fn verify(desk: &mut Desk, number: &str, by: &str) -> bool {
    let ordered = desk.advance(number, Gate::Ordered, by, None).unwrap();
    assert!(ordered.moved, "{:#?}", ordered.findings);
    let readings = json!({
        "taken_by": by, "taken_on": "2026-10-12",
        "right": {"sphere_d": -0.5, "cd_mm": 31.5, "height_mm": 19, "base_in_delta": 0, "base_up_delta": 0},
        "left": {"sphere_d": -0.75, "cylinder_d": -0.25, "axis_deg": 90, "cd_mm": 31, "height_mm": 19,
            "base_in_delta": 0, "base_up_delta": 0},
        "surface": "clean", "markings": "correct", "material_confirmed": true,
        "coatings_confirmed": true, "tint_confirmed": true, "frame_trued": true, "mounting_sound": true
    });
    desk.record(number, Section::Readings, &readings, None, Some(by))
        .unwrap();
    let verified = desk.advance(number, Gate::Verified, by, None).unwrap();
    assert!(verified.moved, "{:#?}", verified.findings);
    let mut all = ordered.findings.iter();
    all.any(|f| f.check == "order-duplicate")
}
