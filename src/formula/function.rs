//! The functions that are built into formulas, besides the catalogue's.

use crate::ground::nearest_name;
use crate::trade::{Calculation, calculation, calculations};

/// A function of numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum BuiltIn {
    Sqrt,
    Ln,
    Log10,
    Exp,
    Sin,
    Cos,
    Tan,
    Min,
    Max,
    Round,
    Ceil,
    Floor,
    Abs,
}

/// A function of one series.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Gather {
    Mean,
    Deviation,
    Range,
    Total,
    HowMany,
}

/// What a call calls.
#[derive(Debug, Clone, Copy)]
pub(super) enum Function {
    BuiltIn(BuiltIn),
    Gather(Gather),
    Catalogue(&'static Calculation),
}

const BUILT_IN: &[(&str, BuiltIn)] = &[
    ("sqrt", BuiltIn::Sqrt),
    ("ln", BuiltIn::Ln),
    ("log10", BuiltIn::Log10),
    ("exp", BuiltIn::Exp),
    ("sin", BuiltIn::Sin),
    ("cos", BuiltIn::Cos),
    ("tan", BuiltIn::Tan),
    ("min", BuiltIn::Min),
    ("max", BuiltIn::Max),
    ("round", BuiltIn::Round),
    ("ceil", BuiltIn::Ceil),
    ("floor", BuiltIn::Floor),
    ("abs", BuiltIn::Abs),
];

const GATHER: &[(&str, Gather)] = &[
    ("mean", Gather::Mean),
    ("sd", Gather::Deviation),
    ("range", Gather::Range),
    ("total", Gather::Total),
    ("how_many", Gather::HowMany),
];

impl BuiltIn {
    pub(super) fn name(self) -> &'static str {
        BUILT_IN.iter().find(|(_, function)| *function == self).map_or("", |(name, _)| *name)
    }

    /// Whether it takes any number of arguments from one up.
    pub(super) fn takes_many(self) -> bool {
        matches!(self, Self::Min | Self::Max)
    }
}

impl Gather {
    pub(super) fn name(self) -> &'static str {
        GATHER.iter().find(|(_, function)| *function == self).map_or("", |(name, _)| *name)
    }
}

impl Function {
    /// The function of that name. `if` and `bare` are not among them: they have their own form.
    pub(super) fn named(name: &str) -> Option<Self> {
        let built_in = BUILT_IN.iter().find(|(known, _)| *known == name).map(|(_, f)| Self::BuiltIn(*f));
        let gather = || GATHER.iter().find(|(known, _)| *known == name).map(|(_, f)| Self::Gather(*f));
        built_in.or_else(gather).or_else(|| calculation(name).map(Self::Catalogue))
    }

    pub(super) fn name(self) -> &'static str {
        match self {
            Self::BuiltIn(function) => function.name(),
            Self::Gather(function) => function.name(),
            Self::Catalogue(calculation) => calculation.name,
        }
    }

    /// Its entry in the catalogue. What gathers a series has one too, but takes
    /// series of any dimension here.
    pub(super) fn calculation(self) -> Option<&'static Calculation> {
        match self {
            Self::BuiltIn(_) => None,
            Self::Gather(function) => calculation(function.name()),
            Self::Catalogue(calculation) => Some(calculation),
        }
    }

    /// What is wrong with calling it with so many arguments, in words.
    pub(super) fn refuses(self, given: usize) -> Option<String> {
        let (fits, takes) = match self {
            Self::BuiltIn(function) if function.takes_many() => (given >= 1, "at least 1 argument".to_owned()),
            Self::BuiltIn(_) => (given == 1, "1 argument".to_owned()),
            Self::Gather(_) => (given == 1, "1 argument, the name of a series".to_owned()),
            Self::Catalogue(calculation) => {
                let count = calculation.parameters.len();
                let plural = if count == 1 { "" } else { "s" };
                (given == count, format!("{count} argument{plural} ({})", parameter_names(calculation)))
            }
        };
        (!fits).then(|| {
            let there = if given == 1 { "is 1".to_owned() } else { format!("are {given}") };
            format!("`{}` takes {takes}; here there {there}", self.name())
        })
    }
}

/// `volume, release`
pub(super) fn parameter_names(calculation: &Calculation) -> String {
    calculation.parameters.iter().map(|parameter| parameter.name).collect::<Vec<_>>().join(", ")
}

/// The known function name that looks most like `wanted`.
pub(super) fn near_function(wanted: &str) -> Option<&'static str> {
    let catalogue = calculations().map(|calculation| calculation.name);
    let built_in = BUILT_IN.iter().map(|(name, _)| *name).chain(GATHER.iter().map(|(name, _)| *name));
    nearest_name(wanted, built_in.chain(["if", "bare"]).chain(catalogue))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_function_is_found_by_its_own_name() {
        for (name, function) in BUILT_IN {
            assert_eq!(function.name(), *name);
            assert!(matches!(Function::named(name), Some(Function::BuiltIn(found)) if found == *function), "{name}");
        }
        for (name, function) in GATHER {
            assert_eq!(function.name(), *name);
            assert!(matches!(Function::named(name), Some(Function::Gather(found)) if found == *function), "{name}");
        }
    }

    #[test]
    fn no_calculation_takes_the_name_of_a_built_in_function_or_word() {
        for known in calculations() {
            let found = Function::named(known.name);
            assert_eq!(found.map(Function::name), Some(known.name));
            let own = found.and_then(Function::calculation).is_some_and(|found| found.name == known.name);
            assert!(own, "{}", known.name);
            assert!(!["if", "bare", "pi", "and", "or", "not"].contains(&known.name), "{}", known.name);
        }
    }

    #[test]
    fn what_gathers_a_series_is_in_the_catalogue_as_well() {
        for (name, function) in &GATHER[..3] {
            assert!(Function::Gather(*function).calculation().is_some_and(|one| one.name == *name), "{name}");
        }
    }
}
