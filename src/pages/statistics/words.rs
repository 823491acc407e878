//! Numbers of the page of statistics, in words.

use crate::ground::say;
use crate::marking::Interval;
use crate::marking::statistics::{WhyNot, correlation_interval};

/// A share in whole percent.
pub(super) fn percent(share: f64) -> String {
    format!("{:.0}\u{a0}%", share * 100.0)
}

/// A number with two decimals.
pub(super) fn two(value: f64, comma: bool) -> String {
    let text = format!("{value:.2}").replace('-', "−");
    if comma { text.replace('.', ",") } else { text }
}

/// A share with its interval.
pub(super) fn with_interval(share: f64, interval: Interval) -> String {
    say!(
        "statistics.probably-to",
        share = percent(share),
        lo = format_args!("{:.0}", interval.lo * 100.0),
        hi = percent(interval.hi)
    )
}

/// A correlation with its interval, or why there is none.
pub(super) fn correlation(found: &Result<f64, WhyNot>, pairs: usize, comma: bool) -> String {
    match found {
        Ok(r) => {
            let interval = correlation_interval(*r, pairs);
            say!(
                "statistics.probably-to",
                share = two(*r, comma),
                lo = two(interval.lo, comma),
                hi = two(interval.hi, comma)
            )
        }
        Err(why) => not_said(why),
    }
}

/// Why something is not said.
pub(super) fn not_said(why: &WhyNot) -> String {
    say!("statistics.not-said", why = why.words())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_and_correlations_are_told_with_their_intervals() {
        let interval = Interval { lo: 0.4902, hi: 0.9433 };
        assert_eq!(with_interval(0.8, interval), "80\u{a0}% (probably 49 to 94\u{a0}%)");
        assert_eq!(two(-0.256, true), "−0,26");
        // atanh 0.5 ± 1.96/√27: 0.170 and 0.729.
        assert_eq!(correlation(&Ok(0.5), 30, false), "0.50 (probably 0.17 to 0.73)");
        let why = correlation(&Err(WhyNot::TooFew(9)), 9, false);
        assert_eq!(why, "not said: only 9 took all of it; from 30 on it can be told");
    }
}
