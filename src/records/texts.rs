//! Free text and names: kept beside the chain under salted digests, so that
//! they can be erased while the chain still walks.

use super::digest::{Digest, hash};

/// What the digest of every text begins with.
const DOMAIN: &[u8] = b"gearside-text-1";
/// The length of a salt.
pub(super) const SALT_LENGTH: usize = 16;

/// The digest under which a text is kept. What must never be erased (editions,
/// banks as issued) has an empty salt, so that the same text is kept once.
#[must_use]
pub fn digest_of(salt: &[u8], text: &[u8]) -> Digest {
    Digest::from_bytes(&hash(&[DOMAIN, salt, text]))
}

/// Where salts come from.
pub trait Salts {
    /// The next salt.
    fn next(&mut self) -> [u8; SALT_LENGTH];
}

/// Salts from the machine's own source of chance.
#[derive(Debug, Default)]
pub struct MachineSalts;

impl Salts for MachineSalts {
    fn next(&mut self) -> [u8; SALT_LENGTH] {
        let mut salt = [0; SALT_LENGTH];
        // Without a source of chance the salt stays zero: the text is kept all the same, only easier to guess at.
        let _ = getrandom::fill(&mut salt);
        salt
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_text_under_another_salt_has_another_digest() {
        assert_ne!(digest_of(&[1], b"a"), digest_of(&[2], b"a"));
        assert_ne!(digest_of(&[], b"\x01a"), digest_of(&[1], b"a"));
        assert_ne!(MachineSalts.next(), MachineSalts.next());
    }
}
