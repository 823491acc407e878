//! The valid order nearest to a given one.

use super::order::Pair;

/// More moves than this are not tried through; at most 12 are shown.
const MOST_MOVES: usize = 20;

/// The valid order of the shown moves that has the fewest inversions against
/// the given order; of several, the first when their moves are compared by
/// their places in the given order.
///
/// A move that was left out is taken to stand behind the others, in the order
/// shown; of a doubled one the first place counts. Exact: every set of moves
/// that can stand behind the others is looked at once.
///
/// ```
/// use gearside::marking::{Pair, nearest_valid_order};
/// let pair = |first, then| Pair { first, then, safety: false, because: vec![] };
/// // 2 must come before 0; 1 is free.
/// assert_eq!(nearest_valid_order(&[0, 1, 2], &[0, 1, 2], &[pair(2, 0)]), [1, 2, 0]);
/// ```
#[must_use]
pub fn nearest_valid_order(given: &[usize], shown: &[usize], pairs: &[Pair]) -> Vec<usize> {
    let moves = as_given(given, shown);
    if moves.len() > MOST_MOVES {
        return super::one_valid_order(&moves, pairs);
    }
    let place = |wanted: usize| moves.iter().position(|one| *one == wanted);
    let mut needs = vec![0_usize; moves.len()];
    for pair in pairs {
        if let (Some(first), Some(then)) = (place(pair.first), place(pair.then)) {
            needs[then] |= 1 << first;
        }
    }
    let least = least_inversions(&needs);
    let mut placed = 0_usize;
    let mut order = Vec::with_capacity(moves.len());
    while order.len() < moves.len() {
        // The lowest place that still reaches the least is the first of the ties.
        let next = (0..moves.len()).find(|next| {
            may_follow(*next, placed, &needs)
                && least[placed | 1 << next]
                    .is_some_and(|rest| Some(rest + passed_over(*next, placed)) == least[placed])
        });
        let Some(next) = next else { return super::one_valid_order(&moves, pairs) };
        placed |= 1 << next;
        order.push(moves[next]);
    }
    order
}

/// The shown moves, each once, as they were given.
fn as_given(given: &[usize], shown: &[usize]) -> Vec<usize> {
    let mut moves: Vec<usize> = Vec::with_capacity(shown.len());
    for one in given.iter().filter(|one| shown.contains(one)).chain(shown) {
        if !moves.contains(one) {
            moves.push(*one);
        }
    }
    moves
}

fn may_follow(next: usize, placed: usize, needs: &[usize]) -> bool {
    placed & (1 << next) == 0 && needs[next] & !placed == 0
}

/// How many moves that were given before `next` are not yet placed: each is an inversion.
fn passed_over(next: usize, placed: usize) -> u32 {
    (!placed & ((1 << next) - 1)).count_ones()
}

/// For each set of placed moves: the fewest inversions that placing the rest
/// adds; `None` where the rest cannot be placed.
fn least_inversions(needs: &[usize]) -> Vec<Option<u32>> {
    let all = (1_usize << needs.len()) - 1;
    let mut least: Vec<Option<u32>> = vec![None; all + 1];
    least[all] = Some(0);
    for placed in (0..all).rev() {
        least[placed] = (0..needs.len())
            .filter(|next| may_follow(*next, placed, needs))
            .filter_map(|next| Some(least[placed | 1 << next]? + passed_over(next, placed)))
            .min();
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::marking::mark_order;
    use proptest::prelude::*;

    fn pair(first: usize, then: usize) -> Pair {
        Pair { first, then, safety: false, because: vec![] }
    }

    /// All orders of `moves`, in lexicographic order of their places.
    fn all_orders(moves: &[usize]) -> Vec<Vec<usize>> {
        if moves.is_empty() {
            return vec![vec![]];
        }
        (0..moves.len())
            .flat_map(|at| {
                let mut rest = moves.to_vec();
                let first = rest.remove(at);
                all_orders(&rest).into_iter().map(move |tail| [vec![first], tail].concat())
            })
            .collect()
    }

    fn inversions(order: &[usize], given: &[usize]) -> usize {
        let place = |one: &usize| given.iter().position(|other| other == one);
        (0..order.len())
            .flat_map(|a| (a + 1..order.len()).map(move |b| (a, b)))
            .filter(|(a, b)| place(&order[*a]) > place(&order[*b]))
            .count()
    }

    #[test]
    fn a_valid_order_is_nearest_to_itself_and_left_out_moves_come_last() {
        let pairs = [pair(0, 1), pair(1, 2)];
        assert_eq!(nearest_valid_order(&[3, 0, 1, 2], &[0, 1, 2, 3], &pairs), [3, 0, 1, 2]);
        assert_eq!(nearest_valid_order(&[2, 2, 9], &[0, 1, 2], &pairs), [0, 1, 2]);
        assert_eq!(nearest_valid_order(&[], &[], &[]), Vec::<usize>::new());
    }

    proptest! {
        #[test]
        fn it_is_the_first_of_the_best_of_all_orders(
            given in Just(vec![0_usize, 1, 2, 3, 4]).prop_shuffle(),
            edges in proptest::collection::vec((0usize..5, 0usize..5), 0..6),
        ) {
            // Pairs that go up keep it acyclic; their closure, as `pairs` gives it.
            let mut list: Vec<(usize, usize)> = edges.into_iter().filter(|(a, b)| a < b).collect();
            for _ in 0..4 {
                let longer: Vec<_> = list.iter().flat_map(|(a, b)| list.iter().filter(move |(c, _)| b == c).map(move |(_, d)| (*a, *d))).collect();
                list.extend(longer);
                list.sort_unstable();
                list.dedup();
            }
            let pairs: Vec<Pair> = list.into_iter().map(|(a, b)| pair(a, b)).collect();
            let valid: Vec<Vec<usize>> = all_orders(&given).into_iter().filter(|order| mark_order(order, &pairs).broken.is_empty()).collect();
            let fewest = valid.iter().map(|order| inversions(order, &given)).min();
            let best = valid.iter().find(|order| Some(inversions(order, &given)) == fewest);
            prop_assert_eq!(Some(&nearest_valid_order(&given, &[0, 1, 2, 3, 4], &pairs)), best);
        }
    }
}
