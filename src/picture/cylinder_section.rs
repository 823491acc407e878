//! A plate cylinder in section, with its layers magnified beside it.

use super::strokes::{Division, Point, band, block, closed, length, ring, span, spread};
use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};
use std::fmt::Write as _;

/// A plate cylinder seen from its end: bare cylinder, tape, plate and the pitch line of its gear, the layers magnified.
pub(super) const CYLINDER_SECTION: Figure = Figure { name: "cylinder-section", draw, example };

const CENTRE: Point = (98.0, 116.0);
const RADIUS: f64 = 84.0;
const LEFT: f64 = 230.0;
const EDGE: f64 = 304.0;
const RIGHT: f64 = 322.0;
const TOP: f64 = 44.0;
const BOTTOM: f64 = 274.0;
const TIMES: [f64; 29] = [
    1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0,
    120.0, 150.0, 200.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0,
];

/// What is drawn, in millimetres of radius, and at what scales.
struct Build {
    bare: f64,
    tape: f64,
    plate: f64,
    pitch: f64,
    units: f64,
    times: f64,
    unit: &'static str,
}

impl Build {
    fn new(given: &Arguments) -> Self {
        let (bare, pitch) = (given.number("bare_diameter") / 2.0, given.number("pitch_diameter") / 2.0);
        let (tape, plate) = (given.number("tape"), given.number("plate"));
        let most = pitch.max(bare + tape + plate);
        let units = RADIUS / most;
        let deep = most - bare.min(pitch);
        let fits = |times: &&f64| **times * units * deep <= 188.0;
        let times = TIMES.iter().rev().find(fits).copied().unwrap_or(1.0);
        let unit = if given.word("unit") == "in" { "in" } else { "mm" };
        Self { bare, tape, plate, pitch, units, times, unit }
    }

    fn surface(&self) -> f64 {
        self.bare + self.tape + self.plate
    }

    /// The height on the sheet of a radius, in the magnified piece.
    fn height(&self, radius: f64) -> f64 {
        BOTTOM - 28.0 - (radius - self.bare.min(self.pitch)) * self.units * self.times
    }
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let build = Build::new(given);
    let mut pen = Pen::new(440.0, 286.0);
    section(&mut pen, &build);
    diameters(&mut pen, &build, style);
    layers(&mut pen, &build);
    scale(&mut pen, &build, style);
    labels(&mut pen, &build, style);
    Drawing { svg: pen.finish(), words: words(&build, style) }
}

fn section(pen: &mut Pen, build: &Build) {
    let at = |millimetres: f64| millimetres * build.units;
    pen.named("bare", Ink::Tone, &ring(CENTRE, at(build.bare)));
    let plate = (at(build.bare + build.tape), at(build.surface()));
    pen.named("wrap", Ink::Solid, &band(CENTRE, plate, -65.0, 245.0));
    pen.named("pitch", Ink::Broken, &ring(CENTRE, at(build.pitch)));
    let shaft = at(build.bare) * 0.2;
    pen.circle(Ink::Paper, CENTRE, shaft);
    let cross = shaft + 5.0;
    pen.line(Ink::Fine, (CENTRE.0 - cross, CENTRE.1), (CENTRE.0 + cross, CENTRE.1));
    pen.line(Ink::Fine, (CENTRE.0, CENTRE.1 - cross), (CENTRE.0, CENTRE.1 + cross));
    let top = CENTRE.1 - at(build.surface());
    pen.circle(Ink::Line, (CENTRE.0, top), 9.0);
    pen.line(Ink::Fine, (CENTRE.0 + 9.0, top), (LEFT - 34.0, TOP - 12.0));
    pen.line(Ink::Fine, (LEFT - 34.0, TOP - 12.0), (LEFT - 6.0, TOP - 12.0));
}

fn diameters(pen: &mut Pen, build: &Build, style: Style) {
    let mut both = [("bare cylinder", build.bare), ("gear pitch line", build.pitch)];
    both.sort_by(|a, b| a.1.total_cmp(&b.1));
    for ((name, radius), y) in both.into_iter().zip([222.0, 252.0]) {
        let half = radius * build.units;
        for x in [CENTRE.0 - half, CENTRE.0 + half] {
            pen.line(Ink::Fine, (x, CENTRE.1), (x, y + 4.0));
        }
        span(pen, (CENTRE.0 - half, y), (CENTRE.0 + half, y));
        let text = format!("{name} {}", length(style, radius * 2.0, build.unit));
        pen.small((CENTRE.0, y + 14.0), Anchor::Middle, &text);
    }
}

fn layers(pen: &mut Pen, build: &Build) {
    let (bare, tape) = (build.height(build.bare), build.height(build.bare + build.tape));
    let (top, pitch) = (build.height(build.surface()), build.height(build.pitch));
    pen.named("cylinder", Ink::Tone, &block(LEFT, bare, EDGE, BOTTOM));
    let floor = tape + (top - tape) * 0.55;
    let (inset, slope) = (LEFT + 10.0, 5.0);
    let relief = [
        (LEFT, tape),
        (LEFT, floor),
        (inset - slope, floor),
        (inset, top),
        (EDGE - 10.0, top),
        (EDGE - 10.0 + slope, floor),
        (EDGE, floor),
        (EDGE, tape),
    ];
    pen.named("relief", Ink::Paper, &closed(&relief));
    pen.named("adhesive", Ink::Solid, &block(LEFT, tape, EDGE, bare));
    pen.named("line-of-pitch", Ink::Broken, &format!("M{} {y}H{}", n(LEFT), n(RIGHT), y = n(pitch)));
    let x = EDGE + 9.0;
    for y in [tape, top] {
        let from = if y < tape { EDGE - 10.0 } else { EDGE };
        pen.line(Ink::Fine, (from, y), (x + 5.0, y));
    }
    pen.line(Ink::Fine, (EDGE, bare), (x + 5.0, bare));
    span(pen, (x, tape), (x, top));
    if bare - tape > 16.0 {
        span(pen, (x, bare), (x, tape));
    }
}

fn division(build: &Build) -> Division {
    let of = |mark, per, decimals| Division { mark, per, decimals };
    let units = build.units * build.times;
    if build.unit == "in" {
        let these = [of(0.002, 5, 2), of(0.005, 2, 2), of(0.01, 5, 2), of(0.05, 2, 1), of(0.1, 5, 1), of(0.5, 2, 0)];
        Division::choose(&these, 6.0, units * 25.4)
    } else {
        let these = [of(0.05, 10, 1), of(0.1, 5, 1), of(0.5, 2, 0), of(1.0, 5, 0), of(5.0, 2, 0), of(10.0, 5, 0)];
        Division::choose(&these, 4.5, units)
    }
}

fn scale(pen: &mut Pen, build: &Build, style: Style) {
    let division = division(build);
    let inch = if build.unit == "in" { 25.4 } else { 1.0 };
    let x = LEFT - 8.0;
    let mut data = format!("M{} {}V{}", n(x), n(build.height(build.bare)), n(TOP));
    for index in 0..200_u32 {
        let value = f64::from(index) * division.mark;
        let y = build.height(build.bare + value * inch);
        if y < TOP {
            break;
        }
        let numbered = index % division.per == 0;
        let _ = write!(data, "M{} {}H{}", n(x), n(y), n(x - if numbered { 8.0 } else { 4.5 }));
        if numbered && y > TOP + 8.0 {
            pen.small((x - 11.0, y + 4.0), Anchor::End, &style.number(value, division.decimals));
        }
    }
    pen.named("upright", Ink::Fine, &data);
    pen.small((x, BOTTOM - 4.0), Anchor::End, build.unit);
}

fn labels(pen: &mut Pen, build: &Build, style: Style) {
    let middle = |from: f64, to: f64| build.height(f64::midpoint(from, to));
    let skin = build.bare + build.tape;
    let mut labels = vec![
        (build.height(build.surface()), 0, "printing surface".to_owned()),
        (build.height(build.pitch), 1, "pitch line".to_owned()),
        (middle(skin, build.surface()), 2, format!("plate {}", length(style, build.plate, build.unit))),
        (middle(build.bare, skin), 3, format!("tape {}", length(style, build.tape, build.unit))),
        (build.height(build.bare) + 14.0, 4, "bare cylinder".to_owned()),
    ];
    labels.sort_by(|a, b| (a.0 * 10.0).round().total_cmp(&(b.0 * 10.0).round()).then(a.1.cmp(&b.1)));
    let wanted: Vec<f64> = labels.iter().map(|label| label.0).collect();
    for ((y, kind, text), height) in labels.into_iter().zip(spread(&wanted, 15.0, BOTTOM - 4.0)) {
        let from = match kind {
            1 => RIGHT,
            4 => EDGE - 6.0,
            _ => EDGE + 9.0,
        };
        pen.line(Ink::Fine, (from, y), (RIGHT + 8.0, height));
        pen.small((RIGHT + 11.0, height + 4.0), Anchor::Start, &text);
    }
    pen.label((LEFT, 18.0), Anchor::Start, &format!("edge magnified {} times", style.short(build.times)));
    pen.small((LEFT, 33.0), Anchor::Start, "not to the scale of the section");
}

fn words(build: &Build, style: Style) -> String {
    let of = |millimetres: f64| length(style, millimetres, build.unit);
    format!(
        "The bare cylinder measures {} across, the pitch line of its gear {}. On the cylinder lies a tape {} thick, \
         on the tape a plate {} thick. Beside the section a piece of its edge is magnified {} times.",
        of(build.bare * 2.0),
        of(build.pitch * 2.0),
        of(build.tape),
        of(build.plate),
        style.short(build.times)
    )
}

fn example(index: u32) -> Arguments {
    let (bare, tape, plate, pitch, unit) = match index {
        0 => (93.983, 0.38, 1.14, 97.023, "mm"),
        1 => (158.476, 0.5, 1.7, 162.676, "mm"),
        2 => (94.18, 0.381, 1.143, 97.028, "in"),
        3 => (198.84, 0.2, 1.14, 202.13, "mm"),
        4 => (119.31, 0.1, 2.54, 124.59, "mm"),
        _ => (301.24, 0.508, 2.84, 307.94, "in"),
    };
    let mut given = Arguments { grain: u64::from(index) + 11, ..Arguments::default() };
    for (name, value) in [("bare_diameter", bare), ("tape", tape), ("plate", plate), ("pitch_diameter", pitch)] {
        given.numbers.insert(name.to_owned(), value);
    }
    given.words.insert("unit".to_owned(), unit.to_owned());
    given
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::gauge::{POINT, bounds, cases, holds, named, texts};

    #[test]
    fn it_keeps_what_every_figure_keeps() {
        holds(&CYLINDER_SECTION);
    }

    /// The layers from the magnified piece: its scale comes from the drawn marks and the numbers beside them.
    #[test]
    fn the_layers_measure_what_was_given() {
        for given in cases(&CYLINDER_SECTION) {
            let drawing = draw(&given, POINT);
            let (_, tape, _, bare) = bounds(&drawing, "adhesive");
            let (_, top, _, foot) = bounds(&drawing, "relief");
            let (_, pitch, _, _) = bounds(&drawing, "line-of-pitch");
            let deep = (given.number("pitch_diameter") - given.number("bare_diameter")).abs();
            let strokes = named(&drawing, "upright");
            let (x, foot_mark) = strokes[1][0];
            assert!((foot_mark - bare).abs() < 0.02, "nought is the bare surface");
            let numbers: Vec<(f64, f64)> = texts(&drawing)
                .into_iter()
                .filter(|(at, says)| (x - 12.0..x - 8.0).contains(&at.0) && says.parse::<f64>().is_ok())
                .map(|(at, says)| (at.1 - 4.0, says.parse().expect("it is there")))
                .collect();
            if numbers.len() == 1 {
                assert!(deep > 60.0, "only a gear that never fits leaves no room for the ruler: {given:?}");
                continue;
            }
            let (end, most) = numbers[numbers.len() - 1];
            assert!((numbers[0].0 - foot_mark).abs() < 0.02);
            assert!(strokes.iter().skip(1).any(|mark| (mark[0].1 - end).abs() < 0.02), "a number stands at its mark");
            let inch = if given.word("unit") == "in" { 25.4 } else { 1.0 };
            let units = (foot_mark - end) / (most * inch);
            let near = 0.005_f64.max(0.02 / units);
            assert!(deep > 10.0 || near < 0.0051, "a hundredth of a millimetre is there");
            assert!(((bare - tape) / units - given.number("tape")).abs() < near, "{given:?}");
            assert!(((foot - top) / units - given.number("plate")).abs() < near, "{given:?}");
            let over = (given.number("pitch_diameter") - given.number("bare_diameter")) / 2.0;
            assert!(((bare - pitch) / units - over).abs() < near.max(0.0005 * deep), "{given:?}");
        }
    }

    /// The section is to its own scale, and the stated magnification is the one drawn.
    #[test]
    fn the_section_and_the_magnification_agree() {
        for given in cases(&CYLINDER_SECTION) {
            let drawing = draw(&given, POINT);
            let across = |name: &str| {
                let (left, _, right, _) = bounds(&drawing, name);
                right - left
            };
            let ratio = across("bare") / across("pitch");
            let true_ratio = given.number("bare_diameter") / given.number("pitch_diameter");
            assert!((ratio / true_ratio - 1.0).abs() < 0.001, "{given:?}");
            let section = across("bare") / given.number("bare_diameter");
            let (_, tape, _, _) = bounds(&drawing, "adhesive");
            let (_, top, _, _) = bounds(&drawing, "relief");
            let piece = (tape - top) / given.number("plate");
            let says = drawing.svg.split("magnified ").nth(1).expect("it is there");
            let times: f64 = says.split(' ').next().expect("it is there").parse().expect("it is there");
            assert!((piece / section / times - 1.0).abs() < 0.015, "{given:?}");
        }
    }

    /// Every length is printed where it is dimensioned, in the unit asked for.
    #[test]
    fn the_printed_lengths_are_the_given_ones() {
        for given in cases(&CYLINDER_SECTION) {
            let drawing = draw(&given, POINT);
            let unit = if given.word("unit") == "in" { "in" } else { "mm" };
            let inch = if unit == "in" { 25.4 } else { 1.0 };
            let printed = |name: &str| -> f64 {
                let all = texts(&drawing);
                let (_, says) =
                    all.iter().find(|(_, says)| says.starts_with(name) && says.ends_with(unit)).expect("it is there");
                says[name.len()..].trim_end_matches(unit).trim().parse().expect("it is there")
            };
            for (name, argument) in [
                ("bare cylinder ", "bare_diameter"),
                ("gear pitch line ", "pitch_diameter"),
                ("tape ", "tape"),
                ("plate ", "plate"),
            ] {
                let most = if unit == "in" { 0.00006 } else { 0.0006 };
                assert!((printed(name) - given.number(argument) / inch).abs() < most, "{name} {given:?}");
            }
        }
    }

    #[test]
    fn above_on_and_below_look_different() {
        let stands = |pitch: f64| {
            let mut given = example(0);
            given.numbers.insert("pitch_diameter".to_owned(), pitch);
            let drawing = draw(&given, POINT);
            bounds(&drawing, "line-of-pitch").1 - bounds(&drawing, "relief").1
        };
        let flush = 93.983 + 2.0 * 1.52;
        assert!(stands(flush).abs() < 0.02);
        assert!(stands(flush + 0.05) < -2.0, "the pitch line lies higher on the sheet");
        assert!(stands(flush - 0.05) > 2.0);
    }
}
