//! The program's side: entries made to drafts, and its answers in the model's words.

use std::fs;

use gearside::programme::Programme;
use gearside::records::{
    Ask, Audit, Code, Correction, Derivation, Desk, Draft, Grant, History, Hold, HoldCause, Hours, Leave, MachineSalts,
    Mark, Matter, Observation, Outcome, PartMarked, Redaction, Refusal, Release, Request, Return, Role, Rules, Signoff,
    Sort, Store, Withdrawal, Wording, shift,
};
use jiff::Timestamp;
use jiff::civil::Date;
use tempfile::TempDir;

use crate::calendar::{self, Minute};
use crate::commands::Standing;
use crate::curriculum::Edition;
use crate::model::{Became, Entry, What};

/// A programme folder with its records.
pub(crate) struct Program {
    folder: TempDir,
    programme: Programme,
    rules: Rules,
    store: Store,
    /// What was read last: it is read again when there is more.
    history: History,
}

fn code(text: &str) -> Code {
    Code::parse(text).expect("a code")
}

fn timestamp(now: Minute) -> Timestamp {
    Timestamp::from_second(now * 60).expect("a time")
}

fn refused(refusal: Refusal) -> String {
    match refusal {
        Refusal::Trouble(trouble) => panic!("{trouble:?}"),
        Refusal::Faults(faults) => faults.0.first().expect("a fault").message.clone(),
    }
}

impl Program {
    pub(crate) fn new(edition: &Edition) -> Self {
        // Where there is a folder in memory, thousands of durable writes cost little.
        let memory = fs::metadata("/dev/shm").is_ok_and(|about| about.is_dir());
        let folder = if memory { tempfile::tempdir_in("/dev/shm") } else { tempfile::tempdir() };
        let folder = folder.expect("a folder");
        let programme = edition.load(folder.path());
        let store = Store::open_or_start(&folder.path().join("records.db")).expect("a store");
        Self { rules: Rules::of(&programme), folder, programme, store, history: History::default() }
    }

    pub(crate) fn take_edition(&mut self, edition: &Edition) {
        self.programme = edition.load(self.folder.path());
        self.rules = Rules::of(&self.programme);
    }

    pub(crate) fn record(&mut self, entries: &[Entry], now: Minute) -> Result<Vec<Became>, String> {
        let drafts = entries.iter().map(|entry| self.draft(entry)).collect::<Result<Vec<Draft>, String>>()?;
        let mut desk =
            Desk { programme: &self.programme, now: timestamp(now), salts: &mut MachineSalts, dry_run: false };
        let outcomes = desk.record(&mut self.store, drafts).map_err(refused)?;
        let became = |outcome: &Outcome| match outcome {
            Outcome::Recorded(seq) => Became::Recorded(*seq),
            Outcome::Already(seq) => Became::Already(*seq),
        };
        Ok(outcomes.iter().map(became).collect())
    }

    pub(crate) fn correct(&mut self, seq: u64, entry: &Entry, now: Minute) -> Result<Vec<Became>, String> {
        let draft = match entry.what {
            What::Nothing => {
                let matter = Matter::Correction(Correction { replaces: seq, kind: String::new(), instead: None });
                Self::draft_of(entry, matter)
            }
            _ => self.draft(entry)?,
        };
        let mut desk =
            Desk { programme: &self.programme, now: timestamp(now), salts: &mut MachineSalts, dry_run: false };
        match desk.correct(&mut self.store, seq, &|_| Ok(draft.clone())).map_err(refused)? {
            Outcome::Recorded(seq) => Ok(vec![Became::Recorded(seq)]),
            Outcome::Already(seq) => Ok(vec![Became::Already(seq)]),
        }
    }

    pub(crate) fn redact(&mut self, entry: &Entry, now: Minute) -> Result<Vec<Became>, String> {
        let draft = Self::draft_of(entry, Matter::Redaction(Redaction { digests: vec![] }));
        let mut desk =
            Desk { programme: &self.programme, now: timestamp(now), salts: &mut MachineSalts, dry_run: false };
        let (seq, _) = desk.redact(&mut self.store, &code(entry.person), draft).map_err(refused)?;
        Ok(vec![Became::Recorded(seq)])
    }

    fn draft_of(entry: &Entry, matter: Matter) -> Draft {
        Draft {
            person: Some(code(entry.person)),
            seen_by: code(entry.seen_by),
            seen_on: entry.seen_on,
            entered_by: code(entry.entered_by),
            paper: None,
            note: entry.reason.then(|| "It had to be".to_owned()),
            name: matches!(matter, Matter::Grant(_)).then(|| format!("Invented {}", entry.person)),
            from_is_open: false,
            matter,
            place: gearside::ground::Place::default(),
        }
    }

    fn draft(&self, entry: &Entry) -> Result<Draft, String> {
        let matter = match &entry.what {
            What::Role { role, from, until, stages } => Matter::Grant(Grant {
                role: *Role::ALL.iter().find(|one| one.word() == *role).expect("a role"),
                from: *from,
                until: *until,
                stages: stages.as_ref().map(|list| list.iter().map(|stage| (*stage).into()).collect()),
                class: None,
                name: None,
            }),
            What::Move { from, away: true } => Matter::Leave(Leave { from: *from }),
            What::Move { from, away: false } => Matter::Return(Return { from: *from }),
            What::Hours { .. } | What::Prior { .. } => Matter::Hours(self.hours(entry)?),
            What::Seen { competency, looks, job, aided } => Matter::Observation(Observation {
                competency: competency.as_str().into(),
                criteria: looks.clone(),
                press: "press 1".into(),
                job: (*job).into(),
                material: None,
                ink: None,
                aided: *aided,
            }),
            What::Mark { competency, quiz, docket, exercise, part, parts, tenths } => Matter::PartMarked(PartMarked {
                quiz: quiz.as_str().into(),
                docket: (*docket).into(),
                exercise: exercise.as_str().into(),
                competency: competency.as_str().into(),
                part: *part,
                parts: *parts,
                verdict: match (tenths, part) {
                    (10, 1) => Mark::Right,
                    (10, _) => Mark::Carried,
                    (0, _) => Mark::Blank,
                    _ => Mark::Wrong,
                },
                mark: f64::from(*tenths) / 10.0,
                turn: None,
            }),
            What::Ask { competency } => Matter::Request(Request { competency: competency.as_str().into() }),
            What::Sign { competency, acknowledged, despite } => Matter::Signoff(Signoff {
                competency: competency.as_str().into(),
                acknowledged_on: *acknowledged,
                rests_on: vec![],
                despite: despite.map(code),
            }),
            What::Unsign { competency, signoff } => {
                Matter::Withdrawal(Withdrawal { competency: competency.as_str().into(), signoff: *signoff })
            }
            What::Hold { competency, safety } => Matter::Hold(Hold {
                competency: competency.as_str().into(),
                cause: if *safety { HoldCause::SafetyOrder } else { HoldCause::Other },
                of: None,
            }),
            What::Release { competency, hold } => {
                Matter::Release(Release { competency: competency.as_str().into(), hold: *hold })
            }
            What::Nothing => return Err("nothing to record".to_owned()),
        };
        Ok(Self::draft_of(entry, matter))
    }

    fn hours(&self, entry: &Entry) -> Result<Hours, String> {
        let zone = &self.programme.about.time_zone;
        match &entry.what {
            What::Hours { instruction, line, start, end, supervisor } => {
                let read = shift(entry.seen_on, start, end, zone);
                let seconds = read.as_ref().ok().map(|(from, to)| (from.at.as_second() / 60, to.at.as_second() / 60));
                assert_eq!(seconds, calendar::shift(entry.seen_on, start, end), "{entry:?}: {read:?}");
                let (from, to) = read?;
                Ok(Hours {
                    sort: if *instruction { Sort::Instruction } else { Sort::OnTheJob },
                    line: line.as_str().into(),
                    minutes: u32::try_from((to.at.as_second() - from.at.as_second()) / 60).expect("minutes"),
                    start: Some(from.written),
                    end: Some(to.written),
                    supervisor: code(supervisor),
                })
            }
            What::Prior { line, minutes, supervisor } => Ok(Hours {
                sort: Sort::Prior,
                line: line.as_str().into(),
                minutes: *minutes,
                start: None,
                end: None,
                supervisor: code(supervisor),
            }),
            other => panic!("{other:?} are no hours"),
        }
    }

    /// Everyone stands in everything as the model says.
    pub(crate) fn compare(&mut self, stands: &[Standing], today: Date, told: &str) {
        let head = self.store.read().head().expect("a head");
        if head != self.history.head {
            self.history = self.store.read().history(&self.programme.about.time_zone).expect("a history");
        }
        let history = &self.history;
        assert!(history.breaks.is_empty() && history.head == head, "{:?}", history.breaks);
        let derivation = Derivation::new(history, &self.rules);
        let (title, name) = (|id: &str| format!("“{id}”"), |code: &Code| code.to_string());
        let words = Wording { title: &title, name: &name, today, edition: &self.programme.about.edition };
        for (person, competency, stand) in stands {
            let known = history.person(&code(person)).expect("a person");
            let state = derivation.state(known, competency, Ask::on(today)).expect("a state");
            let reason = words.reason(&state);
            assert!(reason.starts_with(stand.word) && reason.len() > stand.word.len() + 4, "{reason}");
            let signed = state.signed.as_ref().map(|signed| (signed.seq, signed.on, signed.until));
            let ours = (
                stand.word,
                stand.signed.map(|signed| (signed.seq, signed.on, signed.until)),
                stand.may_sign,
                stand.ready_until,
            );
            let theirs = (state.standing.word(), signed, state.may_sign, state.ready_until());
            assert_eq!(
                (theirs, state.evidence.observed.times, state.evidence.enough),
                (ours, stand.observed, stand.enough),
                "{person} in {competency} on {today}: program left, model right; {told}\n{state:#?}\n{}",
                self.tail()
            );
        }
    }

    /// The last facts, for a message.
    pub(crate) fn tail(&self) -> String {
        let mut lines = Vec::new();
        let read = self
            .store
            .read()
            .each_link(1, |link| lines.push(format!("{} {} {} {}", link.seq, link.at, link.kind, link.body)));
        read.expect("facts");
        lines[lines.len().saturating_sub(60)..].join("\n")
    }

    /// At the end the chain walks, and every sign-off held when it was made.
    pub(crate) fn audit(&self) {
        let audit = Audit::of(&self.store, &self.programme.about.time_zone, None).expect("an audit");
        assert!(audit.breaks.is_empty() && audit.texts.is_empty(), "{:?} {:?}", audit.breaks, audit.texts);
        assert!(audit.signoffs.len() >= 30, "only {} sign-offs", audit.signoffs.len());
        for one in &audit.signoffs {
            assert!(one.then.is_empty(), "{one:#?}\n{}", self.tail());
        }
    }
}
