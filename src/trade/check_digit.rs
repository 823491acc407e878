//! The check digit of a number that a bar code carries.

use super::catalogue::{Calculation, Topic, one, outcome, parameter, turn};
use super::kind::KindOfQuantity;

/// The check digit of a number that a bar code carries; not a number for what
/// is no whole number from 0 to below 10¹⁵.
///
/// `digits` is the number without its check digit: 7 digits for EAN-8, 11 for
/// UPC-A, 12 for EAN-13, 13 for an outer case. Noughts in front change nothing.
///
/// Source: the modulo 10 rule of the GS1 General Specifications. From the right
/// the digits count three times and once in turn; the check digit fills the sum
/// up to the next ten.
///
/// ```
/// use gearside::trade::check_digit::check_digit;
/// // The number 7351353-7 is a usual specimen of an EAN-8.
/// assert!((check_digit(7_351_353.0) - 7.0).abs() < 1e-12);
/// assert!(check_digit(0.5).is_nan());
/// ```
#[must_use]
pub fn check_digit(digits: f64) -> f64 {
    if !(0.0..1e15).contains(&digits) || libm::trunc(digits) < digits {
        return f64::NAN;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number from 0 to below 10¹⁵")]
    let mut rest = digits as u64;
    let (mut sum, mut weight) = (0_u32, 3);
    while rest > 0 {
        sum += weight * u32::try_from(rest % 10).unwrap_or_default();
        weight = 4 - weight;
        rest /= 10;
    }
    f64::from((10 - sum % 10) % 10)
}

pub(super) const CALCULATIONS: &[Calculation] = &[Calculation {
    name: "check_digit",
    title: "Check digit",
    topic: Topic::BarCode,
    says: "Which last digit a bar code's number takes, from the 7 to 13 digits before it.",
    parameters: &[parameter("digits", "d", "number without its check digit", "", 0.0, 9_999_999_999_999.0)],
    outcome: outcome("c", "", KindOfQuantity::Count, 0.0, 9.0),
    compute: |a| one(a, check_digit),
    expansion: None,
    wrong_turns: &[
        turn(
            "weights_exchanged",
            "check_digit(10 * digits)",
            "You began with one times. From the right the first digit counts three times.",
        ),
        turn(
            "remainder_given",
            "if(check_digit(digits) == 0, 0, 10 - check_digit(digits))",
            "You gave what the sum is over the last ten. The check digit is what is missing to the next ten.",
        ),
    ],
    no_result_when: Some("the digits are no whole number"),
    source: "modulo 10 rule of the GS1 General Specifications, weights 3 and 1 from the right",
}];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// The digits, check digit and all, counted once and three times in turn from the right.
    fn weighted_sum(text: &str) -> u32 {
        let digits = text.chars().rev().filter_map(|c| c.to_digit(10));
        digits.zip([1, 3].into_iter().cycle()).map(|(digit, weight)| digit * weight).sum()
    }

    #[test]
    fn noughts_in_front_change_no_check_digit() {
        // A UPC-A is an EAN-13 with a nought in front.
        for text in ["1234567890", "01234567890", "001234567890"] {
            let digits = text.parse().unwrap_or(f64::NAN);
            assert!((check_digit(digits) - 5.0).abs() < 1e-12, "{text}");
        }
    }

    #[test]
    fn what_is_no_whole_number_has_no_check_digit() {
        for digits in [-1.0, 0.5, 1e15, f64::NAN, f64::INFINITY] {
            assert!(check_digit(digits).is_nan(), "{digits}");
        }
    }

    proptest! {
        #[test]
        fn a_number_with_its_check_digit_sums_to_a_ten(digits in 0_u64..10_000_000_000_000) {
            #[expect(clippy::cast_precision_loss, reason = "below 2⁵³")]
            let check = check_digit(digits as f64);
            let sum = weighted_sum(&format!("{digits}{check}"));
            prop_assert_eq!(sum % 10, 0, "{}{}", digits, check);
        }

        #[test]
        fn one_wrong_digit_is_always_found(digits in 0_u64..1_000_000_000_000, place in 0_u32..12, by in 1_u64..10) {
            let power = 10_u64.pow(place);
            let digit = digits / power % 10;
            let other = digits - digit * power + (digit + by) % 10 * power;
            #[expect(clippy::cast_precision_loss, reason = "below 2⁵³")]
            let (one, two) = (check_digit(digits as f64), check_digit(other as f64));
            prop_assert!((one - two).abs() > 0.5, "{} and {}", digits, other);
        }
    }
}
