//! Chance that never changes its mind: one keyed stream per given.

use rand::rngs::ChaCha8Rng;
use rand::{Rng, SeedableRng};
use sha2::{Digest, Sha256};

/// The name of this way of pulling. A change of it changes every pull.
const WAY: &str = "gearside-pull-1";

/// What a stream is keyed by, besides the given's name.
#[derive(Debug, Clone, Copy)]
pub(super) struct Root<'a> {
    pub(super) exercise: &'a str,
    pub(super) seed: &'a str,
    pub(super) number: u64,
    pub(super) try_number: u32,
}

impl Root<'_> {
    /// What all streams of the root share, hashed once.
    pub(super) fn stem(self) -> Stem {
        let (number, try_number) = (self.number.to_string(), self.try_number.to_string());
        let mut stem = Stem(Sha256::new());
        [WAY, self.exercise, self.seed, &number, &try_number].into_iter().for_each(|field| stem.add(field));
        stem
    }
}

/// The hash of a root: all that is left to add is the name of a given.
#[derive(Clone)]
pub(super) struct Stem(Sha256);

impl Stem {
    /// Adds a field with its length in front, so that no two different keys read alike.
    fn add(&mut self, field: &str) {
        self.0.update((field.len() as u64).to_be_bytes());
        self.0.update(field.as_bytes());
    }

    /// The stream for a given (or, with a colon in it, for something else of the exercise).
    pub(super) fn chance(&self, given: &str) -> Chance {
        let mut whole = self.clone();
        whole.add(given);
        Chance(ChaCha8Rng::from_seed(whole.0.finalize().into()))
    }
}

/// A stream of chance for one given.
pub(super) struct Chance(ChaCha8Rng);

impl Chance {
    /// The only stream that is wanted of a root.
    pub(super) fn new(root: Root<'_>, given: &str) -> Self {
        root.stem().chance(given)
    }

    /// A whole number below `count`, all equally likely; 0 if `count` is 0.
    pub(super) fn below(&mut self, count: u64) -> u64 {
        if count == 0 {
            return 0;
        }
        // The top of the range that is no whole multiple of `count` is thrown away.
        let fair = u64::MAX - (u64::MAX % count + 1) % count;
        loop {
            let word = self.0.next_u64();
            if word <= fair {
                return word % count;
            }
        }
    }

    /// A number between 0 and 1, in steps of 2^-53.
    fn unit(&mut self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "53 bits fit exactly")]
        let word = (self.0.next_u64() >> 11) as f64;
        word / 9_007_199_254_740_992.0
    }

    /// A reading error with standard deviation 1: the sum of twelve uniform
    /// numbers, which never strays beyond ±6 and needs no logarithm.
    pub(super) fn error(&mut self) -> f64 {
        (0..12).map(|_| self.unit()).sum::<f64>() - 6.0
    }

    /// Puts a list in a random order.
    pub(super) fn shuffle<T>(&mut self, list: &mut [T]) {
        for end in (1..list.len()).rev() {
            let other = self.below(end as u64 + 1);
            list.swap(end, usize::try_from(other).unwrap_or(0));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn root(number: u64) -> Root<'static> {
        Root { exercise: "film-on-the-web", seed: "1", number, try_number: 0 }
    }

    #[test]
    fn the_stream_of_a_key_never_changes() {
        // Golden values: SHA-256 and ChaCha8 (RFC 8439 with 8 rounds) computed with
        // Python 3.11 hashlib and a plain ChaCha written from the RFC.
        let mut chance = Chance::new(root(0), "roll");
        let words: Vec<u64> = (0..3).map(|_| chance.0.next_u64()).collect();
        assert_eq!(words, GOLDEN);
    }

    const GOLDEN: [u64; 3] = [18_006_831_896_966_154_996, 10_947_008_914_738_792_804, 14_033_222_830_770_325_059];

    #[test]
    fn what_is_made_of_the_words_never_changes() {
        // Golden values from the same Python program: a change of any of these would
        // change the numbers of every exercise.
        let mut chance = Chance::new(root(0), "roll");
        let choices: Vec<u64> =
            [5, 5, 120, 7, 10_000, 3, 1, 1 << 63].into_iter().map(|count| chance.below(count)).collect();
        assert_eq!(choices, [1, 4, 99, 0, 6077, 0, 0, 6_379_522_209_096_214_247]);
        let mut list = [0, 1, 2, 3, 4, 5, 6];
        Chance::new(root(0), "roll").shuffle(&mut list);
        assert_eq!(list, [1, 2, 0, 3, 6, 4, 5]);
        let mut chance = Chance::new(root(0), "roll");
        for want in [2.186_479_517_735_224_f64, 0.817_018_640_349_475_7] {
            assert!((chance.error() - want).abs() < 1e-14);
        }
    }

    #[test]
    fn every_field_of_the_key_matters() {
        let first = |root: Root<'_>, given: &str| Chance::new(root, given).0.next_u64();
        let base = first(root(0), "roll");
        assert_ne!(base, first(root(1), "roll"));
        assert_ne!(base, first(root(0), "rol"));
        assert_ne!(base, first(Root { try_number: 1, ..root(0) }, "roll"));
        assert_ne!(base, first(Root { seed: "2", ..root(0) }, "roll"));
    }

    #[test]
    fn choices_are_fair() {
        let mut counts = [0_u32; 5];
        for number in 0..5000 {
            counts[usize::try_from(Chance::new(root(number), "x").below(5)).expect("small")] += 1;
        }
        // Chi-square with 4 degrees of freedom: 18.47 is its 99.9 % point (handbook table).
        let chi: f64 = counts.iter().map(|count| (f64::from(*count) - 1000.0).powi(2) / 1000.0).sum();
        assert!(chi < 18.47, "{counts:?}");
    }
}
