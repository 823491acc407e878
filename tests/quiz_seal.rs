//! The seal: a docket's bytes are a function of what the apprentice must see.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

mod seal;
mod sitting;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use gearside::marking::OwnKey;
use gearside::pages::DocketPages;
use gearside::programme::{Origin, Programme, load};
use gearside::quiz::{Drawn, Issued, Issuing, KeptDocket, Place, Request, compose, issue};
use gearside::records::Code;
use seal::secrets::{Secret, found_in, secrets_of};
use seal::{other_keys, twin};
use serde_json::Value;
use sitting::{Class, bytes};

/// Weeks of the shipped plan whose quizzes are looked through.
const WEEKS: [u32; 5] = [3, 7, 12, 21, 30];

/// Names and bytes of files.
type Files = Vec<(String, Vec<u8>)>;

/// The files of a folder.
fn files(folder: &Path) -> Files {
    let name = |path: String| path.rsplit('/').next().expect("a name").to_owned();
    bytes(folder).into_iter().map(|(path, bytes)| (name(path), bytes)).collect()
}

/// Rehearses a quiz; gives what was composed, its dockets and its keys.
fn rehearsed(class: &Class, week: u32, more: &[&str]) -> (Value, Files, Files) {
    let week_text = week.to_string();
    let usual = ["quiz", "--rehearse", "a seed", "--week", &week_text, "--json"];
    let (status, out, err) = class.run(&[&usual[..], more].concat());
    assert_eq!(status, 0, "{out}{err}");
    let folder = |end: &str| files(&class.folder.join(format!("out/quiz/rehearsal-week-{week}{end}")));
    (serde_json::from_str(&out).expect("JSON"), folder(""), folder("-key"))
}

fn same(one: &[(String, Vec<u8>)], other: &[(String, Vec<u8>)]) {
    assert!(one.len() > 2);
    assert_eq!(one.len(), other.len());
    for (one, other) in one.iter().zip(other) {
        assert!(one == other, "{} changed, or is {}", one.0, other.0);
    }
}

fn as_text(files: &[(String, Vec<u8>)]) -> String {
    files.iter().map(|(_, bytes)| String::from_utf8_lossy(bytes)).collect()
}

#[test]
fn dockets_stay_the_same_whatever_their_keys_become() {
    let built = |side: char| {
        let class = Class::without_records();
        for folder in ["curriculum", "question-banks"] {
            fs::remove_dir_all(class.folder.join(folder)).expect("removed");
            fs::create_dir(class.folder.join(folder)).expect("made");
        }
        for (file, text) in twin::PROGRAMME {
            fs::write(class.folder.join(file), text).expect("written");
        }
        fs::write(class.folder.join("question-banks/seal.yaml"), twin::bank(side)).expect("written");
        let with: Vec<&str> = twin::EXERCISES.iter().flat_map(|id| ["--with", id]).collect();
        rehearsed(&class, 1, &[&["--blank", "12", "--minutes", "20"], &with[..]].concat())
    };
    let (composed, dockets, keys) = built('A');
    let (_, other_dockets, other_keys) = built('B');
    let picks = composed["composition"]["picks"].as_array().expect("a list");
    assert_eq!(picks.len(), twin::EXERCISES.len());
    assert_eq!(composed["gave_way"], Value::Array(vec![]), "all pulls are matched");
    same(&dockets, &other_dockets);
    // Everything that was changed is in use.
    let (keys, other_keys) = (as_text(&keys), as_text(&other_keys));
    for (side, keys, foreign) in [('A', &keys, &other_keys), ('B', &other_keys, &keys)] {
        let reasons = twin::reasons(side);
        assert!(reasons.len() >= 20, "{side} has {} reasons", reasons.len());
        for reason in reasons {
            assert!(!foreign.contains(&reason) && !as_text(&dockets).contains(&reason), "{reason}");
            assert!(keys.contains(&reason), "the keys of {side} lack: {reason}");
        }
    }
}

#[test]
fn shipped_dockets_stay_the_same_whatever_is_right_and_why() {
    let (plain, other) = (Class::without_records(), Class::without_records());
    for class in [&plain, &other] {
        other_keys::show_all_moves(&class.folder.join("question-banks"));
    }
    let changed = other_keys::change_all(&other.folder.join("question-banks"));
    assert!(changed.reasons > 1500 && changed.choices > 50 && changed.orders > 50, "{changed:?}");
    for week in WEEKS {
        let more = ["--blank", "4"];
        let ((_, dockets, keys), (_, others, other_keys)) =
            (rehearsed(&plain, week, &more), rehearsed(&other, week, &more));
        same(&dockets, &others);
        assert!(!as_text(&keys).contains(other_keys::SIGN) && as_text(&other_keys).contains(other_keys::SIGN));
    }
}

fn issued(programme: &Programme, week: u32) -> Issued {
    let day = jiff::civil::date(2026, 11, 23);
    let request = Request {
        programme,
        history: None,
        asked: &BTreeMap::new(),
        week,
        day,
        minutes: 45,
        with: &[],
        without: &[],
        only: None,
        seed: "1",
    };
    let person = Code::parse("a-1").expect("a code");
    let places = [Some(person), None].map(|person| Place { person, minutes: 45 });
    let issuing = Issuing {
        programme,
        composition: &compose(&request).expect("a composition"),
        quiz: "week-1",
        day,
        places: &places,
        seed: "1",
        rehearsal: true,
    };
    issue(&issuing, &mut Drawn::rehearsed("7")).expect("a quiz")
}

/// The pages of all dockets of a quiz.
fn pages(issued: &Issued, kept: &[KeptDocket]) -> Vec<String> {
    let quiz = &issued.snapshot;
    let shown: Vec<_> = quiz.exercises.iter().map(|one| &one.shown).collect();
    let pages = DocketPages::new(&quiz.head, &shown, None).expect("pages");
    quiz.dockets.iter().zip(kept).map(|(seat, kept)| pages.page(&quiz.docket(seat, kept), None)).collect()
}

fn unpacked(issued: &Issued) -> Vec<KeptDocket> {
    issued.dockets.iter().map(|packed| KeptDocket::unpack(packed).expect("a docket")).collect()
}

#[test]
fn a_page_is_the_same_with_another_exercises_rules_and_no_key_at_all() {
    let programme = load(&Origin::Shipped).expect("it is read").programme.expect("a programme");
    for week in WEEKS {
        let mut issued = issued(&programme, week);
        let mut kept = unpacked(&issued);
        let before = pages(&issued, &kept);
        let exercises = &mut issued.snapshot.exercises;
        let rules: Vec<_> = exercises.iter().map(|one| one.rules.clone()).collect();
        for (place, one) in exercises.iter_mut().enumerate() {
            one.rules = rules[(place + 1) % rules.len()].clone();
            one.exercise = "another".to_owned();
            one.family = "another".to_owned();
            one.competency = "another".to_owned();
        }
        for pull in kept.iter_mut().flat_map(|docket| &mut docket.exercises) {
            assert_ne!(pull.own, OwnKey::default());
            pull.own = OwnKey::default();
        }
        assert!(before == pages(&issued, &kept), "week {week}");
    }
}

#[test]
fn no_key_of_a_number_stands_on_a_docket_beside_what_it_asks() {
    let programme = load(&Origin::Shipped).expect("it is read").programme.expect("a programme");
    let mut looked_for = 0;
    for week in WEEKS {
        let issued = issued(&programme, week);
        let kept = unpacked(&issued);
        for (page, kept) in pages(&issued, &kept).iter().zip(&kept) {
            for pull in &kept.exercises {
                let rest = page.replace(&pull.ask.ask_html, "");
                assert!(rest.len() < page.len(), "the question is there");
                for part in pull.own.parts.iter().filter(|part| part.printed.chars().count() > 5) {
                    assert!(!rest.contains(&part.printed), "{} is the key of `{}`", part.printed, part.label);
                    looked_for += 1;
                }
            }
        }
    }
    assert!(looked_for > 30, "{looked_for}");
}

/// All secrets of the exercises of a quiz.
fn secrets(programme: &Programme, composed: &Value) -> Vec<Secret> {
    let picks = composed["composition"]["picks"].as_array().expect("a list");
    let exercises = picks.iter().map(|pick| pick["exercise"].as_str().expect("an id"));
    exercises.flat_map(|id| secrets_of(programme.exercise(id).expect("an exercise"))).collect()
}

#[test]
fn no_reason_no_formula_and_no_authors_name_is_in_a_docket_in_any_wrapping() {
    let class = Class::without_records();
    let programme = load(&Origin::Shipped).expect("it is read").programme.expect("a programme");
    for week in WEEKS {
        let (composed, dockets, keys) = rehearsed(&class, week, &["--blank", "2"]);
        let secrets = secrets(&programme, &composed);
        for (file, bytes) in &dockets {
            let page = std::str::from_utf8(bytes).expect("text");
            let found = found_in(page, &secrets);
            assert!(found.is_empty(), "week {week}, {file}: {found:#?}");
        }
        // The same search finds them where they may be.
        let key = keys.iter().find(|(file, _)| file == "key-blank-001.html").expect("a key");
        let found = found_in(std::str::from_utf8(&key.1).expect("text"), &secrets);
        assert!(found.len() > 30, "week {week}: only {} of {} are in the key", found.len(), secrets.len());
    }
}

#[test]
fn a_secret_is_found_in_every_wrapping() {
    let class = Class::without_records();
    let programme = load(&Origin::Shipped).expect("it is read").programme.expect("a programme");
    let (composed, dockets, _) = rehearsed(&class, 12, &["--blank", "2"]);
    let secrets = secrets(&programme, &composed);
    let page = dockets.iter().find(|(file, _)| file.ends_with(".html")).expect("a docket");
    let page = std::str::from_utf8(&page.1).expect("text");
    assert!(found_in(page, &secrets).is_empty());
    let secret = secrets.iter().find(|one| one.what.starts_with("reason")).expect("a reason");
    for (how, wrapped) in seal::wrappings(&secret.text) {
        for place in ["</main>", "</head>", "</style>"] {
            let planted = page.replacen(place, &format!("{wrapped}{place}"), 1);
            assert_ne!(planted, page, "{place} is there");
            let found = found_in(&planted, &secrets);
            assert!(!found.is_empty(), "{how} before {place}: {wrapped}");
        }
    }
    let planted = page.replacen("id=\"docket\">{", "id=\"docket\">{\"turn\":\"waiting\",", 1);
    assert!(planted != page && !found_in(&planted, &secrets).is_empty());
}
