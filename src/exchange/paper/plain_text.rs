//! A sheet as lines of text: for a terminal, a screen reader or a plain printer.
//!
//! One value a line, each with its name, so that nothing depends on columns.

use crate::text::printable;
use crate::views::sheet::value_text::written_day;
use crate::views::sheet::{Block, Sheet};

/// Returns the sheet as text; every line is safe to show.
pub(crate) fn text(sheet: &Sheet) -> String {
    let mut lines = vec![format!("{}, job {}", sheet.what.title(), sheet.number)];
    if !sheet.practice.is_empty() {
        lines.push(sheet.practice.clone());
    }
    for block in &sheet.blocks {
        let said = block_lines(block);
        if !said.is_empty() {
            lines.push(String::new());
            lines.extend(said);
        }
    }
    lines.push(String::new());
    lines.push(sheet.foot());
    lines.push(format!("Printed {}", written_day(sheet.printed_on)));
    let mut out = String::new();
    for line in lines {
        out.push_str(printable(&line).trim_end());
        out.push('\n');
    }
    out
}

fn block_lines(block: &Block) -> Vec<String> {
    match block {
        Block::Code { number, code } => vec![
            format!("Job {number}"),
            code.as_ref().map_or_else(
                || {
                    "No code of the tray: a code stands for digits and capital letters, at most 20."
                        .to_owned()
                },
                |code| format!("Code of the tray: {code}"),
            ),
        ],
        Block::Facts { title, facts } if !facts.is_empty() => titled(
            title,
            facts.iter().map(|f| format!("  {}: {}", f.label, f.value)),
        ),
        Block::Facts { .. } => Vec::new(),
        Block::Table {
            title,
            head,
            rows,
            note,
        } => {
            let said = rows.iter().map(|row| {
                let mut cells = row.iter().zip(head);
                let name = cells.next().map_or("", |(name, _)| name.as_str());
                let values: Vec<String> = cells.map(|(v, h)| format!("{h} {v}")).collect();
                format!("  {name}: {}", values.join(", "))
            });
            let mut lines = titled(title, said);
            if !note.is_empty() {
                lines.push(format!("  ({note})"));
            }
            lines
        }
        Block::Lines {
            title,
            lines,
            boxes,
        } => {
            let before = if *boxes { "  [ ] " } else { "  " };
            titled(title, lines.iter().map(|l| format!("{before}{l}")))
        }
        Block::Drawing(drawing) => {
            let title = if drawing.title.is_empty() {
                "Drawing"
            } else {
                &drawing.title
            };
            titled(title, drawing.words.iter().map(|w| format!("  {w}")))
        }
    }
}

fn titled(title: &str, lines: impl Iterator<Item = String>) -> Vec<String> {
    std::iter::once(title.to_owned()).chain(lines).collect()
}
