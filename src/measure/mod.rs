//! Units with dimensions, quantities, reading what a person typed, writing
//! what a person reads.
//!
//! May import `ground`. Inside the program values are `f64` in SI; units
//! appear only here, at the edges.
//!
//! ```
//! use gearside::measure::{Quantity, unit};
//! let volume = Quantity::parse("3.8 BCM/in²").unwrap();
//! // A volume per area is a thickness: 1 BCM/in² is 1.55 µm.
//! let film = unit("µm").unwrap();
//! assert_eq!(volume.unit.dimension, film.dimension);
//! assert!((film.from_si(volume.si) - 5.890_011_78).abs() < 1e-8);
//! ```

mod dimension;
mod quantity;
mod reading;
mod scan;
mod table;
mod table_json;
mod units;
mod world;
mod writing;

pub use dimension::{Cup, Dimension};
pub use quantity::{Quantity, QuantityFault};
pub use reading::{Reading, read};
pub use table::UNITS;
pub use table_json::reading_table_json;
pub use units::{Unit, UnknownUnit, unit, unit_where};
pub use world::World;
pub use writing::{DecimalMark, fraction, number, quantity};
