//! Front page, stage pages, and a workbook page per competency.

use serde_json::{Value, json};

use super::exercise::{Deck, Mode, PULLS, cautions};
use super::frame::{Page, frame, head_box, link, links_html};
use super::templates::Templates;
use super::tongue::word;
use super::{Order, Site, keys, sheet};
use crate::ground::Fault;
use crate::ground::say;
use crate::programme::{Competency, Exercise, Programme, Stage, Use, opened_by, teaching_order};
use crate::prose::escape;
use crate::pull::Printer;

/// How many exercises a self-quiz has at most.
const LONGEST_QUIZ: usize = 10;
/// How many pulls an exercise of another competency brings to a self-quiz.
const VISITING_PULLS: usize = 5;

/// Builds the pages of one programme.
pub(super) struct Builder<'a> {
    pub(super) programme: &'a Programme,
    pub(super) order: &'a Order,
    pub(super) templates: &'a Templates,
    pub(super) printer: Printer,
}

/// The file of a competency's page.
pub(super) fn page_of(competency: &Competency) -> String {
    format!("{}.html", competency.id)
}

/// The file of a stage's page.
fn page_of_stage(stage: &Stage) -> String {
    format!("stage-{}.html", stage.id)
}

impl Builder<'_> {
    /// All pages and keys.
    pub(super) fn build(&self) -> Result<Site, Box<Fault>> {
        let mut site = Site { workbook: Vec::new(), keys: Vec::new() };
        for stage in self.stages() {
            for competency in &stage.competencies {
                let decks = self.decks(competency)?;
                if decks.is_empty() {
                    continue;
                }
                site.workbook
                    .push((page_of(competency), self.competency_page(stage, competency, &decks)?.into_bytes()));
                site.keys.push((page_of(competency), keys::page(self, stage, competency, &decks)?.into_bytes()));
            }
            site.workbook.push((page_of_stage(stage), self.stage_page(stage)?.into_bytes()));
        }
        site.workbook.push(("index.html".to_owned(), self.front_page()?.into_bytes()));
        Ok(site)
    }

    /// The stages that are wanted.
    fn stages(&self) -> impl Iterator<Item = &Stage> {
        self.programme
            .stages
            .iter()
            .filter(|stage| self.order.stage.as_deref().is_none_or(|wanted| wanted == stage.id.as_str()))
    }

    /// The practice exercises of a competency.
    fn practice<'b>(&'b self, competency: &'b Competency) -> impl Iterator<Item = &'b Exercise> {
        self.programme.exercises_of(&competency.id).filter(|exercise| exercise.used_in != Use::Quiz)
    }

    fn decks<'b>(&'b self, competency: &'b Competency) -> Result<Vec<Deck<'b>>, Box<Fault>> {
        self.practice(competency).map(|exercise| self.deck(exercise, PULLS)).collect()
    }

    fn deck<'b>(&'b self, exercise: &'b Exercise, count: usize) -> Result<Deck<'b>, Box<Fault>> {
        Deck::new(exercise, self.programme, &self.order.seed, count, self.printer)
    }

    /// Title and page of competencies; those without a page of their own here have no link.
    fn links(&self, competencies: &[&Competency]) -> Vec<(String, String)> {
        let built =
            |id: &crate::ground::Id| self.stages().any(|stage| stage.competencies.iter().any(|one| one.id == *id));
        competencies.iter().filter(|one| built(&one.id)).map(|one| (one.title.clone(), page_of(one))).collect()
    }

    fn needs(&self, competency: &Competency) -> Vec<(String, String)> {
        let needed: Vec<&Competency> = competency.needs.iter().filter_map(|id| self.programme.competency(id)).collect();
        self.links(&needed)
    }

    fn opens(&self, competency: &Competency) -> Vec<(String, String)> {
        self.links(&opened_by(&self.programme.stages, &competency.id))
    }

    /// What is taught after this one.
    fn next(&self, competency: &Competency) -> Vec<(String, String)> {
        let order = teaching_order(&self.programme.stages);
        let place = order.iter().position(|one| one.id == competency.id);
        let next: Vec<&Competency> = place.and_then(|place| order.get(place + 1)).copied().into_iter().collect();
        self.links(&next)
    }

    fn competency_page(
        &self,
        stage: &Stage,
        competency: &Competency,
        decks: &[Deck<'_>],
    ) -> Result<String, Box<Fault>> {
        let (needs, opens) = (self.needs(competency), self.opens(competency));
        let with_working: Vec<&Deck<'_>> = decks.iter().filter(|deck| deck.has_working()).collect();
        let worked: Vec<Value> =
            with_working.first().map(|deck| json!(deck.view(Mode::Worked, 1, false))).into_iter().collect();
        let half: Vec<Value> = with_working
            .get(1)
            .or(with_working.first())
            .map(|deck| json!(deck.view(Mode::Half, 1, false)))
            .into_iter()
            .collect();
        // The register row numbers what is asked straight through.
        let own: Vec<Value> = decks
            .iter()
            .enumerate()
            .map(|(index, deck)| json!(deck.view(Mode::Own, half.len() + index + 1, true)))
            .collect();
        let calculations = sheet::used_by(decks.iter().map(|deck| deck.exercise));
        let work = json!({
            "title": competency.title,
            "can": can(competency),
            "cautions": cautions(self.programme, &competency.cautions),
            "lesson_html": competency.lesson.html(&|_| None),
            "worked": worked,
            "half": half,
            "own": own,
            "quiz": self.quiz(competency, decks)?,
            "sheet": calculations.into_iter().map(sheet::entry).collect::<Vec<_>>(),
            "opens": as_links(&opens),
            "next": as_links(&self.next(competency)),
            "key_note": say!("workbook.the-instructor-has"),
        });
        let mut head = vec![
            head_box(&say!("label.programme"), &format!("<a href=\"index.html\">{}</a>", say!("label.web-path"))),
            head_box(
                &say!("label.stage"),
                &format!("<a href=\"{}\">{} {}</a>", page_of_stage(stage), stage.number, escape(&stage.title)),
            ),
            head_box(&say!("label.needs"), &links_html(&needs)),
            head_box(&say!("label.opens"), &links_html(&opens)),
        ];
        head.extend(competency.hours.map(|hours| head_box(&say!("label.on-the-job"), &format!("{hours} h"))));
        let page = Page {
            title: &competency.title,
            kind: "workbook",
            accent: stage.number.to_string(),
            crumbs: vec![link(&say!("label.web-path"), "index.html"), link(&stage.title, &page_of_stage(stage))],
            head,
            with_script: true,
            name: competency.id.as_str(),
        };
        self.render("workbook.html", page, "work", &work)
    }

    /// Each family once, then families of what the competency needs.
    fn quiz(&self, competency: &Competency, decks: &[Deck<'_>]) -> Result<Vec<Value>, Box<Fault>> {
        let mut families = Vec::new();
        let mut quiz = Vec::new();
        for deck in decks {
            if quiz.len() < LONGEST_QUIZ && !families.contains(&&deck.exercise.family) {
                families.push(&deck.exercise.family);
                quiz.push(json!(deck.view(Mode::Quiz, quiz.len() + 1, false)));
            }
        }
        for need in competency.needs.iter().filter_map(|id| self.programme.competency(id)) {
            for exercise in self.practice(need) {
                if quiz.len() >= LONGEST_QUIZ || families.contains(&&exercise.family) {
                    continue;
                }
                families.push(&exercise.family);
                quiz.push(json!(self.deck(exercise, VISITING_PULLS)?.view(Mode::Quiz, quiz.len() + 1, true)));
            }
        }
        Ok(quiz)
    }

    fn stage_page(&self, stage: &Stage) -> Result<String, Box<Fault>> {
        let entries: Vec<Value> = stage
            .competencies
            .iter()
            .map(|competency| {
                json!({
                    "title": competency.title,
                    "href": page_of(competency),
                    "hours": competency.hours.map_or_else(String::new, |hours| say!("workbook.h-on-the", hours = hours)),
                    "exercises": say!("count.exercises", n = self.practice(competency).count()),
                    "can": can(competency),
                    "needs": as_links(&self.needs(competency)),
                    "opens": as_links(&self.opens(competency)),
                })
            })
            .collect();
        let view = json!({ "number": stage.number.to_string(), "title": stage.title, "about_html": stage.about.html(&|_| None), "competencies": entries });
        let page = Page {
            title: &stage.title,
            kind: "stage",
            accent: stage.number.to_string(),
            crumbs: vec![link(&say!("label.web-path"), "index.html")],
            head: vec![
                head_box(&say!("label.programme"), &format!("<a href=\"index.html\">{}</a>", say!("label.web-path"))),
                head_box(&say!("label.stage"), &stage.number.to_string()),
                head_box(&say!("label.competencies"), &stage.competencies.len().to_string()),
            ],
            with_script: true,
            name: stage.id.as_str(),
        };
        self.render("stage.html", page, "stage", &view)
    }

    fn front_page(&self) -> Result<String, Box<Fault>> {
        let about = &self.programme.about;
        let stages: Vec<Value> = self.stages().map(|stage| json!({
            "number": stage.number.to_string(),
            "title": stage.title,
            "href": page_of_stage(stage),
            "about": stage.about.plain(&|_| None),
            "competencies": stage.competencies.iter().map(|competency| json!({
                "title": competency.title,
                "href": page_of(competency),
                "exercises": say!("count.exercises", n = self.practice(competency).count()),
                "needs": competency.needs.iter().filter_map(|id| self.programme.competency(id)).map(|one| one.title.clone()).collect::<Vec<_>>().join(", "),
            })).collect::<Vec<_>>(),
        })).collect();
        let view = json!({ "about_html": about.about.html(&|_| None), "stages": stages });
        let inks = about.ink_systems.iter().map(|ink| word("ink", ink.words())).collect::<Vec<_>>().join(", ");
        let competencies: usize = self.stages().map(|stage| stage.competencies.len()).sum();
        let page = Page {
            title: &about.title,
            kind: "front",
            accent: String::new(),
            crumbs: Vec::new(),
            head: vec![
                head_box(&say!("label.programme"), &escape(&about.title)),
                head_box(&say!("label.stages"), &self.stages().count().to_string()),
                head_box(&say!("label.competencies"), &competencies.to_string()),
                head_box(&say!("label.inks"), &inks),
                head_box(&say!("label.units"), &word("units", about.units.words())),
            ],
            with_script: true,
            name: "index",
        };
        self.render("front.html", page, "front", &view)
    }

    /// Renders a template with its frame.
    pub(super) fn render(
        &self,
        template: &str,
        page: Page<'_>,
        name: &str,
        view: &Value,
    ) -> Result<String, Box<Fault>> {
        let frame = frame(self.programme, self.order, self.templates, page);
        self.templates.render(template, json!({ "page": frame, name: view }))
    }
}

/// What someone who is signed off can do.
fn can(competency: &Competency) -> Vec<Value> {
    competency
        .criteria
        .iter()
        .map(|one| json!({ "html": one.text.html(&|_| None), "critical": if one.critical { "yes" } else { "" } }))
        .collect()
}

fn as_links(links: &[(String, String)]) -> Vec<Value> {
    links.iter().map(|(title, href)| link(title, href)).collect()
}
