//! The names of one exercise: their slots, types, symbols.

use std::collections::BTreeMap;

use crate::formula::{Named, Scope, Symbols, Type};

/// One name of an exercise.
#[derive(Debug, Clone)]
pub struct Name {
    /// The place of its printed text among all printed texts of a pull.
    pub print: usize,
    /// Its slot and type; `None` for a column of plain text.
    pub value: Option<(usize, Type)>,
    /// Its symbol in mathematics.
    pub symbol: Option<String>,
    /// Whether it is a step, and so not to be given away in the question.
    pub is_step: bool,
    /// Whether it is written as an inch fraction.
    pub as_fraction: bool,
}

/// All names of an exercise.
#[derive(Debug, Clone, Default)]
pub struct Names {
    by_name: BTreeMap<String, Name>,
    in_print_order: Vec<String>,
    scalars: usize,
    series: usize,
}

impl Names {
    /// Adds a value; it gets the next slot of its sort.
    pub(super) fn add(&mut self, name: &str, kind: Type, symbol: Option<String>, is_step: bool) {
        let counter = match kind {
            Type::Series(_) | Type::SeriesOfPoints => &mut self.series,
            Type::Number(_) | Type::Point | Type::Truth => &mut self.scalars,
        };
        *counter += 1;
        let value = Some((*counter - 1, kind));
        self.insert(name, Name { print: 0, value, symbol, is_step, as_fraction: false });
    }

    /// Adds a column of plain text.
    pub(super) fn add_text(&mut self, name: &str) {
        self.insert(name, Name { print: 0, value: None, symbol: None, is_step: false, as_fraction: false });
    }

    /// Gives a column of a row the symbol that the calculation it is passed to
    /// uses for it, so that working and formula sheet agree. Symbols that an
    /// author chose, and those already taken, stay.
    pub(super) fn symbol_of_column(&mut self, name: &str, symbol: &str) {
        let taken = self.by_name.values().any(|other| other.symbol.as_deref() == Some(symbol));
        if let Some(entry) = self.by_name.get_mut(name).filter(|_| name.contains('.') && !taken) {
            entry.symbol = Some(symbol.to_owned());
        }
    }

    /// Lets a name be written as an inch fraction.
    pub(super) fn write_as_fraction(&mut self, name: &str) {
        if let Some(entry) = self.by_name.get_mut(name) {
            entry.as_fraction = true;
        }
    }

    fn insert(&mut self, name: &str, entry: Name) {
        let print = self.in_print_order.len();
        self.in_print_order.push(name.to_owned());
        self.by_name.insert(name.to_owned(), Name { print, ..entry });
    }

    /// The entry of a name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Name> {
        self.by_name.get(name)
    }

    /// Whether a name stands for a series.
    #[must_use]
    pub fn is_series(&self, name: &str) -> bool {
        self.look_up(name).is_some_and(|named| named.kind.is_series())
    }

    /// All names in the order of their printed texts.
    #[must_use]
    pub fn in_print_order(&self) -> &[String] {
        &self.in_print_order
    }

    /// How many scalar slots there are.
    #[must_use]
    pub fn scalars(&self) -> usize {
        self.scalars
    }

    /// How many series there are.
    #[must_use]
    pub fn series(&self) -> usize {
        self.series
    }
}

impl Scope for Names {
    fn look_up(&self, name: &str) -> Option<Named> {
        let (slot, kind) = self.by_name.get(name)?.value?;
        Some(Named { slot, kind })
    }

    fn known(&self) -> Vec<String> {
        self.by_name.iter().filter(|(_, entry)| entry.value.is_some()).map(|(name, _)| name.clone()).collect()
    }
}

impl Symbols for Names {
    fn symbol(&self, name: &str) -> Option<String> {
        self.by_name.get(name)?.symbol.clone()
    }
}
