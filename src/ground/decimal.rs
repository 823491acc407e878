//! Exact decimals: the grids that givens are pulled from, and rounding as
//! people round.

use std::cmp::Ordering;
use std::fmt;
use std::io::Write as _;

/// The most digits behind the point that a [`Decimal`] keeps.
const MOST_PLACES: u32 = 12;
/// The most digits in all: beyond this an `f64` could not tell neighbours apart.
const MOST_DIGITS: usize = 15;
/// Whole numbers up to here are exact as an `f64`.
const MOST_EXACT: u128 = 1 << 53;

/// A decimal number of at most fifteen digits, kept exactly.
///
/// It remembers how many places it was written with, so `0.50` prints as
/// `0.50`. Comparison is by value.
#[derive(Debug, Clone, Copy)]
pub struct Decimal {
    digits: i128,
    places: u32,
}

impl Decimal {
    /// A whole number.
    #[must_use]
    pub fn whole(value: i64) -> Self {
        Self { digits: i128::from(value), places: 0 }
    }

    /// Reads plain decimal notation: `12`, `-0.5`, `.25`.
    ///
    /// # Errors
    /// `None` for anything else, for more than 15 digits, or more than 12
    /// places behind the point.
    ///
    /// ```
    /// use gearside::ground::Decimal;
    /// assert_eq!(Decimal::parse("0.50").unwrap().to_string(), "0.50");
    /// assert!(Decimal::parse("1e3").is_none());
    /// ```
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let (negative, body) = match text.strip_prefix(['-', '−']) {
            Some(rest) => (true, rest),
            None => (false, text.strip_prefix('+').unwrap_or(text)),
        };
        let (whole, part) = body.split_once('.').unwrap_or((body, ""));
        if whole.is_empty() && part.is_empty() {
            return None;
        }
        let all_digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        let places = u32::try_from(part.len()).ok()?;
        if !all_digits(whole) || !all_digits(part) || places > MOST_PLACES || whole.len() + part.len() > MOST_DIGITS {
            return None;
        }
        let digits: i128 = format!("{whole}{part}").parse().ok()?;
        Some(Self { digits: if negative { -digits } else { digits }, places })
    }

    /// The value as the nearest `f64`.
    #[must_use]
    pub fn value(self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "only what fits exactly is taken")]
        if self.digits.unsigned_abs() <= MOST_EXACT && self.places <= MOST_PLACES {
            // Both are exact, so that their quotient is correctly rounded.
            return self.digits as f64 / 10_u64.pow(self.places) as f64;
        }
        // Parsing the text is correctly rounded; dividing what is rounded might not be.
        self.to_string().parse().unwrap_or(f64::NAN)
    }

    /// How many places behind the point it is written with.
    #[must_use]
    pub fn places(self) -> u32 {
        self.places
    }

    /// A tenth of a one in the last place: one place finer than this step.
    #[must_use]
    pub fn finer(self) -> Self {
        Self { digits: 1, places: (self.places + 1).min(MOST_PLACES) }
    }

    /// Whether it is above zero.
    #[must_use]
    pub fn is_positive(self) -> bool {
        self.digits > 0
    }

    /// Both numbers at the same number of places.
    fn aligned(self, other: Self) -> (i128, i128, u32) {
        let places = self.places.max(other.places);
        let raise = |d: Self| d.digits * 10_i128.pow(places - d.places);
        (raise(self), raise(other), places)
    }

    /// How many grid values there are from `self` to `to` in steps of `every`,
    /// both ends included; `None` if `every` is not positive, the range is
    /// empty, or the last step does not land on `to`.
    ///
    /// ```
    /// use gearside::ground::Decimal;
    /// let d = |s| Decimal::parse(s).unwrap();
    /// assert_eq!(d("0.4").grid_to(d("0.6"), d("0.05")), Some(5));
    /// assert_eq!(d("0.4").grid_to(d("0.6"), d("0.07")), None);
    /// ```
    #[must_use]
    pub fn grid_to(self, to: Self, every: Self) -> Option<u64> {
        let places = self.places.max(to.places).max(every.places);
        let raise = |d: Self| d.digits * 10_i128.pow(places - d.places);
        let (from, to, every) = (raise(self), raise(to), raise(every));
        if every <= 0 || to < from || (to - from) % every != 0 {
            return None;
        }
        u64::try_from((to - from) / every + 1).ok()
    }

    /// The grid value number `index` above `self` in steps of `every`.
    #[must_use]
    pub fn grid_at(self, every: Self, index: u64) -> Self {
        let (from, every, places) = self.aligned(every);
        Self { digits: from + every * i128::from(index), places }
    }

    /// The multiple of `self` nearest to `value`, halves away from zero, judged
    /// on the 15-digit decimal of the value; −0 comes out as 0.
    ///
    /// A value that is not finite, or too large to keep, comes out as 0 with
    /// the step's places; callers check for finiteness first.
    ///
    /// ```
    /// use gearside::ground::Decimal;
    /// let cent = Decimal::parse("0.01").unwrap();
    /// assert_eq!(cent.nearest(2.675).to_string(), "2.68");
    /// assert_eq!(cent.nearest(-0.001).to_string(), "0.00");
    /// ```
    #[must_use]
    pub fn nearest(self, value: f64) -> Self {
        let zero = Self { digits: 0, places: self.places };
        if !value.is_finite() || self.digits <= 0 {
            return zero;
        }
        let Some((digits, exponent)) = fifteen_digits(value) else { return zero };
        // value = digits × 10^exponent; step = self.digits × 10^-places.
        let shift = exponent + i32::try_from(self.places).unwrap_or(i32::MAX);
        let count = if shift >= 0 {
            let Some(scaled) = 10_i128.checked_pow(shift.unsigned_abs()).and_then(|p| digits.checked_mul(p)) else {
                return zero;
            };
            divide_half_away(scaled, self.digits)
        } else if shift < -30 {
            0
        } else {
            let Some(step) = 10_i128.checked_pow(shift.unsigned_abs()).and_then(|p| self.digits.checked_mul(p)) else {
                return zero;
            };
            divide_half_away(digits, step)
        };
        Self { digits: count * self.digits, places: self.places }
    }
}

/// The value as an integer of at most 15 digits times a power of ten.
fn fifteen_digits(value: f64) -> Option<(i128, i32)> {
    // `-1.23456789012345e-300` has 22 letters.
    let mut room = [0_u8; 24];
    let mut rest = &mut room[..];
    write!(rest, "{value:.14e}").ok()?;
    let left = rest.len();
    let text = std::str::from_utf8(&room[..room.len() - left]).ok()?;
    let (mantissa, exponent) = text.split_once('e')?;
    let digits = mantissa.bytes().filter(u8::is_ascii_digit);
    let digits = digits.fold(0_i64, |number, digit| number * 10 + i64::from(digit - b'0'));
    let signed = if value < 0.0 { -digits } else { digits };
    Some((i128::from(signed), exponent.parse::<i32>().ok()? - 14))
}

/// Integer division with halves rounded away from zero; `by` is positive.
fn divide_half_away(value: i128, by: i128) -> i128 {
    let doubled = 2 * value.abs() + by;
    let count = doubled / (2 * by);
    if value < 0 { -count } else { count }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.digits.unsigned_abs();
        let sign = if self.digits < 0 { "-" } else { "" };
        if self.places == 0 {
            return write!(f, "{sign}{size}");
        }
        let unit = 10_u128.pow(self.places);
        write!(f, "{sign}{}.{:0width$}", size / unit, size % unit, width = self.places as usize)
    }
}

impl PartialEq for Decimal {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Decimal {}

impl PartialOrd for Decimal {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Decimal {
    fn cmp(&self, other: &Self) -> Ordering {
        let (left, right, _) = self.aligned(*other);
        left.cmp(&right)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn d(text: &str) -> Decimal {
        Decimal::parse(text).unwrap_or_else(|| panic!("{text} is a decimal"))
    }

    #[test]
    fn rounds_to_the_nearest_multiple_with_halves_away_from_zero() {
        for (value, step, want) in [
            (0.5, "1", "1"),
            (-0.5, "1", "-1"),
            (1.005, "0.01", "1.01"),
            (2.5, "1", "3"),
            (-0.004, "0.01", "0.00"),
            (1.37, "0.25", "1.25"),
            (1.38, "0.25", "1.50"),
            (12_345.678, "10", "12350"),
            (0.1 + 0.2, "0.1", "0.3"),
            (1e-40, "0.01", "0.00"),
        ] {
            assert_eq!(d(step).nearest(value).to_string(), want, "{value} to {step}");
        }
    }

    #[test]
    fn refuses_what_is_not_plain_decimal_notation() {
        for text in ["", ".", "-", "1e3", "1,5", " 1", "1 ", "0x1", "1234567890123456", "٣", "1.2.3"] {
            assert!(Decimal::parse(text).is_none(), "{text:?}");
        }
    }

    #[test]
    fn compares_by_value_and_prints_as_written() {
        assert_eq!(d("0.50"), d("0.5"));
        assert!(d("-1") < d("0.001"));
        assert_eq!(d("-0.50").to_string(), "-0.50");
    }

    proptest! {
        #[test]
        fn the_value_is_the_float_that_its_text_means(digits in -10_i128.pow(17)..10_i128.pow(17), places in 0_u32..13) {
            let decimal = Decimal { digits, places };
            prop_assert_eq!(Ok(decimal.value().to_bits()), decimal.to_string().parse().map(f64::to_bits), "{}", decimal);
        }

        #[test]
        fn rounding_twice_changes_nothing(value in -1e9f64..1e9, places in 0usize..6) {
            let step = d(&format!("{:.places$}1", 0.0, places = places).replace(".1", ".").replace("01", "1"));
            let once = step.nearest(value);
            prop_assert_eq!(once, step.nearest(once.value()));
        }

        #[test]
        fn the_rounded_value_is_within_half_a_step(value in -1e6f64..1e6) {
            let step = d("0.05");
            prop_assert!((step.nearest(value).value() - value).abs() <= 0.025 + 1e-8);
        }
    }
}
