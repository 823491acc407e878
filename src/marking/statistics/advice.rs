//! What the numbers of an exercise ask of the instructor, in plain words.

use serde::Serialize;

use super::exercise::ExerciseStatistics;
use super::{ENOUGH, WhyNot, correlation_interval};
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
        let who = if of.takers == 1 { "1 taker says".to_owned() } else { format!("{} takers say", of.takers) };
        say(Notice::NotSaid, format!("{who} nothing of an exercise yet; the counts stand for themselves."));
        return list;
    }
    if of.right == 0 && of.partly == 0 {
        say(
            Notice::LookAtTheKey,
            format!(
                "None of {} had it right. Look at the key and at the question first; only then at the teaching.",
                of.takers
            ),
        );
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
        WrongWay::Turn(_) => "Teach that step again before anything else",
        WrongWay::TimesKey(_) | WrongWay::Value(_) => {
            "Find out how they got it: it may be worth a wrong turn of its own, or the key is wrong"
        }
        WrongWay::Option(_) | WrongWay::NotPicked(_) => "Talk that option over, and see whether it can be defended",
        WrongWay::Pair(..) => "Talk over why the one must come first",
        WrongWay::Unsafe(_) => "Talk that move over before anyone goes to the press",
        WrongWay::WrongEnd => "Look at the samples together, and at what each move does to them",
        WrongWay::MoreMoves(_) => "Show the shorter way, and what tells that the next move is due",
    };
    Some(format!("{} of {} went wrong in the same way: {what}. {then}.", commonest.takers, of.takers))
}

fn too_easy_or_hard(of: &ExerciseStatistics) -> Option<(Notice, String)> {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    if of.interval.lo > EASY {
        let words = format!(
            "Too easy to tell anything: {} of {} right, and in the long run hardly fewer than {}. Good for confidence; ask it less often.",
            of.right,
            of.takers,
            percent(of.interval.lo)
        );
        return Some((Notice::TooEasy, words));
    }
    if of.right == of.takers {
        let words = format!(
            "All {} had it right. With so many takers it may still be that only {} would; it is too early to call it too easy.",
            of.takers,
            percent(of.interval.lo)
        );
        return Some((Notice::NotSaid, words));
    }
    (of.interval.hi < HARD && of.right + of.partly > 0).then(|| {
        let words = format!(
            "Too hard for this class: {} of {} right, and in the long run hardly more than {}. Practise its steps one by one first.",
            of.right, of.takers, percent(of.interval.hi)
        );
        (Notice::TooHard, words)
    })
}

/// How well it tells the able from the less able, as far as that can be said.
fn tells_apart(of: &ExerciseStatistics) -> (Notice, String) {
    let what = "the able from the less able";
    let r = match &of.tells_apart {
        Ok(r) => *r,
        Err(WhyNot::TooFew(count)) => {
            let words = format!(
                "How well it tells {what} is not said: {count} took the whole quiz, and with fewer than {ENOUGH} chance would speak louder. The family's numbers over all quizzes get there sooner."
            );
            return (Notice::NotSaid, words);
        }
        Err(why) => return (Notice::NotSaid, format!("How well it tells {what} cannot be said: {}.", why.words())),
    };
    let interval = correlation_interval(r, of.common);
    let number = format!("({r:.2}, probably between {:.2} and {:.2})", interval.lo, interval.hi);
    let words = if interval.hi < 0.0 {
        format!(
            "It tells {what} the wrong way round {number}: those who did well on the rest did worse here. Look at the key and at the wording."
        )
    } else if interval.lo > 0.0 && r >= WELL {
        format!("It tells {what} well {number}.")
    } else if interval.lo > 0.0 {
        format!("It tells {what} a little {number}.")
    } else if interval.hi < HARDLY {
        format!("It hardly tells {what} {number}. See whether it asks for something else than the rest of the quiz.")
    } else {
        format!("Whether it tells {what} is open {number}: more takers are needed.")
    };
    (Notice::TellsApart, words)
}
