//! What can hurt stands beside what touches it, in the built-in programme.

use std::collections::BTreeSet;

use gearside::pages::{DocketPages, Order, site};
use gearside::programme::{Exercise, Form, Origin, Paper, Programme, load};
use gearside::prose::Text;
use gearside::pull::{Printer, Public, pull};
use gearside::quiz::{Docket, Head, ShownAsk, ShownExercise};

/// Words that name a hazard, with the caution that belongs to it. A word ends
/// with a space or a mark; `*` stands for any ending.
const HAZARDS: &[(&str, &[&str])] = &[
    ("turning-rolls", &["nip", "nips", "turning roll*", "turning cylinder*", "rolls turn"]),
    ("doctor-blades", &["blade", "blades"]),
    ("lifting-rolls", &["lift", "lifts", "lifted", "lifting", "hoist"]),
    ("inks-and-solvents", &["solvent", "solvents", "thinner"]),
    ("uv-lamps", &["lamp", "lamps"]),
    ("hot-dryers", &["dryer", "dryers"]),
    ("live-drives", &["live drive*", "live press", "drives"]),
    ("stored-air", &["stored air", "trapped air", "compressed air"]),
    ("plate-knives", &["knife", "knives"]),
    ("die-cutting", &["rotary die", "slitting kni*"]),
];

/// Where such a word names no hazard, or another one.
const NO_HAZARD: &[(&str, &str, &str)] = &[
    ("build-the-curve-and-cutback", "lifting-rolls", "tone values are lifted"),
    ("read-a-viscosity-cup", "lifting-rolls", "a cup is lifted"),
    ("take-a-cup-reading", "lifting-rolls", "a cup is lifted"),
    ("from-first-run-to-report", "lifting-rolls", "tone values are lifted"),
    ("along-an-in-line-press", "hot-dryers", "parts in the order of the web, on paper"),
    ("bring-colours-into-register", "live-drives", "register drives, which have their own caution"),
    ("name-what-you-see", "doctor-blades", "a guess about a blade, made at the bench"),
    ("read-density", "doctor-blades", "a cause that is thought of, at the bench"),
    ("plan-a-run", "hot-dryers", "what limits the speed, reckoned at a desk"),
    ("settle-and-sample", "hot-dryers", "a setting that is watched"),
    ("confirm-and-report", "hot-dryers", "a setting that is written down"),
    ("get-approval-and-record", "hot-dryers", "a setting that is written down"),
    ("from-first-print-to-approval", "hot-dryers", "a setting that is written down"),
    ("correct-a-weak-colour", "hot-dryers", "a setting that is left as it is"),
    ("act-in-an-emergency", "live-drives", "what an alarm stops"),
    ("clear-a-wrap", "doctor-blades", "the blade of a knife, which has its own caution"),
];

fn programme() -> Programme {
    load(&Origin::Shipped).expect("the built-in programme").programme.expect("a programme")
}

fn plain(text: &Text) -> String {
    text.plain(&|_| Some("five".to_owned())).to_lowercase()
}

/// Whether a text holds a word as a whole.
fn holds(text: &str, word: &str) -> bool {
    let (stem, open) = word.strip_suffix('*').map_or((word, false), |stem| (stem, true));
    text.match_indices(stem).any(|(at, _)| {
        let letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
        let (before, behind) = (text[..at].chars().next_back(), text[at + stem.len()..].chars().next());
        !letter(before) && (open || !letter(behind))
    })
}

/// The cautions that a text asks for and does not have.
fn lacking(id: &str, text: &str, has: impl Fn(&str) -> bool) -> Vec<String> {
    let wanted = HAZARDS.iter().filter(|(_, words)| words.iter().any(|word| holds(text, word)));
    let missing = wanted.filter(|(caution, _)| !has(caution));
    let missing = missing.filter(|(caution, _)| !NO_HAZARD.iter().any(|(one, of, _)| one == &id && of == caution));
    missing.map(|(caution, _)| format!("{id}: {caution}")).collect()
}

#[test]
fn a_competency_that_touches_a_hazard_shows_its_caution() {
    let programme = programme();
    let missing: Vec<String> = programme
        .competencies()
        .flat_map(|one| {
            let criteria = one.criteria.iter().map(|criterion| plain(&criterion.text)).collect::<Vec<_>>().join(" ");
            let text = format!("{} {criteria}", plain(&one.lesson));
            lacking(one.id.as_str(), &text, |caution| one.cautions.iter().any(|id| id.as_str() == caution))
        })
        .collect();
    assert!(missing.is_empty(), "{}", missing.join("\n"));
}

#[test]
fn moves_that_touch_a_hazard_show_its_caution() {
    let programme = programme();
    let missing: Vec<String> = programme
        .exercises()
        .flat_map(|one| {
            let Form::Order(order) = &one.form else { return Vec::new() };
            let text = order.moves.iter().map(|one| plain(&one.text)).collect::<Vec<_>>().join(" ");
            lacking(one.id.as_str(), &text, |caution| one.cautions.iter().any(|id| id.as_str() == caution))
        })
        .collect();
    assert!(missing.is_empty(), "{}", missing.join("\n"));
}

#[test]
fn what_is_shown_of_a_pull_brings_every_caution_of_its_competency_along() {
    let programme = programme();
    let printer = Printer::of(&programme);
    for exercise in programme.exercises() {
        let competency = programme.competency(&exercise.competency).expect("its competency");
        let public = pull(exercise, "1", 0, printer).expect("a pull").public;
        for caution in competency.cautions.iter().chain(&exercise.cautions) {
            assert!(public.cautions.contains(caution), "{}: {caution} is lost", exercise.id);
        }
    }
}

#[test]
fn every_page_shows_its_cautions() {
    let programme = programme();
    let order = Order { seed: "1".to_owned(), stage: None, template_folder: None };
    let pages = site(&programme, &order).expect("a site").workbook;
    for competency in programme.competencies() {
        let name = format!("{}.html", competency.id);
        let (_, page) = pages.iter().find(|(path, _)| path.ends_with(&name)).expect("its page");
        let page = String::from_utf8_lossy(page);
        for caution in competency.cautions.iter().filter_map(|id| programme.caution(id)) {
            assert!(
                page.contains(&format!("<b>{}</b>", caution.word.replace('\'', "&#x27;"))),
                "{name}: {} is missing",
                caution.word
            );
        }
    }
}

/// A docket that asks every exercise there is.
fn docket_of_all(programme: &Programme, pulls: &[(&Exercise, Public)]) -> String {
    let numbered = (1..).zip(pulls);
    let shown: Vec<ShownExercise> =
        numbered.map(|(number, (exercise, public))| ShownExercise::of(programme, exercise, public, number)).collect();
    let asks: Vec<ShownAsk> = pulls.iter().map(|(_, public)| ShownAsk::of(public, Printer::of(programme))).collect();
    let head = Head {
        quiz: "week-12".to_owned(),
        week: 12,
        day: jiff::civil::date(2026, 11, 23),
        programme: programme.about.title.clone(),
        language: "english".to_owned(),
        decimal_comma: false,
        paper: Paper::Both,
        rehearsal: true,
    };
    let exercises: Vec<&ShownExercise> = shown.iter().collect();
    let pages = DocketPages::new(&head, &exercises, None).expect("pages");
    let asks = asks.iter().collect();
    pages.page(&Docket { head: &head, docket: "7K3F", person: None, minutes: 45, exercises, asks }, None)
}

/// What stands between two texts.
fn between<'t>(text: &'t str, from: &str, to: &str) -> Option<&'t str> {
    text.split_once(from)?.1.split_once(to).map(|(between, _)| between)
}

#[test]
fn every_exercise_carries_the_cautions_of_its_competency_on_a_docket() {
    let programme = programme();
    let printer = Printer::of(&programme);
    let pulls: Vec<(&Exercise, Public)> =
        programme.exercises().map(|one| (one, pull(one, "1", 0, printer).expect("a pull").public)).collect();
    let page = docket_of_all(&programme, &pulls);
    let mut parts = page.split("<article ");
    let front = parts.next().expect("a front");
    assert!(!front.contains("<details"), "the measures can be folded away");
    let mut carried = BTreeSet::new();
    for ((exercise, _), article) in pulls.iter().zip(parts) {
        let (id, article) = (&exercise.id, article.split("</article>").next().unwrap_or_default());
        assert!(!article.contains("<details"), "{id}: something can be folded away");
        let competency = programme.competency(&exercise.competency).expect("its competency");
        let before_it = article.split("class=\"question\"").next().unwrap_or_default();
        let band = between(before_it, "<div class=\"caution words\"", "</div></div>").unwrap_or_default();
        assert_eq!(band.is_empty(), competency.cautions.is_empty(), "{id}");
        for caution in competency.cautions.iter().filter_map(|id| programme.caution(id)) {
            let word = caution.word.replace('\'', "&#x27;");
            let link = band.split("<a href=\"#").find(|link| link.contains(&format!("\">{word}</a>")));
            let at = link.and_then(|link| link.split('"').next()).unwrap_or_else(|| panic!("{id}: no {word}"));
            let measure = between(front, &format!("id=\"{at}\"><b>{word}</b><div>"), "</div>");
            assert_eq!(measure, Some(caution.says.html(&|_| None).as_str()), "{id}: {word}");
            carried.insert(competency.id.as_str());
        }
        for whom in ["your site's procedure", "local codes", "qualified"] {
            assert!(band.is_empty() || band.contains(whom), "{id}: {whom}");
        }
    }
    let with_cautions = programme.competencies().filter(|one| !one.cautions.is_empty()).map(|one| one.id.as_str());
    assert_eq!(carried, with_cautions.collect(), "a competency with cautions has no exercise");
}

#[test]
fn a_caution_of_an_exercise_stands_on_its_competency_too() {
    let programme = programme();
    for exercise in programme.exercises() {
        let competency = programme.competency(&exercise.competency).expect("its competency");
        for caution in &exercise.cautions {
            assert!(competency.cautions.contains(caution), "{}: {caution} is not on {}", exercise.id, competency.id);
        }
    }
}

#[test]
fn every_caution_defers_to_the_site_and_the_law_and_is_used() {
    let programme = programme();
    for caution in &programme.cautions {
        let says = plain(&caution.says);
        assert!(says.contains("your site's procedure") && says.contains("local codes"), "{}: {says}", caution.id);
        assert!(
            programme.competencies().any(|one| one.cautions.contains(&caution.id)),
            "{} is never shown",
            caution.id
        );
    }
}

#[test]
fn no_exception_is_left_over() {
    let programme = programme();
    for (id, caution, why) in NO_HAZARD {
        let competency = programme.competencies().find(|one| one.id.as_str() == *id);
        let exercise = programme.exercises().find(|one| one.id.as_str() == *id);
        let cautions = competency.map(|one| &one.cautions).or(exercise.map(|one| &one.cautions));
        let shown = cautions.unwrap_or_else(|| panic!("there is no {id}")).iter().any(|one| one.as_str() == *caution);
        assert!(!shown, "{id} shows {caution}: the exception ({why}) can go");
    }
}
