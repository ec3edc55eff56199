//! The tasks of docs/tasks.md, step by step as they are printed, on the invented practice: every
//! key is pressed and everything the page says one sees is looked for on the screen.
//!
//! `RIMBOOK_WRITE_DOCS=1 cargo test --test tui tasks::` writes the counts of keys again.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use crate::driver::Driver;
use rimbook::testing::tui::key::Key;

const BEGIN: &str = "<!-- counts -->";
const END: &str = "<!-- /counts -->";

/// One line of a task.
#[derive(Debug, PartialEq)]
enum Step {
    Press(String),
    Type(String),
    See(String),
}

#[derive(Debug)]
struct Task {
    title: String,
    steps: Vec<Step>,
}

impl Task {
    /// Keys pressed, letters of what is typed included.
    fn keys(&self) -> usize {
        self.steps
            .iter()
            .map(|s| match s {
                Step::Press(_) => 1,
                Step::Type(text) => text.chars().count(),
                Step::See(_) => 0,
            })
            .sum()
    }
}

fn page() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/tasks.md")
}

/// A step is a verb, its matter up to two blanks, and words for the reader after them.
fn step(line: &str) -> Step {
    let (verb, rest) = line.split_once(' ').expect("a verb and its matter");
    let rest = rest.trim_start();
    let matter = rest.split_once("  ").map_or(rest, |(m, _)| m).trim();
    match verb {
        "press" => Step::Press(matter.to_owned()),
        "type" => Step::Type(matter.to_owned()),
        "see" => Step::See(matter.to_owned()),
        other => panic!("{other:?} is no verb of a step"),
    }
}

fn tasks(text: &str) -> Vec<Task> {
    let mut out: Vec<Task> = Vec::new();
    let mut title = String::new();
    let mut inside = false;
    for line in text.lines() {
        if let Some(heading) = line.strip_prefix("## ") {
            heading.clone_into(&mut title);
        } else if line == "```keys" {
            inside = true;
            out.push(Task {
                title: title.clone(),
                steps: Vec::new(),
            });
        } else if line == "```" {
            inside = false;
        } else if inside {
            out.last_mut().unwrap().steps.push(step(line));
        }
    }
    out
}

/// Does a task; returns what was promised and not seen.
fn replay(task: &Task) -> Result<(), String> {
    let mut driver = Driver::demo();
    for (index, step) in task.steps.iter().enumerate() {
        match step {
            Step::Press(key) => {
                let key =
                    Key::parse(key).unwrap_or_else(|e| panic!("{}: {key}: {e:?}", task.title));
                driver.press(key);
            }
            Step::Type(text) => {
                for c in text.chars() {
                    driver.press(Key::char(c));
                }
            }
            Step::See(text) => {
                let screen = driver.screen(80, 24);
                if !screen.contains(text.as_str()) {
                    return Err(format!(
                        "{}, step {}: {text:?} is not on the screen\n{screen}",
                        task.title,
                        index + 1
                    ));
                }
            }
        }
    }
    Ok(())
}

fn counts(tasks: &[Task]) -> String {
    let mut out = String::from("| task | keys |\n|---|---|\n");
    for task in tasks {
        let _ = writeln!(out, "| {} | {} |", task.title, task.keys());
    }
    out
}

#[test]
fn every_task_can_be_done_as_the_page_says() {
    let text = std::fs::read_to_string(page()).unwrap();
    let tasks = tasks(&text);
    assert!(tasks.len() >= 10, "the ten commonest tasks are there");
    for task in &tasks {
        assert!(
            task.steps.iter().any(|s| matches!(s, Step::See(_))),
            "{} says what one sees",
            task.title
        );
    }
    let unlike: Vec<String> = tasks.iter().filter_map(|t| replay(t).err()).collect();
    assert!(unlike.is_empty(), "{}", unlike.join("\n"));
}

#[test]
fn the_page_says_how_many_keys_each_task_takes() {
    let text = std::fs::read_to_string(page()).unwrap();
    let (head, rest) = text.split_once(BEGIN).unwrap();
    let (old, tail) = rest.split_once(END).unwrap();
    let new = format!("\n{}", counts(&tasks(&text)));
    if std::env::var_os("RIMBOOK_WRITE_DOCS").is_some() {
        std::fs::write(page(), format!("{head}{BEGIN}{new}{END}{tail}")).unwrap();
    } else {
        assert_eq!(
            old, new,
            "RIMBOOK_WRITE_DOCS=1 cargo test --test tui tasks::"
        );
    }
}

/// Task, keys before and keys now of each row that says both.
fn savings(text: &str) -> Vec<(String, usize, usize)> {
    text.lines()
        .filter_map(|row| {
            let cells: Vec<&str> = row.strip_prefix("| ")?.split('|').map(str::trim).collect();
            let number = |at: usize| cells.get(at)?.parse().ok();
            Some((cells[0].to_owned(), number(1)?, number(2)?))
        })
        .collect()
}

#[test]
fn the_ten_commonest_come_first_and_what_is_saved_is_what_the_keys_say() {
    let text = std::fs::read_to_string(page()).unwrap();
    let (tasks, rows) = (tasks(&text), savings(&text));
    let first = tasks.iter().zip(&rows).take(10);
    for (task, (title, ..)) in first {
        assert_eq!(&task.title, title, "the ten come first, in the same order");
    }
    assert!(rows.len() > 10);
    for (title, before, now) in rows {
        let task = tasks.iter().find(|t| t.title == title).expect(&title);
        assert_eq!(task.keys(), now, "{title}");
        assert!(before >= now, "{title} takes more keys than before");
    }
}

#[test]
fn a_step_ends_where_two_blanks_begin_the_words_for_the_reader() {
    assert_eq!(
        step("press ctrl-g    the gate"),
        Step::Press("ctrl-g".to_owned())
    );
    assert_eq!(
        step("type  -2.25/-0.75x90  as written"),
        Step::Type("-2.25/-0.75x90".to_owned())
    );
    assert_eq!(step("see   late 3 d"), Step::See("late 3 d".to_owned()));
}
