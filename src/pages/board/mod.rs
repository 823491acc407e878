//! The coordinator's pages: sign-off board, stage tables, training records,
//! standing list, programme page. They say what follows from the records and
//! carry the end of the chain, so that a printed page can be held to it.

mod filters;
mod plan_days;
mod programme_page;
mod record;
mod record_events;
mod record_facts;
mod record_rests;
mod stage_table;
mod standing;
mod strips;
pub(super) mod words;

use std::fmt::Write as _;
use std::path::PathBuf;

use serde_json::{Value, json};

use crate::ground::say;
use crate::pages::frame::{head_box, link};
use crate::pages::templates::{Templates, json_for_script, policy};
use crate::pages::tongue::{word, words_of};
pub(super) use words::{bdi, capital, clean, day, said};

use crate::ground::Fault;
use crate::programme::{Paper, Stage};
use crate::records::{Code, Digest, Lineage, Overview, Standings, State, Word, Wording};

/// What the board takes from outside the overview.
pub struct BoardOrder<'a> {
    /// The text said with a fact, by its digest; `None` if it was erased or is not wanted.
    pub note: &'a (dyn Fn(&Digest) -> Option<String> + Sync),
    /// A folder whose files stand in for templates of the same name.
    pub template_folder: Option<PathBuf>,
}

impl std::fmt::Debug for BoardOrder<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("BoardOrder").field("template_folder", &self.template_folder).finish_non_exhaustive()
    }
}

/// Builds the coordinator's pages: file names and contents.
///
/// # Errors
/// Faults of templates: a name that is none of ours, a value that is not there.
pub fn board(overview: &Overview<'_>, order: &BoardOrder<'_>) -> Result<Vec<(String, Vec<u8>)>, Vec<Fault>> {
    let templates = Templates::load(order.template_folder.as_deref())?;
    Board::new(overview, order, &templates).build().map_err(|fault| vec![*fault])
}

/// What all pages of the board look things up in.
pub(super) struct Board<'a> {
    pub(super) overview: &'a Overview<'a>,
    pub(super) note: &'a (dyn Fn(&Digest) -> Option<String> + Sync),
    /// All names of each competency, in the order of the rules.
    pub(super) names: Vec<Vec<Word>>,
    templates: &'a Templates,
    policies: [String; 2],
}

/// What differs from page to page.
pub(super) struct BoardPage {
    pub(super) title: String,
    pub(super) kind: &'static str,
    pub(super) accent: String,
    pub(super) crumbs: Vec<Value>,
    pub(super) head: Vec<Value>,
    pub(super) with_script: bool,
    /// The data block of the page script, if it needs one.
    pub(super) data_json: String,
}

/// The file of someone's training record.
pub(super) fn record_of(code: &Code) -> String {
    format!("person-{}.html", code.in_file_names())
}

/// The file of a stage's table.
pub(super) fn table_of(stage: &Stage) -> String {
    format!("stage-{}.html", stage.id)
}

impl<'a> Board<'a> {
    fn new(overview: &'a Overview<'a>, order: &'a BoardOrder<'a>, templates: &'a Templates) -> Self {
        let mut lineage: Lineage = overview.history.lineage.clone();
        lineage.add(overview.rules);
        Self {
            overview,
            note: order.note,
            names: overview.rules.competencies.iter().map(|rule| lineage.names(&rule.id)).collect(),
            templates,
            policies: ["", templates.board_script.as_str()].map(|script| policy(&templates.board_style, script)),
        }
    }

    fn build(&self) -> Result<Vec<(String, Vec<u8>)>, Box<Fault>> {
        let mut files = vec![
            ("index.html".to_owned(), strips::page(self)?.into_bytes()),
            ("standing.html".to_owned(), standing::page(self)?.into_bytes()),
            ("programme.html".to_owned(), programme_page::page(self)?.into_bytes()),
        ];
        for stage in &self.overview.programme.stages {
            files.push((table_of(stage), stage_table::page(self, stage)?.into_bytes()));
        }
        // The training records are most of the work, and share two cores.
        let (ours, theirs) = self.overview.rows.split_at(self.overview.rows.len() / 2);
        let (ours, theirs) = std::thread::scope(|scope| {
            let theirs = scope.spawn(|| self.records(theirs));
            (self.records(ours), theirs.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
        });
        files.extend(ours?);
        files.extend(theirs?);
        Ok(files)
    }

    fn records(&self, rows: &[Standings<'_>]) -> Result<Vec<(String, Vec<u8>)>, Box<Fault>> {
        rows.iter().map(|row| Ok((record_of(&row.person.code), record::page(self, row)?.into_bytes()))).collect()
    }

    /// A person's name, ready to print.
    pub(super) fn name(&self, code: &Code) -> String {
        bdi(&self.overview.name(code))
    }

    /// A competency's title, ready to print.
    pub(super) fn title(&self, competency: &str) -> String {
        said(&self.overview.title(competency))
    }

    /// Words about a state. Names in them stand between the marks that keep
    /// their direction apart; `sentence` makes elements of these.
    pub(super) fn words(&self, say: impl FnOnce(&Wording<'_>) -> String) -> String {
        let title = |id: &str| clean(&self.overview.title(id));
        let name = |code: &Code| format!("\u{2068}{}\u{2069}", clean(&self.overview.name(code)));
        let edition = &self.overview.programme.about.edition;
        say(&Wording { title: &title, name: &name, today: self.overview.on, edition })
    }

    /// What is said of a state behind the word for it, which stands in bold before it.
    pub(super) fn behind_the_word(&self, state: &State) -> String {
        let reason = self.words(|wording| wording.reason(state));
        let begins = word("standing", state.standing.word());
        reason.strip_prefix(&begins).map_or_else(|| format!(": {reason}"), str::to_owned)
    }

    /// The text said with a fact, if there is one.
    pub(super) fn note(&self, digest: Option<&Digest>) -> Option<String> {
        digest.and_then(self.note).filter(|text| !text.trim().is_empty())
    }

    /// Renders a page.
    pub(super) fn render(
        &self,
        template: &str,
        name: &str,
        view: Value,
        page: BoardPage,
    ) -> Result<String, Box<Fault>> {
        let overview = self.overview;
        let about = &overview.programme.about;
        let head = overview.history.head.shown();
        let script = if page.with_script { self.templates.board_script.as_str() } else { "" };
        let mut boxes = page.head;
        boxes.push(head_box(&say!("label.edition"), &said(&about.edition)));
        boxes.push(head_box(&say!("label.as-of"), &day(overview.on)));
        boxes.push(head_box(&say!("label.facts-and-head"), &said(&head)));
        let mut crumbs = page.crumbs;
        crumbs.extend([
            link(&say!("label.standing-list"), "standing.html"),
            link(&say!("label.programme-page"), "programme.html"),
        ]);
        let frame = json!({
            "title": page.title,
            "kind": format!("board {}", page.kind),
            "programme": about.title,
            "edition": about.edition,
            "seed": head,
            "policy": self.policies[usize::from(page.with_script)],
            "style": self.templates.board_style,
            "script": script,
            "accent": page.accent,
            "paper": match about.paper { Paper::A4 => "a4", Paper::Letter => "letter", Paper::Both => "both" },
            "crumbs": crumbs,
            "storage": "",
            "head": boxes,
            "first_line": say!("page.open-me-in"),
            "day": day(overview.on),
            "retention": about.retention,
            "board_json": page.data_json,
            "words_json": if page.with_script { json_for_script(&words_of(script)) } else { String::new() },
            "breaks_html": self.breaks(),
        });
        let context = [("page".to_owned(), frame), (name.to_owned(), view)].into_iter().collect();
        self.templates.render(template, Value::Object(context))
    }

    /// Where the records were altered, as a list.
    fn breaks(&self) -> String {
        const SHOWN: usize = 12;
        let breaks = &self.overview.history.breaks;
        let shown = breaks
            .iter()
            .take(SHOWN)
            .map(|one| format!("<li>{}</li>", say!("board.fact-is", seq = one.seq, what = said(&one.what))));
        let mut list = shown.collect::<Vec<_>>().concat();
        if breaks.len() > SHOWN {
            let _ = write!(
                list,
                "<li>{}</li>",
                say!("board.more-breaks", n = breaks.len() - SHOWN, command = "<code>gearside audit</code>")
            );
        }
        list
    }
}
