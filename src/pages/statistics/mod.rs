//! The instructor's page of a marked quiz: who came back, how each exercise and
//! each family did, how far the numbers carry.

mod exercises;
mod whole;
mod words;

use serde_json::{Value, json};

use super::board::{bdi, day, said};
use super::frame::{head_box, link};
use super::marked::{MarkOrder, MarkedPages, number, paper, quiz_in_words, state};
use super::templates::{Templates, policy};
use crate::ground::Fault;
use crate::ground::say;
use crate::marking::PartMark;
use crate::marking::statistics::{ENOUGH, WhyNot};
use crate::pages::tongue::word;
use crate::quiz::{DocketResult, HoldNow, Learned, PersonLearned, Results};
use words::percent;

/// The name of the table of marks, which lies beside the page.
pub(super) const MARKS_TABLE: &str = "marks.csv";

/// The page of statistics. It names everyone, so it is for the instructor alone.
///
/// # Errors
/// Faults of templates.
pub fn statistics_page(results: &Results<'_>, learned: &Learned, order: &MarkOrder<'_>) -> Result<String, Vec<Fault>> {
    let templates = Templates::load(order.template_folder.as_deref())?;
    let made = Made { results, learned, order };
    let context = json!({ "page": made.frame(&templates), "statistics": made.view() });
    templates.render("statistics.html", context).map_err(|fault| vec![*fault])
}

/// What the page is made from.
struct Made<'a> {
    results: &'a Results<'a>,
    learned: &'a Learned,
    order: &'a MarkOrder<'a>,
}

impl Made<'_> {
    fn comma(&self) -> bool {
        self.results.snapshot.head.decimal_comma
    }

    fn name(&self, code: &crate::records::Code) -> String {
        bdi(&(self.order.name)(code))
    }

    fn view(&self) -> Value {
        let snapshot = self.results.snapshot;
        let columns = snapshot
            .exercises
            .iter()
            .map(|one| json!({ "number": one.shown.number.to_string(), "title": one.shown.title }));
        let rows = self.results.dockets.iter().zip(&self.learned.people);
        json!({
            "title": quiz_in_words(&snapshot.head.quiz),
            "faults": self.results.faults.iter().map(|fault| json!({ "says": fault.message, "mend": fault.mend })).collect::<Vec<_>>(),
            "held": self.held(),
            "columns": columns.collect::<Vec<_>>(),
            "rows": rows.map(|(docket, person)| self.row(docket, person)).collect::<Vec<_>>(),
            "missing": self.missing(),
            "exercises": self.learned.exercises.iter().map(|one| exercises::view(one, self.comma())).collect::<Vec<_>>(),
            "families": self.learned.families.iter().map(|one| exercises::family(one, self.comma())).collect::<Vec<_>>(),
            "whole": whole::reliability(&self.learned.whole, self.comma()),
            "pass": whole::pass_mark(self),
            "table": MARKS_TABLE,
            "few": self.few(),
            "enough": ENOUGH.to_string(),
        })
    }

    /// What is not said because so few came back.
    fn few(&self) -> String {
        let common = self.learned.whole.common;
        if self.learned.came == 0 || common >= ENOUGH {
            return String::new();
        }
        say!("statistics.difficulty-and-the", why = WhyNot::TooFew(common).words())
    }

    /// One person: a cell for each exercise, and the points.
    fn row(&self, docket: &DocketResult, person: &PersonLearned) -> Value {
        let cells = person.verdicts.iter().zip(&person.marks).map(|(verdict, mark)| {
            let partly = mark.filter(|mark| *mark > 1e-9 && *mark < 1.0 - 1e-9);
            json!({
                "state": state(*verdict),
                "word": verdict.map_or_else(|| say!("marked.not-known"), |mark| word("mark", mark.words())),
                "mark": partly.map_or_else(String::new, |mark| number(mark, self.comma())),
            })
        });
        json!({
            "name_html": self.name(&person.person),
            "code": person.person.as_str(),
            "href": MarkedPages::file_name(self.results.snapshot, docket.place),
            "erased": if docket.erased { "yes" } else { "" },
            "cells": cells.collect::<Vec<_>>(),
            "points": person.points.map_or_else(|| say!("marked.not-known"), |points| number(points, self.comma())),
        })
    }

    /// Whose competency is held for a broken safety pair.
    fn held(&self) -> Vec<Value> {
        let mut list = Vec::new();
        for docket in &self.results.dockets {
            for (kept, exercise) in self.results.snapshot.exercises.iter().zip(&docket.exercises) {
                for part in exercise.parts.iter().filter(|part| part.hold.is_some()) {
                    let says = part.marked.as_ref().map(PartMark::not_safe).unwrap_or_default();
                    let title = (self.order.competency)(&kept.competency).map(|page| page.title);
                    list.push(json!({
                        "name_html": self.name(&docket.person),
                        "competency": title.unwrap_or_else(|| kept.competency.clone()),
                        "says": says.iter().take(2).map(String::as_str).collect::<Vec<_>>().join("; "),
                        "command": match part.hold {
                            Some(HoldNow::TalkedThrough(_)) => String::new(),
                            _ => format!("gearside record release {} {} --seen-by CODE --why \"…\"", docket.person, kept.competency),
                        },
                        "now_html": match part.hold {
                            Some(HoldNow::TalkedThrough(on)) => say!("statistics.talked-through-on", on = day(on)),
                            _ => say!("statistics.held-until-you"),
                        },
                    }));
                }
            }
        }
        list
    }

    /// The dockets that did not come back; of blank ones only how many.
    fn missing(&self) -> Value {
        let missed: Vec<Value> = self
            .results
            .missed()
            .filter_map(|place| {
                let seat = &self.results.snapshot.dockets[place];
                let code = seat.person.as_ref()?;
                Some(json!({ "name_html": self.name(code), "code": code.as_str(), "docket": seat.docket }))
            })
            .collect();
        let blank = self.results.missing.len() - missed.len();
        let blank = match blank {
            0 => String::new(),
            more => say!("statistics.blank-dockets-were", n = more),
        };
        json!({ "list": missed, "blank": blank })
    }

    fn frame(&self, templates: &Templates) -> Value {
        let snapshot = self.results.snapshot;
        let head = &snapshot.head;
        let mean = self.learned.whole.mean_share.map_or_else(|| "–".to_owned(), percent);
        let boxes = [
            head_box(&say!("label.quiz"), &said(&head.quiz)),
            head_box(&say!("label.day"), &day(head.day)),
            head_box(
                &say!("label.came-back"),
                &say!("statistics.of", came = self.learned.came, issued = self.learned.issued),
            ),
            head_box(&say!("label.exercises"), &snapshot.exercises.len().to_string()),
            head_box(&say!("label.mean-of-all"), &mean),
            head_box(&say!("label.for"), &say!("key.the-instructor")),
        ];
        json!({
            "title": say!("statistics.what-came-of", title = quiz_in_words(&head.quiz)),
            "kind": "board statistics",
            "programme": head.programme,
            "edition": snapshot.edition,
            "seed": snapshot.seed,
            "policy": policy(&templates.statistics_style, ""),
            "style": templates.statistics_style,
            "script": "",
            "accent": "",
            "paper": paper(head.paper),
            "crumbs": Vec::<Value>::new(),
            "storage": "",
            "head": boxes,
            "first_line": "",
            "contents": [
                link(&say!("label.who-came-back"), "#who"),
                link(&say!("label.exercise-by-exercise"), "#exercises"),
                link(&say!("label.families"), "#families"),
                link(&say!("label.how-far-the"), "#whole"),
                link(&say!("label.pass-mark"), "#pass"),
            ],
        })
    }
}
