//! Intervals: how far a share or a correlation of so few may be from the truth.

use crate::marking::Interval;

/// The 97.5 % point of the normal distribution, for intervals of 95 %.
pub const Z95: f64 = 1.959_963_984_540_054;

/// The 95 % score interval of a share: `sum` of the marks over `takers`.
///
/// Source: Wilson, J. Am. Stat. Assoc. 22 (1927) 209–212; the form in Newcombe,
/// Stat. Med. 17 (1998) 857–872. Marks between 0 and 1 spread less about their
/// mean than marks that are 0 or 1, so for them it is wider than it need be. Of
/// no takers it is all of 0 to 1.
///
/// ```
/// use gearside::marking::statistics::wilson;
/// let all_right = wilson(10.0, 10);
/// assert!((all_right.lo - 0.722_467).abs() < 1e-6 && (all_right.hi - 1.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn wilson(sum: f64, takers: usize) -> Interval {
    if takers == 0 {
        return Interval { lo: 0.0, hi: 1.0 };
    }
    let n = super::reliability::count(takers);
    let p = (sum / n).clamp(0.0, 1.0);
    let z2 = Z95 * Z95;
    let centre = p + z2 / (2.0 * n);
    let reach = Z95 * libm::sqrt(p * (1.0 - p) / n + z2 / (4.0 * n * n));
    let whole = 1.0 + z2 / n;
    Interval { lo: ((centre - reach) / whole).clamp(0.0, 1.0), hi: ((centre + reach) / whole).clamp(0.0, 1.0) }
}

/// The 95 % interval of a correlation over `pairs` pairs; of fewer than 4 it
/// is all of −1 to 1, and of a correlation of 1 only that.
///
/// Source: Fisher's transformation, Metron 1 (1921) 3–32: atanh r has the
/// standard error 1/√(n − 3) where both sides are normal. Marks of 0 and 1 are
/// not, so it is a guide.
///
/// ```
/// use gearside::marking::statistics::correlation_interval;
/// let interval = correlation_interval(0.5, 30);
/// assert!((interval.lo - 0.170).abs() < 1e-3 && (interval.hi - 0.729).abs() < 1e-3);
/// ```
#[must_use]
pub fn correlation_interval(r: f64, pairs: usize) -> Interval {
    if pairs < 4 {
        return Interval { lo: -1.0, hi: 1.0 };
    }
    let reach = Z95 / libm::sqrt(super::reliability::count(pairs - 3));
    Interval { lo: libm::tanh(libm::atanh(r) - reach), hi: libm::tanh(libm::atanh(r) + reach) }
}
