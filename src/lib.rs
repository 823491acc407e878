//! **gearside**: training and assessment for pressroom apprentices.
//!
//! Plain YAML goes in (a curriculum, question banks); workbooks, answer keys
//! and proofs come out. The crate is one house; each room imports only from
//! the floors below it:
//!
//! | floor | room | one sentence |
//! |---|---|---|
//! | 0 | [`ground`] | what every room stands on: faults with a place, ids, decimal rounding, files written whole |
//! | 1 | [`measure`] | units with dimensions, quantities, reading what a person typed |
//! | 2 | [`trade`] | pressroom arithmetic and the catalogue of it |

pub mod ground;
pub mod measure;
pub mod trade;
