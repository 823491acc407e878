//! How an answer went wrong, in a form that can be counted over a class whose
//! members had numbers of their own.

use std::collections::BTreeMap;

use crate::ground::say;
use serde::Serialize;

/// One way in which an answer went wrong.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WrongWay {
    /// A known wrong turn, by its name.
    Turn(String),
    /// A wrong value, as a multiple of the key: with numbers of their own, that
    /// is what two apprentices who went wrong alike have in common.
    TimesKey(String),
    /// A wrong value where the key is 0.
    Value(String),
    /// A wrong option, in its words.
    Option(String),
    /// A right option that was not picked, in its words.
    NotPicked(String),
    /// A broken pair: what had to come first, and what later.
    Pair(String, String),
    /// An unsafe move of an exercise in rounds.
    Unsafe(String),
    /// Rounds that end with what is not right.
    WrongEnd,
    /// Rounds that end right, with more moves than needed.
    MoreMoves(usize),
}

impl WrongWay {
    /// A wrong value; `echo` is how it was read.
    #[must_use]
    pub fn value(value: f64, key: f64, echo: &str) -> Self {
        let times = value / key;
        if !times.is_finite() {
            return Self::Value(echo.to_owned());
        }
        // Three figures: finer than any leeway, coarser than rounding of a printed key.
        let text = format!("{times:.2e}");
        Self::TimesKey(text.parse::<f64>().map_or(text, |rounded| (rounded + 0.0).to_string()))
    }

    /// In words, for a table of statistics.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Turn(name) => say!("statistics.the-wrong-turn", name = name.replace('_', " ")),
            Self::TimesKey(times) => say!("statistics.times-the-key", times = times),
            Self::Value(echo) => echo.clone(),
            Self::Option(says) => say!("statistics.picked", says = says),
            Self::NotPicked(says) => say!("statistics.left-out", says = says),
            Self::Unsafe(says) => say!("statistics.did-which-is", says = says),
            Self::WrongEnd => say!("statistics.ended-with-what"),
            Self::MoreMoves(count) => say!("statistics.took-moves-more", n = count),
            Self::Pair(first, then) => say!("statistics.did-not-put", first = first, then = then),
        }
    }
}

/// The commonest way to go wrong, and how many took it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Commonest {
    /// The way.
    pub way: WrongWay,
    /// How many took it.
    pub takers: usize,
}

/// The commonest of the ways that the takers went wrong, a list for each taker;
/// a way counts once per taker. Of several as common, the first in the order
/// known wrong turns, values, options, pairs.
///
/// ```
/// use gearside::marking::{WrongWay, commonest};
/// let turn = |name: &str| WrongWay::Turn(name.to_owned());
/// let class = [vec![turn("a")], vec![], vec![turn("b"), turn("a")], vec![turn("b"), turn("b")], vec![turn("a")]];
/// let found = commonest(class.iter().map(Vec::as_slice)).unwrap();
/// assert_eq!((found.way, found.takers), (turn("a"), 3));
/// ```
pub fn commonest<'a>(takers: impl Iterator<Item = &'a [WrongWay]>) -> Option<Commonest> {
    let mut counts: BTreeMap<&WrongWay, usize> = BTreeMap::new();
    for ways in takers {
        let mut own: Vec<&WrongWay> = ways.iter().collect();
        own.sort();
        own.dedup();
        for way in own {
            *counts.entry(way).or_default() += 1;
        }
    }
    let most = counts.values().max().copied()?;
    let way = counts.into_iter().find(|(_, count)| *count == most)?.0;
    Some(Commonest { way: way.clone(), takers: most })
}
