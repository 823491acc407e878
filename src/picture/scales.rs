//! What several figures with a scale share: rulers, arrows, labels that make room for one another, and counts in words.

use std::fmt::Write as _;

use super::{Anchor, Ink, Pen, Style, n};

/// How a scale is marked and numbered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Ruler {
    /// What lies between two small marks, in mm.
    pub small: f64,
    /// Each so many small spaces a mark is longer.
    pub longer: i32,
    /// Each so many small spaces a mark bears a number.
    pub numbered: i32,
    /// What one small space counts for in the numbers.
    pub counts: f64,
    /// The unit of the numbers.
    pub unit: &'static str,
}

/// Where a straight scale lies: its nought, its units of drawing for a mm, and which way its marks point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lies {
    /// The nought, on the line the marks stand on.
    pub nought: (f64, f64),
    /// Units of drawing for a mm.
    pub per_mm: f64,
    /// 1 for marks that hang down, −1 for marks that stand up.
    pub down: f64,
}

impl Ruler {
    /// How long a mark is.
    pub(super) fn length(&self, mark: i32) -> f64 {
        if mark % self.numbered == 0 {
            9.0
        } else if mark % self.longer == 0 {
            7.0
        } else {
            4.0
        }
    }

    /// The number at a mark, if it bears one; without a sign.
    pub(super) fn number(&self, mark: i32, style: Style) -> Option<String> {
        (mark % self.numbered == 0).then(|| style.short(f64::from(mark.abs()) * self.counts))
    }

    /// How many small spaces fit into so many mm.
    pub(super) fn fit(&self, length: f64) -> i32 {
        (0..400).take_while(|&mark| f64::from(mark) * self.small <= length + 1e-9).last().unwrap_or(0)
    }

    /// Draws the marks from nought to the last one, and their numbers.
    pub(super) fn lay(&self, pen: &mut Pen, name: &'static str, lies: Lies, last: i32, style: Style) {
        let (x, y) = lies.nought;
        let mut data = String::new();
        for mark in 0..=last {
            let at = x + f64::from(mark) * self.small * lies.per_mm;
            let _ = write!(data, "M{} {}v{}", n(at), n(y), n(lies.down * self.length(mark)));
            if let Some(number) = self.number(mark, style) {
                let base = if lies.down > 0.0 { y + 20.0 } else { y - 12.0 };
                pen.small((at, base), Anchor::Middle, &number);
            }
        }
        pen.named(name, Ink::Fine, &data);
    }

    /// A length in small spaces, to half of one.
    pub(super) fn spaces(&self, length: f64) -> f64 {
        (length / self.small * 2.0).round() / 2.0
    }

    /// One small space with its unit.
    pub(super) fn space(&self, style: Style) -> String {
        format!("{} {}", style.short(self.counts), self.unit)
    }
}

/// The whole number nearest to a value, between two.
pub(super) fn nearest(value: f64, least: u32, most: u32) -> u32 {
    (least..=most)
        .min_by(|&a, &b| (f64::from(a) - value).abs().total_cmp(&(f64::from(b) - value).abs()))
        .unwrap_or(least)
}

/// A straight line as path data.
pub(super) fn straight(from: (f64, f64), to: (f64, f64)) -> String {
    format!("M{} {}L{} {}", n(from.0), n(from.1), n(to.0), n(to.1))
}

/// The radius of a half circle as written: a hair less than half of its chord, to which it is drawn out. A hair more
/// would move its centre by far more than that.
pub(super) fn half_round(radius: f64) -> String {
    n(radius - 0.02)
}

/// A full circle as path data.
pub(super) fn round(centre: (f64, f64), radius: f64) -> String {
    let (x, y, r) = (centre.0, n(centre.1), half_round(radius));
    let (left, right) = (n(x - radius), n(x + radius));
    format!("M{left} {y}A{r} {r} 0 1 1 {right} {y}A{r} {r} 0 1 1 {left} {y}Z")
}

/// A rectangle as path data.
pub(super) fn oblong(corner: (f64, f64), width: f64, height: f64) -> String {
    format!("M{} {}h{}v{}h{}Z", n(corner.0), n(corner.1), n(width), n(height), n(-width))
}

/// The head of an arrow, with its tip there, pointing along a direction of length 1.
pub(super) fn head(pen: &mut Pen, tip: (f64, f64), along: (f64, f64)) {
    let back = (tip.0 - 8.0 * along.0, tip.1 - 8.0 * along.1);
    let (side_x, side_y) = (-3.5 * along.1, 3.5 * along.0);
    let data = format!(
        "M{} {}L{} {}L{} {}Z",
        n(tip.0),
        n(tip.1),
        n(back.0 + side_x),
        n(back.1 + side_y),
        n(back.0 - side_x),
        n(back.1 - side_y)
    );
    pen.path(Ink::Solid, &data);
}

/// A fine arrow between two points that are not the same.
pub(super) fn arrow(pen: &mut Pen, from: (f64, f64), to: (f64, f64)) {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = (dx * dx + dy * dy).sqrt();
    let along = (dx / length, dy / length);
    pen.line(Ink::Fine, from, (to.0 - 6.0 * along.0, to.1 - 6.0 * along.1));
    head(pen, to, along);
}

/// Makes room: labels want to stand at `wanted` and take up `rooms` each; they stand as near as they can, in the same
/// order, between `low` and `high`.
pub(super) fn make_room(wanted: &[f64], rooms: &[f64], low: f64, high: f64) -> Vec<f64> {
    let mut order: Vec<(usize, f64, f64)> =
        wanted.iter().zip(rooms).enumerate().map(|(i, (&at, &room))| (i, at, room)).collect();
    order.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
    let mut before = Vec::new();
    let (mut sum, mut last) = (0.0, None);
    for &(_, _, room) in &order {
        sum += last.map_or(0.0, |other: f64| f64::midpoint(other, room));
        before.push(sum);
        last = Some(room);
    }
    let mut blocks: Vec<(f64, u32)> = Vec::new();
    for ((_, at, _), shift) in order.iter().zip(&before) {
        let mut block = (at - shift, 1);
        while let Some(&(mean, count)) = blocks.last().filter(|other| other.0 > block.0) {
            blocks.pop();
            let both = count + block.1;
            block = ((mean * f64::from(count) + block.0 * f64::from(block.1)) / f64::from(both), both);
        }
        blocks.push(block);
    }
    let settled = blocks.iter().flat_map(|&(mean, count)| (0..count).map(move |_| mean));
    let mut placed: Vec<(usize, f64)> = order
        .iter()
        .zip(settled)
        .zip(&before)
        .map(|((&(i, _, _), mean), shift)| (i, mean.min(high - sum).max(low) + shift))
        .collect();
    placed.sort_by_key(|&(i, _)| i);
    placed.into_iter().map(|(_, at)| at).collect()
}

/// A small whole number as a word.
pub(super) fn in_words(number: u32) -> String {
    const WORDS: [&str; 13] =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    usize::try_from(number).ok().and_then(|i| WORDS.get(i)).map_or_else(|| number.to_string(), |&word| word.to_owned())
}

/// Where something stands on a scale, to half a small mark: "two and a half small marks past 3", "at 3".
pub(super) fn past(small: f64, between: u32, number: impl Fn(u32) -> String) -> String {
    let halves = nearest(small * 2.0, 0, 2000);
    let (whole, rest) = (halves / (2 * between), halves % (2 * between));
    let count = match (rest / 2, rest % 2) {
        (0, 0) => return format!("at {}", number(whole)),
        (0, _) => "half a small mark".to_owned(),
        (1, 0) => "one small mark".to_owned(),
        (some, 0) => format!("{} small marks", in_words(some)),
        (some, _) => format!("{} and a half small marks", in_words(some)),
    };
    format!("{count} past {}", number(whole))
}
