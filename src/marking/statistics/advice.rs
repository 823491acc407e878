//! What the numbers of an exercise ask of the instructor, in plain words.

use serde::Serialize;

use super::exercise::ExerciseStatistics;
use super::{ENOUGH, WhyNot, correlation_interval};
use crate::ground::say;
use crate::marking::WrongWay;

/// Fewer takers than this say nothing of an exercise.
const A_FEW: usize = 3;
/// Too easy: even the lower end of the interval lies above this (our own choice).
const EASY: f64 = 0.85;
/// Too hard: even the upper end lies below this (our own choice).
const HARD: f64 = 0.3;
/// From here on an exercise tells the able from the less able well, and below
/// `HARDLY` hardly (common practice, no source).
const WELL: f64 = 0.3;
const HARDLY: f64 = 0.2;

/// What a piece of advice is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Notice {
    /// Nobody was right: the key may be wrong.
    LookAtTheKey,
    /// Half the class or more went wrong alike.
    SameWrongTurn,
    /// It is too easy to tell anything.
    TooEasy,
    /// It is too hard to tell anything.
    TooHard,
    /// How well it tells the able from the less able.
    TellsApart,
    /// Why something is not said.
    NotSaid,
}

/// One piece of advice.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Advice {
    /// What it is about.
    pub notice: Notice,
    /// The words.
    pub words: String,
}

/// What the numbers of an exercise ask for, the most pressing first; where the
/// class is too small to say, that and why.
///
/// ```
/// use gearside::marking::statistics::{Answers, Notice, advice, exercise_statistics};
/// let class = Answers::new(2, vec![vec![Some(0.0), Some(1.0)]; 9]).unwrap();
/// let told = advice(&exercise_statistics(&class, 0, &[]));
/// assert_eq!(told[0].notice, Notice::LookAtTheKey);
/// assert!(told[0].words.starts_with("None of 9 had it right"));
/// ```
#[must_use]
pub fn advice(of: &ExerciseStatistics) -> Vec<Advice> {
    let mut list = Vec::new();
    let mut say = |notice, words: String| list.push(Advice { notice, words });
    if of.takers < A_FEW {
        say(Notice::NotSaid, say!("statistics.takers-say-nothing", n = of.takers));
        return list;
    }
    if of.right == 0 && of.partly == 0 {
        say(Notice::LookAtTheKey, say!("statistics.none-of-had", takers = of.takers));
    }
    if let Some(words) = same_wrong(of) {
        say(Notice::SameWrongTurn, words);
    }
    if let Some((notice, words)) = too_easy_or_hard(of) {
        say(notice, words);
    }
    let (notice, words) = tells_apart(of);
    say(notice, words);
    list
}

fn same_wrong(of: &ExerciseStatistics) -> Option<String> {
    let commonest = of.commonest.as_ref().filter(|one| 2 * one.takers >= of.takers)?;
    let what = commonest.way.words();
    let then = match commonest.way {
        WrongWay::Turn(_) => say!("statistics.teach-that-step"),
        WrongWay::TimesKey(_) | WrongWay::Value(_) => {
            say!("statistics.find-out-how")
        }
        WrongWay::Option(_) | WrongWay::NotPicked(_) => say!("statistics.talk-that-option"),
        WrongWay::Pair(..) => say!("statistics.talk-over-why"),
        WrongWay::Unsafe(_) => say!("statistics.talk-that-move"),
        WrongWay::WrongEnd => say!("statistics.look-at-the"),
        WrongWay::MoreMoves(_) => say!("statistics.show-the-shorter"),
    };
    Some(say!("statistics.of-went-wrong", same = commonest.takers, takers = of.takers, what = what, then = then))
}

fn too_easy_or_hard(of: &ExerciseStatistics) -> Option<(Notice, String)> {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    if of.interval.lo > EASY {
        let words = say!("statistics.too-easy-to", right = of.right, takers = of.takers, lo = percent(of.interval.lo));
        return Some((Notice::TooEasy, words));
    }
    if of.right == of.takers {
        let words = say!("statistics.all-had-it", takers = of.takers, lo = percent(of.interval.lo));
        return Some((Notice::NotSaid, words));
    }
    (of.interval.hi < HARD && of.right + of.partly > 0).then(|| {
        let words = say!("statistics.too-hard-for", right = of.right, takers = of.takers, hi = percent(of.interval.hi));
        (Notice::TooHard, words)
    })
}

/// How well it tells the able from the less able, as far as that can be said.
fn tells_apart(of: &ExerciseStatistics) -> (Notice, String) {
    let what = say!("statistics.the-able-from");
    let r = match &of.tells_apart {
        Ok(r) => *r,
        Err(WhyNot::TooFew(count)) => {
            let words = say!("statistics.how-well-it", what = what, count = count, enough = ENOUGH);
            return (Notice::NotSaid, words);
        }
        Err(why) => return (Notice::NotSaid, say!("statistics.how-well-it-tells", what = what, why = why.words())),
    };
    let interval = correlation_interval(r, of.common);
    let number = say!(
        "statistics.probably-between-and",
        r = format_args!("{:.2}", r),
        lo = format_args!("{:.2}", interval.lo),
        hi = format_args!("{:.2}", interval.hi)
    );
    let words = if interval.hi < 0.0 {
        say!("statistics.it-tells-the", what = what, number = number)
    } else if interval.lo > 0.0 && r >= WELL {
        say!("statistics.it-tells-well", what = what, number = number)
    } else if interval.lo > 0.0 {
        say!("statistics.it-tells-a", what = what, number = number)
    } else if interval.hi < HARDLY {
        say!("statistics.it-hardly-tells", what = what, number = number)
    } else {
        say!("statistics.whether-it-tells", what = what, number = number)
    };
    (Notice::TellsApart, words)
}
