//! The run: lines in, answers out, in constant memory however many lines there are.

use std::io::{self, BufRead, Write};

use super::answer::answer_into;
use super::error::{CalcError, RefusalKind};
use super::json::Node;
use super::reply;

/// A line longer than this is answered as one that cannot be read, and is not kept.
const LONGEST_LINE: usize = 1 << 20;

/// Answers every line of `input` on `output`, in order. Blank lines are passed over.
///
/// Answers are flushed whenever all that has arrived is answered, so that a program that waits for
/// an answer before its next question gets it.
///
/// # Errors
/// Only those of `input` and `output`: no request stops the run.
pub fn run(mut input: impl BufRead, mut output: impl Write) -> io::Result<()> {
    let mut begun = Begun::default();
    let mut answers = Vec::new();
    loop {
        let arrived = match input.fill_buf() {
            Ok(arrived) => arrived,
            Err(e) if e.kind() == io::ErrorKind::Interrupted => continue,
            Err(e) => return Err(e),
        };
        if arrived.is_empty() {
            break;
        }
        let length = arrived.len();
        for piece in arrived.split_inclusive(|&b| b == b'\n') {
            match piece.strip_suffix(b"\n") {
                Some(end) => begun.finish(end, &mut answers),
                None => begun.hold(piece),
            }
        }
        input.consume(length);
        output.write_all(&answers)?;
        output.flush()?;
        answers.clear();
    }
    begun.finish(b"", &mut answers);
    output.write_all(&answers)?;
    output.flush()
}

/// The beginning of a line whose end has not arrived.
#[derive(Default)]
struct Begun {
    bytes: Vec<u8>,
    too_long: bool,
}

impl Begun {
    fn hold(&mut self, piece: &[u8]) {
        if self.bytes.len() + piece.len() > LONGEST_LINE {
            self.too_long = true;
            self.bytes.clear();
        }
        if !self.too_long {
            self.bytes.extend_from_slice(piece);
        }
    }

    /// Answers the line that ends with `end`.
    fn finish(&mut self, end: &[u8], answers: &mut Vec<u8>) {
        if self.bytes.is_empty() && !self.too_long && end.len() <= LONGEST_LINE {
            line(end, answers);
            return;
        }
        self.hold(end);
        if self.too_long {
            bad_line(
                "this line is longer than 1048576 bytes and was passed over",
                answers,
            );
        } else {
            line(&self.bytes, answers);
        }
        self.bytes.clear();
        self.too_long = false;
    }
}

fn line(bytes: &[u8], answers: &mut Vec<u8>) {
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return;
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => {
            answer_into(text, answers);
            answers.push(b'\n');
        }
        Err(e) => bad_line(
            &format!(
                "this line is not UTF-8 text from byte {} on",
                e.valid_up_to() + 1
            ),
            answers,
        ),
    }
}

fn bad_line(why: &str, answers: &mut Vec<u8>) {
    reply::refuse(
        &Node::Null,
        answers,
        &CalcError::new(RefusalKind::BadJson, why),
    );
    answers.push(b'\n');
}
