//! The table that is printed: a row for each thing measured, a column for each book.

use std::time::Duration;

/// Milliseconds.
pub fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1000.0
}

/// What was measured on one book: rows in their order.
#[derive(Default)]
pub struct Column {
    pub name: String,
    pub rows: Vec<(String, String)>,
}

impl Column {
    /// Keeps times as "median, 95th percentile"; returns the median.
    pub fn times(&mut self, what: &str, mut times: Vec<f64>) -> f64 {
        if times.is_empty() {
            self.text(what, "none in this book".to_owned());
            return f64::NAN;
        }
        times.sort_by(f64::total_cmp);
        let at = |share: usize| times[(times.len() * share / 100).min(times.len() - 1)];
        self.text(what, format!("{:.2}, {:.2}", at(50), at(95)));
        at(50)
    }

    pub fn ratio(&mut self, what: &str, ours: f64, bare: f64) {
        self.text(what, format!("{:.1}", ours / bare));
    }

    pub fn text(&mut self, what: &str, text: String) {
        eprintln!("{}: {what}: {text}", self.name);
        self.rows.push((what.to_owned(), text));
    }
}

/// Prints the columns side by side as Markdown.
pub fn print(columns: &[Column]) {
    let names: Vec<&str> = columns.iter().map(|c| c.name.as_str()).collect();
    println!(
        "| | {} |\n|---|{}",
        names.join(" | "),
        "---|".repeat(names.len())
    );
    let Some(first) = columns.first() else { return };
    for (what, _) in &first.rows {
        let cells: Vec<&str> = columns
            .iter()
            .map(|c| {
                let row = c.rows.iter().find(|(w, _)| w == what);
                row.map_or("", |(_, text)| text.as_str())
            })
            .collect();
        println!("| {what} | {} |", cells.join(" | "));
    }
}
