//! One docket that came back.

use jiff::civil::Date;

use super::super::marks::verdict_of;
pub use super::on_record::HoldNow;
use super::on_record::Recorded;
use crate::marking::{PartMark, WrongWay};
use crate::records::{Code, Mark, Seq};

/// A mark from here on is a full one.
const FULL: f64 = 1.0 - 1e-9;

/// What came of one docket.
#[derive(Debug, Clone, PartialEq)]
pub struct DocketResult {
    /// Its place in the quiz.
    pub place: usize,
    /// Whose it is.
    pub person: Code,
    /// The fact that the return was taken.
    pub taken: Seq,
    /// The day it was taken and marked.
    pub marked_on: Option<Date>,
    /// Whether the text of the return was erased, so that only its marks are known.
    pub erased: bool,
    /// Its exercises, in order.
    pub exercises: Vec<ExerciseResult>,
}

/// What came of one exercise of a docket.
#[derive(Debug, Clone, PartialEq)]
pub struct ExerciseResult {
    /// Its parts, in order; one for an order or a choice.
    pub parts: Vec<PartResult>,
}

/// What came of one part.
#[derive(Debug, Clone, PartialEq)]
pub struct PartResult {
    /// The answer and its mark as worked out again; `None` where the text was erased.
    pub marked: Option<PartMark>,
    /// The mark on record; `None` where there is none.
    pub recorded: Option<Recorded>,
    /// How the competency stands, where a safety pair was broken.
    pub hold: Option<HoldNow>,
}

impl PartResult {
    /// The mark that counts: the one on record, corrections included. `None`
    /// where neither a text nor a mark is left.
    #[must_use]
    pub fn mark(&self) -> Option<f64> {
        let again = || self.marked.as_ref().map(|one| one.mark);
        self.recorded.as_ref().map(|one| one.mark).or_else(again)
    }

    /// The verdict that counts. One that was set right is right or wrong as its mark now says.
    #[must_use]
    pub fn verdict(&self) -> Option<Mark> {
        let Some(recorded) = &self.recorded else {
            return self.marked.as_ref().map(|one| verdict_of(&one.verdict));
        };
        let (was, full) = (recorded.verdict, recorded.mark >= FULL);
        Some(match (recorded.corrected.is_some(), full, was) {
            (false, ..) | (true, true, Mark::Carried) => was,
            (true, true, _) => Mark::Right,
            (true, false, Mark::Right | Mark::Carried) => Mark::Wrong,
            (true, false, _) => was,
        })
    }

    /// How it went wrong, if it counts as wrong. Of an erased text only a wrong turn is known.
    #[must_use]
    pub fn wrong_ways(&self) -> Vec<WrongWay> {
        if self.mark().is_none_or(|mark| mark >= FULL) {
            return Vec::new();
        }
        match (&self.marked, &self.recorded) {
            (Some(marked), _) => marked.wrong_ways.clone(),
            (None, Some(recorded)) => recorded.turn.iter().map(|turn| WrongWay::Turn(turn.clone())).collect(),
            (None, None) => Vec::new(),
        }
    }
}

impl ExerciseResult {
    /// The mark: the mean of those of its parts. `None` if one of them is not known.
    ///
    /// A sum over the parts would let an exercise that asks for every step on
    /// the way weigh more than one that asks for its end alone.
    #[must_use]
    pub fn mark(&self) -> Option<f64> {
        let marks: Vec<f64> = self.parts.iter().map(PartResult::mark).collect::<Option<_>>()?;
        let count = u32::try_from(marks.len()).ok().filter(|count| *count > 0)?;
        Some((marks.iter().sum::<f64>() / f64::from(count)).clamp(0.0, 1.0))
    }

    /// The verdict on the whole: right or carried if all of it is, or else the
    /// first that tells most of a wrong turn, wrong, blank.
    #[must_use]
    pub fn verdict(&self) -> Option<Mark> {
        let verdicts: Vec<Mark> = self.parts.iter().map(PartResult::verdict).collect::<Option<_>>()?;
        let order = [Mark::WrongTurn, Mark::Wrong, Mark::Blank, Mark::Carried];
        Some(order.into_iter().find(|one| verdicts.contains(one)).unwrap_or(Mark::Right))
    }

    /// How it went wrong, part after part.
    #[must_use]
    pub fn wrong_ways(&self) -> Vec<WrongWay> {
        self.parts.iter().flat_map(PartResult::wrong_ways).collect()
    }

    /// Whether all of it is right or carried.
    #[must_use]
    pub fn is_right(&self) -> bool {
        self.mark().is_some_and(|mark| mark >= FULL)
    }
}

impl DocketResult {
    /// The points: the sum of the exercises' marks, each at most 1. `None` if a mark is not known.
    #[must_use]
    pub fn points(&self) -> Option<f64> {
        self.exercises.iter().map(ExerciseResult::mark).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::super::on_record::Corrected;
    use super::*;

    fn recorded(verdict: Mark, mark: f64, corrected: bool) -> PartResult {
        let corrected = corrected.then(|| Corrected {
            was: None,
            why: None,
            by: Code::parse("c-1").expect("a code"),
            on: jiff::civil::date(2026, 12, 1),
        });
        let turn = (verdict == Mark::WrongTurn).then(|| "as_read".to_owned());
        let recorded = Some(Recorded { seq: 1, verdict, mark, turn, corrected });
        PartResult { marked: None, recorded, hold: None }
    }

    #[test]
    fn a_mark_that_was_set_right_counts_as_what_it_now_is() {
        for (verdict, mark, corrected, want) in [
            (Mark::Wrong, 0.0, false, Mark::Wrong),
            (Mark::Wrong, 1.0, true, Mark::Right),
            (Mark::WrongTurn, 0.5, true, Mark::WrongTurn),
            (Mark::Right, 0.0, true, Mark::Wrong),
            (Mark::Carried, 1.0, true, Mark::Carried),
            (Mark::Carried, 0.5, true, Mark::Wrong),
        ] {
            let part = recorded(verdict, mark, corrected);
            assert_eq!(part.verdict(), Some(want), "{verdict:?} {mark} {corrected}");
            assert_eq!(part.mark(), Some(mark));
            let turns = usize::from(verdict == Mark::WrongTurn);
            assert_eq!(part.wrong_ways().len(), turns, "{verdict:?} {mark}");
        }
        assert!(recorded(Mark::WrongTurn, 1.0, true).wrong_ways().is_empty());
    }

    #[test]
    fn an_exercise_has_the_mean_of_its_parts_and_the_verdict_that_tells_most() {
        use Mark::{Blank, Carried, Right, Wrong, WrongTurn};
        for (parts, mark, verdict) in [
            (&[(Right, 1.0), (Right, 1.0)][..], 1.0, Right),
            (&[(Right, 1.0), (Carried, 1.0)][..], 1.0, Carried),
            (&[(WrongTurn, 0.0), (Carried, 1.0), (Carried, 1.0)][..], 2.0 / 3.0, WrongTurn),
            (&[(Wrong, 0.0), (WrongTurn, 0.0)][..], 0.0, WrongTurn),
            (&[(Right, 1.0), (Blank, 0.0)][..], 0.5, Blank),
            (&[(Blank, 0.0), (Wrong, 0.75)][..], 0.375, Wrong),
        ] {
            let parts: Vec<PartResult> = parts.iter().map(|(verdict, mark)| recorded(*verdict, *mark, false)).collect();
            let exercise = ExerciseResult { parts };
            assert!((exercise.mark().expect("a mark") - mark).abs() < 1e-12, "{exercise:?}");
            assert_eq!(exercise.verdict(), Some(verdict), "{exercise:?}");
        }
        let unknown = PartResult { marked: None, recorded: None, hold: None };
        let exercise = ExerciseResult { parts: vec![recorded(Right, 1.0, false), unknown] };
        assert_eq!((exercise.mark(), exercise.verdict()), (None, None));
    }
}
