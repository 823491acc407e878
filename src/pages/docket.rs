//! Dockets: the sealed quiz papers.
//!
//! A docket's page is made of [`Docket`] alone, in which no key can be reached.
//! All dockets of a quiz are alike but for a few pieces, so the template is
//! filled in once for a quiz, with marks where dockets differ, and cut there.

use std::path::Path;

use serde_json::{Value, json};

use super::board::words::{bdi, day, said};
use super::exercise::PartView;
use super::frame::head_box;
use super::stencil::{Blanks, Stencil, unmarked};
use super::templates::{Templates, json_for_script, policy};
use super::tongue::words_of;
use crate::ground::Fault;
use crate::ground::say;
use crate::measure::{DecimalMark, UNITS, reading_table_json};
use crate::programme::Paper;
use crate::prose::escape;
use crate::quiz::{Docket, Head, ShownCaution, ShownExercise, ShownQuestion};

/// How long the questions of a docket are, roughly.
const ASKED: usize = 20_000;

/// The pages of all dockets of a quiz, ready to be filled in.
///
/// ```
/// use std::{collections::BTreeMap, fmt::Write};
/// use gearside::pages::DocketPages;
/// use gearside::programme::{Paper, Origin};
/// use gearside::quiz::{Docket, Head, ShownAsk, ShownExercise, ShownPart};
/// let head = Head {
///     quiz: "week-12".to_owned(), week: 12, day: "2026-11-23".parse().unwrap(), programme: "Press one".to_owned(),
///     language: "english".to_owned(), decimal_comma: false, paper: Paper::A4, rehearsal: false,
/// };
/// let exercise = ShownExercise {
///     number: 1, title: "Wet film".to_owned(), kind: "numeric".to_owned(), pick: String::new(), minutes: 4,
///     cautions: vec![], parts: vec![ShownPart { label: "wet film".to_owned(), symbol: None, unit: "µm".to_owned() }], says: 0,
///     questions: vec![],
/// };
/// let ask = ShownAsk { ask_html: "<p>How thick is it?</p>".to_owned(), says_html: vec![] };
/// let pages = DocketPages::new(&head, &[&exercise], None).unwrap();
/// let docket = Docket {
///     head: &head, docket: "7K3F-0000-0000-0001", person: Some("a-3"), minutes: 45,
///     exercises: vec![&exercise], asks: vec![&ask],
/// };
/// let page = pages.page(&docket, Some("Ann O'Hara"));
/// assert!(page.contains("<p>How thick is it?</p>") && page.contains("Ann O&#39;Hara"));
/// ```
#[derive(Debug)]
pub struct DocketPages {
    named: Stencil<Blank>,
    blank: Stencil<Blank>,
    /// The style sheet and its policy, without the face for mathematics and with it.
    styles: [(String, String); 2],
    script: String,
    /// Whether what all dockets show has mathematics in it.
    shows_mathematics: bool,
}

/// Something in which dockets differ, or which is too long to be filled in more than once.
#[derive(Debug, Clone, Copy)]
enum Blank {
    Style,
    Policy,
    Script,
    /// The name and the code, as HTML.
    Whose,
    Code,
    Docket,
    Minutes,
    /// The data block.
    Data,
    /// The question of an exercise.
    Ask(usize),
    /// A move or an option of an exercise.
    Says(usize, usize),
}

impl DocketPages {
    /// Gets the pages of a quiz ready. Files of `template_folder` stand in for
    /// templates of the same name.
    ///
    /// # Errors
    /// Faults of templates (a name that is none of ours, a value that is not
    /// there), and of units that this version of the program does not know.
    pub fn new(head: &Head, exercises: &[&ShownExercise], template_folder: Option<&Path>) -> Result<Self, Vec<Fault>> {
        let templates = Templates::load(template_folder)?;
        let one = |fault: Box<Fault>| vec![*fault];
        let styles = templates.docket_styles.clone().map(|style| {
            let policy = escape(&policy(&style, &templates.docket_script));
            (style, policy)
        });
        let named = stencil(&templates, head, exercises, true).map_err(one)?;
        let blank = stencil(&templates, head, exercises, false).map_err(one)?;
        let shows_mathematics = named.holds("<math");
        Ok(Self { named, blank, styles, script: templates.docket_script, shows_mathematics })
    }

    /// The page of a docket; `name` is printed on it beside the code.
    ///
    /// The same docket and name give the same bytes.
    #[must_use]
    pub fn page(&self, docket: &Docket<'_>, name: Option<&str>) -> String {
        let stencil = if docket.person.is_some() { &self.named } else { &self.blank };
        let asked = || docket.asks.iter().flat_map(|ask| std::iter::once(&ask.ask_html).chain(&ask.says_html));
        let mathematics = self.shows_mathematics || asked().any(|html| html.contains("<math"));
        let (style, policy) = &self.styles[usize::from(mathematics)];
        stencil.filled(style.len() + self.script.len() + ASKED, |blank, page| match blank {
            Blank::Style => page.push_str(style),
            Blank::Policy => page.push_str(policy),
            Blank::Script => page.push_str(&self.script),
            Blank::Whose => page.push_str(&whose(name, docket.person.unwrap_or_default())),
            Blank::Code => page.push_str(&escape(docket.person.unwrap_or_default())),
            Blank::Docket => page.push_str(&escape(docket.docket)),
            Blank::Minutes => page.push_str(&minutes(docket.minutes)),
            Blank::Data => page.push_str(&data(docket)),
            Blank::Ask(exercise) => page.push_str(docket.asks.get(*exercise).map_or("", |ask| &ask.ask_html)),
            Blank::Says(exercise, place) => {
                let says = docket.asks.get(*exercise).and_then(|ask| ask.says_html.get(*place));
                page.push_str(says.map_or("", String::as_str));
            }
        })
    }
}

/// Name and code as they stand in the head.
fn whose(name: Option<&str>, code: &str) -> String {
    match name.map(str::trim).filter(|name| !name.is_empty()) {
        Some(name) => format!("{} · {}", bdi(name), said(code)),
        None => said(code),
    }
}

/// What the script puts into the return.
fn data(docket: &Docket<'_>) -> String {
    json_for_script(&json!({
        "quiz": docket.head.quiz,
        "docket": docket.docket,
        "person": docket.person.unwrap_or_default(),
        "shown": docket.digest().as_str(),
    }))
}

fn minutes(minutes: u32) -> String {
    say!("count.minutes", minutes = minutes)
}

/// The title of a quiz: the second one of a week carries its number.
fn title(head: &Head) -> String {
    let week = format!("week-{}", head.week);
    match head.quiz.strip_prefix(&week).map(|rest| rest.trim_start_matches('-')) {
        Some("") => say!("docket.week-quiz", week = head.week),
        Some(which) => say!("docket.week-quiz-no", week = head.week, which = which),
        None => say!("docket.quiz", quiz = head.quiz),
    }
}

/// All cautions of a quiz, each once. Their measures stand at the front, so
/// that an exercise with ten of them still fits on one printed page.
fn all_cautions<'a>(exercises: &[&'a ShownExercise]) -> Vec<&'a ShownCaution> {
    let mut all: Vec<&ShownCaution> = Vec::new();
    for caution in exercises.iter().flat_map(|exercise| &exercise.cautions) {
        if !all.contains(&caution) {
            all.push(caution);
        }
    }
    all
}

/// Fills the template in for named or for blank dockets, and cuts it.
fn stencil(
    templates: &Templates,
    head: &Head,
    exercises: &[&ShownExercise],
    named: bool,
) -> Result<Stencil<Blank>, Box<Fault>> {
    let blanks = &mut Blanks::new();
    let cautions = all_cautions(exercises);
    let shown: Vec<Value> = exercises
        .iter()
        .enumerate()
        .map(|(index, exercise)| view(exercise, index, &cautions, blanks))
        .collect::<Result<_, Box<Fault>>>()?;
    let mut boxes = vec![
        head_box(&say!("label.quiz"), &escape(&unmarked(&head.quiz))),
        head_box(&say!("label.day"), &day(head.day)),
        head_box(&say!("label.docket"), &blanks.mark(Blank::Docket)),
        head_box(&say!("label.time-allowed"), &blanks.mark(Blank::Minutes)),
    ];
    if named {
        boxes.insert(2, head_box(&say!("label.name-and-code"), &blanks.mark(Blank::Whose)));
    }
    let mark = if head.decimal_comma { DecimalMark::Comma } else { DecimalMark::Point };
    let page = json!({
        "title": unmarked(&title(head)),
        "kind": "sealed",
        "programme": unmarked(&head.programme),
        "policy": blanks.mark(Blank::Policy),
        "style": blanks.mark(Blank::Style),
        "script": blanks.mark(Blank::Script),
        "words_json": json_for_script(&words_of(&templates.docket_script)),
        "units_json": reading_table_json(mark).replace('<', "\\u003c"),
        "accent": "",
        "paper": match head.paper { Paper::A4 => "a4", Paper::Letter => "letter", Paper::Both => "both" },
        "head": boxes,
        "first_line": say!("docket.the-script-of"),
    });
    let docket = json!({
        "code": if named { blanks.mark(Blank::Code) } else { String::new() },
        "docket": blanks.mark(Blank::Docket),
        "data_json": blanks.mark(Blank::Data),
        "rehearsal": if head.rehearsal { say!("docket.a-rehearsal-its") } else { String::new() },
        "count": say!("docket.exercises", n = exercises.len()),
        "exercises": shown,
        "cautions": cautions
            .iter()
            .map(|one| json!({ "word": unmarked(&one.word), "html": unmarked(&one.html) }))
            .collect::<Vec<_>>(),
    });
    let filled = templates.render("docket.html", json!({ "page": page, "docket": docket }))?;
    Ok(blanks.cut(&filled))
}

/// An exercise as the template takes it.
fn view(
    exercise: &ShownExercise,
    index: usize,
    all: &[&ShownCaution],
    blanks: &mut Blanks<Blank>,
) -> Result<Value, Box<Fault>> {
    let key = format!("q{}", exercise.number);
    let parts = exercise.parts.iter().enumerate().map(|(part, asked)| {
        let unit = UNITS.iter().find(|unit| unit.name == asked.unit).ok_or_else(|| {
            let message = format!("`{}` is asked for in `{}`, which is no unit known here", asked.label, asked.unit);
            Box::new(Fault::new("kept-quiz", message, "use the version of the program that issued the quiz"))
        })?;
        let symbol = asked.symbol.as_deref().map(unmarked);
        Ok(PartView::new(format!("{key}-{part}"), &unmarked(&asked.label), symbol.as_deref(), unit.name))
    });
    let parts: Vec<PartView> = parts.collect::<Result<_, Box<Fault>>>()?;
    let mut says = |kind: &str| -> Vec<Value> {
        let count = if exercise.kind == kind { exercise.says } else { 0 };
        let mut mark = |place| blanks.mark(Blank::Says(index, place));
        (1..=count).map(|n| json!({ "n": n.to_string(), "html": mark(n - 1), "shown": "yes" })).collect()
    };
    let moves = if exercise.kind == "rounds" { says("rounds") } else { says("order") };
    let mut options = says("choose").into_iter();
    let only = [ShownQuestion { label: String::new(), says: exercise.says }];
    let questions = if exercise.questions.is_empty() { &only[..] } else { &exercise.questions };
    let questions = questions.iter().enumerate().filter(|_| exercise.kind == "choose").map(|(place, question)| {
        // The boxes are numbered anew for each question, as they are answered.
        let own = (1..).zip(options.by_ref().take(question.says)).map(|(n, mut option): (usize, Value)| {
            option["n"] = n.to_string().into();
            option
        });
        json!({
            "key": if place == 0 { key.clone() } else { format!("{key}-{place}") },
            "label": unmarked(&question.label),
            "options": own.collect::<Vec<_>>(),
        })
    });
    let questions: Vec<Value> = questions.collect();
    let cautions = exercise.cautions.iter().filter_map(|caution| {
        let at = all.iter().position(|one| *one == caution)? + 1;
        Some(json!({ "word": unmarked(&caution.word), "at": at.to_string() }))
    });
    Ok(json!({
        "key": key,
        "number": exercise.number.to_string(),
        "title": unmarked(&exercise.title),
        "minutes": minutes(exercise.minutes),
        "kind": exercise.kind,
        "pick": exercise.pick,
        "mode": "docket",
        "cautions": cautions.collect::<Vec<_>>(),
        "ask_html": blanks.mark(Blank::Ask(index)),
        "parts": parts,
        "moves": moves,
        "questions": questions,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quiz::{KeptDocket, Snapshot};

    /// A rehearsed quiz of the shipped programme: a named docket, one with more time, a blank one.
    fn rehearsed() -> (Snapshot, Vec<KeptDocket>) {
        let with = ["load-an-open-blade-deck", "hazards-at-a-film-rewind"];
        crate::quiz::rehearsed(&with, 45, &[(Some("a-3"), 45), (Some("a-7"), 60), (None, 45)])
    }

    fn pages(snapshot: &Snapshot) -> DocketPages {
        let shown: Vec<&ShownExercise> = snapshot.exercises.iter().map(|one| &one.shown).collect();
        DocketPages::new(&snapshot.head, &shown, None).expect("pages")
    }

    /// The content of the JSON block with that id.
    fn block(page: &str, id: &str) -> Value {
        let start = format!("<script type=\"application/json\" id=\"{id}\">");
        let text = page.split(&start).nth(1).and_then(|rest| rest.split("</script>").next()).expect("a block");
        serde_json::from_str(text).expect("JSON")
    }

    #[test]
    fn equal_dockets_give_equal_bytes_and_every_question_stands_on_its_page() {
        let (snapshot, kept) = rehearsed();
        let (once, again) = (pages(&snapshot), pages(&snapshot));
        for (seat, kept) in snapshot.dockets.iter().zip(&kept) {
            let docket = snapshot.docket(seat, kept);
            let page = once.page(&docket, Some("Ann"));
            assert_eq!(page, again.page(&docket, Some("Ann")));
            assert_eq!(page, unmarked(&page), "a blank was left open");
            for ask in &docket.asks {
                assert!(page.contains(&ask.ask_html), "{}", ask.ask_html);
                for says in &ask.says_html {
                    assert!(page.contains(says), "{says}");
                }
            }
            assert!(page.contains(&format!("<dd>{} min</dd>", seat.minutes)));
            assert_eq!(block(&page, "docket")["shown"], docket.digest().as_str());
            assert_eq!(block(&page, "docket")["docket"], seat.docket.as_str());
            assert_eq!(block(&page, "units")["decimal"], ".");
            assert_eq!(page.contains("id=\"your-code\""), seat.person.is_none());
        }
    }

    #[test]
    fn names_and_codes_are_text_wherever_they_stand() {
        let (snapshot, kept) = rehearsed();
        let mut docket = snapshot.docket(&snapshot.dockets[0], &kept[0]);
        docket.docket = "</script><script>\"&'";
        let page = pages(&snapshot).page(&docket, Some("Ann \"Nan\" O'Hara & <b>\u{202e}Lind</b> \u{e000}0\u{e001}"));
        assert!(page.contains(
            "<bdi>Ann &quot;Nan&quot; O&#39;Hara &amp; &lt;b&gt;Lind&lt;/b&gt; \u{e000}0\u{e001}</bdi> · a-3"
        ));
        assert!(page.contains("<dd>&lt;/script&gt;&lt;script&gt;&quot;&amp;&#39;</dd>"));
        assert_eq!(block(&page, "docket")["docket"], docket.docket);
        assert_eq!(page.matches("</script>").count(), 5);
    }

    #[test]
    fn texts_with_the_marks_of_blanks_open_none() {
        let (mut snapshot, kept) = rehearsed();
        snapshot.exercises[0].shown.title = "\u{e000}4\u{e001} \u{e000}".to_owned();
        snapshot.head.programme = "\u{e000}0\u{e001}".to_owned();
        let page = pages(&snapshot).page(&snapshot.docket(&snapshot.dockets[0], &kept[0]), None);
        assert!(page.contains("<h2 id=\"q1-title\">4 </h2>") && page.contains("a-3 · 0</title>"));
    }

    #[test]
    fn a_docket_has_no_script_style_or_words_of_marking() {
        let (snapshot, kept) = rehearsed();
        let page = pages(&snapshot).page(&snapshot.docket(&snapshot.dockets[0], &kept[0]), None);
        // A turn is a unit of angle as well.
        let page = page.replace(&reading_table_json(DecimalMark::Point), "");
        let quoted = ["key", "right", "wrong", "turn", "carried"].map(|word| format!("\"{word}\""));
        let words =
            ["Marking", "verdict", "data-state", "Mark my answer", "data-reason", "One more line", "wrong turn"];
        for word in words.into_iter().chain(quoted.iter().map(String::as_str)) {
            assert!(!page.contains(word), "{word}");
        }
        for exercise in &snapshot.exercises {
            assert!(!page.contains(&format!("\"{}\"", exercise.exercise)), "{}", exercise.exercise);
        }
    }

    #[test]
    fn the_face_for_mathematics_comes_only_where_there_is_some() {
        let (mut snapshot, mut kept) = rehearsed();
        snapshot.exercises.truncate(1);
        kept[0].exercises.truncate(1);
        let plain = pages(&snapshot);
        let has_face = |page: &str| page.contains("font-family: \"Gearside Mathematics\"; src");
        let docket = snapshot.docket(&snapshot.dockets[0], &kept[0]);
        let page = plain.page(&docket, None);
        assert!(!page.contains("<math") && !has_face(&page));
        let mut with_some = kept[0].clone();
        with_some.exercises[0].ask.ask_html.push_str("<p><math><mi>h</mi></math></p>");
        assert!(has_face(&plain.page(&snapshot.docket(&snapshot.dockets[0], &with_some), None)));
    }

    #[test]
    fn the_title_names_the_week_and_which_quiz_of_it() {
        let (snapshot, _) = rehearsed();
        for (quiz, want) in [("week-12", "Week 12 quiz"), ("week-12-2", "Week 12 quiz, no. 2"), ("odd", "Quiz odd")] {
            assert_eq!(title(&Head { quiz: quiz.to_owned(), ..snapshot.head.clone() }), want);
        }
    }

    #[test]
    fn a_unit_that_is_not_known_is_a_fault() {
        let (mut snapshot, _) = rehearsed();
        let numeric = snapshot.exercises.iter_mut().find(|one| !one.shown.parts.is_empty()).expect("a number");
        numeric.shown.parts[0].unit = "furlongs".to_owned();
        let shown: Vec<&ShownExercise> = snapshot.exercises.iter().map(|one| &one.shown).collect();
        let faults = DocketPages::new(&snapshot.head, &shown, None).expect_err("no such unit");
        assert!(faults.iter().map(|fault: &Fault| &fault.message).any(|text| text.contains("`furlongs`")));
    }
}
