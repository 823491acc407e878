//! Steps, answers and wrong turns: from the raw shapes to compiled formulas.

use std::collections::BTreeMap;

use super::exercise::{Numeric, Reckoning, Step, Turn};
use super::givens::{check_name, shown_to, type_of, unit_for};
use super::raw::{RawExercise, RawKind, RawStep, RawTurn, Scalar};
use super::spot::Spot;
use crate::formula::{Allow, Compiled, Expression, Type, compile, parse};
use crate::ground::{Fault, nearest_name};
use crate::measure::{Dimension, Quantity, Unit};
use crate::prose::Text;
use crate::trade::{KindOfQuantity, Leeway};

/// The most steps of an exercise.
const MOST_STEPS: usize = 24;

/// Reads steps and wrong turns into `reckoning`.
pub(super) fn read(raw: &RawExercise, spot: &Spot<'_>, reckoning: &mut Reckoning, faults: &mut Vec<Fault>) {
    let steps = raw.steps.as_deref().unwrap_or_default();
    if steps.len() > MOST_STEPS {
        faults.push(spot.fault("steps", "steps", format!("{} steps", steps.len()), format!("at most {MOST_STEPS}")));
        return;
    }
    for (index, step) in steps.iter().enumerate() {
        if reckoning.builds_on_broken(&step.is.0) {
            reckoning.broken.insert(step.name.clone());
            continue;
        }
        match read_step(step, &format!("steps[{index}]"), spot, reckoning) {
            Ok(read) => {
                reckoning.names.add(&read.name, read.formula.kind, step.symbol.clone(), true);
                for (parameter, argument) in read
                    .expression
                    .head_call()
                    .into_iter()
                    .flat_map(|(calculation, arguments)| calculation.parameters.iter().zip(arguments))
                {
                    reckoning.names.symbol_of_column(argument.text().trim(), parameter.symbol);
                }
                reckoning.steps.push(read);
            }
            Err(fault) => {
                faults.push(fault);
                reckoning.broken.insert(step.name.clone());
            }
        }
    }
    for (index, turn) in raw.wrong_turns.iter().flatten().enumerate() {
        match read_turn(turn, &format!("wrong_turns[{index}]"), spot, reckoning) {
            Ok(read) => reckoning.turns.push(read),
            // A fault of the step itself has been told already.
            Err(Some(fault)) => faults.push(fault),
            Err(None) => {}
        }
    }
}

fn read_step(raw: &RawStep, field: &str, spot: &Spot<'_>, reckoning: &Reckoning) -> Result<Step, Fault> {
    check_name(&raw.name, &format!("{field}.name"), spot)?;
    if reckoning.names.get(&raw.name).is_some() {
        return Err(spot.fault(
            &format!("{field}.name"),
            "name",
            format!("`{}` is used twice", raw.name),
            "give each given, table and step a name of its own",
        ));
    }
    let (expression, formula) = read_formula(&raw.is, &format!("{field}.is"), spot, reckoning, false)?;
    let (unit, interval) = unit_for(raw.unit.as_deref(), formula.kind, field, spot)?;
    let because = match &raw.because {
        Some(text) => spot.line(&format!("{field}.because"), text)?,
        None => Text::default(),
    };
    Ok(Step {
        name: raw.name.clone(),
        says: raw.says.clone(),
        kind: kind_of_quantity(raw, field, spot, &expression, unit)?,
        leeway: raw.leeway.as_ref().map(|text| leeway(text, unit, &format!("{field}.leeway"), spot)).transpose()?,
        shown_to: shown_to(raw.shown_to.as_ref(), unit, field, spot)?,
        expression,
        formula,
        unit,
        interval,
        because,
    })
}

fn read_formula(
    Scalar(text): &Scalar,
    field: &str,
    spot: &Spot<'_>,
    reckoning: &Reckoning,
    bare: bool,
) -> Result<(Expression, Compiled), Fault> {
    let expression = parse(text).map_err(|fault| spot.formula(field, fault))?;
    let compiled =
        compile(&expression, &reckoning.names, Allow { bare }).map_err(|fault| spot.formula(field, fault))?;
    Ok((expression, compiled))
}

/// The kind of quantity: as written, else the catalogue's, else the unit's.
fn kind_of_quantity(
    raw: &RawStep,
    field: &str,
    spot: &Spot<'_>,
    expression: &Expression,
    unit: &Unit,
) -> Result<KindOfQuantity, Fault> {
    let Some(word) = &raw.quantity else {
        return Ok(expression
            .head_call()
            .map_or_else(|| KindOfQuantity::of_unit(unit), |(calculation, _)| calculation.outcome.kind));
    };
    KindOfQuantity::from_word(word).ok_or_else(|| {
        let known = KindOfQuantity::ALL.map(KindOfQuantity::word).join(", ");
        spot.fault(
            &format!("{field}.quantity"),
            "unknown-word",
            format!("`{word}` is not a kind of quantity"),
            format!("write one of: {known}"),
        )
    })
}

/// An author's leeway.
pub(super) fn leeway(Scalar(text): &Scalar, unit: &Unit, field: &str, spot: &Spot<'_>) -> Result<Leeway, Fault> {
    Leeway::parse(text, unit).map_err(|message| {
        spot.fault(
            field,
            "leeway",
            message,
            "write `2 %`, `0.02 µm`, `3 % or 0.02 µm`, or where the answer is in %: `2 % of key`, `0.5 point`",
        )
    })
}

/// Reads a wrong turn; `Err(None)` if the step it replaces is at fault itself.
fn read_turn(raw: &RawTurn, field: &str, spot: &Spot<'_>, reckoning: &Reckoning) -> Result<Turn, Option<Fault>> {
    let at_field = format!("{field}.at");
    if reckoning.is_broken(&raw.at) || raw.is.as_ref().is_some_and(|Scalar(text)| reckoning.builds_on_broken(text)) {
        return Err(None);
    }
    let Some(at) = reckoning.steps.iter().position(|step| step.name == raw.at) else {
        let known: Vec<&str> = reckoning.steps.iter().map(|step| step.name.as_str()).collect();
        let mend = nearest_name(&raw.at, known.iter().copied())
            .map_or_else(|| format!("the steps are: {}", known.join(", ")), |near| format!("did you mean `{near}`?"));
        return Err(Some(spot.fault(&at_field, "dangling", format!("there is no step `{}`", raw.at), mend)));
    };
    let step = &reckoning.steps[at];
    let (name, formula, because) = match (&raw.is, &raw.take) {
        (Some(is), None) => {
            let Some(name) = raw.name.clone() else {
                return Err(Some(spot.fault(
                    field,
                    "missing-key",
                    "the key `name` is missing",
                    "name the wrong turn, so that an option or a report can speak of it",
                )));
            };
            let Some(because) = &raw.because else {
                return Err(Some(spot.fault(
                    field,
                    "missing-key",
                    "the key `because` is missing",
                    "say what the person did, and what to do instead",
                )));
            };
            let (_, formula) = read_formula(is, &format!("{field}.is"), spot, reckoning, true)?;
            (name, formula, spot.line(&format!("{field}.because"), because)?)
        }
        (None, Some(usual)) => taken(usual, raw, step, field, spot, reckoning)?,
        _ => {
            return Err(Some(spot.fault(
                field,
                "wrong-turn",
                "a wrong turn needs either `is` or `take`",
                "write the wrong formula, or name a usual wrong turn of the step's calculation",
            )));
        }
    };
    check_name(&name, &format!("{field}.name"), spot)?;
    if reckoning.turns.iter().any(|turn| turn.name == name) {
        return Err(Some(spot.fault(
            &format!("{field}.name"),
            "name",
            format!("two wrong turns are called `{name}`"),
            "give each a name of its own",
        )));
    }
    // A wrong turn may confuse a reading with a difference, but not lengths with masses.
    let dimension = |kind: Type| match kind {
        Type::Number(dimension) => Some(dimension),
        Type::Point => Some(Dimension::TEMPERATURE),
        _ => None,
    };
    if dimension(formula.kind) != dimension(step.formula.kind) {
        let message = format!("the wrong formula gives {}, the step {}", formula.kind, step.formula.kind);
        return Err(Some(spot.fault(&format!("{field}.is"), "wrong-turn", message, "a wrong turn must give the same kind of thing: use bare(x, 'unit') and a unit in quotes to read one as another")));
    }
    Ok(Turn { name, at, formula, because })
}

/// A usual wrong turn of the catalogue, with the step's own arguments.
fn taken(
    usual: &str,
    raw: &RawTurn,
    step: &Step,
    field: &str,
    spot: &Spot<'_>,
    reckoning: &Reckoning,
) -> Result<(String, Compiled, Text), Option<Fault>> {
    let here = format!("{field}.take");
    let Some((calculation, arguments)) = step.expression.head_call() else {
        let message = format!("the step `{}` is not a single calculation of the catalogue", step.name);
        return Err(Some(spot.fault(&here, "wrong-turn", message, "write the wrong formula out with `is:`")));
    };
    let Some(turn) = calculation.wrong_turns.iter().find(|turn| turn.name == usual) else {
        let known: Vec<&str> = calculation.wrong_turns.iter().map(|turn| turn.name).collect();
        let message = format!("`{}` has no usual wrong turn `{usual}`", calculation.name);
        return Err(Some(spot.fault(&here, "dangling", message, format!("it has: {}", known.join(", ")))));
    };
    let map: BTreeMap<String, Expression> =
        calculation.parameters.iter().map(|parameter| parameter.name.to_owned()).zip(arguments).collect();
    let formula = parse(turn.is)
        .map(|wrong| wrong.substitute(&map))
        .and_then(|wrong| compile(&wrong, &reckoning.names, Allow { bare: true }))
        .map_err(|fault| Some(spot.formula(&here, fault)))?;
    let because = spot.line(&format!("{field}.because"), raw.because.as_deref().unwrap_or(turn.because))?;
    Ok((raw.name.clone().unwrap_or_else(|| usual.to_owned()), formula, because))
}

/// What a numeric exercise asks for.
pub(super) fn numeric(raw: &RawExercise, spot: &Spot<'_>, reckoning: &mut Reckoning) -> Result<Numeric, Option<Fault>> {
    let written = raw.steps.as_ref().map_or(0, Vec::len);
    let asks_for_line = raw.kind == Some(RawKind::FindLine);
    let expected = written + usize::from(asks_for_line);
    if written == 0 {
        return Err(Some(spot.fault(
            "steps",
            "missing-key",
            "a numeric exercise needs steps",
            "write the calculation as `steps:`",
        )));
    }
    if reckoning.steps.len() != expected {
        return Err(None); // the faulty step has been told already
    }
    let mut answers = Vec::new();
    for (index, name) in raw.answers.iter().flatten().enumerate() {
        match reckoning.steps.iter().position(|step| step.name == *name) {
            Some(step) if answers.last().is_none_or(|last| *last < step) => answers.push(step),
            Some(_) => {
                return Err(Some(spot.fault(
                    &format!("answers[{index}]"),
                    "answers",
                    format!("`{name}` is asked for out of order"),
                    "ask for steps in the order they are worked out",
                )));
            }
            None if reckoning.is_broken(name) => return Err(None),
            None => {
                return Err(Some(spot.fault(
                    &format!("answers[{index}]"),
                    "dangling",
                    format!("there is no step `{name}`"),
                    "name a step",
                )));
            }
        }
    }
    if asks_for_line {
        answers.push(0);
    }
    if answers.is_empty() || asks_for_line {
        answers.push(expected - 1);
    }
    let Some(Scalar(sane)) = &raw.sane else {
        return Err(Some(spot.fault(
            "",
            "missing-key",
            "the key `sane` is missing",
            "say where the key must lie in every pull: `sane: 0.2 µm .. 6 µm`",
        )));
    };
    let last = answers[answers.len() - 1];
    if let Some(text) = &raw.leeway {
        let read = leeway(text, reckoning.steps[last].unit, "leeway", spot)?;
        reckoning.steps[last].leeway.get_or_insert(read);
    }
    let range = sane_range(sane, &reckoning.steps[last], spot)?;
    Ok(Numeric { answers, sane: range, sane_text: sane.clone(), finds_line: asks_for_line })
}

fn sane_range(text: &str, step: &Step, spot: &Spot<'_>) -> Result<(f64, f64), Fault> {
    let form = || {
        spot.fault(
            "sane",
            "sane",
            format!("`{text}` is not a range"),
            "write the least and the greatest with two dots between: `0.2 µm .. 6 µm`",
        )
    };
    let (low, high) = text.split_once("..").ok_or_else(form)?;
    let wanted = step.unit.dimension;
    let read = |part: &str| {
        Quantity::parse_wanting(part, Some(wanted)).map_err(|fault| spot.not_a_quantity("sane", part.trim(), fault))
    };
    let (low, high) = (read(low)?, read(high)?);
    for end in [low, high] {
        if end.unit.dimension != wanted {
            return Err(spot.fault(
                "sane",
                "wrong-unit",
                format!("the key is {}, but `{}` measures {}", step.formula.kind, end.unit.name, end.unit.dimension),
                "write the range in a unit of the key",
            ));
        }
    }
    let si = |end: Quantity| if step.interval { end.number.value() * end.unit.factor } else { end.si };
    if si(low) >= si(high) {
        return Err(spot.fault("sane", "sane", format!("`{text}` is empty"), "write the smaller end first"));
    }
    debug_assert!(step.interval || type_of(low.unit) == type_of(high.unit));
    Ok((si(low), si(high)))
}
