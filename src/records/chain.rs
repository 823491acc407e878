//! The chain: each fact carries the hash of the one before it, so that nobody
//! can change, drop or move one unseen.

use super::digest::{Digest, hash, hex};
use super::fact::Seq;

/// What every hash begins with, so that no other use of SHA-256 gives the same.
const DOMAIN: &[u8] = b"gearside-fact-1";
/// What the first fact is chained to.
pub(super) const START: [u8; 32] = [0; 32];

/// One row of the fact table, as it lies there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Link {
    /// Its number.
    pub seq: Seq,
    /// When it was entered.
    pub at: String,
    /// Its kind.
    pub kind: String,
    /// Its body.
    pub body: String,
    /// The hash of the one before.
    pub prev: Vec<u8>,
    /// Its own hash.
    pub hash: Vec<u8>,
}

/// The hash that a fact must have.
#[must_use]
pub fn hash_of(prev: &[u8], seq: Seq, at: &str, kind: &str, body: &str) -> [u8; 32] {
    hash(&[DOMAIN, prev, &seq.to_be_bytes(), at.as_bytes(), kind.as_bytes(), body.as_bytes()])
}

/// The end of the chain: what is printed on pages, and what `audit --head` checks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// How many facts there are.
    pub seq: Seq,
    /// The hash of the last one.
    pub hash: [u8; 32],
}

impl Head {
    /// The head of an empty record.
    pub const EMPTY: Self = Self { seq: 0, hash: START };

    /// As pages print it: `1234:3f9a…`, twenty digits of the hash.
    #[must_use]
    pub fn shown(&self) -> String {
        format!("{}:{}", self.seq, &hex(&self.hash)[..super::digest::SHOWN_DIGITS])
    }

    /// The whole hash.
    #[must_use]
    pub fn digest(&self) -> Digest {
        Digest::from_bytes(&self.hash)
    }
}

/// Where the chain does not hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Break {
    /// The fact at which it was seen.
    pub seq: Seq,
    /// What is wrong with it, in words.
    pub what: String,
}

/// Walks along a chain, link by link.
#[derive(Debug, Clone)]
pub struct Walk {
    head: Head,
}

impl Default for Walk {
    fn default() -> Self {
        Self { head: Head::EMPTY }
    }
}

impl Walk {
    /// Takes the next link. The walk goes on behind a broken one, from what
    /// that one claims to be.
    ///
    /// # Errors
    /// A [`Break`] if the number does not follow, the hash before is not the
    /// one before, or the hash is not that of its content.
    pub fn step(&mut self, link: &Link) -> Result<(), Break> {
        let expected = self.head.seq + 1;
        let own = hash_of(&link.prev, link.seq, &link.at, &link.kind, &link.body);
        let found = if link.seq != expected {
            Err(match link.seq.checked_sub(expected) {
                None => format!("it stands where fact {expected} should"),
                Some(1) => format!("fact {expected} is missing before it"),
                Some(more) => format!("{more} facts are missing before it, from {expected} on"),
            })
        } else if link.prev != self.head.hash {
            Err("it does not follow from the fact before it".to_owned())
        } else if own[..] != link.hash[..] {
            Err("its content is not what was entered".to_owned())
        } else {
            Ok(())
        };
        self.head.seq = link.seq;
        self.head.hash = <[u8; 32]>::try_from(&link.hash[..]).unwrap_or(own);
        found.map_err(|what| Break { seq: link.seq, what })
    }

    /// Where the walk has come to.
    #[must_use]
    pub fn head(&self) -> &Head {
        &self.head
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chain(bodies: &[&str]) -> Vec<Link> {
        let mut prev = START;
        (1..)
            .zip(bodies)
            .map(|(seq, body)| {
                let hash = hash_of(&prev, seq, "2026-09-08T07:00:00Z", "leave", body);
                let link = Link {
                    seq,
                    at: "2026-09-08T07:00:00Z".into(),
                    kind: "leave".into(),
                    body: (*body).into(),
                    prev: prev.to_vec(),
                    hash: hash.to_vec(),
                };
                prev = hash;
                link
            })
            .collect()
    }

    fn breaks(links: &[Link]) -> Vec<Seq> {
        let mut walk = Walk::default();
        links.iter().filter_map(|link| walk.step(link).err()).map(|found| found.seq).collect()
    }

    #[test]
    fn an_untouched_chain_walks() {
        assert_eq!(breaks(&chain(&["a", "b", "c"])), Vec::<Seq>::new());
    }

    #[test]
    fn a_changed_a_dropped_and_a_swapped_link_are_found_where_they_are() {
        let mut links = chain(&["a", "b", "c", "d"]);
        links[1].body = "B".into();
        assert_eq!(breaks(&links), [2]);
        let mut links = chain(&["a", "b", "c", "d"]);
        links.remove(1);
        assert_eq!(breaks(&links), [3]);
        let mut links = chain(&["a", "b", "c", "d"]);
        let (second, third) = (links[1].body.clone(), links[2].body.clone());
        links[1].body = third;
        links[2].body = second;
        assert_eq!(breaks(&links), [2, 3]);
    }

    #[test]
    fn a_link_rewritten_with_its_hash_is_found_at_the_next() {
        let mut links = chain(&["a", "b", "c"]);
        links[1].body = "B".into();
        let link = &links[1];
        links[1].hash = hash_of(&link.prev, 2, &link.at, &link.kind, &link.body).to_vec();
        assert_eq!(breaks(&links), [3]);
    }
}
