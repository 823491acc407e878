//! Reading a language's file, and what a file must hold.

use std::collections::BTreeMap;
use std::path::Path;

use serde::Deserialize;
use unic_langid::LanguageIdentifier;

use super::{BUILT_IN, ENGLISH, Language, Text};
use crate::ground::files::{self, TextFault};
use crate::ground::{Fault, Place, in_brief, nearest_name};

/// The longest file, in bytes.
const LONGEST: u64 = 1_000_000;
/// What no text may hold: it would be read as markup where the text stands in a page.
const MARKUP: [char; 4] = ['<', '>', '&', '"'];
/// How many keys a fault names.
const NAMED: usize = 5;

/// A file as written: the tag, then groups of texts.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    tag: String,
    texts: BTreeMap<String, BTreeMap<String, Text>>,
}

impl Language {
    /// The language of that name: a file of `folder/language` if there is
    /// one, else what is built in. `None` for `folder` means built in.
    ///
    /// # Errors
    /// Faults of the file, or that there is none of that name.
    pub fn load(name: &str, folder: Option<&Path>) -> Result<Self, Vec<Fault>> {
        let file =
            folder.map(|folder| folder.join("language").join(format!("{name}.yaml"))).filter(|file| file.exists());
        if let Some(file) = file {
            let text = files::read_text(&file, LONGEST).map_err(|fault| match fault {
                TextFault::Content(fault) => vec![*fault],
                TextFault::Machine(fault) => {
                    vec![Fault::new("language", fault.to_string(), "make the file readable")]
                }
            })?;
            let language = Self::read(name, &text, &file.display().to_string())?;
            let faults = language.held_to(&ENGLISH, &file.display().to_string());
            return if faults.is_empty() { Ok(language) } else { Err(faults) };
        }
        match BUILT_IN.iter().find(|(known, _)| *known == name) {
            Some((name, text)) => Self::read(name, text, &format!("language/{name}.yaml")),
            None => Err(vec![unknown(name)]),
        }
    }

    pub(super) fn built_in_english() -> Self {
        let (name, text) = BUILT_IN[0];
        Self::read(name, text, "language/english.yaml").unwrap_or_else(|_| Self {
            name: name.to_owned(),
            tag: LanguageIdentifier::default(),
            texts: BTreeMap::new(),
        })
    }

    /// Reads a file.
    fn read(name: &str, text: &str, file: &str) -> Result<Self, Vec<Fault>> {
        let place = |line: Option<usize>| Place { file: Some(file.to_owned()), line, ..Place::default() };
        let written: Written = serde_yaml::from_str(text).map_err(|error| {
            let line = error.location().map(|location| location.line());
            let mend = "write `tag:` and `texts:` as the built-in files do; `gearside workbook --templates DIR` writes them out";
            vec![Fault::new("language", format!("the file cannot be read: {error}"), mend).at(place(line))]
        })?;
        let tag = written.tag.parse().map_err(|_| {
            let message = format!("`{}` is not the tag of a language", in_brief(&written.tag, 40));
            vec![Fault::new("language", message, "write a tag such as en, es or pt-BR").at(place(None))]
        })?;
        let texts: BTreeMap<String, Text> = written
            .texts
            .into_iter()
            .flat_map(|(group, texts)| texts.into_iter().map(move |(key, text)| (format!("{group}.{key}"), text)))
            .collect();
        let with_markup = |text: &Text| text.forms().any(|form| form.contains(MARKUP));
        let faults: Vec<Fault> = texts
            .iter()
            .filter(|(_, text)| with_markup(text))
            .map(|(key, _)| {
                let message = format!("the text `{key}` holds one of < > & \"");
                Fault::new("language", message, "write it in words, and quotes as they are printed: “ ”")
                    .at(place(None))
            })
            .collect();
        if faults.is_empty() { Ok(Self { name: name.to_owned(), tag, texts }) } else { Err(faults) }
    }

    /// What it lacks, has too much of, or holes otherwise than another one.
    fn held_to(&self, model: &Self, file: &str) -> Vec<Fault> {
        let fault = |what: &str, keys: &[&str], mend: &str| {
            let more =
                keys.len().checked_sub(NAMED + 1).map_or_else(String::new, |more| format!(" and {} more", more + 1));
            let message = format!("{what}: {}{more}", keys[..keys.len().min(NAMED)].join(", "));
            let place = Place { file: Some(file.to_owned()), ..Place::default() };
            (!keys.is_empty()).then(|| Fault::new("language", message, mend).at(place))
        };
        let (missing, unknown) = (model.texts_beyond(self), self.texts_beyond(model));
        let holed: Vec<&str> = self
            .texts
            .iter()
            .filter(|(key, text)| model.texts.get(*key).is_some_and(|other| other.holes() != text.holes()))
            .map(|(key, _)| key.as_str())
            .collect();
        [
            fault("it has no text for", &missing, "copy them from english.yaml and put them into words"),
            fault("no page says", &unknown, "take them out, or mend the names by english.yaml"),
            fault(
                "other holes than in english.yaml",
                &holed,
                "put each {hole} of the English text into it, and no other",
            ),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    /// The keys that another language has no text for.
    fn texts_beyond(&self, other: &Self) -> Vec<&str> {
        self.texts.keys().filter(|key| !other.texts.contains_key(*key)).map(String::as_str).collect()
    }
}

fn unknown(name: &str) -> Fault {
    let near = nearest_name(name, BUILT_IN.iter().map(|(known, _)| *known));
    let mend = near.map_or_else(
        || format!("write english or spanish, or keep its texts in site-template/language/{name}.yaml"),
        |near| format!("did you mean `{near}`?"),
    );
    Fault::new("language", format!("there is no language `{}`", in_brief(name, 40)), mend)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn english() -> Language {
        Language::load("english", None).expect("it is built in")
    }

    fn messages(faults: &[Fault]) -> String {
        faults.iter().map(|fault| format!("{} ({})", fault.message, fault.mend)).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn each_built_in_language_says_all_that_english_says_with_the_same_holes() {
        for (name, _) in BUILT_IN {
            let faults = Language::load(name, None).map(|language| language.held_to(&english(), name));
            assert_eq!(messages(&faults.expect("it is built in")), "", "{name}");
        }
    }

    #[test]
    fn a_file_of_ones_own_is_held_to_the_texts_of_the_program() {
        let text = "tag: pl\ntexts:\n  page:\n    to-the-page: Do strony {x}\n    skipp: x\n";
        let own = Language::read("polski", text, "polski.yaml").expect("it is read");
        let said = messages(&own.held_to(&english(), "polski.yaml"));
        assert!(said.contains("it has no text for: ") && said.contains(" more"), "{said}");
        assert!(said.contains("no page says: page.skipp ("), "{said}");
        assert!(said.contains("other holes than in english.yaml: page.to-the-page ("), "{said}");
    }

    #[test]
    fn a_file_that_cannot_be_read_says_where_and_what() {
        for (text, wanted) in [
            ("tag: [", "language/x.yaml:"),
            ("tag: en\ntexts: {}\nmore: 1\n", "unknown field `more`"),
            ("tag: ' '\ntexts: {}\n", "is not the tag of a language"),
            ("tag: en\ntexts: {page: {to-the-page: 'a <b> c'}}\n", "the text `page.to-the-page` holds one of"),
            ("tag: en\ntexts: {page: {to-the-page: {ones: x}}}\n", "the file cannot be read"),
        ] {
            let faults = Language::read("x", text, "language/x.yaml").expect_err(text);
            let said: Vec<String> =
                faults.iter().map(|fault| format!("{} {}", fault.place_in_words(), fault.message)).collect();
            let said = said.concat();
            assert!(said.contains(wanted), "{text:?}: {said}");
        }
        assert!(messages(&Language::load("spansh", None).expect_err("unknown")).contains("did you mean `spanish`?"));
    }
}
