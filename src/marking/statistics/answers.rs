//! The one shape that marks come in: takers by exercises.

use crate::ground::Fault;

/// The marks of takers (rows) on exercises (columns), each from 0 to 1; `None`
/// where an exercise was not in someone's docket. A blank answer is a 0.
#[derive(Debug, Clone, PartialEq)]
pub struct Answers {
    exercises: usize,
    rows: Vec<Vec<Option<f64>>>,
}

impl Answers {
    /// The marks of so many exercises, a row per taker.
    ///
    /// # Errors
    /// A fault if a row has another length, or a mark is not from 0 to 1.
    pub fn new(exercises: usize, rows: Vec<Vec<Option<f64>>>) -> Result<Self, Fault> {
        for (taker, row) in rows.iter().enumerate() {
            if row.len() != exercises {
                let message = format!("taker {} has {} marks for {exercises} exercises", taker + 1, row.len());
                return Err(Fault::new("marks", message, "give one mark or nothing for each exercise"));
            }
            if let Some(mark) = row.iter().flatten().find(|mark| !(0.0..=1.0).contains(*mark)) {
                let message = format!("taker {} has a mark of {mark}", taker + 1);
                return Err(Fault::new("marks", message, "a mark is from 0 to 1"));
            }
        }
        Ok(Self { exercises, rows })
    }

    /// How many exercises there are.
    #[must_use]
    pub fn exercises(&self) -> usize {
        self.exercises
    }

    /// How many takers there are, those of a part included.
    #[must_use]
    pub fn takers(&self) -> usize {
        self.rows.len()
    }

    /// The marks on one exercise, of those who took it.
    #[must_use]
    pub fn on(&self, exercise: usize) -> Vec<f64> {
        self.rows.iter().filter_map(|row| row.get(exercise).copied().flatten()).collect()
    }

    /// The rows of the common takers: those who took every exercise.
    #[must_use]
    pub fn common(&self) -> Vec<Vec<f64>> {
        self.rows.iter().filter_map(|row| row.iter().copied().collect()).collect()
    }

    /// The same without one exercise: what is left may have more common takers.
    #[must_use]
    pub fn without(&self, exercise: usize) -> Self {
        let keep = |row: &Vec<Option<f64>>| {
            row.iter().enumerate().filter(|(index, _)| *index != exercise).map(|(_, mark)| *mark).collect()
        };
        let dropped = usize::from(exercise < self.exercises);
        Self { exercises: self.exercises - dropped, rows: self.rows.iter().map(keep).collect() }
    }

    /// A taker's mean mark on the other exercises they took; `None` if they took no other.
    #[must_use]
    pub fn rest_share(&self, taker: usize, exercise: usize) -> Option<f64> {
        let row = self.rows.get(taker)?;
        let rest: Vec<f64> =
            row.iter().enumerate().filter(|(index, _)| *index != exercise).filter_map(|(_, mark)| *mark).collect();
        (!rest.is_empty()).then(|| super::mean(&rest))
    }

    /// A taker's mark on an exercise, if they took it.
    #[must_use]
    pub fn mark(&self, taker: usize, exercise: usize) -> Option<f64> {
        self.rows.get(taker)?.get(exercise).copied().flatten()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_crooked_row_and_a_mark_out_of_range_are_refused() {
        assert!(Answers::new(2, vec![vec![Some(1.0)]]).is_err());
        for mark in [-0.1, 1.1, f64::NAN] {
            assert!(Answers::new(1, vec![vec![Some(mark)]]).is_err(), "{mark}");
        }
    }

    #[test]
    fn common_takers_took_everything() {
        let rows = vec![vec![Some(1.0), None, Some(0.5)], vec![Some(0.0), Some(1.0), Some(1.0)]];
        let Ok(answers) = Answers::new(3, rows) else { panic!("marks") };
        assert_eq!(answers.common(), [[0.0, 1.0, 1.0]]);
        assert_eq!(answers.on(0), [1.0, 0.0]);
        assert_eq!(answers.without(1).common().len(), 2);
        assert_eq!(answers.rest_share(0, 0), Some(0.5));
    }
}
