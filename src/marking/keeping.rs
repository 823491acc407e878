//! Keeping the rules of an exercise as its bank has them now.

use super::rounds::RoundsRules;
use super::rules::{
    Asks, ChooseRules, LeewayRule, NameRule, NumericRules, OptionRule, OrderRules, Rules, Said, Sort, StepRule,
    TurnRule, WAY,
};
use crate::formula::Type;
use crate::ground::Fault;
use crate::measure::{DecimalMark, UNITS, Unit};
use crate::programme::{Choose, Exercise, Form, Numeric, Order, Rounds, Says};
use crate::pull::Printer;

impl Rules {
    /// The rules of an exercise, for answers typed as the programme writes numbers.
    ///
    /// # Errors
    /// A fault if a name measures something that no unit measures.
    pub fn of(exercise: &Exercise, printer: Printer) -> Result<Self, Fault> {
        let asks = match &exercise.form {
            Form::Numeric(numeric) => Asks::Numeric(numeric_rules(exercise, numeric)?),
            Form::Order(order) => Asks::Order(order_rules(order)),
            Form::Choose(choose) => Asks::Choose(choose_rules(exercise, choose)),
            Form::Rounds(rounds) => Asks::Rounds(rounds_rules(rounds)),
        };
        Ok(Self {
            way: WAY,
            exercise: exercise.id.to_string(),
            family: exercise.family.to_string(),
            competency: exercise.competency.to_string(),
            title: exercise.title.clone(),
            decimal_comma: printer.mark == DecimalMark::Comma,
            asks,
        })
    }
}

fn numeric_rules(exercise: &Exercise, numeric: &Numeric) -> Result<NumericRules, Fault> {
    let reckoning = &exercise.reckoning;
    let mut names = Vec::new();
    for name in reckoning.names.in_print_order() {
        let Some(entry) = reckoning.names.get(name) else { continue };
        let Some((slot, kind)) = entry.value else { continue };
        let (sort, unit) = sort_of(kind).ok_or_else(|| {
            Fault::new("unit", format!("nothing in the table of units measures `{name}`"), "give it another unit")
                .at(exercise.place.clone())
        })?;
        let (name, symbol, print) = (name.clone(), entry.symbol.clone(), entry.print);
        names.push(NameRule { name, sort, unit: unit.name.to_owned(), slot, symbol, print });
    }
    let steps = reckoning.steps.iter().map(|step| StepRule {
        name: step.name.clone(),
        is: step.expression.text().to_owned(),
        unit: step.unit.name.to_owned(),
        difference: step.interval,
        shown_to: step.shown_to.to_string(),
        quantity: step.kind.word().to_owned(),
        leeway: step.leeway.map(LeewayRule::from),
        because: Said::of(&step.because),
    });
    let turns = reckoning.turns.iter();
    let turns = turns.map(|turn| TurnRule { name: turn.name.clone(), because: Said::of(&turn.because) });
    Ok(NumericRules {
        names,
        steps: steps.collect(),
        answers: numeric.answers.clone(),
        sane: numeric.sane,
        turns: turns.collect(),
    })
}

/// What a type stands for, with a unit of its dimension.
fn sort_of(kind: Type) -> Option<(Sort, &'static Unit)> {
    let amount = |dimension| UNITS.iter().find(|unit| unit.dimension == dimension && !unit.is_point());
    let point = || UNITS.iter().find(|unit| unit.is_point());
    Some(match kind {
        Type::Number(dimension) => (Sort::Number, amount(dimension)?),
        Type::Series(dimension) => (Sort::Series, amount(dimension)?),
        Type::Point => (Sort::Point, point()?),
        Type::SeriesOfPoints => (Sort::SeriesOfPoints, point()?),
        Type::Truth => (Sort::Truth, &UNITS[0]),
    })
}

fn order_rules(order: &Order) -> OrderRules {
    OrderRules {
        moves: order.moves.iter().map(|one| Said::of(&one.text)).collect(),
        because: order.before.iter().map(|edge| Said::of(&edge.because)).collect(),
    }
}

fn rounds_rules(rounds: &Rounds) -> RoundsRules {
    let moves = 0..rounds.moves.len();
    let why = |from: usize| moves.clone().map(|by| rounds.lead(from, by)).collect();
    // The reasons of unsafe moves stand behind those of what moves do.
    let not_safe = |by: usize| rounds.not_safe.iter().position(|(index, _)| *index == by);
    RoundsRules {
        ways: rounds.ways(),
        most: rounds.most,
        why: (0..rounds.states.len()).map(why).collect(),
        why_not_safe: moves.clone().map(|by| Some(rounds.leads.len() + not_safe(by)?)).collect(),
        because: rounds.reasons().map(Said::of).collect(),
    }
}

fn choose_rules(exercise: &Exercise, choose: &Choose) -> ChooseRules {
    let turn_of = |says: &Says| match says {
        Says::Value { turn: Some(turn), .. } => Some((*turn, exercise.reckoning.turns.get(*turn)?.name.clone())),
        _ => None,
    };
    let options = choose.options.iter().map(|option| OptionRule {
        right: option.right,
        turn: turn_of(&option.says),
        because: Said::of(&option.because),
    });
    let several = choose.questions.iter().filter(|_| choose.diagnoses());
    ChooseRules {
        pick: choose.questions.first().map_or(crate::programme::Pick::One, |question| question.pick),
        options: options.collect(),
        questions: several.map(|question| question.label.clone()).collect(),
    }
}
