//! **gearside**: training and assessment for pressroom apprentices.
//!
//! Plain YAML goes in (a curriculum, question banks); workbooks, answer keys
//! and proofs come out. The crate is one house; each room imports only from
//! the floors below it:
//!
//! | floor | room | one sentence |
//! |---|---|---|
//! | 0 | [`ground`] | what every room stands on: faults with a place, ids, decimal rounding, files and folders written whole |
//! | 1 | [`measure`] | units with dimensions, quantities, reading what a person typed, writing what a person reads |
//! | 2 | [`trade`] | pressroom arithmetic: pure functions, each with units, range, source; the catalogue of them |
//! | 3 | [`formula`] | parse, dimension-check, evaluate and typeset expressions over the catalogue |
//! | 4 | [`prose`] | author text: Markdown, mathematics, names filled in; safe HTML comes out |
//! | 5 | [`programme`] | curriculum, plan and question banks: the YAML model and its loading |
//! | 6 | [`pull`] | a seeded pull turns an exercise into numbers, working, key and wrong turns |
//! | 7 | [`picture`] | the SVG figures an exercise shows, drawn from a pull |
//! | 8 | [`marking`] | an answer against a key: leeway, wrong turns, order credit |
//! | 9 | [`proof`] | what makes a bank fit for use |
//! | 10 | [`records`] | one SQLite file of facts; the state of each competency derived from them |
//! | 11 | [`quiz`] | composing the weekly quiz, issuing it, taking and marking what comes back |
//! | 12 | [`exchange`] | tables in, from spreadsheets; facts, tables and the board out, for spreadsheets and auditors |
//! | 12 | [`pages`] | minijinja and the pages it fills |
//! | 13 | [`cli`] | one file per command; the only room that prints |

pub mod cli;
pub mod exchange;
pub mod formula;
pub mod ground;
pub mod marking;
pub mod measure;
pub mod pages;
pub mod picture;
pub mod programme;
pub mod proof;
pub mod prose;
pub mod pull;
pub mod quiz;
pub mod records;
pub mod trade;
