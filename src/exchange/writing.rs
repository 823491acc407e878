//! Tables as they go out: CSV that a spreadsheet takes for what it is.

/// Whether a spreadsheet would take a text for a formula.
pub(super) fn is_armed(text: &str) -> bool {
    text.starts_with(['=', '+', '-', '@', '\t', '\r'])
}

/// A plain number: it may start with a sign.
fn is_number(text: &str) -> bool {
    let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
    let (whole, part) = digits.split_once(['.', ',']).unwrap_or((digits, "0"));
    let all_digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    all_digits(whole) && all_digits(part)
}

/// A cell as it goes out.
fn armoured(cell: &str) -> String {
    let with_apostrophes = cell.starts_with('\'') && is_armed(cell.trim_start_matches('\''));
    if with_apostrophes || (is_armed(cell) && !is_number(cell)) { format!("'{cell}") } else { cell.to_owned() }
}

/// Lines of a table on their way out, ended by CRLF as RFC 4180 has them.
pub(super) struct Lines(csv::Writer<Vec<u8>>);

impl Lines {
    /// Lines whose cells are parted by `mark`.
    pub(super) fn parted_by(mark: u8) -> Self {
        let mut writer = csv::WriterBuilder::new();
        Self(writer.flexible(true).delimiter(mark).terminator(csv::Terminator::CRLF).from_writer(Vec::new()))
    }

    pub(super) fn header(&mut self, names: &[&str]) {
        // Writing to memory does not fail.
        let _ = self.0.write_record(names);
    }

    pub(super) fn row<'c>(&mut self, cells: impl IntoIterator<Item = &'c str>) {
        let _ = self.0.write_record(cells.into_iter().map(armoured));
    }

    pub(super) fn into_bytes(self) -> Vec<u8> {
        self.0.into_inner().unwrap_or_default()
    }
}

/// Writes a table: UTF-8, commas, lines ended by CRLF as RFC 4180 has them.
///
/// A cell that starts with `=`, `+`, `-`, `@`, a tab or a carriage return and
/// is no number gets an apostrophe before it, so that no spreadsheet takes it
/// for a formula; [`Table::parse`](super::table::Table::parse) takes it off again.
///
/// ```
/// use gearside::exchange::table::write;
/// let rows = [vec!["-5".to_owned(), "-5 or so".to_owned()]];
/// assert_eq!(write(&["number", "text"], &rows), b"number,text\r\n-5,'-5 or so\r\n");
/// ```
#[must_use]
pub fn write(header: &[&str], rows: &[Vec<String>]) -> Vec<u8> {
    let mut lines = Lines::parted_by(b',');
    lines.header(header);
    for row in rows {
        lines.row(row.iter().map(String::as_str));
    }
    lines.into_bytes()
}
