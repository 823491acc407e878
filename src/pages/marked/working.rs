//! The working of an exercise: with the numbers of a docket, or with the
//! apprentice's own.

use serde_json::{Value, json};

use super::super::mathematics::{symbolic, with_numbers};
use crate::formula::{Expression, parse};
use crate::ground::Fault;
use crate::marking::{Asks, NumericRules, OwnKey, OwnLine, Rules};
use crate::prose::escape;

/// The steps of one exercise, parsed once.
#[derive(Debug)]
pub(super) struct Working<'a> {
    numeric: Option<(&'a NumericRules, Vec<Step>)>,
}

#[derive(Debug)]
struct Step {
    expression: Expression,
    symbolic_html: String,
    /// The place of its printed text.
    print: usize,
}

impl<'a> Working<'a> {
    /// Makes the steps of kept rules ready.
    ///
    /// # Errors
    /// A fault if a formula cannot be read.
    pub(super) fn of(rules: &'a Rules) -> Result<Self, Fault> {
        let Asks::Numeric(numeric) = &rules.asks else { return Ok(Self { numeric: None }) };
        let step = |rule: &crate::marking::StepRule| -> Result<Step, Fault> {
            let expression = parse(&rule.is).map_err(|fault| {
                let message = format!("the kept rules cannot be read: the step `{}`: {}", rule.name, fault.message);
                Fault::new("kept-rules", message, "use the version of the program that issued the quiz")
            })?;
            let print = numeric.names.iter().find(|one| one.name == rule.name).map_or(usize::MAX, |one| one.print);
            Ok(Step { symbolic_html: symbolic(&expression, &rule.name, numeric), expression, print })
        };
        let steps = numeric.steps.iter().map(step).collect::<Result<_, Fault>>()?;
        Ok(Self { numeric: Some((numeric, steps)) })
    }

    /// The working that leads to the key.
    pub(super) fn to_the_key(&self, own: &OwnKey) -> Vec<Value> {
        let steps = self.numeric.as_ref().map_or(0, |(_, steps)| steps.len());
        (0..steps).map(|step| self.line(own, &own.printed, step, false)).collect()
    }

    /// The working with an apprentice's own numbers.
    pub(super) fn carried(&self, own: &OwnKey, lines: &[OwnLine]) -> Vec<Value> {
        let Some((_, steps)) = &self.numeric else { return Vec::new() };
        let mut printed = own.printed.clone();
        for line in lines {
            let place = steps.get(line.step).and_then(|step| printed.get_mut(step.print));
            place.into_iter().for_each(|text| text.clone_from(&line.printed));
        }
        lines.iter().map(|line| self.line(own, &printed, line.step, line.answered)).collect()
    }

    fn line(&self, own: &OwnKey, printed: &[String], index: usize, answered: bool) -> Value {
        let found = self.numeric.as_ref().and_then(|(rules, steps)| Some((rules, steps.get(index)?)));
        let Some((rules, step)) = found else { return Value::Null };
        let text = |print: usize| escape(printed.get(print).map_or("", String::as_str));
        let numbers = with_numbers(&step.expression, *rules, &mut |print| format!("<mn>{}</mn>", text(print)));
        let because = own.step_reasons.get(&index).or_else(|| rules.steps.get(index).map(|step| &step.because));
        json!({
            "symbolic_html": step.symbolic_html,
            "numbers_html": if answered { String::new() } else { numbers },
            "value_html": text(step.print),
            "answered": if answered { "yes" } else { "" },
            "because_html": because.map_or("", |said| said.html.as_str()),
        })
    }
}
