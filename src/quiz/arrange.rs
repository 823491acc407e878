//! The order in which a quiz asks: no two neighbours with the same formula where
//! that can be, and neighbours of different competencies where that can be too.

use std::collections::BTreeMap;

use super::candidate::Candidate;

/// Puts a set in order.
pub(super) fn arrange(candidates: &[Candidate<'_>], mut set: Vec<usize>) -> Vec<usize> {
    set.sort_by_key(|index| candidates[*index].rank);
    let mut order: Vec<usize> = Vec::with_capacity(set.len());
    while !set.is_empty() {
        let before = order.last().copied();
        let best = (0..set.len()).min_by_key(|at| cost(candidates, &set, *at, before)).unwrap_or(0);
        order.push(set.remove(best));
    }
    order
}

/// What speaks against taking the exercise at `at` next.
fn cost(candidates: &[Candidate<'_>], set: &[usize], at: usize, before: Option<usize>) -> (bool, usize, bool, bool) {
    let own = &candidates[set[at]];
    let before = before.map(|index| &candidates[index]);
    let clashes = before.is_some_and(|before| own.formula.is_some() && before.formula == own.formula);
    let mut left: BTreeMap<usize, usize> = BTreeMap::new();
    for formula in set.iter().filter_map(|index| candidates[*index].formula) {
        *left.entry(formula).or_default() += 1;
    }
    if let Some(count) = own.formula.and_then(|formula| left.get_mut(&formula)) {
        *count -= 1;
    }
    // How many of the rest must then stand beside their like, come what may.
    let rest = set.len() - 1;
    let over = |(formula, count): (&usize, &usize)| {
        let places = if own.formula == Some(*formula) { rest / 2 } else { rest.div_ceil(2) };
        count.saturating_sub(places)
    };
    let forced = left.iter().map(over).max().unwrap_or(0);
    let same_competency = before.is_some_and(|before| before.exercise.competency == own.exercise.competency);
    let same_stage = before.is_some_and(|before| before.stage == own.stage);
    (clashes, forced, same_competency, same_stage)
}
