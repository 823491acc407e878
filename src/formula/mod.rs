//! Parse, dimension-check, evaluate and typeset expressions over the catalogue.
//!
//! May import `ground`, `measure`, `trade`. A formula is checked once, when its
//! bank loads; a fault points at the characters and names both dimensions in
//! words. Evaluation works on SI values and allocates nothing.
//!
//! ```
//! use gearside::formula::{Allow, Named, Scope, Stack, Type, Values, compile, parse};
//! use gearside::measure::Dimension;
//! struct OneLength;
//! impl Scope for OneLength {
//!     fn look_up(&self, name: &str) -> Option<Named> {
//!         (name == "film").then_some(Named { slot: 0, kind: Type::Number(Dimension::LENGTH) })
//!     }
//!     fn known(&self) -> Vec<String> {
//!         vec!["film".to_owned()]
//!     }
//! }
//! let twice = compile(&parse("2 * film + '1 µm'").unwrap(), &OneLength, Allow { bare: false }).unwrap();
//! let film = twice.evaluate(&Values { scalars: &[3e-6], series: &[] }, &mut Stack::default());
//! assert!((film - 7e-6).abs() < 1e-18);
//! let fault = compile(&parse("film + '3 kg'").unwrap(), &OneLength, Allow { bare: false }).unwrap_err();
//! assert!(fault.message.contains("a length, mm") && fault.message.contains("a mass, kg"));
//! ```

mod compile;
mod evaluate;
mod fault;
mod function;
mod kinds;
mod lexer;
mod parser;
mod tree;
mod typeset;

pub use compile::{Allow, compile};
pub use evaluate::{Compiled, Stack, Values};
pub use fault::FormulaFault;
pub use kinds::{Named, Scope, Symbols, Type};
pub use parser::parse;
pub use tree::Expression;
pub use typeset::{Piece, mathml, mathml_with_holes, plain_text, plain_text_with, symbol_mathml, symbol_plain};
