//! Putting facts on record: one transaction, all or nothing.

use jiff::Timestamp;
use rusqlite::{Transaction, TransactionBehavior, params};

use super::chain::{Head, hash_of};
use super::code::Code;
use super::digest::Digest;
use super::fact::{Fact, Seq};
use super::lock::{self, Noted};
use super::reading::{Reading, number};
use super::store::Store;
use super::texts::{Salts, digest_of};
use super::trouble::Trouble;

/// A transaction that facts are written in. Dropped without
/// [`Writer::commit`], it leaves nothing behind.
#[derive(Debug)]
pub struct Writer<'s> {
    transaction: Transaction<'s>,
    head: Head,
    _noted: Noted,
}

impl Store {
    /// Begins to write: from here to the end of the writer nobody else can.
    ///
    /// # Errors
    /// [`Trouble`] if someone else keeps writing for five seconds (and who).
    pub fn write(&mut self) -> Result<Writer<'_>, Trouble> {
        let path = self.path.clone();
        let begun = self.connection.transaction_with_behavior(TransactionBehavior::Immediate);
        let transaction = begun.map_err(|error| lock::say_who(error.into(), &path).at(&path))?;
        let noted = Noted::leave(&path).map_err(|trouble| trouble.at(&path))?;
        let head = Reading(&transaction).head()?;
        Ok(Writer { transaction, head, _noted: noted })
    }
}

impl Writer<'_> {
    /// Reads out of the records as they are within this transaction.
    #[must_use]
    pub fn read(&self) -> Reading<'_> {
        Reading(&self.transaction)
    }

    /// Adds a fact behind the last one.
    ///
    /// # Errors
    /// [`Trouble`] if the machine fails; then nothing of this transaction stays.
    pub fn append(&mut self, at: Timestamp, fact: &Fact) -> Result<Seq, Trouble> {
        let (seq, kind, body) = (self.head.seq + 1, fact.matter.kind(), fact.body());
        let at = at.strftime("%Y-%m-%dT%H:%M:%SZ").to_string();
        let hash = hash_of(&self.head.hash, seq, &at, kind, &body);
        self.transaction
            .prepare_cached("INSERT INTO fact(seq, at, kind, body, prev, hash) VALUES (?1, ?2, ?3, ?4, ?5, ?6)")?
            .execute(params![number(seq), at, kind, body, self.head.hash, hash])?;
        self.head = Head { seq, hash };
        Ok(seq)
    }

    /// Keeps a text that may be erased one day; its digest stands in a fact.
    ///
    /// # Errors
    /// [`Trouble`] if the machine fails.
    pub fn keep_text(&mut self, text: &str, salts: &mut dyn Salts) -> Result<Digest, Trouble> {
        self.keep(&salts.next(), text.as_bytes())
    }

    /// Keeps bytes that are never erased: what an edition or a quiz was made of.
    ///
    /// # Errors
    /// [`Trouble`] if the machine fails.
    pub fn keep_for_good(&mut self, bytes: &[u8]) -> Result<Digest, Trouble> {
        self.keep(&[], bytes)
    }

    fn keep(&mut self, salt: &[u8], bytes: &[u8]) -> Result<Digest, Trouble> {
        let digest = digest_of(salt, bytes);
        self.transaction
            .prepare_cached("INSERT INTO blob(digest, salt, bytes) VALUES (?1, ?2, ?3) ON CONFLICT DO NOTHING")?
            .execute(params![digest.as_str(), salt, bytes])?;
        Ok(digest)
    }

    /// Keeps a person's name; its digest stands in a fact.
    ///
    /// # Errors
    /// [`Trouble`] if the machine fails.
    pub fn keep_name(&mut self, code: &Code, name: &str, salts: &mut dyn Salts) -> Result<Digest, Trouble> {
        let salt = salts.next();
        let digest = digest_of(&salt, name.as_bytes());
        self.transaction
            .prepare_cached("INSERT INTO person_name(digest, code, salt, name) VALUES (?1, ?2, ?3, ?4)")?
            .execute(params![digest.as_str(), code.as_str(), salt, name])?;
        Ok(digest)
    }

    /// Erases texts and names for good.
    ///
    /// # Errors
    /// [`Trouble`] if the machine fails.
    pub fn erase(&mut self, digests: &[Digest]) -> Result<(), Trouble> {
        for digest in digests {
            self.transaction.execute("DELETE FROM blob WHERE digest = ?1 AND salt <> x''", [digest.as_str()])?;
            self.transaction.execute("DELETE FROM person_name WHERE digest = ?1", [digest.as_str()])?;
        }
        Ok(())
    }

    /// Makes everything written durable. From then on it is on record.
    ///
    /// # Errors
    /// [`Trouble`] if the machine fails; then nothing of this transaction stays.
    pub fn commit(self) -> Result<Head, Trouble> {
        self.transaction.commit()?;
        Ok(self.head)
    }
}
