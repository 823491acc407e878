//! What every room stands on: faults that carry their place and their mend,
//! ids, exact decimals and rounding, files and folders written whole.
//!
//! Imports nothing of the crate.
//!
//! ```
//! use gearside::ground::Decimal;
//! let step = Decimal::parse("0.05").unwrap();
//! assert_eq!(step.nearest(1.275).to_string(), "1.30"); // halves away from zero
//! ```

mod decimal;
mod fault;
pub mod files;
mod id;
pub mod language;
mod plain;
mod side_by_side;
mod whole;

pub use crate::say;
pub use decimal::Decimal;
pub use fault::{Excerpt, Fault, Faults, Place, Weight};
pub use id::{Id, nearest_name};
pub use plain::{in_brief, one_line, turns_text};
pub use side_by_side::side_by_side;
pub use whole::{whole_above, whole_below, whole_nearest};
