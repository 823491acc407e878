//! How many digits a printed text gives to work with.

/// For each number in a printed text: how many digits it has from the first to
/// the last that is not 0, at least 1.
pub(super) fn numbers(text: &str) -> impl Iterator<Item = usize> {
    let of_number = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '\u{202F}');
    text.split(move |c| !of_number(c)).filter(|word| word.contains(|c: char| c.is_ascii_digit())).map(|word| {
        let weighty = word.trim_matches(|c: char| !matches!(c, '1'..='9'));
        weighty.bytes().filter(u8::is_ascii_digit).count().max(1)
    })
}

/// The most digits of a number in a printed text.
pub(super) fn most_digits(text: &str) -> usize {
    // A unit such as `s (Zahn 2)` brings a one-digit number with it.
    numbers(text).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_those_from_the_first_to_the_last_that_is_not_zero() {
        for (text, wanted) in [
            ("0.81 µm", vec![2]),
            ("250 ft", vec![2]),
            ("12\u{202F}500 ft", vec![3]),
            ("0 %", vec![1]),
            ("1.30, 1.34 D", vec![2, 3]),
            ("10.05", vec![4]),
            ("red", vec![]),
        ] {
            assert_eq!(numbers(text).collect::<Vec<_>>(), wanted, "{text}");
        }
    }
}
