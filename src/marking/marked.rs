//! Marking what was typed against kept rules and a kept key.

use serde::Serialize;

use super::carried::{Chain, OwnAnswer};
use super::numeric::{Verdict, numeric};
use super::own_key::{OwnKey, OwnPart};
use super::rounds::RoundsSaid;
use super::rules::{Asks, NumericRules, Rules, Said, WAY};
use super::wrong_way::WrongWay;
use crate::ground::Fault;
use crate::ground::say;
use crate::measure::{Reading, read};
use crate::pull::Printer;

/// The mark of one part, with all that a marked docket says of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartMark {
    /// The answer as typed.
    pub typed: String,
    /// How it was read, or why it was not; empty for a blank.
    pub read: String,
    /// The verdict.
    pub verdict: Verdict,
    /// The mark, from 0 to 1.
    pub mark: f64,
    /// The key as printed.
    pub key: Said,
    /// The names of the wrong turns that lead to this answer.
    pub turns: Vec<String>,
    /// Why, as far as it is known; empty for a plain wrong number.
    pub reason: Said,
    /// Where an answer was carried: the working with the apprentice's own numbers.
    pub own_working: Vec<OwnLine>,
    /// The ways in which it went wrong, for counting over a class.
    pub wrong_ways: Vec<WrongWay>,
    /// More about an order.
    pub order: Option<OrderSaid>,
    /// More about rounds.
    pub rounds: Option<RoundsSaid>,
}

impl PartMark {
    /// Whether the competency is held until an assessor records a talk: a safety pair is broken, or a move was unsafe.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.order.as_ref().is_some_and(|order| order.hold) || self.rounds.as_ref().is_some_and(|rounds| rounds.hold)
    }

    /// What was not safe, each in words: the safety pairs that are broken, the unsafe moves.
    #[must_use]
    pub fn not_safe(&self) -> Vec<String> {
        let mut pairs: Vec<&BrokenPair> =
            self.order.iter().flat_map(|order| &order.broken).filter(|pair| pair.safety).collect();
        // A pair with a reason of its own says more than one that follows from others.
        pairs.sort_by_key(|pair| pair.because.len() > 1);
        let pairs = pairs
            .into_iter()
            .map(|pair| say!("marking.comes-before", first = pair.first.plain.trim(), then = pair.then.plain.trim()));
        let moves = self.rounds.iter().flat_map(|rounds| &rounds.done).filter(|round| round.not_safe);
        pairs.chain(moves.map(|round| say!("marking.is-not-safe", says = round.says.plain.trim()))).collect()
    }
}

/// One step of a working with an apprentice's own numbers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OwnLine {
    /// The index of the step.
    pub step: usize,
    /// Its value as printed.
    pub printed: String,
    /// Whether the apprentice answered it: nothing was reckoned then.
    pub answered: bool,
}

/// What is said of an order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OrderSaid {
    /// How many pairs there are.
    pub pairs: usize,
    /// How many of them are kept.
    pub kept: usize,
    /// The broken ones.
    pub broken: Vec<BrokenPair>,
    /// The valid order nearest to the given one, as numbers of the moves as shown.
    pub nearest: Vec<usize>,
    /// Whether the competency is held until an assessor records a talk.
    pub hold: bool,
}

/// A pair that was not kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BrokenPair {
    /// The move that comes first.
    pub first: Said,
    /// The move that comes later.
    pub then: Said,
    /// Whether someone is hurt otherwise.
    pub safety: bool,
    /// The reasons along the shortest path between the two.
    pub because: Vec<Said>,
}

/// Rules made ready for marking many dockets.
#[derive(Debug)]
pub struct Marker<'a> {
    rules: &'a Rules,
    chain: Option<Chain>,
}

impl<'a> Marker<'a> {
    /// Makes kept rules ready.
    ///
    /// # Errors
    /// A fault if this version of the program cannot read them; see [`Chain::open`].
    pub fn open(rules: &'a Rules) -> Result<Self, Fault> {
        if rules.way != WAY {
            let message =
                format!("the rules of `{}` are kept in way {}, and {WAY} is known here", rules.exercise, rules.way);
            return Err(Fault::new("kept-rules", message, "mark with the version of the program that issued the quiz"));
        }
        let chain = match &rules.asks {
            Asks::Numeric(numeric) => Some(Chain::open(numeric)?),
            _ => None,
        };
        Ok(Self { rules, chain })
    }

    /// Marks the answers of one docket, one per part; an order or a choice is
    /// one part, answered with the numbers of the moves or options as shown.
    ///
    /// # Errors
    /// A fault if the number of answers is not the number of parts, or if the
    /// key is not one of these rules; see [`Chain::agrees_with`].
    pub fn mark(&self, own: &OwnKey, answers: &[impl AsRef<str>]) -> Result<Vec<PartMark>, Fault> {
        let parts = self.chain.as_ref().map_or(own.wholes(), |_| own.parts.len());
        if answers.len() != parts {
            let message = format!("`{}` has {parts} parts, and {} answers came", self.rules.exercise, answers.len());
            return Err(Fault::new("answers", message, "give one answer per part, empty for a blank"));
        }
        let typed: Vec<&str> = answers.iter().map(AsRef::as_ref).collect();
        match (&self.rules.asks, &self.chain) {
            (Asks::Numeric(rules), Some(chain)) => {
                chain.agrees_with(own)?;
                Ok(Numbers { rules, chain, own, printer: self.rules.printer() }.mark(&typed))
            }
            (Asks::Order(rules), _) => super::picked::order(rules, own, typed[0]).map(|one| vec![one]),
            (Asks::Rounds(rules), _) => super::rounds::rounds(rules, own, typed[0]).map(|one| vec![one]),
            (Asks::Choose(rules), _) if own.counts.is_empty() => {
                super::picked::choice(rules, own, typed[0]).map(|one| vec![one])
            }
            (Asks::Choose(rules), _) => (0..)
                .zip(typed)
                .map(|(place, text)| super::picked::choice(rules, &own.of_question(place), text))
                .collect(),
            (Asks::Numeric(_), None) => Ok(Vec::new()),
        }
    }
}

/// Marks the answers of one docket by kept rules: [`Marker`] for a single one.
///
/// # Errors
/// As [`Marker::open`] and [`Marker::mark`].
///
/// ```
/// use gearside::marking::{OwnKey, Rules, Verdict, mark_exercise};
/// use gearside::programme::{Form, Origin, load};
/// use gearside::pull::{Printer, pull};
/// let programme = load(&Origin::Shipped).unwrap().programme.unwrap();
/// let exercise = programme.exercises().find(|one| matches!(one.form, Form::Numeric(_))).unwrap();
/// let printer = Printer::of(&programme);
/// let pull = pull(exercise, "7", 0, printer).unwrap();
/// let (rules, own) = (Rules::of(exercise, printer).unwrap(), OwnKey::of(exercise, &pull).unwrap());
/// let typed: Vec<String> = own.parts.iter().map(|part| part.printed.clone()).collect();
/// assert!(mark_exercise(&rules, &own, &typed).unwrap().iter().all(|part| part.verdict == Verdict::Right));
/// ```
pub fn mark_exercise(rules: &Rules, own: &OwnKey, answers: &[impl AsRef<str>]) -> Result<Vec<PartMark>, Fault> {
    Marker::open(rules)?.mark(own, answers)
}

/// The numbers of one docket.
struct Numbers<'a> {
    rules: &'a NumericRules,
    chain: &'a Chain,
    own: &'a OwnKey,
    printer: Printer,
}

impl Numbers<'_> {
    fn mark(&self, typed: &[&str]) -> Vec<PartMark> {
        let mut earlier: Vec<OwnAnswer> = Vec::new();
        let mut marks = Vec::with_capacity(typed.len());
        for (part, (text, key)) in typed.iter().zip(&self.own.parts).enumerate() {
            let Some((step, asked)) = self.chain.asked(part) else { continue };
            let reading = read(text, asked, self.printer.mark);
            marks.push(self.part(part, key, text, &reading, &earlier));
            if let Reading::Value { value, .. } = reading {
                earlier.push(OwnAnswer { step, in_unit: value });
            }
        }
        marks
    }

    fn part(&self, part: usize, key: &OwnPart, typed: &str, reading: &Reading, earlier: &[OwnAnswer]) -> PartMark {
        let verdict = numeric(reading, &key.intervals);
        let value = match reading {
            Reading::Value { value, .. } if verdict != Verdict::Right => Some(*value),
            _ => None,
        };
        let carried = value.and_then(|value| {
            let (values, right) = self.chain.right_given(self.own, earlier, part)?;
            right.holds(value).then_some(values)
        });
        let verdict = if carried.is_some() { Verdict::Carried } else { verdict };
        let (turns, reason) = self.reason(&verdict, earlier);
        let wrong_ways = match (&verdict, value) {
            (Verdict::Carried, _) | (_, None) => Vec::new(),
            (Verdict::WrongTurn(_), _) => turns.iter().map(|name| WrongWay::Turn(name.clone())).collect(),
            (_, Some(value)) => vec![WrongWay::value(value, key.key, &words_of(reading))],
        };
        PartMark {
            typed: typed.to_owned(),
            read: words_of(reading),
            mark: if matches!(verdict, Verdict::Right | Verdict::Carried) { 1.0 } else { 0.0 },
            key: Said::words(key.printed.clone()),
            own_working: carried.map_or_else(Vec::new, |values| self.working(&values, earlier, part)),
            turns,
            reason,
            verdict,
            wrong_ways,
            order: None,
            rounds: None,
        }
    }

    /// The names of the wrong turns, and why.
    fn reason(&self, verdict: &Verdict, earlier: &[OwnAnswer]) -> (Vec<String>, Said) {
        match verdict {
            Verdict::WrongTurn(indexes) => {
                let known = indexes.iter().filter_map(|index| Some((index, self.rules.turns.get(*index)?)));
                let (names, reasons): (Vec<String>, Vec<&Said>) = known
                    .map(|(index, turn)| (turn.name.clone(), self.own.reasons.get(index).unwrap_or(&turn.because)))
                    .unzip();
                (names, joined(&reasons))
            }
            Verdict::General(general) => (Vec::new(), Said::words(general.words())),
            Verdict::Carried => (Vec::new(), Said::words(say!("marking.right-given-before", n = earlier.len()))),
            _ => (Vec::new(), Said::default()),
        }
    }

    /// The steps up to the part, with the apprentice's own numbers.
    fn working(&self, values: &[f64], earlier: &[OwnAnswer], part: usize) -> Vec<OwnLine> {
        let last = self.chain.asked(part).map_or(0, |(step, _)| step);
        let steps = values.iter().enumerate().take(last + 1);
        steps
            .map(|(step, si)| OwnLine {
                step,
                printed: self.chain.printed(step, *si, self.printer),
                answered: earlier.iter().any(|answer| answer.step == step),
            })
            .collect()
    }
}

/// Several reasons as one.
pub(super) fn joined(reasons: &[&Said]) -> Said {
    let join = |text: fn(&Said) -> &String| reasons.iter().map(|one| text(one).trim()).collect::<Vec<_>>().join(" ");
    Said { plain: join(|one| &one.plain), html: join(|one| &one.html) }
}

/// How an answer was read, in words; empty for a blank.
#[must_use]
pub fn words_of(reading: &Reading) -> String {
    match reading {
        Reading::Blank => String::new(),
        Reading::Value { echo, .. } => echo.clone(),
        Reading::WrongKind { is, wanted, .. } => say!("marking.where-is-asked", is = is, wanted = wanted),
        Reading::UnknownUnit { text, near: Some(near) } => say!("marking.is-no-unit", text = text, near = near),
        Reading::UnknownUnit { text, near: None } => say!("marking.is-no-unit-known", text = text),
        Reading::Unreadable { why } => say!("marking.not-read", why = why),
    }
}
