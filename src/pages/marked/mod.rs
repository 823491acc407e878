//! What is given back: a marked docket for each apprentice, and the page of
//! statistics for the instructor.
//!
//! A marked docket holds one apprentice's data and nobody else's, and no link
//! leads from it to the instructor's page.

mod exercise;
mod part;
mod practise;
mod rounds;
mod whole;
mod working;

use std::path::PathBuf;

use serde_json::{Value, json};

use super::board::{bdi, capital, day, said};
use super::frame::head_box;
use super::statistics::statistics_page;
use super::templates::{Templates, policy};
use crate::ground::Fault;
use crate::ground::language::filled;
use crate::ground::say;
use crate::pages::tongue::word;
use crate::programme::Paper;
use crate::quiz::{DocketResult, KeptDocket, Learned, Results, Snapshot};
use crate::records::{Code, Mark};
use working::Working;

/// How many dockets are rendered before they are given on.
const AT_A_TIME: usize = 64;

/// The page of a competency in the workbook.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CompetencyPage {
    /// The title of the competency.
    pub title: String,
    /// The way to its page from the folder of the marked dockets, such as
    /// `../../workbook/read-a-cup.html`; `None` if the workbook is not built.
    pub href: Option<String>,
}

/// What the pages take from outside the results.
pub struct MarkOrder<'a> {
    /// A person's name as known today; the code where none is known.
    pub name: &'a (dyn Fn(&Code) -> String + Sync),
    /// A competency's title and page, by its id as the quiz has it; `None` if it is no longer taught.
    pub competency: &'a (dyn Fn(&str) -> Option<CompetencyPage> + Sync),
    /// A folder whose files stand in for templates of the same name.
    pub template_folder: Option<PathBuf>,
}

impl std::fmt::Debug for MarkOrder<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("MarkOrder").field("template_folder", &self.template_folder).finish_non_exhaustive()
    }
}

/// Builds all pages of a marked quiz and gives each of them to `each`: its
/// file name and its bytes. `kept` gives what was kept of the docket at a place.
///
/// # Errors
/// Faults of templates, a fault for kept rules that this version of the program
/// cannot read, and whatever `kept` and `each` say.
pub fn mark_pages<E: From<Vec<Fault>>>(
    results: &Results<'_>,
    learned: &Learned,
    order: &MarkOrder<'_>,
    mut kept: impl FnMut(usize) -> Result<KeptDocket, E>,
    mut each: impl FnMut(String, Vec<u8>) -> Result<(), E>,
) -> Result<(), E> {
    let pages = MarkedPages::new(results.snapshot, order)?;
    let one = |fault: Fault| E::from(vec![fault]);
    let statistics = statistics_page(results, learned, order)?;
    each("index.html".to_owned(), statistics.into_bytes())?;
    for group in results.dockets.chunks(AT_A_TIME) {
        let mut with_keys = Vec::with_capacity(group.len());
        for docket in group {
            with_keys.push((docket, if docket.erased { None } else { Some(kept(docket.place)?) }));
        }
        for (name, page) in pages.side_by_side(&with_keys).map_err(one)? {
            each(name, page)?;
        }
    }
    Ok(())
}

/// The marked dockets of a quiz, made ready once for all of them.
#[derive(Debug)]
pub struct MarkedPages<'a> {
    snapshot: &'a Snapshot,
    order: &'a MarkOrder<'a>,
    templates: Templates,
    policy: String,
    /// The workings of the exercises, in order.
    workings: Vec<Working<'a>>,
}

impl<'a> MarkedPages<'a> {
    /// Makes the marked dockets of a quiz ready.
    ///
    /// # Errors
    /// Faults of templates, and one for kept rules that this version of the
    /// program cannot read.
    pub fn new(snapshot: &'a Snapshot, order: &'a MarkOrder<'a>) -> Result<Self, Vec<Fault>> {
        let templates = Templates::load(order.template_folder.as_deref())?;
        let workings = snapshot.exercises.iter().map(|one| Working::of(&one.rules)).collect::<Result<_, Fault>>();
        let policy = policy(&templates.marked_style, "");
        Ok(Self { snapshot, order, templates, policy, workings: workings.map_err(|fault| vec![fault])? })
    }

    /// The file of a docket's page.
    #[must_use]
    pub fn file_name(snapshot: &Snapshot, place: usize) -> String {
        format!("marked-{}.html", snapshot.file_name(place))
    }

    /// The marked docket of one result; `kept` is what was kept of the docket,
    /// and may be left out where the text of the return was erased.
    ///
    /// # Errors
    /// A fault if `kept` is not what was kept of that docket, and faults of templates.
    pub fn page(&self, docket: &DocketResult, kept: Option<&KeptDocket>) -> Result<String, Fault> {
        let seat = &self.snapshot.dockets[docket.place];
        let fits = |kept: &&KeptDocket| kept.docket == seat.docket && kept.exercises.len() == self.workings.len();
        if kept.is_some_and(|kept| !fits(&kept)) || (kept.is_none() && !docket.erased) {
            let message = format!("what was kept of docket {} does not fit the quiz", seat.docket);
            return Err(Fault::new("kept-quiz", message, "`gearside audit` tells whether the records are sound"));
        }
        let exercises: Vec<Value> = self
            .workings
            .iter()
            .enumerate()
            .map(|(place, working)| {
                let pull = kept.and_then(|kept| kept.exercises.get(place));
                let made = exercise::Made {
                    kept: &self.snapshot.exercises[place],
                    result: &docket.exercises[place],
                    pull,
                    working,
                    order: self.order,
                    comma: self.snapshot.head.decimal_comma,
                };
                made.view()
            })
            .collect();
        let name = (self.order.name)(&docket.person);
        let view = json!({
            "name_html": bdi(&name),
            "sum": self.sum(docket),
            "erased": if docket.erased { "yes" } else { "" },
            "rehearsal": if self.snapshot.head.rehearsal { "yes" } else { "" },
            "exercises": exercises,
            "practise": practise::view(self.snapshot, docket, self.order),
            "cautions": self.cautions(),
        });
        let context = json!({ "page": self.frame(docket, &name), "marked": view });
        self.templates.render("marked.html", context).map_err(|fault| *fault)
    }

    /// Pages of several dockets, made on two cores, in order.
    fn side_by_side(&self, list: &[(&DocketResult, Option<KeptDocket>)]) -> Result<Vec<(String, Vec<u8>)>, Fault> {
        let made = |list: &[(&DocketResult, Option<KeptDocket>)]| -> Result<Vec<_>, Fault> {
            let page = |(docket, kept): &(&DocketResult, Option<KeptDocket>)| {
                Ok((Self::file_name(self.snapshot, docket.place), self.page(docket, kept.as_ref())?.into_bytes()))
            };
            list.iter().map(page).collect()
        };
        let (ours, theirs) = list.split_at(list.len() / 2);
        let (ours, theirs) = std::thread::scope(|scope| {
            let theirs = scope.spawn(|| made(theirs));
            (made(ours), theirs.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
        });
        let mut all = ours?;
        all.extend(theirs?);
        Ok(all)
    }

    /// How it went, in a sentence: no comparison with anyone.
    fn sum(&self, docket: &DocketResult) -> String {
        let verdicts: Vec<Mark> = docket.exercises.iter().filter_map(crate::quiz::ExerciseResult::verdict).collect();
        let many = |wanted: Mark| verdicts.iter().filter(|one| **one == wanted).count();
        let right = many(Mark::Right);
        let of = self.workings.len();
        let mut words = vec![if right == of {
            say!("marked.all-right", of = of)
        } else {
            say!("marked.of-right", right = right, of = of)
        }];
        for other in Mark::ALL.iter().filter(|one| **one != Mark::Right && many(**one) > 0) {
            words.push(filled(&format!("verdicts.{}", other.words().replace(' ', "-")), &[("n", &many(*other))]));
        }
        words.join(", ") + "."
    }

    /// What can hurt where its exercises are done at a press, each once.
    fn cautions(&self) -> Value {
        let mut words: Vec<&str> = Vec::new();
        for caution in self.snapshot.exercises.iter().flat_map(|one| &one.shown.cautions) {
            if !words.contains(&caution.word.as_str()) {
                words.push(&caution.word);
            }
        }
        words.iter().map(|word| json!({ "word": word, "at": "" })).collect()
    }

    fn frame(&self, docket: &DocketResult, name: &str) -> Value {
        let head = &self.snapshot.head;
        let seat = &self.snapshot.dockets[docket.place];
        let points = docket.points().map_or_else(
            || say!("marked.not-known"),
            |points| say!("marked.points-of", points = number(points, head.decimal_comma), all = self.workings.len()),
        );
        let mut boxes = vec![
            head_box(&say!("label.quiz"), &said(&quiz_in_words(&head.quiz))),
            head_box(&say!("label.day"), &day(head.day)),
            head_box(&say!("label.apprentice"), &bdi(name)),
            head_box(&say!("label.code"), &said(docket.person.as_str())),
            head_box(&say!("label.docket"), &said(&seat.docket)),
            head_box(&say!("label.points"), &points),
        ];
        boxes.extend(docket.marked_on.map(|on| head_box(&say!("label.marked"), &day(on))));
        json!({
            "title": say!("marked.title", docket = seat.docket, quiz = head.quiz),
            "kind": "marked",
            "programme": head.programme,
            "edition": self.snapshot.edition,
            "seed": "",
            "policy": self.policy,
            "style": self.templates.marked_style,
            "script": "",
            "accent": "",
            "paper": paper(head.paper),
            "crumbs": [],
            "storage": "",
            "head": boxes,
            "first_line": "",
            "docket": seat.docket,
        })
    }
}

/// The paper as the style sheet has it.
pub(super) fn paper(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "a4",
        Paper::Letter => "letter",
        Paper::Both => "both",
    }
}

/// `week-12-2` as `Week 12, second`.
pub(super) fn quiz_in_words(quiz: &str) -> String {
    let mut parts = quiz.split('-');
    let (Some("week"), Some(week)) = (parts.next(), parts.next()) else { return quiz.to_owned() };
    let mut words = say!("marked.week", week = week);
    for number in parts {
        // A number of four digits is the year in which the plan begins.
        words += &if number.len() == 4 { ", ".to_owned() } else { say!("marked.quiz") };
        words += number;
    }
    capital(&words)
}

/// A number of points with two decimals at most.
pub(super) fn number(value: f64, comma: bool) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if comma { text.replace('.', ",") } else { text.to_owned() }
}

/// The state of a register target: where its second cross stands.
pub(super) fn state(verdict: Option<Mark>) -> &'static str {
    match verdict {
        Some(Mark::Right | Mark::Carried) => "right",
        Some(Mark::WrongTurn) => "turn",
        Some(Mark::Wrong) => "wrong",
        Some(Mark::Blank) | None => "untried",
    }
}

/// A verdict as a heading.
pub(super) fn verdict(verdict: Option<Mark>) -> String {
    verdict.map_or_else(|| capital(&say!("marked.not-known")), |mark| capital(&word("mark", mark.words())))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_are_written_short() {
        for (value, comma, want) in
            [(3.0, false, "3"), (2.0 / 3.0, false, "0.67"), (4.5, true, "4,5"), (0.0, false, "0"), (10.0, false, "10")]
        {
            assert_eq!(number(value, comma), want);
        }
    }

    #[test]
    fn a_quiz_is_named_in_words() {
        for (quiz, want) in [("week-12", "Week 12"), ("week-3-2", "Week 3, quiz 2"), ("extra", "extra")] {
            assert_eq!(quiz_in_words(quiz), want);
        }
    }
}
