//! Formulas: parse, dimension-check, evaluate and typeset expressions over the
//! catalogue.
//!
//! May import `ground`, `measure` and `trade`. A formula is read once
//! ([`parse`]), checked once against the names it may use ([`compile`]), and
//! then evaluated over and over on plain SI values without any allocation.
//!
//! ```
//! use std::collections::BTreeMap;
//! use gearside::formula::{Allow, Named, Stack, Type, Values, compile, parse};
//! use gearside::measure::Dimension;
//!
//! let formula = parse("wet_film(volume, 0.25) + '0.1 µm'").unwrap();
//! let scope = BTreeMap::from([("volume".to_owned(), Named { slot: 0, kind: Type::Number(Dimension::LENGTH) })]);
//! let compiled = compile(&formula, &scope, Allow { bare: false }).unwrap();
//! assert_eq!(compiled.kind, Type::Number(Dimension::LENGTH));
//! let film = compiled.evaluate(&Values { scalars: &[8e-6], series: &[] }, &mut Stack::default());
//! assert!((film - 2.1e-6).abs() < 1e-18);
//! ```

mod calls;
mod check;
mod fault;
mod function;
mod lexer;
mod parser;
mod program;
#[cfg(test)]
mod tests;
mod tree;
mod types;
mod typeset;

pub use check::{Allow, Named, Scope, compile, compile_wanting};
pub use fault::FormulaFault;
pub use parser::{is_reserved, parse};
pub use program::{Compiled, Stack, Values, Watch};
pub use tree::Expression;
pub use types::Type;
pub use typeset::{
    Piece, Symbols, mathml, mathml_with_holes, plain_text, plain_text_with, symbol_mathml, symbol_plain,
};
