//! Anilox cells from above beside a plate dot, at one scale.

use super::strokes::{Point, closed_short, ring, span};
use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};
use std::fmt::Write as _;

/// Anilox cells seen from above beside the top of a plate dot, at the same scale, with a scale bar.
pub(super) const CELLS_AND_DOT: Figure = Figure { name: "cells-and-dot", draw, example };

const SIDE: f64 = 210.0;
const CELLS: Point = (10.0, 26.0);
const DOT: Point = (240.0, 26.0);
const DOT_SIDE: f64 = 190.0;
/// Cells across the field, at the least.
const ACROSS: f64 = 4.3;

struct Field {
    step: f64,
    open: f64,
    dot: f64,
    units: f64,
    unit: &'static str,
    sides: u32,
    turned: f64,
}

impl Field {
    fn new(given: &Arguments) -> Self {
        let step = 10_000.0 / given.number("screen").max(1.0);
        let dot = given.number("dot");
        let units = (SIDE / (ACROSS * step)).min((DOT_SIDE - 20.0) / dot);
        let (sides, turned) = match given.word("angle") {
            "30" => (6, 30.0),
            "45" => (4, 45.0),
            _ => (6, 0.0),
        };
        let unit = if given.word("unit") == "mil" { "mil" } else { "µm" };
        Self { step, open: step - given.number("wall"), dot, units, unit, sides, turned }
    }

    /// The middles of the cells about the middle of the field, on the sheet.
    fn middles(&self) -> Vec<Point> {
        let step = self.step * self.units;
        let second = if self.sides == 6 { 60.0 } else { 90.0 };
        let along = super::strokes::polar((0.0, 0.0), step, self.turned);
        let across = super::strokes::polar((0.0, 0.0), step, self.turned + second);
        let middle = (CELLS.0 + SIDE / 2.0, CELLS.1 + SIDE / 2.0);
        let near = SIDE / 2.0 + step;
        let mut middles = Vec::new();
        for i in -12..=12 {
            for j in -12..=12 {
                let (i, j) = (f64::from(i), f64::from(j));
                let (x, y) = (i * along.0 + j * across.0, i * along.1 + j * across.1);
                if x.abs() < near && y.abs() < near {
                    middles.push((middle.0 + x, middle.1 + y));
                }
            }
        }
        middles
    }

    /// One cell, whole.
    fn cell(&self, middle: Point) -> Vec<Point> {
        let half = 180.0 / f64::from(self.sides);
        let turned = half.to_radians();
        let reach = self.open * self.units / 2.0 / libm::cos(turned);
        let corner = |k: u32| super::strokes::polar(middle, reach, self.turned + half * f64::from(2 * k + 1));
        (0..self.sides).map(corner).collect()
    }
}

/// What of a convex shape lies inside the field.
fn cut(mut shape: Vec<Point>) -> Vec<Point> {
    let edges: [fn(Point) -> f64; 4] =
        [|p| p.0 - CELLS.0, |p| CELLS.0 + SIDE - p.0, |p| p.1 - CELLS.1, |p| CELLS.1 + SIDE - p.1];
    for inside in edges {
        let mut kept = Vec::new();
        let ahead = shape.iter().cycle().skip(1);
        for (&from, &to) in shape.iter().zip(ahead) {
            let (a, b) = (inside(from), inside(to));
            if a >= 0.0 {
                kept.push(from);
            }
            if (a >= 0.0) != (b >= 0.0) {
                let part = a / (a - b);
                kept.push((from.0 + part * (to.0 - from.0), from.1 + part * (to.1 - from.1)));
            }
        }
        shape = kept;
    }
    shape
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let field = Field::new(given);
    let mut pen = Pen::new(440.0, 306.0);
    let mut data = String::new();
    for middle in field.middles() {
        let cell = cut(field.cell(middle));
        if cell.len() > 2 {
            data.push_str(&closed_short(&cell, 100.0));
        }
    }
    pen.named("cells", Ink::Solid, &data);
    pen.rect(Ink::Fine, CELLS, SIDE, SIDE);
    pen.rect(Ink::Fine, DOT, DOT_SIDE, SIDE);
    let middle = (DOT.0 + DOT_SIDE / 2.0, DOT.1 + SIDE / 2.0);
    pen.named("dot", Ink::Solid, &ring(middle, field.dot * field.units / 2.0));
    pen.label((CELLS.0 + SIDE / 2.0, 17.0), Anchor::Middle, "anilox cells");
    pen.label((DOT.0 + DOT_SIDE / 2.0, 17.0), Anchor::Middle, "top of a plate dot");
    let y = CELLS.1 + SIDE + 12.0;
    span(&mut pen, (CELLS.0, y), (CELLS.0 + SIDE, y));
    pen.small((CELLS.0 + SIDE / 2.0, y + 15.0), Anchor::Middle, "along the roll axis");
    pen.small((DOT.0 + DOT_SIDE / 2.0, y + 15.0), Anchor::Middle, "same scale");
    bar(&mut pen, &field, style);
    Drawing { svg: pen.finish(), words: words(&field, style) }
}

/// The length of the scale bar in its unit and on the sheet.
fn bar_of(field: &Field) -> (f64, f64) {
    let micrometres = if field.unit == "mil" { 25.4 } else { 1.0 };
    let units = field.units * micrometres;
    let lengths = [1000.0, 500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5];
    let long = lengths.into_iter().find(|long| long * units <= 300.0).unwrap_or(1.0);
    (long, long * units)
}

fn bar(pen: &mut Pen, field: &Field, style: Style) {
    let (long, wide) = bar_of(field);
    let (left, y) = (CELLS.0 + 10.0, 280.0);
    let mut data = format!("M{} {y}H{}", n(left), n(left + wide));
    for part in 0..=10_u32 {
        let x = left + wide * f64::from(part) / 10.0;
        let high = if part % 5 == 0 { 9.0 } else { 5.0 };
        let _ = write!(data, "M{} {}v{}", n(x), n(y - high), n(high));
    }
    pen.named("bar", Ink::Fine, &data);
    pen.small((left, y + 14.0), Anchor::Middle, "0");
    let number = style.number(long, usize::from(long < 1.0));
    let after = 6.0 + number.chars().map(|_| 3.2).sum::<f64>();
    pen.small((left + wide, y + 14.0), Anchor::Middle, &number);
    pen.small((left + wide + after, y + 14.0), Anchor::Start, field.unit);
}

fn words(field: &Field, style: Style) -> String {
    let (long, wide) = bar_of(field);
    let parts = |micrometres: f64, decimals: usize| style.number(micrometres * field.units * 10.0 / wide, decimals);
    let shape = match (field.sides, field.turned > 1.0) {
        (4, _) => "The anilox cells are four-sided and stand on a corner; their rows rise alike to the left and right",
        (_, true) => {
            "The anilox cells are six-sided; one set of their rows runs straight around the roll, none along it"
        }
        (_, false) => {
            "The anilox cells are six-sided; one set of their rows runs straight along the roll, none around it"
        }
    };
    format!(
        "{shape}. The scale bar is {} {} long, in ten equal parts. Ten cells of a row with their walls take {} parts, \
         the wall between two cells {} of a part. The top of the plate dot, at the same scale, takes {} parts across.",
        style.short(long),
        field.unit,
        parts(field.step * 10.0, 2),
        parts(field.step - field.open, 3),
        parts(field.dot, 2)
    )
}

fn example(index: u32) -> Arguments {
    let (screen, wall, angle, dot) = match index {
        0 => (160.0, 4.0, "60", 40.0),
        1 => (400.0, 1.8, "60", 22.0),
        2 => (100.0, 8.0, "45", 75.0),
        3 => (240.0, 3.0, "30", 55.0),
        4 => (320.0, 2.5, "60", 34.0),
        _ => (480.0, 1.5, "45", 90.0),
    };
    let mut given = Arguments { grain: u64::from(index) + 31, ..Arguments::default() };
    for (name, value) in [("screen", screen), ("wall", wall), ("dot", dot)] {
        given.numbers.insert(name.to_owned(), value);
    }
    given.words.insert("angle".to_owned(), angle.to_owned());
    if index == 4 {
        given.words.insert("unit".to_owned(), "mil".to_owned());
    }
    given
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::gauge::{POINT, bounds, cases, holds, named};

    #[test]
    fn it_keeps_what_every_figure_keeps() {
        holds(&CELLS_AND_DOT);
    }

    /// Units on the sheet to a micrometre, from the drawn bar and the number that stands at its end.
    fn scale(drawing: &Drawing) -> f64 {
        let (left, _, right, _) = bounds(drawing, "bar");
        let svg = roxmltree::Document::parse(&drawing.svg).expect("it is there");
        let texts: Vec<&str> =
            svg.descendants().filter(|d| d.has_tag_name("text")).map(|d| d.text().expect("it is there")).collect();
        let nought = texts.iter().position(|t| *t == "0").expect("it is there");
        let long: f64 = texts[nought + 1].parse().expect("it is there");
        let micrometres = if texts[nought + 2] == "mil" { 25.4 } else { 1.0 };
        (right - left) / (long * micrometres)
    }

    fn middle(cell: &[Point]) -> Point {
        let corners = &cell[..cell.len() - 1];
        let many = f64::from(u32::try_from(corners.len()).expect("it is there"));
        let sum = corners.iter().fold((0.0, 0.0), |sum, p| (sum.0 + p.0, sum.1 + p.1));
        (sum.0 / many, sum.1 / many)
    }

    /// The cells that the edge of the field does not cut.
    fn uncut(drawing: &Drawing) -> Vec<Vec<Point>> {
        let inside = |p: &Point| {
            p.0 > CELLS.0 + 0.05 && p.0 < CELLS.0 + SIDE - 0.05 && p.1 > CELLS.1 + 0.05 && p.1 < CELLS.1 + SIDE - 0.05
        };
        named(drawing, "cells").into_iter().filter(|cell| cell.iter().all(inside)).collect()
    }

    #[test]
    fn screen_wall_angle_and_dot_can_be_measured() {
        for given in cases(&CELLS_AND_DOT) {
            let drawing = draw(&given, POINT);
            let units = scale(&drawing);
            let cells = uncut(&drawing);
            assert!(cells.len() >= 7, "enough whole cells: {}", cells.len());
            let sides = if given.word("angle") == "45" { 4 } else { 6 };
            assert!(cells.iter().all(|cell| cell.len() == sides + 1));
            let centre = (CELLS.0 + SIDE / 2.0, CELLS.1 + SIDE / 2.0);
            let far = |p: Point, q: Point| (p.0 - q.0).hypot(p.1 - q.1);
            let mut middles: Vec<Point> = cells.iter().map(|cell| middle(cell)).collect();
            middles.sort_by(|a, b| far(*a, centre).total_cmp(&far(*b, centre)));
            let step = far(middles[0], middles[1]) / units;
            let screen = 10_000.0 / step;
            assert!((screen / given.number("screen") - 1.0).abs() < 0.005, "{screen} {given:?}");
            let first = cells.iter().find(|cell| far(middle(cell), centre) < 0.1).expect("it is there");
            let flat = 2.0
                * (0..sides)
                    .map(|k| {
                        let edge =
                            (f64::midpoint(first[k].0, first[k + 1].0), f64::midpoint(first[k].1, first[k + 1].1));
                        far(edge, centre)
                    })
                    .fold(f64::INFINITY, f64::min)
                / units;
            assert!((step - flat - given.number("wall")).abs() < 0.25, "wall {} {given:?}", step - flat);
            let (left, _, right, _) = bounds(&drawing, "dot");
            assert!(((right - left) / units - given.number("dot")).abs() < 0.5, "{given:?}");
            let rows: Vec<f64> = middles[1..=sides.min(middles.len() - 1)]
                .iter()
                .map(|m| (centre.1 - m.1).atan2(m.0 - centre.0).to_degrees().rem_euclid(180.0))
                .collect();
            let asked: f64 = given.word("angle").parse().expect("it is there");
            assert!(rows.iter().any(|row| (row - asked).abs() < 1.0), "{rows:?} {asked}");
            let level = rows.iter().any(|row| row.min(180.0 - row) < 1.0);
            assert_eq!(level, given.word("angle") == "60");
        }
    }

    /// Screen, wall and dot from the words alone: the bar's length, and how many of its parts each takes.
    #[test]
    fn the_words_carry_the_same_measures() {
        for given in cases(&CELLS_AND_DOT) {
            let words = draw(&given, POINT).words;
            let after = |mark: &str| -> f64 {
                let (_, rest) = words.split_once(mark).expect("it is there");
                rest.split(' ').next().expect("it is there").parse().expect("it is there")
            };
            let micrometres = if words.contains(" mil long") { 25.4 } else { 1.0 };
            let part = after("The scale bar is ") * micrometres / 10.0;
            let screen = 10_000.0 / (after("with their walls take ") * part / 10.0);
            assert!((screen / given.number("screen") - 1.0).abs() < 0.005, "{words} {given:?}");
            assert!((after("between two cells ") * part - given.number("wall")).abs() < 0.25, "{words} {given:?}");
            assert!((after("same scale, takes ") * part - given.number("dot")).abs() < 0.5, "{words} {given:?}");
        }
    }

    /// The sheet stays small for every screen, however many cells the dot brings into the field.
    #[test]
    fn no_screen_is_too_much_to_send() {
        for screen in (60..=500_u32).step_by(7) {
            for angle in ["30", "45", "60"] {
                let mut given = example(0);
                given.numbers.insert("screen".to_owned(), f64::from(screen));
                given.numbers.insert("dot".to_owned(), 150.0);
                given.words.insert("angle".to_owned(), angle.to_owned());
                let bytes = draw(&given, POINT).svg.len();
                assert!(bytes <= 12_000, "{bytes} {given:?}");
            }
        }
    }

    #[test]
    fn the_bar_is_long_enough_to_measure_with() {
        for given in cases(&CELLS_AND_DOT) {
            let (left, _, right, _) = bounds(&draw(&given, POINT), "bar");
            assert!((100.0..=300.5).contains(&(right - left)), "{given:?}");
        }
    }
}
