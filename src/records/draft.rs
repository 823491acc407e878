//! Drafts: facts that someone wants on record.

use jiff::civil::Date;

use super::code::Code;
use super::digest::Digest;
use super::fact::{Grant, Hold, Matter, Role, Seq, Signoff, Word};
use super::history::{History, Instead, Kept, Move, Person, Spent, Work};
use crate::ground::Place;

/// A fact that someone wants on record.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// Whom it is about.
    pub person: Option<Code>,
    /// Who saw it.
    pub seen_by: Code,
    /// The day it was seen.
    pub seen_on: Date,
    /// Who enters it.
    pub entered_by: Code,
    /// The signed page.
    pub paper: Option<String>,
    /// A text said with it.
    pub note: Option<String>,
    /// The person's name, where a role is given.
    pub name: Option<String>,
    /// Whether the first day of a role was not said, so that an earlier grant of it will do.
    pub from_is_open: bool,
    /// What is said.
    pub matter: Matter,
    /// Where it was written, for a fault.
    pub place: Place,
}

impl Draft {
    /// Everyone it names.
    pub fn people(&self) -> impl Iterator<Item = &Code> {
        let more = match &self.matter {
            Matter::Hours(hours) => Some(&hours.supervisor),
            Matter::Signoff(signoff) => signoff.despite.as_ref(),
            _ => None,
        };
        [&self.seen_by, &self.entered_by].into_iter().chain(&self.person).chain(more)
    }

    /// The facts that count and already say the same, each with the note said
    /// with it: whether that is the same too, the records know.
    pub(super) fn like(&self, history: &History) -> Vec<Like> {
        let person = self.person.as_ref().and_then(|code| history.person(code));
        match &self.matter {
            Matter::Taught(is) => self.same(&history.taught, |one| one == is),
            Matter::Judged(is) => {
                self.same(&history.judged, |one| one.exercise == is.exercise && (one.expect - is.expect).abs() < 1e-12)
            }
            Matter::QuizIssued(is) => self.same(&history.quizzes, |one| one == is),
            Matter::QuizClosed(is) => self.same(&history.closed, |one| one == is),
            _ => person.map(|person| self.like_of(person)).unwrap_or_default(),
        }
    }

    fn like_of(&self, person: &Person) -> Vec<Like> {
        let nothing = Work::default();
        let work = |name: &Word| person.work.get(name).unwrap_or(&nothing);
        match &self.matter {
            Matter::Grant(is) => {
                let say_the_same = |one: &&Kept<Grant>| {
                    let mut other = one.is.clone();
                    other.name.clone_from(&is.name);
                    if self.from_is_open {
                        other.from = is.from;
                    }
                    one.gone.is_none() && other == *is
                };
                // Without a first day it is the role as it stands that counts, not one that was replaced since.
                let in_force = |one: &&Kept<Grant>| {
                    let known = person.grant(is.role, is.from, History::NOW);
                    !self.from_is_open || known.is_some_and(|known| known.seq == one.seq)
                };
                person.grants.iter().filter(in_force).filter(say_the_same).map(like).collect()
            }
            // Going away on a day is one thing, whoever says it and when.
            Matter::Leave(is) => moved(person, true, is.from),
            Matter::Return(is) => moved(person, false, is.from),
            Matter::Event(is) => self.same(&person.events, |one| one == is),
            Matter::ReturnTaken(is) => self.same(&person.returns, |one| one == is),
            Matter::Hours(is) => {
                let spent = Spent::of(is.clone());
                self.same(&work(&is.line).hours, |one| *one == spent)
            }
            Matter::Observation(is) => self.same(&work(&is.competency).observations, |one| one == is),
            Matter::Request(is) => self.same(&work(&is.competency).requests, |one| one == is),
            Matter::Signoff(is) => {
                let work = work(&is.competency);
                let stands = |one: &&Kept<Signoff>| !work.withdrawals.iter().any(|other| other.is.signoff == one.seq);
                self.same(work.signoffs.iter().filter(stands), |one| {
                    one.acknowledged_on == is.acknowledged_on && one.despite == is.despite
                })
            }
            Matter::Withdrawal(is) => self.same(&work(&is.competency).withdrawals, |one| one == is),
            Matter::Hold(is) => {
                let work = work(&is.competency);
                let stands = |one: &&Kept<Hold>| !work.releases.iter().any(|other| other.is.hold == one.seq);
                self.same(work.holds.iter().filter(stands), |one| one == is)
            }
            Matter::Release(is) => self.same(&work(&is.competency).releases, |one| one == is),
            Matter::PartMarked(is) => {
                let found = work(&is.competency).marks.iter().filter(|one| {
                    one.gone.is_none()
                        && (&one.is.quiz, &one.is.docket, &one.is.exercise, one.is.part)
                            == (&is.quiz, &is.docket, &is.exercise, is.part)
                        && one.is.verdict == is.verdict
                        && (one.is.mark - is.mark).abs() < 1e-12
                });
                found.map(like).collect()
            }
            _ => Vec::new(),
        }
    }

    /// Those of a list that the same person saw on the same day, and that say the same.
    fn same<'k, T: 'k>(&self, list: impl IntoIterator<Item = &'k Kept<T>>, is_same: impl Fn(&T) -> bool) -> Vec<Like> {
        let counts = |one: &&'k Kept<T>| {
            one.gone.is_none()
                && one.claim.seen_on == self.seen_on
                && one.claim.seen_by == self.seen_by
                && one.claim.paper == self.paper
                && is_same(&one.is)
        };
        list.into_iter().filter(counts).map(like).collect()
    }

    /// What this draft would put in the place of a fact it corrects.
    #[must_use]
    pub fn as_instead(&self) -> Instead {
        Instead {
            claim: super::fact::Claim {
                seen_by: self.seen_by.clone(),
                seen_on: self.seen_on,
                entered_by: self.entered_by.clone(),
                paper: self.paper.clone(),
                note: None,
            },
            matter: self.matter.clone(),
        }
    }

    /// Whether it starts the records: the first coordinator enters herself.
    #[must_use]
    pub(super) fn starts_the_records(&self) -> bool {
        let own = self.person.as_ref();
        matches!(&self.matter, Matter::Grant(grant) if grant.role == Role::Coordinator)
            && own == Some(&self.entered_by)
            && own == Some(&self.seen_by)
    }
}

/// The move of a day that counts.
fn moved(person: &Person, away: bool, from: Date) -> Vec<Like> {
    person.moves.iter().filter(|one| one.gone.is_none() && one.is == Move { from, away }).map(like).collect()
}

/// A fact that says the same, and the digest of the note said with it.
pub(super) type Like = (Seq, Option<Digest>);

fn like<T>(kept: &Kept<T>) -> Like {
    (kept.seq, kept.claim.note.clone())
}
