//! A seeded pull turns an exercise into numbers, working, key and wrong turns.
//!
//! May import `ground` … `programme`. A pull depends on nothing but the
//! exercise's id, the seed and the pull's number: each given has a stream of
//! chance of its own, so that adding or moving one shifts no other.
//!
//! ```
//! use gearside::programme::{Origin, load};
//! use gearside::pull::{Printer, pull};
//! let programme = load(&Origin::Shipped).unwrap().programme.unwrap();
//! let exercise = programme.exercises().next().unwrap();
//! let printer = Printer::of(&programme);
//! let one = pull(exercise, "7", 0, printer).unwrap();
//! assert_eq!(one.public.ask, pull(exercise, "7", 0, printer).unwrap().public.ask);
//! ```

mod chance;
mod digits;
mod figures;
mod key;
mod matched;
mod pictured;
mod printing;
mod public;
mod samples;

use crate::ground::Fault;
use crate::programme::{Exercise, Programme};

pub use figures::{Figures, combination, combinations, figures, follow};
pub use key::{Key, StepValue, TurnValue, key};
pub use matched::{Matched, matched};
pub use pictured::{Pictured, pictured};
pub use printing::Printer;
pub use public::{Part, Public, public, shown_names};
pub use samples::{Sample, Samples};

/// How many pull numbers are tried for each pull wanted, before fewer are given.
const PATIENCE: u64 = 20;

/// One numbered version of an exercise: what may be shown, and the key side.
#[derive(Debug, Clone)]
pub struct Pull {
    /// All that a page, a docket or the terminal may show before an answer.
    pub public: Public,
    /// The key side; never given to a docket.
    pub key: Key,
    /// The numbers behind both.
    pub figures: Figures,
}

/// Pulls one numbered version.
///
/// # Errors
/// A fault if `only_if` cannot be met.
pub fn pull(exercise: &Exercise, seed: &str, number: u64, printer: Printer) -> Result<Pull, Fault> {
    let figures = figures(exercise, seed, number, printer)?;
    let key = key(exercise, &figures);
    let public = public(exercise, &figures, seed, number, printer, &key);
    Ok(Pull { public, key, figures })
}

/// Pulls up to `count` versions that differ in what is printed: the lowest
/// pull numbers that do. An exercise with fewer versions gives fewer.
///
/// # Errors
/// As [`pull`].
pub fn pull_several(exercise: &Exercise, seed: &str, count: usize, printer: Printer) -> Result<Vec<Pull>, Fault> {
    let mut pulls: Vec<Pull> = Vec::new();
    for number in 0..count as u64 * PATIENCE {
        if pulls.len() == count {
            break;
        }
        let next = pull(exercise, seed, number, printer)?;
        if !pulls.iter().any(|known| known.public.looks_like(&next.public)) {
            pulls.push(next);
        }
    }
    Ok(pulls)
}

impl Printer {
    /// The printer of a programme.
    #[must_use]
    pub fn of(programme: &Programme) -> Self {
        use crate::measure::DecimalMark;
        Self { mark: if programme.about.decimal_comma { DecimalMark::Comma } else { DecimalMark::Point } }
    }
}
