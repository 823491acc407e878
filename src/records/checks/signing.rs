//! Requests, sign-offs, withdrawals, holds and releases.

use super::super::draft::Draft;
use super::super::evidence::Ask;
use super::super::fact::{Hold, HoldCause, Release, Request, Role, Seq, Signoff, Withdrawal};
use super::super::history::{History, Person};
use super::super::rules::Rule;
use super::super::state::{Held, Standing, State};
use super::super::words::Wording;
use super::{Judge, Verdict, refuse};
use crate::ground::Fault;

impl Judge<'_> {
    fn state(&self, person: &Person, competency: &str, draft: &Draft) -> Result<State, Fault> {
        self.competency(competency)?;
        let state = self.derivation().state(person, competency, Ask::on(draft.seen_on));
        state.ok_or_else(|| Fault::new("unknown-competency", format!("there is no competency `{competency}`"), ""))
    }

    /// The state in words, for a refusal.
    fn words(&self, state: &State, draft: &Draft) -> String {
        let title = |id: &str| {
            let known = self.programme.competencies().find(|one| one.id.as_str() == id);
            known.map_or_else(|| id.to_owned(), |one| one.title.clone())
        };
        let name = |code: &super::super::code::Code| code.to_string();
        let wording =
            Wording { title: &title, name: &name, today: draft.seen_on, edition: &self.programme.about.edition };
        wording.reason(state)
    }

    pub(super) fn has_reason(draft: &Draft, what: &str) -> Verdict {
        if draft.note.as_deref().is_some_and(|note| !note.trim().is_empty()) {
            return Ok(());
        }
        refuse("no-reason", format!("{what} needs a reason"), "say why with --why \"…\"")
    }

    /// Someone who may sign the stage, and is not the apprentice.
    fn signer(&self, person: &Person, rule: &Rule, draft: &Draft, what: &str) -> Verdict {
        let signer = self.someone(&draft.seen_by, what)?;
        if signer.code == person.code {
            return refuse("own-signer", "nobody signs for themselves", "name the assessor with --seen-by");
        }
        if !signer.may_sign(&rule.stage, draft.seen_on, History::NOW) {
            return refuse(
                "not-an-assessor",
                format!("{} is not an assessor for the stage `{}` on {}", draft.seen_by, rule.stage, draft.seen_on),
                "name the assessor with --seen-by, or look at the date",
            );
        }
        Ok(())
    }

    pub(super) fn request(&self, person: &Person, draft: &Draft, is: &Request) -> Verdict {
        let state = self.state(person, &is.competency, draft)?;
        self.nothing_since(person, draft, &is.competency)?;
        if state.may_sign {
            return Ok(());
        }
        refuse(
            "not-ready",
            format!("it is not ready on {}; {}", draft.seen_on, self.words(&state, draft)),
            "ask again when it is ready",
        )
    }

    /// Judges a sign-off and gives the facts it rests on.
    pub(super) fn signoff(&self, person: &Person, draft: &Draft, is: &Signoff) -> Result<Vec<Seq>, Fault> {
        let rule = self.competency(&is.competency)?;
        self.signer(person, rule, draft, "who signs")?;
        if is.acknowledged_on < draft.seen_on || is.acknowledged_on > self.today() {
            return refuse(
                "acknowledged",
                format!(
                    "the apprentice acknowledges on the day of signing or later, up to today; not on {}",
                    is.acknowledged_on
                ),
                "give the day the apprentice signed with --acknowledged",
            );
        }
        let state = self.state(person, &is.competency, draft)?;
        if let Some(signed) = &state.signed
            && state.standing == Standing::Signed
            && state.lapses_within(draft.seen_on).is_none()
        {
            return refuse(
                "already-signed",
                format!("it is signed already, on {} as fact {}", signed.on, signed.seq),
                "renew it when it is about to lapse, or withdraw it first",
            );
        }
        self.nothing_since(person, draft, &is.competency)?;
        let words = self.words(&state, draft);
        if !state.held.is_empty() {
            return refuse(
                "held",
                format!("it is {words}"),
                "it can be signed when the hold is released or the need is signed again",
            );
        }
        if !state.unsigned_needs.is_empty() {
            return refuse("needs", words, "sign the needs first; nothing can be signed despite them");
        }
        match &is.despite {
            None if state.may_sign => {}
            None => {
                return refuse(
                    "not-ready",
                    words,
                    "gather what is missing, or have a second person stand by it: --despite \"reason\" --second CODE",
                );
            }
            Some(_) if state.may_sign => {
                return refuse(
                    "despite",
                    "nothing is missing, so there is nothing to sign despite",
                    "leave --despite and --second out",
                );
            }
            Some(second) => self.despite(person, rule, draft, &state, second)?,
        }
        Ok(state.evidence.seqs())
    }

    /// A sign-off or a request of an earlier day does not pass by what has happened since.
    fn nothing_since(&self, person: &Person, draft: &Draft, competency: &str) -> Verdict {
        let today = self.today();
        let now = self.derivation().state(person, competency, Ask::on(today));
        let Some(now) = now.filter(|_| draft.seen_on < today) else { return Ok(()) };
        let held = now.held.iter().any(|held| matches!(held, Held::Open { .. }));
        if held || now.withdrawn.is_some_and(|(_, day)| day > draft.seen_on) {
            let what = if held { "held" } else { "withdrawn" };
            return refuse(
                "since",
                format!("it is dated {}, and has been {what} since", draft.seen_on),
                "look at what happened since; date it today when that is settled",
            );
        }
        Ok(())
    }

    fn despite(
        &self,
        person: &Person,
        rule: &Rule,
        draft: &Draft,
        state: &State,
        second: &super::super::code::Code,
    ) -> Verdict {
        if rule.safety {
            return refuse(
                "safety",
                format!("`{}` is a matter of safety: it is never signed despite missing evidence", rule.id),
                "gather what is missing",
            );
        }
        if state.evidence.observed.times == 0 {
            return refuse("not-observed", "nothing is signed that nobody has observed", "observe it first");
        }
        Self::has_reason(draft, "signing despite missing evidence")?;
        let other = self.someone(second, "who stands by it")?;
        let may = [Role::Assessor, Role::Coordinator].iter().any(|role| other.is(*role, draft.seen_on, History::NOW));
        if other.code == draft.seen_by || other.code == person.code || !may {
            return refuse(
                "second",
                format!(
                    "{second} cannot stand by it: it takes another assessor or coordinator than the signer and the apprentice"
                ),
                "name a second person with --second",
            );
        }
        Ok(())
    }

    pub(super) fn withdrawal(&self, person: &Person, draft: &Draft, is: &Withdrawal) -> Verdict {
        let rule = self.competency(&is.competency)?;
        Self::has_reason(draft, "a withdrawal")?;
        let state = self.state(person, &is.competency, draft)?;
        if is.signoff == 0 {
            return refuse(
                "nothing-signed",
                format!("there is no sign-off in force on {}", draft.seen_on),
                "look at the training record",
            );
        }
        if state.signed.as_ref().is_none_or(|signed| signed.seq != is.signoff) {
            return refuse(
                "nothing-signed",
                format!("there is no sign-off {} to withdraw on {}", is.signoff, draft.seen_on),
                "look at the training record",
            );
        }
        let by = self.someone(&draft.seen_by, "who withdraws it")?;
        if by.may_sign(&rule.stage, draft.seen_on, History::NOW)
            || by.is(Role::Coordinator, draft.seen_on, History::NOW)
        {
            return Ok(());
        }
        refuse(
            "not-an-assessor",
            format!(
                "{} may not withdraw it: it takes an assessor for the stage `{}` or a coordinator",
                draft.seen_by, rule.stage
            ),
            "name one with --seen-by",
        )
    }

    pub(super) fn hold(&self, draft: &Draft, is: &Hold) -> Verdict {
        self.competency(&is.competency)?;
        if is.cause == HoldCause::Other { Self::has_reason(draft, "a hold") } else { Ok(()) }
    }

    pub(super) fn release(&self, person: &Person, draft: &Draft, is: &Release) -> Verdict {
        let rule = self.competency(&is.competency)?;
        let names = self.derivation().names(&is.competency);
        let ask = Ask::on(draft.seen_on);
        if !super::super::state::open_holds(person, &names, ask).iter().any(|hold| hold.seq == is.hold) {
            return refuse(
                "no-hold",
                format!("there is no hold to release on {}", draft.seen_on),
                "look at the standing list",
            );
        }
        Self::has_reason(draft, "a release")?;
        self.signer(person, rule, draft, "who talked it through")
    }
}
