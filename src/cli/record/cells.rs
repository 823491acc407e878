//! The command line of `record` as the cells of one row: what is typed and
//! what stands in a CSV file are read by the same rules.

use super::super::arguments_record::{
    EventArguments, HoursArguments, JudgedArguments, MoveArguments, ObservedArguments, PersonArguments, Said,
    SignoffArguments, TaughtArguments,
};

/// Column and text.
pub(super) type Cells = Vec<(&'static str, String)>;

/// Puts a row together, leaving out what was not given.
#[derive(Debug, Default)]
struct Row(Cells);

impl Row {
    fn with(mut self, column: &'static str, text: Option<&String>) -> Self {
        self.0.extend(text.map(|text| (column, text.clone())));
        self
    }

    fn said(self, said: &Said) -> Self {
        self.with("seen_by", said.seen_by.as_ref())
            .with("date", said.on.as_ref())
            .with("paper", said.paper.as_ref())
            .with("note", said.note.as_ref())
    }

    fn done(self) -> Cells {
        self.0
    }
}

impl PersonArguments {
    pub(super) fn cells(&self) -> Cells {
        Row::default()
            .with("code", self.person.as_ref())
            .with("role", self.role.as_ref())
            .with("name", self.name.as_ref())
            .with("from", self.from.as_ref())
            .with("until", self.until.as_ref())
            .with("stages", self.stages.as_ref())
            .with("class", self.class.as_ref())
            .said(&self.said)
            .done()
    }
}

impl MoveArguments {
    pub(super) fn cells(&self) -> Cells {
        Row::default().with("person", self.person.as_ref()).with("from", self.from.as_ref()).said(&self.said).done()
    }
}

impl TaughtArguments {
    pub(super) fn cells(&self) -> Cells {
        Row::default()
            .with("week", self.week.map(|week| week.to_string()).as_ref())
            .with("competencies", Some(&self.competencies.join(" ")))
            .with("class", self.class.as_ref())
            .said(&self.said)
            .done()
    }
}

impl HoursArguments {
    pub(super) fn cells(&self) -> Cells {
        Row::default()
            .with("person", self.person.as_ref())
            .with("line", self.line.as_ref())
            .with("start", self.start.as_ref())
            .with("end", self.end.as_ref())
            .with("sort", self.sort.as_ref())
            .with("hours", self.hours.as_ref())
            .with("supervisor", self.supervisor.as_ref())
            .said(&self.said)
            .done()
    }
}

impl ObservedArguments {
    pub(super) fn cells(&self) -> Cells {
        let part = |numbers: &Option<String>, word: &str| numbers.as_ref().map(|numbers| format!("{numbers} {word}"));
        let parts: Vec<String> = [
            self.all_seen.then(|| "all seen".to_owned()),
            part(&self.seen, "seen"),
            part(&self.not_yet, "not yet"),
            part(&self.not_seen, "not seen"),
        ]
        .into_iter()
        .flatten()
        .collect();
        let criteria = (!parts.is_empty()).then(|| parts.join("; "));
        Row::default()
            .with("person", self.person.as_ref())
            .with("competency", self.competency.as_ref())
            .with("criteria", criteria.as_ref())
            .with("press", self.press.as_ref())
            .with("job", self.job.as_ref())
            .with("material", self.material.as_ref())
            .with("ink", self.ink.as_ref())
            .with("aided", self.aided.then(|| "yes".to_owned()).as_ref())
            .said(&self.said)
            .done()
    }
}

impl SignoffArguments {
    pub(super) fn cells(&self) -> Cells {
        Row::default()
            .with("person", self.person.as_ref())
            .with("competency", self.competency.as_ref())
            .with("acknowledged", self.acknowledged.as_ref())
            .said(&self.said)
            .with("note", self.despite.as_ref())
            .done()
    }
}

impl EventArguments {
    pub(super) fn cells(&self) -> Cells {
        Row::default().with("person", self.person.as_ref()).with("event", self.event.as_ref()).said(&self.said).done()
    }
}

impl JudgedArguments {
    pub(super) fn cells(&self) -> Cells {
        Row::default()
            .with("exercise", self.exercise.as_ref())
            .with("expect", self.expect.as_ref())
            .said(&self.said)
            .done()
    }
}
