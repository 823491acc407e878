//! Checking the whole record: the chain, what lies beside it, and every sign-off.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::chain::{Break, Head, Link, Walk};
use super::code::Code;
use super::digest::{Digest, hex};
use super::evidence::Ask;
use super::fact::{Fact, Grant, Matter, Role, Seq, Signoff, Stored, Word};
use super::history::{History, Kept, Person};
use super::rules::Rules;
use super::state::{Derivation, State};
use super::store::Store;
use super::trouble::Trouble;

/// A head that someone wrote down: `1234:3f9a…`, or the digits alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClaimedHead {
    /// The number of the last fact then.
    pub seq: Option<Seq>,
    /// The first digits of its hash.
    pub digits: String,
}

/// The fewest digits of a hash that prove anything.
const FEWEST_DIGITS: usize = 16;

impl ClaimedHead {
    /// Reads a head as pages print it; blanks between the digits do no harm.
    ///
    /// # Errors
    /// A sentence that says how a head is written.
    ///
    /// ```
    /// use gearside::records::ClaimedHead;
    /// let head = ClaimedHead::parse("head 1234:3F9A 12bc 0d5e 77a1").unwrap();
    /// assert_eq!((head.seq, head.digits.as_str()), (Some(1234), "3f9a12bc0d5e77a1"));
    /// assert!(ClaimedHead::parse("1234").is_err());
    /// ```
    pub fn parse(text: &str) -> Result<Self, String> {
        let text = text.trim().strip_prefix("head").unwrap_or(text);
        let text: String = text.chars().filter(|c| !c.is_whitespace()).collect::<String>().to_lowercase();
        let (seq, digits) = match text.split_once(':') {
            Some((seq, digits)) => (Some(seq.parse::<Seq>().map_err(|_| wrong_head())?), digits),
            None => (None, text.as_str()),
        };
        let fine = (FEWEST_DIGITS..=64).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_hexdigit());
        if fine { Ok(Self { seq, digits: digits.to_owned() }) } else { Err(wrong_head()) }
    }

    fn fits(&self, link: &Link) -> bool {
        self.seq.is_none_or(|seq| seq == link.seq) && hex(&link.hash).starts_with(&self.digits)
    }
}

fn wrong_head() -> String {
    "a head is written as on the printed pages: the number of the fact, a colon, and at least sixteen digits of its hash (0-9, a-f)".to_owned()
}

/// What became of a head that someone wrote down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum HeadCheck {
    /// The record goes on from it; so many facts came since.
    Holds(u64),
    /// The record ends before it: it was cut, or this is an old copy.
    Cut,
    /// There is such a fact, but with another hash: something up to it was rewritten.
    Rewritten,
    /// No fact has that hash: the record was rewritten, cut, or is another one.
    Unknown,
}

/// Something beside the chain that is not as it should be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextFinding {
    /// The fact that speaks of it.
    pub seq: Seq,
    /// What it is.
    pub what: &'static str,
    /// Whether it is there, but another.
    pub altered: bool,
}

/// A sign-off looked at again.
#[derive(Debug, Clone, PartialEq)]
pub struct SignoffFinding {
    /// The fact.
    pub seq: Seq,
    /// Whose it is.
    pub person: Code,
    /// The competency, as it was called then.
    pub competency: Word,
    /// The day.
    pub on: Date,
    /// Who signed.
    pub by: Code,
    /// The edition in force then.
    pub edition: String,
    /// Who stood by it where evidence was missing.
    pub despite: Option<Code>,
    /// Whether it was withdrawn since.
    pub withdrawn: bool,
    /// Why it did not hold as known then; nothing if it did.
    pub then: Vec<String>,
    /// Why it would not hold as known now.
    pub now: Vec<String>,
    /// What it rests on that has been corrected since.
    pub corrected: Vec<Seq>,
    /// The state as known then, for words.
    pub state: Option<Box<State>>,
}

/// What an audit found.
#[derive(Debug)]
pub struct Audit {
    /// The end of the chain.
    pub head: Head,
    /// Where it does not hold.
    pub breaks: Vec<Break>,
    /// Texts and names that are missing or altered without having been erased.
    pub texts: Vec<TextFinding>,
    /// How many texts and names were erased, as a fact says.
    pub erased: usize,
    /// Every sign-off.
    pub signoffs: Vec<SignoffFinding>,
    /// Facts entered while the clock stood before that of the fact before.
    pub clock_back: Vec<Seq>,
    /// Facts entered more than a week after they were seen.
    pub late: usize,
    /// What became of the head that was asked about.
    pub claimed: Option<HeadCheck>,
    /// The history as read.
    pub history: History,
}

impl Audit {
    /// Looks at everything.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read; it says what can still be.
    pub fn of(store: &Store, zone: &jiff::tz::TimeZone, claimed: Option<&ClaimedHead>) -> Result<Self, Trouble> {
        store.check_file()?;
        Self::of_sound_file(store, zone, claimed).map_err(|trouble| store.explain(trouble))
    }

    fn of_sound_file(store: &Store, zone: &jiff::tz::TimeZone, claimed: Option<&ClaimedHead>) -> Result<Self, Trouble> {
        let mut history = History::in_zone(zone);
        let mut walk = Walk::default();
        let mut spoken_of: Vec<Spoken> = Vec::new();
        let (mut clock_back, mut late) = (Vec::new(), 0);
        let (mut at_claimed, mut found) = (None, None);
        store.read().each_link(1, |link| {
            if let Err(found) = walk.step(&link) {
                history.breaks.push(found);
            }
            if let Some(claim) = claimed {
                at_claimed = at_claimed.or((claim.seq == Some(link.seq)).then(|| claim.fits(&link)));
                found = found.or(claim.fits(&link).then_some(link.seq));
            }
            let last = history.last_at;
            if let Some(stored) = super::reading::take_in(&mut history, &link) {
                if last.is_some_and(|last| stored.at < last) {
                    clock_back.push(stored.seq);
                }
                let entered = zone.to_datetime(stored.at).date();
                late += usize::from(super::fact::is_late(stored.fact.claim.seen_on, entered));
                spoken_of.extend(digests(&stored));
                history.add(stored);
            }
        })?;
        history.head = walk.head().clone();
        store.read().fill_in_editions(&mut history)?;
        let (texts, erased) = look_at_texts(store, &history, &spoken_of)?;
        let claimed = claimed.map(|claim| check_head(claim, &history.head, at_claimed, found));
        let signoffs = look_at_signoffs(&history);
        Ok(Self {
            head: history.head.clone(),
            breaks: history.breaks.clone(),
            texts,
            erased,
            signoffs,
            clock_back,
            late,
            claimed,
            history,
        })
    }

    /// Whether nothing was found that must be looked into.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.breaks.is_empty()
            && self.texts.is_empty()
            && self.claimed.as_ref().is_none_or(|check| matches!(check, HeadCheck::Holds(_)))
            && self.signoffs.iter().all(|one| one.then.is_empty() && (one.now.is_empty() || one.withdrawn))
    }
}

fn check_head(claim: &ClaimedHead, head: &Head, at_claimed: Option<bool>, found: Option<Seq>) -> HeadCheck {
    match (claim.seq, at_claimed, found) {
        (_, _, Some(seq)) => HeadCheck::Holds(head.seq - seq),
        (Some(_), Some(_), None) => HeadCheck::Rewritten,
        (Some(_), None, None) => HeadCheck::Cut,
        (None, _, None) => HeadCheck::Unknown,
    }
}

/// A digest that a fact speaks of.
struct Spoken {
    seq: Seq,
    what: &'static str,
    digest: Digest,
    /// Whose name it is, if it is one.
    name_of: Option<Code>,
}

/// The digests that a fact speaks of.
fn digests(stored: &Stored) -> Vec<Spoken> {
    let Stored { seq, fact: Fact { person, claim, matter }, .. } = stored;
    let spoken = |what, digest: &Digest| Spoken { seq: *seq, what, digest: digest.clone(), name_of: None };
    let mut list: Vec<Spoken> = claim.note.iter().map(|digest| spoken("note", digest)).collect();
    match matter {
        Matter::Grant(Grant { name: Some(digest), .. }) => {
            list.push(Spoken { name_of: person.clone(), ..spoken("name", digest) });
        }
        Matter::Correction(is) => {
            let instead = is.instead.as_ref();
            let name = instead.and_then(|instead| instead["is"]["name"].as_str()).and_then(Digest::parse);
            list.extend(name.map(|digest| Spoken { name_of: person.clone(), ..spoken("name", &digest) }));
        }
        Matter::Edition(is) => list.push(spoken("edition", &is.digest)),
        Matter::QuizIssued(is) => list.push(spoken(QUIZ, &is.snapshot)),
        _ => {}
    }
    list
}

/// What a quiz was made of and is marked by.
const QUIZ: &str = "quiz as issued";

/// The dockets and sources that the snapshot of a quiz speaks of.
fn look_into_quiz(store: &Store, seq: Seq, snapshot: &Digest) -> Result<Vec<TextFinding>, Trouble> {
    #[derive(serde::Deserialize)]
    struct Kept {
        kept: Digest,
    }
    #[derive(serde::Deserialize)]
    struct Speaks {
        #[serde(default)]
        dockets: Vec<Kept>,
        #[serde(default)]
        sources: BTreeMap<String, Digest>,
    }
    let text = store.read().text(snapshot)?;
    let Some(speaks) = text.and_then(|text| serde_json::from_str::<Speaks>(&text).ok()) else { return Ok(Vec::new()) };
    let dockets = speaks.dockets.iter().map(|docket| ("docket as issued", &docket.kept));
    let mut findings = Vec::new();
    for (what, digest) in dockets.chain(speaks.sources.values().map(|digest| ("source of a quiz", digest))) {
        let kept = store.read().kept(digest)?;
        if !kept.as_ref().is_some_and(Result::is_ok) {
            findings.push(TextFinding { seq, what, altered: kept.is_some() });
        }
    }
    Ok(findings)
}

fn look_at_texts(store: &Store, history: &History, spoken_of: &[Spoken]) -> Result<(Vec<TextFinding>, usize), Trouble> {
    let reading = store.read();
    let mut findings = Vec::new();
    let mut erased = 0;
    for Spoken { seq, what, digest, name_of } in spoken_of {
        if *what == QUIZ {
            findings.extend(look_into_quiz(store, *seq, digest)?);
        }
        let (there, sound) = if let Some(code) = name_of {
            let owner = reading.owner_of_name(digest)?;
            (owner.is_some(), owner.as_deref() == Some(code.as_str()) && reading.name(digest)?.is_some())
        } else {
            let kept = reading.kept(digest)?;
            (kept.is_some(), kept.is_some_and(|kept| kept.is_ok()))
        };
        if sound {
            continue;
        }
        if !there && history.erased.contains(digest) {
            erased += 1;
        } else {
            findings.push(TextFinding { seq: *seq, what, altered: there });
        }
    }
    Ok((findings, erased))
}

fn look_at_signoffs(history: &History) -> Vec<SignoffFinding> {
    let mut derivations: BTreeMap<Seq, (String, Derivation<'_>)> = BTreeMap::new();
    for edition in &history.editions {
        if let Some(rules) = edition.rules.as_deref() {
            derivations.insert(edition.seq, (edition.label.clone(), Derivation::new(history, rules)));
        }
    }
    let mut findings: Vec<SignoffFinding> = history
        .people
        .values()
        .flat_map(|person| {
            person.work.iter().flat_map(move |(name, work)| work.signoffs.iter().map(move |one| (person, name, one)))
        })
        .map(|(person, name, signoff)| {
            let in_force = derivations.range(..=signoff.seq).next_back().map(|(_, found)| found);
            look_at(history, person, name, signoff, in_force)
        })
        .collect();
    findings.sort_by_key(|finding| finding.seq);
    findings
}

fn look_at(
    history: &History,
    person: &Person,
    name: &Word,
    signoff: &Kept<Signoff>,
    in_force: Option<&(String, Derivation<'_>)>,
) -> SignoffFinding {
    let on = signoff.claim.seen_on;
    let names = history.lineage.names(name);
    let mut finding = SignoffFinding {
        seq: signoff.seq,
        person: person.code.clone(),
        competency: name.clone(),
        on,
        by: signoff.claim.seen_by.clone(),
        edition: in_force.map(|(label, _)| label.clone()).unwrap_or_default(),
        despite: signoff.is.despite.clone(),
        withdrawn: person.work.values().flat_map(|work| &work.withdrawals).any(|one| one.is.signoff == signoff.seq),
        then: Vec::new(),
        now: Vec::new(),
        corrected: person.gone_of(&names, &signoff.is.rests_on),
        state: None,
    };
    let Some((_, derivation)) = in_force else {
        finding.then.push("the edition in force then cannot be read".to_owned());
        return finding;
    };
    let before = signoff.seq - 1;
    let then = Ask { on, known_at: before, acts_to: before };
    let now = Ask { on, known_at: History::NOW, acts_to: before };
    for (ask, into) in [(then, &mut finding.then), (now, &mut finding.now)] {
        let state = derivation.state(person, name, ask);
        into.extend(doubts(history, person, signoff, derivation.rules(), state.as_ref(), ask));
        finding.state = finding.state.take().or(state.map(Box::new));
    }
    finding
}

/// Why a sign-off does not hold; nothing if it does.
fn doubts(
    history: &History,
    person: &Person,
    signoff: &Kept<Signoff>,
    rules: &Rules,
    state: Option<&State>,
    ask: Ask,
) -> Vec<String> {
    let mut doubts = Vec::new();
    let Some((state, rule)) = state.zip(rules.of_competency(&signoff.is.competency)) else {
        return vec!["the edition in force then has no such competency".to_owned()];
    };
    let signer = history.person(&signoff.claim.seen_by);
    if !signer.is_some_and(|signer| signer.may_sign(&rule.stage, ask.on, ask.known_at)) {
        doubts.push(format!("{} was not an assessor for the stage `{}` that day", signoff.claim.seen_by, rule.stage));
    }
    if signoff.claim.seen_by == person.code {
        doubts.push("the apprentice signed it".to_owned());
    }
    if person.grant(Role::Apprentice, ask.on, ask.known_at).is_none() {
        doubts.push(format!("{} was not an apprentice that day", person.code));
    }
    if ask.known_at == History::NOW {
        doubts.extend(observers(history, person, signoff, &rule.stage, ask));
    }
    if signoff.is.acknowledged_on < ask.on {
        doubts.push("it was acknowledged before it was signed".to_owned());
    }
    if !state.held.is_empty() {
        doubts.push("it was held".to_owned());
    }
    for need in &state.unsigned_needs {
        doubts.push(format!("`{need}`, which it needs, was not signed"));
    }
    let lacks = !(state.evidence.enough || state.frozen.is_some());
    match &signoff.is.despite {
        None if lacks => doubts.push("the evidence was not enough".to_owned()),
        None => {}
        Some(_) if rule.safety => doubts.push("a matter of safety was signed despite missing evidence".to_owned()),
        Some(_) if state.evidence.observed.times == 0 => doubts.push("nobody had observed it".to_owned()),
        Some(second) => {
            let may = history.person(second).is_some_and(|other| {
                [Role::Assessor, Role::Coordinator].iter().any(|role| other.is(*role, ask.on, ask.known_at))
            });
            if !may || second == &signoff.claim.seen_by || second == &person.code {
                doubts.push(format!("{second} could not stand by it"));
            }
        }
    }
    doubts
}

/// Observations it rests on whose observer could not sign that stage then.
fn observers(history: &History, person: &Person, signoff: &Kept<Signoff>, stage: &str, ask: Ask) -> Vec<String> {
    person
        .work
        .values()
        .flat_map(|work| &work.observations)
        .filter(|one| signoff.is.rests_on.contains(&one.seq) && one.counts(ask.known_at))
        .filter(|one| {
            let observer = history.person(&one.claim.seen_by);
            !observer.is_some_and(|observer| observer.may_sign(stage, one.claim.seen_on, ask.known_at))
        })
        .map(|one| {
            format!("fact {} was observed by {}, who was no assessor for it that day", one.seq, one.claim.seen_by)
        })
        .collect()
}
