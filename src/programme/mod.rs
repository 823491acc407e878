//! Curriculum, plan and question banks: the YAML model and its loading.
//!
//! May import `ground`, `measure`, `trade`, `formula`, `prose`. Loading reports
//! every fault of a run, each with its file, line, exercise and field, and
//! compiles every formula once.
//!
//! ```
//! use gearside::programme::{Origin, load};
//! let programme = load(&Origin::Shipped).unwrap().programme.unwrap();
//! assert!(programme.exercises().count() >= 32);
//! ```

mod choices;
mod curriculum;
mod defects;
mod exercise;
mod find_line;
mod forms;
mod givens;
mod load;
mod load_curriculum;
mod names;
mod overlay;
mod picture;
mod raw;
mod reader;
mod rounds;
mod shipped;
mod source;
mod spot;
mod steps;
mod weeks;
mod words;
mod yaml;

pub use choices::{InkSystem, Level, Paper, Pick, Use, Worlds};
pub use curriculum::{
    About, Caution, Competency, Criterion, Marked, Plan, RestsOn, Stage, longest_chain, opened_by, teaching_order,
};
pub use defects::{Defect, Finding};
pub use exercise::{
    Before, Choice, Choose, Exercise, Form, Given, GivenSource, Move, Numeric, Order, Paths, Question, Reckoning, Says,
    Step, Table, TableCell, Turn,
};
pub use load::{Bank, Loaded, Programme, load, load_without_banks};
pub use names::{Name, Names};
pub use picture::{Argument, Picture};
pub use raw::Observed;
pub use rounds::{Lead, MOST_ROUNDS, Rounds, State, Ways};
pub use shipped::FILES as SHIPPED_FILES;
pub use source::Origin;
pub use weeks::Weeks;
