//! `gearside show`: one exercise with key, working and wrong turns, as text.

use std::path::Path;

use super::arguments::ShowArguments;
use super::loading;
use super::out::{Ended, Out};
use super::working::{Working, asked};
use crate::ground::nearest_name;
use crate::marking::{one_valid_order, pairs, part_key, valid_orders};
use crate::measure::number;
use crate::picture::{leads_words, sample_words};
use crate::programme::{Exercise, Form, Programme, Rounds};
use crate::pull::{Printer, Pull, pull};

pub(super) fn run(arguments: &ShowArguments, programme: Option<&Path>, out: &mut Out) -> Ended {
    let (programme, ended) = match loading::programme(&loading::origin(programme), out) {
        Ok(loaded) => loaded,
        Err(ended) => return ended,
    };
    let Some(exercise) = programme.exercise(&arguments.exercise) else {
        let near = nearest_name(&arguments.exercise, programme.exercises().map(|one| one.id.as_str()));
        let mend = near.map_or_else(
            || "`gearside prove` lists all exercises".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        return out.usage(&format!("there is no exercise `{}`", arguments.exercise), &mend);
    };
    let printer = Printer::of(&programme);
    let pull = match pull(exercise, &arguments.seed, arguments.pull, printer) {
        Ok(pull) => pull,
        Err(fault) => {
            out.fault(&fault);
            return Ended::Content;
        }
    };
    if out.json {
        out.value(&json(exercise, &pull, arguments));
        return ended;
    }
    let show =
        Show { programme: &programme, exercise, pull: &pull, working: Working { exercise, pull: &pull }, printer };
    show.head(arguments, out);
    show.steps(out);
    match &exercise.form {
        Form::Numeric(numeric) => show.numeric(&numeric.answers, out),
        Form::Order(order) => show.order(order, out),
        Form::Rounds(rounds) => show.rounds(rounds, out),
        Form::Choose(choose) => {
            for (index, says) in pull.public.shown.iter().zip(&pull.public.says) {
                let option = &choose.options[*index];
                out.line(&format!(
                    "  {} {says}\n      {}",
                    if option.right { "right" } else { "     " },
                    show.working.text(&option.because)
                ));
            }
        }
    }
    ended
}

struct Show<'a> {
    programme: &'a Programme,
    exercise: &'a Exercise,
    pull: &'a Pull,
    working: Working<'a>,
    printer: Printer,
}

impl Show<'_> {
    fn head(&self, arguments: &ShowArguments, out: &mut Out) {
        let exercise = self.exercise;
        out.line(&format!("{} ({}), seed {}, pull {}", exercise.title, exercise.id, arguments.seed, arguments.pull));
        out.line(&format!(
            "{} · {} · {} · {} min",
            exercise.competency,
            exercise.form.written(),
            exercise.level.word(),
            exercise.minutes
        ));
        for caution in exercise.cautions.iter().filter_map(|id| self.programme.caution(id)) {
            out.line(&format!("CAUTION  {}: {}", caution.word, caution.says.plain(&|_| None)));
        }
        out.line(&format!("\n{}\n", asked(&self.pull.public, self.printer)));
        let names = exercise.reckoning.names.in_print_order();
        for name in names.iter().filter(|name| exercise.reckoning.names.get(name).is_some_and(|entry| !entry.is_step)) {
            out.line(&format!("  given  {name} = {}", self.working.printed(name).unwrap_or_default()));
        }
    }

    fn steps(&self, out: &mut Out) {
        for (index, value) in self.pull.key.steps.iter().enumerate() {
            out.line(&format!("  step   {}", self.working.step(index)));
            for remark in &value.remarks {
                out.line(&format!("         Remark: {remark}"));
            }
            let because = self.working.because(index);
            if !because.is_empty() {
                out.line(&format!("         {because}"));
            }
        }
    }

    fn numeric(&self, answers: &[usize], out: &mut Out) {
        for step in answers {
            let asked = &self.exercise.reckoning.steps[*step];
            let key = part_key(self.exercise, &self.pull.key, *step);
            let bound = |value: f64| number(asked.shown_to.finer().nearest(value), self.printer.mark);
            out.line(&format!(
                "  key    {}: {} (right from {} to {})",
                asked.name,
                self.pull.key.steps[*step].printed,
                bound(key.right.lo),
                bound(key.right.hi)
            ));
            for turn in &key.turns {
                for (place, index) in turn.because.iter().enumerate() {
                    let known = &self.exercise.reckoning.turns[*index];
                    let value =
                        if place == 0 { self.printer.step(asked, asked.to_si(turn.at)) } else { "the same".to_owned() };
                    out.line(&format!(
                        "  turn   {}: {value}\n         {}",
                        known.name,
                        self.working.text(&known.because)
                    ));
                }
            }
        }
    }

    fn order(&self, order: &crate::programme::Order, out: &mut Out) {
        let shown = &self.pull.public.shown;
        for (index, says) in shown.iter().zip(&self.pull.public.says) {
            out.line(&format!("  move   {}: {says}", order.moves[*index].name));
        }
        let pairs = pairs(order, shown);
        for pair in &pairs {
            let reasons: Vec<String> =
                pair.because.iter().map(|edge| self.working.text(&order.before[*edge].because)).collect();
            let safety = if pair.safety { " (safety)" } else { "" };
            out.line(&format!(
                "  pair   {} before {}{safety}: {}",
                order.moves[pair.first].name,
                order.moves[pair.then].name,
                reasons.join(" ")
            ));
        }
        let names: Vec<&str> =
            one_valid_order(shown, &pairs).into_iter().map(|index| order.moves[index].name.as_str()).collect();
        out.line(&format!("  key    one of {} valid orders: {}", valid_orders(shown, &pairs), names.join(", ")));
    }

    /// What is seen of each sample and where each move leads, then the fewest moves.
    fn rounds(&self, rounds: &Rounds, out: &mut Out) {
        let Some(samples) = &self.pull.public.samples else { return };
        for (number, (index, says)) in (1..).zip(self.pull.public.shown.iter().zip(&self.pull.public.says)) {
            let not_safe = if rounds.not_safe.iter().any(|(by, _)| by == index) { " (unsafe)" } else { "" };
            out.line(&format!("  move   {number}{not_safe}: {says}"));
        }
        for (place, (sample, leads)) in samples.seen.iter().zip(&samples.leads).enumerate() {
            let state = &rounds.states[samples.states[place]];
            let right = if state.right { " (right to end with)" } else { "" };
            out.line(&format!("  sample {} {}{right}: {}", place + 1, state.name, sample_words(sample, self.printer)));
            out.line(&format!("         {}", leads_words(place, leads)));
        }
        for lead in &rounds.leads {
            let name = |state: usize| &rounds.states[state].name;
            let by = &rounds.moves[lead.by].name;
            let because = self.working.text(&lead.because);
            out.line(&format!("  lead   {} by {by} to {}: {because}", name(lead.from), name(lead.to)));
        }
        for (by, because) in &rounds.not_safe {
            out.line(&format!("  unsafe {}: {}", rounds.moves[*by].name, self.working.text(because)));
        }
        let fewest = rounds.ways().shortest(samples.first_state()).unwrap_or_default();
        let names: Vec<&str> = fewest.iter().map(|by| rounds.moves[*by].name.as_str()).collect();
        out.line(&format!("  key    from sample {}, the fewest moves: {}", samples.start + 1, names.join(", ")));
    }
}

fn json(exercise: &Exercise, pull: &Pull, arguments: &ShowArguments) -> serde_json::Value {
    let parts: Vec<serde_json::Value> = match &exercise.form {
        Form::Numeric(numeric) => numeric.answers.iter().map(|step| {
            let asked = &exercise.reckoning.steps[*step];
            serde_json::json!({ "name": asked.name, "unit": asked.unit.name, "key": pull.key.steps[*step].in_unit, "printed": pull.key.steps[*step].printed, "marking": part_key(exercise, &pull.key, *step) })
        }).collect(),
        _ => Vec::new(),
    };
    serde_json::json!({
        "exercise": exercise.id.as_str(),
        "seed": arguments.seed,
        "pull": arguments.pull,
        "ask": pull.public.ask,
        "givens": pull.public.givens.iter().map(|(name, text)| serde_json::json!({ "name": name, "printed": text })).collect::<Vec<_>>(),
        "steps": exercise.reckoning.steps.iter().zip(&pull.key.steps).map(|(step, value)| serde_json::json!({ "name": step.name, "printed": value.printed, "value": value.in_unit, "unit": step.unit.name })).collect::<Vec<_>>(),
        "parts": parts,
        "shown": pull.public.says,
    })
}
