//! What an apprentice of the story writes into a docket.

use super::cast::Apprentice;
use super::chance::Chance;
use crate::ground::Fault;
use crate::marking::{Asks, Chain, ChooseRules, NumericRules, OwnAnswer, OwnKey, RoundsRules, one_valid_order};
use crate::programme::Pick;
use crate::quiz::{KeptDocket, KeptExercise, Snapshot};

/// The answers of a docket. Where the competency is `breaks`, the order is
/// turned round, safety pairs and all; nobody else breaks one.
pub(super) fn answers(
    snapshot: &Snapshot,
    kept: &KeptDocket,
    person: &Apprentice,
    tag: &str,
    breaks: Option<&str>,
) -> Result<Vec<Vec<String>>, Fault> {
    let exercises = snapshot.exercises.iter().zip(&kept.exercises);
    let written = exercises.map(|(exercise, pull)| {
        let mut chance = Chance::of(&["sit", tag, person.code.as_str(), &exercise.exercise]);
        let right = chance.happens(person.strength_in(&exercise.competency));
        let breaks = breaks == Some(exercise.competency.as_str());
        Hand { exercise, own: &pull.own, right, breaks, chance }.write()
    });
    written.collect()
}

struct Hand<'a> {
    exercise: &'a KeptExercise,
    own: &'a OwnKey,
    right: bool,
    breaks: bool,
    chance: Chance,
}

impl Hand<'_> {
    fn write(mut self) -> Result<Vec<String>, Fault> {
        match &self.exercise.rules.asks {
            Asks::Numeric(rules) => self.numbers(rules),
            Asks::Order(_) => Ok(vec![self.order()]),
            Asks::Rounds(rules) => Ok(vec![self.rounds(rules)]),
            Asks::Choose(rules) if rules.questions.is_empty() => Ok(vec![self.choice(rules, self.own)]),
            Asks::Choose(rules) => {
                let own: Vec<OwnKey> = (0..rules.questions.len()).map(|place| self.own.of_question(place)).collect();
                Ok(own.iter().map(|own| self.choice(rules, own)).collect())
            }
        }
    }

    fn numbers(&mut self, rules: &NumericRules) -> Result<Vec<String>, Fault> {
        let parts = &self.own.parts;
        let printed = || parts.iter().map(|part| part.printed.clone()).collect();
        if self.right {
            return Ok(printed());
        }
        let at = self.chance.below(parts.len());
        let turn = self.chance.one_of(&parts[at].intervals.turns).map(|turn| turn.at);
        let wrong = match self.chance.below(10) {
            0 => return Ok(vec![String::new(); parts.len()]),
            1 | 2 => None,
            _ => turn,
        };
        let mut answers: Vec<String> = printed();
        let mut typed: Vec<f64> = parts.iter().map(|part| part.key).collect();
        typed[at] = wrong.unwrap_or(parts[at].key * 1.37 + 0.11);
        answers[at] = as_typed(typed[at]);
        // What follows is built on it, and right given that.
        let chain = Chain::open(rules)?;
        let mut earlier = Vec::new();
        for place in 0..parts.len() {
            let Some((step, _)) = chain.asked(place) else { break };
            if place > at
                && let Some((_, given)) = chain.right_given(self.own, &earlier, place)
            {
                typed[place] = f64::midpoint(given.lo, given.hi);
                answers[place] = as_typed(typed[place]);
            }
            earlier.push(OwnAnswer { step, in_unit: typed[place] });
        }
        Ok(answers)
    }

    fn order(&mut self) -> String {
        let own = self.own;
        let mut order = one_valid_order(&own.shown, &own.pairs);
        if self.breaks {
            order.reverse();
        } else if !self.right {
            // Two neighbours change places, where nobody gets hurt by it.
            let pair =
                |at: &usize| own.pairs.iter().find(|pair| (pair.first, pair.then) == (order[*at], order[at + 1]));
            let places: Vec<usize> =
                (0..order.len().saturating_sub(1)).filter(|at| pair(at).is_some_and(|pair| !pair.safety)).collect();
            if let Some(at) = self.chance.one_of(&places) {
                order.swap(*at, at + 1);
            }
        }
        in_a_row(order.iter().map(|index| shown_as(own, *index)))
    }

    /// The fewest moves, or the first of them alone; who has no eye for what hurts does an unsafe one.
    fn rounds(&mut self, rules: &RoundsRules) -> String {
        let start = self.own.rounds.as_ref().map_or(0, |rounds| rounds.start);
        let mut moves = rules.ways.shortest(start).unwrap_or_default();
        let not_safe = rules.ways.not_safe.iter().position(|not_safe| *not_safe);
        match not_safe.filter(|_| self.breaks) {
            Some(by) => moves = vec![by],
            None if !self.right => {
                let all: Vec<usize> = (0..rules.ways.not_safe.len()).filter(|by| !rules.ways.not_safe[*by]).collect();
                moves.truncate(moves.len() - 1);
                moves.extend(self.chance.one_of(&all));
            }
            None => {}
        }
        in_a_row(moves.iter().map(|by| shown_as(self.own, *by)))
    }

    fn choice(&mut self, rules: &ChooseRules, own: &OwnKey) -> String {
        let is_right = |index: &usize| rules.options.get(*index).is_some_and(|option| option.right);
        let numbered = (1..).zip(&own.shown);
        let (right, wrong): (Vec<(usize, &usize)>, Vec<_>) = numbered.partition(|(_, index)| is_right(index));
        if self.right {
            let most = if rules.pick == Pick::One { 1 } else { right.len() };
            return in_a_row(right.into_iter().take(most).map(|(number, _)| number));
        }
        in_a_row(self.chance.one_of(&wrong).into_iter().map(|(number, _)| *number))
    }
}

/// The number under which a move is shown.
fn shown_as(own: &OwnKey, index: usize) -> usize {
    own.shown.iter().position(|shown| *shown == index).map_or(1, |at| at + 1)
}

fn in_a_row(numbers: impl Iterator<Item = usize>) -> String {
    numbers.map(|number| number.to_string()).collect::<Vec<_>>().join(" ")
}

/// A number as a pocket calculator shows it.
fn as_typed(value: f64) -> String {
    let seven: f64 = format!("{value:.6e}").parse().unwrap_or(value);
    seven.to_string()
}
