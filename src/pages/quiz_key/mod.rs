//! The instructor's pages of a quiz: a front page, and the key of each docket.
//!
//! They are made from what was kept when the quiz was issued, never from a bank.

mod front;
mod own;
mod table;
#[cfg(test)]
mod tests;
mod view;

use std::path::Path;

use serde_json::{Value, json};

use super::board::{bdi, day, said};
use super::frame::head_box;
use super::stencil::{Blanks, Stencil, unmarked};
use super::templates::{Templates, policy};
use crate::ground::Fault;
use crate::programme::Paper;
use crate::prose::escape;
use crate::quiz::{KeptDocket, Snapshot};
use crate::records::Code;
use own::Marked;

/// The name of the table for answers on paper, which lies beside these pages.
pub const MARKING_TABLE: &str = "marking.csv";

/// The pages of an instructor's folder, made ready once for all dockets of a quiz.
#[derive(Debug)]
pub struct KeyPages<'a> {
    snapshot: &'a Snapshot,
    templates: Templates,
    exercises: Vec<Marked<'a>>,
    key: Stencil<Blank>,
    on_record: Option<String>,
}

/// Where the keys of a quiz differ.
#[derive(Debug, Clone, Copy)]
enum Blank {
    /// Whose docket it is, as plain text.
    Whose,
    /// The same with the name kept apart.
    WhoseApart,
    /// The docket's code.
    Docket,
    /// The minutes allowed.
    Minutes,
    /// How the records stood.
    OnRecord,
    /// Something of an exercise, by its place.
    Of(usize, own::Own),
}

impl<'a> KeyPages<'a> {
    /// Makes the pages of a quiz ready; files of `template_folder` stand in for templates.
    ///
    /// # Errors
    /// Faults of templates, and one for kept rules that this version of the
    /// program cannot read.
    pub fn new(snapshot: &'a Snapshot, template_folder: Option<&Path>) -> Result<Self, Vec<Fault>> {
        let templates = Templates::load(template_folder)?;
        let exercises = snapshot.exercises.iter().map(|one| Marked::of(one).map_err(|fault| vec![fault]));
        let exercises = exercises.collect::<Result<Vec<_>, _>>()?;
        let mut blanks = Blanks::new();
        let keyed: Result<Vec<Value>, Fault> =
            exercises.iter().enumerate().map(|(place, one)| view::exercise(one, place, &mut blanks)).collect();
        let page = page(
            snapshot,
            &templates,
            &format!("Key: {}", blanks.mark(Blank::Whose)),
            vec![
                head_box("For", &blanks.mark(Blank::WhoseApart)),
                head_box("Docket", &blanks.mark(Blank::Docket)),
                head_box("Minutes allowed", &blanks.mark(Blank::Minutes)),
            ],
        );
        let key = json!({
            "whose_html": blanks.mark(Blank::WhoseApart),
            "docket_html": blanks.mark(Blank::Docket),
            "on_record_html": blanks.mark(Blank::OnRecord),
            "exercises": keyed.map_err(|fault| vec![fault])?,
        });
        let rendered = templates.render("quiz-key.html", json!({ "page": page, "key": key }));
        let key = blanks.cut(&rendered.map_err(|fault| vec![*fault])?);
        Ok(Self { snapshot, templates, exercises, key, on_record: None })
    }

    /// The same, with the number of facts and the head of the records as they
    /// stood when the quiz was put on record: all pages print them, so that they
    /// can be held to the records later.
    #[must_use]
    pub fn on_record(self, head: &str) -> Self {
        Self { on_record: Some(head.to_owned()), ..self }
    }

    /// The key of the docket at that place; `name` is whose it is, as known today.
    ///
    /// # Errors
    /// A fault if `kept` is not what was kept of that docket.
    pub fn page(&self, place: usize, kept: &KeptDocket, name: Option<&str>) -> Result<String, Fault> {
        let seat = self.snapshot.dockets.get(place).filter(|seat| seat.docket == kept.docket);
        let seat = seat.ok_or_else(|| foreign(&kept.docket))?;
        let fits = kept.exercises.len() == self.exercises.len()
            && self.exercises.iter().zip(&kept.exercises).all(|(one, pull)| one.fits(pull));
        if !fits {
            return Err(foreign(&kept.docket));
        }
        let on_record = self.on_record_html();
        Ok(self.key.filled(0, |blank, page| match blank {
            Blank::Whose => page.push_str(&self.whose(place, name)),
            Blank::WhoseApart => page.push_str(&self.whose_apart(place, name)),
            Blank::Docket => page.push_str(&escape(&seat.docket)),
            Blank::Minutes => page.push_str(&seat.minutes.to_string()),
            Blank::OnRecord => page.push_str(&on_record),
            Blank::Of(place, own) => {
                if let (Some(one), Some(pull)) = (self.exercises.get(*place), kept.exercises.get(*place)) {
                    one.put(*own, pull, page);
                }
            }
        }))
    }

    /// Whose docket it is, as escaped text: name and code, as far as they are known.
    fn whose(&self, place: usize, name: Option<&str>) -> String {
        match (self.code(place), name) {
            (Some(code), Some(name)) => format!("{} ({code})", said(name)),
            _ => escape(&self.label(place)),
        }
    }

    /// The same with the name kept apart from what stands around it.
    fn whose_apart(&self, place: usize, name: Option<&str>) -> String {
        match (self.code(place), name) {
            (Some(code), Some(name)) => format!("{} <span class=\"whose-code\">({code})</span>", bdi(name)),
            _ => escape(&self.label(place)),
        }
    }

    fn code(&self, place: usize) -> Option<&Code> {
        self.snapshot.dockets.get(place)?.person.as_ref()
    }

    /// A docket without a name: a code, or the number of a blank one.
    fn label(&self, place: usize) -> String {
        self.code(place).map_or_else(|| self.snapshot.file_name(place), Code::to_string)
    }

    fn on_record_html(&self) -> String {
        self.on_record.as_deref().map_or_else(String::new, |head| {
            let head = escape(head);
            format!("<p>Facts and head when it was put on record: {head}. <code>gearside audit --head</code> holds the records to them.</p>")
        })
    }
}

fn foreign(docket: &str) -> Fault {
    let message = format!("what was kept of docket {docket} does not fit the quiz");
    Fault::new("kept-quiz", message, "`gearside audit` tells whether the records are sound")
}

/// The frame of a page, with the boxes that all of them have.
fn page(snapshot: &Snapshot, templates: &Templates, title: &str, boxes: Vec<Value>) -> Value {
    let head = &snapshot.head;
    let mut all = vec![head_box("Quiz", &escape(&head.quiz))];
    all.extend(boxes);
    all.push(head_box("Issued", &day(head.day)));
    json!({
        "title": title,
        "kind": "key",
        "programme": unmarked(&head.programme),
        "edition": snapshot.edition,
        "seed": snapshot.seed,
        "quiz": head.quiz,
        "policy": policy(&templates.key_style, ""),
        "style": templates.key_style,
        "script": "",
        "accent": "0",
        "paper": match head.paper { Paper::A4 => "a4", Paper::Letter => "letter", Paper::Both => "both" },
        "crumbs": [],
        "storage": "",
        "head": all,
        "first_line": "",
        "rehearsal": if head.rehearsal { "yes" } else { "" },
    })
}
