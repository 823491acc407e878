//! The evaluator: a stack machine over SI values that allocates nothing once
//! its stack has grown.

use super::function::{BuiltIn, Gather};
use super::kinds::Type;
use super::tree::Operator;
use crate::trade::Calculation;

/// Printed values that differ by less than this share are equal.
const EQUAL: f64 = 1e-9;

/// One step of the machine.
#[derive(Debug, Clone)]
pub(super) enum Op {
    Value(f64),
    Slot(usize),
    Negative,
    Not,
    And,
    Or,
    Add,
    Subtract,
    Multiply,
    Divide,
    Power,
    Compare(Operator),
    /// Condition, then, otherwise: both values are worked out, one is kept.
    Choose,
    Bare {
        factor: f64,
        offset: f64,
    },
    BuiltIn(BuiltIn),
    Many(BuiltIn, usize),
    Gather(Gather, usize),
    Catalogue(&'static Calculation),
}

/// A compiled formula.
#[derive(Debug, Clone)]
pub struct Compiled {
    /// What it gives.
    pub kind: Type,
    pub(super) ops: Vec<Op>,
}

/// The values that a formula's names stand for.
#[derive(Debug, Clone, Copy)]
pub struct Values<'a> {
    /// SI values by slot.
    pub scalars: &'a [f64],
    /// Series of SI values by slot.
    pub series: &'a [Vec<f64>],
}

/// The machine's stack, to be used again and again.
#[derive(Debug, Default)]
pub struct Stack(Vec<f64>);

impl Compiled {
    /// The formula's value in SI; truth as 1 and 0. Missing slots give NaN.
    pub fn evaluate(&self, values: &Values<'_>, stack: &mut Stack) -> f64 {
        self.evaluate_watched(values, stack, &mut |_, _, _| {})
    }

    /// The same; `watch` sees each catalogue calculation with its arguments and result.
    pub fn evaluate_watched(
        &self,
        values: &Values<'_>,
        stack: &mut Stack,
        watch: &mut dyn FnMut(&'static Calculation, &[f64], f64),
    ) -> f64 {
        stack.0.clear();
        for op in &self.ops {
            stack.take(op, values, watch);
        }
        stack.pop()
    }
}

impl Stack {
    fn pop(&mut self) -> f64 {
        self.0.pop().unwrap_or(f64::NAN)
    }

    fn two(&mut self, combine: impl FnOnce(f64, f64) -> f64) {
        let right = self.pop();
        let left = self.pop();
        self.0.push(combine(left, right));
    }

    fn take(&mut self, op: &Op, values: &Values<'_>, watch: &mut dyn FnMut(&'static Calculation, &[f64], f64)) {
        match op {
            Op::Value(value) => self.0.push(*value),
            Op::Slot(slot) => self.0.push(values.scalars.get(*slot).copied().unwrap_or(f64::NAN)),
            Op::Negative => {
                let value = self.pop();
                self.0.push(-value);
            }
            Op::Not => {
                let value = self.pop();
                self.0.push(truth(value < 0.5));
            }
            Op::And => self.two(|a, b| truth(a > 0.5 && b > 0.5)),
            Op::Or => self.two(|a, b| truth(a > 0.5 || b > 0.5)),
            Op::Add => self.two(|a, b| a + b),
            Op::Subtract => self.two(|a, b| a - b),
            Op::Multiply => self.two(|a, b| a * b),
            Op::Divide => self.two(|a, b| a / b),
            Op::Power => self.two(libm::pow),
            Op::Compare(operator) => self.two(|a, b| truth(compare(*operator, a, b))),
            Op::Choose => {
                let (otherwise, then, condition) = (self.pop(), self.pop(), self.pop());
                self.0.push(if condition > 0.5 { then } else { otherwise });
            }
            Op::Bare { factor, offset } => {
                let value = self.pop();
                self.0.push((value - offset) / factor);
            }
            Op::BuiltIn(function) => {
                let value = self.pop();
                self.0.push(built_in(*function, value));
            }
            Op::Many(function, count) => {
                let start = self.0.len().saturating_sub(*count);
                let fold = |a: f64, b: &f64| if *function == BuiltIn::Min { a.min(*b) } else { a.max(*b) };
                let result = self.0[start + 1..].iter().fold(self.0[start], fold);
                self.0.truncate(start);
                self.0.push(result);
            }
            Op::Gather(function, slot) => {
                self.0.push(gather(*function, values.series.get(*slot).map_or(&[], Vec::as_slice)));
            }
            Op::Catalogue(calculation) => {
                let start = self.0.len().saturating_sub(calculation.parameters.len());
                let result = (calculation.compute)(&self.0[start..]);
                watch(calculation, &self.0[start..], result);
                self.0.truncate(start);
                self.0.push(result);
            }
        }
    }
}

fn truth(holds: bool) -> f64 {
    f64::from(u8::from(holds))
}

fn compare(operator: Operator, a: f64, b: f64) -> bool {
    let equal = (a - b).abs() <= EQUAL * a.abs().max(b.abs());
    match operator {
        Operator::Less => a < b && !equal,
        Operator::AtMost => a < b || equal,
        Operator::Greater => a > b && !equal,
        Operator::AtLeast => a > b || equal,
        Operator::Equal => equal,
        _ => !equal && !a.is_nan() && !b.is_nan(),
    }
}

fn built_in(function: BuiltIn, value: f64) -> f64 {
    match function {
        BuiltIn::Sqrt => libm::sqrt(value),
        BuiltIn::Ln => libm::log(value),
        BuiltIn::Log10 => libm::log10(value),
        BuiltIn::Exp => libm::exp(value),
        BuiltIn::Sin => libm::sin(value),
        BuiltIn::Cos => libm::cos(value),
        BuiltIn::Tan => libm::tan(value),
        // Halves away from zero, as people round; a value within dust of a half or a whole counts as it.
        BuiltIn::Round => libm::round(settled(value)),
        BuiltIn::Ceil => libm::ceil(settled(value)),
        BuiltIn::Floor => libm::floor(settled(value)),
        BuiltIn::Abs => value.abs(),
        BuiltIn::Min | BuiltIn::Max => value,
    }
}

/// A value without the dust of binary arithmetic around the nearest half:
/// 95.99999999999 teeth are 96.
fn settled(value: f64) -> f64 {
    let half = libm::round(value * 2.0) / 2.0;
    if (value - half).abs() <= EQUAL * value.abs().max(1.0) { half } else { value }
}

#[expect(clippy::cast_precision_loss, reason = "a series has at most 200 values")]
fn gather(function: Gather, series: &[f64]) -> f64 {
    let count = series.len() as f64;
    let total: f64 = series.iter().sum();
    match function {
        Gather::HowMany => count,
        Gather::Total => total,
        _ if series.is_empty() => f64::NAN,
        Gather::Mean => total / count,
        Gather::Range => {
            series.iter().copied().fold(f64::NEG_INFINITY, f64::max)
                - series.iter().copied().fold(f64::INFINITY, f64::min)
        }
        Gather::Deviation if series.len() < 2 => f64::NAN,
        Gather::Deviation => {
            let mean = total / count;
            libm::sqrt(series.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / (count - 1.0))
        }
    }
}
