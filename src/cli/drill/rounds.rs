//! Rounds in a drill: a move is typed, and what it leads to is seen before the next.

use super::super::out::Out;
use crate::marking::RoundsSaid;
use crate::picture::sample_words;
use crate::pull::{Printer, Samples};

/// What has been done so far.
pub(super) struct Play<'a> {
    samples: &'a Samples,
    printer: Printer,
    at: usize,
    /// The numbers of the moves done.
    done: Vec<String>,
}

impl<'a> Play<'a> {
    /// Begins, and says what is seen.
    pub(super) fn begin(samples: &'a Samples, printer: Printer, out: &mut Out) -> Self {
        let play = Self { samples, printer, at: samples.start, done: Vec::new() };
        play.see(out);
        play
    }

    /// What is asked for next.
    pub(super) fn prompt(&self) -> String {
        format!("Move {} of at most {}, an empty line to leave it so", self.done.len() + 1, self.samples.most)
    }

    /// Does the move of that number, and says what is seen then.
    ///
    /// # Errors
    /// Why there is no such move.
    pub(super) fn step(&mut self, typed: &str, out: &mut Out) -> Result<(), String> {
        let leads = self.samples.leads.get(self.at).map_or(&[][..], Vec::as_slice);
        let to = typed.parse::<usize>().ok().and_then(|number| leads.get(number.checked_sub(1)?));
        let Some(to) = to else { return Err(format!("`{typed}` is not the number of one move, 1 to {}", leads.len())) };
        self.done.push(typed.to_owned());
        if *to == self.at {
            out.line("  Nothing changes.");
        } else {
            self.at = *to;
            self.see(out);
        }
        Ok(())
    }

    /// Whether no more moves may be done.
    pub(super) fn is_over(&self) -> bool {
        self.done.len() >= self.samples.most
    }

    /// The moves as they are marked; `None` if nothing was done.
    pub(super) fn answer(&self) -> Option<String> {
        (!self.done.is_empty()).then(|| self.done.join(" "))
    }

    fn see(&self, out: &mut Out) {
        let words = self.samples.seen.get(self.at).map(|sample| sample_words(sample, self.printer));
        out.line(&format!("  Sample {}: {}", self.at + 1, words.unwrap_or_default()));
    }
}

/// What is said of each move that was done, and of the fewest that would have done.
pub(super) fn say(rounds: &RoundsSaid, out: &mut Out) {
    for round in &rounds.done {
        let not_safe = if round.not_safe { "UNSAFE  " } else { "" };
        let because = Some(round.because.plain.trim()).filter(|because| !because.is_empty());
        out.line(&format!("  {not_safe}“{}” {}", round.says.plain.trim(), because.unwrap_or("changed nothing.")));
    }
    if rounds.hold {
        out.line("  An unsafe move: in a quiz that alone makes the mark nothing.");
    }
    if rounds.ends_right && rounds.done.len() > rounds.fewest.len() {
        let few = match rounds.fewest.len() {
            1 => "one move".to_owned(),
            count => format!("{count} moves"),
        };
        out.line(&format!("  It can be done in {few}."));
    }
}
