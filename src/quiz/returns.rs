//! What comes back: one docket's answers as typed.

use serde::{Deserialize, Serialize};

use super::snapshot::{Seat, Snapshot};
use crate::ground::{Fault, in_brief};
use crate::records::Code;

/// What a return says it is.
const KIND: &str = "return";
/// The way of writing returns known here.
const WAY: u32 = 1;
/// The most characters of one answer.
const LONGEST_ANSWER: usize = 200;
/// The most characters of the time it was closed.
const LONGEST_TIME: usize = 40;

/// A return: the answers of one docket, as typed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Return {
    /// `return`.
    #[serde(rename = "gearside")]
    pub kind: String,
    /// The way it is written: 1.
    pub way: u32,
    /// The quiz.
    pub quiz: String,
    /// The docket's code.
    pub docket: String,
    /// The code of whoever answered; empty if nobody said.
    pub person: String,
    /// The digest of what the docket showed; empty for one from paper.
    pub shown: String,
    /// For each exercise the answers to its parts.
    pub answers: Vec<Vec<String>>,
    /// When it was closed, by the clock of the page; empty for one from paper.
    pub closed_at: String,
}

/// The most characters that are quoted of what a return says it is.
const MOST_QUOTED: usize = 60;
/// The most characters of what a reader says.
const MOST_SAID: usize = 300;
/// What to do about a file that is no return, or not a whole one.
const AS_SAVED: &str = "take the file that the docket saved, as it is: ask for it again if it was changed";

fn refuse<T>(kind: &'static str, message: impl Into<String>, mend: impl Into<String>) -> Result<T, Fault> {
    Err(Fault::new(kind, message, mend))
}

impl Return {
    /// The answers of a docket that was filled in on paper.
    #[must_use]
    pub fn from_paper(quiz: &str, docket: &str, person: &str, answers: Vec<Vec<String>>) -> Self {
        Self {
            kind: KIND.to_owned(),
            way: WAY,
            quiz: quiz.to_owned(),
            docket: docket.to_owned(),
            person: person.to_owned(),
            shown: String::new(),
            answers,
            closed_at: String::new(),
        }
    }

    /// Reads a return file.
    ///
    /// # Errors
    /// A fault that says why it is none, with the line where it goes wrong.
    ///
    /// ```
    /// use gearside::quiz::Return;
    /// let text = r#"{ "gearside": "return", "way": 1, "quiz": "week-12", "docket": "7K3F-0000-0000-0001",
    ///     "person": "a-3", "shown": "", "answers": [["0,81 µm"], ["3 1 2"]], "closed_at": "" }"#;
    /// assert_eq!(Return::read(text).unwrap().answers[1], ["3 1 2"]);
    /// assert!(Return::read(&text.replace("quiz", "quizz")).is_err());
    /// assert!(Return::read(&text[..90]).is_err());
    /// ```
    pub fn read(text: &str) -> Result<Self, Fault> {
        // A list of the same values in a row would do for the reader, and no docket saves one.
        if text.trim_start().starts_with('[') {
            return refuse("return", "this is no return of a docket: it is a list", AS_SAVED);
        }
        let read: Self = match serde_json::from_str(text) {
            Ok(read) => read,
            Err(_) if text.trim().is_empty() => {
                return refuse("return", "there is nothing in this file", "ask for the file again");
            }
            Err(error) if error.is_eof() => {
                return refuse("return", "the return is cut off: it ends too soon", "ask for the file again");
            }
            Err(error) => {
                let why = in_brief(&error.to_string(), MOST_SAID);
                return refuse("return", format!("this is no return of a docket: {why}"), AS_SAVED);
            }
        };
        if read.kind != KIND || read.way != WAY {
            let message = format!(
                "it is a `{}` in way {}; a `{KIND}` in way {WAY} is known here",
                in_brief(&read.kind, MOST_QUOTED),
                read.way
            );
            return refuse("return", message, AS_SAVED);
        }
        Ok(read)
    }

    /// The return as it is kept.
    #[must_use]
    pub fn to_text(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// Whether both say the same, whenever they were closed.
    #[must_use]
    pub fn says_the_same(&self, other: &Self) -> bool {
        self.person == other.person && self.answers == other.answers
    }

    /// The docket that this is a return of, and whose it is.
    ///
    /// # Errors
    /// A fault if it is of another quiz, of a docket that was not issued with
    /// it, of someone else, of an altered docket, or does not fit it.
    pub fn seat(&self, snapshot: &Snapshot) -> Result<(usize, Code), Fault> {
        let quiz = &snapshot.head.quiz;
        if self.quiz != *quiz {
            let other = in_brief(&self.quiz, MOST_QUOTED);
            let mend = format!("mark it with that quiz: `gearside mark {other} …`");
            return refuse("other-quiz", format!("it is a return of `{other}`, not of `{quiz}`"), mend);
        }
        let Some((place, seat)) = snapshot.seat(&self.docket) else {
            let message = format!("`{quiz}` has no docket {}", in_brief(&self.docket, MOST_QUOTED));
            return refuse("foreign-docket", message, "look at the code on the docket; a rehearsal is not marked");
        };
        if !self.shown.is_empty() && self.shown != seat.shown.as_str() {
            let message = "the docket was altered: it shows something else than the one that was issued";
            return refuse("altered", message, format!("build it again: `gearside quiz --again {quiz}`"));
        }
        let code = self.whose(seat)?;
        self.fits(snapshot)?;
        Ok((place, code))
    }

    fn whose(&self, seat: &Seat) -> Result<Code, Fault> {
        let said = self.person.trim();
        let quoted = in_brief(said, MOST_QUOTED);
        match &seat.person {
            Some(person) if said.is_empty() || person.as_str() == said => Ok(person.clone()),
            Some(person) => refuse(
                "someone-else",
                format!("docket {} is {person}'s, and the return says `{quoted}`", self.docket),
                "find out whose answers these are; a blank docket is for whoever came without one",
            ),
            None if said.is_empty() => refuse(
                "nobody",
                format!("docket {} is a blank one, and the return does not say whose it is", self.docket),
                "write the apprentice's code into `person`",
            ),
            None => Code::parse(said).or_else(|why| {
                refuse("code", format!("`{quoted}` is no code: {why}"), "write the apprentice's code into `person`")
            }),
        }
    }

    /// Whether there is an answer for each part, and none is too long.
    fn fits(&self, snapshot: &Snapshot) -> Result<(), Fault> {
        let wanted: Vec<usize> = snapshot.exercises.iter().map(|one| one.shown.answers()).collect();
        let came: Vec<usize> = self.answers.iter().map(Vec::len).collect();
        if wanted != came {
            let message = format!(
                "it has {} answers in {} exercises, and the docket {} in {}",
                came.iter().sum::<usize>(),
                came.len(),
                wanted.iter().sum::<usize>(),
                wanted.len()
            );
            return refuse("answers", message, AS_SAVED);
        }
        let wrong = [
            (is_long as fn(&str) -> bool, format!("is longer than {LONGEST_ANSWER} characters")),
            (is_no_line, "holds a line break, or another character that cannot be typed into a docket".to_owned()),
        ];
        for (is_wrong, how) in wrong {
            if let Some(exercise) = self.answers.iter().position(|parts| parts.iter().any(|one| is_wrong(one))) {
                let mend = if self.shown.is_empty() {
                    "look at the docket again, and write what it says on one line"
                } else {
                    AS_SAVED
                };
                return refuse("answers", format!("an answer to exercise {} {how}", exercise + 1), mend);
            }
        }
        if self.closed_at.chars().count() > LONGEST_TIME || self.closed_at.chars().any(char::is_control) {
            let message = "its `closed_at` is no time of a clock";
            return refuse("return", message, AS_SAVED);
        }
        Ok(())
    }
}

fn is_long(answer: &str) -> bool {
    answer.chars().count() > LONGEST_ANSWER
}

fn is_no_line(answer: &str) -> bool {
    answer.chars().any(char::is_control)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const GOOD: &str = r#"{"gearside":"return","way":1,"quiz":"week-12","docket":"7K3F-0000-0000-0001","person":"a-3","shown":"ab","answers":[["0.81 µm"],["3 1 2"],["",""]],"closed_at":"2026-11-25T10:20"}"#;

    fn a_return() -> impl Strategy<Value = Return> {
        let answers = prop::collection::vec(prop::collection::vec(any::<String>(), 0..4), 0..6);
        let texts = (any::<String>(), any::<String>(), any::<String>(), any::<String>(), any::<String>());
        (texts, answers).prop_map(|((quiz, docket, person, shown, closed_at), answers)| Return {
            shown,
            closed_at,
            ..Return::from_paper(&quiz, &docket, &person, answers)
        })
    }

    proptest! {
        #[test]
        fn a_return_that_is_written_reads_back_the_same(written in a_return()) {
            prop_assert_eq!(Return::read(&written.to_text()).expect("it reads"), written);
        }

        #[test]
        fn no_text_makes_the_reader_panic(text in any::<String>()) {
            let fault = Return::read(&text).expect_err("it is none");
            prop_assert!(!fault.mend.is_empty());
        }

        #[test]
        fn no_bytes_make_the_reader_panic(bytes in prop::collection::vec(any::<u8>(), 0..600)) {
            prop_assert!(Return::read(&String::from_utf8_lossy(&bytes)).is_err());
        }

        // Bytes that are nearly right go deeper than noise does.
        #[test]
        fn no_change_of_a_good_return_makes_the_reader_panic(
            changes in prop::collection::vec((0..GOOD.len(), any::<u8>()), 1..4),
            from in 0..GOOD.len(),
            length in 0_usize..40,
        ) {
            let mut bytes = GOOD.as_bytes().to_vec();
            for (at, byte) in changes {
                bytes[at] = byte;
            }
            let doubled: Vec<u8> = bytes[from..].iter().take(length).copied().collect();
            bytes.splice(from..from, doubled);
            if let Ok(read) = Return::read(&String::from_utf8_lossy(&bytes)) {
                prop_assert_eq!(Return::read(&read.to_text()).expect("it reads"), read);
            }
        }
    }

    #[test]
    fn a_return_that_is_cut_off_anywhere_is_refused() {
        assert!(Return::read(GOOD).is_ok());
        assert!(Return::read(" ").expect_err("it is empty").message.contains("nothing in this file"));
        for (end, _) in GOOD.char_indices().skip(1) {
            let fault = Return::read(&GOOD[..end]).expect_err("it is cut off");
            assert!(fault.message.contains("cut off"), "at {end}: {}", fault.message);
        }
    }
}
