//! The language of the pages: all texts stand in the files of
//! `site-template/language/`, and a programme is taught in the one it names.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

mod sitting;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use gearside::ground::language::{BUILT_IN, Language, Text};
use regex::Regex;
use serde_yaml::Value;
use sitting::Class;

/// Groups whose keys are worked out from a word of the program's own.
const WORKED_OUT: &[&str] = &[
    "constraint",
    "counted",
    "from-now-on",
    "general",
    "ink",
    "kind",
    "level",
    "look",
    "mark",
    "month",
    "number",
    "row",
    "standing",
    "taught",
    "units",
    "verdict",
    "verdicts",
];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// All files below a folder that end so, with their texts.
fn below(folder: &Path, endings: &[&str]) -> Vec<(String, String)> {
    let mut open = vec![folder.to_owned()];
    let mut found = Vec::new();
    while let Some(folder) = open.pop() {
        for path in fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()) {
            if path.is_dir() {
                open.push(path);
            } else if endings.iter().any(|ending| path.extension().is_some_and(|own| own == *ending)) {
                found.push((path.display().to_string(), fs::read_to_string(&path).expect("text")));
            }
        }
    }
    found
}

fn built_in(name: &str) -> Language {
    Language::load(name, None).expect("a sound file")
}

fn regex(pattern: &str) -> Regex {
    Regex::new(pattern).expect("a pattern")
}

#[test]
fn every_key_that_is_asked_for_has_a_text_and_every_text_is_asked_for() {
    let english = built_in("english");
    let code = [below(&root().join("src"), &["rs"]), below(&root().join("site-template"), &["html", "js"])].concat();
    let remarks = regex(r"(?m)^\s*//.*$");
    let code: Vec<String> = code.iter().map(|(_, text)| remarks.replace_all(text, "").into_owned()).collect();
    let asks = regex(r#"\b(?:say!|say|Say\.text|Say\.nodes|filled)\(\s*"([a-z-]+\.[a-z0-9-]+)""#);
    let asked: BTreeSet<&str> = code
        .iter()
        .flat_map(|text| asks.captures_iter(text))
        .map(|found| found.get(1).expect("a key").as_str())
        .collect();
    let without: Vec<&&str> = asked.iter().filter(|key| !english.texts().contains_key(**key)).collect();
    assert!(without.is_empty(), "no text for {without:?}");
    assert!(asked.len() > 500, "{}", asked.len());
    let unasked: Vec<&String> = english
        .texts()
        .keys()
        .filter(|key| !WORKED_OUT.contains(&key.split('.').next().expect("a group")))
        .filter(|key| !code.iter().any(|text| text.contains(&format!("\"{key}\""))))
        .collect();
    assert!(unasked.is_empty(), "nothing says {unasked:?}");
}

#[test]
fn no_text_stands_in_a_template() {
    let (code, markup) = (regex(r"(?s)\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}|<!--.*?-->"), regex(r"<[^>]*>"));
    let told = regex(r#"(?:aria-label|alt|title|placeholder|content)="[^"]*\p{L}{2}[^"]*""#);
    let letters = regex(r"\p{L}{2}");
    // The name of the program, and what a browser is told of a page.
    let own = regex(r#"gearside|content="(?:width=device-width[^"]*|light dark|no-referrer|noindex)""#);
    for (name, text) in below(&root().join("site-template"), &["html"]) {
        let bare = own.replace_all(&code.replace_all(&text, ""), "").into_owned();
        let found = told.find(&bare).map(|found| found.as_str().to_owned());
        assert!(found.is_none(), "{name}: {found:?}");
        let bare = markup.replace_all(&bare, "\n").into_owned();
        let found: Vec<&str> = bare.lines().filter(|line| letters.is_match(line)).collect();
        assert!(found.is_empty(), "{name}: {found:?}");
    }
}

#[test]
fn no_text_stands_in_a_script() {
    let (remarks, quoted) = (regex(r"(?s)/\*.*?\*/|(?m)(?:^|\s)//.*$"), regex(r#""(?:[^"\\]|\\.)*"|`[^`]*`"#));
    let holes = regex(r"\$\{[^}]*\}");
    // Two words in a row, not led by what makes them a selector of the page's own parts.
    let words = regex(r"\p{L}{2},? \p{Ll}{2}");
    let selector = regex(r"^.(?:use strict|[#.\w\[\]=()-]*[.#\[][^ ]* |details section|\.person, )");
    for (name, text) in below(&root().join("site-template"), &["js"]) {
        for found in quoted.find_iter(&remarks.replace_all(&text, "")) {
            let bare = holes.replace_all(found.as_str(), "").into_owned();
            assert!(!words.is_match(&bare) || selector.is_match(&bare), "{name}: {bare}");
        }
    }
}

#[test]
fn every_language_built_in_says_all_that_english_says_with_the_same_holes() {
    let english = built_in("english");
    for (name, text) in BUILT_IN {
        let home = tempfile::tempdir().expect("a folder");
        fs::create_dir(home.path().join("language")).expect("a folder");
        fs::write(home.path().join(format!("language/{name}.yaml")), text).expect("written");
        let own = Language::load(name, Some(home.path())).expect(name);
        let keys = |language: &Language| language.texts().keys().cloned().collect::<BTreeSet<_>>();
        assert_eq!(keys(&own), keys(&english), "{name}");
    }
    let spanish = built_in("spanish");
    let same: Vec<&String> = english
        .texts()
        .iter()
        .filter(|(key, text)| {
            let long = text.forms().any(|form| form.split_whitespace().filter(|word| !word.contains('{')).count() > 3);
            long && spanish.texts().get(*key) == Some(*text)
        })
        .map(|(key, _)| key)
        .collect();
    assert!(same.is_empty(), "not put into Spanish: {same:?}");
}

fn class_in(language: &str, own: Option<&str>) -> Class {
    let class = Class::start();
    let file = class.folder.join("curriculum/programme.yaml");
    let text = fs::read_to_string(&file).expect("read");
    fs::write(&file, format!("{text}\nlanguage: {language}\n")).expect("written");
    if let Some(own) = own {
        let folder = class.folder.join("site-template/language");
        fs::create_dir_all(&folder).expect("a folder");
        fs::write(folder.join(format!("{language}.yaml")), own).expect("written");
    }
    class
}

/// What this programme's pages of all kinds say.
fn every_page(class: &Class) -> Vec<(String, String)> {
    class.issue();
    class.save("back.json", &class.blank_return("docket-a-01.html").to_string());
    for (arguments, ends) in
        [(&["workbook"][..], 0), (&["workbook", "--gallery"], 0), (&["mark", "week-12", "returns"], 0), (&["board"], 0)]
    {
        let (status, _, err) = class.run(arguments);
        assert_eq!(status, ends, "{arguments:?}: {err}");
    }
    below(&class.folder.join("out"), &["html"])
}

#[test]
fn in_a_language_of_ones_own_no_text_of_the_program_comes_in_english() {
    // English again, each text between marks, as a language that is read from right to left.
    let (_, english) = BUILT_IN[0];
    let mut file: Value = serde_yaml::from_str(english).expect("YAML");
    file["tag"] = "ar".into();
    mark(&mut file["texts"]);
    let class = class_in("marked", Some(&serde_yaml::to_string(&file).expect("YAML")));
    let english = built_in("english");
    let whole: Vec<&str> = english
        .texts()
        .values()
        .flat_map(Text::forms)
        .filter(|text| !text.contains('{') && text.split_whitespace().count() > 4)
        .collect();
    assert!(whole.len() > 100, "{}", whole.len());
    let marked = regex("⟦[^⟦⟧]*⟧");
    let pages = every_page(&class);
    let named: BTreeSet<&str> = pages.iter().filter_map(|(name, _)| name.rsplit('/').next()).collect();
    assert!(named.len() > 40, "{named:?}");
    for (name, page) in &pages {
        assert!(page.contains("<html lang=\"ar\" dir=\"rtl\""), "{name}: {}", &page[..200]);
        let (opened, closed) = (page.matches('⟦').count(), page.matches('⟧').count());
        assert!(opened > 10 && opened == closed, "{name}: {opened}, {closed}");
        let mut bare = page.clone();
        while let std::borrow::Cow::Owned(less) = marked.replace_all(&bare, "") {
            bare = less;
        }
        let found = whole.iter().find(|text| bare.contains(**text));
        assert!(found.is_none(), "{name}: {found:?}");
    }
}

/// Puts every text between marks.
fn mark(texts: &mut Value) {
    match texts {
        Value::String(text) => *text = format!("⟦{text}⟧"),
        Value::Mapping(texts) => texts.iter_mut().for_each(|(_, text)| mark(text)),
        _ => panic!("{texts:?}"),
    }
}

#[test]
fn a_spanish_programme_has_spanish_pages_and_cautions() {
    let class = class_in("spanish", None);
    let pages = every_page(&class);
    for (name, page) in &pages {
        assert!(page.contains("<html lang=\"es\""), "{name}");
        assert!(!page.contains("Follow your site"), "{name}");
    }
    let cautioned = pages.iter().filter(|(_, page)| page.contains("Siga el procedimiento de su planta")).count();
    assert!(cautioned > 15, "{cautioned}");
    let docket = pages.iter().find(|(name, _)| name.ends_with("docket-a-02.html")).expect("a docket");
    assert!(docket.1.contains("Siga el procedimiento de su planta"));
    // What was set in one language is given back in it, whatever the programme speaks by then.
    let file = class.folder.join("curriculum/programme.yaml");
    let text = fs::read_to_string(&file).expect("read").replace("language: spanish", "language: english");
    fs::write(&file, text).expect("written");
    for arguments in [&["quiz", "--again", "week-12"][..], &["mark", "week-12"], &["workbook"]] {
        let (status, _, err) = class.run(arguments);
        assert_eq!(status, 0, "{arguments:?}: {err}");
    }
    for (name, page) in below(&class.folder.join("out/quiz"), &["html"]) {
        assert!(page.contains("<html lang=\"es\""), "{name}");
    }
    let front = fs::read_to_string(class.folder.join("out/workbook/index.html")).expect("a page");
    assert!(front.contains("<html lang=\"en\""));
}

#[test]
fn every_caution_built_in_is_said_in_every_language_built_in() {
    let file = root().join("curriculum/cautions.yaml");
    let cautions: Value = serde_yaml::from_str(&fs::read_to_string(file).expect("text")).expect("YAML");
    for caution in cautions["cautions"].as_sequence().expect("a list") {
        for (name, _) in &BUILT_IN[1..] {
            let own = &caution["in"][*name];
            let says =
                |own: &Value| own["says"].as_str().map(|says| says.split_whitespace().count()).unwrap_or_default();
            assert!(own["word"].is_string() && own["word"] != caution["word"], "{caution:?}");
            // As long as the original, give or take what languages differ by.
            let (theirs, ours) = (says(own), says(caution));
            assert!(
                theirs * 10 > ours * 8 && theirs * 10 < ours * 15,
                "{}: {theirs} of {ours}",
                own["word"].as_str().expect("a word")
            );
        }
    }
}

#[test]
fn what_is_said_of_a_state_begins_with_the_word_for_it() {
    for (name, _) in BUILT_IN {
        let language = built_in(name);
        for (word, said) in [
            ("held", "held"),
            ("open", "open"),
            ("ready", "ready"),
            ("signed", "signed-by"),
            ("lapsed", "lapsed"),
            ("lapsed", "lapsed-and-ready"),
            ("waiting", "waiting-for"),
        ] {
            let word = language.say(&format!("standing.{word}"), &[]);
            let said = language.say(&format!("state.{said}"), &[]);
            assert!(said.starts_with(&word), "{name}: `{said}` and `{word}`");
        }
    }
}

#[test]
fn a_language_that_is_not_there_or_lacks_texts_is_refused_with_its_place() {
    let class = class_in("dutch", None);
    let (status, _, err) = class.run(&["workbook"]);
    assert_eq!(status, 1, "{err}");
    assert!(err.contains("`dutch`") && err.contains("spanish"), "{err}");
    assert!(!class.folder.join("out/workbook").exists());
    let class = class_in("polski", Some("tag: pl\ntexts:\n  page:\n    skipp: x\n"));
    let (status, _, err) = class.run(&["workbook"]);
    assert_eq!(status, 1, "{err}");
    assert!(err.contains("language/polski.yaml") && err.contains("page.skipp"), "{err}");
    let class = class_in("../english", None);
    let (status, _, err) = class.run(&["workbook"]);
    assert_eq!(status, 1, "{err}");
    assert!(err.contains("programme.yaml:"), "{err}");
}
