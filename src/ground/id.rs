//! Ids of competencies, exercises and cautions, and near names for typing slips.

use std::fmt;

/// The longest id.
const MOST_LETTERS: usize = 60;
/// Names that some file systems keep for devices: a page named after one cannot be written.
const DEVICE_NAMES: &[&str] = &["con", "prn", "aux", "nul"];

/// A checked id: `[a-z][a-z0-9-]{0,59}`, and no device name.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id(String);

impl Id {
    /// Checks an id.
    ///
    /// # Errors
    /// A sentence that says what is wrong, for anything that is not a letter
    /// followed by at most 59 letters, digits or hyphens, and for device names.
    ///
    /// ```
    /// use gearside::ground::Id;
    /// assert_eq!(Id::parse("set-kiss-impression").unwrap().as_str(), "set-kiss-impression");
    /// assert!(Id::parse("Set Kiss").is_err());
    /// assert!(Id::parse("com1").is_err());
    /// ```
    pub fn parse(text: &str) -> Result<Self, String> {
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if !text.starts_with(|c: char| c.is_ascii_lowercase()) || !text.chars().all(plain) {
            return Err(
                "an id starts with a small letter and holds only small letters a-z, digits and hyphens".to_owned()
            );
        }
        if text.len() > MOST_LETTERS {
            return Err(format!("an id has at most {MOST_LETTERS} characters; this one has {}", text.len()));
        }
        let device = DEVICE_NAMES.contains(&text)
            || (text.len() == 4
                && (text.starts_with("com") || text.starts_with("lpt"))
                && text.ends_with(|c: char| c.is_ascii_digit()));
        if device {
            return Err(format!("`{text}` is a device name on some computers, so no page can be named after it"));
        }
        Ok(Self(text.to_owned()))
    }

    /// The id as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl AsRef<str> for Id {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

/// The name of `known` that looks most like `wanted`, if one is close enough
/// to be a likely typing slip.
///
/// ```
/// use gearside::ground::nearest_name;
/// assert_eq!(nearest_name("minuts", ["minutes", "moves"]), Some("minutes"));
/// assert_eq!(nearest_name("zebra", ["minutes", "moves"]), None);
/// ```
#[must_use]
pub fn nearest_name<'a>(wanted: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let folded = wanted.to_lowercase();
    known
        .into_iter()
        .map(|name| (strsim::damerau_levenshtein(&folded, &name.to_lowercase()), name))
        .filter(|(distance, name)| *distance <= (name.chars().count().max(wanted.chars().count()) / 3).clamp(1, 4))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_id_is_a_small_letter_then_letters_digits_hyphens() {
        for good in ["a", "a1", "set-kiss-impression", "co"] {
            assert!(Id::parse(good).is_ok(), "{good}");
        }
        for bad in ["", "1a", "-a", "A", "a b", "a_b", "ä", "nul", "lpt9", &"a".repeat(61)] {
            assert!(Id::parse(bad).is_err(), "{bad}");
        }
    }
}
