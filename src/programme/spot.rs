//! Where an exercise's fields stand, through `like:`, and faults raised there.

use super::reader::{FileReader, joined};
use crate::formula::FormulaFault;
use crate::ground::{Fault, Place};
use crate::measure::{Quantity, QuantityFault};
use crate::prose::{ProseFault, Text};

/// The origins of an exercise: itself first, then what it is like.
#[derive(Debug, Clone, Default)]
pub(super) struct Spot<'a> {
    pub(super) id: String,
    pub(super) origins: Vec<(&'a FileReader, String)>,
    /// Fields that were written elsewhere in the exercise: `steps[1]` under `si.steps.flat`.
    pub(super) moved: Vec<(String, String)>,
}

impl Spot<'_> {
    /// The place of a field such as `steps[1].is`: where it was really written.
    pub(super) fn place(&self, field: &str) -> Place {
        let moved = self.moved.iter().find_map(|(from, to)| {
            let path = format!("{to}{}", field.strip_prefix(from.as_str())?);
            self.origins.iter().any(|(reader, root)| reader.has(&joined(root, &path))).then_some(path)
        });
        let written = moved.as_deref().unwrap_or(field);
        let top = &written[..written.find(['.', '[']).unwrap_or(written.len())];
        let found = self.origins.iter().find(|(reader, root)| reader.has(&joined(root, top))).or(self.origins.first());
        let mut place = found.map(|(reader, root)| reader.place(&joined(root, written))).unwrap_or_default();
        place.exercise = (!self.id.is_empty()).then(|| self.id.clone());
        place.field = (!field.is_empty()).then(|| field.to_owned());
        place
    }

    pub(super) fn fault(
        &self,
        field: &str,
        kind: &'static str,
        message: impl Into<String>,
        mend: impl Into<String>,
    ) -> Fault {
        Fault::new(kind, message, mend).at(self.place(field))
    }

    pub(super) fn formula(&self, field: &str, fault: FormulaFault) -> Fault {
        fault.into_fault("formula").at(self.place(field))
    }

    /// Author text of one or more paragraphs.
    pub(super) fn text(&self, field: &str, source: &str) -> Result<Text, Fault> {
        Text::parse(source).map_err(|fault| self.prose(field, source, fault))
    }

    /// Author text of one line.
    pub(super) fn line(&self, field: &str, source: &str) -> Result<Text, Fault> {
        Text::parse_line(source).map_err(|fault| self.prose(field, source, fault))
    }

    fn prose(&self, field: &str, source: &str, fault: ProseFault) -> Fault {
        Fault::new("text", fault.message, fault.mend).pointing(source, fault.span).at(self.place(field))
    }

    /// A quantity as written.
    pub(super) fn quantity(&self, field: &str, text: &str) -> Result<Quantity, Fault> {
        Quantity::parse(text).map_err(|fault| self.not_a_quantity(field, text, fault))
    }

    pub(super) fn not_a_quantity(&self, field: &str, text: &str, fault: QuantityFault) -> Fault {
        match fault {
            QuantityFault::NoNumber => self.fault(
                field,
                "quantity",
                format!("`{text}` is not a quantity"),
                "write a number, a space and a unit, such as `3.8 BCM/in²` or `45 %`",
            ),
            QuantityFault::UnknownUnit(unknown) => {
                let mend = unknown.near.map_or_else(
                    || "use a unit of the list in the guide to writing exercises".to_owned(),
                    |near| format!("did you mean `{near}`?"),
                );
                self.fault(
                    field,
                    "unknown-unit",
                    format!("`{}` in `{text}` is not a unit known here", unknown.text),
                    mend,
                )
            }
        }
    }
}
