//! A gear with its teeth, and the repeat laid flat under it.

use super::strokes::{Division, Point, arc, block, closed, closed_short, head, length, polar, ruler, spelled, whole};
use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style};

/// A gear whose teeth can be counted by tens, the pitch of its teeth, and one repeat laid flat on a ruler.
pub(super) const GEAR_AND_REPEAT: Figure = Figure { name: "gear-and-repeat", draw, example };

const CENTRE: Point = (200.0, 164.0);
const TIP: f64 = 146.0;
const LEFT: f64 = 20.0;
const LONG: f64 = 360.0;

struct Gear {
    teeth: u32,
    pitch: f64,
    repeat: f64,
    labels: u32,
    unit: &'static str,
}

impl Gear {
    fn new(given: &Arguments) -> Self {
        let teeth = whole(given.number("teeth")).max(1);
        let pitch = given.number("pitch");
        let repeat = given.maybe("repeat").unwrap_or(f64::from(teeth) * pitch);
        let labels = whole(given.maybe("labels").unwrap_or(0.0));
        Self { teeth, pitch, repeat, labels, unit: if given.word("unit") == "in" { "in" } else { "mm" } }
    }

    /// The repeat in the unit of the ruler.
    fn long(&self) -> f64 {
        if self.unit == "in" { self.repeat / 25.4 } else { self.repeat }
    }

    fn division(&self) -> Division {
        let of = |mark, per| Division { mark, per, decimals: 0 };
        let units = LONG / self.long();
        if self.unit == "in" {
            Division::choose(&[of(0.125, 8), of(0.25, 8), of(0.5, 10)], 3.0, units)
        } else {
            Division::choose(&[of(1.0, 10), of(2.0, 10), of(5.0, 10), of(10.0, 10)], 3.0, units)
        }
    }

    /// Units on the sheet to one unit of the ruler; the ruler ends at the first mark past the strip.
    fn units(&self) -> f64 {
        let mark = self.division().mark;
        LONG / ((self.long() / mark - 0.001).ceil() * mark)
    }

    /// The radius of the pitch line and the module, on the sheet.
    fn drawn(&self) -> (f64, f64) {
        let radius = TIP / (1.0 + 2.0 / f64::from(self.teeth));
        (radius, 2.0 * radius / f64::from(self.teeth))
    }

    /// The direction of the middle of a tooth; the first is on top, the others follow with the clock.
    fn middle(&self, tooth: u32) -> f64 {
        90.0 - (f64::from(tooth) - 1.0) * 360.0 / f64::from(self.teeth)
    }

    /// One tooth from root to root, with the clock.
    fn tooth(&self, tooth: u32) -> [Point; 4] {
        let (radius, module) = self.drawn();
        let middle = self.middle(tooth);
        let at = |height: f64, side: f64| {
            let thick = module * (std::f64::consts::FRAC_PI_4 - height * 0.364);
            let reach = radius + height * module;
            polar(CENTRE, reach, middle - side * (thick / reach).to_degrees())
        };
        [at(-1.25, -1.0), at(1.0, -1.0), at(1.0, 1.0), at(-1.25, 1.0)]
    }
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let gear = Gear::new(given);
    let mut pen = Pen::new(400.0, 394.0);
    wheel(&mut pen, &gear);
    counts(&mut pen, &gear, style);
    pitch(&mut pen, &gear, style);
    strip(&mut pen, &gear, style);
    Drawing { svg: pen.finish(), words: words(&gear, style) }
}

fn wheel(pen: &mut Pen, gear: &Gear) {
    let outline: Vec<Point> = (1..=gear.teeth).flat_map(|tooth| gear.tooth(tooth)).collect();
    pen.named("teeth", Ink::Fine, &closed_short(&outline, 10.0));
    pen.circle(Ink::Line, CENTRE, 34.0);
    let key = [(-7.0, -33.2), (-7.0, -41.0), (7.0, -41.0), (7.0, -33.2)].map(|(x, y)| (CENTRE.0 + x, CENTRE.1 + y));
    pen.path(Ink::Paper, &closed(&key));
    pen.path(Ink::Blank, &block(CENTRE.0 - 6.2, CENTRE.1 - 36.0, CENTRE.0 + 6.2, CENTRE.1 - 32.0));
    pen.small((CENTRE.0, CENTRE.1 + 54.0), Anchor::Middle, "gear and strip are not");
    pen.small((CENTRE.0, CENTRE.1 + 68.0), Anchor::Middle, "drawn to the same scale");
}

fn counts(pen: &mut Pen, gear: &Gear, style: Style) {
    let (radius, module) = gear.drawn();
    let root = radius - 1.25 * module;
    let mut dark = String::new();
    for tooth in (10..=gear.teeth).step_by(10) {
        dark.push_str(&closed_short(&gear.tooth(tooth), 10.0));
        let (x, y) = polar(CENTRE, root - 13.0, gear.middle(tooth));
        pen.small((x, y + 4.0), Anchor::Middle, &style.number(f64::from(tooth), 0));
    }
    pen.named("tenth", Ink::Solid, &dark);
    pen.dots(2.6, (5..=gear.teeth).step_by(10).map(|tooth| polar(CENTRE, root - 4.5, gear.middle(tooth))));
    pen.small((CENTRE.0, CENTRE.1 - TIP - 5.0), Anchor::Middle, "1");
}

fn pitch(pen: &mut Pen, gear: &Gear, style: Style) {
    let (radius, _) = gear.drawn();
    let first = whole(f64::from(gear.teeth) / 8.0) + 1;
    let (high, low) = (gear.middle(first), gear.middle(first + 1));
    let more = (high - low) * 1.5;
    pen.path(Ink::Broken, &arc(CENTRE, radius, high + more, low - more));
    for (name, direction) in [("from-tooth", high), ("to-tooth", low)] {
        let ends = [polar(CENTRE, radius, direction), polar(CENTRE, TIP + 14.0, direction)];
        pen.named(name, Ink::Fine, &super::strokes::through(&ends));
    }
    let out = TIP + 10.0;
    let tail = (15.0 / out).to_degrees();
    pen.path(Ink::Fine, &arc(CENTRE, out, high + tail, high));
    pen.path(Ink::Fine, &arc(CENTRE, out, low - tail, low));
    head(pen, polar(CENTRE, out, high), high - 90.0 + 1.5, 6.0);
    head(pen, polar(CENTRE, out, low), low + 90.0 - 1.5, 6.0);
    pen.small((392.0, 20.0), Anchor::End, "tooth pitch");
    pen.small((392.0, 34.0), Anchor::End, &length(style, gear.pitch, gear.unit));
    pen.line(Ink::Fine, (336.0, 37.0), polar(CENTRE, TIP + 15.0, f64::midpoint(high, low)));
}

fn strip(pen: &mut Pen, gear: &Gear, style: Style) {
    let (top, bottom) = (336.0, 362.0);
    let units = gear.units();
    let right = LEFT + gear.long() * units;
    pen.small((LEFT, top - 6.0), Anchor::Start, "one repeat, laid flat");
    pen.small((LEFT + LONG, top - 6.0), Anchor::End, if gear.unit == "in" { "ruler in inches" } else { "ruler in mm" });
    pen.named("strip", Ink::Tone, &block(LEFT, top, right, bottom));
    if gear.labels > 0 {
        let each = (right - LEFT) / f64::from(gear.labels);
        let gap = (each * 0.1).min(3.0);
        let mut data = String::new();
        for label in 0..gear.labels {
            let from = LEFT + f64::from(label) * each;
            let (west, east) = (from + gap, from + each - gap);
            let corners = [(west, top + 4.0), (east, top + 4.0), (east, bottom - 4.0), (west, bottom - 4.0)];
            data.push_str(&closed_short(&corners, 100.0));
        }
        pen.named("label", Ink::Blank, &data);
    }
    ruler(pen, style, (LEFT, bottom + 5.0), units, LONG / units, gear.division());
}

fn words(gear: &Gear, style: Style) -> String {
    let tens = gear.teeth - gear.teeth % 10;
    let more = match gear.teeth % 10 {
        0 => "tooth 1 follows at once".to_owned(),
        1 => "one more follows before tooth 1".to_owned(),
        many => format!("{} more follow before tooth 1", spelled(many)),
    };
    let division = gear.division();
    let name = if gear.unit == "in" { "inches" } else { "millimetres" };
    let labels = match gear.labels {
        0 => String::new(),
        1 => ", with one label on it".to_owned(),
        many => format!(", with {} equal labels on it", spelled(many)),
    };
    format!(
        "Every tenth tooth of the gear is dark and numbered, counted with the clock from tooth 1: after number {tens} \
         {more}. From one tooth to the next is {} along the pitch line. One repeat lies flat on a ruler in {name} with \
         {} small marks from number to number{labels}. Its end stands {}.",
        length(style, gear.pitch, gear.unit),
        spelled(division.per),
        division.reading(style, gear.long()),
    )
}

fn example(index: u32) -> Arguments {
    let (teeth, pitch, labels, unit) = match index {
        0 => (96.0, 3.175, 4.0, "mm"),
        1 => (84.0, 3.175, 0.0, "in"),
        2 => (64.0, 6.35, 3.0, "in"),
        3 => (120.0, 5.0, 8.0, "mm"),
        4 => (73.0, std::f64::consts::PI, 2.0, "mm"),
        _ => (157.0, 3.175, 12.0, "mm"),
    };
    let mut given = Arguments { grain: u64::from(index) + 21, ..Arguments::default() };
    given.numbers.insert("teeth".to_owned(), teeth);
    given.numbers.insert("pitch".to_owned(), pitch);
    if labels > 0.0 {
        given.numbers.insert("labels".to_owned(), labels);
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
        holds(&GEAR_AND_REPEAT);
    }

    fn every_count() -> Vec<Arguments> {
        let count = |teeth: u32| {
            let mut given = example(teeth % 6);
            given.numbers.insert("teeth".to_owned(), f64::from(teeth));
            given
        };
        (40..=160).map(count).chain(cases(&GEAR_AND_REPEAT)).collect()
    }

    fn from_centre(p: &Point) -> f64 {
        (p.0 - CENTRE.0).hypot(p.1 - CENTRE.1)
    }

    /// Teeth are counted on the outline: a tooth is a rise from root to tip.
    #[test]
    fn the_teeth_can_be_counted() {
        for given in every_count() {
            let drawing = draw(&given, POINT);
            let outline = named(&drawing, "teeth").concat();
            let radii: Vec<f64> = outline.iter().map(from_centre).collect();
            let level = radii.iter().sum::<f64>() / f64::from(u32::try_from(radii.len()).expect("it is there"));
            let rises = radii.windows(2).filter(|pair| pair[0] < level && pair[1] > level).count();
            assert_eq!(rises, usize::try_from(whole(given.number("teeth"))).expect("it is there"));
            assert_eq!(named(&drawing, "tenth").len(), rises / 10);
        }
    }

    /// The dark teeth are the tenth, twentieth …, from the top with the clock.
    #[test]
    fn every_tenth_tooth_is_the_dark_one() {
        for given in every_count() {
            let drawing = draw(&given, POINT);
            for (index, tooth) in named(&drawing, "tenth").iter().enumerate() {
                let tips: Vec<&Point> = tooth.iter().filter(|p| from_centre(p) > TIP - 0.1).collect();
                let (x, y) = (f64::midpoint(tips[0].0, tips[1].0), f64::midpoint(tips[0].1, tips[1].1));
                let turned = (x - CENTRE.0).atan2(CENTRE.1 - y).to_degrees().rem_euclid(360.0);
                let teeth = turned / 360.0 * given.number("teeth") + 1.0;
                let tens = f64::from(u32::try_from(index + 1).expect("it is there")) * 10.0;
                assert!((teeth - tens).abs() < 0.1, "{teeth} {tens}");
            }
        }
    }

    /// The marked pitch is one tooth: the angle between the two lines goes into the full turn as often as there are teeth.
    #[test]
    fn the_marked_pitch_is_one_tooth() {
        for given in every_count() {
            let drawing = draw(&given, POINT);
            let direction = |name: &str| {
                let ends = named(&drawing, name).concat();
                (ends[1].1 - ends[0].1).atan2(ends[1].0 - ends[0].0).to_degrees()
            };
            let at = |name: &str| {
                let p = named(&drawing, name).concat()[1];
                (p.1 - CENTRE.1).atan2(p.0 - CENTRE.0).to_degrees()
            };
            assert!((direction("from-tooth") - at("from-tooth")).abs() < 0.1, "the line is radial");
            let step = at("to-tooth") - at("from-tooth");
            assert!((360.0 / step - given.number("teeth")).abs() < 0.5, "{given:?}");
            let (unit, inch) = if given.word("unit") == "in" { (" in", 25.4) } else { (" mm", 1.0) };
            let all = texts(&drawing);
            let says = all.iter().find_map(|(_, says)| says.strip_suffix(unit)).expect("it is there");
            let printed: f64 = says.parse().expect("it is there");
            assert!((printed - given.number("pitch") / inch).abs() < 0.0006, "{says} {given:?}");
        }
    }

    /// The strip ends within half a mark of the ruler where the repeat says, and the marks stand a mark apart.
    #[test]
    fn the_strip_measures_the_repeat() {
        for given in every_count() {
            let drawing = draw(&given, POINT);
            let (left, _, right, foot) = bounds(&drawing, "strip");
            let marks: Vec<f64> = named(&drawing, "ruler").iter().skip(1).map(|s| s[0].0).collect();
            assert!((marks[0] - left).abs() < 0.01);
            let numbers: Vec<(f64, f64)> = texts(&drawing)
                .into_iter()
                .filter(|(at, _)| at.1 > foot)
                .map(|(at, says)| (at.0, says.parse().expect("it is there")))
                .collect();
            let (end, most) = numbers[numbers.len() - 1];
            assert_eq!(numbers[0], (left, 0.0));
            assert!(marks.iter().any(|mark| (mark - end).abs() < 0.01), "a number stands under its mark");
            let inch = if given.word("unit") == "in" { 25.4 } else { 1.0 };
            let mark = (marks[1] - marks[0]) / (end - left) * most * inch;
            let measured = (right - left) / (end - left) * most * inch;
            let repeat = given.maybe("repeat").unwrap_or(given.number("teeth") * given.number("pitch"));
            assert!((measured - repeat).abs() < mark * 0.1, "{measured} {repeat}");
            assert!(marks[1] - marks[0] > 2.9, "the marks can be told apart");
            let labels = named(&drawing, "label").len();
            assert_eq!(labels, usize::try_from(whole(given.number("labels"))).expect("it is there"));
        }
    }

    /// The sheet stays small for every count of teeth with the most labels.
    #[test]
    fn no_count_of_teeth_is_too_much_to_send() {
        for mut given in every_count() {
            given.numbers.insert("labels".to_owned(), 24.0);
            let bytes = draw(&given, POINT).svg.len();
            assert!(bytes <= 12_000, "{bytes} {given:?}");
        }
    }

    #[test]
    fn the_words_count_on_from_the_last_number() {
        let words = |teeth: f64| {
            let mut given = example(0);
            given.numbers.insert("teeth".to_owned(), teeth);
            draw(&given, POINT).words
        };
        assert!(words(96.0).contains("after number 90 six more follow before tooth 1."), "{}", words(96.0));
        assert!(words(120.0).contains("after number 120 tooth 1 follows at once."));
        assert!(words(41.0).contains("after number 40 one more follows before tooth 1."));
        assert!(words(96.0).contains("stands just under one small mark past 300"), "304.8 mm: {}", words(96.0));
    }
}
