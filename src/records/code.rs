//! The code of a person: what facts say instead of a name.

use std::fmt;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

/// The longest code.
const MOST_LETTERS: usize = 24;

/// A person's code: a letter or digit, then at most 23 letters, digits, hyphens
/// and full stops.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Code(Arc<str>);

impl Code {
    /// Checks a code.
    ///
    /// # Errors
    /// A sentence that says what a code may hold, for anything else.
    ///
    /// ```
    /// use gearside::records::Code;
    /// assert_eq!(Code::parse("A-017").unwrap().as_str(), "A-017");
    /// assert!(Code::parse("Ann Other").is_err());
    /// ```
    pub fn parse(text: &str) -> Result<Self, String> {
        let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.');
        let fine = text.starts_with(|c: char| c.is_ascii_alphanumeric())
            && text.chars().all(plain)
            && text.len() <= MOST_LETTERS
            && !text.ends_with('.');
        if fine {
            Ok(Self(text.into()))
        } else {
            Err(format!(
                "a code starts with a letter or digit and holds at most {MOST_LETTERS} letters a-z, digits, hyphens and full stops"
            ))
        }
    }

    /// The code as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The name of files about this person: small letters only, so that no
    /// file system can mistake one for another.
    #[must_use]
    pub fn in_file_names(&self) -> String {
        self.0.to_ascii_lowercase()
    }

    /// Whether the two are the same but for capitals.
    #[must_use]
    pub fn is_like(&self, other: &Self) -> bool {
        self.0.eq_ignore_ascii_case(&other.0)
    }
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_letters_digits_hyphens_and_full_stops() {
        for good in ["a", "7", "A-017", "m.lind", "017"] {
            assert!(Code::parse(good).is_ok(), "{good}");
        }
        for bad in ["", "-a", ".a", "a.", "a b", "ä", "a/b", "=1", &"a".repeat(25)] {
            assert!(Code::parse(bad).is_err(), "{bad}");
        }
    }
}
