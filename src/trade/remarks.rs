//! Values outside the range that makes sense are told, not hidden.

use super::catalogue::{Calculation, Parameter};
use crate::measure::unit;

/// How far beyond a limit still counts as the limit, as a share of it: what a
/// value loses on its way through SI and back.
const SLACK: f64 = 1e-9;

/// A value, in its unit, with the range it should lie in.
struct Ranged {
    value: f64,
    unit: &'static str,
    least: f64,
    most: f64,
}

impl Ranged {
    fn is_inside(&self) -> bool {
        let slack = SLACK * self.least.abs().max(self.most.abs());
        self.value.is_finite() && self.value >= self.least - slack && self.value <= self.most + slack
    }

    /// A sentence about the value of `what`, if it lies outside.
    fn remark(&self, what: &str) -> Option<String> {
        if self.is_inside() {
            return None;
        }
        let with_unit =
            |number: &str| if self.unit.is_empty() { number.to_owned() } else { format!("{number} {}", self.unit) };
        let (least, most) = (written(self.least, 6), written(self.most, 6));
        let range = format!("{least} to {}", with_unit(&most));
        if !self.value.is_finite() {
            return Some(format!("There is no finite number for the {what}; the range that makes sense is {range}."));
        }
        // A value just past a limit must not be printed as the limit.
        let value = (6..=15).map(|digits| written(self.value, digits)).find(|text| *text != least && *text != most);
        let value = with_unit(&value.unwrap_or_else(|| self.value.to_string()));
        Some(format!("{value} is outside {range}, the range that makes sense for the {what}."))
    }
}

/// A number with at most so many significant digits, without trailing zeros.
fn written(value: f64, digits: usize) -> String {
    let rounded: f64 = format!("{value:.*e}", digits - 1).parse().unwrap_or(value);
    match rounded.abs() {
        0.0 => "0".to_owned(),
        1e-9..1e15 => rounded.to_string(),
        _ => format!("{rounded:e}"),
    }
}

impl Calculation {
    /// A sentence for each argument and for the result, where it lies outside
    /// the range that makes sense. The values are in SI, the arguments in the
    /// order of `parameters`, each a slice as for `compute`; a missing argument
    /// gets no sentence.
    ///
    /// ```
    /// use gearside::trade::calculation;
    /// let tone_value = calculation("tone_value").unwrap();
    /// let result = tone_value.of(&[1.25, 1.20]);
    /// let remarks = tone_value.remarks(&[&[1.25], &[1.20]], result);
    /// assert_eq!(remarks, ["100.732 % is outside 0 to 100 %, the range that makes sense for the result (Tone value)."]);
    /// ```
    #[must_use]
    pub fn remarks(&self, args_si: &[&[f64]], result_si: f64) -> Vec<String> {
        let arguments = self.ranged(args_si).filter_map(|(parameter, ranged)| ranged.remark(parameter.says));
        let result = self.ranged_result(result_si).remark(&format!("result ({})", self.title));
        arguments.chain(result).collect()
    }

    /// Whether there are as many arguments as parameters, and all of them and
    /// the result are finite and inside their ranges. The values are in SI.
    ///
    /// ```
    /// use gearside::trade::calculation;
    /// let zahn_2 = calculation("zahn_2").unwrap();
    /// assert!(zahn_2.in_range(&[&[35.0]], 73.5e-6));
    /// assert!(!zahn_2.in_range(&[&[12.0]], -7e-6));
    /// ```
    #[must_use]
    pub fn in_range(&self, args_si: &[&[f64]], result_si: f64) -> bool {
        args_si.len() == self.parameters.len()
            && self.ranged(args_si).all(|(_, ranged)| ranged.is_inside())
            && self.ranged_result(result_si).is_inside()
    }

    fn ranged<'a>(&'a self, args_si: &'a [&'a [f64]]) -> impl Iterator<Item = (&'a Parameter, Ranged)> + 'a {
        self.parameters.iter().zip(args_si).flat_map(|(parameter, values)| {
            values.iter().map(move |si| {
                let value = in_unit(*si, parameter.unit);
                (parameter, Ranged { value, unit: parameter.unit, least: parameter.least, most: parameter.most })
            })
        })
    }

    fn ranged_result(&self, result_si: f64) -> Ranged {
        let outcome = &self.outcome;
        Ranged { value: in_unit(result_si, outcome.unit), unit: outcome.unit, least: outcome.least, most: outcome.most }
    }
}

/// An SI value in a unit of the catalogue (a test holds each to the table).
fn in_unit(si: f64, name: &str) -> f64 {
    unit(name).map_or(f64::NAN, |unit| unit.from_si(si))
}

#[cfg(test)]
mod tests {
    use super::super::{Calculation, calculation};

    fn known(name: &str) -> &'static Calculation {
        calculation(name).unwrap_or_else(|| panic!("{name} is in the catalogue"))
    }

    #[test]
    fn a_reading_outside_the_cups_range_is_told_with_the_range() {
        let zahn_2 = known("zahn_2");
        let args: [&[f64]; 1] = [&[12.0]];
        assert_eq!(
            zahn_2.remarks(&args, (zahn_2.compute)(&args)),
            [
                "12 s (Zahn 2) is outside 20 to 80 s (Zahn 2), the range that makes sense for the reading of the Zahn 2 cup.",
                "-7 mm²/s is outside 21 to 231 mm²/s, the range that makes sense for the result (Viscosity from Zahn 2 seconds).",
            ]
        );
        assert!(!zahn_2.in_range(&args, (zahn_2.compute)(&args)));
    }

    #[test]
    fn limits_themselves_are_inside() {
        let wet_film = known("wet_film");
        // 45 BCM/in² is 69.7501 µm; at 100 % that is more than a film can be.
        let volume = [45.0 * 1e-9 / (0.0254 * 0.0254)];
        let args: [&[f64]; 2] = [&volume, &[1.0]];
        let remarks = wet_film.remarks(&args, volume[0]);
        assert_eq!(remarks.len(), 1, "{remarks:?}");
        assert!(remarks[0].starts_with("69.7501 µm is outside 0.05 to 50 µm"), "{remarks:?}");
    }

    #[test]
    fn a_tone_value_above_100_is_told_not_hidden() {
        let increase = known("tone_value_increase");
        let remarks = increase.remarks(&[&[1.03], &[0.95]], 0.08);
        assert_eq!(remarks, ["103 % is outside 0 to 100 %, the range that makes sense for the printed tone value."]);
    }

    #[test]
    fn a_value_just_past_a_limit_is_not_printed_as_the_limit() {
        let tone_value = known("tone_value");
        let remarks = tone_value.remarks(&[&[1.0], &[1.0]], 1.000_000_04);
        assert!(remarks[0].starts_with("100.000004 % is outside 0 to 100 %"), "{remarks:?}");
    }

    #[test]
    fn what_is_no_number_is_out_of_range() {
        let share = known("blend_share");
        let args: [&[f64]; 3] = [&[0.4], &[0.4], &[0.4]];
        let result = (share.compute)(&args);
        assert!(!share.in_range(&args, result));
        assert_eq!(
            share.remarks(&args, result),
            ["There is no finite number for the result (Share of the strong one in a blend); \
                 the range that makes sense is 0 to 100 %."]
        );
        assert!(!share.in_range(&[&[0.4], &[0.6]], 0.5), "one argument is missing");
    }
}
