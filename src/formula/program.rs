//! A checked formula as a short program for a stack of numbers.

use super::function::{BuiltIn, Gather};
use super::tree::Operator;
use super::types::Type;
use crate::ground::{whole_above, whole_below, whole_nearest};
use crate::trade::{Calculation, MOST_PARAMETERS, statistics};

/// Two values this close, relative to the larger, are the same printed value.
const SAME: f64 = 1e-9;

/// One step of the program.
#[derive(Debug, Clone)]
pub(super) enum Op {
    Constant(f64),
    Scalar(usize),
    Gather(Gather, usize),
    Negative,
    Not,
    Binary(Operator),
    BuiltIn(BuiltIn, usize),
    /// With the slots of those arguments that are series, in order; the others
    /// are on the stack.
    Call(&'static Calculation, Box<[usize]>),
    /// From SI to a unit: less the offset, over the factor.
    Bare {
        factor: f64,
        offset: f64,
    },
    /// Takes a truth; if it is no, passes over so many steps.
    SkipUnless(usize),
    Skip(usize),
}

/// A formula that has been checked against the names it uses.
#[derive(Debug, Clone)]
pub struct Compiled {
    /// What it yields.
    pub kind: Type,
    pub(super) ops: Vec<Op>,
}

/// The values of the names, in SI, by the slots that the scope gave.
#[derive(Debug, Clone, Copy)]
pub struct Values<'a> {
    /// Numbers, points and truths.
    pub scalars: &'a [f64],
    /// Series.
    pub series: &'a [Vec<f64>],
}

/// Sees a calculation that was carried out: its arguments as for
/// [`Calculation::compute`], and its result in SI.
pub type Watch<'a> = dyn FnMut(&'static Calculation, &[&[f64]], f64) + 'a;

/// Room for evaluating; keep one and use it again and again. Once it has
/// grown, evaluation allocates nothing.
#[derive(Debug, Default, Clone)]
pub struct Stack(Vec<f64>);

impl Stack {
    fn pop(&mut self) -> f64 {
        self.0.pop().unwrap_or(f64::NAN)
    }

    #[cfg(test)]
    pub(super) fn room(&self) -> usize {
        self.0.capacity()
    }

    /// Takes the topmost `count` values for what `make` makes of them.
    fn reduce(&mut self, count: usize, make: impl FnOnce(&[f64]) -> f64) -> f64 {
        let from = self.0.len().saturating_sub(count);
        let value = make(&self.0[from..]);
        self.0.truncate(from);
        value
    }
}

impl Compiled {
    /// The value in SI; a truth as 1.0 or 0.0.
    ///
    /// Not a number or infinite where the arithmetic is (a division by zero,
    /// the mean of nothing), and where `values` has no such slot.
    ///
    /// ```
    /// use std::collections::BTreeMap;
    /// use gearside::formula::{Allow, Named, Stack, Type, Values, compile, parse};
    /// let scope = BTreeMap::from([("tint".to_owned(), Named { slot: 0, kind: Type::PLAIN })]);
    /// let formula = compile(&parse("1 - 10^-tint").unwrap(), &scope, Allow { bare: false }).unwrap();
    /// let share = formula.evaluate(&Values { scalars: &[0.3], series: &[] }, &mut Stack::default());
    /// assert!((share - 0.498_812_766).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn evaluate(&self, values: &Values<'_>, stack: &mut Stack) -> f64 {
        self.evaluate_watched(values, stack, &mut |_, _, _| {})
    }

    /// The same; `watch` sees every calculation of the catalogue that is
    /// carried out, with its arguments and its result in SI. The branch of an
    /// `if` that is not taken is not carried out.
    pub fn evaluate_watched(&self, values: &Values<'_>, stack: &mut Stack, watch: &mut Watch<'_>) -> f64 {
        stack.0.clear();
        let mut at = 0;
        while let Some(op) = self.ops.get(at) {
            at += 1;
            let value = match op {
                Op::Skip(count) => {
                    at += count;
                    continue;
                }
                Op::SkipUnless(count) => {
                    if !is_true(stack.pop()) {
                        at += count;
                    }
                    continue;
                }
                Op::Constant(value) => *value,
                Op::Scalar(slot) => values.scalars.get(*slot).copied().unwrap_or(f64::NAN),
                Op::Gather(gather, slot) => {
                    values.series.get(*slot).map_or(f64::NAN, |series| gathered(*gather, series))
                }
                Op::Negative => -stack.pop(),
                Op::Not => truth(!is_true(stack.pop())),
                Op::Binary(operator) => {
                    let right = stack.pop();
                    binary(*operator, stack.pop(), right)
                }
                Op::Bare { factor, offset } => (stack.pop() - offset) / factor,
                Op::BuiltIn(function, count) => stack.reduce(*count, |arguments| built_in(*function, arguments)),
                Op::Call(calculation, slots) => stack
                    .reduce(calculation.parameters.len().saturating_sub(slots.len()), |numbers| {
                        called(calculation, numbers, slots.iter().map(|slot| values.series.get(*slot)), watch)
                    }),
            };
            stack.0.push(value);
        }
        stack.pop()
    }
}

/// Carries out a calculation whose arguments are `numbers` and, where a
/// parameter takes a series, `series`.
fn called<'a>(
    calculation: &'static Calculation,
    numbers: &[f64],
    mut series: impl Iterator<Item = Option<&'a Vec<f64>>>,
    watch: &mut Watch<'_>,
) -> f64 {
    let mut numbers = numbers.iter();
    let mut arguments: [&[f64]; MOST_PARAMETERS] = [&[]; MOST_PARAMETERS];
    for (argument, parameter) in arguments.iter_mut().zip(calculation.parameters) {
        *argument = if parameter.many {
            series.next().flatten().map_or(&[], Vec::as_slice)
        } else {
            numbers.next().map_or(&[], std::slice::from_ref)
        };
    }
    let arguments = arguments.get(..calculation.parameters.len()).unwrap_or_default();
    let value = (calculation.compute)(arguments);
    watch(calculation, arguments, value);
    value
}

fn truth(yes: bool) -> f64 {
    if yes { 1.0 } else { 0.0 }
}

fn is_true(value: f64) -> bool {
    value > 0.5
}

/// Whether two values would be printed alike.
fn same(a: f64, b: f64) -> bool {
    // Infinite values are the same only if neither is the larger.
    let close = (a - b).abs() <= SAME * a.abs().max(b.abs()) && a.is_finite() && b.is_finite();
    close || (a <= b && b <= a)
}

fn binary(operator: Operator, a: f64, b: f64) -> f64 {
    match operator {
        Operator::Plus => a + b,
        Operator::Minus => a - b,
        Operator::Times => a * b,
        Operator::Over => a / b,
        Operator::Power => libm::pow(a, b),
        Operator::Less => truth(a < b && !same(a, b)),
        Operator::AtMost => truth(a < b || same(a, b)),
        Operator::Greater => truth(a > b && !same(a, b)),
        Operator::AtLeast => truth(a > b || same(a, b)),
        Operator::Equal => truth(same(a, b)),
        Operator::Unequal => truth(!same(a, b)),
        Operator::And => truth(is_true(a) && is_true(b)),
        Operator::Or => truth(is_true(a) || is_true(b)),
    }
}

fn built_in(function: BuiltIn, arguments: &[f64]) -> f64 {
    let x = arguments.first().copied().unwrap_or(f64::NAN);
    match function {
        BuiltIn::Sqrt => libm::sqrt(x),
        BuiltIn::Ln => libm::log(x),
        BuiltIn::Log10 => libm::log10(x),
        BuiltIn::Exp => libm::exp(x),
        BuiltIn::Sin => libm::sin(x),
        BuiltIn::Cos => libm::cos(x),
        BuiltIn::Tan => libm::tan(x),
        BuiltIn::Min => extreme(arguments, |a, b| a <= b),
        BuiltIn::Max => extreme(arguments, |a, b| a >= b),
        BuiltIn::Round => whole_nearest(x),
        BuiltIn::Ceil => whole_above(x),
        BuiltIn::Floor => whole_below(x) + 0.0,
        BuiltIn::Abs => x.abs(),
    }
}

/// The first of the values that stands in that order to all others; not a
/// number if one of them is not.
fn extreme(values: &[f64], before: fn(f64, f64) -> bool) -> f64 {
    let pick = |a: f64, b: f64| {
        if before(a, b) {
            a
        } else if before(b, a) {
            b
        } else {
            f64::NAN
        }
    };
    values.iter().copied().reduce(pick).unwrap_or(f64::NAN)
}

#[expect(clippy::cast_precision_loss, reason = "a series has at most 200 values")]
fn gathered(gather: Gather, series: &[f64]) -> f64 {
    match gather {
        Gather::HowMany => series.len() as f64,
        Gather::Total => statistics::total(series),
        Gather::Mean => statistics::mean(series),
        Gather::Range => statistics::range(series),
        Gather::Deviation => statistics::deviation(series),
    }
}
