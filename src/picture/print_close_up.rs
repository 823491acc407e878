//! A print sample as a sharp eye or a loupe sees it: a letter above three rules, a tint and a solid, in one ink.

use super::scales::arrow;
use super::strokes::spelled;
use super::{Anchor, Arguments, Drawing, Figure, Grain, Ink, Pen, Style, n};
use sample::{FRAME, Sample};
use std::fmt::Write as _;

#[cfg(test)]
mod eye;
mod sample;
mod shapes;
mod state;
#[cfg(test)]
mod tests;

/// A print sample in one of the states that an operator tells apart by eye, with how far it has gone.
pub(super) const PRINT_CLOSE_UP: Figure = Figure { name: "print-close-up", draw, example };

const WIDTH: f64 = 400.0;
const HEIGHT: f64 = 392.0;
/// How far a state has gone if that is left out.
const USUAL: f64 = 2.0;

fn draw(given: &Arguments, style: Style) -> Drawing {
    let mut grain = Grain::new(given.grain);
    let sample = Sample::new(&mut grain);
    let mut pen = Pen::new(WIDTH, HEIGHT);
    pen.rect(Ink::Paper, (FRAME.left, FRAME.top), FRAME.wide(), FRAME.high());
    let strength = given.maybe("strength").unwrap_or(USUAL).clamp(1.0, 3.0);
    let mut print = state::Print { pen: &mut pen, grain: &mut grain, sample: &sample, strength, style };
    let seen = print.show(given.word("state"));
    about(&mut pen, &sample);
    let words = format!(
        "A print sample, the web running up: a letter {} above {} rules {}, a tint beside them, a solid below. \
         Marks at the edge stand one tooth of the plate gear apart. {seen}",
        sample.letter.name,
        spelled(3),
        if sample.letter_is_left { "on the left" } else { "on the right" },
    );
    Drawing { svg: pen.finish(), words }
}

/// What stands around the sample: which way the web runs, and the marks at its edge.
fn about(pen: &mut Pen, sample: &Sample) {
    pen.label((FRAME.left, 17.0), Anchor::Start, "print sample");
    arrow(pen, (FRAME.right - 6.0, 22.0), (FRAME.right - 6.0, 2.0));
    pen.label((FRAME.right - 16.0, 17.0), Anchor::End, "web runs this way");
    let mut marks = String::new();
    for y in sample.teeth() {
        let _ = write!(marks, "M{} {}h-9", n(FRAME.left - 6.0), n(y));
    }
    pen.named("teeth", Ink::Line, &marks);
    let below = FRAME.bottom + 17.0;
    pen.small((FRAME.left, below), Anchor::Start, "marks at the edge: one tooth of the plate gear");
    pen.small((FRAME.right, below), Anchor::End, "dots drawn large");
}

/// The words for `state`, in the order of the gallery.
fn states() -> &'static [&'static str] {
    let figure = crate::trade::figures::figure(PRINT_CLOSE_UP.name);
    let mut takes = figure.into_iter().flat_map(|figure| figure.takes);
    takes.find_map(|takes| if let super::Kind::Word(words) = takes.kind { Some(words) } else { None }).unwrap_or(&[])
}

fn example(number: u32) -> Arguments {
    let mut given = Arguments { grain: u64::from(number) + 7, ..Arguments::default() };
    let mut states = states().iter().cycle().skip(usize::try_from(number).unwrap_or(0));
    given.words.insert("state".to_owned(), states.next().copied().unwrap_or_default().to_owned());
    given
}
