//! The check of calls: functions, series, the catalogue, `bare`.

use std::ops::Range;

use super::check::{Checker, Part, is_loose, joined};
use super::fault::FormulaFault;
use super::function::{BuiltIn, Function, Gather};
use super::parser::taken_by;
use super::program::Op;
use super::tree::{Kind, Node};
use super::types::Type;
use crate::measure::{Dimension, unit, unit_where};
use crate::trade::{Calculation, Parameter};

/// What to do about two types that should be alike.
pub(super) fn clash_mend(a: Type, b: Type) -> &'static str {
    match (a, b) {
        (Type::Truth, _) | (_, Type::Truth) => {
            "join conditions with `and`, `or`, `not`; choose a value with `if(condition, then, otherwise)`"
        }
        (Type::Point, Type::Point) => "add a difference to a reading, as in '20 °C' + '5 K'",
        (Type::Point, _) | (_, Type::Point) => {
            "a reading goes with a reading or with a difference, which is written in K or F°: '5 K'"
        }
        (Type::PLAIN, _) | (_, Type::PLAIN) => {
            "give the plain number a unit in single quotes, or divide the other by a quantity of its kind"
        }
        _ => "both sides must be the same kind of quantity; see whether a factor is missing",
    }
}

impl Checker<'_> {
    pub(super) fn call(
        &self,
        function: Function,
        arguments: &[Node],
        span: &Range<usize>,
        wanted: Option<Type>,
    ) -> Result<Part, FormulaFault> {
        match (function, arguments) {
            (Function::Catalogue(calculation), _) => self.catalogue(calculation, arguments, span),
            (Function::Gather(gather), [series]) => self.gather(gather, series),
            (Function::BuiltIn(function), _) if function.takes_many() => self.extreme(function, arguments, wanted),
            (Function::BuiltIn(function), [argument]) => self.built_in(function, argument, wanted),
            // The parser has counted the arguments.
            _ => Err(self.fault(span, "a wrong number of arguments", "give as many as the function takes")),
        }
    }

    fn catalogue(
        &self,
        calculation: &'static Calculation,
        arguments: &[Node],
        span: &Range<usize>,
    ) -> Result<Part, FormulaFault> {
        let type_of = |name: &str| {
            unit(name).map(Type::of).map_err(|_| {
                self.fault(span, format!("the catalogue's `{}` uses an unknown unit", calculation.name), "report this")
            })
        };
        let mut all = Part { kind: type_of(calculation.outcome.unit)?, ops: Vec::new() };
        let mut slots = Vec::new();
        for (parameter, argument) in calculation.parameters.iter().zip(arguments) {
            let wanted = type_of(parameter.unit)?;
            if parameter.many {
                slots.push(self.series_for(calculation, parameter, argument, wanted.in_series())?);
                continue;
            }
            let part = self.check(argument, Some(wanted))?;
            if part.kind != wanted {
                let message =
                    format!("`{}` takes {wanted} as `{}`, not {}", calculation.name, parameter.name, part.kind);
                let mend = format!("`{}` {}", calculation.name, taken_by(calculation));
                return Err(self.fault(&argument.span, message, mend));
            }
            all = joined(all, part);
        }
        let kind = all.kind;
        Ok(all.then(Op::Call(calculation, slots.into()), kind))
    }

    /// The slot of a series that is given to a calculation.
    fn series_for(
        &self,
        calculation: &'static Calculation,
        parameter: &Parameter,
        argument: &Node,
        wanted: Type,
    ) -> Result<usize, FormulaFault> {
        let takes = format!("`{}` takes {wanted} as `{}`", calculation.name, parameter.name);
        let Kind::Name(name) = &argument.kind else {
            return Err(self.fault(&argument.span, takes, "give the series a name of its own first"));
        };
        let found = self.scope.look_up(name).ok_or_else(|| self.unknown_name(name, &argument.span))?;
        if found.kind == wanted {
            return Ok(found.slot);
        }
        let mend = format!("`{}` {}", calculation.name, taken_by(calculation));
        Err(self.fault(&argument.span, format!("{takes}, not {}", found.kind), mend))
    }

    fn gather(&self, gather: Gather, series: &Node) -> Result<Part, FormulaFault> {
        let name = gather.name();
        let Kind::Name(series_name) = &series.kind else {
            let message = format!("`{name}` takes the name of a series");
            return Err(self.fault(&series.span, message, "give the readings a name of their own first"));
        };
        let found = self.scope.look_up(series_name).ok_or_else(|| self.unknown_name(series_name, &series.span))?;
        let kind = match (gather, found.kind) {
            (Gather::HowMany, kind) if kind.is_series() => Type::PLAIN,
            (_, Type::Series(dimension)) => Type::Number(dimension),
            (Gather::Mean, Type::SeriesOfPoints) => Type::Point,
            (Gather::Deviation | Gather::Range, Type::SeriesOfPoints) => Type::INTERVAL,
            (Gather::Total, Type::SeriesOfPoints) => {
                let mend = format!("temperature readings are not added: take mean({series_name})");
                return Err(self.fault(&series.span, "cannot total a series of temperature readings", mend));
            }
            (_, other) => {
                let message = format!("`{name}` takes a series; `{series_name}` is {other}");
                return Err(self.fault(&series.span, message, "for single values use min(…), max(…) or + and /"));
            }
        };
        Ok(Part { kind, ops: vec![Op::Gather(gather, found.slot)] })
    }

    /// `min` and `max`: arguments all of one type, numbers or readings.
    fn extreme(&self, function: BuiltIn, arguments: &[Node], wanted: Option<Type>) -> Result<Part, FormulaFault> {
        // Literals are read to fit the first argument that is none.
        let firm = arguments.iter().position(|argument| !is_loose(argument)).unwrap_or(0);
        let Some(pattern) = arguments.get(firm) else {
            return Ok(Part { kind: Type::PLAIN, ops: vec![Op::BuiltIn(function, 0)] });
        };
        let pattern = self.check(pattern, wanted)?;
        let kind = pattern.kind;
        if kind == Type::Truth {
            let message = format!("`{}` takes numbers, not {kind}", function.name());
            return Err(self.fault(&arguments[firm].span, message, clash_mend(kind, kind)));
        }
        let mut pattern = Some(pattern);
        let mut all = Part { kind, ops: Vec::new() };
        for (index, argument) in arguments.iter().enumerate() {
            let part = match pattern.take_if(|_| index == firm) {
                Some(part) => part,
                None => self.check(argument, Some(kind))?,
            };
            if part.kind != kind {
                let message = format!("`{}` cannot compare {kind} with {}", function.name(), part.kind);
                return Err(self.fault(&argument.span, message, clash_mend(kind, part.kind)));
            }
            all = joined(all, part);
        }
        Ok(all.then(Op::BuiltIn(function, arguments.len()), kind))
    }

    fn built_in(&self, function: BuiltIn, argument: &Node, wanted: Option<Type>) -> Result<Part, FormulaFault> {
        let name = function.name();
        let wanted = match function {
            BuiltIn::Sin | BuiltIn::Cos | BuiltIn::Tan => Some(Type::Number(Dimension::ANGLE)),
            BuiltIn::Abs => wanted,
            BuiltIn::Sqrt => None,
            _ => Some(Type::PLAIN),
        };
        let (dimension, part) = self.number(argument, wanted, &format!("take `{name}` of"))?;
        let refuse = |takes: &str, mend: String| {
            let message = format!("`{name}` takes {takes}, not {}", Type::Number(dimension));
            Err(self.fault(&argument.span, message, mend))
        };
        let result = match function {
            BuiltIn::Abs => dimension,
            BuiltIn::Sqrt => match dimension.root() {
                Some(root) => root,
                None => return refuse("the square of something", "an area has a root, a length has none".to_owned()),
            },
            BuiltIn::Sin | BuiltIn::Cos | BuiltIn::Tan if dimension == Dimension::ANGLE => Dimension::PLAIN,
            BuiltIn::Sin | BuiltIn::Cos | BuiltIn::Tan => {
                return refuse(
                    "an angle",
                    format!("give a plain number its unit: {name}(x * '1 rad'), {name}(x * '1 °')"),
                );
            }
            _ if dimension.is_plain() => Dimension::PLAIN,
            BuiltIn::Round | BuiltIn::Ceil | BuiltIn::Floor => {
                return refuse("a plain number", format!("say of which unit: {name}(x / '1 mm') * '1 mm'"));
            }
            _ => return refuse("a plain number", "divide by a quantity of the same kind first".to_owned()),
        };
        Ok(part.then(Op::BuiltIn(function, 1), Type::Number(result)))
    }

    pub(super) fn bare(
        &self,
        value: &Node,
        name: &str,
        unit_span: &Range<usize>,
        span: &Range<usize>,
    ) -> Result<Part, FormulaFault> {
        if !self.allow.bare {
            return Err(self.fault(
                span,
                "`bare` takes a value out of the dimension check; only a wrong turn may do that",
                "divide by a quantity instead: x / '1 mm' is a plain number",
            ));
        }
        let part = self.check(value, unit(name).ok().map(Type::of))?;
        let dimension = match part.kind {
            Type::Number(dimension) => dimension,
            Type::Point => Dimension::TEMPERATURE,
            other => return Err(self.fault(&value.span, format!("cannot take `bare` of {other}"), "give it a number")),
        };
        let as_point = part.kind == Type::Point;
        let unit = unit_where(name, |unit| unit.dimension == dimension && (!as_point || Type::of(unit) == Type::Point));
        match unit {
            Ok(unit) if unit.dimension == dimension && (!as_point || Type::of(unit) == Type::Point) => {
                let offset = if as_point { unit.offset } else { 0.0 };
                Ok(part.then(Op::Bare { factor: unit.factor, offset }, Type::PLAIN))
            }
            Ok(unit) => Err(self.fault(
                unit_span,
                format!("`{name}` measures {}, but the value is {}", Type::of(unit), part.kind),
                "name a unit of the value's own kind",
            )),
            Err(_) => Err(self.fault(unit_span, format!("`{name}` is not a unit"), "name a unit of the value's kind")),
        }
    }
}
