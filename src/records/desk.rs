//! The desk: where drafts become facts, all of a batch or none.

use std::collections::BTreeSet;

use jiff::Timestamp;

use super::checks::Judge;
use super::code::Code;
use super::digest::Digest;
use super::draft::Draft;
use super::fact::{Claim, Correction, Edition, Fact, Matter, Redaction, Role, Seq, Stored};
use super::history::{History, Instead};
use super::rules::Rules;
use super::store::Store;
use super::texts::Salts;
use super::trouble::Trouble;
use super::writer::Writer;
use crate::ground::{Fault, Faults};
use crate::programme::Programme;

/// What became of a draft.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// It is on record as this fact.
    Recorded(Seq),
    /// The same was on record already, as this fact.
    Already(Seq),
}

/// Why nothing was recorded.
#[derive(Debug)]
pub enum Refusal {
    /// The records cannot be used.
    Trouble(Trouble),
    /// Drafts are at fault: all of them, in order.
    Faults(Faults),
}

impl From<Trouble> for Refusal {
    fn from(trouble: Trouble) -> Self {
        Self::Trouble(trouble)
    }
}

impl From<Fault> for Refusal {
    fn from(fault: Fault) -> Self {
        Self::Faults(Faults(vec![fault]))
    }
}

/// Puts drafts on record.
pub struct Desk<'a> {
    /// The programme: its rules are in force for what is recorded now.
    pub programme: &'a Programme,
    /// Now.
    pub now: Timestamp,
    /// Where salts come from.
    pub salts: &'a mut dyn Salts,
    /// Whether drafts are only looked at.
    pub dry_run: bool,
}

impl std::fmt::Debug for Desk<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Desk").field("now", &self.now).field("dry_run", &self.dry_run).finish_non_exhaustive()
    }
}

impl Desk<'_> {
    /// Records a batch: all of it, or nothing. What is on record already is
    /// passed over, so that a batch can be given again.
    ///
    /// # Errors
    /// [`Refusal`] with every fault of the batch.
    pub fn record(&mut self, store: &mut Store, drafts: Vec<Draft>) -> Result<Vec<Outcome>, Refusal> {
        self.record_with(store, |_, _| Ok(drafts))
    }

    /// Records a batch whose facts speak of texts or bytes that are kept with
    /// it: `fill` keeps them and gives the drafts. All of it, or nothing.
    ///
    /// # Errors
    /// [`Refusal`] with every fault of the batch, or what `fill` says.
    pub fn record_with(
        &mut self,
        store: &mut Store,
        fill: impl FnOnce(&mut Writer<'_>, &mut dyn Salts) -> Result<Vec<Draft>, Refusal>,
    ) -> Result<Vec<Outcome>, Refusal> {
        let mut writer = store.write()?;
        let drafts = fill(&mut writer, self.salts)?;
        let people: BTreeSet<Code> = drafts.iter().flat_map(Draft::people).cloned().collect();
        let mut history = self.history(&writer, &people)?;
        let rules = Rules::of(self.programme);
        let mut faults = Faults::default();
        let mut outcomes = Vec::new();
        if let Some(first) = drafts.first() {
            self.open_edition(&mut writer, &mut history, &rules, first)?;
        }
        let is_alone = drafts.len() == 1;
        for mut draft in drafts {
            if let Some(seq) = Self::is_on_record(&writer, &history, &draft, is_alone)? {
                outcomes.push(Outcome::Already(seq));
                continue;
            }
            let judge = self.judge(&history, &rules);
            match judge.judge(&mut draft) {
                Ok(()) => {
                    let place = draft.place.clone();
                    outcomes.push(Outcome::Recorded(self.put(&mut writer, &mut history, draft)?));
                    let judge = self.judge(&history, &rules);
                    if let Err(fault) = judge.somebody_remains() {
                        faults.push(fault.at(place));
                    }
                }
                Err(fault) => faults.push(fault.at(draft.place)),
            }
        }
        let is_news = outcomes.iter().any(|outcome| matches!(outcome, Outcome::Recorded(_)));
        if !is_news && !faults.any() {
            // Not even a new edition: the first fact under it puts it on record.
            return Ok(outcomes);
        }
        self.close(writer, faults).map(|()| outcomes)
    }

    /// Corrects a fact: `instead` counts in its place, or nothing does.
    ///
    /// # Errors
    /// [`Refusal`] if there is no such fact, it cannot be corrected, was
    /// corrected already, or what should count instead is at fault.
    pub fn correct(&mut self, store: &mut Store, seq: Seq, change: Change<'_>) -> Result<Outcome, Refusal> {
        let mut writer = store.write()?;
        let Some(link) = writer.read().link(seq)? else {
            return Err(Fault::new(
                "no-fact",
                format!("there is no fact {seq}"),
                "the training record shows the numbers of facts",
            )
            .into());
        };
        let old = Fact::read(&link.kind, &link.body).map_err(|error| {
            Fault::new("damaged", format!("fact {seq} cannot be read: {error}"), "run `gearside audit`")
        })?;
        let (kind, old) = corrected(seq, &link.kind, old)?;
        if !CORRECTABLE.contains(&kind.as_str()) {
            return Err(cannot_be_corrected(seq, &kind).into());
        }
        let draft = (change)(&old)?;
        has_reason(&draft, "a correction")?;
        if draft.person != old.person {
            let mend = "strike it out, and enter it for the other";
            return Err(Fault::new("other-person", "a correction stays with its person", mend).into());
        }
        let people: BTreeSet<Code> = draft.people().cloned().chain(old.person.clone()).collect();
        let mut history = self.history(&writer, &people)?;
        let rules = Rules::of(self.programme);
        self.open_edition(&mut writer, &mut history, &rules, &draft)?;
        if let Some(later) = replaced_by(&writer, old.person.as_ref(), seq)? {
            let message = format!("fact {seq} was corrected already, by fact {later}");
            return Err(Fault::new(
                "corrected-already",
                message,
                format!("correct that one: `gearside record correct {later} …`"),
            )
            .into());
        }
        let mut matter = Correction { replaces: seq, kind: kind.clone(), instead: None };
        // The old fact is gone first, so that what stands in for it is not measured against it.
        let claim = |writer: &mut Writer<'_>, salts: &mut dyn Salts| -> Result<Claim, Trouble> {
            Ok(Claim {
                seen_by: draft.entered_by.clone(),
                seen_on: history.zone.to_datetime(self.now).date(),
                entered_by: draft.entered_by.clone(),
                paper: None,
                note: draft.note.as_deref().map(|note| writer.keep_text(note, salts)).transpose()?,
            })
        };
        let claim = claim(&mut writer, self.salts)?;
        let gone = Fact { person: old.person.clone(), claim, matter: Matter::Correction(matter.clone()) };
        let next = writer.read().head()?.seq + 1;
        let mut without = history.clone();
        without.add(Stored { seq: next, at: self.now, fact: gone.clone() });
        if kind == "person" {
            self.judge(&history, &rules).is_coordinator(&draft.entered_by)?;
        }
        let strikes_out = matches!(&draft.matter, Matter::Correction(_));
        let mut checked = draft.clone();
        // Who enters it is measured by how things stand; what is entered, by how they would stand.
        self.judge(&history, &rules).may_enter(&draft)?;
        self.judge(&without, &rules).judge_matter(&mut checked).map_err(|fault| fault.at(draft.place.clone()))?;
        if !strikes_out {
            let mut instead = checked.as_instead();
            instead.claim.note.clone_from(&old.claim.note);
            if let (Matter::Grant(new), Matter::Grant(was), Some(code)) =
                (&mut instead.matter, &old.matter, &old.person)
            {
                new.name = match draft.name.as_deref().filter(|name| !name.trim().is_empty()) {
                    Some(name) => Some(writer.keep_name(code, name, self.salts)?),
                    None => was.name.clone(),
                };
            }
            without.add_instead(next, self.now, old.person.clone(), instead.clone());
            matter.instead = Some(instead.to_json());
        }
        self.judge(&without, &rules).somebody_remains()?;
        let fact = Fact { matter: Matter::Correction(matter), ..gone };
        let seq = writer.append(self.now, &fact)?;
        self.close(writer, Faults::default()).map(|()| Outcome::Recorded(seq))
    }

    /// Erases a person's names and texts for good; the chain still walks.
    ///
    /// # Errors
    /// [`Refusal`] if the person is not known or who asks may not.
    pub fn redact(&mut self, store: &mut Store, person: &Code, draft: Draft) -> Result<(Seq, usize), Refusal> {
        has_reason(&draft, "erasing")?;
        let mut writer = store.write()?;
        let people: BTreeSet<Code> = draft.people().cloned().chain([person.clone()]).collect();
        let mut history = self.history(&writer, &people)?;
        let rules = Rules::of(self.programme);
        self.open_edition(&mut writer, &mut history, &rules, &draft)?;
        let mut draft = draft;
        let judge = self.judge(&history, &rules);
        judge.judge(&mut draft)?;
        let mut digests = Vec::new();
        for link in writer.read().links_of(person)? {
            let Ok(fact) = Fact::read(&link.kind, &link.body) else { continue };
            match fact.matter {
                // Why something was erased stays: it is said of the erasing, not of the person.
                Matter::Redaction(_) => continue,
                Matter::Grant(grant) => digests.extend(grant.name),
                Matter::ReturnTaken(is) => digests.push(is.digest),
                Matter::Correction(is) => {
                    let name = is.instead.as_ref().and_then(|instead| instead["is"]["name"].as_str());
                    digests.extend(name.and_then(Digest::parse));
                }
                _ => {}
            }
            digests.extend(fact.claim.note);
        }
        digests.retain(|digest| !history.erased.contains(digest));
        digests.sort();
        digests.dedup();
        writer.erase(&digests)?;
        let count = digests.len();
        draft.matter = Matter::Redaction(Redaction { digests });
        let seq = self.put(&mut writer, &mut history, draft)?;
        self.close(writer, Faults::default())?;
        if !self.dry_run {
            // What was deleted may still stand in pages that are no longer used: the file is written anew.
            store.compact()?;
        }
        Ok((seq, count))
    }

    fn judge<'j>(&'j self, history: &'j History, rules: &'j Rules) -> Judge<'j> {
        Judge { history, programme: self.programme, rules, now: self.now }
    }

    fn history(&self, writer: &Writer<'_>, people: &BTreeSet<Code>) -> Result<History, Trouble> {
        // Who keeps the records is always known: somebody must remain who does.
        let mut people = people.clone();
        people.extend(writer.read().codes_with_role(Role::Coordinator)?);
        let mut history = writer.read().history_of(&self.programme.about.time_zone, &people)?;
        if let Some(found) = history.breaks.first() {
            return Err(Trouble::content(
                "chain",
                format!("the record is not what was entered: fact {}: {}", found.seq, found.what),
                "run `gearside audit`; nothing is added to such a record",
            ));
        }
        // Their codes alone: for near names, and to keep two codes apart that differ in capitals only.
        history.note_codes(writer.read().codes()?);
        Ok(history)
    }

    /// The first fact under an edition that is not in force yet is preceded by it.
    fn open_edition(
        &mut self,
        writer: &mut Writer<'_>,
        history: &mut History,
        rules: &Rules,
        draft: &Draft,
    ) -> Result<(), Refusal> {
        let digest = rules.digest();
        if history.editions.last().is_some_and(|last| last.digest == digest) {
            return Ok(());
        }
        let label = self.programme.about.edition.clone();
        if let Some(other) = history.editions.iter().find(|one| one.label == label && one.digest != digest) {
            let message = format!(
                "the curriculum was changed, but is still called edition `{label}`, as it was from fact {} on",
                other.seq
            );
            let mend =
                "give `edition:` in curriculum/programme.yaml a new label, so that sign-offs can tell the two apart";
            return Err(Fault::new("edition", message, mend).into());
        }
        writer.keep_for_good(rules.canonical().as_bytes())?;
        let seen_on = history.zone.to_datetime(self.now).date();
        let who = &draft.entered_by;
        let claim = Claim { seen_by: who.clone(), seen_on, entered_by: who.clone(), paper: None, note: None };
        let fact = Fact { person: None, claim, matter: Matter::Edition(Edition { label, digest }) };
        let seq = writer.append(self.now, &fact)?;
        history.add(Stored { seq, at: self.now, fact });
        history.set_rules(rules.clone());
        Ok(())
    }

    /// The fact that says the same already, note and name included.
    fn is_on_record(
        writer: &Writer<'_>,
        history: &History,
        draft: &Draft,
        is_alone: bool,
    ) -> Result<Option<Seq>, Trouble> {
        let own = draft.note.as_deref().filter(|note| !note.trim().is_empty());
        let mut found = None;
        for (seq, note) in draft.like(history) {
            let kept = note.as_ref().map(|digest| writer.read().text(digest)).transpose()?;
            let is_same = match kept {
                None => own.is_none(),
                Some(None) => true, // erased: nothing tells them apart any more
                Some(Some(kept)) => own == Some(kept.as_str()),
            };
            found = found.or(is_same.then_some(seq));
        }
        let (Some(seq), Some(name), Some(code)) = (found, &draft.name, &draft.person) else { return Ok(found) };
        // The same role under another name is news. A name that was erased does not come back with a file.
        let digest = history.person(code).and_then(|person| person.name_digest());
        let was_erased = digest.is_some_and(|digest| history.erased.contains(digest));
        let known = digest.map(|digest| writer.read().name(digest)).transpose()?.flatten();
        Ok((known.as_ref() == Some(name) || (was_erased && !is_alone)).then_some(seq))
    }

    /// Makes a judged draft a fact.
    fn put(&mut self, writer: &mut Writer<'_>, history: &mut History, draft: Draft) -> Result<Seq, Trouble> {
        let mut matter = draft.matter;
        if let (Matter::Grant(grant), Some(name), Some(code)) = (&mut matter, &draft.name, &draft.person) {
            grant.name = Some(writer.keep_name(code, name, self.salts)?);
        }
        let note = draft.note.as_deref().filter(|note| !note.trim().is_empty());
        let note = note.map(|note| writer.keep_text(note, self.salts)).transpose()?;
        let claim = Claim {
            seen_by: draft.seen_by,
            seen_on: draft.seen_on,
            entered_by: draft.entered_by,
            paper: draft.paper,
            note,
        };
        let fact = Fact { person: draft.person, claim, matter };
        let seq = writer.append(self.now, &fact)?;
        history.add(Stored { seq, at: self.now, fact });
        Ok(seq)
    }

    fn close(&self, writer: Writer<'_>, faults: Faults) -> Result<(), Refusal> {
        if faults.any() {
            return Err(Refusal::Faults(faults));
        }
        if !self.dry_run {
            writer.commit()?;
        }
        Ok(())
    }
}

fn has_reason(draft: &Draft, what: &str) -> Result<(), Fault> {
    if draft.note.as_deref().is_some_and(|note| !note.trim().is_empty()) {
        return Ok(());
    }
    Err(Fault::new("no-reason", format!("{what} needs a reason"), "say why with --why \"…\""))
}

/// Makes of the old fact what should count instead (or a [`Matter::Correction`], to strike it out).
pub type Change<'c> = &'c dyn Fn(&Fact) -> Result<Draft, Fault>;

/// Kinds of fact that a correction can stand in for.
const CORRECTABLE: &[&str] =
    &["person", "leave", "return", "taught", "hours", "observation", "request", "event", "judged"];

/// What a fact says that is looked at for correction: of a correction, what it put in.
fn corrected(seq: Seq, kind: &str, fact: Fact) -> Result<(String, Fact), Fault> {
    let Matter::Correction(correction) = &fact.matter else { return Ok((kind.to_owned(), fact)) };
    let instead = correction.instead.clone().and_then(|json| Instead::read(&correction.kind, json, &fact.claim));
    match instead {
        Some(instead) => Ok((
            correction.kind.clone(),
            Fact { person: fact.person.clone(), claim: instead.claim, matter: instead.matter },
        )),
        None => Err(Fault::new(
            "struck-out",
            format!("fact {seq} strikes fact {} out, so there is nothing in it to correct", correction.replaces),
            "enter what happened as a new fact",
        )),
    }
}

fn cannot_be_corrected(seq: Seq, kind: &str) -> Fault {
    let mend = match kind {
        "signoff" => "withdraw it: `gearside record withdraw …`",
        "hold" => "release it: `gearside record release …`",
        "part-marked" | "mark-corrected" => "override the mark: `gearside record correct FACT mark=0.5 --why …`",
        _ => "such a fact stays as it is",
    };
    Fault::new("not-correctable", format!("fact {seq} is of the kind `{kind}`, which is not corrected"), mend)
}

/// The correction that already stands in for a fact.
fn replaced_by(writer: &Writer<'_>, person: Option<&Code>, seq: Seq) -> Result<Option<Seq>, Trouble> {
    let links = match person {
        Some(person) => writer.read().links_of(person)?,
        None => writer.read().general_links()?,
    };
    Ok(links.iter().filter(|link| link.kind == "correction").find_map(|link| {
        match Fact::read(&link.kind, &link.body).ok()?.matter {
            Matter::Correction(is) if is.replaces == seq => Some(link.seq),
            _ => None,
        }
    }))
}
