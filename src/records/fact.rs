//! Facts: what can be put on record, and who says so.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::code::Code;
use super::digest::Digest;
use crate::programme::InkSystem;

/// The number of a fact: 1, 2, 3 … without gaps.
pub type Seq = u64;

/// A name that occurs in many facts, kept once.
pub type Word = std::sync::Arc<str>;

/// A fact: a claim by someone about something, and for most about someone.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    /// Whom it is about.
    pub person: Option<Code>,
    /// Who says so.
    pub claim: Claim,
    /// What is said.
    pub matter: Matter,
}

/// Who says so, since when, and on what paper.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Claim {
    /// Who saw it.
    pub seen_by: Code,
    /// The day it was seen, in the programme's time zone.
    pub seen_on: Date,
    /// Who entered it. When it was entered is the fact's own time.
    pub entered_by: Code,
    /// The number or digest of the signed page, if there is one.
    pub paper: Option<String>,
    /// The digest of a text said with it.
    pub note: Option<Digest>,
}

/// What a person may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Role {
    /// Learns.
    Apprentice,
    /// Observes and signs.
    Assessor,
    /// Keeps the records.
    Coordinator,
    /// Teaches and sets quizzes.
    Instructor,
}

impl Role {
    /// All roles.
    pub const ALL: [Self; 4] = [Self::Apprentice, Self::Assessor, Self::Coordinator, Self::Instructor];

    /// The role in one word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Apprentice => "apprentice",
            Self::Assessor => "assessor",
            Self::Coordinator => "coordinator",
            Self::Instructor => "instructor",
        }
    }
}

/// How hours were spent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sort {
    /// At the press, under supervision.
    OnTheJob,
    /// Related instruction.
    Instruction,
    /// Credited from before.
    Prior,
}

impl Sort {
    /// All sorts.
    pub const ALL: [Self; 3] = [Self::OnTheJob, Self::Instruction, Self::Prior];

    /// The sort as files and the command line write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::OnTheJob => "on-the-job",
            Self::Instruction => "instruction",
            Self::Prior => "prior",
        }
    }
}

/// What an observer makes of a criterion.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Look {
    /// Seen, as the criterion says.
    Seen,
    /// Tried, and not there yet.
    NotYet,
    /// Left out, or there was no occasion.
    NotSeen,
}

impl Look {
    /// The look in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Seen => "seen",
            Self::NotYet => "not yet",
            Self::NotSeen => "not seen",
        }
    }
}

/// Why a competency is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HoldCause {
    /// A safety pair of an order exercise was broken.
    SafetyOrder,
    /// Something else, said in the note.
    Other,
}

/// The verdict on one part of an exercise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mark {
    /// Right.
    Right,
    /// Right, given the apprentice's own earlier part.
    Carried,
    /// A known wrong turn.
    WrongTurn,
    /// Wrong.
    Wrong,
    /// Nothing was answered.
    Blank,
}

impl Mark {
    /// All verdicts, the best first.
    pub const ALL: [Self; 5] = [Self::Right, Self::Carried, Self::WrongTurn, Self::Wrong, Self::Blank];

    /// The verdict in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Carried => "carried",
            Self::WrongTurn => "wrong turn",
            Self::Wrong => "wrong",
            Self::Blank => "blank",
        }
    }
}

macro_rules! matters {
    ($($(#[$doc:meta])* $name:ident = $kind:literal { $($(#[$field_doc:meta])* $field:ident : $type:ty),* $(,)? })*) => {
        $(
            $(#[$doc])*
            #[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
            #[serde(deny_unknown_fields)]
            pub struct $name { $($(#[$field_doc])* pub $field: $type),* }
        )*

        /// What a fact says.
        #[derive(Debug, Clone, PartialEq)]
        pub enum Matter { $($(#[$doc])* $name($name)),* }

        impl Matter {
            /// All kinds, as the records write them.
            pub const KINDS: &'static [&'static str] = &[$($kind),*];

            /// The kind, as the records write it.
            #[must_use]
            pub fn kind(&self) -> &'static str {
                match self { $(Self::$name(_) => $kind),* }
            }

            /// The matter as JSON.
            #[must_use]
            pub fn to_json(&self) -> Value {
                match self { $(Self::$name(is) => serde_json::to_value(is).unwrap_or_default()),* }
            }

            /// Reads the matter of a kind from JSON; `None` for a kind not known here.
            pub(super) fn from_json(kind: &str, json: Value) -> Option<serde_json::Result<Self>> {
                match kind { $($kind => Some(serde_json::from_value(json).map(Self::$name)),)* _ => None }
            }

            /// Reads a whole body of a kind.
            fn read(kind: &str, body: &str) -> serde_json::Result<Fact> {
                match kind {
                    $($kind => {
                        let body: Body<$name> = serde_json::from_str(body)?;
                        Ok(Fact { claim: body.claim(), person: body.person, matter: Self::$name(body.is) })
                    })*
                    _ => Err(serde::de::Error::custom(format!("`{kind}` is no kind of fact"))),
                }
            }
        }
    };
}

/// The body of a fact as stored.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Body<T> {
    #[serde(skip_serializing_if = "Option::is_none")]
    person: Option<Code>,
    seen_by: Code,
    seen_on: Date,
    entered_by: Code,
    #[serde(skip_serializing_if = "Option::is_none")]
    paper: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    note: Option<Digest>,
    is: T,
}

impl<T> Body<T> {
    fn claim(&self) -> Claim {
        Claim {
            seen_by: self.seen_by.clone(),
            seen_on: self.seen_on,
            entered_by: self.entered_by.clone(),
            paper: self.paper.clone(),
            note: self.note.clone(),
        }
    }
}

impl Fact {
    /// The body as stored.
    #[must_use]
    pub fn body(&self) -> String {
        let body = Body {
            person: self.person.clone(),
            seen_by: self.claim.seen_by.clone(),
            seen_on: self.claim.seen_on,
            entered_by: self.claim.entered_by.clone(),
            paper: self.claim.paper.clone(),
            note: self.claim.note.clone(),
            is: self.matter.to_json(),
        };
        serde_json::to_string(&body).unwrap_or_default()
    }

    /// Reads a stored fact.
    ///
    /// # Errors
    /// What `serde_json` says of a body that is not of this kind.
    pub fn read(kind: &str, body: &str) -> serde_json::Result<Self> {
        Matter::read(kind, body)
    }
}

matters! {
    /// From here on, this edition of the curriculum is in force.
    Edition = "edition" {
        /// The edition's label.
        label: String,
        /// The digest of its canonical text, which is kept whole.
        digest: Digest,
    }
    /// Someone has a role.
    Grant = "person" {
        /// The role.
        role: Role,
        /// Its first day.
        from: Date,
        /// Its last day.
        until: Option<Date>,
        /// The stages that an assessor may sign; all if none are named.
        stages: Option<Vec<Word>>,
        /// The apprentice's class.
        class: Option<Word>,
        /// The salted digest of the name, which stands elsewhere.
        name: Option<Digest>,
    }
    /// Someone goes away.
    Leave = "leave" {
        /// The first day away.
        from: Date,
    }
    /// Someone comes back.
    Return = "return" {
        /// The first day back.
        from: Date,
    }
    /// Something was taught in a week other than the plan says, or as it says.
    Taught = "taught" {
        /// The week of the plan.
        week: u32,
        /// What was taught.
        competencies: Vec<Word>,
        /// The class, if not all.
        class: Option<Word>,
    }
    /// A quiz was issued.
    QuizIssued = "quiz-issued" {
        /// The quiz.
        quiz: Word,
        /// The week of the plan.
        week: Option<u32>,
        /// The digest of everything it was made from and is marked by, which is kept whole.
        snapshot: Digest,
        /// How many dockets there are.
        dockets: u32,
    }
    /// A return was taken.
    ReturnTaken = "return-taken" {
        /// The quiz.
        quiz: Word,
        /// The docket.
        docket: Word,
        /// The digest of what came back.
        digest: Digest,
    }
    /// A part of an exercise was marked. It is sealed, supervised work.
    PartMarked = "part-marked" {
        /// The quiz.
        quiz: Word,
        /// The docket.
        docket: Word,
        /// The exercise.
        exercise: Word,
        /// Its competency.
        competency: Word,
        /// The part, counted from 1.
        part: u32,
        /// How many parts the exercise has.
        parts: u32,
        /// The verdict.
        verdict: Mark,
        /// The mark, from 0 to 1.
        mark: f64,
        /// The wrong turn, if one is known.
        turn: Option<Word>,
    }
    /// A mark was set right.
    MarkCorrected = "mark-corrected" {
        /// The quiz.
        quiz: Word,
        /// The docket.
        docket: Word,
        /// The exercise.
        exercise: Word,
        /// The part.
        part: u32,
        /// The mark from now on.
        mark: f64,
    }
    /// A quiz was closed: no return counts any more.
    QuizClosed = "quiz-closed" {
        /// The quiz.
        quiz: Word,
    }
    /// Hours were spent.
    Hours = "hours" {
        /// How.
        sort: Sort,
        /// The process line: a competency or a stage.
        line: Word,
        /// When they began, local time with its offset; none for prior hours.
        start: Option<String>,
        /// When they ended.
        end: Option<String>,
        /// How many minutes.
        minutes: u32,
        /// Who supervised.
        supervisor: Code,
    }
    /// Someone was observed at work.
    Observation = "observation" {
        /// The competency.
        competency: Word,
        /// What was made of each criterion, in the edition's order.
        criteria: Vec<Look>,
        /// The press.
        press: Word,
        /// The job.
        job: Word,
        /// The material.
        material: Option<Word>,
        /// The ink system.
        ink: Option<InkSystem>,
        /// Whether there was help.
        aided: bool,
    }
    /// An apprentice asks to be signed off.
    Request = "request" {
        /// The competency.
        competency: Word,
    }
    /// A competency is signed off.
    Signoff = "signoff" {
        /// The competency.
        competency: Word,
        /// The day on which the apprentice acknowledged it.
        acknowledged_on: Date,
        /// The facts it rests on.
        rests_on: Vec<Seq>,
        /// Who stands by it beside the assessor, where evidence was missing.
        despite: Option<Code>,
    }
    /// A sign-off is withdrawn.
    Withdrawal = "withdrawal" {
        /// The competency.
        competency: Word,
        /// The sign-off.
        signoff: Seq,
    }
    /// A competency is held.
    Hold = "hold" {
        /// The competency.
        competency: Word,
        /// Why.
        cause: HoldCause,
        /// The fact that led to it.
        of: Option<Seq>,
    }
    /// A hold is released.
    Release = "release" {
        /// The competency.
        competency: Word,
        /// The hold.
        hold: Seq,
    }
    /// One fact stands in for another.
    Correction = "correction" {
        /// The fact that no longer counts.
        replaces: Seq,
        /// The kind of both.
        kind: String,
        /// What counts instead; nothing if the fact is only struck out.
        instead: Option<Value>,
    }
    /// Something happened that the programme records.
    Event = "event" {
        /// The kind of event, as the programme calls it.
        event: Word,
    }
    /// A judge says what to expect of a just competent apprentice.
    Judged = "judged" {
        /// The exercise.
        exercise: Word,
        /// The share expected to be right, from 0 to 1.
        expect: f64,
    }
    /// Texts and names were erased.
    Redaction = "redaction" {
        /// Their digests.
        digests: Vec<Digest>,
    }
}

/// A fact as it lies in the records.
#[derive(Debug, Clone, PartialEq)]
pub struct Stored {
    /// Its number.
    pub seq: Seq,
    /// When it was entered, UTC.
    pub at: jiff::Timestamp,
    /// The fact.
    pub fact: Fact,
}

/// After how many days between seeing and entering a fact is marked late.
pub const LATE_AFTER_DAYS: i32 = 7;

/// Whether something seen on a day and entered on another is late.
#[must_use]
pub fn is_late(seen_on: Date, entered_on: Date) -> bool {
    seen_on.until(entered_on).is_ok_and(|span| span.get_days() > LATE_AFTER_DAYS)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn code(text: &str) -> Code {
        Code::parse(text).expect("a code")
    }

    #[test]
    fn a_fact_reads_back_as_it_was_written() {
        let date = jiff::civil::date(2026, 9, 8);
        let fact = Fact {
            person: Some(code("a-1")),
            claim: Claim {
                seen_by: code("s-1"),
                seen_on: date,
                entered_by: code("c-1"),
                paper: Some("page 12".into()),
                note: None,
            },
            matter: Matter::Hours(Hours {
                sort: Sort::OnTheJob,
                line: "set-kiss-impression".into(),
                start: Some("2026-09-08T07:00+03:00".into()),
                end: Some("2026-09-08T09:30+03:00".into()),
                minutes: 150,
                supervisor: code("s-1"),
            }),
        };
        let body = fact.body();
        assert_eq!(Fact::read("hours", &body).expect("it reads"), fact);
        assert!(Fact::read("leave", &body).is_err());
        assert!(Fact::read("hours", &body.replace("minutes", "minutos")).is_err());
    }

    #[test]
    fn a_fact_is_late_from_the_eighth_day_on() {
        let seen = jiff::civil::date(2028, 2, 27);
        assert!(!is_late(seen, jiff::civil::date(2028, 3, 5)));
        assert!(is_late(seen, jiff::civil::date(2028, 3, 6)));
        assert!(!is_late(seen, seen));
    }
}
