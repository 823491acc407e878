//! Rounds: where the moves led, how many there were, and whether one was unsafe.

use serde::{Deserialize, Serialize};

use super::marked::PartMark;
use super::numeric::Verdict;
use super::own_key::OwnKey;
use super::picked::{blank, foreign, indexes, not_read, number, row, says};
use super::rules::Said;
use super::wrong_way::WrongWay;
use crate::ground::Fault;
use crate::ground::say;
use crate::programme::Ways;

/// What each move beyond the fewest takes off the mark of a right end.
const A_MOVE_TOO_MANY: f64 = 0.2;
/// What a right end is worth at least.
const LEAST_FOR_RIGHT: f64 = 0.2;

/// How rounds are marked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RoundsRules {
    /// The table.
    pub ways: Ways,
    /// How many moves may be done.
    pub most: usize,
    /// For each state and each move, the index of the reason of what it does there; `None` where it does nothing.
    pub why: Vec<Vec<Option<usize>>>,
    /// For each move, the index of the reason why it is unsafe.
    pub why_not_safe: Vec<Option<usize>>,
    /// All reasons.
    pub because: Vec<Said>,
}

/// The rounds of one pull.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnRounds {
    /// The state that it begins with.
    pub start: usize,
    /// The state behind each sample, as numbered.
    pub states: Vec<usize>,
}

/// The mark of some moves.
#[derive(Debug, Clone, PartialEq)]
pub struct RoundsMark {
    /// The mark, from 0 to 1.
    pub mark: f64,
    /// The states that the moves led through, one for each.
    pub path: Vec<usize>,
    /// Whether the last of them is right.
    pub ends_right: bool,
    /// The fewest moves that would have done, in order.
    pub fewest: Vec<usize>,
    /// Whether a move was unsafe.
    pub hold: bool,
}

/// What is said of rounds.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RoundsSaid {
    /// Every move that was done.
    pub done: Vec<RoundSaid>,
    /// The number of the sample it began with.
    pub start: usize,
    /// Whether the end is right.
    pub ends_right: bool,
    /// The fewest moves that would have done, as numbers of the moves as shown.
    pub fewest: Vec<usize>,
    /// The samples they lead through.
    pub through: Vec<usize>,
    /// Whether the competency is held until an assessor records a talk.
    pub hold: bool,
}

/// One move that was done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RoundSaid {
    /// Its number as shown.
    pub number: usize,
    /// What it says.
    pub says: Said,
    /// The number of the sample it led to.
    pub to: usize,
    /// Why it led there; or why it is unsafe; empty where it changed nothing.
    pub because: Said,
    /// Whether it is unsafe.
    pub not_safe: bool,
}

/// Marks moves, by index: a right end is worth 1 with the fewest moves, and a
/// fifth less for each further one, down to a fifth. An unsafe move makes it
/// nothing, wherever it ends.
///
/// ```
/// use gearside::marking::mark_rounds;
/// use gearside::programme::Ways;
/// let leads = vec![vec![1, 0], vec![2, 0], vec![2, 1]];
/// let ways = Ways { leads, right: vec![false, true, false], not_safe: vec![false, false] };
/// assert_eq!(mark_rounds(&[0], 0, &ways).mark, 1.0);
/// assert_eq!(mark_rounds(&[0, 0, 1], 0, &ways).mark, 0.6);
/// assert_eq!(mark_rounds(&[0, 0], 0, &ways).mark, 0.0);
/// ```
#[must_use]
pub fn mark_rounds(moves: &[usize], start: usize, ways: &Ways) -> RoundsMark {
    let path = ways.walk(start, moves);
    let end = path.last().copied().unwrap_or(start);
    let ends_right = ways.right.get(end).is_some_and(|right| *right);
    let hold = moves.iter().any(|by| ways.not_safe.get(*by).is_some_and(|not_safe| *not_safe));
    let fewest = ways.shortest(start).unwrap_or_default();
    let too_many = u32::try_from(moves.len().saturating_sub(fewest.len())).unwrap_or(u32::MAX);
    let mark = if hold || !ends_right {
        0.0
    } else {
        // Tenths are exact in print; the sum is rounded so that it is exact here too.
        let mark = (1.0 - A_MOVE_TOO_MANY * f64::from(too_many)).max(LEAST_FOR_RIGHT);
        (mark * 10.0).round() / 10.0
    };
    RoundsMark { mark, path, ends_right, fewest, hold }
}

/// Marks what was typed: the numbers of the moves in the order they were done.
pub(super) fn rounds(rules: &RoundsRules, own: &OwnKey, typed: &str) -> Result<PartMark, Fault> {
    let Some(start) = own.rounds.as_ref().map(|rounds| rounds.start) else { return Err(foreign()) };
    if start >= rules.ways.leads.len() || own.shown.iter().any(|by| *by >= rules.ways.not_safe.len()) {
        return Err(foreign());
    }
    let fewest = rules.ways.shortest(start).unwrap_or_default();
    let key = Said::words(row(&fewest.iter().map(|by| number(own, *by)).collect::<Vec<_>>()));
    let moves = match indexes(typed, &own.shown) {
        Err(why) => return Ok(not_read(typed, key, &why)),
        Ok(moves) if moves.is_empty() => return Ok(blank(typed, key)),
        Ok(moves) if moves.len() > rules.most => {
            let why = say!("marking.it-has-moves", moves = moves.len(), most = rules.most);
            return Ok(not_read(typed, key, &why));
        }
        Ok(moves) => moves,
    };
    Ok(Played { rules, own, start, moves: &moves }.mark(typed, key))
}

/// What was done in an exercise in rounds.
struct Played<'a> {
    rules: &'a RoundsRules,
    own: &'a OwnKey,
    start: usize,
    moves: &'a [usize],
}

impl Played<'_> {
    fn mark(&self, typed: &str, key: Said) -> PartMark {
        let marked = mark_rounds(self.moves, self.start, &self.rules.ways);
        let numbers: Vec<usize> = self.moves.iter().map(|by| number(self.own, *by)).collect();
        let unsafe_moves = self.moves.iter().filter(|by| self.is_not_safe(**by));
        let mut ways: Vec<WrongWay> = unsafe_moves.map(|by| WrongWay::Unsafe(says(self.own, *by).plain)).collect();
        if !marked.ends_right {
            ways.push(WrongWay::WrongEnd);
        } else if marked.mark < 1.0 && !marked.hold {
            ways.push(WrongWay::MoreMoves(self.moves.len() - marked.fewest.len()));
        }
        let right = marked.ends_right && !marked.hold;
        PartMark {
            read: row(&numbers),
            verdict: if right { Verdict::Right } else { Verdict::Wrong },
            mark: marked.mark,
            wrong_ways: ways,
            rounds: Some(self.said(&marked)),
            ..blank(typed, key)
        }
    }

    fn is_not_safe(&self, by: usize) -> bool {
        self.rules.ways.not_safe.get(by).is_some_and(|not_safe| *not_safe)
    }

    fn said(&self, marked: &RoundsMark) -> RoundsSaid {
        let before = std::iter::once(self.start).chain(marked.path.iter().copied());
        let done = self.moves.iter().zip(before.zip(&marked.path)).map(|(by, (from, to))| RoundSaid {
            number: number(self.own, *by),
            says: says(self.own, *by),
            to: self.sample(*to),
            because: self.because(from, *by),
            not_safe: self.is_not_safe(*by),
        });
        let through = self.rules.ways.walk(self.start, &marked.fewest);
        RoundsSaid {
            done: done.collect(),
            start: self.sample(self.start),
            ends_right: marked.ends_right,
            through: through.iter().map(|state| self.sample(*state)).collect(),
            fewest: marked.fewest.iter().map(|by| number(self.own, *by)).collect(),
            hold: marked.hold,
        }
    }

    /// The number of the sample that shows a state.
    fn sample(&self, state: usize) -> usize {
        let states = self.own.rounds.as_ref().map_or(&[][..], |rounds| &rounds.states);
        states.iter().position(|one| *one == state).map_or(0, |place| place + 1)
    }

    fn because(&self, from: usize, by: usize) -> Said {
        let not_safe = self.rules.why_not_safe.get(by).copied().flatten();
        let reason = not_safe.or_else(|| self.rules.why.get(from)?.get(by).copied().flatten());
        let said = reason.and_then(|at| self.own.reasons.get(&at).or_else(|| self.rules.because.get(at)));
        said.cloned().unwrap_or_default()
    }
}
