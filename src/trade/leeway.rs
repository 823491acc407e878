//! Leeway: how far an answer may lie from the key, and how authors write it.

use crate::measure::{Dimension, Quantity, QuantityFault, Unit};

/// How far an answer may lie from the key. Amounts are in the asked unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Leeway {
    /// Not at all.
    Exact,
    /// A share of the key: `0.02` is 2 %.
    Relative(f64),
    /// An amount either way, in the asked unit.
    Absolute(f64),
    /// The larger of a share of the key and an amount in the asked unit.
    Larger(f64, f64),
}

/// The largest share that makes sense; more would let a half or a double through.
const MOST_SHARE: f64 = 0.5;

/// What one part of a text says.
enum Part {
    Share(f64),
    Amount(f64),
}

impl Leeway {
    /// How far to either side of the key, in the asked unit; at least 0.
    ///
    /// ```
    /// use gearside::trade::Leeway;
    /// assert!((Leeway::Larger(0.03, 0.02).half_width(-2.0) - 0.06).abs() < 1e-12);
    /// assert!((Leeway::Larger(0.03, 0.02).half_width(0.1) - 0.02).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn half_width(self, key_in_asked: f64) -> f64 {
        let share_of_key = |share: f64| share * key_in_asked.abs();
        match self {
            Self::Exact => 0.0,
            Self::Relative(share) => share_of_key(share),
            Self::Absolute(amount) => amount,
            Self::Larger(share, amount) => share_of_key(share).max(amount),
        }
    }

    /// Reads an author's leeway for an answer asked in `asked`: `exact`, `2 %`
    /// (of the key), `0.02 µm` (an amount, in any unit that fits), `3 % or
    /// 0.02 µm` (the larger). Where the answer itself is in % or points, `2 %`
    /// has two meanings, so there it is `2 % of key` or `0.5 points`.
    ///
    /// # Errors
    /// A sentence for the author, if the text is none of these, the unit is
    /// unknown or measures something else, a share is above 50 %, or a number is
    /// not above 0.
    ///
    /// ```
    /// use gearside::measure::unit;
    /// use gearside::trade::Leeway;
    /// let (µm, percent) = (unit("µm").unwrap(), unit("%").unwrap());
    /// assert_eq!(Leeway::parse("2 %", µm), Ok(Leeway::Relative(0.02)));
    /// assert_eq!(Leeway::parse("0.02 µm", µm), Ok(Leeway::Absolute(0.02)));
    /// assert_eq!(Leeway::parse("0.5 point", percent), Ok(Leeway::Absolute(0.5)));
    /// assert!(Leeway::parse("2 %", percent).unwrap_err().contains("two meanings"));
    /// ```
    pub fn parse(text: &str, asked: &Unit) -> Result<Self, String> {
        let text = text.trim();
        if text == "exact" {
            return Ok(Self::Exact);
        }
        let parts: Vec<Part> = text.split(" or ").map(|part| read_part(part, asked)).collect::<Result<_, _>>()?;
        match parts[..] {
            [Part::Share(share)] => Ok(Self::Relative(share)),
            [Part::Amount(amount)] => Ok(Self::Absolute(amount)),
            [Part::Share(share), Part::Amount(amount)] | [Part::Amount(amount), Part::Share(share)] => {
                Ok(Self::Larger(share, amount))
            }
            [_, _] => Err(format!("`{text}`: with `or`, one part is a share of the key and the other an amount")),
            _ => Err(format!("`{text}`: at most two parts, a share of the key and an amount")),
        }
    }
}

fn read_part(text: &str, asked: &Unit) -> Result<Part, String> {
    let text = text.trim();
    let (number, of_key) = match text.strip_suffix("of key").or_else(|| text.strip_suffix("of the key")) {
        Some(rest) => (rest.trim_end(), true),
        None => (text, false),
    };
    let leeway = Quantity::parse_wanting(number, Some(asked.dimension)).map_err(|fault| not_read(text, &fault))?;
    if !leeway.number.is_positive() {
        return Err(format!("`{text}`: a leeway is above 0; where only the key itself is right, write `exact`"));
    }
    let in_percent = leeway.unit.name == "%";
    if of_key && !in_percent {
        return Err(format!("`{text}`: a share of the key is written in %, as in `2 % of key`"));
    }
    let asked_in_percent = matches!(asked.name, "%" | "points");
    if in_percent && asked_in_percent && !of_key {
        return Err(format!(
            "`{text}` has two meanings where the answer is in {}: write `{number} of key`, or the amount in points",
            asked.name
        ));
    }
    if in_percent {
        return if leeway.si <= MOST_SHARE {
            Ok(Part::Share(leeway.si))
        } else {
            Err(format!("`{text}`: a share of the key is at most 50 %"))
        };
    }
    amount(text, &leeway, asked).map(Part::Amount)
}

/// An amount, brought to the asked unit as a difference.
fn amount(text: &str, leeway: &Quantity, asked: &Unit) -> Result<f64, String> {
    let (unit, wanted) = (leeway.unit, asked.dimension);
    let bare_number = unit.name.is_empty() && !asked.name.is_empty();
    if bare_number {
        return Err(format!("`{text}` has no unit: write `{text} {}`, or `2 %` for a share of the key", asked.name));
    }
    if unit.dimension != wanted {
        return Err(format!("`{text}` is {}, but the answer is {}", words(unit.dimension), words(wanted)));
    }
    if unit.name == asked.name {
        // Through SI and back would cost the last digit.
        return Ok(leeway.number.value());
    }
    Ok(leeway.number.value() * unit.factor / asked.factor)
}

fn words(dimension: Dimension) -> String {
    dimension.to_string()
}

fn not_read(text: &str, fault: &QuantityFault) -> String {
    match fault {
        QuantityFault::NoNumber => format!("`{text}` does not start with a number"),
        QuantityFault::UnknownUnit(unknown) => match unknown.near {
            Some(near) => format!("there is no unit `{}`; did you mean `{near}`?", unknown.text),
            None => format!("there is no unit `{}`", unknown.text),
        },
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::measure::unit;

    fn known(name: &str) -> &'static Unit {
        unit(name).unwrap_or_else(|unknown| panic!("{unknown:?}"))
    }

    #[test]
    fn authors_write_shares_amounts_and_the_larger_of_both() {
        let table = [
            ("2 %", "µm", Leeway::Relative(0.02)),
            ("2%", "in", Leeway::Relative(0.02)),
            ("0.5 %", "", Leeway::Relative(0.005)),
            ("2 % of key", "µm", Leeway::Relative(0.02)),
            ("0.02 µm", "µm", Leeway::Absolute(0.02)),
            ("0.01", "", Leeway::Absolute(0.01)),
            ("0.5 °C", "°C", Leeway::Absolute(0.5)),
            ("2 s (Zahn 2)", "s (Zahn 2)", Leeway::Absolute(2.0)),
            ("3 % or 0.02 µm", "µm", Leeway::Larger(0.03, 0.02)),
            ("0.02 µm or 3 %", "µm", Leeway::Larger(0.03, 0.02)),
            ("2 % of key", "%", Leeway::Relative(0.02)),
            ("2 % of the key", "points", Leeway::Relative(0.02)),
            ("0.5 point", "%", Leeway::Absolute(0.5)),
            ("0.5 points", "points", Leeway::Absolute(0.5)),
            ("2 % of key or 0.5 point", "%", Leeway::Larger(0.02, 0.5)),
            ("exact", "teeth", Leeway::Exact),
        ];
        for (text, asked, expected) in table {
            assert_eq!(Leeway::parse(text, known(asked)), Ok(expected), "`{text}` in {asked}");
        }
    }

    #[test]
    fn an_amount_is_brought_to_the_asked_unit() {
        // 1 in = 25.4 mm exactly; a Fahrenheit degree is 5/9 of a kelvin.
        for (text, asked, expected) in [("0.02 mm", "in", 0.02 / 25.4), ("9 °F", "°C", 5.0), ("1 mil", "µm", 25.4)] {
            let Ok(Leeway::Absolute(amount)) = Leeway::parse(text, known(asked)) else {
                panic!("`{text}` in {asked}");
            };
            assert!((amount - expected).abs() < 1e-9, "`{text}` in {asked}: {amount}, not {expected}");
        }
    }

    #[test]
    fn a_leeway_that_cannot_be_is_told_in_a_sentence() {
        let table = [
            ("2 %", "%", "two meanings"),
            ("2 %", "points", "two meanings"),
            ("0.02", "µm", "has no unit: write `0.02 µm`"),
            ("0.02 s", "µm", "is a time, s, but the answer is a length"),
            ("0.02 foo", "µm", "there is no unit `foo`"),
            ("about a mil", "µm", "does not start with a number"),
            ("", "µm", "does not start with a number"),
            ("0 µm", "µm", "above 0"),
            ("-1 %", "µm", "above 0"),
            ("60 %", "µm", "at most 50 %"),
            ("2 µm of key", "µm", "written in %"),
            ("1 % or 2 %", "µm", "one part is a share"),
            ("1 % or 2 µm or 3 µm", "µm", "at most two parts"),
        ];
        for (text, asked, expected) in table {
            let message = Leeway::parse(text, known(asked)).expect_err(text);
            assert!(message.contains(expected), "`{text}` in {asked}: {message}");
        }
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in "\\PC{0,40}", asked in prop::sample::select(vec!["µm", "%", "", "°C"])) {
            if let Ok(leeway) = Leeway::parse(&text, known(asked)) {
                prop_assert!(leeway.half_width(1.0) >= 0.0);
            }
        }

        #[test]
        fn a_half_width_is_never_below_zero(key in -1e6_f64..1e6, share in 0.0_f64..0.5, amount in 0.0_f64..1e3) {
            for leeway in [Leeway::Relative(share), Leeway::Absolute(amount), Leeway::Larger(share, amount)] {
                prop_assert!(leeway.half_width(key) >= 0.0);
            }
        }
    }
}
