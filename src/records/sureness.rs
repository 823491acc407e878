//! How sure marked work makes us that someone's true rate is above the pass mark.
//!
//! The beta-binomial posterior with a uniform prior: one exercise is one
//! trial, and a trial weighs half as much after every 180 days.

use crate::ground::say;

/// After how many days a trial weighs half.
pub(super) const HALF_LIFE_DAYS: f64 = 180.0;

/// The weight of a trial of that age.
///
/// ```
/// use gearside::records::weight;
/// assert!((weight(180) - 0.5).abs() < 1e-12);
/// ```
#[must_use]
pub fn weight(age_days: i32) -> f64 {
    libm::exp2(-f64::from(age_days.max(0)) / HALF_LIFE_DAYS)
}

/// The chance, between 0 and 1, that the true rate of right exercises is above
/// `pass_mark`, after `right` and `wrong` trials, which may be weighted.
///
/// Source: Bayes' rule with a uniform prior on the rate; the posterior is the
/// beta distribution with parameters 1 + right and 1 + wrong.
///
/// ```
/// use gearside::records::sureness;
/// assert!((sureness(0.0, 0.0, 0.8) - 0.2).abs() < 1e-12); // nothing known: the prior
/// assert!(sureness(3.0, 0.0, 0.8) < 0.6);                  // three lucky answers
/// assert!(sureness(20.0, 0.0, 0.8) > 0.95);
/// ```
#[must_use]
pub fn sureness(right: f64, wrong: f64, pass_mark: f64) -> f64 {
    if pass_mark >= 1.0 {
        return 0.0;
    }
    if pass_mark <= 0.0 {
        return 1.0;
    }
    // The upper tail of Beta(a, b) at p is the lower tail of Beta(b, a) at 1 − p.
    puruspe::betai(1.0 + wrong.max(0.0), 1.0 + right.max(0.0), 1.0 - pass_mark)
}

/// How sure that is, in words.
#[must_use]
pub fn in_words(sureness: f64) -> String {
    if sureness >= 0.95 {
        say!("sureness.very")
    } else if sureness >= 0.8 {
        say!("sureness.fairly")
    } else if sureness >= 0.5 {
        say!("sureness.likely")
    } else {
        say!("sureness.not-yet")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn agrees_with_a_published_implementation() {
        // scipy 1.17.1, scipy.stats.beta.sf(pass, 1 + right, 1 + wrong)
        let table = [
            (8.0, 0.0, 0.8, 0.865_782_272),
            (9.0, 1.0, 0.8, 0.677_877_452_8),
            (7.0, 1.0, 0.8, 0.563_792_384),
            (3.0, 0.0, 0.8, 0.590_4),
            (0.0, 3.0, 0.8, 0.001_6),
            (18.0, 2.0, 0.8, 0.821_297_166_785_938_6),
            (4.5, 0.5, 0.8, 0.535_463_026_418_432_2),
            (120.0, 20.0, 0.8, 0.951_734_963_001_053_2),
        ];
        for (right, wrong, pass, want) in table {
            let got = sureness(right, wrong, pass);
            assert!((got - want).abs() < 1e-9, "{right} right, {wrong} wrong: {got}, not {want}");
        }
    }

    #[test]
    fn a_trial_weighs_half_after_each_half_life() {
        for (age, want) in [(0, 1.0), (180, 0.5), (360, 0.25), (90, std::f64::consts::FRAC_1_SQRT_2), (-3, 1.0)] {
            assert!((weight(age) - want).abs() < 1e-12, "{age} days");
        }
    }

    proptest! {
        #[test]
        fn one_more_right_makes_surer_and_one_more_wrong_less_sure(right in 0.0f64..60.0, wrong in 0.0f64..60.0, pass in 0.05f64..0.95) {
            let here = sureness(right, wrong, pass);
            prop_assert!((0.0..=1.0).contains(&here));
            prop_assert!(sureness(right + 1.0, wrong, pass) >= here - 1e-12);
            prop_assert!(sureness(right, wrong + 1.0, pass) <= here + 1e-12);
        }
    }
}
