//! A control chart: readings in order, with their centre and limits.

use std::fmt::Write as _;

use super::strokes::spread;
use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};

/// Where the readings lie, in drawing units.
const LEFT: f64 = 66.0;
const RIGHT: f64 = 426.0;
const TOP: f64 = 22.0;
const BOTTOM: f64 = 322.0;
/// How many numbers the scale should have, at least.
const LEAST_NUMBERS: f64 = 4.0;
/// Spaces between two numbers of the scale.
const SMALL_MARKS: u32 = 5;

/// How many readings one sentence tells.
const IN_A_SENTENCE: usize = 20;

/// Readings joined by lines, the centre line, the limits, and lines at two thirds of them.
pub(super) const CONTROL_CHART: Figure = Figure { name: "control-chart", draw, example };

/// The scale of the readings: what stands at the bottom and at the top, and how far its numbers stand apart.
#[derive(Debug, Clone, Copy)]
struct Scale {
    least: f64,
    most: f64,
    apart: f64,
}

impl Scale {
    /// A scale with round numbers that holds all values.
    fn of(values: &[f64]) -> Self {
        let least = values.iter().copied().fold(f64::INFINITY, f64::min);
        let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let room = (most - least).max(1e-9);
        let mut apart = 1e-6;
        for factor in [2.0, 2.5, 2.0].into_iter().cycle().take(60) {
            if room / apart <= 2.0 * LEAST_NUMBERS {
                break;
            }
            apart *= factor;
        }
        let down = |value: f64| (value / apart).floor() * apart;
        Self { least: down(least - 0.2 * apart), most: down(most + 0.2 * apart) + apart, apart }
    }

    fn height(self, value: f64) -> f64 {
        BOTTOM - (value - self.least) / (self.most - self.least) * (BOTTOM - TOP)
    }

    /// How many decimals its numbers need.
    fn decimals(self) -> usize {
        (0..6)
            .find(|places| {
                let scaled = self.apart * 10_f64.powi(*places);
                (scaled - scaled.round()).abs() < 1e-6
            })
            .and_then(|places| usize::try_from(places).ok())
            .unwrap_or(6)
    }
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let readings = given.series("readings");
    let (centre, lower, upper) = (given.number("centre"), given.number("lower"), given.number("upper"));
    let lines = [centre, lower, upper];
    let scale = Scale::of(&[readings, &lines[..]].concat());
    let mut pen = Pen::new(480.0, 368.0);
    axis(&mut pen, scale, style);
    let across = |pen: &mut Pen, name: &'static str, ink: Ink, value: f64| {
        let y = n(scale.height(value));
        pen.named(name, ink, &format!("M{} {y}H{}", n(LEFT), n(RIGHT)));
    };
    across(&mut pen, "centre", Ink::Line, centre);
    across(&mut pen, "lower", Ink::Broken, lower);
    across(&mut pen, "upper", Ink::Broken, upper);
    for limit in [upper, lower] {
        across(&mut pen, "two-thirds", Ink::Grid, centre + (limit - centre) * 2.0 / 3.0);
    }
    labels(&mut pen, scale, [(centre, "centre"), (upper, "upper"), (lower, "lower")]);
    let points = points(readings, scale);
    let joined = points
        .iter()
        .enumerate()
        .map(|(index, (x, y))| format!("{}{} {}", if index == 0 { 'M' } else { 'L' }, n(*x), n(*y)));
    pen.named("readings", Ink::Line, &joined.collect::<String>());
    pen.dots(7.0, points.iter().copied());
    for (number, (x, _)) in (1..).zip(&points) {
        let number: usize = number;
        if number == 1 || number.is_multiple_of(5) {
            pen.small((*x, BOTTOM + 18.0), Anchor::Middle, &number.to_string());
        }
    }
    pen.label((f64::midpoint(LEFT, RIGHT), BOTTOM + 40.0), Anchor::Middle, "reading");
    Drawing { svg: pen.finish(), words: words(readings, lines, scale, style) }
}

/// The names of the lines behind their ends, moved apart where the lines lie close.
fn labels(pen: &mut Pen, scale: Scale, mut lines: [(f64, &str); 3]) {
    lines.sort_by(|a, b| b.0.total_cmp(&a.0));
    let wanted = lines.map(|(value, _)| scale.height(value));
    for (((_, text), from), to) in lines.into_iter().zip(wanted).zip(spread(&wanted, 13.0, BOTTOM)) {
        pen.line(Ink::Fine, (RIGHT, from), (RIGHT + 8.0, to));
        pen.small((RIGHT + 11.0, to + 4.0), Anchor::Start, text);
    }
}

fn points(readings: &[f64], scale: Scale) -> Vec<(f64, f64)> {
    #[expect(clippy::cast_precision_loss, reason = "a chart has few readings")]
    let place = |index: usize| LEFT + (RIGHT - LEFT) * (index as f64 + 0.5) / readings.len().max(1) as f64;
    readings.iter().enumerate().map(|(index, value)| (place(index), scale.height(*value))).collect()
}

/// The scale at the left: numbers, and small marks between them.
fn axis(pen: &mut Pen, scale: Scale, style: Style) {
    let mut marks = format!("M{} {}V{}", n(LEFT), n(BOTTOM), n(TOP));
    let mut small = 0_u32;
    loop {
        let value = scale.least + f64::from(small) * scale.apart / f64::from(SMALL_MARKS);
        if value > scale.most + scale.apart * 1e-6 {
            break;
        }
        let is_number = small.is_multiple_of(SMALL_MARKS);
        let y = scale.height(value);
        let _ = write!(marks, "M{} {}h{}", n(LEFT), n(y), if is_number { "-8" } else { "-4" });
        if is_number {
            pen.small((LEFT - 12.0, y + 4.0), Anchor::End, &style.number(value, scale.decimals()));
        }
        small += 1;
    }
    pen.named("scale", Ink::Fine, &marks);
    pen.named("foot", Ink::Fine, &format!("M{} {}H{}", n(LEFT), n(BOTTOM), n(RIGHT)));
}

fn words(readings: &[f64], [centre, lower, upper]: [f64; 3], scale: Scale, style: Style) -> String {
    let places = scale.decimals() + 1;
    let number = |value: f64| style.number(value, places);
    let mut words = format!(
        "A chart of {} readings. The centre line stands at {}, the lower limit at {}, the upper at {}, \
         with thin lines two thirds of the way to each.",
        readings.len(),
        number(centre),
        number(lower),
        number(upper),
    );
    for (index, some) in readings.chunks(IN_A_SENTENCE).enumerate() {
        let list: Vec<String> = some.iter().map(|value| number(*value)).collect();
        let from = index * IN_A_SENTENCE + 1;
        let _ = write!(words, " In order from reading {from} on: {}.", list.join("; "));
    }
    words
}

fn example(number: u32) -> Arguments {
    let shift = f64::from(number) * 0.01;
    let readings = (0..20u32).map(|index| {
        let wave = f64::from((index * 7 + number * 3) % 11) / 11.0 - 0.5;
        let trend = if number.is_multiple_of(2) { 0.0 } else { f64::from(index) * 0.002 };
        ((1.30 + shift + 0.06 * wave + trend) * 100.0).round() / 100.0
    });
    Arguments {
        numbers: [("centre", 1.30 + shift), ("lower", 1.24 + shift), ("upper", 1.36 + shift)]
            .map(|(name, value)| (name.to_owned(), value))
            .into(),
        series: [("readings".to_owned(), readings.collect())].into(),
        grain: u64::from(number),
        ..Arguments::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::proof::{Seen, pulls, sound};

    /// What a height on the sheet stands for, by two numbers of the drawn scale.
    fn scale_of(seen: &Seen) -> impl Fn(f64) -> f64 {
        let upright = seen.one("scale")[0].0;
        let numbers: Vec<(f64, f64)> = seen
            .texts
            .iter()
            .filter(|text| text.high.0 < upright)
            .map(|text| (text.low.1 + 0.74 * 11.0 - 4.0, text.says.replace('−', "-").parse().expect("a number")))
            .collect();
        let ((low_y, low), (high_y, high)) = (numbers[0], numbers[numbers.len() - 1]);
        assert!(numbers.len() >= 4, "{numbers:?}");
        move |y| low + (y - low_y) / (high_y - low_y) * (high - low)
    }

    fn long(given: &Arguments) -> usize {
        usize::try_from(given.grain % 36 + 5).expect("a few")
    }

    #[test]
    fn readings_centre_and_limits_stand_where_the_scale_says() {
        for given in pulls(&CONTROL_CHART, 120, &long) {
            let drawing = sound(&CONTROL_CHART, &given);
            let seen = Seen::of(&drawing.svg);
            let value = scale_of(&seen);
            // The marks part the scale; half of the place asked for is a tenth of such a part.
            let marks: Vec<f64> = seen.one("scale").iter().skip(2).step_by(2).map(|mark| value(mark.1)).collect();
            let near = (marks[1] - marks[0]).abs() / 10.0;
            let off = |y: f64, asked: f64| (value(y) - asked).abs();
            for name in ["centre", "lower", "upper"] {
                assert!(off(seen.one(name)[0].1, given.number(name)) < near, "{name}: {given:?}");
            }
            let drawn = seen.one("readings");
            assert_eq!(drawn.len(), given.series("readings").len());
            for (point, reading) in drawn.iter().zip(given.series("readings")) {
                assert!(off(point.1, *reading) < near, "{given:?}");
            }
            assert!(drawn.windows(2).all(|pair| pair[0].0 < pair[1].0), "in order");
            let centre = given.number("centre");
            let thin = seen.named("two-thirds");
            assert_eq!(thin.len(), 2);
            for (line, limit) in thin.iter().zip(["upper", "lower"]) {
                let third = (given.number(limit) - centre) / 3.0;
                assert!(off(line[0].1, given.number(limit) - third) < near, "{given:?}");
            }
        }
    }

    #[test]
    fn every_fifth_reading_has_its_number_below_it() {
        for number in 0..6 {
            let seen = Seen::of(&draw(&example(number), Style { mark: '.' }).svg);
            let readings = seen.one("readings");
            for says in ["1", "5", "10", "15", "20"] {
                let text = seen.texts.iter().rfind(|text| text.says == says).expect("it is there");
                let at = readings[says.parse::<usize>().expect("a number") - 1].0;
                assert!((f64::midpoint(text.low.0, text.high.0) - at).abs() < 0.02, "{says}");
            }
        }
    }

    #[test]
    fn words_tell_every_reading_in_order() {
        let given = example(1);
        let words = draw(&given, Style { mark: '.' }).words;
        let (_, told) = words.split_once("from reading 1 on: ").expect("it is there");
        let told: Vec<f64> = told.trim_end_matches('.').split("; ").map(|one| one.parse().expect("a number")).collect();
        assert!(told.iter().zip(given.series("readings")).all(|(told, given)| (told - given).abs() < 0.005), "{words}");
        assert_eq!(told.len(), 20);
        assert!(
            words.contains("The centre line stands at 1.310, the lower limit at 1.250, the upper at 1.370"),
            "{words}"
        );
    }
}
