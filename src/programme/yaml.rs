//! The pre-pass over a YAML file: where everything stands, and what YAML
//! itself would swallow: duplicate keys, aliases, deep nesting, a text cut at
//! a comma.

use std::collections::{BTreeMap, BTreeSet};

use saphyr_parser::{Event, Marker, Parser, ScalarStyle};

use crate::ground::{Fault, Place};

/// The deepest nesting that a file of ours could need, with room to spare.
const DEEPEST: usize = 24;

/// Where each path of a file stands: `exercises[2].steps[0].is` → line, column.
#[derive(Debug, Default)]
pub(super) struct Places(BTreeMap<String, (usize, usize)>);

impl Places {
    /// Whether exactly this path was written.
    pub(super) fn has(&self, path: &str) -> bool {
        self.0.contains_key(path)
    }

    /// The line and column of a path, or of the nearest path around it.
    pub(super) fn of(&self, path: &str) -> Option<(usize, usize)> {
        let mut path = path;
        loop {
            if let Some(place) = self.0.get(path) {
                return Some(*place);
            }
            if path.is_empty() {
                return None;
            }
            path = &path[..path.rfind(['.', '[']).unwrap_or(0)];
        }
    }
}

/// What is being read: a mapping with the keys seen, or a list.
enum Frame {
    Map { path: String, seen: BTreeSet<String>, key: Option<String>, last_value: String, flow: bool },
    List { path: String, next: usize },
}

/// Reads a file's structure.
///
/// # Errors
/// All faults of structure: each makes the file unfit to be read further.
pub(super) fn scan(text: &str) -> Result<Places, Vec<Fault>> {
    let mut scan = Scan { places: Places::default(), faults: Vec::new(), frames: Vec::new(), documents: 0 };
    let lines: Vec<&str> = text.lines().collect();
    for event in Parser::new_from_str(text) {
        match event {
            Ok((event, span)) => {
                let flow = matches!(event, Event::MappingStart(..)) && character_at(&lines, span.start) == Some('{');
                if !scan.take(event, span.start, flow) {
                    break;
                }
            }
            Err(error) => {
                let at = *error.marker();
                scan.fault(
                    at,
                    "yaml",
                    format!("this is not YAML: {}", error.info()),
                    "look at this line and the one above: indentation, a missing quote, a colon without a space",
                );
                break;
            }
        }
    }
    if scan.documents == 0 && scan.faults.is_empty() {
        scan.faults.push(Fault::new("empty", "the file is empty", "write its content, or remove the file"));
    }
    if scan.faults.is_empty() { Ok(scan.places) } else { Err(scan.faults) }
}

fn character_at(lines: &[&str], at: Marker) -> Option<char> {
    lines.get(at.line().checked_sub(1)?)?.chars().nth(at.col())
}

struct Scan {
    places: Places,
    faults: Vec<Fault>,
    frames: Vec<Frame>,
    documents: usize,
}

impl Scan {
    fn fault(&mut self, at: Marker, kind: &'static str, message: impl Into<String>, mend: &str) {
        let place = Place { line: Some(at.line()), column: Some(at.col() + 1), ..Place::default() };
        self.faults.push(Fault::new(kind, message, mend).at(place));
    }

    /// Takes one event; `false` ends the scan.
    fn take(&mut self, event: Event<'_>, at: Marker, flow: bool) -> bool {
        match event {
            Event::Scalar(text, style, ..) => {
                let empty = text.is_empty() && style == ScalarStyle::Plain;
                if self.documents == 1 && self.frames.is_empty() && empty {
                    self.documents = 0; // nothing but comments
                } else {
                    self.scalar(&text, style, at);
                }
            }
            Event::MappingStart(..) => {
                let path = self.enter(at);
                self.frames.push(Frame::Map {
                    path,
                    seen: BTreeSet::new(),
                    key: None,
                    last_value: String::new(),
                    flow,
                });
            }
            Event::SequenceStart(..) => {
                let path = self.enter(at);
                self.frames.push(Frame::List { path, next: 0 });
            }
            Event::MappingEnd | Event::SequenceEnd => {
                self.frames.pop();
            }
            Event::Alias(_) => {
                self.fault(
                    at,
                    "alias",
                    "an alias (`*name`) stands here",
                    "write the text out, or start from another exercise with `like:`",
                );
                return false;
            }
            Event::DocumentStart(_) => {
                self.documents += 1;
                if self.documents > 1 {
                    self.fault(
                        at,
                        "documents",
                        "a second document begins here (`---`)",
                        "keep one document in each file",
                    );
                    return false;
                }
            }
            _ => {}
        }
        if self.frames.len() > DEEPEST {
            self.fault(
                at,
                "too-deep",
                format!("more than {DEEPEST} levels are nested here"),
                "no file of a programme needs that: look for stray brackets",
            );
            return false;
        }
        true
    }

    /// The path of the value that begins here; its place is noted.
    fn enter(&mut self, at: Marker) -> String {
        let path = match self.frames.last_mut() {
            None => String::new(),
            Some(Frame::List { path, next }) => {
                *next += 1;
                format!("{path}[{}]", *next - 1)
            }
            Some(Frame::Map { path, key, .. }) => joined(path, &key.take().unwrap_or_default()),
        };
        self.places.0.entry(path.clone()).or_insert((at.line(), at.col() + 1));
        path
    }

    fn scalar(&mut self, text: &str, style: ScalarStyle, at: Marker) {
        let Some(Frame::Map { path, seen, key, last_value, flow }) = self.frames.last_mut() else {
            self.enter(at);
            return;
        };
        if key.is_some() {
            *last_value = if style == ScalarStyle::Plain { text.to_owned() } else { String::new() };
            if *flow
                && text.is_empty()
                && style == ScalarStyle::Plain
                && key.as_deref().is_some_and(|key| key.contains(' '))
            {
                let message =
                    format!("a text was cut at a comma: `{}` was taken for a key", key.as_deref().unwrap_or_default());
                self.fault(
                    at,
                    "cut-at-comma",
                    message,
                    "put the whole text in double quotes: in a one-line {…} a comma ends a value",
                );
                return;
            }
            self.enter(at);
            return;
        }
        let unclosed = last_value.matches('(').count() > last_value.matches(')').count();
        if *flow && unclosed {
            let message = format!("a formula was cut at a comma: its beginning `{last_value}` has no closing bracket");
            self.fault(
                at,
                "cut-at-comma",
                message,
                "put the whole formula in double quotes: in a one-line {…} a comma ends a value",
            );
            if let Some(Frame::Map { key, last_value, .. }) = self.frames.last_mut() {
                *key = Some(text.to_owned());
                last_value.clear();
            }
            return;
        }
        let full = joined(path, text);
        let first = seen.insert(text.to_owned());
        *key = Some(text.to_owned());
        if first {
            self.places.0.entry(full).or_insert((at.line(), at.col() + 1));
        } else {
            self.fault(at, "duplicate-key", format!("the key `{text}` stands here twice"), "keep one of the two");
        }
    }
}

fn joined(path: &str, key: &str) -> String {
    if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(text: &str) -> Vec<(&'static str, Option<usize>)> {
        scan(text)
            .map_or_else(|faults| faults.iter().map(|fault| (fault.kind, fault.place.line)).collect(), |_| Vec::new())
    }

    #[test]
    fn every_path_knows_its_line() {
        let places = scan("a: 1\nb:\n  - c: 2\n    d: {e: 3}\n").expect("well formed");
        for (path, want) in
            [("a", (1, 1)), ("b[0].c", (3, 5)), ("b[0].d.e", (4, 9)), ("b[0].d.nowhere", (4, 5)), ("", (1, 1))]
        {
            assert_eq!(places.of(path), Some(want), "{path}");
        }
    }

    #[test]
    fn structure_that_yaml_would_swallow_is_a_fault() {
        for (text, want) in [
            ("a: 1\na: 2\n", vec![("duplicate-key", Some(2))]),
            ("a: &x 1\nb: *x\n", vec![("alias", Some(2))]),
            ("", vec![("empty", None)]),
            ("# only a comment\n", vec![("empty", None)]),
            ("a: 1\n---\nb: 2\n", vec![("documents", Some(2))]),
            ("s:\n - { name: x, is: min(a, b), in: mm }\n", vec![("cut-at-comma", Some(2))]),
            ("s:\n - { says: Stop it, then look, why: x }\n", vec![("cut-at-comma", Some(2))]),
            ("a: [1, 2\nb: 3\n", vec![("yaml", Some(2))]),
        ] {
            assert_eq!(kinds(text), want, "{text:?}");
        }
        assert_eq!(kinds(&format!("{}{}", "[".repeat(40), "]".repeat(40))), vec![("too-deep", Some(1))]);
        assert_eq!(kinds(&"[".repeat(3000)).len(), 1);
        assert_eq!(kinds("s:\n - { name: x, is: \"min(a, b)\", in: mm }\n"), vec![]);
    }
}
