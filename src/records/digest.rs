//! SHA-256 digests, printed as 64 small hexadecimal digits.

use std::fmt;
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};

/// How many digits of a head are printed on pages: 80 bits.
pub(super) const SHOWN_DIGITS: usize = 20;

/// A SHA-256 digest as text.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Digest(Arc<str>);

impl Digest {
    /// The digest of several fields, each with its length before it, so that
    /// no two lists of fields run together to the same bytes.
    ///
    /// ```
    /// use gearside::records::Digest;
    /// assert_ne!(Digest::of(&[b"ab", b"c"]), Digest::of(&[b"a", b"bc"]));
    /// ```
    #[must_use]
    pub fn of(fields: &[&[u8]]) -> Self {
        Self::from_bytes(&hash(fields))
    }

    /// A digest as written: 64 small hexadecimal digits.
    pub(super) fn parse(text: &str) -> Option<Self> {
        let fine = text.len() == 64 && text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'));
        fine.then(|| Self(text.into()))
    }

    /// The digest with these bytes.
    #[must_use]
    pub fn from_bytes(bytes: &[u8]) -> Self {
        Self(hex(bytes).into())
    }

    /// All its digits.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// The SHA-256 of length-prefixed fields.
pub(super) fn hash(fields: &[&[u8]]) -> [u8; 32] {
    let mut hasher = Sha256::new();
    for field in fields {
        hasher.update((field.len() as u64).to_be_bytes());
        hasher.update(field);
    }
    hasher.finalize().into()
}

/// Bytes as small hexadecimal digits.
#[must_use]
pub fn hex(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 16] = b"0123456789abcdef";
    bytes
        .iter()
        .flat_map(|byte| [DIGITS[usize::from(byte >> 4)], DIGITS[usize::from(byte & 15)]])
        .map(char::from)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_digest_is_that_of_the_length_prefixed_bytes() {
        // printf '\0\0\0\0\0\0\0\3abc' | sha256sum (GNU coreutils 9.1)
        let want = "c3494ca1a2cf8eeb8a11ded316fb55b83c3bbbedb6313cd50415251e5d09e12f";
        let got = Digest::of(&[b"abc"]);
        assert_eq!(got.as_str().len(), want.len());
        assert_eq!(hex(&[0x00, 0x0f, 0xa0, 0xff]), "000fa0ff");
        assert_eq!(got.as_str(), want);
    }
}
