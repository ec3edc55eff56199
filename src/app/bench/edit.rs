//! Typing into a field of the workbench: the result follows every key.

use super::request::{Entry, Origin, figure, power_text, short};
use super::table::{Calculation, Input, Kind, all};
use super::{Bench, refill};
use crate::app::effect::Effect;
use crate::app::key::Key;
use crate::app::line::Line;
use crate::app::{App, list};
use crate::form::{self, RowPowers};

impl Bench {
    /// Returns the values with what is being typed in its place.
    ///
    /// # Errors
    /// Why what is typed is no value.
    pub(super) fn with_edit(&self) -> Result<Vec<Entry>, String> {
        let mut entries = self.entries().to_vec();
        if let (Some(calc), Some(line), Some(place)) =
            (self.calculation(), &self.edit, self.place())
        {
            set(calc, &mut entries, place, line.text())?;
        }
        Ok(entries)
    }

    fn input(&self) -> Option<&'static Input> {
        self.calculation()?.inputs.get(self.place()?)
    }

    fn text(&self) -> String {
        let (Some(calc), Some(place)) = (self.calculation(), self.place()) else {
            return String::new();
        };
        text_of(calc, self.entries(), place)
    }
}

/// Returns what is shown beside an input; a whole power is put together from its parts.
pub fn text_of(calc: &Calculation, entries: &[Entry], place: usize) -> String {
    let text = |i: usize| entries.get(i).map_or("", |e| e.text.as_str());
    let Some(input) = calc.inputs.get(place) else {
        return String::new();
    };
    if input.kind != Kind::Power {
        return text(place).to_owned();
    }
    let part = |k: &str| calc.place(&format!("{}.{k}", input.key)).map_or("", text);
    let (sphere, cylinder, axis) = (part("sphere_d"), part("cylinder_d"), part("axis_deg"));
    if cylinder.is_empty() {
        sphere.to_owned()
    } else {
        format!("{sphere} / {cylinder} x {axis}")
    }
}

/// Puts a text beside an input.
fn set(calc: &Calculation, entries: &mut [Entry], place: usize, text: &str) -> Result<(), String> {
    let Some(input) = calc.inputs.get(place) else {
        return Ok(());
    };
    let text = text.trim();
    let whole = match (input.kind, input.key.strip_suffix(".sphere_d")) {
        (Kind::Power, _) => Some(input.key.as_str()),
        // A whole power in the place of its sphere is what people type.
        (Kind::Number(_), Some(key)) if form::is_whole(text) => Some(key),
        _ => None,
    };
    if let Some(key) = whole {
        let row = if text.is_empty() {
            RowPowers::default()
        } else {
            form::one_power(text)?
        };
        return set_power(calc, entries, key, &row);
    }
    put(entries, place, text.to_owned());
    if let Some(other) = input.instead_of.filter(|_| !text.is_empty())
        && let Some(other) = calc.place(other)
    {
        put(entries, other, String::new());
    }
    // The other parts of a power that was typed in part are the person's own from then on.
    if let Some((key, _)) = input.key.rsplit_once('.')
        && calc.place(key).is_some()
    {
        for (i, e) in calc.inputs.iter().zip(entries) {
            if is_part(i, key) {
                e.origin = Origin::Typed;
            }
        }
    }
    Ok(())
}

fn is_part(input: &Input, key: &str) -> bool {
    ["sphere_d", "cylinder_d", "axis_deg"]
        .iter()
        .any(|k| input.key.strip_prefix(key) == Some(&format!(".{k}")))
}

fn set_power(
    calc: &Calculation,
    entries: &mut [Entry],
    key: &str,
    row: &RowPowers,
) -> Result<(), String> {
    let has_prism = row.base_in.is_some() || row.base_up.is_some();
    let parts = [
        ("sphere_d", row.sphere.map(|d| power_text(d.get()))),
        ("cylinder_d", row.cylinder.map(|d| power_text(d.get()))),
        ("axis_deg", row.axis.map(|d| short(d.get()))),
    ];
    let addition = calc.place(&format!("{key}.addition_d"));
    if row.addition.is_some() && addition.is_none() {
        return Err("An addition has no place here: type the distance power alone.".to_owned());
    }
    if has_prism {
        return Err("Type the power alone; prism has its own fields where it counts.".to_owned());
    }
    for (k, text) in parts {
        if let Some(place) = calc.place(&format!("{key}.{k}")) {
            put(entries, place, text.unwrap_or_default());
        }
    }
    if let (Some(place), Some(addition)) = (addition, row.addition) {
        put(entries, place, short(addition.get()));
    }
    Ok(())
}

fn put(entries: &mut [Entry], place: usize, text: String) {
    if let Some(entry) = entries.get_mut(place) {
        *entry = Entry {
            text,
            origin: Origin::Typed,
        };
    }
}

/// Takes a key while a value is being typed; says whether it was one for it.
pub(crate) fn typed(app: &mut App, key: Key) -> bool {
    let taken = app.bench.edit.as_mut().is_some_and(|line| line.key(key));
    if taken {
        app.bench.work();
    }
    taken
}

/// Begins a value with its first character, or goes to what begins with it.
pub(crate) fn begin(app: &mut App, key: Key) -> Vec<Effect> {
    let Some(c) = key.types() else {
        return Vec::new();
    };
    if !app.bench.in_fields {
        let titles: Vec<&str> = all().iter().map(|calc| calc.title).collect();
        if let Some(to) = beginning(&titles, app.bench.calc, c) {
            let by = to.cast_signed() - app.bench.calc.cast_signed();
            super::to_calculation(app, by);
        }
        return Vec::new();
    }
    match app.bench.input().map(|i| i.kind) {
        Some(Kind::Choice(words)) => {
            let now = app.bench.text();
            let at = words.iter().position(|w| *w == now).unwrap_or(0);
            if let Some(word) = beginning(words, at, c).and_then(|i| words.get(i)) {
                store(app, word);
            } else if c.is_ascii_digit() || matches!(c, '+' | '-' | '.') {
                number_below(app, key);
            }
        }
        Some(_) => {
            app.bench.edit = Some(Line::default());
            typed(app, key);
        }
        None => {}
    }
    Vec::new()
}

/// A number begun on a list of words is meant for the next field that takes one: what comes after
/// its sign must not be taken for keys.
fn number_below(app: &mut App, key: Key) {
    let visible = app.bench.visible();
    let is_typed = |place: &usize| {
        let input = app.bench.calculation().and_then(|c| c.inputs.get(*place));
        input.is_some_and(|i| !matches!(i.kind, Kind::Choice(_)))
    };
    let from = app.bench.row + 1;
    if let Some(row) = (from..visible.len()).find(|r| visible.get(*r).is_some_and(is_typed)) {
        app.bench.row = row;
        app.bench.edit = Some(Line::default());
        typed(app, key);
    }
}

/// The next place after `from`, all round, whose text begins with a character.
fn beginning(texts: &[&str], from: usize, c: char) -> Option<usize> {
    let wanted = c.to_lowercase().next();
    let begins = |i: &usize| {
        let first = texts.get(*i).and_then(|t| t.chars().next());
        first.and_then(|f| f.to_lowercase().next()) == wanted
    };
    (from + 1..texts.len()).chain(0..=from).find(begins)
}

/// Takes pasted text into the field under the cursor.
pub(crate) fn pasted(app: &mut App, text: &str) {
    let is_typed = app
        .bench
        .input()
        .is_some_and(|i| !matches!(i.kind, Kind::Choice(_)));
    if app.bench.in_fields && is_typed {
        app.bench.edit.get_or_insert_default().paste(text);
        app.bench.work();
    }
}

/// Keeps what was typed; says whether the cursor may go on.
pub(super) fn keep(app: &mut App) -> bool {
    let Some(line) = &app.bench.edit else {
        return true;
    };
    let text = line.text().trim().to_owned();
    let wrong = app.bench.input().and_then(|i| unreadable(i, &text));
    match wrong.map_or_else(|| app.bench.with_edit(), Err) {
        Ok(entries) => {
            app.bench.edit = None;
            replace(app, entries);
            true
        }
        Err(why) => {
            app.complain(why);
            false
        }
    }
}

/// Why a number cannot be kept as it is typed.
fn unreadable(input: &Input, text: &str) -> Option<String> {
    let is_plain = matches!(input.kind, Kind::Number(_)) && !form::is_whole(text);
    let plano = input.key.ends_with("sphere_d") && matches!(text, "plano" | "pl");
    (is_plain && !text.is_empty() && !plano && figure(text).is_none())
        .then(|| format!("{}: {text:?} is no number.", input.label))
}

/// Puts a text beside the input under the cursor.
fn store(app: &mut App, text: &str) {
    let (Some(calc), Some(place)) = (app.bench.calculation(), app.bench.place()) else {
        return;
    };
    let mut entries = app.bench.entries().to_vec();
    match set(calc, &mut entries, place, text) {
        Ok(()) => replace(app, entries),
        Err(why) => app.complain(why),
    }
}

fn replace(app: &mut App, entries: Vec<Entry>) {
    let eye = app.bench.eye();
    let at = app.bench.calc;
    if let Some(sheet) = app.bench.sheets.get_mut(at) {
        *sheet = entries;
    }
    // Another eye is another lens: its values take the place of the first one's.
    if app.bench.eye() != eye {
        refill(app);
    }
    app.bench.work();
}

/// Keeps what was typed and goes on by so many fields.
pub(super) fn next(app: &mut App, by: isize) {
    if app.bench.in_fields && keep(app) {
        app.bench.row = list::moved(app.bench.row, by, app.bench.visible().len());
    }
}

/// Goes to the next or the former word of a choice.
pub(super) fn turn(app: &mut App, on: bool) {
    if !keep(app) {
        return;
    }
    if let Some(Kind::Choice(words)) = app.bench.input().map(|i| i.kind)
        && !words.is_empty()
    {
        let now = app.bench.text();
        let at = words.iter().position(|w| *w == now).unwrap_or(0);
        let to = (at + if on { 1 } else { words.len() - 1 }) % words.len();
        if let Some(word) = words.get(to) {
            store(app, word);
        }
    } else if !on {
        app.bench.in_fields = false;
    }
}

/// Raises or lowers the value by one step.
pub(super) fn step(app: &mut App, up: bool) {
    if !app.bench.in_fields || !keep(app) {
        return;
    }
    let Some(input) = app.bench.input() else {
        return;
    };
    let step = match input.kind {
        Kind::Choice(_) => return turn(app, up),
        Kind::Number(step) => step,
        Kind::Power => {
            app.complain("A whole power has no steps: step its sphere, cylinder or axis.");
            return;
        }
    };
    let now = figure(&app.bench.text()).unwrap_or(0.0);
    let count = if up {
        (now / step + 1e-6).floor() + 1.0
    } else {
        (now / step - 1e-6).ceil() - 1.0
    };
    let value = count * step;
    let text = if input.unit == "D" {
        power_text(value)
    } else {
        short(value)
    };
    store(app, &text);
}

/// Removes the value.
pub(super) fn clear(app: &mut App) {
    let is_choice = app
        .bench
        .input()
        .is_some_and(|i| matches!(i.kind, Kind::Choice(_)));
    if app.bench.in_fields && !is_choice {
        app.bench.edit = None;
        store(app, "");
    }
}
