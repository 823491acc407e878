//! `picture:` on an exercise: which figure, and what it is given.

use super::exercise::Reckoning;
use super::raw::{Ordered, RawPicture};
use super::spot::Spot;
use crate::formula::{Allow, Compiled, Type, compile, parse};
use crate::ground::{Fault, nearest_name};
use crate::measure::{Dimension, Unit, unit};
use crate::trade::figures::{FIGURES, Kind, Signature, Takes, figure};

/// The figure that an exercise shows.
#[derive(Debug)]
pub struct Picture {
    /// Which one.
    pub figure: &'static Signature,
    /// What it is given.
    pub arguments: Vec<(&'static Takes, Argument)>,
    /// The names whose values it shows.
    pub names: Vec<String>,
}

/// What one argument of a figure is made of.
#[derive(Debug)]
pub enum Argument {
    /// A formula of givens, in this unit.
    Number(Compiled, &'static Unit),
    /// Several formulas of givens, in this unit.
    Numbers(Vec<Compiled>, &'static Unit),
    /// The series of that slot, in this unit.
    Series(usize, &'static Unit),
    /// A word as written.
    Word(String),
    /// A column of plain text of a given's row, by the place of its printed text.
    Text(usize),
}

/// Reads `picture:`; to be called before the steps are read, which it must not give away.
pub(super) fn read(
    raw: &RawPicture,
    at: &str,
    spot: &Spot<'_>,
    reckoning: &Reckoning,
    faults: &mut Vec<Fault>,
) -> Option<Picture> {
    let Ordered(written) = raw;
    let Some(name) = written.iter().find(|(key, _)| key == "draw").and_then(|(_, value)| value.0.first()) else {
        let mend = "say which figure: `picture: { draw: dial-pair, … }`";
        faults.push(spot.fault(at, "missing-key", "the key `draw` is missing", mend));
        return None;
    };
    let Some(figure) = figure(name) else {
        let mend = nearest_name(name, FIGURES.iter().map(|figure| figure.name)).map_or_else(
            || "`gearside workbook --gallery` shows all figures".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        faults.push(spot.fault(&format!("{at}.draw"), "dangling", format!("there is no figure `{name}`"), mend));
        return None;
    };
    let before = faults.len();
    let mut picture = Picture { figure, arguments: Vec::new(), names: Vec::new() };
    for (key, value) in written.iter().filter(|(key, _)| key != "draw") {
        let field = format!("{at}.{key}");
        let Some(takes) = figure.takes.iter().find(|takes| takes.name == key) else {
            let known = figure.takes.iter().map(|takes| takes.name);
            let mend = nearest_name(key, known.clone()).map_or_else(
                || format!("it takes: {}", known.collect::<Vec<_>>().join(", ")),
                |near| format!("did you mean `{near}`?"),
            );
            faults.push(spot.fault(&field, "unknown-key", format!("`{name}` takes no `{key}`"), mend));
            continue;
        };
        if value.0.iter().any(|text| reckoning.builds_on_broken(text)) {
            continue; // that has been told already
        }
        match argument(takes, &value.0, &field, spot, reckoning, &mut picture.names) {
            Ok(argument) => picture.arguments.push((takes, argument)),
            Err(fault) => faults.push(fault),
        }
    }
    for takes in figure.takes.iter().filter(|takes| !takes.optional) {
        if !written.iter().any(|(key, _)| key == takes.name) {
            let message = format!("the figure `{name}` needs `{}`: {}", takes.name, takes.says);
            faults.push(spot.fault(at, "missing-key", message, format!("add `{}:`", takes.name)));
        }
    }
    (faults.len() == before).then_some(picture)
}

fn argument(
    takes: &Takes,
    value: &[String],
    field: &str,
    spot: &Spot<'_>,
    reckoning: &Reckoning,
    names: &mut Vec<String>,
) -> Result<Argument, Fault> {
    match (takes.kind, value) {
        (Kind::Word(words), [one]) => word(words, one, field, spot, reckoning, names),
        (Kind::Number { unit, .. }, [one]) => {
            let unit = known(unit, field, spot)?;
            Ok(Argument::Number(number(one, unit, field, spot, reckoning, names)?, unit))
        }
        (Kind::Series { unit, .. }, list) => {
            let unit = known(unit, field, spot)?;
            if let [one] = list
                && let Some((slot, kind)) = reckoning.names.get(one.trim()).and_then(|name| name.value)
                && kind.is_series()
            {
                if kind != Type::Series(unit.dimension) {
                    return Err(spot.fault(
                        field,
                        "formula",
                        format!("it wants {}", Type::Series(unit.dimension)),
                        "give it another series",
                    ));
                }
                names.push(one.trim().to_owned());
                return Ok(Argument::Series(slot, unit));
            }
            let formulas = list.iter().map(|one| number(one, unit, field, spot, reckoning, names));
            Ok(Argument::Numbers(formulas.collect::<Result<_, _>>()?, unit))
        }
        _ => Err(spot.fault(
            field,
            "picture",
            format!("`{}` takes one value", takes.name),
            "write one, without brackets",
        )),
    }
}

fn known(name: &'static str, field: &str, spot: &Spot<'_>) -> Result<&'static Unit, Fault> {
    unit(name).map_err(|_| {
        spot.fault(
            field,
            "unknown-unit",
            format!("`{name}` is not a unit known here"),
            "this is a mistake of the program's own",
        )
    })
}

/// A word of the list, or a name whose text is one in every pull.
fn word(
    words: &[&str],
    text: &str,
    field: &str,
    spot: &Spot<'_>,
    reckoning: &Reckoning,
    names: &mut Vec<String>,
) -> Result<Argument, Fault> {
    let mend = || format!("write one of: {}", words.join(", "));
    if let Some(entry) = reckoning.names.get(text).filter(|entry| entry.value.is_none()) {
        let (row, column) = text.split_once('.').unwrap_or((text, ""));
        let strange = reckoning.texts_of(row, column).find(|cell| !words.contains(cell));
        if let Some(cell) = strange {
            return Err(spot.fault(field, "unknown-word", format!("`{text}` may be `{cell}`"), mend()));
        }
        names.push(text.to_owned());
        return Ok(Argument::Text(entry.print));
    }
    if words.contains(&text) {
        return Ok(Argument::Word(text.to_owned()));
    }
    Err(spot.fault(field, "unknown-word", format!("`{text}` is not a word that it takes"), mend()))
}

fn number(
    text: &str,
    unit: &Unit,
    field: &str,
    spot: &Spot<'_>,
    reckoning: &Reckoning,
    names: &mut Vec<String>,
) -> Result<Compiled, Fault> {
    let parsed = parse(text).map_err(|fault| spot.formula(field, fault))?;
    let compiled =
        compile(&parsed, &reckoning.names, Allow { bare: false }).map_err(|fault| spot.formula(field, fault))?;
    let wanted = if unit.dimension == Dimension::TEMPERATURE { Type::Point } else { Type::Number(unit.dimension) };
    if compiled.kind != wanted {
        let message = format!("the formula gives {}; the figure wants {wanted}", compiled.kind);
        return Err(spot.fault(
            field,
            "formula",
            message,
            format!("give it a value in {}, or the like", if unit.name.is_empty() { "no unit" } else { unit.name }),
        ));
    }
    names.extend(parsed.names());
    Ok(compiled)
}
