//! Strokes that several workshop drawings share: arrows, bands, rulers, dimension lines and readings in words.

use super::{Anchor, Ink, Pen, Style, n};
use std::fmt::Write as _;

/// A point on the sheet.
pub(super) type Point = (f64, f64);

/// A point at a distance from a centre; degrees count from three o'clock against the clock.
pub(super) fn polar(centre: Point, radius: f64, degrees: f64) -> Point {
    let turned = degrees.to_radians();
    (centre.0 + radius * libm::cos(turned), centre.1 - radius * libm::sin(turned))
}

/// A count from a number that stands for one.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "counts on a figure are small and never below nought; `as` saturates"
)]
pub(super) fn whole(value: f64) -> u32 {
    value.max(0.0).round() as u32
}

/// A path through points, from the first to the last.
pub(super) fn through(points: &[Point]) -> String {
    let mut data = String::new();
    for (index, (x, y)) in points.iter().enumerate() {
        let _ = write!(data, "{}{} {}", if index == 0 { 'M' } else { 'L' }, n(*x), n(*y));
    }
    data
}

/// A closed path through points.
pub(super) fn closed(points: &[Point]) -> String {
    through(points) + "Z"
}

/// A number as a path may have it after another: no nought before the point, a minus parts it from the last.
fn tight(data: &mut String, value: f64) {
    let text = n(value);
    let (minus, digits) = text.strip_prefix('-').map_or(("", text.as_str()), |digits| ("-", digits));
    let digits = if digits.starts_with("0.") { digits.trim_start_matches('0') } else { digits };
    if minus.is_empty() && !data.ends_with('l') {
        data.push(' ');
    }
    data.push_str(minus);
    data.push_str(digits);
}

/// A closed path in relative steps, shorter to write, on a grid of so many lines to the unit; rounding does not add up.
pub(super) fn closed_short(points: &[Point], grid: f64) -> String {
    let mut data = String::new();
    let mut last = None;
    for &(x, y) in points {
        let (x, y) = ((x * grid).round() / grid, (y * grid).round() / grid);
        if let Some((a, b)) = last {
            tight(&mut data, x - a);
            tight(&mut data, y - b);
        } else {
            let _ = write!(data, "M{} {}l", n(x), n(y));
        }
        last = Some((x, y));
    }
    data + "z"
}

/// The arc that leads on from its beginning; a long one in three, since the middle of a half circle hangs on a rounding.
fn sweep(centre: Point, radius: f64, from: f64, to: f64) -> String {
    let parts = if (to - from).abs() > 120.0 { 3_u32 } else { 1 };
    let way = u8::from(to < from);
    let mut data = String::new();
    for part in 1..=parts {
        let (x, y) = polar(centre, radius, from + (to - from) * f64::from(part) / f64::from(parts));
        let _ = write!(data, "A{r} {r} 0 0 {way} {} {}", n(x), n(y), r = n(radius));
    }
    data
}

/// An arc about a centre from one direction to another, in degrees as for [`polar`].
pub(super) fn arc(centre: Point, radius: f64, from: f64, to: f64) -> String {
    through(&[polar(centre, radius, from)]) + &sweep(centre, radius, from, to)
}

/// A full circle as a path, so that it can have a name.
pub(super) fn ring(centre: Point, radius: f64) -> String {
    arc(centre, radius, 180.0, -180.0) + "Z"
}

/// A band about a centre between two radii, from one direction to another.
pub(super) fn band(centre: Point, (inner, outer): (f64, f64), from: f64, to: f64) -> String {
    let inside = polar(centre, inner, to);
    arc(centre, outer, from, to) + &format!("L{} {}", n(inside.0), n(inside.1)) + &sweep(centre, inner, to, from) + "Z"
}

/// An upright rectangle as a path, from its left, top, right and bottom.
pub(super) fn block(left: f64, top: f64, right: f64, bottom: f64) -> String {
    closed(&[(left, top), (right, top), (right, bottom), (left, bottom)])
}

/// The outline of an arrow head with its tip at a point, pointing in a direction.
pub(super) fn barb(tip: Point, degrees: f64, length: f64) -> String {
    let left = polar(tip, length, degrees + 180.0 - 19.0);
    let right = polar(tip, length, degrees + 180.0 + 19.0);
    closed(&[tip, left, right])
}

/// An arrow head with its tip at a point, pointing in a direction.
pub(super) fn head(pen: &mut Pen, tip: Point, degrees: f64, length: f64) {
    pen.path(Ink::Solid, &barb(tip, degrees, length));
}

/// A straight dimension line with a head at either end; from left to right or from bottom to top.
pub(super) fn span(pen: &mut Pen, from: Point, to: Point) {
    let degrees = (from.1 - to.1).atan2(to.0 - from.0).to_degrees();
    pen.line(Ink::Fine, from, to);
    head(pen, from, degrees + 180.0, 6.0);
    head(pen, to, degrees, 6.0);
}

/// An arc with a head at its far end: which way something turns.
pub(super) fn turn(pen: &mut Pen, centre: Point, radius: f64, from: f64, to: f64) {
    pen.named("turn", Ink::Line, &arc(centre, radius, from, to));
    let side = if to > from { 1.0 } else { -1.0 };
    let lead = (7.0 / radius).to_degrees();
    let tip = polar(centre, radius, to + side * lead);
    pen.named("turn-head", Ink::Solid, &barb(tip, to + side * (90.0 + lead / 2.0), 9.0));
}

/// How a scale is divided.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Division {
    /// The distance of two small marks.
    pub mark: f64,
    /// How many of them lie between two numbers.
    pub per: u32,
    /// With how many decimals the numbers are written.
    pub decimals: usize,
}

impl Division {
    /// The first of these whose marks stand far enough apart on the sheet; failing that the last.
    pub(super) fn choose(these: &[Self], least: f64, units: f64) -> Self {
        let fits = |division: &&Self| division.mark * units >= least;
        these.iter().find(fits).or(these.last()).copied().unwrap_or(Self { mark: 1.0, per: 10, decimals: 0 })
    }

    /// Where a value stands on the scale, in words.
    pub(super) fn reading(self, style: Style, value: f64) -> String {
        let marks = value / self.mark;
        let past = (marks + 0.02).floor().max(0.0);
        let rest = marks - past;
        let over = whole(past) % self.per;
        let number = style.number((past - f64::from(over)) * self.mark, self.decimals);
        let many = |count: u32| {
            if count == 1 { "one small mark".to_owned() } else { format!("{} small marks", spelled(count)) }
        };
        match (over, rest) {
            (0, r) if r < 0.02 => format!("at {number}"),
            (o, r) if r < 0.02 => format!("{} past {number}", many(o)),
            (0, r) if r < 0.25 => format!("a hair past {number}"),
            (o, r) if r < 0.25 => format!("just over {} past {number}", many(o)),
            (0, r) if r <= 0.75 => format!("about half a small mark past {number}"),
            (o, r) if r <= 0.75 => format!("about {} and a half small marks past {number}", spelled(o)),
            (o, _) => format!("just under {} past {number}", many(o + 1)),
        }
    }
}

/// A level ruler under a line: marks hang down from it, numbers stand below. It ends at the last mark not past `end`.
pub(super) fn ruler(pen: &mut Pen, style: Style, from: Point, units: f64, end: f64, division: Division) {
    let last = whole((end / division.mark + 0.01).floor());
    let x = |index: u32| from.0 + f64::from(index) * division.mark * units;
    let mut data = format!("M{} {}H{}", n(from.0), n(from.1), n(x(last)));
    for index in 0..=last {
        let long = match index % division.per {
            0 => 9.0,
            m if m * 2 == division.per => 7.0,
            _ => 4.5,
        };
        let _ = write!(data, "M{} {}v{}", n(x(index)), n(from.1), n(long));
        if index % division.per == 0 {
            let number = style.number(f64::from(index) * division.mark, division.decimals);
            pen.small((x(index), from.1 + 20.0), Anchor::Middle, &number);
        }
    }
    pen.named("ruler", Ink::Fine, &data);
}

/// Heights for labels beside points so that none stands nearer to the next than a gap; top to bottom, kept above a bottom.
pub(super) fn spread(wanted: &[f64], gap: f64, bottom: f64) -> Vec<f64> {
    let mut heights = Vec::with_capacity(wanted.len());
    let mut least = f64::NEG_INFINITY;
    for &height in wanted {
        least = height.max(least + gap);
        heights.push(least);
    }
    let mut most = bottom;
    for height in heights.iter_mut().rev() {
        *height = height.min(most);
        most = *height - gap;
    }
    heights
}

/// A small count in words, a larger one in figures.
pub(super) fn spelled(count: u32) -> String {
    let word = match count {
        0 => "no",
        1 => "one",
        2 => "two",
        3 => "three",
        4 => "four",
        5 => "five",
        6 => "six",
        7 => "seven",
        8 => "eight",
        9 => "nine",
        10 => "ten",
        11 => "eleven",
        12 => "twelve",
        _ => return count.to_string(),
    };
    word.to_owned()
}

/// A length in millimetres as a workshop writes it: in millimetres or inches, with the decimals it needs.
pub(super) fn length(style: Style, millimetres: f64, unit: &str) -> String {
    let (value, most, name) = if unit == "in" { (millimetres / 25.4, 4, "in") } else { (millimetres, 3, "mm") };
    let text = style.number(value, most);
    let text = text.strip_suffix('0').unwrap_or(&text);
    format!("{text} {name}")
}
