//! Formulas from text to value.

mod agreement;
mod faults;
mod values;

use std::collections::BTreeMap;

use super::{Allow, Compiled, FormulaFault, Named, Scope, Stack, Type, Values, compile, parse};
use crate::measure::unit;

/// A name, what it is, and its values in SI (one, unless it is a series).
pub(super) type Known = (&'static str, Type, &'static [f64]);

/// Readings of a solid, and temperatures in kelvin.
const READINGS: &[f64] = &[1.31, 1.28, 1.33, 1.29, 1.34];
const WARMTHS: &[f64] = &[293.65, 294.15, 295.45];

/// The type of values in that unit.
pub(super) fn of(name: &str) -> Type {
    Type::of(unit(name).unwrap_or_else(|unknown| panic!("{} is a unit", unknown.text)))
}

/// Names of many kinds.
pub(super) fn known() -> Vec<Known> {
    vec![
        ("a", Type::PLAIN, &[1.5]),
        ("b", Type::PLAIN, &[-4.0]),
        ("film", of("µm"), &[2e-6]),
        ("roll.volume", of("BCM/in²"), &[8e-6]),
        ("roll.screen", of("lpi"), &[20_000.0]),
        ("mass", of("kg"), &[3.0]),
        ("span", of("s"), &[4.0]),
        ("cup", of("s (Zahn 2)"), &[30.0]),
        ("turn", of("°"), &[0.7]),
        ("pull", of("N"), &[10.0]),
        ("warm", Type::Point, &[313.15]),
        ("cold", Type::Point, &[293.15]),
        ("readings", Type::Series(crate::measure::Dimension::PLAIN), READINGS),
        ("warmths", Type::SeriesOfPoints, WARMTHS),
        ("one", Type::Series(crate::measure::Dimension::PLAIN), &[2.0]),
        ("none", Type::Series(crate::measure::Dimension::PLAIN), &[]),
    ]
}

/// Slots for names, and their values.
pub(super) struct World {
    pub(super) names: BTreeMap<String, Named>,
    pub(super) scalars: Vec<f64>,
    pub(super) series: Vec<Vec<f64>>,
}

impl World {
    pub(super) fn of(known: &[Known]) -> Self {
        let mut world = Self { names: BTreeMap::new(), scalars: Vec::new(), series: Vec::new() };
        for (name, kind, values) in known {
            let slot = if kind.is_series() {
                world.series.push(values.to_vec());
                world.series.len() - 1
            } else {
                world.scalars.extend_from_slice(values);
                world.scalars.len() - 1
            };
            world.names.insert((*name).to_owned(), Named { slot, kind: *kind });
        }
        world
    }

    pub(super) fn values(&self) -> Values<'_> {
        Values { scalars: &self.scalars, series: &self.series }
    }
}

/// Reads and checks a formula over [`known`] names, `bare` allowed.
pub(super) fn compiled(text: &str) -> Result<Compiled, FormulaFault> {
    compile(&parse(text)?, &World::of(&known()).names as &dyn Scope, Allow { bare: true })
}

/// The type and value of a sound formula over [`known`] names.
pub(super) fn value(text: &str) -> (Type, f64) {
    let formula = compiled(text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
    (formula.kind, formula.evaluate(&World::of(&known()).values(), &mut Stack::default()))
}
