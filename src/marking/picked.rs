//! Answers with the numbers of moves or options as shown; orders and choices.

use super::choose::{choose_one, choose_some};
use super::marked::{BrokenPair, OrderSaid, PartMark, joined};
use super::nearest::nearest_valid_order;
use super::numeric::Verdict;
use super::order::{Pair, mark_order};
use super::own_key::OwnKey;
use super::rules::{ChooseRules, OptionRule, OrderRules, Said};
use super::wrong_way::WrongWay;
use crate::ground::Fault;
use crate::ground::say;
use crate::programme::Pick;

/// The most characters of an answer that are looked at.
const MOST_CHARACTERS: usize = 200;

/// The indexes behind the typed numbers of what is shown, counted from 1;
/// what stands between them is spaces, commas, semicolons, hyphens or arrows.
///
/// # Errors
/// Why it cannot be read, as a clause.
pub(super) fn indexes(typed: &str, shown: &[usize]) -> Result<Vec<usize>, String> {
    if typed.chars().count() > MOST_CHARACTERS {
        return Err(say!("marking.it-is-longer"));
    }
    let between =
        |c: char| c.is_whitespace() || matches!(c, ',' | ';' | '.' | '-' | '>' | '→' | '–' | '<' | '/' | '+' | '&');
    let words = typed.split(between).filter(|word| !word.is_empty());
    words
        .map(|word| {
            let number = word.bytes().all(|byte| byte.is_ascii_digit()).then(|| word.parse::<usize>().ok()).flatten();
            let index = number.and_then(|number| shown.get(number.checked_sub(1)?));
            index.copied().ok_or_else(|| say!("marking.is-not-one", word = word, last = shown.len()))
        })
        .collect()
}

/// A part before anything is known of it.
pub(super) fn blank(typed: &str, key: Said) -> PartMark {
    PartMark {
        typed: typed.to_owned(),
        read: String::new(),
        verdict: Verdict::Blank,
        mark: 0.0,
        key,
        turns: Vec::new(),
        reason: Said::default(),
        own_working: Vec::new(),
        wrong_ways: Vec::new(),
        order: None,
        rounds: None,
    }
}

pub(super) fn not_read(typed: &str, key: Said, why: &str) -> PartMark {
    PartMark { read: say!("marking.not-read", why = why), verdict: Verdict::Unreadable, ..blank(typed, key) }
}

/// What a shown move or option says.
pub(super) fn says(own: &OwnKey, index: usize) -> Said {
    let place = own.shown.iter().position(|shown| *shown == index);
    place.and_then(|place| own.says.get(place)).cloned().unwrap_or_default()
}

/// The number under which a move or option is shown.
pub(super) fn number(own: &OwnKey, index: usize) -> usize {
    own.shown.iter().position(|shown| *shown == index).map_or(0, |place| place + 1)
}

/// Numbers in a row, as they are typed.
pub(super) fn row(numbers: &[usize]) -> String {
    numbers.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
}

pub(super) fn foreign() -> Fault {
    let mend = "mark each docket by the rules of its own exercise";
    Fault::new("kept-rules", "the key shows a move or option that the rules do not have", mend)
}

/// Marks an order. A blank one is not counted as unsafe.
pub(super) fn order(rules: &OrderRules, own: &OwnKey, typed: &str) -> Result<PartMark, Fault> {
    let paired = |index: usize| index < rules.moves.len() && own.shown.contains(&index);
    if !own.pairs.iter().all(|pair| paired(pair.first) && paired(pair.then)) {
        return Err(foreign());
    }
    let nearest = |given: &[usize]| -> Vec<usize> {
        nearest_valid_order(given, &own.shown, &own.pairs).iter().map(|index| number(own, *index)).collect()
    };
    let given = match indexes(typed, &own.shown) {
        Err(why) => return Ok(not_read(typed, Said::words(row(&nearest(&[]))), &why)),
        Ok(given) if given.is_empty() => return Ok(blank(typed, Said::words(row(&nearest(&[]))))),
        Ok(given) => given,
    };
    let marked = mark_order(&given, &own.pairs);
    let broken: Vec<BrokenPair> = marked
        .broken
        .iter()
        .filter_map(|index| own.pairs.get(*index))
        .map(|pair| broken_pair(rules, own, pair))
        .collect();
    let mut reasons: Vec<&Said> = Vec::new();
    for reason in broken.iter().flat_map(|pair| &pair.because) {
        if !reasons.contains(&reason) {
            reasons.push(reason);
        }
    }
    let reason = joined(&reasons);
    let nearest = nearest(&given);
    let numbers: Vec<usize> = given.iter().map(|index| number(own, *index)).collect();
    let ways = broken.iter().map(|pair| WrongWay::Pair(pair.first.plain.clone(), pair.then.plain.clone()));
    Ok(PartMark {
        read: row(&numbers),
        verdict: if broken.is_empty() { Verdict::Right } else { Verdict::Wrong },
        mark: marked.mark,
        reason,
        wrong_ways: ways.collect(),
        ..blank(typed, Said::words(row(&nearest)))
    }
    .with_order(OrderSaid { pairs: own.pairs.len(), kept: marked.kept, broken, nearest, hold: marked.hold }))
}

fn broken_pair(rules: &OrderRules, own: &OwnKey, pair: &Pair) -> BrokenPair {
    let because = |edge: &usize| own.reasons.get(edge).or_else(|| rules.because.get(*edge)).cloned();
    BrokenPair {
        first: says(own, pair.first),
        then: says(own, pair.then),
        safety: pair.safety,
        because: pair.because.iter().filter_map(because).collect(),
    }
}

impl PartMark {
    fn with_order(self, order: OrderSaid) -> Self {
        Self { order: Some(order), ..self }
    }
}

/// Marks a choice.
pub(super) fn choice(rules: &ChooseRules, own: &OwnKey, typed: &str) -> Result<PartMark, Fault> {
    let options: Vec<&OptionRule> =
        own.shown.iter().map(|index| rules.options.get(*index).ok_or_else(foreign)).collect::<Result<_, _>>()?;
    let right: Vec<usize> =
        own.shown.iter().zip(&options).filter(|(_, one)| one.right).map(|(index, _)| *index).collect();
    let key = joined(&right.iter().map(|index| numbered(own, *index)).collect::<Vec<_>>().iter().collect::<Vec<_>>());
    let picked = match indexes(typed, &own.shown) {
        Err(why) => return Ok(not_read(typed, key, &why)),
        Ok(picked) if picked.is_empty() => return Ok(blank(typed, key)),
        Ok(picked) if rules.pick == Pick::One && picked.len() > 1 => {
            return Ok(not_read(typed, key, &say!("marking.one-number-is")));
        }
        Ok(picked) => picked,
    };
    Ok(Ticks { rules, own, picked: &picked, right: &right }.mark(typed, key))
}

/// What was picked of a choice.
struct Ticks<'a> {
    rules: &'a ChooseRules,
    own: &'a OwnKey,
    picked: &'a [usize],
    right: &'a [usize],
}

impl Ticks<'_> {
    fn mark(&self, typed: &str, key: Said) -> PartMark {
        let is_right: Vec<bool> = self.rules.options.iter().map(|one| one.right).collect();
        let wrong: Vec<usize> = self.picked.iter().filter(|index| !is_right[**index]).copied().collect();
        let missed = self.right.iter().filter(|index| self.rules.pick == Pick::Some && !self.picked.contains(index));
        let missed: Vec<usize> = missed.copied().collect();
        let all_right = wrong.is_empty() && missed.is_empty();
        let told: Vec<usize> = if all_right { self.picked.to_vec() } else { [&wrong[..], &missed].concat() };
        let reasons: Vec<&Said> = told.iter().map(|index| self.because(*index)).collect();
        let turns: Vec<(usize, String)> =
            wrong.iter().filter_map(|index| self.rules.options[*index].turn.clone()).collect();
        let numbers: Vec<usize> = self.picked.iter().map(|index| number(self.own, *index)).collect();
        let ways = wrong.iter().map(|index| self.wrong_way(*index));
        let missed_ways = missed.iter().map(|index| WrongWay::NotPicked(says(self.own, *index).plain));
        PartMark {
            read: row(&numbers),
            verdict: match (all_right, turns.is_empty()) {
                (true, _) => Verdict::Right,
                (false, true) => Verdict::Wrong,
                (false, false) => Verdict::WrongTurn(turns.iter().map(|(index, _)| *index).collect()),
            },
            mark: match self.rules.pick {
                Pick::One => choose_one(&is_right, self.picked[0]),
                Pick::Some => choose_some(&is_right, self.picked),
            },
            reason: joined(&reasons),
            wrong_ways: ways.chain(missed_ways).collect(),
            turns: turns.into_iter().map(|(_, name)| name).collect(),
            ..blank(typed, key)
        }
    }

    fn because(&self, index: usize) -> &Said {
        self.own.reasons.get(&index).unwrap_or(&self.rules.options[index].because)
    }

    fn wrong_way(&self, index: usize) -> WrongWay {
        match &self.rules.options[index].turn {
            Some((_, name)) => WrongWay::Turn(name.clone()),
            None => WrongWay::Option(says(self.own, index).plain),
        }
    }
}

/// An option with its number.
fn numbered(own: &OwnKey, index: usize) -> Said {
    let said = says(own, index);
    let number = number(own, index);
    Said { plain: format!("{number}. {}", said.plain), html: format!("{number}. {}", said.html) }
}
