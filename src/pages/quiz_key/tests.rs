//! What a key says is held to how its docket is marked.

use std::collections::BTreeSet;

use super::KeyPages;
use crate::marking::{Asks, Marker, Verdict};
use crate::quiz::{KeptDocket, Snapshot};

/// Numbers, orders and choices.
const WITH: [&str; 4] =
    ["tape-a-cylinder", "load-an-open-blade-deck", "hazards-at-a-film-rewind", "which-film-is-left"];

/// A rehearsed quiz: eight people and one blank docket.
fn rehearsed() -> (Snapshot, Vec<KeptDocket>) {
    let codes = ["a-1", "a-2", "a-3", "a-4", "a-5", "a-6", "a-7", "a-8"].map(Some);
    let places: Vec<_> = codes.into_iter().chain([None]).zip(61..).collect();
    crate::quiz::rehearsed(&WITH, 60, &places)
}

/// What stands between two marks, each time.
fn between<'h>(html: &'h str, from: &str, to: &str) -> Vec<&'h str> {
    html.split(from).skip(1).filter_map(|rest| Some(rest.split_once(to)?.0)).collect()
}

/// Text as a reader sees it.
fn seen(html: &str) -> String {
    let text: String = html.split('<').map(|part| part.split_once('>').map_or(part, |(_, text)| text)).collect();
    let text = text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&#39;", "'");
    text.replace("&amp;", "&").trim().to_owned()
}

/// The part of a key that is about each exercise.
fn sections(page: &str) -> Vec<&str> {
    between(page, "<section class=\"exercise keyed own\"", "</section>")
}

/// `data-…="NUMBER">TEXT` as number and text.
fn numbered(html: &str, name: &str) -> Vec<(usize, String)> {
    let found = between(html, &format!("data-{name}=\""), "</");
    found.iter().filter_map(|one| one.split_once("\">")).map(|(n, text)| (n.parse().expect(n), seen(text))).collect()
}

#[test]
fn what_the_key_says_is_right_on_every_docket() {
    let (snapshot, kept) = rehearsed();
    let pages = KeyPages::new(&snapshot, None).expect("pages");
    let mut kinds = BTreeSet::new();
    for (place, kept) in kept.iter().enumerate() {
        let page = pages.page(place, kept, None).expect("a key");
        let sections = sections(&page);
        assert_eq!(sections.len(), snapshot.exercises.len());
        for ((exercise, pull), html) in snapshot.exercises.iter().zip(&kept.exercises).zip(sections) {
            let keys = numbered(html, "key");
            assert_eq!(keys.len(), exercise.shown.answers(), "{}", exercise.exercise);
            let answers: Vec<&String> = keys.iter().map(|(_, key)| key).collect();
            let marks = Marker::open(&exercise.rules).and_then(|marker| marker.mark(&pull.own, &answers));
            for (mark, key) in marks.expect("marks").iter().zip(&answers) {
                let said = format!("docket {place}, {}: `{key}` is {:?}", exercise.exercise, mark.verdict);
                assert!(mark.verdict == Verdict::Right && mark.mark >= 1.0, "{said}");
            }
            kinds.insert(exercise.shown.kind.as_str());
        }
    }
    assert_eq!(kinds.into_iter().collect::<Vec<_>>(), ["choose", "numeric", "order"]);
}

#[test]
fn both_ends_of_what_is_taken_as_right_are_right() {
    let (snapshot, kept) = rehearsed();
    let pages = KeyPages::new(&snapshot, None).expect("pages");
    let (mut ranges, mut exact) = (0, 0);
    for (place, kept) in kept.iter().enumerate() {
        let page = pages.page(place, kept, None).expect("a key");
        for ((exercise, pull), html) in snapshot.exercises.iter().zip(&kept.exercises).zip(sections(&page)) {
            for (part, range) in numbered(html, "range") {
                let Some((low, high)) = range.split_once(" to ") else {
                    assert_eq!((range.as_str(), pull.own.parts[part - 1].half_width > 0.0), ("this alone", false));
                    exact += 1;
                    continue;
                };
                let marker = Marker::open(&exercise.rules).expect("rules");
                for end in [low, high] {
                    let mut answers = vec![""; exercise.shown.answers()];
                    answers[part - 1] = end;
                    let marks = marker.mark(&pull.own, &answers).expect("marks");
                    assert_eq!(marks[part - 1].verdict, Verdict::Right, "{}, part {part}: {end}", exercise.exercise);
                }
                ranges += 1;
            }
        }
    }
    assert!(ranges > 50 && exact > 0, "{ranges} ranges, {exact} exact");
}

#[test]
fn each_wrong_value_of_the_key_is_marked_as_that_wrong_turn() {
    let (snapshot, kept) = rehearsed();
    let pages = KeyPages::new(&snapshot, None).expect("pages");
    let mut found = 0;
    for (place, kept) in kept.iter().enumerate() {
        let page = pages.page(place, kept, None).expect("a key");
        for ((exercise, pull), html) in snapshot.exercises.iter().zip(&kept.exercises).zip(sections(&page)) {
            let Asks::Numeric(rules) = &exercise.rules.asks else { continue };
            let turns = between(html, "data-turn=\"", "</div>");
            assert_eq!(turns.len(), rules.turns.len(), "{}", exercise.exercise);
            for turn in turns {
                let (name, html) = turn.split_once('"').expect("a name");
                for (part, value) in numbered(html, "part") {
                    let mut answers = vec![""; exercise.shown.answers()];
                    answers[part - 1] = &value;
                    let marks = Marker::open(&exercise.rules).and_then(|marker| marker.mark(&pull.own, &answers));
                    let mark = &marks.expect("marks")[part - 1];
                    let said = format!("{}, {name}: `{value}` is {:?}", exercise.exercise, mark.verdict);
                    assert!(mark.turns.iter().any(|one| one == name), "{said}");
                    assert!(html.contains(mark.reason.html.trim()) || mark.turns.len() > 1, "{said}: {html}");
                    found += 1;
                }
            }
        }
    }
    assert!(found > 100, "{found} wrong values");
}

#[test]
fn the_working_ends_in_the_key_and_shows_the_numbers_of_the_docket() {
    let (snapshot, kept) = rehearsed();
    let pages = KeyPages::new(&snapshot, None).expect("pages");
    for (place, kept) in kept.iter().enumerate() {
        let page = pages.page(place, kept, None).expect("a key");
        assert!(!page.contains(['\u{E000}', '\u{E001}']) && !page.contains("{{"), "a blank is left open");
        for ((exercise, pull), html) in snapshot.exercises.iter().zip(&kept.exercises).zip(sections(&page)) {
            let Asks::Numeric(rules) = &exercise.rules.asks else { continue };
            let values: Vec<String> =
                between(html, "<div class=\"value\">", "</div>").iter().map(|value| seen(value)).collect();
            assert_eq!(values.len(), rules.steps.len(), "{}", exercise.exercise);
            for (step, part) in rules.answers.iter().zip(&pull.own.parts) {
                assert_eq!(values[*step], part.printed, "{}", exercise.exercise);
            }
            let numbers = between(html, "<mn>", "</mn>").iter().map(|text| seen(text)).collect::<BTreeSet<_>>();
            let known = |text: &String| pull.own.printed.contains(text) || text.parse::<f64>().is_ok();
            assert!(numbers.iter().all(known), "{}: {numbers:?}", exercise.exercise);
            assert!(pull.own.printed.iter().any(|text| numbers.contains(text)), "{}", exercise.exercise);
            assert!(html.contains(&pull.ask.ask_html), "{}", exercise.exercise);
        }
    }
}

#[test]
fn pages_are_made_from_what_was_kept_alone_and_come_out_alike() {
    let (snapshot, kept) = rehearsed();
    let again = Snapshot::read(&snapshot.to_text()).expect("it reads back");
    let (one, other) = (KeyPages::new(&snapshot, None).expect("pages"), KeyPages::new(&again, None).expect("pages"));
    for (place, kept) in kept.iter().enumerate() {
        assert_eq!(one.page(place, kept, None).expect("a key"), other.page(place, kept, None).expect("a key"));
    }
    assert_eq!(one.front(&|_| None).expect("a page"), other.front(&|_| None).expect("a page"));
}

#[test]
fn names_are_looked_up_made_safe_and_kept_apart() {
    let (snapshot, kept) = rehearsed();
    let pages = KeyPages::new(&snapshot, None).expect("pages").on_record("12 <of> heads");
    let page = pages.page(0, &kept[0], Some("Ann \u{202e}<Invented>")).expect("a key");
    assert!(page.contains("<h1>Key of <bdi>Ann &lt;Invented&gt;</bdi> <span class=\"whose-code\">(a-1)</span></h1>"));
    assert!(page.contains("<title>Key: Ann &lt;Invented&gt; (a-1)") && !page.contains('\u{202e}'));
    assert!(page.contains("12 &lt;of&gt; heads"));
    assert!(pages.page(0, &kept[0], None).expect("a key").contains("<h1>Key of a-1</h1>"));
    // A blank docket is nobody's, whoever is named.
    assert!(pages.page(8, &kept[8], Some("Ann")).expect("a key").contains("<h1>Key of blank-001</h1>"));
    let front = pages.front(&|code| (code.as_str() == "a-2").then(|| "Bo <b>".to_owned())).expect("a page");
    assert!(
        front.contains("<a href=\"key-a-2.html\"><bdi>Bo &lt;b&gt;</bdi> <span class=\"whose-code\">(a-2)</span></a>")
    );
    for (place, seat) in snapshot.dockets.iter().enumerate() {
        assert!(front.contains(&format!("href=\"key-{}.html\"", snapshot.file_name(place))), "{place}");
        assert!(front.contains(&seat.docket) && front.contains(&format!("<td>{} min</td>", seat.minutes)), "{place}");
    }
    for pick in &snapshot.composition.picks {
        assert!(front.contains(&pick.exercise) && front.contains(&format!(">{}<", pick.competency)), "{}", pick.title);
    }
}

#[test]
fn what_was_kept_of_another_docket_or_quiz_is_refused() {
    let (snapshot, kept) = rehearsed();
    let pages = KeyPages::new(&snapshot, None).expect("pages");
    let short = |docket: &KeptDocket| KeptDocket { exercises: docket.exercises[1..].to_vec(), ..docket.clone() };
    let mixed = |docket: &KeptDocket| {
        let mut docket = docket.clone();
        docket.exercises.reverse();
        docket
    };
    for (place, kept) in [(1, kept[0].clone()), (99, kept[0].clone()), (0, short(&kept[0])), (0, mixed(&kept[0]))] {
        assert_eq!(pages.page(place, &kept, None).expect_err("a fault").kind, "kept-quiz", "{place}");
    }
}

#[test]
fn two_threads_may_fill_keys_at_once() {
    fn shared<T: Send + Sync>() {}
    shared::<KeyPages<'_>>();
}
