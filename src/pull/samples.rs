//! What an exercise in rounds shows: its states as numbered samples, and where
//! each move leads.

use super::chance::{Chance, Root};
use super::figures::Figures;
use super::pictured::{Pictured, drawn_from};
use crate::programme::{Exercise, Form};

/// The samples of a pull, in the order they are numbered. All pulls of a seed
/// number the same samples alike; they differ in where they begin, and in how
/// the moves are numbered.
#[derive(Debug, Clone, PartialEq)]
pub struct Samples {
    /// The state behind each sample.
    pub states: Vec<usize>,
    /// What is seen of each.
    pub seen: Vec<Sample>,
    /// Which one it begins with.
    pub start: usize,
    /// For each sample and each move as shown, the sample it leads to.
    pub leads: Vec<Vec<usize>>,
    /// How many moves may be done.
    pub most: usize,
}

/// What is seen of one state.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// The words, as plain text.
    pub says: String,
    /// The same as safe HTML.
    pub says_html: String,
    /// The figure that shows it.
    pub picture: Option<Pictured>,
}

impl Samples {
    /// The state that a pull begins with.
    #[must_use]
    pub fn first_state(&self) -> usize {
        self.states.get(self.start).copied().unwrap_or_default()
    }
}

/// The samples of a pull whose moves are shown in that order; `None` if there are no rounds.
pub(super) fn samples(
    exercise: &Exercise,
    figures: &Figures,
    seed: &str,
    number: u64,
    shown: &[usize],
) -> Option<Samples> {
    let Form::Rounds(rounds) = &exercise.form else { return None };
    let root = |number: u64| Root { exercise: exercise.id.as_str(), seed, number, try_number: 0 };
    let mut states: Vec<usize> = (0..rounds.states.len()).collect();
    Chance::new(root(0), ":samples").shuffle(&mut states);
    let seen = states.iter().filter_map(|state| rounds.states.get(*state)).map(|state| Sample {
        says: state.says.plain(&|_| None),
        says_html: state.says.html(&|_| None),
        picture: state.picture.as_ref().map(|picture| drawn_from(picture, figures, Chance::new(root(0), ":grain"))),
    });
    let place = |state: usize| states.iter().position(|one| *one == state).unwrap_or_default();
    let ways = rounds.ways();
    let leads = |state: &usize| shown.iter().map(|by| place(ways.after(*state, *by))).collect();
    Some(Samples {
        seen: seen.collect(),
        start: place(start(exercise, seed, number)?),
        leads: states.iter().map(leads).collect(),
        most: rounds.most,
        states,
    })
}

/// The state that a pull begins with; `None` if there are no rounds.
pub(super) fn start(exercise: &Exercise, seed: &str, number: u64) -> Option<usize> {
    let Form::Rounds(rounds) = &exercise.form else { return None };
    let root = Root { exercise: exercise.id.as_str(), seed, number, try_number: 0 };
    let among = Chance::new(root, ":start").below(rounds.starts.len() as u64);
    rounds.starts.get(usize::try_from(among).ok()?).copied()
}
