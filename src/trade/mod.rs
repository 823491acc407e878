//! Pressroom arithmetic: pure functions, and the catalogue of them.
//!
//! May import `ground` and `measure`. Every function takes and returns SI
//! values (lengths in metres, shares as fractions); its documentation gives
//! the units, the valid range and the source. The [`Calculation`] beside it is
//! data: parameters, ranges, kind of quantity, usual wrong turns and, where
//! there is one, the expansion as formula text.
//!
//! ```
//! use gearside::trade::calculation;
//! let wet_film = calculation("wet_film").unwrap();
//! // 3.8 BCM/in² at 25 % release, in metres.
//! let film = wet_film.of(&[5.890_011_78e-6, 0.25]);
//! assert!((film - 1.472_502_945e-6).abs() < 1e-15);
//! ```

pub mod anilox;
pub mod barcode;
pub mod capability;
mod catalogue;
pub mod check_digit;
pub mod colour;
pub mod colour_difference;
pub mod consumption;
pub mod control;
pub mod cups;
pub mod curing;
pub mod curves;
pub mod density;
pub mod distortion;
pub mod figures;
pub mod film;
pub mod fitting;
pub mod impression;
mod kind;
mod leeway;
pub mod material;
pub mod misregister;
pub mod mixing;
pub mod moire;
pub mod pixels;
pub mod production;
pub mod register;
mod remarks;
pub mod repeat;
pub mod roll;
pub mod runout;
pub mod screens;
pub mod statistics;
pub mod tension;
pub mod tone;
pub mod tone_curve;
pub mod viscosity;
pub mod web;
pub mod winding;

pub use catalogue::{Calculation, MOST_PARAMETERS, Outcome, Parameter, Topic, UsualTurn, calculation, calculations};
pub use kind::KindOfQuantity;
pub use leeway::Leeway;
