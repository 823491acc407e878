//! What can hurt stands beside what touches it, in the built-in programme.

use gearside::pages::{Order, site};
use gearside::programme::{Form, Origin, Programme, load};
use gearside::prose::Text;
use gearside::pull::{Printer, pull};

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
