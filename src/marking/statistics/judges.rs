//! The cut that judges expect of a just-competent apprentice.

use serde::Serialize;

use super::WhyNot;
use super::reliability::{count, mean, variance};

/// A pass mark with a basis and a spread.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cut {
    /// The mean over the judges of the marks each expects in all, in marks.
    pub cut: f64,
    /// The same as a share of all marks.
    pub share: f64,
    /// The standard deviation (over n − 1) of the judges' sums.
    pub spread: Result<f64, WhyNot>,
    /// The standard error of the cut: the spread over the square root of the number of judges.
    pub standard_error: Result<f64, WhyNot>,
    /// How many judges there are.
    pub judges: usize,
}

/// The cut from what each judge expects, as a share from 0 to 1, of each exercise.
///
/// Source: Angoff, in Thorndike (ed.), Educational Measurement, 2nd ed. (1971)
/// 508–600: the expected mark of a just-competent taker, summed.
///
/// # Errors
/// [`WhyNot::NoTakers`] if there is no judge, or a judge did not judge every exercise.
///
/// ```
/// use gearside::marking::statistics::expected_cut;
/// let judges = [vec![0.8, 0.7, 0.9, 0.6], vec![0.7, 0.7, 0.8, 0.7], vec![0.75, 0.7, 0.7, 0.7]];
/// let cut = expected_cut(&judges).unwrap();
/// assert!((cut.cut - 2.916_667).abs() < 1e-6);
/// ```
pub fn expected_cut(judges: &[Vec<f64>]) -> Result<Cut, WhyNot> {
    let exercises = judges.first().map_or(0, Vec::len);
    if exercises == 0 || judges.iter().any(|one| one.len() != exercises) {
        return Err(WhyNot::NoTakers);
    }
    let sums: Vec<f64> = judges.iter().map(|one| one.iter().sum()).collect();
    let cut = mean(&sums);
    let spread = if sums.len() < 2 { Err(WhyNot::OneJudge) } else { Ok(libm::sqrt(variance(&sums))) };
    let standard_error = spread.clone().map(|spread| spread / libm::sqrt(count(sums.len())));
    Ok(Cut { cut, share: cut / count(exercises), spread, standard_error, judges: sums.len() })
}
