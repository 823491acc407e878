//! A training record: one person, on two printed pages at most, with all
//! evidence below it on the screen.

use serde_json::json;

use super::record_rests::{Rests, hours};
use super::words::{counts_in_words, day, mark_and_word, said};
use super::{Board, BoardPage};
use super::{record_events, record_facts};
use crate::ground::Fault;
use crate::ground::say;
use crate::pages::frame::{head_box, link};
use crate::programme::Stage;
use crate::records::{Code, Held, History, Person, Role, Rule, Standing, Standings, State, Word};

/// How many letters of a title stand on one line of the printed table.
const LETTERS_A_LINE: usize = 28;
/// How many lines the rows of the printed table may have; beyond that each title is cut to one line.
const MOST_LINES: usize = 78;
/// The longest code that is printed in the column of who signed; a longer one gets a number.
const LONGEST_CODE: usize = 8;

/// What the printed table holds.
struct Printed {
    rows: usize,
    lines: usize,
}

/// What one training record is made from.
pub(super) struct Sheet<'a> {
    pub(super) board: &'a Board<'a>,
    pub(super) row: &'a Standings<'a>,
    /// What is said about sign-offs, each text once: on paper a letter stands for it.
    notes: Vec<String>,
}

/// The page of a person.
pub(super) fn page(board: &Board<'_>, row: &Standings<'_>) -> Result<String, Box<Fault>> {
    let mut sheet = Sheet { board, row, notes: Vec::new() };
    sheet.gather_notes();
    let overview = board.overview;
    let person = row.person;
    let stages: String = overview.programme.stages.iter().map(|stage| sheet.stage(stage)).collect();
    let printed = sheet.printed();
    let evidence: String = record_facts::evidence(&sheet);
    let standings: Vec<Standing> = row.states.iter().map(|state| state.standing).collect();
    let view = json!({
        "name_html": board.name(&person.code),
        "counts_html": counts_in_words(&standings),
        "late": sheet.late(),
        "stages_html": stages,
        "retired_html": record_facts::retired(&sheet),
        "legend_html": sheet.legend(),
        "hours_html": hours(&sheet),
        "events_html": record_events::timeline(&sheet, printed.rows),
        "evidence_html": evidence,
    });
    let page = BoardPage {
        title: say!("record.title", code = person.code),
        kind: if printed.lines > MOST_LINES { "record clipped" } else { "record" },
        accent: String::new(),
        crumbs: vec![link(&say!("label.sign-off-board"), "index.html")],
        head: sheet.head(),
        with_script: false,
        data_json: String::new(),
    };
    board.render("record.html", "record", view, page)
}

impl<'a> Sheet<'a> {
    pub(super) fn person(&self) -> &'a Person {
        self.row.person
    }

    /// The names of a competency by its place in the rules.
    pub(super) fn names(&self, place: usize) -> &'a [Word] {
        self.board.names.get(place).map_or(&[], Vec::as_slice)
    }

    fn printed(&self) -> Printed {
        let shown =
            self.board.overview.rules.competencies.iter().zip(&self.row.states).filter(|(_, state)| shows(state));
        let titles = shown.map(|(rule, _)| self.board.overview.title(&rule.id).chars().count());
        let (rows, lines) =
            titles.fold((0, 0), |(rows, lines), letters| (rows + 1, lines + letters.div_ceil(LETTERS_A_LINE).max(1)));
        Printed { rows, lines }
    }

    fn head(&self) -> Vec<serde_json::Value> {
        let (person, on) = (self.person(), self.board.overview.on);
        let mut boxes = vec![
            head_box(&say!("label.apprentice"), &self.board.name(&person.code)),
            head_box(&say!("label.code"), &said(person.code.as_str())),
            head_box(&say!("label.class"), &person.class().map_or_else(|| "–".to_owned(), said)),
        ];
        let first = person.grants.iter().filter(|one| one.is.role == Role::Apprentice && one.gone.is_none());
        boxes.extend(
            first.map(|one| one.is.from).min().map(|from| head_box(&say!("label.apprentice-since"), &day(from))),
        );
        let until = person.grant(Role::Apprentice, on, History::NOW).map(|grant| grant.is.until);
        match until {
            Some(Some(until)) => boxes.push(head_box(&say!("label.until"), &day(until))),
            Some(None) => {}
            None => boxes.push(head_box(&say!("label.now"), &say!("board.no-longer-an"))),
        }
        boxes.extend(person.away_since(on, History::NOW).map(|since| head_box(&say!("label.away-since"), &day(since))));
        boxes
    }

    /// A stage's rows; on paper only those with something to show, and in the stage's line how many others there are.
    fn stage(&self, stage: &Stage) -> String {
        let mut rows = String::new();
        let (mut waiting, mut open) = (0, 0);
        let mut standings = Vec::new();
        for (place, rule) in self.board.overview.stage(stage.id.as_str()) {
            let Some(state) = self.row.states.get(place) else { continue };
            standings.push(state.standing);
            let shows = shows(state);
            waiting += usize::from(!shows && state.standing == Standing::Waiting);
            open += usize::from(!shows && state.standing == Standing::Open);
            rows += &self.line(place, rule, state, shows);
        }
        let rest: Vec<String> = [(waiting, "waiting"), (open, "open")]
            .iter()
            .filter(|(number, _)| *number > 0)
            .map(|(number, word)| format!("{number} {word}"))
            .collect();
        let rest =
            if rest.is_empty() { String::new() } else { say!("board.without-evidence-yet", list = rest.join(", ")) };
        format!(
            "<tbody class=\"stage-{0}\"><tr class=\"stage-line\"><th scope=\"rowgroup\" colspan=\"7\">{0} {1} <span>{2}<span class=\"on-paper\">{rest}</span></span></th></tr>{rows}</tbody>\n",
            stage.number,
            said(&stage.title),
            counts_in_words(&standings)
        )
    }

    fn line(&self, place: usize, rule: &Rule, state: &State, shows: bool) -> String {
        let rests = Rests::of(self.person(), self.names(place), state);
        let notes = self.notes_html(&self.notes_about(state, &rests));
        let [marks, observed, hours] = rests.cells();
        format!(
            "<tr{}><th scope=\"row\"><a href=\"#competency-{}\">{}</a>{notes}</th><td>{}</td><td>{}</td><td>{}</td><td>{marks}</td><td>{observed}</td><td>{hours}</td></tr>\n",
            if shows { " class=\"said\"" } else { " class=\"bare\"" },
            rule.id,
            self.board.title(&rule.id),
            mark_and_word(state.standing),
            when(state),
            state.signed.as_ref().map(|signed| self.signer(&signed.by)).unwrap_or_default(),
        )
    }

    /// What everyone should see about a sign-off.
    fn notes_about(&self, state: &State, rests: &Rests) -> Vec<String> {
        let Some(signed) = &state.signed else { return Vec::new() };
        let mut notes = Vec::new();
        if let Some(second) = &signed.despite {
            notes.push(say!("board.despite-missing-evidence", who = self.board.name(second)));
        }
        let edition = &self.board.overview.programme.about.edition;
        if let Some(label) = signed.edition.as_ref().filter(|label| *label != edition) {
            notes.push(say!("board.under-edition", label = said(label)));
        }
        if signed.late {
            notes.push(say!("board.entered-late"));
        }
        match rests.gone {
            0 => {}
            more => notes.push(say!("board.facts-of-it", n = more)),
        }
        notes
    }

    fn gather_notes(&mut self) {
        let mut notes = Vec::new();
        for (place, state) in self.row.states.iter().enumerate().filter(|(_, state)| state.signed.is_some()) {
            let rests = Rests::of(self.person(), self.names(place), state);
            for note in self.notes_about(state, &rests) {
                if !notes.contains(&note) {
                    notes.push(note);
                }
            }
        }
        self.notes = notes;
    }

    fn notes_html(&self, notes: &[String]) -> String {
        if notes.is_empty() {
            return String::new();
        }
        let letters: Vec<String> =
            notes.iter().filter_map(|note| self.notes.iter().position(|own| own == note)).map(sign).collect();
        format!(
            "<span class=\"note on-screen\">{}</span><sup class=\"on-paper\">{}</sup>",
            notes.join("; "),
            letters.join(" ")
        )
    }

    /// Who signed: the name on the screen, the code on paper, where the names stand below the table.
    fn signer(&self, code: &Code) -> String {
        format!(
            "<span class=\"on-screen\">{}</span><span class=\"on-paper\">{}</span>",
            self.board.name(code),
            self.key_of(code)
        )
    }

    fn key_of(&self, code: &Code) -> String {
        if code.as_str().len() <= LONGEST_CODE {
            return said(code.as_str());
        }
        let place = self.signers().iter().position(|one| *one == code).unwrap_or(0);
        format!("({})", place + 1)
    }

    /// Everyone who signed, by code.
    fn signers(&self) -> Vec<&'a Code> {
        let signed = self.row.states.iter().filter_map(|state| state.signed.as_ref());
        let mut codes: Vec<&Code> = signed.map(|signed| &signed.by).collect();
        codes.sort();
        codes.dedup();
        codes
    }

    /// What letters and codes stand for on paper.
    fn legend(&self) -> String {
        let people = self.signers().into_iter().map(|code| {
            let (key, whole) = (self.key_of(code), said(code.as_str()));
            let whole = if key == whole { String::new() } else { format!(" {whole}") };
            say!("board.is", key = key, whole = whole, name = self.board.name(code))
        });
        let notes = self.notes.iter().enumerate().map(|(place, note)| format!("<sup>{}</sup> {note}", sign(place)));
        notes.chain(people).collect::<Vec<_>>().join("; ")
    }

    /// How many facts about the person were entered late, in words.
    fn late(&self) -> String {
        let late = record_facts::late(self.board.overview.history, self.person()).len();
        match late {
            0 => say!("board.no-fact-was"),
            more => say!("board.facts-were-entered", n = more),
        }
    }
}

/// Whether a competency has anything to show on paper.
fn shows(state: &State) -> bool {
    state.evidence.is_there() || !matches!(state.standing, Standing::Open | Standing::Waiting)
}

/// What stands for a note on paper: `a` to `z`, then numbers.
fn sign(place: usize) -> String {
    u8::try_from(place)
        .ok()
        .filter(|place| *place < 26)
        .map_or_else(|| (place + 1).to_string(), |place| char::from(b'a' + place).to_string())
}

/// The days of a standing.
fn when(state: &State) -> String {
    let held = state.held.iter().find_map(|held| match held {
        Held::Open { since, .. } => Some(say!("board.since", since = day(*since))),
        _ => None,
    });
    let signed_on = state.signed.as_ref().map(|signed| say!("board.signed", on = day(signed.on))).unwrap_or_default();
    match (state.standing, &state.signed) {
        (Standing::Held, _) if held.is_some() => held.unwrap_or_default() + &signed_on,
        (Standing::Signed | Standing::Lapsed | Standing::Held, Some(signed)) => {
            let until = signed.until.map(|until| say!("board.to-nbsp", until = day(until))).unwrap_or_default();
            format!("{}{until}", day(signed.on))
        }
        (Standing::Ready, _) => {
            state.ready_until().map(|until| say!("board.until", until = day(until))).unwrap_or_default()
        }
        _ => String::new(),
    }
}
