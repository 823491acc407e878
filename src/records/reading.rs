//! Reading facts out of the records, with or without a transaction around it.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use rusqlite::types::ValueRef;
use rusqlite::{Connection, OptionalExtension, Row};

use super::chain::{Break, Head, Link, Walk, hash_of};
use super::code::Code;
use super::digest::Digest;
use super::fact::{Fact, Role, Seq, Stored};
use super::history::History;
use super::rules::Rules;
use super::texts::digest_of;
use super::trouble::Trouble;

/// How many facts are handed on at a time, and how many such batches may wait.
const BATCH: usize = 1024;
const BATCHES_AHEAD: usize = 4;
/// How many rows are tried one after the other where the file is damaged.
const STEPS_OF_ONE: u32 = 256;
/// The power of two that steps over damage grow to.
const STEEPEST: u32 = 32;
const COLUMNS: &str = "SELECT seq, at, kind, body, prev, hash FROM fact";

/// The records, open for reading.
#[derive(Debug, Clone, Copy)]
pub struct Reading<'c>(pub(super) &'c Connection);

impl Reading<'_> {
    /// Calls `take` with every row from fact `from` on, in order.
    ///
    /// # Errors
    /// [`Trouble`] where the file cannot be read; the rows before were taken.
    pub fn each_link(&self, from: Seq, mut take: impl FnMut(Link)) -> Result<(), Trouble> {
        let mut statement = self.0.prepare(&format!("{COLUMNS} WHERE seq >= ?1 ORDER BY seq"))?;
        // Nothing may stand before the first fact: what does is read, and breaks the walk.
        let mut rows = statement.query([if from <= 1 { i64::MIN } else { number(from) }])?;
        while let Some(row) = rows.next()? {
            take(link(row)?);
        }
        Ok(())
    }

    /// The history as far as it can be read, its chain walked, and every row
    /// handed to `each` on the way. Damage is stepped over; what is missing
    /// because of it shows in [`History::breaks`], and the first trouble comes back.
    pub fn salvage(&self, zone: &TimeZone, mut each: impl FnMut(&Link)) -> (History, Option<Trouble>) {
        // The check of cells gives a whole page up for one of them. What is read here is hashed anyway.
        let _ = self.0.execute_batch("PRAGMA cell_size_check = OFF");
        let mut history = History::in_zone(zone);
        let mut walk = Walk::default();
        let (mut from, mut tries, mut first) = (1, 0, None);
        loop {
            let mut last = None;
            let read = self.each_link(from, |link| {
                last = Some(link.seq);
                if let Err(found) = walk.step(&link) {
                    history.breaks.push(found);
                }
                if let Some(stored) = take_in(&mut history, &link) {
                    history.add(stored);
                }
                each(&link);
            });
            let Err(trouble) = read else { break };
            // Someone who keeps writing is no damage to step over.
            let busy = matches!(trouble, Trouble::Usage(_));
            first = first.or(Some(trouble));
            tries = if last.is_some() { 0 } else { tries + 1 };
            // A damaged page holds a few dozen rows; behind it, longer and longer steps.
            let step = 1 << u32::saturating_sub(tries, STEPS_OF_ONE).min(STEEPEST);
            if busy || tries > STEPS_OF_ONE + STEEPEST {
                break;
            }
            from = last.map_or(from + step, |last| last + 1);
        }
        history.head = walk.head().clone();
        let first = first.or(self.fill_in_editions(&mut history).err());
        let _ = self.0.execute_batch("PRAGMA cell_size_check = ON");
        (history, first)
    }

    /// The whole history, its chain walked.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read. A chain that does not hold is
    /// no error here: see [`History::breaks`].
    pub fn history(&self, zone: &TimeZone) -> Result<History, Trouble> {
        let mut walk = Walk::default();
        let mut breaks = Vec::new();
        // Two cores share the work: one reads and verifies, the other folds what was read.
        let (read, mut history) = std::thread::scope(|scope| {
            let (batches, to_fold) = std::sync::mpsc::sync_channel::<Vec<Link>>(BATCHES_AHEAD);
            let folding = scope.spawn(move || fold(zone, to_fold));
            let mut batch = Vec::with_capacity(BATCH);
            let read = self.each_link(1, |link| {
                breaks.extend(walk.step(&link).err());
                batch.push(link);
                if batch.len() == BATCH {
                    // It fails only when the other side has panicked, which is told below.
                    let _ = batches.send(std::mem::replace(&mut batch, Vec::with_capacity(BATCH)));
                }
            });
            let _ = batches.send(batch);
            drop(batches);
            (read, folding.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
        });
        read?;
        breaks.append(&mut history.breaks);
        breaks.sort_by_key(|found| found.seq);
        history.breaks = breaks;
        history.head = walk.head().clone();
        self.fill_in_editions(&mut history)?;
        Ok(history)
    }

    /// The history of some people, with everything that is about nobody in
    /// particular: enough to judge one more fact about them. No chain is walked.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn history_of<'a>(
        &self,
        zone: &TimeZone,
        people: impl IntoIterator<Item = &'a Code>,
    ) -> Result<History, Trouble> {
        let mut links = self.general_links()?;
        for person in people {
            links.extend(self.links_of(person)?);
        }
        links.sort_by_key(|link| link.seq);
        let mut history = History::in_zone(zone);
        for link in &links {
            if hash_of(&link.prev, link.seq, &link.at, &link.kind, &link.body)[..] != link.hash[..] {
                history.breaks.push(Break { seq: link.seq, what: "its content is not what was entered".to_owned() });
            }
            if let Some(stored) = take_in(&mut history, link) {
                history.add(stored);
            }
        }
        history.head = self.head()?;
        self.fill_in_editions(&mut history)?;
        Ok(history)
    }

    /// The facts about one person.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn links_of(&self, person: &Code) -> Result<Vec<Link>, Trouble> {
        let mut statement = self.0.prepare_cached(&format!("{COLUMNS} WHERE json_extract(body, '$.person') = ?1"))?;
        let rows = statement.query_and_then([person.as_str()], link)?;
        let mut links = rows.collect::<Result<Vec<Link>, Trouble>>()?;
        links.sort_by_key(|link| link.seq);
        Ok(links)
    }

    /// The facts about nobody in particular.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn general_links(&self) -> Result<Vec<Link>, Trouble> {
        let mut statement =
            self.0.prepare_cached(&format!("{COLUMNS} WHERE json_extract(body, '$.person') IS NULL"))?;
        let rows = statement.query_and_then([], link)?;
        let mut links = rows.collect::<Result<Vec<Link>, Trouble>>()?;
        links.sort_by_key(|link| link.seq);
        Ok(links)
    }

    /// The codes of all people on record.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn codes(&self) -> Result<Vec<Code>, Trouble> {
        // One look into the index for each person, however many facts there are.
        let mut statement = self.0.prepare_cached(
            "WITH RECURSIVE own(code) AS (
               SELECT min(json_extract(body, '$.person')) FROM fact
               UNION ALL
               SELECT (SELECT min(json_extract(body, '$.person')) FROM fact WHERE json_extract(body, '$.person') > code)
               FROM own WHERE code IS NOT NULL
             ) SELECT code FROM own WHERE code IS NOT NULL",
        )?;
        let codes = statement.query_map([], |row| row.get::<_, String>(0))?;
        Ok(codes.filter_map(|code| Code::parse(&code.ok()?).ok()).collect())
    }

    /// The codes of everyone who was ever given a role.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn codes_with_role(&self, role: Role) -> Result<Vec<Code>, Trouble> {
        let mut statement = self.0.prepare_cached(
            "SELECT DISTINCT json_extract(body, '$.person') FROM fact
             WHERE kind = 'person' AND json_extract(body, '$.is.role') = ?1",
        )?;
        let codes = statement.query_map([role.word()], |row| row.get::<_, String>(0))?;
        Ok(codes.filter_map(|code| Code::parse(&code.ok()?).ok()).collect())
    }

    /// The end of the chain.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn head(&self) -> Result<Head, Trouble> {
        let last = self
            .0
            .query_row(&format!("{COLUMNS} ORDER BY seq DESC LIMIT 1"), [], |row| Ok(link(row)))
            .optional()?
            .transpose()?;
        Ok(last.map_or(Head::EMPTY, |link| Head { seq: link.seq, hash: link.hash.try_into().unwrap_or_default() }))
    }

    /// One fact as it lies there.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn link(&self, seq: Seq) -> Result<Option<Link>, Trouble> {
        let found =
            self.0.query_row(&format!("{COLUMNS} WHERE seq = ?1"), [number(seq)], |row| Ok(link(row))).optional()?;
        found.transpose()
    }

    /// The names on record, by their digest. A name that is not the one
    /// entered is left out.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn names(&self) -> Result<BTreeMap<Digest, String>, Trouble> {
        let mut statement = self.0.prepare("SELECT digest, salt, name FROM person_name")?;
        let rows = statement
            .query_map([], |row| Ok((row.get::<_, String>(0)?, row.get::<_, Vec<u8>>(1)?, row.get::<_, String>(2)?)))?;
        let mut names = BTreeMap::new();
        for row in rows {
            let (digest, salt, name) = row?;
            let own = digest_of(&salt, name.as_bytes());
            if own.as_str() == digest {
                names.insert(own, name);
            }
        }
        Ok(names)
    }

    /// All notes on record, by their digest. A note that is not the one entered is left out.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn notes(&self) -> Result<BTreeMap<Digest, String>, Trouble> {
        let mut statement = self.0.prepare("SELECT digest, salt, bytes FROM blob WHERE salt <> x''")?;
        let rows = statement.query_map([], |row| {
            Ok((row.get::<_, String>(0)?, row.get::<_, Vec<u8>>(1)?, row.get::<_, Vec<u8>>(2)?))
        })?;
        let mut notes = BTreeMap::new();
        for row in rows {
            let (digest, salt, bytes) = row?;
            let own = digest_of(&salt, &bytes);
            if let (true, Ok(note)) = (own.as_str() == digest, String::from_utf8(bytes)) {
                notes.insert(own, note);
            }
        }
        Ok(notes)
    }

    /// The name kept under a digest, if it is there and unaltered.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn name(&self, digest: &Digest) -> Result<Option<String>, Trouble> {
        let found = self
            .0
            .prepare_cached("SELECT salt, name FROM person_name WHERE digest = ?1")?
            .query_row([digest.as_str()], |row| Ok((row.get::<_, Vec<u8>>(0)?, row.get::<_, String>(1)?)))
            .optional()?;
        Ok(found.filter(|(salt, name)| digest_of(salt, name.as_bytes()) == *digest).map(|(_, name)| name))
    }

    /// Whose name is kept under a digest, whatever it is now.
    pub(super) fn owner_of_name(self, digest: &Digest) -> Result<Option<String>, Trouble> {
        let mut statement = self.0.prepare_cached("SELECT code FROM person_name WHERE digest = ?1")?;
        Ok(statement.query_row([digest.as_str()], |row| row.get(0)).optional()?)
    }

    /// What is kept under a digest: `None` if nothing is, an error text if it
    /// is not what was put there.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn kept(&self, digest: &Digest) -> Result<Option<Result<Vec<u8>, String>>, Trouble> {
        let found = self
            .0
            .prepare_cached("SELECT salt, bytes FROM blob WHERE digest = ?1")?
            .query_row([digest.as_str()], |row| Ok((row.get::<_, Vec<u8>>(0)?, row.get::<_, Vec<u8>>(1)?)))
            .optional()?;
        Ok(found.map(|(salt, bytes)| {
            if digest_of(&salt, &bytes) == *digest { Ok(bytes) } else { Err("it is not what was entered".to_owned()) }
        }))
    }

    /// A text kept under a digest, if it is there and unaltered.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn text(&self, digest: &Digest) -> Result<Option<String>, Trouble> {
        Ok(self.kept(digest)?.and_then(Result::ok).and_then(|bytes| String::from_utf8(bytes).ok()))
    }

    pub(super) fn fill_in_editions(self, history: &mut History) -> Result<(), Trouble> {
        for edition in &mut history.editions {
            edition.rules = self.text(&edition.digest)?.and_then(|text| Rules::read(&text).ok()).map(Into::into);
        }
        history.learn_lineage();
        Ok(())
    }
}

fn fold(zone: &TimeZone, batches: std::sync::mpsc::Receiver<Vec<Link>>) -> History {
    let mut history = History::in_zone(zone);
    for link in batches.into_iter().flatten() {
        if let Some(stored) = take_in(&mut history, &link) {
            history.add(stored);
        }
    }
    history
}

/// Reads a row; what cannot be read is noted as a break of its own.
pub(super) fn take_in(history: &mut History, link: &Link) -> Option<Stored> {
    let read =
        link.at.parse::<Timestamp>().map_err(|_| format!("its time `{}` cannot be read", link.at)).and_then(|at| {
            match Fact::read(&link.kind, &link.body) {
                Ok(fact) => Ok(Stored { seq: link.seq, at, fact }),
                Err(error) => Err(format!("its body cannot be read: {error}")),
            }
        });
    read.map_err(|what| history.breaks.push(Break { seq: link.seq, what })).ok()
}

/// A number as `SQLite` takes it.
pub(super) fn number(seq: Seq) -> i64 {
    i64::try_from(seq).unwrap_or(i64::MAX)
}

/// A row as it lies there. What is no text any more, after damage, is read as
/// well as it can be: its hash then tells that it is not what was entered.
fn link(row: &Row<'_>) -> Result<Link, Trouble> {
    let bytes = |column: usize| -> rusqlite::Result<&[u8]> {
        Ok(match row.get_ref(column)? {
            ValueRef::Text(bytes) | ValueRef::Blob(bytes) => bytes,
            _ => &[],
        })
    };
    let text = |column: usize| {
        let text = bytes(column).map(|bytes| String::from_utf8(bytes.to_vec()));
        text.map(|text| text.unwrap_or_else(|error| String::from_utf8_lossy(error.as_bytes()).into_owned()))
    };
    Ok(Link {
        seq: u64::try_from(row.get::<_, i64>(0)?).unwrap_or(0),
        at: text(1)?,
        kind: text(2)?,
        body: text(3)?,
        prev: bytes(4)?.to_vec(),
        hash: bytes(5)?.to_vec(),
    })
}
