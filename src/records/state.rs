//! How an apprentice stands in each competency, derived from the facts.

use jiff::Span;
use jiff::civil::Date;

use super::code::Code;
use super::evidence::{Ask, Evidence, Scales, Since, default_basis};
use super::fact::{Hold, HoldCause, Seq, Signoff, Word};
use super::history::{History, Kept, Person};
use super::rules::{Lineage, Rule, Rules};

/// How many days a request keeps `ready` as it is.
pub const FROZEN_DAYS: i64 = 30;
/// How many days before it lapses a sign-off is warned of.
pub const WARNING_DAYS: i32 = 60;

/// Where someone stands in a competency.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Something it needs is unsigned.
    Waiting,
    /// Evidence is being gathered.
    Open,
    /// The evidence is there: it can be signed.
    Ready,
    /// Signed off.
    Signed,
    /// Signed off, and no longer valid.
    Lapsed,
    /// Held until someone has looked at it.
    Held,
}

impl Standing {
    /// All of them.
    pub const ALL: [Self; 6] = [Self::Waiting, Self::Open, Self::Ready, Self::Signed, Self::Lapsed, Self::Held];

    /// The standing in one word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Waiting => "waiting",
            Self::Open => "open",
            Self::Ready => "ready",
            Self::Signed => "signed",
            Self::Lapsed => "lapsed",
            Self::Held => "held",
        }
    }
}

/// A sign-off that was not withdrawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Signed {
    /// The fact.
    pub seq: Seq,
    /// The day.
    pub on: Date,
    /// Who signed.
    pub by: Code,
    /// The day on which the apprentice acknowledged it.
    pub acknowledged_on: Date,
    /// The last day on which it is valid.
    pub until: Option<Date>,
    /// The label of the edition in force then.
    pub edition: Option<String>,
    /// Who stood by it where evidence was missing.
    pub despite: Option<Code>,
    /// The name the competency had then.
    pub name: Word,
    /// Whether it was entered late.
    pub late: bool,
}

/// Why a competency is held.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Held {
    /// A hold that nobody has released.
    Open {
        /// The fact.
        seq: Seq,
        /// Since when.
        since: Date,
        /// Why.
        cause: HoldCause,
    },
    /// A need whose sign-off was withdrawn.
    NeedWithdrawn(Word),
    /// A need whose sign-off has lapsed.
    NeedLapsed(Word),
    /// A need that is signed, and held itself.
    NeedHeld(Word),
}

/// Where someone stands in a competency, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// Where.
    pub standing: Standing,
    /// The sign-off, if there is one that was not withdrawn.
    pub signed: Option<Signed>,
    /// When the last sign-off was withdrawn, if none followed.
    pub withdrawn: Option<(Seq, Date)>,
    /// Why it is held.
    pub held: Vec<Held>,
    /// Needs that are not signed.
    pub unsigned_needs: Vec<Word>,
    /// The evidence: for a first sign-off, or for the renewal of one.
    pub evidence: Evidence,
    /// The request that keeps it ready, and until when.
    pub frozen: Option<(Seq, Date)>,
    /// Whether it can be signed now, by someone who may.
    pub may_sign: bool,
}

impl State {
    /// The last day on which it is ready.
    #[must_use]
    pub fn ready_until(&self) -> Option<Date> {
        match (self.evidence.enough, self.evidence.until, self.frozen) {
            (true, None, _) => None,
            (true, Some(until), Some((_, frozen))) => Some(until.max(frozen)),
            (true, until, None) => until,
            (false, _, frozen) => frozen.map(|(_, until)| until),
        }
    }

    /// How many days it is still valid, if it lapses within the warning time.
    #[must_use]
    pub fn lapses_within(&self, day: Date) -> Option<i32> {
        let until = self.signed.as_ref()?.until?;
        let left = day.until(until).ok()?.get_days();
        (self.standing == Standing::Signed && left <= WARNING_DAYS).then_some(left)
    }

    /// The last day on which anything happened that bears on it.
    #[must_use]
    pub fn is_renewal(&self) -> bool {
        self.signed.is_some()
    }
}

/// Derives states from a history under the rules of an edition.
#[derive(Debug)]
pub struct Derivation<'a> {
    history: &'a History,
    rules: &'a Rules,
    lineage: Lineage,
}

/// What became of a need.
enum Need {
    Signed,
    Unsigned,
    Withdrawn,
    Lapsed,
    Held,
}

impl<'a> Derivation<'a> {
    /// Under these rules.
    #[must_use]
    pub fn new(history: &'a History, rules: &'a Rules) -> Self {
        let mut lineage = history.lineage.clone();
        lineage.add(rules);
        Self { history, rules, lineage }
    }

    /// The rules.
    #[must_use]
    pub fn rules(&self) -> &'a Rules {
        self.rules
    }

    /// All names of a competency.
    #[must_use]
    pub fn names(&self, competency: &str) -> Vec<Word> {
        self.lineage.names(competency)
    }

    /// Where a person stands in a competency; `None` if the rules know no such competency.
    #[must_use]
    pub fn state(&self, person: &Person, competency: &str, ask: Ask) -> Option<State> {
        let rule = self.rules.of_competency(competency)?;
        let names = self.names(competency);
        let scales =
            Scales { history: self.history, person, names: &names, rule, pass_mark: self.rules.pass_mark, ask };
        let signed = self.signed(person, &names, ask);
        let withdrawn = if signed.is_some() { None } else { withdrawn(person, &names, ask) };
        let rests_on = rule.rests_on.clone().unwrap_or_else(default_basis);
        let (basis, since) = match (&signed, withdrawn) {
            (Some(signed), _) => {
                (rule.renewed_by.clone().unwrap_or(rests_on), Since { after: Some(signed.on), behind: None })
            }
            (None, Some(withdrawn)) => (rests_on, Since { after: None, behind: Some(withdrawn) }),
            (None, None) => (rests_on, Since::default()),
        };
        let evidence = scales.weigh(&basis, since);
        let frozen = frozen(&scales, &basis, since);
        let needs = self.needs(person, rule, signed.as_ref(), ask);
        let held = held(person, &names, &needs, ask);
        let unsigned_needs: Vec<Word> =
            needs.iter().filter(|(_, need)| !matches!(need, Need::Signed)).map(|(name, _)| name.clone()).collect();
        let may_sign = held.is_empty() && unsigned_needs.is_empty() && (evidence.enough || frozen.is_some());
        let standing = match &signed {
            _ if !held.is_empty() => Standing::Held,
            Some(signed) if signed.until.is_some_and(|until| ask.on > until) => Standing::Lapsed,
            Some(_) => Standing::Signed,
            None if !unsigned_needs.is_empty() => Standing::Waiting,
            None if may_sign => Standing::Ready,
            None => Standing::Open,
        };
        Some(State { standing, signed, withdrawn, held, unsigned_needs, evidence, frozen, may_sign })
    }

    /// The latest sign-off that was not withdrawn.
    fn signed(&self, person: &Person, names: &[Word], ask: Ask) -> Option<Signed> {
        let (kept, name) = latest_signoff(person, names, ask)?;
        if withdrawal_of(person, names, kept.seq, ask).is_some() {
            return None;
        }
        let edition = self.history.edition_at(kept.seq);
        let rules = edition.and_then(|edition| edition.rules.as_deref()).unwrap_or(self.rules);
        let rule = rules.of_competency(&name).or_else(|| rules.of_any(names));
        let months = rule.and_then(|rule| rule.lapses_after);
        Some(Signed {
            seq: kept.seq,
            on: kept.claim.seen_on,
            by: kept.claim.seen_by.clone(),
            acknowledged_on: kept.is.acknowledged_on,
            until: months.and_then(|months| {
                kept.claim.seen_on.checked_add(Span::new().try_months(i64::from(months)).ok()?).ok()
            }),
            edition: edition.map(|edition| edition.label.clone()),
            despite: kept.is.despite.clone(),
            name: name.clone(),
            late: self.history.is_late(kept),
        })
    }

    /// The needs of a competency and what became of each. A signed one is
    /// measured by the needs of its own edition: a new edition un-signs nobody.
    fn needs(&self, person: &Person, rule: &Rule, signed: Option<&Signed>, ask: Ask) -> Vec<(Word, Need)> {
        let then = signed.and_then(|signed| {
            let rules = self.history.edition_at(signed.seq)?.rules.as_deref()?;
            Some(&rules.of_competency(&signed.name)?.needs)
        });
        let needs = then.unwrap_or(&rule.needs);
        needs.iter().map(|need| (need.clone(), self.need(person, need, signed.is_some(), ask))).collect()
    }

    fn need(&self, person: &Person, need: &Word, for_signed: bool, ask: Ask) -> Need {
        // A need of an older edition may have another name now: whoever was called that answers for it.
        let mut names = self.names(need);
        names.extend(self.lineage.heirs(need));
        match self.signed(person, &names, ask) {
            Some(signed) if signed.until.is_some_and(|until| ask.on > until) => Need::Lapsed,
            Some(_) if !open_holds(person, &names, ask).is_empty() => Need::Held,
            Some(_) => Need::Signed,
            None if withdrawn(person, &names, ask).is_some() => Need::Withdrawn,
            // What was never signed held nothing up when this was signed, and does not now.
            None if for_signed => Need::Signed,
            None => Need::Unsigned,
        }
    }
}

fn latest_signoff<'a>(person: &'a Person, names: &[Word], ask: Ask) -> Option<(&'a Kept<Signoff>, Word)> {
    names
        .iter()
        .filter_map(|name| person.work.get(name).map(|work| (name, work)))
        .flat_map(|(name, work)| work.signoffs.iter().map(move |one| (one, name.clone())))
        .filter(|(one, _)| ask.has_act(one))
        .max_by_key(|(one, _)| (one.claim.seen_on, one.seq))
}

fn withdrawal_of(person: &Person, names: &[Word], signoff: Seq, ask: Ask) -> Option<(Seq, Date)> {
    person
        .work_in(names)
        .flat_map(|work| &work.withdrawals)
        .find(|one| one.is.signoff == signoff && ask.has_act(one))
        .map(|one| (one.seq, one.claim.seen_on))
}

/// The withdrawal of the last sign-off, if it was withdrawn.
fn withdrawn(person: &Person, names: &[Word], ask: Ask) -> Option<(Seq, Date)> {
    let (last, _) = latest_signoff(person, names, ask)?;
    withdrawal_of(person, names, last.seq, ask)
}

/// Holds that nobody has released.
pub(super) fn open_holds<'a>(person: &'a Person, names: &'a [Word], ask: Ask) -> Vec<&'a Kept<Hold>> {
    let released = |hold: Seq| {
        person.work_in(names).flat_map(|work| &work.releases).any(|one| one.is.hold == hold && ask.has_act(one))
    };
    person.work_in(names).flat_map(|work| &work.holds).filter(|one| ask.has_act(one) && !released(one.seq)).collect()
}

fn held(person: &Person, names: &[Word], needs: &[(Word, Need)], ask: Ask) -> Vec<Held> {
    let mut held: Vec<Held> = open_holds(person, names, ask)
        .into_iter()
        .map(|hold| Held::Open { seq: hold.seq, since: hold.claim.seen_on, cause: hold.is.cause })
        .collect();
    for (name, need) in needs {
        match need {
            Need::Withdrawn => held.push(Held::NeedWithdrawn(name.clone())),
            Need::Lapsed => held.push(Held::NeedLapsed(name.clone())),
            Need::Held => held.push(Held::NeedHeld(name.clone())),
            Need::Signed | Need::Unsigned => {}
        }
    }
    held
}

/// The request that keeps `ready` as it was on the day of asking.
fn frozen(scales: &Scales<'_>, basis: &crate::programme::RestsOn, since: Since) -> Option<(Seq, Date)> {
    let ask = scales.ask;
    let mut requests: Vec<_> = scales
        .person
        .work_in(scales.names)
        .flat_map(|work| &work.requests)
        .filter(|one| ask.has_act(one) && since.lets(one))
        .collect();
    requests.sort_by_key(|one| (one.claim.seen_on, one.seq));
    // One that was made while an earlier one kept it ready does not undo that one.
    requests.iter().rev().find_map(|request| {
        let until = request.claim.seen_on.checked_add(Span::new().days(FROZEN_DAYS)).ok()?;
        let then = Scales { ask: Ask { on: request.claim.seen_on, ..ask }, ..*scales };
        (ask.on <= until && then.weigh(basis, since).enough).then_some((request.seq, until))
    })
}
