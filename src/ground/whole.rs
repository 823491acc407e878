//! Whole numbers of things, the way a person with a pocket calculator counts.
//!
//! 0.330 mm at 2540 to the inch is 33 pixels, but 33.00000000000001 to the
//! machine. What lies a hair beside a whole number counts as that number; the
//! functions `round`, `floor` and `ceil` of formulas do the same.

/// How near counts as the same, as a share.
const HAIR: f64 = 1e-9;

/// The whole number at or below `value`.
///
/// ```
/// use gearside::ground::whole_below;
/// assert!((whole_below(0.3 / 0.1) - 3.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn whole_below(value: f64) -> f64 {
    let hair = (HAIR * value.abs().max(1.0)).min(1e-6);
    let nearest = libm::round(value);
    if (value - nearest).abs() <= hair { nearest } else { libm::floor(value) }
}

/// The whole number at or above `value`.
#[must_use]
pub fn whole_above(value: f64) -> f64 {
    -whole_below(-value) + 0.0
}

/// The nearest whole number; from halfway, the one farther from 0.
#[must_use]
pub fn whole_nearest(value: f64) -> f64 {
    libm::copysign(whole_below(value.abs() + 0.5), value) + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hair_beside_a_whole_number_is_that_number() {
        // value, down, up, nearest
        let table = [
            (0.3 / 0.1, 3.0, 3.0, 3.0),
            (33.000_000_000_000_01, 33.0, 33.0, 33.0),
            (24.944_9, 24.0, 25.0, 25.0),
            (24.5, 24.0, 25.0, 25.0),
            (24.499_999_999_999_99, 24.0, 25.0, 25.0),
            (24.499, 24.0, 25.0, 24.0),
            (0.2, 0.0, 1.0, 0.0),
            (-1.5, -2.0, -1.0, -2.0),
            (0.0, 0.0, 0.0, 0.0),
        ];
        for (value, down, up, nearest) in table {
            let got = [whole_below(value), whole_above(value), whole_nearest(value)];
            let fits = got.iter().zip([down, up, nearest]).all(|(a, b)| (a - b).abs() < 1e-12);
            assert!(fits, "{value}: {got:?}, not {down}, {up}, {nearest}");
        }
    }

    #[test]
    fn what_is_no_number_stays_none() {
        for value in [f64::NAN, f64::INFINITY] {
            assert!(
                !whole_nearest(value).is_finite() && !whole_above(value).is_finite() && !whole_below(value).is_finite()
            );
        }
    }
}
