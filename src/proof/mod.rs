//! What makes a bank fit for use: every pull checked, before anyone meets it.
//!
//! May import `ground` … `marking`. The checks are those of the guide to
//! writing exercises; a failure names the exercise, the givens and the numbers,
//! and how `show` replays it.
//!
//! ```
//! use gearside::programme::{Origin, load};
//! use gearside::proof::prove;
//! let programme = load(&Origin::Shipped).unwrap().programme.unwrap();
//! let report = prove(&programme, 200, true);
//! assert!(!report.faults.any());
//! ```

mod coverage;
mod numbers;
mod plan;
mod report;
mod shapes;
mod worlds;

use crate::ground::Faults;
use crate::programme::{Form, Programme};
use crate::pull::Printer;

pub use plan::{PlanReport, Yield};
pub use report::{CompetencyReport, ExerciseReport, Report};

/// The most combinations of givens that are all checked, rather than a sample.
pub const MOST_COMBINATIONS: u64 = 20_000;
/// How many seeded pulls are checked where there are more.
pub const USUAL_PULLS: u64 = 2_000;
/// The seed of those pulls.
pub const SEED: &str = "1";

/// Proves a programme. `pulls` is how many seeded pulls are checked of an
/// exercise that has too many to check all. `whole` also checks that every
/// competency has exercises enough, which a part of the banks cannot show.
#[must_use]
pub fn prove(programme: &Programme, pulls: u64, whole: bool) -> Report {
    let printer = Printer::of(programme);
    let mut faults = Faults::default();
    let mut exercises = Vec::new();
    for bank in &programme.banks {
        for exercise in &bank.exercises {
            let mut found = Vec::new();
            coverage::names_used(exercise, &mut found);
            if let Some(world) = programme.about.units.only() {
                worlds::check(exercise, world, &mut found);
            }
            let mut report = match &exercise.form {
                Form::Order(order) => shapes::order(exercise, order, pulls, printer, &mut found),
                Form::Rounds(rounds) => shapes::rounds(exercise, rounds, pulls, printer, &mut found),
                Form::Numeric(_) | Form::Choose(_) => numbers::check(exercise, pulls, printer, &mut found),
            };
            report.faults = found.len();
            report.bank.clone_from(&bank.file);
            exercises.push(report);
            found.into_iter().for_each(|fault| faults.push(fault));
        }
        shapes::longest_option(bank, &mut faults);
    }
    let competencies = if whole { coverage::competencies(programme, &mut faults) } else { Vec::new() };
    let plan = if whole { plan::check(programme, &mut faults) } else { PlanReport::default() };
    Report { exercises, competencies, plan, faults }
}
