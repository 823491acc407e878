//! Who enters the story: through the desk, at the time of each day, so that
//! all rules hold.

use jiff::Timestamp;
use jiff::civil::Date;

use super::chance::SetSalts;
use crate::ground::Fault;
use crate::programme::Programme;
use crate::records::{
    Code, Correction, Desk, Draft, Fact, Head, Matter, Outcome, Refusal, Salts, Seq, Store, Trouble, Writer,
};

/// The records as they grow.
#[derive(Debug)]
pub(super) struct Clerk {
    pub(super) store: Store,
    salts: SetSalts,
}

impl Clerk {
    pub(super) fn new(store: Store) -> Self {
        Self { store, salts: SetSalts::new() }
    }

    fn desk<'d>(salts: &'d mut SetSalts, programme: &'d Programme, now: Timestamp) -> Desk<'d> {
        Desk { programme, now, salts, dry_run: false }
    }

    /// Enters a batch, and gives the number of each fact.
    pub(super) fn enter(
        &mut self,
        programme: &Programme,
        now: Timestamp,
        drafts: Vec<Draft>,
    ) -> Result<Vec<Seq>, Refusal> {
        if drafts.is_empty() {
            return Ok(Vec::new());
        }
        let outcomes = Self::desk(&mut self.salts, programme, now).record(&mut self.store, drafts)?;
        Ok(outcomes.into_iter().map(|(Outcome::Recorded(seq) | Outcome::Already(seq))| seq).collect())
    }

    /// Corrects a fact, or strikes it out if `change` gives nothing.
    pub(super) fn correct(
        &mut self,
        programme: &Programme,
        now: Timestamp,
        seq: Seq,
        by: &Code,
        why: &str,
        change: impl Fn(&Matter) -> Option<Matter>,
    ) -> Result<(), Refusal> {
        let make = |old: &Fact| {
            let struck =
                || Matter::Correction(Correction { replaces: seq, kind: old.matter.kind().to_owned(), instead: None });
            let matter = change(&old.matter).unwrap_or_else(struck);
            let mut draft = draft(&old.claim.seen_by, old.claim.seen_on, by, matter);
            draft.person.clone_from(&old.person);
            draft.paper.clone_from(&old.claim.paper);
            draft.note = Some(why.to_owned());
            Ok::<_, Fault>(draft)
        };
        Self::desk(&mut self.salts, programme, now).correct(&mut self.store, seq, &make).map(drop)
    }

    /// Enters facts that speak of texts or bytes kept with them.
    pub(super) fn enter_with(
        &mut self,
        programme: &Programme,
        now: Timestamp,
        fill: impl FnOnce(&mut Writer<'_>, &mut dyn Salts) -> Result<Vec<Draft>, Refusal>,
    ) -> Result<(), Refusal> {
        Self::desk(&mut self.salts, programme, now).record_with(&mut self.store, fill).map(drop)
    }

    pub(super) fn head(&self) -> Result<Head, Trouble> {
        self.store.read().head()
    }
}

/// A draft about nobody in particular.
pub(super) fn draft(seen_by: &Code, seen_on: Date, entered_by: &Code, matter: Matter) -> Draft {
    Draft {
        person: None,
        seen_by: seen_by.clone(),
        seen_on,
        entered_by: entered_by.clone(),
        paper: None,
        note: None,
        name: None,
        from_is_open: false,
        matter,
        place: crate::ground::Place::default(),
    }
}

/// A draft about a person.
pub(super) fn about(person: &Code, seen_by: &Code, seen_on: Date, entered_by: &Code, matter: Matter) -> Draft {
    Draft { person: Some(person.clone()), ..draft(seen_by, seen_on, entered_by, matter) }
}
