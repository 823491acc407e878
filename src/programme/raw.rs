//! The files' shapes, as `serde` sees them: nothing is checked here but form.

use std::collections::BTreeMap;
use std::fmt;

use serde::de::{self, Deserializer, MapAccess, Visitor};
use serde::{Deserialize, Serialize};
use serde_yaml::Value;

use super::choices::{InkSystem, Level, Paper, Pick, Use, Worlds};
use super::overlay::Overlay;

/// Keys in the order they were written: givens build on earlier givens.
#[derive(Debug, Clone)]
pub(super) struct Ordered<V>(pub(super) Vec<(String, V)>);

impl<'de, V: Deserialize<'de>> Deserialize<'de> for Ordered<V> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Keys<V>(std::marker::PhantomData<V>);
        impl<'de, V: Deserialize<'de>> Visitor<'de> for Keys<V> {
            type Value = Ordered<V>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a list of `key: value`")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut list = Vec::new();
                while let Some((Scalar(key), value)) = map.next_entry()? {
                    list.push((key, value));
                }
                Ok(Ordered(list))
            }
        }
        deserializer.deserialize_map(Keys(std::marker::PhantomData))
    }
}

/// A quantity, a number or a text, as text.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Scalar(pub(super) String);

impl<'de> Deserialize<'de> for Scalar {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Text;
        impl Visitor<'_> for Text {
            type Value = Scalar;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a number, a quantity or a text")
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<Scalar, E> {
                Ok(Scalar(text.to_owned()))
            }
            fn visit_i64<E: de::Error>(self, value: i64) -> Result<Scalar, E> {
                Ok(Scalar(value.to_string()))
            }
            fn visit_u64<E: de::Error>(self, value: u64) -> Result<Scalar, E> {
                Ok(Scalar(value.to_string()))
            }
            fn visit_f64<E: de::Error>(self, value: f64) -> Result<Scalar, E> {
                if value.is_finite() { Ok(Scalar(value.to_string())) } else { Err(E::custom("not a finite number")) }
            }
        }
        deserializer.deserialize_any(Text)
    }
}

/// A cell of a table: one value, or a series of them.
#[derive(Debug, Clone)]
pub(super) enum Cell {
    One(Scalar),
    Series(Vec<Scalar>),
}

impl<'de> Deserialize<'de> for Cell {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        match Value::deserialize(deserializer)? {
            list @ Value::Sequence(_) => Vec::deserialize(list).map(Cell::Series).map_err(de::Error::custom),
            one => Scalar::deserialize(one).map(Cell::One).map_err(de::Error::custom),
        }
    }
}

/// A bank of exercises. The exercises stay unread, so that each can be at fault by itself.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Bank {
    pub(super) topic: String,
    pub(super) title: String,
    pub(super) exercises: Vec<Value>,
}

/// What an exercise asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum RawKind {
    Numeric,
    Order,
    Choose,
    #[serde(rename = "find_line")]
    FindLine,
    Diagnose,
    /// One move at a time, each seen before the next.
    Rounds,
}

/// An exercise as written. All fields may be absent: `like:` supplies them.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawExercise {
    pub(super) id: Option<String>,
    pub(super) like: Option<String>,
    pub(super) competency: Option<String>,
    pub(super) title: Option<String>,
    pub(super) kind: Option<RawKind>,
    pub(super) level: Option<Level>,
    #[serde(rename = "use")]
    pub(super) used_in: Option<Use>,
    pub(super) minutes: Option<u32>,
    pub(super) cautions: Option<Vec<String>>,
    pub(super) tables: Option<Ordered<Vec<Ordered<Cell>>>>,
    pub(super) givens: Option<Ordered<RawGiven>>,
    pub(super) only_if: Option<Vec<String>>,
    pub(super) ask: Option<String>,
    pub(super) steps: Option<Vec<RawStep>>,
    pub(super) answers: Option<Vec<String>>,
    pub(super) sane: Option<Scalar>,
    pub(super) leeway: Option<Scalar>,
    pub(super) wrong_turns: Option<Vec<RawTurn>>,
    pub(super) find: Option<Vec<String>>,
    pub(super) picture: Option<RawPicture>,
    pub(super) moves: Option<Ordered<String>>,
    pub(super) before: Option<Vec<RawBefore>>,
    pub(super) show: Option<Scalar>,
    pub(super) strict: Option<bool>,
    pub(super) pick: Option<Pick>,
    pub(super) options: Option<Vec<RawOption>>,
    pub(super) keep_order: Option<bool>,
    /// What may be seen, by name.
    pub(super) states: Option<Ordered<RawState>>,
    /// The states that a pull may begin with.
    pub(super) starts: Option<Vec<String>>,
    /// The states that are right to end with.
    pub(super) ends: Option<Vec<String>>,
    /// Which move leads from where to where.
    pub(super) leads: Option<Vec<RawLead>>,
    /// The moves that hurt someone, each with the reason.
    #[serde(rename = "unsafe")]
    pub(super) not_safe: Option<Ordered<String>>,
    /// How many moves may be done.
    pub(super) rounds: Option<usize>,
    pub(super) defect: Option<String>,
    pub(super) not: Option<Ordered<String>>,
    pub(super) us: Option<Overlay>,
    pub(super) si: Option<Overlay>,
    pub(super) both_worlds: Option<bool>,
    pub(super) beyond_range: Option<bool>,
    pub(super) only_for: Option<Vec<InkSystem>>,
}

impl RawExercise {
    /// This exercise with what it leaves out taken from another.
    pub(super) fn over(self, base: &Self) -> Self {
        macro_rules! take {
            ($($field:ident),+) => { Self { id: self.id, like: self.like, $($field: self.$field.or_else(|| base.$field.clone())),+ } };
        }
        take!(
            competency,
            title,
            kind,
            level,
            used_in,
            minutes,
            cautions,
            tables,
            givens,
            only_if,
            ask,
            steps,
            answers,
            sane,
            leeway,
            wrong_turns,
            find,
            picture,
            moves,
            before,
            show,
            strict,
            pick,
            options,
            keep_order,
            states,
            starts,
            ends,
            leads,
            not_safe,
            rounds,
            defect,
            not,
            us,
            si,
            both_worlds,
            beyond_range,
            only_for
        )
    }
}

/// A figure as written: `draw: name`, and by name what it takes, one value or several.
pub(super) type RawPicture = Ordered<Several>;

/// One value, or a list of them, as texts.
#[derive(Debug, Clone)]
pub(super) struct Several(pub(super) Vec<String>);

impl<'de> Deserialize<'de> for Several {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Ok(match Cell::deserialize(deserializer)? {
            Cell::One(Scalar(text)) => Self(vec![text]),
            Cell::Series(list) => Self(list.into_iter().map(|Scalar(text)| text).collect()),
        })
    }
}

/// A given as written.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawGiven {
    pub(super) between: Option<Vec<Scalar>>,
    pub(super) every: Option<Scalar>,
    pub(super) one_of: Option<Vec<Scalar>>,
    pub(super) row: Option<String>,
    pub(super) series: Option<usize>,
    pub(super) around: Option<Scalar>,
    pub(super) spread: Option<Scalar>,
    pub(super) is: Option<Scalar>,
    #[serde(rename = "in")]
    pub(super) unit: Option<String>,
    pub(super) shown_to: Option<Scalar>,
    pub(super) symbol: Option<String>,
    #[serde(rename = "as")]
    pub(super) written_as: Option<WrittenAs>,
}

/// How a given is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum WrittenAs {
    /// As an inch fraction: `16 ½ in`.
    Fraction,
}

/// A step as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawStep {
    pub(super) name: String,
    pub(super) symbol: Option<String>,
    pub(super) says: Option<String>,
    pub(super) is: Scalar,
    #[serde(rename = "in")]
    pub(super) unit: Option<String>,
    pub(super) shown_to: Option<Scalar>,
    pub(super) because: Option<String>,
    pub(super) quantity: Option<String>,
    pub(super) leeway: Option<Scalar>,
}

/// A wrong turn as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawTurn {
    pub(super) name: Option<String>,
    pub(super) at: String,
    pub(super) is: Option<Scalar>,
    pub(super) take: Option<String>,
    pub(super) because: Option<String>,
}

/// A precedence as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawBefore {
    pub(super) first: String,
    pub(super) then: String,
    pub(super) because: String,
    #[serde(default)]
    pub(super) safety: bool,
}

/// A state of an exercise in rounds.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawState {
    /// What is seen and read off.
    pub(super) says: String,
    /// The figure that shows it.
    pub(super) picture: Option<RawPicture>,
}

/// What a move does in one state or several.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawLead {
    /// The states that it starts from.
    pub(super) from: Several,
    /// The move.
    pub(super) by: String,
    /// The state that it leads to.
    pub(super) to: String,
    /// Why.
    pub(super) because: String,
}

/// An option of a choice as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawOption {
    pub(super) says: Option<String>,
    #[serde(default)]
    pub(super) right: bool,
    pub(super) because: Option<String>,
    pub(super) value: Option<String>,
    pub(super) turn: Option<String>,
}

/// `defects.yaml`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawDefects {
    pub(super) defects: Vec<RawDefect>,
}

/// A print defect as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawDefect {
    pub(super) id: String,
    pub(super) seen: String,
    pub(super) cause: RawFinding,
    pub(super) first_check: RawFinding,
    #[serde(default)]
    pub(super) also: Vec<RawFinding>,
    pub(super) like: Vec<String>,
}

/// A cause, or something to check, as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawFinding {
    pub(super) says: String,
    pub(super) because: String,
}

/// `programme.yaml`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawProgramme {
    pub(super) title: String,
    pub(super) edition: Scalar,
    pub(super) about: Option<String>,
    pub(super) units: Option<Worlds>,
    pub(super) language: Option<String>,
    pub(super) decimal: Option<String>,
    pub(super) paper: Option<Paper>,
    pub(super) ink_system: Option<Vec<InkSystem>>,
    pub(super) unit_word: Option<String>,
    pub(super) pass_mark: Option<RawPassMark>,
    pub(super) retention: Option<String>,
    #[serde(default)]
    pub(super) events: Vec<String>,
    pub(super) time_zone: Option<String>,
}

/// The pass mark and what it rests on.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawPassMark {
    pub(super) share: Scalar,
    pub(super) rests_on: String,
}

/// `cautions.yaml`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawCautions {
    pub(super) cautions: Vec<RawCaution>,
}

/// A caution as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawCaution {
    pub(super) id: String,
    pub(super) word: String,
    pub(super) says: String,
    /// The same in other languages, by the name of the language.
    #[serde(default, rename = "in")]
    pub(super) other: BTreeMap<String, RawCautionText>,
}

/// A caution's two texts.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawCautionText {
    pub(super) word: String,
    pub(super) says: String,
}

/// A stage file. The competencies stay unread, as in [`Bank`].
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawStage {
    pub(super) stage: String,
    pub(super) number: u32,
    pub(super) title: String,
    pub(super) about: Option<String>,
    pub(super) competencies: Vec<Value>,
}

/// A competency as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawCompetency {
    pub(super) id: String,
    pub(super) title: String,
    #[serde(default)]
    pub(super) was: Vec<String>,
    #[serde(default)]
    pub(super) needs: Vec<String>,
    #[serde(default)]
    pub(super) safety: bool,
    pub(super) criteria: Vec<RawCriterion>,
    pub(super) lesson: String,
    pub(super) hours: Option<f64>,
    #[serde(default)]
    pub(super) cautions: Vec<String>,
    pub(super) rests_on: Option<RawRestsOn>,
    pub(super) lapses_after: Option<Scalar>,
    pub(super) renewed_by: Option<RawRestsOn>,
}

/// A criterion as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawCriterion {
    pub(super) says: String,
    #[serde(default)]
    pub(super) critical: bool,
}

/// What a sign-off rests on, as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawRestsOn {
    pub(super) marked: Option<RawMarked>,
    pub(super) observed: Option<Observed>,
    pub(super) hours: Option<f64>,
}

/// The marked work a sign-off rests on, as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawMarked {
    pub(super) at_least: Scalar,
    pub(super) right: Scalar,
    pub(super) on: Scalar,
    pub(super) sureness: Option<f64>,
}

/// The observations a sign-off rests on.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Observed {
    /// How often.
    pub times: u32,
    /// On how many different days.
    pub days: Option<u32>,
    /// On how many different jobs.
    pub jobs: Option<u32>,
    /// Whether the work must be unaided.
    #[serde(default)]
    pub unaided: bool,
}

/// `plan.yaml`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawPlan {
    pub(super) starts: String,
    pub(super) weeks: Ordered<Vec<String>>,
    #[serde(default)]
    pub(super) breaks: Vec<Scalar>,
    pub(super) shares: Option<Ordered<Scalar>>,
    pub(super) gap: Option<u32>,
    pub(super) not_again_for: Option<u32>,
    pub(super) minutes: Option<u32>,
    #[serde(default)]
    pub(super) classes: Vec<String>,
}
