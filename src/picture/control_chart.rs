//! A control chart: readings in order, with their centre and limits.

use std::fmt::Write as _;

use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};

/// Where the readings lie, in drawing units.
const LEFT: f64 = 64.0;
const RIGHT: f64 = 452.0;
const TOP: f64 = 22.0;
const BOTTOM: f64 = 322.0;
/// How many numbers the scale should have, at least.
const LEAST_NUMBERS: f64 = 4.0;
/// Spaces between two numbers of the scale.
const SMALL_MARKS: u32 = 5;

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
    let mut pen = Pen::new(520.0, 368.0);
    axis(&mut pen, scale, style);
    let across = |pen: &mut Pen, name: &'static str, ink: Ink, value: f64| {
        let y = n(scale.height(value));
        pen.named(name, ink, &format!("M{} {y}H{}", n(LEFT), n(RIGHT)));
    };
    across(&mut pen, "centre", Ink::Line, centre);
    across(&mut pen, "lower", Ink::Broken, lower);
    across(&mut pen, "upper", Ink::Broken, upper);
    for share in [2.0 / 3.0, -2.0 / 3.0] {
        let limit = if share > 0.0 { upper } else { lower };
        across(&mut pen, "two-thirds", Ink::Grid, centre + (limit - centre).abs() * share);
    }
    for (value, text) in [(centre, "centre"), (upper, "upper"), (lower, "lower")] {
        pen.small((RIGHT + 5.0, scale.height(value) + 4.0), Anchor::Start, text);
    }
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
    let list: Vec<String> = readings.iter().map(|value| number(*value)).collect();
    format!(
        "A chart of {} readings. The centre line stands at {}, the lower limit at {}, the upper at {}. In order the readings are {}.",
        readings.len(),
        number(centre),
        number(lower),
        number(upper),
        list.join("; ")
    )
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
