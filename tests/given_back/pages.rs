//! The pages: what they must say, and whose data they may hold.

use std::collections::BTreeMap;

use gearside::ground::{Fault, Id};
use gearside::pages::{CompetencyPage, MarkOrder, mark_pages};
use gearside::quiz::{Learned, OverQuizzes};
use gearside::records::Code;

use crate::class::{self, Class, Hand, name_of};

/// All pages of a class, by file name.
pub(crate) fn built(class: &Class, with_workbook: bool) -> BTreeMap<String, String> {
    let history = class.history();
    let results = class.results(&history);
    let learned = Learned::of(&results, &history, OverQuizzes::default()).expect("statistics");
    let name = |code: &Code| name_of(code);
    let programme = &class.programme;
    let competency = |id: &str| {
        let known = programme.competency(&Id::parse(id).ok()?)?;
        let href = with_workbook.then(|| format!("../../workbook/{id}.html"));
        Some(CompetencyPage { title: known.title.clone(), href })
    };
    let order = MarkOrder { name: &name, competency: &competency, template_folder: None };
    let mut pages = BTreeMap::new();
    mark_pages::<Vec<Fault>>(
        &results,
        &learned,
        &order,
        |place| Ok(class.kept[place].clone()),
        |name, page| {
            pages.insert(name, String::from_utf8(page).expect("text"));
            Ok(())
        },
    )
    .expect("pages");
    pages
}

/// What stands between the tags, without style and script.
pub(crate) fn words(page: &str) -> String {
    let body = page.split_once("</style>").expect("a style").1;
    let mut text = String::new();
    let mut in_tag = false;
    for c in body.chars() {
        match c {
            '<' => in_tag = true,
            '>' => {
                in_tag = false;
                text.push(' ');
            }
            c if !in_tag => text.push(c),
            _ => {}
        }
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn each_apprentice_gets_a_page_with_nobody_elses_data() {
    let class = class::of_nine();
    let pages = built(&class, true);
    assert_eq!(pages.len(), 9, "eight marked dockets and the instructor's page: {:?}", pages.keys());
    for place in 0..8 {
        let own = place + 1;
        let page = &pages[&format!("marked-a-{own}.html")];
        assert!(page.contains(&name_of(&class::code(&format!("a-{own}")))), "{own}");
        assert!(page.contains(&class.snapshot.dockets[place].docket), "{own}");
        for other in (1..=9).filter(|other| *other != own) {
            let code = class::code(&format!("a-{other}"));
            assert!(!page.contains(&name_of(&code)), "{own} reads the name of {other}");
            assert!(!page.contains(&class.snapshot.dockets[other - 1].docket), "{own} reads the docket of {other}");
            assert!(!page.contains(&format!("marked-a-{other}")), "{own} is led to {other}");
        }
        assert!(!page.contains("index.html") && !page.contains("marks.csv"), "{own} is led to the instructor's page");
        assert!(!page.contains("<script"), "a marked docket needs no script");
    }
}

#[test]
fn a_marked_docket_says_what_was_typed_how_it_was_read_and_what_is_right() {
    let class = class::of_nine();
    let history = class.history();
    let results = class.results(&history);
    let pages = built(&class, true);
    for docket in &results.dockets {
        let page = &pages[&format!("marked-{}.html", docket.person)];
        let text = words(page);
        for part in docket.exercises.iter().flat_map(|one| &one.parts) {
            let marked = part.marked.as_ref().expect("marks");
            let escaped = marked.typed.replace('<', "&lt;").replace('>', "&gt;");
            assert!(marked.typed.is_empty() || text.contains(&escaped), "{}: {}", docket.person, marked.typed);
            let seq = part.recorded.as_ref().expect("on record").seq;
            assert!(page.contains(&format!("<dd>{seq}</dd>")), "{}: fact {seq}", docket.person);
        }
    }
    let right = words(&pages["marked-a-1.html"]);
    assert!(right.contains(&format!("All {0} right.", results.out_of())), "{right}");
    assert!(right.contains("Nothing to practise from this one"));
    assert!(words(&pages["marked-a-3.html"]).contains("Worked on from your own numbers"));
    let blank = words(&pages["marked-a-4.html"]);
    assert!(blank.contains("Points 0 of") && blank.contains("You wrote nothing"), "{blank}");
    let scrawled = words(&pages["marked-a-5.html"]);
    assert!(scrawled.contains("about so") && scrawled.contains("not read"), "{scrawled}");
    assert!(!pages["marked-a-5.html"].contains("7 <b>"), "what was typed is text");
}

#[test]
fn things_to_practise_lead_into_the_workbook_where_it_is_built() {
    let class = class::of_nine();
    let page = &built(&class, true)["marked-a-4.html"];
    assert!(page.contains("Three things to practise"));
    assert_eq!(page.matches("<a href=\"../../workbook/").count(), 3);
    assert!(!page.contains("the workbook was not built"));
    let page = &built(&class, false)["marked-a-4.html"];
    assert!(!page.contains("../../workbook/") && page.contains("the workbook was not built"));
}

#[test]
fn a_broken_safety_pair_is_said_plainly() {
    let mut class = Class::issued(2, 45, class::WITH);
    class.fill(0, Hand::Reversed);
    class.fill(1, Hand::Right);
    let pages = built(&class, true);
    let text = words(&pages["marked-a-1.html"]);
    assert!(text.contains("otherwise someone can be hurt"), "{text}");
    assert!(text.contains("is held until your instructor has talked it through with you"), "{text}");
    assert!(text.contains("The right order nearest to yours"), "{text}");
    assert!(words(&pages["index.html"]).contains("To talk through first"));
    assert!(!words(&pages["marked-a-2.html"]).contains("is held"));
}

#[test]
fn a_correction_and_an_erased_text_are_said() {
    let mut class = class::of_nine();
    class.correct(3, 0, 1.0, "Two readings <i>are</i> sound.");
    class.redact("a-2");
    let pages = built(&class, true);
    let text = words(&pages["marked-a-4.html"]);
    assert!(text.contains("Set right by your instructor"), "{text}");
    assert!(text.contains("1 instead of 0. Two readings &lt;i&gt;are&lt;/i&gt; sound."), "{text}");
    let erased = words(&pages["marked-a-2.html"]);
    assert!(erased.contains("The text of these answers was erased. The marks stay on record."), "{erased}");
    assert!(!erased.contains("You wrote"), "{erased}");
}

#[test]
fn the_instructors_page_names_who_came_back_and_who_did_not() {
    let class = class::of_nine();
    let pages = built(&class, true);
    let page = &pages["index.html"];
    let text = words(page);
    for own in 1..=8 {
        assert!(page.contains(&format!("href=\"marked-a-{own}.html\"")), "{own}");
    }
    assert!(text.contains("Came back 8 of 10"), "{text}");
    assert!(text.contains("Did not come back Invented A-9 Ngata"), "{text}");
    assert!(text.contains("One blank docket was not used."), "{text}");
    assert!(text.contains("only 8 took all of it; from 30 on it can be told"), "{text}");
    assert!(text.contains("gearside record judged"), "it says how to get a pass mark");
}

#[test]
fn the_table_of_marks_has_a_row_for_each_part() {
    let mut class = class::of_nine();
    class.correct(3, 0, 0.5, "Half of it is sound.");
    class.redact("a-2");
    let history = class.history();
    let results = class.results(&history);
    let bytes = gearside::exchange::export::marks_csv(&results);
    let text = String::from_utf8(bytes).expect("text");
    let table = gearside::exchange::table::Table::parse("marks.csv", &text).expect("a table");
    let parts: usize = class.snapshot.exercises.iter().map(|one| one.shown.answers()).sum();
    assert_eq!(table.rows().count(), 8 * parts);
    let first_of = |person: &str| table.rows().find(|row| row.get("person") == Some(person)).expect("a row");
    let set_right = first_of("a-4");
    assert_eq!((set_right.get("verdict"), set_right.get("mark")), (Some("blank"), Some("0.5")));
    assert_eq!(set_right.get("fact"), Some(history.head.seq - 1).map(|seq| seq.to_string()).as_deref());
    assert!(first_of("a-1").get("typed").is_some_and(|typed| !typed.is_empty()));
    assert!(first_of("a-2").get("typed").is_none_or(str::is_empty), "its text was erased");
}
