//! The weekly quiz: issued once, taken and marked until it is closed.

use super::super::draft::Draft;
use super::super::fact::{Hold, HoldCause, MarkCorrected, PartMarked, Seq};
use super::super::history::{History, Person};
use super::{Judge, Verdict, refuse};
use crate::ground::{Fault, nearest_name};

impl Judge<'_> {
    pub(super) fn quiz_issued(&self, quiz: &str) -> Verdict {
        match self.history.quizzes.iter().find(|issued| &*issued.is.quiz == quiz) {
            None => Ok(()),
            Some(known) => refuse(
                "quiz-known",
                format!("the quiz `{quiz}` was issued already, by fact {}", known.seq),
                "a second quiz of a week has a name of its own",
            ),
        }
    }

    /// A quiz that was issued.
    fn issued(&self, quiz: &str) -> Verdict {
        let known = self.history.quizzes.iter().map(|issued| &*issued.is.quiz);
        if known.clone().any(|one| one == quiz) {
            return Ok(());
        }
        let mend = nearest_name(quiz, known).map_or_else(
            || "the quizzes on record are those that `gearside quiz` issued".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        refuse("unknown-quiz", format!("no quiz `{quiz}` was issued"), mend)
    }

    fn is_closed(&self, quiz: &str) -> bool {
        self.history.closed.iter().any(|closed| &*closed.is.quiz == quiz && closed.gone.is_none())
    }

    pub(super) fn return_taken(&self, quiz: &str) -> Verdict {
        self.issued(quiz)?;
        self.still_open(quiz)
    }

    fn still_open(&self, quiz: &str) -> Verdict {
        if self.is_closed(quiz) {
            let mend = "a mark of it can still be overridden, with a reason: `gearside record correct FACT mark=…`";
            return refuse("quiz-closed", format!("the quiz `{quiz}` is closed: no return counts any more"), mend);
        }
        Ok(())
    }

    pub(super) fn quiz_closed(&self, quiz: &str) -> Verdict {
        self.issued(quiz)?;
        if self.is_closed(quiz) {
            return refuse("quiz-closed", format!("the quiz `{quiz}` is closed already"), "there is nothing to do");
        }
        Ok(())
    }

    pub(super) fn part_marked(&self, is: &PartMarked) -> Verdict {
        self.competency(&is.competency)?;
        self.still_open(&is.quiz)?;
        if is_mark(is.mark) && (1..=is.parts).contains(&is.part) {
            return Ok(());
        }
        refuse("mark", "a mark lies between 0 and 1, and a part among the parts", "look at the return again")
    }

    pub(super) fn mark_corrected(person: &Person, draft: &Draft, is: &MarkCorrected) -> Verdict {
        if !is_mark(is.mark) {
            return refuse("mark", "a mark lies between 0 and 1", "write half a mark as 0.5");
        }
        let marks = person.work.values().flat_map(|work| &work.marks);
        let mut same = marks.filter(|one| {
            one.gone.is_none()
                && (&*one.is.quiz, &*one.is.docket, &*one.is.exercise, one.is.part)
                    == (&*is.quiz, &*is.docket, &*is.exercise, is.part)
        });
        if same.next().is_none() {
            let message = format!("there is no mark of part {} of `{}` in `{}`", is.part, is.exercise, is.quiz);
            return refuse("no-mark", message, "the marked docket shows the numbers of the marks");
        }
        Self::has_reason(draft, "overriding a mark")
    }

    /// The mark that a hold for a broken safety pair comes from: the last one of its competency,
    /// whatever the competency was called then.
    pub(super) fn cause_of_hold(&self, person: &Person, is: &Hold) -> Result<Option<Seq>, Fault> {
        if is.cause != HoldCause::SafetyOrder || is.of.is_some() {
            return Ok(is.of);
        }
        let names = self.derivation().names(&is.competency);
        let marks = person.work_in(&names).flat_map(|work| &work.marks);
        match marks.filter(|one| one.counts(History::NOW)).map(|one| one.seq).max() {
            Some(seq) => Ok(Some(seq)),
            None => refuse("no-mark", "there is no mark that this hold could come from", "give another cause"),
        }
    }
}

fn is_mark(mark: f64) -> bool {
    (0.0..=1.0).contains(&mark)
}
