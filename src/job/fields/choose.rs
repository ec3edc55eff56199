//! Picking one word of a list by its beginning.

/// Why no word was picked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum NotPicked {
    /// No word begins so.
    Unknown,
    /// Several words do.
    Several(Vec<&'static str>),
}

/// Returns the word that is meant: the whole word, or the only one with that beginning.
pub(super) fn by_beginning(
    typed: &str,
    words: impl Iterator<Item = &'static str> + Clone,
) -> Result<&'static str, NotPicked> {
    let typed = typed.trim().to_lowercase();
    if let Some(word) = words.clone().find(|w| *w == typed) {
        return Ok(word);
    }
    only(words.filter(|w| w.starts_with(&typed)).collect())
}

/// Returns the material that is meant: by its key's beginning, by that of a word inside it, so that
/// an index is enough where only one material has it, or by the beginnings of its words (`r 1.60`).
pub(super) fn material(
    typed: &str,
    keys: impl Iterator<Item = &'static str> + Clone,
) -> Result<&'static str, NotPicked> {
    let typed = typed.trim().to_lowercase().replace(',', ".");
    let begin = |key: &str| {
        let (mut words, mut parts) = (key.split(' '), typed.split_whitespace());
        parts.all(|part| words.next().is_some_and(|word| word.starts_with(part)))
    };
    let picked = match by_beginning(&typed, keys.clone()) {
        Err(NotPicked::Unknown) => only(
            keys.filter(|k| k.split(' ').any(|w| w.starts_with(&typed)) || begin(k))
                .collect(),
        ),
        picked => picked,
    };
    match picked {
        Err(NotPicked::Several(several)) => {
            of_index(&typed, &several).ok_or(NotPicked::Several(several))
        }
        picked => picked,
    }
}

/// Of several materials the one whose index is the typed one to the digit: 1.6 is 1.60, not 1.67.
fn of_index(typed: &str, several: &[&'static str]) -> Option<&'static str> {
    let index = |text: &str| text.rsplit(' ').next()?.parse::<f64>().ok();
    let wanted = index(typed)?;
    let mut same = several
        .iter()
        .filter(|k| index(k).is_some_and(|i| (i - wanted).abs() < 1e-9));
    let first = same.next()?;
    same.next().is_none().then_some(*first)
}

fn only(found: Vec<&'static str>) -> Result<&'static str, NotPicked> {
    match found.as_slice() {
        [] => Err(NotPicked::Unknown),
        [word] => Ok(word),
        _ => Err(NotPicked::Several(found)),
    }
}

/// Returns words as a sentence offers them: "a, b or c".
pub(super) fn offered(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [before @ .., last] => format!("{} or {last}", before.join(", ")),
    }
}
