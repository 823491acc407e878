//! Tables and givens: from the raw shapes to what can be pulled.

use super::exercise::{Given, GivenSource, Reckoning, Table, TableCell};
use super::raw::{Cell, Ordered, RawExercise, RawGiven, Scalar, WrittenAs};
use super::spot::Spot;
use crate::formula::{Allow, Type, compile, parse};
use crate::ground::{Decimal, Fault};
use crate::measure::{Dimension, Quantity, QuantityFault, Unit, unit_where};

/// The most rows of a table.
const MOST_ROWS: usize = 1000;
/// The most values of a grid.
const MOST_VALUES: u64 = 10_000;
/// The most readings of a series.
const MOST_READINGS: usize = 200;

/// Reads tables, givens and conditions into `reckoning`.
pub(super) fn read(raw: &RawExercise, spot: &Spot<'_>, reckoning: &mut Reckoning, faults: &mut Vec<Fault>) {
    for (name, rows) in raw.tables.iter().flat_map(|tables| &tables.0) {
        match table(name, rows, spot) {
            Ok(read) => reckoning.tables.push(read),
            Err(fault) => faults.push(fault),
        }
    }
    for (name, given) in raw.givens.iter().flat_map(|givens| &givens.0) {
        if given.is.as_ref().is_some_and(|Scalar(text)| reckoning.builds_on_broken(text)) {
            reckoning.broken.insert(name.clone());
        } else if let Err(fault) = add_given(name, given, spot, reckoning) {
            faults.push(fault);
            reckoning.broken.insert(name.clone());
        }
    }
    for (index, condition) in raw.only_if.iter().flatten().enumerate() {
        let field = format!("only_if[{index}]");
        if reckoning.builds_on_broken(condition) {
            continue;
        }
        let compiled = parse(condition).and_then(|parsed| compile(&parsed, &reckoning.names, Allow { bare: false }));
        match compiled {
            Ok(formula) if formula.kind == Type::Truth => reckoning.only_if.push(formula),
            Ok(formula) => faults.push(spot.fault(
                &field,
                "formula",
                format!("a condition must be true or false; this is {}", formula.kind),
                "compare something: `a * b >= '18 %'`",
            )),
            Err(fault) => faults.push(spot.formula(&field, fault)),
        }
    }
}

/// Whether a word can name a given, a step, a table.
pub(super) fn check_name(name: &str, field: &str, spot: &Spot<'_>) -> Result<(), Fault> {
    let fine = name.starts_with(|c: char| c.is_ascii_lowercase())
        && name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
    if fine && name.len() <= 40 {
        return Ok(());
    }
    Err(spot.fault(
        field,
        "name",
        format!("`{name}` cannot be a name"),
        "use small letters a-z, digits and underscores, a letter first, at most 40",
    ))
}

fn table(name: &str, rows: &[Ordered<Cell>], spot: &Spot<'_>) -> Result<Table, Fault> {
    let field = format!("tables.{name}");
    check_name(name, &field, spot)?;
    if rows.is_empty() || rows.len() > MOST_ROWS {
        return Err(spot.fault(
            &field,
            "table",
            format!("the table has {} rows", rows.len()),
            format!("give it between 1 and {MOST_ROWS}"),
        ));
    }
    let columns: Vec<String> = rows[0].0.iter().map(|(column, _)| column.clone()).collect();
    for column in &columns {
        check_name(column, &format!("{field}[0].{column}"), spot)?;
    }
    let mut read = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        let here = format!("{field}[{index}]");
        let names: Vec<&str> = row.0.iter().map(|(column, _)| column.as_str()).collect();
        if names != columns {
            let message =
                format!("this row has the columns {}; the first row has {}", names.join(", "), columns.join(", "));
            return Err(spot.fault(&here, "table", message, "give every row the same columns in the same order"));
        }
        read.push(
            row.0
                .iter()
                .map(|(column, cell)| table_cell(cell, &format!("{here}.{column}"), spot))
                .collect::<Result<Vec<_>, _>>()?,
        );
    }
    for (column, name) in columns.iter().enumerate() {
        for (index, row) in read.iter().enumerate() {
            if kind_of(&row[column]) != kind_of(&read[0][column]) {
                let message = format!(
                    "the column `{name}` holds {} here and {} in the first row",
                    words(&row[column]),
                    words(&read[0][column])
                );
                return Err(spot.fault(
                    &format!("{field}[{index}].{name}"),
                    "table",
                    message,
                    "let a column hold one kind of thing",
                ));
            }
        }
    }
    Ok(Table { name: name.to_owned(), columns, rows: read })
}

fn table_cell(cell: &Cell, field: &str, spot: &Spot<'_>) -> Result<TableCell, Fault> {
    match cell {
        Cell::One(Scalar(text)) => match Quantity::parse(text) {
            Ok(quantity) => Ok(TableCell::Quantity(quantity)),
            Err(QuantityFault::NoNumber) => Ok(TableCell::Text(text.clone())),
            Err(fault) => Err(spot.not_a_quantity(field, text, fault)),
        },
        Cell::Series(list) if list.len() > MOST_READINGS => {
            Err(spot.fault(field, "series", format!("{} readings", list.len()), format!("at most {MOST_READINGS}")))
        }
        Cell::Series(list) => {
            let read = list.iter().map(|Scalar(text)| spot.quantity(field, text)).collect::<Result<Vec<_>, _>>()?;
            one_unit(&read, field, spot)?;
            Ok(TableCell::Series(read))
        }
    }
}

/// The type of a cell; `None` for text.
fn kind_of(cell: &TableCell) -> Option<Type> {
    match cell {
        TableCell::Quantity(quantity) => Some(type_of(quantity.unit)),
        TableCell::Text(_) => None,
        TableCell::Series(list) => Some(series_of(list.first().map_or_else(|| plain_unit(), |first| first.unit))),
    }
}

fn words(cell: &TableCell) -> String {
    kind_of(cell).map_or_else(|| "a text".to_owned(), |kind| kind.to_string())
}

fn plain_unit() -> &'static Unit {
    &crate::measure::UNITS[0]
}

/// The type of a value with that unit: °C and °F are points on a scale.
pub(super) fn type_of(unit: &Unit) -> Type {
    if unit.dimension == Dimension::TEMPERATURE && unit.name.starts_with('°') {
        Type::Point
    } else {
        Type::Number(unit.dimension)
    }
}

fn series_of(unit: &Unit) -> Type {
    match type_of(unit) {
        Type::Point => Type::SeriesOfPoints,
        _ => Type::Series(unit.dimension),
    }
}

/// The unit that all quantities share.
fn one_unit(list: &[Quantity], field: &str, spot: &Spot<'_>) -> Result<&'static Unit, Fault> {
    let Some(first) = list.first() else {
        return Err(spot.fault(field, "given", "the list is empty", "give it at least one value"));
    };
    match list.iter().find(|other| !std::ptr::eq(other.unit, first.unit)) {
        None => Ok(first.unit),
        Some(other) => Err(spot.fault(
            field,
            "given",
            format!("the values stand in `{}` and in `{}`", first.unit.name, other.unit.name),
            "write all of them in one unit",
        )),
    }
}

fn add_given(name: &str, raw: &RawGiven, spot: &Spot<'_>, reckoning: &mut Reckoning) -> Result<(), Fault> {
    let field = format!("givens.{name}");
    check_name(name, &field, spot)?;
    if reckoning.names.get(name).is_some() || reckoning.tables.iter().any(|table| table.name == *name) {
        return Err(spot.fault(
            &field,
            "name",
            format!("`{name}` is used twice"),
            "give each given, table and step a name of its own",
        ));
    }
    let ways = [raw.between.is_some(), raw.one_of.is_some(), raw.row.is_some(), raw.series.is_some(), raw.is.is_some()];
    if ways.iter().filter(|way| **way).count() != 1 {
        return Err(spot.fault(
            &field,
            "given",
            "it must say in exactly one way where its value comes from",
            "write one of: between and every, one_of, row, series, is",
        ));
    }
    let symbol = raw.symbol.clone();
    let (source, kind) = if let Some(bounds) = &raw.between {
        grid(bounds, raw, &field, spot)?
    } else if let Some(list) = &raw.one_of {
        let read = list
            .iter()
            .enumerate()
            .map(|(index, Scalar(text))| spot.quantity(&format!("{field}.one_of[{index}]"), text))
            .collect::<Result<Vec<_>, _>>()?;
        let unit = one_unit(&read, &format!("{field}.one_of"), spot)?;
        (GivenSource::OneOf(read), type_of(unit))
    } else if let Some(table) = &raw.row {
        return add_row(name, table, &field, spot, reckoning);
    } else if let Some(count) = raw.series {
        series(count, raw, &field, spot)?
    } else {
        formula(raw, &field, spot, reckoning)?
    };
    reckoning.names.add(name, kind, symbol, false);
    if raw.written_as == Some(WrittenAs::Fraction) {
        reckoning.names.write_as_fraction(name);
    }
    reckoning.givens.push(Given { name: name.to_owned(), source, hidden: false });
    Ok(())
}

fn grid(bounds: &[Scalar], raw: &RawGiven, field: &str, spot: &Spot<'_>) -> Result<(GivenSource, Type), Fault> {
    let [Scalar(from), Scalar(to)] = bounds else {
        return Err(spot.fault(
            &format!("{field}.between"),
            "given",
            "`between` takes two values",
            "write the least and the greatest: [40 %, 60 %]",
        ));
    };
    let Some(Scalar(every)) = &raw.every else {
        return Err(spot.fault(
            field,
            "given",
            "`between` needs `every`",
            "say how far apart the values stand: `every: 5 %`",
        ));
    };
    let read = [(from, "between"), (to, "between"), (every, "every")]
        .map(|(text, key)| spot.quantity(&format!("{field}.{key}"), text));
    let [from, to, every] = read;
    let (from, to, every) = (from?, to?, every?);
    let unit = one_unit(&[from, to, every], field, spot)?;
    match from.number.grid_to(to.number, every.number) {
        None => Err(spot.fault(
            field,
            "grid",
            format!("steps of {} do not lead from {} to {}", every.number, from.number, to.number),
            "let the last step land on the upper end",
        )),
        Some(count) if count > MOST_VALUES => Err(spot.fault(
            field,
            "grid",
            format!("{count} values stand between the two"),
            format!("take larger steps: at most {MOST_VALUES} values"),
        )),
        Some(count) => Ok((GivenSource::Grid { from: from.number, every: every.number, count, unit }, type_of(unit))),
    }
}

fn series(count: usize, raw: &RawGiven, field: &str, spot: &Spot<'_>) -> Result<(GivenSource, Type), Fault> {
    if !(2..=MOST_READINGS).contains(&count) {
        return Err(spot.fault(
            &format!("{field}.series"),
            "series",
            format!("a series of {count}"),
            format!("take between 2 and {MOST_READINGS} readings"),
        ));
    }
    let need = |key: &str, value: &Option<Scalar>| {
        value
            .clone()
            .map(|Scalar(text)| text)
            .ok_or_else(|| spot.fault(field, "given", format!("a series needs `{key}`"), format!("add `{key}:`")))
    };
    let around = spot.quantity(&format!("{field}.around"), &need("around", &raw.around)?)?;
    let spread = spot.quantity(&format!("{field}.spread"), &need("spread", &raw.spread)?)?;
    let unit = one_unit(&[around, spread], field, spot)?;
    let shown_to = shown_to(raw.shown_to.as_ref(), unit, field, spot)?;
    let source =
        GivenSource::Series { count, around: around.number.value(), spread: spread.number.value(), shown_to, unit };
    Ok((source, series_of(unit)))
}

fn formula(raw: &RawGiven, field: &str, spot: &Spot<'_>, reckoning: &Reckoning) -> Result<(GivenSource, Type), Fault> {
    let Some(Scalar(text)) = &raw.is else {
        return Err(spot.fault(field, "given", "it has no value", "write `is:`"));
    };
    let here = format!("{field}.is");
    let parsed = parse(text).map_err(|fault| spot.formula(&here, fault))?;
    let formula =
        compile(&parsed, &reckoning.names, Allow { bare: false }).map_err(|fault| spot.formula(&here, fault))?;
    let (unit, _) = unit_for(raw.unit.as_deref(), formula.kind, field, spot)?;
    let shown_to = shown_to(raw.shown_to.as_ref(), unit, field, spot)?;
    Ok((GivenSource::Formula { formula, unit, shown_to }, type_of(unit)))
}

/// The unit that a formula's value is given in, and whether it is a
/// temperature difference (whose unit has no offset then).
pub(super) fn unit_for(
    written: Option<&str>,
    kind: Type,
    field: &str,
    spot: &Spot<'_>,
) -> Result<(&'static Unit, bool), Fault> {
    let here = format!("{field}.in");
    let dimension = match kind {
        Type::Number(dimension) => dimension,
        Type::Point => Dimension::TEMPERATURE,
        other => {
            return Err(spot.fault(
                &format!("{field}.is"),
                "formula",
                format!("the formula gives {other}, not a number"),
                "a value must be a single number",
            ));
        }
    };
    let text = match written {
        Some(text) => text,
        None if dimension.is_plain() => "",
        None => {
            return Err(spot.fault(
                field,
                "missing-key",
                "the key `in` is missing",
                format!("say which unit the value is given in: it is {kind}"),
            ));
        }
    };
    let unit = unit_where(text, |unit| unit.dimension == dimension).map_err(|unknown| {
        let mend = unknown.near.map_or_else(
            || format!("the value is {kind}: take a unit for that"),
            |near| format!("did you mean `{near}`?"),
        );
        spot.fault(&here, "unknown-unit", format!("`{text}` is not a unit known here"), mend)
    })?;
    if unit.dimension != dimension {
        let message = format!("the formula gives {kind}, but `{text}` measures {}", unit.dimension);
        return Err(spot.fault(&here, "wrong-unit", message, "change the unit or the formula"));
    }
    Ok((unit, unit.offset != 0.0 && kind != Type::Point))
}

/// The place that a value is shown to.
pub(super) fn shown_to(written: Option<&Scalar>, unit: &Unit, field: &str, spot: &Spot<'_>) -> Result<Decimal, Fault> {
    let here = format!("{field}.shown_to");
    let Some(Scalar(text)) = written else {
        return Err(spot.fault(
            field,
            "missing-key",
            "the key `shown_to` is missing",
            "say to which place the value is shown: `shown_to: 0.01`",
        ));
    };
    let number = Quantity::parse(text)
        .ok()
        .filter(|quantity| quantity.unit.name.is_empty() || std::ptr::eq(quantity.unit, unit))
        .map(|quantity| quantity.number);
    number.filter(|step| step.is_positive()).ok_or_else(|| {
        spot.fault(
            &here,
            "shown-to",
            format!("`{text}` is not a place to round to"),
            "write a positive number in the unit of the value, such as 0.01",
        )
    })
}

fn add_row(name: &str, table: &str, field: &str, spot: &Spot<'_>, reckoning: &mut Reckoning) -> Result<(), Fault> {
    let Some(index) = reckoning.tables.iter().position(|known| known.name == table) else {
        let known: Vec<&str> = reckoning.tables.iter().map(|table| table.name.as_str()).collect();
        let mend = if known.is_empty() {
            "add it under `tables:`".to_owned()
        } else {
            format!("known here are: {}", known.join(", "))
        };
        return Err(spot.fault(&format!("{field}.row"), "dangling", format!("there is no table `{table}`"), mend));
    };
    let Reckoning { tables, names, givens, .. } = reckoning;
    for (column, cell) in tables[index].columns.iter().zip(&tables[index].rows[0]) {
        match kind_of(cell) {
            Some(kind) => names.add(
                &format!("{name}.{column}"),
                kind,
                Some(column.chars().take(1).collect::<String>().to_uppercase()),
                false,
            ),
            None => names.add_text(&format!("{name}.{column}")),
        }
    }
    givens.push(Given { name: name.to_owned(), source: GivenSource::Row(index), hidden: false });
    Ok(())
}
