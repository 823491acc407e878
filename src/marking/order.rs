//! Orders: pairs kept and broken, and the orders that are valid.

use std::collections::VecDeque;

use serde::{Deserialize, Serialize};

use crate::programme::{Order, Paths};

/// Two shown moves of which one must come first.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pair {
    /// The move that comes first.
    pub first: usize,
    /// The move that comes later.
    pub then: usize,
    /// Whether a path between the two carries a safety edge.
    pub safety: bool,
    /// The precedences along the shortest path between the two.
    pub because: Vec<usize>,
}

/// The mark of a given order.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderMark {
    /// Between 0 and 1.
    pub mark: f64,
    /// How many pairs are kept.
    pub kept: usize,
    /// The indexes of the broken pairs.
    pub broken: Vec<usize>,
    /// Whether a safety pair is broken.
    pub hold: bool,
}

/// All pairs among the shown moves: the transitive closure of what comes
/// before what, restricted to what is shown; by first, then by later move.
#[must_use]
pub fn pairs(order: &Order, shown: &[usize]) -> Vec<Pair> {
    let mut sorted = shown.to_vec();
    sorted.sort_unstable();
    let all = order.paths();
    let mut list = Vec::new();
    for &first in &sorted {
        let paths = shortest_paths(order, first);
        for &then in sorted.iter().filter(|then| **then != first) {
            if let Some(because) = &paths[then] {
                list.push(Pair {
                    first,
                    then,
                    safety: carries_safety(order, &all, first, then),
                    because: because.clone(),
                });
            }
        }
    }
    list
}

/// For each move reachable from `from`: the edges of a shortest path to it.
fn shortest_paths(order: &Order, from: usize) -> Vec<Option<Vec<usize>>> {
    let mut paths: Vec<Option<Vec<usize>>> = vec![None; order.moves.len()];
    let mut queue = VecDeque::from([(from, Vec::new())]);
    while let Some((at, path)) = queue.pop_front() {
        for (index, edge) in order.before.iter().enumerate().filter(|(_, edge)| edge.first == at) {
            if paths[edge.then].is_none() {
                let mut longer = path.clone();
                longer.push(index);
                paths[edge.then] = Some(longer.clone());
                queue.push_back((edge.then, longer));
            }
        }
    }
    paths
}

/// Whether any path from `first` to `then` carries a safety edge.
fn carries_safety(order: &Order, paths: &Paths, first: usize, then: usize) -> bool {
    let reaches = |from: usize, to: usize| from == to || paths.lead(from, to);
    order.before.iter().any(|edge| edge.safety && reaches(first, edge.first) && reaches(edge.then, then))
}

/// Marks a given order. A pair is kept if both moves stand in it exactly once
/// and in order. Since a random order keeps half, half the pairs are worth nothing.
#[must_use]
pub fn mark_order(given: &[usize], pairs: &[Pair]) -> OrderMark {
    let place = |wanted: usize| {
        let mut places = given.iter().enumerate().filter(|(_, one)| **one == wanted).map(|(place, _)| place);
        places.next().filter(|_| places.next().is_none())
    };
    let kept = |pair: &Pair| place(pair.first).zip(place(pair.then)).is_some_and(|(first, then)| first < then);
    let broken: Vec<usize> = (0..pairs.len()).filter(|index| !kept(&pairs[*index])).collect();
    let hold = broken.iter().any(|index| pairs[*index].safety);
    let kept = pairs.len() - broken.len();
    let share = |part: usize| f64::from(u32::try_from(part).unwrap_or(u32::MAX));
    let mark = if hold {
        0.0
    } else if pairs.is_empty() {
        1.0
    } else {
        (2.0 * share(kept) / share(pairs.len()) - 1.0).max(0.0)
    };
    OrderMark { mark, kept, broken, hold }
}

/// A valid order of the shown moves: the first in the order shown.
#[must_use]
pub fn one_valid_order(shown: &[usize], pairs: &[Pair]) -> Vec<usize> {
    let mut waiting = shown.to_vec();
    let mut order = Vec::new();
    while let Some(next) =
        waiting.iter().position(|one| !pairs.iter().any(|pair| pair.then == *one && waiting.contains(&pair.first)))
    {
        order.push(waiting.remove(next));
    }
    order
}

/// How many orders of the shown moves keep every pair, exactly; at most 12 moves are shown.
#[must_use]
pub fn valid_orders(shown: &[usize], pairs: &[Pair]) -> u64 {
    let place = |wanted: usize| shown.iter().position(|one| *one == wanted);
    let mut needs = vec![0_usize; shown.len()];
    for pair in pairs {
        if let (Some(first), Some(then)) = (place(pair.first), place(pair.then)) {
            needs[then] |= 1 << first;
        }
    }
    // ways[set]: in how many orders the moves of `set` can come first.
    let mut ways = vec![0_u64; 1 << shown.len().min(20)];
    ways[0] = 1;
    for set in 0..ways.len() {
        for (index, need) in needs.iter().enumerate() {
            if ways[set] > 0 && set & (1 << index) == 0 && need & !set == 0 {
                ways[set | (1 << index)] += ways[set];
            }
        }
    }
    ways.last().copied().unwrap_or(1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::programme::{Before, Move};
    use crate::prose::Text;
    use proptest::prelude::*;

    fn order(moves: usize, edges: &[(usize, usize, bool)]) -> Order {
        Order {
            moves: (0..moves).map(|index| Move { name: format!("m{index}"), text: Text::default() }).collect(),
            before: edges
                .iter()
                .map(|&(first, then, safety)| Before { first, then, because: Text::default(), safety })
                .collect(),
            show: (2, moves),
            strict: false,
        }
    }

    #[test]
    fn a_pair_through_a_move_that_is_not_shown_still_counts() {
        let order = order(4, &[(0, 1, true), (1, 2, false), (0, 3, false)]);
        let pairs = pairs(&order, &[3, 2, 0]);
        assert_eq!(
            pairs,
            vec![
                Pair { first: 0, then: 2, safety: true, because: vec![0, 1] },
                Pair { first: 0, then: 3, safety: false, because: vec![2] },
            ]
        );
    }

    #[test]
    fn counts_of_valid_orders_are_those_of_combinatorics() {
        // n! without precedences; n!/2 with one; Catalan numbers for 2×n ladders (1, 2, 5, 14:
        // standard Young tableaux, hook length formula).
        assert_eq!(valid_orders(&[0, 1, 2, 3, 4], &[]), 120);
        let ladder = order(
            6,
            &[(0, 1, false), (1, 2, false), (3, 4, false), (4, 5, false), (0, 3, false), (1, 4, false), (2, 5, false)],
        );
        let shown = [0, 1, 2, 3, 4, 5];
        assert_eq!(valid_orders(&shown, &pairs(&ladder, &shown)), 5);
        let one = order(5, &[(0, 1, false)]);
        assert_eq!(valid_orders(&[0, 1, 2, 3, 4], &pairs(&one, &[0, 1, 2, 3, 4])), 60);
    }

    proptest! {
        #[test]
        fn an_order_and_its_reverse_share_the_pairs(edges in proptest::collection::vec((0usize..6, 1usize..6), 1..9)) {
            let edges: Vec<_> = edges.iter().map(|&(first, gap)| (first, (first + gap).min(6), false)).filter(|(a, b, _)| a < b).collect();
            let order = order(7, &edges);
            let shown: Vec<usize> = (0..7).collect();
            let pairs = pairs(&order, &shown);
            let valid = one_valid_order(&[6, 5, 4, 3, 2, 1, 0], &pairs);
            prop_assert_eq!(mark_order(&valid, &pairs).broken.len(), 0);
            let reversed: Vec<usize> = valid.iter().rev().copied().collect();
            prop_assert_eq!(mark_order(&reversed, &pairs).kept, 0);
            prop_assert!(valid_orders(&shown, &pairs) >= 1);
        }
    }
}
