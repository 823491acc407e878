//! Outlines: moved, roughened, and written as path data.
//!
//! An outline runs with the clock around ink and against it around a hollow, so that its right-angled side always
//! points away from the ink.

use crate::picture::strokes::{Point, polar};
use crate::picture::{Grain, n};

/// An upright box.
#[derive(Debug, Clone, Copy)]
pub(super) struct Area {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Area {
    pub(super) const fn wide(&self) -> f64 {
        self.right - self.left
    }

    pub(super) const fn high(&self) -> f64 {
        self.bottom - self.top
    }

    /// A box smaller by so much on every side.
    pub(super) const fn within(&self, by: f64) -> Self {
        Self { left: self.left + by, top: self.top + by, right: self.right - by, bottom: self.bottom - by }
    }

    /// A place in it by chance.
    pub(super) fn somewhere(&self, grain: &mut Grain) -> Point {
        (grain.between(self.left, self.right), grain.between(self.top, self.bottom))
    }

    /// Its outline.
    pub(super) fn outline(&self) -> Vec<Point> {
        vec![(self.left, self.top), (self.right, self.top), (self.right, self.bottom), (self.left, self.bottom)]
    }
}

/// The edges of an outline: from, to, and the direction away from the ink.
pub(super) fn edges(outline: &[Point]) -> impl Iterator<Item = (Point, Point, Point)> + '_ {
    let ahead = outline.iter().cycle().skip(1);
    outline.iter().zip(ahead).map(|(&from, &to)| {
        let (x, y) = (to.0 - from.0, to.1 - from.1);
        let long = x.hypot(y).max(1e-9);
        (from, to, (y / long, -x / long))
    })
}

/// An outline with every edge moved away from the ink by so much; below nought into it.
pub(super) fn offset(outline: &[Point], by: f64) -> Vec<Point> {
    let away: Vec<Point> = edges(outline).map(|(.., away)| away).collect();
    let before = away.iter().cycle().skip(away.len().saturating_sub(1));
    let corners = outline.iter().zip(before).zip(&away);
    corners
        .map(|((at, one), two)| {
            let scale = by / (1.0 + one.0 * two.0 + one.1 * two.1);
            (at.0 + (one.0 + two.0) * scale, at.1 + (one.1 + two.1) * scale)
        })
        .collect()
}

/// An outline with a ragged edge: a point about every `step`, off by up to `amount`.
pub(super) fn rough(outline: &[Point], step: f64, amount: f64, grain: &mut Grain) -> Vec<Point> {
    let mut points = Vec::new();
    for (from, to, away) in edges(outline) {
        let long = (to.0 - from.0).hypot(to.1 - from.1);
        let mut at = 0.0;
        while at < long - step / 2.0 {
            let (part, off) = (at / long, grain.between(-amount, amount * 0.4));
            points
                .push((from.0 + (to.0 - from.0) * part + away.0 * off, from.1 + (to.1 - from.1) * part + away.1 * off));
            at += step * grain.between(0.7, 1.3);
        }
    }
    points
}

/// An uneven patch about a middle.
pub(super) fn blob(middle: Point, radius: f64, corners: u32, uneven: f64, grain: &mut Grain) -> Vec<Point> {
    let turned = grain.between(0.0, 360.0);
    let around = (0..corners).map(|k| turned + 360.0 * f64::from(k) / f64::from(corners));
    around.map(|degrees| polar(middle, radius * grain.between(1.0 - uneven, 1.0 + uneven), -degrees)).collect()
}

/// A length to one decimal, without a nought before the point.
fn tenths(value: f64) -> String {
    let text = n((value * 10.0).round() / 10.0);
    let (minus, digits) = text.strip_prefix('-').map_or(("", text.as_str()), |digits| ("-", digits));
    format!("{minus}{}", if digits.starts_with("0.") { &digits[1..] } else { digits })
}

/// A closed oval: how wide and how high from its middle.
pub(super) fn oval((x, y): Point, wide: f64, high: f64) -> String {
    let (rx, ry, across) = (tenths(wide), tenths(high), tenths((wide * 10.0).round() / 5.0));
    format!("M{} {}a{rx} {ry} 0 1 1 {across} 0a{rx} {ry} 0 1 1-{across} 0z", tenths(x - wide), tenths(y))
}

/// Short straight strokes in one path, each written from where the last one ended.
#[derive(Debug, Default)]
pub(super) struct Hairs {
    pub data: String,
    end: Point,
}

impl Hairs {
    /// One more, from a root and by so much.
    pub(super) fn add(&mut self, root: Point, by: Point) {
        let round = |value: f64| (value * 10.0).round() / 10.0;
        let (root, by) = ((round(root.0), round(root.1)), (round(by.0), round(by.1)));
        if self.data.is_empty() {
            self.data = format!("M{} {}", tenths(root.0), tenths(root.1));
        } else {
            self.step('m', (root.0 - self.end.0, root.1 - self.end.1));
        }
        self.step('l', by);
        self.end = (root.0 + by.0, root.1 + by.1);
    }

    fn step(&mut self, how: char, by: Point) {
        let (x, y) = (tenths(by.0), tenths(by.1));
        self.data.push(how);
        self.data.push_str(&x);
        if !y.starts_with('-') {
            self.data.push(' ');
        }
        self.data.push_str(&y);
    }
}
