//! Work that two threads share.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};

/// How many threads share the work.
const THREADS: usize = 2;

/// Makes `count` things on two threads, each by its index; they come in order.
///
/// ```
/// use gearside::ground::side_by_side;
/// assert_eq!(side_by_side(4, |index| index * index), [0, 1, 4, 9]);
/// ```
pub fn side_by_side<T: Send>(count: usize, make: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let made: Mutex<BTreeMap<usize, T>> = Mutex::new(BTreeMap::new());
    let work = || {
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            if index >= count {
                break;
            }
            let one = make(index);
            made.lock().unwrap_or_else(PoisonError::into_inner).insert(index, one);
        }
    };
    std::thread::scope(|scope| {
        (1..THREADS).for_each(|_| drop(scope.spawn(work)));
        work();
    });
    made.into_inner().unwrap_or_else(PoisonError::into_inner).into_values().collect()
}
