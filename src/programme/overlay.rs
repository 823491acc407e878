//! The other unit world of an exercise: what differs there, by name.

use serde::Deserialize;

use super::raw::{Cell, Ordered, RawExercise, RawGiven, RawPicture, Scalar};
use super::spot::Spot;
use crate::ground::{Fault, nearest_name};
use crate::measure::World;

/// What an exercise says under `us:` or `si:`.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Overlay {
    title: Option<String>,
    tables: Option<Ordered<Vec<Ordered<Cell>>>>,
    givens: Option<Ordered<RawGiven>>,
    picture: Option<RawPicture>,
    only_if: Option<Vec<String>>,
    ask: Option<String>,
    steps: Option<Ordered<StepOverlay>>,
    sane: Option<Scalar>,
    leeway: Option<Scalar>,
    wrong_turns: Option<Ordered<TurnOverlay>>,
}

/// The keys of a step that may differ.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct StepOverlay {
    symbol: Option<String>,
    says: Option<String>,
    is: Option<Scalar>,
    #[serde(rename = "in")]
    unit: Option<String>,
    shown_to: Option<Scalar>,
    because: Option<String>,
    quantity: Option<String>,
    leeway: Option<Scalar>,
}

/// The keys of a wrong turn that may differ.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct TurnOverlay {
    is: Option<Scalar>,
    because: Option<String>,
}

/// Puts a value in place of another if there is one.
fn put<T>(place: &mut Option<T>, value: Option<T>) {
    if value.is_some() {
        *place = value;
    }
}

impl RawExercise {
    /// The exercise as it is in a unit world. The spot learns where the fields
    /// that differ were written.
    pub(super) fn in_world(mut self, world: World, spot: &mut Spot<'_>, faults: &mut Vec<Fault>) -> Self {
        let overlay = match world {
            World::Us => self.us.take(),
            World::Si => self.si.take(),
        };
        let Some(overlay) = overlay else { return self };
        let mut layer = Layer { key: world.word(), spot, faults };
        put(&mut self.title, overlay.title);
        put(&mut self.ask, layer.noted("ask", overlay.ask));
        put(&mut self.only_if, layer.noted("only_if", overlay.only_if));
        put(&mut self.sane, layer.noted("sane", overlay.sane));
        put(&mut self.leeway, layer.noted("leeway", overlay.leeway));
        layer.keyed("tables", &mut self.tables, overlay.tables);
        layer.keyed("givens", &mut self.givens, overlay.givens);
        layer.keyed("picture", &mut self.picture, overlay.picture);
        layer.steps(&mut self, overlay.steps);
        layer.turns(&mut self, overlay.wrong_turns);
        self
    }
}

/// The laying of one overlay over an exercise.
struct Layer<'a, 'b> {
    key: &'static str,
    spot: &'a mut Spot<'b>,
    faults: &'a mut Vec<Fault>,
}

impl Layer<'_, '_> {
    fn moved(&mut self, field: String, within: &str) {
        self.spot.moved.push((field, format!("{}.{within}", self.key)));
    }

    fn noted<T>(&mut self, field: &str, value: Option<T>) -> Option<T> {
        if value.is_some() {
            self.moved(field.to_owned(), field);
        }
        value
    }

    fn unknown(&mut self, within: &str, name: &str, known: &[&str]) {
        let mend = nearest_name(name, known.iter().copied()).map_or_else(
            || format!("the exercise has: {}", known.join(", ")),
            |near| format!("did you mean `{near}`?"),
        );
        let field = format!("{}.{within}.{name}", self.key);
        self.faults.push(self.spot.fault(&field, "dangling", format!("there is no `{name}` to differ from"), mend));
    }

    /// Replaces entries by name, in the exercise's own order.
    fn keyed<T>(&mut self, field: &str, own: &mut Option<Ordered<T>>, other: Option<Ordered<T>>) {
        for (name, value) in other.into_iter().flat_map(|other| other.0) {
            let list = own.get_or_insert_with(|| Ordered(Vec::new()));
            if let Some((_, place)) = list.0.iter_mut().find(|(known, _)| *known == name) {
                *place = value;
                self.moved(format!("{field}.{name}"), &format!("{field}.{name}"));
            } else {
                let known: Vec<&str> = list.0.iter().map(|(known, _)| known.as_str()).collect();
                self.unknown(field, &name, &known);
            }
        }
    }

    fn steps(&mut self, exercise: &mut RawExercise, other: Option<Ordered<StepOverlay>>) {
        let steps = exercise.steps.get_or_insert_default();
        for (name, overlay) in other.into_iter().flat_map(|other| other.0) {
            let Some(index) = steps.iter().position(|step| step.name == name) else {
                let known: Vec<&str> = steps.iter().map(|step| step.name.as_str()).collect();
                self.unknown("steps", &name, &known);
                continue;
            };
            let step = &mut steps[index];
            put(&mut step.symbol, overlay.symbol);
            put(&mut step.says, overlay.says);
            put(&mut step.unit, overlay.unit);
            put(&mut step.shown_to, overlay.shown_to);
            put(&mut step.because, overlay.because);
            put(&mut step.quantity, overlay.quantity);
            put(&mut step.leeway, overlay.leeway);
            step.is = overlay.is.unwrap_or(step.is.clone());
            self.moved(format!("steps[{index}]"), &format!("steps.{name}"));
        }
    }

    fn turns(&mut self, exercise: &mut RawExercise, other: Option<Ordered<TurnOverlay>>) {
        let turns = exercise.wrong_turns.get_or_insert_default();
        for (name, overlay) in other.into_iter().flat_map(|other| other.0) {
            let Some(index) = turns.iter().position(|turn| turn.name.as_deref() == Some(&name)) else {
                let known: Vec<&str> = turns.iter().filter_map(|turn| turn.name.as_deref()).collect();
                self.unknown("wrong_turns", &name, &known);
                continue;
            };
            put(&mut turns[index].is, overlay.is);
            put(&mut turns[index].because, overlay.because);
            self.moved(format!("wrong_turns[{index}]"), &format!("wrong_turns.{name}"));
        }
    }
}
