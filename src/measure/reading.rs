//! Reading what a person typed into an answer box.
//!
//! `site-template/reading.js` is the same reader for the pages, to the same
//! last digit and the same words; what changes here changes there, and
//! `tests/vectors/readings.json` holds both to it.

use super::scan::{self, Scanned};
use super::units::{Unit, near, spelled};
use super::writing::{DecimalMark, dressed, rounded, with_unit};
use crate::ground::language::filled;
use crate::ground::say;

/// The most characters of an answer that are looked at.
const MOST_CHARACTERS: usize = 200;
/// Digits of a typed number in its echo.
const TYPED_DIGITS: usize = 10;

// Why something cannot be read: the keys of the texts that say it.
const TOO_LONG: &str = "reading.too-long";
const TOO_LARGE: &str = "reading.too-large";
const RATIO_REST: &str = "reading.ratio-rest";
const ZERO_RATIO: &str = "reading.zero-ratio";
const NOT_A_UNIT: &str = "reading.not-a-unit";
const NO_LAST_UNIT: &str = "reading.no-last-unit";
const PARTS: &str = "reading.parts";

/// What a typed answer turned out to be.
#[derive(Debug, Clone, PartialEq)]
pub enum Reading {
    /// Nothing but spaces.
    Blank,
    /// A value.
    Value {
        /// In the asked unit; finite, and never −0.
        value: f64,
        /// What it was read as: `0.81 µm`; `0.032 mil, that is 0.813 µm`.
        echo: String,
    },
    /// A number with a unit that measures something else.
    WrongKind {
        /// The typed unit; the plain unit for a ratio such as `1:12`.
        unit: &'static Unit,
        /// What it measures, in words.
        is: String,
        /// What was asked, in words.
        wanted: String,
    },
    /// A number with something behind it that is no unit of the table.
    UnknownUnit {
        /// The text behind the number.
        text: String,
        /// A spelling that looks like it.
        near: Option<&'static str>,
    },
    /// No number, or one that can be read in no one way.
    Unreadable {
        /// Why, as a clause: `there is no number at the front`.
        why: String,
    },
}

/// A number and what stands behind it, in one unit.
struct Part {
    size: f64,
    unit: &'static Unit,
}

/// Reads a typed answer to an ask in the unit `asked`. Never panics.
///
/// No unit means the asked one; another unit of the same dimension is
/// converted; seconds of a cup are neither time nor seconds of another cup.
///
/// ```
/// use gearside::measure::{DecimalMark, Reading, read, unit};
/// let reading = read("1-1/2\"", unit("in").unwrap(), DecimalMark::Point);
/// assert_eq!(reading, Reading::Value { value: 1.5, echo: "1.5 in".to_owned() });
/// let reading = read("30 s", unit("µm").unwrap(), DecimalMark::Point);
/// assert!(matches!(reading, Reading::WrongKind { is, wanted, .. } if is == "a time" && wanted == "a length"));
/// ```
#[must_use]
pub fn read(typed: &str, asked: &Unit, mark: DecimalMark) -> Reading {
    if typed.chars().count() > MOST_CHARACTERS {
        return unreadable(TOO_LONG);
    }
    let text = scan::cleaned(typed);
    if text.is_empty() {
        return Reading::Blank;
    }
    let (negative, size) = match text.strip_prefix('-') {
        Some(size) => (true, size),
        None => (false, text.strip_prefix('+').unwrap_or(&text)),
    };
    let size = size.strip_prefix(' ').unwrap_or(size);
    Reader { asked, mark, sign: if negative { -1.0 } else { 1.0 } }.read(size)
}

fn unreadable(why: &str) -> Reading {
    Reading::Unreadable { why: filled(why, &[]) }
}

/// What one reading is about.
struct Reader<'a> {
    asked: &'a Unit,
    mark: DecimalMark,
    sign: f64,
}

impl Reader<'_> {
    fn read(&self, text: &str) -> Reading {
        let first = match scan::number(text, self.mark) {
            Ok(first) => first,
            Err(why) => return unreadable(why),
        };
        let rest = trimmed(first.rest);
        if rest.is_empty() {
            let value = self.signed(first.value);
            return self.value(value, &with_unit(&self.typed(value), self.asked), false);
        }
        if let Some(second) = rest.strip_prefix(':') {
            return self.ratio(first.value, trimmed(second));
        }
        let name = match rest.strip_prefix('-') {
            Some(word) if word.starts_with(|c: char| c.is_ascii_alphabetic()) => word, // 5-inch
            _ => rest,
        };
        if let Some(unit) = self.unit(name) {
            return self.total(&[Part { size: first.value, unit }]);
        }
        match self.parts(first) {
            Ok(parts) => self.total(&parts),
            Err(None) => unknown(name),
            Err(Some(why)) => unreadable(why),
        }
    }

    /// A number with the sign of the answer; −0 becomes 0.
    fn signed(&self, size: f64) -> f64 {
        size * self.sign + 0.0
    }

    fn typed(&self, value: f64) -> String {
        dressed(&rounded(value, TYPED_DIGITS), self.mark)
    }

    /// The value, its echo closed with what it is in the asked unit if it was
    /// typed in another form.
    fn value(&self, value: f64, echo: &str, converted: bool) -> Reading {
        if !value.is_finite() {
            return unreadable(TOO_LARGE);
        }
        let echo = if converted {
            // A slide rule's worth of digits: enough to see what was meant.
            let digits = if value.abs() < 1.0 { 3 } else { 4 };
            let number = dressed(&rounded(value, digits), self.mark);
            say!("reading.that-is", echo = echo, value = with_unit(&number, self.asked))
        } else {
            echo.to_owned()
        };
        Reading::Value { value, echo }
    }

    /// `1:12`, a plain number.
    fn ratio(&self, above: f64, text: &str) -> Reading {
        let below = match scan::number(text, self.mark) {
            Ok(Scanned { value, rest }) if trimmed(rest).is_empty() => value,
            Ok(_) => return unreadable(RATIO_REST),
            Err(why) => return unreadable(why),
        };
        if below <= 0.0 {
            return unreadable(ZERO_RATIO);
        }
        if !below.is_finite() {
            return unreadable(TOO_LARGE);
        }
        let plain = &super::table::UNITS[0];
        match plain.convert(self.signed(above / below), self.asked) {
            Some(value) => {
                let echo = format!("{}:{}", self.typed(self.signed(above)), self.typed(below));
                self.value(value, &echo, true)
            }
            None => self.wrong_kind(plain),
        }
    }

    /// The unit so spelled: the asked one, else one that converts to it, else
    /// the first.
    fn unit(&self, text: &str) -> Option<&'static Unit> {
        let list = spelled(text);
        let named = list.iter().find(|unit| unit.name == self.asked.name);
        let fitting = || list.iter().find(|unit| unit.convert(0.0, self.asked).is_some());
        named.or_else(fitting).or(list.first()).copied()
    }

    /// `5' 3"`, `1 h 20 min`: numbers each with its unit. `None` for why: a
    /// unit among them is not known.
    fn parts(&self, first: Scanned<'_>) -> Result<Vec<Part>, Option<&'static str>> {
        let (mut parts, mut next) = (Vec::new(), first);
        loop {
            let rest = trimmed(next.rest);
            let end = number_start(rest);
            let name = trimmed(&rest[..end]);
            if name.is_empty() {
                return Err(Some(if rest.is_empty() { NO_LAST_UNIT } else { NOT_A_UNIT }));
            }
            let unit = self.unit(name).ok_or((!is_wordlike(name)).then_some(NOT_A_UNIT))?;
            let fits = |last: &Part| last.unit.dimension == unit.dimension && last.unit.factor > unit.factor;
            if unit.is_point() || !parts.last().is_none_or(fits) {
                return Err(Some(PARTS));
            }
            parts.push(Part { size: next.value, unit });
            if end == rest.len() {
                return Ok(parts);
            }
            next = scan::number(&rest[end..], self.mark).map_err(Some)?;
        }
    }

    /// The parts added up in the asked unit.
    fn total(&self, parts: &[Part]) -> Reading {
        let (mut total, mut echo) = (0.0, Vec::new());
        for part in parts {
            let size = self.signed(part.size);
            let Some(value) = part.unit.convert(size, self.asked) else { return self.wrong_kind(part.unit) };
            total += value;
            let shown = if echo.is_empty() { size } else { part.size };
            echo.push(with_unit(&self.typed(shown), part.unit));
        }
        let same = matches!(parts, [only] if only.unit.name == self.asked.name);
        self.value(total, &echo.join(" "), !same)
    }

    fn wrong_kind(&self, unit: &'static Unit) -> Reading {
        Reading::WrongKind { unit, is: unit.kind_said(), wanted: self.asked.kind_said() }
    }
}

/// A number with this behind it, which is in no table.
fn unknown(text: &str) -> Reading {
    if is_wordlike(text) {
        Reading::UnknownUnit { text: text.to_owned(), near: near(text) }
    } else {
        unreadable(NOT_A_UNIT)
    }
}

/// Without the spaces around it; the text has no others than plain ones.
fn trimmed(text: &str) -> &str {
    text.trim_matches(' ')
}

/// Where the next number starts, or the end.
fn number_start(text: &str) -> usize {
    let starts = |rest: &str| {
        let bare = rest.strip_prefix(['.', ',']).unwrap_or(rest);
        bare.starts_with(|c: char| c.is_ascii_digit()) || rest.starts_with(scan::is_vulgar)
    };
    text.char_indices().map(|(at, _)| at).find(|at| starts(&text[*at..])).unwrap_or(text.len())
}

/// Whether it could be meant as a unit: it has a letter, or a sign that is not ASCII.
fn is_wordlike(text: &str) -> bool {
    text.chars().any(|c| c.is_ascii_alphabetic() || !c.is_ascii())
}

#[cfg(test)]
mod tests {
    use super::super::UNITS;
    use super::*;
    use proptest::prelude::*;

    fn why(typed: &str) -> String {
        match read(typed, &UNITS[0], DecimalMark::Point) {
            Reading::Unreadable { why } => why,
            other => panic!("{typed:?} was read as {other:?}"),
        }
    }

    #[test]
    fn what_cannot_be_read_is_told_why() {
        for (typed, reason) in [
            ("abc", scan::NO_NUMBER),
            ("1.2.3", scan::GROUPS),
            ("1/0", scan::ZERO_BELOW),
            ("1 3/2", scan::WHOLE_FRACTION),
            ("1e999", TOO_LARGE),
            ("1:0", ZERO_RATIO),
            ("1:1e999", TOO_LARGE),
            ("1:2:3", RATIO_REST),
            ("1 2", NOT_A_UNIT),
            ("5' 3", NO_LAST_UNIT),
            ("20 min 1 h", PARTS),
            ("1".repeat(201).as_str(), TOO_LONG),
        ] {
            assert_eq!(why(typed), filled(reason, &[]), "{typed}");
        }
    }

    #[test]
    fn a_wrong_kind_says_what_it_is_and_what_is_wanted() {
        let cup = UNITS.iter().find(|unit| unit.name == "s (Zahn 2)").expect("a cup");
        let Reading::WrongKind { unit, is, wanted } = read("30 s (Zahn 3)", cup, DecimalMark::Point) else {
            panic!("seconds of one cup are not seconds of another");
        };
        assert_eq!(unit.name, "s (Zahn 3)");
        assert_eq!((is.as_str(), wanted.as_str()), ("seconds of the Zahn 3 cup", "seconds of the Zahn 2 cup"));
    }

    proptest! {
        #[test]
        fn any_text_is_read_as_something(typed in "\\PC{0,60}", at in 0..UNITS.len(), comma: bool) {
            let mark = if comma { DecimalMark::Comma } else { DecimalMark::Point };
            if let Reading::Value { value, .. } = read(&typed, &UNITS[at], mark) {
                prop_assert!(value.is_finite());
            }
        }

        #[test]
        fn texts_of_the_signs_that_matter_are_read_as_something(
            typed in "[0-9.,/:'\"°%#½⅓ eEx×*^⁻¹µm²ftinh\u{202f}\u{feff}-]{0,30}", at in 0..UNITS.len(),
        ) {
            if let Reading::Value { value, .. } = read(&typed, &UNITS[at], DecimalMark::Point) {
                prop_assert!(value.is_finite() && !(value == 0.0 && value.is_sign_negative()));
            }
        }
    }
}
