//! One exercise as the templates take it.

use serde::Serialize;

use super::data;
use super::mathematics::{symbol, symbolic, with_numbers};
use super::templates::json_for_script;
use crate::ground::Fault;
use crate::ground::say;
use crate::measure::UNITS;
use crate::pages::tongue::word;
use crate::picture::{draw, samples_html};
use crate::programme::{Exercise, Form, Pick, Programme, Question, Says};
use crate::prose::{Text, escape};
use crate::pull::{Printer, Pull, pull_several};

/// How many pulls an exercise has on its own page.
pub(super) const PULLS: usize = 25;
/// How many an exercise with a figure has at most: each is drawn.
const PULLS_WITH_FIGURE: usize = 6;

/// A caution as shown.
#[derive(Debug, Clone, Serialize)]
pub(super) struct CautionView {
    pub(super) word: String,
    pub(super) html: String,
}

/// An exercise as shown.
#[derive(Debug, Clone, Serialize)]
pub(super) struct ExerciseView {
    pub(super) key: String,
    pub(super) data: String,
    pub(super) data_json: String,
    pub(super) id: String,
    pub(super) number: String,
    pub(super) title: String,
    pub(super) level: String,
    pub(super) minutes: String,
    pub(super) kind: &'static str,
    pub(super) pick: &'static str,
    pub(super) mode: &'static str,
    pub(super) pulls: String,
    pub(super) cautions: Vec<CautionView>,
    pub(super) ask_html: String,
    /// The samples of rounds, as safe HTML; empty where there are none.
    pub(super) samples_html: String,
    pub(super) figures: Vec<OptionView>,
    pub(super) parts: Vec<PartView>,
    pub(super) lines: Vec<LineView>,
    pub(super) options: Vec<OptionView>,
    pub(super) questions: Vec<QuestionView>,
    pub(super) moves: Vec<OptionView>,
    pub(super) reasons: Vec<OptionView>,
}

/// A field for a number.
#[derive(Debug, Clone, Serialize)]
pub(super) struct PartView {
    key: String,
    label_html: String,
    symbol_html: String,
    unit: &'static str,
    unit_says: String,
    units: Vec<&'static str>,
    fraction: &'static str,
}

impl PartView {
    /// The field of that key for a number in `unit`.
    pub(super) fn new(key: String, label: &str, in_formulas: Option<&str>, unit: &'static str) -> Self {
        Self {
            key,
            label_html: escape(label),
            symbol_html: in_formulas.map(symbol).unwrap_or_default(),
            unit,
            unit_says: spelled(unit),
            units: fitting(unit),
            fraction: if matches!(unit, "in" | "ft") { "yes" } else { "" },
        }
    }
}

#[derive(Debug, Clone, Serialize)]
pub(super) struct LineView {
    pub(super) symbolic_html: String,
    pub(super) numbers_html: String,
    pub(super) value_html: String,
    pub(super) remark_html: String,
    pub(super) because_html: String,
    pub(super) part: String,
    pub(super) shown: &'static str,
}

/// An option, a move or a reason, by its number.
#[derive(Debug, Clone, Serialize)]
pub(super) struct OptionView {
    pub(super) n: String,
    pub(super) html: String,
    /// Whether it stands there from the first, script or no script.
    pub(super) shown: &'static str,
}

impl OptionView {
    fn new(n: usize, html: String) -> Self {
        Self { n: n.to_string(), html, shown: "" }
    }
}

/// One question with its options.
#[derive(Debug, Clone, Serialize)]
pub(super) struct QuestionView {
    key: String,
    label: String,
    options: Vec<OptionView>,
}

/// Options or moves as a pull shows them: the shown ones first and in that
/// order, since the written order may be the right one.
fn arranged(written: Vec<OptionView>, shown: &[usize]) -> Vec<OptionView> {
    let mut rest: Vec<Option<OptionView>> = written.into_iter().map(Some).collect();
    let taken = shown.iter().filter_map(|n| rest.get_mut(*n).and_then(Option::take));
    let first: Vec<OptionView> = taken.map(|view| OptionView { shown: "yes", ..view }).collect();
    first.into_iter().chain(rest.into_iter().flatten()).collect()
}

/// An exercise with its pulls, to be shown in one or more places of a page.
pub(super) struct Deck<'a> {
    pub(super) exercise: &'a Exercise,
    pub(super) pulls: Vec<Pull>,
    programme: &'a Programme,
    printer: Printer,
}

/// Where on a page an exercise is shown.
#[derive(Debug, Clone, Copy)]
pub(super) enum Mode {
    /// Every line of the working stands there.
    Worked,
    /// The first lines stand there, the rest is asked.
    Half,
    /// All is asked.
    Own,
    /// Part of the self-quiz.
    Quiz,
}

impl Mode {
    fn word(self) -> &'static str {
        match self {
            Self::Worked => "worked",
            Self::Half => "half",
            Self::Own => "own",
            Self::Quiz => "quiz",
        }
    }
}

impl<'a> Deck<'a> {
    /// Pulls an exercise for a page.
    pub(super) fn new(
        exercise: &'a Exercise,
        programme: &'a Programme,
        seed: &str,
        count: usize,
        printer: Printer,
    ) -> Result<Self, Box<Fault>> {
        let count = if exercise.picture.is_some() { count.min(PULLS_WITH_FIGURE) } else { count };
        let pulls = pull_several(exercise, seed, count, printer).map_err(Box::new)?;
        if pulls.is_empty() {
            let fault = Fault::new("pulls", "there is no pull of this exercise", "run `gearside prove`");
            return Err(Box::new(fault.at(exercise.place.clone())));
        }
        Ok(Self { exercise, pulls, programme, printer })
    }

    /// Whether it can be shown worked and half worked.
    pub(super) fn has_working(&self) -> bool {
        matches!(self.exercise.form, Form::Numeric(_)) && self.exercise.reckoning.steps.len() >= 2
    }

    /// The pulls for a place: worked and half worked have one each, the
    /// self-quiz a few, so that none is given away before it is asked.
    fn range(&self, mode: Mode) -> (usize, usize) {
        let count = self.pulls.len();
        if count < PULLS {
            return (0, count - 1);
        }
        match mode {
            Mode::Worked => (count - 1, count - 1),
            Mode::Half => (count - 3, count - 2),
            Mode::Quiz => (count - 8, count - 4),
            Mode::Own => (0, count - 9),
        }
    }

    /// The exercise as shown in one place. With `with_data` its data block comes along.
    pub(super) fn view(&self, mode: Mode, number: usize, with_data: bool) -> ExerciseView {
        let exercise = self.exercise;
        let (first, last) = self.range(mode);
        let pull = &self.pulls[first];
        let key = format!("{}{number}", mode.word());
        let hole_html = |hole: &crate::prose::Hole| {
            if hole.as_table {
                return None;
            }
            let entry = exercise.reckoning.names.get(&hole.name)?;
            // A series may break over lines, a single quantity may not.
            let class = if exercise.reckoning.names.is_series(&hole.name) { " class=\"many\"" } else { "" };
            let printed = escape(&pull.figures.printed[entry.print]);
            Some(format!("<span data-fill=\"{}\"{class}>{printed}</span>", entry.print))
        };
        let line = |text: &Text| text.html(&hole_html);
        let tables = &pull.public.ask_html;
        ExerciseView {
            data: format!("d-{}", exercise.id),
            data_json: if with_data { json_for_script(&data::block(exercise, &self.pulls)) } else { String::new() },
            id: exercise.id.to_string(),
            number: number.to_string(),
            title: exercise.title.clone(),
            level: word("level", exercise.level.word()),
            minutes: say!("count.minutes", minutes = exercise.minutes),
            kind: exercise.form.word(),
            pick: match &exercise.form {
                Form::Choose(choose) if choose.questions.iter().any(|one| one.pick == Pick::Some) => "some",
                Form::Choose(_) => "one",
                _ => "",
            },
            mode: mode.word(),
            pulls: format!("{first}-{last}"),
            cautions: cautions(self.programme, &exercise.cautions),
            // A question with a table is the same in every pull but for its numbers.
            ask_html: if exercise.ask.holes().any(|hole| hole.as_table) { tables.clone() } else { line(&exercise.ask) },
            samples_html: pull.public.samples.as_ref().map_or_else(String::new, |one| samples_html(one, self.printer)),
            figures: self.figures(first, last),
            parts: self.parts(&key),
            lines: self.lines(mode, pull, &line),
            questions: self.questions(&key, pull, &line),
            options: arranged(self.options(pull, &line), &pull.public.shown),
            moves: match &exercise.form {
                Form::Order(order) => {
                    let written = order.moves.iter().enumerate();
                    let written = written.map(|(n, one)| OptionView::new(n, line(&one.text))).collect();
                    arranged(written, &pull.public.shown)
                }
                Form::Rounds(rounds) => {
                    let written = rounds.moves.iter().enumerate();
                    let written = written.map(|(n, one)| OptionView::new(n, line(&one.text))).collect();
                    arranged(written, &pull.public.shown)
                }
                _ => Vec::new(),
            },
            reasons: self.reasons(&line),
            key,
        }
    }

    /// The figures of the pulls of a place, the first of which is shown.
    fn figures(&self, first: usize, last: usize) -> Vec<OptionView> {
        let drawn = (first..=last).filter_map(|n| {
            let pictured = self.pulls.get(n)?.public.picture.as_ref()?;
            let view = OptionView::new(n, draw(pictured, self.printer).html());
            Some(OptionView { shown: if n == first { "yes" } else { "" }, ..view })
        });
        drawn.collect()
    }

    fn parts(&self, key: &str) -> Vec<PartView> {
        let Form::Numeric(numeric) = &self.exercise.form else { return Vec::new() };
        numeric
            .answers
            .iter()
            .enumerate()
            .map(|(index, step)| {
                let asked = &self.pulls[0].public.parts[index];
                let unit = self.exercise.reckoning.steps[*step].unit.name;
                PartView::new(format!("{key}-{index}"), &asked.label, asked.symbol.as_deref(), unit)
            })
            .collect()
    }

    fn lines(&self, mode: Mode, pull: &Pull, line: &dyn Fn(&Text) -> String) -> Vec<LineView> {
        let exercise = self.exercise;
        let (steps, names) = (&exercise.reckoning.steps, &exercise.reckoning.names);
        let mut filled = |print: usize| {
            let text = pull.figures.printed.get(print).map_or("", String::as_str);
            format!("<mn data-fill=\"{print}\">{}</mn>", escape(text))
        };
        let answers = match &exercise.form {
            Form::Numeric(numeric) => numeric.answers.clone(),
            _ => Vec::new(),
        };
        let given = match mode {
            Mode::Worked => steps.len(),
            Mode::Half => steps.len() / 2,
            Mode::Own | Mode::Quiz => 0,
        };
        steps
            .iter()
            .enumerate()
            .map(|(index, step)| {
                let print = exercise.reckoning.names.get(&step.name).map_or(0, |name| name.print);
                let part =
                    answers.iter().position(|answer| index <= *answer).unwrap_or(answers.len().saturating_sub(1));
                LineView {
                    symbolic_html: symbolic(&step.expression, &step.name, names),
                    numbers_html: with_numbers(&step.expression, names, &mut filled),
                    value_html: format!("<span data-fill=\"{print}\">{}</span>", escape(&pull.figures.printed[print])),
                    remark_html: self.remark(pull, index),
                    because_html: line(&step.because),
                    part: part.to_string(),
                    shown: if index < given { "yes" } else { "" },
                }
            })
            .collect()
    }

    /// The place for a step's remarks, if some pull has any.
    fn remark(&self, pull: &Pull, step: usize) -> String {
        if !data::have_remarks(&self.pulls) {
            return String::new();
        }
        let place = pull.figures.printed.len() + step;
        let says = pull.key.steps.get(step).map(|value| value.remarks.join(" ")).unwrap_or_default();
        format!("<span data-fill=\"{place}\">{}</span>", escape(&says))
    }

    fn questions(&self, key: &str, pull: &Pull, line: &dyn Fn(&Text) -> String) -> Vec<QuestionView> {
        let Form::Choose(choose) = &self.exercise.form else { return Vec::new() };
        let all = arranged(self.options(pull, line), &pull.public.shown);
        let own = |question: &Question| {
            let is_own = |option: &&OptionView| option.n.parse().is_ok_and(|n| question.options.contains(&n));
            all.iter().filter(is_own).cloned().collect()
        };
        let questions = choose.questions.iter().enumerate();
        questions
            .map(|(place, question)| QuestionView {
                key: if place == 0 { key.to_owned() } else { format!("{key}-{place}") },
                label: question.label.clone(),
                options: own(question),
            })
            .collect()
    }

    fn options(&self, pull: &Pull, line: &dyn Fn(&Text) -> String) -> Vec<OptionView> {
        let Form::Choose(choose) = &self.exercise.form else { return Vec::new() };
        let first = pull.figures.printed.len();
        choose
            .options
            .iter()
            .enumerate()
            .map(|(n, option)| {
                let html = match &option.says {
                    Says::Text(text) => line(text),
                    Says::Value { .. } => {
                        let place = pull.public.shown.iter().position(|shown| *shown == n);
                        let says = place.map_or("", |place| pull.public.says[place].as_str());
                        format!("<span data-fill=\"{}\">{}</span>", first + n, escape(says))
                    }
                };
                OptionView::new(n, html)
            })
            .collect()
    }

    fn reasons(&self, line: &dyn Fn(&Text) -> String) -> Vec<OptionView> {
        let list: Vec<&Text> = match &self.exercise.form {
            Form::Numeric(_) => self.exercise.reckoning.turns.iter().map(|turn| &turn.because).collect(),
            Form::Order(order) => order.before.iter().map(|edge| &edge.because).collect(),
            Form::Choose(choose) => choose.options.iter().map(|option| &option.because).collect(),
            Form::Rounds(rounds) => rounds.reasons().collect(),
        };
        list.into_iter().enumerate().map(|(n, text)| OptionView::new(n, line(text))).collect()
    }
}

/// Cautions as shown.
pub(super) fn cautions(programme: &Programme, ids: &[crate::ground::Id]) -> Vec<CautionView> {
    let known = ids.iter().filter_map(|id| programme.caution(id));
    known.map(|caution| CautionView { word: caution.word.clone(), html: caution.says.html(&|_| None) }).collect()
}

/// Units that stand as keys beside the field: the asked one and its usual
/// counterpart of the other unit world.
fn fitting(unit: &'static str) -> Vec<&'static str> {
    const PAIRS: &[(&str, &str)] = &[
        ("µm", "mil"),
        ("mm", "in"),
        ("m", "ft"),
        ("kg", "lb"),
        ("g/m²", "lb/ream"),
        ("m/min", "ft/min"),
        ("cm³/m²", "BCM/in²"),
        ("l/cm", "lpi"),
        ("N/m", "PLI"),
        ("N", "lbf"),
        ("L", "gal"),
        ("m²", "MSI"),
        ("g/cm³", "lb/gal"),
    ];
    if unit.is_empty() {
        return Vec::new();
    }
    let other = PAIRS.iter().find_map(|(a, b)| {
        if *a == unit {
            Some(*b)
        } else if *b == unit {
            Some(*a)
        } else {
            None
        }
    });
    std::iter::once(unit).chain(other.filter(|name| UNITS.iter().any(|unit| unit.name == *name))).collect()
}

/// A unit spelled out, where reading the sign aloud would not do.
fn spelled(unit: &str) -> String {
    match unit {
        "" => say!("unit.plain"),
        "µm" => say!("unit.micrometres"),
        "mm" => say!("unit.millimetres"),
        "in" => say!("unit.inches"),
        "mil" => say!("unit.mils"),
        "ft" => say!("unit.feet"),
        "m" => say!("unit.metres"),
        "%" => say!("unit.percent"),
        "points" => say!("unit.points"),
        "kg" => say!("unit.kilograms"),
        "lb" => say!("unit.pounds"),
        "g/m²" => say!("unit.grams-per-square-metre"),
        "BCM/in²" => say!("unit.billion-cubic-microns-per-square-inch"),
        "cm³/m²" => say!("unit.cubic-centimetres-per-square-metre"),
        "mm²/s" => say!("unit.square-millimetres-per-second"),
        "mPa·s" => say!("unit.millipascal-seconds"),
        "mJ/cm²" => say!("unit.millijoules-per-square-centimetre"),
        "°" => say!("unit.degrees"),
        other => other.to_owned(),
    }
}
