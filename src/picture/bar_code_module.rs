//! A few bars of a bar code under a glass, as printed on their nominal modules.

use super::scales::{Lies, Ruler, oblong, past, straight};
use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style};

/// A few bars of a bar code, printed wider or narrower than their modules.
pub(super) const BAR_CODE_MODULE: Figure = Figure { name: "bar-code-module", draw, example };

const LEFT: f64 = 14.0;
const RIGHT: f64 = 466.0;
const FIRST: f64 = 84.0;
const UPPER: f64 = 54.0;
const BARS: (f64, f64) = (70.0, 204.0);
const LOWER: f64 = 220.0;

/// Bars and spaces in turn, in modules; a stretch of no particular code.
const STRETCHES: [[f64; 10]; 4] = [
    [1.0, 1.0, 2.0, 1.0, 1.0, 2.0, 3.0, 1.0, 1.0, 2.0],
    [1.0, 2.0, 1.0, 1.0, 3.0, 1.0, 1.0, 2.0, 2.0, 1.0],
    [1.0, 1.0, 1.0, 3.0, 2.0, 1.0, 1.0, 1.0, 2.0, 2.0],
    [1.0, 3.0, 1.0, 1.0, 1.0, 2.0, 2.0, 1.0, 1.0, 2.0],
];

fn ruler(unit: &str) -> Ruler {
    if unit == "mil" {
        Ruler { small: 0.0254, longer: 5, numbered: 5, counts: 1.0, unit: "mil" }
    } else {
        Ruler { small: 0.02, longer: 5, numbered: 10, counts: 0.02, unit: "mm" }
    }
}

/// The bars under the glass: each from its left to its right edge as printed, in mm from the first nominal edge.
fn bars(stretch: usize, module: f64, growth: f64) -> Vec<(f64, f64)> {
    let widths = STRETCHES.get(stretch).map_or(&[][..], |stretch| &stretch[..]);
    let (mut at, mut ink, mut all) = (0.0, true, Vec::new());
    for width in widths {
        if ink {
            all.push((at * module - growth / 2.0, (at + width) * module + growth / 2.0));
        }
        at += width;
        ink = !ink;
    }
    all
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let (module, growth) = (given.number("module"), given.number("growth"));
    let per_mm = given.maybe("magnification").unwrap_or(60.0) * 96.0 / 25.4;
    let ruler = ruler(given.word("unit"));
    let stretch = usize::try_from(given.grain % 4).unwrap_or(0);
    let on_sheet = |mm: f64| FIRST + mm * per_mm;
    let mut pen = Pen::new(480.0, 270.0);
    let mut limits = String::new();
    let mut seen = 0_u32;
    for (number, (from, to)) in bars(stretch, module, growth).into_iter().enumerate() {
        let (from, to) = (on_sheet(from), on_sheet(to).min(RIGHT));
        if from >= RIGHT {
            break;
        }
        seen += 1;
        let name = if number == 0 { "first-bar" } else { "bar" };
        pen.named(name, Ink::Tone, &oblong((from, BARS.0), to - from, BARS.1 - BARS.0));
        if number == 0 {
            limits = straight((from, BARS.1), (from, LOWER)) + &straight((to, BARS.1), (to, LOWER));
        }
    }
    // A bar that runs out of sight has no edge there.
    pen.rect(Ink::Blank, (RIGHT - 1.0, BARS.0 - 1.0), 3.0, BARS.1 - BARS.0 + 2.0);
    pen.named("limits", Ink::Fine, &limits);
    nominal(&mut pen, module * per_mm);
    scales(&mut pen, &ruler, per_mm, growth, style);
    Drawing { svg: pen.finish(), words: words(given, &ruler, seen, style) }
}

/// The nominal edges of the modules, each a broken line from the upper scale down.
fn nominal(pen: &mut Pen, module: f64) {
    let mut x = FIRST;
    while x - module >= LEFT {
        x -= module;
    }
    while x <= RIGHT {
        pen.named("nominal", Ink::Broken, &straight((x, UPPER), (x, BARS.1 + 8.0)));
        x += module;
    }
}

fn scales(pen: &mut Pen, ruler: &Ruler, per_mm: f64, growth: f64, style: Style) {
    let printed = FIRST - growth / 2.0 * per_mm;
    pen.line(Ink::Fine, (LEFT, UPPER), (RIGHT, UPPER));
    pen.line(Ink::Fine, (LEFT, LOWER), (RIGHT, LOWER));
    let last = |from: f64| ruler.fit((RIGHT - 4.0 - from) / per_mm);
    ruler.lay(pen, "upper-scale", Lies { nought: (FIRST, UPPER), per_mm, down: -1.0 }, last(FIRST), style);
    ruler.lay(pen, "lower-scale", Lies { nought: (printed, LOWER), per_mm, down: 1.0 }, last(printed), style);
    pen.label((LEFT, UPPER - 36.0), Anchor::Start, &format!("nominal modules, {}", ruler.unit));
    pen.label((LEFT, LOWER + 42.0), Anchor::Start, &format!("first bar as printed, {}", ruler.unit));
    let note = format!("magnified; 1 small space = {}", ruler.space(style));
    pen.small((RIGHT, LOWER + 42.0), Anchor::End, &note);
}

fn words(given: &Arguments, ruler: &Ruler, seen: u32, style: Style) -> String {
    let (module, growth) = (given.number("module"), given.number("growth"));
    let between = ruler.numbered.unsigned_abs();
    let number = |whole: u32| style.short(f64::from(whole) * f64::from(ruler.numbered) * ruler.counts);
    let place = |length: f64| past(length / ruler.small, between, number);
    let bars = if seen == 1 { "one bar".to_owned() } else { format!("{} bars", super::scales::in_words(seen)) };
    format!(
        "Under a glass {bars} can be seen on broken lines, which mark the modules; the first bar is one module nominally. \
         One small space on both scales is {}. \
         On the upper scale, from nought at one broken line, the next stands {}. \
         On the lower scale, from nought at the left edge of the first bar, its right edge stands {}.",
        ruler.space(style),
        place(module),
        place(module + growth),
    )
}

fn example(n: u32) -> Arguments {
    let (module, growth, magnification, unit) = match n {
        0 => (0.33, 0.05, None, "mm"),
        1 => (0.264, 0.03, Some(70.0), "mm"),
        2 => (0.3302, 0.0762, None, "mil"),
        3 => (0.5, 0.12, Some(50.0), "mm"),
        4 => (0.66, -0.03, Some(50.0), "mm"),
        _ => (0.3937, -0.0254, Some(90.0), "mil"),
    };
    let mut given = Arguments { grain: u64::from(n), ..Arguments::default() };
    given.numbers.insert("module".to_owned(), module);
    given.numbers.insert("growth".to_owned(), growth);
    given.numbers.extend(magnification.map(|times| ("magnification".to_owned(), times)));
    given.words.insert("unit".to_owned(), unit.to_owned());
    given
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::proof::{Points, Seen, pulls, sound};

    /// Units of drawing for a mm, from the marks of a scale.
    fn a_mm(scale: &Points, mil: bool) -> f64 {
        let marks = scale.len() / 2 - 1;
        let last = scale[2 * marks].0 - scale[0].0;
        last / (f64::from(u32::try_from(marks).expect("it is there")) * if mil { 0.0254 } else { 0.02 })
    }

    #[test]
    fn module_and_bar_are_as_given_by_the_scales_drawn() {
        for given in pulls(&BAR_CODE_MODULE, 240, &|_| 0) {
            let drawing = sound(&BAR_CODE_MODULE, &given);
            let seen = Seen::of(&drawing.svg);
            let mil = given.word("unit") == "mil";
            let (upper, lower) = (seen.one("upper-scale"), seen.one("lower-scale"));
            let nominal: Vec<f64> = seen.named("nominal").iter().map(|line| line[0].0).collect();
            let first = nominal.iter().position(|x| (x - upper[0].0).abs() < 0.011).expect("it is there");
            let module = (nominal[first + 1] - nominal[first]) / a_mm(&upper, mil);
            assert!((module - given.number("module")).abs() < 0.001, "{given:?}");
            let bar = seen.one("first-bar");
            assert!((bar[0].0 - lower[0].0).abs() < 0.011);
            let printed = (bar[1].0 - bar[0].0) / a_mm(&lower, mil);
            assert!((printed - module - given.number("growth")).abs() < 0.001, "{given:?}");
            let (left, right) = (upper[0].0 - bar[0].0, bar[1].0 - nominal[first + 1]);
            assert!((left - right).abs() < 0.05, "half of the growth is at each edge: {given:?}");
            for scale in [&upper, &lower] {
                assert!(scale[scale.len() - 1].0 > bar[1].0, "the scales reach past the first bar");
            }
        }
    }

    #[test]
    fn numbers_stand_at_the_marks_they_belong_to() {
        let seen = Seen::of(&draw(&example(0), Style { mark: '.' }).svg);
        let scale = seen.one("upper-scale");
        for (says, mark) in [("0.2", 10), ("0.4", 20), ("1", 50)] {
            let text = seen.text_saying(says).expect("it is there");
            assert!((f64::midpoint(text.low.0, text.high.0) - scale[2 * mark].0).abs() < 0.02);
        }
    }

    #[test]
    fn words_read_the_scales() {
        let words = draw(&example(0), Style { mark: ',' }).words;
        assert!(words.contains("the next stands six and a half small marks past 0,2."), "{words}");
        assert!(words.contains("its right edge stands nine small marks past 0,2."), "{words}");
    }
}
