//! From tables to drafts: one function for each kind.
//!
//! Columns are called like the long flags of the command line: `--seen-by` is
//! the column `seen_by`, `seen-by` or `Seen by`. Every function gathers the
//! faults of all rows; each draft knows the line it comes from, so that what
//! the desk says of it can be found again. Whether a fact may go on record is
//! for the desk to judge: here only what cannot be read is refused.

mod moves;
mod people;
mod roster;
mod row_of;
mod work;

use jiff::civil::Date;

use super::cells::Cells;
use super::table::{Shape, Table};
use crate::ground::Faults;
use crate::programme::Programme;
use crate::records::{Code, Draft, Matter, Role, Rules};

pub use super::looks::{looks, looks_in_words};
pub use moves::{events, judged, leave, returns, taught};
pub use people::people;
pub use roster::{is_roster, roster};
pub use row_of::cells_of;
pub use work::{hours, observed, signoffs};

/// What a table leaves open.
#[derive(Debug, Clone)]
pub struct Defaults<'a> {
    /// The programme: its time zone, decimal mark, stages and criteria.
    pub programme: &'a Programme,
    /// Who enters it, and who saw it where the table does not say.
    pub entered_by: Code,
    /// Today, in the programme's time zone.
    pub today: Date,
    /// The role of people whose row gives none.
    pub role: Option<Role>,
}

/// What a table holds.
#[derive(Debug, Clone, Default)]
pub struct Batch {
    /// The drafts, in the order of the rows.
    pub drafts: Vec<Draft>,
    /// What is wrong with the table, and remarks. If [`Faults::any`], nothing of it should be recorded.
    pub faults: Faults,
}

/// Reads all rows of a table that must have a shape. No draft comes of a row
/// with a fault, whatever `read` makes of it.
fn rows(table: &Table, shape: &Shape, mut read: impl FnMut(&mut Cells<'_>) -> Option<Draft>) -> Batch {
    if let Err(faults) = table.fits(shape) {
        return Batch { drafts: Vec::new(), faults };
    }
    let mut batch = Batch::default();
    for row in table.rows() {
        let mut cells = Cells::new(row);
        let draft = read(&mut cells);
        batch.drafts.extend(draft.filter(|_| !cells.faults.any()));
        batch.faults.0.append(&mut cells.faults.0);
    }
    batch
}

impl Defaults<'_> {
    /// A draft of a row that says who saw it when.
    fn draft(&self, cells: &Cells<'_>, person: Option<Code>, seen: (Code, Date), matter: Matter) -> Draft {
        let text = |column: &str| cells.text(column).map(str::to_owned);
        Draft {
            person,
            seen_by: seen.0,
            seen_on: seen.1,
            entered_by: self.entered_by.clone(),
            paper: text("paper"),
            note: text("note"),
            name: None,
            from_is_open: false,
            matter,
            place: cells.row.place(),
        }
    }

    fn rules(&self) -> Rules {
        Rules::of(self.programme)
    }

    fn decimal_comma(&self) -> bool {
        self.programme.about.decimal_comma
    }
}

#[cfg(test)]
pub(super) mod trial {
    //! What the tests of all kinds share.

    use super::*;
    use crate::programme::{Origin, load_without_banks};

    /// The built-in programme, in Helsinki.
    pub(in super::super) fn programme() -> Programme {
        let mut programme = load_without_banks(&Origin::Shipped).expect("it loads").programme.expect("a programme");
        programme.about.time_zone = jiff::tz::TimeZone::get("Europe/Helsinki").expect("a zone");
        programme
    }

    pub(in super::super) fn defaults(programme: &Programme) -> Defaults<'_> {
        let entered_by = Code::parse("c-1").expect("a code");
        Defaults { programme, entered_by, today: jiff::civil::date(2026, 11, 25), role: None }
    }

    pub(in super::super) fn table(text: &str) -> Table {
        Table::parse("t.csv", text).expect("a table")
    }

    /// The faults and remarks of a batch, a line each.
    pub(in super::super) fn said(batch: &Batch) -> Vec<String> {
        batch.faults.0.iter().map(|fault| format!("{}: {}", fault.place_in_words(), fault.message)).collect()
    }
}
