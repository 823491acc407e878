//! The chance of an issued quiz: fresh from the machine and not kept, or
//! reproducible for a rehearsal.

use sha2::{Digest as _, Sha256};

use crate::ground::Fault;

/// Crockford's thirty-two letters: no I, L, O, U to be misread or misheard.
const LETTERS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// Where the chance of a quiz comes from.
#[derive(Debug)]
pub enum Drawn {
    /// The machine's own source of chance.
    Fresh,
    /// The SHA-256 of a seed and a counter.
    Rehearsed {
        /// The seed.
        seed: String,
        /// How often it was drawn from.
        drawn: u64,
    },
}

impl Drawn {
    /// Chance that comes out alike for a seed.
    #[must_use]
    pub fn rehearsed(seed: &str) -> Self {
        Self::Rehearsed { seed: seed.to_owned(), drawn: 0 }
    }

    /// 32 bytes of chance.
    ///
    /// # Errors
    /// A fault if the machine has no source of chance: then nothing may be issued.
    pub fn bytes(&mut self) -> Result<[u8; 32], Fault> {
        match self {
            Self::Fresh => {
                let mut bytes = [0; 32];
                getrandom::fill(&mut bytes).map_err(|error| {
                    Fault::new("machine", format!("this machine gives no chance: {error}"), "try again, or restart it")
                })?;
                Ok(bytes)
            }
            Self::Rehearsed { seed, drawn } => {
                *drawn += 1;
                let number = drawn.to_be_bytes();
                Ok(Sha256::new().chain_update(b"rehearsal").chain_update(number).chain_update(seed).finalize().into())
            }
        }
    }

    /// A new docket code of 80 bits, in groups of four letters.
    ///
    /// # Errors
    /// As [`Drawn::bytes`].
    ///
    /// ```
    /// use gearside::quiz::Drawn;
    /// let code = Drawn::Fresh.docket_code().unwrap();
    /// assert_eq!((code.len(), code.matches('-').count()), (19, 3));
    /// let again = |seed| Drawn::rehearsed(seed).docket_code().unwrap();
    /// assert_eq!(again("7"), again("7"));
    /// assert_ne!(again("7"), again("8"));
    /// ```
    pub fn docket_code(&mut self) -> Result<String, Fault> {
        let bytes = self.bytes()?;
        let letter = |byte: &u8| char::from(LETTERS[usize::from(byte & 31)]);
        let groups: Vec<String> = bytes[..16].chunks(4).map(|group| group.iter().map(letter).collect()).collect();
        Ok(groups.join("-"))
    }
}
