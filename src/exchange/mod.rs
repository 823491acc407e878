//! What comes in from spreadsheets, and what goes out to them and to auditors.
//!
//! May import `ground` … `quiz`, nothing from `pages` or `cli`. Tables come in
//! as CSV and become drafts for the records' desk; facts, readable tables, a
//! way to check the chain and the board go out. The marking table of a quiz goes
//! both ways. Nothing here records or prints.
//!
//! ```
//! use gearside::exchange::table::{self, Table};
//! let table = Table::parse("people.csv", "Code;Name\na-1;Ann Invented\n").unwrap();
//! let row = table.rows().next().unwrap();
//! assert_eq!((row.get("code"), row.place().line), (Some("a-1"), Some(2)));
//! // A cell that a spreadsheet would take for a formula goes out as text.
//! assert_eq!(table::write(&["says"], &[vec!["=1+1".to_owned()]]), b"says\r\n'=1+1\r\n");
//! ```

mod cells;
pub mod export;
pub mod imports;
mod looks;
pub mod marking_table;
pub mod table;
mod writing;

pub use cells::share;
