//! The coordinator's pages, built from facts that are folded here.

use std::collections::{BTreeMap, BTreeSet};

use gearside::pages::{BoardOrder, board};
use gearside::programme::{Origin, Programme, load_without_banks};
use gearside::records::{
    Break, Claim, Code, Digest, Edition, Fact, Grant, Head, History, Hold, HoldCause, Hours, Look, Matter, Observation,
    Overview, Role, Rules, Signoff, Sort, Standing, Stored, digest_of,
};
use jiff::civil::{Date, date};
use jiff::tz::TimeZone;

const STARTED: Date = date(2026, 9, 7);
const TODAY: Date = date(2026, 11, 25);
/// A name as it might be typed by someone who means ill.
const HOSTILE: &str = "\u{202e}Ann <script>alert(1)</script> & \"O'Neil\"";

/// Facts about invented people, and what they are called.
struct Folded {
    programme: Programme,
    rules: Rules,
    history: History,
    names: BTreeMap<Digest, String>,
    seq: u64,
}

fn code(text: &str) -> Code {
    Code::parse(text).expect("a code")
}

impl Folded {
    fn new() -> Self {
        let programme = load_without_banks(&Origin::Shipped).expect("a machine").programme.expect("a programme");
        let rules = Rules::of(&programme);
        let mut folded =
            Self { programme, rules, history: History::in_zone(&TimeZone::UTC), names: BTreeMap::new(), seq: 0 };
        folded.edition("2025 spring");
        folded
    }

    fn edition(&mut self, label: &str) {
        let digest = self.rules.digest();
        self.add(None, STARTED, Matter::Edition(Edition { label: label.to_owned(), digest }));
    }

    fn add(&mut self, person: Option<&Code>, seen_on: Date, matter: Matter) -> u64 {
        self.seq += 1;
        let at = "2026-11-24T12:00:00Z".parse().expect("a time");
        let by = code("s-1");
        let claim = Claim { seen_by: by.clone(), seen_on, entered_by: by, paper: None, note: None };
        self.history.add(Stored { seq: self.seq, at, fact: Fact { person: person.cloned(), claim, matter } });
        self.seq
    }

    fn person(&mut self, who: &str, name: &str, role: Role, class: Option<&str>) -> Code {
        let who = code(who);
        let digest = digest_of(who.as_str().as_bytes(), name.as_bytes());
        self.names.insert(digest.clone(), name.to_owned());
        let class = class.map(Into::into);
        let grant = Grant { role, from: STARTED, until: None, stages: None, class, name: Some(digest) };
        self.add(Some(&who), STARTED, Matter::Grant(grant));
        who
    }

    fn hours(&mut self, who: &Code, line: &str) -> u64 {
        let hours = Hours {
            sort: Sort::OnTheJob,
            line: line.into(),
            start: Some("2026-11-20T07:00+00:00".to_owned()),
            end: Some("2026-11-20T13:30+00:00".to_owned()),
            minutes: 390,
            supervisor: code("s-1"),
        };
        self.add(Some(who), date(2026, 11, 20), Matter::Hours(hours))
    }

    fn sign(&mut self, who: &Code, competency: &str, rests_on: Vec<u64>, despite: Option<Code>) -> u64 {
        let acknowledged_on = date(2026, 11, 21);
        let signoff = Signoff { competency: competency.into(), acknowledged_on, rests_on, despite };
        self.add(Some(who), acknowledged_on, Matter::Signoff(signoff))
    }

    fn pages(&self) -> BTreeMap<String, String> {
        let overview = Overview::new(&self.programme, &self.rules, &self.history, &self.names, TODAY);
        let order = BoardOrder { note: &|_| None, template_folder: None };
        let pages = board(&overview, &order).expect("pages");
        pages.into_iter().map(|(name, bytes)| (name, String::from_utf8(bytes).expect("text"))).collect()
    }
}

/// A handful of people in every kind of standing.
fn few() -> Folded {
    let mut folded = Folded::new();
    folded.person("s-1", "Maren Invented", Role::Assessor, None);
    let second = folded.person("s-2", "Tomas Invented", Role::Assessor, None);
    let ann = folded.person("A-1", HOSTILE, Role::Apprentice, Some("autumn <b>intake"));
    let ben = folded.person("a.2", "Ben Invented", Role::Apprentice, None);
    let first = folded.hours(&ann, "make-the-press-safe");
    folded.sign(&ann, "make-the-press-safe", vec![first], None);
    folded.sign(&ann, "trim-by-hand", vec![2, 3], None);
    let label = folded.programme.about.edition.clone();
    folded.edition(&label);
    folded.sign(&ann, "know-the-web-path", vec![], Some(second));
    let hold = Hold { competency: "make-the-press-safe".into(), cause: HoldCause::SafetyOrder, of: None };
    folded.add(Some(&ben), date(2026, 11, 23), Matter::Hold(hold));
    let seen = Observation {
        competency: "read-a-job-ticket".into(),
        criteria: vec![Look::Seen, Look::NotYet],
        press: "<press>".into(),
        job: "job-7".into(),
        material: None,
        ink: None,
        aided: true,
    };
    folded.add(Some(&ben), date(2026, 11, 2), Matter::Observation(seen));
    folded.history.head = Head { seq: folded.seq, hash: [7; 32] };
    folded
}

/// The words of a page, from its docket head on.
fn words(html: &str) -> String {
    let body = html.split_once("<header").map_or(html, |(_, body)| body);
    let text: Vec<&str> = body.split('<').map(|part| part.split_once('>').map_or(part, |(_, text)| text)).collect();
    let text = text.join(" ").replace("&nbsp;", " ").replace('\u{a0}', " ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn after<'t>(text: &'t str, start: &str, end: &str) -> Vec<&'t str> {
    text.split(start).skip(1).filter_map(|rest| rest.split(end).next()).collect()
}

#[test]
fn every_link_leads_to_a_page_and_a_place_that_are_there() {
    let pages = few().pages();
    let ids: BTreeMap<&str, BTreeSet<&str>> =
        pages.iter().map(|(name, html)| (name.as_str(), after(html, " id=\"", "\"").into_iter().collect())).collect();
    for (name, html) in &pages {
        assert_eq!(ids[name.as_str()].len(), after(html, " id=\"", "\"").len(), "{name} has an id twice");
        for href in after(html, "<a href=\"", "\"") {
            let (file, place) = href.split_once('#').unwrap_or((href, ""));
            let file = if file.is_empty() { name } else { file };
            assert!(pages.contains_key(file), "{name}: {href}");
            assert!(place.is_empty() || ids[file].contains(place), "{name}: {href}");
        }
    }
    assert!(pages.contains_key("person-a-1.html") && pages.contains_key("stage-impression.html"));
}

#[test]
fn names_stay_text_and_lose_what_turns_their_direction() {
    for (name, html) in few().pages() {
        assert!(!html.contains("<script>alert") && !html.contains('\u{202e}') && !html.contains("<press>"), "{name}");
        assert!(!html.contains(" style="), "{name}");
    }
    let pages = few().pages();
    let shown = "<bdi>Ann &lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;O&#39;Neil&quot;</bdi>";
    assert!(pages["index.html"].contains(shown));
    assert!(pages["person-a-1.html"].contains(shown));
}

#[test]
fn every_page_carries_the_head_and_an_altered_record_is_said_loudly() {
    let mut folded = few();
    let head = folded.history.head.shown();
    for (name, html) in folded.pages() {
        assert!(html.contains(&head), "{name}");
        assert!(words(&html).contains("25 Nov 2026"), "{name}");
        assert!(!html.contains("The record was altered"), "{name}");
    }
    folded.history.breaks.push(Break { seq: 9, what: "its content is not what was entered".to_owned() });
    for (name, html) in folded.pages() {
        assert!(words(&html).contains("Fact 9: its content is not what was entered"), "{name}");
    }
}

#[test]
fn a_sign_off_despite_missing_evidence_or_under_another_edition_shows_everywhere() {
    let pages = few().pages();
    for name in ["index.html", "person-a-1.html", "standing.html"] {
        let text = words(&pages[name]);
        assert!(text.contains("despite missing evidence"), "{name}");
        assert!(text.contains("edition 2025 spring"), "{name}");
    }
    assert!(words(&pages["stage-press.html"]).contains("despite missing evidence"));
    assert!(words(&pages["stage-safety.html"]).contains("edition 2025 spring"));
}

#[test]
fn what_is_no_longer_taught_stays_on_the_training_record() {
    let pages = few().pages();
    let record = &pages["person-a-1.html"];
    assert!(words(record).contains("No longer taught trim-by-hand was signed 21 Nov 2026"), "{}", words(record));
    assert!(!words(&pages["person-a.2.html"]).contains("No longer taught"));
}

#[test]
fn a_training_record_names_its_facts_and_says_what_was_late() {
    let pages = few().pages();
    let record = words(&pages["person-a-1.html"]);
    assert!(record.contains("6.5 h: 6"), "{record}");
    assert!(record.contains("6 20 Nov 2026 6.5 h on the job, 07:00 to 13:30, s-1 supervising"), "{record}");
    // Entered on 24 November: the role of 7 September is late, what was seen on 20 November is not.
    assert!(record.contains("One fact was entered late"), "{record}");
}

#[test]
fn two_hundred_people_stay_below_a_megabyte_and_their_strips_hold_every_reason() {
    let mut folded = Folded::new();
    let label = folded.programme.about.edition.clone();
    folded.edition(&label);
    folded.person("s-1", "Maren Invented, née Other", Role::Assessor, None);
    let ids: Vec<String> = folded.rules.competencies.iter().map(|rule| rule.id.to_string()).collect();
    for number in 0..200 {
        let who = folded.person(&format!("a-{number}"), &format!("Invented Person {number}"), Role::Apprentice, None);
        for id in ids.iter().take(number % 50) {
            let spent = folded.hours(&who, id);
            if number % 3 == 0 {
                folded.sign(&who, id, vec![spent], None);
            }
        }
    }
    let pages = folded.pages();
    for (name, html) in &pages {
        assert!(html.len() < 1_000_000, "{name} has {} bytes", html.len());
    }
    let index = &pages["index.html"];
    let json = after(index, "id=\"strips\">", "</script>")[0];
    let data: serde_json::Value = serde_json::from_str(json).expect("JSON");
    let overview = Overview::new(&folded.programme, &folded.rules, &folded.history, &folded.names, TODAY);
    for row in &overview.rows {
        let cells = data["people"][row.person.code.as_str()].as_str().expect("cells").split(' ');
        for (cell, state) in cells.zip(&row.states) {
            let numbers = cell[1..].split('.').filter(|number| !number.is_empty());
            let phrases = numbers.map(|number| usize::from_str_radix(number, 36).expect("a number"));
            let said: String =
                phrases.map(|phrase| data["phrases"][phrase].as_str().expect("a phrase")).collect::<String>();
            let reason = format!("{}{said}", data["words"][&cell[..1]].as_str().expect("a word"));
            assert_eq!(reason.replace(['\u{2068}', '\u{2069}'], ""), overview.reason(state));
        }
    }
    let any = |standing| overview.rows.iter().flat_map(|row| &row.states).any(|state| state.standing == standing);
    assert!(any(Standing::Signed) && any(Standing::Open) && any(Standing::Waiting));
}
