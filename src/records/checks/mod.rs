//! What may go on record: each draft is judged against everything known.

mod quizzes;
mod signing;
mod work;

use jiff::Timestamp;
use jiff::civil::Date;

use super::code::Code;
use super::draft::Draft;
use super::fact::{Event, Grant, Judged, Matter, Role, Taught};
use super::history::{History, Person};
use super::rules::{Rule, Rules};
use super::state::Derivation;
use crate::ground::{Fault, nearest_name};
use crate::programme::Programme;

/// The earliest day that a record speaks of: typing slips in years are older.
const FIRST_DAY: Date = Date::constant(1970, 1, 1);

/// Judges drafts.
#[derive(Debug, Clone, Copy)]
pub(super) struct Judge<'a> {
    pub(super) history: &'a History,
    pub(super) programme: &'a Programme,
    pub(super) rules: &'a Rules,
    pub(super) now: Timestamp,
}

/// The longest name of a class, press, job or material.
const LONGEST_NAME: usize = 60;
/// The longest name of a person, and of a paper.
const LONGEST_PERSON: usize = 120;
const LONGEST_PAPER: usize = 120;

type Verdict = Result<(), Fault>;

fn refuse<T>(kind: &'static str, message: impl Into<String>, mend: impl Into<String>) -> Result<T, Fault> {
    Err(Fault::new(kind, message, mend))
}

fn no_coordinator() -> Fault {
    Fault::new(
        "no-coordinator",
        "nobody is on record yet",
        "begin with the coordinator, entered by the same code: `gearside record person CODE --role coordinator --entered-by CODE --name \"…\"`",
    )
}

/// A short text on one line, without what turns the direction of writing.
fn short(what: &str, text: Option<&str>, most: usize) -> Verdict {
    let turns = |c: char| matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let Some(text) = text else { return Ok(()) };
    if text.chars().count() > most || text.chars().any(|c| c.is_control() || turns(c)) {
        let message = format!("the {what} is a text of at most {most} characters on one line");
        return refuse("text", message, "shorten it; what is longer belongs into --note");
    }
    Ok(())
}

impl<'a> Judge<'a> {
    /// Judges a draft and fills in what it rests on.
    ///
    /// # Errors
    /// A fault that says why it cannot go on record, and the mend.
    pub(super) fn judge(&self, draft: &mut Draft) -> Verdict {
        if self.history.people.is_empty() {
            return self.start(draft);
        }
        self.may_enter(draft)?;
        self.judge_matter(draft)
    }

    /// The first fact: a coordinator, from today at the latest.
    fn start(&self, draft: &Draft) -> Verdict {
        let Matter::Grant(is) = &draft.matter else { return Err(no_coordinator()) };
        if !draft.starts_the_records() {
            return Err(no_coordinator());
        }
        let today = self.today();
        if is.from > today || is.until.is_some_and(|until| until < today) {
            return refuse(
                "dates",
                "whoever starts the records keeps them from today at the latest",
                "leave --from and --until out, or give days that today lies between",
            );
        }
        self.when(draft).and_then(|()| self.grant(draft, is))
    }

    /// Judges what a draft says, whoever enters it, and fills in what it rests on.
    pub(super) fn judge_matter(&self, draft: &mut Draft) -> Verdict {
        self.when(draft)?;
        short("paper", draft.paper.as_deref(), LONGEST_PAPER)?;
        let person = self.about(draft)?;
        match &draft.matter {
            Matter::Grant(is) => self.grant(draft, is),
            Matter::Leave(is) => Self::leave(person, is.from),
            Matter::Return(is) => Self::come_back(person, is.from),
            Matter::Taught(is) => self.taught(is),
            Matter::Event(is) => Self::known(person).and_then(|_| self.event(is)),
            Matter::Judged(is) => self.judged(draft, is),
            Matter::Hours(is) => self.hours(Self::apprentice(person, draft)?, draft, is),
            Matter::Observation(is) => self.observation(Self::apprentice(person, draft)?, draft, is),
            Matter::Request(is) => self.request(Self::apprentice(person, draft)?, draft, is),
            Matter::Signoff(is) => {
                let rests_on = self.signoff(Self::apprentice(person, draft)?, draft, is)?;
                if let Matter::Signoff(is) = &mut draft.matter {
                    is.rests_on = rests_on;
                }
                Ok(())
            }
            Matter::Withdrawal(is) => self.withdrawal(Self::known(person)?, draft, is),
            Matter::Hold(is) => {
                self.hold(draft, is)?;
                let of = self.cause_of_hold(Self::known(person)?, is)?;
                if let Matter::Hold(is) = &mut draft.matter {
                    is.of = of;
                }
                Ok(())
            }
            Matter::Release(is) => self.release(Self::known(person)?, draft, is),
            Matter::QuizIssued(is) => self.quiz_issued(&is.quiz),
            Matter::ReturnTaken(is) => Self::known(person).and_then(|_| self.return_taken(&is.quiz)),
            Matter::PartMarked(is) => Self::known(person).and_then(|_| self.part_marked(is)),
            Matter::MarkCorrected(is) => Self::mark_corrected(Self::known(person)?, draft, is),
            Matter::QuizClosed(is) => self.quiz_closed(&is.quiz),
            // These are made by the desk itself, out of facts that were judged.
            Matter::Edition(_) | Matter::Correction(_) | Matter::Redaction(_) => Ok(()),
        }
    }

    fn today(&self) -> Date {
        self.history.zone.to_datetime(self.now).date()
    }

    fn derivation(&self) -> Derivation<'a> {
        Derivation::new(self.history, self.rules)
    }

    /// Someone on record.
    fn someone(&self, code: &Code, what: &str) -> Result<&'a Person, Fault> {
        if let Some(person) = self.history.person(code).filter(|person| !person.grants.is_empty()) {
            return Ok(person);
        }
        let known: Vec<&str> = self.history.people.keys().map(Code::as_str).collect();
        let mend = match nearest_name(code.as_str(), known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("enter them first: `gearside record person {code} --role …`"),
        };
        refuse("unknown-person", format!("nobody with the code `{code}` is on record ({what})"), mend)
    }

    /// Who says so, and whether whoever enters it may.
    pub(super) fn may_enter(&self, draft: &Draft) -> Verdict {
        let enters = self.someone(&draft.entered_by, "who enters it")?;
        let today = self.today();
        let has = |role| enters.is(role, today, History::NOW);
        let roles: &[Role] = match &draft.matter {
            Matter::Grant(_) | Matter::Redaction(_) => &[Role::Coordinator],
            _ => &[Role::Coordinator, Role::Instructor, Role::Assessor],
        };
        if !roles.iter().any(|role| has(*role)) {
            let words: Vec<&str> = roles.iter().map(|role| role.word()).collect();
            return refuse(
                "may-not-enter",
                format!("{} may not enter this: it takes the role {} on {today}", draft.entered_by, words.join(" or ")),
                "let someone with that role enter it, with --entered-by",
            );
        }
        if draft.person.as_ref() != Some(&draft.seen_by) || !matches!(draft.matter, Matter::Grant(_)) {
            self.someone(&draft.seen_by, "who saw it")?;
        }
        Ok(())
    }

    fn when(&self, draft: &Draft) -> Verdict {
        let today = self.today();
        if draft.seen_on > today {
            return refuse(
                "future",
                format!("{} is still to come: today is {today}", draft.seen_on),
                "enter it when it has happened; if today's date is wrong, set this machine's clock",
            );
        }
        if draft.seen_on < FIRST_DAY {
            return refuse("too-early", format!("{} is too long ago", draft.seen_on), "look at the year again");
        }
        Ok(())
    }

    /// The person a draft is about, if it is about one.
    fn about(&self, draft: &Draft) -> Result<Option<&'a Person>, Fault> {
        let Some(code) = &draft.person else { return Ok(None) };
        if matches!(draft.matter, Matter::Grant(_)) {
            return Ok(self.history.person(code));
        }
        self.someone(code, "whom it is about").map(Some)
    }

    fn known(person: Option<&Person>) -> Result<&Person, Fault> {
        person.ok_or_else(|| Fault::new("no-person", "it is about nobody", "name a person by code"))
    }

    fn leave(person: Option<&Person>, from: Date) -> Verdict {
        let person = Self::known(person)?;
        if Role::ALL.iter().any(|role| person.grant(*role, from, History::NOW).is_some()) {
            return Ok(());
        }
        refuse("dates", format!("{} has no role yet on {from}", person.code), "look at the date")
    }

    fn come_back(person: Option<&Person>, from: Date) -> Verdict {
        let person = Self::known(person)?;
        if person.away_since(from, History::NOW).is_some() {
            return Ok(());
        }
        refuse(
            "not-away",
            format!("{} is not away on {from}", person.code),
            "look at the date, or enter the leave first",
        )
    }

    /// Somebody must keep the records today.
    pub(super) fn somebody_remains(&self) -> Verdict {
        let today = self.today();
        if self.history.people.values().any(|person| person.is(Role::Coordinator, today, History::NOW)) {
            return Ok(());
        }
        refuse(
            "nobody-left",
            "nobody would be left to keep the records",
            "give someone else the role first: `gearside record person CODE --role coordinator …`",
        )
    }

    /// Whether someone keeps the records today.
    pub(super) fn is_coordinator(&self, code: &Code) -> Verdict {
        let today = self.today();
        if self.someone(code, "who enters it")?.is(Role::Coordinator, today, History::NOW) {
            return Ok(());
        }
        refuse(
            "may-not-enter",
            format!("{code} may not correct a role: it takes a coordinator"),
            "let one enter it, with --entered-by",
        )
    }

    /// The person as an apprentice who is there on the day.
    fn apprentice(person: Option<&'a Person>, draft: &Draft) -> Result<&'a Person, Fault> {
        let Some(person) = person else {
            return refuse("no-person", "it is about nobody", "name an apprentice by code");
        };
        let day = draft.seen_on;
        if person.grant(Role::Apprentice, day, History::NOW).is_none() {
            let from = person
                .grants
                .iter()
                .filter(|one| one.is.role == Role::Apprentice && one.gone.is_none())
                .map(|one| one.is.from)
                .min();
            let message = match from {
                Some(from) => format!("{} is not an apprentice on {day}: the role begins on {from}", person.code),
                None => format!("{} is not an apprentice on {day}", person.code),
            };
            return refuse(
                "not-an-apprentice",
                message,
                format!(
                    "look at the date, or enter the role: `gearside record person {} --role apprentice --from …`",
                    person.code
                ),
            );
        }
        if let Some(since) = person.away_since(day, History::NOW) {
            return refuse(
                "away",
                format!("{} is away since {since}, so nothing happened on {day}", person.code),
                "look at the date, or enter the return: `gearside record return CODE --from …`",
            );
        }
        Ok(person)
    }

    /// The rule of a competency.
    fn competency(&self, id: &str) -> Result<&'a Rule, Fault> {
        self.rules.of_competency(id).ok_or_else(|| {
            let known = self.rules.competencies.iter().map(|rule| &*rule.id);
            let heir = self.rules.competencies.iter().find(|rule| rule.was.iter().any(|was| &**was == id));
            let mend = match (heir, nearest_name(id, known)) {
                (Some(heir), _) => format!("it is called `{}` now", heir.id),
                (None, Some(near)) => format!("did you mean `{near}`?"),
                (None, None) => "`gearside prove` lists the competencies of the curriculum".to_owned(),
            };
            Fault::new("unknown-competency", format!("there is no competency `{id}`"), mend)
        })
    }

    fn stage(&self, id: &str) -> bool {
        self.programme.stages.iter().any(|stage| stage.id.as_str() == id)
    }

    fn grant(&self, draft: &Draft, is: &Grant) -> Verdict {
        let Some(code) = &draft.person else { return refuse("no-person", "it is about nobody", "name a code") };
        if let Some(near) = self.history.people.keys().find(|known| known.is_like(code) && *known != code) {
            return refuse(
                "like-another",
                format!("`{code}` differs from `{near}` in capitals only"),
                "write it as it is on record, or choose another code",
            );
        }
        if is.until.is_some_and(|until| until < is.from) {
            return refuse("dates", "the role would end before it begins", "look at --from and --until");
        }
        if is.stages.is_some() && is.role != Role::Assessor {
            return refuse("stages", "only an assessor has stages to sign", "leave the stages out");
        }
        if is.class.is_some() && is.role != Role::Apprentice {
            return refuse("class", "only an apprentice is in a class", "leave the class out");
        }
        if let Some(stage) = is.stages.iter().flatten().find(|stage| !self.stage(stage)) {
            let known: Vec<&str> = self.programme.stages.iter().map(|stage| stage.id.as_str()).collect();
            let mend = nearest_name(stage, known.iter().copied()).map_or_else(
                || format!("the stages are: {}", known.join(", ")),
                |near| format!("did you mean `{near}`?"),
            );
            return refuse("unknown-stage", format!("there is no stage `{stage}`"), mend);
        }
        if let Some(person) = self.history.person(code)
            && is.role == Role::Assessor
            && person.grant(Role::Apprentice, is.from, History::NOW).is_some()
        {
            return refuse(
                "apprentice",
                format!("{code} is an apprentice on {}, and an apprentice signs nobody off", is.from),
                "end that role first, with --until",
            );
        }
        if let Some(known) =
            self.history.person(code).and_then(|person| person.grant(Role::Assessor, is.from, History::NOW))
            && is.role == Role::Assessor
            && is.stages.is_none()
            && let Some(stages) = &known.is.stages
        {
            return refuse(
                "stages",
                format!("{code} may sign {} so far; without stages it would be all of them", stages.join(", ")),
                "name the stages with --stages, all of them if that is meant",
            );
        }
        short("class", is.class.as_deref(), LONGEST_NAME)?;
        short("name", draft.name.as_deref(), LONGEST_PERSON)?;
        let unnamed = draft.name.as_deref().is_none_or(|name| name.trim().is_empty());
        if unnamed && self.history.person(code).is_none_or(|person| person.grants.is_empty()) && draft.name.is_some() {
            return refuse("name", "the name is empty", "write the name, or leave it out to keep a code only");
        }
        Ok(())
    }

    fn taught(&self, is: &Taught) -> Verdict {
        if !(1..=60).contains(&is.week) {
            return refuse("week", format!("{} is not a week of a plan", is.week), "number the weeks from 1 to 60");
        }
        is.competencies.iter().try_for_each(|id| self.competency(id).map(drop))
    }

    fn event(&self, is: &Event) -> Verdict {
        let known = &self.programme.about.events;
        if known.iter().any(|event| **event == *is.event) {
            return Ok(());
        }
        let mend = nearest_name(&is.event, known.iter().map(String::as_str)).map_or_else(
            || format!("the programme records: {}; add others to `events:` in programme.yaml", known.join(", ")),
            |near| format!("did you mean `{near}`?"),
        );
        refuse("unknown-event", format!("`{}` is not a kind of event of this programme", is.event), mend)
    }

    fn judged(&self, draft: &Draft, is: &Judged) -> Verdict {
        let judge = self.someone(&draft.seen_by, "who judges")?;
        let may = [Role::Assessor, Role::Instructor].iter().any(|role| judge.is(*role, draft.seen_on, History::NOW));
        if !may {
            return refuse(
                "may-not-judge",
                format!("{} is neither assessor nor instructor on {}", draft.seen_by, draft.seen_on),
                "name the judge with --seen-by",
            );
        }
        if !(0.0..=1.0).contains(&is.expect) {
            return refuse("share", "an expectation lies between 0 % and 100 %", "write it as `70 %`");
        }
        Ok(())
    }
}
