//! Rounds: one move at a time, each seen in what it leads to before the next.
//!
//! A small table says which move leads from which state to which. Somebody
//! begins in a state that is not right and does at most a few moves; where a
//! move is not in the table for a state, it changes nothing.

use std::collections::VecDeque;

use serde::{Deserialize, Serialize};

use super::exercise::{Move, Reckoning};
use super::givens::check_name;
use super::picture::{self, Picture};
use super::raw::{RawExercise, RawLead, RawState};
use super::spot::Spot;
use crate::ground::{Fault, nearest_name};
use crate::prose::Text;

/// The most rounds there may be, and how many there are if nothing is said.
pub const MOST_ROUNDS: usize = 5;
/// How many states there may be.
const STATES: std::ops::RangeInclusive<usize> = 3..=12;
/// How many moves there may be.
const MOVES: std::ops::RangeInclusive<usize> = 2..=8;

/// An exercise in rounds.
#[derive(Debug)]
pub struct Rounds {
    /// What may be seen.
    pub states: Vec<State>,
    /// The states that a pull may begin with.
    pub starts: Vec<usize>,
    /// What may be done.
    pub moves: Vec<Move>,
    /// Which move leads from where to where.
    pub leads: Vec<Lead>,
    /// The moves that hurt someone, each with the reason.
    pub not_safe: Vec<(usize, Text)>,
    /// How many moves may be done.
    pub most: usize,
}

/// What may be seen.
#[derive(Debug)]
pub struct State {
    /// Its name in the file; never shown.
    pub name: String,
    /// What is seen and read off.
    pub says: Text,
    /// The figure that shows it.
    pub picture: Option<Picture>,
    /// Whether it is right to end with.
    pub right: bool,
}

/// What a move does in a state.
#[derive(Debug)]
pub struct Lead {
    /// The state it starts from.
    pub from: usize,
    /// The move.
    pub by: usize,
    /// The state it leads to.
    pub to: usize,
    /// Why.
    pub because: Text,
}

/// The table behind rounds, as it is walked and kept.
///
/// ```
/// use gearside::programme::Ways;
/// // Two moves, 0 closes and 1 opens, over three states: too light, kiss, too heavy.
/// let leads = vec![vec![1, 0], vec![2, 0], vec![2, 1]];
/// let ways = Ways { leads, right: vec![false, true, false], not_safe: vec![false, false] };
/// assert_eq!(ways.walk(0, &[0, 0, 1]), [1, 2, 1]);
/// assert_eq!(ways.shortest(0), Some(vec![0]));
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ways {
    /// For each state and each move, the state it leads to.
    pub leads: Vec<Vec<usize>>,
    /// Whether each state is right to end with.
    pub right: Vec<bool>,
    /// Whether each move hurts someone.
    pub not_safe: Vec<bool>,
}

impl Ways {
    /// The state that a move leads to; an unknown move or state changes nothing.
    #[must_use]
    pub fn after(&self, state: usize, by: usize) -> usize {
        self.leads.get(state).and_then(|leads| leads.get(by)).copied().unwrap_or(state)
    }

    /// The states that moves lead through, one for each move.
    #[must_use]
    pub fn walk(&self, start: usize, moves: &[usize]) -> Vec<usize> {
        let step = |at: &mut usize, by: &usize| {
            *at = self.after(*at, *by);
            Some(*at)
        };
        moves.iter().scan(start, step).collect()
    }

    /// The fewest moves to a state that is right, none of them unsafe; `None` if no way leads there.
    #[must_use]
    pub fn shortest(&self, start: usize) -> Option<Vec<usize>> {
        let is_right = |state: usize| self.right.get(state).is_some_and(|right| *right);
        let mut seen = vec![false; self.leads.len()];
        let mut queue = VecDeque::from([(start, Vec::new())]);
        while let Some((at, way)) = queue.pop_front() {
            if is_right(at) {
                return Some(way);
            }
            if seen.get(at).copied().unwrap_or(true) || std::mem::replace(&mut seen[at], true) {
                continue;
            }
            for (by, to) in self.leads[at].iter().enumerate() {
                if !self.not_safe.get(by).copied().unwrap_or(false) {
                    queue.push_back((*to, [&way[..], &[by]].concat()));
                }
            }
        }
        None
    }
}

impl Rounds {
    /// The table as it is walked.
    #[must_use]
    pub fn ways(&self) -> Ways {
        let to = |from: usize, by: usize| self.lead(from, by).map_or(from, |lead| self.leads[lead].to);
        let moves = 0..self.moves.len();
        Ways {
            leads: (0..self.states.len()).map(|from| moves.clone().map(|by| to(from, by)).collect()).collect(),
            right: self.states.iter().map(|state| state.right).collect(),
            not_safe: moves.clone().map(|by| self.not_safe.iter().any(|(index, _)| *index == by)).collect(),
        }
    }

    /// The index of what a move does in a state; `None` if it changes nothing there.
    #[must_use]
    pub fn lead(&self, from: usize, by: usize) -> Option<usize> {
        self.leads.iter().position(|lead| lead.from == from && lead.by == by)
    }

    /// All reasons: those of what moves do, then those of the unsafe moves.
    pub fn reasons(&self) -> impl Iterator<Item = &Text> {
        self.leads.iter().map(|lead| &lead.because).chain(self.not_safe.iter().map(|(_, because)| because))
    }
}

/// Reads an exercise in rounds.
pub(super) fn read(raw: &RawExercise, spot: &Spot<'_>, faults: &mut Vec<Fault>) -> Option<Rounds> {
    let before = faults.len();
    if raw.givens.is_some() || raw.steps.is_some() {
        let field = if raw.givens.is_some() { "givens" } else { "steps" };
        let mend = "say what is seen under `states:`; its numbers are written there";
        faults.push(spot.fault(field, "rounds", format!("rounds take no `{field}:`"), mend));
    }
    let moves = named(raw.moves.as_ref().map_or(&[], |moves| &moves.0), "moves", &MOVES, spot, faults);
    let states = named(raw.states.as_ref().map_or(&[], |states| &states.0), "states", &STATES, spot, faults);
    if faults.len() > before {
        return None;
    }
    let names = Named {
        states: states.iter().map(|(name, _)| name.as_str()).collect(),
        moves: moves.iter().map(|(name, _)| name.as_str()).collect(),
        spot,
    };
    let ends = names.listed(raw.ends.as_ref(), "ends", faults);
    let starts = names.listed(raw.starts.as_ref(), "starts", faults);
    let leads = names.leads(raw.leads.as_deref().unwrap_or_default(), faults);
    let not_safe = names.not_safe(raw, faults);
    let moves = moves.iter().filter_map(|(name, says)| {
        let text = spot.line(&format!("moves.{name}"), says).map_err(|fault| faults.push(fault)).ok()?;
        Some(Move { name: name.clone(), text })
    });
    let moves = moves.collect();
    let states = states.iter().enumerate();
    let states = states.filter_map(|(index, (name, raw))| state(name, raw, ends.contains(&index), spot, faults));
    let rounds =
        Rounds { states: states.collect(), starts, moves, leads, not_safe, most: raw.rounds.unwrap_or(MOST_ROUNDS) };
    if faults.len() == before {
        check(&rounds, spot, faults);
    }
    (faults.len() == before).then_some(rounds)
}

/// The entries of a list by name, if there are as many as there may be.
fn named<'a, V>(
    list: &'a [(String, V)],
    field: &str,
    range: &std::ops::RangeInclusive<usize>,
    spot: &Spot<'_>,
    faults: &mut Vec<Fault>,
) -> &'a [(String, V)] {
    if !range.contains(&list.len()) {
        let message =
            format!("{} {field} are written; there are {} to {} of them", list.len(), range.start(), range.end());
        faults.push(spot.fault(field, "missing-key", message, format!("write them under `{field}:`, each by a name")));
    }
    for (name, _) in list {
        faults.extend(check_name(name, &format!("{field}.{name}"), spot).err());
    }
    list
}

fn state(name: &str, raw: &RawState, right: bool, spot: &Spot<'_>, faults: &mut Vec<Fault>) -> Option<State> {
    let field = format!("states.{name}");
    let says = spot.line(&format!("{field}.says"), &raw.says).map_err(|fault| faults.push(fault)).ok()?;
    let nothing = Reckoning::default();
    let picture = match &raw.picture {
        Some(raw) => Some(picture::read(raw, &format!("{field}.picture"), spot, &nothing, faults)?),
        None => None,
    };
    Some(State { name: name.to_owned(), says, picture, right })
}

/// The names of states and moves, and where they are written.
struct Named<'a> {
    states: Vec<&'a str>,
    moves: Vec<&'a str>,
    spot: &'a Spot<'a>,
}

impl Named<'_> {
    fn find(&self, known: &[&str], what: &str, name: &str, field: &str) -> Result<usize, Fault> {
        known.iter().position(|one| *one == name).ok_or_else(|| {
            let mend = nearest_name(name, known.iter().copied())
                .map_or_else(|| format!("add it under `{what}s:`"), |near| format!("did you mean `{near}`?"));
            self.spot.fault(field, "dangling", format!("there is no {what} `{name}`"), mend)
        })
    }

    fn state(&self, name: &str, field: &str) -> Result<usize, Fault> {
        self.find(&self.states, "state", name, field)
    }

    /// A list of states.
    fn listed(&self, list: Option<&Vec<String>>, field: &str, faults: &mut Vec<Fault>) -> Vec<usize> {
        let Some(list) = list.filter(|list| !list.is_empty()) else {
            let mend = format!("name at least one state: `{field}: […]`");
            faults.push(self.spot.fault(field, "missing-key", format!("the key `{field}` is missing"), mend));
            return Vec::new();
        };
        let found = list.iter().enumerate().map(|(place, name)| self.state(name, &format!("{field}[{place}]")));
        found.filter_map(|found| found.map_err(|fault| faults.push(fault)).ok()).collect()
    }

    fn leads(&self, list: &[RawLead], faults: &mut Vec<Fault>) -> Vec<Lead> {
        let mut leads: Vec<Lead> = Vec::new();
        for (place, raw) in list.iter().enumerate() {
            let field = format!("leads[{place}]");
            for from in &raw.from.0 {
                match self.read_lead(raw, from, &field) {
                    Ok(lead) if leads.iter().any(|one| (one.from, one.by) == (lead.from, lead.by)) => {
                        let message = format!("`{}` is said twice to lead somewhere from `{from}`", raw.by);
                        faults.push(self.spot.fault(&field, "duplicate-id", message, "take one of them out"));
                    }
                    Ok(lead) => leads.push(lead),
                    Err(fault) => faults.push(fault),
                }
            }
        }
        leads
    }

    fn read_lead(&self, raw: &RawLead, from: &str, field: &str) -> Result<Lead, Fault> {
        Ok(Lead {
            from: self.state(from, &format!("{field}.from"))?,
            by: self.find(&self.moves, "move", &raw.by, &format!("{field}.by"))?,
            to: self.state(&raw.to, &format!("{field}.to"))?,
            because: self.spot.line(&format!("{field}.because"), &raw.because)?,
        })
    }

    fn not_safe(&self, raw: &RawExercise, faults: &mut Vec<Fault>) -> Vec<(usize, Text)> {
        let mut found = Vec::new();
        for (name, because) in raw.not_safe.iter().flat_map(|list| &list.0) {
            let field = format!("unsafe.{name}");
            let by = self.find(&self.moves, "move", name, &field);
            match by.and_then(|by| Ok((by, self.spot.line(&field, because)?))) {
                Ok(one) => found.push(one),
                Err(fault) => faults.push(fault),
            }
        }
        found
    }
}

/// What has to hold of the whole.
fn check(rounds: &Rounds, spot: &Spot<'_>, faults: &mut Vec<Fault>) {
    let mut say = |field: &str, message: String, mend: &str| faults.push(spot.fault(field, "rounds", message, mend));
    if !(2..=MOST_ROUNDS).contains(&rounds.most) {
        say("rounds", format!("{} rounds", rounds.most), "there are 2 to 5 rounds");
        return;
    }
    let ways = rounds.ways();
    let name = |state: usize| rounds.states.get(state).map_or("", |state| state.name.as_str());
    for start in &rounds.starts {
        match ways.shortest(*start).map(|way| way.len()) {
            Some(0) => say("starts", format!("`{}` is right already", name(*start)), "begin with a state that is not"),
            Some(count) if count <= rounds.most => {}
            Some(count) => {
                let message =
                    format!("from `{}` it takes {count} moves, and {} may be done", name(*start), rounds.most);
                say("starts", message, "bring it nearer, or allow more rounds");
            }
            None => say(
                "starts",
                format!("no safe way leads from `{}` to an end", name(*start)),
                "add what is lacking under `leads:`",
            ),
        }
    }
    if let Some(lead) = rounds.leads.iter().find(|lead| ways.not_safe.get(lead.by).is_some_and(|not_safe| *not_safe)) {
        let message = format!("the unsafe move `{}` leads somewhere", rounds.moves[lead.by].name);
        say("leads", message, "an unsafe move leads nowhere; take it out of `leads:`");
    }
    let reached = |state: usize| rounds.starts.contains(&state) || rounds.leads.iter().any(|lead| lead.to == state);
    if let Some(state) = (0..rounds.states.len()).find(|state| !reached(*state)) {
        say("states", format!("nothing leads to `{}`", name(state)), "add a lead to it, or take it out");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Any small table: states, moves, which are right, which are unsafe.
    fn tables() -> impl Strategy<Value = Ways> {
        (2_usize..6, 1_usize..5).prop_flat_map(|(states, moves)| {
            let leads = prop::collection::vec(prop::collection::vec(0..states, moves), states);
            let right = prop::collection::vec(any::<bool>(), states);
            let not_safe = prop::collection::vec(prop::bool::weighted(0.2), moves);
            (leads, right, not_safe).prop_map(|(leads, right, not_safe)| Ways { leads, right, not_safe })
        })
    }

    /// All rows of moves of that length.
    fn rows(moves: usize, length: usize) -> Vec<Vec<usize>> {
        (0..length).fold(vec![Vec::new()], |rows, _| {
            rows.iter().flat_map(|row| (0..moves).map(move |by| [&row[..], &[by]].concat())).collect()
        })
    }

    proptest! {
        #[test]
        fn the_shortest_way_is_the_first_that_trying_all_rows_of_moves_finds(ways in tables()) {
            let moves = ways.not_safe.len();
            let ends_right = |start: usize, row: &Vec<usize>| {
                let end = ways.walk(start, row).last().copied().unwrap_or(start);
                ways.right[end] && row.iter().all(|by| !ways.not_safe[*by])
            };
            for start in 0..ways.right.len() {
                // No shortest way visits a state twice.
                let tried = (0..ways.right.len()).find(|length| rows(moves, *length).iter().any(|row| ends_right(start, row)));
                let found = ways.shortest(start);
                prop_assert_eq!(found.as_ref().map(Vec::len), tried);
                prop_assert!(found.is_none_or(|row| ends_right(start, &row)));
            }
        }
    }

    #[test]
    fn what_is_not_in_the_table_changes_nothing() {
        let ways = Ways { leads: vec![vec![1], vec![1]], right: vec![false, true], not_safe: vec![false] };
        assert_eq!(ways.walk(0, &[7, 0, 7]), [0, 1, 1]);
        assert_eq!(ways.walk(9, &[0]), [9]);
        assert_eq!(ways.shortest(9), None);
    }
}
