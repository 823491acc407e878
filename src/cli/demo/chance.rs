//! Chance that is the same in every demo.

use rand::rngs::ChaCha8Rng;
use rand::{Rng, SeedableRng};
use sha2::{Digest, Sha256};

use crate::records::Salts;

/// What every key begins with: a change of it is another story.
const WAY: &str = "gearside-demo-1";

/// A stream of chance for one thing that happens in the story. It is keyed by
/// what happens, never by a date, so that the demo of any day tells the same.
#[derive(Debug)]
pub(super) struct Chance(ChaCha8Rng);

impl Chance {
    pub(super) fn of(key: &[&str]) -> Self {
        let mut hash = Sha256::new();
        for field in std::iter::once(&WAY).chain(key) {
            // Each field with its length in front, so that no two different keys read alike.
            hash.update((field.len() as u64).to_be_bytes());
            hash.update(field.as_bytes());
        }
        Self(ChaCha8Rng::from_seed(hash.finalize().into()))
    }

    /// A whole number below `count`; 0 if `count` is 0. The bias of the
    /// remainder is below one in 10^16 and harms no story.
    pub(super) fn below(&mut self, count: usize) -> usize {
        let count = u64::try_from(count).unwrap_or(u64::MAX).max(1);
        usize::try_from(self.0.next_u64() % count).unwrap_or(0)
    }

    /// Whether something of that many per cent happens.
    pub(super) fn happens(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    /// One of a list.
    pub(super) fn one_of<'l, T>(&mut self, list: &'l [T]) -> Option<&'l T> {
        list.get(self.below(list.len()))
    }
}

/// Salts that are the same in every demo. The names and texts of a demo are
/// invented, so nothing is lost when someone can guess at them.
#[derive(Debug)]
pub(super) struct SetSalts(Chance);

impl SetSalts {
    pub(super) fn new() -> Self {
        Self(Chance::of(&["salts"]))
    }
}

impl Salts for SetSalts {
    fn next(&mut self) -> [u8; 16] {
        let mut salt = [0; 16];
        self.0.0.fill_bytes(&mut salt);
        salt
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_key_gives_the_same_chance_and_another_does_not() {
        let words = |key: &[&str]| {
            let mut chance = Chance::of(key);
            (0..4).map(|_| chance.below(1_000_000)).collect::<Vec<_>>()
        };
        assert_eq!(words(&["a", "b"]), words(&["a", "b"]));
        assert_ne!(words(&["a", "b"]), words(&["ab"]));
        assert_ne!(SetSalts::new().next(), [0; 16]);
    }
}
