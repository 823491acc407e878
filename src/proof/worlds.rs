//! Whether an exercise's units belong to the unit world of its programme.

use crate::ground::Fault;
use crate::measure::{Unit, World};
use crate::programme::{Exercise, GivenSource, TableCell};

/// A fault for the first unit that belongs to the other world.
pub(super) fn check(exercise: &Exercise, world: World, faults: &mut Vec<Fault>) {
    if exercise.both_worlds {
        return;
    }
    let foreign = units(exercise).find(|(_, unit)| World::of(unit).is_some_and(|other| other != world));
    if let Some((name, unit)) = foreign {
        let word = world.word();
        let message = format!("`{name}` is given in `{}`, but the programme has `units: {word}`", unit.name);
        let mend = format!("say under `{word}:` what differs there, or `both_worlds: true` if nothing does");
        faults.push(Fault::new("worlds", message, mend).at(exercise.place.clone()));
    }
}

/// The units of all that is printed, with the names they belong to.
fn units(exercise: &Exercise) -> impl Iterator<Item = (&str, &'static Unit)> {
    let reckoning = &exercise.reckoning;
    let givens = reckoning.givens.iter().flat_map(move |given| {
        let units: Vec<&'static Unit> = match &given.source {
            GivenSource::Grid { unit, .. } | GivenSource::Series { unit, .. } | GivenSource::Formula { unit, .. } => {
                vec![*unit]
            }
            GivenSource::OneOf(list) => list.iter().map(|quantity| quantity.unit).collect(),
            GivenSource::Row(table) => reckoning
                .tables
                .get(*table)
                .into_iter()
                .flat_map(|table| table.rows.iter().flatten())
                .flat_map(|cell| match cell {
                    TableCell::Quantity(quantity) => std::slice::from_ref(quantity),
                    TableCell::Series(list) => list,
                    TableCell::Text(_) => &[],
                })
                .map(|quantity| quantity.unit)
                .collect(),
        };
        units.into_iter().map(|unit| (given.name.as_str(), unit))
    });
    givens.chain(reckoning.steps.iter().map(|step| (step.name.as_str(), step.unit)))
}
