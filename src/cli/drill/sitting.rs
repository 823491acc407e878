//! One exercise of a drill, from its question to its key.

use std::io::BufRead;

use super::super::out::Out;
use super::super::working::{Working, asked, options};
use super::Stopped;
use super::keys::{Talk, Typed};
use super::rounds::{self, Play};
use crate::marking::{Asks, Marker, OwnKey, PartMark, Rules, Verdict, pairs};
use crate::programme::{Exercise, Form, Pick, Programme, Rounds};
use crate::prose::Text;
use crate::pull::{Printer, Pull, Samples, pull};

/// How an exercise came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Came {
    /// Right, with no line shown and nothing wrong before.
    AtOnce,
    /// Right in the end.
    InTheEnd,
    /// Left.
    Left,
    /// It is wanted with fresh numbers.
    FreshNumbers,
    /// It is enough.
    Quit,
}

/// How one part came out.
enum Part {
    Right {
        at_once: bool,
    },
    /// Left with the last answer, if there was one.
    Left(Option<String>),
    Ended(Came),
}

/// An exercise with its numbers, ready to be answered.
pub(super) struct Sitting<'p> {
    programme: &'p Programme,
    exercise: &'p Exercise,
    pull: Pull,
    rules: Rules,
    own: OwnKey,
    /// The lines that can be shown one by one, last first.
    lines: Vec<String>,
}

impl<'p> Sitting<'p> {
    pub(super) fn open(
        programme: &'p Programme,
        exercise: &'p Exercise,
        seed: &str,
        number: u64,
    ) -> Result<Self, Stopped> {
        let printer = Printer::of(programme);
        let pull = pull(exercise, seed, number, printer)?;
        let (rules, own) = (Rules::of(exercise, printer)?, OwnKey::of(exercise, &pull)?);
        let mut lines = more_lines(exercise, &pull);
        lines.reverse();
        Ok(Self { programme, exercise, pull, rules, own, lines })
    }

    pub(super) fn sit(mut self, talk: &mut Talk<impl BufRead>, out: &mut Out) -> Result<Came, Stopped> {
        self.ask(out);
        let parts = self.parts();
        let mut answers = vec![String::new(); parts.len()];
        let (mut at_once, mut all_right) = (true, true);
        for (index, prompt) in parts.iter().enumerate() {
            match self.part(index, prompt, &mut answers, talk, out)? {
                Part::Right { at_once: own } => at_once &= own,
                Part::Ended(came) => return Ok(came),
                Part::Left(last) => {
                    all_right = false;
                    let is_last = index + 1 == parts.len();
                    // With an answer of one's own there is something to go on with.
                    let Some(last) = last.filter(|_| !is_last) else { break };
                    answers[index] = last;
                }
            }
        }
        if !all_right {
            self.key(out);
            return Ok(Came::Left);
        }
        Ok(if at_once { Came::AtOnce } else { Came::InTheEnd })
    }

    /// Title, cautions, question, and what is to be put in order or picked from.
    fn ask(&self, out: &mut Out) {
        let exercise = self.exercise;
        out.line(&exercise.title);
        for caution in exercise.cautions.iter().filter_map(|id| self.programme.caution(id)) {
            out.line(&format!("CAUTION  {}: {}", caution.word, caution.says.plain(&|_| None)));
        }
        out.line(&format!("\n{}\n", asked(&self.pull.public, Printer::of(self.programme))));
        for line in options(exercise, &self.pull.public) {
            out.line(&format!("  {line}"));
        }
    }

    /// What is asked for, part by part.
    fn parts(&self) -> Vec<String> {
        match &self.exercise.form {
            Form::Numeric(_) => {
                let parts = self.pull.public.parts.iter();
                parts.map(|part| named(&part.label, part.unit)).collect()
            }
            Form::Order(_) => vec!["The numbers in their order".to_owned()],
            Form::Rounds(_) => vec!["The fewest moves, such as".to_owned()],
            Form::Choose(choose) => {
                choose.questions.iter().map(|question| number_of(&question.label, question.pick)).collect()
            }
        }
    }

    fn part(
        &mut self,
        index: usize,
        prompt: &str,
        answers: &mut [String],
        talk: &mut Talk<impl BufRead>,
        out: &mut Out,
    ) -> Result<Part, Stopped> {
        let mut at_once = true;
        let mut last = None;
        let (samples, printer) = (self.pull.public.samples.clone(), Printer::of(self.programme));
        let begin = |out: &mut Out| samples.as_ref().map(|samples| Play::begin(samples, printer, out));
        let mut play = begin(out);
        loop {
            match typed(play.as_mut(), prompt, talk, out)? {
                Typed::Answer(text) => {
                    answers[index].clone_from(&text);
                    let mark = self.mark(index, answers)?;
                    say(&mark, out);
                    match mark.verdict {
                        Verdict::Right | Verdict::Carried => {
                            return Ok(Part::Right { at_once: at_once && mark.mark >= 1.0 });
                        }
                        Verdict::Blank | Verdict::Unreadable | Verdict::UnknownUnit => {}
                        _ => {
                            at_once = false;
                            last = Some(text);
                        }
                    }
                    answers[index].clear();
                    play = begin(out);
                }
                Typed::OneMoreLine => {
                    at_once = false;
                    let line = self.lines.pop();
                    out.line(line.as_deref().unwrap_or("  That was the last line."));
                }
                Typed::FreshNumbers => return Ok(Part::Ended(Came::FreshNumbers)),
                Typed::GoOn => return Ok(Part::Left(last)),
                Typed::Quit => return Ok(Part::Ended(Came::Quit)),
                Typed::Unreadable(why) => out.line(&format!("  Not read: {why}. Type it again.")),
            }
        }
    }

    fn mark(&self, index: usize, answers: &[String]) -> Result<PartMark, Stopped> {
        let marks = Marker::open(&self.rules)?.mark(&self.own, answers)?;
        marks
            .into_iter()
            .nth(index)
            .ok_or_else(|| crate::ground::Fault::new("answers", "there is no such part", "run `gearside prove`").into())
    }

    /// The key, with what was not shown of the working.
    fn key(&mut self, out: &mut Out) {
        if matches!(self.rules.asks, Asks::Numeric(_)) {
            while let Some(line) = self.lines.pop() {
                out.line(&line);
            }
        }
        let marks = Marker::open(&self.rules).and_then(|marker| marker.mark(&self.own, &vec![""; self.parts().len()]));
        for (prompt, mark) in self.parts().iter().zip(marks.into_iter().flatten()) {
            out.line(&format!("  Key, {}: {}", prompt.to_lowercase(), mark.key.plain));
        }
    }
}

fn number_of(label: &str, pick: Pick) -> String {
    match (label, pick) {
        ("", Pick::One) => "The number that is right".to_owned(),
        ("", Pick::Some) => "All numbers that are right".to_owned(),
        (label, _) => format!("{label}, the number that is right"),
    }
}

fn named(label: &str, unit: &str) -> String {
    if unit.is_empty() { label.to_owned() } else { format!("{label} ({unit})") }
}

/// What is typed for a part; of rounds, the moves that were done one by one.
fn typed(
    play: Option<&mut Play<'_>>,
    prompt: &str,
    talk: &mut Talk<impl BufRead>,
    out: &mut Out,
) -> Result<Typed, Stopped> {
    let Some(play) = play else { return Ok(talk.ask(prompt, out)?) };
    while !play.is_over() {
        match talk.ask(&play.prompt(), out)? {
            Typed::Answer(text) => {
                if let Err(why) = play.step(&text, out) {
                    out.line(&format!("  Not read: {why}. Type it again."));
                }
            }
            Typed::GoOn => break,
            other => return Ok(other),
        }
    }
    Ok(play.answer().map_or(Typed::GoOn, Typed::Answer))
}

/// The lines that `?` shows: the steps of a working, then the pairs of an order,
/// the options that are not right, or what the fewest moves do.
fn more_lines(exercise: &Exercise, pull: &Pull) -> Vec<String> {
    let working = Working { exercise, pull };
    let with = |line: String, because: String| {
        if because.is_empty() { format!("  {line}") } else { format!("  {line}\n    {because}") }
    };
    let steps = 0..exercise.reckoning.steps.len();
    let mut lines: Vec<String> = steps.map(|step| with(working.step(step), working.because(step))).collect();
    let says = |index: usize| {
        let place = pull.public.shown.iter().position(|shown| *shown == index);
        place.and_then(|place| pull.public.says.get(place)).cloned().unwrap_or_default()
    };
    match &exercise.form {
        Form::Numeric(_) => {}
        Form::Rounds(rounds) => {
            let done = |by: usize| format!("“{}”", working.text(&rounds.moves[by].text));
            let fewest = fewest_moves(rounds, pull).into_iter();
            lines.extend(fewest.map(|(by, because)| with(done(by), working.text(because))));
        }
        Form::Order(order) => lines.extend(pairs(order, &pull.public.shown).iter().map(|pair| {
            let reasons: Vec<String> =
                pair.because.iter().map(|edge| working.text(&order.before[*edge].because)).collect();
            with(format!("“{}” comes before “{}”", says(pair.first), says(pair.then)), reasons.join(" "))
        })),
        Form::Choose(choose) => {
            let wrong = pull.public.shown.iter().filter(|index| !choose.options[**index].right);
            lines.extend(
                wrong.map(|index| {
                    with(format!("Not “{}”", says(*index)), working.text(&choose.options[*index].because))
                }),
            );
        }
    }
    lines
}

/// The fewest moves, each with the reason of what it does.
fn fewest_moves<'a>(rounds: &'a Rounds, pull: &Pull) -> Vec<(usize, &'a Text)> {
    let start = pull.public.samples.as_ref().map_or(0, Samples::first_state);
    let ways = rounds.ways();
    let moves = ways.shortest(start).unwrap_or_default();
    let from = std::iter::once(start).chain(ways.walk(start, &moves));
    let steps = from.zip(moves.iter().copied());
    steps.filter_map(|(from, by)| Some((by, &rounds.leads[rounds.lead(from, by)?].because))).collect()
}

/// How an answer was read, and what is said of it.
fn say(mark: &PartMark, out: &mut Out) {
    match &mark.verdict {
        // How it was read says all.
        Verdict::Unreadable | Verdict::UnknownUnit => {
            out.line(&format!("  {} Type it again.", sentence(&mark.read)));
            return;
        }
        verdict if mark.read.is_empty() => out.line(&format!("  {}", verdict.words())),
        verdict => out.line(&format!("  Read as {}. {}", mark.read, verdict.words())),
    }
    let reason = mark.reason.plain.trim();
    if !reason.is_empty() {
        out.line(&format!("  {reason}"));
    }
    if let Some(done) = &mark.rounds {
        rounds::say(done, out);
    }
    let Some(order) = mark.order.as_ref().filter(|order| !order.broken.is_empty()) else { return };
    out.line(&format!("  {} of {} pairs stand in the right order.", order.kept, order.pairs));
    if order.hold {
        out.line("  A safety step is out of place: in a quiz that alone makes the mark nothing.");
    }
    for pair in &order.broken {
        let reasons: Vec<&str> = pair.because.iter().map(|one| one.plain.trim()).collect();
        out.line(&format!("  “{}” comes before “{}”. {}", pair.first.plain, pair.then.plain, reasons.join(" ")));
    }
}

fn sentence(clause: &str) -> String {
    let mut letters = clause.chars();
    let first = letters.next().map(char::to_uppercase);
    format!("{}{}.", first.into_iter().flatten().collect::<String>(), letters.as_str().trim_end_matches('.'))
}
