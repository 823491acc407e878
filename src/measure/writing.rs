//! Writing numbers and quantities for people.
//!
//! A decimal mark as the programme says, a true minus sign, and from five
//! whole digits on groups of three with a narrow no-break space between, which
//! no reader takes for a decimal mark. Whatever is written here,
//! [`read`](super::read) reads back.

use super::units::Unit;
use crate::ground::Decimal;

/// The sign between whole digits and decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DecimalMark {
    /// `0.81`
    #[default]
    Point,
    /// `0,81`
    Comma,
}

impl DecimalMark {
    /// The character itself.
    #[must_use]
    pub fn sign(self) -> char {
        match self {
            Self::Point => '.',
            Self::Comma => ',',
        }
    }
}

/// Stands between groups of three digits.
const GROUP_SPACE: char = '\u{202F}';
/// Four whole digits read well without a gap.
const LEAST_DIGITS_GROUPED: usize = 5;

/// Fractions that have a sign of their own.
pub(super) const VULGAR: [(char, u32, u32); 15] = [
    ('½', 1, 2),
    ('¼', 1, 4),
    ('¾', 3, 4),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
];

/// A number as people read it, with as many places as it was written with.
///
/// ```
/// use gearside::ground::Decimal;
/// use gearside::measure::{DecimalMark, number};
/// let d = |text| Decimal::parse(text).unwrap();
/// assert_eq!(number(d("-0.50"), DecimalMark::Comma), "−0,50");
/// assert_eq!(number(d("1250"), DecimalMark::Point), "1250");
/// assert_eq!(number(d("12500.5"), DecimalMark::Point), "12\u{202F}500.5");
/// ```
#[must_use]
pub fn number(value: Decimal, mark: DecimalMark) -> String {
    dressed(&value.to_string(), mark)
}

/// A number with its unit. A plain number stands alone; a bare 1 takes the
/// singular; the degree of an angle is set close, as the SI asks.
///
/// ```
/// use gearside::ground::Decimal;
/// use gearside::measure::{DecimalMark, quantity, unit};
/// let written = |text, name| quantity(Decimal::parse(text).unwrap(), unit(name).unwrap(), DecimalMark::Point);
/// assert_eq!(written("45", "%"), "45 %");
/// assert_eq!(written("3.8", "BCM"), "3.8 BCM/in²");
/// assert_eq!(written("0.07", ""), "0.07");
/// assert_eq!(written("0.3", "deg"), "0.3°");
/// assert_eq!(written("20", "°C"), "20 °C");
/// assert_eq!(written("1", "teeth"), "1 tooth");
/// ```
#[must_use]
pub fn quantity(value: Decimal, unit: &Unit, mark: DecimalMark) -> String {
    with_unit(&number(value, mark), unit)
}

/// A length in inches as a rule shows it: `16 ½ in`, `5/16 in`, `−3 33/64 in`.
/// What is not a whole number of sixty-fourths (to one part in 10⁹) is written
/// as a decimal; what is not finite, as a dash.
///
/// ```
/// use gearside::measure::{DecimalMark, fraction};
/// assert_eq!(fraction(16.5, DecimalMark::Point), "16 ½ in");
/// assert_eq!(fraction(0.3125, DecimalMark::Point), "5/16 in");
/// assert_eq!(fraction(16.1, DecimalMark::Comma), "16,1 in");
/// ```
#[must_use]
pub fn fraction(inches: f64, mark: DecimalMark) -> String {
    if !inches.is_finite() {
        return "—".to_owned();
    }
    let Some((whole, over, under)) = sixty_fourths(inches.abs()) else {
        return format!("{} in", dressed(&rounded(inches, 17), mark));
    };
    let whole = dressed(&whole.to_string(), mark);
    let part = match VULGAR.iter().find(|(_, top, bottom)| (*top, *bottom) == (over, under)) {
        Some((sign, ..)) => sign.to_string(),
        None => format!("{over}/{under}"),
    };
    let size = match (whole.as_str(), over) {
        (_, 0) => whole,
        ("0", _) => part,
        _ => format!("{whole} {part}"),
    };
    let sign = if inches < 0.0 && size != "0" { "−" } else { "" };
    format!("{sign}{size} in")
}

/// Whole inches and a fraction in lowest terms; `None` if it is not a whole
/// number of sixty-fourths, or beyond any press.
fn sixty_fourths(inches: f64) -> Option<(u32, u32, u32)> {
    if inches > 1e6 {
        return None;
    }
    let count = libm::round(inches * 64.0);
    if (inches * 64.0 - count).abs() > 64e-9 * inches.min(1.0) {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number from 0 to 64e6")]
    let count = count as u32;
    let (whole, mut over, mut under) = (count / 64, count % 64, 64);
    while over.is_multiple_of(2) && under > 1 {
        (over, under) = (over / 2, under / 2);
    }
    Some((whole, over, under))
}

/// A written number and its unit.
pub(super) fn with_unit(number: &str, unit: &Unit) -> String {
    match unit.name {
        "" => number.to_owned(),
        "°" => [number, "°"].concat(),
        _ if number == "1" => ["1 ", unit.singular()].concat(),
        name => [number, " ", name].concat(),
    }
}

/// A plain number (`-12345.6`, `8.1e-7`) with the mark, minus sign and gaps
/// that people read.
pub(super) fn dressed(plain: &str, mark: DecimalMark) -> String {
    let (sign, size) = plain.strip_prefix('-').map_or(("", plain), |size| ("−", size));
    let (mantissa, exponent) = size.split_once('e').unwrap_or((size, ""));
    let (whole, part) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    // Room for a sign and a gap after every third digit.
    let mut out = String::with_capacity(2 * plain.len() + sign.len());
    out.push_str(sign);
    for (i, digit) in whole.chars().enumerate() {
        let left = whole.len() - i;
        if i > 0 && left.is_multiple_of(3) && whole.len() >= LEAST_DIGITS_GROUPED {
            out.push(GROUP_SPACE);
        }
        out.push(digit);
    }
    if !part.is_empty() {
        out.push(mark.sign());
        out.push_str(part);
    }
    if !exponent.is_empty() {
        out.push_str(" × 10^");
        out.push_str(&exponent.replace('-', "−"));
    }
    out
}

/// The value with at most `significant` digits, whole digits never dropped and
/// no zeros at the end; with an exponent from 10¹⁵ on and below 10⁻⁶.
///
/// It rounds halves away from zero on the shortest decimal that means this
/// value; the page script has the same decimal and so writes the same.
pub(super) fn rounded(value: f64, significant: usize) -> String {
    let text = format!("{value:e}");
    let (mantissa, exponent) = text.split_once('e').unwrap_or((&text, "0"));
    let (sign, mantissa) = mantissa.strip_prefix('-').map_or(("", mantissa), |size| ("-", size));
    let exponent: i32 = exponent.parse().unwrap_or(0);
    let plain = (-6..15).contains(&exponent);
    let whole = if plain { usize::try_from(exponent + 1).unwrap_or(0) } else { 1 };
    let (digits, carried) = round_digits(&mantissa.replace('.', ""), significant.max(whole));
    let exponent = exponent + i32::from(carried);
    let (shift, suffix) = if plain { (exponent, String::new()) } else { (0, format!("e{exponent}")) };
    format!("{sign}{}{suffix}", placed(&digits, shift))
}

/// The first `keep` digits, rounded, without zeros at the end; and whether the
/// carry ran over the front, as in 9.99 → 10.
fn round_digits(digits: &str, keep: usize) -> (String, bool) {
    let mut kept: Vec<u8> = digits.bytes().take(keep).collect();
    let mut carry = digits.as_bytes().get(keep).is_some_and(|digit| *digit >= b'5');
    for digit in kept.iter_mut().rev() {
        if !carry {
            break;
        }
        carry = *digit == b'9';
        *digit = if carry { b'0' } else { *digit + 1 };
    }
    if carry {
        kept.insert(0, b'1');
    }
    let text: String = kept.into_iter().map(char::from).collect();
    (text.trim_end_matches('0').to_owned(), carry)
}

/// Digits with the point behind the digit that stands for 10^`exponent`.
fn placed(digits: &str, exponent: i32) -> String {
    let Ok(before) = usize::try_from(exponent + 1) else {
        let gap = "0".repeat(usize::try_from(-exponent - 1).unwrap_or(0));
        return format!("0.{gap}{digits}");
    };
    if digits.is_empty() {
        "0".to_owned()
    } else if before == 0 {
        format!("0.{digits}")
    } else if digits.len() <= before {
        format!("{digits:0<before$}")
    } else {
        format!("{}.{}", &digits[..before], &digits[before..])
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Reading, UNITS, read, unit};
    use super::*;
    use proptest::prelude::*;

    fn read_back(text: &str, asked: &Unit, mark: DecimalMark) -> Option<f64> {
        match read(text, asked, mark) {
            Reading::Value { value, .. } => Some(value),
            _ => None,
        }
    }

    #[test]
    fn rounds_to_so_many_digits_but_keeps_whole_ones() {
        for (value, significant, want) in [
            (0.8128, 3, "0.813"),
            (16.625, 4, "16.63"),
            (123_456.7, 4, "123457"),
            (999.96, 4, "1000"),
            (0.099_96, 3, "0.1"),
            (9.9999, 3, "10"),
            (-2.5, 4, "-2.5"),
            (0.0, 4, "0"),
            (100.0, 4, "100"),
            (1.005, 3, "1.01"),
            (0.000_001_234, 3, "0.00000123"),
            (8.1e-7, 4, "8.1e-7"),
            (1e15, 4, "1e15"),
            (9.999_9e20, 3, "1e21"),
        ] {
            assert_eq!(rounded(value, significant), want, "{value} to {significant}");
        }
    }

    #[test]
    fn a_fraction_is_in_lowest_terms_down_to_sixty_fourths() {
        for (inches, want) in [
            (0.0, "0 in"),
            (-0.0, "0 in"),
            (16.0, "16 in"),
            (0.75, "¾ in"),
            (-16.5, "−16 ½ in"),
            (1.0 + 5.0 / 16.0, "1 5/16 in"),
            (3.0 + 33.0 / 64.0, "3 33/64 in"),
            (7.0 + 1.0 / 32.0, "7 1/32 in"),
            (0.067, "0.067 in"),
            (1.0 / 128.0, "0.0078125 in"),
            (1e-12, "1 × 10^−12 in"),
            (f64::NAN, "—"),
        ] {
            assert_eq!(fraction(inches, DecimalMark::Point), want, "{inches}");
        }
    }

    proptest! {
        #[test]
        fn every_written_quantity_is_read_back(digits in -999_999_999i64..999_999_999, places in 0usize..7,
                                               at in 0..UNITS.len(), comma: bool) {
            let mark = if comma { DecimalMark::Comma } else { DecimalMark::Point };
            let (sign, size) = (if digits < 0 { "-" } else { "" }, format!("{:010}", digits.unsigned_abs()));
            let (whole, part) = size.split_at(size.len() - places);
            let value = Decimal::parse(&format!("{sign}{}.{part}", whole.trim_start_matches('0'))).or(Decimal::parse("0")).expect("it is readable");
            let value = Decimal::parse(&value.to_string()).expect("it is readable");
            let text = quantity(value, &UNITS[at], mark);
            prop_assert_eq!(read_back(&text, &UNITS[at], mark), Some(value.value() + 0.0), "{}", text);
        }

        #[test]
        fn every_sixty_fourth_is_read_back(count in -640_000i32..640_000, comma: bool) {
            let mark = if comma { DecimalMark::Comma } else { DecimalMark::Point };
            let inches = f64::from(count) / 64.0;
            let text = fraction(inches, mark);
            prop_assert_eq!(read_back(&text, unit("in").expect("it is readable"), mark), Some(inches), "{}", text);
        }

        #[test]
        fn every_other_length_is_read_back(inches in -1e7f64..1e7) {
            let text = fraction(inches, DecimalMark::Point);
            let back = read_back(&text, unit("in").expect("it is readable"), DecimalMark::Point).expect("it is readable");
            prop_assert!((back - inches).abs() <= 1e-9 * inches.abs().max(1e-3), "{} {}", text, inches);
        }
    }
}
