//! A small programme with records, for tests that look at the file.

#![allow(dead_code, reason = "each test uses its own part of it")]
#![allow(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

use std::fs;
use std::path::{Path, PathBuf};

use gearside::ground::Place;
use gearside::programme::{Origin, Programme, load_without_banks};
use gearside::records::{
    Audit, ClaimedHead, Code, Desk, Draft, Grant, Hours, Look, MachineSalts, Matter, Observation, Outcome, Redaction,
    Refusal, Role, Signoff, Sort, Store, shift,
};
use jiff::Timestamp;
use jiff::civil::{Date, date};
use tempfile::TempDir;

const PROGRAMME: &str = "title: Small\nedition: first\ntime_zone: Europe/Helsinki\nevents: [review]\n";
const STAGE: &str = "
stage: one
number: 1
title: One
competencies:
  - id: ink
    title: Ink
    lesson: Short.
    criteria: [{ says: Wears gloves, critical: true }, { says: Reads the ticket }]
    rests_on: { observed: { times: 2, days: 2, unaided: true }, hours: 3 }
  - id: cup
    title: Cup
    lesson: Short.
    criteria: [{ says: Fills it }]
    lapses_after: LAPSES
";

/// A programme folder.
pub(crate) struct Kept {
    folder: TempDir,
    pub(crate) programme: Programme,
    /// When the next fact is entered.
    pub(crate) now: Timestamp,
}

pub(crate) fn code(text: &str) -> Code {
    Code::parse(text).expect("a code")
}

/// The first day on record.
pub(crate) const FIRST: Date = date(2026, 9, 1);

impl Kept {
    pub(crate) fn new() -> Self {
        Self::lapsing("12 months")
    }

    /// Where a sign-off for `cup` lapses after that time.
    pub(crate) fn lapsing(lapses: &str) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        fs::create_dir(folder.path().join("curriculum")).expect("a folder");
        fs::write(folder.path().join("curriculum/programme.yaml"), PROGRAMME).expect("written");
        fs::write(folder.path().join("curriculum/01.yaml"), STAGE.replace("LAPSES", lapses)).expect("written");
        let loaded = load_without_banks(&Origin::Folder(folder.path().to_owned())).expect("it is read");
        assert!(!loaded.faults.any(), "{:?}", loaded.faults);
        let now = "2026-10-20T08:00:00Z".parse().expect("a time");
        Self { folder, programme: loaded.programme.expect("a programme"), now }
    }

    pub(crate) fn home(&self) -> &Path {
        self.folder.path()
    }

    pub(crate) fn path(&self) -> PathBuf {
        self.folder.path().join("records.db")
    }

    pub(crate) fn open(&self) -> Store {
        Store::open(&self.path()).expect("records")
    }

    pub(crate) fn audit(&self) -> Audit {
        self.audit_against(None)
    }

    pub(crate) fn audit_against(&self, head: Option<&str>) -> Audit {
        let claim = head.map(|head| ClaimedHead::parse(head).expect("a head"));
        Audit::of(&self.open(), &self.programme.about.time_zone, claim.as_ref()).expect("an audit")
    }

    pub(crate) fn record(&mut self, store: &mut Store, drafts: Vec<Draft>) -> Result<Vec<Outcome>, Refusal> {
        self.now += jiff::SignedDuration::from_secs(60);
        Desk { programme: &self.programme, now: self.now, salts: &mut MachineSalts, dry_run: false }
            .record(store, drafts)
    }

    pub(crate) fn redact(&mut self, store: &mut Store, person: &str) -> u64 {
        let draft = draft(person, "c-1", FIRST, Matter::Redaction(Redaction { digests: vec![] }));
        let draft = Draft { note: Some("asked for it".to_owned()), ..draft };
        let mut desk = Desk { programme: &self.programme, now: self.now, salts: &mut MachineSalts, dry_run: false };
        desk.redact(store, &code(person), draft).expect("redacted").0
    }

    /// Three people, hours, observations, a sign-off: facts 1 to 14.
    ///
    /// 1 edition · 2 c-1 · 3 s-1 · 4 a-1 · 5 a-2 · 6, 7 hours a-1 · 8, 9 observations of a-1 ·
    /// 10 sign-off a-1 · 11, 12 hours a-2 · 13 an observation of a-2 · 14 hours a-1
    pub(crate) fn story(&mut self) -> Store {
        let mut store = Store::open_or_start(&self.path()).expect("records");
        let person = |person: &str, role| {
            let grant = Grant { role, from: FIRST, until: None, stages: None, class: None, name: None };
            Draft { name: Some(format!("Invented {person}")), ..draft(person, "c-1", FIRST, Matter::Grant(grant)) }
        };
        let noted = |draft: Draft, note: &str| Draft { note: Some(note.to_owned()), ..draft };
        let day = |number: i8| date(2026, 10, number);
        let sign = Signoff { competency: "ink".into(), acknowledged_on: day(9), rests_on: vec![], despite: None };
        let batches = [
            vec![person("c-1", Role::Coordinator)],
            vec![person("s-1", Role::Assessor), person("a-1", Role::Apprentice), person("a-2", Role::Apprentice)],
            vec![noted(hours("a-1", day(5), "07:00", "09:00"), "Slow, and sound")],
            vec![hours("a-1", day(6), "07:00", "09:00")],
            vec![noted(seen("a-1", day(6)), "Well done"), seen("a-1", day(7))],
            vec![draft("a-1", "s-1", day(9), Matter::Signoff(sign))],
            vec![hours("a-2", day(5), "10:00", "11:00"), hours("a-2", day(6), "10:00", "11:00")],
            vec![noted(seen("a-2", day(7)), "Needs another go")],
            vec![hours("a-1", day(8), "07:00", "09:00")],
        ];
        for batch in batches {
            self.record(&mut store, batch).expect("recorded");
        }
        assert_eq!(store.read().head().expect("a head").seq, 14);
        store
    }
}

pub(crate) fn draft(person: &str, seen_by: &str, seen_on: Date, matter: Matter) -> Draft {
    Draft {
        person: Some(code(person)),
        seen_by: code(seen_by),
        seen_on,
        entered_by: code("c-1"),
        paper: None,
        note: None,
        name: None,
        from_is_open: false,
        matter,
        place: Place::default(),
    }
}

pub(crate) fn hours(person: &str, day: Date, start: &str, end: &str) -> Draft {
    let zone = jiff::tz::TimeZone::get("Europe/Helsinki").expect("a zone");
    let (from, to) = shift(day, start, end, &zone).expect("a shift");
    let hours = Hours {
        sort: Sort::OnTheJob,
        line: "ink".into(),
        minutes: u32::try_from((to.at.as_second() - from.at.as_second()) / 60).expect("minutes"),
        start: Some(from.written),
        end: Some(to.written),
        supervisor: code("s-1"),
    };
    draft(person, "s-1", day, Matter::Hours(hours))
}

pub(crate) fn seen(person: &str, day: Date) -> Draft {
    let observation = Observation {
        competency: "ink".into(),
        criteria: vec![Look::Seen, Look::Seen],
        press: "press 1".into(),
        job: "job 1".into(),
        material: None,
        ink: None,
        aided: false,
    };
    draft(person, "s-1", day, Matter::Observation(observation))
}
