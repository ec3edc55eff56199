//! Which file of `src` uses which, read from the `use` lines and the `crate::` and `super::` paths.
//!
//! A name is followed through re-exports to the file that defines it. A re-export alone is no use:
//! a `mod.rs` that only hands names on depends on nothing. Code under `#[cfg(test)]` is left out.
#![allow(dead_code, reason = "each test file uses a part")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// One module, which is one file.
pub struct Module {
    /// Path from `src`, as `job/stage.rs`.
    pub file: String,
    /// Names from the crate, as `["job", "stage"]`.
    pub path: Vec<String>,
    /// How many lines the file has.
    pub lines: usize,
    /// The code without comments, texts and tests.
    pub text: String,
    /// The same without the `use` lines.
    pub code: String,
    imports: Vec<Import>,
    defines: BTreeSet<String>,
}

struct Import {
    path: Vec<String>,
    name: String,
    is_public: bool,
}

/// All modules of the crate by their names.
pub struct Graph {
    /// Modules by path.
    pub modules: BTreeMap<Vec<String>, Module>,
    /// Files that a file uses.
    pub uses: BTreeMap<String, BTreeSet<String>>,
}

impl Graph {
    /// Reads `src`.
    pub fn read() -> Self {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        let mut files = Vec::new();
        walk(&root, &mut files);
        let sources = files.into_iter().map(|file| {
            let name = file.strip_prefix(&root).unwrap().to_str().unwrap();
            let text = std::fs::read_to_string(&file).unwrap();
            (name.replace('\\', "/"), text)
        });
        Self::of(sources)
    }

    /// The graph of given files.
    pub fn of(sources: impl IntoIterator<Item = (String, String)>) -> Self {
        let modules: BTreeMap<Vec<String>, Module> = sources
            .into_iter()
            .map(|(file, text)| {
                let module = Module::of(file, &text);
                (module.path.clone(), module)
            })
            .collect();
        let mut graph = Self {
            modules,
            uses: BTreeMap::new(),
        };
        let uses = (graph.modules.values())
            .map(|m| (m.file.clone(), graph.used_by(m)))
            .collect();
        graph.uses = uses;
        graph
    }

    fn used_by(&self, module: &Module) -> BTreeSet<String> {
        let mut used = BTreeSet::new();
        let imports = module.imports.iter().filter(|i| {
            // A name that is only handed on is not used here.
            !i.is_public || times(&module.code, &i.name) > 0
        });
        let paths = imports.map(|i| i.path.clone());
        for path in paths.chain(self.paths_in_code(module)) {
            if let Some(file) = self.file_of(&module.path, &path, 0)
                && file != module.file
            {
                used.insert(file);
            }
        }
        used
    }

    /// Paths written out in the code: from the crate, from a parent, or from a child module.
    fn paths_in_code(&self, module: &Module) -> Vec<Vec<String>> {
        let mut found = Vec::new();
        for start in path_starts(&module.code) {
            let first = start[0].as_str();
            let is_child = self.modules.contains_key(&joined(&module.path, first));
            if matches!(first, "crate" | "super" | "self") || (is_child && start.len() > 1) {
                found.push(start);
            }
        }
        found
    }

    /// The file that defines what a path names, seen from a module.
    fn file_of(&self, from: &[String], path: &[String], depth: usize) -> Option<String> {
        if depth > 12 {
            return None;
        }
        let mut at: Vec<String> = from.to_vec();
        let mut rest = path;
        match path.first().map(String::as_str) {
            Some("crate") => {
                at.clear();
                rest = &path[1..];
            }
            Some("self") => rest = &path[1..],
            Some("super") => {
                while rest.first().is_some_and(|p| p == "super") {
                    at.pop();
                    rest = &rest[1..];
                }
            }
            Some(first) => {
                // A child module, or a name brought in here; else another crate.
                let is_child = self.modules.contains_key(&joined(from, first));
                let is_brought = (self.modules.get(from))
                    .is_some_and(|m| m.imports.iter().any(|i| i.name == first));
                if !is_child && !is_brought {
                    return None;
                }
            }
            None => return None,
        }
        while let Some(name) = rest.first() {
            let child = joined(&at, name);
            let module = self.modules.get(&at)?;
            if self.modules.contains_key(&child) {
                at = child;
                rest = &rest[1..];
                continue;
            }
            if module.defines.contains(name) {
                return Some(module.file.clone());
            }
            let brought = module.imports.iter().find(|i| &i.name == name);
            if let Some(import) = brought {
                let mut longer = import.path.clone();
                longer.extend_from_slice(&rest[1..]);
                return self
                    .file_of(&module.path, &longer, depth + 1)
                    .or_else(|| Some(module.file.clone()));
            }
            // Made by a macro, or one of several brought in together.
            let together = module.imports.iter().filter(|i| i.name == "*");
            for import in together {
                let mut longer = import.path[..import.path.len() - 1].to_vec();
                longer.extend_from_slice(rest);
                let file = self.file_of(&module.path, &longer, depth + 1);
                if file.is_some() {
                    return file;
                }
            }
            return Some(module.file.clone());
        }
        self.modules.get(&at).map(|m| m.file.clone())
    }

    /// Groups of files that use each other in a loop, the largest first.
    pub fn circles(&self) -> Vec<Vec<String>> {
        circles(&self.uses)
    }
}

/// Groups of two or more that reach each other, the largest first.
pub fn circles(uses: &BTreeMap<String, BTreeSet<String>>) -> Vec<Vec<String>> {
    let reach: BTreeMap<&String, BTreeSet<&String>> = uses
        .keys()
        .map(|from| {
            let mut seen = BTreeSet::new();
            let mut open = vec![from];
            while let Some(file) = open.pop() {
                for next in uses.get(file).into_iter().flatten() {
                    if seen.insert(next) {
                        open.push(next);
                    }
                }
            }
            (from, seen)
        })
        .collect();
    let mut groups: Vec<Vec<String>> = Vec::new();
    for (from, seen) in &reach {
        if !seen.contains(from) || groups.iter().flatten().any(|f| &f == from) {
            continue;
        }
        let group = seen
            .iter()
            .filter(|to| reach.get(*to).is_some_and(|back| back.contains(*from)))
            .map(|to| (*to).clone())
            .collect();
        groups.push(group);
    }
    groups.sort_by_key(|g| std::cmp::Reverse(g.len()));
    groups
}

impl Module {
    fn of(file: String, text: &str) -> Self {
        let stem = file.strip_suffix(".rs").unwrap_or(&file);
        let mut path: Vec<String> = stem.split('/').map(str::to_owned).collect();
        if matches!(
            path.last().map(String::as_str),
            Some("mod" | "lib" | "main")
        ) {
            let is_main = path.last().is_some_and(|p| p == "main");
            path.pop();
            if is_main && path.is_empty() {
                path.push("main".to_owned());
            }
        }
        let whole = without_tests(&without_comments_and_texts(text));
        let mut imports = Vec::new();
        let mut code = String::new();
        let mut rest = whole.as_str();
        while let Some(at) = next_use(rest) {
            let (before, after) = rest.split_at(at);
            let Some((statement, following)) = after.split_once(';') else {
                break;
            };
            let line = before.rfind(['\n', ';', '}', '{']).map_or(0, |i| i + 1);
            let (kept, prefix) = before.split_at(line);
            code.push_str(kept);
            let tree = statement.trim_start().trim_start_matches("use").trim();
            for (path, name) in flattened(tree) {
                imports.push(Import {
                    path,
                    name,
                    is_public: prefix.contains("pub"),
                });
            }
            rest = following;
        }
        code.push_str(rest);
        let defines = definitions(&code);
        Self {
            lines: text.lines().count(),
            file,
            path,
            text: whole,
            code,
            imports,
            defines,
        }
    }
}

fn joined(path: &[String], name: &str) -> Vec<String> {
    let mut longer = path.to_vec();
    longer.push(name.to_owned());
    longer
}

fn walk(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            walk(&path, into);
        } else if path.extension().is_some_and(|e| e == "rs") {
            into.push(path);
        }
    }
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// How often a word is in the code.
fn times(code: &str, word: &str) -> usize {
    code.split(|c| !is_word(c)).filter(|w| *w == word).count()
}

/// Where the next `use` of an import begins.
fn next_use(code: &str) -> Option<usize> {
    code.match_indices("use ").map(|(at, _)| at).find(|at| {
        let before = code.get(..*at).unwrap_or_default();
        let line = before.rsplit(['\n', ';', '}', '{']).next();
        line.is_some_and(|l| {
            let l = l.trim();
            l.is_empty() || l == "pub" || (l.starts_with("pub(") && l.ends_with(')'))
        })
    })
}

/// The paths of a `use` tree with the name each brings in.
fn flattened(tree: &str) -> Vec<(Vec<String>, String)> {
    let tree = tree.trim();
    let Some((head, inner)) = tree.split_once('{') else {
        let (path, name) = tree.split_once(" as ").unwrap_or((tree, ""));
        let mut parts: Vec<String> = path.split("::").map(|p| p.trim().to_owned()).collect();
        if parts.last().is_some_and(|p| p == "self") && parts.len() > 1 {
            parts.pop();
        }
        let last = parts.last().cloned().unwrap_or_default();
        let name = if name.trim().is_empty() {
            last
        } else {
            name.trim().to_owned()
        };
        return vec![(parts, name)];
    };
    let inner = inner.trim_end().strip_suffix('}').unwrap_or(inner);
    let head = head.trim().trim_end_matches("::");
    let mut found = Vec::new();
    for item in top_level_items(inner) {
        let longer = if head.is_empty() {
            item
        } else {
            format!("{head}::{item}")
        };
        found.extend(flattened(&longer));
    }
    found
}

fn top_level_items(inner: &str) -> Vec<String> {
    let mut items = vec![String::new()];
    let mut depth = 0;
    for c in inner.chars() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                items.push(String::new());
                continue;
            }
            _ => {}
        }
        if let Some(item) = items.last_mut() {
            item.push(c);
        }
    }
    items.retain(|i| !i.trim().is_empty());
    items.iter().map(|i| i.trim().to_owned()).collect()
}

/// Every path in the code, as its parts.
fn path_starts(code: &str) -> Vec<Vec<String>> {
    let mut found = Vec::new();
    let mut current: Vec<String> = Vec::new();
    let mut word = String::new();
    let mut colons = 0;
    for c in code.chars().chain(std::iter::once(' ')) {
        if is_word(c) {
            if colons == 1 || (colons == 0 && word.is_empty() && !current.is_empty()) {
                found.push(std::mem::take(&mut current));
            }
            colons = 0;
            word.push(c);
            continue;
        }
        if !word.is_empty() {
            current.push(std::mem::take(&mut word));
        }
        if c == ':' {
            colons += 1;
        } else if !current.is_empty() {
            found.push(std::mem::take(&mut current));
            colons = 0;
        } else {
            colons = 0;
        }
    }
    found.retain(|p| p.len() > 1);
    found
}

/// Names of the items that the code defines at its top level.
fn definitions(code: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut depth = 0_i32;
    for line in code.lines() {
        if depth == 0 {
            let words: Vec<&str> = line
                .split(|c: char| !is_word(c))
                .filter(|w| !w.is_empty())
                .collect();
            let keyword = words.iter().position(|w| {
                matches!(
                    *w,
                    "fn" | "struct"
                        | "enum"
                        | "trait"
                        | "const"
                        | "static"
                        | "type"
                        | "macro_rules"
                )
            });
            if let Some(at) = keyword {
                let mut name = words.get(at + 1);
                if words[at] == "const" && name == Some(&"fn") {
                    name = words.get(at + 2);
                }
                found.extend(name.map(|n| (*n).to_owned()));
            }
        }
        for c in line.chars() {
            match c {
                '{' => depth += 1,
                '}' => depth -= 1,
                _ => {}
            }
        }
    }
    found
}

/// Blanks comments, texts and characters, so that nothing in them is taken for code.
fn without_comments_and_texts(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    while at < chars.len() {
        let c = chars[at];
        let next = chars.get(at + 1).copied();
        if c == '/' && next == Some('/') {
            while at < chars.len() && chars[at] != '\n' {
                at += 1;
            }
        } else if c == '/' && next == Some('*') {
            at += 2;
            while at < chars.len() && !(chars[at] == '*' && chars.get(at + 1) == Some(&'/')) {
                at += 1;
            }
            at += 2;
        } else if c == 'r'
            && matches!(next, Some('"' | '#'))
            && (at == 0 || !is_word(chars[at - 1]))
        {
            let mut hashes = 0;
            while chars.get(at + 1 + hashes) == Some(&'#') {
                hashes += 1;
            }
            if chars.get(at + 1 + hashes) != Some(&'"') {
                out.push(c);
                at += 1;
                continue;
            }
            at += 2 + hashes;
            while at < chars.len() {
                let closed =
                    chars[at] == '"' && (0..hashes).all(|h| chars.get(at + 1 + h) == Some(&'#'));
                if closed {
                    break;
                }
                at += 1;
            }
            at += 1 + hashes;
            out.push_str("\"\"");
        } else if c == '"' {
            at += 1;
            while at < chars.len() && chars[at] != '"' {
                at += if chars[at] == '\\' { 2 } else { 1 };
            }
            at += 1;
            out.push_str("\"\"");
        } else if c == '\'' && (next == Some('\\') || chars.get(at + 2) == Some(&'\'')) {
            at += 2;
            while at < chars.len() && chars[at] != '\'' {
                at += 1;
            }
            at += 1;
            out.push_str("' '");
        } else {
            out.push(c);
            at += 1;
        }
    }
    out
}

/// Leaves out what is compiled for tests only.
fn without_tests(code: &str) -> String {
    let mut out = String::new();
    let mut rest = code;
    while let Some((before, after)) = rest.split_once("#[cfg(test)]") {
        out.push_str(before);
        let end = after.find([';', '{']).unwrap_or(after.len());
        if after.get(end..=end) != Some("{") {
            rest = after.get(end + 1..).unwrap_or_default();
            continue;
        }
        let mut depth = 0;
        let mut close = after.len();
        for (at, c) in after.char_indices().skip_while(|(at, _)| *at < end) {
            match c {
                '{' => depth += 1,
                '}' => depth -= 1,
                _ => {}
            }
            if depth == 0 {
                close = at + 1;
                break;
            }
        }
        rest = after.get(close..).unwrap_or_default();
    }
    out.push_str(rest);
    out
}
