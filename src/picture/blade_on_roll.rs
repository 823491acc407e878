//! A doctor blade on a roll, with a scale for its angle and its tip magnified.

use super::strokes::{Division, Point, closed, polar, ring, ruler, through, turn};
use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};
use std::fmt::Write as _;

/// A doctor blade seated on a roll: its angle to the tangent on a scale, and how far its tip is worn, magnified.
pub(super) const BLADE_ON_ROLL: Figure = Figure { name: "blade-on-roll", draw, example };

const WIDE: f64 = 440.0;
const ROLL: f64 = 108.0;
const TOUCH: Point = (206.0, 274.0);
const SCALE: f64 = 194.0;
/// Units of the magnified tip to a millimetre.
const UNITS: f64 = 125.0;
/// The thickness of the blade in millimetres.
const BODY: f64 = 0.15;
const TENTHS: Division = Division { mark: 0.1, per: 5, decimals: 1 };
const DEGREES: Division = Division { mark: 1.0, per: 10, decimals: 0 };

struct Seat<'a> {
    angle: f64,
    tip: &'a str,
    wear: f64,
    clockwise: bool,
    right: bool,
}

impl Seat<'_> {
    /// A point of a drawing made for the left side.
    fn at(&self, (x, y): Point) -> Point {
        (if self.right { WIDE - x } else { x }, y)
    }

    /// A point at so many degrees from the tangent, away from the roll.
    fn off(&self, radius: f64, degrees: f64) -> Point {
        self.at(polar(TOUCH, radius, 90.0 + degrees))
    }

    fn end(&self) -> Anchor {
        if self.right { Anchor::Start } else { Anchor::End }
    }

    /// The new tip in millimetres: along the blade, and away from the roll; the roll side is nought high.
    fn tip(&self) -> Vec<Point> {
        let long = 1.08;
        let mut points = vec![(long, 0.0)];
        match self.tip {
            "lamella" => points.extend([(0.0, 0.0), (0.0, 0.075), (0.9, 0.075), (0.95, BODY)]),
            "rounded" => {
                let radius = BODY / 2.0;
                points.extend((0..=12).map(|step| {
                    let turned = (f64::from(step) * 15.0).to_radians();
                    (radius - radius * libm::sin(turned), radius - radius * libm::cos(turned))
                }));
            }
            _ => points.extend([(0.0, 0.0), (0.0, 0.03), (0.9, BODY)]),
        }
        points.push((long, BODY));
        points
    }

    /// How far along the roll side the line of the roll meets it: the same for all points of a line along the roll.
    fn along(&self, (u, v): Point) -> f64 {
        let turned = self.angle.to_radians();
        u + v / libm::tan(turned)
    }

    /// The nought of the ruler: where the roll meets the new tip.
    fn nought(&self) -> f64 {
        self.tip().into_iter().map(|point| self.along(point)).fold(f64::INFINITY, f64::min)
    }

    /// What the roll has left of the tip.
    fn worn(&self) -> Vec<Point> {
        let shape = self.tip();
        let limit = self.nought() + self.wear;
        let mut kept = Vec::new();
        for (&from, &to) in shape.iter().zip(shape.iter().cycle().skip(1)) {
            let (a, b) = (self.along(from) - limit, self.along(to) - limit);
            if a >= 0.0 {
                kept.push(from);
            }
            if (a >= 0.0) != (b >= 0.0) {
                let part = a / (a - b);
                kept.push((from.0 + part * (to.0 - from.0), from.1 + part * (to.1 - from.1)));
            }
        }
        kept
    }
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let seat = Seat {
        angle: given.number("angle").clamp(1.0, 89.0),
        tip: given.word("tip"),
        wear: given.number("wear"),
        clockwise: given.word("turns") != "counterclockwise",
        right: given.word("side") == "right",
    };
    let mut pen = Pen::new(WIDE, 396.0);
    roll(&mut pen, &seat);
    scale(&mut pen, &seat, style);
    blade(&mut pen, &seat);
    magnified(&mut pen, &seat, style);
    Drawing { svg: pen.finish(), words: words(&seat, style) }
}

fn roll(pen: &mut Pen, seat: &Seat<'_>) {
    let centre = seat.at((TOUCH.0 + ROLL, TOUCH.1));
    pen.named("roll", Ink::Tone, &ring(centre, ROLL - 0.8));
    pen.circle(Ink::Paper, centre, 16.0);
    let (from, to) = if seat.clockwise { (150.0, 30.0) } else { (30.0, 150.0) };
    turn(pen, centre, 76.0, from, to);
    pen.label((centre.0, centre.1 + 40.0), Anchor::Middle, "anilox");
}

fn scale(pen: &mut Pen, seat: &Seat<'_>, style: Style) {
    let foot = seat.at((TOUCH.0, TOUCH.1 + 100.0));
    pen.named("tangent", Ink::Broken, &through(&[foot, seat.off(SCALE, 0.0)]));
    let text = seat.at((TOUCH.0 - 8.0, TOUCH.1 + 92.0));
    pen.label(text, seat.end(), "tangent");
    let mut data = String::new();
    for degree in 0..=60_u32 {
        let long = match degree % 10 {
            0 => 12.0,
            5 => 9.0,
            _ => 5.5,
        };
        let (from, to) = (seat.off(SCALE, f64::from(degree)), seat.off(SCALE + long, f64::from(degree)));
        let _ = write!(data, "M{} {}L{} {}", n(from.0), n(from.1), n(to.0), n(to.1));
        if degree % 10 == 0 {
            let (x, y) = seat.off(SCALE + 25.0, f64::from(degree));
            pen.small((x, y + 4.0), Anchor::Middle, &format!("{}°", style.number(f64::from(degree), 0)));
        }
    }
    pen.named("degrees", Ink::Fine, &data);
    let (from, to) = (seat.off(SCALE, 0.0), seat.off(SCALE, 60.0));
    let r = n(SCALE);
    let way = u8::from(seat.right);
    pen.path(Ink::Fine, &format!("M{} {}A{r} {r} 0 0 {way} {} {}", n(from.0), n(from.1), n(to.0), n(to.1)));
}

fn blade(pen: &mut Pen, seat: &Seat<'_>) {
    let face = |along: f64, out: f64| {
        let (x, y) = polar(TOUCH, along, 90.0 + seat.angle);
        seat.at(polar((x, y), out, 180.0 + seat.angle))
    };
    pen.named("steel", Ink::Solid, &closed(&[face(0.0, 0.0), face(120.0, 0.0), face(120.0, 3.6), face(0.0, 3.6)]));
    let clamp = |from: f64, to: f64| [face(96.0, from), face(168.0, from), face(168.0, to), face(96.0, to)];
    pen.path(Ink::Paper, &closed(&clamp(3.6, 14.0)));
    pen.path(Ink::Paper, &closed(&clamp(-9.0, 0.0)));
    for along in [112.0, 150.0] {
        pen.path(Ink::Fine, &through(&[face(along, -12.0), face(along, 17.0)]));
    }
    pen.named("reading-line", Ink::Fine, &through(&[face(0.0, 0.0), face(SCALE - 1.0, 0.0)]));
    pen.circle(Ink::Fine, seat.at(TOUCH), 11.0);
}

fn magnified(pen: &mut Pen, seat: &Seat<'_>, style: Style) {
    let left = if seat.right { 8.0 } else { 221.0 };
    let (x, y) = (left + 60.0, 80.0);
    let nought = seat.nought();
    let at = |(u, v): Point| (x + (u - nought) * UNITS, y - v * UNITS);
    let place = |shape: Vec<Point>| shape.into_iter().map(at).collect::<Vec<_>>();
    pen.label((left, 20.0), Anchor::Start, "tip in the ring, magnified");
    pen.named("worn-tip", Ink::Tone, &closed(&place(seat.worn())));
    pen.named("new-tip", Ink::Broken, &closed(&place(seat.tip())));
    let high = if seat.tip == "lamella" { 0.11 } else { 0.18 };
    let slant = |from: f64| {
        let foot = nought + from;
        let turned = seat.angle.to_radians();
        let back = high / libm::tan(turned);
        through(&[at((foot, 0.0)), at((foot - back, high))])
    };
    pen.named("roll-then", Ink::Broken, &slant(0.0));
    pen.named("roll-now", Ink::Line, &slant(seat.wear));
    ruler(pen, style, (x, y), UNITS, 1.0, TENTHS);
    pen.small((x + UNITS + 13.0, y + 20.0), Anchor::Start, "mm");
    pen.small((x - 11.0, y + 13.0), Anchor::End, "roll");
    pen.small((left, y + 41.0), Anchor::Start, "broken: when the blade was new");
}

fn words(seat: &Seat<'_>, style: Style) -> String {
    let side = if seat.right { "right" } else { "left" };
    let turns = if seat.clockwise { "with the clock" } else { "against the clock" };
    let tip = match seat.tip {
        "lamella" => "has a step: a thin even tongue in front of the thicker steel",
        "rounded" => "of even thickness ends in a half circle",
        _ => "grows thinner along a slope to a narrow edge",
    };
    let worn = match TENTHS.reading(style, seat.wear) {
        reading if reading.starts_with("at ") => reading,
        reading => format!("{reading},"),
    };
    let worn = worn.trim_end_matches(',');
    format!(
        "A blade rests on the {side} side of a roll, leading up from its tip to the holder; the roll turns {turns}. \
         On a scale of degrees, nought at the tangent, the line of the blade stands {}. Magnified, the new tip {tip}. \
         On a ruler in tenths of a millimetre from the new tip backwards, the roll now touches {worn}.",
        DEGREES.reading(style, seat.angle)
    )
}

fn example(index: u32) -> Arguments {
    let (angle, tip, wear, turns, side) = match index {
        0 => (30.0, "lamella", 0.0, "clockwise", "left"),
        1 => (34.0, "bevel", 0.3, "clockwise", "left"),
        2 => (28.0, "rounded", 0.2, "counterclockwise", "right"),
        3 => (41.0, "lamella", 0.6, "counterclockwise", "right"),
        4 => (23.0, "bevel", 0.1, "counterclockwise", "left"),
        _ => (37.0, "rounded", 0.45, "clockwise", "right"),
    };
    let mut given = Arguments { grain: u64::from(index) + 51, ..Arguments::default() };
    given.numbers.insert("angle".to_owned(), angle);
    given.numbers.insert("wear".to_owned(), wear);
    for (name, word) in [("tip", tip), ("turns", turns), ("side", side)] {
        given.words.insert(name.to_owned(), word.to_owned());
    }
    given
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::gauge::{POINT, bounds, cases, holds, named, texts, turning};

    #[test]
    fn it_keeps_what_every_figure_keeps() {
        holds(&BLADE_ON_ROLL);
    }

    fn direction(line: &[Point]) -> f64 {
        (line[0].1 - line[1].1).atan2(line[1].0 - line[0].0).to_degrees().rem_euclid(360.0)
    }

    /// The angle is read where the line of the blade meets the marks.
    #[test]
    fn the_scale_gives_the_angle() {
        for given in cases(&BLADE_ON_ROLL) {
            let drawing = draw(&given, POINT);
            let line = named(&drawing, "reading-line").concat();
            let marks = named(&drawing, "degrees");
            assert_eq!(marks.len(), 61);
            let near = |mark: &Vec<Point>| (mark[0].0 - line[1].0).hypot(mark[0].1 - line[1].1);
            let nearest = (0..61).min_by(|a, b| near(&marks[*a]).total_cmp(&near(&marks[*b]))).expect("it is there");
            let read = f64::from(u32::try_from(nearest).expect("it is there"));
            for (at, says) in texts(&drawing) {
                if let Some(number) = says.strip_suffix('°') {
                    let mark = &marks[number.parse::<usize>().expect("it is there")];
                    assert!((at.0 - mark[1].0).hypot(at.1 - 4.0 - mark[1].1) < 14.0, "a number stands at its mark");
                }
            }
            assert!((read - given.number("angle")).abs() <= 0.5, "{read} {given:?}");
            let tangent = named(&drawing, "tangent").concat();
            let between = (direction(&line) - direction(&tangent)).abs();
            assert!((between - given.number("angle")).abs() < 0.05, "{between} {given:?}");
            let (left, top, right, bottom) = bounds(&drawing, "roll");
            let centre = (f64::midpoint(left, right), f64::midpoint(top, bottom));
            let apart = (tangent[0].0 - centre.0).abs();
            assert!((apart - ((right - left) / 2.0 + 0.8)).abs() < 0.02, "the tangent touches the roll");
            assert!((line[0].1 - centre.1).abs() < 0.01 && (line[0].0 - tangent[0].0).abs() < 0.01);
            assert_eq!(given.word("turns") == "clockwise", turning(&drawing, centre) > 0.0);
            assert_eq!(given.word("side") == "right", line[0].0 > centre.0);
            assert_eq!(given.word("side") == "right", line[1].0 > line[0].0, "the blade leads away from the roll");
        }
    }

    /// The wear is read on the ruler under the magnified tip.
    #[test]
    fn the_ruler_gives_the_wear() {
        for given in cases(&BLADE_ON_ROLL) {
            let drawing = draw(&given, POINT);
            let marks: Vec<f64> = named(&drawing, "ruler").iter().skip(1).map(|s| s[0].0).collect();
            let number =
                |says: &str| texts(&drawing).into_iter().find(|(_, text)| text == says).expect("it is there").0.0;
            let units = number("1.0") - number("0.0");
            assert!((number("0.0") - marks[0]).abs() < 0.01 && (number("1.0") - marks[10]).abs() < 0.01);
            let now = named(&drawing, "roll-now").concat();
            let then = named(&drawing, "roll-then").concat();
            assert!((then[0].0 - marks[0]).abs() < 0.02);
            let wear = (now[0].0 - marks[0]) / units;
            assert!((wear - given.number("wear")).abs() < 0.005, "{wear} {given:?}");
            let lean = 180.0 - direction(&now);
            assert!((lean - given.number("angle")).abs() < 0.1, "{lean} {given:?}");
            let least = |name: &str| bounds(&drawing, name);
            assert!(least("worn-tip").0 >= least("new-tip").0 - 0.01);
            let cut = named(&drawing, "worn-tip").concat();
            let turned = given.number("angle").to_radians();
            let reach = |p: &Point| p.0 + (now[0].1 - p.1) / libm::tan(turned);
            let touch = cut.iter().map(reach).fold(f64::INFINITY, f64::min);
            assert!((touch - now[0].0).abs() < 0.1, "the roll touches what is left: {touch} {given:?}");
        }
    }

    #[test]
    fn the_tips_differ_where_they_are_new() {
        let height = |tip: &str, along: f64| {
            let seat = Seat { angle: 30.0, tip, wear: 0.0, clockwise: true, right: false };
            let shape = seat.tip();
            let mut top = 0.0_f64;
            for (a, b) in shape.iter().zip(shape.iter().skip(1)) {
                if (a.0 - along) * (b.0 - along) <= 0.0 && (a.0 - b.0).abs() > 1e-9 {
                    top = top.max(a.1 + (along - a.0) / (b.0 - a.0) * (b.1 - a.1));
                }
            }
            top
        };
        assert!(height("bevel", 0.2) < height("bevel", 0.6) && height("bevel", 0.6) < height("bevel", 0.95));
        assert!((height("lamella", 0.1) - height("lamella", 0.8)).abs() < 1e-9 && height("lamella", 1.0) > 0.149);
        assert!(height("rounded", 0.02) < height("rounded", 0.1) && (height("rounded", 0.1) - BODY).abs() < 1e-9);
    }
}
