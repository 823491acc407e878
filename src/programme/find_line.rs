//! Finding the line that went wrong: a numeric exercise that shows a working,
//! one line of which took a wrong turn.
//!
//! Everything is made of what the author wrote for a numeric exercise. The pull
//! chooses one of the wrong turns; each line of the working that is shown is a
//! given of its own, reckoned as the crew mate did who took that turn; and the
//! number of the line is a step like any other. So the page, the docket, the
//! marking and the proof need to know nothing of this kind.

use std::collections::BTreeMap;

use super::exercise::{Given, GivenSource, Reckoning, Step};
use super::givens::{shown_to, type_of, unit_for};
use super::raw::{RawExercise, RawStep, RawTurn, Scalar};
use super::spot::Spot;
use crate::formula::{Allow, Expression, compile, parse};
use crate::ground::{Decimal, Fault, nearest_name};
use crate::measure::{Quantity, UNITS};
use crate::prose::Text;
use crate::trade::KindOfQuantity;

/// The given that says which wrong turn was taken, counted from 1.
const TAKEN: &str = "turn_taken";
/// The given that says which line it was taken in.
const WRONG_LINE: &str = "wrong_line";
/// The step that asks for it.
const LINE: &str = "line";
/// How many places a line that went wrong lies off at least.
const PLACES_OFF: f64 = 3.0;

/// A name that stands for line `index` as it is shown.
fn line_name(index: usize) -> String {
    format!("line_{}", index + 1)
}

/// The question with the working below it.
pub(super) fn with_working(ask: &str, steps: &[RawStep]) -> String {
    let lines = steps.iter().enumerate().map(|(index, step)| {
        let symbol = step.symbol.as_ref().map_or_else(String::new, |symbol| format!(", ${symbol}$"));
        format!("{}. {}{symbol}: {{{{ {} }}}}\n", index + 1, label(step), line_name(index))
    });
    format!("{}\n\n{}", ask.trim_end(), lines.collect::<String>())
}

fn label(step: &RawStep) -> String {
    step.says.clone().unwrap_or_else(|| {
        let words = step.name.replace('_', " ");
        let mut letters = words.chars();
        letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
    })
}

/// Adds the working as it is shown, and the step that asks for its wrong line;
/// to be called between the givens and the steps.
pub(super) fn read(raw: &RawExercise, spot: &Spot<'_>, reckoning: &mut Reckoning, faults: &mut Vec<Fault>) {
    let steps = raw.steps.as_deref().unwrap_or_default();
    if steps.len() < 3 {
        let mend = "write at least three steps: with fewer there is nothing to look for";
        faults.push(spot.fault("steps", "find-line", format!("a working of {} lines", steps.len()), mend));
        reckoning.broken.extend((0..steps.len()).map(line_name));
        return;
    }
    let ours = (0..steps.len()).map(line_name).chain([TAKEN, WRONG_LINE, LINE].map(str::to_owned));
    for name in ours {
        let table = reckoning.tables.iter().any(|table| table.name == name);
        if table || reckoning.names.get(&name).is_some() || steps.iter().any(|step| step.name == name) {
            let message = format!("`{name}` is the working's own name");
            faults.push(spot.fault("", "name", message, "give your given, table or step another name"));
            return;
        }
    }
    let result = planted(raw, spot)
        .and_then(|turns| Working { steps, turns, spot }.add(reckoning).map_err(|fault| fault.into_iter().collect()));
    if let Err(found) = result {
        faults.extend(found);
        // What the question shows of the working is not told again.
        reckoning.broken.extend((0..steps.len()).map(line_name));
    }
}

/// A wrong turn that may have been taken, and the index of the line that it replaces.
type Planted<'a> = (usize, &'a RawTurn, usize);

/// The wrong turns that `find:` names; all that are written out if it is not there.
fn planted<'a>(raw: &'a RawExercise, spot: &Spot<'_>) -> Result<Vec<Planted<'a>>, Vec<Fault>> {
    let all: Vec<&RawTurn> = raw.wrong_turns.iter().flatten().collect();
    let mut turns = Vec::new();
    let mut faults = Vec::new();
    let at = |turn: &RawTurn| raw.steps.iter().flatten().position(|step| step.name == turn.at);
    let mut add = |index: usize| {
        // A turn at an unknown step is told where the turns are read.
        if let Some(line) = at(all[index]) {
            turns.push((index, all[index], line));
        }
    };
    match &raw.find {
        None => (0..all.len()).filter(|index| all[*index].is.is_some()).for_each(&mut add),
        Some(names) => {
            for (place, name) in names.iter().enumerate() {
                let field = format!("find[{place}]");
                match all.iter().position(|turn| turn.name.as_ref() == Some(name)) {
                    Some(index) if all[index].is.is_some() => add(index),
                    Some(_) => faults.push(spot.fault(
                        &field,
                        "find-line",
                        format!("`{name}` is taken from the catalogue"),
                        "write its formula out with `is:`",
                    )),
                    None => {
                        let known = all.iter().filter_map(|turn| turn.name.as_deref());
                        let mend = nearest_name(name, known).map_or_else(
                            || "name one of its wrong turns".to_owned(),
                            |near| format!("did you mean `{near}`?"),
                        );
                        faults.push(spot.fault(&field, "dangling", format!("there is no wrong turn `{name}`"), mend));
                    }
                }
            }
        }
    }
    let mut lines: Vec<usize> = turns.iter().map(|(_, _, line)| *line).collect();
    lines.sort_unstable();
    lines.dedup();
    if faults.is_empty() && lines.len() < 2 {
        faults.push(spot.fault(
            "wrong_turns",
            "find-line",
            "only one line can have gone wrong",
            "write wrong turns, with `is:`, at two steps or more",
        ));
    }
    if faults.is_empty() { Ok(turns) } else { Err(faults) }
}

/// A working in which one of several wrong turns was taken.
struct Working<'a> {
    steps: &'a [RawStep],
    turns: Vec<Planted<'a>>,
    spot: &'a Spot<'a>,
}

/// What was written is at fault: told here, or (`None`) where the steps are read.
type Wrong = Option<Fault>;

impl Working<'_> {
    fn add(&self, reckoning: &mut Reckoning) -> Result<(), Wrong> {
        let numbers: Vec<Quantity> =
            (1..=self.turns.len()).filter_map(|number| Quantity::parse(&number.to_string()).ok()).collect();
        let plain = type_of(&UNITS[0]);
        reckoning.names.add(TAKEN, plain, None, false);
        reckoning.givens.push(Given { name: TAKEN.to_owned(), source: GivenSource::OneOf(numbers), hidden: true });
        let mut shown = BTreeMap::new();
        for (index, step) in self.steps.iter().enumerate() {
            self.line(index, step, &shown, reckoning)?;
            shown.insert(step.name.clone(), built(&line_name(index))?);
        }
        let lines = self.turns.iter().map(|(_, _, line)| (line + 1).to_string());
        self.given(WRONG_LINE, &one_of(lines)?, None, reckoning)?;
        reckoning.names.add(LINE, plain, None, true);
        reckoning.steps.push(self.asked(reckoning)?);
        Ok(())
    }

    /// A line as it is shown: by the wrong turn if that was taken here, else as is right on the lines above it.
    fn line(
        &self,
        index: usize,
        step: &RawStep,
        shown: &BTreeMap<String, Expression>,
        reckoning: &mut Reckoning,
    ) -> Result<(), Wrong> {
        // What is wrong with a formula is told where the step, or the turn, is read.
        let formula = |text: &Scalar| parse(&text.0).ok().map(|formula| formula.substitute(shown)).ok_or(None);
        let right = formula(&step.is)?;
        let mut shows = right.clone();
        for (number, (_, turn, _)) in self.turns.iter().enumerate().filter(|(_, (_, _, line))| *line == index) {
            let Some(is) = &turn.is else { continue };
            let parts = [("wrong", formula(is)?), ("otherwise", shows)];
            let parts = parts.map(|(name, formula)| (name.to_owned(), formula)).into();
            shows = built(&format!("if({TAKEN} == {}, wrong, otherwise)", number + 1))?.substitute(&parts);
        }
        let name = line_name(index);
        self.given(&name, &shows, Some(step), reckoning)?;
        for (number, _) in self.turns.iter().enumerate().filter(|(_, (_, _, line))| *line == index) {
            Self::is_off(number, &name, &right, step, reckoning)?;
        }
        Ok(())
    }

    /// Where the turn was taken, the line shows it.
    fn is_off(
        number: usize,
        name: &str,
        right: &Expression,
        step: &RawStep,
        reckoning: &mut Reckoning,
    ) -> Result<(), Wrong> {
        let unit = step.unit.as_deref().unwrap_or_default();
        let place = step.shown_to.as_ref().and_then(|Scalar(text)| Decimal::parse(text)).ok_or(None)?;
        let off = format!("'{:.9} {unit}'", PLACES_OFF * place.value());
        let text = format!("not ({TAKEN} == {}) or abs({name} - rightly) >= {off}", number + 1);
        let condition = built(&text)?.substitute(&[("rightly".to_owned(), right.clone())].into());
        let compiled = compile(&condition, &reckoning.names, Allow { bare: false }).map_err(|_| None)?;
        reckoning.only_if.push(compiled);
        Ok(())
    }

    fn given(
        &self,
        name: &str,
        formula: &Expression,
        like: Option<&RawStep>,
        reckoning: &mut Reckoning,
    ) -> Result<(), Wrong> {
        let formula = compile(formula, &reckoning.names, Allow { bare: true }).map_err(|_| None)?;
        let (unit, shown_to) = match like {
            // Both are read again with the step itself, and told there.
            Some(step) => {
                let (unit, _) = unit_for(step.unit.as_deref(), formula.kind, "", self.spot).map_err(|_| None)?;
                (unit, shown_to(step.shown_to.as_ref(), unit, "", self.spot).map_err(|_| None)?)
            }
            None => (&UNITS[0], Decimal::whole(1)),
        };
        reckoning.names.add(name, type_of(unit), like.and_then(|step| step.symbol.clone()), false);
        let source = GivenSource::Formula { formula, unit, shown_to };
        reckoning.givens.push(Given { name: name.to_owned(), source, hidden: like.is_none() });
        Ok(())
    }

    /// The step that asks for the line.
    fn asked(&self, reckoning: &Reckoning) -> Result<Step, Wrong> {
        let expression = built(WRONG_LINE)?;
        let formula = compile(&expression, &reckoning.names, Allow { bare: false }).map_err(|_| None)?;
        let because =
            "Work every line out again from the lines above it. This is the first one that comes out otherwise.";
        Ok(Step {
            name: LINE.to_owned(),
            says: Some("Number of the line that went wrong".to_owned()),
            expression,
            formula,
            unit: &UNITS[0],
            interval: false,
            shown_to: Decimal::whole(1),
            kind: KindOfQuantity::Count,
            leeway: None,
            because: self.spot.line("", because).unwrap_or_else(|_| Text::default()),
        })
    }
}

/// A formula of our own.
fn built(text: &str) -> Result<Expression, Wrong> {
    parse(text).map_err(|_| None)
}

/// Which of several formulas holds, by the turn that was taken.
fn one_of(formulas: impl DoubleEndedIterator<Item = String> + ExactSizeIterator) -> Result<Expression, Wrong> {
    let numbered = formulas.enumerate().rev();
    let text = numbered.fold(String::new(), |rest, (number, formula)| {
        if rest.is_empty() { formula } else { format!("if({TAKEN} == {}, {formula}, {rest})", number + 1) }
    });
    built(&text)
}
