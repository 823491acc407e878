//! Choices: the mark of what was picked.

/// The mark for one picked option: 1 if it is a right one.
#[must_use]
pub fn choose_one(right: &[bool], picked: usize) -> f64 {
    if right.get(picked) == Some(&true) { 1.0 } else { 0.0 }
}

/// The mark for several picked options: right ticks less wrong ticks over the
/// number of right ones, at least 0.
///
/// ```
/// use gearside::marking::choose_some;
/// let right = [true, true, false, false];
/// assert_eq!(choose_some(&right, &[0, 1]), 1.0);
/// assert_eq!(choose_some(&right, &[0]), 0.5);
/// assert_eq!(choose_some(&right, &[0, 2]), 0.0);
/// ```
#[must_use]
pub fn choose_some(right: &[bool], picked: &[usize]) -> f64 {
    let ticked = |index: usize| picked.contains(&index);
    let count = |wanted: bool| {
        f64::from(
            u32::try_from((0..right.len()).filter(|index| right[*index] == wanted && ticked(*index)).count())
                .unwrap_or(0),
        )
    };
    let all = f64::from(u32::try_from(right.iter().filter(|one| **one).count()).unwrap_or(0));
    if all == 0.0 { 0.0 } else { ((count(true) - count(false)) / all).max(0.0) }
}
