//! Records in the making, without a file.

use std::collections::BTreeMap;

use gearside::quiz::Asked;
use gearside::records::{Claim, Code, Fact, History, Mark, Matter, PartMarked, QuizIssued, Stored, Word};
use jiff::ToSpan;
use jiff::civil::{Date, date};

/// The Friday of a week of plans that start on 7 September 2026.
pub(crate) fn day_of(week: i32) -> Date {
    date(2026, 9, 11).checked_add((i64::from(week - 1)).weeks()).expect("in the calendar")
}

/// Records in the making.
#[derive(Debug, Default)]
pub(crate) struct Book {
    pub(crate) history: History,
    pub(crate) asked: BTreeMap<Word, Vec<Asked>>,
    seq: u64,
}

impl Book {
    pub(crate) fn say(&mut self, person: Option<usize>, seen_on: Date, matter: Matter) {
        self.seq += 1;
        let code = |text: String| Code::parse(&text).expect("a code");
        let entered = code("c-1".to_owned());
        let claim = Claim { seen_by: entered.clone(), seen_on, entered_by: entered, paper: None, note: None };
        let fact = Fact { person: person.map(|number| code(format!("a-{number}"))), claim, matter };
        self.history.add(Stored { seq: self.seq, at: "2026-09-01T08:00:00Z".parse().expect("a time"), fact });
    }

    pub(crate) fn quiz(&mut self, quiz: &str, week: i32, asked: Vec<Asked>) {
        let snapshot = serde_json::from_value(serde_json::Value::String("0".repeat(64))).expect("a digest");
        let issued = QuizIssued { quiz: quiz.into(), week: u32::try_from(week).ok(), snapshot, dockets: 3 };
        self.say(None, day_of(week), Matter::QuizIssued(issued));
        self.asked.insert(quiz.into(), asked);
    }

    pub(crate) fn mark(&mut self, quiz: &str, week: i32, person: usize, of: (&str, &str), right: bool) {
        let marked = PartMarked {
            quiz: quiz.into(),
            docket: format!("{quiz}-{person}").into(),
            exercise: of.0.into(),
            competency: of.1.into(),
            part: 1,
            parts: 1,
            verdict: if right { Mark::Right } else { Mark::Wrong },
            mark: f64::from(u8::from(right)),
            turn: None,
        };
        self.say(Some(person), day_of(week), Matter::PartMarked(marked));
    }
}
