//! Cells read as codes, dates, numbers and words; what is wrong is gathered.

use jiff::civil::Date;

use super::table::Row;
use crate::ground::{Fault, Faults, nearest_name};
use crate::records::{Code, Word};

/// Reads the cells of one row and gathers what is wrong with them.
#[derive(Debug)]
pub(super) struct Cells<'t> {
    pub(super) row: Row<'t>,
    pub(super) faults: Faults,
}

impl<'t> Cells<'t> {
    pub(super) fn new(row: Row<'t>) -> Self {
        Self { row, faults: Faults::default() }
    }

    /// Notes a fault of a cell.
    pub(super) fn note(&mut self, column: &str, fault: Fault) {
        self.faults.push(fault.at(self.row.place_of(column)));
    }

    /// What was read; a fault is noted.
    pub(super) fn took<T>(&mut self, column: &str, read: Result<T, Fault>) -> Option<T> {
        read.map_err(|fault| self.note(column, fault)).ok()
    }

    /// A cell's text, if there is any.
    pub(super) fn text(&self, column: &str) -> Option<&'t str> {
        self.row.get(column)
    }

    /// A cell's text; that there is none is a fault.
    pub(super) fn needed(&mut self, column: &str) -> Option<&'t str> {
        let text = self.text(column);
        if text.is_none() {
            self.note(
                column,
                Fault::new("empty-cell", format!("`{column}` is empty"), "fill it in, or take the row out"),
            );
        }
        text
    }

    /// A word that is needed.
    pub(super) fn word(&mut self, column: &str) -> Option<Word> {
        self.needed(column).map(Word::from)
    }

    /// A code that is needed.
    pub(super) fn code(&mut self, column: &str) -> Option<Code> {
        let text = self.needed(column)?;
        self.took(column, code(text))
    }

    /// A code, or a default where the cell is empty.
    pub(super) fn code_or(&mut self, column: &str, default: &Code) -> Option<Code> {
        let Some(text) = self.text(column) else { return Some(default.clone()) };
        self.took(column, code(text))
    }

    /// A date, if there is one that can be read.
    pub(super) fn date_if_any(&mut self, column: &str) -> Option<Date> {
        let text = self.text(column)?;
        self.took(column, date(text))
    }

    /// A date that is needed.
    pub(super) fn date(&mut self, column: &str) -> Option<Date> {
        let text = self.needed(column)?;
        self.took(column, date(text))
    }

    /// Yes or no; no where the cell is empty.
    pub(super) fn yes_or_no(&mut self, column: &str) -> Option<bool> {
        let text = self.text(column).unwrap_or("no");
        let read = match text.to_lowercase().as_str() {
            "yes" | "true" | "1" => Ok(true),
            "no" | "false" | "0" => Ok(false),
            _ => Err(Fault::new("yes-or-no", format!("`{text}` is neither yes nor no"), "write `yes` or `no`")),
        };
        self.took(column, read)
    }

    /// One of several things by its word, without regard to capitals.
    pub(super) fn one_of<T: Copy>(&mut self, column: &str, all: &[T], word: impl Fn(T) -> &'static str) -> Option<T> {
        let text = self.needed(column)?;
        let folded = text.to_lowercase().replace(['_', ' '], "-");
        let found = all.iter().copied().find(|one| word(*one).to_lowercase() == folded);
        let words = || all.iter().map(|one| word(*one));
        let read = found.ok_or_else(|| {
            let mend = nearest_name(text, words()).map_or_else(
                || format!("write one of: {}", words().collect::<Vec<_>>().join(", ")),
                |near| format!("did you mean `{near}`?"),
            );
            Fault::new("unknown-word", format!("`{text}` is no word for `{column}`"), mend)
        });
        self.took(column, read)
    }

    /// Several words: blanks, commas, semicolons and upright strokes part them.
    pub(super) fn words(&self, column: &str) -> Vec<Word> {
        let apart = |c: char| c.is_whitespace() || matches!(c, ',' | ';' | '|');
        self.text(column).unwrap_or_default().split(apart).filter(|word| !word.is_empty()).map(Word::from).collect()
    }
}

fn code(text: &str) -> Result<Code, Fault> {
    Code::parse(text).map_err(|why| Fault::new("code", format!("`{text}` is not a code"), why))
}

/// Reads a date such as 2026-09-08; nothing else, for `9/8/2026` is another
/// day on the other side of a sea.
///
/// # Errors
/// A fault that says how a date is written, or that there is no such day.
pub(super) fn date(text: &str) -> Result<Date, Fault> {
    let shape = text.len() == 10
        && text
            .bytes()
            .enumerate()
            .all(|(at, byte)| if matches!(at, 4 | 7) { byte == b'-' } else { byte.is_ascii_digit() });
    if !shape {
        let both = text.contains(['.', '/']) && text.contains(|c: char| c.is_ascii_digit());
        let why = if both { ": day and month are written in both orders" } else { "" };
        let message = format!("`{text}` is not a date that can be read without doubt{why}");
        return Err(Fault::new("date", message, "write year, month and day as in 2026-09-08"));
    }
    text.parse().map_err(|_| Fault::new("date", format!("there is no day {text}"), "look at the calendar again"))
}

/// Reads a number without a sign, with the programme's decimal mark.
///
/// # Errors
/// A fault that says how numbers are written here.
pub(super) fn number(text: &str, decimal_comma: bool) -> Result<f64, Fault> {
    let (mark, example) = if decimal_comma { (',', "7,5") } else { ('.', "7.5") };
    let (whole, part) = text.split_once(mark).unwrap_or((text, "0"));
    let digits = |text: &str| (1..=9).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    let read = if digits(whole) && digits(part) { format!("{whole}.{part}").parse().ok() } else { None };
    read.ok_or_else(|| {
        let message = format!("`{text}` is not a number as this programme writes them");
        Fault::new("number", message, format!("write it as in {example}, without a unit and without grouping"))
    })
}

/// Reads a share, from 0 to 1: `70 %`, or `0.7`; `decimal_comma` tells the
/// programme's decimal mark.
///
/// # Errors
/// A fault that says how numbers are written here, and one for more than the whole.
///
/// # Examples
/// ```
/// use gearside::exchange::share;
/// assert_eq!(share("70 %", false), share("0.7", false));
/// assert_eq!(share("0,5", true), Ok(0.5));
/// assert!(share("120 %", false).is_err());
/// ```
pub fn share(text: &str, decimal_comma: bool) -> Result<f64, Fault> {
    let (share, shown) = match text.strip_suffix('%') {
        Some(percent) => (number(percent.trim_end(), decimal_comma)? / 100.0, text),
        None => (number(text, decimal_comma)?, text),
    };
    if share > 1.0 {
        return Err(Fault::new("share", format!("`{shown}` is more than the whole"), "write it as in `70 %`"));
    }
    Ok(share)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_date_is_year_month_day_and_nothing_else() {
        assert_eq!(date("2028-02-29").expect("a leap day"), jiff::civil::date(2028, 2, 29));
        for text in ["8.9.2026", "9/8/2026", "2026/09/08"] {
            assert!(date(text).expect_err(text).message.contains("both orders"), "{text}");
        }
        for text in ["2026-9-8", "20260908", "2026-09-08T07:00", "yesterday", "", "２０２６-09-08"] {
            assert!(date(text).is_err(), "{text}");
        }
        assert_eq!(date("2026-02-29").expect_err("no leap year").message, "there is no day 2026-02-29");
        assert_eq!(date("2026-13-01").expect_err("no month").message, "there is no day 2026-13-01");
    }

    #[test]
    fn numbers_have_the_mark_of_the_programme() {
        // text, with a point, with a comma
        let table = [
            ("7", Some(7.0), Some(7.0)),
            ("7.5", Some(7.5), None),
            ("7,5", None, Some(7.5)),
            ("1,250", None, Some(1.25)),
            ("1.250", Some(1.25), None),
            ("1,250.5", None, None),
            ("-1", None, None),
            ("7 h", None, None),
            (".5", None, None),
            ("1e3", None, None),
            ("", None, None),
        ];
        for (text, point, comma) in table {
            assert_eq!(number(text, false).ok(), point, "{text} with a point");
            assert_eq!(number(text, true).ok(), comma, "{text} with a comma");
        }
    }

    #[test]
    fn a_share_is_a_percentage_or_a_part_of_one() {
        for (text, want) in [
            ("70 %", Some(0.7)),
            ("70%", Some(0.7)),
            ("0.7", Some(0.7)),
            ("1", Some(1.0)),
            ("70", None),
            ("101 %", None),
            ("%", None),
        ] {
            assert_eq!(share(text, false).ok(), want, "{text}");
        }
        assert_eq!(share("62,5 %", true).ok(), Some(0.625));
    }
}
