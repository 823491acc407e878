//! One file being read: YAML to the raw shapes, with every fault at its place.

use serde::de::DeserializeOwned;
use serde_yaml::Value;

use super::source::SourceFile;
use super::words::Words;
use super::yaml::{self, Places};
use crate::ground::{Fault, Place, nearest_name};

/// How many faults of form are reported for one exercise before its reading is given up.
const MOST_FAULTS: usize = 12;

/// A file whose structure is sound.
#[derive(Debug)]
pub(super) struct FileReader {
    pub(super) label: String,
    places: Places,
}

impl FileReader {
    /// Scans a file and parses it to a value, the programme's words put in.
    pub(super) fn open(file: &SourceFile, words: &Words) -> Result<(Self, Value), Vec<Fault>> {
        let at_file = |mut fault: Fault| {
            fault.place.file = Some(file.label.clone());
            fault
        };
        let places = yaml::scan(&file.text).map_err(|faults| faults.into_iter().map(at_file).collect::<Vec<_>>())?;
        let mut value = serde_yaml::from_str(&file.text).map_err(|error| {
            let (line, column) = error.location().map_or((None, None), |at| (Some(at.line()), Some(at.column())));
            let fault = Fault::new("yaml", format!("this is not YAML: {error}"), "look at this line and the one above");
            vec![at_file(fault.at(Place { line, column, ..Place::default() }))]
        })?;
        words.put_into(&mut value);
        Ok((Self { label: file.label.clone(), places }, value))
    }

    /// The place of a path in this file.
    pub(super) fn place(&self, path: &str) -> Place {
        let (line, column) = self.places.of(path).map_or((None, None), |(line, column)| (Some(line), Some(column)));
        Place { file: Some(self.label.clone()), line, column, ..Place::default() }
    }

    /// Whether exactly this path was written.
    pub(super) fn has(&self, path: &str) -> bool {
        self.places.has(path)
    }

    /// Reads a value into a raw shape. `root` is its path in the file. Unknown
    /// keys are reported one by one; any other fault of form ends the reading.
    pub(super) fn take<T: DeserializeOwned>(
        &self,
        mut value: Value,
        root: &str,
        exercise: Option<&str>,
        faults: &mut Vec<Fault>,
    ) -> Option<T> {
        let mut sound = true;
        for _ in 0..MOST_FAULTS {
            let error = match serde_path_to_error::deserialize::<_, T>(value.clone()) {
                Ok(read) => return sound.then_some(read),
                Err(error) => error,
            };
            sound = false;
            let field = error.path().to_string();
            let field = if field == "." { String::new() } else { field };
            let message = error.inner().to_string();
            let path = joined(root, &field);
            let mut place = self.place(&path);
            place.exercise = exercise.map(str::to_owned);
            place.field = (!field.is_empty()).then(|| field.clone());
            let unknown = unknown_field(&message);
            faults.push(fault_of(&message, unknown.as_ref()).at(place));
            // With the unknown key taken out, reading goes on to the next fault.
            if unknown.is_none() || !remove(&mut value, &field) {
                return None;
            }
        }
        None
    }
}

/// The key and the keys that would have been known, if the message is about an unknown field.
fn unknown_field(message: &str) -> Option<(String, Vec<String>)> {
    let rest = &message[message.find("unknown field `")? + "unknown field `".len()..];
    let (key, rest) = rest.split_once('`')?;
    let known = rest.split('`').skip(1).step_by(2).map(str::to_owned).collect();
    Some((key.to_owned(), known))
}

fn fault_of(message: &str, unknown: Option<&(String, Vec<String>)>) -> Fault {
    if let Some((key, known)) = unknown {
        let mend = match nearest_name(key, known.iter().map(String::as_str)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("known here are: {}", known.join(", ")),
        };
        return Fault::new("unknown-key", format!("the key `{key}` is not known here"), mend);
    }
    if let Some(key) = message.strip_prefix("missing field `").and_then(|rest| rest.split('`').next()) {
        return Fault::new("missing-key", format!("the key `{key}` is missing"), format!("add a line `{key}: …`"));
    }
    if message.contains("unknown variant") {
        let known: Vec<&str> = message.split('`').skip(3).step_by(2).collect();
        let word = message.split('`').nth(1).unwrap_or_default();
        return Fault::new(
            "unknown-word",
            format!("`{word}` is not one of the words known here"),
            format!("write one of: {}", known.join(", ")),
        );
    }
    Fault::new(
        "wrong-form",
        format!("the value has the wrong form: {message}"),
        "compare with a neighbouring entry, or with the guide to writing exercises",
    )
}

/// Removes the value at a path such as `steps[1].iz`; says whether there was one.
fn remove(value: &mut Value, path: &str) -> bool {
    let (parent, key) = path.rsplit_once('.').unwrap_or(("", path));
    let mut at = value;
    for part in parent.split('.').filter(|part| !part.is_empty()) {
        let mut names = part.split('[');
        let name = names.next().unwrap_or_default();
        if !name.is_empty() {
            let Some(next) = at.get_mut(name) else { return false };
            at = next;
        }
        for index in names {
            let Some(next) = index.trim_end_matches(']').parse::<usize>().ok().and_then(|index| at.get_mut(index))
            else {
                return false;
            };
            at = next;
        }
    }
    at.as_mapping_mut().is_some_and(|map| map.remove(key).is_some())
}

/// Two paths, one behind the other.
pub(super) fn joined(root: &str, field: &str) -> String {
    match (root.is_empty(), field.is_empty() || field.starts_with('[')) {
        (true, _) => field.to_owned(),
        (false, true) => format!("{root}{field}"),
        (false, false) => format!("{root}.{field}"),
    }
}

#[cfg(test)]
mod tests {
    use super::super::raw::RawExercise;
    use super::*;

    fn faults_of(text: &str) -> Vec<String> {
        let file = SourceFile { label: "bank.yaml".to_owned(), name: "bank.yaml".to_owned(), text: text.to_owned() };
        let (reader, value) = FileReader::open(&file, &Words::default()).expect("sound structure");
        let mut faults = Vec::new();
        let _ = reader.take::<RawExercise>(value, "", Some("x"), &mut faults);
        faults.sort_by_key(|fault| fault.place.line);
        faults.iter().map(|fault| format!("{}: {} ({})", fault.place_in_words(), fault.message, fault.mend)).collect()
    }

    #[test]
    fn every_unknown_key_is_reported_with_its_line_and_a_near_name() {
        let faults = faults_of("titel: x\nlevel: apply\nsteps:\n  - { name: a, is: \"1\", iz: 2 }\ncolour: red\n");
        assert_eq!(faults.len(), 3, "{faults:#?}");
        assert!(faults[0].contains("bank.yaml:1:1") && faults[0].contains("did you mean `title`"), "{}", faults[0]);
        assert!(faults[1].contains("bank.yaml:4:") && faults[1].contains("did you mean `is`"), "{}", faults[1]);
        assert!(faults[2].contains("known here are"), "{}", faults[2]);
    }

    #[test]
    fn a_wrong_word_lists_the_right_ones() {
        let faults = faults_of("level: expert\n");
        assert!(faults[0].contains("recall, apply, judge"), "{faults:?}");
    }
}
