//! `calc` and `rx`: commands that answer each line of standard input until it ends.

use std::io::{self, BufRead, BufReader, Read, Write};

use serde_json::json;

use super::output::{Outcome, fail};
use crate::book::desk::{DeskError, ErrorKind};

/// Longest line that is read, bytes; a longer one is answered with a refusal.
const LONGEST_LINE: u64 = 1 << 16;

/// Answers one calculation a line; requests and answers are JSON ([`crate::exchange::calc`]).
pub(crate) fn calc() -> Result<Outcome, DeskError> {
    ended(crate::exchange::calc::run(
        io::stdin().lock(),
        io::stdout().lock(),
    ))
}

/// Reads one written prescription a line; the answers are JSON ([`crate::trade::notation`]).
pub(crate) fn rx() -> Result<Outcome, DeskError> {
    ended(answer_lines(
        BufReader::new(io::stdin().lock()),
        io::stdout().lock(),
        read_prescription,
    ))
}

/// Returns the answer to one written prescription.
fn read_prescription(line: &str) -> String {
    crate::text::json_safe(crate::trade::notation::answer(line).to_string())
}

fn ended(result: io::Result<()>) -> Result<Outcome, DeskError> {
    match result {
        Ok(()) => Ok(Outcome::Done),
        // A reader that has seen enough, such as `head`, is no failure.
        Err(e) if e.kind() == io::ErrorKind::BrokenPipe => Ok(Outcome::Done),
        Err(e) => Err(fail(
            ErrorKind::File,
            format!("reading or answering lines failed: {e}"),
            &[],
        )),
    }
}

/// Answers every line, empty ones too, in order and in constant memory.
fn answer_lines<R: Read>(
    mut input: BufReader<R>,
    mut output: impl Write,
    answer: impl Fn(&str) -> String,
) -> io::Result<()> {
    let mut line = Vec::new();
    loop {
        line.clear();
        if (&mut input)
            .take(LONGEST_LINE)
            .read_until(b'\n', &mut line)?
            == 0
        {
            return output.flush();
        }
        let cut = line.len() as u64 == LONGEST_LINE && line.last() != Some(&b'\n');
        if cut {
            input.skip_until(b'\n')?;
            writeln!(
                output,
                "{}",
                refusal("this line is longer than 65536 bytes and was passed over")
            )?;
        } else if let Ok(text) = std::str::from_utf8(&line) {
            let text = text.trim_end_matches(['\n', '\r']);
            writeln!(output, "{}", answer(text))?;
        } else {
            writeln!(output, "{}", refusal("this line is not UTF-8 text"))?;
        }
        // A program that waits for an answer before its next question gets it.
        if input.buffer().is_empty() {
            output.flush()?;
        }
    }
}

fn refusal(why: &str) -> String {
    json!({"ok": false, "error": {"kind": "bad_line", "message": why}}).to_string()
}
