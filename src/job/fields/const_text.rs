//! Texts compared while the program is compiled, when `==` is not available.

pub(super) const fn same(a: &str, b: &str) -> bool {
    let (a, b) = (a.as_bytes(), b.as_bytes());
    if a.len() != b.len() {
        return false;
    }
    let mut at = 0;
    while at < a.len() {
        if a[at] != b[at] {
            return false;
        }
        at += 1;
    }
    true
}

pub(super) const fn same_start(text: &[u8], start: &[u8]) -> bool {
    if text.len() < start.len() {
        return false;
    }
    let mut at = 0;
    while at < start.len() {
        if text[at] != start[at] {
            return false;
        }
        at += 1;
    }
    true
}
