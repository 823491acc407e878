//! Tables as CSV: reading what spreadsheets write, writing what they read.

use std::path::Path;

use super::writing::is_armed;
use crate::ground::files::{MachineFault, TextFault, read_text};
use crate::ground::{Fault, Faults, Place, nearest_name};

pub use super::writing::write;

/// The longest file, in bytes.
pub const LONGEST: u64 = 2_000_000;
/// The most rows below the header.
pub const MOST_ROWS: usize = 20_000;

/// Why a table could not be read.
#[derive(Debug)]
pub enum Unread {
    /// The machine failed: the file is missing or may not be read.
    Machine(MachineFault),
    /// The content is at fault.
    Faults(Faults),
}

/// A table: a header, and rows of as many cells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    file: String,
    /// The line of the header.
    head_line: usize,
    columns: Vec<Column>,
    rows: Vec<Line>,
}

/// A column's name: as it is looked up, and as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Column {
    name: String,
    written: String,
}

/// A row and the line of the file on which it begins.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Line {
    number: usize,
    cells: Vec<String>,
}

/// One row of a table.
#[derive(Debug, Clone, Copy)]
pub struct Row<'t> {
    table: &'t Table,
    line: &'t Line,
}

/// Which columns a kind of table has.
#[derive(Debug, Clone, Copy)]
pub struct Shape {
    /// Those it must have.
    pub needed: &'static [&'static str],
    /// Those it may have as well.
    pub allowed: &'static [&'static str],
}

impl Table {
    /// Reads a CSV file: UTF-8 with or without a byte order mark, cells parted
    /// by comma, semicolon or tab (whichever the header has most of), lines
    /// ended in any way, cells quoted where they hold such marks.
    ///
    /// # Errors
    /// [`Unread::Machine`] if the file cannot be read; [`Unread::Faults`] if it
    /// is no regular file, longer than [`LONGEST`] bytes, not UTF-8, or as [`Table::parse`].
    pub fn read(path: &Path) -> Result<Self, Unread> {
        let text = read_text(path, LONGEST).map_err(|fault| match fault {
            TextFault::Machine(fault) => Unread::Machine(fault),
            TextFault::Content(fault) => Unread::Faults(Faults(vec![*fault])),
        })?;
        Self::parse(&path.display().to_string(), &text).map_err(Unread::Faults)
    }

    /// Reads a table out of text; `file` is its name for faults.
    ///
    /// Cells are trimmed and otherwise taken literally; only the apostrophe
    /// that [`write()`] puts before a formula sign is taken off again. Rows
    /// without any content are passed over, and so are cells without content
    /// behind the last column.
    ///
    /// # Errors
    /// All faults of the text, in order: nothing in it, zero bytes, a column
    /// twice, a row with more or fewer cells than the header, a quotation mark
    /// that is never closed, more than [`MOST_ROWS`] rows.
    ///
    /// ```
    /// use gearside::exchange::table::Table;
    /// let faults = Table::parse("hours.csv", "person,line\na-1\n").unwrap_err();
    /// assert_eq!(faults.0[0].place_in_words(), "hours.csv:2");
    /// assert_eq!(faults.0[0].message, "this row has 1 cell, the header has 2");
    /// ```
    pub fn parse(file: &str, text: &str) -> Result<Self, Faults> {
        let (table, faults) = Self::salvage(file, text, MOST_ROWS)?;
        if faults.any() { Err(faults) } else { Ok(table) }
    }

    /// Reads a table without the rows that are at fault; they are told beside it.
    ///
    /// # Errors
    /// Faults of the whole, as [`Table::parse`]: there is no table then.
    pub(super) fn salvage(file: &str, text: &str, most_rows: usize) -> Result<(Self, Faults), Faults> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text).replace("\r\n", "\n");
        let place = |line: Option<usize>| Place { file: Some(file.to_owned()), line, ..Place::default() };
        if let Some(at) = text.find('\0') {
            let fault = Fault::new(
                "not-utf-8",
                "there are zero bytes in the text, as in a file saved as UTF-16",
                "save the file again with the encoding UTF-8",
            );
            return Err(Faults(vec![fault.at(place(Some(line_at(&text, at))))]));
        }
        let mut lines = read_lines(&text).into_iter();
        let Some(header) = lines.next() else {
            let mend = "the first line names the columns, each further line is one row";
            return Err(Faults(vec![Fault::new("empty", "there is nothing in this file", mend).at(place(None))]));
        };
        let columns = columns_of(header.cells);
        let mut faults = Faults::default();
        for fault in twice(&columns) {
            faults.push(fault.at(place(Some(header.number))));
        }
        let mut whole = !faults.any();
        let mut rows: Vec<Line> = lines.collect();
        if rows.len() > most_rows {
            let message = format!("there are {} rows; at most {most_rows} are read at once", rows.len());
            let fault = Fault::new("too-long", message, "split it into several files");
            return Err(Faults(vec![fault.at(place(rows.get(most_rows).map(|row| row.number)))]));
        }
        rows.retain_mut(|row| {
            let fits = fit(&mut row.cells, columns.len());
            fits.map_err(|fault| faults.push(fault.at(place(Some(row.number))))).is_ok()
        });
        if let Some(line) = unclosed(&text) {
            let mend = "close it, or write a quotation mark inside a quoted cell twice";
            faults.push(
                Fault::new("quote", "a quotation mark opens here and is never closed", mend).at(place(Some(line))),
            );
            whole = false;
        }
        let table = Self { file: file.to_owned(), head_line: header.number, columns, rows };
        if whole { Ok((table, faults)) } else { Err(faults) }
    }

    /// Whether there is such a column.
    #[must_use]
    pub fn has(&self, column: &str) -> bool {
        self.columns.iter().any(|one| one.name == column)
    }

    /// The file's name for faults.
    #[must_use]
    pub fn file(&self) -> &str {
        &self.file
    }

    /// The columns' names: small letters, `_` between words.
    pub fn columns(&self) -> impl Iterator<Item = &str> {
        self.columns.iter().map(|column| column.name.as_str())
    }

    /// The rows, in order.
    pub fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|line| Row { table: self, line })
    }

    /// The cells of all rows.
    pub fn cells(&self) -> impl Iterator<Item = &[String]> {
        self.rows.iter().map(|row| row.cells.as_slice())
    }

    /// Checks that a table has the columns of a kind and no others.
    ///
    /// # Errors
    /// A fault for each needed column that is missing and each that is not
    /// known, with the nearest known name.
    pub fn fits(&self, shape: &Shape) -> Result<(), Faults> {
        let known = || shape.needed.iter().chain(shape.allowed).copied();
        let here = || Place { file: Some(self.file.clone()), line: Some(self.head_line), ..Place::default() };
        let mut faults = Faults::default();
        for column in self.columns.iter().filter(|column| !known().any(|name| name == column.name)) {
            let free = known().filter(|name| !self.has(name));
            let mend = nearest_name(&column.name, free).map_or_else(
                || format!("the columns are: {}", known().collect::<Vec<_>>().join(", ")),
                |near| format!("did you mean `{near}`?"),
            );
            let message = format!("there is no column `{}` in such a table", column.written);
            faults.push(Fault::new("unknown-column", message, mend).at(here()));
        }
        for name in shape.needed.iter().filter(|name| !self.has(name)) {
            let mend = format!("name it in the first line; needed are: {}", shape.needed.join(", "));
            faults.push(Fault::new("missing-column", format!("the column `{name}` is missing"), mend).at(here()));
        }
        if faults.any() { Err(faults) } else { Ok(()) }
    }
}

impl<'t> Row<'t> {
    /// The content of a cell; `None` if it is empty or there is no such column.
    #[must_use]
    pub fn get(&self, column: &str) -> Option<&'t str> {
        let at = self.table.columns.iter().position(|one| one.name == column)?;
        self.line.cells.get(at).map(String::as_str).filter(|cell| !cell.is_empty())
    }

    /// Where the row begins.
    #[must_use]
    pub fn place(&self) -> Place {
        Place { file: Some(self.table.file.clone()), line: Some(self.line.number), ..Place::default() }
    }

    /// The place of one of its cells.
    #[must_use]
    pub fn place_of(&self, column: &str) -> Place {
        Place { field: Some(column.to_owned()), ..self.place() }
    }
}

/// A header's name as it is looked up: `Seen by` and `seen-by` are `seen_by`.
fn folded(name: &str) -> String {
    let words = name.split(|c: char| c.is_whitespace() || matches!(c, '-' | '_')).filter(|word| !word.is_empty());
    words.map(str::to_lowercase).collect::<Vec<_>>().join("_")
}

fn columns_of(mut header: Vec<String>) -> Vec<Column> {
    header.truncate(header.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1));
    header.into_iter().map(|written| Column { name: folded(&written), written }).collect()
}

fn twice(columns: &[Column]) -> Vec<Fault> {
    let is_second = |at: usize, column: &Column| columns[..at].iter().any(|other| other.name == column.name);
    let second = columns.iter().enumerate().filter(|(at, column)| is_second(*at, column));
    second
        .map(|(_, column)| {
            let message = format!("the column `{}` is there twice", column.written);
            Fault::new("column-twice", message, "keep one of them")
        })
        .collect()
}

/// Makes a row as long as the header, if only empty cells stand behind it.
fn fit(cells: &mut Vec<String>, width: usize) -> Result<(), Fault> {
    let content = cells.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
    let have = if cells.len() > width { content.max(width) } else { cells.len() };
    if have == width {
        cells.truncate(width);
        return Ok(());
    }
    let message = format!("this row has {have} cell{}, the header has {width}", if have == 1 { "" } else { "s" });
    let mend = if have > width {
        "a cell with a comma, semicolon or tab in it stands between quotation marks"
    } else {
        "leave a cell empty, but keep its place"
    };
    Err(Fault::new("cells", message, mend))
}

/// All lines with any content, and where each begins.
fn read_lines(text: &str) -> Vec<Line> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter(text))
        .from_reader(text.as_bytes());
    let (mut lines, mut at, mut number) = (Vec::new(), 0, 1);
    for record in reader.records() {
        // The text is UTF-8 and lies in memory, so there is nothing that could fail.
        let Ok(record) = record else { continue };
        let begins = record.position().map_or(at, |position| usize::try_from(position.byte()).unwrap_or(at));
        // A record's position is that of the blank lines before it.
        let begins = begins + text.as_bytes()[begins..].iter().take_while(|byte| matches!(byte, b'\n' | b'\r')).count();
        number += text.as_bytes()[at..begins].iter().filter(|byte| **byte == b'\n').count();
        at = begins;
        let cells: Vec<String> = record.iter().map(|cell| unarmed(cell.trim()).to_owned()).collect();
        if cells.iter().any(|cell| !cell.is_empty()) {
            lines.push(Line { number, cells });
        }
    }
    lines
}

/// What parts the cells of the header: a semicolon or tab where there are more
/// of them than commas outside quotation marks.
fn delimiter(text: &str) -> u8 {
    let header = text.trim_start_matches(['\n', '\r', ' ']);
    let (mut quoted, mut counts) = (false, [(b',', 0), (b';', 0), (b'\t', 0)]);
    for byte in header.bytes() {
        match byte {
            b'"' => quoted = !quoted,
            b'\n' | b'\r' if !quoted => break,
            _ if quoted => {}
            _ => counts.iter_mut().filter(|(mark, _)| *mark == byte).for_each(|(_, count)| *count += 1),
        }
    }
    counts.iter().rev().max_by_key(|(_, count)| *count).map_or(b',', |(mark, _)| *mark)
}

/// The line of a quotation mark that opens a cell and is never closed.
fn unclosed(text: &str) -> Option<usize> {
    let mark = char::from(delimiter(text));
    let (mut open, mut at_start, mut just_closed) = (None, true, false);
    for (at, c) in text.char_indices() {
        let closes = c == '"' && open.is_some();
        // Behind a closing mark another one makes it a pair: the cell goes on.
        let opens = c == '"' && !closes && (at_start || just_closed);
        if closes {
            open = None;
        } else if opens {
            open = Some(at);
        }
        just_closed = closes;
        at_start = open.is_none() && (c == mark || matches!(c, '\n' | '\r'));
    }
    open.map(|at| line_at(text, at))
}

fn line_at(text: &str, at: usize) -> usize {
    text.as_bytes()[..at].iter().filter(|byte| **byte == b'\n').count() + 1
}

/// A cell without the apostrophe that keeps a spreadsheet from taking it for a formula.
fn unarmed(cell: &str) -> &str {
    if is_armed(cell.trim_start_matches('\'')) { cell.strip_prefix('\'').unwrap_or(cell) } else { cell }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn said(text: &str) -> Vec<String> {
        let faults = Table::parse("t.csv", text).expect_err("a fault").0;
        faults.iter().map(|fault| format!("{}: {}", fault.place_in_words(), fault.message)).collect()
    }

    fn rows(text: &str) -> Vec<Vec<String>> {
        Table::parse("t.csv", text).expect("a table").cells().map(<[String]>::to_vec).collect()
    }

    #[test]
    fn the_mark_between_cells_is_found_out_from_the_header() {
        for text in ["a,b\n1,2;3\n", "a;b\n1;2,3\n", "a\tb\n1\t2,3;4\n", "\"a,c\";b;c\n1;2;3\n", "\n\na,b\n1,2\n"] {
            let row = rows(text).remove(0);
            assert!(row.len() >= 2 && row[0] == "1", "{text:?}: {row:?}");
        }
        assert_eq!(rows("one\nx\n"), [["x"]]);
    }

    #[test]
    fn lines_are_counted_over_blank_ones_and_inside_quotes() {
        let text = "\u{feff}\r\nCode,Says\r\n\r\na,\"two\r\nlines\"\r\n,\r\n \r\nb,one\r\n";
        let table = Table::parse("t.csv", text).expect("a table");
        let lines: Vec<Option<usize>> = table.rows().map(|row| row.place().line).collect();
        assert_eq!(lines, [Some(4), Some(8)]);
        assert_eq!(table.rows().next().and_then(|row| row.get("says")), Some("two\nlines"));
    }

    #[test]
    fn column_names_are_looked_up_without_regard_to_capitals_hyphens_and_blanks() {
        let table = Table::parse("t.csv", "Seen-By, acknowledged ,NOT  YET,,\n1,2,3,,\n").expect("a table");
        assert_eq!(table.columns().collect::<Vec<_>>(), ["seen_by", "acknowledged", "not_yet"]);
    }

    #[test]
    fn faulty_rows_are_all_named() {
        assert_eq!(
            said("a,b\n1\n1,2,3\n1,2,\n\"1,2\n"),
            [
                "t.csv:2: this row has 1 cell, the header has 2",
                "t.csv:3: this row has 3 cells, the header has 2",
                "t.csv:5: this row has 1 cell, the header has 2",
                "t.csv:5: a quotation mark opens here and is never closed",
            ]
        );
        assert_eq!(said(""), ["t.csv: there is nothing in this file"]);
        assert_eq!(said("a,A\n1,2\n"), ["t.csv:1: the column `A` is there twice"]);
        assert_eq!(said("a\nb\0\n"), ["t.csv:2: there are zero bytes in the text, as in a file saved as UTF-16"]);
        let long = format!("a\n{}", "x\n".repeat(MOST_ROWS + 1));
        assert_eq!(said(&long), ["t.csv:20002: there are 20001 rows; at most 20000 are read at once"]);
    }

    #[test]
    fn a_wrong_column_is_named_on_the_line_of_the_header() {
        let table = Table::parse("t.csv", "\n\nperson,lime,code\n").expect("a table");
        let shape = Shape { needed: &["person", "date"], allowed: &["line"] };
        let faults = table.fits(&shape).expect_err("faults").0;
        let said: Vec<(String, &str)> = faults.iter().map(|one| (one.place_in_words(), one.mend.as_str())).collect();
        assert_eq!(
            said,
            [
                ("t.csv:3".to_owned(), "did you mean `line`?"),
                ("t.csv:3".to_owned(), "the columns are: person, date, line"),
                ("t.csv:3".to_owned(), "name it in the first line; needed are: person, date"),
            ]
        );
    }

    #[test]
    fn a_quotation_mark_in_the_middle_of_a_cell_is_a_character() {
        assert_eq!(rows("a,b\n5\" roll,\"a \"\"b\"\" c\"\n"), [["5\" roll", "a \"b\" c"]]);
    }

    #[test]
    fn only_what_a_spreadsheet_would_take_for_a_formula_gets_an_apostrophe() {
        // cell, what is written
        let table = [
            ("=1+1", "'=1+1"),
            ("-5", "-5"),
            ("+5.25", "+5.25"),
            ("-5,5", "\"-5,5\""),
            ("-5-5", "'-5-5"),
            ("@a", "'@a"),
            ("\tx", "'\tx"),
            ("\rx", "\"'\rx\""),
            ("'=x", "''=x"),
            ("it's", "it's"),
            ("'tis", "'tis"),
            ("a=b", "a=b"),
        ];
        for (cell, want) in table {
            let bytes = write(&["h"], &[vec![cell.to_owned()]]);
            assert_eq!(String::from_utf8(bytes).expect("UTF-8"), format!("h\r\n{want}\r\n"), "{cell:?}");
        }
    }

    /// Any text that is its own trimmed form, but for one sign at its front.
    fn cell() -> impl Strategy<Value = String> {
        let front = prop::sample::select(vec!["", "=", "+", "-", "@", "\t", "\r", "'", "''=", "\"", "'-", "5"]);
        (front, any::<String>()).prop_map(|(front, text)| {
            let text = text.trim().replace('\0', "").replace("\r\n", "\n");
            if text.is_empty() { format!("{front}x") } else { format!("{front}{text}") }
        })
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back_the_same(
            rows in prop::collection::vec(prop::collection::vec(cell(), 3), 0..6),
        ) {
            let bytes = write(&["one", "two", "three"], &rows);
            let text = String::from_utf8(bytes).expect("UTF-8");
            let table = Table::parse("t.csv", &text).expect("a table");
            let back: Vec<Vec<String>> = table.cells().map(<[String]>::to_vec).collect();
            prop_assert_eq!(back, rows);
        }

        #[test]
        fn no_text_at_all_makes_it_panic(text in "[ab\"',;\t\r\n =-]{0,60}") {
            if let Ok(table) = Table::parse("t.csv", &text) {
                let width = table.columns().count();
                prop_assert!(table.cells().all(|cells| cells.len() == width));
            }
        }
    }
}
